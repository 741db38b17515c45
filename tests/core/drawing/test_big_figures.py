"""One size in figures that are read from across the shop."""

from itertools import combinations, groupby, zip_longest

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.drawing.big_figures import draw_big
from core.drawing.canvas import ROLES
from core.drawing.glyphs import ASCII, UNICODE, Glyphs
from core.lengths import Notation

ALL_GLYPHS = pytest.mark.parametrize("glyphs", [UNICODE, ASCII], ids=["unicode", "ascii"])
ANY_GLYPHS = st.sampled_from([UNICODE, ASCII])
HEIGHTS = (5, 7, 9, 11, 14, 21)

NOTATIONS = [Notation.read(f"in 1/{parts}", "in") for parts in (8, 16, 32, 64)]
NOTATIONS += [Notation.read(f"mm {step}", "mm") for step in ("1", "0.5", "0.1")]
LENGTHS = st.fractions(min_value=-100, max_value=10_000, max_denominator=640)
SIZES = st.builds(lambda notation, length: notation.with_unit(length), st.sampled_from(NOTATIONS), LENGTHS)


def drawn(text: str, width: int, height: int, glyphs: Glyphs = UNICODE) -> list[str]:
    return draw_big(text, width, height, glyphs).plain()


def right_borders_off(rows: list[str]) -> list[str]:
    return [row.rstrip() for row in rows]


def ink(rows: list[str]) -> int:
    """How many half cells are filled."""
    return sum({" ": 0, "▀": 1, "▄": 1}.get(cell, 2) for row in rows for cell in row)


def blank_columns(rows: list[str]) -> list[tuple[int, int]]:
    """Each run of columns in which nothing is drawn: its length and where it begins."""
    columns = [all(cell == " " for cell in column) for column in zip(*rows, strict=True)]
    runs, start = [], 0
    for blank, run in groupby(columns):
        length = len(list(run))
        if blank:
            runs.append((length, start))
        start += length
    return runs


def test_a_whole_number_and_a_fraction_by_hand() -> None:
    assert right_borders_off(drawn("17 5/8 in", 78, 9)) == [
        "   ███   ████████████         ████████████            ███      ██████",
        "▄▄▄███   ▀▀▀▀▀▀▀▀▀███         ███▀▀▀▀▀▀▀▀▀            ███   ▄▄▄▀▀▀▀▀▀▄▄▄",
        "▀▀▀███            ███         ███                  ▄▄▄▀▀▀   ███      ███",
        "   ███         ▄▄▄▀▀▀         ███▄▄▄▄▄▄            ███      ▀▀▀▄▄▄▄▄▄▀▀▀",
        "   ███         ███            █████████            ███         ██████",
        "   ███         ███                     ███      ███         ███      ███",
        "   ███      ███                        ███   ███            ███      ███",
        "   ███      ███               ▄▄▄▄▄▄▄▄▄▀▀▀   ███            ▀▀▀▄▄▄▄▄▄▀▀▀",
        "   ███      ███               █████████      ███               ██████    in",
    ]


def test_a_rounded_decimal_and_a_smaller_unit_by_hand() -> None:
    assert right_borders_off(drawn("~302.9 mm", 78, 5)) == [
        "          ██████      ████      ████            ████",
        "                ██  ██    ██  ██    ██        ██    ██",
        "  ██  ██    ████    ██    ██      ██            ██████    ██████    ██████",
        "██  ██          ██  ██    ██    ██                  ██    ██ ██ ██  ██ ██ ██",
        "          ██████      ████    ████████  ████  ██████      ██ ██ ██  ██ ██ ██",
    ]


def test_every_figure_in_plain_characters() -> None:
    assert right_borders_off(drawn("1234567890", 94, 7, ASCII)) == [
        "  ##    ####    ######    ##    ##  ########    ######  ########    ####      ####      ####",
        "####  ##    ##        ##  ##    ##  ##        ##              ##  ##    ##  ##    ##  ##    ##",
        "  ##        ##        ##  ##    ##  ##        ##              ##  ##    ##  ##    ##  ##    ##",
        "  ##      ##      ####    ##    ##  ######    ######        ##      ####      ######  ##    ##",
        "  ##    ##            ##  ########        ##  ##    ##      ##    ##    ##        ##  ##    ##",
        "  ##  ##              ##        ##        ##  ##    ##    ##      ##    ##        ##  ##    ##",
        "  ##  ########  ######          ##  ######      ####      ##        ####    ######      ####",
    ]


@ALL_GLYPHS
@pytest.mark.parametrize("height", HEIGHTS)
def test_figures_are_as_high_as_there_is_room_for(height: int, glyphs: Glyphs) -> None:
    assert len(drawn("17 5/8 in", 200, height, glyphs)) == height
    assert len(drawn("17 5/8 in", 200, height + 1, glyphs)) == height


def test_figures_become_narrower_before_the_number_becomes_plain() -> None:
    widths = [len(drawn("46 15/16", width, 11)[0]) for width in (120, 90, 70, 60)]
    assert widths == sorted(widths, reverse=True)
    assert len(set(widths)) == 4
    assert drawn("46 15/16", 40, 11) == ["46 15/16"]


def test_every_likely_size_is_big_in_an_ordinary_terminal() -> None:
    for parts in (2, 4, 8, 16, 32, 64):
        for numerator in range(1, parts, 2):
            assert len(drawn(f"~107 {numerator}/{parts} in", 78, 9)) >= 7
    assert len(drawn("~46 15/16 in", 78, 9)) == 9
    assert len(drawn("~2438.9 mm", 78, 9)) == 9


@ALL_GLYPHS
@pytest.mark.parametrize("text", ["17 5/8 in", "~302.9 mm", "8"])
def test_without_room_the_size_is_written_whole_on_one_row(text: str, glyphs: Glyphs) -> None:
    for width, height in ((78, 4), (5, 11), (0, 0), (-3, -3)):
        assert drawn(text, width, height, glyphs) == [text]


def test_what_is_no_size_is_written_as_it_is() -> None:
    assert drawn("", 78, 11) == [""]
    assert drawn("in", 78, 11) == ["in"]
    assert drawn("5' 4 1/2\"", 78, 11) == ["5' 4 1/2\""]
    assert drawn("set\x1b[2J 合", 78, 11, ASCII) == ["set?[2J ?"]


def test_a_unit_without_large_letters_stands_at_the_foot() -> None:
    rows = drawn("44.8 cm", 78, 7)
    assert len(rows) == 7
    assert [row for row in rows if "cm" in row] == [rows[-1]]


@ALL_GLYPHS
@pytest.mark.parametrize("height", HEIGHTS)
@pytest.mark.parametrize("width", [6, 8, 10, 12, 100])
def test_no_two_figures_look_alike(width: int, height: int, glyphs: Glyphs) -> None:
    figures = {figure: drawn(figure, width, height, glyphs) for figure in "0123456789"}
    for one, other in combinations(figures, 2):
        rows = zip_longest(figures[one], figures[other], fillvalue="")
        differing = sum(a != b for left, right in rows for a, b in zip_longest(left, right, fillvalue=" "))
        assert differing >= 5, (one, other)


@ALL_GLYPHS
@pytest.mark.parametrize("height", HEIGHTS)
def test_a_point_and_a_mark_before_the_number_are_solid(height: int, glyphs: Glyphs) -> None:
    bare = drawn("5134", 200, height, glyphs)
    for text in ("513.4", "~5134", "-5134"):
        rows = drawn(text, 200, height, glyphs)
        assert len(rows[0]) >= len(bare[0]) + 6
        assert ink(rows) >= ink(bare) + 8


@settings(deadline=None)
@given(st.integers(0, 999), st.integers(1, 63), st.integers(30, 300), st.integers(5, 30), ANY_GLYPHS)
def test_a_fraction_is_as_high_as_its_whole_number_and_well_apart(
    whole: int, numerator: int, width: int, height: int, glyphs: Glyphs
) -> None:
    rows = drawn(f"{whole} {numerator}/64", width, height, glyphs)
    if len(rows) == 1:
        return
    (gap, start), (next_gap, _), *_ = sorted(blank_columns(rows), reverse=True)
    assert gap >= 2 * next_gap
    for part in ([row[:start] for row in rows], [row[start + gap :] for row in rows]):
        assert part[0].strip()
        assert part[-1].strip()


@settings(deadline=None)
@given(SIZES, ANY_GLYPHS)
def test_every_size_can_be_drawn(text: str, glyphs: Glyphs) -> None:
    rows = drawn(text, 1000, 30, glyphs)
    assert len(rows) == 21
    assert set("".join(rows)) <= set(" ▀▄█" if glyphs is UNICODE else " #")


@settings(deadline=None)
@given(SIZES, st.integers(-2, 200), st.integers(-2, 25), ANY_GLYPHS)
def test_nothing_is_larger_than_asked_or_uneven(text: str, width: int, height: int, glyphs: Glyphs) -> None:
    picture = draw_big(text, width, height, glyphs)
    rows = picture.plain()
    assert all(span.role in ROLES for row in picture.rows for span in row)
    assert len({len(row) for row in rows}) == 1
    assert glyphs is UNICODE or "".join(rows).isascii()
    if len(rows) == 1:
        assert rows == [text]
    else:
        assert len(rows[0]) <= width
        assert len(rows) <= height


@settings(deadline=None)
@given(SIZES, st.integers(0, 200), st.integers(0, 25), st.integers(0, 60), st.integers(0, 10), ANY_GLYPHS)
def test_more_room_never_gives_smaller_figures(
    text: str, width: int, height: int, wider: int, higher: int, glyphs: Glyphs
) -> None:
    less, more = drawn(text, width, height, glyphs), drawn(text, width + wider, height + higher, glyphs)
    assert len(less) <= len(more)
    number = text.rsplit(" ", 1)[0]
    less, more = drawn(number, width, height, UNICODE), drawn(number, width + wider, height + higher, UNICODE)
    assert len(less[0]) <= len(more[0])
    assert len(less) == 1 or ink(less) <= ink(more)
