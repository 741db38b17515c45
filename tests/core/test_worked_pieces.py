"""Three boxes of a kitchen, worked out by hand as at the bench: every part, and what is cut into it.

The sums stand beside the numbers. "Definition" is What a size means in DEVELOPERS.md; what names no source is common
practice. Boards have their exact thickness: ply 3/4, thin 1/4, half 1/2; the tape on front edges is 1/32 thick.
"""

from __future__ import annotations

from functools import cache

from designs import carcass, design
from worked_pieces import (
    WORKED_BANDINGS,
    WORKED_GOODS,
    cup,
    cut,
    cut_list,
    holes,
    lengths,
    low_corner,
    machining,
    pins,
    placed,
    plate,
    shop_list,
    taken,
)

from core.construction.part import Part
from core.project import Bay, Design, Opening

GOODS_USED = {"materials": WORKED_GOODS, "bandings": WORKED_BANDINGS}
BANDED = {"front_banding": "tape", "door_banding": "tape", "drawer_panel": "half"}


# --- Base cabinet: 30 wide, 34 1/2 high, 24 deep; a drawer over a pair of doors, full overlay, side mounts


@cache
def base_cabinet() -> Design:
    doors = Opening("share", "pair of doors", adjustable_shelves=1, above="rail")
    bay = Bay(openings=(doors, Opening("6", "drawer")))
    rules = {"top": "rails", "bottom_joint": "dado", "drawer_joint": "rabbet", **BANDED}
    return design(carcass("A", "30", "34 1/2", "24", bay, **rules), **GOODS_USED)


@cache
def base_parts() -> dict[str, Part]:
    return placed(base_cabinet())


def test_base_cabinet_every_part() -> None:
    assert cut_list(base_parts()) == {
        # Full height (definition: sides run through); 24 less the applied back's 1/4 = 23 3/4.
        # The tape on the front edge comes off the blank: 23 3/4 - 1/32 = 23 23/32.
        "side left": cut("34 1/2 x 23 3/4", banded="front", blank="34 1/2 x 23 23/32"),
        "side right": cut("34 1/2 x 23 3/4", banded="front", blank="34 1/2 x 23 23/32"),
        # 30 less two sides = 28 1/2, and 1/4 into a dado at each end (clear inside + 2 depths, trade practice) = 29.
        "bottom": cut("29 x 23 3/4", banded="front", blank="29 x 23 23/32"),
        # Rails and kick are butted between the sides: 28 1/2. Four wide by the rule book; only what shows is banded.
        "rail front": cut("28 1/2 x 4", banded="front", blank="28 1/2 x 3 31/32"),
        "rail rear": cut("28 1/2 x 4"),
        "rail bay 1 no 1": cut("28 1/2 x 4", banded="front", blank="28 1/2 x 3 31/32"),
        "kick": cut("28 1/2 x 4"),
        # Over all 30; from the bottom's underside, at the kick's 4, to the top: 34 1/2 - 4. Its grain stands.
        "back": cut("30 1/2 x 30", "thin"),
        # 28 1/2 less 1/16 at each end; 23 3/4 less 1/4 at the front. Blank: less the tape.
        "loose shelf bay 1 no 1": cut("28 3/8 x 23 1/2", banded="front", blank="28 3/8 x 23 15/32"),
        # Inside from 4 3/4 to the rails' underside, 33 3/4: 29. Less the drawer's 6 and the rail's 3/4 the doors'
        # opening is 22 1/4; the rail lies from 27 to 27 3/4, and the 1/8 gap is about its middle, 27 3/8.
        # Doors: from the bottom's underside, 4, to 27 5/16 = 23 5/16.
        # Wide: half a gap is left at each side of the box for its neighbour's front, so 29 7/8 in all; a pair is
        # (29 7/8 - 1/8) / 2 = 14 7/8 (trade practice). Tape all round: 1/16 off either way.
        "door bay 1 no 1 left": cut("23 5/16 x 14 7/8", banded="all round", blank="23 1/4 x 14 13/16"),
        "door bay 1 no 1 right": cut("23 5/16 x 14 7/8", banded="all round", blank="23 1/4 x 14 13/16"),
        # From 27 7/16 to 1/8 under the top edge, 34 3/8 = 6 15/16; grain of a drawer front lies, so length is 29 7/8.
        "drawer front bay 1 no 2": cut("29 7/8 x 6 15/16", banded="all round", blank="29 13/16 x 6 7/8"),
        # Slides: 23 3/4 less 1/8 of air = 23 5/8, and the longest even length is 22 (trade practice).
        # High: 6 less 3/4 above and 5/8 below = 4 5/8.
        "drawer side bay 1 no 2 left": cut("22 x 4 5/8", "half"),
        "drawer side bay 1 no 2 right": cut("22 x 4 5/8", "half"),
        # Outside 28 1/2 - 1 = 27 1/2 (side mount, trade practice); less two sides of 1/2, and 1/4 into a rabbet at
        # each end: 27 1/2 - 1 + 1/2 = 27.
        "drawer end bay 1 no 2 front": cut("27 x 4 5/8", "half"),
        "drawer end bay 1 no 2 rear": cut("27 x 4 5/8", "half"),
        # Inside 26 1/2 x 21; 1/4 into a groove on every side, less 1/32 of air: + 1/2 - 1/16.
        "drawer bottom bay 1 no 2": cut("26 15/16 x 21 7/16", "thin"),
    }


def test_base_cabinet_as_a_list_for_the_shop() -> None:
    assert shop_list(base_cabinet()) == {
        ("ply", "34 1/2 x 23 3/4"): 2,
        ("ply", "29 x 23 3/4"): 1,
        # Three rails and the kick.
        ("ply", "28 1/2 x 4"): 4,
        ("ply", "28 3/8 x 23 1/2"): 1,
        ("ply", "23 5/16 x 14 7/8"): 2,
        ("ply", "29 7/8 x 6 15/16"): 1,
        ("thin", "30 1/2 x 30"): 1,
        ("thin", "26 15/16 x 21 7/16"): 1,
        ("half", "22 x 4 5/8"): 2,
        ("half", "27 x 4 5/8"): 2,
    }


def test_base_cabinet_what_is_cut_into_its_sides() -> None:
    for hand, face in (("left", "right"), ("right", "left")):
        assert machining(base_parts()[f"side {hand}"]) == {
            # The bottom's underside is at the kick's 4 (definition); as wide as the bottom is thick, a third deep, and
            # as long as the bottom is deep. In the face that looks inside.
            taken("dado", "4 x 0", "3/4 x 23 3/4", "1/4", face),
            taken("notch", "0 x 0", "4 x 3"),
        }


def test_base_cabinet_pins() -> None:
    # The inside begins at 4 3/4, and so does the doors' opening: first hole 4 above, 8 3/4 = 222.25 mm. It is 22 1/4
    # high; within 4 from either end lie 14 1/4 = 361.95 mm: 11 pitches of 32 mm, 12 holes. Rows 37 mm from the front
    # edge and, the side being 23 3/4 = 603.25 mm wide, at 566.25 (32 mm system, trade practice).
    for hand, face in (("left", "right"), ("right", "left")):
        rows = {row for row in holes(base_parts()[f"side {hand}"]) if row.count > 2}
        assert rows == {pins("8 3/4", "37 mm", face, 12), pins("8 3/4", "566.25 mm", face, 12)}


def test_base_cabinet_hinges_miss_its_pins() -> None:
    found = base_parts()
    # Lower hinge: wanted 4 in up the door, at 8 in = 203.2 mm. The nearest two pins are the first two, 222.25 and
    # 254.25 mm, middle 238.25: 35.05 away, more than 32, so they are not shared. Holes at 203.2 -+ 16 = 187.2 and
    # 219.2; the upper one would break into the pin's at 222.25, so both move.
    # Upper: wanted at 27 5/16 - 4 = 23 5/16 = 592.1375. The last two pins are 222.25 + 10 and 11 x 32: 542.25 and
    # 574.25, middle 558.25, 33.8875 away. 592.1375 - 16 = 576.1375 breaks into 574.25: moved as well.
    # Cup: centre 4 + 17.5 = 21.5 from the hinged edge (trade practice); the right door's edge is at 14 7/8 =
    # 377.825 mm, so 356.325 across. The door begins at 4 in = 101.6.
    centres = [lengths("222.25 mm")[0] + n * 32 for n in range(12)]
    for hand, face, across in (("left", "right", "21.5 mm"), ("right", "left", "356.325 mm")):
        plates = sorted((row for row in holes(found[f"side {hand}"]) if row.count == 2), key=lambda row: row.at)
        assert len(plates) == 2
        for one, wanted in zip(plates, ("203.2 mm", "592.1375 mm"), strict=True):
            up = one.at[0]
            assert one == plate(f"{up} mm", "37 mm", face)
            # Moved by a little more than a pitch at most, to two holes of pins; or with 2 mm of wood between holes.
            assert abs(up + 16 - lengths(wanted)[0]) <= 40
            assert all(hole == pin or abs(hole - pin) >= 5 + 2 for hole in (up, up + 32) for pin in centres)
        # A cup before the middle of each plate.
        ups = [one.at[0] + 16 - lengths("4")[0] for one in plates]
        assert holes(found[f"door bay 1 no 1 {hand}"]) == {cup(f"{up} mm", across) for up in ups}


def test_base_cabinet_what_is_cut_into_its_drawer() -> None:
    for hand, face in (("left", "right"), ("right", "left")):
        assert machining(base_parts()[f"drawer side bay 1 no 2 {hand}"]) == {
            # As wide as an end is thick, half of the side deep; the rear one begins at 22 - 1/2.
            taken("rabbet", "0 x 0", "1/2 x 4 5/8", "1/4", face),
            taken("rabbet", "21 1/2 x 0", "1/2 x 4 5/8", "1/4", face),
            # 1/2 up from the lower edge, as wide as the bottom is thick.
            taken("groove", "0 x 1/2", "22 x 1/4", "1/4", face),
        }
    for end, face in (("front", "back"), ("rear", "front")):
        assert machining(base_parts()[f"drawer end bay 1 no 2 {end}"]) == {
            taken("groove", "0 x 1/2", "27 x 1/4", "1/4", face)
        }


def test_base_cabinet_where_it_all_stands() -> None:
    found = base_parts()
    assert low_corner(found["rail bay 1 no 1"]) == lengths("3/4 x 0 x 27")
    # Overlay fronts lie before the front edges: y counts from there back, and they begin at -3/4.
    assert low_corner(found["door bay 1 no 1 left"]) == lengths("1/16 x -3/4 x 4")
    # 1/16, a door of 14 7/8, 1/8.
    assert low_corner(found["door bay 1 no 1 right"]) == lengths("15 1/16 x -3/4 x 4")
    assert low_corner(found["drawer front bay 1 no 2"]) == lengths("1/16 x -3/4 x 27 7/16")
    # The side, and 1/2 for the slide; the opening's 27 3/4 and 5/8.
    assert low_corner(found["drawer side bay 1 no 2 left"]) == lengths("1 1/4 x 0 x 28 3/8")


# --- Drawer bank: 18 wide, 34 1/2 high, 24 deep; four drawers on undermounts, sides of 1/2, no rails between


@cache
def drawer_bank() -> Design:
    bay = Bay(openings=tuple(Opening(high, "drawer") for high in ("10", "7", "7", "share")))
    rules = {"top": "rails", "slides": "undermount", **BANDED}
    return design(carcass("A", "18", "34 1/2", "24", bay, **rules), **GOODS_USED)


@cache
def bank_parts() -> dict[str, Part]:
    return placed(drawer_bank())


def test_drawer_bank_every_part() -> None:
    by_hand = {
        "side left": cut("34 1/2 x 23 3/4", banded="front", blank="34 1/2 x 23 23/32"),
        "side right": cut("34 1/2 x 23 3/4", banded="front", blank="34 1/2 x 23 23/32"),
        # 18 less two sides = 16 1/2; all butted.
        "bottom": cut("16 1/2 x 23 3/4", banded="front", blank="16 1/2 x 23 23/32"),
        "rail front": cut("16 1/2 x 4", banded="front", blank="16 1/2 x 3 31/32"),
        "rail rear": cut("16 1/2 x 4"),
        "kick": cut("16 1/2 x 4"),
        # 34 1/2 - 4.
        "back": cut("30 1/2 x 18", "thin"),
        # Inside 29 high, from 4 3/4: the top drawer's share is 29 - 10 - 7 - 7 = 5. Bounds at 14 3/4, 21 3/4, 28 3/4,
        # the 1/8 gaps about them. All 18 - 1/8 = 17 7/8 wide.
        # From the bottom's underside, 4, to 14 11/16.
        "drawer front bay 1 no 1": cut("17 7/8 x 10 11/16", banded="all round", blank="17 13/16 x 10 5/8"),
        # From 14 13/16 to 21 11/16, and from 21 13/16 to 28 11/16.
        "drawer front bay 1 no 2": cut("17 7/8 x 6 7/8", banded="all round", blank="17 13/16 x 6 13/16"),
        "drawer front bay 1 no 3": cut("17 7/8 x 6 7/8", banded="all round", blank="17 13/16 x 6 13/16"),
        # From 28 13/16 to 34 3/8. The sum: 10 11/16 + 2 x 6 7/8 + 5 9/16 + 3/8 of gaps + 1/8 of reveal = 30 1/2.
        "drawer front bay 1 no 4": cut("17 7/8 x 5 9/16", banded="all round", blank="17 13/16 x 5 1/2"),
    }
    # Each opening less 3/4 above and 5/8 below: 10, 7, 7, 5 less 1 3/8. Slides: 23 3/4 less 1/8 of air = 23 5/8, and
    # the longest usual undermount is 21 (from memory).
    for n, high in enumerate(("8 5/8", "5 5/8", "5 5/8", "3 5/8"), start=1):
        for hand in ("left", "right"):
            by_hand[f"drawer side bay 1 no {n} {hand}"] = cut(f"21 x {high}", "half")
        # Inside 16 1/2 - 1 5/8 = 14 7/8 (undermount, trade practice); ends butted between the sides.
        for end in ("front", "rear"):
            by_hand[f"drawer end bay 1 no {n} {end}"] = cut(f"14 7/8 x {high}", "half")
        # 14 7/8 + 2 x 1/4 - 2 x 1/32, and 21 less two ends of 1/2 = 20, + 2 x 1/4 - 2 x 1/32.
        by_hand[f"drawer bottom bay 1 no {n}"] = cut("15 5/16 x 20 7/16", "thin")
    assert cut_list(bank_parts()) == by_hand


def test_drawer_bank_as_a_list_for_the_shop() -> None:
    found = shop_list(drawer_bank())
    drawers = {size: n for (material, size), n in found.items() if material == "half"}
    # Two drawers are alike: four sides and four ends of 5 5/8.
    assert drawers == {
        "21 x 8 5/8": 2,
        "21 x 5 5/8": 4,
        "21 x 3 5/8": 2,
        "14 7/8 x 8 5/8": 2,
        "14 7/8 x 5 5/8": 4,
        "14 7/8 x 3 5/8": 2,
    }
    assert found["thin", "15 5/16 x 20 7/16"] == 4
    assert found["ply", "17 7/8 x 6 7/8"] == 2
    # 6 of the box without its back, that, 4 fronts, 5 pieces a drawer.
    assert sum(found.values()) == 6 + 1 + 4 + 4 * 5


def test_drawer_bank_hangs_in_the_middle_of_its_openings() -> None:
    # Outside 14 7/8 + 1 = 15 7/8, the opening less 5/8 (trade practice for 1/2 sides): 5/16 beside it, 1 1/16 from the
    # box's left. Each 5/8 above what its opening begins at: 4 3/4, 14 3/4, 21 3/4, 28 3/4.
    for n, up in enumerate(("5 3/8", "15 3/8", "22 3/8", "29 3/8"), start=1):
        assert low_corner(bank_parts()[f"drawer side bay 1 no {n} left"]) == lengths(f"1 1/16 x 0 x {up}")


def test_drawer_bank_bottoms_leave_room_for_the_slides() -> None:
    # Recessed 1/2 (undermount, from memory); butted ends leave a groove from end to end and nothing else.
    for n, high in enumerate(("8 5/8", "5 5/8", "5 5/8", "3 5/8"), start=1):
        side = bank_parts()[f"drawer side bay 1 no {n} left"]
        assert side.width == lengths(high)[0]
        assert machining(side) == {taken("groove", "0 x 1/2", "21 x 1/4", "1/4", "right")}


# --- Wall cabinet: 30 wide, 30 high, 12 deep; top and bottom through, back let in, nailer, a pair of inset doors


@cache
def wall_cabinet(shelves: int = 0) -> Design:
    """With a fixed shelf 14 in up, or with adjustable ones."""
    bay = Bay("share", () if shelves else ("14",), shelves, "pair of doors")
    rules = {
        "base": "none",
        "runs_through": "top and bottom",
        "bottom_joint": "dado",
        "top_joint": "dado",
        "shelf_joint": "dado",
        "back": "let in",
        "rabbet_depth": "3/8",
        "nailers": "top",
        "fronts": "inset",
        "front_gap": "3/32",
        **BANDED,
    }
    return design(carcass("A", "30", "30", "12", bay, **rules), **GOODS_USED)


def test_wall_cabinet_every_part() -> None:
    assert cut_list(placed(wall_cabinet())) == {
        # Over all wide; a let-in back leaves the full depth (definition).
        "top": cut("30 x 12", banded="front", blank="30 x 11 31/32"),
        "bottom": cut("30 x 12", banded="front", blank="30 x 11 31/32"),
        # 30 less top and bottom = 28 1/2, and 1/4 into each of them.
        "side left": cut("29 x 12", banded="front", blank="29 x 11 31/32"),
        "side right": cut("29 x 12", banded="front", blank="29 x 11 31/32"),
        # Clear inside 28 1/2 x 28 1/2; 3/8 into a rabbet on every side, less 1/32 of air: + 3/4 - 1/16.
        "back": cut("29 3/16 x 29 3/16", "thin"),
        # Stands before the back, between the sides, butted.
        "nailer top": cut("28 1/2 x 4"),
        # 28 1/2 and 1/4 into each side; from 12 less the back's 1/4, the door's 3/4, and the gap of 3/32 that an inset
        # door has round it, behind it as well: 10 29/32. Blank: less 1/32.
        "shelf bay 1 no 1": cut("29 x 10 29/32", banded="front", blank="29 x 10 7/8"),
        # 3/32 all round (trade practice). High: 28 1/2 - 3/16 = 28 5/16. Wide: three gaps, 28 1/2 - 9/32 = 28 7/32,
        # halved 14 7/64. Blank: less 1/16 either way.
        "door bay 1 left": cut("28 5/16 x 14 7/64", banded="all round", blank="28 1/4 x 14 3/64"),
        "door bay 1 right": cut("28 5/16 x 14 7/64", banded="all round", blank="28 1/4 x 14 3/64"),
    }


def test_wall_cabinet_what_is_cut_into_top_bottom_and_sides() -> None:
    found = placed(wall_cabinet())
    for place, face in (("bottom", "top"), ("top", "bottom")):
        assert machining(found[place]) == {
            # At the end of a board a dado is a rabbet: as wide as the side is thick, over the full depth.
            taken("rabbet", "0 x 0", "3/4 x 12", "1/4", face),
            taken("rabbet", "29 1/4 x 0", "3/4 x 12", "1/4", face),
            # For the back: 28 1/2 and 3/8 at each end = 29 1/4 long, so 3/8 from either end; as wide as it is thick.
            taken("rabbet", "3/8 x 11 3/4", "29 1/4 x 1/4", "3/8", face),
        }
    for hand, face in (("left", "right"), ("right", "left")):
        assert machining(found[f"side {hand}"]) == {
            taken("rabbet", "0 x 11 3/4", "29 x 1/4", "3/8", face),
            # The bottom's top face is at 3/4, the side's lower end 1/4 within it, at 1/2: the shelf, 14 above that
            # face, is 14 1/4 up the side. From the shelf's front, 3/4 + 3/32 back, to the back.
            taken("dado", "14 1/4 x 27/32", "3/4 x 10 29/32", "1/4", face),
        }


def test_wall_cabinet_hinges() -> None:
    found = placed(wall_cabinet())
    # Two for a door of 28 5/16 (chart, trade practice), the cups 4 from its ends: at 4 and 24 5/16, 21.5 mm from the
    # hinged edge. The right door is 14 7/64 = 358.378125 mm wide.
    for hand, across in (("left", "21.5 mm"), ("right", "336.878125 mm")):
        assert holes(found[f"door bay 1 {hand}"]) == {cup("4", across), cup("24 5/16", across)}
    # The door begins at 3/4 + 3/32 = 27/32, the side at 1/2: the cups are 11/32 higher on the side, at 4 11/32 =
    # 110.33125 mm and 24 21/32 = 626.26875. Plates 16 mm below and above, 37 + the door's 19.05 = 56.05 mm from the
    # front edge (32 mm system, inset, trade practice). The nailer, 25 1/4 to 29 1/4 up, is as high as the upper plate,
    # but at the back: from 11 in = 279.4 mm on, and a plate is long over by then.
    for hand, face in (("left", "right"), ("right", "left")):
        assert holes(found[f"side {hand}"]) == {plate(f"{up} mm", "56.05 mm", face) for up in ("94.33125", "610.26875")}


def test_wall_cabinet_stands_in_its_rabbets() -> None:
    found = placed(wall_cabinet())
    # 12 less the back's 1/4 and the nailer's 3/4; under the top, 30 - 3/4 - 4.
    assert low_corner(found["nailer top"]) == lengths("3/4 x 11 x 25 1/4")
    # 3/4 of side less 3/8 of rabbet, and 1/32 of air.
    assert low_corner(found["back"]) == lengths("13/32 x 11 3/4 x 13/32")
    # The side and a gap; flush with the front edges.
    assert low_corner(found["door bay 1 left"]) == lengths("27/32 x 0 x 27/32")


def test_wall_cabinet_with_adjustable_shelves() -> None:
    found = placed(wall_cabinet(2))
    for n in (1, 2):
        # 28 1/2 less 1/16 at each end; the fixed one's 10 29/32 less 1/4 at the front.
        shelf = cut("28 3/8 x 10 21/32", banded="front", blank="28 3/8 x 10 5/8")
        assert cut_list(found)[f"loose shelf bay 1 no {n}"] == shelf
    # Front row: 37 mm behind the door's back, 37 + 19.05 = 56.05. Rear: 37 before the back's face, 11 3/4 = 298.45 mm.
    # From 4 above the bottom's top face, 4 1/4 = 107.95 mm up the side, to 4 under the nailer: 28 1/2 - 4 - 8 = 16 1/2
    # = 419.1 mm, 13 pitches, 14 holes.
    # Lower plate: wanted at 110.33125 up the side; the first two pins, 107.95 and 139.95, have their middle at 123.95,
    # 13.61875 away: shared, and bored deeper. Upper: wanted at 626.26875, and the highest pin is at 107.95 + 13 x 32 =
    # 523.95: it stays where it is wanted.
    for hand, face in (("left", "right"), ("right", "left")):
        assert holes(found[f"side {hand}"]) == {
            pins("4 1/4", "56.05 mm", face, 14),
            pins("4 1/4", "261.45 mm", face, 14),
            plate("4 1/4", "56.05 mm", face),
            plate("610.26875 mm", "56.05 mm", face),
        }
    # The lower cup follows its plate: 123.95 less the 11/32 in = 8.73125 mm that the door begins higher.
    assert holes(found["door bay 1 left"]) == {cup("115.21875 mm", "21.5 mm"), cup("24 5/16", "21.5 mm")}
