"""A laid out sheet as the pieces that come off it, each with the saw that cuts it and the end that lies at the fence.

Which piece lies between fence and blade follows from what is safe: never the waste where the
other piece is kept, and never a factory edge against the fence where a sawn one can be. Else it
is the one whose size across the cut is final, for the fence gives that size true; a blank that
is cut that way again can bear what is left over, and an offcut better still.

All is planned with the kerf of the widest blade. Where a thinner one cuts, what lies beyond it
stays a little too large. Waste and blanks can bear that; a piece whose size is final then gets
a cut of its own, which skims it to size.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from itertools import repeat

from core.cuts.saws import ShopSaw, ToCut, trouble, why_not
from core.cuts.steps import EDGES, Edge, Excess, Keeping, Made, SheetToCut, Use
from core.layout.place import common
from core.layout.tree import ACROSS, Cut, Direction, Node, Placed, Spare, members

ENDS: dict[Direction, tuple[Edge, Edge]] = {"rip": ("bottom", "top"), "crosscut": ("left", "right")}
"""The edges of a piece where its low and its high piece lie."""
NO_SAW = "no saw here"


@dataclass(frozen=True, slots=True)
class Way:
    """How a piece is cut: by which saw, and which of the pieces that it makes lies at the fence with which edge."""

    saw: ShopSaw
    keeper: int
    """0 for the low piece, 1 for the high one."""
    edge: Edge
    setting: Fraction
    """From fence to blade, mm."""
    factory: bool = False
    cannot: str = ""


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece of a sheet, and how it is cut next. `made` is in units of its sheet."""

    sheet: SheetToCut
    made: Made
    weight: float
    direction: Direction | None = None
    """None where it is not cut again."""
    ways: tuple[Way, ...] = ()
    """Of these one is as good as the other."""
    makes: tuple[Piece | None, Piece | None] = (None, None)
    skims: bool = False

    def pieces(self) -> tuple[Piece, ...]:
        """What the cut makes, low before high."""
        return tuple(piece for piece in self.makes if piece is not None)


def taken_apart(sheet: SheetToCut, saws: Sequence[ShopSaw], keeping: Keeping) -> Piece:
    """The sheet as pieces. Names follow from the tree and `sheet.named`.

    A part has a name of its own and takes a number all the same, so that names stay where a part is given up.
    """
    return _Taker(sheet, saws, keeping.counted_in(sheet.unit)).whole()


@dataclass(slots=True)
class _Spot:
    """A node of the tree on its way to be a piece."""

    node: Node
    x: int
    y: int
    sawn: frozenset[Edge]
    """The edges that a saw has made true."""
    excess: Excess = (Fraction(0), Fraction(0))
    from_yard: bool = False
    """It is a sheet as it was delivered, or came off one at the yard."""
    first_cuts: int = 0
    """How many cuts of it are still first ones."""


@dataclass(frozen=True, slots=True)
class _Skim:
    """A cut that takes off no more than a piece is too large. `at_low`: it is measured from the lower or left edge."""

    direction: Direction
    at_low: bool
    way: Way


@dataclass(slots=True)
class _Taker:
    sheet: SheetToCut
    saws: Sequence[ShopSaw]
    keeping: Keeping
    """In units of the sheet."""
    _divided: dict[tuple[int, Direction], bool] = field(default_factory=dict)
    _numbers: Iterator[str] = field(init=False)
    _parts: Iterator[str] = field(init=False)

    def whole(self) -> Piece:
        """The root, and so everything."""
        self._numbers, self._parts = self.sheet.named.names(), iter(self.sheet.pieces)
        sheet = self.sheet
        root = _Spot(sheet.root, 0, 0, sheet.sawn, sheet.over, sheet.delivered, sheet.first_cuts)
        return self._piece(root, sheet.id)

    def _piece(self, spot: _Spot, name: str) -> Piece:
        node = spot.node
        skims, spot = self._all_skims(spot, name)
        if isinstance(node, Cut):
            return self._skimmed(self._cut(spot, node, name + "x" * len(skims)), skims, name)
        use: Use = "part" if isinstance(node, Placed) else self._worth(node, spot.x, spot.y)
        made = Made(name + "x" * len(skims), spot.x, spot.y, node.length, node.width, use)
        if isinstance(node, Placed):
            part = next(self._parts)
            # A whole sheet that is a part keeps its name where it is never cut free.
            called = name if node is self.sheet.root and not skims else part
            made = replace(made, id=called, part=part.rpartition("/")[0])
        return self._skimmed(Piece(self.sheet, made, self._weight(node)), skims, name)

    def _all_skims(self, spot: _Spot, name: str) -> tuple[list[_Skim], _Spot]:
        """The cuts that take a piece to size, in order, those that are made first; and the piece then.

        What was cut up without that is too large yet, and what is left over needs none.
        """
        made = self._skims_made(spot.node, name)
        cut_up = isinstance(spot.node, Cut) and name + "x" * len(made) in self.sheet.cut
        skims, ways = list(made), {skim.direction for skim in made}
        if not cut_up and not isinstance(spot.node, Spare):
            needed, spot = self._skims(spot)
            skims += [skim for skim in needed if skim.direction not in ways]
        ways = {skim.direction for skim in skims}
        long, wide = (Fraction(0) if way in ways else much for way, much in zip(ACROSS, spot.excess, strict=True))
        return skims, replace(spot, excess=(long, wide))

    def _skims_made(self, node: Node, name: str) -> list[_Skim]:
        """Those of a piece that are made, in order; after a cut that has cut it up there are none."""
        found: list[_Skim] = []
        while was := self.sheet.cut.get(name):
            name += "x"
            if isinstance(node, Cut) and was.makes != (name,):
                # That has cut it up.
                break
            direction: Direction = "crosscut" if was.edge in ENDS["crosscut"] else "rip"
            keeper = ENDS[direction].index(was.edge)
            size = (node.width if direction == "rip" else node.length) * self.sheet.unit
            found.append(_Skim(direction, keeper == 0, Way(was.saw, keeper, was.edge, size)))
        return found

    def _skimmed(self, piece: Piece, skims: Sequence[_Skim], name: str) -> Piece:
        """The piece with these cuts before it. What came off the saw has the name, and an x more after each of them."""
        for number, skim in reversed([*enumerate(skims)]):
            made = replace(piece.made, id=name + "x" * number, use="blank", part=None)
            makes = (piece, None) if skim.at_low else (None, piece)
            piece = Piece(piece.sheet, made, piece.weight, skim.direction, (skim.way,), makes, skims=True)
        return piece

    def _cut(self, spot: _Spot, cut: Cut, name: str) -> Piece:
        return self._cut_by(self._as_cut(spot, cut, name) or self._ways_on(spot, cut), spot, cut, name)

    def _as_cut(self, spot: _Spot, cut: Cut, name: str) -> tuple[Way, ...]:
        """How the piece was cut, if it was: what has come of that is a fact, whatever would be better now."""
        was = self.sheet.cut.get(name)
        if was is None or was.edge not in ENDS[cut.direction]:
            return ()
        keeper = ENDS[cut.direction].index(was.edge)
        node = (cut.low, cut.high)[keeper]
        if node is None:
            return ()
        to_cut = self._to_cut(spot, cut, node, was.edge)
        return (Way(was.saw, keeper, was.edge, to_cut.fence, not to_cut.true),)

    def _ways_on(self, spot: _Spot, cut: Cut) -> tuple[Way, ...]:
        """The best ways: at the yard, where what comes off could not be cut up once the piece is brought home."""
        ways = self._ways(spot, cut, self.saws)
        yards = [saw for saw in self.saws if saw.kind == "yard"]
        if not yards or not spot.from_yard or ways[0].saw.kind == "yard":
            return ways
        tried = _Taker(self.sheet, self.saws, self.keeping)
        tried._numbers = tried._parts = repeat("")
        if not _is_stuck(tried._cut_by(ways, spot, cut, "")):
            return ways
        at_yard = self._ways(spot, cut, yards)
        return ways if at_yard[0].cannot else at_yard

    def _cut_by(self, ways: tuple[Way, ...], spot: _Spot, cut: Cut, name: str) -> Piece:
        direction, way = cut.direction, ways[0]
        gain = max(self.sheet.kerf * self.sheet.unit - way.saw.kerf, Fraction(0))
        if gain or any(spot.excess):
            # Which of them is too large must be known.
            ways = (way,)
        makes: list[Piece | None] = []
        for place, (node, *at) in enumerate(members(cut, spot.x, spot.y)):
            if node is None:
                makes.append(None)
                continue
            across = 1 if direction == "rip" else 0
            excess = list(spot.excess)
            excess[across] = Fraction(0) if place == way.keeper else spot.excess[across] + gain
            beside = ENDS[direction][1 - place]
            yard = spot.from_yard and way.saw.kind == "yard"
            first = max(spot.first_cuts - 1, 0)
            child = _Spot(node, at[0], at[1], spot.sawn | {beside}, (excess[0], excess[1]), yard, first)
            makes.append(self._piece(child, next(self._numbers)))
        made = Made(name, spot.x, spot.y, cut.length, cut.width, "blank")
        return Piece(self.sheet, made, self._weight(cut), direction, ways, (makes[0], makes[1]))

    def _ways(self, spot: _Spot, cut: Cut, saws: Sequence[ShopSaw]) -> tuple[Way, ...]:
        """Every way with one of these saws that is as good as the best one."""
        ranked: list[tuple[tuple[int, ...], Way]] = []
        refused: dict[str, None] = {}
        for keeper, (node, *at) in enumerate(members(cut, spot.x, spot.y)):
            if node is None:
                continue
            edge = ENDS[cut.direction][keeper]
            to_cut = self._to_cut(spot, cut, node, edge)
            waste = isinstance(node, Spare) and self._worth(node, at[0], at[1]) == "waste"
            # What an offcut measures matters less than what a blank does, and that less than a final size.
            matters_less = 2 if isinstance(node, Spare) else self._is_divided(node, cut.direction)
            rough = not to_cut.true and not to_cut.used_as_it_is
            rank = (waste, rough, int(matters_less), not to_cut.true)
            for index, saw in enumerate(saws):
                reason = why_not(saw, to_cut)
                if not reason and self._takes_too_much(cut, keeper, saw):
                    reason = f"the blade of {saw.name} takes more than was planned with"
                if not reason and self._leaves_too_large(spot, cut, keeper, saw):
                    reason = f"{saw.name} leaves what lies beyond its blade too large, and no saw takes that to size"
                if reason:
                    refused[reason] = None
                    continue
                way = Way(saw, keeper, edge, to_cut.fence, not to_cut.true)
                ranked.append(((*rank, trouble(saw, to_cut), index), way))
            # Somebody may find a way all the same, so the cut has its place in the order.
            nobody = ShopSaw(NO_SAW, "any", self.sheet.kerf * self.sheet.unit)
            why = "; ".join(refused)
            ranked.append(((2, *rank, 0), Way(nobody, keeper, edge, to_cut.fence, not to_cut.true, why)))
        best = min(rank for rank, _ in ranked)
        if best[0] == 1 and any(rank[0] == 2 and not rank[1] for rank, _ in ranked):
            # Only with the waste between fence and blade: no way at all.
            ranked = [(rank, way) for rank, way in ranked if rank[0] == 2]
            best = min(rank for rank, _ in ranked)
            ranked = [(rank, replace(way, cannot=way.cannot or "; ".join(refused))) for rank, way in ranked]
        return tuple(way for rank, way in ranked if rank == best)

    def _takes_too_much(self, cut: Cut, keeper: int, saw: ShopSaw) -> bool:
        """Whether the blade is so wide, by now, that the piece beyond it would be too small."""
        beyond = (cut.low, cut.high)[1 - keeper]
        wide = saw.kerf > self.sheet.kerf * self.sheet.unit
        return wide and beyond is not None and not isinstance(beyond, Spare)

    def _leaves_too_large(self, spot: _Spot, cut: Cut, keeper: int, saw: ShopSaw) -> bool:
        """Whether the blade is so thin that the piece beyond it must be skimmed, and that cannot be."""
        if saw.kerf >= self.sheet.kerf * self.sheet.unit:
            return False
        node, x, y = members(cut, spot.x, spot.y)[1 - keeper]
        if node is None or isinstance(node, Spare) or self._is_divided(node, cut.direction):
            return False
        beside = ENDS[cut.direction][keeper]
        beyond = _Spot(node, x, y, spot.sawn | {beside}, from_yard=spot.from_yard and saw.kind == "yard")
        return bool(self._skim(beyond, cut.direction).way.cannot)

    def _to_cut(self, spot: _Spot, cut: Cut, keeper: Node, edge: Edge) -> ToCut:
        unit, rip = self.sheet.unit, cut.direction == "rip"
        delivered = not self.sheet.trim[EDGES.index(edge)]
        return ToCut(
            along=(cut.length if rip else cut.width) * unit,
            across=(cut.width if rip else cut.length) * unit,
            fence=(keeper.width if rip else keeper.length) * unit,
            weight=self._weight(cut),
            true=edge in spot.sawn,
            used_as_it_is=delivered,
            whole=spot.from_yard,
            stays=any(
                node is not None and _keeps_edge(node, cut.direction, low=place == 1)
                for place, node in enumerate((cut.low, cut.high))
            ),
            first=spot.first_cuts > 0,
        )

    def _skims(self, spot: _Spot) -> tuple[list[_Skim], _Spot]:
        """The cuts that take a piece to size where a thin blade left it too large, in order; and the piece then."""
        found = []
        for direction, excess in reversed([*zip(ACROSS, spot.excess, strict=True)]):
            if excess and not self._is_divided(spot.node, direction):
                skim = self._skim(spot, direction)
                found.append(skim)
                # What was brought home for it does not go to the yard again.
                spot = replace(spot, from_yard=spot.from_yard and skim.way.saw.kind == "yard")
        return found, spot

    def _skim(self, spot: _Spot, direction: Direction) -> _Skim:
        """The cut that takes a piece to size one way: the fence stands at that, against an edge that a saw has made."""
        at_low = ENDS[direction][0] in spot.sawn
        low, high = (spot.node, None) if at_low else (None, spot.node)
        way = self._ways(spot, Cut(spot.node.length, spot.node.width, direction, low, high), self.saws)[0]
        return _Skim(direction, at_low, way)

    def _is_divided(self, node: Node, direction: Direction) -> bool:
        """Whether it is cut that way again, now or later, so that its size across such a cut is not final."""
        if not isinstance(node, Cut):
            return False
        key = (id(node), direction)
        if key not in self._divided:
            self._divided[key] = node.direction == direction or any(
                self._is_divided(one, direction) for one in (node.low, node.high) if one is not None
            )
        return self._divided[key]

    def _worth(self, node: Node, x: int, y: int) -> Use:
        bad = common(self.sheet.bad, x, y, node.length, node.width)
        return "offcut" if self.keeping.worth_keeping(node.length, node.width, bad) else "waste"

    def _weight(self, node: Node) -> float:
        root = self.sheet.root
        return self.sheet.weight * (node.length * node.width) / (root.length * root.width)


def _is_stuck(piece: Piece) -> bool:
    """Whether there is a cut of it, or of what comes off it, that no saw can make."""
    return any(way.cannot for way in piece.ways) or any(map(_is_stuck, piece.pieces()))


def _keeps_edge(node: Node, direction: Direction, *, low: bool) -> bool:
    """Whether the edge that such a cut makes on a piece, at its lower or left side if `low`, stays on any part."""
    if isinstance(node, Placed):
        return True
    if isinstance(node, Spare):
        return False
    if node.direction != direction:
        return any(_keeps_edge(one, direction, low=low) for one in (node.low, node.high) if one is not None)
    beside = node.low if low else node.high
    # Where nothing lies beside it, the blade takes the edge away.
    return beside is not None and _keeps_edge(beside, direction, low=low)
