"""How far a shelf sags under its load.

A shelf is taken as simply supported at its uprights, evenly loaded, its own weight left out:
housings and pins hold its ends up but do not clamp them. Formula and constant: Wood Handbook,
FPL-GTR-190, table 9-1 and equation 9-2, bending term. SI units throughout: N, mm, N/mm2.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from core.checks.finding import Finding, Result
from core.construction.part import Part
from core.construction.rule_book import Rules
from core.edits import Path
from core.goods import Material
from core.lengths import UNITS, Notation
from core.own_units import KG_A_POUND, weight_text

ZERO = Fraction(0)
GRAVITY = 9.80665
"""m/s2, standard (NIST SP 811)."""
VISIBLE = 1 / 600
"""Sag as a share of the span that the eye begins to see; a common trade rule."""
TOO_MUCH = 1 / 144
"""Architectural Woodwork Standards, edition 1 (2009), section 10: the most for a shelf."""
MOST_ON_A_SHELF = 200 * KG_A_POUND
"""Kilograms on one shelf whatever its span: 200 lb, same source."""


def sag(load: float, span: float, depth: float, thickness: float, stiffness: float) -> float:
    """Instant sag at mid-span, mm: 5 W L^3 / (384 E I), I = depth thickness^3 / 12.

    `load` is the whole even load W in newtons, lengths in mm, `stiffness` E in N/mm2.
    """
    return 5 * load * span**3 / (384 * stiffness * depth * thickness**3 / 12)


@dataclass(frozen=True, slots=True)
class Span:
    """A board between two supports; sizes in mm."""

    about: str
    length: Fraction
    depth: Fraction
    thickness: Fraction
    material: str
    load: float
    """Kilograms along each metre."""
    brief: str
    mended_at: Path
    """The way to what would sag less, as in a `Finding`."""


def check_spans(spans: Iterable[Span], materials: Mapping[str, Material], notation: Notation) -> list[Finding]:
    """Every span that differs from those before it."""
    different = {(one.length, one.depth, one.thickness, one.material, one.load): one for one in reversed(list(spans))}
    return [_check(span, materials[span.material], notation) for span in reversed(different.values())]


def shelf_spans(parts: Iterable[Part], rules: Mapping[str, Rules], notation: Notation) -> Iterator[Span]:
    """Fixed and adjustable shelves, each between the uprights of its bay."""
    parts = list(parts)
    divided = {part.carcass for part in parts if part.role == "divider"}
    for part in parts:
        if part.role in ("shelf", "loose shelf") and part.carcass in rules:
            length = part.box.span("x")
            about = f"{part.name}, carcass {part.carcass}, {notation.with_unit(length)} long"
            load = rules[part.carcass].shelf_load
            # A shelf's place is `bay 1 no 2`.
            bay: Path = ("bays", int(part.place.split()[1]) - 1) if part.carcass in divided else ()
            narrower: Path = ("row", part.carcass, *bay, "width")
            brief = f"{part.name.partition(',')[0]} {part.carcass}"
            yield Span(about, length, part.box.span("y"), part.thickness, part.material, load, brief, narrower)


def top_spans(parts: Sequence[Part], rules: Mapping[str, Rules], notation: Notation) -> Iterator[Span]:
    """The widest stretch of each top that nothing carries: over a gap, or over a carcass without a top of its own.

    Two layers are glued all over, so they count as one thickness. The load is that of a shelf.
    """
    tops = [part for part in parts if part.role == "worktop"]
    for top in {part.carcass: part for part in tops if not part.place.startswith("upper")}.values():
        layers = {part.box.low[2]: part for part in tops if part.carcass == top.carcass}.values()
        under = [part for part in parts if part.box.high[2] == top.box.low[2] and part.role in ("side", "top", "rail")]
        carried = sorted((part.box.low[0], part.box.high[0]) for part in under)
        open_from, widest = None, (ZERO, ZERO)
        for start, end in carried:
            if open_from is not None and start - open_from > widest[1] - widest[0]:
                widest = (open_from, start)
            open_from = end if open_from is None else max(open_from, end)
        length = widest[1] - widest[0]
        if length > 0:
            about = f"{top.name.partition(',')[0]} {top.carcass}, {notation.with_unit(length)} without support"
            load = max((one.shelf_load for one in rules.values()), default=0.0)
            thickness = sum((layer.thickness for layer in layers), ZERO)
            brief = f"{top.name.partition(',')[0]} {top.carcass}"
            thicker: Path = ("tops", top.carcass, "layers")
            yield Span(about, length, top.box.span("y"), thickness, top.material, load, brief, thicker)


def _check(shelf: Span, material: Material, notation: Notation) -> Finding:
    span, depth, thickness = float(shelf.length), float(shelf.depth), float(shelf.thickness)
    about, kg_a_metre = shelf.about, shelf.load
    stiffness = material.newtons_a_square_millimetre
    if not stiffness:
        return Finding(
            "sag",
            about,
            "unknown",
            f"the stiffness of {material.name} is not known; type it in the material",
            brief=shelf.brief,
            mended_at=("materials", shelf.material, "stiffness"),
        )
    kilograms = kg_a_metre * span / 1000
    creep = max(float(material.creep or 1), 1.0)
    lasting = sag(kilograms * GRAVITY, span, depth, thickness, stiffness) * creep
    result: Result = "ok"
    because = (
        f"{_sag_text(lasting, notation)} with time under {weight_text(kilograms, notation)}, "
        f"one part in {span / lasting:.0f} of its span"
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
        because += f"; more than {weight_text(MOST_ON_A_SHELF, notation)} is too much for any shelf"
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
        else ("a support below its middle", "a thicker shelf", "a strip glued along its front edge", "a narrower bay"),
        shelf.brief,
        () if result == "ok" else shelf.mended_at,
    )


def _sag_text(sag_mm: float, notation: Notation) -> str:
    step = notation.step * UNITS[notation.unit]
    if sag_mm < step:
        return f"less than {notation.with_unit(step)}"
    return notation.with_unit(Fraction(sag_mm))
