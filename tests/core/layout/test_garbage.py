"""While layouts are looked for all objects are seldom looked through; before and after as ever."""

from __future__ import annotations

import gc

import pytest

from core.layout.garbage import SELDOM
from core.layout.job import Job, JobPart, JobStock
from core.layout.search import lay_out


def test_the_interpreter_is_left_as_it_was() -> None:
    before = gc.get_threshold()
    meanwhile: list[tuple[int, int, int]] = []
    job = Job("1", 0, (JobPart("A", 3, 2, 3, True),), (JobStock("sheet", 4, 4),), 10)
    lay_out(job, announce=lambda layout: meanwhile.append(gc.get_threshold()))
    assert {of[2] for of in meanwhile} == {SELDOM * before[2]}
    assert gc.get_threshold() == before


def test_it_is_left_as_it_was_when_a_search_fails() -> None:
    before = gc.get_threshold()

    def broken(layout: object) -> None:
        raise RuntimeError

    with pytest.raises(RuntimeError):
        lay_out(Job("1", 0, (JobPart("A", 3, 2, 3, True),), (JobStock("sheet", 4, 4),), 10), announce=broken)
    assert gc.get_threshold() == before
