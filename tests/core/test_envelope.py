"""Readings to the largest true box, by hand and by trigonometry; inches unless said."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from math import asin, degrees, hypot, radians, sin, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.envelope import Envelope, find_envelope
from core.mistakes import Mistake
from core.space import Baseboard, Clearance, Lean, Reading, Space

F = Fraction


def read(text: str, where: str) -> Fraction:
    """A plain number or fraction; what cannot be read says where it stands."""
    try:
        return Fraction(text)
    except ValueError:
        raise Mistake(f"{text!r} is no number", where) from None


def box(*readings: Reading, **space: object) -> Envelope:
    return find_envelope(Space(readings=readings, **space), read)  # type: ignore[arg-type]


def width(size: str, level: str = "floor", at: str = "middle") -> Reading:
    return Reading("width", size, level, at)  # type: ignore[arg-type]


def gaps(envelope: Envelope) -> dict[str, Fraction]:
    return {side.wall: side.varies for side in envelope.sides}


# --- One reading, and several


def test_no_reading_tells_nothing() -> None:
    found = box()
    assert (found.width, found.depth, found.height) == (None, None, None)


def test_one_width_is_enough() -> None:
    found = box(width("72"))
    assert found.width == 72
    assert found.left == 0
    assert gaps(found) == {"left": 0, "right": 0}
    assert any("Few widths" in note for note in found.notes)
    assert any("left wall is not measured" in note for note in found.notes)


def test_the_least_of_several_widths_decides() -> None:
    found = box(width("72"), width("143/2", "middle"), width("72", "top"))
    assert found.width == F(143, 2)
    # Nothing says which wall bulges: the difference is put to the right one.
    assert gaps(found) == {"left": 0, "right": F(1, 2)}


def test_two_readings_of_one_place_take_the_lesser() -> None:
    assert box(width("72", at="back"), width("71", at="back")).width == 71


def test_clearances_and_where_the_box_begins() -> None:
    found = box(width("72"), clearance=Clearance(left="1/2", right="3/4"))
    assert found.width == 72 - F(5, 4)
    assert found.left == F(1, 2)
    assert {side.wall: side.widest_gap for side in found.sides} == {"left": F(1, 2), "right": F(3, 4)}


def test_depth_and_height() -> None:
    found = box(
        Reading("depth", "25", at="left"),
        Reading("depth", "24", at="right"),
        Reading("height", "96", at="left"),
        Reading("height", "95", at="right"),
        floor_out_of_level="1/2",
        clearance=Clearance(back="1/4", top="1"),
    )
    assert found.depth == 24 - F(1, 4)
    # 95 at the worst, levelled up 1/2 from the floor's lowest point, and 1 of air.
    assert found.height == 95 - F(1, 2) - 1
    assert found.ceiling == 95


# --- Lean


def test_walls_that_lean_the_same_way_narrow_the_box_though_all_widths_are_equal() -> None:
    # Over 84: the left wall comes in by 1, the right one falls away by 1. At the floor the space
    # runs from 0 to 72, at the top from 1 to 73: plumb, only 1 to 72 is free at both.
    found = box(
        width("72"),
        width("72", "middle"),
        width("72", "top"),
        leans=(Lean("left", "1", "84"), Lean("right", "-1", "84")),
        up_to="84",
    )
    assert found.width == 71
    assert found.left == 1
    assert gaps(found) == {"left": 1, "right": 1}


def test_walls_that_lean_towards_each_other() -> None:
    # 72 at the floor; each comes in by 1/2 at the top: 71.
    found = box(width("72"), leans=(Lean("left", "1/2", "84"), Lean("right", "1/2", "84")), up_to="84")
    assert found.width == 71
    # The top width says the same once more.
    again = box(
        width("72"), width("71", "top"), leans=(Lean("left", "1/2", "84"), Lean("right", "1/2", "84")), up_to="84"
    )
    assert again.width == 71


def test_walls_that_fall_away_from_each_other() -> None:
    found = box(width("72"), leans=(Lean("left", "-1", "84"), Lean("right", "-2", "84")), up_to="84")
    assert found.width == 72
    assert gaps(found) == {"left": 1, "right": 2}


def test_a_width_read_at_the_middle_alone() -> None:
    # 71 half way up, where each wall is in by 1/4 of its 1/2: at the top 70 1/2 is left.
    found = box(width("71", "middle"), leans=(Lean("left", "1/2", "84"), Lean("right", "1/2", "84")), up_to="84")
    assert found.width == F(141, 2)


def test_a_lean_counts_up_to_the_height_of_the_piece() -> None:
    lean = (Lean("left", "1", "84"), Lean("right", "0", "84"))
    assert box(width("72"), leans=lean, up_to="84").width == 71
    assert box(width("72"), leans=lean, up_to="42").width == 72 - F(1, 2)
    # Without a height of the piece it is the ceiling.
    assert box(width("72"), Reading("height", "96"), leans=lean).width == 72 - F(96, 84)
    # Without either it is the length of the plumb line.
    assert box(width("72"), leans=lean).width == 71


def test_the_longest_plumb_line_says_how_high_where_nothing_else_does() -> None:
    # In by 1 over 42 and by 0 over 84: 2 at the top of 84.
    assert box(width("72"), leans=(Lean("left", "1", "42"), Lean("right", "0", "84"))).width == 70


def test_one_lean_and_two_widths_tell_of_the_other_wall() -> None:
    # Left in by 1 at the top; 72 at the floor and 70 at the top: the right wall comes in by 1 too.
    left = box(width("72"), width("70", "top"), leans=(Lean("left", "1", "84"),), up_to="84")
    assert left.width == 70
    assert gaps(left) == {"left": 1, "right": 1}
    right = box(width("72"), width("70", "top"), leans=(Lean("right", "1", "84"),), up_to="84")
    assert right.width == 70
    assert gaps(right) == {"left": 1, "right": 1}
    # Equal widths, and the right wall in by 1: the left one falls away by 1.
    same_way = box(width("72"), width("72", "top"), leans=(Lean("right", "1", "84"),), up_to="84")
    assert same_way.width == 71
    assert gaps(same_way) == {"left": 1, "right": 1}


def test_where_leans_and_widths_differ_the_narrowest_is_believed() -> None:
    lean = (Lean("left", "1", "84"), Lean("right", "1", "84"))
    # The leans say 70 at the top, the tape says 69: 69. The tape says 71: still 70.
    assert box(width("72"), width("69", "top"), leans=lean, up_to="84").width == 69
    assert box(width("72"), width("71", "top"), leans=lean, up_to="84").width == 70


def test_of_two_leans_of_a_wall_the_worse_counts() -> None:
    lean = (Lean("left", "1", "84"), Lean("left", "1/2", "84"), Lean("right", "0", "84"))
    assert box(width("72"), leans=lean, up_to="84").width == 71


def test_a_back_wall_that_comes_forward() -> None:
    lean = (Lean("back", "1", "84"),)
    assert box(Reading("depth", "24"), leans=lean, up_to="84").depth == 23
    # Read half way up, where it is forward by 1/2 already.
    assert box(Reading("depth", "47/2", "middle"), leans=lean, up_to="84").depth == 23
    assert box(Reading("depth", "24"), leans=(Lean("back", "-1", "84"),), up_to="84").depth == 24


# --- Out of square


def test_an_alcove_wider_at_the_back_is_filled_from_the_front() -> None:
    found = box(width("70", at="front"), width("72", at="back"))
    assert found.width == 70
    assert any("Wider at the back" in note for note in found.notes)
    for widths in ((width("72"),), (width("72", at="front"), width("72", at="back"))):
        assert not any("Wider at the back" in note for note in box(*widths).notes)
    assert box(width("72", at="front"), width("70", at="back")).width == 70


def test_front_and_back_are_held_against_each_other_at_the_same_level() -> None:
    def wider(*widths: Reading) -> list[str]:
        return [note for note in box(*widths).notes if note.startswith("Wider")]

    # Less at the top of the front than at the foot of the back says how the walls run upwards, and no more.
    assert wider(width("70", "top", "front"), width("72", "floor", "back")) == []
    assert wider(
        width("72", "floor", "front"), width("72", "floor", "back"),
        width("70", "top", "front"), width("71", "middle", "back"),
    ) == []  # fmt: skip
    # Narrow at the top of the back, and at the floor still wider there.
    told = wider(width("71", at="front"), width("72", at="back"), width("70", "top", "back"))
    assert told == [
        "Wider at the back than at the front (floor): the piece comes in from the front, so there the front decides."
    ]
    both = (width("71", "top", "front"), width("72", "top", "back"))
    assert "(floor, top)" in wider(width("71", at="front"), width("72", at="back"), *both)[0]


def test_a_skewed_plan_by_its_diagonals() -> None:
    # Front and back 36, straight depth 24, the back 3 to the right: left diagonal over 39, right over 33.
    found = box(
        width("36", at="front"),
        width("36", at="back"),
        Reading("diagonal", str(F(hypot(39, 24))), at="left"),
        Reading("diagonal", str(F(hypot(33, 24))), at="right"),
    )
    assert found.out_of_square == pytest.approx(3)
    assert found.width == pytest.approx(33)
    assert gaps(found) == {"left": pytest.approx(3), "right": pytest.approx(3)}
    assert found.left == pytest.approx(3)


def test_a_plan_that_is_no_parallelogram() -> None:
    # Corners (0, 0), (40, 0), (37, 24), (2, 24): the back 2 to the right and 35 wide.
    found = box(
        width("40", at="front"),
        width("35", at="back"),
        Reading("diagonal", str(F(hypot(37, 24))), at="left"),
        Reading("diagonal", str(F(hypot(38, 24))), at="right"),
    )
    assert found.out_of_square == pytest.approx(2)
    # Free at the front and at the back: 2 to 37.
    assert found.width == pytest.approx(35)


def test_a_niche_30_by_36_with_an_eighth_between_its_diagonals() -> None:
    # TRADE.md section 11 item 1 (computed): 0.155 degrees, 0.0976 over 36.
    # A parallelogram with sides a and b, diagonals p and q: sin(angle) = (p^2 - q^2) / (4 a b).
    a, b = 30.0, 36.0
    mean = hypot(a, b)
    p, q = mean + 1 / 16, mean - 1 / 16
    angle = asin((p**2 - q**2) / (4 * a * b))
    assert degrees(angle) == pytest.approx(0.155, abs=5e-4)
    assert b * tan(angle) == pytest.approx(0.0976, abs=5e-5)
    found = box(
        width("30", at="front"),
        width("30", at="back"),
        Reading("diagonal", str(F(p)), at="left"),
        Reading("diagonal", str(F(q)), at="right"),
    )
    # Ours: sideways over a side wall of length b, which is b sin(angle), 4e-7 less than b tan(angle).
    assert found.out_of_square == pytest.approx(b * sin(angle), abs=1e-12)
    assert found.out_of_square == pytest.approx(0.0976, abs=5e-5)
    assert found.width == pytest.approx(30 - 0.0976, abs=5e-5)


@settings(max_examples=60, deadline=None)
@given(st.floats(20, 200), st.floats(10, 60), st.floats(-10, 10))
def test_the_diagonals_give_back_the_angle(wide: float, deep: float, turned: float) -> None:
    away = deep * tan(radians(turned))
    found = box(
        width(str(F(wide)), at="front"),
        width(str(F(wide)), at="back"),
        Reading("diagonal", str(F(hypot(wide + away, deep))), at="left"),
        Reading("diagonal", str(F(hypot(wide - away, deep))), at="right"),
    )
    assert found.out_of_square == pytest.approx(away, abs=1e-9)
    assert found.width == pytest.approx(wide - abs(away), abs=1e-9)


def test_of_several_diagonals_the_worst_pair_counts() -> None:
    found = box(
        width("36", at="front"),
        width("36", at="back"),
        Reading("diagonal", "44", at="left"),
        Reading("diagonal", "43", at="left"),
        Reading("diagonal", "42", at="right"),
    )
    assert found.out_of_square == F(44**2 - 42**2, 2 * 72)


def test_without_both_diagonals_the_plan_is_taken_as_square() -> None:
    found = box(width("36", at="front"), width("36", at="back"), Reading("diagonal", "44", at="left"))
    assert found.out_of_square is None
    assert any("taken as square" in note for note in found.notes)


# --- Baseboards


def test_side_baseboards_narrow_the_box_at_the_floor() -> None:
    boards = (Baseboard("left", "4", "1/2"), Baseboard("right", "4", "5/8"))
    found = box(width("72"), baseboards=boards)
    assert found.width == 72 - F(9, 8)
    assert found.left == F(1, 2)
    # Above the boards the gap is wider by as much.
    assert gaps(found) == {"left": F(1, 2), "right": F(5, 8)}


def test_a_wall_that_leans_in_further_than_its_baseboard_decides() -> None:
    boards = (Baseboard("left", "4", "1/2"),)
    leans = (Lean("left", "1", "84"), Lean("right", "0", "84"))
    assert box(width("72"), baseboards=boards, leans=leans, up_to="84").width == 71
    # In by 1/2 at the top, and at the board's upper edge by 4/84 of that: the board stands out further.
    leans = (Lean("left", "1/2", "84"), Lean("right", "0", "84"))
    found = box(width("72"), baseboards=boards, leans=leans, up_to="84")
    assert found.width == 72 - F(1, 2) - F(4, 84) / 2


def test_beside_a_baseboard_what_widths_differ_by_may_be_either_wall_s() -> None:
    # 1/2 narrower half way up. If the right wall bulges there, the left board still stands out below: 72 - 1.
    # If the left one does, it hides the board: 72 - 1/2. The narrower is believed, whichever side the board is on.
    for wall in ("left", "right"):
        assert box(width("72"), width("143/2", "middle"), baseboards=(Baseboard(wall, "4", "1/2"),)).width == 71  # type: ignore[arg-type]


def test_where_the_box_begins_is_told_from_the_left_wall_s_front_foot() -> None:
    # The right wall is plumb, so the left one comes in by 1 where the width is 71.
    found = box(width("72"), width("71", "top"), leans=(Lean("right", "0", "84"),), up_to="84")
    assert (found.width, found.left) == (71, 1)


def test_a_board_higher_than_the_piece_leans_no_further_than_its_top() -> None:
    leans = (Lean("left", "1/2", "84"), Lean("right", "0", "84"))
    boards = (Baseboard("left", "100", "1/4"),)
    assert box(width("72"), baseboards=boards, leans=leans, up_to="84").width == 72 - F(3, 4)


def test_the_back_baseboard_is_told_and_takes_nothing_off() -> None:
    boards = (Baseboard("back", "5", "1/2"), Baseboard("back", "4", "3/4"))
    found = box(width("72"), Reading("depth", "24"), baseboards=boards)
    assert (found.width, found.depth) == (72, 24)
    assert found.baseboard == (5, F(3, 4))


def test_an_open_side_needs_no_scribe() -> None:
    found = box(width("72"), open_left=True)
    assert [side.wall for side in found.sides] == ["right"]
    assert not any("left wall" in note for note in found.notes)


# --- What cannot be


@pytest.mark.parametrize(
    ("space", "told"),
    [
        (Space(readings=(width("0"),)), "more than nothing"),
        (Space(readings=(width("-3"),)), "more than nothing"),
        (Space(readings=(width("72", at="left"),)), "at the front or at the back"),
        (Space(readings=(Reading("diagonal", "44"),)), "left or right"),
        (Space(readings=(width("wide"),)), "no number"),
        (Space(leans=(Lean("left", "1", "0"),)), "more than nothing"),
        (Space(readings=(width("2"),), clearance=Clearance("1", "1")), "nothing is left of the width"),
        (Space(readings=(Reading("depth", "2"),), clearance=Clearance(back="3")), "nothing is left of the depth"),
        (Space(readings=(Reading("height", "2"),), floor_out_of_level="2"), "nothing is left of the height"),
        (Space(clearance=Clearance(left="-1")), "less than nothing"),
        (Space(floor_out_of_level="-1"), "less than nothing"),
        (Space(baseboards=(Baseboard("left", "4", "-1"),)), "less than nothing"),
        (Space(up_to="-1"), "more than nothing"),
    ],
)
def test_readings_that_cannot_be(space: Space, told: str) -> None:
    with pytest.raises(Mistake, match=told):
        find_envelope(space, read)


# --- Properties

halves = st.integers(600, 800).map(lambda n: str(F(n, 10)))
small = st.integers(0, 30).map(lambda n: str(F(n, 10)))
ways = st.integers(-30, 30).map(lambda n: str(F(n, 10)))
widths = st.builds(
    width, halves, st.sampled_from(("floor", "middle", "top")), st.sampled_from(("front", "back", "middle"))
)
depths = st.builds(Reading, st.just("depth"), halves, st.sampled_from(("floor", "middle", "top")))
leans = st.lists(st.builds(Lean, st.sampled_from(("left", "right", "back")), ways, st.just("84")), max_size=3)
boards = st.lists(st.builds(Baseboard, st.sampled_from(("left", "right", "back")), small, small), max_size=3)
spaces = st.builds(
    Space,
    readings=st.lists(widths | depths, max_size=6).map(tuple),
    leans=leans.map(tuple),
    baseboards=boards.map(tuple),
    clearance=st.builds(Clearance, small, small, small, small),
    up_to=st.just("84"),
)


def no_larger(one: Fraction | None, other: Fraction | None) -> bool:
    return one is None or other is None or one <= other


@settings(max_examples=150, deadline=None)
@given(spaces, widths | depths)
def test_a_further_reading_never_enlarges(space: Space, reading: Reading) -> None:
    if any(board.wall != "back" for board in space.baseboards):
        # Where a side wall's foot is not known its baseboard counts at the lowest width, to be safe.
        space = replace(space, readings=(width("80"), *space.readings))
    before = find_envelope(space, read)
    after = find_envelope(replace(space, readings=(*space.readings, reading)), read)
    assert no_larger(after.width, before.width)
    assert no_larger(after.depth, before.depth)


@settings(max_examples=100, deadline=None)
@given(spaces, st.sampled_from(("left", "right", "back", "top")), small)
def test_more_clearance_never_widens(space: Space, side: str, more: str) -> None:
    clearance = replace(space.clearance, **{side: str(F(getattr(space.clearance, side)) + F(more))})
    before, after = find_envelope(space, read), find_envelope(replace(space, clearance=clearance), read)
    assert no_larger(after.width, before.width)
    assert no_larger(after.depth, before.depth)


@settings(max_examples=100, deadline=None)
@given(spaces)
def test_the_box_is_never_wider_than_a_width_and_its_gaps_cover_what_varies(space: Space) -> None:
    found = find_envelope(space, read)
    read_widths = [F(reading.size) for reading in space.readings if reading.of == "width"]
    if read_widths:
        assert found.width is not None and found.width <= min(read_widths)
    for side in found.sides:
        assert 0 <= side.varies <= side.widest_gap


@settings(max_examples=60, deadline=None)
@given(spaces)
def test_left_and_right_are_treated_alike(space: Space) -> None:
    other = {"left": "right", "right": "left", "back": "back"}
    air = space.clearance
    mirrored = replace(
        space,
        leans=tuple(replace(lean, wall=other[lean.wall]) for lean in space.leans),
        baseboards=tuple(replace(board, wall=other[board.wall]) for board in space.baseboards),
        clearance=replace(air, left=air.right, right=air.left),
    )
    assert find_envelope(mirrored, read).width == find_envelope(space, read).width
