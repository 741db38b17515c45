"""A sheet as it is planned, or a piece on hand: its tree, what lies on it, and how that is stored."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from core.cuts.order import offcuts_of
from core.cuts.steps import EDGES, Edge, Excess, Keeping, Numbers, Offcut
from core.layout.job import JobStock
from core.layout.notation import read, write
from core.layout.place import MOST_BAD, Place, common, near
from core.layout.tree import Direction, Node, Placed, Spot, walk
from core.mistakes import Mistake
from core.project import AcceptedSheet, Crossed

KEEPING = Keeping(100, 300)
"""Of what, mm, is worth its place on the rack; common practice, no source."""


@dataclass(frozen=True, slots=True)
class Lying:
    """A piece as it lies on its sheet, in the sheet's units. `turned`: its own length lies along y."""

    piece: str
    x: int
    y: int
    length: int
    width: int
    turned: bool


@dataclass(frozen=True, slots=True)
class FirstCut:
    """A cut that the person wants made before anything else: where, and what both sides of it lose again; mm."""

    direction: Direction
    at: Fraction
    loses: Fraction


def first_cuts_of(stock: JobStock, unit: Fraction) -> tuple[FirstCut, ...]:
    """The first cuts of a size of sheet, which counts in `unit` mm."""
    ways: tuple[tuple[Direction, int, int], ...] = (
        ("crosscut", stock.crosscut_at, stock.crosscut_trim),
        ("rip", stock.rip_at, stock.rip_trim),
    )
    return tuple(FirstCut(way, at * unit, loses * unit) for way, at, loses in ways if at)


@dataclass(frozen=True, slots=True)
class PlannedSheet:
    """One sheet with its tree and the names of its pieces. Sizes in whole units of `unit` mm."""

    id: str
    material: str
    stock: str
    length: int
    width: int
    trim: tuple[int, int, int, int]
    price: int
    unit: Fraction
    kerf: int
    root: Node
    pieces: tuple[str, ...]
    """Names of the placed parts, in the order of the tree's walk."""
    grain: bool = True
    begun: bool = False
    numbers: Numbers | None = None
    """What its pieces are called, where that does not follow from its tree alone."""
    sawn: tuple[Edge, ...] = ()
    """The edges that a saw has made true already."""
    bad: tuple[Place, ...] = ()
    """Places on it that are of no use."""
    over: Excess = (Fraction(0), Fraction(0))
    """By how much it may be too long and too wide, mm."""
    crossed: tuple[Crossed, ...] = ()
    """The blades on which its length and its width hang."""
    rough: tuple[Fraction, Fraction, Fraction, Fraction] = (Fraction(0),) * 4
    """What a piece on hand loses at its left, right, bottom and top before a part may lie there, mm."""
    first_cuts: tuple[FirstCut, ...] = ()
    """Of its size of sheet, as it is in the stock now."""
    laid_out: PlannedSheet | None = None
    """The sheet with the pieces that no longer suit; None where there are none."""

    @property
    def on_hand(self) -> bool:
        """It is a piece that is in the shop already, and no sheet of the stock."""
        return not self.stock

    @property
    def named(self) -> Numbers:
        """What its pieces are called."""
        return self.numbers or Numbers(self.id)

    def placed(self) -> list[Lying]:
        """Each part's piece where it lies, in the order of the tree's walk."""
        names = iter(self.pieces)
        return [
            Lying(next(names), spot.x, spot.y, spot.node.length, spot.node.width, spot.node.turned)
            for spot in walk(self.root)
            if isinstance(spot.node, Placed)
        ]

    def offcuts(self) -> tuple[Offcut, ...]:
        """What no part uses, and whether it is worth its place on the rack."""
        return offcuts_of(self.root, self.keeping, self.bad)

    @property
    def keeping(self) -> Keeping:
        """What is worth keeping, in this sheet's units."""
        return KEEPING.counted_in(self.unit)

    def loses(self, spot: Spot) -> tuple[Fraction, Fraction, Fraction, Fraction]:
        """What a piece where it lies still loses at its left, right, bottom and top before a part may lie there; mm.

        That is the trim of the edges of the sheet that it reaches, and what a first cut costs where that made its edge.
        """
        x, y, node = spot.x, spot.y, spot.node
        left, right, bottom, top = (max(self.mm(side), more) for side, more in zip(self.trim, self.rough, strict=True))
        low_x, high_x = self._loses(x, x + node.length, self.length, "crosscut", (left, right))
        low_y, high_y = self._loses(y, y + node.width, self.width, "rip", (bottom, top))
        return low_x, high_x, low_y, high_y

    def _loses(
        self, start: int, end: int, whole: int, direction: Direction, trim: tuple[Fraction, Fraction]
    ) -> tuple[Fraction, Fraction]:
        """The same at both ends one way; `trim`: what the sheet loses at its own two."""
        low, high = trim[0] if start == 0 else Fraction(0), trim[1] if end == whole else Fraction(0)
        for first in self.first_cuts:
            if first.direction == direction:
                low = first.loses if self.mm(start - self.kerf) == first.at else low
                high = first.loses if self.mm(end) == first.at else high
        return low, high

    def bad_in(self, spot: Spot) -> tuple[Place, ...]:
        """What a piece where it lies has of the bad places, from its own corner."""
        return common(self.bad, spot.x, spot.y, spot.node.length, spot.node.width)

    def unusable_in(self, spot: Spot) -> tuple[Place, ...]:
        """The same, and of a bad place that lies beyond an edge of it what is a kerf from that."""
        at = (spot.x, spot.y, spot.node.length, spot.node.width)
        return tuple(one for bad in self.bad for one in common([bad], *at) or common([near(bad, self.kerf)], *at))

    def mm(self, units: int) -> Fraction:
        """Whole units as millimetres."""
        return units * self.unit


def as_accepted(sheet: PlannedSheet) -> AcceptedSheet:
    """What to store so that this sheet holds from now on, and what no longer suits is known."""
    sheet = sheet.laid_out or sheet
    return AcceptedSheet(
        id=sheet.id,
        stock=sheet.stock,
        length=sheet.length,
        width=sheet.width,
        unit=str(sheet.unit),
        kerf=sheet.kerf,
        cuts=write(sheet.root, sheet.pieces),
        trim=" ".join(map(str, sheet.trim)),
        price=sheet.price,
        of=sheet.numbers.of if sheet.numbers else "",
        numbers=as_ranges(sheet.numbers.told) if sheet.numbers else "",
    )


def read_accepted(
    material: str, sheet: AcceptedSheet, grain: bool, begun: bool, sawn: tuple[Edge, ...] = ()
) -> PlannedSheet:
    """A stored sheet. Raises Mistake, saying what of it cannot be read."""
    named = read(sheet.cuts, sheet.length, sheet.width, sheet.kerf)
    numbers = None
    if sheet.of or sheet.numbers:
        numbers = Numbers(sheet.of or sheet.id, read_ranges(sheet.numbers, f"of sheet {sheet.id}"))
    return PlannedSheet(
        id=sheet.id,
        material=material,
        stock=sheet.stock,
        length=sheet.length,
        width=sheet.width,
        trim=read_trim(sheet.trim, f"of sheet {sheet.id}"),
        price=sheet.price,
        unit=read_unit(sheet.unit, f"of sheet {sheet.id}"),
        kerf=sheet.kerf,
        root=named.root,
        pieces=named.pieces,
        grain=grain,
        begun=begun,
        numbers=numbers,
    )


def read_trim(text: str, where: str) -> tuple[int, int, int, int]:
    """What left, right, bottom and top lose, in whole units."""
    sides = _four_whole_numbers(text)
    if sides is None:
        raise Mistake(f"the trim {text!r} {where} is not four whole numbers")
    return sides


def _four_whole_numbers(text: str) -> tuple[int, int, int, int] | None:
    words = text.split()
    if len(words) != 4 or not all(word.isdecimal() for word in words):
        return None
    first, second, third, fourth = map(int, words)
    return first, second, third, fourth


def read_places(text: str, where: str) -> tuple[Place, ...]:
    """`0 0 50 40, 900 0 60 60` as places, in whole units."""
    found = []
    for place in text.split(",") if text else ():
        sizes = _four_whole_numbers(place)
        if sizes is None:
            raise Mistake(f"the bad place {place[:40]!r} {where} is not four whole numbers")
        found.append(sizes)
    if len(found) > MOST_BAD:
        raise Mistake(f"there are {len(found)} bad places {where}: {MOST_BAD} can be told, larger ones if need be")
    return tuple(found)


def as_places(places: Iterable[Place]) -> str:
    """Places as they are stored."""
    return ", ".join(" ".join(map(str, place)) for place in places)


def read_edges(text: str, where: str) -> tuple[Edge, ...]:
    """`left top` as edges."""
    unknown = set(text.split()) - set(EDGES)
    if unknown:
        raise Mistake(f"the edges {text!r} {where} are not of left, right, bottom and top")
    return tuple(edge for edge in EDGES if edge in text.split())


def read_over(text: str, where: str) -> Excess:
    """By how much a piece may be too long and too wide, mm."""
    found = fractions_in(text or "0 0")
    if len(found) != 2:
        raise Mistake(f"what a piece has too much, {text[:40]!r} {where}, is not two sizes in mm, such as 0 1/2")
    return found[0], found[1]


def read_kerf(text: str, piece: str) -> Fraction:
    """Of the saw by which a piece was cut, mm."""
    found = fractions_in(text)
    if len(found) != 1:
        raise Mistake(f"the kerf {text[:40]!r} of a cut of {piece} is no size in mm, such as 11/5")
    return found[0]


_FRACTION = re.compile("[0-9]{1,2000}(/0*[1-9][0-9]{0,1999})?")
"""As the program writes them; an exponent, which could be of any size, is none."""


def fractions_in(text: str) -> tuple[Fraction, ...]:
    """What a text of fractions says, `0 1/2`; nothing where any word of it is none."""
    words = text.split()
    return tuple(map(Fraction, words)) if all(map(_FRACTION.fullmatch, words)) else ()


def read_unit(text: str, where: str) -> Fraction:
    """Millimetres to one unit."""
    try:
        unit = Fraction(text)
    except (ValueError, ZeroDivisionError):
        unit = Fraction(0)
    if unit <= 0:
        raise Mistake(f"the unit {text!r} {where} is no part of a millimetre, such as 1/1600")
    return unit


MOST_NUMBERS = 100_000
"""Of pieces of one sheet; more is no sheet."""


def read_ranges(text: str, where: str) -> tuple[int, ...]:
    """`64-66 101` as 64, 65, 66, 101."""
    numbers: list[int] = []
    for word in text.split():
        first, dash, last = word.partition("-")
        ends = (first, last) if dash else (first, first)
        if not all(end.isdecimal() and len(end) < 10 for end in ends) or int(ends[1]) - int(ends[0]) >= MOST_NUMBERS:
            raise Mistake(f"the numbers {text[:40]!r} {where} are not whole numbers and ranges, such as 64-80 101")
        numbers += range(int(ends[0]), int(ends[1]) + 1)
    return tuple(numbers)


def as_ranges(numbers: tuple[int, ...]) -> str:
    """64, 65, 66, 101 as `64-66 101`."""
    runs: list[list[int]] = []
    for before, number in pairwise((None, *numbers)):
        if before is not None and number == before + 1:
            runs[-1][1] = number
        else:
            assert number is not None
            runs.append([number, number])
    return " ".join(str(first) if first == last else f"{first}-{last}" for first, last in runs)
