"""Sheets that are crosscut or ripped first, and sheets with a bad place."""

from __future__ import annotations

import json
from collections import Counter
from dataclasses import replace
from functools import partial
from random import Random
from typing import Any

import pytest
from exact import fewest_beside_bad
from hypothesis import given, settings
from hypothesis import strategies as st

import core.layout.search as search
from core.layout.cut_first import ways_to_cut
from core.layout.divided import _by_divisions
from core.layout.division import TOO_SMALL, division_of
from core.layout.job import Job, JobPart, JobStock, JobTrim
from core.layout.place import meets, near
from core.layout.preference import rank
from core.layout.search import first_layout, lay_out
from core.layout.tree import Announce, Cut, Layout, Placed, faults, walk
from core.mistakes import Mistake

PLAIN = Job("1/10", 3, (JobPart("A", 200, 100, 5, False),), (JobStock("sheet", 1000, 600),), iterations=40)


@st.composite
def jobs(draw: st.DrawFn) -> Job:
    kerf = draw(st.integers(0, 6))
    trim = JobTrim(*(draw(st.sampled_from([0, 8])) for _ in range(4)))
    length, width = draw(st.integers(300, 1000)), draw(st.integers(200, 600))
    first, bad = [0, 0, 0, 0], []
    ways = draw(st.sampled_from([(True, False), (False, True), (True, True), ()]))
    for at, whole, way in zip((0, 2), (length, width), ways, strict=False):
        if way:
            first[at], first[at + 1] = draw(st.integers(5, whole - 5)), draw(st.sampled_from([0, 8]))
    for _ in range(draw(st.integers(0 if ways else 1, 3))):
        x, y = draw(st.integers(0, length - 2)), draw(st.integers(0, width - 2))
        bad.append((x, y, draw(st.integers(1, length - x)), draw(st.integers(1, width - y))))
    quantity = draw(st.sampled_from([None, 1, 3]))
    stock = [JobStock("sheet", length, width, trim, quantity, draw(st.sampled_from([0, 500])), *first, tuple(bad))]
    if draw(st.booleans()):
        stock.append(JobStock("other", 400, 300))
    parts = tuple(
        JobPart(
            f"P{n}",
            draw(st.integers(20, 400)),
            draw(st.integers(20, 300)),
            draw(st.integers(1, 5)),
            draw(st.booleans()),
        )
        for n in range(draw(st.integers(1, 3)))
    )
    return Job("1/10", kerf, parts, tuple(stock), iterations=30)


def check(job: Job, layout: Layout) -> None:
    used = Counter(sheet.stock for sheet in layout.sheets)
    placed: Counter[int] = Counter()
    for sheet in layout.sheets:
        stock = job.stock[sheet.stock]
        assert (sheet.root.length, sheet.root.width) == (stock.length, stock.width)
        assert faults(sheet.root, job.kerf) == []
        for spot in walk(sheet.root):
            if isinstance(spot.node, Placed):
                placed[spot.node.part] += 1
                trim, end, top = stock.trim, spot.x + spot.node.length, spot.y + spot.node.width
                assert trim.left <= spot.x and end <= stock.length - trim.right, "it lies in the trim"
                assert trim.bottom <= spot.y and top <= stock.width - trim.top, "it lies in the trim"
                for at, loses, start, extent in (
                    (stock.crosscut_at, stock.crosscut_trim, spot.x, spot.node.length),
                    (stock.rip_at, stock.rip_trim, spot.y, spot.node.width),
                ):
                    beside = start - at - job.kerf if start >= at else at - start - extent
                    assert not at or beside >= loses, "it lies in the blade's way, or in the allowance beside it"
                assert not meets(stock.bad, spot.x, spot.y, spot.node.length, spot.node.width)
        if stock.crosscut_at:
            root = sheet.root
            assert isinstance(root, Cut) and root.direction == "crosscut"
            assert root.low is not None and root.low.length == stock.crosscut_at
        if stock.rip_at:
            halves = [half for half in (sheet.root.low, sheet.root.high) if half] if stock.crosscut_at else [sheet.root]
            for half in halves:
                assert isinstance(half, Cut) and half.direction == "rip"
                assert half.low is not None and half.low.width == stock.rip_at
    for index, stock in enumerate(job.stock):
        assert stock.quantity is None or used[index] <= stock.quantity
    missing = Counter({one.part: one.quantity for one in layout.unplaced})
    for number, part in enumerate(job.parts):
        assert placed[number] + missing[number] == part.quantity
    assert layout.lower_bound <= len(layout.sheets)


def lay_out_plain(job: Job, announce: Announce) -> Layout:
    """The answer to a job without first cuts and bad places."""
    return lay_out(job, announce=announce)


@settings(max_examples=80, deadline=None)
@given(jobs())
def test_the_settled_cuts_come_first_and_nothing_lies_on_a_bad_place(job: Job) -> None:
    check(job, first_layout(job))
    announced: list[Layout] = []
    found = lay_out(job, announce=announced.append)
    for layout in (*announced, found):
        check(job, layout)


def test_two_halves_make_a_sheet() -> None:
    job = replace(
        PLAIN, stock=(JobStock("sheet", 1000, 600, crosscut_at=490),), parts=(JobPart("A", 480, 590, 4, False),)
    )
    layout = lay_out(job)
    assert len(layout.sheets) == 2 and layout.proved_minimum
    # Of a sheet that is cut into a large and a small piece only one holds such a part; by the number of pieces that
    # there must be, two sheets would do for four.
    unequal = replace(job, stock=(replace(job.stock[0], crosscut_at=900),), parts=(JobPart("A", 800, 590, 4, False),))
    assert len(lay_out(unequal).sheets) == 4 and lay_out(unequal).proved_minimum
    # With a blade of no width both pieces of a sheet are there as well: three of each go on three sheets.
    thin = replace(job, kerf=0, parts=(JobPart("A", 480, 590, 3, False), JobPart("B", 500, 590, 3, False)))
    assert len(lay_out(thin).sheets) == 3
    # What is longer than both halves has no place any more.
    longer = replace(job, parts=(JobPart("A", 600, 100, 1, False),))
    assert [(one.quantity, one.reason) for one in lay_out(longer).unplaced] == [(1, TOO_SMALL)]
    too_long = replace(job, parts=(JobPart("A", 1100, 100, 1, False),))
    assert [one.reason for one in lay_out(too_long).unplaced] == ["too long for the trimmed sheet along the grain"]
    scarce = replace(job, stock=(replace(job.stock[0], quantity=1),))
    assert [one.reason for one in lay_out(scarce).unplaced] == ["the search found no room on the stock there is"]


@pytest.mark.parametrize(
    ("parts", "stock", "money"),
    [
        # By hand. Of a sheet crosscut at 600 only one piece holds such a part, but four of them cost less than two dear
        # ones; at a price that is not so dear two do.
        ((590, 590, 4), (JobStock("cut", 1000, 600, price=10, crosscut_at=600), 1200, 500), 40),
        ((590, 590, 4), (JobStock("cut", 1000, 600, price=10, crosscut_at=600), 1200, 30), 30),
        # By its share of the sheet the larger piece seems cheap, but the rest of the sheet is paid for as well.
        ((1200, 1200, 1), (JobStock("cut", 2440, 1220, price=60, crosscut_at=1300), 1300, 45), 45),
        ((1290, 1200, 3), (JobStock("cut", 2440, 1220, price=60, crosscut_at=1300), 1300, 45), 135),
    ],
)
def test_least_money_comes_first_where_sheets_are_cut_first(
    parts: tuple[int, int, int], stock: tuple[JobStock, int, int], money: int
) -> None:
    first, length, price = stock
    other = JobStock("other", length, 1200, price=price)
    job = replace(PLAIN, parts=(JobPart("A", *parts, False),), stock=(first, other))
    told: list[Layout] = []
    layout = lay_out(job, announce=told.append)
    assert sum(job.stock[sheet.stock].price for sheet in layout.sheets) == money
    ranks = [rank(job, each) for each in told]
    assert ranks == sorted(ranks, reverse=True)
    assert rank(job, layout) == ranks[-1]


def test_what_is_left_over_of_one_sheet_and_bought_with_another_is_not_cheap() -> None:
    # By hand: a sheet at 100 gives one A and one B, so that three of each cost 300. By their shares two large pieces, a
    # small one and a whole sheet at 130 seem to cost less.
    cut = JobStock("cut", 244, 122, JobTrim(5, 5, 5, 5), None, 100, crosscut_at=162)
    parts = (JobPart("A", 115, 58, 3, False), JobPart("B", 92, 61, 3, True))
    whole = JobStock("whole", 244, 122, JobTrim(5, 5, 5, 5), None, 130)
    layout = lay_out(replace(PLAIN, kerf=0, parts=parts, stock=(cut, whole)))
    assert [sheet.stock for sheet in layout.sheets] == [0, 0, 0]


def test_no_layout_that_is_announced_claims_what_holds_for_less_stock_only() -> None:
    # One sheet would hold all four at 60.00; four others cost 59.60, and are found when it is asked without that sheet.
    dear = JobStock("dear", 2440, 1220, price=6000, rip_at=10)
    job = replace(PLAIN, parts=(JobPart("A", 1200, 300, 4, False),), stock=(dear, JobStock("o", 1300, 310, price=1490)))
    told: list[Layout] = []
    lay_out(job, announce=told.append)
    assert [len(each.sheets) for each in told] == [1, 4]
    assert all(each.lower_bound == 1 for each in told)


def test_a_cap_on_the_time_is_for_all_that_is_asked() -> None:
    cut = JobStock("sheet", 1000, 600, price=10, crosscut_at=490)
    job = replace(PLAIN, stock=(cut, JobStock("other", 990, 600, price=100)))
    asked: list[float] = []
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(search, "_Search", partial(_Told, asked))
        lay_out(replace(job, parts=(JobPart("A", 480, 590, 5, False),)), cap_seconds=5)
    assert len(asked) > 1
    assert asked == sorted(asked, reverse=True) and asked[0] <= 5


def test_when_the_cap_is_over_nothing_more_is_asked() -> None:
    cut = JobStock("sheet", 1000, 600, price=10, crosscut_at=490)
    job = replace(PLAIN, stock=(cut, JobStock("other", 990, 600, price=100)))
    for stop in ({"cap_seconds": 0}, {"cancelled": lambda: True}):
        asked: list[float] = []
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(search, "_Search", partial(_Told, asked))
            assert lay_out(replace(job, parts=(JobPart("A", 480, 590, 5, False),)), **stop).sheets
        assert len(asked) == 1


@pytest.mark.parametrize(
    ("stock", "told"),
    [
        (JobStock("s", 1000, 600, crosscut_at=1000), "the first crosscut of s is at 1000"),
        (JobStock("s", 1000, 600, rip_at=600), "the first rip of s is at 600"),
        (JobStock("s", 1000, 600, crosscut_at=400, crosscut_trim=2), "the trim of the first crosscut of s is narrower"),
        (JobStock("s", 1000, 600, bad=((100, 100, 0, 50),)), "a bad place of s has no size"),
        (JobStock("s", 1000, 600, quantity=-1), "there are -1 of s"),
    ],
)
def test_a_first_cut_that_no_sheet_has_is_refused(stock: JobStock, told: str) -> None:
    with pytest.raises(Mistake, match=told):
        lay_out(replace(PLAIN, stock=(stock,)))


def test_the_bound_counts_the_openings_that_hold_a_part() -> None:
    # By hand: of the two pieces of a sheet one holds two of these parts, and the other none.
    stock = JobStock("sheet", 1000, 1000, crosscut_at=650)
    layout = lay_out(replace(PLAIN, stock=(stock,), parts=(JobPart("A", 480, 480, 4, False),)))
    assert len(layout.sheets) == 2 and layout.proved_minimum


class _Told(search._Search):
    """Notes what cap it was given."""

    def __init__(self, asked: list[float | None], job: Job, cap_seconds: float | None, *others: Any) -> None:
        asked.append(cap_seconds)
        super().__init__(job, cap_seconds, *others)


def test_a_sheet_that_is_crosscut_and_ripped_first_gives_four_quarters() -> None:
    quarter = JobPart("A", 490, 290, 8, False)
    first = JobStock("sheet", 1000, 600, crosscut_at=495, rip_at=295)
    layout = lay_out(replace(PLAIN, stock=(first,), parts=(quarter,)))
    assert len(layout.sheets) == 2 and layout.proved_minimum
    # What the rip loses at both sides is missing across the quarters, and only there: 295 - 10 and 302 - 10.
    loses = replace(first, rip_trim=10)
    assert [one.stock.inner_width for one in ways_to_cut(loses, 3)[0].openings] == [285, 292, 285, 292]
    assert [one.stock.inner_length for one in ways_to_cut(loses, 3)[0].openings] == [495, 495, 502, 502]


def test_a_bad_place_is_cut_out_of_what_the_first_cuts_leave_and_the_cuts_round_it_lose_nothing() -> None:
    first = JobStock("sheet", 1000, 600, crosscut_at=495, crosscut_trim=10, bad=((450, 0, 100, 50),))
    way = ways_to_cut(first, 3)[0]
    tree, openings = way.tree, way.openings
    assert isinstance(tree, Cut) and (tree.direction, tree.low and tree.low.length) == ("crosscut", 495)
    # Of both halves the strip at the lower edge goes, and what of it is not bad is a piece by itself.
    found = [(one.stock.length, one.stock.width, one.stock.inner_length, one.stock.inner_width) for one in openings]
    assert sorted(found) == [(447, 50, 447, 50), (447, 50, 447, 50), (495, 547, 485, 547), (502, 547, 492, 547)]


def test_a_crushed_corner_lies_in_what_is_left_over() -> None:
    # By hand: three strips of 195 and a kerf leave 1000 x 9 of 600, so any cut round the corner costs a strip; but
    # of the lowest one 200 x 195 is left over at its right end, and the strips may change sides, and their ends.
    stock = JobStock("sheet", 1000, 600, bad=((0, 0, 50, 60),))
    parts = (JobPart("A", 1000, 195, 2, False), JobPart("B", 797, 195, 1, False))
    layout = lay_out(replace(PLAIN, stock=(stock,), parts=parts))
    assert layout.proved_minimum and len(layout.sheets) == 1
    check(replace(PLAIN, stock=(stock,), parts=parts), layout)


def test_of_sheets_that_are_alike_the_one_with_the_bad_place_gets_the_layout_with_room_for_it() -> None:
    # By hand: two parts fill a sheet, and one leaves half of it; which sheet has the bad place does not matter.
    for bad in ((0, 0, 50, 50), (950, 550, 50, 50), (400, 10, 50, 50)):
        stock = (JobStock("piece", 1000, 600, quantity=1, bad=(bad,)), JobStock("sheet", 1000, 600, price=100))
        job = replace(PLAIN, stock=stock, parts=(JobPart("A", 1000, 298, 3, False),))
        layout = lay_out(job)
        check(job, layout)
        assert sorted(sheet.stock for sheet in layout.sheets) == [0, 1]
        assert (layout.least_money, layout.proved_minimum) == (100, True)


def beside_bad(seed: int) -> Job:
    """A few pieces on a small sheet that is bad at a corner, at an edge, or anywhere; every third sheet at two."""
    chance = Random(seed)
    length, width = chance.randint(12, 18), chance.randint(9, 14)
    bad = []
    for _ in range(2 if seed % 3 == 2 else 1):
        bad_length, bad_width = chance.randint(1, 3), chance.randint(1, 3)
        where = chance.choice(["corner", "edge", "anywhere"])
        x = chance.randint(0, length - bad_length) if where == "anywhere" else chance.choice([0, length - bad_length])
        y = chance.choice([0, width - bad_width]) if where == "corner" else chance.randint(0, width - bad_width)
        bad.append((x, y, bad_length, bad_width))
    parts = tuple(
        JobPart(f"P{n}", chance.randint(3, length // 2), chance.randint(3, width // 2), 1, chance.random() < 0.5)
        for n in range(chance.randint(4, 7))
    )
    stock = JobStock("sheet", length, width, bad=tuple(bad))
    return Job("1", chance.choice([0, 1]), parts, (stock,), iterations=300)


def test_beside_a_bad_place_no_proof_is_false_and_the_fewest_sheets_are_found_for_nearly_all() -> None:
    found, asked = 0, [beside_bad(seed) for seed in range(30)]
    for job in asked:
        layout = lay_out(job)
        check(job, layout)
        if layout.unplaced:
            continue
        assert layout.lower_bound <= fewest_beside_bad(job) <= len(layout.sheets)
        # Parts are kept a kerf away from it.
        (stock,), kerf = job.stock, job.kerf
        larger = replace(stock, bad=tuple(near(bad, kerf) for bad in stock.bad))
        found += len(layout.sheets) <= fewest_beside_bad(replace(job, stock=(larger,)))
    assert found >= 26


def test_a_bad_place_that_the_trim_takes_off_is_not_cut_round() -> None:
    # By hand: a trim of 6 leaves 94, also with a place of 2 at that edge, or at its corner; one of 7 is in the way.
    stock = JobStock("sheet", 100, 50, JobTrim(left=6), bad=((0, 0, 2, 50),))
    job = Job("1", 3, (JobPart("A", 94, 40, 1, False),), (stock,), iterations=30)
    for bad in ((0, 0, 2, 50), (0, 0, 6, 2), (1, 20, 5, 9)):
        layout = lay_out(replace(job, stock=(replace(stock, bad=(bad,)),)))
        assert not layout.unplaced and layout.proved_minimum
    assert lay_out(replace(job, stock=(replace(stock, bad=((0, 0, 7, 50),)),))).unplaced
    two = (JobPart("A", 43, 50, 1, False), JobPart("B", 44, 50, 1, False))
    layout = lay_out(
        replace(job, parts=two, stock=(JobStock("sheet", 100, 50, JobTrim(left=10), bad=((0, 0, 5, 50),)),))
    )
    assert len(layout.sheets) == 1
    # The same beside a first cut.
    first = JobStock("sheet", 100, 50, crosscut_at=40, crosscut_trim=8, bad=((43, 0, 2, 50),))
    assert [
        (one.stock.length, one.stock.trim.left, one.stock.trim.right) for one in ways_to_cut(first, 3)[0].openings
    ] == [
        (40, 0, 8),
        (57, 8, 0),
    ]


def test_of_the_ways_round_a_bad_place_the_one_with_the_larger_piece_is_tried_first() -> None:
    # A place at the lower edge, far from both ends: a rip above it leaves the most.
    way = ways_to_cut(JobStock("sheet", 1000, 600, bad=((450, 0, 100, 50),)), 3)[0]
    assert isinstance(way.tree, Cut) and way.tree.direction == "rip"
    assert max(one.stock.width for one in way.openings) == 600 - 50 - 3
    # At the left end a crosscut does.
    tree = ways_to_cut(JobStock("sheet", 1000, 600, bad=((0, 250, 50, 100),)), 3)[0].tree
    assert isinstance(tree, Cut) and tree.direction == "crosscut"


@st.composite
def beside_a_bad_place(draw: st.DrawFn) -> Job:
    """One sheet with a trim of its edges and up to three bad places, and a part that finds its place beside them."""
    kerf = draw(st.integers(0, 4))
    length, width = draw(st.integers(60, 100)), draw(st.integers(60, 100))
    loses = draw(st.sampled_from([0, 7]))
    x, y = draw(st.integers(loses, length - 20)), draw(st.integers(loses, width - 20))
    end, top = draw(st.integers(x + 1, length - loses)), draw(st.integers(y + 1, width - loses))
    # Each bad place lies on one side of where the part will do, a kerf away.
    beside = [(0, 0, x - kerf, width), (end + kerf, 0, length, width), (0, 0, length, y - kerf)]
    beside = [one for one in (*beside, (0, top + kerf, length, width)) if one[0] < one[2] and one[1] < one[3]]
    bad = []
    for left, bottom, right, high in draw(st.lists(st.sampled_from(beside), max_size=3)) if beside else ():
        at, up = draw(st.integers(left, right - 1)), draw(st.integers(bottom, high - 1))
        bad.append((at, up, draw(st.integers(1, right - at)), draw(st.integers(1, high - up))))
    quantity = draw(st.sampled_from([None, 1, 2]))
    stock = JobStock("sheet", length, width, JobTrim(loses, loses, loses, loses), quantity, bad=tuple(bad))
    return Job("1", kerf, (JobPart("A", end - x, top - y, 1, False),), (stock,), iterations=30)


@settings(max_examples=60, deadline=None)
@given(beside_a_bad_place())
def test_what_fits_beside_bad_places_on_any_side_of_them_finds_its_place(job: Job) -> None:
    layout = lay_out(job)
    check(job, layout)
    assert not layout.unplaced


def test_sheets_are_cut_round_their_bad_places_each_in_its_own_way() -> None:
    # By hand: only upright strips hold the first two parts, and only one that lies holds the third; none needs more.
    stock = JobStock("sheet", 1000, 1000, quantity=3, bad=((650, 650, 300, 300),))
    parts = (JobPart("A", 600, 950, 2, False), JobPart("B", 950, 600, 1, False))
    job = replace(PLAIN, stock=(stock,), parts=parts)
    assert not lay_out(job).unplaced
    # The same where no order of what lies on a whole sheet clears it.
    layout = _by_divisions(division_of(job), lay_out_plain, lambda _: None, lambda: False)
    check(job, layout)
    assert not layout.unplaced and len(layout.sheets) == 3
    first_cuts = sorted(sheet.root.direction for sheet in layout.sheets if isinstance(sheet.root, Cut))
    assert first_cuts == ["crosscut", "crosscut", "rip"]
    each = tuple(replace(stock, name=f"piece {number}", quantity=1) for number in range(3))
    assert not lay_out(replace(job, stock=each)).unplaced
    # A part that goes beside it in no way is told so.
    large = replace(job, parts=(JobPart("A", 660, 660, 1, False),))
    assert [one.reason for one in lay_out(large).unplaced] == [TOO_SMALL]


def test_what_a_bad_place_leaves_is_used_before_a_sheet_is_bought() -> None:
    # By hand: what is left beside a bad place near the corner, the long way, holds the part; else it costs a sheet.
    rack = JobStock("rack", 1000, 900, quantity=1, bad=((300, 880, 700, 20),))
    job = replace(PLAIN, stock=(rack, JobStock("new", 2440, 1220, price=5000)))
    job = replace(job, parts=(JobPart("A", 290, 890, 1, False), JobPart("B", 690, 870, 1, False)))
    assert [sheet.stock for sheet in lay_out(job).sheets] == [0]


def test_a_sheet_that_is_bad_all_over_gives_nothing() -> None:
    job = replace(PLAIN, stock=(JobStock("sheet", 1000, 600, bad=((0, 0, 1000, 600),)),))
    assert division_of(job).split().stock == ()
    assert lay_out(job).sheets == ()


def test_the_text_of_a_job_of_plain_sheets_is_what_it_always_was() -> None:
    (stock,) = json.loads(PLAIN.as_json())["stock"]
    assert set(stock) == {"name", "length", "width", "trim", "quantity", "price"}
    for stock_of in (
        JobStock("s", 9, 9, crosscut_at=4),
        JobStock("s", 9, 9, rip_at=4, rip_trim=3),
        JobStock("s", 9, 9, bad=((1, 2, 3, 4),)),
    ):
        job = replace(PLAIN, stock=(stock_of,))
        assert Job.from_json(job.as_json()) == job
        assert job.fingerprint() != replace(job, stock=(JobStock("s", 9, 9),)).fingerprint()
