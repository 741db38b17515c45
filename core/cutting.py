"""The cuts of a project: the steps of every sheet, which of them are ticked, and which may be next.

A step is known by the piece that it cuts: ticks name that, so they stay right whatever number
the step has.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from core.cuts.order import order_of
from core.cuts.steps import SheetToCut, Step
from core.mistakes import Mistake
from core.own_units import RoundSize
from core.project import CutMade
from core.sheets import MaterialSheets, PlannedSheet

SHORT = RoundSize(12, 300)
"""Along the fence, under which a sled is taken; common practice, no source."""


@dataclass(frozen=True, slots=True)
class PlannedStep:
    """A step in the order of the whole project."""

    step: Step
    sheet: PlannedSheet
    done: bool

    @property
    def number(self) -> int:
        """Its place in the order of work, from 1."""
        return self.step.number


def plan_cuts(materials: Sequence[MaterialSheets], saw: str, ticks: Sequence[CutMade]) -> tuple[PlannedStep, ...]:
    """Every step, numbered through, material by material and sheet by sheet as the order of cuts has it."""
    done = {(tick.sheet, tick.piece) for tick in ticks}
    steps: list[PlannedStep] = []
    for material in materials:
        for sheet in material.sheets:
            cut_up = SheetToCut(sheet.id, sheet.root, sheet.pieces)
            for step in order_of([cut_up], sheet.kerf, sheet.keeping, saw):
                numbered = replace(step, number=len(steps) + 1)
                steps.append(PlannedStep(numbered, sheet, (step.sheet, step.piece) in done))
    return tuple(steps)


def tick_for(steps: Sequence[PlannedStep], number: int, when: str) -> CutMade:
    """The tick of a step. Raises Mistake if it is ticked already, or if its piece has not been cut free yet."""
    chosen = _step(steps, number)
    if chosen.done:
        raise Mistake(f"step {number} is ticked already")
    maker = maker_of(steps, chosen)
    if maker and not maker.done:
        raise Mistake(f"step {number} cuts {chosen.step.piece}, which step {maker.number} makes: tick that first")
    made = tuple(piece.id for piece in chosen.step.pieces)
    return CutMade(chosen.step.sheet, chosen.step.piece, made, when)


def _step(steps: Sequence[PlannedStep], number: int) -> PlannedStep:
    if not 1 <= number <= len(steps):
        raise Mistake(f"there is no step {number}; there are {len(steps)}")
    return steps[number - 1]


def check_untick(steps: Sequence[PlannedStep], number: int) -> None:
    """Raises Mistake if the step is not ticked, or if what it makes has been cut since."""
    chosen = _step(steps, number)
    if not chosen.done:
        raise Mistake(f"step {number} is not ticked")
    made = {piece.id for piece in chosen.step.pieces}
    for later in steps:
        if later.done and later.step.sheet == chosen.step.sheet and later.step.piece in made:
            raise Mistake(f"step {later.number} has cut {later.step.piece} since: un-tick that first")


def maker_of(steps: Sequence[PlannedStep], chosen: PlannedStep) -> PlannedStep | None:
    """The step that makes the piece which `chosen` cuts; None where that is a whole sheet."""
    for earlier in steps:
        same_sheet = earlier.step.sheet == chosen.step.sheet
        if same_sheet and any(piece.id == chosen.step.piece for piece in earlier.step.pieces):
            return earlier
    return None
