"""A grid of cells to draw on, and the picture that comes of it.

x counts columns from the left, y counts rows from the top. Everything is clipped at the border, so
that a drawing need not know where it ends. A cell holds a character, or the arms of the lines that
meet in it; the character for those is chosen when the picture is made.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from itertools import groupby
from typing import Literal, Protocol, TypeAlias, get_args

from core.drawing.glyphs import Glyphs
from core.drawing.lettering import clean, clusters

Role: TypeAlias = Literal[
    "",
    "title",
    "outline",
    "part",
    "label",
    "grain",
    "offcut",
    "waste",
    "bad",
    "cut",
    "dimension",
    "selected",
    "done",
    "banding",
    "hidden",
    "legend",
]
"""What a cell shows, for whoever paints it. Nothing is told by its role alone: glyphs and text say it too."""

ROLES: tuple[str, ...] = get_args(Role)

Weight = Literal["light", "strong", "dashed"]

_UP, _RIGHT, _DOWN, _LEFT = range(4)


class Notation(Protocol):
    """How a length is written."""

    def text(self, length: Fraction) -> str:
        """A length in mm as the shop writes it."""


@dataclass(frozen=True, slots=True)
class Span:
    """Neighbouring cells of one row that share a role."""

    text: str
    role: Role


@dataclass(frozen=True, slots=True)
class Picture:
    """Rows of text, all of the same width in cells."""

    rows: tuple[tuple[Span, ...], ...]

    def plain(self) -> list[str]:
        """The rows as text alone, blank to the right border."""
        return ["".join(span.text for span in row) for row in self.rows]


@dataclass(slots=True)
class _Cell:
    text: str = " "
    """Empty where the wide character to the left reaches over this cell."""
    role: Role = ""
    arms: list[int] = field(default_factory=lambda: [0, 0, 0, 0])


class Canvas:
    """`columns` by `rows` blank cells. Where things overlap the later one is seen, but lines join lines."""

    def __init__(self, columns: int, rows: int, glyphs: Glyphs) -> None:
        self.columns = max(columns, 0)
        self.rows = max(rows, 0)
        self.glyphs = glyphs
        self._cells = [[_Cell() for _ in range(self.columns)] for _ in range(self.rows)]

    def text(self, x: int, y: int, text: str, role: Role) -> None:
        """Writes from (x, y) to the right. A wide character that is half outside leaves its half blank."""
        for cluster, width in clusters(clean(text, self.glyphs)):
            whole = x >= 0 and x + width <= self.columns
            for part in range(width):
                self._put(x + part, y, (cluster if part == 0 else "") if whole else " ", role)
            x += width

    def horizontal(self, x1: int, x2: int, y: int, role: Role, weight: Weight = "light") -> None:
        """A line from column x1 to x2, both included. It joins what it meets; a single cell is no line."""
        self._line([(x, y) for x in range(min(x1, x2), max(x1, x2) + 1)], _LEFT, _RIGHT, role, weight)

    def vertical(self, x: int, y1: int, y2: int, role: Role, weight: Weight = "light") -> None:
        """A line from row y1 to y2, both included. It joins what it meets; a single cell is no line."""
        self._line([(x, y) for y in range(min(y1, y2), max(y1, y2) + 1)], _UP, _DOWN, role, weight)

    def box(self, x1: int, y1: int, x2: int, y2: int, role: Role, weight: Weight = "light") -> None:
        """A frame whose lines lie in these columns and rows. One without extent is a line, or a cross if all alone."""
        self.horizontal(x1, x2, y1, role, weight)
        self.horizontal(x1, x2, y2, role, weight)
        self.vertical(x1, y1, y2, role, weight)
        self.vertical(x2, y1, y2, role, weight)
        if x1 == x2 and y1 == y2 and self._inside(x1, y1):
            arms = self._cells[y1][x1].arms
            for arm in [arm for arm in range(4) if arms[arm]] or range(4):
                self._arm(x1, y1, arm, role, weight)

    def fill(self, x1: int, y1: int, x2: int, y2: int, pattern: tuple[str, ...], role: Role) -> None:
        """Fills these columns and rows, both ends included. A pattern lies still, whatever is filled with it."""
        for y in range(max(y1, 0), min(y2, self.rows - 1) + 1):
            row = pattern[y % len(pattern)]
            for x in range(max(x1, 0), min(x2, self.columns - 1) + 1):
                self._put(x, y, row[x % len(row)], role)

    def hide(self, x1: int, y1: int, x2: int, y2: int) -> None:
        """Blanks what lies inside this frame, and cuts the lines that came out of it; a line hides nothing."""
        if x1 == x2 or y1 == y2:
            return
        self.fill(x1 + 1, y1 + 1, x2 - 1, y2 - 1, (" ",), "")
        for x in range(x1 + 1, x2):
            self._cut_off(x, y1, _DOWN)
            self._cut_off(x, y2, _UP)
        for y in range(y1 + 1, y2):
            self._cut_off(x1, y, _RIGHT)
            self._cut_off(x2, y, _LEFT)

    def run(self, x1: int, y1: int, x2: int, y2: int, role: Role, along: str, ends: tuple[str, str]) -> None:
        """A straight run of one character with another at each end, over whatever lies there; at least two cells."""
        cells = [(x, y) for y in range(y1, y2 + 1) for x in range(x1, x2 + 1)]
        if len(cells) < 2:
            return
        for x, y in cells:
            self._put(x, y, along, role)
        self._put(x1, y1, ends[0], role)
        self._put(x2, y2, ends[1], role)

    def shown(self, x: int, y: int) -> str:
        """What is seen in a cell so far; a space outside."""
        return self._seen(self._cells[y][x]) if self._inside(x, y) else " "

    def picture(self) -> Picture:
        """What has been drawn."""
        rows = []
        for cells in self._cells:
            runs = groupby(cells, key=lambda cell: cell.role)
            rows.append(tuple(Span("".join(map(self._seen, run)), role) for role, run in runs))
        return Picture(tuple(rows))

    def _seen(self, cell: _Cell) -> str:
        return self.glyphs.join(*cell.arms) if any(cell.arms) else cell.text

    def _inside(self, x: int, y: int) -> bool:
        return 0 <= x < self.columns and 0 <= y < self.rows

    def _put(self, x: int, y: int, text: str, role: Role) -> None:
        if not self._inside(x, y):
            return
        self._part_wide(x, y, keeps=not text)
        cell = self._cells[y][x]
        cell.text, cell.role, cell.arms = text, role, [0, 0, 0, 0]

    def _part_wide(self, x: int, y: int, keeps: bool = False) -> None:
        """Blanks the other half of a wide character of which this cell is about to lose one."""
        row = self._cells[y]
        if row[x].text == "" and not keeps:
            row[x - 1].text = " "
        if x + 1 < self.columns and row[x + 1].text == "":
            row[x + 1].text = " "

    def _line(self, cells: list[tuple[int, int]], back: int, forth: int, role: Role, weight: Weight) -> None:
        if len(cells) < 2:
            return
        for i, (x, y) in enumerate(cells):
            if weight == "dashed" and 0 < i < len(cells) - 1 and self._inside(x, y) and not any(self._cells[y][x].arms):
                self._put(x, y, self.glyphs.dash_across if back == _LEFT else self.glyphs.dash_down, role)
                continue
            if i > 0:
                self._arm(x, y, back, role, weight)
            if i < len(cells) - 1:
                self._arm(x, y, forth, role, weight)

    def _arm(self, x: int, y: int, arm: int, role: Role, weight: Weight) -> None:
        if not self._inside(x, y):
            return
        cell = self._cells[y][x]
        if not any(cell.arms):
            self._put(x, y, " ", role)
        cell.role = role
        cell.arms[arm] = max(cell.arms[arm], 2 if weight == "strong" else 1)

    def _cut_off(self, x: int, y: int, arm: int) -> None:
        if self._inside(x, y):
            self._cells[y][x].arms[arm] = 0
