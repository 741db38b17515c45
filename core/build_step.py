"""What the steps of putting a piece together are made of."""

from __future__ import annotations

from collections.abc import Callable, Container
from dataclasses import dataclass

from core.checks.moving import ONE_PERSON
from core.construction.part import Part
from core.lengths import Notation
from core.own_units import weight_text
from core.plan import Plan


@dataclass(frozen=True, slots=True)
class BuildStep:
    """One thing to do; `caution` where somebody can be hurt."""

    about: str
    text: str
    caution: str = ""


def lifting(notation: Notation) -> str:
    return (
        f"A full sheet is a lift for two, or a dolly: most weigh more than {weight_text(ONE_PERSON, notation)}, the "
        "most for one person."
    )


def all_of(word: str, pieces: str, several: str = "") -> str:
    """`the door G1/1`, `the doors G1/1, G2/1`."""
    return f"the {(several or f'{word}s') if ', ' in pieces else word} {pieces}"


def listed(plan: Plan, wanted: Callable[[Part], bool], without: Container[str] = ()) -> str:
    """The pieces of the wanted parts, by their codes; none of those `without` names."""
    return ", ".join(
        piece
        for kind in plan.kinds
        if kind.code not in without
        for piece, (_, part) in zip(kind.piece_ids(), kind.pieces, strict=True)
        if wanted(part)
    )
