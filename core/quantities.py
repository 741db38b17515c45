"""Amounts with units: a density in pounds a cubic foot, a stiffness in psi, a load in pounds a foot.

A bare number counts in the unit that the field names and needs no library. Anything else is
read by pint, which is imported only then: it takes a third of a second.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Any

from core.mistakes import Mistake

DENSITY, STIFFNESS, LOAD, MASS = "kg/m^3", "N/mm^2", "kg/m", "kg"
"""What bare numbers count in."""

_PLAIN = re.compile(r"[0-9]+(?:\.[0-9]+)?|\.[0-9]+", re.ASCII)
_WITH_UNIT = re.compile(rf"(?P<number>{_PLAIN.pattern})\s*(?P<unit>[A-Za-z][A-Za-z0-9/*^ ²³]*)", re.ASCII)
MOST_CHARACTERS = 40
_EXAMPLES = {
    DENSITY: "600, or 38 lb/ft^3",
    STIFFNESS: "6550, or 950000 psi",
    LOAD: "37, or 25 lb/ft",
    MASS: "23, or 50 lb",
}
_MOST = 1e9


@lru_cache(maxsize=256)
def read_quantity(text: str, unit: str) -> float:
    """The number of `unit` that a text comes to. Raises Mistake, with an example, where it is no such amount."""
    text = text.strip()
    refusal = Mistake(f"{text[:MOST_CHARACTERS]!r} is no amount in {unit}; {_EXAMPLES[unit]} is")
    if len(text) > MOST_CHARACTERS:
        raise refusal
    if _PLAIN.fullmatch(text):
        return _within_reach(float(text), refusal)
    found = _WITH_UNIT.fullmatch(text)
    if not found:
        raise refusal
    return _within_reach(_converted(float(found["number"]), found["unit"], unit, refusal), refusal)


def _within_reach(amount: float, refusal: Mistake) -> float:
    if not 0 <= amount < _MOST:
        raise refusal
    return amount


def _converted(number: float, unit: str, wanted: str, refusal: Mistake) -> float:
    import pint

    powers = re.sub(r"(?<=[A-Za-z])([23])\b", r"^\1", unit.replace("²", "^2").replace("³", "^3"))
    spelt = re.sub(r"\bpcf\b", "lb/ft^3", powers).replace("^", "**")
    try:
        return float(_registry().Quantity(number, spelt).to(wanted.replace("^", "**")).magnitude)
    except (pint.PintError, ValueError, TypeError, AttributeError, OverflowError):
        raise refusal from None


@lru_cache(maxsize=1)
def _registry() -> Any:
    import pint

    return pint.UnitRegistry()
