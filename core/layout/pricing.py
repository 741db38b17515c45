"""Sheets that would help: pieces laid together whose prices add up to more than their sheet costs.

The prices come from the linear programme of `core.layout.cover`: what it would save there if
one piece less of a size were wanted. A single sheet is taken apart in part and filled again,
each time with the piece that brings most for what is lost of the room.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

from core.layout.block import Block, collect
from core.layout.fitter import Fitter
from core.layout.remove import remove
from core.layout.room import NEVER
from core.layout.shape import Shape, shape_of
from core.layout.walker import Pattern

OVERLOOKED = 0.1
"""How often the piece that brings most is passed over, so that the same sheet is not made again."""

TRIES = 12
"""How often each sheet is taken apart and filled again."""


def worthwhile(
    sheets: Iterable[tuple[int, Block]], prices: Sequence[int], costs: Sequence[int], fitter: Fitter
) -> dict[Pattern, Shape]:
    """Patterns whose pieces are priced above the cost of their board, met when these sheets are laid anew."""
    found: dict[Pattern, Shape] = {}
    for board, start in sheets:
        worth = fitter.empties[board].worth
        rates = [price * worth // costs[board] for price in prices]
        """What the pieces are priced at, in the measure of rooms: a whole sheet's cost is worth an empty sheet."""
        block = start
        value = _value(block, prices)
        for _ in range(TRIES):
            laid = _laid_anew(block, rates, fitter)
            new_value = _value(laid, prices)
            if new_value > costs[board]:
                sizes: list[int] = []
                collect(laid, sizes)
                found.setdefault((board, *sorted(sizes)), shape_of(laid))
            if new_value >= value:
                block, value = laid, new_value
    return found


def _value(block: Block, prices: Sequence[int]) -> int:
    sizes: list[int] = []
    collect(block, sizes)
    return sum([prices[size] for size in sizes])


def _laid_anew(block: Block, rates: Sequence[int], fitter: Fitter) -> Block:
    """The block with one or two members taken out and filled with what brings most, by rate less loss of room."""
    random = fitter.random
    taken: list[int] = []
    left = block
    for _ in range(1 + int(random() * 2)):
        shorter = remove(left, int(random() * (left.nodes - 1)), taken, fitter.rooms) if left.nodes > 1 else None
        if shorter is None:
            left = Block(block.length, block.width, True, (), fitter.rooms.of(block.length, block.width))
            break
        left = shorter
    on_sheet: list[int] = []
    collect(left, on_sheet)
    spare = Counter(on_sheet)
    open_sizes = [s for s, rate in enumerate(rates) if rate and spare[s] < fitter.blanks[s].quantity]
    # What was just taken out comes back only where nothing else does better.
    while left.rooms:
        losses = fitter.losses_of(left)
        gains = [(rates[size] - losses[size], size) for size in open_sizes if losses[size] < NEVER]
        if not gains:
            break
        best = max(gains)
        if len(gains) > 1 and random() < OVERLOOKED:
            gains.remove(best)
            best = max(gains)
        size = best[1]
        left = fitter.inserter.at_best(left, size, losses[size])
        spare[size] += 1
        if spare[size] >= fitter.blanks[size].quantity:
            open_sizes.remove(size)
    return left
