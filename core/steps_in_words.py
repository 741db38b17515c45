"""A cut as it is said in the shop."""

from __future__ import annotations

from core.cuts.steps import Made
from core.cutting import SHORT, PlannedStep
from core.own_units import RoundSize
from core.plan import Plan

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
    lines = [
        f"Step {planned.number}, {step.saw}: {step.direction} {step.piece}, {way}, "
        f"fence {notation.with_unit(sheet.mm(step.fence))} from its {step.edge} edge."
    ]
    names = {kind.code: kind.name for kind in plan.kinds}
    for made in step.pieces:
        size = f"{say(sheet.mm(made.length))} x {say(sheet.mm(made.width))}"
        where = "against the fence" if made is first else "beyond the blade"
        what = {
            "part": f"part {made.id} {names.get(made.part or '', '')}: pencil it on",
            "blank": f"{made.id}, to be cut again: pencil it on",
            "offcut": f"offcut {made.id}, worth keeping",
            "waste": "waste",
        }[made.use]
        lines.append(f"  {where}: {what}, {size}")
    caution = _caution(planned, plan)
    return [*lines, f"  ! {caution}"] if caution else lines


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
