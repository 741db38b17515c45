"""Plates of hinges beside shelves and pins: who makes room, what is left, and what is said where nothing is.

That a plate wants 25 mm from its middle to a shelf is common practice, no source; 80 mm from a door's end to a hinge is
trade practice.
"""

from __future__ import annotations

import re
from fractions import Fraction as F
from itertools import combinations, pairwise

import pytest
from designs import BANDINGS, carcass, design, parts_of, plan_of

from core.checks import run_checks
from core.construction.part import Part
from core.goods import Material, Stock
from core.project import Bay, Carcass, Design, Opening

SHEET = (Stock("2800", "2070"),)
GOODS = {"board": Material("Board", "18", "18", stock=SHEET), "thin": Material("Thin", "6", "6", stock=SHEET)}
RULES = {"panel": "board", "back_panel": "thin", "back": "let in"}


def metric(*row: Carcass) -> Design:
    return design(*row, unit="mm", materials=GOODS, bandings=BANDINGS, rules=RULES)


def box(width: str, height: str, *bays: Bay, base: str = "none", **rules: str) -> Design:
    return metric(carcass("A", width, height, "300", *bays, base=base, **rules))


def said(of: Design) -> list[str]:
    return [str(one) for one in plan_of(of).problems]


def heights(part: Part, what: str) -> list[F]:
    rows = [row for row in part.holes if row.place.startswith(what)]
    return [part.box.low[2] + x for row in rows for x, _ in row.centres()]


def lie_on_pins(found: dict[str, Part], bay: int = 1) -> bool:
    """Whether the adjustable shelves of a bay find holes, level in both sides, beside which no plate is."""
    sides = [found["A side left"], found["A side right"]]
    shelves = [part for place, part in found.items() if place.startswith(f"A loose shelf bay {bay}")]
    plates = [low + 16 for side in sides for low in heights(side, "plate")[::2]]
    level = set.intersection(*(set(heights(side, "shelf pins, front row")) for side in sides))
    # A shelf 18 thick lies on pins 5 thick.
    seats = [up + F(5, 2) for up in level]
    free = sorted(up for up in seats if all(one <= up - 25 or one >= up + 18 + 25 for one in plates))
    ways = combinations(free, len(shelves))
    return any(all(above - below >= 18 for below, above in pairwise(way)) for way in ways)


@pytest.mark.parametrize("height", range(600, 1000, 40))
@pytest.mark.parametrize("kick_height", ["80", "100"])
def test_plates_leave_the_pins_of_a_low_opening(height: int, kick_height: str) -> None:
    bay = Bay(fixed_shelves=("even", "even"), adjustable_shelves=1, front="pair of doors")
    assert lie_on_pins(parts_of(box("400", str(height), bay, base="kick", kick_height=kick_height)))


LOW = Opening("200", adjustable_shelves=1, above="shelf")
FRONTED = Opening("280", adjustable_shelves=1, front="door", above="rail")


@pytest.mark.parametrize(
    "bay",
    [
        # Behind one door a low opening beside each of its hinges; two doors, one over the other.
        Bay(openings=(LOW, Opening(), LOW), front="door"),
        Bay(openings=(FRONTED, FRONTED, Opening())),
    ],
)
def test_plates_leave_the_pins_of_every_opening(bay: Bay) -> None:
    found = parts_of(box("500", "900", bay))
    sides = [found["A side left"], found["A side right"]]
    plates = [low + 16 for side in sides for low in heights(side, "plate")[::2]]
    shelves = [part for part in found.values() if part.role == "loose shelf"]
    assert len(shelves) == 2 and plates
    for shelf in shelves:
        seats = [up + F(5, 2) for up in heights(sides[0], "shelf pins, front")]
        own = [up for up in seats if abs(up - shelf.box.low[2]) < 150]
        assert any(all(one <= up - 25 or one >= up + 18 + 25 for one in plates) for up in own)


@pytest.mark.parametrize("height", ["250", "256", "260", "266", "300"])
def test_a_low_door_makes_room_for_a_shelf(height: str) -> None:
    assert lie_on_pins(parts_of(box("500", height, Bay(adjustable_shelves=1, front="door"))))


def test_a_shelf_is_drawn_at_a_hole_beside_which_no_plate_is() -> None:
    # Evenly it stands at 18 + (1214 - 18) / 2 = 616; pins are at 114 + 32 n, so its top is on that at 594: 596.5.
    found = parts_of(box("500", "1250", Bay(adjustable_shelves=1)))
    assert found["A loose shelf bay 1 no 1"].box.low[2] == F("596.5")
    # A door has a hinge in the middle, with its plate in the holes of 594 and 626: it reaches from 585 to 635.
    found = parts_of(box("500", "1250", Bay(adjustable_shelves=1, front="door")))
    assert heights(found["A side left"], "plate of hinge 2") == [594, 626]
    # On the pin below, 562, the shelf ends at 564.5 + 18.
    assert found["A loose shelf bay 1 no 1"].box.low[2] == F("564.5")


@pytest.mark.parametrize(
    ("height", "bay", "told"),
    [
        # Beside the one pin a shelf 18 thick, and 25 over and under it for a plate: at 80 from its ends or more, the
        # hinges of a door 237 high have 77 between them.
        ("240", Bay(adjustable_shelves=1, front="door"), "leave no holes for the pins of the adjustable shelf beside"),
        ("236", Bay(adjustable_shelves=1, front="pair of doors"), "hinges 100 mm from the ends of the door, left do"),
        ("200", Bay(fixed_shelves=("even",), front="door"), "hinges 100 mm from the ends of the door do not fit"),
        # Shelves 48 apart, where a plate wants 50; 66 above the bottom.
        ("700", Bay(fixed_shelves=tuple(str(n * 66) for n in range(1, 10)), front="door"), "hinge 1 of the door would"),
        # The second door is the lower one: one distance for both.
        (
            "400",
            Bay(openings=(Opening("200", front="door", above="rail"), Opening(front="door"))),
            "hinges 100 mm from the ends of the door 1 do not fit",
        ),
    ],
)
def test_the_distance_from_the_end_that_is_named_can_be_typed(height: str, bay: Bay, told: str) -> None:
    (sentence,) = said(box("500", height, bay))
    assert told in sentence
    (number,) = re.findall(r"make hinge from end ([\d.]+) mm", sentence)
    assert said(box("500", height, bay, hinge_from_end=number)) == []


def test_where_no_distance_from_the_end_does_something_else_is_named() -> None:
    def told(height: str, *openings: Opening) -> str:
        (sentence,) = said(box("500", height, Bay(openings=openings, front="door")))
        return sentence.rpartition("; ")[2]

    shelf = Opening("100", adjustable_shelves=1, above="shelf")
    assert told("290", shelf, Opening(adjustable_shelves=1)) == "make the opening higher, or take a shelf away"
    # Shelves 22 apart all the way up.
    tight = [Opening("22", above="shelf")] * 15
    assert told("700", *tight, Opening()) == "change the height of the shelf, or make the door higher"


@pytest.mark.parametrize("from_end", ["100", "99999999"])
def test_what_is_absurd_is_soon_told(from_end: str) -> None:
    # Of 50 holes for pins sets of 45 are too many to be looked at, and so are all distances up to 100 km.
    told = said(box("500", "1850", Bay(adjustable_shelves=45, front="pair of doors"), hinge_from_end=from_end))
    assert len(told) == 1


@pytest.mark.parametrize("low_at_left", [True, False])
def test_a_low_door_and_a_high_one_on_a_divider_may_be_either_way_round(low_at_left: bool) -> None:
    low = Opening(front="door", hinged="right" if low_at_left else "left", adjustable_shelves=1)
    drawers = Bay(openings=(Opening(front="drawer"), Opening(front="drawer"), low))
    bays = drawers, Bay(adjustable_shelves=3, front="pair of doors")
    box = carcass("A", "800 mm", "720 mm", "580 mm", *(bays if low_at_left else bays[::-1]), base="none")
    sizes = {"board": "18 mm", "thin": "6 mm"}
    goods = {key: Material(key, size, size, stock=(Stock("2800 mm", "2070 mm"),)) for key, size in sizes.items()}
    rules = {
        **RULES,
        "nailers": "top and bottom",
        "fronts": "half overlay",
        "slides": "undermount",
        "pin_diameter": "1/4",
    }
    assert not said(design(box, materials=goods, rules={**rules, "drawer_panel": "board"}))


def test_a_plate_says_which_of_its_holes_are_those_of_pins() -> None:
    def told(height: str) -> list[str]:
        side = parts_of(box("500", height, Bay(adjustable_shelves=1, front="door")))["A side left"]
        pins, found = heights(side, "shelf pins, front row"), []
        for row in (row for row in side.holes if row.place.startswith("plate")):
            shared = [side.box.low[2] + x in pins for x, _ in row.centres()]
            assert ("of pins" in row.place) is any(shared)
            found.append(row.place.partition("of the door")[2])
        return found

    assert told("250") == ["", ""]
    assert told("260") == ["", " with the lower in a hole of pins"]
    assert told("300") == [" with the upper in a hole of pins", " with the lower in a hole of pins"]


def test_a_hinge_near_the_end_of_a_low_door_is_not_only_to_be_further_from_it() -> None:
    low = box("500", "236", Bay(adjustable_shelves=1, front="door"), hinge_from_end="70")
    (told,) = (one for one in run_checks(plan_of(low).worked) if one.about == "hinges of carcass A")
    assert told.mend == ("hinge from end 80 mm or more", "a higher door where that has no room")
