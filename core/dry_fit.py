"""The dry fit: the piece put together from its parts as a person would, and measured.

Nothing may be in another's place; every joint meets over a real area, or stands off by its play;
each carcass measures what was asked; drawers come out and doors open; and the parts can be got
to their places one after another. Exact throughout, in millimetres.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations
from typing import Literal

from core.construction.part import Axis, Box, Part
from core.solids import outside, overlap, solid

ZERO = Fraction(0)


@dataclass(frozen=True, slots=True)
class Misfit:
    """Something that does not go together: the two parts (or one and the whole), and by how much, mm."""

    one: Part
    other: Part | None
    sentence: str
    amount: Fraction


@dataclass(frozen=True, slots=True)
class Meeting:
    """Two parts that a joint says meet, `play` mm apart or touching where it is 0."""

    one: Part
    other: Part
    play: Fraction = ZERO

    @property
    def parts(self) -> tuple[Part, Part]:
        """Both."""
        return self.one, self.other


@dataclass(frozen=True, slots=True)
class Sliding:
    """A drawer's parts, and how far they come out to the front, mm."""

    parts: tuple[Part, ...]
    travel: Fraction


@dataclass(frozen=True, slots=True)
class Swinging:
    """A door; it is hinged on the side of its `hand`."""

    door: Part


@dataclass(frozen=True, slots=True)
class Asked:
    """Parts that together should measure so much along x, y and z, mm; None where nothing is asked."""

    parts: tuple[Part, ...]
    size: tuple[Fraction | None, Fraction | None, Fraction | None]


Moving = Sliding | Swinging
Solids = Mapping[int, list[Box]]
"""Of each part by its identity."""


def dry_fit(
    parts: Sequence[Part], meetings: Iterable[Meeting], moving: Iterable[Moving] = (), asked: Iterable[Asked] = ()
) -> tuple[Misfit, ...]:
    """All that does not go together. Empty: it does."""
    solids = {id(part): solid(part) for part in parts}
    found = [*_overlaps(parts, solids), *stand_apart(meetings, solids)]
    for one in moving:
        found += _slides(one, parts, solids) if isinstance(one, Sliding) else _swings(one.door, parts, solids)
    found += [misfit for one in asked for misfit in _measured(one)]
    return tuple(found)


def _overlaps(parts: Sequence[Part], solids: Solids) -> Iterable[Misfit]:
    in_order = sorted(parts, key=lambda part: part.box.low[0])
    for i, one in enumerate(in_order):
        for other in in_order[i + 1 :]:
            if other.box.low[0] >= one.box.high[0]:
                break
            if not overlap(one.box, other.box):
                continue
            depths = [min(shared) for a in solids[id(one)] for b in solids[id(other)] if min(shared := a.common(b)) > 0]
            if depths:
                yield Misfit(one, other, "are in each other's place", max(depths))


def stand_apart(meetings: Iterable[Meeting], solids: Solids | None = None) -> list[Misfit]:
    """The joints of which nothing meets, or not as they say; `solids` where those of all parts are known already."""
    found = []
    for meeting in meetings:
        known = {id(part): solid(part) for part in meeting.parts} if solids is None else solids
        if misfit := _misfit(meeting, known):
            found.append(misfit)
    return found


def _misfit(meeting: Meeting, solids: Solids) -> Misfit | None:
    """None where the two faces stand exactly the joint's play apart over a real area."""
    nearest: Fraction | None = None
    for a in solids[id(meeting.one)]:
        for b in solids[id(meeting.other)]:
            apart = sorted(a.common(b))
            if apart[1] > 0:
                gap = -apart[0]
                if gap == meeting.play:
                    return None
                nearest = gap if nearest is None else min(nearest, gap)
    if nearest is None:
        return Misfit(meeting.one, meeting.other, "do not meet at all", ZERO)
    return Misfit(meeting.one, meeting.other, "do not meet as their joint says", nearest - meeting.play)


def _slides(drawer: Sliding, parts: Sequence[Part], solids: Solids) -> Iterable[Misfit]:
    """What a drawer meets on its way out."""
    own = {id(part) for part in drawer.parts}
    for part in drawer.parts:
        way = _swept(part.box, "y", -drawer.travel)
        for other in parts:
            if id(other) in own or not overlap(way, other.box):
                continue
            depths = [
                min(shared)
                for a in solids[id(part)]
                for b in solids[id(other)]
                if min(shared := _swept(a, "y", -drawer.travel).common(b)) > 0
            ]
            if depths:
                yield Misfit(part, other, "are in each other's way when the drawer opens", max(depths))
                return


def _swings(door: Part, parts: Sequence[Part], solids: Solids) -> Iterable[Misfit]:
    """What a door meets as it opens."""
    for other in parts:
        if other is door or not _turns_into(door, other.box):
            continue
        if any(_turns_into(door, box) for box in solids[id(other)]):
            yield Misfit(door, other, "are in each other's way when the door opens", ZERO)
            return


def _turns_into(door: Part, box: Box) -> bool:
    """Whether a door meets a box as it opens by a quarter turn about the outer edge at its hinges.

    Its far inner corner goes furthest: the square of its way from the edge is width squared plus thickness squared.
    """
    (low_x, front, low_z), (high_x, rear, high_z) = door.box.low, door.box.high
    if box.low[2] >= high_z or box.high[2] <= low_z or box.low[1] >= rear:
        return False
    near, far = from_hinges(door, box)
    beside = box.low[1] >= front
    if far <= 0 or (beside and near < high_x - low_x):
        return False
    away = ZERO if beside else max(front - box.high[1], ZERO)
    return max(near, ZERO) ** 2 + away**2 < (high_x - low_x) ** 2 + (rear - front) ** 2


def from_hinges(door: Part, box: Box) -> tuple[Fraction, Fraction]:
    """From where to where a box lies along a shut door, counted from the edge at its hinges, mm."""
    if door.hand == "right":
        return door.box.high[0] - box.high[0], door.box.high[0] - box.low[0]
    return box.low[0] - door.box.low[0], box.high[0] - door.box.low[0]


def comes_into(moving: Moving, box: Box) -> bool:
    """Whether a drawer on its way out, or a door on its quarter turn, meets a box that stands in the room."""
    if isinstance(moving, Swinging):
        return _turns_into(moving.door, box)
    return any(overlap(_swept(one, "y", -moving.travel), box) for part in moving.parts for one in solid(part))


def _measured(asked: Asked) -> Iterable[Misfit]:
    box = outside(asked.parts)
    if box is None:
        return
    axes: tuple[tuple[Axis, str], ...] = (("x", "wide"), ("y", "deep"), ("z", "high"))
    for (axis, word), size in zip(axes, asked.size, strict=True):
        if size is not None and box.span(axis) != size:
            yield Misfit(asked.parts[0], None, f"is not as {word} with the others as was asked", box.span(axis) - size)


def _swept(box: Box, axis: Axis, by: Fraction) -> Box:
    """What a box passes through on its way, itself included."""
    i = "xyz".index(axis)
    low, high = list(box.low), list(box.high)
    if by < 0:
        low[i] += by
    else:
        high[i] += by
    return Box((low[0], low[1], low[2]), (high[0], high[1], high[2]))


Way = Literal["left", "right", "front", "back", "below", "above"]
WAYS: Mapping[Way, tuple[Axis, int]] = {
    "right": ("x", 1),
    "back": ("y", 1),
    "above": ("z", 1),
    "front": ("y", -1),
    "left": ("x", -1),
    "below": ("z", -1),
}
"""From where a part can come to its place; the first that is free is taken."""
Extents = Mapping[tuple[int, int], tuple[Fraction, Fraction, Fraction]]
ON_THE_FIRST = 3
"""So many faces a part may rather slide along than that the first of all leaves: on it the piece is put together."""
SLIDES_FAR = Fraction(50)
"""mm; along a housing with glue in it nobody likes to push a part further; common practice, no source."""
FAR = Fraction(100_000)
"""mm; further than any piece of furniture."""


@dataclass(frozen=True, slots=True)
class Coming:
    """A part on its way to its place; `way` is None for the first."""

    part: Part
    way: Way | None


Pinned = tuple[Part, Part, Axis]
"""Two parts that dowels hold together, and the axis along which alone they come apart."""


def order_of_assembly(
    parts: Sequence[Part], pinned: Sequence[Pinned] = ()
) -> tuple[tuple[Coming, ...], tuple[Part, ...]]:
    """An order in which each part comes straight to its place, and the parts for which there is none.

    It is found by taking the piece apart: of the parts that are free to leave the last in `parts` does so; best one
    after which the others still hang together, and that slides far along no housing and no face. To take one away
    never locks another, so what cannot be taken apart so cannot be put together so.
    """
    solids = {id(part): solid(part) for part in parts}
    extents = _extents(parts)
    touching = {
        id(part): {id(other) for other in parts if _touch(extents.get((id(part), id(other))))} for part in parts
    }
    blockers: dict[tuple[int, Way], set[int]] = {}

    def free(part: Part, way: Way, there: set[int]) -> bool:
        if (id(part), way) not in blockers:
            blockers[id(part), way] = {id(other) for other in parts if not _is_clear(part, other, way, solids)}
        return not blockers[id(part), way] & there

    left = list(parts)
    away: list[Coming] = []
    while len(left) > 1:
        best: tuple[tuple[int, int, int], Coming] | None = None
        together = _clusters(left, touching)
        for part in reversed(left):
            others = [one for one in left if one is not part]
            held, there = _axes(part, others, pinned), {id(one) for one in others}
            loose = max(0, _clusters(others, touching) - together)
            # Flat against its place before edgewise into it.
            for way in sorted(WAYS, key=lambda way: WAYS[way][0] != part.thickness_axis):
                housings, faces = _sliding(part, others, way, extents)
                # What the others are stood on goes last, unless it must not.
                rank = loose, housings, faces + (ON_THE_FIRST if part is parts[0] else 0)
                better = best is None or rank < best[0]
                if better and held <= {WAYS[way][0]} and free(part, way, there):
                    best = rank, Coming(part, way)
            if best is not None and not any(best[0]):
                break
        if best is None:
            return (), tuple(left)
        away.append(best[1])
        left = [one for one in left if one is not best[1].part]
    first = [Coming(part, None) for part in left]
    return (*first, *reversed(away)), ()


def _clusters(parts: Sequence[Part], touching: Mapping[int, set[int]]) -> int:
    """How many groups of parts there are that touch each other."""
    waiting, count = {id(part) for part in parts}, 0
    while waiting:
        count += 1
        reached = {waiting.pop()}
        while reached:
            reached = set().union(*(touching[one] & waiting for one in reached))
            waiting -= reached
    return count


def _extents(parts: Sequence[Part]) -> Extents:
    """What every two parts share along x, y and z, by their identities; only of those that are not apart."""
    found: dict[tuple[int, int], tuple[Fraction, Fraction, Fraction]] = {}
    for one, other in combinations(parts, 2):
        common = one.box.common(other.box)
        if min(common) >= 0:
            found[id(one), id(other)] = found[id(other), id(one)] = common
    return found


def _touch(common: tuple[Fraction, Fraction, Fraction] | None) -> bool:
    """Whether two parts meet over an area."""
    return common is not None and sorted(common)[1] > 0


def _sliding(part: Part, others: Sequence[Part], way: Way, extents: Extents) -> tuple[int, int]:
    """With how many others a part slides far along a housing where it leaves this way, and along how many faces."""
    axis, sign = WAYS[way]
    at, own = "xyz".index(axis), part.box
    housings = faces = 0
    for other in others:
        common = extents.get((id(part), id(other)))
        if common is None:
            continue
        if min(common) > 0:
            housings += common[at] > SLIDES_FAR
        elif common[at] > 0 and sorted(common)[1] > 0:
            far = other.box.high[at] - own.low[at] if sign > 0 else own.high[at] - other.box.low[at]
            faces += far > SLIDES_FAR
    return housings, faces


def _axes(part: Part, others: Sequence[Part], pinned: Sequence[Pinned]) -> set[Axis]:
    """The axes of the dowels between a part and those that are still there."""
    there = {id(one) for one in others}
    return {axis for a, b, axis in pinned if (a is part and id(b) in there) or (b is part and id(a) in there)}


def _is_clear(part: Part, other: Part, way: Way, solids: Solids) -> bool:
    """Whether a part that leaves that way meets nothing of another."""
    axis, sign = WAYS[way]
    if other is part or not overlap(_swept(part.box, axis, sign * FAR), other.box):
        return True
    paths = [_swept(box, axis, sign * FAR) for box in solids[id(part)]]
    return not any(overlap(path, box) for path in paths for box in solids[id(other)])
