"""The smallest rectangles into which given pieces can be laid, by trying every way to part them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from itertools import product

from core.layout.block import Leaf
from core.layout.pattern import Sizes
from core.layout.strip import Laid, strip_of


class GaveUp(Exception):
    """The work that was allowed is spent."""


class LeastBoxes:
    """Lays pieces into rectangles no longer and no wider than this; `ways`: how a piece of each size may lie."""

    def __init__(self, ways: Sequence[Sequence[tuple[int, int]]], length: int, width: int) -> None:
        self._length = length
        self._width = width
        self._ways = ways
        self._known: dict[Sizes, list[Laid]] = {}
        self.allowed = 0
        """How many more pairs of parts, and of rectangles, may be looked at."""

    def of(self, sizes: Sizes) -> list[Laid]:
        """These pieces in every rectangle than which none is smaller; none if they do not go together.

        Raises GaveUp when no more work is allowed.
        """
        known = self._known.get(sizes)
        if known is None:
            known = self._known[sizes] = self._alone(sizes[0]) if len(sizes) == 1 else self._together(sizes)
        return known

    def _alone(self, size: int) -> list[Laid]:
        return [Leaf(*way, size) for way in self._ways[size] if way[0] <= self._length and way[1] <= self._width]

    def _together(self, sizes: Sizes) -> list[Laid]:
        found: list[tuple[int, int, bool, Laid, Laid]] = []
        for some, others in _partings(sizes):
            if self.allowed <= 0:
                raise GaveUp
            first = self.of(some)
            second = self.of(others) if first else []
            self.allowed -= 1 + len(first) * len(second)
            for one in first:
                for other in second:
                    if one.length + other.length <= self._length:
                        found.append((one.length + other.length, max(one.width, other.width), False, one, other))
                    if one.width + other.width <= self._width:
                        found.append((max(one.length, other.length), one.width + other.width, True, one, other))
        found.sort(key=lambda box: box[:2])
        least: list[Laid] = []
        for _, width, rip, one, other in found:
            if not least or width < least[-1].width:
                least.append(strip_of(rip, (one, other)))
        return least


def _partings(sizes: Sizes) -> Iterator[tuple[Sizes, Sizes]]:
    """Every way to part these pieces in two, each once, whichever of equal pieces are taken."""
    counts = Counter(sizes)
    for some in product(*(range(count + 1) for count in counts.values())):
        others = tuple([count - taken for count, taken in zip(counts.values(), some, strict=True)])
        if any(some) and some <= others:
            yield _pieces(counts, some), _pieces(counts, others)


def _pieces(sizes: Iterable[int], counts: Sequence[int]) -> Sizes:
    return tuple([size for size, count in zip(sizes, counts, strict=True) for _ in range(count)])
