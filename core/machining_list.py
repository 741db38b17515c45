"""What is machined once the parts are cut, gathered by set-up: what one setting of bit, blade or fence serves."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from core.construction.part import Axis, Holes, Kind, Machining, Part
from core.cutting import cut_free
from core.drawing.part_notes import in_blank, is_channel, is_trimmed, lies_along, placed
from core.drawing.part_seen import seen
from core.lengths import Notation
from core.own_units import metric
from core.plan import Plan

EXTENTS: Mapping[Axis, str] = {"z": "high", "x": "wide", "y": "deep"}
"""In the order in which they are said."""

Key = tuple[str, Fraction, Fraction, Fraction | None]


@dataclass(frozen=True, slots=True)
class SetUp:
    """One setting, and where it serves. Sizes in mm."""

    number: int
    kind: str
    """What it makes: `rabbet`, `notch`, `hole`; `dado and groove` where one bit does for both."""
    across: Fraction
    """How wide the cut or the hole is."""
    long: Fraction | None
    """How long it is, where that is set too: a notch or a cutout; None for a cut that runs through, and for a hole."""
    depth: Fraction | None
    """None goes right through."""
    cuts: tuple[tuple[Kind, Machining | Holes], ...]


def set_ups(kinds: Sequence[Kind]) -> list[SetUp]:
    """Every set-up, in the order in which the parts first ask for it; what is bored comes last."""
    found: dict[Key, list[tuple[Kind, Machining | Holes]]] = {}
    for kind in kinds:
        for cut in kind.part.machining:
            found.setdefault(_key(cut, kind.part), []).append((kind, cut))
    for kind in kinds:
        for holes in kind.part.holes:
            found.setdefault(_key(holes, kind.part), []).append((kind, holes))
    return [
        SetUp(number, _made(cuts), key[1], key[2] or None, key[3], tuple(cuts))
        for number, (key, cuts) in enumerate(found.items(), start=1)
    ]


def _key(cut: Machining | Holes, part: Part) -> Key:
    if isinstance(cut, Holes):
        return "hole", cut.diameter, Fraction(0), cut.depth
    if is_channel(cut):
        return "channel", cut.width if lies_along(cut) else cut.length, Fraction(0), cut.depth
    across, long = sorted(in_blank(part, cut))
    # How far a rabbet runs is no setting: it runs from end to end, or to where it is stopped.
    return cut.kind, across, long if cut.depth is None else Fraction(0), cut.depth


def _made(cuts: Sequence[tuple[Kind, Machining | Holes]]) -> str:
    return " and ".join(dict.fromkeys("hole" if isinstance(cut, Holes) else cut.kind for _, cut in cuts))


def set_up_in_words(one: SetUp, notation: Notation) -> str:
    """`rabbet 6 wide, 7 deep`, `notch 100 x 75, right through`, `hole 5 wide, 12 deep`."""
    say = (lambda size: metric(size, notation.text)) if one.kind == "hole" else notation.text
    size = f"{say(one.across)} x {say(one.long)}" if one.long is not None else f"{say(one.across)} wide"
    return f"{one.kind} {size}, {'right through' if one.depth is None else f'{say(one.depth)} deep'}"


def place_in_words(cut: Machining | Holes) -> str:
    """`at the back edge`, `for the bottom`; of holes how many there are, and which row."""
    if isinstance(cut, Holes):
        counted = f"{cut.count} hole{'' if cut.count == 1 else 's'}"
        return f"{cut.place}: {counted}" if cut.place else counted
    return cut.place if cut.place.startswith("for ") or not cut.place else f"at the {cut.place}"


def where_in_words(part: Part, cut: Machining | Holes, notation: Notation) -> str:
    """The place, how far from the end or the edge the part's drawing measures it, and the face."""
    lying = seen(part)
    told = [cut.place if isinstance(cut, Holes) else place_in_words(cut)]
    if isinstance(cut, Machining) and cut.depth is None:
        told.append(across_in_words(part, cut, notation))
    told += placed(lying, lying.as_seen(cut), notation.text)
    if cut.face and cut.depth is not None:
        told.append(f"{part.face_name(cut.face)} face")
    if is_trimmed(part):
        told.append("once it is trimmed flush")
    return ", ".join(filter(None, told))


def across_in_words(part: Part, cut: Machining, notation: Notation) -> str:
    """`100 high and 75 deep`: which way round a notch or a cutout is, as the part stands.

    `151 high with the 8 to scribe and 13 deep`, where it is cut before the part is scribed there.
    """
    length, width = in_blank(part, cut)
    sizes = {part.length_axis: (length, length - cut.length), part.width_axis: (width, width - cut.width)}
    return " and ".join(
        f"{notation.text(size)} {EXTENTS[axis]}" + (f" with the {notation.text(more)} to scribe" if more else "")
        for axis in EXTENTS
        if axis in sizes
        for size, more in (sizes[axis],)
    )


def machining_in_words(plan: Plan) -> list[str]:
    """The list by set-up: each with its pieces and where on them, and which of these are not cut yet."""
    cut = cut_free(plan.sheets, plan.steps)
    notation = plan.worked.notation
    lines = []
    for one in set_ups(plan.kinds):
        lines.append(f"set-up {one.number}: {set_up_in_words(one, notation)}")
        for kind, machining in one.cuts:
            pieces = kind.piece_ids()
            waiting = [piece for piece in pieces if piece not in cut]
            told = (
                "" if not waiting else ", not cut yet" if waiting == pieces else f", not cut yet: {', '.join(waiting)}"
            )
            lines.append(f"  [ ] {', '.join(pieces)}: {where_in_words(kind.part, machining, notation)}{told}")
    return lines
