"""What the boards of a job cost at the least, by what each of them can hold at the most.

The least costly numbers of each kind of board that nothing speaks against are looked at
(`core.layout.purchases`). A linear programme says what would have no place on so many of each, if
patterns could be used in parts: its patterns are those met so far, and tables of what a board can
hold (`core.layout.holdings`) add one after another that its prices ask for (column generation:
Gilmore & Gomory, "A linear programming approach to the cutting stock problem", Operations Research
9, 1961). Where all pieces are worth more by such prices than the boards can hold, these do not do.

Patterns that the tables add may have a piece twice of which there is one. Where these keep the
bound too low, the size that does so most is counted from then on.

The programme is solved in floating point, but its prices are rounded to whole numbers, and
any whole values bound soundly: the tables and the proofs are exact.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from itertools import count
from operator import le

from core.layout.blanks import Blank, Board
from core.layout.holdings import Holdings
from core.layout.least_cost import by_area_and_number
from core.layout.pattern import Pattern, pattern_of
from core.layout.purchases import Counts, Proof, Purchases, total
from core.layout.solver import WHOLE, highs, solver_for, whole_prices

MOST_WAYS = 100
"""In how many ways the stocks of counted pieces may be parted, all together."""

NEARLY_NOTHING = 1e-6
"""By so much of a board a programme in floating point may be wrong."""

LEAST_WORK = 15_000_000
"""A step counts for as much work at the least, as `Holdings.work` counts it."""

MOST_WORK = 400_000_000
"""How much work a table of counted pieces may be, as `Holdings.work` counts it."""

MOST_LOOKED_AT = 2000
"""Numbers of boards that are looked at each time."""


class PatternBound:
    """Raises a lower bound step by step. Sizes that fit no board have no place here.

    `fewest`: no layout has fewer boards.
    """

    def __init__(
        self, blanks: Sequence[Blank], boards: Sequence[Board], patterns: Iterable[Pattern], fewest: int
    ) -> None:
        self._blanks = blanks
        self._boards = boards
        self._wanted = [blank.quantity for blank in blanks]
        self._proofs = by_area_and_number(blanks, boards, fewest)
        self._in_vain: set[Counts] = set()
        """Numbers of boards that no step can speak against."""
        self._work = 0
        """How much of what was allowed is left."""
        self.exhausted = False
        """No step could have shown more when the bound was asked for last."""
        self._counted: list[int] = []
        self._begin(patterns)

    def _begin(self, patterns: Iterable[Pattern]) -> None:
        """A programme of these patterns, and tables that count what is counted by now."""
        boards = self._boards
        length, width = max([board.length for board in boards]), max([board.width for board in boards])
        self._holdings = Holdings(self._blanks, length, width, self._counted)
        self._corners = [self._holdings.corner(board.length, board.width) for board in boards]
        # One row for each size, then one for each kind of board.
        self._solver = solver_for([*map(float, self._wanted), *(0.0 for _ in boards)])
        largest = max([board.length * board.width for board in boards])
        for size, blank in enumerate(self._blanks):
            # A piece without a place.
            self._solver.addCol(blank.area / largest, 0.0, highs().kHighsInf, 1, [size], [1.0])
        self._patterns: dict[Pattern, Counter[int]] = {}
        for pattern in patterns:
            self._add(pattern)

    def _add(self, pattern: Pattern) -> bool:
        """Takes a pattern in; False if it is known."""
        if pattern in self._patterns:
            return False
        counts = self._patterns[pattern] = Counter(pattern.sizes)
        rows = [*counts, len(self._wanted) + pattern.board]
        of = [*map(float, counts.values()), 1.0]
        self._solver.addCol(0.0, 0.0, highs().kHighsInf, len(rows), rows, of)
        return True

    def least(self, costs: Sequence[int], below: int, work: int, stopped: Callable[[], bool]) -> int:
        """No layout costs less than this, at such a cost of each board: what so much work shows, at most `below`."""
        self.exhausted = False
        self._work = work
        pieces = sum(self._wanted)
        most = [
            min((below - 1) // cost, pieces if board.quantity is None else board.quantity)
            for cost, board in zip(costs, self._boards, strict=True)
        ]
        purchases = Purchases(costs, tuple(most), self._proofs)
        looks = count(1)
        for cost, counts in purchases.least_first(lambda: next(looks) < MOST_LOOKED_AT):
            if cost >= below:
                break
            if len(counts) < len(costs):
                # No more may be looked at.
                self.exhausted = True
                return cost
            if not self._ruled_out(counts, stopped):
                self.exhausted = self._is_vain(counts)
                return cost
            purchases.learn(self._proofs[-1])
        return below

    def rules_out(self, counts: Counts, work: int, stopped: Callable[[], bool]) -> bool:
        """Whether so many of each kind cannot hold all pieces, as far as so much work shows it."""
        self._work = work
        return self._ruled_out(counts, stopped)

    def _ruled_out(self, counts: Counts, stopped: Callable[[], bool]) -> bool:
        """The same, with what is left of the work."""
        while not any(proof.against(counts) for proof in self._proofs):
            if self._work <= 0 or self._is_vain(counts) or stopped():
                return False
            self._work -= max(LEAST_WORK, self._holdings.work)
            self._step(counts)
        return True

    def _is_vain(self, counts: Counts) -> bool:
        """Whether no step can speak against so many boards: so many, or fewer, might do."""
        return any(all(map(le, fewer, counts)) for fewer in self._in_vain)

    def _step(self, counts: Counts) -> None:
        """A look at the tables: for what speaks against so many boards, or for more patterns."""
        solver, sizes = self._solver, len(self._wanted)
        for board, most in enumerate(counts, sizes):
            solver.changeRowBounds(board, -highs().kHighsInf, float(most))
        solver.run()
        new = False
        if solver.getInfo().objective_function_value > NEARLY_NOTHING:
            duals = solver.getSolution().row_dual
            prices = whole_prices(duals[:sizes])
            for size in self._holdings.priceless:
                prices[size] = 0
            tables = self._holdings.most(prices)
            held = [int(tables[-1, x, y]) for x, y in self._corners]
            proof = Proof(total(prices, self._wanted), tuple(held))
            if proof.against(counts):
                self._proofs.append(proof)
                return
            for board, (corner, paid) in enumerate(zip(self._corners, duals[sizes:], strict=True)):
                if counts[board]:
                    pattern = pattern_of(board, self._holdings.pieces(prices, tables, corner))
                    # Each of its prices has been rounded.
                    if held[board] > len(pattern.sizes) - paid * WHOLE:
                        new |= self._add(pattern)
        if not new and not self._counts_more():
            self._in_vain.add(counts)

    def _counts_more(self) -> bool:
        """Counts one more size: the one of which boards that the programme uses hold the most too much, by area."""
        excess = [0] * len(self._wanted)
        often = self._solver.getSolution().col_value[len(self._wanted) :]
        for counts, share in zip(self._patterns.values(), often, strict=True):
            for size, held in counts.items():
                too_many = max(0, held - self._wanted[size])
                excess[size] += round(share * WHOLE) * too_many * self._blanks[size].area
        size = max(range(len(excess)), key=excess.__getitem__)
        if not excess[size] or not self._may_count(size):
            return False
        self._counted.append(size)
        self._in_vain.clear()
        wanted, known = self._wanted, self._patterns.items()
        self._begin([pattern for pattern, of in known if all(of[one] <= wanted[one] for one in self._counted)])
        return True

    def _may_count(self, size: int) -> bool:
        """Whether that makes the tables not too large."""
        ways = 1
        for of in (*self._counted, size):
            ways *= (self._wanted[of] + 1) * (self._wanted[of] + 2) // 2
        return ways <= MOST_WAYS and ways * self._holdings.work <= MOST_WORK * len(self._holdings.stocks.some)
