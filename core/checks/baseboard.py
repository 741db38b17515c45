"""Does a back still meet the bottom where a baseboard stands behind the two of them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

from core.checks.finding import Finding
from core.construction.part import Box, Part
from core.construction.row import Standing
from core.construction.rule_book import Rules
from core.lengths import Notation, mm_number

ZERO = Fraction(0)


def check_backs(
    standing: Sequence[Standing],
    parts: Sequence[Part],
    rules: Mapping[str, Rules],
    baseboard: tuple[Fraction, Fraction] | None,
    notation: Notation,
) -> list[Finding]:
    """Per carcass with a back down to its bottom. A board higher than the kick shortens both, and may part them.

    `baseboard`: height and thickness of the one at the back wall, mm. A back that hangs from the
    top by rule is meant to end above the bottom, and is left out.
    """
    if not baseboard:
        return []
    found = []
    for place in standing:
        own = {part.role: part for part in parts if part.carcass == place.item.id and part.role in ("back", "bottom")}
        if len(own) == 2 and rules[place.item.id].back_reach != "part":
            found.append(_check(place.item.id, own["back"].box, own["bottom"].box, rules[place.item.id], notation))
    return found


def _check(carcass: str, back: Box, bottom: Box, rules: Rules, notation: Notation) -> Finding:
    over = max(back.start("z") - bottom.high[2], ZERO)
    behind = max(back.start("y") - bottom.high[1], ZERO)
    slot = over or behind
    if over:
        because = (
            f"a slot {notation.with_unit(over)} high is left between the bottom's top face and the back's lower edge"
        )
    elif behind:
        because = f"a slot {notation.with_unit(behind)} wide is left between the bottom's rear edge and the back"
    else:
        because = "back and bottom meet"
    needed = notation.at_least(back.start("z"))
    higher: tuple[str, ...] = (f"a {'plinth' if rules.base == 'plinth' else 'kick'} at least {needed} high",)
    rule = "kick_height"
    if rules.base == "none":
        higher, rule = (f"above floor {needed} or more, if it hangs", *higher), "above_floor"
    return Finding(
        "baseboard",
        f"carcass {carcass}",
        "warn" if slot else "ok",
        because + (": the baseboard stands where they would meet" if slot else ""),
        float(mm_number(slot)),
        0.0,
        "mm",
        source="geometry",
        mend=(
            *higher,
            "a cleat behind, glued to the bottom, that closes the slot",
            "the baseboard cut away behind the carcass, and taken out of the readings",
        )
        if slot
        else (),
        brief=carcass,
        mended_at=("row", carcass, "rules", rule) if slot else (),
    )
