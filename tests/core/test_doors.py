"""Doors that hang and open, boxes that stay square: trade and common practice."""

from __future__ import annotations

from dataclasses import replace

import pytest
from designs import carcass, design, plan_of

from core.checks import run_checks
from core.checks.finding import Finding
from core.goods import Board, Length
from core.project import Bay, Design, Filler, Opening
from core.space import Clearance, Reading, Space

ROOM = Space(readings=(Reading("width", "40"), Reading("height", "96")), clearance=Clearance("1/4", "1/4"))


def found(of: Design) -> list[Finding]:
    return [one for one in run_checks(plan_of(of).worked) if one.check == "door"]


def test_a_low_wide_door_is_warned_of() -> None:
    # 17 high on a base of none: hinges 4 in from each end of a door 16 7/8 high are 8 7/8 apart, and it is 23 7/8 wide.
    (told,) = found(design(carcass("A", "24", "17", "12", Bay(front="door"), base="none")))
    assert told.result == "warn" and "2 hinges, the outer ones 8 7/8 in apart" in told.because
    assert "hinge from end less" in told.mend
    # 3 3/16 is 80 mm, and makers want no less.
    (told,) = found(design(carcass("A", "24", "17", "12", Bay(front="door"), base="none", hinge_from_end="80 mm")))
    assert told.result == "warn" and "hinge from end less" not in told.mend
    (told,) = found(design(carcass("A", "24", "40", "12", Bay(front="door"), base="none")))
    assert told.result == "ok"


@pytest.mark.parametrize(
    ("bays", "rules"),
    [
        ((Bay(front="pair of doors"),), {}),
        ((Bay(front="door"), Bay(front="door", hinged="right")), {"fronts": "inset"}),
    ],
)
def test_doors_that_turn_into_each_other_or_their_opening_want_a_gap(
    bays: tuple[Bay, ...], rules: dict[str, str]
) -> None:
    def told(**rules: str) -> set[tuple[str, ...]]:
        of = design(carcass("A", "24", "40", "12", *bays, base="none", **rules))
        return {one.mend for one in run_checks(plan_of(of).worked) if one.check == "dry fit"}

    # A door 3/4 thick and 12 wide goes 0.023 beyond its edge as it turns: so far is the far corner of 12 x 3/4.
    assert told(front_gap="0", **rules) == {("front gap more, 1/8 in is usual",)}
    assert told(front_gap="1/8", **rules) == {()}


def test_narrow_thick_doors_want_a_wider_gap_than_is_usual() -> None:
    # Each is (4 - 2/8) / 2 = 1 7/8 wide and 3/4 thick: the far corner is 2.0194 away, 0.144 beyond its edge.
    def told(gap: str) -> set[tuple[str, ...]]:
        of = design(carcass("A", "4", "40", "12", Bay(front="pair of doors"), base="none", front_gap=gap))
        return {one.mend for one in run_checks(plan_of(of).worked) if one.check == "dry fit"}

    assert told("1/8") == {("front gap 3/16 in or more", "wider doors")}
    assert told("3/16") == {()}


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


def test_a_door_beside_a_carcass_that_stands_out_before_it_wants_room_for_its_handle() -> None:
    # 12 deep beside 24 deep: 12 in stand out. The door is 12 wide, and ends half a gap of 1/8 before its box.
    door = carcass("A", "12", "40", "12", Bay(front="door", hinged="right"), base="none")
    deep = carcass("B", "24", "40", "24", base="none")
    beside = [one for one in found(design(door, deep)) if "carcass B" in one.about]
    assert [one.result for one in beside] == ["warn"]
    assert "1/16 in from carcass B, which stands out before it: its handle meets carcass B" in beside[0].because
    # As deep as its neighbour, hinged at the other side, or over it, it has all the room.
    for row in (
        (door, carcass("B", "24", "40", "12", base="none")),
        (carcass("A", "12", "40", "12", Bay(front="door", hinged="left"), base="none"), deep),
        # The handle of a door that is wider than B stands out is before B.
        (carcass("A", "24", "40", "12", Bay(front="door", hinged="right"), base="none"), deep),
        (door, Filler("F", "Filler", "ply", "14"), deep),
    ):
        assert {one.result for one in found(design(*row)) if "carcass B" in one.about} <= {"ok"}


def drawers(**rules: str) -> tuple[str, str]:
    bay = Bay(openings=(Opening(front="drawer"),))
    of = design(carcass("A", "24", "20", "24", bay, base="none", **rules))
    (told,) = (one for one in run_checks(plan_of(of).worked) if one.check == "drawer")
    return told.result, told.because


def test_drawers_have_the_room_that_slides_ask_for() -> None:
    # Side mounts: 1/2 in each side, 1/32 more and nothing less (trade practice).
    assert drawers(slides="side mount")[0] == "ok"
    assert drawers(slides="side mount", slide_clearance="17/32")[0] == "ok"
    assert drawers(slides="side mount", slide_clearance="3/8") == (
        "warn",
        "3/8 in beside the drawer, where makers ask for 1/2 in, 1/32 in more and nothing less",
    )
    # Undermounts: sides of 1/2 or 5/8 in (trade practice); the panel here is 3/4.
    assert drawers(slides="undermount", drawer_panel="ply")[0] == "warn"
    assert "usual undermounts take" in drawers(slides="undermount", drawer_panel="ply")[1]
    assert drawers(slides="undermount", drawer_panel="thin", drawer_groove="1/8")[0] == "ok"
    assert (
        "1/4 in below it"
        in drawers(slides="undermount", drawer_panel="thin", drawer_groove="1/8", drawer_below="1/4")[1]
    )
    # Inside 1 5/8 in, or 42 mm, narrower than the opening (trade practice).
    thin = {"slides": "undermount", "drawer_panel": "thin", "drawer_groove": "1/8"}
    assert drawers(undermount_less="42 mm", **thin)[0] == "ok"
    assert drawers(undermount_less="4", **thin) == (
        "warn",
        "4 in narrower inside than its opening, where makers ask for 1 5/8 in",
    )
    assert "0 in below it" in drawers(slides="side mount", drawer_below="0")[1]


def test_cups_and_hinges_where_makers_would_not_have_them_are_warned_of() -> None:
    # 3 to 6 mm, 8 at most, from the edge of a door to the cup, 80 mm or more from its end to a hinge, plates 37 mm
    # behind the front (trade practice); that 20 to 50 pass there is common practice, no source.
    def told(**rules: str) -> list[str]:
        of = design(carcass("A", "16", "40", "12", Bay(front="door"), base="none", **rules))
        return [one.mend[0] for one in found(of) if one.about.startswith("hinges of")]

    assert told() == []
    for fine in ("3 mm", "6 mm", "8 mm"):
        assert told(cup_edge=fine) == []
    for wrong in ("2 mm", "2.9 mm", "8.1 mm", "30 mm", "1", "14"):
        assert told(cup_edge=wrong) == ["cup edge 4 mm"]
    assert told(hinge_from_end="3") == ["hinge from end 3 3/16 in or more"]
    assert told(fronts="inset", front_gap="1/8") == []
    assert told(fronts="inset", front_gap="2") == ["front gap 1/8 in"]
    assert told(plate_setback="28 mm") == []
    assert told(plate_setback="8") == told(plate_setback="10 mm") == ["plate setback 37 mm"]


@pytest.mark.parametrize(
    ("wide", "fronts", "laps"),
    [
        # A stile 2 1/2 wide: a full overlay ends 1/16, half of the gap, before its outer edge.
        ("2 1/2", "full overlay", "2 7/16 in"),
        ("1 1/2", "full overlay", ""),
        ("2 1/2", "inset", ""),
    ],
)
def test_a_door_laps_no_further_over_a_stile_than_hinges_reach(wide: str, fronts: str, laps: str) -> None:
    boards = {"oak": Board("Oak", "3/4", wide, lengths=(Length("96"),))}
    for hinged in ("left", "right"):
        item = carcass("A", "24", "30", "12", Bay(front="door", hinged=hinged), face_frame="oak", fronts=fronts)
        told = [one for one in found(design(item, boards=boards)) if one.about.endswith("over its stile")]
        assert [one.because for one in told] == [
            f"it laps {laps} over the stile that it hangs on, and hinges before a face frame reach 1 7/16 in at most"
        ] * bool(laps)
