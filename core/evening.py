"""Sizes that differ by less than the tape shows: pointed out, and cut as one where the person says so.

Two fence settings a few tenths apart are set twice and come out as one, or as neither. Whoever
makes them one chooses which; what is cut so is off by less than a tape's step.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise

from core.construction.part import Kind, Part
from core.lengths import UNITS, Notation

Cut = tuple[str, Fraction]
"""A material, and a size of blanks of it, mm."""


@dataclass(frozen=True, slots=True)
class NearSizes:
    """Two sizes of blanks of one material, the smaller first, mm, and the codes of the parts that have them."""

    material: str
    sizes: tuple[Fraction, Fraction]
    codes: tuple[tuple[str, ...], tuple[str, ...]]


def near_sizes(kinds: Sequence[Kind], notation: Notation, made: Collection[str] = ()) -> list[NearSizes]:
    """All pairs of neighbouring sizes that differ by less than a step of the tape.

    `made`: pieces that are cut, `S1/1`: no saw is set any more for a kind of which all are.
    """
    having: dict[Cut, list[str]] = {}
    for kind in kinds:
        if all(piece in made for piece in kind.piece_ids()):
            continue
        for size in {kind.part.blank_length, kind.part.blank_width}:
            having.setdefault((kind.part.material, size), []).append(kind.code)
    step = UNITS[notation.unit] * notation.step
    return [
        NearSizes(one[0], (one[1], other[1]), (tuple(having[one]), tuple(having[other])))
        for one, other in pairwise(sorted(having))
        if one[0] == other[0] and other[1] - one[1] < step
    ]


def evened(parts: Iterable[Part], cut_as: Mapping[Cut, Fraction]) -> tuple[Part, ...]:
    """The parts, with blanks of those sizes cut as others."""
    if not cut_as:
        return tuple(parts)
    found = []
    for part in parts:
        sizes = part.blank_length, part.blank_width
        length, width = (cut_as.get((part.material, size), size) for size in sizes)
        found.append(part if (length, width) == sizes else replace(part, blank=(length, width)))
    return tuple(found)
