"""The sizes that a job asks for, counted without the blade.

With a kerf k between them, pieces w fit a length W when the sum of (w + k) is at most W + k.
So every piece and every sheet, once trimmed, is made one kerf larger in both directions, and
from there on no kerf needs thinking of: rectangles are divided without loss. What is left
over and is not wider than the kerf is what the blade eats.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from core.layout.job import Job, JobPart, JobStock
from core.mistakes import Mistake


@dataclass(frozen=True, slots=True)
class Blank:
    """All pieces of one size that are cut early, or later, whatever parts they belong to. Sizes include one kerf."""

    ways: tuple[tuple[int, int], ...]
    """Length and width in each way that the piece may lie."""
    quantity: int
    parts: tuple[tuple[int, int], ...]
    """Index in the job and quantity of the parts that are this size."""
    later: bool = False
    """They are cut when all others are."""

    def ways_in(self, length: int, width: int) -> list[tuple[int, int]]:
        """The ways in which it fits a rectangle of this size."""
        return [way for way in self.ways if way[0] <= length and way[1] <= width]

    @property
    def area(self) -> int:
        """Length times width, one kerf included in each."""
        length, width = self.ways[0]
        return length * width


@dataclass(frozen=True, slots=True)
class Board:
    """The inside of a kind of stock, one kerf larger in both directions."""

    stock: int
    """Index in the job."""
    length: int
    width: int
    quantity: int | None
    cost: int
    """Money first, then the sheet itself, then its size: least money, then fewest sheets, then the smaller ones."""


SIZE_STEPS = 1000
"""In how many steps the sizes of sheets differ in their cost."""


def costs_of(job: Job) -> tuple[int, int]:
    """What a hundredth of the currency and what a sheet count in `Board.cost`, where a step of its size counts 1.

    No layout uses more sheets than there are pieces, so no sum of the lesser reaches one of the greater.
    """
    pieces = sum(part.quantity for part in job.parts)
    per_sheet = SIZE_STEPS * (pieces + 1)
    return per_sheet * (pieces + 1), per_sheet


def boards_of(job: Job) -> tuple[Board, ...]:
    """What can be cut up, in the job's order. Stock of which there is none is left out."""
    largest = max((stock.length * stock.width for stock in job.stock), default=1)
    per_hundredth, per_sheet = costs_of(job)
    found = []
    for index, stock in enumerate(job.stock):
        if stock.quantity == 0:
            continue
        check_stock(stock, job.kerf)
        size = -(-stock.length * stock.width * SIZE_STEPS // largest)
        cost = stock.price * per_hundredth + per_sheet + size
        found.append(Board(index, stock.inner_length + job.kerf, stock.inner_width + job.kerf, stock.quantity, cost))
    return tuple(found)


def check_stock(stock: JobStock, kerf: int) -> None:
    """Refuse what cannot be cut as it says.

    A trim that no blade can make, a first cut beside the sheet, a bad place of no size, fewer sheets than
    none, a sheet of which trimming leaves nothing.
    """
    trim = stock.trim
    edges = (("left edge", trim.left), ("right edge", trim.right), ("bottom edge", trim.bottom), ("top edge", trim.top))
    for edge, amount in (*edges, ("first crosscut", stock.crosscut_trim), ("first rip", stock.rip_trim)):
        check_trim(f"the {edge} of {stock.name}", amount, kerf)
    for cut, at, side in (("crosscut", stock.crosscut_at, stock.length), ("rip", stock.rip_at, stock.width)):
        if not 0 <= at < side:
            raise Mistake(f"the first {cut} of {stock.name} is at {at}: it must be less than the sheet's {side}")
    if any(min(length, width) <= 0 for _, _, length, width in stock.bad):
        raise Mistake(f"a bad place of {stock.name} has no size: its length and width must be more than nothing")
    if stock.quantity is not None and stock.quantity < 0:
        raise Mistake(f"there are {stock.quantity} of {stock.name}: it must be nothing or more")
    if stock.inner_length <= 0 or stock.inner_width <= 0:
        raise Mistake(f"the trim of {stock.name} leaves nothing of the sheet: take less off its edges")


def check_trim(edge: str, amount: int, kerf: int) -> None:
    """Refuse a trim of this edge that is neither nothing nor at least a kerf."""
    if amount < 0 or 0 < amount < kerf:
        raise Mistake(f"the trim of {edge} is narrower than the blade: a trim is nothing, or at least one kerf")


def ways_of(part: JobPart, kerf: int) -> tuple[tuple[int, int], ...]:
    """Length and width, one kerf included, in each way that the part may lie; the longer way first if it may turn."""
    length, width = part.length + kerf, part.width + kerf
    if part.turns and length != width:
        return (max(length, width), min(length, width)), (min(length, width), max(length, width))
    return ((length, width),)


def bulk_of(ways: Sequence[tuple[int, int]]) -> int:
    """How hard it is to find a place for a piece that may lie so: its area squared, as small ones are easy."""
    length, width = ways[0]
    return (length * width) ** 2


def fits_inside(part: JobPart, stock: JobStock) -> bool:
    """Whether the part fits what trimming leaves of a sheet, in any way that it may lie."""
    return any(way[0] <= stock.inner_length and way[1] <= stock.inner_width for way in ways_of(part, 0))


def blanks_of(job: Job, boards: tuple[Board, ...]) -> tuple[Blank, ...]:
    """The sizes of all parts that fit some board, the largest first."""
    parts: dict[tuple[bool, tuple[tuple[int, int], ...]], list[tuple[int, int]]] = {}
    for index, part in enumerate(job.parts):
        if part.length <= 0 or part.width <= 0:
            raise Mistake(f"part {part.code} has no size: length and width must be more than nothing")
        ways = ways_of(part, job.kerf)
        if part.quantity > 0 and any(fits(way, board) for way in ways for board in boards):
            parts.setdefault((part.later, ways), []).append((index, part.quantity))
    blanks = [Blank(ways, sum(count for _, count in of), tuple(of), later) for (later, ways), of in parts.items()]
    return tuple(sorted(blanks, key=lambda blank: (-blank.area, blank.ways, blank.later)))


def fits(way: tuple[int, int], board: Board) -> bool:
    """Whether a piece that lies this way fits the board by itself."""
    return way[0] <= board.length and way[1] <= board.width
