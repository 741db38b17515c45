"""Doors that hang and open, boxes that stay square: trade and common practice."""

from __future__ import annotations

from dataclasses import replace

from designs import carcass, design, plan_of

from core.checks import run_checks
from core.checks.finding import Finding
from core.project import Bay, Design, Filler
from core.space import Clearance, Reading, Space

ROOM = Space(readings=(Reading("width", "40"), Reading("height", "96")), clearance=Clearance("1/4", "1/4"))


def found(of: Design) -> list[Finding]:
    return [one for one in run_checks(plan_of(of).worked) if one.check == "door"]


def test_a_low_wide_door_is_warned_of() -> None:
    # 17 high on a base of none: hinges 4 in from each end of a door 16 7/8 high are 8 7/8 apart, and it is 23 7/8 wide.
    (told,) = found(design(carcass("A", "24", "17", "12", Bay(front="door"), base="none")))
    assert told.result == "warn" and "2 hinges, the outer ones 8 7/8 in apart" in told.because
    (told,) = found(design(carcass("A", "24", "40", "12", Bay(front="door"), base="none")))
    assert told.result == "ok"


def test_a_door_hinged_at_a_wall_wants_room_for_its_handle() -> None:
    door = carcass("A", "24", "40", "12", Bay(front="door"), base="none")
    # Full overlay: half a gap of 1/8 from the box's edge, and 1/4 of air: 5/16.
    at_wall = [one for one in found(design(door, space=ROOM)) if "wall" in one.about]
    assert [(one.result, one.about) for one in at_wall] == [("warn", "Door A at the left wall")]
    assert "5/16 in from the wall" in at_wall[0].because
    filled = design(Filler("F", "Filler", "ply", "1 1/2"), door, space=ROOM)
    assert {one.result for one in found(filled)} == {"ok"}
    open_room = replace(ROOM, open_left=True)
    assert not [one for one in found(design(door, space=open_room)) if "wall" in one.about]


def test_a_box_with_nothing_to_keep_it_square_is_warned_of() -> None:
    def told(**rules: str) -> tuple[str, str]:
        (one,) = (one for one in run_checks(plan_of(design(carcass("A", **rules))).worked) if one.check == "square")
        return one.result, one.because

    assert told() == ("ok", "kept square by its back")
    assert told(back="none") == ("warn", "nothing keeps it square; nothing takes a screw into the wall")
    # Rails take a screw, and do not keep it square.
    assert told(back="none", top="rails") == ("warn", "nothing keeps it square")
    assert told(back="none", nailers="top") == ("ok", "kept square by a nailer")
