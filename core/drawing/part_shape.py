"""The outline of a finished panel in cells: what is left once the notches are cut, and which edges it has."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby

from core.construction.part import Holes, Machining, Part, Side
from core.drawing.blocks import Block
from core.drawing.part_seen import ends_of
from core.drawing.scale import Scale, Stretch, fit_scale, steps_needed


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

    def shoulders(self, cut: Machining) -> list[Edge]:
        """Where the edges of what is not cut right through run over the panel."""
        grid = _Grid.over(self.part)

        def differ(one: _Field, other: _Field) -> bool:
            return grid.wood(one) and grid.wood(other) and grid.within(cut, one) != grid.within(cut, other)

        return self._borders(grid, differ)

    def bored(self, holes: Holes) -> list[tuple[int, int]]:
        """The cells in which the holes of a row are seen: those on a line of the outline are not."""
        cells = dict.fromkeys((self.column(x), self.row(y)) for x, y in holes.centres())
        return [(x, y) for x, y in cells if self.left < x < self.right and self.top < y < self.bottom]

    def row_block(self, holes: Holes) -> Block:
        """The cells from the first hole of a row to its last."""
        (x1, y1), (x2, y2) = ends_of(holes)
        return Block(self.column(x1), self.row(y2), self.column(x2), self.row(y1))

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

    Whatever is cut is drawn with a cell inside it, and every row of holes with a cell of its own, where there is
    room, however small they are. A panel that would be too narrow for that in proportion is drawn wider.
    """
    per_mm = min((columns - 1) / part.length, (rows - 1) * cell_ratio / part.width)
    lengths = [(m.x, m.x + m.length) for m in part.machining]
    widths = [(m.y, m.y + m.width) for m in part.machining]
    standing = [holes for holes in part.holes if holes.along == "width"]
    lying = [holes for holes in part.holes if holes.along == "length"]
    free_along = _beside(part.length, lengths, [h.x for h in standing], [x for h in lying for x, _ in ends_of(h)])
    free_across = _beside(part.width, widths, [h.y for h in lying], [y for h in standing for _, y in ends_of(h)])

    for cut in part.machining:
        # A groove near an edge would else look like a rabbet along it.
        if cut.kind in ("dado", "groove"):
            free_along += _strips(part.length, (cut.x, cut.x + cut.length))
            free_across += _strips(part.width, (cut.y, cut.y + cut.width))

    def steps(whole: Fraction, per_mm: Fraction, room: int, wide: list[Stretch], apart: list[Stretch]) -> int:
        # Without rows of holes and channels the proportion says more than a cell more would.
        needed = steps_needed((Fraction(0), whole), wide, apart) if _is_crowded(part) else 1
        return max(1, min(max(round(whole * per_mm), needed), room - 1))

    steps_along = steps(part.length, per_mm, columns, lengths, free_along)
    steps_across = steps(part.width, per_mm / cell_ratio, rows, widths, free_across)
    along = fit_scale((Fraction(0), part.length), steps_along, lengths, [], apart=free_along)
    across = fit_scale((Fraction(0), part.width), steps_across, widths, [], apart=free_across)
    return Shape(part, left + (columns - 1 - steps_along) // 2, top + steps_across, along, across)


def _strips(whole: Fraction, cut: Stretch) -> list[Stretch]:
    """What is left before a cut and beyond it."""
    return [strip for strip in ((Fraction(0), cut[0]), (cut[1], whole)) if strip[0] < strip[1]]


def _is_crowded(part: Part) -> bool:
    return bool(part.holes) or any(cut.kind in ("dado", "groove") for cut in part.machining)


def _beside(whole: Fraction, cuts: list[Stretch], rows: list[Fraction], ends: list[Fraction]) -> list[Stretch]:
    """What has to be a cell apart, so that no row lies on a line or on another, and none begins or ends on a line."""
    lines = {Fraction(0), whole, *(stop for cut in cuts for stop in cut)}
    found: set[Stretch] = set()
    for places, others in ((rows, sorted({*lines, *rows})), (ends, sorted(lines))):
        for place in places:
            found.update([(max(o for o in others if o < place), place)] if place > 0 else [])
            found.update([(place, min(o for o in others if o > place))] if place < whole else [])
    return sorted(found)
