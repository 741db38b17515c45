"""The search for a layout: a first one at once, then better ones, until no layout can do with less.

Two explorers (`core.layout.explorer`) each look for layouts that cost less: they walk by ruin
and recreate (`core.layout.walker`), and put the sheets that they met together anew
(`core.layout.cover`). In rounds of a fixed number of iterations they tell each other what they
found. Meanwhile the bound on what any layout needs is raised (`core.layout.pattern_bound`).
When the bound is met, or the iterations are spent, the sheets that remain are made handier to
cut (`core.layout.gather`). What is best is said in `core.layout.preference`.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import suppress
from typing import TYPE_CHECKING

from core.layout.blanks import costs_of
from core.layout.bounds import area_bound, bound_of
from core.layout.by_mixes import answered_by_mixes
from core.layout.divided import answered, first_divided
from core.layout.division import is_divided
from core.layout.every_way import cheapest
from core.layout.explorer import Explorer
from core.layout.finish import layout_of
from core.layout.first import first_filling
from core.layout.fitter import Filling, Fitter
from core.layout.garbage import collected_seldom
from core.layout.gather import gathered
from core.layout.job import Job
from core.layout.least_boxes import GaveUp
from core.layout.least_cost import least_cost
from core.layout.limit import Limit
from core.layout.preference import spent
from core.layout.team import Partner
from core.layout.tree import Announce, Layout

if TYPE_CHECKING:
    from core.layout.pattern_bound import PatternBound

ALONE = 1000
"""Iterations before a second explorer is sent for, or half of them: most jobs are done by then."""

ROUND = 500
"""Iterations of each explorer before they tell each other what they found."""

BOUND_WORK = 600_000_000
"""How much work goes into the bound in each round, as `PatternBound.least` counts it."""

PATIENT_ROUNDS = 3
"""Rounds after which it gets half of that, after as many more a third, and so on: then it is not to be expected."""

CROWDED = 8
"""Where twice as many pieces as this lie on a sheet it gets a fourth of that, where thrice as many a ninth, and so on.

There it takes longest, and is seldom above what the area says. Rounds are twice, thrice, ... as long there.
"""

EVERY_WAY_WORK = 4_000_000
"""How much work goes into every way to lay few pieces out (`core.layout.least_boxes`); for the bound as much again."""

EVERY_WAY_SHARE = 1000
"""So much of it for each iteration, where these are few: who asks a small question waits for it."""

MIXING_TIMES = 2
"""So many iterations for each are made besides on other kinds of sheets, where there are several."""

MOST_MIXING = 4000
"""As many iterations as that are worth, however many the job has."""

GATHERING_SHARE = 4
"""One part in this many of the iterations goes to the same sheets with a larger offcut and fewer fence settings."""

MOST_GATHERING = 2000
"""As many iterations as that are worth, however many the job has."""

GATHERING_TIME = 0.1
"""The share of a cap on the time that is kept for it."""


def lay_out(
    job: Job,
    cap_seconds: float | None = None,
    announce: Announce = None,
    cancelled: Callable[[], bool] | None = None,
) -> Layout:
    """The best layout found in the job's iterations.

    Without a cap the same job gives the same layout on any machine. `cap_seconds` stops the
    search early, and only it makes the answer depend on the clock. `announce` is told the
    first layout at once, and each better one as it is found; `cancelled` is asked often, and
    the best so far is then the answer.
    """
    cancelled = cancelled or (lambda: False)
    # All that is asked about the job shares one cap.
    limit = Limit(cap_seconds, cancelled)

    def search(asked: Job, tell: Announce, share: float = 1) -> Layout:
        left = limit.seconds_left()
        return _Search(asked, left and left * share, tell, cancelled).run()

    with collected_seldom():
        if is_divided(job):
            return answered(job, search, announce, limit.reached)
        several = sum(stock.is_bought for stock in job.stock) > 1
        return answered_by_mixes(job, search, announce, limit.reached) if several else search(job, announce)


def first_layout(job: Job) -> Layout:
    """A sound layout at once, the one that `lay_out` announces first."""
    if is_divided(job):
        return first_divided(job, first_layout)
    fitter = Fitter(job)
    return layout_of(job, fitter, first_filling(fitter), area_bound(fitter.blanks, fitter.boards))


class _Search:
    """One job's search: the best filling so far, and what may stop it."""

    def __init__(
        self,
        job: Job,
        cap_seconds: float | None,
        announce: Announce,
        cancelled: Callable[[], bool],
    ) -> None:
        self.limit = Limit(cap_seconds, cancelled)
        for_saving = None if cap_seconds is None else cap_seconds * (1 - GATHERING_TIME)
        self.saving_limit = Limit(for_saving, cancelled)
        self.job = job
        self.announce = announce
        self.explorer = Explorer(job, 0)
        self.fitter = self.explorer.fitter
        self.bound = area_bound(self.fitter.blanks, self.fitter.boards)
        self.best = self.explorer.best
        self._raise_least(least_cost(self.fitter.blanks, self.fitter.boards, self.bound))

    def run(self) -> Layout:
        """The whole search."""
        self._tell(self.best)
        if not self.limit.reached():
            self._raise_bound(bound_of(self.fitter.blanks, self.fitter.boards))
        if self.best.blocks:
            gathering = min(self.job.iterations // GATHERING_SHARE, MOST_GATHERING)
            spare = self._save(self.job.iterations - gathering)
            gathering = min(gathering + spare, MOST_GATHERING)
            self.best = gathered(self.best, self.fitter, gathering, self.limit.reached)
            self._tell(self.best)
        return self._layout(self.best)

    def _layout(self, filling: Filling) -> Layout:
        return layout_of(self.job, self.fitter, filling, self.bound, self.explorer.walker.least)

    def _tell(self, filling: Filling) -> None:
        if self.announce:
            self.announce(self._layout(filling))

    def _save(self, iterations: int) -> int:
        """Fewer pieces left out, then less money, then fewer and smaller sheets; gives the iterations not needed."""
        explorer = self.explorer
        alone = min(ALONE, iterations // 2)
        explorer.walk(alone, self.saving_limit.reached, self._better)
        iterations -= alone
        if self._saved or iterations <= 0 or self._every_way():
            return max(0, iterations)
        explorer.walk_on_mixes(min(MIXING_TIMES * iterations, MOST_MIXING), self.saving_limit.reached, self._better)
        if self._saved:
            return iterations
        partner = Partner(self.job, explorer.walker.least)
        try:
            return self._together(partner, iterations)
        finally:
            partner.end()

    def _every_way(self) -> bool:
        """Whether the pieces are so few that every way could be tried; then no layout costs less than the best."""
        costs = [board.cost for board in self.fitter.boards]
        with suppress(GaveUp):
            found = self._cheapest(costs, self.fitter.cost_of(self.best))
            if found is None and self.best.missing:
                return False
            self._better(found or self.best)
            self._raise_least(self.fitter.cost_of(self.best))
            with suppress(GaveUp):
                # Of several kinds of boards fewer may be enough, and cost more.
                fewest = self._cheapest([1] * len(costs), len(self.best.blocks)) if len(costs) > 1 else None
                self._raise_bound(len((fewest or self.best).blocks))
            return True
        return False

    def _cheapest(self, costs: Sequence[int], below: int) -> Filling | None:
        work = min(EVERY_WAY_WORK, EVERY_WAY_SHARE * self.job.iterations)
        return cheapest(self.fitter, costs, below, work, self.saving_limit.reached)

    def _together(self, partner: Partner, iterations: int) -> int:
        """Rounds of both explorers; meanwhile the bound is raised. Gives the iterations not needed."""
        # Imported when it is first needed: most jobs are done before, and its arrays take a moment to load.
        from core.layout.pattern_bound import PatternBound

        explorer = self.explorer
        proof: PatternBound | None = None
        raised = 0
        while iterations > 0:
            steps = min(ROUND * self._crowd, iterations)
            iterations -= steps
            # While the bound is raised here, the partner walks on; for crowded sheets that is soon done.
            raising = explorer.out_of_reach and self._crowd == 1 and (proof is None or not proof.exhausted)
            partner.begin((2 * steps if raising else steps, explorer.told(), self.saving_limit.seconds_left()))
            explorer.combine(self.saving_limit)
            self._better(explorer.best)
            # With boards of several costs something a little cheaper is always in reach.
            hopeless = explorer.out_of_reach or len(self.fitter.boards) > 1
            if hopeless and not (explorer.walker.done or self.best.missing):
                proof = proof or PatternBound(self.fitter.blanks, self.fitter.boards, explorer.patterns(), self.bound)
                self._prove(proof, BOUND_WORK // (self._crowd**2 * (1 + raised // PATIENT_ROUNDS)))
                raised += 1
                if not explorer.walker.done and explorer.prove(self.saving_limit):
                    self._raise_bound(len(self.best.blocks))
            explorer.walk(steps, self.saving_limit.reached, self._better)
            if self._saved:
                break
            found = partner.found(self.limit.reached)
            if found is not None:
                explorer.hear(found)
                self._better(explorer.best)
            if self._saved or self._as_few_as_can_be:
                break
        return iterations

    @property
    def _crowd(self) -> int:
        """How many times `CROWDED` pieces lie on a sheet of the best, on the mean and at least once."""
        return max(1, len(self.fitter.all_missing) // (CROWDED * len(self.best.blocks)))

    def _prove(self, proof: PatternBound, work: int) -> None:
        """Raises what a layout costs at the least, and how many boards it has, by so much work for each."""
        boards, best = self.fitter.boards, self.best
        below, stopped = self.fitter.cost(best.boards), self.saving_limit.reached
        self._raise_least(proof.least([board.cost for board in boards], below, work, stopped))
        # Fewer boards may cost more.
        work = work if proof.exhausted or self.explorer.walker.done else 0
        self._raise_bound(proof.least([1] * len(boards), len(best.blocks), work, stopped))

    @property
    def _saved(self) -> bool:
        """Nothing can cost less, or there is no more time to look for it."""
        return self.explorer.walker.done or self.saving_limit.reached()

    @property
    def _as_few_as_can_be(self) -> bool:
        """No layout costs less money or has fewer sheets for it; for smaller ones alone no more rounds are made."""
        _, per_sheet = costs_of(self.job)
        cost = self.fitter.cost(self.best.boards)
        return not self.best.missing and cost // per_sheet == self.explorer.walker.least // per_sheet

    def _better(self, filling: Filling) -> None:
        if spent(filling, self.fitter) < spent(self.best, self.fitter):
            self.best = filling
            self._tell(filling)

    def _raise_bound(self, bound: int) -> None:
        if bound > self.bound:
            self.bound = bound
            self._raise_least(least_cost(self.fitter.blanks, self.fitter.boards, bound))
            self._tell(self.best)

    def _raise_least(self, cost: int) -> None:
        """No layout costs less than this."""
        walker = self.explorer.walker
        walker.least = max(walker.least, cost)
