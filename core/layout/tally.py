"""How many pieces of each size are used, for many rectangles at once: counts packed into machine words.

A size of which there is one piece at the most has one bit. Any other has as many as its count may
need, and one above them that shows when there are too many. So two tallies are added, and looked at
for every size, by a few sums of whole words.
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
        self._places: dict[int, tuple[int, int]] = {}
        single = [size for size, count in enumerate(most) if count <= 1]
        for number, size in enumerate(single):
            self._places[size] = divmod(number, WORD)
        self._single_words = max(1, -(-len(single) // WORD))
        self._checks = self._counted([(size, count) for size, count in enumerate(most) if count > 1])
        self.words = self._single_words + len(self._checks)
        """How many words a tally has."""

    def _counted(self, most: Sequence[tuple[int, int]]) -> list[tuple[numpy.uint64, numpy.uint64]]:
        """Gives places to sizes of which there are several; for each word what shows too many in its spare bits."""
        checks: list[tuple[int, int]] = []
        used = WORD
        for size, count in most:
            bits = count.bit_length() + 1
            if used + bits > WORD:
                checks.append((0, 0))
                used = 0
            self._places[size] = self._single_words + len(checks) - 1, used
            up_to_spare, spare = checks[-1]
            # Added to a count that is too large, this reaches the spare bit.
            up_to_spare |= ((1 << bits - 1) - 1 - count) << used
            checks[-1] = up_to_spare, spare | 1 << used + bits - 1
            used += bits
        return [(numpy.uint64(up_to_spare), numpy.uint64(spare)) for up_to_spare, spare in checks]

    def one(self, size: int) -> tuple[int, numpy.uint64]:
        """A piece of a size: the number of its word, and what is added there."""
        word, place = self._places[size]
        return word, numpy.uint64(1 << place)

    def together(self, some: Sequence[Words], others: Sequence[Words]) -> NDArray[numpy.bool_]:
        """Where two tallies, given word by word, do not count too many of any size between them."""
        seen: Words = numpy.zeros_like(some[0])
        for number, (one, other) in enumerate(zip(some, others, strict=True)):
            if number < self._single_words:
                seen |= one & other
            else:
                up_to_spare, spare = self._checks[number - self._single_words]
                seen |= (one + other + up_to_spare) & spare
        allowed: NDArray[numpy.bool_] = seen == 0
        return allowed
