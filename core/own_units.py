"""Weights, forces, round sizes and hardware as a project's own unit asks: pounds and inches, or kilograms and mm."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction

from core.lengths import UNITS, Notation
from core.mistakes import Mistake
from core.quantities import MASS, MOST_CHARACTERS, read_quantity

KG_A_POUND = 0.45359237
"""Exact by definition (NIST SP 811)."""
NEWTONS_A_POUND_FORCE = KG_A_POUND * 9.80665
"""Exact by definition (NIST SP 811)."""


@dataclass(frozen=True, slots=True)
class RoundSize:
    """A size of the trade that is round in inches as in millimetres; the two need not be quite equal."""

    inches: int
    millimetres: int

    def mm(self, notation: Notation) -> Fraction:
        """The size that counts where sizes are shown so, mm."""
        return (self.inches if notation.unit == "in" else self.millimetres) * UNITS[notation.unit]

    def text(self, notation: Notation) -> str:
        """`12 in`, or `300 mm`."""
        return notation.with_unit(self.mm(notation))


def metric(size: Fraction, write: Callable[[Fraction], str]) -> str:
    """A size of hardware, mm: as all others, but in millimetres where it is round there and not on an inch tape."""
    text = write(size)
    whole = (2 * size).denominator == 1
    return f"{float(size):g} mm" if text.startswith("~") and whole else text


def read_weight(text: str, unit: str) -> float:
    """Kilograms. A bare number counts in the project's own unit: pounds, or kilograms. Raises Mistake."""
    bare = text.strip().replace(".", "", 1).isdigit()
    try:
        return read_quantity(text, MASS) * (KG_A_POUND if bare and unit == "in" else 1)
    except Mistake:
        if unit != "in":
            raise
        raise Mistake(f"{text.strip()[:MOST_CHARACTERS]!r} is no amount in lb; 50, or 23 kg is") from None


def weight_text(kilograms: float, notation: Notation) -> str:
    """`51 lb`, or `23 kg`, to the nearest whole one."""
    return f"{kilograms / KG_A_POUND:.0f} lb" if notation.unit == "in" else f"{kilograms:.0f} kg"


def force_text(newtons: float, notation: Notation) -> str:
    """`10.0 lbf`, or `44 N`."""
    return f"{newtons / NEWTONS_A_POUND_FORCE:.1f} lbf" if notation.unit == "in" else f"{newtons:.0f} N"


def amount_text(amount: float, unit: str, notation: Notation) -> str:
    """A value or limit of a check, given in mm, kg or N, in the project's own unit; any other as it is."""
    if unit == "mm":
        return notation.with_unit(Fraction(str(amount)))
    if unit == "kg":
        return weight_text(amount, notation)
    if unit == "N":
        return force_text(amount, notation)
    return f"{amount:g} {unit}".strip()
