"""What rectangles can hold at the most, at given prices of the pieces.

The best of a rectangle is its best single piece, or the best of what a cut makes of it, where
pieces of one size may be had without end (Gilmore & Gomory, "Multistage cutting stock problems of
two and more dimensions", Operations Research 13, 1965). So no sheet holds more than the table
says. It says less, and is nearer to the truth, if some sizes are counted: then there is a table
for each number of pieces of these that may still be had (a state space relaxed for all the others:
Christofides & Hadjiconstantinou, "An exact algorithm for orthogonal 2-D cutting problems using
guillotine cuts", European Journal of Operational Research 83, 1995).

Sizes include one kerf (`core.layout.blanks`). Where there are too many places for a cut, all
sizes are rounded down to a coarser scale first, which only makes the tables say more.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Mapping, Sequence
from itertools import product
from typing import TypeAlias

import numpy
from numpy.typing import NDArray

from core.layout.blanks import Blank
from core.layout.places import rests, sums

FINEST = 300
"""Most places along a side at which a sheet is cut; where there are more, sizes are rounded down to such a scale."""

Values: TypeAlias = NDArray[numpy.int64]
"""By the number of a stock, and of the places where a rectangle ends in length and in width."""

Numbers: TypeAlias = NDArray[numpy.intp]


class Stocks:
    """How many pieces of the counted sizes are to be had: each such stock has a number, 0 if there are none.

    The numbers of two stocks add up to that of both together.
    """

    def __init__(self, counted: Mapping[int, int]) -> None:
        self.of_piece: dict[int, int] = {}
        """The number of the stock of one piece of a size."""
        self.all = 0
        """The number of the stock of all pieces."""
        for size, count in counted.items():
            self.of_piece[size] = self.all + 1
            self.all += count * (self.all + 1)
        counts = list(product(*(range(count + 1) for count in reversed([*counted.values()]))))
        parts = [
            [number for number, some in enumerate(counts) if all(a <= b for a, b in zip(some, stock, strict=True))]
            for stock in counts
        ]
        self.whole: Numbers = numpy.repeat(numpy.arange(len(counts)), [len(of) for of in parts])
        """Every way to part every stock in two, one stock after another: that stock."""
        self.some: Numbers = numpy.array([number for of in parts for number in of], dtype=numpy.intp)
        """What of it goes to one side of a cut."""
        self.others: Numbers = self.whole - self.some
        """What goes to its other side."""
        self._first = numpy.cumsum([0, *(len(of) for of in parts[:-1])])

    def best(self, parted: Values) -> Values:
        """The most of all ways to part each stock, from the value of each."""
        best: Values = numpy.maximum.reduceat(parted, self._first, axis=0)
        return best


class Places:
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
        self._places = places
        self.rests: list[Numbers] = [numpy.array(of, dtype=numpy.intp) for of in rests(places)]
        """For each place, and each one up to its half from 1 upwards, the place of what a cut there leaves."""

    def __len__(self) -> int:
        return len(self._places)

    def of(self, size: int) -> int:
        """The number of the place up to which a piece of this size reaches."""
        return bisect_right(self._places, size // self._divisor) - 1


class Holdings:
    """The tables of all rectangles on a sheet of this length and width; `counted`: sizes that are counted."""

    def __init__(self, blanks: Sequence[Blank], length: int, width: int, counted: Sequence[int] = ()) -> None:
        ways = [blank.ways_in(length, width) for blank in blanks]
        counts = [blank.quantity for blank in blanks]
        self.along = Places([[way[0] for way in of] for of in ways], counts, length)
        self.across = Places([[way[1] for way in of] for of in ways], counts, width)
        self.stocks = Stocks({size: counts[size] for size in counted})
        laid = [(self.along.of(x), self.across.of(y), size) for size, of in enumerate(ways) for x, y in of]
        # What a coarse scale makes nothing of would take no room: such pieces have no price at all.
        self.priceless = {size for x, y, size in laid if x == 0 or y == 0}
        self._ways = [way for way in laid if way[2] not in self.priceless]
        self.work = len(self.stocks.some) * len(self.along) * len(self.across) * (len(self.along) + len(self.across))
        """About how many sums `most` makes."""

    def most(self, prices: Sequence[int]) -> Values:
        """The most that each rectangle can hold, by its stock and its corner. That of the whole sheet is the last."""
        held = self._single(prices)
        before = -1
        # Each pass allows cuts of one direction more inside one another, until no more help.
        while before != (before := int(held.sum())):
            self._divide(held, self.along)
            held = _turned(held)
            self._divide(held, self.across)
            held = _turned(held)
        return held

    def _single(self, prices: Sequence[int]) -> Values:
        """The dearest piece that each rectangle can hold."""
        held = numpy.zeros((self.stocks.all + 1, len(self.along), len(self.across)), dtype=numpy.int64)
        for x, y, size in self._ways:
            having = self._having(size)
            held[having, x:, y:] = numpy.maximum(held[having, x:, y:], prices[size])
        return held

    def _having(self, size: int) -> Numbers:
        """The numbers of the stocks in which there is a piece of this size."""
        stocks = self.stocks
        one = stocks.of_piece.get(size, 0)
        having: Numbers = stocks.whole[stocks.some == one]
        return having

    def _divide(self, held: Values, places: Places) -> None:
        """Every rectangle parted along its first side in the best way, the shorter ones first."""
        stocks = self.stocks
        for place, rest in enumerate(places.rests):
            if len(rest):
                parted = held[stocks.some, 1 : len(rest) + 1] + held[stocks.others[:, None], rest]
                numpy.maximum(held[:, place], stocks.best(parted.max(axis=1)), out=held[:, place])

    def corner(self, length: int, width: int) -> tuple[int, int]:
        """The numbers of the places where a rectangle of this size ends."""
        return self.along.of(length), self.across.of(width)

    def pieces(self, prices: Sequence[int], held: Values, corner: tuple[int, int]) -> list[int]:
        """The pieces of the best rectangle with this corner, by going back through the tables."""
        found: list[int] = []
        pending = [(self.stocks.all, *corner)]
        while pending:
            stock, x, y = pending.pop()
            most = held[stock, x, y]
            if not most:
                continue
            single = [size for a, b, size in self._ways if a <= x and b <= y and prices[size] == most]
            single = [size for size in single if stock in self._having(size)]
            if single:
                found.append(single[0])
            else:
                pending += self._parted(held, stock, x, y)
        return found

    def _parted(self, held: Values, stock: int, x: int, y: int) -> list[tuple[int, int, int]]:
        """The two sides of the best cut of a rectangle."""
        ways = self.stocks.whole == stock
        for some, others in zip(self.stocks.some[ways], self.stocks.others[ways], strict=True):
            rest = self.along.rests[x]
            cuts = numpy.flatnonzero(held[some, 1 : len(rest) + 1, y] + held[others, rest, y] == held[stock, x, y])
            if len(cuts):
                return [(some, int(cuts[0]) + 1, y), (others, int(rest[cuts[0]]), y)]
            rest = self.across.rests[y]
            cuts = numpy.flatnonzero(held[some, x, 1 : len(rest) + 1] + held[others, x, rest] == held[stock, x, y])
            if len(cuts):
                return [(some, x, int(cuts[0]) + 1), (others, x, int(rest[cuts[0]]))]
        raise AssertionError("a rectangle holds what a piece or a cut gives it")


def _turned(values: Values) -> Values:
    return numpy.ascontiguousarray(values.transpose(0, 2, 1))
