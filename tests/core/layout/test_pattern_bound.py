"""The bound by what one sheet can hold: never above the truth, and above what area and stretches see."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from published_classes import instance
from test_bounds import fewest, tiny_jobs

import core.layout.holdings as holdings
from core.layout.blanks import blanks_of, boards_of
from core.layout.bounds import lower_bound
from core.layout.job import Job, JobPart, JobStock
from core.layout.pattern_bound import PatternBound

FAR = 1000
"""A goal that is never met, so that nothing but the steps ends the search."""


def raised(job: Job, work: int = 10**9) -> int:
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
    assert raised(job, 10**10) == 5


def test_strips_that_cannot_share_a_sheet() -> None:
    # By hand: a sheet 10 wide holds 3 strips of 3 with 1 left over, so 10 strips need 4 sheets; their area needs 3.
    job = Job("1", 0, (JobPart("A", 10, 3, 10, False),), (JobStock("sheet", 10, 10),))
    assert raised(job) == 4


def test_a_piece_that_is_there_once_is_not_taken_twice() -> None:
    # By hand: the one piece leaves no room beside it but for a second one like it, of which there is none; nor does
    # the other. Two of either would fill a sheet, so without counting one sheet would seem enough.
    parts = (JobPart("A", 20, 10, 1, False), JobPart("B", 10, 20, 1, False))
    assert raised(Job("1", 0, parts, (JobStock("sheet", 20, 20),))) == 2


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
