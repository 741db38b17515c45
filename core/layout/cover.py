"""Choosing sheets among all that were met: fewer of them may hold every piece than any layout did so far.

A set covering problem: for each pattern (`core.layout.pattern`) a whole number of sheets cut to
it, so that every piece is on at least one, at less cost than the best layout. Its linear programme
says what a piece of each size is worth, and by these prices more patterns are looked for
(`core.layout.best_sheets`): column generation, as Gilmore & Gomory began it (1961). Then whole
sheets are decided one after another, as often as is wanted, each time a little otherwise; new
patterns are looked for only when what is decided puts the goal out of reach.
"""

from __future__ import annotations

from collections.abc import Sequence

from core.layout.assemble import assembled
from core.layout.block import sizes_of
from core.layout.every_sheet import EverySheet
from core.layout.fitter import Filling, Fitter
from core.layout.least_boxes import GaveUp
from core.layout.limit import Limit
from core.layout.pattern import Pattern, pattern_of
from core.layout.pool import Pool
from core.layout.programme import Programme
from core.layout.shape import Shape, block_of, shape_of

FIRST_PRICINGS = 50
"""How often new patterns are looked for by the prices that those at hand give."""

PRICINGS = 6
"""How often for the pieces that are left when some sheets are decided for, and the goal is out of reach."""

PRICING_WORK = 1_000_000_000
"""How much work that may be, however often, as `BestSheets.work` counts it."""

LOOKS_IN_VAIN = 30
"""How often at other places, one after another in vain, where places for cuts are left that were not tried."""

MOST_LOOKS = 100
"""How often in all."""

NEARLY_PAYS = 0.9
"""Such a share of its cost a sheet must be worth by other prices to be looked at."""

WORTH_IT = 5000
"""A new pattern must save more than one part in this many of its board."""

DIVES_IN_VAIN = 3
"""After so many, and each time after three times as many, the solver chooses whole sheets itself."""

CHOSEN_AMONG = 2000
"""Where so many patterns could be in a better layout, or more, that would take too long."""

PROVING_WORK = 1_000_000
"""How much work may go at once into the proof that no layout costs less (`core.layout.least_boxes`)."""

MOST_PROOFS = 5
"""How often that may be in vain."""

MOST_A_SHEET = 8
"""Where more pieces than this go on a sheet it is not tried."""

ANY = 0
"""No layout costs less than this: patterns are looked for as long as there are any."""


class Cover:
    """Makes better fillings of a job out of the patterns in its pool; `tilt`: see `sheets_in_a_row`."""

    def __init__(self, fitter: Fitter, tilt: int) -> None:
        self.fitter = fitter
        self._tilt = tilt
        self.pool = Pool()
        self._wanted = [blank.quantity for blank in fitter.blanks]
        self._programme: Programme | None = None
        self._every: EverySheet | None = None
        self._proofs = 0
        self._looks = MOST_LOOKS
        self._dives_in_vain = 0
        self._patience = DIVES_IN_VAIN

    def better_than(self, best: Filling, limit: Limit) -> Filling | None:
        """A filling that costs less than this one, where the prices leave hope for one; more pieces may be missing."""
        cost = self.fitter.cost_of(best)
        if self._programme is None:
            begun = self._begun(cost, limit)
            if not begun.missing:
                return begun
        programme = self._programme = self._programme_with(best)
        self._price(programme, self._wanted, FIRST_PRICINGS, ANY, limit)
        self._price_otherwise(programme, cost, limit)
        self.pool.judge_by(*programme.prices(), max(0, programme.margin(cost)))
        if limit.reached() or not programme.in_reach(cost):
            return None
        decided = self._decided(programme, cost, limit)
        programme.undecide()
        filled = self._filled(decided, cost)
        if not filled.missing:
            return filled
        self._dives_in_vain += 1
        if self._dives_in_vain % self._patience:
            return filled
        self._patience *= 3
        chosen = self._filled(self._chosen(cost, limit), cost)
        return filled if chosen.missing else chosen

    def proves(self, best: Filling, limit: Limit) -> bool:
        """Whether no layout can cost less than this, by all sheets that could be in one; call `better_than` before.

        False as well where that takes too much work. A sheet that was not known and might help is kept.
        """
        programme, fewer = self._programme, len(best.blocks) - 1
        few_enough = 0 < sum(self._wanted) <= MOST_A_SHEET * fewer
        if programme is None or len(self.fitter.boards) > 1 or self._proofs == MOST_PROOFS or not few_enough:
            return False
        self._every = self._every or EverySheet(self.fitter)
        cost = self.fitter.cost(best.boards)
        # What was heard of since.
        self._price_anew(programme)
        while not programme.in_reach(cost):
            prices, _ = programme.prices()
            value = sum([price * quantity for price, quantity in zip(prices, self._wanted, strict=True)])
            try:
                # With one sheet fewer, some sheet would have to hold its share.
                block = self._every.priced_at(prices, -(-value // fewer), PROVING_WORK, limit.reached)
            except GaveUp:
                self._proofs += 1
                return False
            if block is None:
                return True
            if not self._take_in(programme, {pattern_of(0, sizes_of(block)): shape_of(block)}):
                break
        return False

    def hopes_for_better(self, best: Filling) -> bool:
        """Whether something may cost less than this one after all, by the sheets that `proves` met."""
        return self._programme is not None and self._programme.in_reach(self.fitter.cost(best.boards))

    def _begun(self, cost: int, limit: Limit) -> Filling:
        """Sheets one after another, each the best of what is left, as far as they cost less than this; all are kept."""
        self._programme = Programme(self.fitter)
        # Imported when it is first needed: most jobs are done before, and its arrays take a moment to load.
        from core.layout.row import sheets_in_a_row

        row = sheets_in_a_row(self.fitter, self._tilt, limit.reached)
        self.pool.keep(dict(row), own=True)
        return self._filled([pattern for pattern, _ in row], cost)

    def _programme_with(self, best: Filling) -> Programme:
        """The programme of all patterns in the pool, those of the best filling among them; solved."""
        programme = None if self.pool.forgot() else self._programme
        # Its own sheets, however much they leave free, so that there always is an answer.
        for board, block in zip(best.boards, best.blocks, strict=True):
            self.pool.keep({pattern_of(board, sizes_of(block)): shape_of(block)}, own=False)
        programme = programme or Programme(self.fitter)
        self._price_anew(programme)
        return programme

    def _decided(self, programme: Programme, cost: int, limit: Limit) -> list[Pattern]:
        """Whole sheets one after another, with new patterns where those at hand don't give what is left."""
        left = self._wanted.copy()
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

    def _chosen(self, cost: int, limit: Limit) -> list[Pattern]:
        """Whole sheets that the solver chooses among the patterns that could be in a layout for less than this cost."""
        patterns = self.pool.promising()
        if len(patterns) >= CHOSEN_AMONG:
            return []
        among = Programme(self.fitter)
        among.add(patterns)
        return among.choose_whole(cost, limit.reached)

    def _filled(self, patterns: Sequence[Pattern], cost: int) -> Filling:
        """These sheets as far as they cost less than this."""
        sheets = [(pattern[0], block_of(self.pool.shapes[pattern], self.fitter.rooms)) for pattern in patterns]
        return assembled(sheets, cost - 1, self.fitter)

    def _price(self, programme: Programme, wanted: Sequence[int], most: int, cost: int, limit: Limit) -> None:
        """Adds patterns that the prices speak for, again and again, until less than this cost comes into reach."""
        if programme.in_reach(cost):
            return
        from core.layout.best_sheets import FEW_PASSES, MOST_PASSES, BestSheets

        tables = [BestSheets(self.fitter, board, wanted) for board in range(len(self.fitter.boards))]
        passes = FEW_PASSES
        for _ in range(min(most, 1 + PRICING_WORK // sum(table.work for table in tables))):
            if limit.reached() or programme.in_reach(cost):
                break
            prices, costs = programme.prices()
            found: dict[Pattern, Shape] = {}
            for table, board_cost in zip(tables, costs, strict=True):
                found |= table.worth_more(prices, board_cost + board_cost // WORTH_IT, passes)
            if not self._take_in(programme, found):
                if passes == MOST_PASSES:
                    break
                passes = MOST_PASSES

    def _price_otherwise(self, programme: Programme, cost: int, limit: Limit) -> None:
        """Adds patterns cut at other places, until less than this cost comes into reach.

        They are looked for by prices between those of the programme and the areas of the pieces, and
        kept if they pay by those of the programme.
        """
        from core.layout.best_sheets import MOST_PASSES, BestSheets

        fitter, in_vain = self.fitter, 0
        while in_vain < LOOKS_IN_VAIN and self._looks and not programme.in_reach(cost) and not limit.reached():
            tables = [BestSheets(fitter, board, self._wanted, by_chance=True) for board in range(len(fitter.boards))]
            self._looks = 0 if all(table.all_places for table in tables) else self._looks - 1
            prices, costs = programme.prices()
            rates = [(each, of.length * of.width) for each, of in zip(costs, fitter.boards, strict=True)]
            by_area = [min([blank.area * each // area for each, area in rates]) for blank in fitter.blanks]
            share = fitter.random()
            between = [int(share * one + (1 - share) * other) for one, other in zip(prices, by_area, strict=True)]
            self.pool.judge_by(prices, costs, -(min(costs) // WORTH_IT))
            new = False
            for table, board_cost in zip(tables, costs, strict=True):
                found = table.worth_more(between, int(NEARLY_PAYS * board_cost), MOST_PASSES)
                new |= self.pool.offer(found, own=True)
            if new:
                self._price_anew(programme)
            in_vain = 0 if new else in_vain + 1

    def _take_in(self, programme: Programme, found: dict[Pattern, Shape]) -> bool:
        """Keeps these patterns and prices anew; False if all of them were known."""
        new = self.pool.keep(found, own=True)
        if new:
            self._price_anew(programme)
        return new

    def _price_anew(self, programme: Programme) -> None:
        """With what has come into the pool."""
        programme.add(self.pool.fresh())
        programme.solve()
