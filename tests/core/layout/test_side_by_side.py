"""Two explorers give one answer: on one core or two, slowed, or with one of them lost on the way."""

from __future__ import annotations

import hashlib
import json
import subprocess
import sys
import time
from dataclasses import replace

import pytest
from hypothesis import given, settings
from layout_jobs import check, jobs
from published_classes import instance

import core.layout.pool as pool
import core.layout.team as team
from core.layout.explorer import Explorer, Found
from core.layout.job import Job, JobPart, JobStock
from core.layout.search import ALONE, lay_out
from core.layout.transport import told_of
from core.layout.tree import Layout, faults


def published(number: int, pieces: int, seed: int, turns: bool, iterations: int) -> Job:
    """A job of a published class that the first explorer does not end alone."""
    made = instance(number, pieces, seed)
    parts = tuple(JobPart(f"P{index}", *size, 1, turns) for index, size in enumerate(made.items))
    return Job("1", 0, parts, (JobStock("sheet", made.side, made.side),), iterations)


OPEN = published(10, 30, 2, turns=False, iterations=3000)


@pytest.fixture
def began(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """How many iterations the partner was set to, round by round."""
    rounds: list[int] = []
    begin = team.Partner.begin

    def counted(partner: team.Partner, told: team.Round) -> None:
        rounds.append(told[0])
        begin(partner, told)

    monkeypatch.setattr(team.Partner, "begin", counted)
    return rounds


def test_one_core_answers_as_two_do(monkeypatch: pytest.MonkeyPatch, began: list[int]) -> None:
    monkeypatch.setattr(team, "cores", lambda: 2)
    beside = lay_out(OPEN)
    assert len(began) > 1, "a job that needs no partner shows nothing"
    monkeypatch.setattr(team, "cores", lambda: 1)
    assert lay_out(OPEN) == beside


@pytest.mark.parametrize("slow", ["this one", "the partner"])
def test_whichever_is_slower_they_tell_each_other_the_same(
    slow: str, monkeypatch: pytest.MonkeyPatch, began: list[int]
) -> None:
    monkeypatch.setattr(team, "cores", lambda: 2)
    usual = lay_out(OPEN)
    assert len(began) > 1
    owner, name = (Explorer, "walk") if slow == "this one" else (team._Child, "answer")
    as_quick_as_it_is = getattr(owner, name)

    def slowed(*asked: object) -> object:
        time.sleep(0.3)
        return as_quick_as_it_is(*asked)

    monkeypatch.setattr(owner, name, slowed)
    assert lay_out(OPEN) == usual


def test_every_machine_answers_as_this_one_did() -> None:
    """Another version of the solver or of the arrays may choose otherwise: then this is to be looked at, and stored."""
    told = json.dumps(told_of(lay_out(OPEN)), separators=(",", ":"))
    assert hashlib.sha256(told.encode()).hexdigest()[:16] == "057b2fe2bc022c54"


def test_a_partner_that_is_lost_changes_nothing(monkeypatch: pytest.MonkeyPatch, began: list[int]) -> None:
    monkeypatch.setattr(team, "cores", lambda: 2)
    whole = lay_out(OPEN)
    answer = team._Child.answer
    answers: list[Found | None] = []

    def lost_in_the_second_round(child: team._Child, stopped: object) -> Found | None:
        if answers:
            child._process.kill()
            # What it may have said before does not arrive either.
            while child._lines.get():
                pass
            child._lines.put("")
        answers.append(answer(child, stopped))  # type: ignore[arg-type]
        return answers[-1]

    monkeypatch.setattr(team._Child, "answer", lost_in_the_second_round)
    began.clear()
    assert lay_out(OPEN) == whole
    assert len(answers) == 1 and len(began) > 1, "it died in the second round, and there was one"


def test_no_partner_outlives_a_search(monkeypatch: pytest.MonkeyPatch, began: list[int]) -> None:
    monkeypatch.setattr(team, "cores", lambda: 2)
    children: list[team._Child] = []
    ask = team._Child.ask

    def noted(child: team._Child, told: team.Round) -> None:
        children.append(child)
        ask(child, told)

    monkeypatch.setattr(team._Child, "ask", noted)
    # Cancelled in the middle of the first round of both.
    assert lay_out(OPEN, cancelled=lambda: bool(began))
    assert children
    assert all(child._process.returncode is not None for child in children)


def test_patterns_that_are_forgotten_are_missed_by_nobody(monkeypatch: pytest.MonkeyPatch, began: list[int]) -> None:
    monkeypatch.setattr(team, "cores", lambda: 1)
    monkeypatch.setattr(pool, "MOST_PIECES", 60)
    # All the stock there is, so that nothing but sheets met before can make a layout.
    enough = len(lay_out(OPEN).sheets)
    scarce = replace(OPEN, stock=(replace(OPEN.stock[0], quantity=enough),))
    began.clear()
    layout = lay_out(scarce)
    check(scarce, layout)
    assert began and len(layout.sheets) <= enough and not layout.unplaced


def test_a_partner_ends_when_whoever_asked_it_is_gone() -> None:
    process = subprocess.Popen(
        [sys.executable, "-P", "-m", "core.layout.team"], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    )
    explorer = Explorer(OPEN, 0)
    told = explorer.told()
    # A round that would take hours.
    for line in (OPEN.as_json(), "0", json.dumps([10**9, [told.best, []], None])):
        process.stdin.write(line + "\n")
    process.stdin.close()
    try:
        assert process.wait(timeout=60) == 0
    finally:
        process.kill()
        process.stdout.close()


@settings(max_examples=12, deadline=None)
@given(jobs(iterations=ALONE + 400))
def test_every_layout_of_two_is_sound(job: Job) -> None:
    told: list[Layout] = []
    layout = lay_out(job, announce=told.append)
    for one in (*told, layout):
        check(job, one)
        for sheet in one.sheets:
            assert faults(sheet.root, job.kerf) == []
    assert lay_out(job) == layout
