"""One walk through the layouts of a job: less money for sheets, again and again.

Goal-driven ruin and recreate on the trees of cuts, after Gardeyn & Wauters, "A goal-driven
ruin and recreate heuristic for the 2D variable-sized bin packing problem with guillotine
constraints" (European Journal of Operational Research, 2022). Less money (where all sheets
cost the same, one sheet fewer) is allowed than the best layout needs; some pieces are then
missing. Random parts of the trees are taken out, and all that is missing is put back, the
most restricted piece first, where the loss of what is free is least. Late acceptance on what
is left out, then on the worth of what is free. When nothing is left out, the goal is lowered
again; where it comes no nearer for long, it is begun anew.

On its way it notes which pieces were on one sheet together (`core.layout.pattern`): sheets of different
layouts may go together better than those of any one (`core.layout.cover`).
"""

from __future__ import annotations

from collections.abc import Callable

from core.layout.accept import LateAcceptance
from core.layout.block import Block, sizes_of
from core.layout.fitter import Draft, Filling, Fitter, Mix
from core.layout.pattern import Pattern, pattern_of
from core.layout.preference import Score, spent
from core.layout.refill import refill
from core.layout.ruin import ruined, without_freest

TIGHTENED = 0.1
"""How often strips are made no wider than what is left in them, before pieces are put back (`ruined`)."""

PATIENCE = 5000
"""After so many iterations in which no less is left out the walk to a goal begins anew: it seldom gets out of there."""

MOST_MET = 100_000
"""How many patterns are remembered as met before all are forgotten: one that is told again is known to the pool."""


class Walker:
    """Walks in rounds.

    `least`: a cost below which no layout can be. `mix`: other sheets than those of the best, with which it begins anew.
    """

    def __init__(self, fitter: Fitter, best: Filling, least: int, mix: Mix | None = None) -> None:
        self.fitter = fitter
        self.best = best
        self.least = least
        self._mix = mix
        self._now: Filling | None = None
        self._late = LateAcceptance(())
        self._least_left_out = self._in_vain = 0
        self._met: set[Pattern] = set()
        self._new: dict[Pattern, Block] = {}

    @property
    def done(self) -> bool:
        """Nothing is left out, and no layout can cost less."""
        return not self.best.missing and self.fitter.cost(self.best.boards) <= self.least

    def take_up(self, filling: Filling) -> None:
        """A filling found in another way; if it is better than the best here, the goal is lowered to it."""
        if spent(filling, self.fitter) < spent(self.best, self.fitter):
            self.best = filling
            self._now = None

    def go_on_from(self, filling: Filling) -> None:
        """An unfinished filling found in another way: the walk goes on there if it leaves out less than here."""
        now, bulk = self._now or self._lower_goal(), self.fitter.bulk
        if self.best.missing or bulk(filling.missing) >= bulk(now.missing):
            return
        self._begun_at(filling)

    def walk(self, iterations: int, stopped: Callable[[], bool], tell: Callable[[Filling], None]) -> None:
        """A round. `stopped` is asked before each step; `tell` hears of each better filling at once."""
        fitter = self.fitter
        while not self.done:
            now = self._now or self._lower_goal()
            if not now.missing or (self.best.missing and self._late.score[0] < fitter.bulk(self.best.missing)):
                self.best, self._now = now, None
                tell(now)
                continue
            if iterations <= 0 or stopped():
                break
            iterations -= 1
            draft = ruined(now, self._purse(now), fitter, self._mix, TIGHTENED)
            refill(draft, fitter)
            self._note(draft)
            self._in_vain += 1
            if self._late.accepts(self._score(draft)):
                self._now = draft.settled()
                if self._late.score[0] < self._least_left_out:
                    self._least_left_out, self._in_vain = self._late.score[0], 0
            if self._in_vain == PATIENCE:
                self._now = None

    @property
    def left_out(self) -> int:
        """The bulk of what is missing where it is now, or of the best."""
        return self.fitter.bulk((self._now or self.best).missing)

    def sheets_met(self) -> dict[Pattern, Block]:
        """A sheet for each pattern met since this was asked last, and never before."""
        new, self._new = self._new, {}
        return new

    def _lower_goal(self) -> Filling:
        """Begins at the best filling with the freest sheets given up until it costs less, refilled.

        Where pieces are left out already, the goal is to leave out less.
        """
        fitter, best = self.fitter, self.best
        if self._mix:
            best = Filling((), (), fitter.all_missing)
        draft = Draft([*best.boards], [*best.blocks], [*best.missing], self._purse(best), self._mix)
        while draft.purse is not None and draft.purse < 0:
            without_freest(draft, fitter)
        refill(draft, fitter)
        self._note(draft)
        return self._begun_at(draft.settled())

    def _begun_at(self, filling: Filling) -> Filling:
        self._now = filling
        self._late = LateAcceptance(self._score(filling))
        self._least_left_out, self._in_vain = self._late.score[0], 0
        return filling

    def _score(self, draft: Draft | Filling) -> Score:
        return self.fitter.bulk(draft.missing), self.fitter.used(draft)

    def _purse(self, filling: Filling) -> int | None:
        """What sheets beside these may cost, to keep below the best filling; None where that leaves pieces out."""
        cost = self.fitter.cost
        return None if self.best.missing else cost(self.best.boards) - 1 - cost(filling.boards)

    def _note(self, draft: Draft) -> None:
        """Remembers the sheets that were not seen before."""
        for board, block in zip(draft.boards, draft.blocks, strict=True):
            if not block.noted:
                block.noted = True
                pattern = pattern_of(board, sizes_of(block))
                if pattern not in self._met:
                    if len(self._met) == MOST_MET:
                        self._met.clear()
                    self._met.add(pattern)
                    self._new[pattern] = block
