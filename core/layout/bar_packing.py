"""Whether given bars hold all pieces, and how.

Sizes and rooms include one kerf, so that pieces fit a bar when their sizes add up to no more than
its room (`core.layout.blanks`). Pieces of a size are alike: a *filling* is how many of each lie on a bar.

A linear programme asks how many pieces would stay without a place if a filling could be used in
parts; fillings are added to it as its prices ask for them (Gilmore & Gomory, "A linear programming
approach to the cutting-stock problem", Operations Research 9, 1961). Where some stay, these prices
prove that the bars do not do: all pieces are worth more than the bars can hold. The programme is
solved in floating point, but prices are rounded to whole numbers, and from there all is counted
exactly. Where none stay, the filling that is used most is laid first; if that leads nowhere, each
other one that holds its longest piece (bin completion: Korf, "An improved algorithm for optimal bin
packing", IJCAI 2003).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from math import ceil, floor
from operator import add
from typing import TypeAlias

from core.layout.melted import Melted
from core.layout.purchases import Counts, Proof, total
from core.layout.solver import WHOLE, highs, solver_for

Bar: TypeAlias = tuple[int, Counts]
"""The kind of a bar, and its filling."""

Packing: TypeAlias = list[Bar]

PROGRAMME_STEPS = 100
"""One solution of the programme counts for as many fillings that are looked at."""

MOST_CHOICES = 300
"""So many choices are made one after another before a packing is given up: they lie one inside another."""

NOTHING = 1e-7
"""Less of a piece than this without a place is an error of rounding."""


class _Spent(Exception):
    """No more may be looked at."""


def less(counts: Counts, taken: Iterable[int]) -> Counts:
    """What is left of each."""
    return tuple([count - take for count, take in zip(counts, taken, strict=True)])


def less_of(stock: Counts, kind: int, times: int = 1) -> Counts:
    """So many bars of this kind less."""
    return less(stock, [times * (kind == other) for other in range(len(stock))])


class Packer:
    """Packs so many pieces of these sizes, the longest first, into bars whose kinds have these rooms."""

    def __init__(self, sizes: Sequence[int], counts: Counts, rooms: Sequence[int]) -> None:
        self.left = 0
        """How much of what was allowed is left."""
        self.gave_up = False
        """No more was allowed when the last answer was given."""
        self.proof: Proof | None = None
        """What speaks against the last bars, if it speaks of other numbers of them too."""
        self._sizes, self._counts, self._rooms = sizes, counts, rooms
        self._fillings: list[Bar] = []
        self._dead: set[tuple[Counts, Counts]] = set()
        """Pieces and bars that do not go together."""
        self._solver = solver_for([*counts, *rooms])
        for size in range(len(sizes)):
            self._solver.addCol(1.0, 0.0, highs().kHighsInf, 1, [size], [1.0])

    def pack(self, stock: Counts, allowed: int) -> Packing | None:
        """All pieces on no more than so many bars of each kind, with so many fillings looked at; None if not found."""
        self.left, self.gave_up, self.proof = allowed, False, None
        try:
            return self._packed(self._counts, stock)
        except _Spent:
            self.gave_up = True
            return None

    def first_fit(self, left: Counts, stock: Iterable[tuple[int, int]]) -> tuple[Packing, Counts]:
        """One bar after another, each with the longest pieces that still fit; and what is left over.

        `stock`: in this order so many of each kind.
        """
        packing = []
        for bar in [kind for kind, count in stock for _ in range(count)]:
            room, filling = self._rooms[bar], []
            for size, count in zip(self._sizes, left, strict=True):
                filling.append(min(count, room // size))
                room -= size * filling[-1]
            if any(filling):
                packing.append((bar, tuple(filling)))
                left = less(left, filling)
        return packing, left

    def _packed(self, left: Counts, stock: Counts, laid: int = 0) -> Packing | None:
        """These pieces on these bars, after so many choices of others."""
        spare = total(stock, self._rooms) - total(left, self._sizes)
        if spare < 0 or (left, stock) in self._dead:
            return None
        packing, over = self.first_fit(left, enumerate(stock))
        if not any(over):
            return packing
        if laid == MOST_CHOICES:
            raise _Spent
        shares = self._shares(left, stock)
        for times, (kind, filling) in self._choices(left, stock, spare, shares) if shares else ():
            others = less(left, [count * times for count in filling])
            packed = self._packed(others, less_of(stock, kind, times), laid + 1)
            if packed is not None:
                return [(kind, filling)] * times + packed
        self._dead.add((left, stock))
        return None

    def _choices(self, left: Counts, stock: Counts, spare: int, shares: Sequence[float]) -> Iterator[tuple[int, Bar]]:
        """Bars one of which there must be if all pieces go on this stock; first the likeliest, as often as likely."""
        known = enumerate(self._fillings)
        useful = [index for index, (kind, filling) in known if stock[kind] and total(filling, left)]
        first = None
        if useful:
            likely = max(useful, key=lambda index: (round(shares[index] * WHOLE), -index))
            kind, filling = self._fillings[likely]
            # It may have been found when there was more of a size than is left.
            first = kind, tuple(map(min, filling, left))
            fits = [have // count for have, count in zip(left, first[1], strict=True) if count]
            times = min(round(shares[likely] * WHOLE) // WHOLE, stock[kind], *fits)
            if times > 1:
                yield times, first
            yield 1, first
        longest = [bool(count) for count in (first[1] if first else left)].index(True)
        one = [size == longest for size in range(len(left))]
        for kind, count in enumerate(stock):
            room = self._rooms[kind] - self._sizes[longest]
            if count and room >= 0:
                for filling in self._worth(self._sizes, less(left, one), room, room - spare):
                    bar = kind, tuple(map(add, filling, one))
                    if bar != first:
                        yield 1, bar

    def _shares(self, left: Counts, stock: Counts) -> list[float] | None:
        """How often each filling is used, in parts; None if even so the bars do not hold all pieces."""
        solver, sizes, endless = self._solver, len(left), highs().kHighsInf
        for size, count in enumerate(left):
            solver.changeRowBounds(size, float(count), endless)
        for kind, count in enumerate(stock, sizes):
            solver.changeRowBounds(kind, -endless, float(count))
        while True:
            self._step(PROGRAMME_STEPS)
            solver.run()
            duals = solver.getSolution().row_dual
            # Rounded so that no filling that is known seems to be worth more than its bar.
            prices = [max(0, floor(dual * WHOLE)) for dual in duals[:sizes]]
            held = tuple([max(0, ceil(-dual * WHOLE)) for dual in duals[sizes:]])
            better = []
            if solver.getInfo().objective_function_value > NOTHING:
                of_kinds = [self._worth(prices, left, room, held[kind] + 1) for kind, room in enumerate(self._rooms)]
                better = [
                    (kind, filling) for kind, of in enumerate(of_kinds) for filling in [next(of, None)] if filling
                ]
                proof = Proof(total(prices, left), held)
                if not better and proof.against(stock):
                    self.proof = proof if left == self._counts else None
                    return None
            new = [bar for bar in better if bar not in self._fillings]
            if not new:
                return list(solver.getSolution().col_value[sizes:])
            for kind, filling in new:
                self._fillings.append((kind, filling))
                rows = [size for size, count in enumerate(filling) if count]
                counts = [float(filling[size]) for size in rows]
                solver.addCol(0.0, 0.0, endless, len(rows) + 1, [*rows, sizes + kind], [*counts, 1.0])

    def _step(self, steps: int = 1) -> None:
        self.left -= steps
        if self.left < 0:
            raise _Spent

    def _worth(self, prices: Sequence[int], counts: Counts, room: int, least: int) -> Iterator[Counts]:
        """Every filling of a room that is worth so much, of pieces that are worth something; the dense ones first."""
        sizes = self._sizes
        melted = Melted(prices, sizes, counts)
        order = melted.order
        filling = [0] * len(counts)

        def from_place(place: int, room: int, worth: int) -> Iterator[Counts]:
            for at in range(place, len(order)):
                self._step()
                if worth + melted.at_best(at, room) < least:
                    return
                size = order[at]
                for count in range(min(counts[size], room // sizes[size]), 0, -1):
                    filling[size] = count
                    yield from from_place(at + 1, room - count * sizes[size], worth + count * prices[size])
                filling[size] = 0
            self._step()
            if worth >= least:
                yield tuple(filling)

        return from_place(0, room, 0)
