"""Will it tip: a static estimate about the front feet, not a compliance test."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from math import atan2, degrees

from core.checks.finding import Finding, not_weighed
from core.checks.sag import GRAVITY
from core.construction.part import Part
from core.construction.row import Standing
from core.lengths import INCH, Notation
from core.own_units import force_text, weight_text
from core.project import Carcass
from core.solids import centre_of_gravity, solid

TALL = 27 * INCH
"""ASTM F2057-23 counts free-standing clothing storage from 27 in high."""
PULL = 10 * 0.45359237 * GRAVITY
"""10 lbf at the top of what a hand reaches, N; after ASTM F2057, from memory."""
REACH = 56 * INCH
"""Highest hand hold of that pull, from memory."""


HOLDS = Fraction(12)
"""mm: a back that is as thick takes the screws that a box hangs by; common practice, no source."""


def pull_that_tips(mass: float, back: float, hand: float) -> float:
    """Newtons at the height `hand` that lift `mass` kilograms over its front feet.

    `back` is how far its centre of gravity lies behind the feet, in the unit of `hand`; 0 where it falls by itself.
    """
    return max(mass * GRAVITY * back / hand, 0.0)


def lean_that_tips(back: float, up: float) -> float:
    """Degrees that it can lean forward; `back` and `up` from its front feet to its centre of gravity."""
    return degrees(atan2(back, up))


def _falls(carcass: str, about: str, back: float, notation: Notation) -> Finding:
    """A box whose centre of gravity is before its front feet."""
    before = notation.with_unit(Fraction(round(-back * 10), 10))
    return Finding(
        "tipping",
        about,
        "fail",
        f"it falls forward by itself: its centre of gravity is {before} before its front feet",
        round(back, 1),
        0.0,
        "mm",
        "moments about the front feet",
        "statics",
        ("make kick depth less", "make it deeper"),
        carcass,
        ("row", carcass),
    )


def check_tipping(
    standing: Sequence[Standing],
    parts: Sequence[Part],
    densities: Mapping[str, float],
    notation: Notation,
) -> list[Finding]:
    """Each carcass alone, empty, not yet fastened: how hard a pull at hand height tips it over its front feet."""
    found = []
    for place in standing:
        if not isinstance(place.item, Carcass) or place.height < TALL or place.hangs:
            continue
        own = [part for part in parts if part.carcass == place.item.id]
        if not own:
            # It cannot be built as it is, and that is told elsewhere.
            continue
        about = f"carcass {place.item.id}, {notation.with_unit(place.height)} high"
        if unknown := not_weighed("tipping", about, place.item.id, own, densities):
            found.append(unknown)
            continue
        mass, centre = centre_of_gravity(own, densities)
        # A side that is notched for the toes stands on what is left of it.
        feet = min(float(box.low[1]) for part in own for box in solid(part) if box.low[2] == 0)
        back = centre[1] - feet
        hand = min(place.height, REACH)
        if back <= 0:
            found.append(_falls(place.item.id, about, back, notation))
            continue
        force = pull_that_tips(mass, back, float(hand))
        steady = force > PULL
        found.append(
            Finding(
                "tipping",
                about,
                "ok" if steady else "warn",
                f"empty and unfastened it tips when pulled with {force_text(force, notation)} at "
                f"{notation.with_unit(hand)}, or leant forward {lean_that_tips(back, centre[2]):.0f} degrees"
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
                place.item.id,
                () if steady else ("row", place.item.id, "depth"),
            )
        )
    return found


def check_hanging(
    standing: Sequence[Standing],
    parts: Sequence[Part],
    densities: Mapping[str, float],
    notation: Notation,
) -> list[Finding]:
    """Each carcass that only the wall carries: what it weighs empty, and whether there is wood to screw through."""
    found = []
    for place in standing:
        id = place.item.id
        own = [part for part in parts if part.carcass == id]
        if not own or not place.hangs:
            continue
        about = f"carcass {id}, {notation.with_unit(place.foot)} above the floor"
        if unknown := not_weighed("hanging", about, id, own, densities):
            found.append(unknown)
            continue
        mass, _ = centre_of_gravity(own, densities)
        held = any(part.role == "nailer" or (part.role == "back" and part.thickness >= HOLDS) for part in own)
        found.append(
            Finding(
                "hanging",
                about,
                "ok" if held else "warn",
                f"the wall carries its {weight_text(mass, notation)} and all that is put in it: screw it into studs, "
                "or with what the maker of the anchors says they hold"
                + ("" if held else "; it has no nailer, nor a back thick enough, to screw through"),
                round(mass, 1),
                None,
                "kg",
                "volume x density",
                "common practice, no source",
                () if held else ("nailers top, or top and bottom",),
                id,
                () if held else ("row", id, "rules", "nailers"),
            )
        )
    return found
