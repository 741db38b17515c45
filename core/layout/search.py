"""The search for a layout: one sheet fewer, again and again, until no layout can do with fewer.

Goal-driven ruin and recreate on the trees of cuts, after Gardeyn & Wauters, "A goal-driven
ruin and recreate heuristic for the 2D variable-sized bin packing problem with guillotine
constraints" (European Journal of Operational Research, 2022). Less money (where all sheets
cost the same, one sheet fewer) is allowed than the best layout needs; some pieces are then
missing. Random parts of the trees are taken out, and all that is missing is put back, the
most restricted piece first, where the loss of what is free is least. Late acceptance on what
is left out, then on the worth of what is free. When nothing is left out, the goal is lowered
again.

What is best, in this order: the least bulk of pieces without a place; the least money; the
fewest sheets; the smaller sheets; the largest single offcut; the fewest fence settings; then
what is free in large pieces.
"""

from __future__ import annotations

import time
from collections.abc import Callable

from core.layout.accept import LateAcceptance, Score
from core.layout.block import largest_room
from core.layout.bounds import bound_of
from core.layout.finish import layout_of
from core.layout.first import first_filling
from core.layout.fitter import Draft, Filling, Fitter
from core.layout.job import Job
from core.layout.refill import refill
from core.layout.ruin import ruined, without_freest
from core.layout.tree import Layout

GATHERING_SHARE = 4
"""One part in this many of the iterations goes to the same sheets with a larger offcut and fewer fence settings."""

OFFCUT_STEPS = 50
"""Offcuts that differ by less than one part in this many of a sheet are as good as each other."""

MOST_GATHERING = 2000
"""As many iterations as that are worth, however many the job has."""

GATHERING_TIME = 0.1
"""The share of a cap on the time that is kept for it."""


def lay_out(
    job: Job,
    cap_seconds: float | None = None,
    announce: Callable[[Layout], None] | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> Layout:
    """The best layout found in the job's iterations.

    Without a cap the same job gives the same layout on any machine. `cap_seconds` stops the
    search early, and only it makes the answer depend on the clock. `announce` is told the
    first layout at once, and each better one as it is found; `cancelled` is asked often, and
    the best so far is then the answer.
    """
    return _Search(job, cap_seconds, announce, cancelled).run()


class _Search:
    """One job's search: the best filling so far, and what may stop it."""

    def __init__(
        self,
        job: Job,
        cap_seconds: float | None,
        announce: Callable[[Layout], None] | None,
        cancelled: Callable[[], bool] | None,
    ) -> None:
        self.began = time.monotonic()
        self.job = job
        self.cap_seconds = cap_seconds
        self.announce = announce
        self.cancelled = cancelled
        self.fitter = Fitter(job)
        self.bound = bound_of(self.fitter.blanks, self.fitter.boards)
        self.best = first_filling(self.fitter)

    def run(self) -> Layout:
        """The whole search."""
        self._tell()
        if self.best.blocks:
            gathering = min(self.job.iterations // GATHERING_SHARE, MOST_GATHERING)
            self._save_sheets(self.job.iterations - gathering)
            self._gather(gathering)
        return self._layout()

    def _layout(self) -> Layout:
        return layout_of(self.job, self.fitter, self.best, self.bound)

    def _tell(self) -> None:
        if self.announce:
            self.announce(self._layout())

    def _stopped(self, share_of_cap: float) -> bool:
        if self.cap_seconds is not None and time.monotonic() - self.began > self.cap_seconds * share_of_cap:
            return True
        return self.cancelled is not None and self.cancelled()

    def _save_sheets(self, iterations: int) -> None:
        """Fewer pieces left out, then less money, then fewer and smaller sheets."""
        fitter = self.fitter
        least = self.bound * min(board.cost for board in fitter.boards)
        while self.best.missing or fitter.cost(self.best.boards) > least:
            better, iterations = self._with_lower_goal(iterations)
            if better is None:
                return
            self.best = better
            self._tell()

    def _with_lower_goal(self, iterations: int) -> tuple[Filling | None, int]:
        """A filling better than the best, if there is time for one, and the iterations that are left."""
        fitter = self.fitter
        goal = fitter.bulk(self.best.missing)
        budget = None if goal else fitter.cost(self.best.boards) - 1
        now = self._within(budget)
        late = LateAcceptance((fitter.bulk(now.missing), fitter.used(now)))
        while now.missing and (not goal or late.score[0] >= goal):
            if not iterations or self._stopped(1 - GATHERING_TIME):
                return None, 0
            iterations -= 1
            draft = ruined(now, self._purse(budget, now), fitter)
            refill(draft, fitter)
            if late.accepts((fitter.bulk(draft.missing), fitter.used(draft))):
                now = draft.settled()
        return now, iterations

    def _within(self, budget: int | None) -> Filling:
        """The best filling with the freest sheets given up until it keeps to the budget, and refilled."""
        best = self.best
        draft = Draft([*best.boards], [*best.blocks], [*best.missing], self._purse(budget, best))
        while draft.purse is not None and draft.purse < 0:
            without_freest(draft, self.fitter)
        refill(draft, self.fitter)
        return draft.settled()

    def _purse(self, budget: int | None, filling: Filling) -> int | None:
        """What further sheets may cost."""
        return None if budget is None else budget - self.fitter.cost(filling.boards)

    def _gather(self, iterations: int) -> None:
        """The same sheets, with what is free gathered into one large offcut."""
        fitter = self.fitter
        budget = fitter.cost(self.best.boards)
        left_out = fitter.bulk(self.best.missing)
        now = self.best
        best_score = self._handiness(now)
        late = LateAcceptance(best_score)
        while iterations and not self._stopped(1):
            iterations -= 1
            draft = ruined(now, self._purse(budget, now), fitter)
            refill(draft, fitter)
            if fitter.bulk(draft.missing) > left_out:
                continue
            if late.accepts(self._handiness(draft)):
                now = draft.settled()
                if late.score < best_score:
                    self.best, best_score = now, late.score
        self._tell()

    def _handiness(self, filling: Filling | Draft) -> Score:
        """Least for what a person would choose among layouts that leave out as little."""
        fitter = self.fitter
        largest = max(map(largest_room, filling.blocks))
        settings = sum([len(block.settings()) for block in filling.blocks])
        in_steps = largest * OFFCUT_STEPS // fitter.largest_board
        return fitter.cost(filling.boards), -in_steps, settings, -largest, fitter.used(filling)
