"""The line that is always in view: sheets, share used, cost, the worst warnings."""

from __future__ import annotations

from collections.abc import Sequence

from core.buy import buying_list, money
from core.checks.finding import Finding
from core.drawing.glyphs import Glyphs
from core.drawing.lettering import cells, clean, fitted
from core.plan import Plan

MOST_NAMED = 5
LEAST = 14
"""Columns; in fewer nothing is named."""


def summary(plan: Plan, findings: Sequence[Finding], cost: float | None, glyphs: Glyphs, width: int) -> str:
    """One line: sheets and cost, how much is wrong, then what it is, the worst first, as far as there is room."""
    wrong = [
        *(str(problem) for problem in plan.problems),
        *(f"{piece} fits no sheet" for one in plan.sheets for piece, _ in one.unplaced[:1]),
        *(["cuts that no saw here can make"] if any(one.step.cannot for one in plan.steps) else []),
        *(f"{number} of {one.material} unsuited" for one in plan.sheets if (number := one.unsuited)),
    ]
    failed, warned = ([_brief(one) for one in findings if one.result == result] for result in ("fail", "warn"))
    counted = [
        f"{len(found)} {word}" for found, word in ((wrong, "wrong"), (failed, "FAIL"), (warned, "warn")) if found
    ]
    told = f" {_sheets(plan, cost)}"
    if not counted:
        return fitted(clean(told, glyphs), max(width, 10), glyphs)
    line, named = f"{told}  {', '.join(counted)}", [*wrong, *failed, *warned]
    # As many as can be read whole, or as much of the worst as says anything.
    for number in range(min(MOST_NAMED, len(named)), 0, -1):
        whole = clean(f"{line}: {', '.join(named[:number])}", glyphs)
        if cells(whole) <= width or (number == 1 and cells(line) + LEAST <= width):
            return fitted(whole, max(width, 10), glyphs)
    return fitted(clean(line, glyphs), max(width, 10), glyphs)


def _brief(one: Finding) -> str:
    """What was found, in a few words: `tipping E`."""
    return f"{one.check} {one.brief or one.about}"


def _sheets(plan: Plan, cost: float | None) -> str:
    count = sum(one.bought for one in plan.sheets)
    if plan.pending:
        return f"{count} sheet{'' if count == 1 else 's'} so far, laying out…" if count else "laying out…"
    if not count:
        return "no sheets yet"
    area = sum(one.area for one in plan.sheets)
    used = float(sum(one.used_area for one in plan.sheets) / area) if area else 0
    price = f", {money(cost, plan.project.design.currency)}" if cost is not None else ""
    if cost is not None and any(line.unit == "sheet" and line.cost is None for line in buying_list(plan)):
        price += " + unpriced"
    past = len(plan.project.facts.history)
    done = past + sum(step.done for step in plan.steps)
    cut = f", {done}/{past + len(plan.steps)} cut" if done else ""
    # Of these other pieces may still be cut; they are not among the sheets that are drawn.
    apart = sum(len(one.on_hand.opened) for one in plan.sheets)
    pieces = f" ({apart} in pieces)" if apart else ""
    return f"{count} sheet{'' if count == 1 else 's'}{pieces}, {used:.0%} used{price}{cut}"
