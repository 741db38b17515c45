"""Sheets that pay: pieces on one board together whose prices add up to more than the board costs.

A table over all rectangles that matter: the best content of a rectangle is its best single piece,
that of a smaller rectangle, or what the two hold that a cut makes of it, if they do not take more
pieces of a size between them than are wanted. By this last condition it is a guess: a rectangle
remembers one content only, and another that is as good might have gone together with more. (Without
it the recursion is exact, and bounds what any sheet can hold: `core.layout.holdings`.)
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from typing import TypeAlias, TypeVar

import numpy
from numpy.typing import NDArray

from core.layout.block import Leaf, sizes_of
from core.layout.fitter import DEEPEST_TO_FILL, Fitter
from core.layout.pattern import Pattern, pattern_of
from core.layout.places import places_for, rests, sums
from core.layout.shape import Shape, shape_of
from core.layout.strip import Laid, board_with, strip_of
from core.layout.tally import Tallies, Words

MOST_PLACES = 160
"""How many places for cuts are tried along each side."""

FEW_PASSES, MOST_PASSES = 2, 4
"""How often the cuts change their direction, from the smallest rectangles to the whole board; few are found sooner."""

UNDIVIDED, SMALLER = -1, 0
"""In a table of cuts: no cut, and the next smaller rectangle; what is more is the place of a cut."""

Worths: TypeAlias = NDArray[numpy.int64]
Cuts: TypeAlias = NDArray[numpy.int16]
Number = TypeVar("Number", bound=numpy.generic)
Rests: TypeAlias = Sequence[NDArray[numpy.intp]]


class BestSheets:
    """Finds sheets of one board that hold at most `wanted` pieces of each size.

    `by_chance`: where there are too many places for cuts, half of those that are tried are met by chance.
    """

    def __init__(self, fitter: Fitter, board: int, wanted: Sequence[int], by_chance: bool = False) -> None:
        self._board = board
        self._rooms = fitter.rooms
        self._length, self._width = fitter.boards[board].length, fitter.boards[board].width
        ways = [
            blank.ways_in(self._length, self._width) if count else []
            for blank, count in zip(fitter.blanks, wanted, strict=True)
        ]
        self._sides = [
            ([[way[0] for way in of] for of in ways], wanted, self._length, MOST_PLACES),
            ([[way[1] for way in of] for of in ways], wanted, self._width, MOST_PLACES),
        ]
        along, across = [places_for(*side, fitter.random if by_chance else None) for side in self._sides]
        self._shape = len(along), len(across)
        self._pieces = [
            (bisect_left(along, way[0]), bisect_left(across, way[1]), Leaf(*way, size))
            for size, of in enumerate(ways)
            for way in of
        ]
        self._rests: tuple[Rests, Rests] = _arrays(along), _arrays(across)
        area = self._length * self._width
        self._tallies = Tallies([min(n, area // of.area) for of, n in zip(fitter.blanks, wanted, strict=True)])

    @property
    def all_places(self) -> bool:
        """Whether every place is tried at which a cut can matter."""
        return all(sums(*side) is not None for side in self._sides)

    @property
    def work(self) -> int:
        """About how many sums one look takes."""
        columns, rows = self._shape
        return columns * rows * (columns + rows) * self._tallies.words

    def worth_more(self, prices: Sequence[int], least: int, passes: int) -> dict[Pattern, Shape]:
        """Patterns priced above `least`: for each first cut of the board the best that is known for both its sides."""
        table = _Table(self._shape, self._pieces, prices, self._rests, self._tallies, passes)
        found: dict[Pattern, Shape] = {}
        for laid in table.paying(least):
            block = board_with(laid, self._length, self._width, self._rooms)
            if block.deep < DEEPEST_TO_FILL:
                found.setdefault(pattern_of(self._board, sizes_of(block)), shape_of(block))
        return found


def _arrays(places: Sequence[int]) -> Rests:
    return [numpy.array(of, dtype=numpy.intp) for of in rests(places)]


class _Table:
    """The best content known of every rectangle, by the numbers of the places where it ends."""

    def __init__(
        self,
        shape: tuple[int, int],
        pieces: Sequence[tuple[int, int, Leaf]],
        prices: Sequence[int],
        rests: tuple[Rests, Rests],
        tallies: Tallies,
        passes: int,
    ) -> None:
        self._pieces = pieces
        self._rests = rests
        self._tallies = tallies
        self._worths: Worths = numpy.zeros(shape, numpy.int64)
        self._words: list[Words] = [numpy.zeros(shape, numpy.uint64) for _ in range(tallies.words)]
        self._single: NDArray[numpy.int32] = numpy.full(shape, -1, numpy.int32)
        """The number of the piece that a rectangle holds if it is not divided."""
        self._passes: list[Cuts] = []
        """How the rectangles were cut that each pass made better: crosscuts and rips by turns."""
        self._lay_single(prices)
        while len(self._passes) < passes:
            crosscuts = self._divide(0)
            rips = self._divide(1)
            self._passes += [crosscuts, rips]
            if not (rips > UNDIVIDED).any():
                break

    def _lay_single(self, prices: Sequence[int]) -> None:
        for number, (x, y, leaf) in enumerate(self._pieces):
            worths = self._worths[x:, y:]
            better = worths < prices[leaf.size]
            worths[better] = prices[leaf.size]
            self._single[x:, y:][better] = number
        for number, (_, _, leaf) in enumerate(self._pieces):
            word, one = self._tallies.one(leaf.size)
            self._words[word][self._single == number] = one

    def _divide(self, side: int) -> Cuts:
        """A pass: every rectangle parted along one side in the best way, the shorter ones first."""
        turned = side == 1
        worths, words = self._worths, self._words
        if turned:
            worths, words = _turned(worths), [_turned(word) for word in words]
        cuts: Cuts = numpy.full(worths.shape, UNDIVIDED, numpy.int16)
        for place in range(1, len(worths)):
            now = worths[place]
            better = (worths[place - 1] > now).nonzero()[0]
            if better.size:
                now[better] = worths[place - 1][better]
                cuts[place][better] = SMALLER
                for word in words:
                    word[place][better] = word[place - 1][better]
            rest = self._rests[side][place]
            if not rest.size:
                continue
            ends = slice(1, rest.size + 1)
            parted = worths[ends] + worths[rest]
            together = self._tallies.together([word[ends] for word in words], [word[rest] for word in words])
            parted[~together] = -1
            better = (parted.max(axis=0) > now).nonzero()[0]
            if better.size:
                parted = parted[:, better]
                chosen = parted.argmax(axis=0)
                now[better] = parted[chosen, numpy.arange(better.size)]
                cuts[place][better] = chosen + 1
                for word in words:
                    word[place][better] = word[chosen + 1, better] + word[rest[chosen], better]
        if turned:
            self._worths, self._words, cuts = _turned(worths), [_turned(word) for word in words], _turned(cuts)
        return cuts

    def paying(self, least: int) -> Iterator[Laid]:
        """What the whole board can hold that is priced above this, for each first cut, and undivided."""
        x, y = self._worths.shape[0] - 1, self._worths.shape[1] - 1
        if self._worths[x, y] > least:
            laid = self._content(x, y, len(self._passes))
            if laid is not None:
                yield laid
        for side, at in enumerate(self._rests):
            rest = at[-1]
            ends = numpy.arange(1, len(rest) + 1)
            worths, *words = [array.T[-1] if side == 0 else array[-1] for array in (self._worths, *self._words)]
            pays = worths[ends] + worths[rest] > least
            pays &= self._tallies.together([word[ends] for word in words], [word[rest] for word in words])
            for low, high in zip(ends[pays].tolist(), rest[pays].tolist(), strict=True):
                yield self._parted(side, x, y, low, high, len(self._passes))

    def _content(self, x: int, y: int, passes: int) -> Laid | None:
        """What lies in a rectangle after so many passes."""
        while passes:
            cut = int(self._passes[passes - 1][x, y])
            side = (passes - 1) % 2
            if cut == UNDIVIDED:
                passes -= 1
            elif cut == SMALLER:
                x, y = (x - 1, y) if side == 0 else (x, y - 1)
            else:
                rest = int(self._rests[side][x if side == 0 else y][cut - 1])
                return self._parted(side, x, y, cut, rest, passes)
        number = int(self._single[x, y])
        return None if number < 0 else self._pieces[number][2]

    def _parted(self, side: int, x: int, y: int, low: int, high: int, passes: int) -> Laid:
        """What lies on both sides of a cut."""
        ends = [(low, y), (high, y)] if side == 0 else [(x, low), (x, high)]
        found = [laid for end in ends if (laid := self._content(*end, passes)) is not None]
        return strip_of(side == 1, found)


def _turned(array: NDArray[Number]) -> NDArray[Number]:
    return numpy.ascontiguousarray(array.T)
