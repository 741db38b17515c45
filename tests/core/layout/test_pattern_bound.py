"""The bound by what one sheet can hold: never above the truth, and above what area and stretches see."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from published_classes import instance
from test_bounds import fewest, tiny_jobs

import core.layout.pattern_bound as pattern_bound
from core.layout.blanks import blanks_of, boards_of
from core.layout.bounds import lower_bound
from core.layout.job import Job, JobPart, JobStock
from core.layout.pattern_bound import PatternBound

FAR = 1000
"""A goal that is never met, so that nothing but the steps ends the search."""


def raised(job: Job, steps: int = 60) -> int:
    boards = boards_of(job)
    proof = PatternBound(blanks_of(job, boards), boards, [])
    return proof.raise_to(FAR, steps, lambda: False)


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
        patch.setattr(pattern_bound, "FINEST", 2)
        assert raised(job) <= truth(job)


def test_it_sees_what_area_and_stretches_do_not() -> None:
    # Martello & Vigo's class 7 (`published_classes` names the sources).
    made = instance(7, 20, 4)
    parts = tuple(JobPart(f"P{index}", *size, 1, True) for index, size in enumerate(made.items))
    job = Job("1", 0, parts, (JobStock("sheet", made.side, made.side),))
    assert lower_bound(job) == 4
    assert raised(job, steps=400) == 5


def test_strips_that_cannot_share_a_sheet() -> None:
    # By hand: a sheet 10 wide holds 3 strips of 3 with 1 left over, so 10 strips need 4 sheets; their area needs 3.
    job = Job("1", 0, (JobPart("A", 10, 3, 10, False),), (JobStock("sheet", 10, 10),))
    assert raised(job) == 4
