"""The place that the piece is built for: readings as taken. What follows from them is in `core.envelope`."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from core.typed import Size, many

Wall = Literal["left", "right", "back"]


@dataclass(frozen=True, slots=True)
class Reading:
    """One reading of the tape, wall to wall or floor to ceiling, and where it was taken.

    `diagonal` is read on the floor plan: at `left` from the front left corner to the back
    right one, at `right` the other way.
    """

    of: Literal["width", "depth", "height", "diagonal"]
    size: Size
    level: Literal["floor", "middle", "top"] = "floor"
    at: Literal["front", "back", "left", "right", "middle"] = "middle"
    """For a width: front or back (middle: not said). For a depth or height: left, middle or right."""


@dataclass(frozen=True, slots=True)
class Lean:
    """How far a wall comes into the room at the top of `over`, against a plumb line; negative: it falls away."""

    wall: Wall
    into_room: Size
    over: Size


@dataclass(frozen=True, slots=True)
class Baseboard:
    """A board along the foot of a wall that stays where it is."""

    wall: Wall
    height: Size
    thickness: Size


@dataclass(frozen=True, slots=True)
class Obstacle:
    """Something on a wall that the piece has to leave room for."""

    kind: Literal["outlet", "switch", "pipe", "sill", "vent", "other"]
    wall: Wall
    along: Size
    """From the wall's left end as you face it to the obstacle's left edge."""
    up: Size
    """From the floor to its lower edge."""
    width: Size
    height: Size
    sticks_out: Size = "0"
    called: str = ""
    """What it is, in words, where its kind does not say enough."""

    @property
    def title(self) -> str:
        """What it is called in a sentence."""
        return self.called or self.kind


@dataclass(frozen=True, slots=True)
class Clearance:
    """Air wanted between the piece and the space, to be scribed, filled or left."""

    left: Size = "0"
    right: Size = "0"
    back: Size = "0"
    top: Size = "0"


@dataclass(frozen=True, slots=True)
class Space:
    """Readings of one place, as taken. One width is enough to begin."""

    name: str = ""
    open_left: bool = False
    """No wall on that side."""
    open_right: bool = False
    up_to: Size = ""
    """How high the piece will reach: levels and leans count up to here. Empty: to the lowest ceiling read."""
    floor_out_of_level: Size = "0"
    """Highest point of the floor less its lowest, under the piece."""
    clearance: Clearance = field(default_factory=Clearance)
    readings: tuple[Reading, ...] = many("reading")
    leans: tuple[Lean, ...] = many("lean")
    baseboards: tuple[Baseboard, ...] = many("baseboard")
    obstacles: tuple[Obstacle, ...] = many("obstacle")
