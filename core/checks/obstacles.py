"""What of the walls the piece covers: outlets, switches, pipes, sills, vents."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from core.checks.finding import Finding
from core.construction.part import Box, Part
from core.construction.row import depth_of
from core.edits import Path
from core.space import Obstacle
from core.workings import Worked

CODE = "Power in a wall is work for who is licensed to do it: ask the local code before an outlet is covered or moved."


def place_obstacles(worked: Worked) -> list[tuple[Obstacle, Box]]:
    """Each obstacle as a block in the room's frame: as deep as it sticks out, and at least up to the piece.

    `along` counts from the wall's left end as one faces it: for the left wall that is its front
    end, for the right wall the corner at the back. A side wall's front end is known only where a
    depth was read; without one its obstacles are left out.
    """
    envelope, off = worked.envelope, worked.air
    width = envelope.width
    if width is None:
        width = max((place.right for place in worked.standing), default=Fraction(0))
    row_depth = depth_of(worked.standing)
    wall = row_depth + off["back"]
    placed = []
    for obstacle, size in worked.obstacles:
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
    return placed


def check_obstacles(placed: Sequence[tuple[Obstacle, Box]], parts: Sequence[Part]) -> list[Finding]:
    """What of the walls the piece covers. `placed`: each obstacle with its block in the room."""
    found = []
    for obstacle, block in placed:
        met = [part for part in parts if _in_front(part, block, obstacle)]
        about = f"{obstacle.title} on the {obstacle.wall} wall"
        if not met:
            found.append(Finding("obstacle", about, "ok", "nothing covers it", source="geometry", brief=obstacle.title))
            continue
        names = ", ".join(dict.fromkeys(f"{part.name} {part.carcass}" for part in met))
        electric = obstacle.kind in ("outlet", "switch")
        found.append(
            Finding(
                "obstacle",
                about,
                "warn",
                f"covered by {names}" + (f". {CODE}" if electric else ""),
                source="geometry",
                mend=("cut it out of the part that covers it", "leave an open bay there", "no back in that carcass"),
                brief=obstacle.title,
                mended_at=_uncovered_at(met),
            )
        )
    return found


def _uncovered_at(met: Sequence[Part]) -> Path:
    """What would have to be changed or moved to uncover it: the carcass whose back covers it, or whatever does."""
    part = next((part for part in met if part.role == "back"), met[0])
    return ("tops" if part.role == "worktop" else "row", part.carcass)


def _in_front(part: Part, block: Box, obstacle: Obstacle) -> bool:
    """Whether a part stands against the obstacle: beside the wall that bears it, over the same rectangle."""
    flat = "y" if obstacle.wall == "back" else "x"
    axes = [axis for axis in "xyz" if axis != flat]
    over = all(
        part.box.low["xyz".index(a)] < block.high["xyz".index(a)]
        and block.low["xyz".index(a)] < part.box.high["xyz".index(a)]
        for a in axes
    )
    i = "xyz".index(flat)
    return over and part.box.low[i] <= block.high[i] and block.low[i] <= part.box.high[i]
