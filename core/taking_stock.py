"""Taking stock: what was cut becomes history, and the pieces that are there become stock.

It is what every accident begins with. Of the sheets of one material that are begun, each piece
that is on hand now goes by the name that was pencilled on it. A piece that waits to be cut
keeps the cuts that were planned for it, under the same names and numbers, so that only what has
to change does.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from math import ceil
from typing import NamedTuple

from core.cuts.apart import ENDS
from core.cuts.steps import EDGES, Edge, Excess, Numbers, Place, common
from core.cutting import PlannedStep, write_steps
from core.layout.tree import ACROSS, Cut, Direction, Node, Placed, Spot, members, walk
from core.on_hand import code_of
from core.planned_sheet import PlannedSheet, as_accepted
from core.project import AcceptedSheet, Facts, OpenedSheet, PastStep, PieceOnHand
from core.sheets import MaterialSheets, accept

NO_KERFS: Mapping[str, Fraction] = {}


class _Came(NamedTuple):
    """How a piece came off, where that is not as planned."""

    over: Excess = (Fraction(0), Fraction(0))
    less: tuple[int, int] = (0, 0)
    """By how much it is shorter and narrower than planned, in units of its sheet."""
    rough: frozenset[Edge] = frozenset()
    """The edges that a saw has made which leaves them so that they cannot stay."""

    def skimmed(self, ways: Collection[Direction]) -> _Came:
        """The same once it has been taken to size these ways."""
        long, wide = (Fraction(0) if way in ways else much for way, much in zip(ACROSS, self.over, strict=True))
        short, narrow = (0 if way in ways else little for way, little in zip(ACROSS, self.less, strict=True))
        return self._replace(over=(long, wide), less=(short, narrow))


def take_stock(
    facts: Facts, sheets: MaterialSheets, steps: Sequence[PlannedStep], kerfs: Mapping[str, Fraction] = NO_KERFS
) -> Facts:
    """The facts once the begun sheets of one material are no more than pieces. `steps`: all of the project.

    `kerfs`: what the blades of some saws really took in the cuts that are made, mm. What lay beyond
    such a blade is less than planned, and what was planned on it holds no more.
    """
    of_material = {sheet.id for sheet in sheets.sheets}
    numbered = [one for one in steps if one.step.sheet in of_material]
    begun = [sheet.laid_out or sheet for sheet in sheets.sheets if sheet.begun]
    taken = [_Taken(sheet, [one for one in numbered if one.step.sheet == sheet.id], kerfs) for sheet in begun]
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
    kerfs: Mapping[str, Fraction]
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
        return list(self._skimmed(sheet.root, 0, 0, sheet.id, _Came(sheet.over)))

    def _is_done(self, piece: str) -> bool:
        return any(one.done and one.step.piece == piece for one in self.steps)

    def _walked(self, node: Node, x: int, y: int, name: str, came: _Came) -> Iterator[PieceOnHand]:
        """The pieces that have come of one that was cut free."""
        if not isinstance(node, Cut) or not self._is_done(name):
            yield from self._as_it_is(node, x, y, name, came)
            return
        step = next(one for one in self.steps if one.step.piece == name)
        first = step.step.pieces[0]
        across = 1 if step.step.direction == "rip" else 0
        for place, (member, *at) in enumerate(members(node, x, y)):
            if member is None:
                continue
            less, over = list(came.less), list(came.over)
            # The fence gives its size to what lies at it; what lies beyond the blade is what is left.
            at_fence = at == [first.x, first.y]
            less[across] = 0 if at_fence else less[across] + self._more_than_planned(step)
            over[across] = Fraction(0) if at_fence else over[across] + self._left_too_large(step)
            beside = ENDS[step.step.direction][1 - place]
            rough = came.rough - {beside} if step.step.saw.finished else came.rough | {beside}
            called = f"{self.sheet.named.of}.{next(self._numbers)}"
            off = _Came((over[0], over[1]), (less[0], less[1]), rough)
            yield from self._skimmed(member, at[0], at[1], called, off)

    def _more_than_planned(self, planned: PlannedStep) -> int:
        """What the blade took in a cut beyond the kerf that was planned; less than nothing where it is thinner."""
        saw, kerf = planned.step.saw, planned.step.kerf
        really = self.kerfs.get(saw.name)
        if really is None:
            return 0
        more = ceil(really / self.sheet.unit) - kerf
        # What lies beyond a blade that was known to be thinner is skimmed.
        return more if saw.kerf >= kerf * self.sheet.unit else max(more, 0)

    def _left_too_large(self, planned: PlannedStep) -> Fraction:
        """By how much a blade that was known to be thinner than planned leaves too large what lies beyond it, mm."""
        saw, kerf = planned.step.saw, planned.step.kerf * self.sheet.unit
        return max(kerf - self.kerfs.get(saw.name, saw.kerf), Fraction(0)) if saw.kerf < kerf else Fraction(0)

    def _skimmed(self, node: Node, x: int, y: int, name: str, came: _Came) -> Iterator[PieceOnHand]:
        """A piece that came off, as large as it is once that has been skimmed which has been."""
        called, done = name, set[Direction]()
        while skim := self._skim_of(called, done=True):
            done.add(skim.step.direction)
            called += "x"
        came = came.skimmed(done)
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
        if self.sheet.keeping.worth_keeping(node.length, node.width) and not self._bad(node, x, y):
            yield self._piece(node, x, y, name, came)

    def _piece(self, node: Node, x: int, y: int, name: str, came: _Came) -> PieceOnHand:
        sheet = self.sheet
        # A rough edge is cut off before what is laid out there.
        losses = zip(EDGES, self._trim(node, x, y), strict=True)
        trim = (max(loss, sheet.kerf) if edge in came.rough else loss for edge, loss in losses)
        return PieceOnHand(
            name,
            sheet.material,
            node.length - came.less[0],
            node.width - came.less[1],
            str(sheet.unit),
            of=self.sheet.named.of,
            trim=" ".join(map(str, trim)),
            sawn=" ".join(self._sawn(node, x, y)),
            bad=" ".join(map(str, self._bad(node, x, y))),
            over=" ".join(map(str, came.over)) if any(came.over) else "",
        )

    def _blank(self, node: Node, x: int, y: int, name: str, came: _Came) -> PieceOnHand:
        """A piece that waits to be cut, with its tree, unless it is not what that was planned for."""
        nodes = [spot.node for spot in walk(node, self.sheet.kerf)]
        parts = tuple(next(self._parts) for one in nodes if isinstance(one, Placed))
        numbers = tuple(next(self._numbers) for _ in nodes[1:])
        if parts and not any(came.less):
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

    def _bad(self, node: Node, x: int, y: int) -> tuple[int, ...]:
        """What the piece has of a bad place, from its own corner; empty where it has none."""
        return common(self.sheet.bad, x, y, node.length, node.width) or ()

    def _sawn(self, node: Node, x: int, y: int) -> tuple[Edge, ...]:
        """The edges that are true: those inside the sheet, and those of it that were."""
        outer = self._outer(node, x, y)
        return tuple(edge for edge in EDGES if edge not in outer or edge in self.sheet.sawn)

    def _outer(self, node: Node, x: int, y: int) -> set[Edge]:
        """The edges of a piece that are edges of the sheet."""
        sheet = self.sheet
        reaches = (x == 0, x + node.length == sheet.length, y == 0, y + node.width == sheet.width)
        return {edge for edge, one in zip(EDGES, reaches, strict=True) if one}
