"""A cut as it is said in the shop."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import groupby

from core.cuts.steps import Edge, Made
from core.cutting import SHORT, PlannedStep
from core.own_units import RoundSize
from core.plan import Plan
from core.sheets import PlannedSheet

SIDES: tuple[Edge, ...] = ("left", "right", "bottom", "top")
"""In the order in which a sheet's trim is kept."""
ACROSS: Mapping[Edge, Edge] = {"left": "right", "right": "left", "bottom": "top", "top": "bottom"}

NARROW = RoundSize(6, 150)
"""Between fence and blade, under which a push stick is taken; common practice, no source."""
FAR = RoundSize(52, 1320)
"""Most that a table saw's fence is commonly set to; common practice, no source."""


def comes_off(planned: PlannedStep, plan: Plan) -> str:
    """What the cut makes, the one against the fence first: `S1/1 + ply-1.3`; waste is called so."""
    return " + ".join(_name(made) for made in planned.step.pieces)


def _name(made: Made) -> str:
    if made.use == "waste":
        return "waste"
    return f"offcut {made.id}" if made.use == "offcut" else made.id


def in_words(planned: PlannedStep, plan: Plan) -> list[str]:
    """The cut in a few lines: what is done, what comes of it, what to beware of."""
    step, sheet, notation = planned.step, planned.sheet, plan.worked.notation
    say = notation.text
    first = step.pieces[0]
    way = "along the length" if step.direction == "rip" else "across the length"
    trimmed = trimmed_edge(planned)
    lines = [
        f"Step {planned.number}, {step.saw}: {step.direction} {step.piece}, {way}, "
        f"fence {notation.with_unit(sheet.mm(step.fence))} from its {step.edge} edge"
        + (f": trims the {trimmed} edge." if trimmed else ".")
    ]
    names = {kind.code: kind.name for kind in plan.kinds}
    for made in step.pieces:
        size = f"{say(sheet.mm(made.length))} x {say(sheet.mm(made.width))}"
        where = "against the fence" if made is first else "beyond the blade"
        what = {
            "part": f"part {made.id} {names.get(made.part or '', '')}: pencil it on",
            # Nothing can be mistaken for the only piece that is kept.
            "blank": f"to be cut again: pencil {made.id} on it" if _parts_ways(planned) else made.id,
            "offcut": f"offcut {made.id}, worth keeping",
            "waste": "waste",
        }[made.use]
        lines.append(f"  {where}: {what}, {size}")
    named = name_explained(plan, step.sheet)
    if named and named[0] == planned.number:
        lines.append(f"  {named[1]}")
    caution = _caution(planned, plan)
    return [*lines, f"  ! {caution}"] if caution else lines


def _parts_ways(planned: PlannedStep) -> bool:
    """Whether the cut leaves two pieces that are kept, so that they have to be told apart."""
    return sum(made.use != "waste" for made in planned.step.pieces) > 1


def name_explained(plan: Plan, sheet: str = "") -> tuple[int, str] | None:
    """The first step, of one sheet or of all, after which a piece is pencilled, and what its name means.

    None where no piece has to be told from another before it is a part.
    """
    for planned in plan.steps:
        if sheet in ("", planned.step.sheet) and _parts_ways(planned):
            for made in planned.step.pieces:
                if made.use == "blank":
                    number = made.id.removeprefix(f"{planned.step.sheet}.")
                    return planned.number, f"{made.id} is piece {number} of sheet {planned.step.sheet}"
    return None


def trimmed_edge(planned: PlannedStep) -> Edge | None:
    """The edge of the sheet that a cut does no more than trim; None where it does something else."""
    step, sheet = planned.step, planned.sheet
    edge, first = ACROSS[step.edge], step.pieces[0]
    lost = {
        "left": first.x,
        "right": sheet.length - first.x - first.length,
        "bottom": first.y,
        "top": sheet.width - first.y - first.width,
    }[edge]
    trims = lost and lost == sheet.trim[SIDES.index(edge)] and all(made.use == "waste" for made in step.pieces[1:])
    return edge if trims else None


def told_before(plan: Plan) -> dict[int, str]:
    """Lines that stand before a step of the cut list, by its number: the trimming of a sheet, and what follows it."""
    told: dict[int, str] = {}
    for _, of_sheet in groupby(plan.steps, key=lambda planned: planned.step.sheet):
        steps = list(of_sheet)
        edges = {planned.number: edge for planned in steps if (edge := trimmed_edge(planned))}
        if not edges:
            continue
        sheet = steps[0].sheet
        told[min(edges)] = _trimming(sheet, [edge for edge in SIDES if edge in edges.values()], plan)
        last = next(planned for planned in steps if planned.number == max(edges))
        kept = last.step.pieces[0]
        if kept.use == "blank":
            say = plan.worked.notation.text
            size = f"{say(sheet.mm(kept.length))} x {say(sheet.mm(kept.width))}"
            told[last.number + 1] = f"then cut up the trimmed sheet, {kept.id}, {size}"
    return told


def _trimming(sheet: PlannedSheet, edges: Sequence[Edge], plan: Plan) -> str:
    """`trim all four edges by 6 mm, kerf counted`."""
    say = plan.worked.notation.with_unit
    lost = {edge: say(sheet.mm(sheet.trim[SIDES.index(edge)])) for edge in edges}
    which = "all four edges" if len(edges) == 4 else f"the {' and '.join(edges)} edge{'s' if len(edges) > 1 else ''}"
    if len(set(lost.values())) == 1:
        return f"trim {which} by {lost[edges[0]]}, kerf counted"
    return f"trim {which}, kerf counted: {', '.join(f'{edge} by {size}' for edge, size in lost.items())}"


def _caution(planned: PlannedStep, plan: Plan) -> str:
    """What to beware of at this cut, the worst of it; empty where it is an ordinary one. Common practice, no source."""
    step, sheet, notation = planned.step, planned.sheet, plan.worked.notation
    first, fence = step.pieces[0], sheet.mm(step.fence)
    along = sheet.mm(first.length if step.direction == "rip" else first.width)
    if fence > FAR.mm(notation):
        return (
            f"beyond {FAR.text(notation)}, past most table saws' fences: mark it, and cut with a track saw or along a "
            "straightedge"
        )
    if along < fence:
        return "shorter along the fence than across, and would pivot: crosscut sled or track saw"
    if along < SHORT.mm(notation):
        return (
            f"less than {SHORT.text(notation)} along the fence: a sled or a stop block, never mitre gauge and fence "
            "together"
        )
    if step.direction == "rip" and fence < NARROW.mm(notation):
        return f"narrow, below {NARROW.text(notation)}: push stick, and nothing between your hand and the blade but it"
    return ""
