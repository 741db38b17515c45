"""Cutting to length: pieces of one section out of bars of solid stock. The question and the answer, in whole numbers.

n pieces on a bar need the sum of their lengths and n - 1 kerfs: the last needs none where it ends
with the usable length. `core.layout.bar_search` finds the answer. What is best, in this order:

1. the least length of pieces without a place, a kerf counted with each;
2. the least money; where that is equal the fewest bars;
3. the longest single rest.
"""

from __future__ import annotations

from dataclasses import dataclass

from core.layout.blanks import check_trim
from core.layout.tree import Unplaced
from core.mistakes import Mistake


@dataclass(frozen=True, slots=True)
class BarPart:
    """Pieces of one length."""

    code: str
    length: int
    quantity: int


@dataclass(frozen=True, slots=True)
class BarStock:
    """A kind of bar. `quantity` None: as many as wanted. `price` of one in the currency's hundredths, 0 where unknown.

    What each end loses counts the kerf of that cut; it is 0 or at least a kerf.
    """

    name: str
    length: int
    trim_left: int = 0
    trim_right: int = 0
    quantity: int | None = None
    price: int = 0

    @property
    def usable(self) -> int:
        """What is left of the length once both ends are trimmed."""
        return self.length - self.trim_left - self.trim_right


@dataclass(frozen=True, slots=True)
class BarJob:
    """Pieces to be cut from bars of one section with one kerf. All lengths count the same unit, whichever it is.

    `iterations` is how many fillings of bars are looked at before the best so far must do. With so many,
    60 pieces of 15 lengths from three kinds of bar nearly always have their least money proved.
    """

    kerf: int
    parts: tuple[BarPart, ...]
    stock: tuple[BarStock, ...]
    iterations: int = 500_000

    def check(self) -> None:
        """Refuse a part that has no length, and a trim that no blade can make."""
        for part in self.parts:
            if part.length <= 0:
                raise Mistake(f"part {part.code} has no length: it must be more than nothing")
        for stock in self.stock:
            if stock.quantity != 0:
                for trim in (stock.trim_left, stock.trim_right):
                    check_trim(f"the ends of {stock.name}", trim, self.kerf)


@dataclass(frozen=True, slots=True)
class CutBar:
    """One bar: the index of its stock, those of the parts cut from it in order, longest first, and what is left then.

    `rest` is the length of the offcut between the last piece's cut and the trimmed end.
    """

    stock: int
    pieces: tuple[int, ...]
    rest: int


@dataclass(frozen=True, slots=True)
class BarLayout:
    """An answer to a job. `money` is what its bars cost, in hundredths.

    No answer that leaves out as little costs less than `least_money`, and none of these that costs no
    more than this one has fewer bars than `lower_bound`.
    """

    bars: tuple[CutBar, ...]
    unplaced: tuple[Unplaced, ...]
    money: int
    least_money: int
    lower_bound: int

    @property
    def proved_minimum(self) -> bool:
        """Nothing is left out, nothing costs less, and no fewer bars do for that money."""
        return not self.unplaced and (self.money, len(self.bars)) == (self.least_money, self.lower_bound)
