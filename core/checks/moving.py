"""Getting it in and lifting it: standing a carcass up under the ceiling, and what one person can carry."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from math import sqrt

from core.checks.finding import Finding, not_weighed
from core.construction.part import Part
from core.construction.row import Standing
from core.lengths import Notation
from core.own_units import weight_text
from core.project import Carcass
from core.solids import centre_of_gravity

ONE_PERSON = 23.0
"""Kilograms: the load constant of the NIOSH lifting equation, 94-110 (revised 2021), for the best of conditions."""


def check_standing_up(standing: Sequence[Standing], ceiling: Fraction | None, notation: Notation) -> list[Finding]:
    """A carcass that is laid down and stood up sweeps its diagonal: sqrt(H^2 + D^2) has to pass under the ceiling."""
    if ceiling is None:
        return []
    found = []
    for place in standing:
        if not isinstance(place.item, Carcass):
            continue
        # The plinth is apart, so the box itself is stood up and then lifted on to it.
        height, depth = float(place.outside.height), float(place.outside.depth)
        sweep = sqrt(height**2 + depth**2)
        passes = sweep <= float(ceiling)
        about = f"carcass {place.item.id}"
        said = notation.with_unit(Fraction(sweep).limit_denominator(10**6))
        found.append(
            Finding(
                "standing up",
                about,
                "ok" if passes else "fail",
                f"it sweeps {said} as it is stood up; the ceiling is at {notation.with_unit(ceiling)}",
                round(sweep, 3),
                round(float(ceiling), 3),
                "mm",
                "sqrt(H^2 + D^2)",
                "geometry",
                ()
                if passes
                else ("a separate plinth", "build it in two, one on the other", "make it lower or shallower"),
                place.item.id,
                () if passes else ("row", place.item.id, "height"),
            )
        )
    return found


def check_lifting(
    standing: Sequence[Standing], parts: Sequence[Part], densities: Mapping[str, float], notation: Notation
) -> list[Finding]:
    """The weight of each carcass, and of each top, against what one person lifts in the best of conditions."""
    owners = dict.fromkeys(part.carcass for part in parts)
    found = []
    kinds = {place.item.id: place.item.kind for place in standing}
    for owner in owners:
        own = [part for part in parts if part.carcass == owner]
        about = f"{kinds.get(owner, 'top')} {owner}"
        if unknown := not_weighed("lifting", about, owner, own, densities):
            found.append(unknown)
            continue
        mass, _ = centre_of_gravity(own, densities)
        alone = mass <= ONE_PERSON
        found.append(
            Finding(
                "lifting",
                about,
                "ok" if alone else "warn",
                weight_text(mass, notation) + ("" if alone else "; two persons or a dolly, however strong you are"),
                round(mass, 1),
                ONE_PERSON,
                "kg",
                "volume x density",
                "NIOSH 94-110 (rev. 2021), load constant 23 kg, for a lift close to the body at knuckle height",
                () if alone else ("a helper or a dolly", "put the shelves and the back in on site"),
                owner,
            )
        )
    return found
