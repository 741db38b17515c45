"""What a layout costs at the least: the cheapest boards with the area of all pieces, and enough of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from functools import lru_cache
from itertools import count

from core.layout.blanks import Blank, Board, blanks_of, boards_of
from core.layout.bounds import bound_of
from core.layout.job import Job
from core.layout.purchases import Proof, Purchases

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
    """No layout of all pieces costs less, if none does with fewer than `fewest` boards; 0 where there are too few."""
    # Those that give most for their cost are decided first.
    boards = sorted(boards, key=lambda board: Fraction(board.cost, board.length * board.width))
    proofs = by_area_and_number(blanks, boards, fewest)
    most = []
    for kind, board in enumerate(boards):
        enough = max([-(-proof.needed // proof.held[kind]) for proof in proofs])
        most.append(enough if board.quantity is None else min(enough, board.quantity))
    looks = count(1)
    purchases = Purchases([board.cost for board in boards], tuple(most), proofs)
    return next((cost for cost, _ in purchases.least_first(lambda: next(looks) < MOST_LOOKED_AT)), 0)


def by_area_and_number(blanks: Sequence[Blank], boards: Sequence[Board], fewest: int) -> list[Proof]:
    """What speaks against too few boards at once: they have the area of all pieces, and are `fewest` or more."""
    area = sum([blank.area * blank.quantity for blank in blanks])
    return [Proof(area, tuple([board.length * board.width for board in boards])), Proof(fewest, (1,) * len(boards))]
