"""What pieces could be worth in a space, if they could be melted: a bound on what they are worth there whole."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction


class Melted:
    """Pieces of some sizes at these prices, in lengths or areas alike; those without a price are left out."""

    def __init__(self, prices: Sequence[int], extents: Sequence[int], counts: Sequence[int]) -> None:
        self._prices, self._extents, self._counts = prices, extents, counts
        sizes = [size for size, count in enumerate(counts) if count and prices[size]]
        self.order = sorted(sizes, key=lambda size: (Fraction(-prices[size], extents[size]), size))
        """The sizes, those first that are worth most for the space that they take."""

    def at_best(self, place: int, space: int) -> int:
        """The most that pieces from this place in the order on can be worth in so much space."""
        prices, extents, counts = self._prices, self._extents, self._counts
        worth = 0
        for size in self.order[place:]:
            extent = extents[size] * counts[size]
            if extent > space:
                return worth + prices[size] * space // extents[size]
            space -= extent
            worth += prices[size] * counts[size]
        return worth
