"""What cutting is made of: sheets to cut, steps, and the pieces that a step makes. Sizes in whole units of the job."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import count
from math import ceil
from typing import Literal, NamedTuple

from core.cuts.saws import ShopSaw
from core.layout.place import Place, common
from core.layout.tree import Direction, Node

Edge = Literal["left", "right", "bottom", "top"]
"""An edge of a piece as it lies on its sheet."""

EDGES: tuple[Edge, ...] = ("left", "right", "bottom", "top")
"""In the order in which a sheet's trim is kept."""
OPPOSITE: Mapping[Edge, Edge] = {"left": "right", "right": "left", "bottom": "top", "top": "bottom"}

Use = Literal["part", "blank", "offcut", "waste"]
"""What becomes of a piece: a part, cut again, kept, or thrown away."""


Excess = tuple[Fraction, Fraction]
"""By how much a piece comes out too long and too wide, mm."""


class AsCut(NamedTuple):
    """How a piece was cut: by which saw, from which of its edges, and what the pieces that came off were called."""

    saw: ShopSaw
    edge: Edge
    makes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SheetToCut:
    """A sheet, or a piece on hand, with its layout. `unit` is the millimetres to one unit of its tree."""

    id: str
    root: Node
    pieces: tuple[str, ...]
    """The names of the placed parts (`A/1`), in the order of the walk through the tree."""
    kerf: int
    unit: Fraction = Fraction(1)
    weight: float = 0.0
    """Of the whole sheet, kg."""
    trim: tuple[int, int, int, int] = (0, 0, 0, 0)
    """What left, right, bottom and top are to lose: that edge is a factory edge not to be trusted."""
    sawn: frozenset[Edge] = frozenset()
    """The edges that a saw has made true already."""
    delivered: bool = True
    """It is a sheet as it comes from the yard, and no piece of one."""
    numbers: Numbers | None = None
    """What its pieces are called."""
    bad: tuple[Place, ...] = ()
    """Places on it that are of no use."""
    first_cuts: int = 0
    """How many of its cuts, one within the other, are those that the person wants made before anything else."""
    over: Excess = (Fraction(0), Fraction(0))
    """By how much it is too long and too wide, mm."""
    cut: Mapping[str, AsCut] = field(default_factory=dict)
    """How the pieces were cut that are cut already, by their names; that stays."""

    @property
    def named(self) -> Numbers:
        """What its pieces are called: `ply-1.1`, `ply-1.2` and so on in the order of the walk, if nothing is told."""
        return self.numbers or Numbers(self.id)


@dataclass(frozen=True, slots=True)
class Numbers:
    """Which number each node of a tree has, in the order of the walk, and the sheet that they count on.

    A piece keeps the name that was pencilled on it, whatever becomes of the tree above it.
    """

    of: str
    """The sheet: `ply-1`, whose pieces are `ply-1.1` and so on."""
    told: tuple[int, ...] = ()
    """Of the first nodes below the root; the others count on from there."""

    def each(self) -> Iterator[int]:
        """A number for each node below the root, and on without end."""
        yield from self.told
        yield from count(max(self.told, default=0) + 1)

    def names(self) -> Iterator[str]:
        """A name for each node below the root."""
        return (f"{self.of}.{number}" for number in self.each())


@dataclass(frozen=True, slots=True)
class Keeping:
    """What makes an offcut worth keeping: its shorter and its longer side are at least this; mm, if no unit is said."""

    shorter: int
    longer: int

    def counted_in(self, unit: Fraction) -> Keeping:
        """The same for sides that are counted in whole units of so many mm."""
        return Keeping(ceil(self.shorter / unit), ceil(self.longer / unit))

    def worth_keeping(self, length: int, width: int, bad: Sequence[Place] = ()) -> bool:
        """Whether a piece of this size is kept; of one with bad places (from its own corner) what lies beside them."""
        if min(length, width) < self.shorter or max(length, width) < self.longer:
            return False
        if not bad:
            return True
        (left, bottom, long, wide), *others = bad
        right, top = left + long, bottom + wide
        beside = (
            (0, 0, left, width),
            (right, 0, length - right, width),
            (0, 0, length, bottom),
            (0, top, length, width - top),
        )
        return any(self.worth_keeping(*place[2:], common(others, *place)) for place in beside)


@dataclass(frozen=True, slots=True)
class Made:
    """A piece that a step makes, where it lay on its sheet. `part` is the code of the part that it is, if any."""

    id: str
    x: int
    y: int
    length: int
    width: int
    use: Use
    part: str | None = None


@dataclass(frozen=True, slots=True)
class Step:
    """One cut. `pieces` has the one between fence and blade first; `fence` is its size across the cut.

    `edge` is the edge of `piece` that lies against the fence, or that is measured from.
    """

    number: int
    sheet: str
    piece: str
    saw: ShopSaw
    direction: Direction
    fence: int
    edge: Edge
    kerf: int
    pieces: tuple[Made, ...]
    weight: float = 0.0
    """Of the piece that is cut, kg."""
    skims: bool = False
    """A thinner blade than the planned one has left the piece a little too large, and this takes it off."""
    factory: bool = False
    """The edge that lies against the fence, or is measured from, has not been sawn."""
    held: bool = False
    """Its parts are cut when the carcasses stand and have been measured."""
    cannot: str = ""
    """Why no saw of this shop can make the cut; empty where one can."""


@dataclass(frozen=True, slots=True)
class Offcut:
    """What no part uses of a sheet, and where it lies."""

    x: int
    y: int
    length: int
    width: int
    worth_keeping: bool
