"""Numbers of boards that might hold all pieces: against all of them, one after another."""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.layout.purchases import Counts, Proof, Purchases, total


@st.composite
def questions(draw: st.DrawFn) -> tuple[list[int], Counts, list[Proof]]:
    """Costs, how many there are of each kind, and proofs."""
    kinds = draw(st.integers(1, 3))

    def numbers(least: int, most: int) -> list[int]:
        return draw(st.lists(st.integers(least, most), min_size=kinds, max_size=kinds))

    proofs = [Proof(draw(st.integers(0, 30)), tuple(numbers(0, 9))) for _ in range(draw(st.integers(0, 3)))]
    return numbers(1, 9), tuple(numbers(0, 4)), proofs


def all_that_might_do(costs: list[int], most: Counts, proofs: list[Proof]) -> list[tuple[int, Counts]]:
    every = product(*(range(count + 1) for count in most))
    return sorted((total(counts, costs), counts) for counts in every if not any(one.against(counts) for one in proofs))


def test_what_does_not_tell_all_kinds_is_answered_by_no_proof() -> None:
    # That the first kinds alone do not do says nothing of the others.
    with pytest.raises(ValueError):
        Proof(5, (2, 3)).against((1,))


@given(questions())
def test_each_that_nothing_speaks_against_is_given_once_the_least_costly_first(question) -> None:
    costs, most, proofs = question
    given_out = list(Purchases(costs, most, proofs).least_first(lambda: True))
    assert [cost for cost, _ in given_out] == sorted(cost for cost, _ in given_out)
    assert sorted(given_out) == all_that_might_do(costs, most, proofs)


@given(questions(), st.data())
def test_what_is_learned_on_the_way_holds_from_then_on(question, data: st.DataObject) -> None:
    costs, most, proofs = question
    purchases, known, got = Purchases(costs, most), [], []
    for cost, counts in purchases.least_first(lambda: True):
        assert not any(one.against(counts) for one in known)
        got.append((cost, counts))
        if len(known) < len(proofs) and data.draw(st.booleans()):
            purchases.learn(proofs[len(known)])
            known.append(proofs[len(known)])
    assert set(got) >= set(all_that_might_do(costs, most, known))


@given(questions(), st.integers(0, 20))
def test_where_no_more_may_be_looked_at_nothing_left_out_costs_less_than_the_last(question, looks: int) -> None:
    costs, most, proofs = question
    left = iter(range(looks, -1, -1))
    last, full = 0, []
    for cost, counts in Purchases(costs, most, proofs).least_first(lambda: next(left, 0) > 0):
        last = cost
        if len(counts) < len(most):
            break
        full.append((cost, counts))
    else:
        return
    assert all(cost >= last or (cost, counts) in full for cost, counts in all_that_might_do(costs, most, proofs))
