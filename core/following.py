"""What is held back follows the design, on the begun sheet or the piece that it lies on.

What is laid out there keeps its layout. But parts that are held back are to follow what the
carcasses measure: where they lie in a piece that nothing else comes out of, and that is not cut
yet, that piece is laid out anew with the sizes that are wanted now. One that finds no room there
any more, or is not wanted any more, leaves no cuts behind.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Container, Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import chain

from core.grafting import grafted, in_finer_units
from core.jobs import Blank, Sheet, make_job
from core.layout.notation import placed_in
from core.layout.place import meets
from core.layout.search import first_layout
from core.layout.tree import Cut, Node, Placed, Spare, nodes_below, walk
from core.on_hand import code_of, suits
from core.planned_sheet import PlannedSheet

UNTRIMMED = (Fraction(0), Fraction(0), Fraction(0), Fraction(0))


@dataclass(frozen=True, slots=True)
class Waiting:
    """A piece of a sheet that is not cut yet, and that gives only parts that are held back.

    No piece that it comes out of is one, and all its edges are true. `place`: in the walk through the tree.
    """

    place: int
    name: str
    node: Cut
    pieces: tuple[str, ...]
    """The parts that come of it, in the order of the walk."""


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A part that is not where it waited any more, with the size that it had there, as it lay; mm."""

    piece: str
    length: Fraction
    width: Fraction
    turned: bool


@dataclass(frozen=True, slots=True)
class Followed:
    """A sheet on which what is held back is as it is wanted now."""

    sheet: PlannedSheet
    otherwise: frozenset[str] = frozenset()
    """The pieces that are cut otherwise than was planned."""
    left_out: tuple[LeftOut, ...] = ()


def waiting_on(sheet: PlannedSheet, held: Container[str], cut: Container[str] = ()) -> Iterator[Waiting]:
    """The pieces of a sheet in which parts with codes in `held` wait; `cut`: the pieces that are cut already."""
    names = chain([sheet.id], sheet.named.names())
    beyond = passed = 0
    for place, (spot, name) in enumerate(zip(walk(sheet.root), names, strict=False)):
        node, x, y = spot.node, spot.x, spot.y
        passed += isinstance(node, Placed)
        if place < beyond or not isinstance(node, Cut) or name in cut:
            continue
        if any(sheet.loses(spot)) or meets(sheet.bad, x, y, node.length, node.width):
            continue
        pieces = sheet.pieces[passed : passed + len(placed_in(node))]
        if pieces and all(code_of(piece) in held for piece in pieces):
            beyond = place + 1 + nodes_below(node)
            yield Waiting(place, name, node, pieces)


def only_waits(sheet: PlannedSheet, held: Collection[str]) -> bool:
    """Whether it is a piece on hand of which nothing is to come but parts that are held back."""
    return sheet.on_hand and bool(sheet.pieces) and all(code_of(piece) in held for piece in sheet.pieces)


def followed(
    sheet: PlannedSheet,
    blanks: Mapping[str, Blank],
    wanted: Mapping[str, Container[str]],
    held: Collection[str],
    cut: Container[str],
    used: dict[str, int],
) -> Followed:
    """The sheet with its held back parts as `blanks` wants them now, as far as their pieces allow.

    `wanted`: the pieces that are to be cut yet, by code; `held`: codes of what is held back; `cut`:
    the pieces that are cut already; `used`: the highest number that a piece of each sheet has had,
    or is to have as sheets stand; it knows of the new ones afterwards.
    """
    if not held:
        return Followed(sheet)
    otherwise: set[str] = set()
    left_out: list[LeftOut] = []
    # The last first, so that the places of the others stay.
    for piece in reversed(list(waiting_on(sheet, held, cut))):
        lying = placed_in(piece.node)
        as_they_lie = [
            LeftOut(part, sheet.mm(one.length), sheet.mm(one.width), one.turned)
            for part, one in zip(piece.pieces, lying, strict=True)
        ]
        still = [one for one in as_they_lie if one.piece in wanted.get(code_of(one.piece), ())]
        if still == as_they_lie and all(
            suits(blanks[code_of(one.piece)], one.length, one.width, sheet.unit) for one in still
        ):
            continue
        laid = _laid_anew(sheet, piece, [one.piece for one in still], blanks, used)
        if laid is not None:
            otherwise.add(piece.name)
            there = set(laid.pieces)
            left_out += [one for one in as_they_lie if one.piece not in there]
            sheet = laid
    return Followed(sheet, frozenset(otherwise), tuple(left_out))


def _laid_anew(
    sheet: PlannedSheet, waiting: Waiting, parts: list[str], blanks: Mapping[str, Blank], used: dict[str, int]
) -> PlannedSheet | None:
    """The sheet with as many of the parts as find room in the piece, as they are wanted now.

    None where no unit divides the old sizes and the new ones.
    """
    length, width = sheet.mm(waiting.node.length), sheet.mm(waiting.node.width)
    asked = [replace(blanks[code], quantity=count) for code, count in Counter(map(code_of, parts)).items()]
    job = make_job(asked, [Sheet("", length, width, UNTRIMMED, 1, 0)], sheet.mm(sheet.kerf), [sheet.unit])
    unit = Fraction(job.unit)
    if (sheet.unit / unit).denominator != 1:
        return None
    root: Node = Spare(int(length / unit), int(width / unit))
    if asked and (sheets := first_layout(job).sheets):
        root = sheets[0].root
    queues = {blank.code: iter([part for part in parts if code_of(part) == blank.code]) for blank in asked}
    in_order = [next(queues[job.parts[one.part].code]) for one in placed_in(root)]
    return grafted(in_finer_units(sheet, unit), waiting.place, root, in_order, used)
