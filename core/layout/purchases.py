"""How many boards, or bars, of each kind: those that might hold all pieces, the least costly first.

That some do not is shown by a proof: all pieces are worth so much, and no board of a kind can hold more than so much.
Such a proof speaks against other numbers of boards as well (Benders, "Partitioning procedures for solving
mixed-variables programming problems", Numerische Mathematik 4, 1962).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from fractions import Fraction
from heapq import heappop, heappush
from operator import mul
from typing import NamedTuple, TypeAlias

Counts: TypeAlias = tuple[int, ...]
"""How many of each size, or of each kind."""


class Proof(NamedTuple):
    """All pieces are worth `needed`, and no board of a kind can hold more than `held`: boards must add up to that."""

    needed: int
    held: Counts

    def against(self, counts: Iterable[int]) -> bool:
        """Whether so many of each kind, all kinds told, cannot hold all pieces."""
        return sum([count * held for count, held in zip(counts, self.held, strict=True)]) < self.needed


def total(counts: Iterable[int], each: Iterable[int]) -> int:
    """The sum of the products."""
    return sum(map(mul, counts, each))


class Purchases:
    """Numbers of each kind at these costs, no more than `most` of each."""

    def __init__(self, costs: Sequence[int], most: Counts, proofs: Iterable[Proof] = ()) -> None:
        self._costs = costs
        self._most = most
        self._proofs: list[tuple[Proof, list[int]]] = []
        """Each with the kinds that hold most for their cost first."""
        for proof in proofs:
            self.learn(proof)

    def learn(self, proof: Proof) -> None:
        """From now on nothing is given that this speaks against."""
        kinds = [kind for kind, held in enumerate(proof.held) if held]
        self._proofs.append((proof, sorted(kinds, key=lambda kind: Fraction(self._costs[kind], proof.held[kind]))))

    def least_first(self, may_look: Callable[[], bool]) -> Iterator[tuple[int, Counts]]:
        """All that no proof speaks against, each with its cost.

        `may_look` is asked each time that some are looked at. Where it says no the last that is given
        may tell the first kinds only: nothing that is left out costs less.
        """
        waiting: list[tuple[int, Counts]] = [(0, ())]
        while waiting:
            go_on = may_look()
            before, counts = heappop(waiting)
            cost = self._at_least(counts)
            if cost is None:
                continue
            if cost > before:
                heappush(waiting, (cost, counts))
            elif len(counts) == len(self._most) or not go_on:
                yield cost, counts
            else:
                for count in range(self._most[len(counts)] + 1):
                    heappush(waiting, (cost, (*counts, count)))

    def _at_least(self, counts: Counts) -> int | None:
        """What these cost, and what proofs ask for besides, if the later kinds could be had in parts.

        None where there are not enough of them.
        """
        most = 0
        for proof, order in self._proofs:
            owed, cost = proof.needed - total(counts, proof.held), 0
            for kind in order:
                if kind >= len(counts) and owed > 0:
                    held = min(owed, self._most[kind] * proof.held[kind])
                    cost += -(-held * self._costs[kind] // proof.held[kind])
                    owed -= held
            if owed > 0:
                return None
            most = max(most, cost)
        return most + total(counts, self._costs)
