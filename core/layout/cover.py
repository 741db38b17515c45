"""Choosing sheets among all that were met: fewer of them may hold every piece than any layout did so far.

A set covering problem: for each pattern (`core.layout.pattern`) a whole number of sheets cut to
it, so that every piece is on at least one, at less cost than the best layout. Its linear programme
says what a piece of each size is worth, and by these prices more patterns are looked for
(`core.layout.pricing`); column generation, as Gilmore & Gomory began it (1961). What the solver
chooses is put together and counted in whole numbers.
"""

from __future__ import annotations

from collections.abc import Sequence

from core.layout.best_sheets import FEW_PASSES, MOST_PASSES, BestSheets
from core.layout.block import Block, Leaf, sizes_of
from core.layout.every_sheet import EverySheet
from core.layout.fitter import Draft, Filling, Fitter
from core.layout.least_boxes import GaveUp
from core.layout.limit import Limit
from core.layout.pattern import Pattern, pattern_of
from core.layout.programme import WHOLE, Programme
from core.layout.refill import refill
from core.layout.remove import remove
from core.layout.shape import Shape, block_of, shape_of

FIRST_PRICINGS = 50
"""How often new patterns are looked for by the prices that those at hand give."""

PRICINGS = 6
"""How often for the pieces that are left when some sheets are decided for, and the goal is lost from sight."""

WORTH_IT = 5000
"""A new pattern must save more than one part in this many of its board."""

PROVING_WORK = 1_000_000
"""How much work may go at once into the proof that no layout costs less (`core.layout.least_boxes`)."""

MOST_PROOFS = 5
"""How often that may be in vain."""

MOST_A_SHEET = 8
"""Where more pieces than this go on a sheet it is not tried."""

MOST_PIECES = 100_000
"""How many pieces there may be on all patterns together, before only the best half is kept."""


class Cover:
    """The patterns met in a job so far that a layout better than the best could be made of."""

    def __init__(self, fitter: Fitter) -> None:
        self.fitter = fitter
        self.patterns: dict[Pattern, Shape] = {}
        self._fresh: dict[Pattern, Shape] = {}
        self._news: dict[Pattern, Shape] = {}
        self._programme: Programme | None = None
        self._every: EverySheet | None = None
        self._proofs = 0
        self._dearest = WHOLE
        """What a pattern may cost above its prices, and still be of use."""
        self._prices: list[int] = []
        self._costs: list[int] = []

    def add(self, patterns: dict[Pattern, Shape]) -> dict[Pattern, Shape]:
        """Remembers those of these that may be of use, and gives those that were not known."""
        new = {
            pattern: shape
            for pattern, shape in patterns.items()
            if pattern not in self.patterns and pattern not in self._fresh and self._may_serve(pattern)
        }
        self._fresh |= new
        return new

    def add_own(self, patterns: dict[Pattern, Shape]) -> None:
        """Remembers these, and that they are news to others."""
        self._news |= self.add(patterns)

    def news(self) -> dict[Pattern, Shape]:
        """The patterns found here since this was asked last."""
        news, self._news = self._news, {}
        return news

    def _may_serve(self, pattern: Pattern) -> bool:
        """Whether a layout better than the best could have such a sheet, by the prices known last."""
        if not self._prices:
            return True
        board, *sizes = pattern
        prices = self._prices
        return self._costs[board] - sum([prices[size] for size in sizes]) <= self._dearest

    def better_than(self, best: Filling, limit: Limit) -> Filling | None:
        """A filling that costs less than this one, where the prices leave hope for one; some pieces may be missing."""
        cost = self.fitter.cost(best.boards)
        programme = self._programme_with(best)
        self._price(programme, [blank.quantity for blank in self.fitter.blanks], FIRST_PRICINGS, 0, limit)
        self._prices, self._costs = programme.prices()
        self._dearest = max(0, programme.margin(cost))
        if limit.reached() or not programme.in_reach(cost):
            return None
        decided = self._decided(programme, cost, limit)
        programme.undecide()
        return self._filled(decided, cost)

    def proves(self, best: Filling, limit: Limit) -> bool:
        """Whether no layout can cost less than this, by all sheets that could be in one; call `better_than` before.

        False as well where that takes too much work. A sheet that was not known and might help is remembered.
        """
        programme, fewer = self._programme, len(best.blocks) - 1
        wanted = [blank.quantity for blank in self.fitter.blanks]
        few_enough = 0 < sum(wanted) <= MOST_A_SHEET * fewer
        if programme is None or len(self.fitter.boards) > 1 or self._proofs == MOST_PROOFS or not few_enough:
            return False
        self._every = self._every or EverySheet(self.fitter)
        cost = self.fitter.cost(best.boards)
        while not programme.in_reach(cost):
            prices, _ = programme.prices()
            value = sum([price * quantity for price, quantity in zip(prices, wanted, strict=True)])
            try:
                # With one sheet fewer, some sheet would have to hold its share.
                block = self._every.priced_at(prices, -(-value // fewer), PROVING_WORK, limit.reached)
            except GaveUp:
                self._proofs += 1
                return False
            if block is None:
                return True
            self._take_in(programme, {pattern_of(0, sizes_of(block)): shape_of(block)})
        return False

    def _programme_with(self, best: Filling) -> Programme:
        """The programme of all patterns that may serve, those of the best filling among them; solved."""
        # Its own sheets, however much they leave free, so that there always is an answer.
        for board, block in zip(best.boards, best.blocks, strict=True):
            self._fresh.setdefault(pattern_of(board, sizes_of(block)), shape_of(block))
        self.patterns |= self._fresh
        if self._programme is None:
            self._programme = Programme(self.fitter, self.patterns)
        else:
            self._programme.add(self._fresh)
        self._fresh = {}
        self._programme.solve()
        return self._programme

    def _decided(self, programme: Programme, cost: int, limit: Limit) -> list[Pattern]:
        """Whole sheets one after another, with new patterns where those at hand don't give what is left."""
        left = [blank.quantity for blank in self.fitter.blanks]
        decided: list[Pattern] = []
        while any(left) and programme.in_reach(cost) and not limit.reached():
            chosen = programme.decide(self.fitter.random)
            if not chosen:
                break
            decided += chosen
            for pattern in chosen:
                for size in pattern[1:]:
                    left[size] = max(0, left[size] - 1)
            programme.solve()
            if any(left):
                self._price(programme, left, PRICINGS, cost, limit)
        return decided

    def _price(self, programme: Programme, wanted: Sequence[int], most: int, cost: int, limit: Limit) -> None:
        """Adds patterns that the prices speak for, again and again, until less than this cost comes into reach."""
        tables: list[BestSheets] = []
        passes = FEW_PASSES
        for _ in range(most):
            if limit.reached() or programme.in_reach(cost):
                break
            tables = tables or [BestSheets(self.fitter, board, wanted) for board in range(len(self.fitter.boards))]
            prices, costs = programme.prices()
            found: dict[Pattern, Shape] = {}
            for table, board_cost in zip(tables, costs, strict=True):
                found |= table.worth_more(prices, board_cost + board_cost // WORTH_IT, passes)
            new = {pattern: shape for pattern, shape in found.items() if pattern not in self.patterns}
            if new:
                self._take_in(programme, new)
            elif passes == FEW_PASSES:
                passes = MOST_PASSES
            else:
                break

    def _take_in(self, programme: Programme, new: dict[Pattern, Shape]) -> None:
        """Remembers new patterns, and prices anew."""
        self.patterns |= new
        self._news |= new
        programme.add(new)
        programme.solve()

    def _filled(self, patterns: Sequence[Pattern], cost: int) -> Filling:
        """Sheets of these patterns for less than this cost, without what there is too much of, and refilled."""
        fitter = self.fitter
        wanted = [blank.quantity for blank in fitter.blanks]
        draft = Draft([], [], [], cost - 1)
        for pattern in patterns:
            board = pattern[0]
            block = _without_surplus(block_of(self.patterns[pattern], fitter.rooms), wanted, fitter)
            if block is not None and draft.purse is not None and fitter.boards[board].cost <= draft.purse:
                draft.purse -= fitter.boards[board].cost
                draft.boards.append(board)
                draft.blocks.append(block)
        draft.missing = [size for size, count in enumerate(wanted) for _ in range(count)]
        refill(draft, fitter)
        return draft.settled()


def _without_surplus(block: Block, wanted: list[int], fitter: Fitter) -> Block | None:
    """The block without pieces that are not wanted any more; None if it holds no others. Counts `wanted` down."""
    left: Block | None = block
    while left is not None:
        waiting = wanted.copy()
        node = _first_surplus(left, waiting, 0)
        if node is None:
            wanted[:] = waiting
            return left
        left = remove(left, node, [], fitter.rooms)
    return None


def _first_surplus(block: Block, waiting: list[int], node: int) -> int | None:
    """The number of the first member, as `remove` counts, that is a piece too many. Counts `waiting` down."""
    for member in block.members:
        if isinstance(member, Leaf):
            waiting[member.blank] -= 1
            if waiting[member.blank] < 0:
                return node
        else:
            found = _first_surplus(member, waiting, node + 1)
            if found is not None:
                return found
        node += member.nodes
    return None
