"""Lines that join, text that is clipped, and fills, on a grid that never grows."""

import unicodedata
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.drawing.canvas import Canvas, Picture
from core.drawing.glyphs import ASCII, UNICODE, Glyphs
from core.drawing.lettering import cells

ALL_GLYPHS = pytest.mark.parametrize("glyphs", [UNICODE, ASCII], ids=["unicode", "ascii"])


def drawn(canvas: Canvas) -> list[str]:
    return [row.rstrip() for row in canvas.picture().plain()]


def arms_by_name(character: str) -> tuple[int, int, int, int]:
    """The arms of a box-drawing character as the Unicode standard names them: up, right, down, left."""
    words = unicodedata.name(character).removeprefix("BOX DRAWINGS ").replace(" AND ", " ").split()
    weights = {"LIGHT": 1, "SINGLE": 1, "DOUBLE": 2}
    reach = {"UP": [0], "RIGHT": [1], "DOWN": [2], "LEFT": [3], "HORIZONTAL": [1, 3], "VERTICAL": [0, 2]}
    if words[0] in weights:
        told = [(word, weights[words[0]]) for word in words[1:]]
    else:
        told = [(word, weights[weight]) for word, weight in zip(words[::2], words[1::2], strict=True)]
    arms = [0, 0, 0, 0]
    for word, weight in told:
        for arm in reach[word]:
            arms[arm] = weight
    return arms[0], arms[1], arms[2], arms[3]


def test_every_character_that_the_standard_has_for_a_junction_is_used() -> None:
    named = {}
    for code in range(0x2500, 0x2580):
        name = unicodedata.name(chr(code))
        if not any(word in name for word in ("HEAVY", "DASH", "ARC", "DIAGONAL")):
            named[arms_by_name(chr(code))] = chr(code)
    ends = {(1, 0, 0, 0): "│", (0, 1, 0, 0): "─", (0, 0, 1, 0): "│", (0, 0, 0, 1): "─"}
    assert len(named) == 44
    for arms, character in (named | ends).items():
        assert UNICODE.join(*arms) == character, arms


@pytest.mark.parametrize("arms", list(product(range(3), repeat=4)))
def test_a_junction_shows_the_directions_that_meet(arms: tuple[int, int, int, int]) -> None:
    """Where light runs on as double, the double line hides the light one; no other arm is ever lost or made up."""
    expected = list(arms)
    for one, other in ((0, 2), (1, 3)):
        if 2 in (arms[one], arms[other]):
            expected[one], expected[other] = (2 * (arms[one] == 2), 2 * (arms[other] == 2))
    character = UNICODE.join(*arms)
    if sum(map(bool, expected)) > 1:
        assert arms_by_name(character) == tuple(expected)
    upright, across = any((arms[0], arms[2])), any((arms[1], arms[3]))
    plain = ASCII.join(*arms)
    assert plain in {(False, False): " ", (True, False): "|#", (False, True): "-=", (True, True): "+#"}[upright, across]
    assert ("#" in plain or "=" in plain) == (2 in arms and not (across and upright and 2 not in (arms[0], arms[2])))


def test_boxes_that_touch_share_their_lines() -> None:
    canvas = Canvas(13, 7, UNICODE)
    canvas.box(0, 0, 6, 4, "outline")
    canvas.box(6, 0, 12, 4, "outline")
    canvas.box(3, 4, 9, 6, "outline")
    canvas.horizontal(0, 12, 2, "outline")
    assert drawn(canvas) == [
        "┌─────┬─────┐",
        "│     │     │",
        "├─────┼─────┤",
        "│     │     │",
        "└──┬──┴──┬──┘",
        "   │     │",
        "   └─────┘",
    ]


def test_a_double_box_stays_whole_among_light_ones() -> None:
    canvas = Canvas(11, 5, UNICODE)
    canvas.box(0, 0, 10, 4, "outline")
    canvas.vertical(5, 0, 4, "outline")
    canvas.horizontal(0, 10, 2, "outline")
    canvas.box(5, 0, 10, 2, "selected", "strong")
    assert drawn(canvas) == [
        "┌────╔════╗",
        "│    ║    ║",
        "├────╚════╝",
        "│    │    │",
        "└────┴────┘",
    ]
    canvas.box(2, 2, 8, 4, "selected", "strong")
    assert drawn(canvas)[2] == "├─╔══╩══╦═╝"


def test_ascii_lines() -> None:
    canvas = Canvas(11, 4, ASCII)
    canvas.box(0, 0, 10, 3, "outline")
    canvas.vertical(5, 0, 3, "outline")
    canvas.box(0, 0, 5, 3, "selected", "strong")
    assert drawn(canvas) == [
        "#====#----+",
        "#    #    |",
        "#    #    |",
        "#====#----+",
    ]


def test_dashed_lines_join_what_they_meet() -> None:
    canvas = Canvas(9, 5, UNICODE)
    canvas.box(0, 0, 8, 4, "outline")
    canvas.vertical(4, 0, 4, "outline")
    canvas.horizontal(0, 8, 2, "hidden", "dashed")
    assert drawn(canvas)[2] == "├┄┄┄┼┄┄┄┤"


def test_what_is_hidden_leaves_no_arms_inside() -> None:
    canvas = Canvas(9, 5, UNICODE)
    canvas.horizontal(0, 8, 2, "outline")
    canvas.vertical(4, 0, 4, "outline")
    canvas.hide(2, 1, 6, 3)
    canvas.box(2, 1, 6, 3, "outline")
    assert drawn(canvas) == [
        "    │",
        "  ┌─┴─┐",
        "──┤   ├──",
        "  └─┬─┘",
        "    │",
    ]


def test_a_frame_without_extent() -> None:
    canvas = Canvas(5, 3, UNICODE)
    canvas.box(0, 0, 0, 2, "outline")
    canvas.box(2, 1, 4, 1, "outline")
    assert drawn(canvas) == ["│", "│ ───", "│"]
    canvas.box(3, 1, 3, 1, "selected", "strong")
    canvas.box(4, 0, 4, 0, "outline")
    assert drawn(canvas) == ["│   ┼", "│ ─═─", "│"]


@ALL_GLYPHS
def test_text_is_clipped_and_a_halved_wide_character_is_blank(glyphs: Glyphs) -> None:
    canvas = Canvas(6, 2, glyphs)
    canvas.text(-2, 0, "abcdefghij", "label")
    assert drawn(canvas)[0] == "cdefgh"
    if glyphs is UNICODE:
        canvas.text(-1, 0, "板材板", "label")
        assert canvas.picture().plain()[0] == " 材板h"
        canvas.text(3, 0, "x", "label")
        assert canvas.picture().plain()[0] == " 材x h"
        canvas.text(1, 0, "y", "label")
        assert canvas.picture().plain()[0] == " y x h"
        canvas.text(5, 1, "板", "label")
        assert canvas.picture().plain()[1] == "      "


def test_spans_join_cells_of_one_role() -> None:
    canvas = Canvas(8, 1, UNICODE)
    canvas.text(1, 0, "ab", "label")
    canvas.text(3, 0, "cd", "cut")
    (row,) = canvas.picture().rows
    assert [(span.text, span.role) for span in row] == [(" ", ""), ("ab", "label"), ("cd", "cut"), ("   ", "")]


def test_a_pattern_lies_still() -> None:
    whole, pieces = Canvas(12, 3, UNICODE), Canvas(12, 3, UNICODE)
    whole.fill(0, 0, 11, 2, UNICODE.offcut, "offcut")
    pieces.fill(0, 0, 4, 2, UNICODE.offcut, "offcut")
    pieces.fill(5, 0, 20, 1, UNICODE.offcut, "offcut")
    pieces.fill(5, 2, 20, 9, UNICODE.offcut, "offcut")
    assert whole.picture() == pieces.picture()


PLACE = st.integers(-4, 16)
MARKS = st.one_of(
    st.tuples(st.just("text"), PLACE, PLACE, st.text(max_size=12)),
    st.tuples(st.just("box"), PLACE, PLACE, PLACE, PLACE, st.sampled_from(["light", "strong", "dashed"])),
    st.tuples(st.just("fill"), PLACE, PLACE, PLACE, PLACE),
    st.tuples(st.just("hide"), PLACE, PLACE, PLACE, PLACE),
    st.tuples(st.just("run"), PLACE, PLACE, PLACE),
)


def scribbled(columns: int, rows: int, marks: list, glyphs: Glyphs) -> Picture:
    canvas = Canvas(columns, rows, glyphs)
    for mark, *places in marks:
        if mark == "text":
            canvas.text(*places, "label")
        elif mark == "box":
            *places, weight = places
            canvas.box(*places, "outline", weight)
        elif mark == "fill":
            canvas.fill(*places, glyphs.waste, "waste")
        elif mark == "hide":
            canvas.hide(*places)
        else:
            x1, x2, y = places
            canvas.run(x1, y, x2, y, "cut", glyphs.cut_across, (glyphs.heads[0], glyphs.heads[1]))
    return canvas.picture()


@ALL_GLYPHS
@settings(deadline=None)
@given(columns=st.integers(-1, 14), rows=st.integers(-1, 6), marks=st.lists(MARKS, max_size=8))
def test_whatever_is_drawn_the_picture_keeps_its_size(columns: int, rows: int, marks: list, glyphs: Glyphs) -> None:
    lines = scribbled(columns, rows, marks, glyphs).plain()
    assert len(lines) == max(rows, 0)
    assert all(cells(line) == max(columns, 0) for line in lines)
    assert glyphs is UNICODE or all(line.isascii() and line.isprintable() for line in lines)
