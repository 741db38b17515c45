"""Text that anybody may have typed, in a grid that must not break."""

import unicodedata
from textwrap import wrap

from hypothesis import given, settings
from hypothesis import strategies as st

from core.drawing.glyphs import ASCII, UNICODE
from core.drawing.lettering import broken, cells, clean, clusters, fitted, padded

ANY_TEXT = st.text(max_size=40)
ANY_GLYPHS = st.sampled_from([UNICODE, ASCII])


def test_control_characters_are_seen_and_do_nothing() -> None:
    assert clean("side\x1b[31m\x00", UNICODE) == "side�[31m�"
    assert clean("side\x1b[31m\x00", ASCII) == "side?[31m?"
    assert clean("two\tlines\r\nhere", UNICODE) == "two lines  here"


def test_characters_that_turn_or_hide_text_are_seen() -> None:
    assert clean("left\u202eright\u200b\ufeff", UNICODE) == "left�right��"
    assert clean("A\ufe0f", UNICODE) == "A"


def test_ascii_spells_what_it_can() -> None:
    assert clean("Höhe 20 × 30 – Bücherregal", ASCII) == "Hohe 20 x 30 - Bucherregal"
    assert clean("板", ASCII) == "?"


def test_a_fraction_is_never_glued_to_its_whole_number() -> None:
    assert clean("17½ in, ¾ ply", ASCII) == "17 1/2 in, 3/4 ply"


def test_wide_characters_take_two_cells_and_marks_none() -> None:
    assert cells(clean("合板 18", UNICODE)) == 7
    assert cells(clean("e\u0301x\u0323\u0330", UNICODE)) == 2
    assert list(clusters("板e\u0330")) == [("板", 2), ("e\u0330", 1)]


@settings(deadline=None)
@given(ANY_TEXT, ANY_GLYPHS)
def test_cleaning_twice_changes_nothing_and_leaves_nothing_that_moves_the_cursor(text: str, glyphs) -> None:
    once = clean(text, glyphs)
    assert clean(once, glyphs) == once
    assert not [c for c in once if unicodedata.category(c) in ("Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp")]
    assert glyphs is UNICODE or once.isascii()
    assert sum(width for _, width in clusters(once)) == cells(once)
    assert "".join(cluster for cluster, _ in clusters(once)) == once


@settings(deadline=None)
@given(ANY_TEXT, st.integers(0, 20), ANY_GLYPHS)
def test_fitted_text_is_never_wider_than_asked(text: str, width: int, glyphs) -> None:
    whole = clean(text, glyphs)
    short = fitted(whole, width, glyphs)
    assert cells(short) <= width
    assert short == whole or cells(whole) > width


@settings(deadline=None)
@given(ANY_TEXT, st.integers(4, 20), ANY_GLYPHS, st.sampled_from(["", "  "]))
def test_a_broken_text_has_no_line_that_is_too_wide_and_loses_nothing(text: str, width: int, glyphs, hang: str) -> None:
    whole = clean(text, glyphs)
    lines = broken(whole, width, hang)
    assert all(cells(line) <= width for line in lines)
    assert all(line.startswith(hang) for line in lines[1:])
    assert "".join("".join(lines).split()) == "".join(whole.split())


@settings(deadline=None)
@given(st.text("ab,-/ ", max_size=60), st.integers(6, 20))
def test_a_text_without_wide_characters_is_broken_as_text_is(text: str, width: int) -> None:
    text = " ".join(word[: width - 2] for word in text.split())
    assert broken(text, width, "  ") == wrap(text, width, subsequent_indent="  ", break_on_hyphens=False)


def test_wide_characters_are_counted_where_a_text_is_broken_or_padded() -> None:
    assert broken("合板 合板合板 板", 9, " ") == ["合板", " 合板合板", " 板"]
    assert broken("合板合板合板", 9, "  ") == ["合板合板", "  合板"]
    assert padded("合板", 6) == "合板  " and padded("合板", 3) == "合板"
