"""Fillers and end panels: beside a carcass, against each other, and beside what cannot be built."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction as F

import pytest
from designs import INCH, carcass, design, inches, parts_of, plan_of, size

from core.build import build_steps
from core.checks import run_checks
from core.drawing.part_notes import larger_in_words
from core.goods import Board, Length
from core.project import Bay, Design, EndPanel, Filler, Gap, RowItem, Top
from core.space import Clearance, Reading, Space

FILLER = Filler("F", "Filler", "ply", "1 1/2")
PANEL = EndPanel("E", "End panel", "ply")


def said(*row: RowItem, **rules: str) -> list[str]:
    told: Design = design(*row, rules={"panel": "ply", "back_panel": "thin", **rules})
    return [str(problem) for problem in plan_of(told).problems]


def test_a_filler_at_a_wall_is_wider_in_the_blank_by_the_widest_gap() -> None:
    # One width read, so the walls are taken to be plumb: the gap at each of them is the air, 1/2.
    space = Space(readings=(Reading("width", "40"),), clearance=Clearance("1/2", "1/2"))
    found = parts_of(design(FILLER, carcass("A", "24"), space=space))
    filler = found["F filler"]
    # From the bottom's underside, 4, to the top, 34 1/2.
    assert size(filler) == (F(61, 2), F(3, 2))
    assert filler.blank_width - filler.width == F(1, 2) * F(254, 10)
    # Flush with the front edges of the carcass.
    assert filler.box.low[1] == found["A side left"].box.low[1]


def test_a_filler_that_stands_on_the_floor_is_longer_in_the_blank_by_what_that_falls() -> None:
    space = Space(readings=(Reading("width", "40"),), clearance=Clearance("1/2", "0"), floor_out_of_level="3/8")
    for kick, longer in (("0", F(3, 8)), ("3", F(0))):
        of = design(FILLER, carcass("A", "24", kick_depth=kick), space=space)
        filler = parts_of(of)["F filler"]
        assert filler.blank_length - filler.length == longer * INCH
        assert filler.blank_width - filler.width == F(1, 2) * INCH
        told = larger_in_words(filler, lambda size: f"{size / INCH}")
        at_floor = " and 3/8 more at the bottom end" if longer else ""
        assert told == f"1/2 more at the wall{at_floor}, to scribe"


def test_an_end_panel_covers_the_side_down_to_the_floor_and_a_filler_may_stand_against_it() -> None:
    found = parts_of(design(carcass("A", "24"), PANEL, FILLER))
    # As high and as deep as the carcass, which is 3/4 further left.
    assert size(found["E end panel"]) == (F(69, 2), F(93, 4))
    assert found["E end panel"].box.low[0] == found["A side right"].box.high[0]
    assert found["F filler"].box.low[0] == found["E end panel"].box.high[0]


@pytest.mark.parametrize("between", [(), (PANEL,)])
def test_a_filler_is_as_long_as_the_stiles_of_a_frame_that_hangs(between: tuple[RowItem, ...]) -> None:
    boards = {"poplar": Board("Poplar 1x2", "3/4", "1 1/2", lengths=(Length("96"),))}
    found = parts_of(design(carcass("A", "24", face_frame="poplar"), *between, FILLER, boards=boards))
    # The bottom rail, 1 1/2, hangs 3/4 below the bottom's underside, which is 4 up.
    assert size(found["F filler"])[0] == size(found["A stile right"])[0] == F(125, 4)
    assert found["F filler"].box.low[2] == F(13, 4) * INCH


@pytest.mark.parametrize("lower_first", [True, False])
def test_between_a_low_and_a_high_carcass_a_panel_covers_the_higher_and_a_filler_closes_what_is_between(
    lower_first: bool,
) -> None:
    # The lower one is the deeper: 24 against 22.
    row = [carcass("B", "24", "34 1/2", "24"), PANEL, carcass("A", "24", "84", "22")]
    found = parts_of(design(*(row if lower_first else row[::-1])))
    panel, side = found["E end panel"], found[f"A side {'left' if lower_first else 'right'}"]
    assert size(panel) == (F(84), F(22))
    assert panel.box.low[0] == side.box.high[0] or panel.box.high[0] == side.box.low[0]
    row[1] = FILLER
    filler = parts_of(design(*(row if lower_first else row[::-1])))["F filler"]
    # Between them: from the bottoms' undersides, 4, to the top of the lower one, flush with the front of the shallower.
    assert size(filler) == (F(61, 2), F(3, 2))
    assert filler.box.low[1] == side.box.low[1]


def test_of_two_carcasses_as_high_the_deeper_is_closed_and_of_two_alike_the_left() -> None:
    shallow, deep = carcass("A", "24", depth="12", front_banding="lip"), carcass("B", "24", depth="22")
    assert size(parts_of(design(shallow, PANEL, deep))["E end panel"]) == (F(69, 2), F(22))
    alike = parts_of(design(carcass("A", "24", front_banding="lip"), PANEL, carcass("B", "24")))
    # By the rules of the left one it is banded, by those of the other it is not.
    assert [edge.banding for edge in alike["E end panel"].edges] == ["lip"]


@pytest.mark.parametrize("frame", ["", "poplar"])
def test_a_filler_closes_what_is_between_a_shallow_and_a_deep_carcass(frame: str) -> None:
    boards = {"poplar": Board("Poplar 1x2", "3/4", "1 1/2", lengths=(Length("96"),))}
    for high in ("34 1/2", "84"):
        deep = carcass("B", "24", high, "22", face_frame=frame)
        found = parts_of(design(carcass("A", "24", depth="12"), FILLER, deep, boards=boards))
        # At the front of the deep one it would stand before nothing of the shallow one.
        assert found["F filler"].box.low[1] == found["A side right"].box.low[1]
        assert found["F filler"].box.high[2] == inches("34 1/2"), "over the lower one there is nothing between them"


def test_a_filler_closes_nothing_between_a_low_carcass_and_one_that_hangs_over_its_height() -> None:
    hung = carcass("B", "24", "30", "12", base="none", above_floor="54")
    (problem,) = plan_of(design(carcass("A", "24"), FILLER, hung)).problems
    assert str(problem).startswith("filler F: carcasses A and B have no height in common")
    found = parts_of(design(carcass("A", "24", "84"), FILLER, hung))
    assert (found["F filler"].box.low[2], found["F filler"].box.high[2]) == (54 * INCH, 84 * INCH)


@pytest.mark.parametrize("closing", [PANEL, FILLER])
def test_what_lies_under_a_top_ends_there_beside_a_higher_carcass(closing: RowItem) -> None:
    row = carcass("A", "24"), closing, carcass("B", "24", "84", "22")
    found = parts_of(design(*row, tops=(Top("T", "Worktop", "ply", 1, "A", closing.id),)))
    part = found["E end panel" if closing is PANEL else "F filler"]
    assert part.box.high[2] == found["A side left"].box.high[2] == found["T worktop"].box.low[2]


def test_a_door_beside_an_end_panel_that_stands_out_is_told_what_it_meets() -> None:
    door = carcass("A", "12", "40", "12", Bay(front="door", hinged="right"), base="none")
    (told,) = (
        one
        for one in run_checks(plan_of(design(door, PANEL, carcass("B", "24", "84", "24"))).worked)
        if one.check == "door" and one.result == "warn" and "beside" in one.about
    )
    assert told.about == "Door A beside end panel E" and "its handle meets end panel E" in told.because
    filled = design(door, replace(FILLER, width="1 3/4"), carcass("B", "24", "84", "24"))
    assert not [one for one in run_checks(plan_of(filled).worked) if one.check == "door" and one.result == "warn"]


def test_two_end_panels_cover_what_each_stands_against() -> None:
    other = EndPanel("D", "Other", "ply")
    between = parts_of(design(carcass("A", "24"), PANEL, other, carcass("B", "24", "84", "22")))
    assert size(between["E end panel"]) == (F(69, 2), F(93, 4))
    assert size(between["D end panel"]) == (F(84), F(22))
    # At the left end of a row the first of them stands against the second.
    both = parts_of(design(PANEL, other, carcass("A", "24")))
    assert size(both["E end panel"]) == size(both["D end panel"]) == (F(69, 2), F(93, 4))


def test_what_stands_beside_nothing_that_can_be_built_says_so() -> None:
    alone = "no carcass stands beside it; move it next to one"
    assert said(Gap("G", "Gap", "10"), PANEL) == [f"end panel E: {alone}"]
    deep = said(carcass("A", bottom_joint="dado", dado_depth="1/2"), PANEL, FILLER)
    assert [text.partition(":")[0] for text in deep] == ["carcass A", "end panel E", "filler F"]
    assert all("which cannot be built as it is" in text for text in deep[1:])
    assert said(carcass("A", nonsense="1"), FILLER)[1].startswith("filler F: it stands beside carcass A")


def test_an_end_panel_of_nothing_leaves_the_row_standing() -> None:
    of = design(carcass("A", "24"), EndPanel("E", "End panel", "gone"))
    plan = plan_of(of)
    assert [str(problem) for problem in plan.problems] == [
        "end panel E: there is no material 'gone' in the project; it has ply, thin, mdf"
    ]
    assert len(plan.worked.parts) == 6


def test_an_end_panel_is_longer_by_what_the_floor_falls_and_scribed_down_to_it() -> None:
    of = design(carcass("A", "24"), PANEL, space=Space(floor_out_of_level="3/8"))
    (panel,) = (part for part in plan_of(of).worked.parts if part.role == "end panel")
    assert (panel.length / INCH, panel.blank_length / INCH) == (F(69, 2), F(69, 2) + F(3, 8))
    assert any(
        "to the floor: " in step.text and "longer at the bottom for that" in step.text
        for step in build_steps(plan_of(of))
    )
