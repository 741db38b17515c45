"""Sheets that would help: pieces laid together whose prices add up to more than their sheet costs.

The prices come from the linear programme of `core.layout.cover`: what it would save there if
one piece less of a size were wanted. A single sheet is taken apart in part and filled again,
each time with the piece that brings most for what is lost of the room.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from core.layout.block import Block, sizes_of
from core.layout.fitter import DEEPEST_TO_FILL, Fitter
from core.layout.pattern import Pattern, pattern_of
from core.layout.remove import remove
from core.layout.room import NEVER, Room
from core.layout.shape import Shape, shape_of

OVERLOOKED = 0.1
"""How often the piece that brings most is passed over, so that the same sheet is not made again."""


def worthwhile(
    sheets: Iterable[tuple[int, Block]],
    prices: Sequence[int],
    costs: Sequence[int],
    tries: int,
    fitter: Fitter,
    stopped: Callable[[], bool],
) -> dict[Pattern, Shape]:
    """Patterns whose pieces are priced above the cost of their board, met when these sheets are laid anew.

    Each sheet is taken apart and filled again so many times.
    """
    found: dict[Pattern, Shape] = {}
    fillers = [_Filler(prices, cost, board, fitter) for board, cost in enumerate(costs)]
    for board, start in sheets:
        if stopped():
            break
        filler = fillers[board]
        block = start
        value = filler.value(sizes_of(block))
        for _ in range(tries):
            laid, sizes = filler.laid_anew(block)
            new_value = filler.value(sizes)
            if new_value > costs[board]:
                pattern = pattern_of(board, sizes)
                if pattern not in found:
                    found[pattern] = shape_of(laid)
            if new_value >= value:
                block, value = laid, new_value
    return found


class _Filler:
    """Fills sheets of one board by the prices."""

    def __init__(self, prices: Sequence[int], cost: int, board: int, fitter: Fitter) -> None:
        self._prices = prices
        self._fitter = fitter
        self._quantities = [blank.quantity for blank in fitter.blanks]
        worth = fitter.empties[board].worth
        self._rates = [(size, price * worth // cost) for size, price in enumerate(prices) if price]
        """What the pieces are priced at, in the measure of rooms: a whole sheet's cost is worth an empty sheet."""
        self._rankings: dict[Room, list[tuple[int, int]]] = {}

    def value(self, sizes: Iterable[int]) -> int:
        """What pieces of these sizes are priced at together."""
        prices = self._prices
        return sum([prices[size] for size in sizes])

    def _ranking(self, room: Room) -> list[tuple[int, int]]:
        """The sizes that fit a room, those first that bring most for what is lost of it."""
        ranking = self._rankings.get(room)
        if ranking is None:
            losses = room.losses
            gains = [(rate - losses[size], size) for size, rate in self._rates if losses[size] < NEVER]
            gains.sort(reverse=True)
            ranking = self._rankings[room] = gains
        return ranking

    def laid_anew(self, block: Block) -> tuple[Block, list[int]]:
        """The block with one or two members taken out and filled with what brings most, and the sizes on it."""
        fitter = self._fitter
        random = fitter.random
        left = block
        for _ in range(1 + int(random() * 2)):
            shorter = remove(left, int(random() * (left.nodes - 1)), [], fitter.rooms)
            if shorter is None:
                left = Block(block.length, block.width, True, (), fitter.rooms.of(block.length, block.width))
                break
            left = shorter
        sizes = sizes_of(left)
        waiting = self._quantities.copy()
        for size in sizes:
            waiting[size] -= 1
        while left.deep < DEEPEST_TO_FILL:
            overlooked = random() < OVERLOOKED
            best: tuple[int, int] | None = None
            for room in left.rooms:
                for gain in self._ranking(room):
                    if waiting[gain[1]] > 0:
                        if overlooked:
                            overlooked = False
                            continue
                        if best is None or gain > best:
                            best, best_room = gain, room
                        break
            if best is None:
                break
            size = best[1]
            left = fitter.inserter.at_best(left, size, best_room.losses[size])
            waiting[size] -= 1
            sizes.append(size)
        return left, sizes
