"""The choice of patterns as a linear programme, and decisions for whole sheets in it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable
from math import floor, gcd

from core.layout.fitter import Fitter
from core.layout.pattern import Pattern
from core.layout.solver import WHOLE, highs, solver_for, whole_prices

ROUNDED_OFF = 1e-6
"""The solver's own tolerance is about as much: a smaller share of a sheet is none."""

NEARLY = 0.9
"""Such a share of a sheet is as good as a whole one."""

STRAYING = 0.4
"""By how much of a sheet another pattern may seem the larger part, so that the same is not decided again and again."""

MOST_WORTH = 1 << 62
"""The pieces on a sheet may be worth no more than that: tables of 64 bits add them up (`core.layout.best_sheets`)."""

MOST_NODES = 1
"""How far the solver branches when it chooses whole sheets: what it does before finds most of what it finds at all."""


class Programme:
    """For each pattern a number of sheets, so that every piece is on at least one, at the least cost.

    There are no patterns in it at first (`add`). Where stock may run out, pieces may be left out at
    a cost that no place for them comes to.
    """

    def __init__(self, fitter: Fitter) -> None:
        self._wanted = [float(blank.quantity) for blank in fitter.blanks]
        costs = [board.cost for board in fitter.boards]
        self._cheapest = min(costs)
        self._step = gcd(*costs)
        """The least by which one layout's cost can differ from another's."""
        self._costs = [cost / self._cheapest for cost in costs]
        pieces = sum([blank.quantity for blank in fitter.blanks])
        self._whole = max(1, min(WHOLE, MOST_WORTH // (pieces * (1 + fitter.lacking // self._cheapest))))
        """What the cheapest board costs in the measure of `prices`."""
        limits = [(board, float(of.quantity)) for board, of in enumerate(fitter.boards) if of.quantity is not None]
        self._limits = {board: (row, most) for row, (board, most) in enumerate(limits, len(self._wanted))}
        self._patterns: list[Pattern] = []
        self._decided: dict[int, int] = {}
        self._solved = False
        self._most = max(self._wanted)
        """How often a pattern can be needed."""
        self._solver = solver_for(self._wanted)
        for _, most in self._limits.values():
            self._solver.addRow(-highs().kHighsInf, most, 0, [], [])
        self._may_lack = len(self._wanted) if limits else 0
        """How many columns, before those of the patterns, say how many pieces of a size are left out."""
        for size in range(self._may_lack):
            self._solver.addCol(fitter.lacking / self._cheapest, 0.0, self._wanted[size], 1, [size], [1.0])

    def add(self, patterns: Iterable[Pattern]) -> None:
        """More patterns to choose among."""
        new = list(patterns)
        self._patterns += new
        costs: list[float] = []
        starts: list[int] = []
        rows: list[int] = []
        counts: list[float] = []
        for pattern in new:
            starts.append(len(rows))
            costs.append(self._costs[pattern.board])
            for size, count in Counter(pattern.sizes).items():
                rows.append(size)
                counts.append(float(count))
            if pattern.board in self._limits:
                rows.append(self._limits[pattern.board][0])
                counts.append(1.0)
        columns = len(new)
        self._solver.addCols(columns, costs, [0.0] * columns, [self._most] * columns, len(rows), starts, rows, counts)

    def solve(self) -> None:
        """Finds the least cost where sheets may be cut in parts; what is decided may leave none (`is_solved`)."""
        self._solver.run()
        self._solved = self._solver.getModelStatus() == highs().HighsModelStatus.kOptimal

    @property
    def is_solved(self) -> bool:
        """Whether the last `solve` found a least cost; only then is there anything to be asked of it."""
        return self._solved

    def prices(self) -> tuple[list[int], list[int]]:
        """What a piece of each size is worth, and what a sheet of each board costs; call `solve` before."""
        duals = self._solver.getSolution().row_dual
        prices = whole_prices(duals[: len(self._wanted)], self._whole)
        costs = [round(cost * self._whole) for cost in self._costs]
        for board, (row, _) in self._limits.items():
            costs[board] += max(0, round(-duals[row] * self._whole))
        return prices, costs

    def least(self) -> float:
        """The least cost where sheets may be cut in parts, in sheets of the cheapest board; call `solve` before."""
        value: float = self._solver.getInfo().objective_function_value
        return value

    def margin(self, cost: int) -> int:
        """What patterns may cost above their prices in a layout for less than this cost, or less than 0.

        It is told in the measure of `prices`. Call `solve` before.
        """
        return floor(((cost - self._step) / self._cheapest - self.least()) * self._whole) + 1

    def in_reach(self, cost: int) -> bool:
        """Whether a layout for less than this cost could be among the patterns; call `solve` before."""
        return self._solved and self.margin(cost) >= 0

    def decide(self, random: Callable[[], float]) -> list[Pattern]:
        """Decides for one sheet more of some patterns: of all that are nearly whole, or else of one.

        That one has the largest share of a sheet, or, by chance, nearly so. Gives the patterns
        decided for now; none if what is decided holds every piece. Call `solve` before and after.
        """
        often = self._solver.getSolution().col_value[self._may_lack :]
        shares = [(value - self._decided.get(index, 0), index) for index, value in enumerate(often)]
        parted = [(share, index) for share, index in shares if share > ROUNDED_OFF]
        chosen = [index for share, index in parted if share >= NEARLY]
        if parted and not chosen:
            chosen = [max((round((share + STRAYING * random()) * WHOLE), -index, index) for share, index in parted)[2]]
        for index in chosen:
            times = self._decided[index] = self._decided.get(index, 0) + 1
            self._solver.changeColBounds(self._may_lack + index, float(times), self._most)
        return [self._patterns[index] for index in chosen]

    def choose_whole(self, cost: int, stopped: Callable[[], bool]) -> list[Pattern]:
        """Whole sheets of the patterns that hold every piece for less than this cost; none where none are found.

        By the solver's own means for whole numbers (`MOST_NODES`). Nothing may be asked afterwards.
        """
        solver = self._solver
        columns = self._may_lack + len(self._patterns)
        solver.changeColsIntegrality(columns, list(range(columns)), [highs().HighsVarType.kInteger] * columns)
        solver.setOptionValue("mip_max_nodes", MOST_NODES)
        # The relaxation enforced neighbourhood (Berthold 2014) takes half of the time, and hardly ever finds anything.
        solver.setOptionValue("mip_heuristic_run_rens", False)
        solver.setOptionValue("objective_target", (cost - self._step) / self._cheapest)
        solver.cbMipInterrupt += lambda event: event.interrupt() if stopped() else None
        solver.run()
        if solver.getInfo().primal_solution_status != highs().SolutionStatus.kSolutionStatusFeasible:
            return []
        often = [round(value) for value in solver.getSolution().col_value[self._may_lack :]]
        return [pattern for pattern, times in zip(self._patterns, often, strict=True) for _ in range(times)]

    def undecide(self) -> None:
        """Takes all decisions back. Call `solve` after."""
        for index in self._decided:
            self._solver.changeColBounds(self._may_lack + index, 0.0, self._most)
        self._decided.clear()
        self._solved = False
