"""What is on the walls: where it lies in the room, and the holes that backs get for it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from core.construction.bench import ZERO, Built, Goods, take_out
from core.construction.part import Box, Part
from core.construction.row import Standing, depth_of
from core.construction.rule_book import Rules
from core.envelope import Envelope
from core.space import Obstacle

NEAR = Fraction(50)
"""A back that stands so far before an obstacle, mm, covers it all the same: nobody reaches behind it."""


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
    built: Built, placed: Sequence[tuple[Obstacle, Box]], rules: Mapping[str, Rules], goods: Goods
) -> Built:
    """A carcass whose back is cut out where something on the back wall lies behind it, with air round it."""
    told = rules.get(built.parts[0].carcass) if built.parts else None
    if told is None or told.cutouts == "no":
        return built
    parts = []
    for part in built.parts:
        if part.role == "back":
            for obstacle, block in placed:
                hole = _hole(part, block, told.cutout_margin)
                if obstacle.wall == "back" and covers(part.box, block, "y", NEAR) and not _divides(part.box, hole):
                    part = take_out(part, hole, f"for the {obstacle.title}")
        parts.append(part)
    return replace(built, parts=tuple(parts))


def _hole(part: Part, block: Box, air: Fraction) -> Box:
    low, high = block.low, block.high
    return Box((low[0] - air, part.box.low[1], low[2] - air), (high[0] + air, part.box.high[1], high[2] + air))


def _divides(box: Box, hole: Box) -> bool:
    """Whether nothing would be left on both sides of a hole: a check says then what covers the obstacle."""
    return any(hole.low[i] <= box.low[i] and box.high[i] <= hole.high[i] for i in (0, 2))


def covers(box: Box, block: Box, flat: str, near: Fraction = ZERO) -> bool:
    """Whether a box stands against an obstacle on a wall across the axis `flat`, over the same rectangle.

    Or no more than `near` mm before it.
    """
    for i, axis in enumerate("xyz"):
        touches = box.low[i] <= block.high[i] and block.low[i] <= box.high[i] + near
        laps = box.low[i] < block.high[i] and block.low[i] < box.high[i]
        if not (touches if axis == flat else laps):
            return False
    return True
