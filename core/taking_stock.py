"""Taking stock: what was cut becomes history, and the pieces that are there become stock.

It is what every accident begins with. Of the sheets of one material that are begun, each piece
that is on hand now goes by the name that was pencilled on it. A piece that waits to be cut
keeps the cuts that were planned for it, under the same names and numbers, so that only what has
to change does.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from math import ceil
from typing import NamedTuple

from core.cuts.apart import ENDS
from core.cuts.saws import ShopSaw
from core.cuts.steps import EDGES, Edge, Excess, Numbers
from core.cutting import PlannedStep, write_steps
from core.layout.place import Place
from core.layout.tree import ACROSS, Cut, Direction, Node, Placed, Spot, members, walk
from core.on_hand import as_over, code_of, crossing
from core.planned_sheet import PlannedSheet, as_accepted, as_places
from core.project import AcceptedSheet, Crossed, Facts, OpenedSheet, PastStep, PieceOnHand, Saw
from core.sheets import MaterialSheets, accept


class _Came(NamedTuple):
    """How a piece came off, where that is not as planned."""

    over: Excess = (Fraction(0), Fraction(0))
    """By how much it may be too long and too wide, mm; less than nothing where it is too short or too narrow."""
    crossed: tuple[Crossed, ...] = ()
    """The blades on which its size hangs."""
    rough: frozenset[Edge] = frozenset()
    """The edges that a saw has made which leaves them so that they cannot stay."""

    def measured(self, *ways: Direction) -> _Came:
        """The same once it has been cut to a size these ways: the fence gave it, or a skim."""
        long, wide = (Fraction(0) if way in ways else much for way, much in zip(ACROSS, self.over, strict=True))
        return self._replace(over=(long, wide), crossed=tuple(one for one in self.crossed if one.way not in ways))

    def beyond(self, saw: ShopSaw, planned: Fraction, way: Direction) -> _Came:
        """The same of what lies beyond a blade, where a kerf of `planned` mm was planned with."""
        more = planned - saw.kerf
        long, wide = (much + more * (one == way) for one, much in zip(ACROSS, self.over, strict=True))
        return self._replace(over=(long, wide), crossed=crossing(self.crossed, saw.name, way, saw.kerf))


def take_stock(facts: Facts, sheets: MaterialSheets, steps: Sequence[PlannedStep]) -> Facts:
    """The facts once the begun sheets of one material are no more than pieces. `steps`: all of the project."""
    of_material = {sheet.id for sheet in sheets.sheets}
    numbered = [one for one in steps if one.step.sheet in of_material]
    begun = [sheet.laid_out or sheet for sheet in sheets.sheets if sheet.begun]
    taken = [_Taken(sheet, [one for one in numbered if one.step.sheet == sheet.id]) for sheet in begun]
    pieces = [piece for one in taken for piece in one.pieces()]
    gone = {sheet.id for sheet in begun}
    done = [one for one in numbered if one.done]
    # What is done is history: where its piece is cut that way once more, that is another cut.
    layout = accept(sheets, write_steps([one for one in numbered if not one.done]))
    waiting = (sheet for one in taken for sheet in one.waiting)
    layout = replace(layout, sheets=(*waiting, *(one for one in layout.sheets if one.id not in gone)))
    when = {(cut.sheet, cut.piece): cut.when for cut in facts.cuts}
    opened = (OpenedSheet(one.id, one.material, one.stock, one.price) for one in begun if not one.on_hand)
    return replace(
        facts,
        layouts=(*(one for one in facts.layouts if one.material != sheets.material), layout),
        cuts=tuple(cut for cut in facts.cuts if cut.sheet not in gone),
        pieces=(*(piece for piece in facts.pieces if piece.id not in gone), *pieces),
        opened=(*facts.opened, *opened),
        history=(*facts.history, *(_past(one, when.get(one.cut, "")) for one in done)),
    )


def saws_used(facts: Facts) -> list[str]:
    """The saws, by the names that they had then, on whose kerfs sizes hang of what is in the shop."""
    crossed = (one.saw for piece in facts.pieces for one in piece.crossed)
    return list(dict.fromkeys([*(cut.saw for cut in facts.cuts if cut.saw), *crossed]))


def with_saws_renamed(facts: Facts, before: Sequence[Saw], now: Sequence[Saw]) -> Facts:
    """The facts, in which a saw that is only called otherwise than before has its new name.

    What sizes hang on is the blade. The history stays as it was written.
    """
    if len(before) != len(now):
        return facts
    names = {
        old.name: new.name
        for old, new in zip(before, now, strict=True)
        if old.name != new.name and old == replace(new, name=old.name)
    }
    if not names or set(names.values()) & {saw.name for saw in before}:
        return facts

    def renamed(piece: PieceOnHand) -> PieceOnHand:
        crossed = (replace(one, saw=names.get(one.saw, one.saw)) for one in piece.crossed)
        return replace(piece, crossed=tuple(crossed))

    return replace(
        facts,
        cuts=tuple(replace(cut, saw=names.get(cut.saw, cut.saw)) for cut in facts.cuts),
        pieces=tuple(renamed(piece) for piece in facts.pieces),
    )


def _past(planned: PlannedStep, when: str) -> PastStep:
    step = planned.step
    made = []
    for one, name in zip(step.pieces, planned.names, strict=True):
        called, use = (name, "part") if code_of(name) else (one.id, one.use)
        made.append(f"{called} {use} {one.x} {one.y} {one.length} {one.width}")
    return PastStep(
        planned.number,
        step.sheet,
        step.piece,
        step.saw.name,
        step.direction,
        step.fence,
        step.edge,
        step.kerf,
        str(planned.sheet.unit),
        tuple(made),
        when,
    )


@dataclass(slots=True)
class _Taken:
    """One begun sheet, taken apart as far as it has been cut."""

    sheet: PlannedSheet
    steps: Sequence[PlannedStep]
    waiting: list[AcceptedSheet] = field(default_factory=list)
    """The pieces that are still to be cut, with the trees of their cuts."""
    _numbers: Iterator[int] = field(init=False)
    _parts: Iterator[str] = field(init=False)
    _pencilled: Mapping[Place, str] = field(init=False)
    """What was pencilled on each piece, by its place: a part may stand for another of its code by now."""

    def pieces(self) -> list[PieceOnHand]:
        """What is on hand. Waste is not."""
        sheet = self.sheet
        self._numbers, self._parts = sheet.named.each(), iter(sheet.pieces)
        made = (pair for one in self.steps if one.done for pair in zip(one.step.pieces, one.names, strict=True))
        self._pencilled = {(piece.x, piece.y, piece.length, piece.width): name for piece, name in made}
        return list(self._skimmed(sheet.root, 0, 0, sheet.id, _Came(sheet.over, sheet.crossed)))

    def _is_done(self, piece: str) -> bool:
        return any(one.done and one.step.piece == piece for one in self.steps)

    def _walked(self, node: Node, x: int, y: int, name: str, came: _Came) -> Iterator[PieceOnHand]:
        """The pieces that have come of one that was cut free."""
        if not isinstance(node, Cut) or not self._is_done(name):
            yield from self._as_it_is(node, x, y, name, came)
            return
        step = next(one for one in self.steps if one.step.piece == name)
        first, way, saw = step.step.pieces[0], step.step.direction, step.step.saw
        for place, (member, *at) in enumerate(members(node, x, y)):
            if member is None:
                continue
            # The fence gives its size to what lies at it; what lies beyond the blade is what is left.
            at_fence = at == [first.x, first.y]
            off = came.measured(way) if at_fence else came.beyond(saw, step.step.kerf * self.sheet.unit, way)
            beside = ENDS[way][1 - place]
            off = off._replace(rough=came.rough - {beside} if saw.finished else came.rough | {beside})
            yield from self._skimmed(member, at[0], at[1], f"{self.sheet.named.of}.{next(self._numbers)}", off)

    def _skimmed(self, node: Node, x: int, y: int, name: str, came: _Came) -> Iterator[PieceOnHand]:
        """A piece that came off, as large as it is once that has been skimmed which has been."""
        called, done = name, set[Direction]()
        while skim := self._skim_of(called, done=True):
            done.add(skim.step.direction)
            called += "x"
        came = came.measured(*done)
        if isinstance(node, Placed) and self._skim_of(called, done=False):
            # It is no part yet.
            yield self._blank(node, x, y, called, came)
            return
        # A part goes by the number that its piece came off with.
        yield from self._walked(node, x, y, name if isinstance(node, Placed) else called, came)

    def _skim_of(self, piece: str, *, done: bool) -> PlannedStep | None:
        return next(
            (one for one in self.steps if one.step.skims and one.done == done and one.step.piece == piece), None
        )

    def _as_it_is(self, node: Node, x: int, y: int, name: str, came: _Came) -> Iterator[PieceOnHand]:
        if isinstance(node, Cut):
            yield self._blank(node, x, y, name, came)
            return
        if isinstance(node, Placed):
            planned = next(self._parts)
            called = self._pencilled.get((x, y, node.length, node.width), planned)
            if code_of(called):
                yield replace(self._piece(node, x, y, name, came), part=called, turned=node.turned, over="")
                return
            # The design had moved on when it was cut: it came off as an offcut.
        if self.sheet.keeping.worth_keeping(node.length, node.width, self.sheet.bad_in(Spot(x, y, node))):
            yield self._piece(node, x, y, name, came)

    def _piece(self, node: Node, x: int, y: int, name: str, came: _Came) -> PieceOnHand:
        sheet = self.sheet
        # A rough edge is cut off before what is laid out there.
        losses = zip(EDGES, self._trim(node, x, y), strict=True)
        trim = (max(loss, sheet.kerf) if edge in came.rough else loss for edge, loss in losses)
        long, wide = came.over
        return PieceOnHand(
            name,
            sheet.material,
            node.length - ceil(max(-long, Fraction(0)) / sheet.unit),
            node.width - ceil(max(-wide, Fraction(0)) / sheet.unit),
            str(sheet.unit),
            of=self.sheet.named.of,
            trim=" ".join(map(str, trim)),
            sawn=" ".join(self._sawn(node, x, y)),
            bad=as_places(sheet.bad_in(Spot(x, y, node))),
            over=as_over((max(long, Fraction(0)), max(wide, Fraction(0)))),
            crossed=came.crossed,
        )

    def _blank(self, node: Node, x: int, y: int, name: str, came: _Came) -> PieceOnHand:
        """A piece that waits to be cut, with its tree, unless it is not what that was planned for."""
        nodes = [spot.node for spot in walk(node)]
        parts = tuple(next(self._parts) for one in nodes if isinstance(one, Placed))
        numbers = tuple(next(self._numbers) for _ in nodes[1:])
        if parts and min(came.over) >= 0:
            on_hand = replace(
                self.sheet,
                id=name,
                stock="",
                price=0,
                length=node.length,
                width=node.width,
                trim=self._trim(node, x, y),
                root=node,
                pieces=parts,
                numbers=Numbers(self.sheet.named.of, numbers),
            )
            self.waiting.append(as_accepted(on_hand))
        return self._piece(node, x, y, name, came)

    def _trim(self, node: Node, x: int, y: int) -> tuple[int, int, int, int]:
        """What the piece still loses: at the edges of the sheet that it reaches, and where a first cut made one."""
        left, right, bottom, top = (int(side / self.sheet.unit) for side in self.sheet.loses(Spot(x, y, node)))
        return left, right, bottom, top

    def _sawn(self, node: Node, x: int, y: int) -> tuple[Edge, ...]:
        """The edges that are true: those inside the sheet, and those of it that were."""
        outer = self._outer(node, x, y)
        return tuple(edge for edge in EDGES if edge not in outer or edge in self.sheet.sawn)

    def _outer(self, node: Node, x: int, y: int) -> set[Edge]:
        """The edges of a piece that are edges of the sheet."""
        sheet = self.sheet
        reaches = (x == 0, x + node.length == sheet.length, y == 0, y + node.width == sheet.width)
        return {edge for edge, one in zip(EDGES, reaches, strict=True) if one}
