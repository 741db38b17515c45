"""Whether a hand goes through what a face frame leaves open."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction
from itertools import pairwise

from core.checks.finding import Finding
from core.construction.part import Part
from core.construction.rule_book import Rules
from core.lengths import Notation, mm_number

LEAST_OPEN = Fraction(50)
"""mm of an opening, wide or high, through which a hand still goes; common practice, no source."""


def check_frames(parts: Iterable[Part], rules: Mapping[str, Rules], notation: Notation) -> list[Finding]:
    """A warning for each opening of a face frame that is narrower or lower than LEAST_OPEN."""
    frames: dict[str, list[Part]] = {}
    for part in parts:
        if part.role in ("stile", "frame rail") and part.carcass in rules:
            frames.setdefault(part.carcass, []).append(part)
    found = []
    for carcass, frame in frames.items():
        stiles = sorted((part for part in frame if part.role == "stile"), key=lambda part: part.box.low[0])
        for left, right in pairwise(stiles):
            rails = [
                part
                for part in frame
                if part.role == "frame rail"
                and part.box.low[0] < right.box.low[0]
                and part.box.high[0] > left.box.high[0]
            ]
            wide = right.box.low[0] - left.box.high[0]
            for below, above in pairwise(sorted(rails, key=lambda part: part.box.low[2])):
                high = above.box.low[2] - below.box.high[2]
                if min(wide, high) < LEAST_OPEN:
                    said = f"between {left.name.lower()} and {right.name.lower()}, over {below.name.lower()}"
                    found.append(_too_small(carcass, said, wide, high, notation))
    return found


def _too_small(carcass: str, said: str, wide: Fraction, high: Fraction, notation: Notation) -> Finding:
    """`said`: where in the frame an opening so `wide` and `high`, mm, is."""
    narrow = wide < LEAST_OPEN
    boards, rule, more = ("face frame", "face_frame", "wider") if narrow else ("frame rail", "frame_rail", "higher")
    return Finding(
        "face frame",
        f"the face frame of carcass {carcass}, {said}",
        "warn",
        f"it leaves {notation.with_unit(wide)} x {notation.with_unit(high)} open there, and no hand goes through less "
        f"than {notation.at_least(LEAST_OPEN)}",
        float(mm_number(min(wide, high))),
        float(LEAST_OPEN),
        "mm",
        "least of width and height",
        "common practice, no source",
        (f"make that bay or opening {more}", f"a narrower board as {boards}"),
        f"face frame {carcass}",
        ("row", carcass, "rules", rule),
    )
