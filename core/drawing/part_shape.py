"""The outline of a finished panel in cells: what is left once the notches are cut, and which edges it has."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

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

    def outline(self) -> Iterator[Edge]:
        """Every stretch of the outline between two places where it might turn, from the length- end and width- up."""
        cut = through(self.part)
        xs = sorted({Fraction(0), self.part.length, *(x for m in cut for x in (m.x, m.x + m.length))})
        ys = sorted({Fraction(0), self.part.width, *(y for m in cut for y in (m.y, m.y + m.width))})
        last_x, last_y = len(xs) - 1, len(ys) - 1

        def wood(i: int, j: int) -> bool:
            return (
                0 <= i < last_x
                and 0 <= j < last_y
                and not any(m.x <= xs[i] < m.x + m.length and m.y <= ys[j] < m.y + m.width for m in cut)
            )

        for i in range(last_x + 1):
            end: Side | None = "length-" if i == 0 else "length+" if i == last_x else None
            for j in range(last_y):
                if wood(i - 1, j) != wood(i, j):
                    yield Edge(self.column(xs[i]), self.row(ys[j + 1]), self.column(xs[i]), self.row(ys[j]), end)
        for j in range(last_y + 1):
            edge: Side | None = "width-" if j == 0 else "width+" if j == last_y else None
            for i in range(last_x):
                if wood(i, j - 1) != wood(i, j):
                    yield Edge(self.column(xs[i]), self.row(ys[j]), self.column(xs[i + 1]), self.row(ys[j]), edge)

    def longest(self, side: Side) -> Edge | None:
        """The longest unbroken stretch of a long edge; None where a notch takes all of it."""
        runs: list[Edge] = []
        for edge in self.outline():
            if edge.side != side:
                continue
            if runs and runs[-1].x2 == edge.x1:
                runs[-1] = Edge(runs[-1].x1, edge.y1, edge.x2, edge.y2, side)
            else:
                runs.append(edge)
        return max(runs, key=lambda run: run.x2 - run.x1, default=None)


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
