"""HiGHS, kept quiet.

It computes in floating point, so what it says is only a proposal: prices are rounded to whole
numbers, and what it chooses is counted by those who ask.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

WHOLE = 1_000_000
"""What the cheapest board costs once costs and prices are whole numbers, as a rule."""


def highs() -> Any:
    """The solver's module, imported when it is first needed: it takes a moment, and most jobs are done before."""
    import highspy

    return highspy


def solver_for(wanted: Sequence[float]) -> Any:
    """A quiet solver on one thread, with a row for each size: so many pieces or more."""
    solver = highs().Highs()
    for option, value in (("output_flag", False), ("threads", 1)):
        solver.setOptionValue(option, value)
    for quantity in wanted:
        solver.addRow(quantity, highs().kHighsInf, 0, [], [])
    return solver


def whole_prices(duals: Sequence[float], whole: int = WHOLE) -> list[int]:
    """What a piece of each size is worth, in such parts of the cheapest board, never less than nothing."""
    return [max(0, round(price * whole)) for price in duals]
