"""How far a shelf sags under its load.

A shelf is taken as simply supported at its uprights, evenly loaded, its own weight left out:
housings and pins hold its ends up but do not clamp them. Formula and constant: Wood Handbook,
FPL-GTR-190, table 9-1 and equation 9-2, bending term. SI units throughout: N, mm, N/mm2.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from core.checks.finding import Finding, Result
from core.construction.part import Part
from core.construction.rules import Rules
from core.goods import Material
from core.lengths import Notation

GRAVITY = 9.80665
"""m/s2, standard (NIST SP 811)."""
VISIBLE = 1 / 600
"""Sag as a share of the span that the eye begins to see; a common trade rule."""
TOO_MUCH = 1 / 144
"""Architectural Woodwork Standards, edition 1 (2009), section 10: the most for a shelf."""
MOST_ON_A_SHELF = 200 * 0.45359237
"""Kilograms on one shelf whatever its span: 200 lb, same source."""


def sag(load: float, span: float, depth: float, thickness: float, stiffness: float) -> float:
    """Instant sag at mid-span, mm: 5 W L^3 / (384 E I), I = depth thickness^3 / 12.

    `load` is the whole even load W in newtons, lengths in mm, `stiffness` E in N/mm2.
    """
    return 5 * load * span**3 / (384 * stiffness * depth * thickness**3 / 12)


def check_shelves(
    parts: Sequence[Part], rules: Mapping[str, Rules], materials: Mapping[str, Material], notation: Notation
) -> list[Finding]:
    """Every kind of shelf span once, fixed and adjustable."""
    found: dict[tuple[object, ...], Finding] = {}
    for part in parts:
        if part.role not in ("shelf", "loose shelf") or part.carcass not in rules:
            continue
        load = rules[part.carcass].shelf_load
        key = (part.box.span("x"), part.box.span("y"), part.thickness, part.material, load)
        if key not in found:
            found[key] = _check(part, load, materials[part.material], notation)
    return list(found.values())


def _check(part: Part, kg_a_metre: float, material: Material, notation: Notation) -> Finding:
    span, depth, thickness = float(part.box.span("x")), float(part.box.span("y")), float(part.thickness)
    about = f"{part.name}, carcass {part.carcass}, {notation.with_unit(part.box.span('x'))} long"
    stiffness = material.newtons_a_square_millimetre
    if not stiffness:
        return Finding(
            "sag", about, "unknown", f"the stiffness of {material.name} is not known; type it in the material"
        )
    kilograms = kg_a_metre * span / 1000
    creep = max(float(material.creep or 1), 1.0)
    lasting = sag(kilograms * GRAVITY, span, depth, thickness, stiffness) * creep
    result: Result = "ok"
    because = (
        f"{lasting:.1f} mm in time under {kilograms:.0f} kg, one part in {span / lasting:.0f} of its span"
        if lasting
        else "no load"
    )
    limit = TOO_MUCH * span
    if kilograms > MOST_ON_A_SHELF or lasting > limit:
        result = "fail"
    elif lasting > VISIBLE * span:
        result = "warn"
        limit = VISIBLE * span
        because += "; the eye sees more than one in 600"
    if kilograms > MOST_ON_A_SHELF:
        because += f"; more than {MOST_ON_A_SHELF:.0f} kg is too much for any shelf"
    return Finding(
        "sag",
        about,
        result,
        because,
        round(lasting, 3),
        round(limit, 3),
        "mm",
        "creep * 5 W L^3 / (384 E I), I = b t^3 / 12",
        "Wood Handbook FPL-GTR-190 table 9-1; limits: Architectural Woodwork Standards 2009 section 10 (L/144), "
        "L/600 common practice, no source",
        ()
        if result == "ok"
        else ("a divider below its middle", "a thicker shelf", "a strip glued along its front edge", "a narrower bay"),
    )
