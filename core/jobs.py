"""From kinds of part and stock sheets to the layout engine's question, in whole numbers.

The unit is one that divides every length of the job, so that four exact quarters fit where they
fit; 1/1600 mm, which holds 1/64 in and 0.01 mm, unless thirds or stranger fractions ask for
finer. Only what no sensible unit divides is rounded: parts and kerf up, stock down, so that
rounding never makes an impossible layout possible.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import chain
from math import ceil, floor, lcm

from core.construction.part import Kind
from core.goods import Material
from core.layout.job import Job, JobPart, JobStock, JobTrim
from core.mistakes import Mistake

Rectangle = tuple[Fraction, Fraction, Fraction, Fraction]
"""On a sheet: x, y, length and width, mm."""

UNITS_PER_MM = 1600

MOST_ITERATIONS = 4000
"""How long is searched where no minimum is proved before: some seconds for the parts of a kitchen."""

ITERATIONS_TIMES_PIECES = 1_000_000
"""Large jobs, whose iterations take longer, get fewer."""

UNPRICED = 1
"""Hundredths that a sheet without a price is taken to cost beside pieces that are in the shop."""

FINEST = UNITS_PER_MM * 10**6
"""Units to a millimetre beyond which lengths are rounded instead."""


@dataclass(frozen=True, slots=True)
class Blank:
    """What a layout is asked for: `length` lies along the sheet's x unless the part may turn. In mm, exact."""

    code: str
    length: Fraction
    width: Fraction
    quantity: int
    may_turn: bool
    lies_turned: bool = False
    """The part's own length lies along y: its grain follows its width."""
    held: bool = False
    """It is cut when all others are."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """A stock sheet as the layout sees it: x along the face grain, or along the longer side without grain; mm."""

    name: str
    length: Fraction
    width: Fraction
    trim: tuple[Fraction, Fraction, Fraction, Fraction]
    """Left, right, bottom, top."""
    quantity: int | None
    price: int
    """In hundredths of the currency; 0 where unknown."""
    on_hand: bool = False
    """It is in the shop and costs nothing more."""
    first_crosscut: Fraction = Fraction(0)
    """Where it is crosscut before anything else; 0 for nowhere."""
    crosscut_loses: Fraction = Fraction(0)
    """What both sides of that cut lose again."""
    first_rip: Fraction = Fraction(0)
    """Where it, or both pieces of it, is ripped next; 0 for nowhere."""
    rip_loses: Fraction = Fraction(0)
    """What both sides of that cut lose again."""
    bad: tuple[Rectangle, ...] = ()
    """Places on it that are of no use: x, y, length, width."""

    @property
    def inner_length(self) -> Fraction:
        """Length of the longest piece that trimming and a first crosscut leave, mm."""
        return _largest(self.length, self.trim[:2], self.first_crosscut, self.crosscut_loses)

    @property
    def inner_width(self) -> Fraction:
        """Width of the widest piece that trimming and a first rip leave, mm."""
        return _largest(self.width, self.trim[2:], self.first_rip, self.rip_loses)

    def gives(self, length: Fraction, width: Fraction, may_turn: bool) -> bool:
        """Whether a blank of this size, mm, could come out of it by itself."""
        inner_length, inner_width = self.inner_length, self.inner_width
        as_it_is = length <= inner_length and width <= inner_width
        return as_it_is or (may_turn and width <= inner_length and length <= inner_width)


def _largest(whole: Fraction, trim: tuple[Fraction, Fraction], first: Fraction, loses: Fraction) -> Fraction:
    """What trimming and a first cut leave of a side, mm: the larger piece. `first` is 0 where there is no such cut."""
    before, after = trim
    return max(first - before, whole - first - after) - loses if first else whole - before - after


def blank_of(kind: Kind, pieces: int, held: bool = False) -> Blank:
    """The blank of a kind, wanted `pieces` times."""
    part = kind.part
    turned = part.grain == "width"
    length, width = part.blank_length, part.blank_width
    if turned:
        length, width = width, length
    return Blank(kind.code, length, width, pieces, part.grain == "none", turned, held)


def sheets_of(material: Material, read: Mapping[str, Fraction]) -> tuple[Sheet, ...]:
    """The material's stock. `read` holds every size of it as typed, in mm."""
    sheets = []
    for stock in material.stock:
        length, width = read[stock.length], read[stock.width]
        trim = tuple(read[side] for side in (stock.trim.left, stock.trim.right, stock.trim.bottom, stock.trim.top))
        if not material.grain and width > length:
            length, width = width, length
            trim = (trim[2], trim[3], trim[0], trim[1])
        name = f"{stock.length} x {stock.width}"
        price = round(Fraction(stock.price) * 100) if stock.price else 0
        trims = (trim[0], trim[1], trim[2], trim[3])
        crosscut, rip = (
            (read[at], read[loses]) if at else (Fraction(0), Fraction(0))
            for at, loses in ((stock.first_crosscut, stock.crosscut_loses), (stock.first_rip, stock.rip_loses))
        )
        for way, at, whole in (("crosscut", crosscut[0], length), ("rip", rip[0], width)):
            if at >= whole:
                typed = stock.first_crosscut if way == "crosscut" else stock.first_rip
                raise Mistake(f"a first {way} at {typed} lies beyond the sheet {name}")
        sheets.append(Sheet(name, length, width, trims, stock.quantity, price, False, *crosscut, *rip))
    return tuple(sheets)


def unit_for(lengths: Iterable[Fraction]) -> int:
    """How many units make a millimetre, so that every length is a whole number of them if that can sensibly be."""
    units = UNITS_PER_MM
    for length in lengths:
        finer = lcm(units, length.denominator)
        if finer > FINEST:
            continue
        units = finer
    return units


def make_job(blanks: Sequence[Blank], sheets: Sequence[Sheet], kerf: Fraction, also: Iterable[Fraction] = ()) -> Job:
    """The question for one material, in a unit that divides `also` besides. Raises Mistake for an impossible trim."""
    lengths = [kerf, *also]
    for blank in blanks:
        lengths += [blank.length, blank.width]
    for sheet in sheets:
        lengths += [
            sheet.length,
            sheet.width,
            *sheet.trim,
            sheet.first_crosscut,
            sheet.crosscut_loses,
            sheet.first_rip,
            sheet.rip_loses,
            *chain.from_iterable(sheet.bad),
        ]
        check_trim(sheet, kerf)
    units = unit_for(lengths)
    # What is in the shop comes before what has to be bought, also where nobody knows what that costs.
    least_price = UNPRICED if any(sheet.on_hand for sheet in sheets) else 0
    pieces = sum(blank.quantity for blank in blanks)
    return Job(
        iterations=min(MOST_ITERATIONS, ITERATIONS_TIMES_PIECES // max(1, pieces)),
        unit=f"1/{units}",
        kerf=ceil(kerf * units),
        parts=tuple(
            JobPart(b.code, ceil(b.length * units), ceil(b.width * units), b.quantity, b.may_turn, b.held)
            for b in blanks
        ),
        stock=tuple(
            JobStock(
                s.name,
                floor(s.length * units),
                floor(s.width * units),
                JobTrim(*(ceil(side * units) for side in s.trim)),
                s.quantity,
                0 if s.on_hand else max(s.price, least_price),
                floor(s.first_crosscut * units),
                ceil(s.crosscut_loses * units) if s.first_crosscut else 0,
                floor(s.first_rip * units),
                ceil(s.rip_loses * units) if s.first_rip else 0,
                tuple(whole_place(place, units) for place in s.bad),
            )
            for s in sheets
        ),
    )


def whole_place(place: Rectangle, units: int | Fraction) -> tuple[int, int, int, int]:
    """A bad place in whole units, so many to the millimetre: never less of it than there is."""
    x, y, length, width = place
    left, bottom = floor(x * units), floor(y * units)
    return left, bottom, ceil((x + length) * units) - left, ceil((y + width) * units) - bottom


def check_trim(sheet: Sheet, kerf: Fraction) -> None:
    """Raises Mistake where an edge is to lose less than the blade takes."""
    edges = {f"the {edge}": amount for edge, amount in zip(("left", "right", "bottom", "top"), sheet.trim, strict=True)}
    edges |= {"the first crosscut": sheet.crosscut_loses, "the first rip": sheet.rip_loses}
    for edge, amount in edges.items():
        if 0 < amount < kerf:
            raise Mistake(
                f"a trim of {float(amount):g} mm at {edge} of sheet {sheet.name} is less than the kerf, "
                f"{float(kerf):g} mm; a trim counts the kerf, so give 0 or at least that"
            )
