"""The piece from the front and from above, from the boxes of its parts."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.construction.part import Box, Part
from core.drawing.canvas import ROLES, Picture
from core.drawing.elevation import Label, draw_elevation
from core.drawing.glyphs import ASCII, UNICODE, Glyphs
from core.drawing.lettering import cells
from core.lengths import Notation

MM = Notation.read("mm 0.5", "mm")
ALL_GLYPHS = pytest.mark.parametrize("glyphs", [UNICODE, ASCII], ids=["unicode", "ascii"])


def part(role: str, low: tuple[int, int, int], size: tuple[int, int, int], carcass: str = "A") -> Part:
    """A part from its least corner and its extents, mm."""
    start = tuple(Fraction(v) for v in low)
    end = tuple(Fraction(v) + extent for v, extent in zip(low, size, strict=True))
    return Part(carcass, role, "", role, "ply", Box(start, end), "x", "y", "length")


def carcass(name: str, x: int) -> list[Part]:
    """600 wide, 600 deep, 800 high, boards of 18: sides, bottom at 100, a shelf, a rail, a kick and a back."""
    return [
        part("side", (x, 0, 0), (18, 594, 800), name),
        part("side", (x + 582, 0, 0), (18, 594, 800), name),
        part("bottom", (x + 18, 0, 100), (564, 594, 18), name),
        part("shelf", (x + 18, 20, 450), (564, 570, 18), name),
        part("rail", (x + 18, 0, 782), (564, 100, 18), name),
        part("kick", (x + 18, 75, 0), (564, 18, 100), name),
        part("back", (x, 594, 100), (600, 6, 700), name),
    ]


def fronts() -> list[Part]:
    """Two doors and, over them, a drawer behind its front, for the first carcass."""
    return [
        replace(part("door", (2, -18, 100), (296, 18, 500)), hand="left"),
        replace(part("door", (301, -18, 100), (297, 18, 500)), hand="right"),
        part("drawer front", (2, -18, 603), (596, 18, 194)),
        part("drawer side", (31, 0, 620), (12, 500, 150)),
        part("drawer side", (557, 0, 620), (12, 500, 150)),
        part("drawer end", (43, 0, 620), (514, 12, 150)),
        part("drawer end", (43, 488, 620), (514, 12, 150)),
        part("drawer bottom", (43, 12, 630), (514, 476, 6)),
    ]


def lines(picture: Picture) -> list[str]:
    return [row.rstrip() for row in picture.plain()]


def test_two_carcasses_from_the_front_by_hand() -> None:
    # 1200 mm over 48 columns, so 25 in a column and 50 in a row: a board of 18 is a line, two side by side as well.
    labels = [Label("A", Fraction(300), Fraction(600)), Label("B", Fraction(900), Fraction(250))]
    parts = [*carcass("A", 0), *carcass("B", 600)]
    assert lines(draw_elevation(parts, 54, 18, MM, UNICODE, labels=labels)) == [
        "┌───────────────────────┬───────────────────────┐ ▲",
        "│                       │                       │ │",
        "│                       │                       │ │",
        "│                       │                       │ │",
        "│           A           │                       │ │",
        "│                       │                       │ │",
        "│                       │                       │ │",
        "├───────────────────────┼───────────────────────┤ │",
        "│                       │                       │ 800",
        "│                       │                       │ │",
        "│                       │                       │ │",
        "│                       │           B           │ │",
        "│                       │                       │ │",
        "│                       │                       │ │",
        "├───────────────────────┼───────────────────────┤ │",
        "│                       │                       │ │",
        "└───────────────────────┴───────────────────────┘ ▼",
        "◄──────────────────── 1200 ─────────────────────►",
    ]


def test_doors_hide_what_is_behind_them_and_their_gap_is_a_line() -> None:
    doors = [part("door", (2, -18, 100), (296, 18, 697)), part("door", (301, -18, 100), (297, 18, 697))]
    drawn = lines(draw_elevation([*carcass("A", 0), *doors], 54, 18, MM, UNICODE))
    assert drawn[7].count("│") - 1 == drawn[3].count("│") - 1 == 3
    assert "├" not in "".join(drawn[1:-5])


def test_lines_of_a_door_meet_where_it_is_hinged_and_a_drawer_has_a_knob_by_hand() -> None:
    labels = [Label("A", Fraction(300), Fraction(700))]
    drawn = lines(draw_elevation([*fronts(), *carcass("A", 0), *carcass("B", 600)], 60, 19, MM, UNICODE, labels=labels))
    assert drawn == [
        "┌─────────────────────────┬────────────────────────┐ ▲",
        "│            ○            │                        │ │",
        "│            A            │                        │ │",
        "│                         │                        │ │",
        "├────────────┬────────────┤                        │ │",
        "│           /│\\           │                        │ │",
        "│         /  │  \\         │                        │ │",
        "│      /     │     \\      ├────────────────────────┤ │",
        "│    /       │       \\    │                        │ 800",
        "│ /          │          \\ │                        │ │",
        "│ \\          │          / │                        │ │",
        "│    \\       │       /    │                        │ │",
        "│      \\     │     /      │                        │ │",
        "│         \\  │  /         │                        │ │",
        "│           \\│/           │                        │ │",
        "├────────────┴────────────┼────────────────────────┤ │",
        "│                         │                        │ │",
        "└─────────────────────────┴────────────────────────┘ ▼",
        "◄────────────────────── 1200 ──────────────────────►",
    ]


def test_doors_and_drawers_in_ascii() -> None:
    drawn = lines(draw_elevation([*carcass("A", 0), *fronts()], 60, 16, MM, ASCII))
    assert drawn[:-3] == [
        "+--------------------+ ^",
        "|         o          | |",
        "|                    | |",
        "+---------+----------+ |",
        "|        /|\\         | |",
        "|      /  |   \\      | |",
        "|   /     |     \\    | |",
        "| /       |        \\ | 800",
        "| \\       |        / | |",
        "|   \\     |     /    | |",
        "|      \\  |   /      | |",
        "|        \\|/         | |",
        "+---------+----------+ |",
    ]


def test_a_false_front_and_a_door_without_hinges_have_no_marks() -> None:
    plain = [part(role, (2, -18, z), (596, 18, 300)) for role, z in (("false front", 400), ("door", 100))]
    drawn = "".join(lines(draw_elevation([*carcass("A", 0), *plain], 54, 18, MM, UNICODE)))
    assert not set("/\\<>○") & set(drawn)


def test_an_inset_front_hides_what_is_behind_it() -> None:
    shelf, front = part("shelf", (18, 20, 450), (564, 570, 18)), part("drawer front", (21, 0, 121), (558, 18, 658))
    open_carcass = [one for one in carcass("A", 0) if one.role != "shelf"]
    without = lines(draw_elevation([*open_carcass, front], 54, 18, MM, UNICODE))
    assert lines(draw_elevation([front, *open_carcass, shelf], 54, 18, MM, UNICODE)) == without
    assert "○" in "".join(without)


def test_from_above_fronts_have_no_marks_and_count_in_the_depth() -> None:
    thick = [
        replace(part(role, (x, 0, 900), (250, 500, 100)), hand="left")
        for role, x in (("door", 0), ("drawer front", 300))
    ]
    drawn = lines(draw_elevation([*carcass("A", 0), *fronts(), *thick], 60, 14, MM, UNICODE, view="plan"))
    assert not set("/\\<○") & set("".join(drawn))
    assert any("618" in line for line in drawn)


def test_of_a_chosen_drawer_its_front_is_double_and_its_box_is_not() -> None:
    front, *box = fronts()[2:]
    drawn = lines(draw_elevation([*carcass("A", 0), *fronts()], 60, 19, MM, UNICODE, highlight=[front, *box]))
    assert max(line.count("║") for line in drawn) == 2
    assert any("○" in line for line in drawn)
    drawn = lines(draw_elevation([*carcass("A", 0), *fronts()], 60, 19, MM, UNICODE, highlight=box))
    assert any("═" in line for line in drawn), "alone it is found"


def test_the_mark_of_a_chosen_door_lies_over_the_double_lines_behind_it() -> None:
    parts = [*carcass("A", 0), *fronts()]
    plain, chosen = (lines(draw_elevation(parts, 60, 19, MM, UNICODE, highlight=some)) for some in ([], parts))
    for mark in "/\\":
        places = [
            [(x, y) for y, line in enumerate(drawn) for x, c in enumerate(line) if c == mark]
            for drawn in (plain, chosen)
        ]
        assert places[0] == places[1] != []


def test_what_is_highlighted_is_double_even_where_it_is_hidden() -> None:
    parts = carcass("A", 0)
    shelf = next(p for p in parts if p.role == "shelf")
    door = part("door", (2, -18, 100), (596, 18, 697))
    drawn = lines(draw_elevation([*parts, door], 54, 18, MM, UNICODE, highlight=[shelf]))
    (row,) = [line for line in drawn if "═" in line]
    assert row.startswith("╞═")
    ascii_row = lines(draw_elevation([*parts, door], 54, 18, MM, ASCII, highlight=[shelf]))[drawn.index(row)]
    assert ascii_row.startswith("+==")


def test_the_plan_has_the_wall_at_the_top_and_the_highest_part_in_sight() -> None:
    low, high = part("low", (0, 0, 0), (1000, 200, 500)), part("high", (0, 200, 0), (400, 400, 900))
    drawn = lines(draw_elevation([high, low], 60, 14, MM, UNICODE, view="plan"))
    assert drawn[0].startswith("┌───")
    assert drawn[0].index("┐") < drawn[-2].index("┘")
    assert any("600" in line for line in drawn)
    assert "1000" in drawn[-1]


def test_nothing_to_draw() -> None:
    assert lines(draw_elevation([], 10, 3, MM, UNICODE)) == ["", "", ""]


EXTENTS = st.integers(1, 2500)


@ALL_GLYPHS
@settings(deadline=None, max_examples=60)
@given(
    boxes=st.lists(
        st.tuples(st.tuples(*[st.integers(-2500, 2500)] * 3), st.tuples(EXTENTS, EXTENTS, EXTENTS)),
        min_size=1,
        max_size=12,
    ),
    columns=st.integers(0, 130),
    rows=st.integers(0, 40),
    text=st.text(max_size=20),
    view=st.sampled_from(["front", "plan"]),
    role=st.sampled_from(["any", "door", "drawer front", "drawer side"]),
    hand=st.sampled_from([None, "left", "right"]),
)
def test_any_boxes_at_any_size_keep_to_columns_and_rows(
    boxes, columns, rows, text, view, role, hand, glyphs: Glyphs
) -> None:
    parts = [replace(part(role, low, size), hand=hand) for low, size in boxes]
    labels = [Label(text, parts[0].box.low[0], parts[0].box.low[2])]
    picture = draw_elevation(parts, columns, rows, MM, glyphs, parts[:1], view, labels)
    assert len(picture.rows) == rows
    assert all(cells(line) == columns for line in picture.plain())
    assert {span.role for row in picture.rows for span in row} <= set(ROLES)
    assert glyphs is UNICODE or "".join(picture.plain()).isascii()
