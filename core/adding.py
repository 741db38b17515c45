"""What is missing of a plan that stands, put on what its sheets leave free, on pieces in the shop, then on new sheets.

Every cut that stands keeps its place. What is free beyond parts that are held back could only be
reached by cutting those free first; where that would save something, they are laid out anew with
what is missing, in the pieces in which they wait, so that they can go on waiting.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from core.following import UNTRIMMED, waiting_on
from core.grafting import gaps_of, grafted, in_finer_units, numbers_had, only_for_parts
from core.jobs import Blank, Rectangle, Sheet, make_job
from core.layout.job import Job
from core.layout.notation import placed_in
from core.layout.place import Place, scaled
from core.layout.tree import LaidSheet, Layout, Node, Spare, nodes_below
from core.on_hand import OnHand, code_of, gives_any, without
from core.planned_sheet import PlannedSheet
from core.sheets import name_pieces, next_number

MOST_ITERATIONS = 2000
"""Of the search for places for what is missing: a small question, and a person waits."""
ITERATIONS_TIMES_PIECES = 20_000
"""Larger ones, whose iterations take longer, get fewer."""


@dataclass(frozen=True, slots=True)
class Supply:
    """Where what is missing of one material may come from, besides the sheets that stand."""

    material: str
    grain: bool
    kerf: Fraction
    for_sale: Sequence[Sheet]
    on_hand: OnHand


def with_missing(
    standing: Sequence[PlannedSheet],
    missing: Mapping[str, Sequence[str]],
    blanks: Mapping[str, Blank],
    held: Collection[str],
    supply: Supply,
    find: Callable[[Job], Layout],
) -> list[PlannedSheet]:
    """The sheets that stand with the `missing` pieces (names by code), and the new sheets that these take.

    `held`: codes of what is held back; `find` answers the jobs that this comes to.
    """
    question = _Question(supply, standing, _reached(standing, held), missing, blanks, find)
    least = question.answer() or replace(question, openings=()).answer()
    assert least is not None
    if least.spent > NOTHING:
        # A piece with a bad place may do for what it was to give, with what lies there, in another order.
        for sheet in standing:
            again = question.without(sheet, held).answer() if sheet.bad else None
            if again and again.spent < least.spent:
                least = again
    if held and least.spent > NOTHING:
        openings, waiting = _with_what_waits(standing, held, [blanks[code] for code in missing])
        both = {code: [*missing.get(code, ()), *waiting.get(code, ())] for code in {**missing, **waiting}}
        anew = replace(question, openings=openings, asked=both).answer() if waiting else None
        if anew and anew.spent < least.spent:
            least = anew
    return least.sheets()


@dataclass(frozen=True, slots=True)
class _Opening:
    """A piece of a sheet that stands, in which what is missing may be laid out; sizes in mm.

    `place`: in the walk through its tree; `trim`: what its left, right, bottom and top still lose; `bad`: what of it
    is of no use; `waits`: what it gave before is laid out with what is missing.
    """

    host: str
    place: int
    length: Fraction
    width: Fraction
    trim: tuple[Fraction, Fraction, Fraction, Fraction]
    bad: tuple[Rectangle, ...]
    waits: bool

    @property
    def stock(self) -> Sheet:
        """The piece as the layout sees it."""
        name = f"{self.place} of {self.host}"
        return Sheet(name, self.length, self.width, self.trim, 1, 0, on_hand=True, bad=self.bad)


def _opening(
    sheet: PlannedSheet,
    place: int,
    node: Node,
    trim: tuple[Fraction, Fraction, Fraction, Fraction],
    bad: Sequence[Place],
    waits: bool,
) -> _Opening:
    mm = sheet.mm
    unusable = tuple(scaled(place, sheet.unit) for place in bad)
    return _Opening(sheet.id, place, mm(node.length), mm(node.width), trim, unusable, waits)


def _reached(standing: Sequence[PlannedSheet], held: Collection[str]) -> list[_Opening]:
    """What is free of the sheets, and can be reached while what is held back waits."""
    found = []
    for sheet in standing:
        beyond: set[int] = set()
        for one in waiting_on(sheet, held):
            beyond.update(range(one.place, one.place + nodes_below(one.node) + 1))
        # Of a half that nothing was to come of, nothing has been trimmed.
        found += [
            _opening(sheet, place, spot.node, sheet.loses(spot), sheet.unusable_in(spot), waits=False)
            for place, spot in gaps_of(sheet)
            if place not in beyond
        ]
    return found


def _with_what_waits(
    standing: Sequence[PlannedSheet], held: Collection[str], missing: Sequence[Blank]
) -> tuple[list[_Opening], dict[str, list[str]]]:
    """The same, and the pieces with parts that wait in which something that is missing could lie; and these parts."""
    openings, parts = _reached(standing, held), dict[str, list[str]]()
    for sheet in standing:
        for one in waiting_on(sheet, held):
            opening = _opening(sheet, one.place, one.node, UNTRIMMED, (), waits=True)
            if gives_any(opening.stock, missing):
                openings.append(opening)
                for part in one.pieces:
                    parts.setdefault(code_of(part), []).append(part)
    return openings, parts


Spent = tuple[Fraction, int, int]
"""The area that has no place, mm2; the money for new sheets; and their number."""
NOTHING: Spent = (Fraction(0), 0, 0)


@dataclass(frozen=True, slots=True)
class _Question:
    """Where pieces (names by code) find a place: on openings, on pieces in the shop, on new sheets."""

    supply: Supply
    standing: Sequence[PlannedSheet]
    openings: Sequence[_Opening]
    asked: Mapping[str, Sequence[str]]
    blanks: Mapping[str, Blank]
    find: Callable[[Job], Layout]

    def answer(self) -> _Answer | None:
        """None where no unit divides all these lengths and those of the sheets that stand."""
        wanted = [replace(self.blanks[code], quantity=len(pieces)) for code, pieces in self.asked.items()]
        there = {sheet.id for sheet in self.standing}
        openings = {stock.name: one for one in self.openings if gives_any(stock := one.stock, wanted)}
        supply = self.supply
        on_hand = supply.on_hand.stock(wanted, supply.for_sale, supply.kerf)
        in_shop = [sheet for sheet in on_hand if sheet.name not in there]
        for_sale = without(self.supply.for_sale, [sheet.stock for sheet in self.standing])
        units = [sheet.unit for sheet in self.standing] if openings else []
        offered = [*(one.stock for one in openings.values()), *in_shop, *for_sale]
        job = make_job(wanted, offered, self.supply.kerf, units)
        if any((unit / Fraction(job.unit)).denominator != 1 for unit in units):
            return None
        iterations = min(MOST_ITERATIONS, ITERATIONS_TIMES_PIECES // sum(blank.quantity for blank in wanted))
        return _Answer(self, job, self.find(replace(job, iterations=iterations)), openings)

    def without(self, sheet: PlannedSheet, held: Collection[str]) -> _Question:
        """The same with a sheet that does not stand: what it was to give is missing as well."""
        standing = [one for one in self.standing if one is not sheet]
        asked = {code: [*pieces] for code, pieces in self.asked.items()}
        for piece in sheet.pieces:
            asked.setdefault(code_of(piece), []).append(piece)
        return replace(self, standing=standing, openings=_reached(standing, held), asked=asked)


@dataclass(frozen=True, slots=True)
class _Answer:
    question: _Question
    job: Job
    found: Layout
    openings: Mapping[str, _Opening]
    """By their names as stock."""

    @property
    def spent(self) -> Spent:
        """What it leaves out, and what is to be bought for it."""
        parts = self.job.parts
        bulk = sum(parts[one.part].length * parts[one.part].width * one.quantity for one in self.found.unplaced)
        new = [self.job.stock[one.stock] for one in self._elsewhere() if not self._is_in_shop(one)]
        return bulk * Fraction(self.job.unit) ** 2, sum(stock.price for stock in new), len(new)

    def sheets(self) -> list[PlannedSheet]:
        """The sheets that stand, with what has its place on them now, and the others that are taken."""
        supply, unit = self.question.supply, Fraction(self.job.unit)
        standing = {sheet.id: sheet for sheet in self.question.standing}
        queues = {code: iter(pieces) for code, pieces in self.question.asked.items()}
        used = numbers_had(supply.on_hand.used, self.question.standing)
        laid = {self.job.stock[one.stock].name: one.root for one in self.found.sheets}
        # The last opening of a sheet first, so that the places of the others stay.
        for name, one in sorted(self.openings.items(), key=lambda named: -named[1].place):
            root = only_for_parts(laid[name]) if name in laid else Spare(int(one.length / unit), int(one.width / unit))
            if name in laid or one.waits:
                pieces = [next(queues[self.job.parts[node.part].code]) for node in placed_in(root)]
                host = in_finer_units(standing[one.host], unit)
                standing[one.host] = grafted(host, one.place, root, pieces, used)
        kept = [sheet for sheet in standing.values() if sheet.pieces]
        left = {code: list(queue) for code, queue in queues.items()}
        first = next_number([*(sheet.id for sheet in kept), *(one.id for one in supply.on_hand.opened)])
        others = replace(self.found, sheets=self._elsewhere())
        on_hand = replace(supply.on_hand, used=used)
        new, _ = name_pieces(supply.material, supply.grain, self.job, others, left, first, on_hand)
        return [*kept, *new]

    def _elsewhere(self) -> tuple[LaidSheet, ...]:
        """What is not on sheets that stand."""
        return tuple(one for one in self.found.sheets if self.job.stock[one.stock].name not in self.openings)

    def _is_in_shop(self, laid: LaidSheet) -> bool:
        return self.question.supply.on_hand.piece(self.job.stock[laid.stock].name) is not None
