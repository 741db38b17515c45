"""What was asked of a carcass, in numbers and in the words of the rule book."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any

Stretch = tuple[Fraction, Fraction]
Solid = tuple[Stretch, Stretch, Stretch]


@dataclass
class AskedOpening:
    """An opening of a bay: its clear height (None: an equal share), and what is in it, before it and over it."""

    height: Fraction | None = None
    front: str = "open"
    hinged: str = "left"
    loose: int = 0
    above: str = "nothing"


@dataclass
class AskedBay:
    """A bay: its width (None: an equal share), its fixed shelves (heights, or how many), its adjustable ones."""

    width: Fraction | None = None
    fixed: list[Fraction] | int = 0
    loose: int = 0
    front: str = "open"
    hinged: str = "left"
    openings: list[AskedOpening] = field(default_factory=list)


@dataclass
class Asked:
    """What was asked of a carcass, mm, its rules by the names of the rule book; standing alone at x = 0."""

    width: Fraction
    height: Fraction
    depth: Fraction
    rules: Mapping[str, Any]
    """Sizes, choices and actual thicknesses; `front_banding` and `door_banding` as thickness, None for none."""
    bays: list[AskedBay] = field(default_factory=lambda: [AskedBay()])
    board: tuple[Fraction, Fraction] | None = None
    """A baseboard: how high and how far from the carcass's rear plane it keeps everything away, clearance counted."""
    unit: str = "mm"
    one_good: frozenset[str] = frozenset()
    """The rules whose material has one good face."""
    grained: frozenset[str] = frozenset()
    """The rules whose material has grain."""

    def __getitem__(self, rule: str) -> Any:
        return self.rules[rule]


@dataclass
class Room:
    """An opening where it lies. `number` 0: the whole bay, for a door before it."""

    bay: int
    number: int
    x: Stretch
    z: Stretch
    uprights: tuple[str, str]
    opening: AskedOpening
    below: bool
    """Something lies under it."""
    above: bool
    last: bool
    """Nothing of the bay is over it."""
    first: bool
    behind: bool = False
    """A door before the whole bay is inset, and everything in the bay stays behind it."""


ROLES = {
    "plinth end": ("kick_panel", "x", "y"),
    "loose shelf": ("shelf_panel", "z", "x"),
    "drawer side": ("drawer_panel", "x", "y"),
    "drawer end": ("drawer_panel", "y", "x"),
    "drawer bottom": ("drawer_bottom_panel", "z", "x"),
    "drawer front": ("front_panel", "y", "x"),
    "false front": ("front_panel", "y", "x"),
    "door": ("front_panel", "y", "z"),
    "side": ("panel", "x", "z"),
    "divider": ("panel", "x", "z"),
    "bottom": ("panel", "z", "x"),
    "top": ("panel", "z", "x"),
    "rail": ("panel", "z", "x"),
    "nailer": ("panel", "y", "x"),
    "shelf": ("shelf_panel", "z", "x"),
    "back": ("back_panel", "y", "z"),
    "kick": ("kick_panel", "y", "x"),
    "plinth": ("kick_panel", "y", "x"),
}
"""The rule that names each role's material, the axis of its thickness, and the one along which its grain runs."""
HUNG = ("door", "drawer side", "drawer end", "drawer bottom", "drawer front", "false front")
FRONTS = ("door", "drawer front", "false front")


def role_of(place: str) -> str:
    return next(role for role in ROLES if place == role or place.startswith(f"{role} "))
