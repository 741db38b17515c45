"""Solid wood grows and shrinks across its grain; the boxes of board that it lies on do not."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction

from core.checks.finding import Finding
from core.construction.part import Axis, Part
from core.construction.rule_book import Rules
from core.goods import Material
from core.lengths import Notation, mm_number

SWING = 5
"""Percent of moisture between the seasons of a heated home, 6 to 11; Wood Handbook chapter 13, and common practice."""
LITTLE = 1.0
"""mm that screws in ordinary holes bear; common practice, no source."""


def movement(across: float, coefficient: float, percent: float) -> float:
    """By how much wood grows, in the unit of `across`: Wood Handbook FPL-GTR-190 eq 13-2, from 6 to 14 % moisture."""
    return across * coefficient * percent


BOX = ("side", "bottom", "top", "shelf", "divider", "rail", "kick")
"""What moves together where a whole box is of solid wood, its grain running round."""
WORDS: Mapping[Axis, str] = {"x": "wider", "y": "deeper", "z": "higher"}
FRONTS = ("door", "drawer front", "false front")


def check_movement(
    parts: Iterable[Part], materials: Mapping[str, Material], rules: Mapping[str, Rules], notation: Notation
) -> list[Finding]:
    """How far every part of solid wood moves, and how it is fastened so that it can."""
    found = {}
    parts = tuple(parts)
    stiff = {part.carcass for part in parts if part.role in BOX and not _moves(part, materials)}
    for part in parts:
        material = materials.get(part.material)
        told = material.movement if material else ""
        if not told:
            continue
        grows = movement(float(part.width), float(told), SWING)
        about = f"{part.name} {part.carcass}, {notation.with_unit(part.width)} across the grain".replace(" ,", ",")
        say = notation.with_unit(Fraction(grows))
        if part.role in FRONTS or (part.role in BOX and part.carcass not in stiff):
            found[about] = _of_carcass(part, grows, rules[part.carcass], notation, about)
            continue
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


def _moves(part: Part, materials: Mapping[str, Material]) -> bool:
    material = materials.get(part.material)
    return bool(material and material.movement)


def _of_carcass(part: Part, grows: float, rules: Rules, notation: Notation, about: str) -> Finding:
    """A front must not fill its gap; a box that is solid all round grows as one, and its back has to let it."""
    say, front = notation.with_unit, part.role in FRONTS
    gap = rules.front_gap
    if part.role in ("drawer front", "false front"):
        # Held in its middle it grows half to each side.
        grows /= 2
    ok = not front or grows <= gap
    much, way = say(Fraction(grows)), WORDS[part.width_axis]
    if front:
        way = way if part.role == "door" else "more each way"
        told = f"{much} {way} in a damp season than in a dry one, and the gap there is {say(gap)}"
    else:
        told = f"{much} {way} in a damp season than in a dry one, with all that it meets"
        told += "; its back, slides and doors have to let it" if way == "deeper" else ""
    return Finding(
        "movement",
        about,
        "ok" if ok else "warn",
        told,
        round(grows, 2),
        float(mm_number(gap)) if front else LITTLE,
        "mm",
        "width x coefficient x change of moisture, 6 to 11 %",
        "Wood Handbook FPL-GTR-190 eq 13-2 and table 13-5",
        ()
        if ok
        else (
            "a frame with a panel that is free in it",
            "a board that does not move",
            f"front gap {say(Fraction(grows))} or more",
        ),
        f"{part.name.partition(',')[0]} {part.carcass}".strip(),
        () if ok else ("row", part.carcass),
    )
