"""Where there are several kinds of sheets: so many of each, for less than the best layout costs.

A walk begins and gives up one sheet at a time: from two small ones to one that is larger and cheaper it seldom finds
the way. So it is begun anew with other sheets (`Explorer.walk_on_mixes`).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import islice

from core.layout.fitter import Fitter
from core.layout.purchases import Counts

MOST_MIXES = 2000
"""As many as are looked at."""


def mixes_below(fitter: Fitter, cost: int) -> list[Counts]:
    """Those that can be had for less than this, give enough area and leave no money for another sheet.

    The largest first; none where there is one kind only. What there is only so much of belongs to each.
    """
    boards = fitter.boards
    kinds = [number for number, board in enumerate(boards) if board.quantity is None]
    kinds.sort(key=lambda kind: -boards[kind].cost)
    if len(kinds) < 2:
        return []
    wanted = sum(blank.area * blank.quantity for blank in fitter.blanks)
    wanted -= sum(of.length * of.width * of.quantity for of in boards if of.quantity is not None)
    found: list[tuple[int, Counts]] = []
    for counts in islice(_counts([boards[kind].cost for kind in kinds], cost - 1), MOST_MIXES):
        mix = [board.quantity or 0 for board in boards]
        area = 0
        for kind, count in zip(kinds, counts, strict=True):
            mix[kind] = count
            area += count * boards[kind].length * boards[kind].width
        if area >= wanted:
            found.append((-area, tuple(mix)))
    return [mix for _, mix in sorted(found, key=lambda one: one[0])]


def _counts(costs: Sequence[int], purse: int) -> Iterator[list[int]]:
    """How many of each for so much, the cheapest last: as many of that as can be had."""
    first, *others = costs
    if not others:
        yield [purse // first]
        return
    for count in range(purse // first + 1):
        for more in _counts(others, purse - count * first):
            yield [count, *more]
