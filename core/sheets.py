"""The sheets of a project: for each material the layout that holds, settled or searched for.

An accepted layout holds while its job is the one that the design asks. When the design has
moved on, sheets that are begun (a cut on them is ticked) keep their layout as facts, and so do
pieces on hand in which parts that are held back wait: what they give is taken off what is
wanted, and only the rest is laid out anew. Their pieces that no longer suit the design are named,
and are not cut free any more.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Container, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from itertools import count

from core.construction.part import Kind
from core.following import Followed, followed, only_waits
from core.grafting import numbers_had, only_for_parts
from core.jobs import UNPRICED, Blank, Sheet, blank_of, make_job
from core.layout.bounds import lower_bound
from core.layout.division import in_the_way
from core.layout.finish import NO_PLACE
from core.layout.job import Job
from core.layout.least_cost import least_money
from core.layout.notation import placed_in
from core.layout.tree import Layout, Unplaced
from core.on_hand import NOTHING, Misfit, OnHand, code_of, new_numbers, without
from core.planned_sheet import PlannedSheet, as_accepted, first_cuts_of, read_accepted
from core.project import AcceptedLayout, CutMade, PieceOnHand
from core.standing import Disagreement, compare, renamed, spared, to_decide_on

Find = Callable[[Job], Layout | None]
"""Answers a job, or None where the answer is still being searched for."""


@dataclass(frozen=True, slots=True)
class MaterialSheets:
    """The layout of one material. `pending`: some of it is still being searched for, or for something better."""

    material: str
    job: Job
    blanks: tuple[Blank, ...]
    """Of all parts that are wanted, those that are cut already among them."""
    sheets: tuple[PlannedSheet, ...] = ()
    """Sheets of the stock, and pieces on hand, from which parts are still to be cut."""
    unplaced: tuple[tuple[str, str], ...] = ()
    """Piece and reason."""
    lower_bound: int = 0
    """On fresh stock no layout of all that is wanted does with fewer sheets; never above the number of `sheets`."""
    least_money: int = 0
    """Nor does one cost less, in hundredths; `UNPRICED` for each sheet of unknown price beside pieces on hand."""
    disagreements: tuple[Disagreement, ...] = ()
    pending: bool = False
    accepted: bool = False
    """All of it is stored as accepted."""
    on_hand: OnHand = NOTHING
    made: Mapping[str, PieceOnHand] = field(default_factory=dict)
    """What is cut already, by the part's piece that it serves as."""
    misfits: tuple[Misfit, ...] = ()
    """What is cut already, and serves as nothing."""
    steps: str = ""
    """The numbers of its steps, as far as they have been given."""
    standing: frozenset[str] = frozenset()
    """Sheets that keep their layout though the design has moved on: begun ones, and pieces in which parts wait."""
    otherwise: frozenset[str] = frozenset()
    """Pieces that are cut otherwise than when their steps were numbered: what is held back followed the design."""

    @property
    def proved_minimum(self) -> bool:
        """No layout can do with fewer sheets, and nothing is left out."""
        return not self.unplaced and not self.pending and len(self.sheets) == self.lower_bound

    @property
    def cost(self) -> int | None:
        """Of its sheets, in hundredths; None where the price of one is not known.

        What is in the shop costs nothing.
        """
        bought = [sheet for sheet in self.sheets if not self.is_in_shop(sheet)]
        return sum(sheet.price for sheet in bought) if all(sheet.price for sheet in bought) else None

    def is_in_shop(self, sheet: PlannedSheet) -> bool:
        """Whether it is a piece on hand, or one of the sheets of which there are so many and no price."""
        limited = any(stock.name == sheet.stock and stock.quantity is not None for stock in self.job.stock)
        return sheet.on_hand or (limited and not sheet.price)

    @property
    def prices_known(self) -> bool:
        """Whether it is known what each sheet costs that might be bought instead."""
        return all(stock.price > UNPRICED or stock.quantity is not None for stock in self.job.stock)

    @property
    def costs_least(self) -> bool:
        """No layout on fresh stock, and on pieces on hand, costs less, and nothing is left out.

        As far as `prices_known`; where no price is, as many sheets cost the same.
        """
        prices = {stock.name: stock.price for stock in self.job.stock if stock.price or stock.quantity is not None}
        bought = [sheet for sheet in self.sheets if not sheet.on_hand]
        if self.unplaced or self.pending or not prices.keys() >= {sheet.stock for sheet in bought}:
            return False
        return sum(max(sheet.price, prices[sheet.stock]) for sheet in bought) <= self.least_money

    def for_thinner_blades(self, kerf: Fraction) -> tuple[PlannedSheet, ...]:
        """Those that were laid out for blades which take less than this, mm."""
        return tuple(sheet for sheet in self.sheets if sheet.mm(sheet.kerf) < kerf)

    @property
    def unsuited(self) -> int:
        """How many pieces, cut or laid out on a begun sheet, are not as the design asks."""
        return len(self.disagreements) + len(self.misfits)

    @property
    def bought(self) -> int:
        """How many sheets of the stock it takes, those of which only pieces are left among them."""
        return len(self.on_hand.opened) + sum(not sheet.on_hand for sheet in self.sheets)

    @property
    def area(self) -> Fraction:
        """Of all its sheets, mm2."""
        return sum((s.mm(s.length) * s.mm(s.width) for s in self.sheets), Fraction(0))

    @property
    def used_area(self) -> Fraction:
        """Of the blanks that lie on them, mm2."""
        placed = ((s, one) for s in self.sheets for one in s.placed())
        return sum((s.mm(one.length) * s.mm(one.width) for s, one in placed), Fraction(0))


def settle(
    material: str,
    grain: bool,
    kinds: Sequence[Kind],
    stock: Sequence[Sheet],
    kerf: Fraction,
    accepted: AcceptedLayout | None,
    cuts: Sequence[CutMade],
    find: Find,
    on_hand: OnHand = NOTHING,
    held: Collection[str] = (),
) -> MaterialSheets:
    """The sheets for `kinds`, all of one material. `find` is asked only for what no accepted sheet gives.

    `held`: codes of parts that are cut when all others are.
    """
    all_blanks = tuple(blank_of(kind, kind.quantity, kind.code in held) for kind in kinds)
    by_code = {blank.code: blank for blank in all_blanks}
    made, misfits = on_hand.parts(by_code, {kind.code: kind.piece_ids() for kind in kinds})
    wanted = {kind.code: [piece for piece in kind.piece_ids() if piece not in made] for kind in kinds}
    blanks = tuple(replace(blank, quantity=len(wanted[blank.code])) for blank in all_blanks if wanted[blank.code])
    stock = [*on_hand.stock(blanks, stock, kerf), *on_hand.left_of(stock)]
    job = make_job(blanks, stock, kerf)
    whole = MaterialSheets(material, job, all_blanks, on_hand=on_hand, made=made, misfits=misfits)
    begun, cut = {tick.sheet for tick in cuts}, {tick.piece for tick in cuts}
    pencilled = {(tick.sheet, piece) for tick in cuts for piece in tick.makes}
    kept: list[PlannedSheet] = []
    following: list[Followed] = []
    if accepted:
        whole = replace(whole, steps=accepted.steps)
        sheets = stored_sheets(accepted, grain, begun, on_hand, job)
        if accepted.job == job.fingerprint():
            sheets = renamed(sheets, by_code, wanted, cut)
            given, told = compare(sheets, by_code, wanted, cut)
            # What no longer suits on a begun sheet did not when this was accepted.
            if all(one.sheet in begun for one in told):
                return replace(
                    whole,
                    sheets=tuple(spared(sheet, told, cut) for sheet in sheets),
                    unplaced=_unplaced(job, wanted, given),
                    lower_bound=max(_least(job, sheets), min(accepted.least, len(sheets))),
                    least_money=least_money(job),
                    disagreements=to_decide_on(told, pencilled),
                    accepted=True,
                )
        standing = [sheet for sheet in sheets if sheet.begun or only_waits(sheet, held)]
        standing = renamed(standing, by_code, wanted, cut)
        used = numbers_had(on_hand.used, standing)
        following = [followed(sheet, by_code, wanted, held, cut, used) for sheet in standing]
        on_hand = replace(on_hand, used=used)
        kept = [one.sheet for one in following if one.sheet.begun or one.sheet.pieces]
        otherwise = frozenset[str]().union(*(one.otherwise for one in following))
        whole = replace(whole, standing=frozenset(sheet.id for sheet in kept), otherwise=otherwise)
    given, told = compare(kept, by_code, wanted, cut)
    kept = [spared(sheet, told, cut) for sheet in kept]
    for one in following:
        for out in one.left_out:
            code = code_of(out.piece)
            now = by_code[code] if out.piece in wanted.get(code, ()) else None
            told.append(Disagreement(out.piece, one.sheet.id, out.length, out.width, now, out.turned))
    disagreements = to_decide_on(told, pencilled)
    rest = tuple(
        replace(blank, quantity=quantity)
        for blank in blanks
        if (quantity := len(wanted[blank.code]) - len(given.get(blank.code, ())))
    )
    rest_job = make_job(rest, _without(stock, kept), kerf) if kept else job
    still = {code: [piece for piece in pieces if piece not in given.get(code, ())] for code, pieces in wanted.items()}
    found = find(rest_job) if rest_job.parts else Layout((), (), 0)
    if found is None:
        least = _least(job, kept)
        return replace(whole, sheets=tuple(kept), lower_bound=least, disagreements=disagreements, pending=True)
    first = next_number([*(one.id for one in kept), *(one.id for one in on_hand.opened)])
    new, unplaced = name_pieces(material, grain, rest_job, found, still, first, on_hand)
    laid = (*kept, *new)
    return replace(
        whole,
        sheets=laid,
        unplaced=unplaced,
        lower_bound=_least(job, laid) if kept else found.lower_bound,
        least_money=least_money(job) if kept else found.least_money,
        disagreements=disagreements,
        pending=found.searching,
    )


def _least(job: Job, sheets: Sequence[PlannedSheet]) -> int:
    """The bound of the whole job: what a begun sheet has free is not offered to the rest, so parts prove nothing.

    A begun sheet may be of a size that is sold no more, and larger; then fewer do than fresh stock needs.
    """
    return min(lower_bound(job), len(sheets)) if sheets else 0


def stored_sheets(
    layout: AcceptedLayout, grain: bool, begun: Container[str], on_hand: OnHand, job: Job
) -> list[PlannedSheet]:
    """The sheets of a stored layout, with what is known of their pieces on hand and, from `job`, of their stock.

    Raises Mistake, saying what of a sheet cannot be read.
    """
    first = {stock.name: first_cuts_of(stock, Fraction(job.unit)) for stock in job.stock}
    read = (read_accepted(layout.material, sheet, grain, sheet.id in begun) for sheet in layout.sheets)
    return [replace(on_hand.known(sheet), first_cuts=first.get(sheet.stock or sheet.id, ())) for sheet in read]


def accept(sheets: MaterialSheets, steps: str = "") -> AcceptedLayout:
    """What to store so that these sheets hold from now on, with the numbers of their steps."""
    return AcceptedLayout(
        sheets.material,
        sheets.job.fingerprint(),
        sheets.lower_bound,
        steps,
        tuple(as_accepted(sheet) for sheet in sheets.sheets),
    )


def next_number(ids: Sequence[str]) -> int:
    """The number of the next new sheet, after those of these ids: `ply-2` is number 2."""
    numbers = [id.rpartition("-")[2] for id in ids]
    return 1 + max((int(number) for number in numbers if number.isdecimal()), default=0)


def _unplaced(
    job: Job, wanted: Mapping[str, Sequence[str]], given: Mapping[str, Sequence[str]]
) -> tuple[tuple[str, str], ...]:
    """The wanted pieces that accepted sheets do not give, each with the reason."""
    placed = {piece for pieces in given.values() for piece in pieces}
    reasons = {part.code: in_the_way(part, job) or NO_PLACE for part in job.parts}
    return tuple((piece, reasons[code]) for code, pieces in wanted.items() for piece in pieces if piece not in placed)


def _without(stock: Sequence[Sheet], kept: Sequence[PlannedSheet]) -> list[Sheet]:
    """What is left of limited stock once the kept sheets are taken from it."""
    return without(stock, [sheet.stock or sheet.id for sheet in kept])


def name_pieces(
    material: str,
    grain: bool,
    job: Job,
    layout: Layout,
    still: dict[str, list[str]],
    first: int,
    on_hand: OnHand = NOTHING,
) -> tuple[list[PlannedSheet], tuple[tuple[str, str], ...]]:
    """Sheets with ids and pieces with numbers, in the order in which they lie."""
    queues = {code: iter(pieces) for code, pieces in still.items()}
    fresh, used = count(first), dict(on_hand.used)
    sheets = []
    for laid in layout.sheets:
        stock = job.stock[laid.stock]
        piece = on_hand.piece(stock.name)
        sheet = on_hand.known(
            PlannedSheet(
                id=piece.id if piece else f"{material}-{next(fresh)}",
                material=material,
                stock="" if piece else stock.name,
                length=stock.length,
                width=stock.width,
                trim=(stock.trim.left, stock.trim.right, stock.trim.bottom, stock.trim.top),
                price=stock.price if stock.price != UNPRICED else 0,
                unit=Fraction(job.unit),
                kerf=job.kerf,
                root=laid.root,
                pieces=tuple(next(queues[job.parts[node.part].code]) for node in placed_in(laid.root)),
                grain=grain,
                first_cuts=first_cuts_of(stock, Fraction(job.unit)),
            )
        )
        if piece:
            root = only_for_parts(sheet.root) if sheet.bad and not sheet.first_cuts else sheet.root
            sheet = replace(sheet, root=root, numbers=new_numbers(piece.of or piece.id, root, used))
        sheets.append(sheet)
    return sheets, tuple(_reasons(job, layout.unplaced, queues))


def _reasons(job: Job, unplaced: Sequence[Unplaced], queues: Mapping[str, Iterator[str]]) -> list[tuple[str, str]]:
    told = []
    for left_out in unplaced:
        queue = queues[job.parts[left_out.part].code]
        told += [(next(queue), left_out.reason) for _ in range(left_out.quantity)]
    return told
