"""Whether what is on the walls lets drawers come out and doors open: a radiator, a riser before the carcass."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from math import atan2, degrees, sqrt

from core.checks.doors import is_one_of_a_pair
from core.checks.finding import Finding
from core.construction.part import Box, Part
from core.dry_fit import Moving, Sliding, Swinging, comes_into, from_hinges
from core.lengths import Notation
from core.solids import overlap
from core.space import Obstacle

OPENS_FAR = 75
"""Degrees; a door that opens less lets nothing broad in or out; common practice, no source."""


def check_in_front(
    moving: Sequence[Moving], placed: Sequence[tuple[Obstacle, Box]], notation: Notation
) -> list[Finding]:
    """One finding for each drawer and door that meets an obstacle. `placed`: each with its block in the room."""
    return [
        _drawer(one.parts[0], obstacle, block, notation)
        if isinstance(one, Sliding)
        else _door(one.door, obstacle, block, notation)
        for one in moving
        for obstacle, block in placed
        if comes_into(one, block) and not _is_in_it_shut(one, block)
    ]


def _is_in_it_shut(one: Moving, block: Box) -> bool:
    """Whether a drawer is in the place of an obstacle already: the check of obstacles says so."""
    return isinstance(one, Sliding) and any(overlap(part.box, block) for part in one.parts)


def _drawer(front: Part, obstacle: Obstacle, block: Box, notation: Notation) -> Finding:
    return Finding(
        "drawer",
        _about(front, obstacle),
        "fail",
        f"it cannot come out: the {obstacle.title} is in its way",
        source="geometry",
        mend=(*_moved(front, obstacle, block, Fraction(0), notation), "another front there"),
        brief=f"{front.name} {front.carcass}",
        mended_at=("row", front.carcass),
    )


def _door(door: Part, obstacle: Obstacle, block: Box, notation: Notation) -> Finding:
    opens = _opens(door, block)
    turned = Swinging(replace(door, hand="left" if door.hand == "right" else "right"))
    may_turn = not is_one_of_a_pair(door) and not comes_into(turned, block)
    other_side = ("hinges on its other side",) if may_turn else ()
    return Finding(
        "door",
        _about(door, obstacle),
        "fail" if opens < OPENS_FAR else "warn",
        f"it opens about {int(opens)} degrees, and then meets the {obstacle.title}",
        round(opens, 1),
        OPENS_FAR,
        "degrees",
        source="geometry; common practice, no source",
        mend=(*other_side, *_moved(door, obstacle, block, door.thickness, notation)),
        brief=f"{door.name.partition(',')[0]} {door.carcass}",
        mended_at=("row", door.carcass),
    )


def _about(part: Part, obstacle: Obstacle) -> str:
    return f"{part.name} {part.carcass} and the {obstacle.title} on the {obstacle.wall} wall"


def _opens(door: Part, block: Box) -> float:
    """Degrees by which a door opens until its face meets the nearest edge of a block."""
    away = float(max(door.box.low[1] - block.high[1], Fraction(0)))
    swung = sqrt(max(float(door.box.span("x")) ** 2 - away**2, 0.0))
    return degrees(atan2(away, min(float(from_hinges(door, block)[1]), swung)))


def _moved(part: Part, obstacle: Obstacle, block: Box, more: Fraction, notation: Notation) -> tuple[str, ...]:
    """A filler that moves a part clear of what is on a side wall, and `more` mm beyond."""
    if obstacle.wall == "back":
        return ()
    in_it = part.box.high[0] - block.low[0] if obstacle.wall == "right" else block.high[0] - part.box.low[0]
    return (f"a filler or an open bay at that wall, {notation.at_least(in_it + more)} wide or more",)
