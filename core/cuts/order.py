"""From laid out sheets to the order in which they are cut.

Sheet by sheet. Of the cuts that can be made now, one with the fence as it stands comes first;
then one in the same direction, so that all strips are ripped before they are crosscut; then
the setting that most cuts wait for. Which piece lies between fence and blade follows from
what is safe: never the waste where the other piece is kept, and never a factory edge against
the fence where a sawn one can be. Else it is the one whose size across the cut is final, for
the fence gives that size true; a blank that is cut that way again can bear what is left over.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import count

from core.cuts.steps import Edge, Keeping, Made, Offcut, SheetToCut, Step, Use
from core.layout.tree import Direction, Node, Placed, Spare, walk

ENDS: dict[Direction, tuple[Edge, Edge]] = {"rip": ("bottom", "top"), "crosscut": ("left", "right")}
"""The edges of a piece where its low and its high piece lie."""


@dataclass(frozen=True, slots=True)
class _Piece:
    """A piece of a sheet, and how it is cut next."""

    made: Made
    factory: frozenset[Edge]
    """The edges that no saw has touched."""
    direction: Direction | None
    """None where it is not cut again."""
    low: _Piece | None = None
    high: _Piece | None = None

    def against_fence(self) -> tuple[_Piece, Edge]:
        """The piece to lie between fence and blade, and the edge of this one that then lies against the fence."""
        assert self.direction is not None
        ends = ENDS[self.direction]
        either = [(piece, edge) for piece, edge in zip((self.low, self.high), ends, strict=True) if piece is not None]
        way = self.direction
        return min(
            either, key=lambda end: (end[0].made.use == "waste", end[1] in self.factory, end[0].is_divided_by_a(way))
        )

    def is_divided_by_a(self, direction: Direction) -> bool:
        """Whether it is cut that way again, now or later, so that its size across such a cut is not final."""
        return self.direction == direction or any(piece.is_divided_by_a(direction) for piece in self.makes())

    def makes(self) -> tuple[_Piece, ...]:
        """What the cut makes, low before high."""
        return tuple(piece for piece in (self.low, self.high) if piece is not None)

    def setting(self) -> tuple[Direction, int]:
        """Cuts with the same setting follow one another without a touch of the fence."""
        assert self.direction is not None
        return self.direction, self.fence()

    def fence(self) -> int:
        """The size of the piece between fence and blade, across the cut."""
        first = self.against_fence()[0].made
        return first.width if self.direction == "rip" else first.length


def order_of(sheets: Iterable[SheetToCut], kerf: int, keeping: Keeping, saw: str) -> tuple[Step, ...]:
    """The steps that take every sheet apart, numbered from 1. A sheet that is a part as it comes needs none."""
    steps: list[Step] = []
    for sheet in sheets:
        for piece in _in_order(_taken_apart(sheet, kerf, keeping)):
            assert piece.direction is not None
            first, edge = piece.against_fence()
            makes = (first, *(other for other in piece.makes() if other is not first))
            steps.append(
                Step(
                    number=len(steps) + 1,
                    sheet=sheet.id,
                    piece=piece.made.id,
                    saw=saw,
                    direction=piece.direction,
                    fence=piece.fence(),
                    edge=edge,
                    kerf=kerf,
                    pieces=tuple(made.made for made in makes),
                )
            )
    return tuple(steps)


def offcuts_of(root: Node, kerf: int, keeping: Keeping) -> tuple[Offcut, ...]:
    """What no part uses of a sheet, in the order of the walk."""
    return tuple(
        Offcut(
            spot.x,
            spot.y,
            spot.node.length,
            spot.node.width,
            keeping.worth_keeping(spot.node.length, spot.node.width),
        )
        for spot in walk(root, kerf)
        if isinstance(spot.node, Spare)
    )


def _in_order(whole: _Piece) -> Iterator[_Piece]:
    """The pieces of one sheet that are cut, in the order of work."""
    ready = [whole] if whole.direction else []
    direction: Direction | None = None
    setting: tuple[Direction, int] | None = None
    while ready:
        waiting = Counter(piece.setting() for piece in ready)
        chosen = min(
            range(len(ready)),
            key=lambda index: (
                ready[index].setting() != setting,
                ready[index].direction != direction,
                -waiting[ready[index].setting()],
                index,
            ),
        )
        piece = ready[chosen]
        yield piece
        direction, setting = piece.direction, piece.setting()
        ready[chosen : chosen + 1] = [made for made in piece.makes() if made.direction]


def _taken_apart(sheet: SheetToCut, kerf: int, keeping: Keeping) -> _Piece:
    """The sheet as pieces, numbered in the order of the walk: the same tree gives the same ids.

    A part has a name of its own and takes a number all the same, so that ids stay where a part is given up.
    """
    names = iter(sheet.pieces)
    numbers = count(1)

    def piece(node: Node, x: int, y: int, factory: frozenset[Edge], id: str | None = None) -> _Piece:
        if isinstance(node, Placed):
            name = next(names)
            if id is None:
                next(numbers)
            made = Made(id or name, x, y, node.length, node.width, "part", name.rpartition("/")[0])
            return _Piece(made, factory, None)
        id = id or f"{sheet.id}.{next(numbers)}"
        if isinstance(node, Spare):
            use: Use = "offcut" if keeping.worth_keeping(node.length, node.width) else "waste"
            return _Piece(Made(id, x, y, node.length, node.width, use), factory, None)
        low_end, high_end = ENDS[node.direction]
        low = high = None
        if node.low is not None:
            low = piece(node.low, x, y, factory - {high_end})
        if node.high is not None:
            beyond = (
                (x, y + node.width - node.high.width)
                if node.direction == "rip"
                else (
                    x + node.length - node.high.length,
                    y,
                )
            )
            high = piece(node.high, *beyond, factory - {low_end})
        return _Piece(Made(id, x, y, node.length, node.width, "blank"), factory, node.direction, low, high)

    return piece(sheet.root, 0, 0, frozenset(("left", "right", "bottom", "top")), sheet.id)
