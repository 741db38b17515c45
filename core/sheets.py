"""The sheets of a project: for each material the layout that holds, settled or searched for.

An accepted layout holds while its job is the one that the design asks. When the design has
moved on, sheets that are begun (a cut on them is ticked) keep their layout as facts: what they
give is taken off what is wanted, and only the rest is laid out anew. Their pieces that no
longer suit the design are named.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from core.construction.part import Kind
from core.cuts.order import offcuts_of
from core.cuts.steps import Keeping, Offcut
from core.jobs import Blank, Sheet, blank_of, make_job
from core.layout.bounds import lower_bound
from core.layout.finish import obstacle
from core.layout.job import Job
from core.layout.notation import placed_in, read, write
from core.layout.tree import Cut, Layout, Node, Placed, Spare, Unplaced, walk
from core.mistakes import Mistake
from core.project import AcceptedLayout, AcceptedSheet, CutMade

Find = Callable[[Job], Layout | None]
"""Answers a job, or None where the answer is still being searched for."""


KEEP_SHORTER, KEEP_LONGER = 100, 300
"""An offcut of at least this, mm, is worth its place on the rack; common practice, no source."""


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

    def placed(self) -> list[Lying]:
        """Each part's piece where it lies, in the order of the tree's walk."""
        names = iter(self.pieces)
        return [
            Lying(next(names), spot.x, spot.y, spot.node.length, spot.node.width, spot.node.turned)
            for spot in walk(self.root, self.kerf)
            if isinstance(spot.node, Placed)
        ]

    def offcuts(self) -> tuple[Offcut, ...]:
        """What no part uses, and whether it is worth its place on the rack."""
        return offcuts_of(self.root, self.kerf, self.keeping)

    @property
    def keeping(self) -> Keeping:
        """What is worth keeping, in this sheet's units."""
        return Keeping(int(KEEP_SHORTER / self.unit), int(KEEP_LONGER / self.unit))

    def mm(self, units: int) -> Fraction:
        """Whole units as millimetres."""
        return units * self.unit


@dataclass(frozen=True, slots=True)
class Disagreement:
    """A piece on a begun sheet that the design no longer asks for as it lies there; sizes as they lie, mm."""

    piece: str
    sheet: str
    length: Fraction
    width: Fraction
    wanted: Blank | None
    """What its code stands for now; None where no more like it are wanted."""


@dataclass(frozen=True, slots=True)
class MaterialSheets:
    """The layout of one material. `pending`: some of it is still being searched for, or for something better."""

    material: str
    job: Job
    blanks: tuple[Blank, ...]
    sheets: tuple[PlannedSheet, ...]
    unplaced: tuple[tuple[str, str], ...]
    """Piece and reason."""
    lower_bound: int
    """On fresh stock no layout of all that is wanted does with fewer sheets; never above the number of `sheets`."""
    disagreements: tuple[Disagreement, ...] = ()
    pending: bool = False
    accepted: bool = False
    """All of it is stored as accepted."""

    @property
    def proved_minimum(self) -> bool:
        """No layout can do with fewer sheets, and nothing is left out."""
        return not self.unplaced and not self.pending and len(self.sheets) == self.lower_bound

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
) -> MaterialSheets:
    """The sheets for `kinds`, all of one material. `find` is asked only for what no accepted sheet gives."""
    wanted = {kind.code: kind.piece_ids() for kind in kinds}
    blanks = tuple(blank_of(kind, kind.quantity) for kind in kinds)
    by_code = {blank.code: blank for blank in blanks}
    job = make_job(blanks, stock, kerf)
    begun = {cut.sheet for cut in cuts}
    kept: list[PlannedSheet] = []
    if accepted:
        sheets = [_accepted_sheet(material, sheet, grain, sheet.id in begun) for sheet in accepted.sheets]
        if accepted.job == job.fingerprint():
            sheets = _renamed(sheets, by_code, wanted)
            if not _compare(sheets, by_code, wanted)[1]:
                unplaced = _unplaced(job, wanted, sheets)
                least = max(_least(job, sheets), min(accepted.least, len(sheets)))
                return MaterialSheets(material, job, blanks, tuple(sheets), unplaced, least, accepted=True)
        kept = _renamed([sheet for sheet in sheets if sheet.begun], by_code, wanted)
    given, disagreements = _compare(kept, by_code, wanted)
    unsuited = {(told.sheet, told.piece) for told in disagreements}
    kept = [_without_pieces(sheet, {piece for on, piece in unsuited if on == sheet.id}) for sheet in kept]
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
        return MaterialSheets(material, job, blanks, tuple(kept), (), least, tuple(disagreements), pending=True)
    first = 1 + max((_number_of(sheet) for sheet in kept), default=0)
    new, unplaced = name_pieces(material, grain, rest_job, found, still, first)
    least = _least(job, (*kept, *new)) if kept else found.lower_bound
    laid = (*kept, *new)
    return MaterialSheets(material, job, blanks, laid, unplaced, least, tuple(disagreements), pending=found.searching)


def _least(job: Job, sheets: Sequence[PlannedSheet]) -> int:
    """The bound of the whole job: what a begun sheet has free is not offered to the rest, so parts prove nothing.

    A begun sheet may be of a size that is sold no more, and larger; then fewer do than fresh stock needs.
    """
    return min(lower_bound(job), len(sheets)) if sheets else 0


def accept(sheets: MaterialSheets) -> AcceptedLayout:
    """What to store so that these sheets hold from now on."""
    return AcceptedLayout(
        sheets.material,
        sheets.job.fingerprint(),
        sheets.lower_bound,
        tuple(
            AcceptedSheet(
                id=sheet.id,
                stock=sheet.stock,
                length=sheet.length,
                width=sheet.width,
                unit=str(sheet.unit),
                kerf=sheet.kerf,
                cuts=write(sheet.root, sheet.pieces, sheet.kerf),
                trim=" ".join(map(str, sheet.trim)),
                price=sheet.price,
            )
            for sheet in sheets.sheets
        ),
    )


def _accepted_sheet(material: str, sheet: AcceptedSheet, grain: bool, begun: bool) -> PlannedSheet:
    named = read(sheet.cuts, sheet.length, sheet.width, sheet.kerf)
    sides = [int(word) if word.isdecimal() else -1 for word in sheet.trim.split()]
    if len(sides) != 4 or min(sides) < 0:
        raise Mistake(f"the trim {sheet.trim!r} of sheet {sheet.id} is not four whole numbers")
    try:
        unit = Fraction(sheet.unit)
    except (ValueError, ZeroDivisionError):
        unit = Fraction(0)
    if unit <= 0:
        raise Mistake(f"the unit {sheet.unit!r} of sheet {sheet.id} is no part of a millimetre, such as 1/1600")
    return PlannedSheet(
        id=sheet.id,
        material=material,
        stock=sheet.stock,
        length=sheet.length,
        width=sheet.width,
        trim=(sides[0], sides[1], sides[2], sides[3]),
        price=sheet.price,
        unit=unit,
        kerf=sheet.kerf,
        root=named.root,
        pieces=named.pieces,
        grain=grain,
        begun=begun,
    )


def _number_of(sheet: PlannedSheet) -> int:
    """What its id ends in: `ply-2` is 2."""
    number = sheet.id.rpartition("-")[2]
    return int(number) if number.isdecimal() else 0


def _renamed(
    sheets: Sequence[PlannedSheet], blanks: Mapping[str, Blank], wanted: Mapping[str, Sequence[str]]
) -> list[PlannedSheet]:
    """The sheets, with a piece whose number is not wanted any more standing for an equal one that is.

    Pieces of one code are alike: when the second of three goes, what was laid out as number 2
    serves as number 3.
    """
    lying = {piece for sheet in sheets for piece in sheet.pieces}
    missing = {code: [piece for piece in pieces if piece not in lying] for code, pieces in wanted.items()}

    def name(sheet: PlannedSheet, piece: str, node: Placed) -> str:
        code = _code_of(piece)
        length, width = sheet.mm(node.length), sheet.mm(node.width)
        if piece in wanted.get(code, ()) or not missing.get(code):
            return piece
        return missing[code].pop(0) if _suits(blanks[code], length, width, sheet.unit) else piece

    return [
        replace(
            sheet,
            pieces=tuple(
                name(sheet, piece, node)
                for piece, node in zip(sheet.pieces, placed_in(sheet.root, sheet.kerf), strict=True)
            ),
        )
        for sheet in sheets
    ]


def _code_of(piece: str) -> str:
    return piece.rpartition("/")[0]


def _unplaced(
    job: Job, wanted: Mapping[str, Sequence[str]], sheets: Sequence[PlannedSheet]
) -> tuple[tuple[str, str], ...]:
    """The pieces that have no place on accepted sheets, each with the reason."""
    placed = {piece for sheet in sheets for piece in sheet.pieces}
    reasons = {part.code: obstacle(part, job) or "no stock that it fits is left for it" for part in job.parts}
    return tuple((piece, reasons[code]) for code, pieces in wanted.items() for piece in pieces if piece not in placed)


def _compare(
    kept: Sequence[PlannedSheet], blanks: Mapping[str, Blank], wanted: Mapping[str, Sequence[str]]
) -> tuple[dict[str, list[str]], list[Disagreement]]:
    """Which wanted pieces the kept sheets give, by code, and which of their pieces no longer suit."""
    given: dict[str, list[str]] = {}
    disagreements = []
    for sheet in kept:
        for piece, node in zip(sheet.pieces, placed_in(sheet.root, sheet.kerf), strict=True):
            code = _code_of(piece)
            length, width = sheet.mm(node.length), sheet.mm(node.width)
            blank = blanks.get(code)
            suits = blank is not None and _suits(blank, length, width, sheet.unit)
            if suits and piece in wanted[code] and piece not in given.get(code, ()):
                given.setdefault(code, []).append(piece)
            else:
                disagreements.append(Disagreement(piece, sheet.id, length, width, None if suits else blank))
    return given, disagreements


def _without_pieces(sheet: PlannedSheet, names: set[str]) -> PlannedSheet:
    """The sheet with those pieces as spare: cut or not, nobody asks for them any more."""
    if not names:
        return sheet
    queue = iter(sheet.pieces)

    def spared(node: Node | None) -> Node | None:
        if isinstance(node, Placed):
            return Spare(node.length, node.width) if next(queue) in names else node
        if isinstance(node, Cut):
            return replace(node, low=spared(node.low), high=spared(node.high))
        return node

    root = spared(sheet.root)
    assert root is not None
    return replace(sheet, root=root, pieces=tuple(piece for piece in sheet.pieces if piece not in names))


def _suits(blank: Blank, length: Fraction, width: Fraction, unit: Fraction) -> bool:
    """Whether a piece as it lies is the blank, to within the rounding of the layout's unit."""

    def same(a: Fraction, b: Fraction) -> bool:
        return 0 <= a - b < unit

    straight = same(length, blank.length) and same(width, blank.width)
    return straight or (blank.may_turn and same(length, blank.width) and same(width, blank.length))


def _without(stock: Sequence[Sheet], kept: Sequence[PlannedSheet]) -> list[Sheet]:
    """What is left of limited stock once the kept sheets are taken from it."""
    left = []
    for sheet in stock:
        taken = sum(1 for one in kept if one.stock == sheet.name)
        quantity = None if sheet.quantity is None else max(sheet.quantity - taken, 0)
        left.append(replace(sheet, quantity=quantity))
    return left


def name_pieces(
    material: str, grain: bool, job: Job, layout: Layout, still: dict[str, list[str]], first: int
) -> tuple[list[PlannedSheet], tuple[tuple[str, str], ...]]:
    """Sheets with ids and pieces with numbers, in the order in which they lie."""
    queues = {code: iter(pieces) for code, pieces in still.items()}
    sheets = []
    for number, laid in enumerate(layout.sheets, start=first):
        stock = job.stock[laid.stock]
        pieces = tuple(next(queues[job.parts[node.part].code]) for node in placed_in(laid.root, job.kerf))
        sheets.append(
            PlannedSheet(
                f"{material}-{number}",
                material,
                stock.name,
                stock.length,
                stock.width,
                (stock.trim.left, stock.trim.right, stock.trim.bottom, stock.trim.top),
                stock.price,
                Fraction(job.unit),
                job.kerf,
                laid.root,
                pieces,
                grain,
            )
        )
    return sheets, tuple(_reasons(job, layout.unplaced, queues))


def _reasons(job: Job, unplaced: Sequence[Unplaced], queues: Mapping[str, Iterator[str]]) -> list[tuple[str, str]]:
    told = []
    for left_out in unplaced:
        queue = queues[job.parts[left_out.part].code]
        told += [(next(queue), left_out.reason) for _ in range(left_out.quantity)]
    return told
