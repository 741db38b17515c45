"""Several kinds of sheets: asked again with only so many of each."""

from __future__ import annotations

from dataclasses import replace

from core.layout.by_mixes import FIRST_SHARE, MOST_ASKED, answered_by_mixes
from core.layout.job import Job, JobPart, JobStock
from core.layout.search import first_layout, lay_out
from core.layout.tree import Announce, Layout

SIZES = [(283, 359, 2, True), (803, 317, 4, True), (297, 280, 2, False), (284, 390, 2, True), (566, 202, 1, True)]
SIZES += [(472, 436, 2, True), (668, 346, 3, False)]
KINDS = [(1820, 1210, 4091), (2430, 1210, 7623), (2490, 1240, 7148), (2490, 1240, 5577)]
JOB = Job(
    "1",
    3,
    tuple(JobPart(f"P{number}", *size) for number, size in enumerate(SIZES)),
    tuple(JobStock(f"{price}", length, width, price=price) for length, width, price in KINDS),
    iterations=300,
)
TWO_SMALL = 2 * 4091


def money(layout: Layout, job: Job = JOB) -> int:
    return sum(job.stock[sheet.stock].price for sheet in layout.sheets)


def test_one_sheet_that_is_hard_to_fill_is_found_in_the_place_of_two() -> None:
    # That all goes on one was found by this search itself: 92 in a hundred of it are used.
    heard: list[Layout] = []
    layout = lay_out(JOB, announce=heard.append)
    assert money(layout) == 5577 < TWO_SMALL and not layout.unplaced
    assert money(heard[-1]) == 5577, "and it is told as soon as it is found"
    paid = [money(one) for one in heard]
    assert paid == sorted(paid, reverse=True)


def test_each_time_there_are_only_so_many_and_what_that_proves_is_no_bound_of_the_job() -> None:
    asked: list[Job] = []
    shares: list[float] = []

    def answer(job: Job, announce: Announce, share: float) -> Layout:
        asked.append(job)
        shares.append(share)
        if job is JOB:
            return replace(first_layout(job), lower_bound=1, least_money=4091)
        return replace(first_layout(job), lower_bound=9, least_money=99_999)

    layout = answered_by_mixes(JOB, answer, None, lambda: False)
    # One sheet at 5577 does, as the test above shows, and no small one: that the mixes have shown.
    assert (layout.lower_bound, layout.least_money) == (1, 5577)
    assert asked[0] is JOB and 1 < len(asked) <= 1 + MOST_ASKED
    most = money(first_layout(JOB))
    for job in asked[1:]:
        counts = [stock.quantity for stock in job.stock]
        assert None not in counts and job.iterations < JOB.iterations
        assert sum(count * stock.price for count, stock in zip(counts, job.stock, strict=True) if count) < most
    assert len({job.stock for job in asked}) == len(asked), "none twice before each was asked for once"
    assert len({job.seed for job in asked[1:]}) == len(asked) - 1
    assert sum(job.iterations for job in asked[1:]) == JOB.iterations
    assert shares[0] == FIRST_SHARE and shares[-1] == 1, "the last one gets all the time that is left"


def test_nothing_is_asked_again_where_nothing_can_cost_less_or_nobody_waits() -> None:
    asked: list[Job] = []

    def answer(job: Job, announce: Announce, share: float) -> Layout:
        asked.append(job)
        layout = first_layout(job)
        return replace(layout, least_money=money(layout))

    answered_by_mixes(JOB, answer, None, lambda: False)
    assert asked == [JOB]
    asked.clear()
    answered_by_mixes(JOB, lambda job, announce, share: asked.append(job) or first_layout(job), None, lambda: True)
    assert asked == [JOB]


def test_sheets_that_cannot_hold_all_pieces_are_not_asked_for() -> None:
    # By hand: a strip is longer than the half sheets, so that whatever many of these alone will not do.
    stock = (JobStock("sheet", 2430, 1210, price=6000), JobStock("half", 1210, 1210, price=1000))
    strips, shelves = JobPart("strip", 2000, 100, 2, False), JobPart("shelf", 800, 300, 12, False)
    job = Job("1", 3, (strips, shelves), stock)
    asked: list[Job] = []

    def answer(job: Job, announce: Announce, share: float) -> Layout:
        asked.append(job)
        return replace(first_layout(job), lower_bound=1, least_money=0)

    answered_by_mixes(job, answer, None, lambda: False)
    assert asked[0] is job and all(one.stock[0].quantity for one in asked[1:])


def test_what_is_shown_of_all_mixes_is_shown_of_the_job() -> None:
    # By hand: of the strips three go on a sheet and one on a half sheet, and nothing else goes beside them.
    stock = (JobStock("sheet", 2430, 1210, price=6000), JobStock("half", 2430, 500, price=2500))
    job = Job("1", 3, (JobPart("strip", 2400, 390, 7, False),), stock)

    def answer(job: Job, announce: Announce, share: float) -> Layout:
        return replace(first_layout(job), lower_bound=1, least_money=0)

    layout = answered_by_mixes(job, answer, None, lambda: False)
    assert money(layout, job) == layout.least_money == 2 * 6000 + 2500
    assert layout.lower_bound == len(layout.sheets) == 3


def test_without_prices_fewer_sheets_are_asked_for() -> None:
    stock = (JobStock("small", 1210, 600), JobStock("large", 2430, 1210))
    job = Job("1", 3, tuple(JobPart(f"P{n}", 590, 390, 4, True) for n in range(3)), stock, iterations=100)
    layout = lay_out(job)
    assert [sheet.stock for sheet in layout.sheets] == [1] and layout.proved_minimum
