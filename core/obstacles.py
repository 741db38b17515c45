"""What is on the walls: where it lies in the room, and the holes and notches that parts get for it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import groupby

from core.construction.bench import FOR, Built, place_of, take_out
from core.construction.codes import place_key
from core.construction.goods import ZERO, Goods
from core.construction.part import Axis, Box, Holes, Part
from core.construction.plates import WOOD
from core.construction.row import Standing, depth_of
from core.construction.rule_book import Rules
from core.construction.shelves import PINS
from core.dry_fit import Meeting, stand_apart
from core.envelope import Envelope
from core.mistakes import Mistake
from core.space import Obstacle, Wall

NOTCHED = (
    *("back", "bottom", "top", "shelf", "loose shelf", "rail", "nailer", "side", "divider"),
    *("plinth", "plinth end", "end panel", "worktop"),
)
"""Roles of what is notched for a pipe that runs through where it is."""
REACHED = ("outlet", "switch", "vent")
"""Kinds of what is of no use where a side or an end panel covers it: that is cut out, as a back is."""
NEAR = Fraction(50)
"""A back, a side or an end panel that stands so far before an obstacle, mm, covers it: nobody reaches behind it."""


@dataclass(frozen=True, slots=True)
class Extent:
    """Where an obstacle lies on its wall and how large it is, mm; the words of `core.space.Obstacle`."""

    along: Fraction
    up: Fraction
    width: Fraction
    height: Fraction
    sticks_out: Fraction


def place_obstacles(
    obstacles: Sequence[tuple[Obstacle, Extent]],
    envelope: Envelope,
    off: Mapping[str, Fraction],
    standing: tuple[Standing, ...],
) -> tuple[tuple[Obstacle, Box], ...]:
    """Each obstacle as a block in the room's frame: as deep as it sticks out, and at least up to the piece.

    `along` counts from the wall's left end as one faces it: for the left wall that is its front
    end, for the right wall the corner at the back. A side wall's front end is known only where a
    depth was read; without one its obstacles are left out. `off`: clearance at the left, the right and the back, mm.
    """
    width = envelope.width
    if width is None:
        width = max((place.right for place in standing), default=Fraction(0))
    row_depth = depth_of(standing)
    wall = row_depth + off["back"]
    placed = []
    for obstacle, size in obstacles:
        along, up, wide, high, out = size.along, size.up, size.width, size.height, size.sticks_out
        if obstacle.wall == "back":
            x = along + (envelope.out_of_square or 0) - envelope.left
            low, high_corner = (x, min(wall - out, row_depth), up), (x + wide, wall, up + high)
        elif envelope.depth is None:
            continue
        else:
            if obstacle.wall == "left":
                front = wall - envelope.depth - off["back"] + along
                x_low, x_high = -off["left"], max(out - off["left"], Fraction(0))
            else:
                front = wall - along - wide
                x_low, x_high = min(width + off["right"] - out, width), width + off["right"]
            low, high_corner = (x_low, front, up), (x_high, front + wide, up + high)
        placed.append((obstacle, Box(low, high_corner)))
    return tuple(placed)


def cut_for_obstacles(
    built: Built,
    placed: Sequence[tuple[Obstacle, Box]],
    rules: Mapping[str, Rules],
    goods: Goods,
    row: Sequence[Part],
) -> Built:
    """A carcass whose back is cut out where something on the back wall lies behind it, with air round it.

    So is a side for what must be reached on a side wall, and an end panel with the side behind it, both or neither:
    `row` is all that stands in the room, as it is before that. What stands in the way of something that sticks out, a
    pipe through a bottom, is notched from its side at the wall. Raises Mistake where that leaves two parts nothing of
    their joint.
    """
    told = rules.get(built.parts[0].carcass) if built.parts else None
    if told is None or told.cutouts == "no":
        return built
    parts = list(built.parts)
    for obstacle, block in placed:
        hiding = hiding_parts(row, block, obstacle)
        hidden_by = {place_key(part) for part in hiding}
        under = closed_below(row, block, obstacle)
        reaches_in = not under and all(_can_be_cut(part, block, obstacle, rules) for part in hiding)
        for n, part in enumerate(parts):
            hole = hole_for(part, block, obstacle, told.cutout_margin)
            in_it = part.role in NOTCHED and min(part.box.common(block)) > 0
            if part.role == "back" and obstacle.wall == "back":
                met = covers(part.box, block, "y", NEAR) and (in_it or not under)
            elif place_key(part) in hidden_by:
                # A hole that led onto a board, or into the space under a box, would be of no use.
                met = reaches_in
            else:
                met = in_it
            if met and _can_be_cut(part, block, obstacle, rules):
                parts[n] = _without_holes_in(take_out(part, hole, f"{FOR}{obstacle.title}"), hole)
    cut = replace(built, parts=tuple(parts))
    _check_joints(built, cut, told, goods)
    return cut


def _check_joints(before: Built, after: Built, rules: Rules, goods: Goods) -> None:
    """Raises Mistake where what is cut out has taken away all that two parts met on."""
    pairs = zip(before.parts, after.parts, strict=True)
    # Where a notch was already what is cut out within it takes nothing away.
    changed = {place_of(now): now for was, now in pairs if set(now.machining) - set(was.machining)}
    by_place = {place_of(part): part for part in after.parts}
    touched = (joint for joint in after.joints if joint.one in changed or joint.other in changed)
    meetings = (Meeting(by_place[one.one], by_place[one.other], one.play) for one in touched if one.other in by_place)
    for misfit in stand_apart(meetings):
        one, other = misfit.one, misfit.other
        assert other is not None
        cuts = [cut.place for part in (one, other) if place_of(part) in changed for cut in part.machining]
        title = next(place for place in reversed(cuts) if place.startswith(FOR))
        mend = "take other nailers, " if one.role == "nailer" else ""
        if rules.cutout_margin > goods.usual_size("cutout margin"):
            mend = f"make cutout margin less, {goods.usual('cutout margin')} is usual, "
        raise Mistake(
            f"what is cut out {title} leaves {one.name.lower()} nothing to meet {other.name.lower()} on; {mend}"
            "leave an open bay there, or take cutouts no"
        )


def spots_before(row: Sequence[Part], block: Box, obstacle: Obstacle) -> list[tuple[Box, Fraction]]:
    """What a part covers that covers an obstacle, and from how far before it, mm: its block; beside it, end panels.

    For a side behind an end panel covers what the panel does, when that is to be reached on a side wall.
    """
    spots = [(block, NEAR)]
    if obstacle.wall != "back" and obstacle.kind in REACHED:
        spots += [
            (Box((panel.box.low[0], *block.low[1:]), (panel.box.high[0], *block.high[1:])), ZERO)
            for panel in row
            if panel.role == "end panel" and covers(panel.box, block, "x", NEAR)
        ]
    return spots


def hiding_parts(row: Sequence[Part], block: Box, obstacle: Obstacle) -> list[Part]:
    """The sides and end panels that stand before what must be reached on a side wall."""
    if obstacle.wall == "back" or obstacle.kind not in REACHED:
        return []
    spots = spots_before(row, block, obstacle)
    upright = (part for part in row if part.role in ("side", "end panel"))
    return [part for part in upright if any(covers(part.box, spot, "x", near) for spot, near in spots)]


def closed_below(row: Sequence[Part], block: Box, obstacle: Obstacle) -> list[Part]:
    """The kick panels and plinths that close the space under a box where what must be reached is.

    None of it is over the bottom. `row` is all that stands in the room. What is before the kick panel, on a side wall,
    is not in that space.
    """
    if obstacle.kind not in REACHED:
        return []
    closing: list[Part] = []
    spots = spots_before(row, block, obstacle)
    for bottom in (part for part in row if part.role == "bottom" and part.box.high[2] >= block.high[2]):
        own = [part for part in row if part.carcass == bottom.carcass]
        before = [
            part
            for part in own
            if part.role in ("kick", "plinth")
            and part.box.high[1] < block.high[1]
            and part.box.low[2] < block.high[2]
            and block.low[2] < part.box.high[2]
        ]
        if obstacle.wall == "back":
            closing += [part for part in before if part.box.common(block)[0] > 0]
        elif any(_is_at(part.box, spot, "x", near) for spot, near in spots for part in own):
            closing += before
    return closing


def hole_for(part: Part, block: Box, obstacle: Obstacle, air: Fraction) -> Box:
    """What would be cut out of a part for an obstacle with so much air round it, mm, as a box in the room."""
    if part.role == "back" and obstacle.wall == "back":
        return _hole(part, block, air)
    return _notch(part, block, obstacle.wall, air)


def needed_in(part: Part, hole: Box) -> list[Holes]:
    """The holes that are needed where they are, for a hinge, and would be cut away."""
    needed = (row for row in part.holes if not row.place.startswith(PINS))
    return [row for row in needed if any(_is_in(part, at, hole, row.diameter / 2) for at in places(part, row))]


def _can_be_cut(part: Part, block: Box, obstacle: Obstacle, rules: Mapping[str, Rules]) -> bool:
    """Whether a part may be cut out for an obstacle, is not divided by that, and keeps the holes that it needs."""
    told = rules.get(part.carcass)
    if told is None or told.cutouts == "no":
        return False
    hole = hole_for(part, block, obstacle, told.cutout_margin)
    return not _divides(part, hole) and not needed_in(part, hole)


def _hole(part: Part, block: Box, air: Fraction) -> Box:
    low, high = block.low, block.high
    return Box((low[0] - air, part.box.low[1], low[2] - air), (high[0] + air, part.box.high[1], high[2] + air))


def _notch(part: Part, block: Box, wall: Wall, air: Fraction) -> Box:
    """Right through, from the side of a part at the wall to beyond what sticks out into it."""
    low, high = [one - air for one in block.low], [one + air for one in block.high]
    if wall == "back":
        high[1] = part.box.high[1]
    elif wall == "left":
        low[0] = part.box.low[0]
    else:
        high[0] = part.box.high[0]
    across = "xyz".index(part.thickness_axis)
    low[across], high[across] = part.box.low[across], part.box.high[across]
    return Box((low[0], low[1], low[2]), (high[0], high[1], high[2]))


def places(part: Part, row: Holes) -> Iterator[tuple[Fraction, Fraction, Fraction]]:
    """Where the holes of a row are in the room, on the low face of their panel."""
    for x, y in row.centres():
        at = dict(zip("xyz", part.box.low, strict=True))
        at[part.length_axis] += x
        at[part.width_axis] += y
        yield at["x"], at["y"], at["z"]


def _is_in(part: Part, at: tuple[Fraction, Fraction, Fraction], hole: Box, radius: Fraction) -> bool:
    """Whether a bored hole meets what is cut right through, or has too little wood between them."""
    plane, reach = ["xyz".index(axis) for axis in (part.length_axis, part.width_axis)], radius + WOOD
    return all(hole.low[i] - reach < at[i] < hole.high[i] + reach for i in plane)


def _without_holes_in(part: Part, hole: Box) -> Part:
    """The part without the holes for pins that would be bored in air."""
    rows: list[Holes] = []
    for row in part.holes:
        along = row.along == "length"
        kept = [not _is_in(part, at, hole, row.diameter / 2) for at in places(part, row)]
        for stays, run in groupby(enumerate(kept), key=lambda one: one[1]):
            numbers = [number for number, _ in run]
            if stays:
                by = numbers[0] * row.pitch
                x, y = (row.x + by, row.y) if along else (row.x, row.y + by)
                rows.append(replace(row, x=x, y=y, count=len(numbers)))
    return replace(part, holes=tuple(rows))


def _divides(part: Part, hole: Box) -> bool:
    """Whether nothing would be left on both sides of a hole: a check says then what covers the obstacle."""
    common = dict(zip("xyz", part.box.common(hole), strict=True))
    return any(common[axis] >= part.box.span(axis) for axis in (part.length_axis, part.width_axis))


def covers(box: Box, block: Box, flat: Axis, near: Fraction = ZERO) -> bool:
    """Whether a box stands against an obstacle on a wall across the axis `flat`, over the same rectangle.

    Or no more than `near` mm before it.
    """
    common = dict(zip("xyz", box.common(block), strict=True))
    return _is_at(box, block, flat, near) and all(common[axis] > 0 for axis in common if axis != flat)


def _is_at(box: Box, block: Box, axis: Axis, near: Fraction) -> bool:
    """Whether two boxes have something in common along an axis, or are no more than `near` mm apart."""
    return box.common(block)["xyz".index(axis)] >= -near
