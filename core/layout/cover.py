"""Choosing sheets among all that were met: fewer of them may hold every piece than any layout did so far.

A set covering problem: for each pattern (`core.layout.pattern`) a whole number of sheets cut to
it, so that every piece is on at least one, at less cost than the best layout. Its linear programme
says what a piece of each size is worth, and by these prices more patterns are looked for
(`core.layout.pricing`). Then whole sheets are decided one after another, as often as is wanted, each
time a little otherwise; new patterns are looked for only when what is decided puts the goal out of
reach.
"""

from __future__ import annotations

from collections.abc import Sequence

from core.layout.assemble import assembled
from core.layout.block import sizes_of
from core.layout.every_sheet import EverySheet
from core.layout.fitter import DEEPEST_TO_FILL, Filling, Fitter
from core.layout.least_boxes import GaveUp
from core.layout.limit import Limit
from core.layout.pattern import Pattern, pattern_of
from core.layout.pool import Pool
from core.layout.pricing import Pricing
from core.layout.programme import Programme
from core.layout.row import sheets_in_a_row
from core.layout.shape import block_of, shape_of

FIRST_LOOKS = 50
"""How often new patterns are looked for by the prices that those at hand give."""

LOOKS = 6
"""How often for the pieces that are left when some sheets are decided for, and the goal is out of reach."""

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
    """Makes better fillings of a job out of the patterns in a pool."""

    def __init__(self, fitter: Fitter, pool: Pool) -> None:
        self.fitter = fitter
        self.pool = pool
        self._pricing = Pricing(fitter, pool)
        self._wanted = self._pricing.wanted
        self._every: EverySheet | None = None
        self._proofs = 0
        self._dives_in_vain = 0
        self._patience = DIVES_IN_VAIN

    def begun(self, best: Filling, tilt: int, limit: Limit) -> Filling:
        """Sheets in a row (`tilt`: see there) as far as they cost less than this filling; all are kept."""
        row = sheets_in_a_row(self.fitter, tilt, limit.reached)
        self.pool.keep(dict(row), own=True)
        return self._filled([pattern for pattern, _ in row], self.fitter.cost_of(best))

    def better_than(self, best: Filling, limit: Limit) -> Filling | None:
        """A filling that costs less than this one, where the prices leave hope for one; more pieces may be missing."""
        cost, pricing = self.fitter.cost_of(best), self._pricing
        pricing.with_all_of(best)
        pricing.look(self._wanted, FIRST_LOOKS, ANY, limit)
        pricing.look_elsewhere(cost, limit)
        programme = pricing.programme
        self.pool.judge_by(*programme.prices(), max(0, programme.margin(cost)))
        if limit.reached() or not programme.in_reach(cost):
            return None
        decided = self._decided(cost, limit)
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
        fewer = len(best.blocks) - 1
        few_enough = 0 < sum(self._wanted) <= MOST_A_SHEET * fewer
        if len(self.fitter.boards) > 1 or self._proofs == MOST_PROOFS or not few_enough:
            return False
        self._every = self._every or EverySheet(self.fitter)
        cost = self.fitter.cost(best.boards)
        # What was heard of since.
        self._pricing.anew()
        programme = self._pricing.programme
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
            if block.deep >= DEEPEST_TO_FILL or not self._pricing.take_in(
                {pattern_of(0, sizes_of(block)): shape_of(block)}
            ):
                break
        return False

    def hopes_for_better(self, best: Filling) -> bool:
        """Whether something may cost less than this one after all, by the sheets that `proves` met."""
        return self._pricing.programme.in_reach(self.fitter.cost(best.boards))

    def _decided(self, cost: int, limit: Limit) -> list[Pattern]:
        """Whole sheets one after another, with new patterns where those at hand don't give what is left."""
        programme = self._pricing.programme
        left = self._wanted.copy()
        decided: list[Pattern] = []
        while any(left) and programme.in_reach(cost) and not limit.reached():
            chosen = programme.decide(self.fitter.random)
            if not chosen:
                break
            decided += chosen
            for pattern in chosen:
                for size in pattern.sizes:
                    left[size] = max(0, left[size] - 1)
            programme.solve()
            # More sheets may be decided for than there are: then there are no prices.
            if any(left) and programme.is_solved:
                self._pricing.look(left, LOOKS, cost, limit)
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
        sheets = [(pattern.board, block_of(self.pool.shapes[pattern], self.fitter.rooms)) for pattern in patterns]
        return assembled(sheets, cost - 1, self.fitter)
