"""How it goes together, as it is said: which carcasses are joined, how a back goes on, what is warned of."""

from __future__ import annotations

from dataclasses import replace

import pytest
from designs import carcass, design, plan_of

from core.build import build_steps
from core.goods import Board, Length
from core.project import Bay, Design, Filler, Gap, Opening, RowItem, Top


def said(of: Design) -> list[str]:
    plan = plan_of(of)
    assert plan.problems == ()
    return [step.text for step in build_steps(plan)]


def starting(of: Design, words: str) -> list[str]:
    return [text for text in said(of) if text.startswith(words)]


def cautions(*row: RowItem, unit: str = "in") -> list[str]:
    return [step.caution for step in build_steps(plan_of(design(*row, unit=unit))) if step.caution]


def test_carcasses_that_touch_are_joined_and_those_beside_an_open_bay_set_apart() -> None:
    row = (carcass("A"), carcass("B"), Gap("G", "Washer", "27"), carcass("C"), carcass("D", depth="20"))
    of = design(*row)
    assert starting(of, "Join") == [
        "Join the carcasses that touch: A to B, fronts flush; C to D, rear edges flush."
    ]  # fmt: skip
    assert starting(of, "Set carcasses") == [
        "Set carcasses apart with a spacer, top and bottom, as wide as what is left open or filled: B and C 27 in."
    ]


def test_an_open_bay_at_the_end_of_the_row_and_a_carcass_alone_ask_for_neither() -> None:
    for row in ((carcass("A"),), (Gap("G", "Bench", "20"), carcass("A"), Gap("H", "Door", "8"))):
        assert starting(design(*row), "Join") == starting(design(*row), "Set carcasses") == []
        assert "Fasten every carcass to the wall." in said(design(*row))


def test_carcasses_with_a_filler_between_or_one_over_the_other_s_height_are_not_joined() -> None:
    filler, hung = Filler("F", "Filler", "ply", "2"), carcass("B", base="none", above_floor="54", nailers="top")
    beside = design(carcass("A"), filler, carcass("B", height="80"))
    assert not starting(beside, "Join") and starting(beside, "Set carcasses")[0].endswith("filled: A and B 2 in.")
    assert not starting(design(carcass("A"), hung), "Join")
    # Two that hang are joined where they hang.
    steps = said(design(hung, replace(hung, id="C")))
    order = [n for n, text in enumerate(steps) if text.startswith(("Hang what", "Join", "Fasten every"))]
    assert [steps[n].split()[0] for n in order] == ["Hang", "Join", "Fasten"]


def test_two_open_bays_side_by_side_are_one_distance() -> None:
    first, last = (carcass(id, "600", "800", "500") for id in "AB")
    row = (first, Gap("G", "One", "400"), Gap("H", "Two", "200.5"), last)
    (text,) = starting(design(*row, unit="mm"), "Set carcasses")
    assert text.endswith("A and B 600.5 mm.")


def test_a_back_is_let_in_where_it_is_housed_and_put_on_elsewhere() -> None:
    assert len(starting(design(carcass(back="let in")), "Let in the back")) == 1
    assert len(starting(design(carcass(back="applied")), "Put on the back")) == 1
    (low,) = starting(design(carcass(back="let in", back_reach="part")), "Let in the back")
    assert "too low to hold the box square" in low


def test_the_layers_of_a_top_are_cut_to_size_already() -> None:
    of = design(carcass(), tops=(Top("T", "Worktop", "ply", layers=2),))
    (text,) = starting(of, "Glue its two layers")
    assert "line up the edges" in text and "trim" not in text
    assert starting(design(carcass(), tops=(Top("T", "Worktop", "ply"),)), "Glue its two layers") == []


def test_the_saw_is_warned_of_once() -> None:
    row = (carcass("A", back="let in"), carcass("B"))
    assert len([text for text in cautions(*row) if text.startswith("Saws:")]) == 1


def test_cautions_say_sizes_and_weights_in_the_unit_of_the_project() -> None:
    told = " ".join(cautions(carcass("A")))
    assert {"12 in", "51 lb", "27 in"} <= {size for size in ("12 in", "51 lb", "27 in", "mm", "kg") if size in told}
    assert " mm" not in told and " kg" not in told
    metric = " ".join(cautions(carcass("A", "600 mm", "800 mm", "500 mm"), unit="mm"))
    assert "300 mm" in metric and "23 kg" in metric and "685 mm" in metric
    assert " lb" not in metric and "12 in" not in metric


def test_nothing_to_build() -> None:
    assert said(design()) == []


def test_undermounts_ask_for_something_at_the_rear_ends() -> None:
    def told(slides: str) -> list[str]:
        bay = Bay(openings=(Opening(front="drawer"),))
        return starting(design(carcass("A", "24", "20", "24", bay, base="none", slides=slides)), "Bore or notch")

    assert len(told("undermount")) == 1 and told("side mount") == []


def test_how_high_each_drawer_sits_above_the_bottom_is_told() -> None:
    # The lower opening is 9 high with nothing above; each drawer has 5/8 below it.
    bay = Bay(openings=(Opening("9", front="drawer"), Opening(front="drawer")))
    of = design(carcass("A", "24", "20", "24", bay, base="none", slides="side mount", drawer_below="5/8"))
    (told,) = starting(of, "Mount the slides")
    assert "above the bottom: 5/8 (C1/1, C2/1), 9 5/8 (C3/1, C4/1)" in told


def test_what_is_held_back_is_measured_for_and_cut_before_it_is_taken_up() -> None:
    bay = Bay(front="door")
    of = design(carcass("A", "18", "20", "24", bay, base="none"), tops=(Top("T", "Counter", "ply"),))
    codes = {kind.part.role: kind.code for kind in plan_of(of).kinds}
    door, top = codes["door"], codes["worktop"]
    held = said(replace(of, held_back=(door, top)))
    hang = next(place for place, text in enumerate(held) if text.startswith("Hang"))
    lay = next(place for place, text in enumerate(held) if "Counter" in text)
    assert held[hang - 1].startswith(f"Measure what stands where {door}/1 will go")
    assert held[lay - 1].startswith(f"Measure what stands where {top}/1 will go")
    assert len(held) == len(said(of)) + 2
    (machine,), (all_machined,) = ([text for text in texts if text.startswith("Machine")] for texts in (held, said(of)))
    assert f"{door}/1" in all_machined and f"{door}/1" not in machine


@pytest.mark.parametrize("slides", ["side mount", "undermount"])
def test_slides_behind_a_face_frame_are_packed_out_by_what_its_stiles_are_wider(slides: str) -> None:
    # Stiles 1 1/2 wide before sides of 3/4; the one in the middle is as wide, before a divider of 3/4 in its middle.
    poplar = Board("Poplar", "3/4", "1 1/2", lengths=(Length("96"),))
    drawer = Bay(openings=(Opening(front="drawer"),))
    rules = {"base": "none", "slides": slides, "drawer_panel": "thin", "drawer_groove": "1/8"}
    framed = carcass("A", "48", "20", "24", drawer, drawer, face_frame="poplar", **rules)
    assert starting(design(framed, boards={"poplar": poplar}), "Pack") == [
        "Pack the slides out by 3/8 in at the dividers and by 3/4 in at the sides, flush with the stiles."
    ]
    assert starting(design(carcass("A", "48", "20", "24", drawer, **rules)), "Pack") == []


def test_each_step_names_the_screws_of_its_own_joints() -> None:
    # Housed joints take none; the back's go through a board of 1/4 in; a drawer and a plinth have their own.
    bay = Bay(openings=(Opening(front="drawer"),))
    joints = dict.fromkeys(("bottom_joint", "top_joint"), "dado")
    of = design(carcass("A", "24", "20", "24", bay, base="plinth", top="panel", back="applied", **joints))
    (glue,) = starting(of, "Glue up")
    assert "screws" not in glue and "clamped" in glue
    (back,) = starting(of, "Put on the back")
    assert " with screws " in back
    (drawers,) = starting(of, "Put the drawers together")
    assert " with screws " in drawers
    (plinth,) = starting(of, "Put the plinth together")
    assert " with screws 2 in" in plinth
