"""What is on the walls before a carcass: whether drawers come out and doors open past it, by hand."""

from __future__ import annotations

from dataclasses import replace
from math import atan, degrees
from typing import Literal

import pytest
from designs import carcass, design, plan_of

from core.checks import run_checks
from core.checks.finding import Finding
from core.project import Bay, Design, Filler, Gap, Opening, RowItem
from core.space import Obstacle, Reading, Space

WIDE = 1200
DEEP = 650
RISER = Obstacle("pipe", "right", "590 mm", "0", "40 mm", "2000 mm", "120 mm", "riser")
"""30 mm before the front edges of a carcass 560 deep, and 40 wide; on the left wall it begins at 650 - 630 = 20."""
DRAWERS = Bay(openings=(Opening(front="drawer"), Opening(front="drawer")))
DOOR = Bay(front="door", hinged="right")


def at_wall(wall: Literal["left", "right"], bay: Bay, riser: Obstacle = RISER, filler: str = "") -> Design:
    """A carcass 600 wide against a side wall of a room 1200 wide, `filler` between; the riser on that wall."""
    along = riser.along if wall == "right" else f"{DEEP - 40} mm - {riser.along}"
    room = Space(
        readings=(Reading("width", f"{WIDE} mm"), Reading("depth", f"{DEEP} mm")),
        obstacles=(replace(riser, wall=wall, along=along),),
    )
    box = carcass("A", "600 mm", "720 mm", "560 mm", bay, base="none")
    row: tuple[RowItem, ...] = (Gap("G", "Open", "share"), box)
    row += (Filler("F", "Filler", "ply", filler),) if filler else ()
    return design(*(row if wall == "right" else row[::-1]), row_width=f"{WIDE} mm", space=room)


def told(of: Design, check: str) -> list[Finding]:
    """What is said of drawers or doors and what is on the walls."""
    plan = plan_of(of)
    assert plan.problems == () and plan.worked.misfits == ()
    return [one for one in run_checks(plan.worked) if one.check == check and "riser" in one.about]


@pytest.mark.parametrize("wall", ["left", "right"])
def test_a_drawer_that_comes_out_into_what_is_on_a_side_wall_fails(wall: Literal["left", "right"]) -> None:
    first, second = told(at_wall(wall, DRAWERS), "drawer")
    assert first.result == second.result == "fail"
    assert first.about == f"Drawer front 1 A and the riser on the {wall} wall"
    assert first.because == "it cannot come out: the riser is in its way"
    # 120 out of the wall, less 1/16 in of gap beside the front, 1.5875; 4.662 in, up to the next mark.
    assert first.mend[0] == "a filler or an open bay at that wall, 4 11/16 in wide or more"
    assert first.mended_at == ("row", "A")


@pytest.mark.parametrize("wall", ["left", "right"])
def test_a_filler_as_wide_as_was_said_lets_it_out(wall: Literal["left", "right"]) -> None:
    assert told(at_wall(wall, DRAWERS, filler="118.4125 mm"), "drawer") == []
    assert len(told(at_wall(wall, DRAWERS, filler="118.4 mm"), "drawer")) == 2


def test_what_is_above_or_behind_a_drawer_or_further_away_than_it_comes_out_is_not_in_its_way() -> None:
    assert told(at_wall("right", DRAWERS, replace(RISER, up="720 mm")), "drawer") == []
    # Slides are 20 in, 508 mm: the longest usual ones that fit in 560. The front, 19.05 thick, comes as far.
    room = replace(at_wall("right", DRAWERS).space, readings=(Reading("width", "1200 mm"), Reading("depth", "2000 mm")))
    for away, result in ((528, []), (526, ["fail", "fail"])):
        riser = replace(RISER, along=f"{560 + away} mm")
        of = replace(at_wall("right", DRAWERS), space=replace(room, obstacles=(riser,)))
        assert [one.result for one in told(of, "drawer")] == result


def test_how_far_a_door_opens_before_it_meets_something() -> None:
    # Its face is 19.05 before the box, so 10.95 before it the riser begins; it is 118.4125 over from the hinges.
    (hinged_there,) = told(at_wall("right", DOOR), "door")
    assert hinged_there.result == "fail"
    assert hinged_there.value == pytest.approx(degrees(atan(10.95 / 118.4125)), abs=0.1)
    assert hinged_there.because == "it opens about 5 degrees, and then meets the riser"
    # Hinged away from it the free edge meets it at once, 596.825 from the hinges: atan(10.95 / 596.7) is 1.05 degrees.
    (hinged_away,) = told(at_wall("left", DOOR), "door")
    assert hinged_away.result == "fail" and hinged_away.value == pytest.approx(1.1, abs=0.1)


@pytest.mark.parametrize("wall", ["left", "right"])
def test_a_filler_as_wide_as_was_said_lets_a_door_open(wall: Literal["left", "right"]) -> None:
    # 118.4125 and the door's own thickness, 19.05.
    assert told(at_wall(wall, DOOR, filler="137.4625 mm"), "door") == []
    assert len(told(at_wall(wall, DOOR, filler="118 mm"), "door")) == 1


def test_the_handle_of_an_open_door_wants_room_at_what_is_on_the_wall() -> None:
    # Opened, the door's last 80 mm are 536 to 616 before the box; the riser is 540 to 580 before it.
    room = Space(
        readings=(Reading("width", "1200 mm"), Reading("depth", "2000 mm")),
        obstacles=(replace(RISER, along="1100 mm"),),
    )

    def beside(filler: str) -> list[tuple[str, str]]:
        of = replace(at_wall("right", DOOR, filler=filler), space=room)
        return [(one.result, one.about) for one in told(of, "door")]

    # 1.5875 from the door's edge to the box's, and 120 of the filler are the riser's; a handle wants 40.
    assert beside("150 mm") == [("warn", "Door A beside the riser")]
    assert beside("160 mm") == [("ok", "Door A beside the riser")]


def test_a_switch_far_before_a_door_lets_it_open_nearly_all_the_way() -> None:
    # 10 out of the wall and 300 before the box: atan((300 - 19.05) / 8.4125) is 88.3 degrees.
    room = Space(
        readings=(Reading("width", "1200 mm"), Reading("depth", "2000 mm")),
        obstacles=(replace(RISER, along="860 mm", sticks_out="10 mm"),),
    )
    (door,) = told(replace(at_wall("right", DOOR), space=room), "door")
    assert (door.result, door.because) == ("warn", "it opens about 88 degrees, and then meets the riser")


def test_hinges_on_the_other_side_are_proposed_where_that_helps() -> None:
    # 300 before the box, 20 out: a door 597 wide hinged at the far side passes 520 from its hinges at most there.
    room = Space(
        readings=(Reading("width", "1200 mm"), Reading("depth", "2000 mm")),
        obstacles=(replace(RISER, along="860 mm", sticks_out="20 mm"),),
    )
    (door,) = told(replace(at_wall("right", DOOR), space=room), "door")
    assert door.mend[0] == "hinges on its other side"
    pair = Bay(front="pair of doors")
    (right,) = told(replace(at_wall("right", pair), space=room), "door")
    assert right.about.startswith("Door, right A") and "hinges on its other side" not in right.mend
