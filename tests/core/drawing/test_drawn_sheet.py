"""The drawing of a sheet: checked by hand where every line falls on a cell, and by chance everywhere else."""

import re
from dataclasses import replace
from fractions import Fraction
from itertools import combinations, product

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from sheets_to_draw import any_cut, any_sheet, by_hand, inches, offcut, piece

from core.drawing.canvas import ROLES, Picture, Span
from core.drawing.glyphs import ASCII, UNICODE, Glyphs
from core.drawing.lettering import cells, clean
from core.drawing.sheet import draw_sheet
from core.drawing.sheet_labels import Writing, centred, part_lines
from core.drawing.sheet_places import BadView, CutLine, OffcutView, PieceView, SheetView, TrimView, fit_sheet
from core.lengths import Notation

IN = Notation.read("in 1/32", "in")
MM = Notation.read("mm 0.5", "mm")
ALL_GLYPHS = pytest.mark.parametrize("glyphs", [UNICODE, ASCII], ids=["unicode", "ascii"])
TWO = Fraction(2)
UNHURRIED = settings(deadline=None, max_examples=60)
"""No test of ours is timed: others may be at work on the same machine."""


def lines(picture: Picture) -> list[str]:
    return [row.rstrip() for row in picture.plain()]


def test_by_hand() -> None:
    assert lines(draw_sheet(by_hand(), 49, 14, IN, UNICODE, selected="S/2")) == [
        "1  Birch ply  96 x 48                  grain ←──→",
        "┌───────────┬─┬─────────────────────┬───────────┐",
        "│           │R│░░░░░░░░░░░░░░░░░░░░░│   ·   ·   │",
        "│    B/1    │/│░░░░░░░░░░░░░░░░░░░░░│ ·   ·   · │",
        "│  24 x 24  │2│░░░░░░░░░░░░░░░░░░░░░│   ·   ·   │",
        "│  ←────→   │ │░░░░░░░░░░░░░░░░░░░░░│ ·   ·   · │",
        "│           ├─┴─────────────────────┤  offcut   │",
        "│           │      R/1  48 x 4      │  24 x 48  │",
        "├───────────┴─────╔═════════════════╗   ·   ·   │",
        "│      ✓ S/1      ║       S/2       ║ ·   ·   · │",
        "│     36 x 24     ║     36 x 24     ║   ·   ·   │",
        "│     ←────→      ║     ←────→      ║ ·   ·   · │",
        "│                 ║                 ║   ·   ·   │",
        "└─────────────────╚═════════════════╝───────────┘",
    ]


def test_by_hand_in_ascii_with_the_next_cut() -> None:
    cut = CutLine(1, *inches(72, 0, 72, 48), fence=inches(72)[0], measured_from="left")
    assert lines(draw_sheet(by_hand(), 49, 14, IN, ASCII, selected="S/2", cut=cut)) == [
        "1  Birch ply  96 x 48                  grain <-->",
        "+-----------+-+---------------------v-----------+",
        "|           |R|/////////////////////*   .   .   |",
        "|    B/1    |/|/////////////////////* .   .   . |",
        "|  24 x 24  |2|/////////////////////*   .   .   |",
        "|  <---->   | |////////////// 72 from left    . |",
        "|           +-+---------------------*  offcut   |",
        "|           |      R/1  48 x 4      *  24 x 48  |",
        "+-----------+-----#=================*   .   .   |",
        "|     [x] S/1     #       S/2       * .   .   . |",
        "|     36 x 24     #     36 x 24     *   .   .   |",
        "|     <---->      #     <---->      * .   .   . |",
        "|                 #                 *   .   .   |",
        "+-----------------#=================^-----------+",
    ]


def test_a_rip_with_its_fence_and_the_numbers_of_the_other_cuts() -> None:
    sheet = by_hand()
    rip = CutLine(2, *inches(0, 24, 72, 24), fence=inches(24)[0], measured_from="bottom")
    crosscut = CutLine(13, *inches(72, 0, 72, 48), fence=inches(72)[0], measured_from="left")
    numbered = replace(sheet, offcuts=(), cuts=(rip, crosscut))
    drawn = lines(draw_sheet(numbered, 49, 14, IN, UNICODE, cut=rip))
    assert drawn[8] == "►━━━━━━━━━ 24 from bottom ━━━━━━━━━━◄░░░░░░░░░░░│"
    assert drawn[7] == "│           │      R/1  48 x 4      13░░░░░░░░░░│"


def test_small_parts_are_marked_with_letters_and_told_in_a_legend() -> None:
    sheet = SheetView(
        "2",
        "MDF",
        *inches(40, 20, 0),
        grain=False,
        parts=(
            *(piece(f"Block/{n}", 2 * n, 18, 2, 2, done=n == 1) for n in range(3)),
            piece("Panel/1", 0, 0, 40, 18, rotated=True),
        ),
        offcuts=(offcut(6, 18, 34, 2, False),),
    )
    # 1 in a column and 2 in a row; the blocks are 2 in, and so get two rows where one would be in proportion.
    assert lines(draw_sheet(sheet, 41, 14, IN, UNICODE, selected="Block/2")) == [
        "2  MDF  40 x 20                  no grain",
        "┌─┬─╔═╗─────────────────────────────────┐",
        "│a│b║c║░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░│",
        "├─┴─╚═╝─────────────────────────────────┤",
        "│                                       │",
        "│                                       │",
        "│                Panel/1                │",
        "│                18 x 40                │",
        "│                turned                 │",
        "│                                       │",
        "│                                       │",
        "└───────────────────────────────────────┘",
        "a Block/0  2 x 2    c►Block/2  2 x 2",
        "b ✓ Block/1  2 x 2",
    ]


def test_trim_is_drawn_where_it_can_be_seen_and_always_told() -> None:
    parts = (piece("A/1", 4, 1, 92, 47),)
    sheet = SheetView("1", "Ply", *inches(96, 48, "1/8"), True, parts, (), TrimView(*inches(4, 0, 1, 0)))
    drawn = lines(draw_sheet(sheet, 49, 14, IN, UNICODE))
    assert drawn[0] == "1  96 x 48  trim left 4, bottom 1      grain ←──→"
    assert drawn[1].startswith("┌─┬──")
    assert drawn[-2].startswith("│░│  ")
    assert drawn[-1] == "└─┴" + "─" * 45 + "┘"


def test_a_bad_place_is_crossed_out_and_the_offcut_named_beside_it() -> None:
    bad = BadView(*inches(80, 8, 6, 9))
    drawn = lines(draw_sheet(replace(by_hand(), bad=(bad,)), 49, 14, IN, UNICODE))
    assert drawn[0] == "1  Birch ply  96 x 48  ×× bad place    grain ←──→"
    # From 80 to 86 three columns of 2 in; from 8 to 17 two rows of 4 in.
    assert [row[37:] for row in drawn[1:]] == [
        "───────────┐",
        "   ·   ·   │",
        " ·   ·   · │",
        "  offcut   │",
        "  24 x 48  │",
        "   ·   ·   │",
        " ·   ·   · │",
        "   ·   ·   │",
        " · ×××   · │",
        "   ××× ·   │",
        " ·   ·   · │",
        "   ·   ·   │",
        "───────────┘",
    ]


def roles(picture: Picture) -> list[list[str]]:
    """The role of every cell, row by row."""
    return [[span.role for span in row for _ in range(cells(span.text))] for row in picture.rows]


@ALL_GLYPHS
@UNHURRIED
@given(any_sheet(), st.data())
def test_a_bad_place_is_seen_where_it_has_a_cell_and_hides_no_part(
    glyphs: Glyphs, sheet: SheetView, data: st.DataObject
) -> None:
    assume(sheet.offcuts)
    spoilt = data.draw(st.sampled_from(sheet.offcuts))
    at = [Fraction(data.draw(st.integers(0, 7)), 8) for _ in range(2)]
    size = [(1 - start) / data.draw(st.sampled_from([1, 3, 100])) for start in at]
    bad = BadView(
        spoilt.x + spoilt.length * at[0],
        spoilt.y + spoilt.width * at[1],
        spoilt.length * size[0],
        spoilt.width * size[1],
    )
    with_bad = replace(sheet, bad=(bad,))
    drawn = draw_sheet(with_bad, 80, 24, MM, glyphs)
    now = roles(drawn)
    places = fit_sheet(with_bad, 80, 23, 1, TWO)
    if any("legend" in row for row in now):
        return
    room = places.cells(spoilt)
    crossed = {(row, column) for row in range(1, 24) for column in range(80) if now[row][column] == "bad"}
    assert crossed or not (room.columns and room.rows)
    assert all(room.top < row < room.bottom and room.left < column < room.right for row, column in crossed)
    if places == fit_sheet(sheet, 80, 23, 1, TWO):
        before = draw_sheet(sheet, 80, 24, MM, glyphs)
        old, new, was = before.plain(), drawn.plain(), roles(before)
        for row, column in product(range(1, 24), range(80)):
            of_spares = {was[row][column], now[row][column]} <= {"waste", "offcut", "bad"}
            assert of_spares or old[row][column] == new[row][column]


def test_a_bad_place_in_a_strip_that_is_narrower_than_a_row_is_seen() -> None:
    # By hand: 20 rows over 1200 mm are 60 mm each.
    parts = (PieceView("A/1", "A", *map(Fraction, (0, 0, 2400, 1160)), rotated=False, done=False),)
    strip = OffcutView(*map(Fraction, (0, 1163, 2400, 37)), worth_keeping=False)
    sheet = SheetView("1", "Ply", *map(Fraction, (2400, 1200, 3)), True, parts, (strip,))
    assert not any("bad" in row for row in roles(draw_sheet(sheet, 82, 22, MM, UNICODE)))
    bad = BadView(*map(Fraction, (1200, 1170, 60, 20)))
    drawn = draw_sheet(replace(sheet, bad=(bad,)), 82, 22, MM, UNICODE)
    assert sum(row.count("bad") for row in roles(drawn)) == 2


def test_of_several_bad_places_each_is_crossed_out_and_the_offcut_named_beside_all() -> None:
    bad = (BadView(*inches(80, 8, 6, 9)), BadView(*inches(74, 30, 4, 18)))
    drawn = lines(draw_sheet(replace(by_hand(), bad=bad), 49, 14, IN, UNICODE))
    assert "×× bad places" in drawn[0]
    # From 74 to 78 two columns of 2 in, and from 30 up what is left of twelve rows of 4 in, less the outline.
    assert [row[37:] for row in drawn[2:10]] == [
        "×× ·   ·   │",
        "××   ·   · │",
        "×× offcut  │",
        " · 24 x 48 │",
        "   ·   ·   │",
        " ·   ·   · │",
        "   ·   ·   │",
        " · ×××   · │",
    ]


def test_neighbours_share_a_line_whatever_the_kerf() -> None:
    kerf = Fraction(16, 5)
    for offset in range(40):
        left = PieceView("L/1", "L", *(Fraction(v) for v in (0, 0, 500 + offset, 600)))
        right = PieceView("R/1", "R", left.length + kerf, *(Fraction(v) for v in (0, 500, 600)))
        sheet = SheetView("1", "Ply", right.x + right.length, Fraction(600), kerf, False, (left, right))
        middle = draw_sheet(sheet, 60, 16, MM, UNICODE).plain()[3].rstrip()
        assert middle.count("│") == 3


SIZES = st.tuples(st.integers(0, 130), st.integers(0, 40))


@ALL_GLYPHS
@UNHURRIED
@given(data=st.data(), sheet=any_sheet(), size=SIZES)
def test_any_sheet_at_any_size_keeps_to_its_columns_and_rows(
    data: st.DataObject, sheet: SheetView, size: tuple[int, int], glyphs: Glyphs
) -> None:
    columns, rows = size
    cut = data.draw(st.none() | any_cut(sheet))
    picture = draw_sheet(sheet, columns, rows, MM, glyphs, data.draw(st.sampled_from([None, "P", "PA"])), cut)
    assert len(picture.rows) == rows
    assert all(cells(line) == columns for line in picture.plain())
    assert {span.role for row in picture.rows for span in row} <= set(ROLES)
    assert glyphs is UNICODE or "".join(picture.plain()).isascii()


def named_in(picture: Picture) -> set[str]:
    """Pieces named across, in the drawing or its legend, or upright on a part."""
    columns = zip(*(row_on_parts(row) for row in picture.rows), strict=True)
    return set(re.findall(r"P[A-Z]", "\n".join([*picture.plain(), *map("".join, columns)])))


def row_on_parts(row: tuple[Span, ...]) -> str:
    return "".join(span.text if span.role in ("label", "done") else " " * cells(span.text) for span in row)


@ALL_GLYPHS
@UNHURRIED
@given(sheet=any_sheet(), size=st.tuples(st.integers(24, 130), st.integers(8, 40)))
def test_every_piece_is_named_or_counted(sheet: SheetView, size: tuple[int, int], glyphs: Glyphs) -> None:
    picture = draw_sheet(sheet, *size, MM, glyphs)
    more = re.search(r"\+ (\d+) more", "\n".join(picture.plain()))
    assert len(sheet.parts) - len(named_in(picture)) == (int(more[1]) if more else 0)


def test_parts_for_whose_names_there_is_no_room_are_counted_rather_than_keyed() -> None:
    strips = [("PA", 6, 0, 2, 200), ("PB", 8, 0, 2, 200), ("PC", 10, 0, 353, 200), ("PD", 0, 0, 2, 2)]
    strips += [("PE", 2, 0, 2, 2), ("PF", 0, 2, 2, 198), ("PG", 2, 2, 2, 198), ("PH", 4, 0, 2, 200)]
    parts = tuple(PieceView(name, "P", *map(Fraction, place), False, name == "PH") for name, *place in strips)
    sheet = SheetView("3", "Birch ply", Fraction(363), Fraction(200), Fraction(0), False, parts)
    told = "\n".join(draw_sheet(sheet, 24, 8, MM, ASCII).plain())
    more = re.search(r"\+ (\d+) more", told)
    assert more and int(more[1]) == len(parts) - len(named_in(draw_sheet(sheet, 24, 8, MM, ASCII)))


def test_a_long_name_is_no_column_of_letters_but_told_with_its_size() -> None:
    strips = (piece("Wallshelf/1", 0, 0, 1, 20), piece("W/1", 1, 0, 1, 20), piece("Panel/1", 2, 0, 38, 20))
    sheet = SheetView("3", "MDF", *inches(40, 20, 0), grain=False, parts=strips)
    told = draw_sheet(sheet, 80, 24, IN, UNICODE).plain()
    assert told[-2].startswith("a Wallshelf/1  1 x 20")
    assert "W/1" in "".join(line[3] for line in told), "a short one stands upright"


@pytest.mark.parametrize("size", [(76, 18), (116, 34)])
@UNHURRIED
@given(sheet=any_sheet())
def test_every_piece_is_named_on_the_usual_screens(sheet: SheetView, size: tuple[int, int]) -> None:
    assert len(named_in(draw_sheet(sheet, *size, MM, UNICODE))) == len(sheet.parts)


@UNHURRIED
@given(sheet=any_sheet(), size=st.tuples(st.integers(3, 130), st.integers(3, 40)))
def test_parts_never_overlap_and_lettering_stays_inside_its_part(sheet: SheetView, size: tuple[int, int]) -> None:
    places = fit_sheet(sheet, *size, 0, TWO)
    assert places.frame.right < size[0]
    assert places.frame.bottom < size[1]
    writing = Writing(MM, ASCII)
    frames = [places.cells(part) for part in sheet.parts]
    for frame, part in zip(frames, sheet.parts, strict=True):
        assert 0 <= frame.left <= frame.right <= places.frame.right
        assert 0 <= frame.top <= frame.bottom <= places.frame.bottom
        for x, y, line in centred(part_lines(writing.said_of(part, sheet.grain), frame), frame):
            assert frame.left < x
            assert x + cells(line) <= frame.right
            assert frame.top < y < frame.bottom
    for one, other in combinations(frames, 2):
        apart_across = one.right <= other.left or other.right <= one.left
        apart_up = one.bottom <= other.top or other.bottom <= one.top
        assert apart_across or apart_up


@UNHURRIED
@given(sheet=any_sheet(most=4))
def test_a_few_parts_always_have_a_cell_inside(sheet: SheetView) -> None:
    """Four parts side by side need nine columns or nine rows, which these have."""
    places = fit_sheet(sheet, 76, 34, 0, TWO)
    if min(places.frame.right, places.frame.bottom) >= 8:
        assert all(places.cells(part).columns and places.cells(part).rows for part in sheet.parts)


@UNHURRIED
@given(sheet=any_sheet())
def test_a_larger_canvas_never_makes_a_smaller_drawing(sheet: SheetView) -> None:
    frames = [fit_sheet(sheet, columns, columns // 3, 0, TWO).frame for columns in range(10, 120, 5)]
    assert [frame.right for frame in frames] == sorted(frame.right for frame in frames)
    assert [frame.bottom for frame in frames] == sorted(frame.bottom for frame in frames)


@ALL_GLYPHS
@UNHURRIED
@given(name=st.text(max_size=60), material=st.text(max_size=60), size=SIZES)
def test_hostile_names_break_nothing(name: str, material: str, size: tuple[int, int], glyphs: Glyphs) -> None:
    parts = (
        PieceView(name, "A", *inches(0, 0, 30, 48), done=True),
        PieceView(name, "A", *inches(30, 0, 2, 48)),
        PieceView(name, "A", *inches(32, 0, 30, 2)),
    )
    picture = draw_sheet(SheetView(name, material, *inches(96, 48, 0), True, parts), *size, IN, glyphs, selected=name)
    assert len(picture.rows) == size[1]
    assert all(cells(line) == size[0] for line in picture.plain())
    assert all(clean(line, glyphs) == line for line in picture.plain() if line.strip() == line)


def test_selected_done_offcut_and_waste_are_told_apart_without_colour() -> None:
    for glyphs in (UNICODE, ASCII):
        plain = {
            what: "\n".join(draw_sheet(by_hand(), 76, 18, IN, glyphs, what).plain()) for what in ("S/1", "S/2", "R")
        }
        assert len(set(plain.values())) == 3
        assert glyphs.done in plain["S/2"]
        assert glyphs.offcut[0][0] != glyphs.waste[0][0]
