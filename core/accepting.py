"""Settling a plan: the layouts that hold from now on, with the numbers of their steps."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from core.cutting import PlannedStep, write_steps
from core.plan import Plan
from core.project import CutMade, Facts
from core.sheets import accept


def with_layouts(plan: Plan) -> Facts:
    """The facts with every layout as it is planned now; one that is still searched for stays as it was."""
    facts = plan.project.facts
    layouts = {one.material: one for one in facts.layouts}
    for one in plan.sheets:
        if not one.pending:
            on = {sheet.id for sheet in one.sheets}
            layouts[one.material] = accept(one, write_steps([step for step in plan.steps if step.step.sheet in on]))
    return replace(facts, layouts=tuple(layouts.values()))


def with_numbers(plan: Plan) -> Facts:
    """The same, with the numbers of all its steps given for good: no other cut gets one of them."""
    return with_steps_given(with_layouts(plan), plan.steps)


def with_steps_given(facts: Facts, steps: Iterable[PlannedStep]) -> Facts:
    """The facts, which remember the numbers of these steps."""
    return replace(facts, steps_given=max([facts.steps_given, *(step.number for step in steps)]))


def ticked(plan: Plan, cuts: Sequence[CutMade]) -> Facts:
    """The facts with these cuts made. With the first of all every step has its number for good."""
    facts = with_numbers(plan)
    return replace(facts, cuts=(*facts.cuts, *cuts))
