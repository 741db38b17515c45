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
from core.layout.blanks import fits
from core.layout.block import sizes_of
from core.layout.first import first_filling
from core.layout.fitter import Fitter
from core.layout.job import Job, JobPart, JobStock
from core.layout.pool import Pool
from core.layout.row import sheets_in_a_row
from core.layout.search import lay_out
from core.layout.shape import block_of


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
@given(jobs(), st.integers(0, 3))
def test_sheets_in_a_row_hold_every_piece_unless_stock_runs_out(job: Job, tilt: int) -> None:
    fitter = Fitter(job)
    row = sheets_in_a_row(fitter, tilt, lambda: False)
    used = Counter(pattern[0] for pattern, _ in row)
    held = Counter(size for pattern, _ in row for size in pattern[1:])
    for board, of in enumerate(fitter.boards):
        assert of.quantity is None or used[board] <= of.quantity
    for size, blank in enumerate(fitter.blanks):
        assert held[size] <= blank.quantity
        boards_left = [
            board
            for board in fitter.boards
            if board.quantity is None or used[fitter.boards.index(board)] < board.quantity
            if any(fits(way, board) for way in blank.ways)
        ]
        assert held[size] == blank.quantity or not boards_left
    for pattern, shape in row:
        assert sorted(sizes_of(block_of(shape, fitter.rooms))) == list(pattern[1:])


def test_a_row_of_sheets_fills_each_as_well_as_it_can_be() -> None:
    # By hand: of six halves of a sheet, two quarters and one strip that fits nowhere beside a half, three sheets hold
    # two halves each, and a fourth both quarters and the strip.
    parts = (JobPart("H", 10, 5, 6, False), JobPart("Q", 5, 5, 2, False), JobPart("S", 10, 4, 1, False))
    row = sheets_in_a_row(Fitter(Job("1", 0, parts, (JobStock("sheet", 10, 10),))), 0, lambda: False)
    assert [pattern for pattern, _ in row] == [(0, 0, 0)] * 3 + [(0, 1, 2, 2)]


@settings(max_examples=60, deadline=None)
@given(jobs(iterations=120))
def test_a_search_that_puts_sheets_together_from_the_start_is_sound(job: Job) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(search, "ALONE", 5)
        patch.setattr(search, "ROUND", 10)
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
