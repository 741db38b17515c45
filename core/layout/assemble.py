"""Sheets chosen one by one, put together to an answer: without what there is too much of, and refilled."""

from __future__ import annotations

from collections.abc import Iterable

from core.layout.block import Block, Leaf
from core.layout.fitter import Draft, Filling, Fitter
from core.layout.refill import refill
from core.layout.remove import remove


def assembled(sheets: Iterable[tuple[int, Block]], cost: int, fitter: Fitter) -> Filling:
    """These sheets, each with its board, as far as they are to be had for this cost; some pieces may be missing."""
    wanted = [blank.quantity for blank in fitter.blanks]
    purse = cost
    draft = Draft([], [], [])
    for board, sheet in sheets:
        if fitter.boards[board].cost > purse or not fitter.to_be_had(draft, board):
            continue
        block = _without_surplus(sheet, wanted, fitter)
        if block is not None:
            purse -= fitter.boards[board].cost
            draft.boards.append(board)
            draft.blocks.append(block)
    draft.purse = purse
    draft.missing = [size for size, count in enumerate(wanted) for _ in range(count)]
    refill(draft, fitter)
    return draft.settled()


def _without_surplus(block: Block, wanted: list[int], fitter: Fitter) -> Block | None:
    """The block without pieces that are not wanted any more; None if it holds no others. Counts `wanted` down."""
    left: Block | None = block
    while left is not None:
        waiting = wanted.copy()
        node = _first_surplus(left, waiting, 0)
        if node is None:
            wanted[:] = waiting
            return left
        left = remove(left, node, [], fitter.rooms)
    return None


def _first_surplus(block: Block, waiting: list[int], node: int) -> int | None:
    """The number of the first member, as `remove` counts, that is a piece too many. Counts `waiting` down."""
    for member in block.members:
        if isinstance(member, Leaf):
            waiting[member.size] -= 1
            if waiting[member.size] < 0:
                return node
        else:
            found = _first_surplus(member, waiting, node + 1)
            if found is not None:
                return found
        node += member.nodes
    return None
