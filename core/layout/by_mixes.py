"""Several kinds of sheets: asked again with only so many of each, where that could cost less.

A search that may take any kind spreads over all of them. With the sheets settled it looks for room on these alone,
and finds it more often. First come those mixes on which a short walk leaves out least; none is asked that cannot hold
all pieces (`core.layout.pattern_bound`).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING, TypeAlias

from core.layout.blanks import blanks_of, boards_of, costs_of
from core.layout.first import first_filling
from core.layout.fitter import Fitter
from core.layout.job import Job
from core.layout.mixes import mixes_below
from core.layout.preference import rank
from core.layout.purchases import Counts, total
from core.layout.tree import Announce, Layout
from core.layout.walker import Walker

if TYPE_CHECKING:
    from core.layout.pattern_bound import PatternBound

FIRST_SHARE = 0.2
"""How much of a cap on the time goes to all kinds at once; of the iterations as many as to all that is asked again."""

MOST_ASKED = 4
"""How often it is asked again."""

EXPLORERS = 2
"""So many seeds, one after another, does each search take."""

WALKED = 100
"""Iterations of a walk that says how promising a mix is."""

MOST_WALKED = 40
"""How many mixes are walked on, those with most area."""

RULING_OUT_WORK = 300_000_000
"""How much work it may be to see that a mix cannot hold all pieces, as `PatternBound` counts it."""

Answer: TypeAlias = Callable[[Job, Announce, float], Layout]
"""Answers a job of plain sheets in such a share of what is left of a cap on the time; tells better layouts."""


def answered_by_mixes(job: Job, answer: Answer, announce: Announce, stopped: Callable[[], bool]) -> Layout:
    """The answer to a job with several kinds of sheets, by whoever answers what is asked.

    `announce` is told each layout that is better than all before.
    """
    best = first = answer(job, announce, FIRST_SHARE)

    def of_all(layout: Layout) -> Layout:
        # What cannot be done with some of the sheets is no bound for all of them.
        return replace(layout, lower_bound=first.lower_bound, least_money=first.least_money)

    def hear(layout: Layout) -> None:
        if announce and rank(job, layout) < rank(job, best):
            announce(of_all(layout))

    mixes = _promising(job, best, stopped)
    if not mixes:
        return best
    bound = _bound(job)
    asked: list[Counts] = []
    iterations = job.iterations
    while mixes and len(asked) < MOST_ASKED and not stopped():
        mix = mixes.pop(0)
        if bound.rules_out(mix, RULING_OUT_WORK, stopped):
            continue
        # Where few are promising, each is asked for longer.
        to_come = min(MOST_ASKED - len(asked), 1 + len(mixes))
        share = iterations // to_come
        iterations -= share
        found = answer(_limited(job, mix, share, len(asked)), hear, 1 / to_come)
        asked.append(mix)
        if rank(job, found) < rank(job, best):
            best = of_all(found)
            # Those that were asked for less are asked again, after the others.
            mixes = sorted(_promising(job, best, stopped), key=asked.count)
    return _proved(job, best, bound, stopped)


def _proved(job: Job, best: Layout, bound: PatternBound, stopped: Callable[[], bool]) -> Layout:
    """The layout, with what is shown of all layouts once mixes have been ruled out."""
    costs = {board.stock: board.cost for board in boards_of(job)}
    cost = sum(costs[sheet.stock] for sheet in best.sheets)
    per_hundredth, _ = costs_of(job)
    least_money = bound.least([*costs.values()], cost, RULING_OUT_WORK, stopped) // per_hundredth
    fewest = bound.least([1] * len(costs), len(best.sheets), 0, stopped)
    return replace(best, least_money=max(best.least_money, least_money), lower_bound=max(best.lower_bound, fewest))


def _promising(job: Job, best: Layout, stopped: Callable[[], bool]) -> list[Counts]:
    """Sheets for less money than this layout, or fewer for as much: those first on which a walk leaves out least."""
    _, money, sheets = rank(job, best)
    if best.unplaced or (money <= best.least_money if money else sheets <= best.lower_bound):
        return []
    per_hundredth, per_sheet = costs_of(job)
    fitter = Fitter(job)
    begun = first_filling(fitter)
    left_out: dict[Counts, int] = {}
    prices = [job.stock[board.stock].price for board in fitter.boards]
    mixes = mixes_below(fitter, money * per_hundredth + sheets * per_sheet)
    # What all sheets of a mix together cost too little for cannot be laid out on them.
    for mix in [mix for mix in mixes if total(mix, prices) >= best.least_money][:MOST_WALKED]:
        walker = Walker(fitter, begun, 0, mix)
        walker.walk(WALKED, stopped, lambda filling: None)
        left_out[mix] = walker.left_out if walker.best is begun else 0
    return sorted(left_out, key=left_out.__getitem__)


def _bound(job: Job) -> PatternBound:
    # Imported when it is first needed: its arrays take a moment to load.
    from core.layout.pattern_bound import PatternBound

    boards = boards_of(job)
    return PatternBound(blanks_of(job, boards), boards, [], 1)


def _limited(job: Job, mix: Counts, iterations: int, turn: int) -> Job:
    """The job with so many sheets of each kind. `turn`: what was asked before is asked with other choices by chance."""
    counts = {board.stock: count for board, count in zip(boards_of(job), mix, strict=True)}
    stock = tuple(replace(one, quantity=counts.get(index, 0)) for index, one in enumerate(job.stock))
    return replace(job, stock=stock, iterations=iterations, seed=job.seed + EXPLORERS * turn)
