"""Does it go together, and does it go into its space."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from fractions import Fraction

from core.checks.finding import Finding
from core.construction.part import Part
from core.construction.row import Standing
from core.construction.rules import usual
from core.dry_fit import Misfit
from core.edits import Path
from core.envelope import Envelope
from core.lengths import Notation, mm_number
from core.solids import outside

USUAL_GAP = Fraction(3)
"""mm between two doors; trade practice."""


def check_dry_fit(misfits: Sequence[Misfit], parts: Sequence[Part], notation: Notation) -> list[Finding]:
    """Nothing in another's place, every joint touching."""
    if not parts:
        return []
    if not misfits:
        return [
            Finding(
                "dry fit",
                f"{len(parts)} parts",
                "ok",
                "every joint meets and no part is in another's place",
                source="geometry",
            )
        ]
    return [
        Finding(
            "dry fit",
            f"{told.one.name} {told.one.carcass} and {told.other.name if told.other else 'the piece'}",
            "fail",
            f"they {told.sentence}" + (f", by {notation.with_unit(told.amount)}" if told.amount else ""),
            float(mm_number(told.amount)),
            0.0,
            "mm",
            source="geometry",
            mend=_mend_misfit(told, notation),
            brief=f"{told.one.name.partition(',')[0]} {told.one.carcass}",
            mended_at=_misfit_mended_at(told),
        )
        for told in misfits
    ]


def _mend_misfit(told: Misfit, notation: Notation) -> tuple[str, ...]:
    if _is_top(told.one) or _is_top(told.other):
        return ("less overhang at that end", "a top over fewer items of the row, or no second top over the same")
    if _is_gap(told):
        return _wider_gap(told.one, notation)
    if told.sentence.endswith("opens"):
        return ("a gap or a filler beside it", "a door hinged on its other side", "another front there")
    return ("this is a fault of the program's rules: please report it",)


def _wider_gap(door: Part, notation: Notation) -> tuple[str, ...]:
    """The gap that a door turns through: its far corner is the root of width and thickness squared from its edge."""
    wide, thick = door.box.span("x"), door.box.span("y")
    beyond = Fraction(math.hypot(wide, thick)) - wide
    if beyond < USUAL_GAP:
        return (f"front gap more, {usual('front_gap', notation.unit)} is usual",)
    return f"front gap {notation.at_least(beyond)} or more", "wider doors"


def _misfit_mended_at(told: Misfit) -> Path:
    """The top that is in the way, if one is; the carcass whose fronts are too near each other."""
    if _is_gap(told):
        return ("row", told.one.carcass)
    parts = [part for part in (told.one, told.other) if part is not None]
    return next((("tops", part.carcass) for part in parts if _is_top(part)), ())


def _is_gap(told: Misfit) -> bool:
    """Whether a door meets what stands beside it in its own carcass: it turns out beyond its edge into the gap."""
    return (
        told.sentence.endswith("the door opens") and told.other is not None and told.one.carcass == told.other.carcass
    )


def _is_top(part: Part | None) -> bool:
    return part is not None and part.role == "worktop"


def check_reach(up_to: Fraction | None, parts: Sequence[Part], notation: Notation) -> list[Finding]:
    """Leans and levels count only as high as the piece was said to reach, mm; None where nothing was said."""
    whole = outside(parts)
    if up_to is None or whole is None or whole.high[2] <= up_to:
        return []
    say = notation.with_unit
    return [
        Finding(
            "space",
            "how high it reaches",
            "warn",
            f"the piece is {say(whole.high[2])} high, and how the walls lean was counted up to {say(up_to)} only",
            float(mm_number(whole.high[2])),
            float(mm_number(up_to)),
            "mm",
            source="geometry",
            mend=(f"height of the piece {say(whole.high[2])} or more, at the Space",),
            brief="height of the piece",
            mended_at=("space", "up_to"),
        )
    ]


SLIT = Fraction(127, 10)
"""mm, under a kick or a plinth: what is higher is hidden by no strip; common practice, no source."""


def check_floor(falls: Fraction, standing: Sequence[Standing], notation: Notation) -> list[Finding]:
    """How far what stands on the highest point of the floor stands off its lowest."""
    if not falls or not any(place.outside.height and not place.hangs for place in standing):
        return []
    ok, say = falls <= SLIT, notation.with_unit
    return [
        Finding(
            "floor",
            "under the piece",
            "ok" if ok else "warn",
            f"levelled from the floor's highest point the piece stands up to {say(falls)} above its lowest"
            + (": shims, and a scribe or a strip before them" if ok else ": more than a strip hides"),
            float(mm_number(falls)),
            float(mm_number(SLIT)),
            "mm",
            source="common practice, no source",
            mend=() if ok else ("a plinth or feet, and a kick panel scribed to the floor", "the floor levelled before"),
            mended_at=() if ok else ("space", "floor_out_of_level"),
        )
    ]


def check_space(
    envelope: Envelope,
    air: Mapping[str, Fraction],
    standing: Sequence[Standing],
    parts: Sequence[Part],
    notation: Notation,
) -> list[Finding]:
    """Outside size of what is built against the true box of the space.

    A top may reach through the clearance, `air`, to the wall; and a piece that is deeper than
    its space stands out of it, which is no fault if it is meant.
    """
    whole = outside(parts)
    if whole is None:
        return []
    left, right = Fraction(0), max((place.right for place in standing), default=Fraction(0))
    walls = {fit.wall for fit in envelope.sides}
    if "left" in walls:
        left = min(left, whole.low[0] + air["left"])
    if "right" in walls:
        right = max(right, whole.high[0] - air["right"])
    measures = (
        ("width", right - left, envelope.width),
        ("depth", whole.span("y"), envelope.depth),
        ("height", whole.high[2], envelope.height),
    )
    found = []
    for word, size, room in measures:
        if room is None:
            found.append(
                Finding(
                    "space",
                    word,
                    "unknown",
                    f"no {word} of the space has been read",
                    mend=(f"read the {word}",),
                    mended_at=("space", "readings"),
                )
            )
            continue
        fits, proud = size <= room, word == "depth"
        found.append(
            Finding(
                "space",
                word,
                "ok" if fits else "warn" if proud else "fail",
                f"the piece is {notation.with_unit(size)}, the true box of the space {notation.with_unit(room)}"
                + (f"; it stands {notation.with_unit(size - room)} out in front" if proud and not fits else ""),
                float(mm_number(size)),
                float(mm_number(room)),
                "mm",
                "largest true box from the readings, less the clearances",
                "geometry",
                () if fits else (f"make it {notation.with_unit(size - room)} less in {word}",),
                mended_at=() if fits else _made_less_at(word, room, standing, parts),
            )
        )
    return found


def _made_less_at(word: str, room: Fraction, standing: Sequence[Standing], parts: Sequence[Part]) -> Path:
    """The size that decides how wide, deep or high the piece is: the row's, a carcass's, or the overhang of a top."""
    if word == "width":
        if max((place.right for place in standing), default=Fraction(0)) > room:
            return ("row_width",)
        right, left = max(parts, key=lambda part: part.box.high[0]), min(parts, key=lambda part: part.box.low[0])
        side, widest = ("right", right) if _is_top(right) else ("left", left)
        return ("tops", widest.carcass, f"overhang_{side}") if _is_top(widest) else ("row_width",)
    if word == "depth":
        front = min(parts, key=lambda part: part.box.low[1])
        return ("tops", front.carcass, "overhang_front") if _is_top(front) else ("row", front.carcass, "depth")
    highest = max((part for part in parts if not _is_top(part)), key=lambda part: part.box.high[2])
    return ("row", highest.carcass, "height")
