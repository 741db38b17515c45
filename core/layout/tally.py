"""How many pieces of each size are used, for many rectangles at once: counts packed into machine words.

Each size has as many bits as its count may need, and one above them that shows when there are
too many. So two tallies are added, and looked at for every size, by a few sums of whole words.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeAlias

import numpy
from numpy.typing import NDArray

Words: TypeAlias = NDArray[numpy.uint64]

WORD = 64
"""Bits in a word."""


class Tallies:
    """Packs counts of sizes; `most`: how many pieces of each there may be."""

    def __init__(self, most: Sequence[int]) -> None:
        self._places: list[tuple[int, int]] = []
        up_to_spare = [0]
        spare = [0]
        free = WORD
        for count in most:
            bits = count.bit_length() + 1
            if bits > free:
                up_to_spare.append(0)
                spare.append(0)
                free = WORD
            free -= bits
            self._places.append((len(spare) - 1, free))
            # Added to a count that is too large, this reaches the spare bit.
            up_to_spare[-1] |= ((1 << bits - 1) - 1 - count) << free
            spare[-1] |= 1 << (free + bits - 1)
        self.words = len(spare)
        """How many words a tally has."""
        self._checks = [(numpy.uint64(a), numpy.uint64(b)) for a, b in zip(up_to_spare, spare, strict=True)]

    def one(self, size: int) -> tuple[int, numpy.uint64]:
        """A piece of a size: the number of its word, and what is added there."""
        word, place = self._places[size]
        return word, numpy.uint64(1 << place)

    def too_many(self, tally: Sequence[Words]) -> NDArray[numpy.bool_]:
        """Where a tally, given word by word, counts too many of some size: the sum of two at the most that did not."""
        seen: Words = numpy.zeros_like(tally[0])
        for word, (up_to_spare, spare) in zip(tally, self._checks, strict=True):
            seen |= (word + up_to_spare) & spare
        return seen.astype(numpy.bool_)
