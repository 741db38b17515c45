"""Blanks that are larger than what is made of them: where, and from which edge that is whole all else is measured."""

from __future__ import annotations

from fractions import Fraction

import pytest
from designs import INCH, carcass, design, plan_of

from core.build import build_steps
from core.construction.part import Part
from core.drawing.glyphs import UNICODE
from core.drawing.part import draw_part
from core.drawing.part_notes import larger_in_words
from core.drawing.part_seen import seen
from core.machining_list import machining_in_words
from core.outputs import parts_document
from core.plan import Plan
from core.printing import parts_text
from core.project import Bay, EndPanel, Filler, Top
from core.space import Baseboard, Lean, Obstacle, Reading, Space


def beside_wall(wall: str, material: str, height: str, depth: str, falls: str) -> Plan:
    """An end panel at a wall with an outlet, over a baseboard at the back wall and a floor out of level."""
    space = Space(
        floor_out_of_level=falls,
        readings=(Reading("width", "36"), Reading("depth", "30")),
        baseboards=(Baseboard("back", "5 1/2", "1/2"),),
        obstacles=(Obstacle("outlet", wall, "15" if wall == "left" else "12", "12", "3", "4"),),  # type: ignore[arg-type]
    )
    row = EndPanel("E", "End panel", material), carcass("A", "share", height, depth)
    of = design(*(row if wall == "left" else row[::-1]), row_width="36", space=space)
    plan = plan_of(of)
    assert not plan.problems and not plan.worked.misfits
    return plan


def code_of(plan: Plan, role: str) -> tuple[str, Part]:
    (kind,) = (kind for kind in plan.kinds if kind.part.role == role)
    return kind.code, kind.part


@pytest.mark.parametrize("wall", ["left", "right"])
@pytest.mark.parametrize(
    ("material", "height", "depth"),
    # The length of the grainless one that is deeper than high runs from front to back.
    [("ply", "34 1/2", "23 1/4"), ("mdf", "34 1/2", "23 1/4"), ("mdf", "20", "28")],
)
def test_what_is_cut_into_an_end_panel_is_measured_from_its_top_and_a_notch_at_its_foot_in_its_blank(
    wall: str, material: str, height: str, depth: str
) -> None:
    plan = beside_wall(wall, material, height, depth, "3/8")
    code, panel = code_of(plan, "end panel")
    # The outlet ends 16 1/4 up, air counted, and the notch 5 1/2 and the clearance, 1/8: 3/8 more while it is uncut.
    top = panel.box.high[2] / INCH - Fraction(65, 4)
    stands = panel.length_axis == "z"
    from_top = f"{plan.worked.notation.text(top * INCH)} from the top{' end' if stands else ''}"
    lines = [line for line in machining_in_words(plan) if f" {code}/1: " in line]
    assert any("for the outlet, " in line and f", {from_top}," in line for line in lines)
    (notch,) = (line for line in lines if "lower back corner" in line)
    assert "6 high with the 3/8 to scribe and 5/8 deep" in notch
    at = machining_in_words(plan).index(notch)
    assert any(" 5/8 x 6, right through" in line for line in machining_in_words(plan)[at - 2 : at])
    assert not any("from the bottom" in line for line in lines)
    drawn = " ".join(draw_part(panel, 100, 30, plan.worked.notation, UNICODE).plain())
    edge = "bottom end" if stands else "bottom"
    assert f"3/8 more at the {edge}, to scribe: a cut there goes in as much further" in drawn
    document = next(one for one in parts_document(plan)["parts"] if one["part"] == code)  # type: ignore[union-attr,index,call-overload]
    assert document["larger_at"] == [{"edge": edge, "by": 9.525}]  # type: ignore[index,call-overload]
    assert any(f"3/8 more at the {edge}, to scribe" in line for line in parts_text(plan, 200, False))
    told = " ".join(step.text for step in build_steps(plan))
    assert f"The bottom of {code}/1 is no finished edge yet" in told and "3/8 in longer at the bottom" in told


def test_on_a_level_floor_an_end_panel_is_measured_from_its_foot() -> None:
    plan = beside_wall("left", "ply", "34 1/2", "23 1/4", "0")
    code, panel = code_of(plan, "end panel")
    lines = [line for line in machining_in_words(plan) if f" {code}/1: " in line]
    assert any("11 3/4 from the bottom end" in line for line in lines)
    assert any("5 5/8 high and 5/8 deep" in line for line in lines)
    assert not panel.allowances and "to scribe" not in " ".join(parts_text(plan, 200, False))


def test_fillers_are_wider_at_their_walls_and_end_alike_are_one_kind() -> None:
    row = Filler("F", "Filler", "ply", "2"), carcass("A", "20"), Filler("H", "Filler", "ply", "2")

    def told(right: str) -> tuple[list[tuple[str, int]], list[str]]:
        leans = Lean("left", "1/4", "40"), Lean("right", right, "40")
        plan = plan_of(design(*row, space=Space(readings=(Reading("width", "36"),), leans=leans)))
        kinds = [kind for kind in plan.kinds if kind.part.role == "filler"]
        sides = [part.edge_name(side) for kind in kinds for _, part in kind.pieces for side, _ in part.allowances]
        assert sides == ["left", "right"]
        notes = [larger_in_words(kind.part, plan.worked.notation.text) for kind in kinds]
        return [(kind.name, kind.quantity) for kind in kinds], notes

    assert told("1/4") == ([("Filler", 2)], ["1/4 more at the wall, to scribe"])
    assert told("1/2")[1] == ["1/4 more at the wall, to scribe", "1/2 more at the wall, to scribe"]


def test_the_lower_layer_of_a_top_is_cut_out_once_it_is_trimmed_flush() -> None:
    riser = Obstacle("pipe", "back", "10", "0", "2", "90", "3")
    space = Space(readings=(Reading("width", "36"), Reading("depth", "24")), obstacles=(riser,))
    top = Top("W", "Top", "ply", 2, banding="tape", trim_flush="1/8")
    plan = plan_of(design(carcass("A", "36", back="none"), space=space, tops=(top,)))
    assert not plan.problems
    lower, upper = (kind for kind in plan.kinds if kind.part.role == "worktop")
    lines = machining_in_words(plan)
    # Both are of one size by then, and one set-up.
    at = next(n for n, line in enumerate(lines) if f" {lower.code}/1: " in line)
    assert lines[at : at + 2] == [
        f"  [ ] {lower.code}/1: for the pipe, 2 1/2 wide and 3 1/4 deep, 9 3/4 from the left end, at the back, once it "
        "is trimmed flush, not cut yet",
        f"  [ ] {upper.code}/1: for the pipe, 2 1/2 wide and 3 1/4 deep, 9 3/4 from the left end, at the back, not cut "
        "yet",
    ]
    said = larger_in_words(lower.part, plan.worked.notation.text)
    assert said == "1/8 more at the left end, right end, front and back, to trim flush"


def test_the_edges_of_a_top_in_pieces_are_larger_where_nothing_meets_them() -> None:
    bays = Bay(), Bay()
    row = carcass("A", "60", "34 1/2", "23 1/4", *bays), carcass("B", "60", "34 1/2", "23 1/4", *bays)
    plan = plan_of(design(*row, tops=(Top("W", "Top", "ply", 2, trim_flush="1/8"),)))
    layers = [part for part in plan.worked.placed if part.role == "worktop"]
    larger = [{part.edge_name(side) for side, _ in part.allowances} for part in layers]
    lower = [names for part, names in zip(layers, larger, strict=True) if part.place.startswith("lower")]
    assert len(lower) > 1 and "left end" in lower[0] and "right end" in lower[-1]
    assert all({"front", "back"} <= names for names in lower)
    assert sum("left end" in names for names in lower) == sum("right end" in names for names in lower) == 1
    # Measured from the end that is whole.
    assert [seen(part).edge_name(seen(part).end) for part in layers if part.place == "lower 1"] == ["right end"]
