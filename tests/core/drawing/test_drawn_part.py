"""The drawing of a finished panel: checked by hand, and by chance at any size."""

import re
from dataclasses import replace
from fractions import Fraction
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sheets_to_draw import INCH, inches

from core.construction.part import BandedEdge, Box, Holes, Machining, Part
from core.drawing.blocks import Block
from core.drawing.canvas import ROLES, Picture
from core.drawing.glyphs import ASCII, UNICODE, Glyphs
from core.drawing.lettering import cells
from core.drawing.part import draw_part
from core.drawing.part_marks import Lanes, tell
from core.drawing.part_seen import seen
from core.drawing.part_shape import Edge, fit_shape
from core.lengths import Notation

IN = Notation.read("in 1/32", "in")
ALL_GLYPHS = pytest.mark.parametrize("glyphs", [UNICODE, ASCII], ids=["unicode", "ascii"])
UNHURRIED = settings(deadline=None, max_examples=60)
NONE = Fraction(0)


def cut(kind, place, x, y, length, width, depth=None, face=None) -> Machining:
    return Machining(kind, place, *inches(x, y, length, width), None if depth is None else Fraction(depth) * INCH, face)


def side(*machining: Machining, edges=(), grain="length", hand="left", width=24, length=48) -> Part:
    """A side of 3/4 in: its length stands, its front edge is where its width begins."""
    box = Box((NONE, NONE, NONE), tuple(inches("3/4", width, length)))
    banded = tuple(BandedEdge(edge, "oak", NONE) for edge in edges)
    return Part("A", "side", hand or "", "Side", "ply", box, "z", "y", grain, banded, machining, hand=hand)


def lines(picture: Picture) -> list[str]:
    return [row.rstrip() for row in picture.plain()]


KICK = cut("notch", "lower front corner", 0, 0, 8, 8)


def test_a_side_with_its_kick_notch_by_hand() -> None:
    # 48 in over 30 columns, 24 in over 8 rows (7.5 and rounded): the notch is 8 in, so 5 columns and 3 rows.
    assert lines(draw_part(side(KICK, edges=["width-"]), 50, 12, IN, UNICODE)) == [
        "Side  left hand  ply  3/4 thick",
        "         ◄───────────── 48 ─────────────►",
        "         ┌──────────── back ────────────┐ ▲",
        "         │                              │ │",
        "         │                              │ │",
        "         │  ←──────── grain ────────→   │ │",
        "bottom   │         left face up         │ 24 top",
        "   end ▲ └────┐                         │ │  end",
        "       8      │                         │ │",
        "       │      │                         │ │",
        "       ▼      ╘══════ front: oak ═══════╛ ▼",
        "         ◄ 8 ─►",
    ]


def test_the_same_in_ascii() -> None:
    assert lines(draw_part(side(KICK, edges=["width-"]), 50, 12, IN, ASCII))[5:] == [
        "         |  <-------- grain -------->   | |",
        "bottom   |         left face up         | 24 top",
        "   end ^ +----+                         | |  end",
        "       8      |                         | |",
        "       |      |                         | |",
        "       v      +====== front: oak =======+ v",
        "         < 8 ->",
    ]


def test_a_rabbet_is_a_line_and_a_notch_in_an_edge_says_where_it_starts() -> None:
    part = side(
        cut("rabbet", "back edge", 0, 20, 48, 4, "1/4", "low"),
        cut("notch", "front edge", 12, 0, 12, 4),
        edges=["length+"],
        grain="none",
        hand="right",
    )
    assert lines(draw_part(part, 76, 18, IN, UNICODE)) == [
        "Side  right hand  ply  3/4 thick",
        "          ◄─────────────────────── 48 ────────────────────────►",
        "          ┌────────────────────── back ───────────────────────╖ ▲",
        "          │              rabbet 4 wide, 1/4 deep              ║ │",
        "          ├───────────────────────────────────────────────────╢ │",
        "          │                                                   ║ │",
        "          │                                                   ║ │",
        "          │                                                   ║ │  top",
        "   bottom │                   left face up                    ║ 24 end",
        "      end │                                                   ║ │  oak",
        "          │                                                   ║ │",
        "          │                                                   ║ │",
        "          │                                                   ║ │",
        "          │            ┌────────────┐ ▲                       ║ │",
        "          │            │            │ 4                       ║ │",
        "          └────────────┘            └─▼─────── front ─────────╜ ▼",
        "                       ◄──── 12 ────►",
        "          ◄──── 12 ────►",
    ]
    assert lines(draw_part(part, 20, 8, IN, UNICODE)) == [
        "Side  48 x 24  ply",
        " ┌──── back ─────╖",
        " │       a       ║",
        " ├───┬───┬───────╢",
        " │   │ b │       ║",
        " └───┘   └───────╜",
        "left face up",
        "+ 2 more",
    ]


def test_a_hole_is_measured_from_the_end_and_from_the_edge() -> None:
    drawn = "\n".join(lines(draw_part(side(cut("notch", "middle", 10, 6, 5, 7)), 116, 34, IN, UNICODE)))
    assert all(re.search(rf"\b{number}\b", drawn) for number in (48, 24, 10, 6, 5, 7))
    assert drawn.count("┌") == drawn.count("└") == 2


def test_a_rabbet_stops_at_a_notch() -> None:
    """It is in the right face, so that one is up, and the bottom end is at the right."""
    rabbet, notch = cut("rabbet", "back edge", 0, 20, 48, 4, "1/4", "high"), cut("notch", "corner", 0, 16, 12, 8)
    drawn = lines(draw_part(side(rabbet, notch, grain="none"), 76, 18, IN, UNICODE))
    assert [line[36:] for line in drawn[3:10]] == [
        "──────────┐               ▲ ▲",
        "1/4 deep  │               │ │",
        "──────────┤               8 │",
        "          │               │ │",
        "          │               │ │",
        "          └─────────────┐ ▼ │",
        "                        │   │",
    ]


def test_grain_across_the_length_stands_and_no_grain_is_not_drawn() -> None:
    stands = "\n".join(lines(draw_part(side(grain="width"), 76, 18, IN, UNICODE)))
    assert re.search(r"↑.*\n.*grain.*\n.*↓", stands)
    assert "grain" not in "\n".join(lines(draw_part(side(grain="none"), 76, 18, IN, UNICODE)))


def test_every_banded_edge_is_a_stroke_with_its_name() -> None:
    part = side(edges=["width-", "width+", "length-", "length+"])
    drawn = "\n".join(lines(draw_part(part, 76, 18, IN, UNICODE)))
    assert all(corner in drawn for corner in "╔╗╚╝")
    assert "front: oak" in drawn
    assert "back: oak" in drawn
    assert drawn.count("oak") == 4
    assert not set("┌┐└┘") & set(drawn)


def test_a_panel_notched_at_all_corners_has_a_closed_outline() -> None:
    corners = [cut("notch", "corner", x, y, 6, 5) for x in (0, 42) for y in (0, 19)]
    drawn = "\n".join(lines(draw_part(side(*corners, grain="none"), 116, 34, IN, UNICODE)))
    assert [drawn.count(corner) for corner in "┌┐└┘"] == [3, 3, 3, 3]


EIGHTHS = st.integers(1, 96 * 8).map(lambda count: Fraction(count, 8))


@st.composite
def any_part(draw: st.DrawFn) -> Part:
    """Any panel with up to four rectangles cut out of it or into it and three rows of holes, wherever they lie."""
    length, width = draw(EIGHTHS), draw(EIGHTHS)
    faces = st.sampled_from(["low", "high"])
    machining = []
    for _ in range(draw(st.integers(0, 4))):
        x, x_end = sorted(draw(st.tuples(*[st.integers(0, 8)] * 2).filter(lambda ends: ends[0] != ends[1])))
        y, y_end = sorted(draw(st.tuples(*[st.integers(0, 8)] * 2).filter(lambda ends: ends[0] != ends[1])))
        place = length * x / 8, width * y / 8, length * (x_end - x) / 8, width * (y_end - y) / 8
        kind = draw(st.sampled_from(["rabbet", "dado", "groove", "notch", "cutout"]))
        depth, face = (None, None) if kind in ("notch", "cutout") else ("1/4", draw(faces))
        machining.append(cut(kind, draw(st.text(max_size=12)), *place, depth, face))
    rows = []
    for _ in range(draw(st.integers(0, 3))):
        along, count = draw(st.sampled_from(["length", "width"])), draw(st.integers(1, 20))
        x, y = (INCH * side * draw(st.integers(1, 31)) / 32 for side in (length, width))
        pitch = INCH * (length - x / INCH if along == "length" else width - y / INCH) / (count + 1)
        depth = draw(st.sampled_from([None, INCH / 2]))
        rows.append(Holes(draw(st.text(max_size=12)), x, y, count, pitch, along, INCH / 5, depth, draw(faces)))
    edges = draw(st.sets(st.sampled_from(["length-", "length+", "width-", "width+"])))
    grain, hand = draw(st.sampled_from(["length", "width", "none"])), draw(st.sampled_from(["left", "right", None]))
    part = side(*dict.fromkeys(machining), edges=sorted(edges), grain=grain, hand=hand, width=width, length=length)
    return replace(part, holes=tuple(dict.fromkeys(rows)))


@ALL_GLYPHS
@UNHURRIED
@given(part=any_part(), columns=st.integers(0, 130), rows=st.integers(0, 40))
def test_any_part_at_any_size_keeps_to_its_columns_and_rows(
    part: Part, columns: int, rows: int, glyphs: Glyphs
) -> None:
    picture = draw_part(part, columns, rows, IN, glyphs)
    assert len(picture.rows) == rows
    assert all(cells(line) == columns for line in picture.plain())
    assert {span.role for row in picture.rows for span in row} <= set(ROLES)
    assert glyphs is UNICODE or "".join(picture.plain()).isascii()


@UNHURRIED
@given(part=any_part(), columns=st.integers(2, 130), rows=st.integers(2, 40))
def test_the_outline_closes(part: Part, columns: int, rows: int) -> None:
    """At every place where it might turn, an even number of stretches meet."""
    shape = fit_shape(part, 0, 0, columns, rows, Fraction(2))
    meeting: dict[tuple[int, int], int] = {}
    for edge in shape.outline():
        assert edge.x1 == edge.x2 or edge.y1 == edge.y2
        if (edge.x1, edge.y1) == (edge.x2, edge.y2):
            continue
        for end in ((edge.x1, edge.y1), (edge.x2, edge.y2)):
            meeting[end] = meeting.get(end, 0) + 1
    assert not [end for end, count in meeting.items() if count % 2]


@UNHURRIED
@given(part=any_part())
def test_every_size_is_told_on_the_usual_screens(part: Part) -> None:
    """In a dimension, inside a rabbet, or in a note: nothing that has to be marked out is missing."""
    for columns, rows in ((76, 26), (116, 34)):
        drawn = "\n".join(draw_part(part, columns, rows, IN, ASCII).plain())
        told = [part.length, part.width, *(m.depth for m in part.machining if m.depth is not None)]
        for m in part.machining:
            if m.kind not in ("dado", "groove"):
                told += [m.length, m.width]
            elif m.kind == "dado":
                told += [m.length, m.x, *filter(None, [m.y, part.width - m.y - m.width])]
            else:
                told += [m.width, *filter(None, [m.x, part.length - m.x - m.length])]
        for holes in part.holes:
            told += [holes.diameter, *([holes.depth] if holes.depth else []), *([holes.pitch] * (holes.count > 1))]
            told += [holes.x]
        for length in told:
            assert is_told(length, drawn)
        # Across it is measured from one edge or from the other.
        across = [(m.y, m.width) for m in part.machining if m.kind == "groove"]
        across += [(h.y, h.centres()[-1][1] - h.y) for h in part.holes]
        assert all(is_told(y, drawn) or is_told(part.width - y - width, drawn) for y, width in across)


def is_told(length: Fraction, drawn: str) -> bool:
    """As a number of its own; a digit or two of a longer one do not count."""
    return re.search(rf"(?<![\d/]){re.escape(IN.text(length))}(?![\d/])", drawn) is not None


@UNHURRIED
@given(part=any_part(), columns=st.integers(20, 120), rows=st.integers(8, 34))
def test_no_letter_lies_on_another_or_on_a_hole_or_a_line(part: Part, columns: int, rows: int) -> None:
    lying = seen(part)
    shape = fit_shape(lying.part, 12, 4, columns, rows, Fraction(2))
    below = shape.bottom + 1
    lanes = Lanes((3, 2), (below, below + 1), True, shape.right + 30, below + 2, shape.right + 12)
    told = tell(shape, lying, lanes, IN.text)
    texts = [(x + i, y) for one in told for x, y in one.at for i in range(cells(one.text))]
    assert len(texts) == len(set(texts))
    lines = {(x, y) for edge in shape.outline() for x, y in along(edge)}
    lines |= {(x, y) for m in lying.part.machining if m.depth for edge in shape.shoulders(m) for x, y in along(edge)}
    assert not set(texts) & lines
    blocks = [dimension.block for one in told for dimension in one.dimensions]
    assert not any(block.meets(Block(x, y, x, y)) for block in blocks for x, y in texts)
    assert not any(one.meets(other) for one, other in combinations(blocks, 2))
    rows_of_holes = [shape.row_block(holes) for holes in lying.part.holes]
    ends = {end for block in rows_of_holes for end in ((block.left, block.bottom), (block.right, block.top))}
    assert not set(texts) & ends, "a row is seen from its first hole to its last"


def along(edge: Edge) -> list[tuple[int, int]]:
    """The cells of a line; of one without extent none, since it is not drawn."""
    if (edge.x1, edge.y1) == (edge.x2, edge.y2):
        return []
    return [(x, y) for x in range(edge.x1, edge.x2 + 1) for y in range(edge.y1, edge.y2 + 1)]


@pytest.mark.parametrize("size", [(50, 12), (76, 18), (80, 7), (20, 8), (2, 2)])
def test_without_a_title_its_row_is_the_panels(size: tuple[int, int]) -> None:
    part = side(KICK, edges=["width-"])
    titled, bare = lines(draw_part(part, *size, IN, UNICODE)), lines(draw_part(part, *size, IN, UNICODE, titled=False))
    assert len("\n".join(bare)) <= size[0] * size[1] + size[1]
    assert part.name not in "\n".join(bare)
    if size[0] > 2:
        assert part.name.partition(",")[0] in titled[0]
        assert any("┌" in line for line in bare)
        roomy = draw_part(part, size[0], size[1] + 1, IN, UNICODE)
        assert bare == lines(roomy)[1:], "as large as one row more would make it"
