"""Solid wood grows and shrinks across its grain; the boxes of board that it lies on do not."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction

from core.checks.finding import Finding
from core.construction.part import Part
from core.goods import Material
from core.lengths import Notation

SWING = 5
"""Percent of moisture between the seasons of a heated home, 6 to 11; Wood Handbook chapter 13, and common practice."""
LITTLE = 1.0
"""mm that screws in ordinary holes bear; common practice, no source."""


def movement(across: float, coefficient: float, percent: float) -> float:
    """By how much wood grows, in the unit of `across`: Wood Handbook FPL-GTR-190 eq 13-2, from 6 to 14 % moisture."""
    return across * coefficient * percent


def check_movement(parts: Iterable[Part], materials: Mapping[str, Material], notation: Notation) -> list[Finding]:
    """How far every part of solid wood moves, and how it is fastened so that it can."""
    found = {}
    for part in parts:
        material = materials.get(part.material)
        told = material.movement if material else ""
        if not told:
            continue
        grows = movement(float(part.width), float(told), SWING)
        about = f"{part.name} {part.carcass}, {notation.with_unit(part.width)} across the grain".replace(" ,", ",")
        say = notation.with_unit(Fraction(grows))
        found[about] = Finding(
            "movement",
            about,
            "warn" if grows > LITTLE else "ok",
            f"{say} wider in a damp season than in a dry one"
            + ("" if grows <= LITTLE else "; glued or screwed fast across its grain it splits, or bows"),
            round(grows, 2),
            LITTLE,
            "mm",
            "width x coefficient x change of moisture, 6 to 11 %",
            "Wood Handbook FPL-GTR-190 eq 13-2 and table 13-5",
            ()
            if grows <= LITTLE
            else (
                f"screws fast along the front edge only, at the back in slots of {say} or more, or buttons in a groove",
                "a board that does not move",
            ),
            f"{part.name.partition(',')[0]} {part.carcass}".strip(),
            () if grows <= LITTLE else ("materials", part.material, "movement"),
        )
    return list(found.values())
