"""A part: a rectangular panel in its place in the room, its banded edges, its machining and its holes.

Lengths are exact fractions of a millimetre. In the room x runs to the right, y from the front
back to the wall, z up from the floor. On the part itself `length` and `width` are two sides of
the panel; its own origin is its corner with the least room coordinates.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal

Axis = Literal["x", "y", "z"]
Side = Literal["length-", "length+", "width-", "width+"]
"""One edge of a panel: `width-` is the long edge where width begins, `length+` the end where length ends."""
Hand = Literal["left", "right"]

ENDS_OF: dict[Axis, tuple[str, str]] = {"x": ("left", "right"), "y": ("front", "back"), "z": ("bottom", "top")}


BETWEEN = (
    "bottom", "top", "rail", "nailer", "kick", "shelf", "loose shelf", "divider", "plinth end", "drawer end",
    "frame rail", "drawer bottom",
)  # fmt: skip
"""Roles of what stands between two others."""


@dataclass(frozen=True, slots=True)
class Box:
    """An axis-aligned box in the room, least and greatest corner."""

    low: tuple[Fraction, Fraction, Fraction]
    high: tuple[Fraction, Fraction, Fraction]

    def span(self, axis: Axis) -> Fraction:
        """Extent along an axis, mm."""
        i = "xyz".index(axis)
        return self.high[i] - self.low[i]

    def start(self, axis: Axis) -> Fraction:
        """Least coordinate on an axis, mm."""
        return self.low["xyz".index(axis)]

    def common(self, other: Box) -> tuple[Fraction, Fraction, Fraction]:
        """Extent that two boxes share along x, y, z; negative where they stand apart, mm."""
        x, y, z = (min(self.high[i], other.high[i]) - max(self.low[i], other.low[i]) for i in range(3))
        return x, y, z

    def moved(self, x: Fraction, y: Fraction, z: Fraction) -> Box:
        """The same box carried by (x, y, z)."""
        by = (x, y, z)
        return Box(
            (self.low[0] + by[0], self.low[1] + by[1], self.low[2] + by[2]),
            (self.high[0] + by[0], self.high[1] + by[1], self.high[2] + by[2]),
        )


@dataclass(frozen=True, slots=True)
class BandedEdge:
    """An edge that bears banding. `side` is the edge on the panel; its name as installed follows from the part."""

    side: Side
    banding: str
    thickness: Fraction


Face = Literal["low", "high"]
"""The face of a panel at the low or at the high end of its thickness."""


@dataclass(frozen=True, slots=True)
class Machining:
    """A rectangle taken out of the finished panel, placed from its own origin.

    `x` and `length` run along the part's length, `y` and `width` along its width.
    `depth` None goes right through: a notch at an edge, a cutout within. Otherwise it is cut that deep
    into `face`: a rabbet along an edge, a dado across the length, a groove along it.
    """

    kind: Literal["notch", "cutout", "rabbet", "dado", "groove"]
    place: str
    """Where it is in shop words: `lower front corner`, `back edge`; what it houses: `for the bottom`."""
    x: Fraction
    y: Fraction
    length: Fraction
    width: Fraction
    depth: Fraction | None = None
    face: Face | None = None


@dataclass(frozen=True, slots=True)
class Holes:
    """A row of equal holes bored into one face, placed from the panel's own origin, mm.

    `x` and `y` are the centre of the first along length and width; the others follow at `pitch`, `along` the
    length or the width. `depth` None goes right through.
    """

    place: str
    """What they are for, and which row: `shelf pins, front row`, `hinge cups`."""
    x: Fraction
    y: Fraction
    count: int
    pitch: Fraction
    along: Literal["length", "width"]
    diameter: Fraction
    depth: Fraction | None
    face: Face

    def centres(self) -> list[tuple[Fraction, Fraction]]:
        """Along length and width, of each."""
        by = (self.pitch, Fraction(0)) if self.along == "length" else (Fraction(0), self.pitch)
        return [(self.x + n * by[0], self.y + n * by[1]) for n in range(self.count)]


@dataclass(frozen=True, slots=True)
class Part:
    """One panel, finished, in its place. `carcass`, `role` and `place` together name it for good."""

    carcass: str
    """Id of the carcass or top that it belongs to; empty for a loose part."""
    role: str
    place: str
    name: str
    material: str
    box: Box
    """Finished outside size in the room, banding included, before machining."""
    length_axis: Axis
    width_axis: Axis
    grain: Literal["length", "width", "none"]
    edges: tuple[BandedEdge, ...] = ()
    machining: tuple[Machining, ...] = ()
    holes: tuple[Holes, ...] = ()
    hand: Hand | None = None
    allowances: tuple[tuple[Side, Fraction], ...] = ()
    """At which edges its blank is larger, and by how much, mm: to be trimmed flush, or scribed to wall or floor."""
    blank: tuple[Fraction, Fraction] | None = None
    """Length and width that the saw delivers, where one is cut as another that is nearly the same (`core.evening`)."""

    @property
    def thickness_axis(self) -> Axis:
        """The axis that is neither length nor width."""
        (axis,) = {"x", "y", "z"} - {self.length_axis, self.width_axis}
        return axis  # type: ignore[return-value]

    @property
    def length(self) -> Fraction:
        """Finished length, mm."""
        return self.box.span(self.length_axis)

    @property
    def width(self) -> Fraction:
        """Finished width, mm."""
        return self.box.span(self.width_axis)

    @property
    def thickness(self) -> Fraction:
        """Thickness, mm."""
        return self.box.span(self.thickness_axis)

    @property
    def allowance(self) -> tuple[Fraction, Fraction]:
        """What its blank is larger by along length and width, mm."""
        along, across = (
            sum((more for side, more in self.allowances if side.startswith(way)), Fraction(0))
            for way in ("length", "width")
        )
        return along, across

    @property
    def blank_length(self) -> Fraction:
        """What the saw must deliver along the length: banding on the ends taken off, an allowance added, mm."""
        if self.blank is not None:
            return self.blank[0]
        bands = sum((e.thickness for e in self.edges if e.side in ("length-", "length+")), Fraction(0))
        return self.length - bands + self.allowance[0]

    @property
    def blank_width(self) -> Fraction:
        """What the saw must deliver across: banding on the long edges taken off, an allowance added, mm."""
        if self.blank is not None:
            return self.blank[1]
        bands = sum((e.thickness for e in self.edges if e.side in ("width-", "width+")), Fraction(0))
        return self.width - bands + self.allowance[1]

    @property
    def is_cut_otherwise(self) -> bool:
        """Its blank is of another size than the finished part."""
        return (self.blank_length, self.blank_width) != (self.length, self.width)

    @property
    def goes_between(self) -> bool:
        """Its length lies between two others: where the tape has no mark for it, the mark below is shown."""
        return self.role in BETWEEN

    def edge_name(self, side: Side) -> str:
        """The edge as installed: `front`, `left end`, `top end`."""
        along, sign = side[:-1], side[-1]
        axis = self.length_axis if along == "length" else self.width_axis
        word = ENDS_OF[axis][sign == "+"]
        return f"{word} end" if along == "length" else word

    def side_at(self, axis: Axis, at_high: bool) -> Side:
        """The edge at the low or the high end of an axis that is not its thickness."""
        low: Side = "length-" if axis == self.length_axis else "width-"
        high: Side = "length+" if axis == self.length_axis else "width+"
        return high if at_high else low

    def face_name(self, face: Face) -> str:
        """A face as installed: `left`, `front`, `bottom`."""
        return ENDS_OF[self.thickness_axis][face == "high"]

    def moved(self, x: Fraction, y: Fraction, z: Fraction) -> Part:
        """The same part carried by (x, y, z) mm."""
        return replace(self, box=self.box.moved(x, y, z))


@dataclass(frozen=True, slots=True)
class Kind:
    """Parts with one blank, one machining and one hand: a line of the parts list."""

    code: str
    part: Part
    """One of them, standing for all."""
    pieces: tuple[tuple[int, Part], ...]
    """Each piece with its lasting number, in order of number."""

    @property
    def quantity(self) -> int:
        """How many pieces are wanted."""
        return len(self.pieces)

    @property
    def name(self) -> str:
        """What the pieces are called; where they differ in place alone, without it (`Side`, not `Side, left`)."""
        names = list(dict.fromkeys(part.name for _, part in self.pieces))
        if len(names) == 1:
            return names[0]
        return " / ".join(dict.fromkeys(name.partition(",")[0].rstrip("0123456789 ") for name in names))

    def piece_ids(self) -> list[str]:
        """`S1/1`, `S1/2`, …"""
        return [f"{self.code}/{number}" for number, _ in self.pieces]
