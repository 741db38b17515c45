"""What a layout costs at the least: the cheapest boards with the area of all pieces, and enough of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from functools import lru_cache
from heapq import heappop, heappush
from math import ceil

from core.layout.blanks import Blank, Board, blanks_of, boards_of
from core.layout.bounds import bound_of
from core.layout.job import Job

MOST_LOOKED_AT = 500
"""Choices of boards that are looked at; what has been shown by then is a bound as well."""


@lru_cache(maxsize=64)
def least_money(job: Job) -> int:
    """No layout of the parts that fit some sheet costs less, in hundredths. First cuts only make it dearer."""
    boards = boards_of(job)
    blanks = blanks_of(job, boards)
    priced = [replace(board, cost=job.stock[board.stock].price) for board in boards]
    return least_cost(blanks, priced, bound_of(blanks, boards)) if blanks else 0


def least_cost(blanks: Sequence[Blank], boards: Sequence[Board], fewest: int) -> int:
    """No layout of all pieces costs less, if none does with fewer than `fewest` boards.

    Boards are decided for kind after kind, those first that give most for their cost; the choice
    that seems cheapest goes on first.
    """
    order = sorted(boards, key=lambda board: Fraction(board.cost, board.length * board.width))
    waiting = [(0, 0, sum(blank.area * blank.quantity for blank in blanks), fewest, 0)]
    for _ in range(MOST_LOOKED_AT):
        if not waiting:
            return 0
        least, kind, area, more, cost = heappop(waiting)
        if (area <= 0 and more <= 0) or kind == len(order):
            return least
        board = order[kind]
        enough = max(-(-area // (board.length * board.width)), more, 0)
        for count in range(enough + 1 if board.quantity is None else min(enough, board.quantity) + 1):
            left = area - count * board.length * board.width
            rest = _in_parts(order[kind + 1 :], left)
            if rest is not None and (more <= count or kind + 1 < len(order)):
                spent = cost + count * board.cost
                heappush(waiting, (spent + rest, kind + 1, left, more - count, spent))
    return waiting[0][0] if waiting else 0


def _in_parts(boards: Sequence[Board], area: int) -> int | None:
    """The cheapest way to come by this area, if these could be had in parts; None if there are not enough of them."""
    cost = 0
    for board in boards:
        if area <= 0:
            break
        of = board.length * board.width
        whole = area if board.quantity is None else min(area, of * board.quantity)
        cost += ceil(Fraction(whole * board.cost, of))
        area -= whole
    return None if area > 0 else cost
