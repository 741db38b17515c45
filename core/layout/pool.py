"""The patterns met in a job that a better layout could be made of, with the shape of a sheet for each."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from core.layout.block import Block
from core.layout.pattern import Pattern
from core.layout.shape import Shape, shape_of

MOST_PIECES = 100_000
"""How many pieces there may be on all patterns together; where there are more, the dearer half is forgotten."""


class Pool:
    """Patterns that were found here, or heard of."""

    def __init__(self) -> None:
        self.shapes: dict[Pattern, Shape] = {}
        self._fresh: list[Pattern] = []
        self._news: dict[Pattern, Shape] = {}
        self._prices: Sequence[int] = ()
        self._costs: Sequence[int] = ()
        self._dearest = 0
        self._pieces = 0

    def judge_by(self, prices: Sequence[int], costs: Sequence[int], dearest: int) -> None:
        """From now on only patterns are offered that cost at most `dearest` more than their pieces are priced at."""
        self._prices, self._costs, self._dearest = prices, costs, dearest

    def offer(self, patterns: dict[Pattern, Shape], own: bool) -> bool:
        """Keeps those that could be in a better layout, by the prices known last; `own`: found here.

        Says whether any of them was not known.
        """
        return self.keep({pattern: patterns[pattern] for pattern in self._in_question(patterns)}, own)

    def meet(self, sheets: Mapping[Pattern, Block]) -> None:
        """The same of sheets found here, of which no shape has been made yet."""
        self.keep({pattern: shape_of(sheets[pattern]) for pattern in self._in_question(sheets)}, own=True)

    def _in_question(self, patterns: Iterable[Pattern]) -> list[Pattern]:
        """Those not known yet that could be in a better layout."""
        new = [pattern for pattern in patterns if pattern not in self.shapes]
        return [pattern for pattern in new if self._above(pattern) <= self._dearest] if self._prices else new

    def _above(self, pattern: Pattern) -> int:
        """What a pattern costs above the prices of its pieces, at the least: each of these has been rounded."""
        prices = self._prices
        return self._costs[pattern.board] - sum([prices[size] + 1 for size in pattern.sizes])

    def promising(self) -> list[Pattern]:
        """Those that could be in a better layout, by the prices known last."""
        return [pattern for pattern in self.shapes if self._above(pattern) <= self._dearest]

    def keep(self, patterns: dict[Pattern, Shape], own: bool) -> bool:
        """Keeps these, and says whether any of them was not known."""
        new = {pattern: shape for pattern, shape in patterns.items() if pattern not in self.shapes}
        self.shapes |= new
        self._fresh += new
        self._pieces += sum([len(pattern.sizes) for pattern in new])
        if own:
            self._news |= new
        return bool(new)

    def fresh(self) -> list[Pattern]:
        """The patterns kept since this was asked last."""
        fresh, self._fresh = self._fresh, []
        return fresh

    def news(self) -> dict[Pattern, Shape]:
        """The patterns found here and kept since this was asked last."""
        news, self._news = self._news, {}
        return news

    def forgot(self) -> bool:
        """Forgets the dearer half, if there are too many; then all that are left are fresh."""
        if self._pieces <= MOST_PIECES or not self._prices:
            return False
        cheapest = sorted(self.shapes, key=lambda pattern: (self._above(pattern), pattern))[: len(self.shapes) // 2]
        self.shapes = {pattern: self.shapes[pattern] for pattern in cheapest}
        self._fresh = cheapest
        self._pieces = sum([len(pattern.sizes) for pattern in cheapest])
        return True
