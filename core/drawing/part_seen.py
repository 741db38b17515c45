"""A panel as it lies on the bench: which face is up, and from which end and edge everything is measured.

The edge where the width begins is nearest to you. The face into which most is cut lies up; where that
turns the panel over, it is turned end over end, so that the near edge stays near and the length runs
from right to left. So a left and a right side are drawn as what they are, each other's mirror image.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from core.construction.part import Face, Holes, Machining, Part, Side

_FROM_ABOVE = ("xy", "yz", "zx")
"""Length and width of the panels that show their high face when length runs to the right and width away."""

_OTHER_END: dict[Side, Side] = {"length-": "length+", "length+": "length-", "width-": "width-", "width+": "width+"}


@dataclass(frozen=True, slots=True)
class Seen:
    """A panel with one face up."""

    part: Part
    """With its places counted as seen: along the length from the left, across from the near edge."""
    face: Face
    turned: bool
    """End over end: its length begins at the right."""

    @property
    def end(self) -> Side:
        """The end, as seen, from which every place along the length is measured.

        Where the length begins, unless the blank is larger at that end alone: it is no finished edge yet.
        """
        return self._finished("length+", "length-") if self.turned else self._finished("length-", "length+")

    def _finished(self, side: Side, other: Side) -> Side:
        larger = [at for at, _ in self.part.allowances]
        return other if side in larger and other not in larger else side

    @property
    def edge(self) -> Side:
        """The edge from which every place across is measured.

        The near one, unless all that runs along the panel lies nearer to the far one: so it is with the cups of
        a door, and with a groove in a bottom for a back. A side has its front edge, whatever is cut into it: a left
        and a right are measured alike. As of the ends, none at which the blank is larger.
        """
        part = self.part
        if part.role == "side":
            return "width-"
        middles = [2 * holes.y for holes in part.holes if holes.along == "length"]
        middles += [2 * cut.y + cut.width for cut in part.machining if cut.kind == "groove"]
        if middles and all(middle > part.width for middle in middles):
            return self._finished("width+", "width-")
        return self._finished("width-", "width+")

    def edge_name(self, side: Side) -> str:
        """The edge as installed of a side as seen."""
        return self.part.edge_name(_OTHER_END[side] if self.turned else side)

    def from_end(self, x: Fraction, length: Fraction = Fraction(0)) -> Fraction:
        """How far from the reference end the stretch that is seen from `x` on begins, mm."""
        return self.part.length - x - length if self.end == "length+" else x

    def from_edge(self, y: Fraction, width: Fraction = Fraction(0)) -> Fraction:
        """How far from the reference edge the stretch that is seen from `y` on begins, mm."""
        return self.part.width - y - width if self.edge == "width+" else y

    def as_seen(self, one: Machining | Holes) -> Machining | Holes:
        """A cut or a row of holes of the panel as it was made, with its place counted as seen."""
        if not self.turned:
            return one
        whole = self.part.length
        return _turned_cut(one, whole) if isinstance(one, Machining) else _turned_row(one, whole)

    @property
    def face_in_words(self) -> str:
        """Which face lies up; nothing where it makes no difference."""
        part = self.part
        one_sided = part.holes or any(cut.depth is not None for cut in part.machining)
        return f"{part.face_name(self.face)} face up" if one_sided or part.hand else ""


def ends_of(holes: Holes) -> tuple[tuple[Fraction, Fraction], tuple[Fraction, Fraction]]:
    """The middles of the first and the last hole of a row, along length and width, mm."""
    reach = (holes.count - 1) * holes.pitch
    last = (holes.x + reach, holes.y) if holes.along == "length" else (holes.x, holes.y + reach)
    return (holes.x, holes.y), last


def hand_in_words(part: Part) -> str:
    """`left hand`; of a door the side on which it is hinged."""
    if part.hand is None:
        return ""
    return f"hinged {part.hand}" if part.role == "door" else f"{part.hand} hand"


def seen(part: Part) -> Seen:
    """The panel with the face up into which most is cut and bored; where that is even, a side's outer face."""
    plain: Face = "high" if part.length_axis + part.width_axis in _FROM_ABOVE else "low"
    other: Face = "low" if plain == "high" else "high"
    faces = [cut.face for cut in part.machining if cut.depth is not None] + [holes.face for holes in part.holes]
    more = faces.count(other) - faces.count(plain)
    if more > 0 or (more == 0 and part.face_name(other) == part.hand):
        return Seen(_end_over_end(part), other, True)
    return Seen(part, plain, False)


def _end_over_end(part: Part) -> Part:
    """The same panel with every place counted from its other end."""
    return replace(
        part,
        edges=tuple(replace(edge, side=_OTHER_END[edge.side]) for edge in part.edges),
        allowances=tuple((_OTHER_END[side], more) for side, more in part.allowances),
        machining=tuple(_turned_cut(cut, part.length) for cut in part.machining),
        holes=tuple(_turned_row(holes, part.length) for holes in part.holes),
    )


def _turned_cut(cut: Machining, whole: Fraction) -> Machining:
    return replace(cut, x=whole - cut.x - cut.length)


def _turned_row(holes: Holes, whole: Fraction) -> Holes:
    return replace(holes, x=whole - max(x for x, _ in ends_of(holes)))
