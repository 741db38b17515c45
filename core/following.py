"""What is held back follows the design, on the begun sheet that it lies on.

A begun sheet keeps its layout. But parts that are held back are to follow what the carcasses
measure: where they lie in a piece that nothing else comes out of, and that is not cut yet, that
piece is laid out anew with the sizes that are wanted now.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Container, Iterator, Mapping
from dataclasses import replace
from fractions import Fraction
from itertools import chain, islice

from core.cuts.steps import meets
from core.grafting import grafted, in_finer_units
from core.jobs import Blank, Sheet, make_job
from core.layout.notation import placed_in
from core.layout.search import first_layout
from core.layout.tree import Cut, Placed, nodes_below, walk
from core.on_hand import code_of, suits
from core.planned_sheet import PlannedSheet

UNTRIMMED = (Fraction(0), Fraction(0), Fraction(0), Fraction(0))


def followed(
    sheet: PlannedSheet, blanks: Mapping[str, Blank], cut: Container[str], used: dict[str, int]
) -> tuple[PlannedSheet, frozenset[str]]:
    """The sheet with its held back parts as `blanks` wants them now, where their pieces allow.

    With it, the pieces that are cut otherwise than was planned. `cut`: the pieces that are cut
    already; `used`: the highest number that a piece of each sheet has had, or is to have as sheets
    stand; it knows of the new ones afterwards.
    """
    if not any(blank.held for blank in blanks.values()):
        return sheet, frozenset()
    otherwise = set()
    # The last first, so that the places of the others stay.
    for place in reversed(list(_unsuited(sheet, blanks, cut))):
        laid = _laid_anew(sheet, place, blanks, used)
        if laid is not None:
            otherwise.add(_name(sheet, place))
            sheet = laid
    return sheet, frozenset(otherwise)


def _unsuited(sheet: PlannedSheet, blanks: Mapping[str, Blank], cut: Container[str]) -> Iterator[int]:
    """The places of the largest uncut pieces that give only held back parts, one of them of a size not wanted now."""
    left, right, bottom, top = sheet.trim
    names = chain([sheet.id], sheet.named.names())
    beyond = passed = 0
    for place, (spot, name) in enumerate(zip(walk(sheet.root, sheet.kerf), names, strict=False)):
        node, x, y = spot.node, spot.x, spot.y
        passed += isinstance(node, Placed)
        if place < beyond or not isinstance(node, Cut) or name in cut:
            continue
        trimmed = x >= left and x + node.length <= sheet.length - right
        trimmed &= y >= bottom and y + node.width <= sheet.width - top
        if not trimmed or meets(sheet.bad, x, y, node.length, node.width):
            continue
        lying = placed_in(node, sheet.kerf)
        wanted = [blanks.get(code_of(piece)) for piece in sheet.pieces[passed : passed + len(lying)]]
        held = [blank for blank in wanted if blank is not None and blank.held]
        if lying and len(held) == len(lying):
            beyond = place + 1 + nodes_below(node)
            sizes = [(sheet.mm(one.length), sheet.mm(one.width)) for one in lying]
            if not all(suits(blank, *size, sheet.unit) for blank, size in zip(held, sizes, strict=True)):
                yield place


def _laid_anew(
    sheet: PlannedSheet, place: int, blanks: Mapping[str, Blank], used: dict[str, int]
) -> PlannedSheet | None:
    """The sheet with the parts of a piece in it as they are wanted now; None where they find no place there."""
    piece = list(walk(sheet.root, sheet.kerf))[place].node
    names = _pieces(sheet, place)
    wanted = [replace(blanks[code], quantity=count) for code, count in Counter(map(code_of, names)).items()]
    stock = Sheet("", sheet.mm(piece.length), sheet.mm(piece.width), UNTRIMMED, 1, 0)
    job = make_job(wanted, [stock], sheet.mm(sheet.kerf), [sheet.unit])
    unit = Fraction(job.unit)
    layout = first_layout(job)
    if layout.unplaced or (sheet.unit / unit).denominator != 1:
        return None
    root = layout.sheets[0].root
    queues = {blank.code: iter([name for name in names if code_of(name) == blank.code]) for blank in wanted}
    in_order = [next(queues[job.parts[one.part].code]) for one in placed_in(root, job.kerf)]
    return grafted(in_finer_units(sheet, unit), place, root, in_order, used)


def _pieces(sheet: PlannedSheet, place: int) -> tuple[str, ...]:
    """The parts that come of a piece, by its place in the walk."""
    spots = list(walk(sheet.root, sheet.kerf))
    first = sum(isinstance(spot.node, Placed) for spot in spots[:place])
    return sheet.pieces[first : first + len(placed_in(spots[place].node, sheet.kerf))]


def _name(sheet: PlannedSheet, place: int) -> str:
    """What a piece is called, by its place in the walk."""
    return next(islice(sheet.named.names(), place - 1, None)) if place else sheet.id
