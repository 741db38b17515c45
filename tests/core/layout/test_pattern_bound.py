"""The bound by what sheets can hold: never above the truth, and above what area and stretches see."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from published_classes import instance
from test_bounds import fewest, tiny_jobs

import core.layout.holdings as holdings
import core.layout.pattern_bound as pattern_bound
from core.layout.blanks import blanks_of, boards_of
from core.layout.bounds import lower_bound
from core.layout.job import Job, JobPart, JobStock
from core.layout.pattern_bound import PatternBound

FAR = 1000
"""A cost that is never met, so that nothing but the work ends the search."""

WORK = 10**9


def raised(job: Job, work: int = WORK) -> int:
    boards = boards_of(job)
    proof = PatternBound(blanks_of(job, boards), boards, [], 0)
    return proof.least([1] * len(boards), FAR, work, lambda: False)


def truth(job: Job) -> int:
    """The fewest sheets, by trying every way to cut (`test_bounds`)."""
    pieces = tuple(sorted((part.length, part.width, part.turns) for part in job.parts))
    return fewest(pieces, job.stock, job.kerf)


@settings(max_examples=60, deadline=None)
@given(tiny_jobs())
def test_it_is_never_above_the_truth(job: Job) -> None:
    assert raised(job) <= truth(job)


@settings(max_examples=60, deadline=None)
@given(tiny_jobs())
def test_a_coarse_scale_is_never_above_the_truth_either(job: Job) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(holdings, "FINEST", 2)
        assert raised(job) <= truth(job)


def test_it_sees_what_area_and_stretches_do_not() -> None:
    # Martello & Vigo's class 7 (`published_classes` names the sources).
    made = instance(7, 20, 4)
    parts = tuple(JobPart(f"P{index}", *size, 1, True) for index, size in enumerate(made.items))
    job = Job("1", 0, parts, (JobStock("sheet", made.side, made.side),))
    assert lower_bound(job) == 4
    assert raised(job, 10 * WORK) == 5


def test_strips_that_cannot_share_a_sheet() -> None:
    # By hand: a sheet 10 wide holds 3 strips of 3 with 1 left over, so 10 strips need 4 sheets; their area needs 3.
    job = Job("1", 0, (JobPart("A", 10, 3, 10, False),), (JobStock("sheet", 10, 10),))
    assert raised(job) == 4


def test_a_piece_that_is_there_once_is_not_taken_twice() -> None:
    # By hand: the one piece leaves no room beside it but for a second one like it, of which there is none; nor does
    # the other. Two of either would fill a sheet, so without counting one sheet would seem enough.
    parts = (JobPart("A", 20, 10, 1, False), JobPart("B", 10, 20, 1, False))
    assert raised(Job("1", 0, parts, (JobStock("sheet", 20, 20),))) == 2


def two_kinds(boards: int, half_boards: int | None) -> PatternBound:
    """Twelve strips, 10 by 4, on boards of 10 by 11 and of 10 by 7: two fit one, and one the other."""
    parts = (JobPart("A", 10, 4, 12, False),)
    stock = (JobStock("board", 10, 11, quantity=boards), JobStock("half", 10, 7, quantity=half_boards))
    job = Job("1", 0, parts, stock)
    return PatternBound(blanks_of(job, boards_of(job)), boards_of(job), [], 1)


@pytest.mark.parametrize(
    ("price", "half_price", "boards", "by_hand"),
    [
        (10, 6, 9, 6 * 10),
        (10, 4, 9, 12 * 4),
        # Of the cheaper ones there are two: they hold four strips, and eight more halves the others.
        (10, 6, 2, 2 * 10 + 8 * 6),
    ],
)
def test_in_money_on_two_kinds_of_boards(price: int, half_price: int, boards: int, by_hand: int) -> None:
    # By hand. The area would do with 480 / 110 boards at 10, or 480 / 70 at 4: 5 boards, or 7 halves.
    assert two_kinds(boards, None).least([price, half_price], FAR, WORK, lambda: False) == by_hand


def test_some_boards_are_ruled_out_and_those_that_do_are_not() -> None:
    bound = two_kinds(9, None)
    for boards in range(8):
        for halves in range(14):
            ruled_out = bound.rules_out((boards, halves), WORK, lambda: False)
            assert ruled_out == (2 * boards + halves < 12)


def test_there_are_not_enough_boards_for_all_pieces() -> None:
    assert two_kinds(2, 3).least([1, 1], FAR, WORK, lambda: False) == FAR, "whatever is paid"


@pytest.mark.parametrize("looks", range(1, 12))
def test_where_little_may_be_looked_at_it_is_never_above_the_truth(looks: int, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pattern_bound, "MOST_LOOKED_AT", looks)
    assert two_kinds(9, None).least([10, 6], FAR, WORK, lambda: False) <= 60
    assert two_kinds(3, None).least([10, 6], FAR, WORK, lambda: False) <= 3 * 10 + 6 * 6


def test_without_work_the_area_alone_counts() -> None:
    # 480 of area: seven halves of 70, where four boards and a half cost 46.
    assert two_kinds(9, None).least([10, 6], FAR, 0, lambda: False) == 42


@settings(max_examples=60, deadline=None)
@given(tiny_jobs())
def test_as_many_counted_pieces_are_parted_as_there_are(job: Job) -> None:
    boards = boards_of(job)
    blanks = blanks_of(job, boards)
    counted = holdings.Holdings(blanks, boards[0].length, boards[0].width, range(len(blanks)))
    prices = [3 + 2 * size for size in range(len(blanks))]
    held = counted.most(prices)
    pieces = counted.pieces(prices, held, counted.corner(boards[0].length, boards[0].width))
    assert sum(prices[size] for size in pieces) == held[-1, -1, -1]
    for size, blank in enumerate(blanks):
        assert pieces.count(size) <= blank.quantity
