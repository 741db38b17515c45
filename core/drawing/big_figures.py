"""A size in figures so high that it is read off from across the shop.

Each figure is drawn once, as seven rows of dots. A stencil says how many columns and half rows a dot
becomes, so that the same figures come in several heights and widths.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from string import ascii_letters

from core.drawing.canvas import Picture, Span
from core.drawing.glyphs import Glyphs
from core.drawing.lettering import clean

# The first row names what is drawn below it, each from its own column on. A figure that is half seen still differs
# from every other: 6 and 9 have open ends, 4 is open above, 5 and 7 have a whole bar, 8 has a waist and 0 has none.
_FIGURES = (
    "0     1   2     3     4     5     6     7     8     9   ",
    " ##    #   ##   ###   #  #  ####   ###  ####   ##    ## ",
    "#  #  ##  #  #     #  #  #  #     #        #  #  #  #  #",
    "#  #   #     #     #  #  #  #     #        #  #  #  #  #",
    "#  #   #    #    ##   #  #  ###   ###     #    ##    ###",
    "#  #   #   #       #  ####     #  #  #    #   #  #     #",
    "#  #   #  #        #     #     #  #  #   #    #  #     #",
    " ##    #  ####  ###      #  ###    ##    #     ##   ### ",
)
_SIGNS_AND_UNITS = (
    "/     .   -    ~     i  n     m      f    t  ",
    "   #                 #                ##  #  ",
    "   #                                 #    #  ",
    "  #                                  #    #  ",
    "  #       ###   # #  #  ###   ####   ###  ## ",
    " #             # #   #  #  #  # # #  #    #  ",
    "#     ##             #  #  #  # # #  #    #  ",
    "#     ##             #  #  #  # # #  #    ## ",
)


def _drawings(sheet: tuple[str, ...]) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Each character that is drawn on a sheet, and its rows of dots."""
    names, *rows = sheet
    starts = [column for column, name in enumerate(names) if name != " "]
    for start, end in pairwise([*starts, len(names)]):
        dots = [row[start:end] for row in rows]
        width = max(len(row.rstrip()) for row in dots)
        yield names[start], tuple(row[:width] for row in dots)


# A space is one blank dot between two gaps: three times as wide as what is between the figures of one number.
_DOTS = {" ": (" ",) * 7, **dict(_drawings(_FIGURES)), **dict(_drawings(_SIGNS_AND_UNITS))}


@dataclass(frozen=True, slots=True)
class _Stencil:
    """How the dots of a figure become cells: two columns are as much as a row, a cell being twice as high as wide."""

    stem: int
    """How many columns an upright stroke is wide."""
    inside: int
    """How many columns a dot between two of them is wide."""
    half_rows: tuple[int, ...]
    """How high each row of dots is; nothing for those that a low figure can do without."""

    @property
    def height(self) -> int:
        """In rows."""
        return sum(self.half_rows) // 2

    def rows(self, text: str, glyphs: Glyphs) -> list[str]:
        """The text in these figures, as rows of cells."""
        gap = " " * max(self.inside, 2)
        widened = [gap.join(row) for row in zip(*map(self._widened, text), strict=True)] or [""] * 7
        halves = [row for row, height in zip(widened, self.half_rows, strict=True) for _ in range(height)]
        filled = " ###" if glyphs.ascii_only else " ▀▄█"
        return [
            "".join(filled[(up == "#") + 2 * (down == "#")] for up, down in zip(upper, lower, strict=True))
            for upper, lower in zip(halves[::2], halves[1::2], strict=True)
        ]

    def _widened(self, character: str) -> list[str]:
        """The rows of dots of a character, each dot as wide as it becomes."""
        dots = _DOTS[character]
        columns = list(zip(*dots, strict=True))
        last = len(columns) - 1
        # What is filled for the most part is a stem as well: the middle one of an m.
        widths = [
            self.stem if x in (0, last) or column.count("#") > 3 else self.inside for x, column in enumerate(columns)
        ]
        rows = ("".join(dot * width for dot, width in zip(row, widths, strict=True)) for row in dots)
        # A slanting stroke that is one column wide would fade beside the stems.
        return [re.sub("(?<!#) #(?!#)", "##", row) for row in rows]


# From the largest to the smallest. The highest are for a window that fills the screen.
_STENCILS = (
    _Stencil(6, 6, (6, 6, 6, 6, 6, 6, 6)),
    _Stencil(4, 4, (4, 4, 4, 4, 4, 4, 4)),
    _Stencil(3, 3, (3, 3, 3, 3, 4, 3, 3)),
    _Stencil(3, 2, (3, 3, 3, 3, 4, 3, 3)),
    _Stencil(2, 2, (2, 4, 4, 2, 5, 3, 2)),
    _Stencil(3, 3, (3, 2, 2, 3, 2, 3, 3)),
    _Stencil(3, 2, (3, 2, 2, 3, 2, 3, 3)),
    _Stencil(2, 2, (2, 3, 3, 2, 3, 3, 2)),
    _Stencil(3, 2, (2, 2, 2, 2, 2, 2, 2)),
    _Stencil(2, 2, (2, 2, 2, 2, 2, 2, 2)),
    _Stencil(2, 1, (2, 2, 2, 2, 2, 2, 2)),
    _Stencil(2, 2, (2, 2, 0, 2, 2, 0, 2)),
    _Stencil(2, 1, (2, 2, 0, 2, 2, 0, 2)),
)


def draw_big(text: str, width: int, height: int, glyphs: Glyphs) -> Picture:
    """A size such as `17 5/8 in` or `~302.9 mm`, in figures as high as `width` columns and `height` rows have room for.

    Whole number and fraction are equally high. The unit stands at their foot, as large as they are or
    as much smaller as it has to be. The picture is no larger than what is drawn. A text for which there is
    no room, and one that is no size, is written on one row as it is, however wide: no number is ever cut off.
    """
    number = text.rstrip(ascii_letters + " ")
    unit = text[len(number) :].rstrip()
    if number and set(number) <= _DOTS.keys():
        for rank, stencil in enumerate(_STENCILS):
            if stencil.height > height:
                continue
            figures = stencil.rows(number, glyphs)
            for units in _ways_to_write(unit, _STENCILS[rank:], glyphs):
                if len(figures[0]) + len(units[0]) <= width:
                    return _side_by_side(figures, units)
    return _in_one_role([clean(text, glyphs)])


def _ways_to_write(unit: str, stencils: tuple[_Stencil, ...], glyphs: Glyphs) -> Iterator[list[str]]:
    """A unit with the space before it, as rows of cells: from the largest of the stencils down to plain text."""
    if set(unit) <= _DOTS.keys():
        yield from (stencil.rows(unit, glyphs) for stencil in stencils)
    yield [unit]


def _side_by_side(figures: list[str], units: list[str]) -> Picture:
    """A number, and its unit at the foot of it."""
    above = [" " * len(units[0])] * (len(figures) - len(units))
    return _in_one_role([left + right for left, right in zip(figures, [*above, *units], strict=True)])


def _in_one_role(rows: list[str]) -> Picture:
    return Picture(tuple((Span(row, "dimension"),) for row in rows))
