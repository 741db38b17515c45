"""The outline of a finished panel in cells: what is left once the notches are cut, and which edges it has."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby

from core.construction.part import Machining, Part, Side
from core.drawing.scale import Scale, fit_scale


@dataclass(frozen=True, slots=True)
class Edge:
    """A straight stretch of the outline, in columns and rows. `side` is None where a notch made it."""

    x1: int
    y1: int
    x2: int
    y2: int
    side: Side | None


@dataclass(frozen=True, slots=True)
class Shape:
    """A panel fitted into cells, its length to the right, its width up."""

    part: Part
    left: int
    bottom: int
    along: Scale
    across: Scale

    @property
    def right(self) -> int:
        """The column of the far end."""
        return self.column(self.part.length)

    @property
    def top(self) -> int:
        """The row of the far edge."""
        return self.row(self.part.width)

    def column(self, x: Fraction) -> int:
        """The column of a place along the length."""
        return self.left + self.along.at(x)

    def row(self, y: Fraction) -> int:
        """The row of a place across the width."""
        return self.bottom - self.across.at(y)

    def outline(self) -> list[Edge]:
        """Every stretch of the outline, as long as it runs straight on."""
        grid = _Grid.over(self.part)
        return self._borders(grid, lambda one, other: grid.wood(one) != grid.wood(other))

    def shoulders(self, rabbet: Machining) -> list[Edge]:
        """Where the edge of a rabbet runs over the panel."""
        grid = _Grid.over(self.part)

        def differ(one: _Field, other: _Field) -> bool:
            return grid.wood(one) and grid.wood(other) and grid.within(rabbet, one) != grid.within(rabbet, other)

        return self._borders(grid, differ)

    def longest(self, side: Side) -> Edge | None:
        """The longest unbroken stretch of a long edge; None where a notch takes all of it."""
        runs = [edge for edge in self.outline() if edge.side == side]
        return max(runs, key=lambda run: run.x2 - run.x1, default=None)

    def _borders(self, grid: _Grid, differ: Callable[[_Field, _Field], bool]) -> list[Edge]:
        """The straight runs between fields of the grid that differ."""
        xs, ys = grid.xs, grid.ys
        found = []
        for i, x in enumerate(xs):
            end: Side | None = "length-" if i == 0 else "length+" if i == len(xs) - 1 else None
            for low, high in _runs([differ((i - 1, j), (i, j)) for j in range(len(ys) - 1)]):
                found.append(Edge(self.column(x), self.row(ys[high]), self.column(x), self.row(ys[low]), end))
        for j, y in enumerate(ys):
            edge: Side | None = "width-" if j == 0 else "width+" if j == len(ys) - 1 else None
            for low, high in _runs([differ((i, j - 1), (i, j)) for i in range(len(xs) - 1)]):
                found.append(Edge(self.column(xs[low]), self.row(y), self.column(xs[high]), self.row(y), edge))
        return found


_Field = tuple[int, int]
"""One field of a grid: which of the columns between its lines, which of the rows."""


@dataclass(frozen=True, slots=True)
class _Grid:
    """A panel divided at every place where something cut out of it begins or ends, mm."""

    part: Part
    xs: list[Fraction]
    ys: list[Fraction]

    @staticmethod
    def over(part: Part) -> _Grid:
        cut = part.machining
        return _Grid(
            part,
            sorted({Fraction(0), part.length, *(x for m in cut for x in (m.x, m.x + m.length))}),
            sorted({Fraction(0), part.width, *(y for m in cut for y in (m.y, m.y + m.width))}),
        )

    def within(self, machining: Machining, field: _Field) -> bool:
        i, j = field
        return (
            machining.x <= self.xs[i] < machining.x + machining.length
            and machining.y <= self.ys[j] < machining.y + machining.width
        )

    def wood(self, field: _Field) -> bool:
        i, j = field
        on_the_panel = 0 <= i < len(self.xs) - 1 and 0 <= j < len(self.ys) - 1
        return on_the_panel and not any(self.within(machining, field) for machining in through(self.part))


def _runs(flags: list[bool]) -> Iterator[tuple[int, int]]:
    """Where each unbroken run of True begins, and the place after its last."""
    start = 0
    for is_set, run in groupby(flags):
        end = start + len(list(run))
        if is_set:
            yield start, end
        start = end


def through(part: Part) -> list[Machining]:
    """What is cut right through."""
    return [machining for machining in part.machining if machining.depth is None]


def fit_shape(part: Part, left: int, top: int, columns: int, rows: int, cell_ratio: Fraction) -> Shape:
    """The panel as large as `columns` by `rows` cells (at least 2 by 2) allow, in proportion, centred across.

    Every notch and rabbet is drawn with a cell inside it where there is room, however small it is.
    """
    per_mm = min((columns - 1) / part.length, (rows - 1) * cell_ratio / part.width)
    steps_along = max(1, min(round(part.length * per_mm), columns - 1))
    steps_across = max(1, min(round(part.width * per_mm / cell_ratio), rows - 1))
    lengths = [(m.x, m.x + m.length) for m in part.machining]
    widths = [(m.y, m.y + m.width) for m in part.machining]
    along = fit_scale((Fraction(0), part.length), steps_along, lengths, [])
    across = fit_scale((Fraction(0), part.width), steps_across, widths, [])
    return Shape(part, left + (columns - 1 - steps_along) // 2, top + steps_across, along, across)
