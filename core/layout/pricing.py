"""What pieces are worth by the patterns in a pool, and more patterns for it that these prices speak for.

Column generation, as Gilmore & Gomory began it ("A linear programming approach to the cutting stock
problem", Operations Research 9, 1961): the programme (`core.layout.programme`) prices the pieces, and
sheets whose pieces are priced above what the sheet costs (`core.layout.best_sheets`) are added to it,
until there are no more.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property

from core.layout.best_sheets import FEW_PASSES, MOST_PASSES, BestSheets
from core.layout.block import sizes_of
from core.layout.fitter import Filling, Fitter
from core.layout.limit import Limit
from core.layout.pattern import Pattern, pattern_of
from core.layout.pool import Pool
from core.layout.programme import Programme
from core.layout.shape import Shape, shape_of

WORK = 1_000_000_000
"""How much work goes into looking, however often that is, as `BestSheets.work` counts it."""

LOOKS_IN_VAIN = 30
"""So many boards, one after another, may be looked at with other places, and nothing new be found."""

MOST_LOOKS = 100
"""How many are looked at so in all."""

NEARLY_PAYS = 0.9
"""Such a share of its cost a sheet must be worth by other prices to be looked at."""

WORTH_IT = 5000
"""A new pattern must save more than one part in this many of its board."""


class Pricing:
    """The programme of all patterns in a pool. `wanted`: how many pieces there are of each size."""

    def __init__(self, fitter: Fitter, pool: Pool) -> None:
        self.wanted = [blank.quantity for blank in fitter.blanks]
        self.programme = Programme(fitter)
        self._fitter = fitter
        self._pool = pool
        self._looks = MOST_LOOKS

    def anew(self) -> None:
        """With what has come into the pool."""
        self.programme.add(self._pool.fresh())
        self.programme.solve()

    def with_all_of(self, filling: Filling) -> None:
        """Anew, with the sheets of this filling, however much they leave free: so there always is an answer."""
        if self._pool.forgot():
            self.programme = Programme(self._fitter)
        for board, block in zip(filling.boards, filling.blocks, strict=True):
            self._pool.keep({pattern_of(board, sizes_of(block)): shape_of(block)}, own=False)
        self.anew()

    def take_in(self, found: dict[Pattern, Shape]) -> bool:
        """Keeps these patterns and prices anew; False if all of them were known."""
        new = self._pool.keep(found, own=True)
        if new:
            self.anew()
        return new

    def look(self, wanted: Sequence[int], most: int, cost: int, limit: Limit) -> None:
        """Adds patterns of what is wanted that pay, at most so often, until less than this cost comes into reach."""
        programme, boards = self.programme, range(len(self._fitter.boards))
        if programme.in_reach(cost):
            return
        tables = [BestSheets(self._fitter, board, wanted) for board in boards]
        passes = FEW_PASSES
        for _ in range(min(most, 1 + WORK // sum(table.work for table in tables))):
            if limit.reached() or programme.in_reach(cost):
                break
            prices, costs = programme.prices()
            found: dict[Pattern, Shape] = {}
            for table, board_cost in zip(tables, costs, strict=True):
                if limit.reached():
                    return
                found |= table.worth_more(prices, board_cost + board_cost // WORTH_IT, passes)
            if not self.take_in(found):
                if passes == MOST_PASSES:
                    break
                passes = MOST_PASSES

    def look_elsewhere(self, cost: int, limit: Limit) -> None:
        """Adds patterns cut at places that `look` does not try, until less than this cost comes into reach.

        They are looked for by prices between those of the programme and the areas of the pieces, and
        kept if they pay by those of the programme.
        """
        fitter, programme, in_vain = self._fitter, self.programme, 0
        while not programme.in_reach(cost) and not self._all_places and not limit.reached():
            if in_vain >= LOOKS_IN_VAIN or self._looks <= 0:
                break
            self._looks -= len(fitter.boards)
            prices, costs = programme.prices()
            rates = [(each, of.length * of.width) for each, of in zip(costs, fitter.boards, strict=True)]
            by_area = [min([blank.area * each // area for each, area in rates]) for blank in fitter.blanks]
            share = fitter.random()
            between = [int(share * one + (1 - share) * other) for one, other in zip(prices, by_area, strict=True)]
            self._pool.judge_by(prices, costs, -(min(costs) // WORTH_IT))
            new = False
            for board, board_cost in enumerate(costs):
                if limit.reached():
                    return
                table = BestSheets(fitter, board, self.wanted, by_chance=True)
                found = table.worth_more(between, int(NEARLY_PAYS * board_cost), MOST_PASSES)
                new |= self._pool.offer(found, own=True)
            if new:
                self.anew()
            in_vain = 0 if new else in_vain + len(fitter.boards)

    @cached_property
    def _all_places(self) -> bool:
        """Whether `look` tries every place at which a cut can matter."""
        boards = range(len(self._fitter.boards))
        return all(BestSheets(self._fitter, board, self.wanted).all_places for board in boards)
