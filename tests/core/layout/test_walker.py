"""A walk that gets no nearer to its goal begins anew."""

from __future__ import annotations

import pytest

from core.layout import walker
from core.layout.first import first_filling
from core.layout.fitter import Filling, Fitter
from core.layout.job import Job, JobPart, JobStock
from core.layout.walker import Walker

# By hand: no two of these go on one sheet, so that a walk to two sheets leaves out one of them for ever.
JOB = Job("1", 0, (JobPart("A", 60, 60, 3, True),), (JobStock("sheet", 100, 100),))


@pytest.mark.parametrize(("iterations", "begun"), [(9, 1), (10, 2), (19, 2), (35, 4)])
def test_the_goal_is_begun_anew_after_so_many_iterations_in_vain(
    monkeypatch: pytest.MonkeyPatch, iterations: int, begun: int
) -> None:
    monkeypatch.setattr(walker, "PATIENCE", 10)
    fitter = Fitter(JOB)
    best = first_filling(fitter)
    goals: list[Filling] = []
    lower_goal = Walker._lower_goal

    def counted(self: Walker) -> Filling:
        goals.append(self.best)
        return lower_goal(self)

    monkeypatch.setattr(Walker, "_lower_goal", counted)
    one = Walker(fitter, best, 0)
    # Rounds are nothing to it.
    one.walk(iterations // 2, lambda: False, lambda filling: None)
    one.walk(iterations - iterations // 2, lambda: False, lambda filling: None)
    assert goals == [best] * begun and one.best is best
