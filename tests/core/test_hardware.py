"""Hinges, slides, pins and joints against values of the trade, each beside the name of its source.

"Trade practice" is what several makers and shops publish alike, with no one source; "from memory" is the same without
a page at hand. Makers' instructions stand before all of it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from typing import Literal

import pytest
from designs import INCH, carcass, design, inches, parts_of, plan_of

from core.construction.hinges import hinge_count
from core.construction.part import Holes, Part
from core.construction.rule_book import RULE_BOOK
from core.goods import Banding, Material, Stock
from core.lengths import Unit, read_length
from core.project import Bay, Carcass, Design, Opening

F = Fraction
SHEET = (Stock("2800 mm", "2070 mm"),)
BOARDS: Mapping[Unit, tuple[str, str, str]] = {"in": ("3/4", "1/4", "1/2"), "mm": ("18", "6", "12")}
"""Of the box, its back, its drawers."""
DRAWER = Bay(openings=(Opening(front="drawer"),))


def asked(unit: Unit, size: str, *bays: Bay, thick: str = "", density: str = "", **rules: str) -> Design:
    """One carcass, `width x height x depth`, without a base. `thick` is told of the material `own`."""
    panel, back, drawer = BOARDS[unit]
    goods = {
        "panel": Material("Panel", panel, panel, density=density, stock=SHEET),
        "back": Material("Back", back, back, stock=SHEET),
        "drawer": Material("Drawer", drawer, drawer, stock=SHEET),
        "own": Material("Own", thick or panel, thick or panel, stock=SHEET),
    }
    told = {"base": "none", "panel": "panel", "back_panel": "back", "drawer_panel": "drawer", **rules}
    width, height, depth = size.split(" x ")
    box = Carcass("A", "Box", height, depth, width, rules=told, bays=bays)
    return design(box, unit=unit, materials=goods, bandings={"lip": Banding("Lip", "2 mm")}, rules={})


def made(unit: Unit, size: str, *bays: Bay, **told: str) -> dict[str, Part]:
    """Its parts by place, without the carcass's letter."""
    return {place.removeprefix("A "): part for place, part in parts_of(asked(unit, size, *bays, **told)).items()}


def refusal(unit: Unit, size: str, *bays: Bay, **told: str) -> str:
    """Why such a carcass cannot be made."""
    (problem,) = plan_of(asked(unit, size, *bays, **told)).problems
    return str(problem)


def default(rule: str, unit: Unit) -> Fraction:
    """A rule's default, mm."""
    (info,) = (one for one in RULE_BOOK if one.name == rule)
    return read_length(info.default(unit), unit)


def pin_rows(part: Part) -> list[Holes]:
    return [row for row in part.holes if row.place.startswith("shelf pins")]


def cups(door: Part) -> list[Holes]:
    """Each by itself, from the lower end up."""
    rows = [row for row in door.holes if row.diameter == 35]
    return sorted((replace(row, x=x, y=y, count=1) for row in rows for x, y in row.centres()), key=lambda row: row.x)


# --- The 32 mm system: 5 mm holes at 32 mm, front row 37 mm from the edge (trade practice, quoted)


@pytest.mark.parametrize(
    ("unit", "size"),
    [("in", "24 x 30 x 12"), ("in", "31 5/16 x 84 x 23 1/4"), ("mm", "600 x 720 x 560"), ("mm", "450 x 2100 x 321")],
)
def test_pins_follow_the_32_mm_system(unit: Unit, size: str) -> None:
    found = made(unit, size, Bay(adjustable_shelves=2))
    for hand, face in (("left", "right"), ("right", "left")):
        side = found[f"side {hand}"]
        front, rear = sorted(pin_rows(side), key=lambda row: row.y)
        for row in (front, rear):
            assert (row.diameter, row.pitch, row.along) == (5, 32, "length")
            assert side.face_name(row.face) == face
        # Rows equal from both edges are preferred; an applied back leaves the side's edges as they are.
        assert front.y == 37
        assert side.width - rear.y == 37
        # A front and a rear hole lie level, or the shelf rocks.
        assert (front.x, front.count) == (rear.x, rear.count)


def test_holes_of_a_divider_do_not_meet() -> None:
    # Both faces are bored at the same places; what they leave of 3/4 must be wood (common practice, no source).
    divider = made("in", "36 x 30 x 12", Bay(adjustable_shelves=1), Bay(adjustable_shelves=1))["divider 1"]
    depths = {row.face: row.depth for row in divider.holes}
    assert depths.keys() == {"low", "high"}
    assert None not in depths.values()
    assert sum(depth for depth in depths.values() if depth) < divider.thickness


# --- Concealed hinges (trade practice)


@pytest.mark.parametrize(("edge", "centre"), [("3", "20.5"), ("4", "21.5"), ("5", "22.5"), ("6", "23.5")])
@pytest.mark.parametrize("hinged", ["left", "right"])
def test_cup_centre_is_its_edge_distance_and_half_a_cup(
    edge: str, centre: str, hinged: Literal["left", "right"]
) -> None:
    # Edge distance + 17.5: 3 -> 20.5 and 4 -> 21.5 are published (trade practice, quoted), 5 and 6 the same sum.
    bay = Bay(front="door", hinged=hinged)
    door = made("in", "24 x 30 x 12", bay, cup_edge=f"{edge} mm")["door bay 1"]
    for cup in cups(door):
        assert (cup.y if hinged == "left" else door.width - cup.y) == F(centre)
        assert door.face_name(cup.face) == "back"
        # 35 mm wide; 11 to 13 mm deep (trade practice; 10.5 to 12.5 are sold as well).
        assert cup.depth is not None and 11 <= cup.depth <= 13


@pytest.mark.parametrize("unit", ["in", "mm"])
def test_cup_and_hinges_of_the_rule_book(unit: Unit) -> None:
    # Edge of the cup 3 to 6 mm from the edge of the door; cups not below 80 mm from its ends (trade practice, quoted).
    assert 3 <= default("cup_edge", unit) <= 6
    assert default("hinge_from_end", unit) >= 80


def test_a_cup_wants_a_board_that_it_does_not_come_through() -> None:
    # A drilled cup leaves the board less 12.5: 16 mm will do, 12 mm not (trade practice). At least 2 mm stay behind it
    # (common practice, no source): 14.5.
    told = ("mm", "500 x 700 x 300", Bay(front="door"))
    for thick in ("16 mm", "14.5 mm"):
        assert len(cups(made(*told, thick=thick, front_panel="own")["door bay 1"])) == 2
    for thick in ("14.4 mm", "12 mm"):
        assert "leaves too little of the door" in refusal(*told, thick=thick, front_panel="own")


@pytest.mark.parametrize("thick", ["16 mm", "18 mm", "3/4 in", "22 mm"])
@pytest.mark.parametrize(("fronts", "by_thickness"), [("full overlay", 0), ("half overlay", 0), ("inset", 1)])
def test_hinge_plates(thick: str, fronts: str, by_thickness: int) -> None:
    # Two screws 32 mm apart, 37 mm from the edge, and as much more as an inset door is thick (trade practice, quoted).
    found = made("mm", "500 x 700 x 300", Bay(front="door"), thick=thick, front_panel="own", fronts=fronts)
    door, side = found["door bay 1"], found["side left"]
    row = 37 + by_thickness * read_length(thick, "mm")
    up = [door.box.low[2] + cup.x - side.box.low[2] for cup in cups(door)]
    assert len(up) == 2
    assert [(one.x, one.y) for one in side.holes] == [(z - 16, row) for z in up]
    assert {(one.count, one.pitch, one.along, one.diameter) for one in side.holes} == {(2, 32, "length", 5)}
    # None where it is not hinged.
    assert found["side right"].holes == ()


@pytest.mark.parametrize(
    ("unit", "size", "deep"), [("in", "20 x 28 x 12", INCH * 7 / 16), ("mm", "500 x 700 x 300", F(11))]
)
def test_a_plate_has_a_depth_of_its_own(unit: Unit, size: str, deep: Fraction) -> None:
    # 5 mm screws of 11 to 13 mm are sold with plates (from memory); pins go less deep.
    assert default("plate_depth", unit) == deep > default("pin_depth", unit)
    side = made(unit, size, Bay(front="door"))["side left"]
    assert [one.depth for one in side.holes] == [deep, deep]
    side = made(unit, size, Bay(front="door"), plate_depth="13 mm")["side left"]
    assert [one.depth for one in side.holes] == [13, 13]
    assert "come through" in refusal(unit, size, Bay(front="door"), plate_depth="3/4 in")


@pytest.mark.parametrize("fronts", ["full overlay", "half overlay", "inset"])
def test_plates_share_the_holes_of_pins(fronts: str) -> None:
    # What both have a pitch of 32 mm for (trade practice). Lower hinge wanted 100 up the door; the first two pins are
    # 96 and 128 above the inside, which begins 18 up. An overlay door begins at 0, wanted at 100, pins about 130: 30
    # away. An inset one begins at 18 + 3, wanted at 121: 9 away.
    side = made("mm", "500 x 2000 x 400", Bay(front="door", adjustable_shelves=3), fronts=fronts)["side left"]
    front, _ = sorted(pin_rows(side)[:2], key=lambda row: row.y)
    lower = next(row for row in side.holes if row.count == 2)
    assert set(lower.centres()) <= set(front.centres())
    assert (lower.x, lower.y) == (18 + 96, 37 + (18 if fronts == "inset" else 0))


def test_plates_of_a_low_wide_door_share_no_holes_that_would_bring_its_hinges_together() -> None:
    # 372.5 high and 597 wide, hinges wanted 100 from its ends: 172.5 apart, which is too little already (a hinge
    # maker's guide, trade practice). In the holes of pins they would be 142.5 or 96 apart.
    for shelves in (1, 2):
        found = made("mm", "600 x 375.5 x 560", Bay(front="door", adjustable_shelves=shelves), pin_pitch="32")
        low, high = (cup.x for cup in cups(found["door bay 1"]))
        assert high - low >= F("172.5")
    # One 147 wide hangs well on hinges of its own, and not on 142.5.
    found = made("mm", "150 x 375.5 x 560", Bay(front="door", adjustable_shelves=1))
    low, high = (cup.x for cup in cups(found["door bay 1"]))
    assert high - low > found["door bay 1"].width == 147
    # A door that hangs down either way shares them where that costs little: here 4 of about 120 mm, since the first two
    # pins are 114 and 146 up, with 130 between them.
    rules = {"hinge_from_end": "126"}
    side = made("mm", "600 x 375.5 x 560", Bay(front="door", adjustable_shelves=1), **rules)["side left"]
    assert any("in two holes of pins" in row.place for row in side.holes)
    # One that is narrower than they are apart even there shares them.
    side = made("mm", "100 x 375.5 x 560", Bay(front="door", adjustable_shelves=1))["side left"]
    assert any("in two holes of pins" in row.place for row in side.holes)


def test_plates_of_another_setback_or_diameter_have_holes_of_their_own() -> None:
    # Plates for a 35 mm cup stand 37 mm back with 5 mm holes, whatever pins are used (32 mm system, trade practice).
    for rules in ({"pin_setback": "50"}, {"pin_diameter": "7"}, {"pin_setback": "2 in", "pin_diameter": "1/4 in"}):
        side = made("mm", "500 x 2000 x 400", Bay(front="door", adjustable_shelves=3), **rules)["side left"]
        plates = [row for row in side.holes if row.place.startswith("plate")]
        pins = [centre for row in pin_rows(side) for centre in row.centres()]
        assert plates and {(row.y, row.diameter, row.pitch) for row in plates} == {(37, 5, 32)}
        assert all("pins" not in row.place for row in plates)
        wood = (5 + next(iter(pin_rows(side))).diameter) / 2 + 3
        for x, y in (centre for row in plates for centre in row.centres()):
            assert all((x - a) ** 2 + (y - b) ** 2 >= wood**2 for a, b in pins)
    # And where they share, the list says so, so that nobody bores twice.
    side = made("mm", "500 x 2000 x 400", Bay(front="door", adjustable_shelves=3))["side left"]
    assert any(row.place == "plate of hinge 1 of the door in two holes of pins" for row in side.holes)


def test_the_pins_of_a_low_opening_are_on_the_grid_of_the_carcass_where_they_fit() -> None:
    # An opening from 118 to 270 over the bottom is lower than two margins of 96. On the grid, 96 + 32 n over it,
    # lie 128, 160, 192, 224: a shelf 18 thick on the hole at 192 ends at 192 + 2.5 + 18, and stands about the middle.
    openings = (Opening("100", above="shelf"), Opening("152", adjustable_shelves=1, above="shelf"), Opening())
    found = made("mm", "600 x 700 x 300", Bay(openings=openings))
    heights = {x + found["side left"].box.low[2] - 18 for row in pin_rows(found["side left"]) for x, _ in row.centres()}
    assert heights == {192}


def test_all_holes_of_a_carcass_are_on_one_grid() -> None:
    # One jig does for all of it (32 mm system, trade practice): whatever shelves and dividers lie between, the holes of
    # all uprights are whole pitches apart, and the first is 96 above the inside's floor.
    shelves = ("301", "777")
    bays = (Bay(openings=(*(Opening(high, adjustable_shelves=1, above="shelf") for high in shelves), Opening())),) * 2
    bay = Bay(adjustable_shelves=4)
    found = made("mm", "1500 x 2000 x 400", *bays, bay, divider_joint="dado", bottom_joint="dado", top_joint="dado")
    over = [
        part.box.low[2] + centre[0] - found["bottom"].box.high[2]
        for part in found.values()
        for row in pin_rows(part)
        for centre in row.centres()
    ]
    assert len({part.role for part in found.values() if pin_rows(part)}) == 2
    assert min(over) == 96
    assert {(up - 96) % 32 for up in over} == {0}
    # In an opening from 18 + 301 + 18 up: 319 over the floor, 9.97 pitches, so ten: 96 + 320.
    assert 96 + 320 in over and max(over) > 1800


def test_a_shelf_moves_a_hinge_and_a_nailer_behind_does_not() -> None:
    # A door of 700 - 3 = 697: its upper hinge is wanted at 597. A shelf from 588 to 606 is in the plate's way; a nailer
    # from 582 to 682, as high as a plate, stands at the back and is not (common practice, no source).
    told = ("mm", "500 x 700 x 300")
    (low, high) = (one.x for one in cups(made(*told, Bay(front="door"), nailers="top")["door bay 1"]))
    assert (low, high) == (100, 597)
    # 18 + 570.
    (low, high) = (one.x for one in cups(made(*told, Bay("share", ("570",), front="door"))["door bay 1"]))
    assert low == 100
    # Both holes of the plate miss it, all of it by 25 mm or more.
    assert 606 + 25 <= high <= 597 + 96 or 597 - 96 <= high <= 588 - 25


# Up to so many inches high two hinges, three, four, five; for a board of about 19 mm, 24 in wide at most (a hinge
# maker's chart, trade practice).
@pytest.mark.parametrize(
    ("high", "count"),
    [("24", 2), ("40", 2), ("40 1/16", 3), ("60", 3), ("60 1/16", 4), ("80", 4), ("80 1/16", 5), ("100", 5)],
)
def test_hinges_by_height(high: str, count: int) -> None:
    # 12 wide and 3/4 thick a door of 100 weighs 25 lb at 48 lb a cubic foot, and no height here wants more for that.
    rules = {"density": "48 lb/ft^3", "top_reveal": "0"}
    door = made("in", f"12 1/8 x {high} x 12", Bay(front="door"), **rules)["door bay 1"]
    assert door.length == inches(high)
    assert len(cups(door)) == count


# Same chart: 15, 30, 45, 60 lb.
@pytest.mark.parametrize(("pounds", "count"), [(14, 2), (16, 3), (29, 3), (31, 4), (44, 4), (46, 5), (59, 5)])
def test_hinges_by_weight(pounds: int, count: int) -> None:
    # 30 x 24 x 3/4 in is 540/1728 of a cubic foot.
    density = f"{float(F(pounds) / F(540, 1728))} lb/ft^3"
    door = made("in", "24 1/8 x 30 x 12", Bay(front="door"), density=density, top_reveal="0")["door bay 1"]
    assert (door.length, door.width) == (inches(30), inches(24))
    assert len(cups(door)) == count


@pytest.mark.parametrize(("pounds", "count"), [(15, 2), (30, 3), (45, 4), (60, 5)])
def test_the_chart_holds_up_to_its_own_weights(pounds: int, count: int) -> None:
    # Same chart: up to 15 lb, so 15 lb are still two hinges. A pound is 0.45359237 kg (exact by definition).
    assert hinge_count(inches(30), pounds * 0.45359237) == count
    assert hinge_count(inches(30), pounds * 0.45359237 + 1e-6) == (count + 1) % 6


@pytest.mark.parametrize(("width", "high", "density"), [("24", "30", "48"), ("12", "30", "96"), ("16", "36", "60")])
def test_a_door_of_exactly_15_lb_has_two_hinges(width: str, high: str, density: str) -> None:
    # 24 x 30 x 3/4 in is 540 cubic inches of 1728 a cubic foot: at 48 lb 15 lb. 12 x 30 x 3/4: 270, at 96. 16 x 36 x
    # 3/4: 432, a quarter, at 60.
    door = made("in", f"{width} 1/8 x {high} x 12", Bay(front="door"), density=f"{density} lb/ft^3", top_reveal="0")
    assert (door["door bay 1"].length, door["door bay 1"].width) == (inches(high), inches(width))
    assert len(cups(door["door bay 1"])) == 2


@pytest.mark.parametrize(("high", "density"), [("100 1/16", "30 lb/ft^3"), ("30", "200 lb/ft^3")])
def test_beyond_the_chart_there_is_no_answer(high: str, density: str) -> None:
    told = refusal("in", f"24 1/8 x {high} x 12", Bay(front="door"), density=density, top_reveal="0")
    assert "too high or too heavy for five hinges" in told


# --- Fronts and their gaps


@pytest.mark.parametrize("unit", ["in", "mm"])
def test_gaps_of_the_rule_book(unit: Unit) -> None:
    # 1/16 to 1/8 in, or 2 to 3 mm, between doors (trade practice, quoted); 3 mm or 1/8 at the top (from memory).
    least, most = (INCH / 16, INCH / 8) if unit == "in" else (2, 3)
    assert least <= default("front_gap", unit) <= most
    assert default("top_reveal", unit) == most


@pytest.mark.parametrize("gap", ["1/16", "3/32", "1/8"])
@pytest.mark.parametrize("width", ["24", "30", "35 7/8", "42"])
def test_a_full_overlay_pair(width: str, gap: str) -> None:
    # Each is what both cover, less the gap, halved (trade practice). Both cover the box's width less half a gap at
    # either side, which with the neighbour's half is one (common practice, no source).
    found = made("in", f"{width} x 30 x 12", Bay(front="pair of doors"), front_gap=gap)
    left, right = found["door bay 1 left"], found["door bay 1 right"]
    total = inches(width) - inches(gap)
    assert left.width == right.width == (total - inches(gap)) / 2
    assert right.box.low[0] - left.box.high[0] == inches(gap)
    assert left.box.low[0] == inches(width) - right.box.high[0] == inches(gap) / 2


@pytest.mark.parametrize("width", ["12", "18", "23 9/16"])
def test_a_full_overlay_door_is_its_opening_and_two_overlays(width: str) -> None:
    # Opening = width less two sides of 3/4; overlay = 3/4 less half of 1/8 = 11/16 (trade practice).
    door = made("in", f"{width} x 30 x 12", Bay(front="door"))["door bay 1"]
    assert door.width == inches(width) - 2 * inches("3/4") + 2 * inches("11/16")


def test_full_overlay_doors_share_the_edge_of_a_divider() -> None:
    # Each covers half of 3/4 less half of 1/8 (common practice, no source): 5/16.
    found = made("in", "36 x 30 x 12", Bay(front="door"), Bay(front="door", hinged="right"))
    divider = found["divider 1"].box
    assert found["door bay 1"].box.high[0] - divider.low[0] == inches("5/16")
    assert divider.high[0] - found["door bay 2"].box.low[0] == inches("5/16")


@pytest.mark.parametrize("gap", ["1/16", "3/32", "1/8"])
@pytest.mark.parametrize(("width", "height"), [("15", "20"), ("24", "30 1/4")])
def test_an_inset_door_has_its_gap_all_round(width: str, height: str, gap: str) -> None:
    # 3/32 all round is usual (trade practice, quoted).
    door = made("in", f"{width} x {height} x 12", Bay(front="door"), fronts="inset", front_gap=gap)["door bay 1"]
    clear = (inches(height) - inches("1 1/2"), inches(width) - inches("1 1/2"))
    assert (door.length, door.width) == (clear[0] - 2 * inches(gap), clear[1] - 2 * inches(gap))
    assert door.box.low == (inches("3/4") + inches(gap), 0, inches("3/4") + inches(gap))
    # Flush with the front edges.
    assert door.box.high[1] == door.thickness


# --- Drawers


def drawer(unit: Unit, width: str, depth: str, **rules: str) -> tuple[dict[str, Part], Fraction]:
    """The parts of a drawer (`side left`), the only one in its box, and how wide its opening is."""
    high = "12" if unit == "in" else "300"
    found = made(unit, f"{width} x {high} x {depth}", DRAWER, **rules)
    places = {place.replace(" bay 1 no 1", ""): part for place, part in found.items()}
    box = {place.removeprefix("drawer "): part for place, part in places.items() if place.startswith("drawer ")}
    return box, found["side right"].box.low[0] - found["side left"].box.high[0]


def outside(parts: dict[str, Part]) -> Fraction:
    return parts["side right"].box.high[0] - parts["side left"].box.low[0]


def inside(parts: dict[str, Part]) -> Fraction:
    return parts["side right"].box.low[0] - parts["side left"].box.high[0]


@pytest.mark.parametrize("width", ["12", "16 1/2", "24", "35 15/16"])
@pytest.mark.parametrize("thick", ["1/2 in", "5/8 in", "15/32 in"])
def test_side_mounts_take_an_inch(width: str, thick: str) -> None:
    # 1/2 in, 12.7 mm, on each side, whatever the drawer is made of (trade practice, quoted).
    found, opening = drawer("in", width, "24", thick=thick, drawer_panel="own")
    assert opening - outside(found) == INCH
    # The same on either side.
    assert found["side left"].box.low[0] == inches("3/4") + inches("1/2")


@pytest.mark.parametrize("width", ["300", "450", "597.5"])
def test_side_mounts_take_25_4_mm(width: str) -> None:
    found, opening = drawer("mm", width, "560")
    assert opening - outside(found) == F("25.4")


def test_side_mounts_with_a_little_more() -> None:
    # Makers allow 1/32 more on each side and nothing less: opening - 1 1/16 (trade practice, quoted).
    found, opening = drawer("in", "24", "24", slide_clearance="17/32")
    assert opening - outside(found) == inches("1 1/16")


@pytest.mark.parametrize("width", ["12", "18", "24", "35 15/16"])
@pytest.mark.parametrize(
    ("thick", "outside_less"),
    # 5/8 and 3/8 are published (trade practice, quoted); the third is what half-inch ply often measures, same sum.
    [("1/2 in", "5/8"), ("5/8 in", "3/8"), ("7/16 in", "3/4")],
)
def test_undermounts_fix_the_inside(width: str, thick: str, outside_less: str) -> None:
    found, opening = drawer("in", width, "24", thick=thick, slides="undermount", drawer_panel="own")
    assert opening - outside(found) == inches(outside_less)
    # Always: 5/8 + 2 x 1/2 = 3/8 + 2 x 5/8 = 1 5/8.
    assert opening - inside(found) == inches("1 5/8")
    # Butted ends are as long as the inside is wide.
    assert found["end front"].length == found["end rear"].length == inside(found)


@pytest.mark.parametrize("width", ["300", "450", "900"])
@pytest.mark.parametrize(("thick", "outside_less"), [("12 mm", 18), ("13 mm", 16), ("16 mm", 10)])
def test_metric_undermounts_fix_the_inside(width: str, thick: str, outside_less: int) -> None:
    # 42 mm is a figure of its own, not 1 5/8 in (41.275 mm) turned to metric (trade practice).
    found, opening = drawer("mm", width, "560", slides="undermount", thick=thick, drawer_panel="own")
    assert opening - inside(found) == 42
    assert opening - outside(found) == outside_less


@pytest.mark.parametrize(("unit", "recess"), [("in", INCH / 2), ("mm", F(13))])
def test_a_drawer_s_bottom_is_recessed(unit: Unit, recess: Fraction) -> None:
    # 1/2 in or 13 mm for undermounts (from memory).
    found, _ = drawer(unit, "24" if unit == "in" else "600", "24" if unit == "in" else "560", slides="undermount")
    assert found["bottom"].box.low[2] - found["side left"].box.low[2] == recess


@pytest.mark.parametrize(("slides", "least"), [("side mount", "1/2"), ("undermount", "13/16")])
def test_a_drawer_is_lower_than_its_opening(slides: str, least: str) -> None:
    # By 1/2 on side mounts, 13/16 on undermounts, at least (trade practice, quoted).
    found, _ = drawer("in", "24", "24", slides=slides, drawer_above="1/4", drawer_below=f"{least} - 1/4")
    # The opening: 12 less bottom and top.
    assert found["side left"].box.span("z") == inches("10 1/2") - inches(least)
    less = {"slides": slides, "drawer_above": "1/4", "drawer_below": f"{least} - 1/4 - 1/64"}
    assert "lower than its opening" in refusal("in", "24 x 12 x 24", DRAWER, **less)


@pytest.mark.parametrize("unit", ["in", "mm"])
def test_a_drawer_has_room_above_and_below_by_default(unit: Unit) -> None:
    # For undermounts, which want more: 13/16 (trade practice, quoted).
    assert default("drawer_above", unit) + default("drawer_below", unit) >= inches("13/16")


# Inside depth less about 1/8, then the longest even length from 10 to 28 in (trade practice, quoted). The back takes
# 1/4 of the depth; an inset front the 3/4 that it is thick.
@pytest.mark.parametrize(
    ("depth", "fronts", "length"),
    [
        ("10 3/8", "full overlay", 10),
        ("12", "full overlay", 10),
        ("12 3/8", "full overlay", 12),
        ("22 5/16", "full overlay", 20),
        ("22 3/8", "full overlay", 22),
        ("24", "full overlay", 22),
        ("28 3/8", "full overlay", 28),
        ("36", "full overlay", 28),
        ("23", "inset", 20),
        ("23 1/8", "inset", 22),
        ("24", "inset", 22),
    ],
)
def test_slides_have_even_lengths(depth: str, fronts: str, length: int) -> None:
    found, _ = drawer("in", "24", depth, fronts=fronts)
    assert found["side left"].length == found["side right"].length == inches(length)


# The usual undermounts, 9, 12, 15, 18 and 21 in (from memory), behind an applied back of 1/4 and 1/8 of air.
@pytest.mark.parametrize(
    ("depth", "length"),
    [
        ("9 3/8", 9),
        ("12 5/16", 9),
        ("12 3/8", 12),
        ("15 3/8", 15),
        ("18 5/16", 15),
        ("18 3/8", 18),
        ("24", 21),
        ("36", 21),
    ],
)
def test_undermounts_have_lengths_of_their_own(depth: str, length: int) -> None:
    found, _ = drawer("in", "24", depth, slides="undermount")
    assert found["side left"].length == found["side right"].length == inches(length)


def test_no_undermount_is_shorter_than_nine() -> None:
    # 9 5/16 less 1/4 and 1/8 is 8 15/16.
    assert "the shortest is 9 in" in refusal("in", "24 x 12 x 9 5/16", DRAWER, slides="undermount")


@pytest.mark.parametrize("thick", ["3/8", "7/16", "15/32", "1/2", "5/8"])
def test_a_drawer_s_groove_is_1_4_deep_in_thin_sides_too(thick: str) -> None:
    # Boards sold as 1/2 are 7/16 or 15/32, and 1/4 is cut into them: up to two thirds, of 3/8 just 1/4 (common
    # practice, no source). The inside, and 1/4 less 1/32 of air at each end.
    found, _ = drawer("in", "24", "24", thick=f"{thick} in", drawer_panel="own")
    (groove,) = (one for one in found["side left"].machining if one.kind == "groove")
    assert groove.depth == inches("1/4")
    assert found["bottom"].length == inside(found) + inches("7/16")


def test_a_drawer_s_groove_leaves_a_third_of_its_sides() -> None:
    # Two thirds of 23/64 are less than 1/4.
    told = {"thick": "23/64 in", "drawer_panel": "own"}
    assert "two thirds of the drawer's sides" in refusal("in", "24 x 12 x 24", DRAWER, **told)


def test_no_slide_is_shorter_than_ten() -> None:
    # 10 5/16 less 1/4 and 1/8 is 9 15/16.
    told = refusal("in", "24 x 12 x 10 5/16", DRAWER)
    assert "the shortest is 10 in" in told


@pytest.mark.parametrize(("depth", "length"), [("259", 250), ("320", 300), ("458", 400), ("459", 450), ("560", 550)])
def test_metric_slides_come_in_fifties(depth: str, length: int) -> None:
    # From memory. The back takes 6 and the air behind a slide 3.
    found, _ = drawer("mm", "600", depth)
    assert found["side left"].box.span("y") == length


# --- Joints


@pytest.mark.parametrize(("unit", "board"), [("in", INCH * 3 / 4), ("mm", F(18))])
@pytest.mark.parametrize("rule", ["dado_depth", "rabbet_depth"])
def test_a_dado_is_a_third_of_the_board(unit: Unit, board: Fraction, rule: str) -> None:
    # From a quarter to a half, a third is usual: 1/4 in 3/4, 6 in 18 (trade practice, from memory).
    assert default(rule, unit) == board / 3


@pytest.mark.parametrize(("depth", "allowed"), [("3/16", True), ("1/4", True), ("3/8", True), ("25/64", False)])
def test_a_dado_is_never_deeper_than_half_of_the_board(depth: str, allowed: bool) -> None:
    # Half of 3/4 is 3/8 (trade practice, from memory).
    box = asked("in", "24 x 30 x 12", Bay("share", ("even",)), shelf_joint="dado", dado_depth=depth)
    assert (plan_of(box).problems == ()) is allowed


@pytest.mark.parametrize("depth", ["3/16", "1/4", "3/8"])
@pytest.mark.parametrize("thick", ["3/4 in", "23/32 in", "18 mm"])
@pytest.mark.parametrize("width", ["24", "35 7/16"])
def test_a_shelf_in_dadoes(width: str, thick: str, depth: str) -> None:
    rules = {"shelf_joint": "dado", "dado_depth": depth, "shelf_panel": "own"}
    found = made("in", f"{width} x 30 x 12", Bay("share", ("even",)), thick=thick, **rules)
    # Clear inside and two depths (trade practice, from memory).
    shelf, side = found["shelf bay 1 no 1"], found["side left"]
    assert shelf.length == inches(width) - inches("1 1/2") + 2 * inches(depth)
    # As wide as the shelf measures, not as it is called (same source).
    (dado,) = side.machining
    assert (dado.kind, dado.length, dado.depth) == ("dado", read_length(thick, "in"), inches(depth))


def test_a_dado_with_room_for_glue() -> None:
    # 0.005 to 0.010 in more than the shelf; 1/128 is 0.0078 (trade practice, from memory).
    found = made("in", "24 x 30 x 12", Bay("share", ("even",)), shelf_joint="dado", dado_play="1/128")
    (dado,) = found["side left"].machining
    assert dado.length == inches("3/4") + INCH / 128


# --- The box


@pytest.mark.parametrize(("thick", "clear"), [("3/4 in", "34.5"), ("23/32 in", "34.5625"), ("18 mm", "34.583")])
def test_nominal_and_real_thickness(thick: str, clear: str) -> None:
    # 36 in over all: clear inside 34.500, 34.5625 and 34.583 (trade practice, worked).
    bottom = made("in", "36 x 30 x 12", panel="own", thick=thick)["bottom"]
    assert float(bottom.length / INCH) == pytest.approx(float(clear), abs=0.0005)


@pytest.mark.parametrize(
    ("unit", "height", "depth"),
    [("in", (INCH * 7 / 2, INCH * 9 / 2), (3 * INCH, INCH * 7 / 2)), ("mm", (75, 150), (75, 90))],
)
def test_toe_kick(unit: Unit, height: tuple[Fraction, Fraction], depth: tuple[Fraction, Fraction]) -> None:
    # 4 in high, 3 1/2 to 4 1/2; 3 in deep, 3 to 3 1/2 (trade practice, quoted; ranges from memory). In metric up to a
    # plinth of 150 (trade practice).
    assert height[0] <= default("kick_height", unit) <= height[1]
    assert depth[0] <= default("kick_depth", unit) <= depth[1]


@pytest.mark.parametrize(("fronts", "unit"), [("full overlay", "in"), ("inset", "mm")])
def test_banding_of_2_mm_on_both_sides_is_4_mm(fronts: str, unit: Unit) -> None:
    # Cut size = finished less all banding (trade practice, from memory).
    size = "24 x 30 x 12" if unit == "in" else "600 x 700 x 300"
    door = made(unit, size, Bay(front="door"), fronts=fronts, door_banding="lip")["door bay 1"]
    assert (door.length - door.blank_length, door.width - door.blank_width) == (4, 4)


def test_pins_in_one_face_of_a_divider_may_be_deeper_than_half_of_it() -> None:
    # 10 mm deep (pins hold in 10 to 13, from memory) in 18: with shelves on both sides of it the holes would meet.
    def problems(*loose: int) -> list[str]:
        bays = [Bay("share", (), count) for count in loose]
        made = carcass("A", "900", "700", "400", *bays, base="none", panel="mdf", pin_depth="10")
        return [str(one) for one in plan_of(design(made, unit="mm")).problems]

    assert problems(2, 0) == problems(0, 2) == []
    (told,) = problems(1, 1)
    assert "holes 10 mm deep from both faces of divider 1 would meet in 18 mm" in told
