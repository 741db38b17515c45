"""Solid wood against the Wood Handbook (FPL-GTR-190, 2010), chapter 13: equation 13-2 and table 13-5."""

from __future__ import annotations

from dataclasses import replace

import pytest
from designs import GOODS, carcass, design, plan_of

from core.checks import run_checks
from core.checks.finding import Finding
from core.checks.movement import movement
from core.project import Bay, LoosePart, Top


def found(width: str, coefficient: str) -> Finding:
    goods = {**GOODS, "oak": replace(GOODS["ply"], name="Oak", movement=coefficient)}
    of = design(loose=(LoosePart("L", "Panel", "oak", "48", width),), materials=goods)
    (told,) = (one for one in run_checks(plan_of(of).worked) if one.check == "movement")
    return told


@pytest.mark.parametrize(
    ("width", "coefficient", "percent", "grows"),
    [
        # Worked example of the handbook, p. 13-16: white fir 9.15 in, flat-sawn, 8 to 11 %: 0.067 in.
        (9.15, 0.00245, 3, 0.067),
        # Red oak 24 in, 6 to 12 %, flat-sawn and quarter-sawn; computed from the coefficients of table 13-5.
        (24, 0.00369, 6, 0.531),
        (24, 0.00158, 6, 0.228),
        # Cherry 600 mm, 6 to 12 %.
        (600, 0.00248, 6, 8.93),
    ],
)
def test_movement_as_the_handbook_works_it_out(width: float, coefficient: float, percent: float, grows: float) -> None:
    assert movement(width, coefficient, percent) == pytest.approx(grows, abs=0.0006 if width < 100 else 0.005)


def test_a_wide_panel_is_warned_of_and_told_how_to_fasten() -> None:
    told = found("24", "0.00369")
    # 24 x 0.00369 x 5 = 0.4428 in, 11.25 mm.
    assert told.result == "warn" and told.value == pytest.approx(0.4428 * 25.4, abs=0.01)
    assert any("slots" in mend for mend in told.mend)
    # 2 in of it move 0.04 in, 0.94 mm: what ordinary holes bear.
    assert found("2", "0.00369").result == "ok"


def test_boards_that_do_not_move_are_not_spoken_of() -> None:
    of = design(carcass(), tops=(Top("W", "Top", "ply"),))
    assert not [one for one in run_checks(plan_of(of).worked) if one.check == "movement"]


def of_oak(**rules: str) -> dict[str, Finding]:
    goods = {**GOODS, "oak": replace(GOODS["ply"], name="Oak", movement="0.00369")}
    box = carcass("A", "48", "34 1/2", "23 1/4", Bay(front="pair of doors"), base="none", **rules)
    worked = plan_of(design(box, materials=goods)).worked
    return {one.about.partition(" A,")[0]: one for one in run_checks(worked) if one.check == "movement"}


def test_a_door_of_solid_wood_must_not_fill_its_gap() -> None:
    # Half of 48 less two gaps of 1/8 is 23 7/8 wide: 23.875 x 0.00369 x 5 = 0.4405 in against 1/8.
    doors = of_oak(front_panel="oak")
    assert set(doors) == {"Door, left", "Door, right"}
    assert doors["Door, left"].result == "warn" and doors["Door, left"].value == pytest.approx(11.19, abs=0.01)
    assert "the gap there is 1/8 in" in doors["Door, left"].because


def test_a_box_that_is_solid_all_round_moves_as_one_and_a_shelf_of_solid_wood_in_a_stiff_box_does_not() -> None:
    solid = of_oak(panel="oak", shelf_panel="oak", kick_panel="oak", back_panel="thin", front_panel="ply")
    assert {"Bottom", "Side, left"} <= set(solid)
    assert {one.result for one in solid.values()} == {"ok"}
    assert all("with all that it meets" in one.because for one in solid.values())
    goods = {**GOODS, "oak": replace(GOODS["ply"], name="Oak", movement="0.00369")}
    box = carcass("A", "24", "34 1/2", "23 1/4", Bay(fixed_shelves=("even",)), shelf_panel="oak")
    (shelf,) = (one for one in run_checks(plan_of(design(box, materials=goods)).worked) if one.check == "movement")
    assert shelf.result == "warn" and "screwed fast" in shelf.because
