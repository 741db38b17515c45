"""Will it tip: a static estimate about the front feet, not a compliance test."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import atan2, degrees

from core.checks.finding import Finding
from core.checks.sag import GRAVITY
from core.construction.part import Part
from core.construction.row import Standing
from core.lengths import INCH, Notation
from core.project import Carcass
from core.solids import centre_of_gravity

TALL = 27 * INCH
"""ASTM F2057-23 counts free-standing clothing storage from 27 in high."""
PULL = 10 * 0.45359237 * GRAVITY
"""10 lbf at the top of what a hand reaches, N; after ASTM F2057, from memory."""
REACH = 56 * INCH
"""Highest hand hold of that pull, from memory."""


def check_tipping(
    standing: Sequence[Standing],
    parts: Sequence[Part],
    densities: Mapping[str, float],
    notation: Notation,
) -> list[Finding]:
    """Each carcass alone, empty, not yet fastened: how hard a pull at hand height tips it over its front feet."""
    found = []
    for place in standing:
        if not isinstance(place.item, Carcass) or place.height < TALL:
            continue
        own = [part for part in parts if part.carcass == place.item.id]
        about = f"carcass {place.item.id}, {notation.with_unit(place.height)} high"
        if not own or any(part.material not in densities for part in own):
            found.append(
                Finding("tipping", about, "unknown", "a material's density is not known; type it in the material")
            )
            continue
        mass, centre = centre_of_gravity(own, densities)
        feet = min(float(part.box.low[1]) for part in own if part.box.low[2] == 0)
        back = centre[1] - feet
        hand = float(min(place.height, REACH))
        force = mass * GRAVITY * back / hand
        steady = force > PULL
        found.append(
            Finding(
                "tipping",
                about,
                "ok" if steady else "warn",
                f"empty and unfastened it tips when pulled with {force:.0f} N at {hand:.0f} mm, or leant forward "
                f"{degrees(atan2(back, centre[2])):.0f} degrees"
                + (
                    "; fasten it to the wall all the same"
                    if steady
                    else "; fasten it to the wall before anything is put in it"
                ),
                round(force, 1),
                round(PULL, 1),
                "N",
                "W x / h, moments about the front feet",
                "statics; 10 lbf and 27 in after ASTM F2057-23, from memory. A static estimate, not a compliance test",
                ()
                if steady
                else ("fasten it to studs at two places at least", "join it to its neighbours", "make it deeper"),
            )
        )
    return found
