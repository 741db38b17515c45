"""Sheets that pay: what the table finds can be cut and holds no more than is wanted, and seldom misses the best."""

from __future__ import annotations

from collections import Counter
from itertools import product

import numpy
from exact import fewest_by_joining
from hypothesis import given, settings
from hypothesis import strategies as st
from layout_jobs import jobs, rectangles
from published_classes import instance

from core.layout.best_sheets import FEW_PASSES, MOST_PASSES, BestSheets
from core.layout.every_sheet import EverySheet
from core.layout.finish import layout_of
from core.layout.fitter import Filling, Fitter
from core.layout.job import Job, JobPart, JobStock
from core.layout.least_boxes import LeastBoxes
from core.layout.places import places_for, rests, sums
from core.layout.shape import block_of
from core.layout.tally import Tallies
from core.layout.tree import Placed, faults

counts = st.lists(st.tuples(st.integers(0, 9), st.integers(0, 9), st.integers(1, 9)), min_size=1, max_size=40)


@settings(max_examples=100, deadline=None)
@given(counts)
def test_tallies_are_added_and_compared_for_every_size_at_once(drawn: list[tuple[int, int, int]]) -> None:
    most = [of[2] for of in drawn]
    one, other = ([min(of[side], of[2]) for of in drawn] for side in (0, 1))
    tallies = Tallies(most)

    def packed(counted: list[int]) -> list[numpy.typing.NDArray[numpy.uint64]]:
        words = [numpy.zeros(1, numpy.uint64) for _ in range(tallies.words)]
        for size, count in enumerate(counted):
            for _ in range(count):
                word, added = tallies.one(size)
                words[word] += added
        return words

    fit = all(a + b <= limit for a, b, limit in zip(one, other, most, strict=True))
    assert bool(tallies.together(packed(one), packed(other))[0]) == fit


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(st.integers(1, 30), st.integers(1, 3)), min_size=1, max_size=5), st.integers(30, 90))
def test_places_are_all_sums_of_pieces(drawn: list[tuple[int, int]], side: int) -> None:
    sizes, most = [[size] for size, _ in drawn], [count for _, count in drawn]
    all_sums = {
        sum(size * count for (size, _), count in zip(drawn, chosen, strict=True))
        for chosen in product(*(range(count + 1) for count in most))
    }
    expected = sorted({place for place in all_sums if place < side} | {side})
    assert sums(sizes, most, side, 1000) == expected
    assert sums(sizes, most, side, len(expected)) == expected
    assert sums(sizes, most, side, len(expected) - 1) is None
    few = places_for(sizes, most, side, 6)
    assert few[0] == 0
    assert few[-1] == side
    assert len(few) <= 6
    for place, lower in zip(expected, rests(expected), strict=True):
        # Each cut that is no longer than half of what it divides, and the longest place that still goes beside it.
        cuts = [cut for cut in expected if 0 < cut <= place / 2]
        assert [expected[rest] for rest in lower] == [max(p for p in expected if p + cut <= place) for cut in cuts]


@settings(max_examples=80, deadline=None)
@given(jobs(), st.randoms(use_true_random=False), st.sampled_from((FEW_PASSES, MOST_PASSES)))
def test_what_it_finds_can_be_cut_and_pays(job: Job, random, passes: int) -> None:
    fitter = Fitter(job)
    wanted = [random.randint(0, blank.quantity) for blank in fitter.blanks]
    prices = [random.randint(0, 100) for _ in fitter.blanks]
    for board, stock in enumerate(fitter.boards):
        found = BestSheets(fitter, board, wanted).worth_more(prices, 50, passes)
        for pattern, shape in found.items():
            assert pattern.board == board
            sizes = Counter(pattern.sizes)
            assert sum(prices[size] * count for size, count in sizes.items()) > 50
            assert all(count <= wanted[size] for size, count in sizes.items())
            missing = [size for size, blank in enumerate(fitter.blanks) for _ in range(blank.quantity - sizes[size])]
            filling = Filling((board,), (block_of(shape, fitter.rooms),), tuple(missing))
            sheet = layout_of(job, fitter, filling, 0).sheets[0]
            assert sheet.stock == stock.stock
            assert not faults(sheet.root, job.kerf)
            placed = [node for _, node in rectangles(sheet.root) if isinstance(node, Placed)]
            assert len(placed) == len(pattern.sizes)


small = st.lists(
    st.tuples(st.integers(1, 12), st.integers(1, 12), st.booleans(), st.integers(1, 9)), min_size=1, max_size=5
)


@settings(max_examples=60, deadline=None)
@given(small, st.integers(0, 1))
def test_pieces_go_together_exactly_if_they_can_be_joined(drawn: list[tuple[int, int, bool, int]], kerf: int) -> None:
    # Checked against a recursion on sets that shares nothing with the engine (`exact`).
    parts = tuple(JobPart(f"P{at}", min(a, 12), min(b, 10), 1, turns) for at, (a, b, turns, _) in enumerate(drawn))
    parts = tuple(part for part in parts if part.width <= 10)
    job = Job("1", kerf, parts, (JobStock("sheet", 12, 10),))
    fitter = Fitter(job)
    board, quantities = fitter.boards[0], [blank.quantity for blank in fitter.blanks]
    boxes = LeastBoxes(fitter.blanks, board.length, board.width)
    boxes.allow(10**9, lambda: False)
    pieces = sum(one * quantity for one, quantity in zip(boxes.one, quantities, strict=True))
    assert [*boxes.counted(pieces)] == [*enumerate(quantities)]
    assert bool(boxes.of(pieces)) == (fewest_by_joining(job) == 1)


@settings(max_examples=60, deadline=None)
@given(small)
def test_every_sheet_finds_the_best_and_the_table_nothing_better(drawn: list[tuple[int, int, bool, int]]) -> None:
    parts = tuple(
        JobPart(f"P{at}", a, min(b, 10), 1 + count % 2, turns) for at, (a, b, turns, count) in enumerate(drawn)
    )
    job = Job("1", 0, parts, (JobStock("sheet", 12, 10),))
    fitter = Fitter(job)
    prices = [7 + 5 * size for size in range(len(fitter.blanks))]
    boxes = LeastBoxes(fitter.blanks, 12, 10)
    boxes.allow(10**9, lambda: False)
    together = [
        sum(price * count for price, count in zip(prices, chosen, strict=True))
        for chosen in product(*(range(blank.quantity + 1) for blank in fitter.blanks))
        if any(chosen) and boxes.of(sum(one * count for one, count in zip(boxes.one, chosen, strict=True)))
    ]
    best = max(together)
    every = EverySheet(fitter)
    assert every.priced_at(prices, best, 10**9, lambda: False) is not None
    assert every.priced_at(prices, best + 1, 10**9, lambda: False) is None
    wanted = [blank.quantity for blank in fitter.blanks]
    assert not BestSheets(fitter, 0, wanted).worth_more(prices, best, MOST_PASSES)


def test_the_table_finds_the_best_sheet_of_published_pieces() -> None:
    # Martello & Vigo's class 7 and Berkey & Wang's class 3 (`published_classes` names the sources), priced by area:
    # the best sheet is known from looking at every one.
    for number, side in ((7, 100), (3, 40)):
        made = instance(number, 20, 3)
        assert made.side == side
        parts = tuple(JobPart(f"P{index}", *size, 1, True) for index, size in enumerate(made.items))
        fitter = Fitter(Job("1", 0, parts, (JobStock("sheet", side, side),)))
        prices = [blank.area for blank in fitter.blanks]
        found = BestSheets(fitter, 0, [blank.quantity for blank in fitter.blanks]).worth_more(prices, 0, MOST_PASSES)
        best = max(sum(prices[size] for size in pattern.sizes) for pattern in found)
        every = EverySheet(fitter)
        assert every.priced_at(prices, best, 10**7, lambda: False) is not None
        assert every.priced_at(prices, best + 1, 10**7, lambda: False) is None
