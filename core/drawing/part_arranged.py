"""How a panel and all that is said of it share the cells there are: what stands round it, beside it and below it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from core.construction.part import Side
from core.drawing.blocks import Block
from core.drawing.glyphs import Glyphs
from core.drawing.lettering import cells, clean, fitted
from core.drawing.part_marks import Lanes, Told, is_above, starts_inside, tell
from core.drawing.part_notes import Write, distance, groups, lies_along, note_lines
from core.drawing.part_seen import Seen
from core.drawing.part_shape import Shape, fit_shape, through

_LEAST_COLUMNS, _LEAST_ROWS = 12, 5
"""A panel that would be drawn smaller than this is drawn without anything round it."""

_END_COLUMNS = 10
"""Widest line of text beside an end."""


@dataclass(frozen=True, slots=True)
class Page:
    """The cells there are, and how they are written in. The first `top` rows are taken."""

    columns: int
    rows: int
    top: int
    write: Write
    glyphs: Glyphs
    cell_ratio: Fraction


@dataclass(frozen=True, slots=True)
class Arrangement:
    """A panel in its cells, and what is said of it where."""

    seen: Seen
    shape: Shape
    told: list[Told]
    bare: bool
    """Nothing is drawn round the panel: the title and the notes say it."""

    def notes(self, glyphs: Glyphs) -> list[str]:
        """What is said below, each with its key."""
        return [clean(f"{told.text} {told.note}".strip(), glyphs) for told in self.told if told.note]

    @property
    def dimension_blocks(self) -> list[Block]:
        """What dimension lines and their texts cover."""
        return [dimension.block for told in self.told for dimension in told.dimensions]

    @property
    def first_note(self) -> int:
        """The first row that is free for notes."""
        return max([self.shape.bottom, *(block.bottom for block in self.dimension_blocks)]) + 1


def arrange(seen: Seen, page: Page) -> Arrangement:
    """The panel with its dimensions and whole notes; where there is no room for both, bare with whole notes.

    Where not even so all notes are whole, they are shortened.
    """
    found = [*_dimensioned(seen, page), _bare(seen, page)]
    whole = (one for one in found if _lines_needed(one, page) <= page.rows - one.first_note)
    return next(whole, found[0])


def _lines_needed(one: Arrangement, page: Page) -> int:
    notes = one.notes(page.glyphs)
    return len(note_lines(notes, page.columns, max(page.rows, 1) * len(notes), page.glyphs))


def _dimensioned(seen: Seen, page: Page) -> Iterator[Arrangement]:
    """With its dimensions round it and, where the panel leaves it, room for the notes."""
    part, write, glyphs, top = seen.part, page.write, page.glyphs, page.top
    cut = through(part)
    above, below = (
        max((1 + starts_inside(m, part)[0] for m in cut if is_above(m, part) is upper), default=0)
        for upper in (True, False)
    )
    placed = [one for group in groups(seen) for one in group]
    rising = [cells(write(distance(seen, one))) for one in placed if lies_along(one)]
    run = 1 if len(rising) < len(placed) else 0
    lanes_left = max((cells(write(m.width)) + 1 for m in cut if m.x == 0), default=0)
    lanes_right = max((cells(write(m.width)) + 1 for m in cut if m.x + m.length == part.length), default=0)
    # What runs from the edge stands at the other end than what runs from the end begins at.
    climb = max(rising) + 2 if rising else 0
    from_right = seen.end == "length+"
    left = lanes_left + _words_width(end_words(seen, "length-", glyphs)) + 1 + climb * from_right
    right = lanes_right + cells(write(part.width)) + _words_width(end_words(seen, "length+", glyphs)) + 4
    right += climb * (not from_right)
    for on_one_line in (False, True):
        notes = 0
        while True:
            room = page.columns - left - right, page.rows - top - 1 - above - below - run - notes
            if room[0] < _LEAST_COLUMNS or room[1] < _LEAST_ROWS:
                break
            first_row = top + 1 + above
            shape = fit_shape(part, left, first_row, *room, page.cell_ratio)
            lanes = Lanes(
                tuple(range(first_row - 1, top, -1)),
                tuple(range(shape.bottom + 1, shape.bottom + 1 + below)),
                True,
                page.columns,
                shape.bottom + below + 1 if run else None,
                (shape.left - lanes_left - 2 if from_right else shape.right + lanes_right + 2) if rising else None,
            )
            arranged = Arrangement(seen, shape, tell(shape, seen, lanes, write), bare=False)
            needed = len(arranged.notes(glyphs)) if on_one_line else _lines_needed(arranged, page)
            if needed <= notes:
                yield arranged
                break
            notes = needed


def _bare(seen: Seen, page: Page) -> Arrangement:
    notes = 0
    while True:
        most = max(page.rows - page.top - _LEAST_ROWS, 0)
        shape = fit_shape(
            seen.part, 0, page.top, page.columns, page.rows - page.top - min(notes, most), page.cell_ratio
        )
        arranged = Arrangement(seen, shape, tell(shape, seen, Lanes(columns=page.columns), page.write), bare=True)
        needed = _lines_needed(arranged, page)
        if needed <= notes or notes >= most:
            return arranged
        notes = needed


def end_words(seen: Seen, side: Side, glyphs: Glyphs) -> list[str]:
    """The name of an end, a word a line, and its banding in lines of a few words."""
    banding = next((edge.banding for edge in seen.part.edges if edge.side == side), "")
    lines = seen.edge_name(side).split()
    named = len(lines)
    for word in clean(banding, glyphs).split():
        if len(lines) > named and cells(lines[-1]) + 1 + cells(word) <= _END_COLUMNS:
            lines[-1] = f"{lines[-1]} {word}"
        else:
            lines.append(fitted(word, _END_COLUMNS, glyphs))
    return lines


def _words_width(words: list[str]) -> int:
    return max(cells(word) for word in words)
