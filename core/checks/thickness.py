"""Is an actual thickness plausible beside the nominal one: `18` typed in an inch project spoils every part."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from core.checks.finding import Finding
from core.formulas import Names
from core.goods import Material
from core.lengths import Notation, mm_number
from core.mistakes import Mistake

PLAUSIBLE = Fraction(1, 4)
"""Of the nominal thickness: a sheet is sold thinner than its name, never by so much; common practice, no source."""


def check_thickness(
    materials: Mapping[str, Material], thickness: Mapping[str, Fraction], names: Names, notation: Notation
) -> list[Finding]:
    """A warning for each material whose actual thickness, in `thickness` as mm, is far from its nominal one."""
    found = []
    for key, material in materials.items():
        nominal = _nominal(material, names)
        if key not in thickness or nominal is None:
            continue
        actual, most = thickness[key], nominal * PLAUSIBLE
        if abs(actual - nominal) <= most:
            continue
        found.append(
            Finding(
                "thickness",
                f"material {key}",
                "warn",
                f"it is sold as {notation.with_unit(nominal)} and measures {notation.with_unit(actual)}: "
                "inches or millimetres?",
                float(mm_number(abs(actual - nominal))),
                float(mm_number(most)),
                "mm",
                "|actual - nominal| against nominal / 4",
                "common practice, no source",
                ("type the thickness with its unit, as in `18 mm` or `23/32 in`", "measure the sheet again"),
                brief=key,
                mended_at=("materials", key, "actual"),
            )
        )
    return found


def _nominal(material: Material, names: Names) -> Fraction | None:
    """The nominal thickness, mm; None where it is left out or no length: nothing is made by it."""
    try:
        return names.length(material.nominal, where="nominal thickness")
    except Mistake:
        return None
