"""Parts as solids: what machining leaves, overlaps, joints, weight and its centre."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from designs import INCH, carcass, design, plan_of
from hypothesis import given, settings
from hypothesis import strategies as st

from core.construction.part import Box, Machining, Part
from core.dry_fit import Meeting, dry_fit
from core.solids import block_of, centre_of_gravity, outside, solid, volume, weight

F = Fraction


def part(x: tuple[int, int], y: tuple[int, int], z: tuple[int, int], *cuts: Machining, name: str = "Panel") -> Part:
    """A panel: length along x, width along y, thickness along z."""
    box = Box((F(x[0]), F(y[0]), F(z[0])), (F(x[1]), F(y[1]), F(z[1])))
    return Part("A", "shelf", name, name, "ply", box, "x", "y", "length", machining=cuts)


def notch(x: int, y: int, length: int, width: int) -> Machining:
    return Machining("notch", "corner", F(x), F(y), F(length), F(width))


def rabbet(x: int, y: int, length: int, width: int, depth: int, face: str) -> Machining:
    return Machining("rabbet", "edge", F(x), F(y), F(length), F(width), F(depth), face)  # type: ignore[arg-type]


def test_a_notch_goes_right_through() -> None:
    cut = part((0, 100), (0, 50), (0, 18), notch(0, 0, 20, 10))
    assert volume(cut) == 100 * 50 * 18 - 20 * 10 * 18
    assert sum(box.span("x") * box.span("y") * box.span("z") for box in solid(cut)) == volume(cut)


def test_a_cut_lies_in_the_room_where_it_lies_on_the_part() -> None:
    upright = replace(part((10, 28), (100, 150), (1000, 1800)), length_axis="z", width_axis="y")
    block = block_of(upright, rabbet(700, 20, 100, 30, 6, "high"))
    assert block == Box((F(22), F(120), F(1700)), (F(28), F(150), F(1800)))
    assert block_of(upright, rabbet(700, 20, 100, 30, 6, "low")).high[0] == 16
    assert block_of(upright, notch(0, 0, 100, 30)) == Box((F(10), F(100), F(1000)), (F(28), F(130), F(1100)))


def test_a_rabbet_is_cut_into_its_face() -> None:
    low = part((0, 100), (0, 50), (0, 18), rabbet(0, 40, 100, 10, 6, "low"))
    assert volume(low) == 100 * 50 * 18 - 100 * 10 * 6
    # Something lies in the rabbet of the low face, and not in that of the high one.
    back = part((0, 100), (40, 50), (0, 6))
    assert dry_fit([low, back], [Meeting(low, back)]) == ()
    high = part((0, 100), (0, 50), (0, 18), rabbet(0, 40, 100, 10, 6, "high"))
    assert [told.amount for told in dry_fit([high, back], [])] == [6]


@settings(max_examples=60, deadline=None)
@given(st.lists(st.builds(notch, *[st.integers(0, 20)] * 2, *[st.integers(1, 20)] * 2), max_size=4))
def test_what_is_left_is_every_cell_that_no_cut_covers(cuts: list[Machining]) -> None:
    panel = part((0, 30), (0, 30), (0, 2), *cuts)
    left = sum(
        not any(cut.x <= x < cut.x + cut.length and cut.y <= y < cut.y + cut.width for cut in cuts)
        for x in range(30)
        for y in range(30)
    )
    assert volume(panel) == 2 * left
    boxes = solid(panel)
    for i, one in enumerate(boxes):
        for other in boxes[i + 1 :]:
            assert any(one.high[a] <= other.low[a] or other.high[a] <= one.low[a] for a in range(3))


def test_parts_in_each_others_place_are_told_with_by_how_much() -> None:
    one, other = part((0, 100), (0, 50), (0, 18)), part((90, 200), (0, 50), (10, 28), name="Other")
    (told,) = dry_fit([one, other], [])
    assert (told.sentence, told.amount) == ("are in each other's place", 8)


def test_a_joint_needs_a_real_area_and_its_play() -> None:
    one, beside = part((0, 100), (0, 50), (0, 18)), part((100, 200), (0, 50), (0, 18))
    assert dry_fit([one, beside], [Meeting(one, beside)]) == ()
    edge_to_edge = part((100, 200), (50, 90), (0, 18))
    assert dry_fit([one, edge_to_edge], [Meeting(one, edge_to_edge)])[0].sentence == "do not meet at all"
    loose = part((102, 200), (0, 50), (0, 18))
    assert dry_fit([one, loose], [Meeting(one, loose, F(2))]) == ()
    (told,) = dry_fit([one, loose], [Meeting(one, loose)])
    assert (told.sentence, told.amount) == ("do not meet as their joint says", 2)
    (told,) = dry_fit([one, loose], [Meeting(one, loose, F(5))])
    assert told.amount == -3


def test_one_part_of_a_carcass_moved_sideways_by_a_sixty_fourth_is_noticed() -> None:
    worked = plan_of(design(carcass("A", "24", "34 1/2", "23 1/4", back="let in"))).worked
    assert worked.misfits == ()
    for moved in worked.placed:
        now = {id(part): part.moved(INCH / 64, F(0), F(0)) if part is moved else part for part in worked.placed}
        meetings = [replace(m, one=now[id(m.one)], other=now[id(m.other)]) for m in worked.meetings]
        assert dry_fit(tuple(now.values()), meetings), moved.name


def test_the_box_round_all() -> None:
    assert outside([]) is None
    assert outside([part((0, 10), (0, 20), (0, 5)), part((-5, 3), (0, 20), (5, 10))]) == Box(
        (F(-5), F(0), F(0)), (F(10), F(20), F(10))
    )


# Weights of sheets, TRADE.md section 3 (computed): 18 mm, kg/m3, kg.
SHEETS = [
    ("birch plywood 1525 x 1525", 1525, 1525, 680, 28.47),
    ("birch plywood 2440 x 1220", 2440, 1220, 680, 36.44),
    ("melamine 2800 x 2070", 2800, 2070, 650, 67.8),
]


@pytest.mark.parametrize(("name", "length", "width", "density", "kilograms"), SHEETS)
def test_weights_of_sheets(name: str, length: int, width: int, density: float, kilograms: float) -> None:
    assert weight(part((0, length), (0, width), (0, 18)), density) == pytest.approx(kilograms, abs=0.05), name


def test_weight_of_an_mdf_sheet_in_pounds() -> None:
    # TRADE.md section 3: 4 x 8 ft x 3/4 in at 48 lb/ft3 is 2 ft3 and 96 lb; 1 lb/ft3 is 16.0185 kg/m3.
    size = (0, 2438), (0, 1219), (0, 19)
    panel = replace(part(*size), box=Box((F(0), F(0), F(0)), (96 * INCH, 48 * INCH, F(3, 4) * INCH)))
    assert weight(panel, 48 * 16.0185) / 0.45359237 == pytest.approx(96, abs=0.01)


def test_centre_of_gravity() -> None:
    heavy, light = part((0, 100), (0, 100), (0, 10)), part((100, 200), (0, 100), (0, 10))
    light = replace(light, material="light")
    mass, centre = centre_of_gravity([heavy, light], {"ply": 900.0, "light": 300.0})
    assert mass == pytest.approx(0.12)
    # (0.09 * 50 + 0.03 * 150) / 0.12
    assert centre == pytest.approx((75, 50, 5))
    assert centre_of_gravity([heavy, light], {"ply": 900.0})[0] == pytest.approx(0.09)
    assert centre_of_gravity([], {}) == (0.0, (0.0, 0.0, 0.0))


def test_a_notch_moves_the_centre_away_from_it() -> None:
    _, centre = centre_of_gravity([part((0, 100), (0, 100), (0, 10), notch(0, 0, 50, 100))], {"ply": 600.0})
    assert centre == pytest.approx((75, 50, 5))
