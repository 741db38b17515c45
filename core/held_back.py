"""Parts that are cut when the carcasses stand, as far as their place on the sheet lets them wait."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from core.cuts.steps import Made
from core.cutting import PlannedStep
from core.plan import Plan

Makers = Mapping[str, tuple[PlannedStep, Made]]
"""By the name of a piece, the step that cuts it free, and the piece."""


@dataclass(frozen=True, slots=True)
class CutEarly:
    """A held back part that cannot wait, or one of its sizes that cannot; `size` in mm."""

    piece: str
    step: int
    side: Literal["", "length", "width"] = ""
    """As the part lies. None where it comes off whole."""
    size: Fraction = Fraction(0)


def cut_early(plan: Plan) -> Iterator[CutEarly]:
    """What of the held back parts is cut with what is wanted; the others wait until that is done."""
    held = set(plan.project.design.held_back)
    makers = {made.id: (planned, made) for planned in plan.steps for made in planned.step.pieces}
    for piece, (planned, made) in makers.items():
        if made.part not in held or planned.done:
            continue
        step, blank = planned, made
        while step.step.held and step.step.piece in makers:
            step, blank = makers[step.step.piece]
        if step.step.held:
            continue
        if blank is made:
            yield CutEarly(piece, step.number)
        else:
            yield from _sizes_cut_early(piece, blank, makers)


def held_in_words(plan: Plan) -> list[str]:
    """Codes that no part has, and held back parts that cannot wait, or with one of their sizes only."""
    codes = {kind.code for kind in plan.kinds}
    unknown = [code for code in plan.project.design.held_back if code not in codes]
    return [
        *(f"{code} is held back, but no part has this code" for code in unknown),
        *(early_in_words(one, plan) for one in cut_early(plan)),
    ]


def early_in_words(early: CutEarly, plan: Plan) -> str:
    """`L2/1 is held back, but its 11 7/8 is cut by step 1: only the other waits`."""
    if not early.side:
        return f"{early.piece} is held back, but comes off in step {early.step}: it cannot wait"
    size = plan.worked.notation.text(early.size)
    return f"{early.piece} is held back, but its {size} is cut by step {early.step}: only the other waits"


def _sizes_cut_early(piece: str, blank: Made, makers: Makers) -> Iterator[CutEarly]:
    """The sizes of a part that the piece in which it waits has already."""
    planned, part = makers[piece]
    sheet = planned.sheet
    left, right, bottom, top = sheet.trim
    # A part as long as the trimmed sheet is as long as can be, whatever the carcasses measure.
    if part.length == blank.length != sheet.length - left - right:
        step = _cut_to(lambda one: one.length, blank, makers)
        yield CutEarly(piece, step.number, "length", sheet.mm(part.length))
    if part.width == blank.width != sheet.width - bottom - top:
        step = _cut_to(lambda one: one.width, blank, makers)
        yield CutEarly(piece, step.number, "width", sheet.mm(part.width))


def _cut_to(size: Callable[[Made], int], blank: Made, makers: Makers) -> PlannedStep:
    """The step that gave a piece its size: what it was cut out of may have had that already."""
    step, _ = makers[blank.id]
    while step.step.piece in makers:
        before, whole = makers[step.step.piece]
        if size(whole) != size(blank):
            break
        step = before
    return step
