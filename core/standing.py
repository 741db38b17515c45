"""What lies on begun sheets when the design has moved on: what of it is still wanted, and what no longer suits.

Pieces of one code are alike, so what is made serves first, whatever its number was. What no longer suits stays on its
sheet as it was laid out, is named, and is not cut free any more.
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import chain

from core.grafting import without_idle_cuts
from core.jobs import Blank
from core.layout.notation import placed_in
from core.layout.tree import Cut, Node, Placed, Spare, members, walk
from core.on_hand import as_it_lies, code_of, suits
from core.planned_sheet import PlannedSheet


@dataclass(frozen=True, slots=True)
class Disagreement:
    """A piece on a begun sheet that the design no longer asks for as it lies there; sizes as they lie, mm."""

    piece: str
    sheet: str
    length: Fraction
    width: Fraction
    wanted: Blank | None
    """What its code stands for now; None where no more like it are wanted."""
    turned: bool = False
    """The part's own length lies along the width."""
    is_cut: bool = False
    """It is off its sheet."""

    @property
    def wanted_as_it_lies(self) -> tuple[Fraction, Fraction] | None:
        """What is wanted, turned as the piece is where it may be: length and width, mm."""
        return as_it_lies(self.wanted, self.turned) if self.wanted else None


def renamed(
    sheets: Sequence[PlannedSheet],
    blanks: Mapping[str, Blank],
    wanted: Mapping[str, Sequence[str]],
    cut: Container[str],
) -> list[PlannedSheet]:
    """The sheets, with a piece whose number is not wanted any more standing for an equal one that is.

    Pieces of one code are alike: when the second of three goes, what was laid out as number 2
    serves as number 3. What is free already serves before what would have to be cut: when two of
    four go, the two that are made stay, whatever their numbers. `cut`: the pieces that are cut.
    """
    names = [list(sheet.pieces) for sheet in sheets]
    lying = {piece for pieces in names for piece in pieces}
    missing = {code: [piece for piece in pieces if piece not in lying] for code, pieces in wanted.items()}
    idle: list[tuple[bool, list[str], int]] = []
    waiting: dict[str, list[tuple[list[str], int]]] = {}
    for sheet, pieces in zip(sheets, names, strict=True):
        spots = sheet.placed()
        for place, (spot, is_free) in enumerate(zip(spots, _free(sheet, cut), strict=True)):
            code = code_of(spot.piece)
            blank = blanks.get(code)
            if blank is None or not suits(blank, sheet.mm(spot.length), sheet.mm(spot.width), sheet.unit):
                continue
            if spot.piece not in wanted.get(code, ()):
                idle.append((not is_free, pieces, place))
            elif not is_free:
                waiting.setdefault(code, []).append((pieces, place))
    # Those that are made come first.
    for is_waiting, pieces, place in sorted(idle, key=lambda one: one[0]):
        piece = pieces[place]
        code = code_of(piece)
        if missing.get(code):
            pieces[place] = missing[code].pop(0)
        elif not is_waiting and waiting.get(code):
            others, other = waiting[code].pop()
            pieces[place], others[other] = others[other], piece
    return [replace(sheet, pieces=tuple(pieces)) for sheet, pieces in zip(sheets, names, strict=True)]


def compare(
    kept: Sequence[PlannedSheet],
    blanks: Mapping[str, Blank],
    wanted: Mapping[str, Sequence[str]],
    cut: Container[str] = (),
) -> tuple[dict[str, list[str]], list[Disagreement]]:
    """Which wanted pieces the kept sheets give, by code, and which of their pieces no longer suit.

    `cut`: the pieces that are cut.
    """
    given: dict[str, list[str]] = {}
    disagreements = []
    for sheet in kept:
        nodes = placed_in(sheet.root)
        for piece, node, is_cut in zip(sheet.pieces, nodes, _free(sheet, cut), strict=True):
            code = code_of(piece)
            length, width = sheet.mm(node.length), sheet.mm(node.width)
            blank = blanks.get(code)
            is_right = blank is not None and suits(blank, length, width, sheet.unit)
            if is_right and piece in wanted[code] and piece not in given.get(code, ()):
                given.setdefault(code, []).append(piece)
            else:
                now = None if is_right else blank
                disagreements.append(Disagreement(piece, sheet.id, length, width, now, node.turned, is_cut))
    return given, disagreements


def to_decide_on(told: Iterable[Disagreement], pencilled: Container[tuple[str, str]]) -> tuple[Disagreement, ...]:
    """Without those that are not cut, and bear a number that is pencilled on one that serves in their place."""
    return tuple(one for one in told if one.is_cut or (one.sheet, one.piece) not in pencilled)


def spared(sheet: PlannedSheet, told: Iterable[Disagreement], cut: Iterable[str]) -> PlannedSheet:
    """The same, which remembers how it was laid out: what is cut of that stays to be decided on."""
    left = without_unsuited(sheet, told, cut)
    return sheet if left is sheet else replace(left, laid_out=sheet)


def without_unsuited(sheet: PlannedSheet, told: Iterable[Disagreement], cut: Iterable[str] = ()) -> PlannedSheet:
    """The sheet with its pieces that are told of as spare, and without the cuts that freed only these.

    `cut`: the pieces that are cut already.
    """
    names = {one.piece for one in told if one.sheet == sheet.id}
    return without_idle_cuts(without_pieces(sheet, names), cut) if names else sheet


def without_pieces(sheet: PlannedSheet, names: Container[str]) -> PlannedSheet:
    """The sheet with these pieces as spare, and with all its cuts."""
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


def _free(sheet: PlannedSheet, cut: Container[str]) -> list[bool]:
    """Whether each placed part is off its sheet, in the order of the walk; `cut`: the pieces that are cut."""
    free: set[tuple[int, int]] = set()
    found = []
    for spot, name in zip(walk(sheet.root), chain([sheet.id], sheet.named.names()), strict=False):
        if isinstance(spot.node, Placed):
            found.append((spot.x, spot.y) in free)
        elif isinstance(spot.node, Cut) and name in cut:
            free |= {(x, y) for node, x, y in members(spot.node, spot.x, spot.y) if isinstance(node, Placed)}
    return found
