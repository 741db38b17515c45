"""The boards and sizes of one job, and answers to it that may not be finished yet."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from random import Random
from typing import TypeAlias

from core.layout.blanks import Blank, Board, blanks_of, boards_of, bulk_of, fits
from core.layout.block import Block
from core.layout.insert import Inserter
from core.layout.job import Job
from core.layout.notation import DEEPEST
from core.layout.place import MOST_BAD
from core.layout.room import Losses, Rooms

TRIMMING, CUT_FIRST, ROUND_BAD_PLACES = 4, 2, 4 * MOST_BAD
"""How many cuts there may be round those that the search makes, one inside another."""

DEEPEST_TO_FILL = DEEPEST - TRIMMING - CUT_FIRST - ROUND_BAD_PLACES
"""A sheet with so many cuts inside one another gets no more pieces, so that every layout can be written down."""


Mix: TypeAlias = tuple[int | None, ...]
"""Of each board at the most so many; None: any number."""


@dataclass(frozen=True, slots=True)
class Filling:
    """An answer, perhaps unfinished: for each sheet its board and its block, and the sizes that have no place."""

    boards: tuple[int, ...]
    blocks: tuple[Block, ...]
    missing: tuple[int, ...] = ()


@dataclass(slots=True)
class Draft:
    """A `Filling` being worked on.

    `purse`: what further sheets may cost; None for any cost. `mix`: of each board at the most so many; None for as
    many as there are.
    """

    boards: list[int]
    blocks: list[Block]
    missing: list[int]
    purse: int | None = None
    mix: Mix | None = None

    def settled(self) -> Filling:
        """The same, never to change again."""
        return Filling(tuple(self.boards), tuple(self.blocks), tuple(sorted(self.missing)))


class Fitter:
    """Knows what one job's pieces and boards are worth. Its choices by chance come from the job's seed and a number."""

    def __init__(self, job: Job, number: int = 0) -> None:
        self.boards: tuple[Board, ...] = boards_of(job)
        self.blanks: tuple[Blank, ...] = blanks_of(job, self.boards)
        self.later = frozenset(size for size, blank in enumerate(self.blanks) if blank.later)
        """The sizes of pieces that are cut when all others are."""
        self.random = Random(job.seed + number).random
        self.largest_area = max((board.length * board.width for board in self.boards), default=1)
        """That of the largest board."""
        self.rooms = Rooms(self.blanks, self.largest_area)
        self.inserter = Inserter(self.rooms)
        self.empties = [self._empty(board) for board in self.boards]
        self._costs = [board.cost for board in self.boards]
        self._cheapest = min(self._costs, default=0)
        self.all_missing = tuple([size for size, of in enumerate(self.blanks) for _ in range(of.quantity)])
        """Every piece, by its size."""
        self.bought = [number for number, board in enumerate(self.boards) if job.stock[board.stock].is_bought]
        """The numbers of the boards that are bought."""
        pieces = len(self.all_missing)
        limited = sum([of.cost * min(of.quantity, pieces) for of in self.boards if of.quantity is not None])
        self.lacking = 1 + limited + max([of.cost for of in self.boards if of.quantity is None], default=0)
        """More than a piece can cost: a sheet of its own, beside all of those of which there are only so many."""
        self._bulks = [bulk_of(blank.ways) for blank in self.blanks]
        self._fitting = [self._boards_for(blank) for blank in self.blanks]

    def _empty(self, board: Board) -> Block:
        return Block(board.length, board.width, True, (), self.rooms.of(board.length, board.width))

    def _boards_for(self, blank: Blank) -> list[int]:
        """The boards that a size fits, those that give most for their cost first."""
        fitting = [index for index, board in enumerate(self.boards) if any(fits(way, board) for way in blank.ways)]
        return sorted(fitting, key=lambda index: (Fraction(self._costs[index], self.empties[index].worth), index))

    def cost(self, boards: Iterable[int]) -> int:
        """What these sheets cost."""
        costs = self._costs
        return sum([costs[board] for board in boards])

    def cost_of(self, filling: Filling) -> int:
        """What an answer costs, with `lacking` for each piece that has no place."""
        return self.cost(filling.boards) + self.lacking * len(filling.missing)

    def bulk(self, sizes: Iterable[int]) -> int:
        """How hard it is to find a place for pieces of these sizes (`core.layout.blanks.bulk_of`)."""
        bulks = self._bulks
        return sum([bulks[size] for size in sizes])

    def used(self, filling: Filling | Draft) -> int:
        """How much less the rooms are worth than on the same sheets when empty."""
        empties = self.empties
        return sum([empties[board].worth for board in filling.boards]) - sum([block.worth for block in filling.blocks])

    def losses_of(self, block: Block) -> Losses:
        """What each size loses in the best room of a sheet."""
        losses = block.losses
        if losses is None:
            losses = self.rooms.losses(block.rooms if block.deep < DEEPEST_TO_FILL else ())
            block.losses = losses
        return losses

    def give_up(self, draft: Draft, sheet: int) -> None:
        """Take a sheet out of the draft, and its cost back into the purse."""
        if draft.purse is not None:
            draft.purse += self._costs[draft.boards[sheet]]
        del draft.boards[sheet], draft.blocks[sheet]

    def open(self, draft: Draft, size: int, favourite: int | None = None) -> int | None:
        """Take one more sheet that fits `size` into the draft; None where none can be had.

        It is of the favourite stock if that can be; without a favourite, by chance, most
        often the one that gives most for its cost.
        """
        purse, costs = draft.purse, self._costs
        if purse is not None and purse < self._cheapest:
            return None
        offered = [
            index
            for index in self._fitting[size]
            if (purse is None or costs[index] <= purse) and self.to_be_had(draft, index)
        ]
        if not offered:
            return None
        chosen = offered[0]
        if favourite in offered:
            chosen = favourite
        elif favourite is None and len(offered) > 1:
            chosen = offered[int(self.random() * self.random() * len(offered))]
        if purse is not None:
            draft.purse = purse - costs[chosen]
        draft.boards.append(chosen)
        draft.blocks.append(self.empties[chosen])
        return len(draft.blocks) - 1

    def to_be_had(self, draft: Draft, board: int) -> bool:
        """Whether there is one more such board than the draft uses."""
        quantity = self.boards[board].quantity if draft.mix is None else draft.mix[board]
        return quantity is None or draft.boards.count(board) < quantity
