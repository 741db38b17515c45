"""Jobs with sheets that are cut first: asked several times, each time as another division (`core.layout.division`)."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from heapq import heappop, heappush
from itertools import count

from core.layout.blanks import Blank, Board, blanks_of, boards_of
from core.layout.bounds import area_bound, bound_of
from core.layout.division import Division, division_of, in_every_way
from core.layout.job import Job
from core.layout.preference import Score, rank
from core.layout.tree import Announce, Layout

MOST_ASKED = 8
"""How often it is asked in all."""

LATER_SHARE = 2
"""After the first time with one part in this many of the iterations: of 60 jobs none came out worse for it."""


def first_divided(job: Job, first: Callable[[Job], Layout]) -> Layout:
    """The answer at once, by whoever answers so what a division asks."""
    division = division_of(job)
    return division.joined(first(division.split()), _fewest(job, area_bound))


def answered(
    job: Job,
    answer: Callable[[Job, Announce], Layout],
    announce: Announce,
    stopped: Callable[[], bool],
) -> Layout:
    """The answer to a job with sheets that are cut first, by whoever answers what a division asks.

    Then other divisions are asked that could be better, those first that came of the best answers.
    `announce` is told each layout that is better than all before.
    """
    told: Score | None = None
    area = _fewest(job, area_bound)

    def ask(division: Division) -> Layout:
        def tell(layout: Layout) -> None:
            nonlocal told
            # Fewer sheets may be offered than there are: what no layout of theirs can do with is no bound of the job.
            whole = division.joined(layout, area)
            ranked = rank(job, whole)
            if announce and (told is None or ranked < told):
                told = ranked
                announce(whole)

        return answer(division.split(), tell if announce else None)

    first = division_of(job)
    found = ask(first)
    least = _fewest(job, bound_of)
    if first.is_whole:
        least = max(least, -(-found.lower_bound // max(1, first.most_of_use)))
    best = first.joined(found, least)
    later = replace(first, job=replace(job, iterations=job.iterations // LATER_SHARE))
    asked = [later]
    waiting = [(rank(job, best), turn, other) for turn, other in enumerate(later.otherwise(found))]
    turns = count(len(waiting))
    while waiting and len(asked) < MOST_ASKED and not stopped():
        _, _, other = heappop(waiting)
        if other in asked or other.least() >= rank(job, best):
            continue
        asked.append(other)
        found = ask(other)
        layout = other.joined(found, least)
        best = min(best, layout, key=lambda of: rank(job, of))
        for one in other.otherwise(found):
            heappush(waiting, (rank(job, layout), next(turns), one))
    return best


def _fewest(job: Job, bound: Callable[[tuple[Blank, ...], tuple[Board, ...]], int]) -> int:
    """So many sheets there must be even if none were cut first."""
    return bound(blanks_of(job, boards_of(in_every_way(job))), boards_of(job))
