"""A first answer to a job, at once: pieces in an order of size, each where it loses least."""

from __future__ import annotations

from collections.abc import Sequence

from core.layout.fitter import Draft, Filling, Fitter
from core.layout.preference import Score, spent
from core.layout.room import NEVER

NONE = -1
"""The number of no board."""


def first_filling(fitter: Fitter) -> Filling:
    """The best of several orders, and of each kind of stock for sale as the one to take when one more sheet is needed.

    Without such a favourite it is the one that gives most for its cost, as pieces that are in the shop do.
    """
    best = Filling((), ())
    best_rank: Score | None = None
    favourites = [NONE, *(board for board, of in enumerate(fitter.boards) if of.quantity is None)]
    for order in _orders(fitter):
        for favourite in favourites:
            filling = _fill_in(fitter, order, favourite)
            rank = (*spent(filling, fitter), fitter.used(filling))
            if best_rank is None or rank < best_rank:
                best, best_rank = filling, rank
    return best


def _orders(fitter: Fitter) -> list[list[int]]:
    """The sizes in several orders, the largest first in one sense or another."""
    sizes = range(len(fitter.blanks))
    ways = [blank.ways[0] for blank in fitter.blanks]
    orders = [
        sorted(sizes, key=lambda size: -fitter.blanks[size].area),
        sorted(sizes, key=lambda size: -max(ways[size])),
        sorted(sizes, key=lambda size: -min(ways[size])),
        sorted(sizes, key=lambda size: -ways[size][0]),
        sorted(sizes, key=lambda size: -ways[size][1]),
    ]
    return [order for index, order in enumerate(orders) if order not in orders[:index]]


def _fill_in(fitter: Fitter, order: Sequence[int], favourite: int) -> Filling:
    """Every piece in this order; a sheet of the favourite stock is begun where a piece fits on none."""
    draft = Draft([], [], [])
    for size in order:
        row = [fitter.losses_of(block)[size] for block in draft.blocks]
        for done in range(fitter.blanks[size].quantity):
            least = min(row, default=NEVER)
            index = row.index(least) if least < NEVER else fitter.open(draft, size, favourite)
            if index is None:
                draft.missing += [size] * (fitter.blanks[size].quantity - done)
                break
            block = draft.blocks[index]
            draft.blocks[index] = fitter.inserter.at_best(block, size, fitter.losses_of(block)[size])
            # A sheet that has just been begun has no place in the row yet.
            row[index : index + 1] = [fitter.losses_of(draft.blocks[index])[size]]
    return draft.settled()
