"""A job whose sheets are cut first, as a question about the openings of these sheets.

To the search each opening of a sheet (`core.layout.cut_first`) is a stock of its own; what it finds
on them is put together again to whole sheets, whose trees begin with the settled cuts. To that, one
piece of a sheet is as good without the other, and round a bad place there are several ways to cut:
so there are other questions about the same job, and this says which.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TypeAlias

from core.layout.blanks import Board, blanks_of, boards_of, bulk_of, check_stock, fits_inside, ways_of
from core.layout.bounds import bound_of
from core.layout.cut_first import Opening, Way, is_cut_first, ways_to_cut
from core.layout.finish import NO_PLACE, obstacle
from core.layout.job import Job, JobPart, JobStock
from core.layout.least_cost import least_cost, least_money
from core.layout.tree import LaidSheet, Layout, Node, replaced

TOO_SMALL = "it would fit a whole sheet, but not what is left by a first cut or beside a bad place"

MORE_TRIED = 3
"""How often it is asked again for fewer sheets, each time for one more."""

Owner: TypeAlias = tuple[int, int, int]
"""The place of a stock in the job, of a way to cut it first, and of an opening in that."""

Counts: TypeAlias = tuple[tuple[int | None, ...], ...]
"""For each stock and each way to cut it first, how many sheets there are; None: any number."""


@dataclass(frozen=True, slots=True)
class Division:
    """A job, the ways in which its sheets may be cut first, and how many are cut in each of them."""

    job: Job
    ways: tuple[tuple[Way, ...], ...]
    counts: Counts

    def split(self) -> Job:
        """The question with every opening as a stock of its own."""
        return replace(self.job, stock=tuple(of for _, of in self._openings()))

    def joined(self, layout: Layout, least: int) -> Layout:
        """The answer to `split` as one to the job. `least`: so many sheets any answer to the job must have."""
        owners = self._owners
        laid: dict[Owner, list[Node]] = {}
        for sheet in layout.sheets:
            laid.setdefault(owners[sheet.stock], []).append(sheet.root)
        sheets: list[LaidSheet] = []
        for index, ways in enumerate(self.ways):
            for number, way in enumerate(ways):
                queues = [laid.get((index, number, place), []) for place in range(len(way.openings))]
                for turn in range(max(map(len, queues), default=0)):
                    root = way.tree
                    # The last place first, so that the others stay where they are.
                    for opening, queue in sorted(zip(way.openings, queues, strict=True), key=lambda of: -of[0].place):
                        if turn < len(queue):
                            root = replaced(root, opening.place, queue[turn])
                    sheets.append(LaidSheet(index, root))
        parts, job = self.job.parts, self.job
        unplaced = tuple(replace(one, reason=in_the_way(parts[one.part], job) or NO_PLACE) for one in layout.unplaced)
        least = min(least, len(sheets)) if unplaced else least
        return Layout(tuple(sheets), unplaced, least, least_money(job))

    @property
    def most_of_use(self) -> int:
        """How many openings of one sheet, at the most, hold any part."""

        def is_of_use(opening: Opening) -> bool:
            return any(fits_inside(part, opening.stock) for part in self.job.parts)

        return max((sum(map(is_of_use, way.openings)) for ways in self.ways for way in ways), default=0)

    @property
    def is_whole(self) -> bool:
        """Whether it has all sheets of the job in every way in which they can be cut."""
        return all(set(of) == {stock.quantity} for stock, of in zip(self.job.stock, self.counts, strict=True))

    def least(self) -> tuple[int, int, int]:
        """A rank below which none of its answers can be, by the areas of the openings and by `fewest`."""
        job, split = self.job, self.split()
        missing = sum(part.quantity * bulk_of(ways_of(part, job.kerf)) for part in job.parts if obstacle(part, split))
        blanks = blanks_of(job, boards_of(split))
        more_than_pieces = 1 + sum(part.quantity for part in job.parts)
        boards = []
        for index, (stock, ways, counts) in enumerate(zip(job.stock, self.ways, self.counts, strict=True)):
            for way, sheets in zip(ways, counts, strict=True):
                if way.openings and sheets != 0:
                    cost = stock.price * more_than_pieces + 1
                    boards.append(Board(index, way.area(job.kerf), 1, sheets, cost))
        limited = [of.length * of.quantity for of in boards if of.quantity is not None]
        if len(limited) == len(boards) and sum(limited) < sum(blank.area * blank.quantity for blank in blanks):
            return missing + 1, 0, 0
        least = least_cost(blanks, boards, bound_of(blanks, boards_of(self._of_what_is_left())))
        return missing, *divmod(least, more_than_pieces)

    def _of_what_is_left(self) -> Job:
        """The job without the stock of which there are no sheets."""
        left = zip(self.job.stock, self.counts, strict=True)
        return replace(self.job, stock=tuple(stock for stock, counts in left if any(of != 0 for of in counts)))

    def otherwise(self, found: Layout) -> Iterator[Division]:
        """What else is worth asking after this answer to `split`, the most promising first."""
        missing = [self.job.parts[one.part] for one in found.unplaced]
        others = []
        for other in self._other_ways():
            split = other.split()
            if any(obstacle(part, split) is None for part in missing):
                yield other
            else:
                others.append(other)
        yield from self._without_a_kind(found)
        yield from self._with_fewer(found)
        yield from others

    def _other_ways(self) -> Iterator[Division]:
        """The same with one sheet cut in another way."""
        for index, of in enumerate(self.counts):
            for number, sheets in enumerate(of):
                for other, more in enumerate(of):
                    if other != number and sheets and more is not None:
                        changed = [*of]
                        changed[number], changed[other] = sheets - 1, more + 1
                        yield self._with(index, changed)

    def _without_a_kind(self, found: Layout) -> Iterator[Division]:
        """The same without any one kind of sheet that has a price and was used."""
        owners = self._owners
        for index in sorted({owners[sheet.stock][0] for sheet in found.sheets}):
            others = [sheets for at, of in enumerate(self.counts) for sheets in of if at != index]
            if self.job.stock[index].price and any(sheets != 0 for sheets in others):
                yield self._with(index, [0] * len(self.counts[index]))

    def _with_fewer(self, found: Layout) -> Iterator[Division]:
        """The same with as many sheets cut first as the openings used would fill, then with some more."""
        owners = self._owners
        used = Counter(owners[sheet.stock] for sheet in found.sheets)
        for more in range(MORE_TRIED):
            counts = [[*of] for of in self.counts]
            for index, ways in enumerate(self.ways):
                for number, way in enumerate(ways):
                    pieces = [used[index, number, place] for place in range(len(way.openings))]
                    enough = -(-sum(pieces) // max(len(pieces), 1)) + more
                    if enough < max(pieces, default=0):
                        counts[index][number] = enough
            fewer = replace(self, counts=tuple(map(tuple, counts)))
            if fewer == self:
                return
            yield fewer

    def _with(self, index: int, counts: list[int] | list[int | None]) -> Division:
        return replace(self, counts=(*self.counts[:index], tuple(counts), *self.counts[index + 1 :]))

    @property
    def _owners(self) -> list[Owner]:
        return [owner for owner, _ in self._openings()]

    def _openings(self) -> Iterator[tuple[Owner, JobStock]]:
        """Each opening with its owner, and as a stock."""
        for index, (ways, counts) in enumerate(zip(self.ways, self.counts, strict=True)):
            for number, (way, sheets) in enumerate(zip(ways, counts, strict=True)):
                for place, opening in enumerate(way.openings):
                    yield (index, number, place), replace(opening.stock, quantity=sheets)


def is_divided(job: Job) -> bool:
    """Whether any of its stock is cut in a settled way first."""
    return any(map(is_cut_first, job.stock))


def division_of(job: Job) -> Division:
    """All sheets cut first so that the largest piece is left; each way of those that there are any number of.

    Raises Mistake as `core.layout.blanks.check_stock` does.
    """
    for stock in job.stock:
        if stock.quantity != 0:
            check_stock(stock, job.kerf)
    ways = tuple(ways_to_cut(stock, job.kerf) for stock in job.stock)
    counts = tuple(
        (None,) * len(of) if stock.quantity is None else (stock.quantity, *[0] * (len(of) - 1))
        for stock, of in zip(job.stock, ways, strict=True)
    )
    return Division(job, ways, counts)


@lru_cache(maxsize=8)
def in_every_way(job: Job) -> Job:
    """The job with all openings that its sheets can have, those of each way beside those of the others."""
    division = division_of(job)
    counts = tuple((stock.quantity,) * len(ways) for stock, ways in zip(job.stock, division.ways, strict=True))
    return replace(division, counts=counts).split()


def in_the_way(part: JobPart, job: Job) -> str | None:
    """Why a part fits no sheet of the job's stock once that has had its settled cuts, in words; None if it fits one."""
    reason = obstacle(part, job)
    if reason or not is_divided(job):
        return reason
    return TOO_SMALL if obstacle(part, in_every_way(job)) else None
