"""From millimetres to cells: order is kept, and what is to be seen has room where there is any."""

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.drawing.scale import THIN, Scale, Stretch, fit_scale, steps_needed

LENGTHS = st.fractions(min_value=0, max_value=1000, max_denominator=64)
STRETCHES = st.lists(
    st.tuples(LENGTHS, LENGTHS).filter(lambda pair: pair[0] != pair[1]).map(lambda pair: (min(pair), max(pair))),
    max_size=12,
)
WHOLE: Stretch = (Fraction(0), Fraction(1000))


def mm(*lengths: float) -> Stretch:
    low, high = lengths
    return Fraction(low), Fraction(high)


def steps(scale: Scale, stretch: Stretch) -> int:
    return scale.at(stretch[1]) - scale.at(stretch[0])


def test_in_proportion() -> None:
    scale = fit_scale(WHOLE, 50, [mm(200, 400)], [])
    assert [scale.at(Fraction(x)) for x in (0, 200, 300, 400, 1000)] == [0, 10, 15, 20, 50]
    assert [scale.at(Fraction(x)) for x in (-5, 1005)] == [0, 50]


def test_a_narrow_part_gets_a_cell_to_itself_and_the_error_goes_to_both_sides() -> None:
    # 500 mm of 1000 is cell 10 of 20, and so is 504: two steps apart they are 9 and 11.
    scale = fit_scale(WHOLE, 20, [mm(500, 504)], [])
    assert [scale.at(Fraction(x)) for x in (0, 500, 504, 1000)] == [0, 9, 11, 20]


def test_narrow_parts_at_both_ends_stay_inside() -> None:
    scale = fit_scale(WHOLE, 20, [mm(0, 1), mm(999, 1000)], [])
    assert [scale.at(Fraction(x)) for x in (0, 1, 999, 1000)] == [0, 2, 18, 20]


def test_where_not_all_have_room_the_widest_are_served_first() -> None:
    strips = [mm(0, 30), mm(30, 70), mm(70, 100)]
    scale = fit_scale(mm(0, 100), 4, strips, [])
    assert [steps(scale, strip) for strip in strips] == [1, 2, 1]
    scale = fit_scale(mm(0, 100), 2, strips, [])
    assert [steps(scale, strip) for strip in strips] == [1, 1, 0]


def test_what_is_thinner_than_a_cell_comes_to_one_line() -> None:
    # A board of 18 mm at 20 mm a cell, from 590 to 608: rounding alone would give two lines, cells 29 (29.5) and 30.
    scale = fit_scale(WHOLE, 50, [mm(0, 590), mm(608, 1000)], [mm(590, 608)])
    assert scale.at(Fraction(590)) == scale.at(Fraction(608)) == 30


def test_a_wide_stretch_is_never_lost_in_thin_ones() -> None:
    scale = fit_scale(WHOLE, 20, [mm(500, 510)], [mm(490, 500), mm(490, 512)])
    assert steps(scale, mm(500, 510)) == 2


@settings(deadline=None)
@given(cells=st.integers(0, 60), wide=STRETCHES, thin=STRETCHES)
def test_order_is_kept_from_end_to_end(cells: int, wide: list[Stretch], thin: list[Stretch]) -> None:
    scale = fit_scale(WHOLE, cells, wide, thin)
    stops = sorted({*WHOLE, *(stop for stretch in (*wide, *thin) for stop in stretch)})
    places = [scale.at(stop) for stop in stops]
    assert places[0] == 0
    assert places[-1] == cells
    assert places == sorted(places)
    between = [scale.at((low + high) / 2) for low, high in pairwise(stops)]
    assert all(a <= m <= b for a, m, b in zip(places, between, places[1:], strict=False))


@settings(deadline=None)
@given(cells=st.integers(1, 60), wide=STRETCHES, thin=STRETCHES)
def test_every_wide_stretch_has_a_cell_if_the_longest_chain_of_them_has(
    cells: int, wide: list[Stretch], thin: list[Stretch]
) -> None:
    # An oracle of its own: the most stretches that follow one another without overlap (earliest end first).
    chain, reached = 0, Fraction(0)
    for low, high in sorted(wide, key=lambda stretch: stretch[1]):
        if low >= reached:
            chain, reached = chain + 1, high
    scale = fit_scale(WHOLE, cells, wide, thin)
    if 2 * chain <= cells:
        assert all(steps(scale, stretch) >= 2 for stretch in wide)
    elif chain <= cells:
        assert all(steps(scale, stretch) >= 1 for stretch in wide)


@settings(deadline=None)
@given(cells=st.integers(1, 60), stretch=st.tuples(LENGTHS, LENGTHS).map(sorted))
def test_a_lone_thin_stretch_is_one_line_exactly_where_it_is_thinner_than_told(cells: int, stretch: list) -> None:
    low, high = stretch
    is_thin = (high - low) * cells < THIN * 1000 and (low, high) != WHOLE
    scale = fit_scale(WHOLE, cells, [], [(low, high)])
    if is_thin and low > 0 and high < 1000:
        assert scale.at(low) == scale.at(high)
    if (high - low) * cells >= THIN * 1000:
        assert scale.at(low) < scale.at(high)


@pytest.mark.parametrize("cells", [0, 1])
def test_no_room_at_all(cells: int) -> None:
    scale = fit_scale(WHOLE, cells, [mm(10, 20), mm(20, 400)], [mm(10, 12)])
    assert [scale.at(Fraction(x)) for x in (0, 1000)] == [0, cells]


def test_what_is_to_be_apart_gets_a_step_each_where_all_of_it_has_room() -> None:
    rows = [mm(0, 10), mm(10, 20), mm(20, 30)]
    scale = fit_scale(WHOLE, 10, [], [], apart=rows)
    assert [steps(scale, row) for row in rows] == [1, 1, 1]
    scale = fit_scale(WHOLE, 5, [mm(30, 1000)], [], apart=rows)
    assert [scale.at(Fraction(x)) for x in (0, 10, 20, 30, 1000)] == [0, 1, 2, 3, 5]
    scale = fit_scale(WHOLE, 2, [], [], apart=[*rows, mm(30, 1000)])
    assert [steps(scale, row) for row in rows] == [0, 0, 0], "else all of it is as in proportion"


def test_the_fewest_steps_are_those_of_the_longest_chain() -> None:
    wide, rows = [mm(100, 118), mm(500, 518)], [mm(0, 100), mm(118, 300), mm(300, 500)]
    assert steps_needed(WHOLE, wide, []) == 4
    assert steps_needed(WHOLE, wide, rows) == 7
    assert steps_needed(WHOLE, [mm(100, 300), mm(200, 400)], []) == 2, "what lies side by side shares them"
    assert steps_needed(WHOLE, [], []) == 0


@settings(deadline=None)
@given(wide=STRETCHES, apart=STRETCHES)
def test_with_the_fewest_steps_everything_has_its_room(wide: list[Stretch], apart: list[Stretch]) -> None:
    needed = max(steps_needed(WHOLE, wide, apart), 1)
    scale = fit_scale(WHOLE, needed, wide, [], apart=apart)
    assert all(steps(scale, stretch) >= 2 for stretch in wide)
    assert all(steps(scale, stretch) >= 1 for stretch in apart)
