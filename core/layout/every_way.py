"""Few pieces on the least that boards can cost, by trying every way: the answer, or the proof that there is none.

Boards are chosen first, the cheapest together before all others, as many as have the area of all
pieces. Then the first piece goes on one of them, with any others that go together with it
(`core.layout.least_boxes`), then the first of those that are left, and so on. What a board leaves
free is lost, and no more can be lost than the boards have too much.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from heapq import heappop, heappush
from itertools import islice
from math import prod
from typing import TypeAlias

from core.layout.fitter import DEEPEST_TO_FILL, Filling, Fitter
from core.layout.least_boxes import GaveUp, LeastBoxes
from core.layout.strip import Laid, board_with

MOST_SETS = 20_000
"""Where there are more ways than this to take some of the pieces it is not tried."""

MOST_CHOICES = 200
"""How many choices of boards are tried."""

MOST_LOOKED_AT = 20_000
"""How many are looked at, those among them that are too small."""

Boards: TypeAlias = tuple[int, ...]
"""Some boards by their numbers, in order."""


def cheapest(
    fitter: Fitter, costs: Sequence[int], below: int, work: int, stopped: Callable[[], bool]
) -> Filling | None:
    """The filling with all pieces that costs least, at such a cost of each board; None if all cost `below` or more.

    Raises GaveUp where that takes more work than is allowed (`LeastBoxes.allow`), when stopped, and where
    a sheet would have too many cuts inside one another.
    """
    if prod([blank.quantity + 1 for blank in fitter.blanks]) > MOST_SETS:
        raise GaveUp
    wanted = sum([blank.area * blank.quantity for blank in fitter.blanks])
    choices = list(islice(_choices(fitter, costs, below, wanted), MOST_CHOICES + 1))
    if not choices:
        return None
    ways = _Ways(fitter, max([_area(boards, fitter) for boards in choices]) - wanted, work, stopped)
    for boards in choices[:MOST_CHOICES]:
        placed = ways.on(boards, ways.all, _area(boards, fitter) - wanted)
        if placed is not None:
            blocks = [
                board_with(laid, fitter.boards[board].length, fitter.boards[board].width, fitter.rooms)
                for board, laid in placed
            ]
            if any(block.deep >= DEEPEST_TO_FILL for block in blocks):
                raise GaveUp
            return Filling(tuple([board for board, _ in placed]), tuple(blocks))
    if len(choices) > MOST_CHOICES:
        raise GaveUp
    return None


def _area(boards: Boards, fitter: Fitter) -> int:
    return sum([fitter.boards[board].length * fitter.boards[board].width for board in boards])


def _choices(fitter: Fitter, costs: Sequence[int], below: int, wanted: int) -> Iterator[Boards]:
    """Boards that have the area of all pieces and together cost less than `below`, the cheapest first."""
    waiting: list[tuple[int, Boards]] = [(0, ())]
    for _ in range(MOST_LOOKED_AT):
        if not waiting:
            return
        spent, boards = heappop(waiting)
        if _area(boards, fitter) >= wanted:
            yield boards
        for board in range(boards[-1] if boards else 0, len(costs)):
            if spent + costs[board] < below and boards.count(board) != fitter.boards[board].quantity:
                heappush(waiting, (spent + costs[board], (*boards, board)))
    raise GaveUp


class _Ways:
    """Lays some of the pieces on boards; `loss`: how much of all boards may be free."""

    def __init__(self, fitter: Fitter, loss: int, work: int, stopped: Callable[[], bool]) -> None:
        self._boards = fitter.boards
        self._areas = [blank.area for blank in fitter.blanks]
        length, width = max(of.length for of in self._boards), max(of.width for of in self._boards)
        self._boxes = LeastBoxes(fitter.blanks, length, width, loss)
        self._boxes.allow(work, stopped)
        self._in_vain: set[tuple[Boards, int]] = set()
        self.all = sum([one * blank.quantity for one, blank in zip(self._boxes.one, fitter.blanks, strict=True)])
        """All pieces, as `LeastBoxes` tells them."""

    def on(self, boards: Boards, pieces: int, loss: int) -> list[tuple[int, Laid]] | None:
        """These pieces on some of these boards, of which there is `loss` too much; None if there is no way."""
        if not pieces:
            return []
        if (boards, pieces) in self._in_vain:
            return None
        for board in sorted(set(boards)):
            at = boards.index(board)
            others = (*boards[:at], *boards[at + 1 :])
            for lost, some in self._on_one(board, pieces, loss):
                laid = self._laid(some, board)
                if laid is not None:
                    placed = self.on(others, pieces - some, loss - lost)
                    if placed is not None:
                        return [(board, laid), *placed]
        self._in_vain.add((boards, pieces))
        return None

    def _on_one(self, board: int, pieces: int, loss: int) -> list[tuple[int, int]]:
        """The first of these pieces and any others that leave no more than `loss` of a board: that first, then they."""
        sizes = [*self._boxes.counted(pieces)]
        first, one = sizes[0][0], self._boxes.one
        chosen = [(self._boards[board].length * self._boards[board].width - self._areas[first], one[first])]
        sizes[0] = first, sizes[0][1] - 1
        for size, count in sizes:
            chosen = [
                (free - times * self._areas[size], some + times * one[size])
                for free, some in chosen
                for times in range(min(count, free // self._areas[size]) + 1)
            ]
        self._boxes.spend(len(chosen))
        return sorted([(free, some) for free, some in chosen if 0 <= free <= loss])

    def _laid(self, pieces: int, board: int) -> Laid | None:
        """These together on a board, if they go."""
        length, width = self._boards[board].length, self._boards[board].width
        boxes = self._boxes.of(pieces)
        return next((laid for laid in boxes if laid.length <= length and laid.width <= width), None)
