"""What is in the shop of one material: parts that are cut, pieces that can be cut up, sheets that were opened."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction

from core.cuts.steps import Excess, Numbers
from core.jobs import Blank, Rectangle, Sheet, whole_place
from core.layout.place import scaled
from core.layout.tree import Direction, Node, nodes_below
from core.mistakes import Mistake
from core.planned_sheet import (
    PlannedSheet,
    fractions_in,
    read_edges,
    read_over,
    read_places,
    read_ranges,
    read_trim,
    read_unit,
)
from core.project import Crossed, Facts, OpenedSheet, PieceOnHand

MOST_FIGURES = 9
"""Of the number in a name; more is no piece."""
NOTHING_ASKED = "nothing"
"""What a part that is put aside is kept for."""


@dataclass(frozen=True, slots=True)
class Misfit:
    """A part that is cut, of which the design now asks another size, or none. Sizes as it lies, mm."""

    piece: PieceOnHand
    length: Fraction
    width: Fraction
    wanted: Blank | None

    @property
    def wanted_as_it_lies(self) -> tuple[Fraction, Fraction]:
        """What is wanted, turned as the piece is: length and width, mm. Only where something is."""
        assert self.wanted is not None
        return as_it_lies(self.wanted, self.piece.turned)


@dataclass(frozen=True, slots=True)
class OnHand:
    """Of one material."""

    pieces: tuple[PieceOnHand, ...] = ()
    opened: tuple[OpenedSheet, ...] = ()
    used: Mapping[str, int] = field(default_factory=dict)
    """The highest number that a piece of each sheet has had."""

    @staticmethod
    def of(material: str, facts: Facts) -> OnHand:
        """What the facts say of a material."""
        return OnHand(
            tuple(piece for piece in facts.pieces if piece.material == material),
            tuple(sheet for sheet in facts.opened if sheet.material == material),
            numbers_used(facts),
        )

    def stock(self, blanks: Sequence[Blank], sold: Sequence[Sheet], kerf: Fraction) -> list[Sheet]:
        """The pieces that can be cut up, as the layout sees them: those of which at least one blank could come.

        `sold`: the sizes of sheet that the material comes in; a whole sheet is first cut as its size is. `kerf`: of
        the widest blade now, mm, which an edge that is to be trimmed loses at least.
        """
        there = (self._first_cut(_trimmed(as_sheet(piece), kerf), sold) for piece in self.pieces if not piece.part)
        return [sheet for sheet in there if gives_any(sheet, blanks)]

    def _first_cut(self, sheet: Sheet, sold: Sequence[Sheet]) -> Sheet:
        """A piece with the first cuts of its size, if it is a sheet that was taken up and not cut, and they fit it."""
        name = next((one.stock for one in self.opened if one.id == sheet.name), None)
        size = next((one for one in sold if one.name == name), None)
        if size is None:
            return sheet
        if size.first_crosscut + size.crosscut_loses < sheet.length:
            sheet = replace(sheet, first_crosscut=size.first_crosscut, crosscut_loses=size.crosscut_loses)
        if size.first_rip + size.rip_loses < sheet.width:
            sheet = replace(sheet, first_rip=size.first_rip, rip_loses=size.rip_loses)
        return sheet

    def left_of(self, stock: Sequence[Sheet]) -> list[Sheet]:
        """What is left of limited stock once the opened sheets are taken from it."""
        return without(stock, [sheet.stock for sheet in self.opened])

    def parts(
        self, blanks: Mapping[str, Blank], wanted: Mapping[str, Sequence[str]]
    ) -> tuple[dict[str, PieceOnHand], tuple[Misfit, ...]]:
        """Which wanted piece each part serves that is cut, and the parts that serve none and are not put aside.

        Pieces of one code are alike: one whose number is not wanted any more serves for another.
        """
        serving: dict[str, PieceOnHand] = {}
        misfits: list[Misfit] = []

        def serves(piece: PieceOnHand, blank: Blank | None) -> bool:
            unit = read_unit(piece.unit, f"of piece {piece.id}")
            kept = _is_kept_for(piece, blank)
            return blank is not None and (kept or suits(blank, piece.length * unit, piece.width * unit, unit))

        def turn(piece: PieceOnHand) -> tuple[bool, bool]:
            code = code_of(piece.part)
            return not serves(piece, blanks.get(code)), piece.part not in wanted.get(code, ())

        # What can serve comes first, for another of its name may not; of these, what has a number that is wanted.
        for piece in sorted((piece for piece in self.pieces if piece.part), key=turn):
            code = code_of(piece.part)
            free = [number for number in wanted.get(code, ()) if number not in serving]
            number = piece.part if piece.part in free else next(iter(free), "")
            blank = blanks.get(code) if number else None
            if serves(piece, blank):
                serving[number] = piece
            elif not _is_kept_for(piece, blank):
                unit = read_unit(piece.unit, f"of piece {piece.id}")
                misfits.append(Misfit(piece, piece.length * unit, piece.width * unit, blank))
        return serving, tuple(misfits)

    def piece(self, id: str) -> PieceOnHand | None:
        """The piece of that name, where it can be cut up."""
        return next((piece for piece in self.pieces if piece.id == id and not piece.part), None)

    def known(self, sheet: PlannedSheet) -> PlannedSheet:
        """The sheet with what is known of the piece on hand that it is: true edges, bad places, what is too much."""
        piece = self.piece(sheet.id)
        if piece is None:
            return sheet
        stock = as_sheet(piece)
        bad = tuple(whole_place(place, 1 / sheet.unit) for place in stock.bad)
        where = f"of piece {piece.id}"
        sawn, over = read_edges(piece.sawn, where), read_over(piece.over, where)
        return replace(sheet, sawn=sawn, bad=bad, over=over, crossed=piece.crossed, rough=stock.trim)


NOTHING = OnHand()


def as_sheet(piece: PieceOnHand) -> Sheet:
    """A piece as stock: there is one of it, and it costs nothing more."""
    where = f"of piece {piece.id}"
    unit = read_unit(piece.unit, where)
    left, right, bottom, top = (side * unit for side in read_trim(piece.trim, where))
    trim, bad = (left, right, bottom, top), bad_places(piece)
    return Sheet(piece.id, piece.length * unit, piece.width * unit, trim, 1, 0, on_hand=True, bad=bad)


def _trimmed(sheet: Sheet, kerf: Fraction) -> Sheet:
    """A piece whose edges lose the kerf at least, where they lose anything: the blade may have been thinner then."""
    left, right, bottom, top = (max(side, kerf) if side else side for side in sheet.trim)
    return replace(sheet, trim=(left, right, bottom, top))


def as_over(over: Excess) -> str:
    """By how much a piece may be too long and too wide, mm, as it is stored."""
    return " ".join(map(str, over)) if any(over) else ""


def crossing(crossed: Sequence[Crossed], saw: str, way: Direction, kerf: Fraction) -> tuple[Crossed, ...]:
    """The blades on which a size hangs, one more among them."""
    found = Crossed(saw, way, str(kerf))
    same = [one for one in crossed if replace(one, times=1) == found]
    return (*(one for one in crossed if one not in same), replace(found, times=1 + sum(one.times for one in same)))


def bad_places(piece: PieceOnHand) -> tuple[Rectangle, ...]:
    """What of a piece is of no use: x, y, length and width, mm."""
    where = f"of piece {piece.id}"
    unit = read_unit(piece.unit, where)
    return tuple(scaled(place, unit) for place in read_places(piece.bad, where))


def as_it_lies(blank: Blank, turned: bool) -> tuple[Fraction, Fraction]:
    """The length and the width of a blank, mm, turned as a piece is where it may be."""
    return (blank.width, blank.length) if turned and blank.may_turn else (blank.length, blank.width)


def suits(blank: Blank, length: Fraction, width: Fraction, unit: Fraction) -> bool:
    """Whether a piece as it lies is the blank, to within the rounding of its unit."""

    def same(a: Fraction, b: Fraction) -> bool:
        return 0 <= a - b < unit

    straight = same(length, blank.length) and same(width, blank.width)
    return straight or (blank.may_turn and same(length, blank.width) and same(width, blank.length))


def asked_of(blank: Blank | None) -> str:
    """What a part is kept for, as it is stored."""
    return f"{blank.length} {blank.width}" if blank else NOTHING_ASKED


def _is_kept_for(piece: PieceOnHand, blank: Blank | None) -> bool:
    """Whether a part was kept where this was asked of it, or put aside where nothing was.

    Raises Mistake where what is stored of that is neither.
    """
    if not piece.kept or not piece.kept_for or piece.kept_for == NOTHING_ASKED:
        return piece.kept and (not piece.kept_for or blank is None)
    size = fractions_in(piece.kept_for)
    if len(size) != 2:
        raise Mistake(
            f"the size {piece.kept_for[:40]!r} that piece {piece.id} is kept for is not a length and a width in mm, "
            f"such as 10922/15 300, or {NOTHING_ASKED}"
        )
    return blank is not None and size in (as_it_lies(blank, False), as_it_lies(blank, True))


def without(stock: Sequence[Sheet], taken: Sequence[str]) -> list[Sheet]:
    """What is left of limited stock once sheets of these names are taken from it."""
    return [
        sheet
        if sheet.quantity is None
        else replace(sheet, quantity=max(sheet.quantity - sum(name == sheet.name for name in taken), 0))
        for sheet in stock
    ]


def numbers_used(facts: Facts) -> dict[str, int]:
    """The highest number that a piece of each sheet has had, or is to have, so that none is given twice.

    Likewise of `rack`, and of whatever else names are counted on. Raises Mistake where the names given cannot be read.
    """
    used = _read_given(facts.names_given)
    for layout in facts.layouts:
        for laid_out in layout.sheets:
            numbers = read_ranges(laid_out.numbers, f"of sheet {laid_out.id}")
            of = laid_out.of or laid_out.id
            used[of] = max([used.get(of, 0), *numbers])
    names = [piece.id for piece in facts.pieces]
    names += [word.split(" ", 1)[0] for past in facts.history for word in (past.piece, *past.makes)]
    for name in names:
        sheet, _, number = name.rstrip("x").rpartition(".")
        rack, _, piece = (sheet or name).rpartition("-")
        for of, told in ((sheet, number), (rack, piece)):
            if of and told.isdecimal():
                used[of] = max(used.get(of, 0), int(told))
    return used


def with_names_given(facts: Facts, *before: Facts) -> Facts:
    """The facts, which remember every name that was given by them and by those `before`."""
    used: dict[str, int] = {}
    for one in (facts, *before):
        for of, number in numbers_used(one).items():
            used[of] = max(used.get(of, 0), number)
    told = " ".join(f"{of}:{number}" for of, number in sorted(used.items()) if number)
    return replace(facts, names_given=told)


def _read_given(text: str) -> dict[str, int]:
    """`ply-1:32 rack:2` as numbers by what they count on."""
    given: dict[str, int] = {}
    for word in text.split():
        of, _, number = word.rpartition(":")
        if not of or not number.isdecimal() or len(number) > MOST_FIGURES:
            raise Mistake(f"the names given {word[:40]!r} are not a name and a number, such as ply-1:32")
        given[of] = int(number)
    return given


def new_numbers(sheet: str, root: Node, used: dict[str, int]) -> Numbers:
    """Numbers of a sheet that nothing has had for all that comes of a tree; `used` knows of them afterwards."""
    first = used.get(sheet, 0) + 1
    used[sheet] = first + nodes_below(root) - 1
    return Numbers(sheet, tuple(range(first, used[sheet] + 1)))


def gives_any(sheet: Sheet, blanks: Sequence[Blank]) -> bool:
    """Whether at least one of these blanks could come out of a sheet by its size."""
    return any(sheet.gives(blank.length, blank.width, blank.may_turn) for blank in blanks)


def code_of(piece: str) -> str:
    return piece.rpartition("/")[0]
