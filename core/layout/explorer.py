"""One of those who look for layouts side by side: it walks, and puts sheets together anew, in rounds."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from core.layout.first import first_filling
from core.layout.fitter import Filling, Fitter
from core.layout.job import Job
from core.layout.limit import Limit
from core.layout.mixes import mixes_below
from core.layout.pattern import Outline, Pattern, filling_of, outline_of
from core.layout.pool import Pool
from core.layout.shape import Shape
from core.layout.walker import Walker

if TYPE_CHECKING:
    from core.layout.cover import Cover

ATTEMPTS = 3
"""How often sheets are put together anew in a round."""

MIX_STEPS = 50
"""Iterations of a walk on other sheets before it is seen whether it leaves out less."""

MOST_RESTS = 3
"""Rounds without that, when as often before the prices left no hope for less than the best costs."""


@dataclass(slots=True)
class Found:
    """What explorers tell one another after a round: their best filling, and the patterns that they met anew."""

    best: Outline
    patterns: dict[Pattern, Shape] = field(default_factory=dict)


class Explorer:
    """Explorer `number` of a job; each makes other choices by chance. `least`: a cost below which no layout can be."""

    def __init__(self, job: Job, number: int, least: int = 0) -> None:
        self.fitter = Fitter(job, number)
        self.walker = Walker(self.fitter, first_filling(self.fitter), least)
        self._number = number
        self._pool = Pool()
        self._cover: Cover | None = None
        self.out_of_reach = False
        """No filling that costs less is to be expected, by the prices of all sheets met so far."""
        self._rests = self._in_vain = 0
        self._tried: Filling | None = None

    @property
    def best(self) -> Filling:
        """The best filling so far."""
        return self.walker.best

    def patterns(self) -> list[Pattern]:
        """Those of the sheets met so far, by itself or by the other."""
        return [*self._pool.shapes]

    def hear(self, found: Found) -> None:
        """What the other has found."""
        self._pool.offer(found.patterns, own=False)
        self.walker.take_up(filling_of(found.best, self.fitter))

    def told(self) -> Found:
        """What is to be told to the other: all that is new since the last time."""
        return Found(outline_of(self.best), self._pool.news())

    def walk(self, iterations: int, stopped: Callable[[], bool], tell: Callable[[Filling], None]) -> None:
        """So many iterations of ruin and recreate; `tell` hears of each better filling at once."""
        self.walker.walk(iterations, stopped, tell)
        self._pool.meet(self.walker.sheets_met())

    def walk_on_mixes(self, iterations: int, stopped: Callable[[], bool], tell: Callable[[Filling], None]) -> None:
        """The same with other sheets than those of the best (`core.layout.mixes`).

        All mixes are walked on a little, then the better half of them twice as long, and so on; then all anew.
        """
        while iterations > 0 and not (self.walker.done or self.best.missing or stopped()):
            best = self.best
            mixes = mixes_below(self.fitter, self.fitter.cost_of(best))
            if not mixes:
                return
            walkers = [Walker(self.fitter, best, self.walker.least, mix) for mix in mixes]
            steps = MIX_STEPS
            while walkers and iterations > 0 and self.best is best and not stopped():
                for walker in walkers:
                    walker.walk(min(steps, iterations), stopped, tell)
                    iterations -= steps
                    self._pool.meet(walker.sheets_met())
                    self.walker.take_up(walker.best)
                    if iterations <= 0 or self.best is not best:
                        break
                walkers = sorted(walkers, key=lambda of: of.left_out)[: len(walkers) // 2]
                steps *= 2

    def combine(self, limit: Limit) -> None:
        """Puts the sheets met so far together anew: a better filling is taken up, one nearly so is walked on."""
        if self.best is not self._tried:
            self._rests = 0
        if self._rests:
            self._rests -= 1
            return
        cover = self._cover = self._cover or self._begun(limit)
        for _ in range(ATTEMPTS):
            if self.walker.done or limit.reached():
                return
            self._tried = self.best
            combined = cover.better_than(self.best, limit)
            if combined is None and limit.reached():
                return
            self.out_of_reach = combined is None
            if combined is None:
                self._in_vain += 1
                self._rests = min(self._in_vain, MOST_RESTS)
                return
            self._in_vain = 0
            if combined.missing and not self.best.missing:
                self.walker.go_on_from(combined)
            else:
                self.walker.take_up(combined)

    def _begun(self, limit: Limit) -> Cover:
        # Imported when it is first needed: most jobs are done before, and solver and arrays take a moment to load.
        from core.layout.cover import Cover

        cover = Cover(self.fitter, self._pool)
        self.walker.take_up(cover.begun(self.best, self._number, limit))
        return cover

    def prove(self, limit: Limit) -> bool:
        """Whether no filling can cost less than the best: tried where none is to be expected."""
        if self._cover is None or not self.out_of_reach or self.best.missing:
            return False
        proved = self._cover.proves(self.best, limit)
        if not proved and self._cover.hopes_for_better(self.best):
            self.out_of_reach = False
            self._rests = 0
        return proved
