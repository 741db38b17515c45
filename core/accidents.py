"""What can go another way than planned, each as a named function from the facts to the facts.

What is cut stays a fact: stock has been taken (`core.taking_stock`) before any of these, so that
everything in the shop is a piece with a name. None of them lays anything out (`core.amending`).
Sizes are millimetres, length along the face grain.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import chain
from math import ceil, floor

from core.cuts.steps import EDGES, Edge
from core.jobs import Blank, Rectangle, unit_for, whole_place
from core.layout.notation import write
from core.layout.place import MOST_BAD, common
from core.layout.tree import ACROSS, Cut, Direction, Node, Placed, Spare
from core.mistakes import Mistake
from core.on_hand import as_over, asked_of, bad_places, crossing, new_numbers, numbers_used
from core.planned_sheet import (
    PlannedSheet,
    as_places,
    as_ranges,
    read_kerf,
    read_over,
    read_trim,
    read_unit,
)
from core.project import AcceptedSheet, Crossed, Facts, OpenedSheet, PieceOnHand


def find_piece(facts: Facts, name: str) -> PieceOnHand:
    """The piece on hand of a name: its own, or that of the part which it is, if no other is. Raises Mistake."""
    bearers = [piece for piece in facts.pieces if name == piece.id]
    bearers = bearers or [piece for piece in facts.pieces if name == piece.part]
    if len(bearers) > 1:
        raise Mistake(f"several pieces in the shop bear {name}: say which, {' or '.join(one.id for one in bearers)}")
    if bearers:
        return bearers[0]
    raise Mistake(f"there is no piece {name!r} in the shop: what is not cut yet has no name of its own")


def spoil(facts: Facts, name: str) -> Facts:
    """A part or piece that nothing more can be made of."""
    piece = find_piece(facts, name)
    return _without(facts, piece)


def resize(facts: Facts, name: str, length: Fraction, width: Fraction, measured: bool = True) -> Facts:
    """A part, a piece or a sheet that really has another size. It is stock from now on, whatever it was cut to be.

    That way it has been measured; where its size is what was thought, it may be too large still. `measured`: not even
    that way, for it follows only from what was measured of another piece.
    """
    piece = find_piece(facts, name)
    _check_size(length, width)
    unit = read_unit(piece.unit, f"of piece {piece.id}")
    ways = zip(ACROSS, (length, width), (piece.length * unit, piece.width * unit), strict=True)
    found = replace(piece, part="", kept=False)
    for way, now, before in ways:
        found = _measured(found, way) if measured and now != before else found
    return _as_large(facts, piece, found, length, width)


def _as_large(facts: Facts, piece: PieceOnHand, found: PieceOnHand, length: Fraction, width: Fraction) -> Facts:
    """The facts with a piece as it was `found` to be, so large from its lower left corner."""
    unit = read_unit(piece.unit, f"of piece {piece.id}")
    sides = [side * unit for side in read_trim(piece.trim, f"of piece {piece.id}")]
    bad = common(bad_places(piece), Fraction(0), Fraction(0), length, width)
    return _changed(facts, piece, lambda _: _sized(found, length, width, sides, bad))


def make_again(facts: Facts, part: str) -> Facts:
    """A part that is cut, and is wanted once more all the same: what there is of it is stock."""
    piece = _find_part(facts, part)
    return _changed(facts, piece, lambda one: replace(one, part="", kept=False))


def keep(facts: Facts, part: str, asked: Blank | None) -> Facts:
    """A part that serves as it is, though the design now asks for another size; or is put aside, if for none.

    `asked`: what the design now asks of it. The decision holds as long as that is asked.
    """
    piece = _find_part(facts, part)
    return _changed(facts, piece, lambda one: replace(one, kept=True, kept_for=asked_of(asked)))


def trim(facts: Facts, part: str, length: Fraction, width: Fraction, kerf: Fraction) -> Facts:
    """A part that is too large for what the design asks now, to be cut down to that size as it lies."""
    piece = _find_part(facts, part)
    unit = read_unit(piece.unit, f"of piece {piece.id}")
    units = unit_for([piece.length * unit, piece.width * unit, length, width, kerf, unit])
    whole = [int(side * unit * units) for side in (piece.length, piece.width)]
    wanted, blade = [int(side * units) for side in (length, width)], int(kerf * units)
    if any(have < want for have, want in zip(whole, wanted, strict=True)):
        raise Mistake(f"{piece.part} is too small for that: keep it, or make it again")
    node: Node = Placed(wanted[0], wanted[1], 0, piece.turned)
    node = _cut_down(_cut_down(node, "crosscut", whole, blade), "rip", whole, blade)
    facts = make_again(facts, part)
    sheet = AcceptedSheet(
        id=piece.id,
        stock="",
        length=whole[0],
        width=whole[1],
        unit=f"1/{units}",
        kerf=blade,
        cuts=write(node, (piece.part,)),
        of=piece.of or piece.id,
        numbers=as_ranges(new_numbers(piece.of or piece.id, node, numbers_used(facts)).told),
    )
    return _with_sheets(facts, piece, lambda sheets: (sheet, *sheets))


def _cut_down(node: Node, direction: Direction, whole: list[int], kerf: int) -> Node:
    """The cut that brings a piece to the size of `node` one way, round what it leaves; none where that is its size."""
    rip = direction == "rip"
    have, want = (whole[1], node.width) if rip else (whole[0], node.length)
    if have == want:
        return node
    left = have - want - kerf
    length, width = (node.length, have) if rip else (have, node.width)
    spare = None if left <= 0 else Spare(node.length, left) if rip else Spare(left, node.width)
    return Cut(length, width, direction, node, spare)


def cut_otherwise(
    facts: Facts,
    name: str,
    direction: Direction,
    size: Fraction,
    edge: Edge,
    kerf: Fraction,
    saw: str = "",
    rough: Fraction = Fraction(0),
) -> Facts:
    """A piece that was cut where nobody had planned it: `size` from an edge of it, and what the blade left beyond.

    `rough`: what is lost again beside the cut, mm, where that saw does not leave an edge that can stay.
    """
    piece = find_piece(facts, name)
    if edge not in {"rip": ("bottom", "top"), "crosscut": ("left", "right")}[direction]:
        raise Mistake(
            f"a {direction} is measured from {'the bottom or top' if direction == 'rip' else 'left or right'}"
        )
    unit = read_unit(piece.unit, f"of piece {piece.id}")
    length, width = piece.length * unit, piece.width * unit
    whole = width if direction == "rip" else length
    if not 0 < size < whole:
        raise Mistake(f"a cut that far from an edge does not go through {name}")
    number = numbers_used(facts).get(piece.of or piece.id, 0)
    trim = [side * unit for side in read_trim(piece.trim, f"of piece {piece.id}")]
    made = []
    at_low = edge in ("bottom", "left")
    for extent, is_low in ((size, at_low), (whole - size - kerf, not at_low)):
        if extent <= 0:
            continue
        number += 1
        sides = list(trim)
        # The edge that the blade has just made is true.
        true: Edge = ("top" if is_low else "bottom") if direction == "rip" else ("right" if is_low else "left")
        sides[EDGES.index(true)] = rough
        sawn = " ".join(edge for edge in EDGES if edge == true or edge in piece.sawn.split())
        of = piece.of or piece.id
        one = replace(piece, sawn=sawn, id=f"{of}.{number}", part="", kept=False, of=of)
        if is_low == at_low:
            one = _measured(one, direction)
        elif saw:
            one = replace(one, crossed=crossing(one.crossed, saw, direction, kerf))
        sizes = (length, extent) if direction == "rip" else (extent, width)
        beyond = Fraction(0) if is_low else whole - extent
        at = (Fraction(0), beyond) if direction == "rip" else (beyond, Fraction(0))
        made.append(_sized(one, *sizes, sides, common(bad_places(piece), *at, *sizes)))
    facts = _without(facts, piece)
    return replace(facts, pieces=(*facts.pieces, *made))


def _measured(piece: PieceOnHand, way: Direction) -> PieceOnHand:
    """A piece of which the size that such a cut changes is known: it is not too large, and hangs on no blade."""
    over = list(read_over(piece.over, f"of piece {piece.id}"))
    over[way == "rip"] = Fraction(0)
    return replace(piece, over=as_over((over[0], over[1])), crossed=tuple(o for o in piece.crossed if o.way != way))


def took(facts: Facts, saw: str, kerf: Fraction, was: Fraction | None = None) -> Facts:
    """A blade that really takes another kerf: what lay beyond it, and was not measured since, has another size.

    `was`: what it was thought to take, mm; what that saw cut with another blade stays as it is. None: whatever was
    thought. A piece that is smaller than was thought is laid out anew; one that is larger waits to be skimmed, and a
    part is as large as it is.
    """

    def hangs(one: Crossed, piece: PieceOnHand) -> bool:
        return one.saw == saw and was in (None, read_kerf(one.kerf, piece.id))

    for piece in facts.pieces:
        if concerned := [one for one in piece.crossed if hangs(one, piece)]:
            facts = _took(facts, piece, concerned, kerf)
    return facts


def _took(facts: Facts, piece: PieceOnHand, concerned: Sequence[Crossed], kerf: Fraction) -> Facts:
    where = f"of piece {piece.id}"
    unit, over, crossed = read_unit(piece.unit, where), list(read_over(piece.over, where)), []
    for one in piece.crossed:
        if one in concerned:
            over[one.way == "rip"] -= (kerf - read_kerf(one.kerf, piece.id)) * one.times
            one = replace(one, kerf=str(kerf))
        crossed.append(one)
    # What is too small, or a part, is stored as large as it is.
    more = [much if much < 0 or piece.part else Fraction(0) for much in over]
    still = [much - now for much, now in zip(over, more, strict=True)]
    found = replace(piece, crossed=tuple(crossed), over=as_over((still[0], still[1])))
    if not any(more):
        return replace(facts, pieces=tuple(found if one is piece else one for one in facts.pieces))
    length, width = piece.length * unit + more[0], piece.width * unit + more[1]
    if min(length, width) <= 0:
        return _without(facts, piece)
    return _as_large(facts, piece, found, length, width)


def take_up(facts: Facts, sheet: PlannedSheet, length: Fraction, width: Fraction) -> Facts:
    """A sheet of the stock that is not begun, and is not as it should be: a piece on hand of the size that it has.

    Where that is the size that it should have, what is laid out on it stays.
    """
    _check_size(length, width)
    if any(piece.id == sheet.id for piece in facts.pieces):
        return resize(facts, sheet.id, length, width)
    sides = [sheet.mm(side) for side in sheet.trim]
    piece = _sized(PieceOnHand(sheet.id, sheet.material, 0, 0, "1", sawn=""), length, width, sides)
    opened = OpenedSheet(sheet.id, sheet.material, sheet.stock, sheet.price)
    same = (length, width) == (sheet.mm(sheet.length), sheet.mm(sheet.width))
    facts = _as_on_hand(facts, piece) if same else _not_laid_out(facts, piece)
    return replace(facts, pieces=(*facts.pieces, piece), opened=(*facts.opened, opened))


def _as_on_hand(facts: Facts, piece: PieceOnHand) -> Facts:
    """The facts with what is laid out on a sheet of the stock laid out on the piece that it has become."""

    def taken_up(sheet: AcceptedSheet) -> AcceptedSheet:
        return replace(sheet, stock="", price=0) if sheet.id == piece.id else sheet

    return _with_sheets(facts, piece, lambda sheets: tuple(map(taken_up, sheets)))


def mark_bad(facts: Facts, name: str, x: Fraction, y: Fraction, length: Fraction, width: Fraction) -> Facts:
    """A piece or sheet on hand with a place that is of no use, measured from its lower left corner.

    What is laid out on it is not changed here (`core.amending`).
    """
    piece = find_piece(facts, name)
    unit = read_unit(piece.unit, f"of piece {piece.id}")
    whole = piece.length * unit, piece.width * unit
    _check_size(length, width)
    if min(x, y) < 0 or x + length > whole[0] or y + width > whole[1]:
        raise Mistake(f"that place does not lie on {name}: x and y are from its lower left corner, x along the grain")
    trim = [side * unit for side in read_trim(piece.trim, f"of piece {piece.id}")]
    bad = _with((x, y, length, width), bad_places(piece))
    marked = _sized(replace(piece, part="", kept=False), *whole, trim, bad)
    return _replaced(facts, piece, marked)


def _with(place: Rectangle, others: Sequence[Rectangle]) -> tuple[Rectangle, ...]:
    """Bad places and one more. Two become one where that loses nothing more, or where they would be too many."""

    def lost(other: Rectangle) -> Fraction:
        return _area(_round_both(place, other)) - _area(place) - _area(other)

    nearest = min(others, key=lost, default=None)
    if nearest and (lost(nearest) <= 0 or len(others) == MOST_BAD):
        return _with(_round_both(place, nearest), [one for one in others if one is not nearest])
    return (*others, place)


def _area(place: Rectangle) -> Fraction:
    return place[2] * place[3]


def _round_both(place: Rectangle, other: Rectangle) -> Rectangle:
    """The least place that has both in it."""
    left, bottom = min(place[0], other[0]), min(place[1], other[1])
    right, top = max(place[0] + place[2], other[0] + other[2]), max(place[1] + place[3], other[1] + other[3])
    return left, bottom, right - left, top - bottom


def bring(facts: Facts, material: str, length: Fraction, width: Fraction) -> Facts:
    """A piece that nobody knew of, out of the rack: it is called rack-1, rack-2 and so on."""
    _check_size(length, width)
    number = numbers_used(facts).get("rack", 0) + 1
    piece = _sized(PieceOnHand(f"rack-{number}", material, 0, 0, "1"), length, width, [Fraction(0)] * 4)
    return replace(facts, pieces=(*facts.pieces, piece))


def _find_part(facts: Facts, part: str) -> PieceOnHand:
    piece = find_piece(facts, part)
    if not piece.part:
        raise Mistake(f"{piece.id} is no part")
    return piece


def _check_size(length: Fraction, width: Fraction) -> None:
    if length <= 0 or width <= 0:
        raise Mistake("a piece has a length and a width: spoil it if nothing is left")


def _sized(
    piece: PieceOnHand, length: Fraction, width: Fraction, trim: list[Fraction], bad: Sequence[Rectangle] = ()
) -> PieceOnHand:
    """The piece with that size in whole units: rounded down where no unit divides it, what it loses up."""
    units = unit_for([length, width, *trim, *chain.from_iterable(bad)])
    return replace(
        piece,
        length=floor(length * units),
        width=floor(width * units),
        unit=f"1/{units}",
        trim=" ".join(str(ceil(side * units)) for side in trim),
        bad=as_places(whole_place(place, units) for place in bad),
    )


def _changed(facts: Facts, piece: PieceOnHand, change: Callable[[PieceOnHand], PieceOnHand]) -> Facts:
    """The facts with one piece changed; if it was laid out, that holds no more."""
    return _replaced(_not_laid_out(facts, piece), piece, change(piece))


def _replaced(facts: Facts, piece: PieceOnHand, now: PieceOnHand) -> Facts:
    return replace(facts, pieces=tuple(now if one is piece else one for one in facts.pieces))


def _without(facts: Facts, piece: PieceOnHand) -> Facts:
    facts = _not_laid_out(facts, piece)
    return replace(facts, pieces=tuple(one for one in facts.pieces if one is not piece))


def _not_laid_out(facts: Facts, piece: PieceOnHand) -> Facts:
    return _with_sheets(facts, piece, lambda sheets: tuple(sheet for sheet in sheets if sheet.id != piece.id))


def _with_sheets(
    facts: Facts, piece: PieceOnHand, change: Callable[[tuple[AcceptedSheet, ...]], tuple[AcceptedSheet, ...]]
) -> Facts:
    """The facts with other sheets laid out of the piece's material."""
    layouts = tuple(
        replace(one, sheets=change(one.sheets)) if one.material == piece.material else one for one in facts.layouts
    )
    return replace(facts, layouts=layouts)
