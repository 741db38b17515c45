"""Jobs with sheets that are cut first: asked several times, each time as another division (`core.layout.division`).

Before that it is asked as if there were no bad places: often they come to lie in what is left over
(`core.layout.clear_of_bad`), and no answer that is cut round them is better.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from heapq import heappop, heappush
from itertools import count

from core.layout.blanks import Blank, Board, blanks_of, boards_of
from core.layout.bounds import area_bound, bound_of
from core.layout.clear_of_bad import clear_of_bad, without_bad_places
from core.layout.division import Division, division_of, in_every_way, is_divided
from core.layout.job import Job
from core.layout.preference import rank
from core.layout.tree import Announce, Layout

MOST_ASKED = 8
"""How often it is asked in all."""

LATER_SHARE = 2
"""After the first time with one part in this many of the iterations: of 60 jobs none came out worse for it."""

Answer = Callable[[Job, Announce], Layout]
"""Answers a job of plain sheets; tells better layouts on the way."""


def first_divided(job: Job, first: Callable[[Job], Layout]) -> Layout:
    """The answer at once, by whoever answers so what a division asks."""
    division = division_of(job)
    plain = without_bad_places(job)
    clear = plain and clear_of_bad(job, first(plain))
    return clear or division.joined(first(division.split()), _fewest(job, area_bound))


def answered(job: Job, answer: Answer, announce: Announce, stopped: Callable[[], bool]) -> Layout:
    """The answer to a job with sheets that are cut first, by whoever answers what a division asks.

    `announce` is told each layout that is better than all before.
    """
    first = division_of(job)
    best: Layout | None = None

    def hear(layout: Layout | None) -> None:
        nonlocal best
        if layout and (best is None or rank(job, layout) < rank(job, best)):
            best = layout
            if announce:
                announce(layout)

    plain = without_bad_places(job)
    if plain is None:
        return _by_divisions(first, answer, hear, stopped)

    def hear_if_clear(layout: Layout) -> None:
        hear(clear_of_bad(job, layout))

    found = answered(plain, answer, hear_if_clear, stopped) if is_divided(plain) else answer(plain, hear_if_clear)
    clear = clear_of_bad(job, found)
    if clear:
        return clear
    if best is None or rank(job, best) > rank(job, found):
        hear(_by_divisions(first, answer, hear, stopped))
    assert best is not None
    if best.unplaced:
        return best
    # What no layout without bad places can do with, none with them can.
    fewest, money = max(best.lower_bound, found.lower_bound), max(best.least_money, found.least_money)
    return replace(best, lower_bound=fewest, least_money=money)


def _by_divisions(
    first: Division, answer: Answer, announce: Callable[[Layout], None], stopped: Callable[[], bool]
) -> Layout:
    """The same with the bad places cut out first.

    After the first other divisions are asked that could be better, those first that came of the best answers.
    """
    job = first.job
    area = _fewest(job, area_bound)

    def ask(division: Division) -> Layout:
        # Fewer sheets may be offered than there are: what no layout of theirs can do with is no bound of the job.
        return answer(division.split(), lambda layout: announce(division.joined(layout, area)))

    found = ask(first)
    least = _fewest(job, bound_of)
    # A bad place may lie in what is left over as well: what must be done without if it is cut out first is no bound.
    if first.is_whole and not any(stock.bad for stock in job.stock):
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
