"""The smallest rectangles into which given pieces can be laid, by trying every way to part them."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from operator import itemgetter

from core.layout.blanks import Blank
from core.layout.block import Leaf
from core.layout.strip import Laid, strip_of

MOST_TOGETHER = 100
"""More pieces than this are not tried together: each might be parted from the others inside the last."""


class GaveUp(Exception):
    """The work that was allowed is spent, or nobody waits for it any more."""


class LeastBoxes:
    """Lays pieces into rectangles no longer and no wider than this, of which no more than `loss` is free.

    Pieces that are taken together are told as one whole number, the sum of `one` for each of them.
    Nothing may be asked before some work is allowed (`allow`).
    """

    def __init__(
        self,
        blanks: Sequence[Blank],
        length: int,
        width: int,
        loss: int | None = None,
    ) -> None:
        self._length = length
        self._width = width
        self._loss = length * width if loss is None else loss
        self._fields: list[tuple[int, int, int]] = []
        """For each bit of such a number the size that it counts, and where its bits begin and end."""
        for size, blank in enumerate(blanks):
            start = len(self._fields)
            end = start + blank.quantity.bit_length()
            self._fields += [(size, start, end)] * (end - start)
        self.one = [0] * len(blanks)
        """The number of one piece of each size of which there are any."""
        for size, start, _ in self._fields:
            self.one[size] = 1 << start
        self._known = {one: self._alone(size, blanks[size].ways) for size, one in enumerate(self.one) if one}
        self._areas = [blank.area for blank in blanks]
        self._allowed = 0
        self._stopped: Callable[[], bool] = lambda: True

    def _alone(self, size: int, ways: Sequence[tuple[int, int]]) -> list[Laid]:
        return [Leaf(*way, size) for way in ways if way[0] <= self._length and way[1] <= self._width]

    def counted(self, some: int) -> Iterator[tuple[int, int]]:
        """The sizes of some pieces, and how many there are of each."""
        while some:
            size, start, end = self._fields[(some & -some).bit_length() - 1]
            count = (some >> start) & ((1 << end - start) - 1)
            yield size, count
            some -= count << start

    def allow(self, work: int, stopped: Callable[[], bool]) -> None:
        """So many pairs of parts, and of rectangles, may be looked at from now on, until `stopped` says so."""
        self._allowed, self._stopped = work, stopped

    def spend(self, work: int) -> None:
        """Counts so much work as done. Raises GaveUp where that is more than was allowed, or when stopped."""
        self._allowed -= work
        if self._allowed < 0 or self._stopped():
            raise GaveUp

    def count(self, some: int, size: int) -> int:
        """How many of this size there are among some pieces."""
        return next((count for other, count in self.counted(some) if other == size), 0)

    def of(self, some: int) -> list[Laid]:
        """These pieces in every rectangle than which none is smaller; none if they do not go together.

        Raises GaveUp as `spend` does, and where these are too many.
        """
        known = self._known.get(some)
        if known is None:
            known = self._known[some] = self._together(some)
        return known

    def _together(self, some: int) -> list[Laid]:
        parts = [0]
        largest, pieces, work = self._loss, 0, 0
        for size, count in self.counted(some):
            parts = [part + times * self.one[size] for part in parts for times in range(count + 1)]
            largest += self._areas[size] * count
            pieces += count
        if pieces > MOST_TOGETHER:
            raise GaveUp
        found: list[tuple[int, int, bool, Laid, Laid]] = []
        for part in parts:
            # Each way to part them once, whichever of equal pieces are taken.
            if not 0 < part <= some - part:
                continue
            first = self.of(part)
            second = self.of(some - part) if first else []
            work += 1 + len(first) * len(second)
            for one in first:
                for other in second:
                    length, width = one.length + other.length, max(one.width, other.width)
                    if length <= self._length and length * width <= largest:
                        found.append((length, width, False, one, other))
                    length, width = max(one.length, other.length), one.width + other.width
                    if width <= self._width and length * width <= largest:
                        found.append((length, width, True, one, other))
        self.spend(work)
        found.sort(key=itemgetter(0, 1))
        least: list[Laid] = []
        for _, width, rip, one, other in found:
            if not least or width < least[-1].width:
                least.append(strip_of(rip, (one, other)))
        return least
