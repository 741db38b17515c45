"""Taking pieces out of sheets, and putting missing pieces back."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from random import Random

from core.layout.blanks import Blank, Board, blanks_of, boards_of, fits
from core.layout.block import Block, Worth, collect
from core.layout.insert import UNKNOWN, Joiner
from core.layout.job import Job

BLINK = 0.05
"""How often a better sheet for a piece is overlooked, so that the same pieces don't always go back where they were."""

ASTRAY = 0.05
"""How often a piece goes to any place on its sheet instead of the best."""


@dataclass(frozen=True, slots=True)
class Filling:
    """An answer, perhaps unfinished: for each sheet its board and its block, and the sizes that have no place."""

    boards: tuple[int, ...]
    blocks: tuple[Block, ...]
    missing: tuple[int, ...] = ()


@dataclass(slots=True)
class Draft:
    """A `Filling` being worked on. `budget`: the most that its sheets may cost; None for any cost."""

    boards: list[int]
    blocks: list[Block]
    missing: list[int]
    budget: int | None = None

    def settled(self) -> Filling:
        """The same, never to change again."""
        return Filling(tuple(self.boards), tuple(self.blocks), tuple(sorted(self.missing)))


class Fitter:
    """Fits the pieces of one job onto its boards. Its choices by chance are the same each time, from the job's seed."""

    def __init__(self, job: Job) -> None:
        self.boards: tuple[Board, ...] = boards_of(job)
        self.blanks: tuple[Blank, ...] = blanks_of(job, self.boards)
        self.areas = [blank.area for blank in self.blanks]
        self.costs = [board.cost for board in self.boards]
        self.random = Random(job.seed).random
        self.joiner = Joiner(self.blanks, Worth(max((board.length * board.width for board in self.boards), default=1)))
        self.empties = [self.joiner.empty(board.length, board.width) for board in self.boards]
        self.fitting = [
            [index for index, board in enumerate(self.boards) if any(fits(way, board) for way in blank.ways)]
            for blank in self.blanks
        ]
        """For each size, the boards that it fits, those that give most area for their cost first."""
        for indexes in self.fitting:
            indexes.sort(key=lambda index: (self.boards[index].cost * 1000 // self.empties[index].value, index))

    def cost(self, boards: Iterable[int]) -> int:
        """What these sheets cost."""
        costs = self.costs
        return sum([costs[board] for board in boards])

    def area(self, sizes: Iterable[int]) -> int:
        """The area of pieces of these sizes, one kerf included in each direction."""
        areas = self.areas
        return sum([areas[size] for size in sizes])

    def used(self, filling: Filling | Draft) -> int:
        """How much less worth is free than on the same sheets when empty."""
        empties = self.empties
        return sum([empties[board].value for board in filling.boards]) - sum([block.value for block in filling.blocks])

    def open(self, draft: Draft, size: int, favourite: int | None = None) -> int | None:
        """Take one more sheet that fits `size` into the draft; None where none can be had."""
        budget = draft.budget
        room = None if budget is None else budget - self.cost(draft.boards)
        offered = [
            index
            for index in self.fitting[size]
            if (room is None or self.costs[index] <= room) and self._to_be_had(draft, index)
        ]
        if not offered:
            return None
        chosen = offered[0]
        if favourite in offered:
            chosen = favourite
        elif favourite is None and len(offered) > 1:
            chosen = offered[int(self.random() ** 2 * len(offered))]
        draft.boards.append(chosen)
        draft.blocks.append(self.empties[chosen])
        return len(draft.blocks) - 1

    def _to_be_had(self, draft: Draft, board: int) -> bool:
        quantity = self.boards[board].quantity
        return quantity is None or draft.boards.count(board) < quantity

    def refill(self, draft: Draft, touched: Sequence[int], kept_out: Collection[int]) -> None:
        """Put the missing pieces back, the one with the fewest sheets to go to first.

        `touched`: the sheets that pieces were taken from; the sizes in `kept_out` had no
        place before, so that they need be tried on those alone.
        """
        random, insert, best = self.random, self.joiner.insert, self.joiner.best
        blocks = draft.blocks
        counts: dict[int, int] = {}
        for size in draft.missing:
            counts[size] = counts.get(size, 0) + 1
        every = range(len(blocks))
        options: dict[int, dict[int, int]] = {}
        """For each missing size, the sheets that take it, and what it loses there."""
        for size in counts:
            losses: dict[int, int] = {}
            for index in touched if size in kept_out else every:
                block = blocks[index]
                place = block.best.get(size, UNKNOWN)
                if place is UNKNOWN:
                    place = best(block, size)
                if place is not None:
                    losses[index] = place[0]
            options[size] = losses
        draft.missing = []
        while options:
            size = min(options, key=lambda size: (len(options[size]), size))
            losses = options[size]
            if losses:
                chosen = -1
                least = 0
                for index, loss in losses.items():
                    if (chosen < 0 or loss < least) and random() >= BLINK:
                        chosen, least = index, loss
                if chosen < 0:
                    chosen = min(losses, key=lambda index: (losses[index], index))
            else:
                opened = self.open(draft, size)
                if opened is None:
                    draft.missing += [size] * counts[size]
                    del options[size]
                    continue
                chosen = opened
                for losses in options.values():
                    losses[opened] = 0
            if random() < ASTRAY:
                block = blocks[chosen] = self.joiner.insert_anywhere(blocks[chosen], size, random)
            else:
                block = blocks[chosen] = insert(blocks[chosen], size)
            counts[size] -= 1
            if not counts[size]:
                del options[size]
            for other, losses in options.items():
                if chosen in losses:
                    place = best(block, other)
                    if place is None:
                        del losses[chosen]
                    else:
                        losses[chosen] = place[0]

    def ruin(self, filling: Filling, budget: int | None, times: int) -> tuple[Draft, list[int]]:
        """`filling` with some of its pieces taken out, node by node at random; and the sheets that were touched."""
        random, remove = self.random, self.joiner.remove
        blocks: list[Block | None] = [*filling.blocks]
        draft = Draft([*filling.boards], [], [*filling.missing], budget)
        touched: set[int] = set()
        for _ in range(times if blocks else 0):
            index = int(random() * len(blocks))
            block = blocks[index]
            if block is not None:
                blocks[index] = remove(block, int(random() * (block.nodes - 1)), draft.missing)
                touched.add(index)
        gone = [index for index, block in enumerate(blocks) if block is None]
        for index in reversed(gone):
            del draft.boards[index], blocks[index]
        draft.blocks = [block for block in blocks if block is not None]
        return draft, [index - sum(1 for g in gone if g < index) for index in sorted(touched) if index not in gone]

    def within(self, filling: Filling, budget: int | None) -> Draft:
        """`filling` with the least used sheets given up until it keeps to the budget; their pieces are missing."""
        draft = Draft([*filling.boards], [*filling.blocks], [*filling.missing], budget)
        while budget is not None and self.cost(draft.boards) > budget:
            freest = max(
                range(len(draft.blocks)),
                key=lambda index: (draft.blocks[index].value * 1000 // self.empties[draft.boards[index]].value, index),
            )
            collect(draft.blocks[freest], draft.missing)
            del draft.boards[freest], draft.blocks[freest]
        return draft
