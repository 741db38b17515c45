"""Choosing sheets among all that were met: fewer of them may hold every piece than any layout did so far.

A set covering problem: for each pattern (`core.layout.pattern`) a whole number of sheets cut to
it, so that every piece is on at least one, at less cost than the best layout. Its linear programme
says what a piece of each size is worth, and by these prices more patterns are looked for
(`core.layout.pricing`); column generation, as Gilmore & Gomory began it (1961). What the solver
chooses is put together and counted in whole numbers.
"""

from __future__ import annotations

from collections.abc import Sequence

from core.layout.block import Block, Leaf, sizes_of
from core.layout.fitter import Draft, Filling, Fitter
from core.layout.limit import Limit
from core.layout.pattern import Pattern, pattern_of
from core.layout.pricing import worthwhile
from core.layout.programme import Programme
from core.layout.refill import refill
from core.layout.remove import remove
from core.layout.shape import Shape, block_of, shape_of

PRICINGS = 6
"""How often new patterns are looked for by the prices that those at hand give."""

MOST_TRIES = 12
"""How often each sheet is laid anew for that."""

MOST_LAID = 5000
"""How many pieces are laid for that; half as many once some sheets are decided for."""

MOST_PATTERNS = 12_000
"""How many patterns are remembered, those first that leave least of their sheet free."""

MOST_PIECES = 150_000
"""How many pieces there may be on all of them together."""


class Cover:
    """The patterns met in a job so far."""

    def __init__(self, fitter: Fitter) -> None:
        self.fitter = fitter
        self.patterns: dict[Pattern, Shape] = {}
        self._news: dict[Pattern, Shape] = {}

    def add(self, patterns: dict[Pattern, Shape]) -> None:
        """Remember these as well."""
        for pattern, shape in patterns.items():
            self.patterns.setdefault(pattern, shape)

    def add_own(self, patterns: dict[Pattern, Shape]) -> None:
        """Remember these, and that they are news to others."""
        self._news |= patterns
        self.add(patterns)

    def news(self) -> dict[Pattern, Shape]:
        """The patterns found here since this was asked last."""
        news, self._news = self._news, {}
        return news

    def _forget(self) -> None:
        """Keeps the patterns that leave least of their sheets free, and no more than can be dealt with."""
        blanks, boards = self.fitter.blanks, self.fitter.boards

        def free(pattern: Pattern) -> int:
            board, *sizes = pattern
            used = sum([blanks[size].area for size in sizes])
            return 1_000_000 - used * 1_000_000 // (boards[board].length * boards[board].width)

        ordered = sorted(self.patterns, key=lambda pattern: (free(pattern), pattern))
        pieces = 0
        for number, pattern in enumerate(ordered):
            pieces += len(pattern) - 1
            if number >= MOST_PATTERNS or pieces > MOST_PIECES:
                del self.patterns[pattern]

    def better_than(self, best: Filling, limit: Limit) -> Filling | None:
        """A filling that costs less than this one, where the prices leave hope for one; some pieces may be missing."""
        self._forget()
        # Its own sheets, however much they leave free, so that there always is an answer.
        for board, block in zip(best.boards, best.blocks, strict=True):
            self.add({pattern_of(board, sizes_of(block)): shape_of(block)})
        cost = self.fitter.cost(best.boards)
        programme = Programme(self.fitter, list(self.patterns))
        programme.solve()
        for _ in range(PRICINGS):
            if limit.reached() or not self._priced(programme, MOST_LAID, limit):
                break
        if limit.reached() or not programme.in_reach(cost):
            return None
        decided = self._decided(programme, cost, limit)
        if not decided.missing:
            return decided
        programme.undecide()
        programme.solve()
        chosen = programme.chosen(cost, limit.seconds_left())
        return self._filled(chosen, cost) if chosen else decided

    def _decided(self, programme: Programme, cost: int, limit: Limit) -> Filling:
        """Whole sheets one after another, with new patterns for what is not decided yet."""
        while not limit.reached() and programme.in_reach(cost) and programme.decide():
            programme.solve()
            self._priced(programme, MOST_LAID // 2, limit)
        return self._filled(programme.decided(), cost)

    def _priced(self, programme: Programme, most_laid: int, limit: Limit) -> bool:
        """Adds patterns that the prices speak for; False if there are none. Lays about so many pieces."""
        prices, costs = programme.prices()
        rooms = self.fitter.rooms
        used = programme.used()
        sheets = [(pattern[0], block_of(self.patterns[pattern], rooms)) for pattern in used]
        pieces = sum(len(pattern) - 1 for pattern in used)
        tries = max(1, min(MOST_TRIES, most_laid // max(1, pieces)))
        found = worthwhile(sheets, prices, costs, tries, self.fitter, limit.reached)
        new = {pattern: shape for pattern, shape in found.items() if pattern not in self.patterns}
        self.add_own(new)
        programme.add(new)
        programme.solve()
        return bool(new)

    def _filled(self, patterns: Sequence[Pattern], cost: int) -> Filling:
        """Sheets of these patterns for less than this cost, without what there is too much of, and refilled."""
        fitter = self.fitter
        wanted = [blank.quantity for blank in fitter.blanks]
        draft = Draft([], [], [], cost - 1)
        for pattern in patterns:
            board = pattern[0]
            block = _without_surplus(block_of(self.patterns[pattern], fitter.rooms), wanted, fitter)
            if block is not None and draft.purse is not None and fitter.boards[board].cost <= draft.purse:
                draft.purse -= fitter.boards[board].cost
                draft.boards.append(board)
                draft.blocks.append(block)
        draft.missing = [size for size, count in enumerate(wanted) for _ in range(count)]
        refill(draft, fitter)
        return draft.settled()


def _without_surplus(block: Block, wanted: list[int], fitter: Fitter) -> Block | None:
    """The block without pieces that are not wanted any more; None if it holds no others. Counts `wanted` down."""
    left: Block | None = block
    while left is not None:
        waiting = wanted.copy()
        node = _first_surplus(left, waiting, 0)
        if node is None:
            wanted[:] = waiting
            return left
        left = remove(left, node, [], fitter.rooms)
    return None


def _first_surplus(block: Block, waiting: list[int], node: int) -> int | None:
    """The number of the first member, as `remove` counts, that is a piece too many. Counts `waiting` down."""
    for member in block.members:
        if isinstance(member, Leaf):
            waiting[member.blank] -= 1
            if waiting[member.blank] < 0:
                return node
        else:
            found = _first_surplus(member, waiting, node + 1)
            if found is not None:
                return found
        node += member.nodes
    return None
