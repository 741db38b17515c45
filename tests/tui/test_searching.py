"""The child process that lays sheets out: same answers, the newest job first, never a stranger's code."""

from __future__ import annotations

import asyncio
from dataclasses import replace
from pathlib import Path

import pytest

from core.layout.job import Job, JobPart, JobStock, JobTrim
from core.layout.search import first_layout, lay_out
from core.layout.tree import Layout
from tui.searching import Searcher

SMALL = Job(
    "1/1600", 5, (JobPart("A", 400, 300, 6, True),), (JobStock("sheet", 1000, 700, JobTrim(10, 10, 10, 10)),), 200
)
LONG = replace(SMALL, parts=tuple(JobPart(f"P{n}", 90 + n, 70 + n, 9, True) for n in range(40)), iterations=10**7)


def unheard(layout: Layout) -> None:
    """Better layouts on the way are of no interest here."""


async def test_a_child_gives_the_answer_that_this_process_gives() -> None:
    searcher = Searcher()
    try:
        assert await searcher.answer(SMALL, unheard) == lay_out(SMALL)
        # The same child again, warm.
        assert await searcher.answer(replace(SMALL, kerf=7), unheard) == lay_out(replace(SMALL, kerf=7))
    finally:
        await searcher.stop()


async def test_better_layouts_are_told_on_the_way_and_the_first_at_once() -> None:
    searcher = Searcher()
    told: list[Layout] = []
    here: list[Layout] = []
    try:
        last = await searcher.answer(SMALL, told.append)
        assert last == lay_out(SMALL, announce=here.append)
        assert told == here
        assert told[0] == first_layout(SMALL)
    finally:
        await searcher.stop()


async def test_a_newer_job_takes_the_place_of_the_one_under_way() -> None:
    searcher = Searcher()
    try:
        older = asyncio.create_task(searcher.answer(LONG, unheard))
        await asyncio.sleep(0.3)
        older.cancel()
        assert await asyncio.wait_for(searcher.answer(SMALL, unheard), 30) == lay_out(SMALL)
    finally:
        await searcher.stop()


async def test_a_child_that_died_is_replaced() -> None:
    searcher = Searcher()
    try:
        await searcher.answer(SMALL, unheard)
        assert searcher._child is not None
        searcher._child.kill()
        await searcher._child.wait()
        assert await searcher.answer(replace(SMALL, kerf=6), unheard) == lay_out(replace(SMALL, kerf=6))
    finally:
        await searcher.stop()


async def test_a_stranger_s_core_folder_is_not_imported(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    stranger = tmp_path / "core" / "layout"
    stranger.mkdir(parents=True)
    for folder in (tmp_path / "core", stranger):
        (folder / "__init__.py").write_text("raise SystemExit('a stranger')", encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    searcher = Searcher()
    try:
        assert await searcher.answer(SMALL, unheard) == lay_out(SMALL)
        assert searcher._child is not None and searcher._child.returncode is None
    finally:
        await searcher.stop()
