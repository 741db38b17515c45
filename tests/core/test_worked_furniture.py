"""A bookcase, a bench and a wardrobe, worked out by hand as at the bench: every part, and what is cut into it.

The sums stand beside the numbers. "Definition" is What a size means in DEVELOPERS.md; what names no source is common
practice. Boards have their exact thickness: ply 3/4, thin and hardboard 1/4, board 18 mm, backing 6 mm; the tape on
front edges is 1/32 thick, the edge 1 mm, the lip 2 mm.
"""

from __future__ import annotations

from dataclasses import replace
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
from core.project import Bay, Carcass, Design, Opening, Top

GOODS_USED = {"materials": WORKED_GOODS, "bandings": WORKED_BANDINGS}


# --- Bookcase: 32 wide, 84 high, 12 deep; kick 3 by 2, back let in, a fixed shelf in stopped dadoes, four on pins


@cache
def bookcase() -> Design:
    below = Opening("40", adjustable_shelves=2, above="shelf")
    bay = Bay(openings=(below, Opening(adjustable_shelves=2)))
    rules = {
        "kick_height": "3",
        "kick_depth": "2",
        "back": "let in",
        "rabbet_depth": "3/8",
        "bottom_joint": "dado",
        "top_joint": "dado",
        "shelf_joint": "stopped dado",
        "front_banding": "tape",
    }
    return design(carcass("A", "32", "84", "12", bay, **rules), **GOODS_USED)


@cache
def bookcase_parts() -> dict[str, Part]:
    return placed(bookcase())


def test_bookcase_every_part() -> None:
    # 32 less two sides = 30 1/2, and 1/4 into each side = 31; from the front edges to the back's face (definition),
    # 12 - 1/4 = 11 3/4. Blank: less the tape's 1/32.
    housed = cut("31 x 11 3/4", banded="front", blank="31 x 11 23/32")
    # 30 1/2 less 1/16 at each end; 11 3/4 less 1/4 at the front.
    loose = cut("30 3/8 x 11 1/2", banded="front", blank="30 3/8 x 11 15/32")
    # A let-in back leaves the sides their full depth (definition).
    side = cut("84 x 12", banded="front", blank="84 x 11 31/32")
    assert cut_list(bookcase_parts()) == {
        "side left": side,
        "side right": side,
        "bottom": housed,
        "top": housed,
        "shelf bay 1 no 1": housed,
        **{f"loose shelf bay 1 no {n}": loose for n in (1, 2, 3, 4)},
        # Between the sides, butted.
        "kick": cut("30 1/2 x 3"),
        # From the bottom's underside, 3, to the top edge = 81. 30 1/2 and 3/8 into a rabbet on either side, less 1/32
        # of air at each: 30 1/2 + 3/4 - 1/16 = 31 3/16.
        "back": cut("81 x 31 3/16", "thin"),
    }


def test_bookcase_as_a_list_for_the_shop() -> None:
    assert shop_list(bookcase()) == {
        ("ply", "84 x 12"): 2,
        # Bottom, top and fixed shelf.
        ("ply", "31 x 11 3/4"): 3,
        ("ply", "30 3/8 x 11 1/2"): 4,
        ("ply", "30 1/2 x 3"): 1,
        ("thin", "81 x 31 3/16"): 1,
    }


def test_bookcase_what_is_cut_into_sides_and_shelf() -> None:
    for hand, face in (("left", "right"), ("right", "left")):
        assert machining(bookcase_parts()[f"side {hand}"]) == {
            taken("notch", "0 x 0", "3 x 2"),
            # The bottom's underside is at the kick's 3.
            taken("dado", "3 x 0", "3/4 x 11 3/4", "1/4", face),
            # The bottom's top face is at 3 3/4; the shelf's underside 40 above it. The dado ends 1/2 behind the front.
            taken("dado", "43 3/4 x 1/2", "3/4 x 11 1/4", "1/4", face),
            # At the end of a board a dado is a rabbet: 84 - 3/4.
            taken("rabbet", "83 1/4 x 0", "3/4 x 11 3/4", "1/4", face),
            # For the back, from end to end, as wide as it is thick.
            taken("rabbet", "0 x 11 3/4", "84 x 1/4", "3/8", face),
        }
    # So that the shelf comes flush with the sides, what would lie before the end of the dado is cut off: 1/4 x 1/2.
    assert machining(bookcase_parts()["shelf bay 1 no 1"]) == {
        taken("notch", "0 x 0", "1/4 x 1/2"),
        taken("notch", "30 3/4 x 0", "1/4 x 1/2"),
    }
    assert machining(bookcase_parts()["bottom"]) == machining(bookcase_parts()["top"]) == set()


def test_bookcase_pins() -> None:
    # Rows 37 mm from the front edge, and 37 before the back's face at 11 3/4 = 298.45 mm: 261.45.
    # Lower opening: from 3 3/4, 40 high; first hole 4 up, at 7 3/4 = 196.85 mm; 40 - 8 = 32 = 812.8 mm, 25 pitches, 26
    # holes. Upper: from 44 1/2 to 83 1/4. On one grid with the lower: its floor is 44 1/2 - 3 3/4 = 40 3/4 = 1035.05 mm
    # over that of the inside, 32.35 pitches, so 33 of them, 1056, above 196.85: 1252.85, which is 122.55 above its
    # floor. To 4 under the top, 79 1/4 = 2012.95, it is 760.1: 23 pitches, 24 holes.
    for hand, face in (("left", "right"), ("right", "left")):
        assert holes(bookcase_parts()[f"side {hand}"]) == {
            pins(up, across, face, count)
            for up, count in (("7 3/4", 26), ("1252.85 mm", 24))
            for across in ("37 mm", "261.45 mm")
        }


# --- Bench: 60 wide, 14 high, 16 deep on a plinth of 3; three open bays, a shelf in one; a seat in two layers


@cache
def bench() -> Design:
    rules = {
        "base": "plinth",
        "kick_height": "3",
        "kick_depth": "2",
        "divider_joint": "dado",
        "shelf_joint": "dado",
        "back_panel": "hardboard",
        "front_banding": "tape",
    }
    seat = Top("W", "Seat", "ply", 2, overhang_front="3/4", overhang_left="1/2", overhang_right="1/2", banding="tape")
    box = carcass("A", "60", "14", "16", Bay("share", ("even",)), Bay(), Bay(), **rules)
    return design(box, tops=(seat,), **GOODS_USED)


@cache
def bench_parts() -> dict[str, Part]:
    return placed(bench())


def test_bench_every_part() -> None:
    # 14 high without the plinth (definition); 16 less the applied back's 1/4. Blank: less the tape's 1/32.
    side = cut("14 x 15 3/4", banded="front", blank="14 x 15 23/32")
    # 60 less two sides, butted.
    lying = cut("58 1/2 x 15 3/4", banded="front", blank="58 1/2 x 15 23/32")
    # 14 less bottom and top = 12 1/2, and 1/4 into each.
    divider = cut("13 x 15 3/4", banded="front", blank="13 x 15 23/32")
    # The box's 60 and 1/2 at each end; its 16 and 3/4 at the front.
    seat = cut("61 x 16 3/4", banded="front", blank="61 x 16 23/32")
    # As wide as the box.
    plinth = cut("60 x 3")
    # 16, set back 2 at the front, less front and rear: 16 - 2 - 1 1/2.
    plinth_end = cut("12 1/2 x 3")
    assert cut_list(bench_parts()) == {
        "side left": side,
        "side right": side,
        "bottom": lying,
        "top": lying,
        "divider 1": divider,
        "divider 2": divider,
        # Bays: 58 1/2 less two dividers = 57, by three = 19; and 1/4 into a dado at each end.
        "shelf bay 1 no 1": cut("19 1/2 x 15 3/4", banded="front", blank="19 1/2 x 15 23/32"),
        # Over all: 60 wide, 14 high. Without grain the longer side is the length (definition).
        "back": cut("60 x 14", "hardboard"),
        "plinth front": plinth,
        "plinth rear": plinth,
        "plinth end left": plinth_end,
        "plinth end right": plinth_end,
        # At most 24 apart by the rule book. One crosspiece in the 58 1/2 between the ends would leave 28 7/8; two leave
        # (58 1/2 - 1 1/2) / 3 = 19.
        "plinth end cross 1": plinth_end,
        "plinth end cross 2": plinth_end,
        "W worktop lower": seat,
        "W worktop upper": seat,
    }


def test_bench_as_a_list_for_the_shop() -> None:
    assert shop_list(bench()) == {
        ("ply", "14 x 15 3/4"): 2,
        ("ply", "58 1/2 x 15 3/4"): 2,
        ("ply", "13 x 15 3/4"): 2,
        ("ply", "19 1/2 x 15 3/4"): 1,
        ("ply", "60 x 3"): 2,
        # Two ends, two crosspieces.
        ("ply", "12 1/2 x 3"): 4,
        ("ply", "61 x 16 3/4"): 2,
        ("hardboard", "60 x 14"): 1,
    }


def test_bench_dadoes() -> None:
    found = bench_parts()
    # From the bottom's left end: 19 to the first divider, 19 + 3/4 + 19 to the second.
    for place, face in (("bottom", "top"), ("top", "bottom")):
        assert machining(found[place]) == {
            taken("dado", f"{at} x 0", "3/4 x 15 3/4", "1/4", face) for at in ("19", "38 3/4")
        }
    # The shelf in the middle of 12 1/2: (12 1/2 - 3/4) / 2 = 5 7/8 above the bottom. The side begins 3/4 below that,
    # the divider 1/4.
    assert machining(found["side left"]) == {taken("dado", "6 5/8 x 0", "3/4 x 15 3/4", "1/4", "right")}
    assert machining(found["divider 1"]) == {taken("dado", "6 1/8 x 0", "3/4 x 15 3/4", "1/4", "left")}
    assert machining(found["side right"]) == machining(found["divider 2"]) == set()


def test_bench_where_it_stands() -> None:
    found = bench_parts()
    assert low_corner(found["plinth front"]) == lengths("0 x 2 x 0")
    # In the rear plane: 16 - 3/4.
    assert low_corner(found["plinth rear"]) == lengths("0 x 15 1/4 x 0")
    # 3/4 and 19; once more 3/4 and 19. Behind the front, 2 + 3/4.
    assert low_corner(found["plinth end cross 1"]) == lengths("19 3/4 x 2 3/4 x 0")
    assert low_corner(found["plinth end cross 2"]) == lengths("39 1/2 x 2 3/4 x 0")
    # On the plinth's 3; the divider let 1/4 into the bottom.
    assert low_corner(found["side left"]) == lengths("0 x 0 x 3")
    assert low_corner(found["divider 1"]) == lengths("19 3/4 x 0 x 3 1/2")
    # 3 + 14, and a layer higher.
    assert low_corner(found["W worktop lower"]) == lengths("-1/2 x -3/4 x 17")
    assert low_corner(found["W worktop upper"]) == lengths("-1/2 x -3/4 x 17 3/4")


# --- Wardrobe in millimetres: 1200 wide, 2100 high, 600 deep on a plinth of 80; divider, grooved back, half overlay


@cache
def wardrobe() -> Design:
    """Left a hat shelf over the space to hang in, right a fixed shelf and three on pins; a tall door before each."""
    rules = {
        "base": "plinth",
        "kick_height": "80",
        "kick_depth": "40",
        "bottom_joint": "dado",
        "top_joint": "dado",
        "divider_joint": "dado",
        "back": "grooved",
        "fronts": "half overlay",
        "front_banding": "edge",
        "door_banding": "lip",
        "panel": "board",
        "back_panel": "backing",
    }
    hanging = Bay("share", ("1700",), 0, "door", "left")
    shelves = Opening("1200", adjustable_shelves=2, above="shelf")
    right = Bay(front="door", hinged="right", openings=(shelves, Opening(adjustable_shelves=1)))
    box = Carcass("A", "Wardrobe", "2100", "600", "1200", rules=rules, bays=(hanging, right))
    return replace(design(box, rules={}, **GOODS_USED), unit="mm")


@cache
def wardrobe_parts() -> dict[str, Part]:
    return placed(wardrobe())


def test_wardrobe_every_part() -> None:
    # 2100 without the plinth; a grooved back leaves the full depth (definition). Blank: less 1 mm of edge.
    side = cut("2100 x 600 mm", "board", "front", "2100 x 599 mm")
    # 1200 less two sides = 1164, and 6 into each = 1176. The back stands 12 before the rear edges and is 6 thick;
    # bottom and top stop at its face (definition): 600 - 18 = 582.
    lying = cut("1176 x 582 mm", "board", "front", "1176 x 581 mm")
    # Bays: 1164 less the divider's 18, halved = 573. Shelves butted; without grain their longer side, the depth, is the
    # length, so the front is an end.
    shelf = cut("582 x 573 mm", "board", "front", "581 x 573 mm")
    # 573 less 1.5 at each end; 582 less 5 at the front.
    loose = cut("577 x 570 mm", "board", "front", "576 x 570 mm")
    plinth = cut("1200 x 80 mm", "board")
    # 600 - 40 - 2 x 18.
    plinth_end = cut("524 x 80 mm", "board")
    by_hand = {
        "side left": side,
        "side right": side,
        "bottom": lying,
        "top": lying,
        # 2100 less bottom and top = 2064, and 6 into each.
        "divider 1": cut("2076 x 582 mm", "board", "front", "2076 x 581 mm"),
        "shelf bay 1 no 1": shelf,
        "shelf bay 2 no 1": shelf,
        **{f"loose shelf bay 2 no {n}": loose for n in (1, 2, 3)},
        # From the bottom's underside to the top edge; 1164 and 6 into each groove, less 0.5 of air at each edge.
        "back": cut("2100 x 1175 mm", "backing"),
        "plinth front": plinth,
        "plinth rear": plinth,
        "plinth end left": plinth_end,
        "plinth end right": plinth_end,
        # At most 600 apart by the rule book: one crosspiece in 1164 leaves (1164 - 18) / 2 = 573.
        "plinth end cross 1": plinth_end,
        # From the bottom's underside to 3 under the top edge, as any overlay (the rule book's reveals): 2100 - 3 - 0.
        # It is half at the uprights alone: half of an edge of 18, less half a gap of 3, is 7.5, so 573 + 15 = 588.
        # Lip of 2 mm on all four edges, so 4 off either way (trade practice: 2 mm on both sides is 4 mm).
        **{f"door bay {n}": cut("2097 x 588 mm", "board", "all round", "2093 x 584 mm") for n in (1, 2)},
    }
    assert cut_list(wardrobe_parts()) == by_hand


def test_wardrobe_as_a_list_for_the_shop() -> None:
    assert shop_list(wardrobe()) == {
        ("board", "2100 x 600"): 2,
        ("board", "1176 x 582"): 2,
        ("board", "2076 x 582"): 1,
        ("board", "582 x 573"): 2,
        ("board", "577 x 570"): 3,
        ("board", "1200 x 80"): 2,
        ("board", "524 x 80"): 3,
        ("board", "2097 x 588"): 2,
        ("backing", "2100 x 1175"): 1,
    }


def test_wardrobe_joints_and_groove() -> None:
    found = wardrobe_parts()
    for hand, face in (("left", "right"), ("right", "left")):
        assert machining(found[f"side {hand}"]) == {
            # At the ends of the side a dado is a rabbet; the third of 18 is 6.
            taken("rabbet", "0 x 0 mm", "18 x 582 mm", "6 mm", face),
            taken("rabbet", "2082 x 0 mm", "18 x 582 mm", "6 mm", face),
            # 600 - 12 - 6.
            taken("groove", "0 x 582 mm", "2100 x 6 mm", "6 mm", face),
        }
    # The divider begins 573 from the side's inner face; the ends are 6 within the sides: 579.
    for place, face in (("bottom", "top"), ("top", "bottom")):
        assert machining(found[place]) == {taken("dado", "579 x 0 mm", "18 x 582 mm", "6 mm", face)}
    assert machining(found["divider 1"]) == set()


def test_wardrobe_where_its_doors_hang() -> None:
    # 18 - 7.5 from the left; 591 to the divider, half of its edge, half a gap: 591 + 9 + 1.5. Closed, before the box.
    # The carcass counts from the underside of its sides, 80 over the floor.
    assert low_corner(wardrobe_parts()["door bay 1"]) == lengths("10.5 x -18 x 80 mm")
    assert low_corner(wardrobe_parts()["door bay 2"]) == lengths("601.5 x -18 x 80 mm")


def test_wardrobe_hinges() -> None:
    found = wardrobe_parts()
    # 2097 is higher than 2032 mm, 80 in: five hinges, whatever it weighs (chart, trade practice). Wanted 100 from each
    # end and evenly between, (2097 - 200) / 4 = 474.25 apart: 100, 574.25, 1048.5, 1522.75, 1997. Door and side begin
    # at one height. Plates 16 mm below and above, 37 from the front edge (32 mm system); cups 4 + 17.5 = 21.5 from the
    # hinged edge (trade practice).
    # Left no pins are on the side to share holes with, and the hat shelf, from 18 + 1700 = 1718 to 1736, is in no way.
    ups = ("100", "574.25", "1048.5", "1522.75", "1997")
    assert holes(found["door bay 1"]) == {cup(f"{up} mm", "21.5 mm") for up in ups}
    lower = ("84", "558.25", "1032.5", "1506.75", "1981")
    assert holes(found["side left"]) == {plate(f"{up} mm", "37 mm", "right", "11 mm") for up in lower}
    # Right pins are at 114 + 32 n up to 1106, and at 1362 + 32 n up to 1970 (below); the middles of two next to each
    # other 16 higher. Within 32 of what is wanted: 130 (30 away), 130 + 14 x 32 = 578 (3.75), 130 + 29 x 32 = 1058
    # (9.5), 1378 + 5 x 32 = 1538 (15.25). The last pair's is 1954, 43 from 1997, which stays, 11 mm clear of 1970.
    # 588 - 21.5 = 566.5 across.
    ups = ("130", "578", "1058", "1538", "1997")
    assert holes(found["door bay 2"]) == {cup(f"{up} mm", "566.5 mm") for up in ups}
    lower = ("114", "562", "1042", "1522", "1981")
    plates = {row for row in holes(found["side right"]) if row.count == 2}
    assert plates == {plate(f"{up} mm", "37 mm", "left", "11 mm") for up in lower}


def test_wardrobe_pins_agree_from_upright_to_upright() -> None:
    found = wardrobe_parts()
    # Lower opening: from the bottom's top face, 18 up the side; first hole 96 above it; 1200 - 192 = 1008, 31 pitches,
    # 32 holes. Upper: from 18 + 1200 + 18 = 1236 to 2082. On one grid with the lower: 1218 over the inside's floor is
    # 38.06 pitches, so 39, 1248, above 114: 1362. To 2082 - 96 = 1986 it is 624: 19 pitches, 20 holes.
    # Rows 37 from the front edge, and 37 before the back's face at 582. 8 deep by the rule book.
    rows = {row for row in holes(found["side right"]) if row.count > 2}
    assert rows == {
        pins(f"{up} mm", f"{y} mm", "left", n, "8 mm") for up, n in ((114, 32), (1362, 20)) for y in (37, 545)
    }
    # The divider's lower end is let 6 into the bottom: 12 less. Only on the side of the shelves; no door hangs on it.
    assert holes(found["divider 1"]) == {
        pins(f"{up} mm", f"{y} mm", "right", n, "8 mm") for up, n in ((102, 32), (1350, 20)) for y in (37, 545)
    }
