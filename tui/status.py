"""The line that is always in view: sheets, share used, cost, the worst warnings."""

from __future__ import annotations

from collections.abc import Sequence

from core.buy import buying_list, money
from core.checks.finding import Finding
from core.drawing.glyphs import Glyphs
from core.drawing.lettering import cells, clean, fitted
from core.plan import Plan

MOST_WARNINGS = 3


def summary(plan: Plan, findings: Sequence[Finding], cost: float | None, glyphs: Glyphs, width: int) -> str:
    """One line. Of what is wrong it tells the worst three: the design's own mistakes before failed checks."""
    worst = [
        *(f"! {problem}" for problem in plan.problems),
        *(f"! {piece} fits no sheet" for one in plan.sheets for piece, _ in one.unplaced[:1]),
        *(
            f"! {len(one.disagreements)} on begun sheets of {one.material} no longer suit"
            for one in plan.sheets
            if one.disagreements
        ),
        *(f"FAIL: {one.check}, {one.about}" for one in findings if one.result == "fail"),
        *(f"warn: {one.check}, {one.about}" for one in findings if one.result == "warn"),
    ]
    told = clean(f" {_sheets(plan, cost)}", glyphs)
    warnings = [clean(one, glyphs) for one in worst]
    for number in range(min(MOST_WARNINGS, len(warnings)), 0, -1):
        # As many as can be read whole; the first in any case, and how many more there are.
        line = "  ".join([told, *warnings[:number]])
        more = f"  (+{len(warnings) - number})" if len(warnings) > number else ""
        if number == 1 or cells(line) + len(more) <= width:
            return fitted(line, max(width - len(more), 10), glyphs) + more
    return fitted(told, max(width, 10), glyphs)


def _sheets(plan: Plan, cost: float | None) -> str:
    if plan.pending:
        return "laying out…"
    count = sum(len(one.sheets) for one in plan.sheets)
    if not count:
        return "no sheets yet"
    area = sum(one.area for one in plan.sheets)
    used = float(sum(one.used_area for one in plan.sheets) / area) if area else 0
    price = f", {money(cost, plan.project.design.currency)}" if cost is not None else ""
    if cost is not None and any(line.unit == "sheet" and line.price_each is None for line in buying_list(plan)):
        price += " + unpriced"
    done = sum(step.done for step in plan.steps)
    cut = f", {done}/{len(plan.steps)} cut" if done else ""
    return f"{count} sheet{'' if count == 1 else 's'}, {used:.0%} used{price}{cut}"
