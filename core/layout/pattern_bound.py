"""How many sheets a job needs at the least, by what one sheet can hold at the most.

Give every piece a value. If no sheet can hold pieces of more than a value of z, all pieces
together, of value V, need at least V / z sheets. What a sheet can hold is bounded by tables
(`core.layout.holdings`). The values that bound best are the prices of a linear programme over
the patterns met so far, to which the tables add one pattern after another (column generation);
the bound after each step is Farley's ("A note on bounding a class of linear programming
problems", Operations Research 38, 1990).

Patterns that the tables add may have a piece twice of which there is one. Where these keep the
bound too low, the size that does so most is counted from then on.

The programme is solved in floating point, but its prices are rounded to whole numbers, and
any whole values bound soundly: the tables and the bound are exact.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence

from core.layout.blanks import Blank, Board
from core.layout.holdings import Holdings
from core.layout.pattern import Sizes
from core.layout.solver import WHOLE, solver_for, whole_prices

MOST_WAYS = 100
"""In how many ways the stocks of counted pieces may be parted, all together."""

NEARLY_NOTHING = 1e-6
"""By so much a programme in floating point may be wrong."""

MOST_WORK = 400_000_000
"""How much work a table of counted pieces may be, as `Holdings.work` counts it."""


class PatternBound:
    """Raises a lower bound step by step. Sizes that fit no sheet have no place here."""

    def __init__(
        self, blanks: Sequence[Blank], boards: Sequence[Board], patterns: Iterable[Sizes], bound: int = 1
    ) -> None:
        self.bound = bound
        self.exhausted = False
        """No further step can raise the bound."""
        self._blanks = blanks
        self._wanted = [blank.quantity for blank in blanks]
        self._length = max(board.length for board in boards)
        self._width = max(board.width for board in boards)
        self._counted: list[int] = []
        self._begin([*((size,) for size in range(len(blanks))), *patterns])

    def _begin(self, patterns: Iterable[Sizes]) -> None:
        """A programme of these patterns, and tables that count what is counted by now."""
        self._solver = solver_for([float(quantity) for quantity in self._wanted])
        self._patterns: list[Counter[int]] = []
        for pattern in patterns:
            self._add(pattern)
        self._holdings = Holdings(self._blanks, self._length, self._width, self._counted)

    @property
    def work(self) -> int:
        """About how many sums one step makes."""
        return self._holdings.work

    def _add(self, pattern: Sizes) -> None:
        counts = Counter(pattern)
        self._patterns.append(counts)
        of = [float(count) for count in counts.values()]
        self._solver.addCol(1.0, 0.0, float("inf"), len(counts), list(counts), of)

    def raise_to(self, goal: int, steps: int, stopped: Callable[[], bool]) -> int:
        """The bound after at most so many steps; fewer if the goal is met, or no step can raise it."""
        while self.bound < goal and steps > 0 and not self.exhausted and not stopped():
            steps -= 1
            self.exhausted = not (self._looks_further() or self._counts_more())
        return self.bound

    def _looks_further(self) -> bool:
        """A look at the tables; False if more patterns cannot raise the bound."""
        self._solver.run()
        if self._solver.getInfo().objective_function_value < self.bound + NEARLY_NOTHING:
            return False
        prices = self._prices()
        held = self._holdings.most(prices)
        most = int(held[-1, -1, -1])
        total = sum([price * wanted for price, wanted in zip(prices, self._wanted, strict=True)])
        self.bound = max(self.bound, -(-total // most) if most else 1)
        pattern = self._holdings.pieces(prices, held)
        if most <= WHOLE + len(pattern):
            return False
        self._add(tuple(pattern))
        return True

    def _prices(self) -> list[int]:
        prices = whole_prices(self._solver.getSolution().row_dual)
        for size in self._holdings.priceless:
            prices[size] = 0
        return prices

    def _counts_more(self) -> bool:
        """Counts one more size: the one of which sheets that the programme uses hold the most too much, by price."""
        prices = self._prices()
        excess = [0] * len(prices)
        for counts, often in zip(self._patterns, self._solver.getSolution().col_value, strict=True):
            share = round(often * WHOLE)
            for size, count in counts.items():
                excess[size] += share * max(0, count - self._wanted[size]) * prices[size]
        size = max(range(len(excess)), key=excess.__getitem__)
        if not excess[size] or not self._may_count(size):
            return False
        self._counted.append(size)
        enough = [counts for counts in self._patterns if all(counts[of] <= self._wanted[of] for of in self._counted)]
        self._begin(tuple(counts.elements()) for counts in enough)
        return True

    def _may_count(self, size: int) -> bool:
        """Whether that makes the tables not too large."""
        ways = 1
        for of in (*self._counted, size):
            ways *= (self._wanted[of] + 1) * (self._wanted[of] + 2) // 2
        return ways <= MOST_WAYS and ways * self._holdings.work <= MOST_WORK * len(self._holdings.stocks.some)
