"""Parts that are cut when the carcasses stand, as far as their place on the sheet lets them wait."""

from __future__ import annotations

from core.cuts.steps import Made
from core.cutting import PlannedStep
from core.plan import Plan


def held_in_words(plan: Plan) -> list[str]:
    """Held back parts that cannot wait, or with one of their sizes only: the others come off with what is wanted."""
    held = set(plan.project.design.held_back)
    makers = {made.id: (planned, made) for planned in plan.steps for made in planned.step.pieces}
    told = []
    for piece, (planned, made) in makers.items():
        if made.part not in held or planned.done:
            continue
        step, blank = planned, made
        while step.step.held and step.step.piece in makers:
            step, blank = makers[step.step.piece]
        if not step.step.held:
            told += _told(piece, made, blank, step, plan)
    return told


def _told(piece: str, made: Made, blank: Made, step: PlannedStep, plan: Plan) -> list[str]:
    """What there is to say of a part that waits in `blank`, which is cut free in `step`."""
    if blank is made:
        return [f"{piece} is held back, but comes off in step {step.number}: it cannot wait"]
    sheet, say = step.sheet, plan.worked.notation.text
    left, right, bottom, top = sheet.trim
    ways = (
        (made.length, blank.length, sheet.length - left - right),
        (made.width, blank.width, sheet.width - bottom - top),
    )
    # A part as long as the trimmed sheet is as long as can be, whatever the carcasses measure.
    early = [say(sheet.mm(size)) for size, there, most in ways if size == there != most]
    return [
        f"{piece} is held back, but its {size} is cut by step {step.number}: only the other waits" for size in early
    ]
