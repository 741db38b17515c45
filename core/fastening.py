"""What holds a joint beside glue: the kind, its length, and how many along it.

Nothing may come through a face that is seen. Where an edge meets a face the screw goes through
the board whose face it is into the length of the other; where two faces meet it must end short
of the second. Lengths and pitches are common practice; makers' instructions stand before them.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from core.construction.part import Axis, Box, Part
from core.construction.rule_book import Rules
from core.dry_fit import Meeting, Pinned
from core.lengths import UNITS, Notation, Unit
from core.own_units import RoundSize, metric

ZERO = Fraction(0)
AXES: tuple[Axis, ...] = ("x", "y", "z")

INCH = UNITS["in"]
SHORT_OF_THE_FACE = INCH / 8
"""A point ends at least this far before the face that it could come through, mm; common practice, no source."""
INTO_THE_EDGE = 38
"""How far a screw goes into the edge of a board at most, mm; common practice, no source."""
INTO_A_THIN_EDGE = 20
"""mm into the edge of a board that a longer one would split, or where a back is all that it holds; common practice."""
THIN = 15
"""mm; the edge of a thinner board splits easily; common practice, no source."""
LEAST_HOLD = 12
"""mm of a screw in what it is driven into; common practice, no source."""
LENGTHS: Mapping[Unit, tuple[Fraction, ...]] = {
    "in": tuple(Fraction(text) * INCH for text in ("1/2", "5/8", "3/4", "1", "5/4", "3/2", "2", "5/2", "3")),
    "mm": tuple(Fraction(n) for n in (12, 16, 20, 25, 30, 35, 40, 45, 50, 60, 70)),
}
"""In which screws are sold; from memory."""
POCKET: tuple[tuple[Fraction, Mapping[Unit, Fraction]], ...] = tuple(
    (thick * INCH, {"in": inches * INCH, "mm": Fraction(millimetres)})
    for thick, inches, millimetres in (
        (Fraction(23, 16), Fraction("5/2"), 64),
        (Fraction(15, 16), Fraction("3/2"), 38),
        (Fraction(11, 16), Fraction("5/4"), 32),
        (Fraction(7, 16), Fraction("1"), 25),
    )
)
"""From which thickness of the thinner board on a pocket screw has which length: 1/2 takes 1, 3/4 takes 1 1/4, 1 takes
1 1/2, 1 1/2 takes 2 1/2 in; trade practice."""
DOWELS: Mapping[Unit, tuple[tuple[Fraction, Fraction], ...]] = {
    "in": tuple((Fraction(a) * INCH, Fraction(b) * INCH) for a, b in (("3/8", "3/2"), ("5/16", "5/4"), ("1/4", "1"))),
    "mm": ((Fraction(10), Fraction(40)), (Fraction(8), Fraction(30)), (Fraction(6), Fraction(25))),
}
"""Diameter and length; a dowel is at most half as thick as its board; common practice, no source."""
CONNECTOR = (Fraction(7), Fraction(50))
"""Diameter and length of a one-piece connector screw; from memory."""
ROOM_FOR_GLUE = Fraction(2)
"""mm at the end of a dowel; common practice, no source."""
LEAST_FOR_CONNECTOR = 15
"""mm of both boards; from memory."""
PITCH: Mapping[str, RoundSize] = {
    "screws": RoundSize(7, 175),
    "pocket screws": RoundSize(7, 175),
    "dowels": RoundSize(4, 100),
    "connector screws": RoundSize(8, 200),
}
"""At most between two of them; common practice, no source."""
NARROW = INCH * 5 / 4
"""mm; the end of a narrower rail of a face frame has room for one alone; common practice, no source."""
UNFASTENED = ("door", "false front", "drawer bottom", "loose shelf")
"""What hangs on hinges, is held from behind by blocks, lies in a groove or on pins."""
DRIVEN_THROUGH = ("screws", "dowels", "connector screws")
"""What goes through a face, or nearly, where a part may stand behind it."""
FRAME = ("stile", "frame rail")
"""What a face frame is made of."""


@dataclass(frozen=True, slots=True)
class Fastener:
    """So many of one kind in one joint; sizes in mm. `diameter` only where it is bought by that."""

    kind: str
    length: Fraction
    diameter: Fraction | None
    count: int
    into_face: Fraction | None = None
    """Of a dowel: how deep its hole is in the face; what is left of it and a little more goes into the edge."""

    @property
    def into_edge(self) -> Fraction | None:
        """Of a dowel: how deep its hole is in the edge, with room for glue."""
        return None if self.into_face is None else self.length - self.into_face + ROOM_FOR_GLUE

    def text(self, notation: Notation) -> str:
        """`screws 2 in`, `dowels 8 mm x 30 mm`."""
        sizes = [self.length] if self.diameter is None else [self.diameter, self.length]
        return f"{self.kind} {' x '.join(metric(size, notation.with_unit) for size in sizes)}"


@dataclass(frozen=True, slots=True)
class Fastened:
    """A joint with what it is fastened with; `glued` says why it has nothing but glue where more was meant."""

    meeting: Meeting
    fastener: Fastener | None
    glued: str = ""


def fastened(meetings: Iterable[Meeting], rules: Mapping[str, Rules], unit: Unit) -> tuple[Fastened, ...]:
    """Every joint. Nothing is driven through a face where a part that stands behind it is in the way."""
    found: list[Fastened] = []
    taken: list[_Contact] = []
    for meeting in meetings:
        contact, ruled = _contact(meeting), rules.get(meeting.one.carcass)
        kind = _kind(contact, ruled) if contact else "glue"
        fastener = _fastener(contact, kind, unit) if contact else None
        if contact is None or fastener is None:
            found.append(Fastened(meeting, None, f"{kind} do not fit there" if kind != "glue" else ""))
            continue
        roles = {meeting.one.role, meeting.other.role}
        # A plinth is screwed on from below, wherever there is room.
        if len(contact.faces) == 1 and kind in DRIVEN_THROUGH and not roles & {"plinth", "plinth end"}:
            if any(contact.is_mostly_behind(other) for other in taken):
                where = contact.faces[0].name.lower()
                found.append(Fastened(meeting, None, f"{kind} have no room from both faces of {where}"))
                continue
            taken.append(contact)
        found.append(Fastened(meeting, fastener))
    return tuple(found)


def fastener_of(meeting: Meeting, rules: Rules | None, unit: Unit) -> Fastener | None:
    """What the joint is fastened with; None where glue, a groove or a hinge holds it, or nothing short enough would.

    `rules` are those of the carcass that the joint belongs to; None for what lies on several.
    """
    contact = _contact(meeting)
    return _fastener(contact, _kind(contact, rules), unit) if contact else None


@dataclass(frozen=True, slots=True)
class _Contact:
    """How two parts meet: across which axis, over which extents, and which of them on a face.

    One part is met on its face where an edge stands on it, both where faces lie together.
    """

    meeting: Meeting
    axis: Axis
    extents: tuple[Fraction, Fraction, Fraction]
    faces: tuple[Part, ...]

    @property
    def box(self) -> Box:
        """Where they meet."""
        one, other = self.meeting.one.box, self.meeting.other.box
        low = [max(pair) for pair in zip(one.low, other.low, strict=True)]
        high = [min(pair) for pair in zip(one.high, other.high, strict=True)]
        return Box((low[0], low[1], low[2]), (high[0], high[1], high[2]))

    @property
    def edge(self) -> Part:
        """The part that stands on the face of the other, where there is one."""
        return self.meeting.other if self.faces[0] is self.meeting.one else self.meeting.one

    def is_mostly_behind(self, other: _Contact) -> bool:
        """Whether it lies on the other face of the same board, and mostly behind that joint."""
        face = self.faces[0]
        if face is not other.faces[0] or self._is_above == other._is_above:
            return False
        across = [i for i, axis in enumerate("xyz") if axis != self.axis]
        common, own = self.box.common(other.box), self.extents
        shared = [max(common[i], ZERO) for i in across]
        return 2 * shared[0] * shared[1] > own[across[0]] * own[across[1]]

    @property
    def _is_above(self) -> bool:
        return self.edge.box.start(self.axis) > self.faces[0].box.start(self.axis)


def _contact(meeting: Meeting) -> _Contact | None:
    """How two parts meet; None where nothing is to be driven at all: it hangs, has play, or goes into the other."""
    one, other = meeting.one, meeting.other
    if meeting.play or one.role in UNFASTENED or other.role in UNFASTENED:
        return None
    extents = one.box.common(other.box)
    least = min(extents)
    if least > 0:
        return None
    axis = AXES[extents.index(least)]
    return _Contact(meeting, axis, extents, tuple(part for part in (one, other) if part.thickness_axis == axis))


def _fastener(contact: _Contact, kind: str, unit: Unit) -> Fastener | None:
    """What of a kind fits; None where nothing does."""
    size = _size(kind, contact, unit) if kind != "glue" else None
    if size is None:
        return None
    apart = PITCH[kind].inches * INCH if unit == "in" else Fraction(PITCH[kind].millimetres)
    # From edge to edge, within a face frame, as deep into the one as into the other.
    thickness = contact.faces[0].thickness if contact.faces else size[1]
    into = _into_face(size[1], thickness, unit) if kind == "dowels" else None
    long = max(contact.extents)
    count = 1 if not contact.faces and long < NARROW else max(2, ceil(long / apart) + 1)
    return Fastener(kind, size[1], size[0], count, into)


def _into_face(length: Fraction, thickness: Fraction, unit: Unit) -> Fraction:
    """How deep a dowel goes into a face, in whole millimetres or sixteenths: two thirds of it, or half the dowel."""
    step = INCH / 16 if unit == "in" else Fraction(1)
    return min(thickness * 2 / 3, length / 2) // step * step


def _kind(contact: _Contact, rules: Rules | None) -> str:
    """What kind serves here; `glue` where it holds alone."""
    one, other, faces = contact.meeting.one, contact.meeting.other, contact.faces
    by_rule = rules.fastening if rules and one.carcass == other.carcass else "screws"
    framed = sum(part.role in FRAME for part in (one, other))
    if framed:
        # End to edge within the frame; before the box it is glued and clamped, and nothing is to be seen.
        return "glue" if framed == 1 else "dowels" if by_rule == "dowels" else "pocket screws"
    if not faces or [part.role for part in faces] == ["worktop"]:
        # Edges hold no screw, and none goes down through a top: glue blocks there, or brackets below.
        return "glue"
    if len(faces) == 2 or "back" in (one.role, other.role) or one.role.startswith("drawer"):
        # A face on a face, a thin back, a drawer.
        return "glue" if by_rule == "glue" and len(faces) < 2 else "screws"
    return by_rule


def _size(kind: str, contact: _Contact, unit: Unit) -> tuple[Fraction | None, Fraction] | None:
    """Diameter and length of what fits; None where nothing does."""
    meeting, faces = contact.meeting, contact.faces
    thinner = min(meeting.one.thickness, meeting.other.thickness)
    if kind == "pocket screws":
        return next(((None, length[unit]) for least, length in POCKET if thinner >= least), None)
    if kind == "dowels":
        return next((size for size in DOWELS[unit] if 2 * size[0] <= thinner), None)
    if kind == "connector screws":
        return CONNECTOR if thinner >= LEAST_FOR_CONNECTOR and 2 * faces[0].thickness <= CONNECTOR[1] else None
    first = faces[0].thickness
    if len(faces) == 2:
        least, most = ZERO, meeting.one.thickness + meeting.other.thickness - SHORT_OF_THE_FACE
    else:
        edge = contact.edge
        short = faces[0].role == "back" or edge.thickness < THIN
        most = first + (INTO_A_THIN_EDGE if short else INTO_THE_EDGE)
        # Nor out of the far side of a narrow strip.
        most = min(most, first + edge.box.span(contact.axis) - SHORT_OF_THE_FACE)
        least = first + LEAST_HOLD
    return next(((None, length) for length in reversed(LENGTHS[unit]) if least <= length <= most), None)


def pinned_in(meetings: Iterable[Meeting], rules: Rules | None, unit: Unit) -> list[Pinned]:
    """The joints with dowels, each with the axis along which alone it comes apart."""
    if rules is None or rules.fastening != "dowels":
        return []
    return [
        (meeting.one, meeting.other, contact.axis)
        for meeting in meetings
        if (contact := _contact(meeting))
        and (fastener := _fastener(contact, _kind(contact, rules), unit))
        and fastener.kind == "dowels"
    ]
