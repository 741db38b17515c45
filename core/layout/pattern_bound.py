"""How many sheets a job needs at the least, by what one sheet can hold at the most.

Give every piece a value. If no sheet can hold pieces of more than a value of z, all pieces
together, of value V, need at least V / z sheets. What a sheet can hold by edge-to-edge cuts is
bounded by a recursion: the best of a rectangle is its best single piece, or the best of what a
cut makes of it, where pieces of one size may be had without end (Gilmore & Gomory, "Multistage
cutting stock problems of two and more dimensions", Operations Research 13, 1965). The values
that bound best are the prices of a linear programme over the patterns met so far, to which the
recursion adds one pattern after another (column generation); the bound after each step is
Farley's ("A note on bounding a class of linear programming problems", Operations Research 38,
1990).

The programme is solved in floating point, but its prices are rounded to whole numbers, and
any whole values bound soundly: the recursion and the bound are exact.

Sizes include one kerf (`core.layout.blanks`). Where there are too many places for a cut, all
sizes are rounded down to a coarser scale first, which only lowers the bound.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Iterable, Sequence
from typing import Any

from core.layout.blanks import Blank, Board
from core.layout.places import rests, sums
from core.layout.programme import WHOLE, solver_for, whole_prices

FINEST = 300
"""Most places along a side at which a sheet is cut; where there are more, sizes are rounded down to such a scale."""


class PatternBound:
    """Raises a lower bound step by step. Empty patterns and sizes that fit no sheet have no place here."""

    def __init__(self, blanks: Sequence[Blank], boards: Sequence[Board], patterns: Iterable[Sequence[int]]) -> None:
        self.bound = 1
        self.exhausted = False
        """No further step can raise the bound."""
        self._wanted = [blank.quantity for blank in blanks]
        self._solver = solver_for([float(quantity) for quantity in self._wanted])
        length = max(board.length for board in boards)
        width = max(board.width for board in boards)
        self._table = _Table(blanks, length, width)
        self.work = self._table.columns * self._table.rows * (self._table.columns + self._table.rows)
        """About how many sums one step makes."""
        for size in range(len(blanks)):
            self._add([size])
        for pattern in patterns:
            self._add(pattern)

    def _add(self, pattern: Sequence[int]) -> None:
        sizes = sorted(set(pattern))
        counts = [float(pattern.count(size)) for size in sizes]
        self._solver.addCol(1.0, 0.0, float("inf"), len(sizes), sizes, counts)

    def raise_to(self, goal: int, steps: int, stopped: Callable[[], bool]) -> int:
        """The bound after at most so many steps; fewer if the goal is met, or no step can raise it."""
        while self.bound < goal and steps > 0 and not self.exhausted and not stopped():
            steps -= 1
            self._solver.run()
            prices = whole_prices(self._solver.getSolution().row_dual)
            for size in self._table.uncounted:
                prices[size] = 0
            most, pattern = self._table.best(prices)
            total = sum(price * wanted for price, wanted in zip(prices, self._wanted, strict=True))
            self.bound = max(self.bound, -(-total // most) if most else 1)
            if most <= WHOLE + len(pattern):
                self.exhausted = True
            else:
                self._add(pattern)
        return self.bound


class _Table:
    """What rectangles can hold, for each length and width at which a cut can matter."""

    def __init__(self, blanks: Sequence[Blank], length: int, width: int) -> None:
        import numpy

        self._numpy: Any = numpy
        ways = [[way for way in blank.ways if way[0] <= length and way[1] <= width] for blank in blanks]
        counts = [blank.quantity for blank in blanks]
        along = _Places([[way[0] for way in of] for of in ways], counts, length)
        across = _Places([[way[1] for way in of] for of in ways], counts, width)
        self.ways = [(along.of(x), across.of(y), size) for size, of in enumerate(ways) for x, y in of]
        # What a coarse scale makes nothing of would take no room: such pieces are not counted at all.
        self.uncounted = {size for x, y, size in self.ways if x == 0 or y == 0}
        self.ways = [way for way in self.ways if way[2] not in self.uncounted]
        self.columns, self.rows = len(along.places), len(across.places)
        self._along = [numpy.array(of) for of in rests(along.places)]
        self._across = [numpy.array(of) for of in rests(across.places)]

    def best(self, prices: Sequence[int]) -> tuple[int, list[int]]:
        """The most that a whole sheet can hold, and the pieces that make it."""
        numpy = self._numpy
        single = numpy.zeros((len(self._along), len(self._across)), dtype=numpy.int64)
        for x, y, size in self.ways:
            corner = single[x:, y:]
            numpy.maximum(corner, prices[size], out=corner)
        held = single.copy()
        before = -1
        # Each pass allows cuts of one direction more inside one another, until no more help.
        while before != (before := int(held.sum())):
            self._divide(held, self._along)
            held = numpy.ascontiguousarray(held.T)
            self._divide(held, self._across)
            held = numpy.ascontiguousarray(held.T)
        return int(held[-1, -1]), self._pieces(prices, single, held)

    def _divide(self, held: Any, rests: Sequence[Any]) -> None:
        """Every rectangle parted along its first side in the best way, the shorter ones first."""
        numpy = self._numpy
        for place, rest in enumerate(rests):
            if len(rest):
                parted = held[1 : len(rest) + 1] + held[rest]
                numpy.maximum(held[place], parted.max(axis=0), out=held[place])

    def _pieces(self, prices: Sequence[int], single: Any, held: Any) -> list[int]:
        """The pieces of the best pattern, by going back through the table."""
        numpy = self._numpy
        found: list[int] = []
        pending = [(held.shape[0] - 1, held.shape[1] - 1)]
        while pending:
            x, y = pending.pop()
            most = held[x, y]
            if not most:
                continue
            if single[x, y] == most:
                found.append(next(size for a, b, size in self.ways if a <= x and b <= y and prices[size] == most))
                continue
            rest = self._along[x]
            cuts = numpy.flatnonzero(held[1 : len(rest) + 1, y] + held[rest, y] == most) if len(rest) else []
            if len(cuts):
                pending += [(int(cuts[0]) + 1, y), (int(rest[cuts[0]]), y)]
                continue
            rest = self._across[y]
            cuts = numpy.flatnonzero(held[x, 1 : len(rest) + 1] + held[x, rest] == most)
            pending += [(x, int(cuts[0]) + 1), (x, int(rest[cuts[0]]))]
        return found


class _Places:
    """The places for cuts across one side, on a coarser scale if there are too many of them."""

    def __init__(self, sizes: Sequence[Sequence[int]], counts: Sequence[int], side: int) -> None:
        self._divisor = 1
        places = sums(sizes, counts, side, FINEST + 1)
        if places is None:
            # Rounded down, sizes that fit together still do, so that the bound stays below the truth.
            self._divisor = -(-side // FINEST)
            side //= self._divisor
            places = sums([[size // self._divisor for size in of] for of in sizes], counts, side, side + 2)
        assert places is not None, "there are no more places than the side is long"
        self.places = places

    def of(self, size: int) -> int:
        """The number of the place at the end of a piece of this size."""
        return bisect_right(self.places, size // self._divisor) - 1
