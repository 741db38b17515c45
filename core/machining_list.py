"""What is machined once the parts are cut, gathered by set-up: what one setting of bit, blade or fence serves."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from core.construction.part import Kind, Machining
from core.lengths import Notation
from core.lying import things_lying
from core.plan import Plan

Key = tuple[str, Fraction, Fraction, Fraction | None]


@dataclass(frozen=True, slots=True)
class SetUp:
    """One setting, and where it serves. Sizes in mm."""

    number: int
    kind: str
    across: Fraction
    """How wide the cut is."""
    long: Fraction | None
    """How long it is, where that is set too: a notch; None for a cut that runs through."""
    depth: Fraction | None
    """None goes right through."""
    cuts: tuple[tuple[Kind, Machining], ...]


def set_ups(kinds: Sequence[Kind]) -> list[SetUp]:
    """Every set-up, in the order in which the parts first ask for it."""
    found: dict[Key, list[tuple[Kind, Machining]]] = {}
    for kind in kinds:
        for cut in kind.part.machining:
            found.setdefault(_key(cut), []).append((kind, cut))
    return [
        SetUp(number, key[0], key[1], key[2] if key[0] == "notch" else None, key[3], tuple(cuts))
        for number, (key, cuts) in enumerate(found.items(), start=1)
    ]


def _key(cut: Machining) -> Key:
    across, long = sorted((cut.length, cut.width))
    # How far a rabbet runs is no setting: it runs from end to end, or to where it is stopped.
    return cut.kind, across, long if cut.kind == "notch" else Fraction(0), cut.depth


def set_up_in_words(one: SetUp, notation: Notation) -> str:
    """`rabbet 6 wide, 7 deep`, `notch 100 x 75`."""
    say = notation.text
    size = f"{say(one.across)} x {say(one.long)}" if one.long is not None else f"{say(one.across)} wide"
    return f"{one.kind} {size}, {'right through' if one.depth is None else f'{say(one.depth)} deep'}"


def machining_in_words(plan: Plan) -> list[str]:
    """The list by set-up: each with its pieces and where on them, and which of these are not cut yet."""
    cut = {thing.name for thing in things_lying(plan).values() if thing.is_part}
    lines = []
    for one in set_ups(plan.kinds):
        lines.append(f"set-up {one.number}: {set_up_in_words(one, plan.worked.notation)}")
        for kind, machining in one.cuts:
            pieces = kind.piece_ids()
            waiting = [piece for piece in pieces if piece not in cut]
            told = (
                "" if not waiting else ", not cut yet" if waiting == pieces else f", not cut yet: {', '.join(waiting)}"
            )
            face = f", {kind.part.face_name(machining.face)} face" if machining.face else ""
            lines.append(f"  [ ] {', '.join(pieces)}: at the {machining.place}{face}{told}")
    return lines
