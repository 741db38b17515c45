"""Where there are several kinds of sheets: so many of each, for less than the best layout costs.

A walk begins and gives up one sheet at a time: from two small ones to one that is larger and cheaper it seldom finds
the way. So it is begun anew with other sheets (`Explorer.walk_on_mixes`).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import islice

from core.layout.blanks import Board
from core.layout.fitter import Fitter
from core.layout.purchases import Counts, total

MOST_MIXES = 2000
"""As many as are looked at."""


def mixes_below(fitter: Fitter, cost: int) -> list[Counts]:
    """Those that can be had for less than this, give enough area and leave no money for another sheet.

    The largest first; none where there is one kind only. What costs nothing belongs to each.
    """
    boards = fitter.boards
    kinds = sorted(fitter.bought, key=lambda kind: (boards[kind].quantity is None, -boards[kind].cost))
    if len(kinds) < 2:
        return []
    wanted = sum(blank.area * blank.quantity for blank in fitter.blanks)
    areas = [board.length * board.width for board in boards]
    mix = [board.quantity or 0 for board in boards]
    found: list[tuple[int, Counts]] = []
    for counts in islice(_counts([boards[kind] for kind in kinds], cost - 1), MOST_MIXES):
        for kind, count in zip(kinds, counts, strict=True):
            mix[kind] = count
        area = total(mix, areas)
        if area >= wanted:
            found.append((-area, tuple(mix)))
    return [mix for _, mix in sorted(found, key=lambda one: one[0])]


def _counts(boards: Sequence[Board], purse: int, cheapest_left: int | None = None) -> Iterator[list[int]]:
    """How many of each for so much, so that no more can be had.

    First those of which there are only so many, the most of them first: with few of them mostly more can be had.
    Then all others, the cheapest last. `cheapest_left`: what the cheapest costs of those decided before of which
    there are more; None where there are none.
    """
    first, *others = boards
    most = purse // first.cost if first.quantity is None else min(purse // first.cost, first.quantity)
    counts = range(most + 1) if first.quantity is None else range(most, -1, -1)
    for count in counts if others else [most]:
        left = purse - count * first.cost
        cheapest = cheapest_left
        if count != first.quantity:
            cheapest = first.cost if cheapest is None else min(cheapest, first.cost)
        if others:
            for more in _counts(others, left, cheapest):
                yield [count, *more]
        elif cheapest is None or left < cheapest:
            yield [count]
