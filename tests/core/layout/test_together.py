"""Sheets put together anew: nothing is lost on the way, whatever sheets are chosen."""

from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from layout_jobs import check, jobs

import core.layout.search as search
import core.layout.team as team
from core.layout.assemble import assembled
from core.layout.block import sizes_of
from core.layout.first import first_filling
from core.layout.fitter import Fitter
from core.layout.job import Job
from core.layout.pool import Pool
from core.layout.search import lay_out


@settings(max_examples=80, deadline=None)
@given(jobs(), st.randoms(use_true_random=False), st.integers(0, 10))
def test_chosen_sheets_hold_every_piece_or_leave_it_out(job: Job, random, tenths: int) -> None:
    fitter = Fitter(job)
    filling = first_filling(fitter)
    sheets = list(zip(filling.boards, filling.blocks, strict=True))
    chosen = [random.choice(sheets) for _ in range(random.randint(0, 6))] if sheets else []
    purse = fitter.cost(filling.boards) * tenths // 8
    made = assembled(chosen, purse, fitter)
    assert fitter.cost(made.boards) <= purse
    held = Counter(size for block in made.blocks for size in sizes_of(block)) + Counter(made.missing)
    assert held == Counter({size: blank.quantity for size, blank in enumerate(fitter.blanks)})


@settings(max_examples=60, deadline=None)
@given(jobs(iterations=120))
def test_a_search_that_puts_sheets_together_from_the_start_is_sound(job: Job) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(search, "ALONE", 5)
        patch.setattr(search, "ROUNDS", (10,))
        patch.setattr(team, "cores", lambda: 1)
        layout = lay_out(job)
        check(job, layout)
        assert lay_out(job) == layout


def test_a_pool_offers_only_what_its_prices_allow_and_forgets_the_dearest(monkeypatch: pytest.MonkeyPatch) -> None:
    pool = Pool()
    pool.keep({(0, 0, 0): (), (0, 1): ()}, own=True)
    assert pool.fresh() == [(0, 0, 0), (0, 1)]
    assert list(pool.news()) == [(0, 0, 0), (0, 1)]
    # Pieces at 40 and 70 on a board that costs 100: 20 and 30 too dear, and 70 for a single small piece.
    pool.judge_by([40, 70], [100], 25)
    pool.offer({(0, 1): (), (0, 0): (), (0, 0, 1): ()}, own=False)
    assert pool.fresh() == [(0, 0, 1)]
    assert pool.news() == {}
    assert not pool.forgot()
    monkeypatch.setattr("core.layout.pool.MOST_PIECES", 3)
    assert pool.forgot()
    assert list(pool.shapes) == [(0, 0, 1)]
    assert pool.fresh() == [(0, 0, 1)]
