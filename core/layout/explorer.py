"""One of those who look for layouts side by side: it walks, and puts sheets together anew, in rounds."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from core.layout.cover import Cover
from core.layout.first import first_filling
from core.layout.fitter import Filling, Fitter
from core.layout.job import Job
from core.layout.limit import Limit
from core.layout.pattern import Outline, Pattern, filling_of, outline_of
from core.layout.shape import Shape
from core.layout.walker import Walker

MOST_RESTS = 3
"""Rounds without putting sheets together anew, when that was in vain as often before: walking may do better."""


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
        self._cover = Cover(self.fitter)
        self._rests = self._in_vain = 0

    @property
    def best(self) -> Filling:
        """The best filling so far."""
        return self.walker.best

    def patterns(self) -> list[list[int]]:
        """The sizes on each sheet met so far, by itself or by the other."""
        return [list(sizes) for _, *sizes in self._cover.patterns]

    def hear(self, found: Found) -> None:
        """What the other has found."""
        self._cover.add(found.patterns)
        self.walker.take_up(filling_of(found.best, self.fitter))

    def told(self) -> Found:
        """What is to be told to the other: all that is new since the last time."""
        return Found(outline_of(self.best), self._cover.news())

    def walk(self, iterations: int, stopped: Callable[[], bool], tell: Callable[[Filling], None]) -> None:
        """So many iterations of ruin and recreate; `tell` hears of each better filling at once."""
        self.walker.walk(iterations, stopped, tell)
        self._cover.add_own(self.walker.patterns_met())

    def combine(self, limit: Limit) -> None:
        """Puts the sheets met so far together anew: a better filling is taken up, one nearly so is walked on."""
        if self.best.missing or self.walker.done:
            return
        if self._rests:
            self._rests -= 1
            return
        combined = self._cover.better_than(self.best, limit)
        if combined is not None and not combined.missing:
            self._in_vain = 0
            self.walker.take_up(combined)
            return
        if combined is not None:
            self.walker.go_on_from(combined)
        self._in_vain += 1
        self._rests = min(self._in_vain, MOST_RESTS)
