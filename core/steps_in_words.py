"""A cut as it is said in the shop."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby

from core.cuts.saws import ONE_PERSON, TOO_FAR, SawKind
from core.cuts.steps import EDGES, OPPOSITE, Edge, Made
from core.cutting import SHORT, PlannedStep, handled_by_one
from core.lengths import INCH, Notation, Unit
from core.on_hand import code_of
from core.own_units import RoundSize, weight_text
from core.plan import Plan
from core.planned_sheet import PlannedSheet
from core.squaring import squaring_in_words

SETTINGS: Mapping[SawKind, str] = {
    "any": "fence",
    "table": "fence",
    "track": "line",
    "circular": "line",
    "mitre": "stop",
    "yard": "line",
}
"""What is set at a saw."""
KEPT_AT: Mapping[SawKind, str] = {
    "any": "against the fence",
    "table": "against the fence",
    "track": "under the track",
    "circular": "under the straightedge",
    "mitre": "against the stop",
    "yard": "measured off",
}
"""Where the piece lies that the setting measures."""

FACES: Mapping[SawKind, str] = {
    "track": "good face up",
    "circular": "good face down",
    "table": "good face up",
    "mitre": "good face up",
}
SKIMMED = "a thinner blade has left it a little too large: this takes it to size"
HELD = "held back: measure the carcasses as they stand first, and change the size if they ask for it"

LARGE = RoundSize(12, 300)
"""The shorter side of a part whose squareness is worth measuring; common practice, no source."""

OUT_OF_SQUARE: Mapping[Unit, Fraction] = {"in": INCH / 16, "mm": Fraction(3, 2)}
"""By how much the diagonals of a part may differ; common practice, no source."""

NARROW = RoundSize(6, 150)
"""Between fence and blade, under which a push stick is taken; common practice, no source."""
FAR = RoundSize(52, 1320)
"""Most that a table saw's fence is commonly set to; common practice, no source."""


def comes_off(planned: PlannedStep, plan: Plan) -> str:
    """What the cut makes, the one against the fence first: `S1/1 + ply-1.3`; waste is called so."""
    return " + ".join(_name(made, name) for made, name in zip(planned.step.pieces, planned.names, strict=True))


def _name(made: Made, pencilled: str) -> str:
    if unsuited := suits_no_longer(made, pencilled):
        return unsuited
    if made.use == "waste":
        return "waste"
    return f"offcut {made.id}" if made.use == "offcut" else pencilled


def suits_no_longer(made: Made, pencilled: str) -> str:
    """`S1/1, no longer suits`, of what was cut to be a part, and is none now; empty for any other piece."""
    return f"{pencilled}, no longer suits" if made.use != "part" and code_of(pencilled) else ""


def in_words(planned: PlannedStep, plan: Plan) -> list[str]:
    """The cut in a few lines: what is done, what comes of it, what to beware of."""
    step, sheet, notation = planned.step, planned.sheet, plan.worked.notation
    say = notation.text
    way = "along the length" if step.direction == "rip" else "across the length"
    trimmed = trimmed_edge(planned)
    face = face_of(planned, plan)
    lines = [
        f"Step {planned.number}, {step.saw.name}: {step.direction} {step.piece}, {way}, "
        f"{SETTINGS[step.saw.kind]} {notation.with_unit(sheet.mm(step.fence))} from its {step.edge} edge"
        + (f", {face}" if face else "")
        + (f": trims the {trimmed} edge." if trimmed else ".")
    ]
    if step.held:
        lines.append(f"  {HELD}")
    if step.skims:
        lines.append(f"  {SKIMMED}")
    names = {kind.code: kind.name for kind in plan.kinds}
    for made, name in zip(step.pieces, planned.names, strict=True):
        size = f"{say(sheet.mm(made.length))} x {say(sheet.mm(made.width))}"
        where = KEPT_AT[step.saw.kind] if made is step.pieces[0] else "beyond the blade"
        what = {
            "part": f"part {name} {names.get(made.part or '', '')}: pencil it on",
            # Nothing can be mistaken for the only piece that is kept.
            "blank": f"to be cut again: pencil {made.id} on it" if is_to_be_named(planned, plan) else made.id,
            "offcut": f"offcut {made.id}, worth keeping: pencil that on",
            "waste": "waste",
        }[made.use]
        lines.append(f"  {where}: {suits_no_longer(made, name) or what}, {size}")
    lines += [f"  {told}" for told in names_explained(planned, plan)]
    lines += [f"  {told}" for told in squaring_in_words(planned, plan)]
    lines += [f"  {told}" for told in (diagonals_in_words(planned, plan), weight_in_words(planned, plan)) if told]
    return [*lines, *(f"  ! {caution}" for caution in step_cautions(planned, plan))]


def weight_in_words(planned: PlannedStep, plan: Plan) -> str:
    """What the piece weighs, where that is more than one person should lift; empty where it is not."""
    step = planned.step
    if step.weight <= ONE_PERSON or step.saw.kind == "yard":
        return ""
    return (
        f"{step.piece} weighs about {weight_text(step.weight, plan.worked.notation)}: a lift for two, or cut it lying"
    )


def diagonals_in_words(planned: PlannedStep, plan: Plan) -> str:
    """What the diagonals of a large part measure, once it is cut all round; empty for a small one. Common practice.

    A panel that is out of square shows it there first, and pulls the carcass with it.
    """
    notation, mm = plan.worked.notation, planned.sheet.mm
    for made in planned.step.pieces:
        length, width = mm(made.length), mm(made.width)
        if made.use == "part" and min(length, width) >= LARGE.mm(notation):
            diagonal = Fraction(math.isqrt(int((length**2 + width**2) * 10**6)), 1000)
            return (
                f"{made.id}: both diagonals read {notation.text(diagonal)}, to within "
                f"{notation.with_unit(OUT_OF_SQUARE[notation.unit])}"
            )
    return ""


def face_of(planned: PlannedStep, plan: Plan) -> str:
    """Which face is up, so that the blade tears where it does not show; empty where both are alike. Common practice.

    The teeth of a table saw leave the piece below, those of a hand-held circular saw above; a
    track's strip lies close to the blade, and keeps the fibres of the upper face down.
    """
    material = plan.project.design.materials.get(planned.sheet.material)
    if material is None or material.faces == "alike":
        return ""
    return FACES.get(planned.step.saw.kind, "")


def is_to_be_named(planned: PlannedStep, plan: Plan) -> bool:
    """Whether a blank that the cut makes could be taken for another before it is cut itself."""
    after = next((one for one in plan.steps if one.number > planned.number), None)
    goes_on = after is not None and any(made.id == after.step.piece for made in planned.step.pieces)
    return parts_ways(planned) or not goes_on


def parts_ways(planned: PlannedStep) -> bool:
    """Whether the cut leaves two pieces that are kept, so that they have to be told apart."""
    return sum(made.use != "waste" for made in planned.step.pieces) > 1


def names_explained(planned: PlannedStep, plan: Plan) -> list[str]:
    """What names mean that are pencilled at this step for the first time."""
    named = name_explained(plan, planned.step.sheet)
    told = [named[1]] if named and named[0] == planned.number else []
    for made in planned.step.pieces:
        if made.id.endswith("x"):
            told.append(f"{made.id} is a little too large: cut to size it is {made.id[:-1]}")
    return told


def name_explained(plan: Plan, sheet: str = "") -> tuple[int, str] | None:
    """The first step, of one sheet or of all, after which a piece is pencilled, and what its name means.

    None where no piece has to be told from another before it is a part.
    """
    for planned in plan.steps:
        if sheet in ("", planned.step.sheet) and parts_ways(planned):
            for made in planned.step.pieces:
                if made.use == "blank":
                    of, _, number = made.id.rpartition(".")
                    return planned.number, f"{made.id} is piece {number} of sheet {of}"
    return None


def trimmed_edge(planned: PlannedStep) -> Edge | None:
    """The edge of the sheet that a cut does no more than trim; None where it does something else."""
    step, sheet = planned.step, planned.sheet
    edge, first = OPPOSITE[step.edge], step.pieces[0]
    lost = {
        "left": first.x,
        "right": sheet.length - first.x - first.length,
        "bottom": first.y,
        "top": sheet.width - first.y - first.width,
    }[edge]
    trims = lost and lost == sheet.trim[EDGES.index(edge)] and all(made.use == "waste" for made in step.pieces[1:])
    # A piece that is skimmed there has lost its trim already.
    return edge if trims and not step.skims else None


def told_before(plan: Plan) -> dict[int, str]:
    """Lines that stand before a step of the cut list, by its number: the trimming of a sheet, and what follows it."""
    told: dict[int, str] = {}
    of_sheets: dict[str, list[PlannedStep]] = {}
    for planned in plan.steps:
        of_sheets.setdefault(planned.step.sheet, []).append(planned)
    for steps in of_sheets.values():
        trims = {planned.number: (planned, edge) for planned in steps if (edge := trimmed_edge(planned))}
        if not trims:
            continue
        sheet = steps[0].sheet
        edges = [edge for edge in EDGES if edge in {edge for _, edge in trims.values()}]
        told[min(trims)] = _trimming(sheet, edges, plan)
        if steps[0].number not in trims:
            # It is in pieces before it is trimmed.
            told[min(trims)] += f": sheet {sheet.id}, piece by piece"
            continue
        if max(trims) - min(trims) >= len(trims):
            # Trims of other sheets come between.
            told[min(trims)] += f": sheet {sheet.id}"
        kept = trims[max(trims)][0].step.pieces[0]
        after = next((planned.number for planned in steps if planned.step.piece == kept.id), None)
        if after is not None:
            say = plan.worked.notation.text
            size = f"{say(sheet.mm(kept.length))} x {say(sheet.mm(kept.width))}"
            told[after] = f"then cut up the trimmed sheet, {kept.id}, {size}"
    return told


@dataclass(frozen=True, slots=True)
class Group:
    """Steps that follow one another at one saw, and what is said over them."""

    title: str
    steps: tuple[PlannedStep, ...]


def grouped(plan: Plan) -> list[Group]:
    """The steps as they are done: each sheet by itself while it is too much for one person, then saw after saw."""
    most = handled_by_one(plan.worked.saws)

    def place(planned: PlannedStep) -> tuple[str, str, str, bool]:
        # Whoever cuts them elsewhere lifts them too.
        at_home = planned.step.saw.kind != "yard"
        alone = planned.step.sheet if at_home and planned.step.weight > most else ""
        return planned.sheet.material, planned.step.saw.name, alone, planned.step.held

    groups = []
    for (material, saw, alone, held), steps in groupby(plan.steps, key=place):
        of_group = tuple(steps)
        first = of_group[0].sheet
        size = first.stock or "a piece on hand"
        title = f"{alone}, {size}, where it lies: {saw}" if alone else f"{material}: {saw}"
        if of_group[0].step.saw.kind == "yard":
            title += ", before they come home"
        groups.append(Group(f"{title}, when the carcasses stand" if held else title, of_group))
    return groups


def is_new_setting(planned: PlannedStep, before: PlannedStep | None) -> bool:
    """Whether the fence or the line has to be set anew for a step."""
    if before is None or before.step.saw != planned.step.saw:
        return True
    return before.sheet.mm(before.step.fence) != planned.sheet.mm(planned.step.fence)


def _listed(words: Sequence[str]) -> str:
    """`left, bottom and top`."""
    return " and ".join(part for part in (", ".join(words[:-1]), words[-1]) if part)


def _trimming(sheet: PlannedSheet, edges: Sequence[Edge], plan: Plan) -> str:
    """`trim all four edges by 6 mm, kerf counted`."""
    say = plan.worked.notation.with_unit
    lost = {edge: say(sheet.mm(sheet.trim[EDGES.index(edge)])) for edge in edges}
    which = "all four edges" if len(edges) == 4 else f"the {_listed(edges)} edge{'s' if len(edges) > 1 else ''}"
    if len(set(lost.values())) == 1:
        return f"trim {which} by {lost[edges[0]]}, kerf counted"
    return f"trim {which}, kerf counted: {', '.join(f'{edge} by {size}' for edge, size in lost.items())}"


def step_cautions(planned: PlannedStep, plan: Plan) -> list[str]:
    """What to beware of at this cut; none where it is an ordinary one. Common practice, no source."""
    step, notation = planned.step, plan.worked.notation
    if step.cannot:
        return [f"no saw of this shop can make it: {step.cannot}"]
    found = [_CAUTIONS.get(step.saw.kind, _at_a_fence)(planned, notation)]
    if step.factory and step.saw.kind == "table":
        found.append("a factory edge lies against the fence: see that it is straight, or true it first")
    return [caution for caution in found if caution]


def _at_a_fence(planned: PlannedStep, notation: Notation) -> str:
    """The worst of it, for a table saw or a saw that nothing is told of."""
    step, fence, along, across = planned.step, *planned.extents
    if step.saw.kind == "any" and fence > FAR.mm(notation):
        return (
            f"beyond {FAR.text(notation)}, past most table saws' fences: mark it, and cut with a track saw or along a "
            "straightedge"
        )
    if along < across:
        return "shorter along the fence than across, and would pivot: crosscut sled or track saw"
    if along < SHORT.mm(notation):
        return (
            f"less than {SHORT.text(notation)} along the fence: a sled or a stop block, never mitre gauge and fence "
            "together"
        )
    if step.direction == "rip" and fence < NARROW.mm(notation):
        return f"narrow, below {NARROW.text(notation)}: push stick, and nothing between your hand and the blade but it"
    return ""


def _along_a_track(planned: PlannedStep, notation: Notation) -> str:
    keeper, along, across = planned.extents
    rail = "track" if planned.step.saw.kind == "track" else "straightedge"
    if min(along, across) < NARROW.mm(notation):
        return f"small for a {rail}: clamp it down, with something as thick beside it for the {rail} to lie on"
    if keeper < NARROW.mm(notation):
        return f"a narrow keeper under a {rail}: something as thick beside it for the {rail} to lie on"
    return ""


def _at_a_stop(planned: PlannedStep, notation: Notation) -> str:
    fence, _, _ = planned.extents
    if fence < NARROW.mm(notation):
        return f"short, below {NARROW.text(notation)}: clamp it, and keep the hand as far from the blade as that"
    return ""


_CAUTIONS: Mapping[SawKind, Callable[[PlannedStep, Notation], str]] = {
    "track": _along_a_track,
    "circular": _along_a_track,
    "mitre": _at_a_stop,
    "yard": lambda planned, notation: "",
}


def uncut_in_words(plan: Plan) -> list[str]:
    """The cuts that no saw of this shop can make, with the reason: a sentence for each reason."""
    by_reason: dict[str, list[PlannedStep]] = {}
    for planned in plan.steps:
        if planned.step.cannot:
            by_reason.setdefault(planned.step.cannot, []).append(planned)
    told = []
    for reason, steps in by_reason.items():
        first = steps[0]
        along = first.extents[1]
        which = f"step {first.number}, a {first.step.direction} of {plan.worked.notation.with_unit(along)}"
        more = f" and {len(steps) - 1} more" if len(steps) > 1 else ""
        if TOO_FAR in reason:
            other, longer = ("crosscut", "rips") if first.step.direction == "rip" else ("rip", "crosscuts")
            reason += f": a first {other} of the sheet, at Goods, makes the {longer} shorter"
        told.append(f"no saw of this shop can make {which} through {first.step.piece}{more}: {reason}")
    return told


def no_cut_in_words(plan: Plan) -> str:
    """Why there is no cut to be made. Only where there is none."""
    facts = plan.project.facts
    if plan.pending:
        return "Laying out…"
    if not facts.cuts and not facts.history:
        return "No cuts yet"
    if any(one.unplaced for one in plan.sheets):
        return "Every cut is made that there is a sheet for"
    return "Every cut is made"
