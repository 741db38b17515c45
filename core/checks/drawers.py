"""Whether drawers run: what their slides ask for beside and below them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction

from core.checks.finding import Finding
from core.construction.part import Part
from core.construction.rule_book import Rules
from core.lengths import INCH, Notation, mm_number

SIDE_MOUNT = (INCH / 2, INCH * 17 / 32)
"""mm beside a drawer, each side: 1/2 in, 1/32 more and nothing less; makers of side mounts, trade practice."""
THICKEST_ON_UNDERMOUNTS = Fraction(16)
"""mm; usual undermounts reach round sides up to 5/8 in; trade practice."""
INSIDE_ON_UNDERMOUNTS = (Fraction(41), Fraction(43))
"""mm that a drawer on undermounts is narrower inside than its opening: 1 5/8 in, or 42 mm; trade practice."""
BELOW = {"side mount": Fraction(1), "undermount": INCH / 2}
"""mm below a drawer at least: that it touches nothing; that a slide has room there. Common practice, no source."""


def check_drawers(parts: Iterable[Part], rules: Mapping[str, Rules], notation: Notation) -> list[Finding]:
    """One finding for each carcass with drawers: they share its rules."""
    sides: dict[str, Part] = {}
    for part in parts:
        if part.role == "drawer side":
            sides.setdefault(part.carcass, part)
    return [_drawers(side, rules[carcass], notation) for carcass, side in sides.items()]


def _drawers(side: Part, rules: Rules, notation: Notation) -> Finding:
    say = notation.with_unit
    wrong: dict[str, str] = {}
    if rules.slides == "side mount":
        value, least, most = rules.slide_clearance, *SIDE_MOUNT
        if not least <= value <= most:
            asked = "1/2 in, 1/32 in more and nothing less" if notation.unit == "in" else "12.7 to 13.5 mm"
            wrong[f"{say(value)} beside the drawer, where makers ask for {asked}"] = "slide clearance"
    else:
        if not INSIDE_ON_UNDERMOUNTS[0] <= rules.undermount_less <= INSIDE_ON_UNDERMOUNTS[1]:
            asked = "1 5/8 in" if notation.unit == "in" else "42 mm"
            wrong[f"{say(rules.undermount_less)} narrower inside than its opening, where makers ask for {asked}"] = (
                f"undermount less {asked}"
            )
        value, most = side.thickness, THICKEST_ON_UNDERMOUNTS
        if value > most:
            wrong[f"its sides are {say(value)} thick, and usual undermounts take {say(most)}"] = (
                "a thinner drawer panel"
            )
    if rules.drawer_below < BELOW[rules.slides]:
        wrong[f"{say(rules.drawer_below)} below it, where it wants {say(BELOW[rules.slides])} at least"] = (
            "drawer below"
        )
    return Finding(
        "drawer",
        f"drawers of carcass {side.carcass} on {rules.slides}s",
        "warn" if wrong else "ok",
        "; ".join(wrong) or f"{rules.slides}s have the room that they ask for",
        float(mm_number(value)),
        float(mm_number(most)),
        "mm",
        source="trade practice; the maker's instructions stand before it",
        mend=tuple(wrong.values()),
        brief=f"drawers {side.carcass}",
        mended_at=("row", side.carcass) if wrong else (),
    )
