"""The search for the best way to cut bars, in the order that `core.layout.bars` gives.

How many bars of each kind are bought is decided first; how pieces lie on them is asked after that
(`core.layout.bar_packing`). The cheapest bars that nothing speaks against are tried; where they
cannot hold the pieces, the proof of that speaks against other numbers of bars as well
(`core.layout.purchases`). The first that hold the pieces cost least. What is asked last is how short
one of them might be: what it could lack is the longest rest.

Where pieces stay without a place whatever is bought, these lie on one more bar that costs nothing,
nowhere, as short as can be.
"""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter
from collections.abc import Sequence

from core.layout.bar_packing import Bar, Packer, Packing, less_of
from core.layout.bars import BarJob, BarLayout, BarPart, CutBar
from core.layout.places import sums
from core.layout.purchases import Counts, Proof, Purchases, total
from core.layout.tree import Unplaced

SHARE = 4
"""One question takes no more than one part in this many of the iterations that are left."""

WORTH_ASKING = 1000
"""With fewer iterations left there are no more questions."""

MOST_SUMS = 5000
"""A shorter bar is as long as some pieces together, if there are no more such lengths; else of any length."""


def lay_out_bars(job: BarJob) -> BarLayout:
    """The best answer found in the job's iterations; the same job has the same answer on any machine.

    Raises Mistake as `BarJob.check` does.
    """
    return _Search(job).answer()


class _Search:
    """A job as `Packer` counts it: sizes and rooms with a kerf, the longest first."""

    def __init__(self, job: BarJob) -> None:
        job.check()
        self.job = job
        self.left = job.iterations
        longest = max((stock.usable for stock in job.stock if stock.quantity != 0), default=0)
        self.waiting: dict[int, list[int]] = {}
        """For each size the parts that its pieces belong to."""
        self.left_out: Counter[int] = Counter()
        for index, part in enumerate(job.parts):
            if part.length > longest:
                self.left_out[index] = part.quantity
            elif part.quantity:
                self.waiting.setdefault(part.length + job.kerf, []).extend([index] * part.quantity)
        self.sizes = sorted(self.waiting, reverse=True)
        self.counts = tuple([len(self.waiting[size]) for size in self.sizes])
        self.pieces = sum(self.counts)
        self.kinds = self._of_use() if self.pieces else []
        self.rooms = [job.stock[kind].usable + job.kerf for kind in self.kinds]
        # No answer has more bars than pieces, so that their number never weighs as much as a hundredth.
        self.costs = [job.stock[kind].price * (self.pieces + 1) + 1 for kind in self.kinds]
        quantities = [job.stock[kind].quantity for kind in self.kinds]
        self.most = tuple([self.pieces if many is None else min(many, self.pieces) for many in quantities])

    def _of_use(self) -> list[int]:
        """The kinds that hold some piece, but none that cost as much as longer ones of which there is no end."""
        stock = self.job.stock
        kinds: list[int] = []
        for kind in sorted(range(len(stock)), key=lambda kind: (-stock[kind].usable, stock[kind].price)):
            longer = [stock[other] for other in kinds if stock[other].quantity is None]
            beaten = any(other.price <= stock[kind].price for other in longer)
            if stock[kind].quantity != 0 and stock[kind].usable + self.job.kerf >= self.sizes[-1] and not beaten:
                kinds.append(kind)
        return kinds

    def answer(self) -> BarLayout:
        """The whole search."""
        if not self.kinds:
            return self._layout([], 0)
        packing = self._placed()
        packer = Packer(self.sizes, self.counts, self.rooms)
        # The first of all proofs: bars are as long together as the pieces.
        purchases = Purchases(self.costs, self.most, [Proof(total(self.sizes, self.counts), tuple(self.rooms))])
        undecided = []
        for cost, stock in purchases.least_first(self._may_look):
            if cost > self._cost(packing):
                break
            if self.left < WORTH_ASKING:
                undecided.append(cost)
                break
            if cost < self._cost(packing):
                found = self._asked(packer, stock)
                if found is not None:
                    packing = found
                elif packer.gave_up:
                    undecided.append(cost)
                elif packer.proof:
                    purchases.learn(packer.proof)
            if cost == self._cost(packing):
                packing = self._with_longer_rest(packing, stock)
        return self._layout(packing, min([*undecided, self._cost(packing)]))

    def _cost(self, packing: Packing) -> int:
        return sum(self.costs[kind] for kind, _ in packing)

    def _placed(self) -> Packing:
        """A first answer, which leaves out as little as can be."""
        packer, tries = Packer(self.sizes, self.counts, self.rooms), []
        for first in range(len(self.rooms)):
            stock = sorted(enumerate(self.most), key=lambda kind: kind[0] != first)
            packing, over = packer.first_fit(self.counts, stock)
            tries.append((total(over, self.sizes), self._cost(packing), packing, over))
        missing, _, packing, over = min(tries)
        if missing:
            nowhere = len(self.rooms)
            packing = self._beside(self.most, 0, missing) or [*packing, (nowhere, over)]
            self.rooms.append(self._on(nowhere, packing))
            self.costs.append(0)
            self.most = (*self.most, 1)
        return packing

    def _on(self, kind: int, packing: Packing) -> int:
        """How much of the bars of a kind is used."""
        return sum(total(filling, self.sizes) for of, filling in packing if of == kind)

    def _asked(self, packer: Packer, stock: Counts) -> Packing | None:
        allowed = self.left // SHARE
        packing = packer.pack(stock, allowed)
        self.left -= allowed - max(0, packer.left)
        return packing

    def _beside(self, stock: Counts, least: int, below: int) -> Packing | None:
        """All pieces on these bars and on one more, numbered last, that is as short as can be within these limits.

        None if no bar within them was found to do.
        """
        if least >= below:
            return None
        known = sums([[size] for size in self.sizes], self.counts, below, MOST_SUMS)
        lengths: Sequence[int] = range(least, below) if known is None else known[bisect_left(known, least) : -1]
        shortest = None
        first, last = 0, len(lengths)
        while first < last and self.left >= WORTH_ASKING:
            middle = (first + last) // 2
            packing = self._asked(Packer(self.sizes, self.counts, [*self.rooms, lengths[middle]]), (*stock, 1))
            if packing is None:
                first = middle + 1
            else:
                shortest, last = packing, bisect_left(lengths, self._on(len(self.rooms), packing))
        return shortest

    def _may_look(self) -> bool:
        """Counts one look at some numbers of bars; whether more may follow."""
        self.left -= 1
        return self.left >= WORTH_ASKING

    def _with_longer_rest(self, packing: Packing, stock: Counts) -> Packing:
        """Bars in these numbers with a longer rest than the packing's, as long as can be; or else the packing."""
        spare = total(stock, self.rooms) - total(self.counts, self.sizes)
        for kind, room in enumerate(self.rooms[: len(self.kinds)]):
            if stock[kind]:
                below = room - self.job.kerf - max(map(self._rest, packing))
                found = self._beside(less_of(stock, kind), max(0, room - spare), below)
                if found is not None:
                    packing = [(kind if of == len(self.rooms) else of, filling) for of, filling in found]
        return packing

    def _rest(self, bar: Bar) -> int:
        """What is left behind the cut of a bar's last piece; nothing of what is nowhere."""
        kind, filling = bar
        return max(0, self.rooms[kind] - total(filling, self.sizes) - self.job.kerf) if kind < len(self.kinds) else 0

    def _layout(self, packing: Packing, least: int) -> BarLayout:
        """The answer with parts in their places and bars cut alike together; `least`: no answer costs less."""
        parts, stock = self.job.parts, self.job.stock
        bars = []
        for kind, filling in sorted(packing, key=lambda bar: (bar[0], [-count for count in bar[1]])):
            if kind < len(self.kinds):
                sizes = [size for size, count in zip(self.sizes, filling, strict=True) for _ in range(count)]
                pieces = tuple([self.waiting[size].pop(0) for size in sizes])
                bars.append(CutBar(self.kinds[kind], pieces, self._rest((kind, filling))))
        self.left_out.update([index for of in self.waiting.values() for index in of])
        unplaced = [
            Unplaced(index, self.left_out[index], self._reason(part))
            for index, part in enumerate(parts)
            if self.left_out[index]
        ]
        money = sum(stock[bar.stock].price for bar in bars)
        # What costs at least that much has so many bars; and so many if it costs no more money than these.
        fewest = max(-(-least // max(self.costs, default=1)), least - money * (self.pieces + 1))
        return BarLayout(tuple(bars), tuple(unplaced), money, least // (self.pieces + 1), fewest)

    def _reason(self, part: BarPart) -> str:
        stocks = [stock for stock in self.job.stock if stock.quantity != 0]
        if not stocks:
            return "there is no stock to cut it from"
        if any(part.length <= stock.usable for stock in stocks):
            return "no bar that it fits is left for it"
        if any(part.length <= stock.length for stock in stocks):
            return "it fits the bar as it comes, but not between its trimmed ends"
        return "too long for every bar"
