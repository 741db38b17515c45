"""The choice of patterns as a programme for HiGHS, a solver of linear and mixed-integer programmes.

It computes in floating point, so what it says is only a proposal: prices are rounded to whole
numbers, and the patterns that it chooses are counted by those who ask. It runs on one thread
and is limited by nodes, not by the clock, unless somebody has capped the time.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from math import ceil, gcd
from typing import Any

from core.layout.fitter import Fitter
from core.layout.pattern import Pattern

NEARLY = 0.9
"""Such a share of a sheet is as good as a whole one."""

MOST_CHOICES = 1500
"""Among how many patterns whole numbers of sheets are chosen: those that the prices speak most for."""

MOST_NODES = 20
"""How many subproblems the solver may look at for that."""

WHOLE = 1_000_000
"""What the cheapest board costs once costs and prices are whole numbers."""


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


def whole_prices(duals: Sequence[float]) -> list[int]:
    """What a piece of each size is worth, in whole numbers, never less than nothing."""
    return [max(0, round(price * WHOLE)) for price in duals]


class Programme:
    """For each pattern a number of sheets, so that every piece is on at least one, at the least cost."""

    def __init__(self, fitter: Fitter, patterns: Iterable[Pattern]) -> None:
        self._wanted = [float(blank.quantity) for blank in fitter.blanks]
        costs = [board.cost for board in fitter.boards]
        self._cheapest = min(costs)
        self._step = gcd(*costs)
        """The least by which one layout's cost can differ from another's."""
        self._costs = [cost / self._cheapest for cost in costs]
        limits = [(board, float(of.quantity)) for board, of in enumerate(fitter.boards) if of.quantity is not None]
        self._limits = {board: (row, most) for row, (board, most) in enumerate(limits, len(self._wanted))}
        self._patterns: list[Pattern] = []
        self._decided: dict[int, int] = {}
        self._infinity: float = highs().kHighsInf
        self._solver = self._new_solver()
        self.add(patterns)

    def _new_solver(self) -> Any:
        solver = solver_for(self._wanted)
        for _, most in self._limits.values():
            solver.addRow(-self._infinity, most, 0, [], [])
        return solver

    def add(self, patterns: Iterable[Pattern]) -> None:
        """More patterns to choose among."""
        new = list(patterns)
        self._patterns += new
        self._add_to(self._solver, new)

    def _add_to(self, solver: Any, patterns: list[Pattern]) -> None:
        costs: list[float] = []
        starts: list[int] = []
        rows: list[int] = []
        counts: list[float] = []
        for pattern in patterns:
            starts.append(len(rows))
            costs.append(self._costs[pattern[0]])
            for size, count in Counter(pattern[1:]).items():
                rows.append(size)
                counts.append(float(count))
            if pattern[0] in self._limits:
                rows.append(self._limits[pattern[0]][0])
                counts.append(1.0)
        columns = len(patterns)
        most = [max(self._wanted)] * columns
        solver.addCols(columns, costs, [0.0] * columns, most, len(rows), starts, rows, counts)

    def solve(self) -> None:
        """Finds the least cost where sheets may be cut in parts."""
        self._solver.run()

    def prices(self) -> tuple[list[int], list[int]]:
        """What a piece of each size is worth, and what a sheet of each board costs; call `solve` before."""
        duals = self._solver.getSolution().row_dual
        prices = whole_prices(duals[: len(self._wanted)])
        costs = [round(cost * WHOLE) for cost in self._costs]
        for board, (row, _) in self._limits.items():
            costs[board] += max(0, round(-duals[row] * WHOLE))
        return prices, costs

    def used(self) -> list[Pattern]:
        """The patterns that are cut when sheets may be cut in parts, and not decided for; call `solve` before."""
        often = self._solver.getSolution().col_value
        return [
            self._patterns[index] for index, value in enumerate(often) if value > self._decided.get(index, 0) + 1e-6
        ]

    def least(self) -> float:
        """The least cost where sheets may be cut in parts, in sheets of the cheapest board; call `solve` before."""
        value: float = self._solver.getInfo().objective_function_value
        return value

    def in_reach(self, cost: int) -> bool:
        """Whether a layout for less than this cost could be among the patterns; call `solve` before."""
        return self.least() <= (cost - self._step) / self._cheapest + 1e-6

    def decide(self) -> bool:
        """Decides for whole sheets of some patterns: all that are nearly whole, or else the one that is nearest.

        False if all sheets are whole already. Call `solve` before and after.
        """
        often = self._solver.getSolution().col_value
        parted = [(index, value) for index, value in enumerate(often) if value - self._decided.get(index, 0) > 1e-6]
        if not parted:
            return False
        decided = {index: round(value) for index, value in parted if value >= self._decided.get(index, 0) + NEARLY}
        if not decided:
            index, value = max(parted, key=lambda one: (round((one[1] % 1) * WHOLE), -one[0]))
            decided = {index: ceil(value)}
        self._decided |= decided
        for index, times in decided.items():
            self._solver.changeColBounds(index, float(times), max(self._wanted))
        return True

    def decided(self) -> list[Pattern]:
        """The patterns decided for, each as often as it is cut, in the order of the decisions."""
        return [self._patterns[index] for index, times in self._decided.items() for _ in range(times)]

    def undecide(self) -> None:
        """Takes all decisions back."""
        for index in self._decided:
            self._solver.changeColBounds(index, 0.0, max(self._wanted))
        self._decided.clear()

    def chosen(self, cost: int, seconds: float | None) -> list[Pattern]:
        """Patterns that give every piece for less than this cost, each as often as it is cut; none if none was found.

        Call `solve` before: what a pattern costs above its prices must not be more than there is
        between the least cost with sheets in parts and the cost that is wanted.
        """
        most = (cost - self._step) / self._cheapest + 1e-6
        margin = most - self.least()
        above = self._solver.getSolution().col_dual
        order = sorted(range(len(self._patterns)), key=lambda index: (round(above[index] * WHOLE), index))
        kept = [self._patterns[index] for index in order[:MOST_CHOICES] if above[index] <= margin + 1e-6]
        solver = self._new_solver()
        self._add_to(solver, kept)
        indices = list(range(len(kept)))
        solver.addRow(-self._infinity, most, len(kept), indices, [self._costs[pattern[0]] for pattern in kept])
        solver.changeColsIntegrality(len(kept), indices, [highs().HighsVarType.kInteger] * len(kept))
        solver.setOptionValue("mip_max_nodes", MOST_NODES)
        solver.setOptionValue("mip_abs_gap", 0.99 * self._step / self._cheapest)
        if seconds is not None:
            solver.setOptionValue("time_limit", max(0.0, seconds))
        solver.run()
        if solver.getInfo().primal_solution_status != highs().SolutionStatus.kSolutionStatusFeasible:
            return []
        often = solver.getSolution().col_value
        return [pattern for pattern, times in zip(kept, often, strict=True) for _ in range(round(times))]
