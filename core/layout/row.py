"""Sheets one after another, each the best that can be made of the pieces that are left."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from fractions import Fraction

from core.layout.best_sheets import FEW_PASSES, BestSheets
from core.layout.fitter import Fitter
from core.layout.pattern import Pattern
from core.layout.shape import Shape

WHOLE_BOARD = 1_000_000
"""What all of the largest board is priced at."""


def sheets_in_a_row(fitter: Fitter, tilt: int, stopped: Callable[[], bool]) -> list[tuple[Pattern, Shape]]:
    """Patterns and shapes in the order in which they are cut, until every piece is on one, or none goes on any board.

    Pieces are priced by their area, and large ones by more: by `tilt` times more where a piece is as
    large as a board, and in proportion where it is smaller. Of several boards the one is taken on which
    most is brought for its cost.
    """
    whole = fitter.largest_area
    shares = [blank.area * WHOLE_BOARD // whole for blank in fitter.blanks]
    prices = [max(1, share + tilt * share * share // WHOLE_BOARD) for share in shares]
    left = [blank.quantity for blank in fitter.blanks]
    to_be_had = [board.quantity for board in fitter.boards]
    row: list[tuple[Pattern, Shape]] = []
    while any(left) and not stopped():
        best: tuple[Fraction, Pattern, Shape] | None = None
        for number, board in enumerate(fitter.boards):
            if to_be_had[number] == 0 or stopped():
                continue
            for pattern, shape in BestSheets(fitter, number, left).worth_more(prices, 0, FEW_PASSES).items():
                rate = Fraction(sum([prices[size] for size in pattern.sizes]), board.cost)
                if best is None or (rate, pattern) > best[:2]:
                    best = rate, pattern, shape
        if best is None:
            break
        _, pattern, shape = best
        on_it = Counter(pattern.sizes)
        # While as many of each are left as go on any board, the best is the same again: it is not looked for.
        spare = min([(left[size] - whole // fitter.blanks[size].area) // many for size, many in on_it.items()])
        times = 1 + max(0, spare)
        count = to_be_had[pattern.board]
        if count is not None:
            times = min(times, count)
            to_be_had[pattern.board] = count - times
        for size, many in on_it.items():
            left[size] -= times * many
        row += [(pattern, shape)] * times
    return row
