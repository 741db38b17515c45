"""Every layout is sound, and the same job is answered the same way everywhere."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Sequence
from dataclasses import replace

import pytest
from hypothesis import given, settings
from layout_jobs import check, jobs

import core.layout.first as first
from core.layout.fitter import Filling, Fitter
from core.layout.job import Job, JobPart, JobStock, JobTrim
from core.layout.notation import placed_in, read, write
from core.layout.preference import rank
from core.layout.search import first_layout, lay_out
from core.layout.tree import Layout, Placed, Spare, faults, walk
from core.mistakes import Mistake

SHELVES = Job(
    unit="1/1600",
    kerf=5120,
    parts=(
        JobPart("A", 1152000, 896000, 8, False),
        JobPart("B", 908800, 864000, 10, False),
        JobPart("C", 908800, 160000, 12, True),
        JobPart("D", 1120000, 480000, 9, True),
        JobPart("E", 4800000, 480000, 1, False),
    ),
    stock=(
        JobStock("sheet", 3904000, 1952000, JobTrim(16000, 16000, 16000, 16000), None, 6000),
        JobStock("half sheet", 1952000, 1952000, JobTrim(), 2, 3200),
    ),
    iterations=200,
)


@settings(max_examples=150, deadline=None)
@given(jobs())
def test_every_layout_is_sound(job: Job) -> None:
    told: list[Layout] = []
    layout = lay_out(job, announce=told.append)
    check(job, layout)
    for sheet in layout.sheets:
        assert faults(sheet.root, job.kerf) == []
    assert told[-1] == layout
    for earlier in told:
        check(job, earlier)
    assert lay_out(job) == layout


def test_many_pieces_on_the_rack_do_not_put_the_first_layout_off(monkeypatch: pytest.MonkeyPatch) -> None:
    tried: list[int] = []
    fill_in = first._fill_in

    def counted(fitter: Fitter, order: Sequence[int], favourite: int) -> Filling:
        tried.append(favourite)
        return fill_in(fitter, order, favourite)

    monkeypatch.setattr(first, "_fill_in", counted)
    first_layout(SHELVES)
    alone = len(tried)
    racks = tuple(JobStock(f"rack {n}", 900_000 + n, 800_000, JobTrim(), 1) for n in range(30))
    check(SHELVES, first_layout(replace(SHELVES, stock=(*SHELVES.stock, *racks))))
    assert len(tried) == 2 * alone


@settings(max_examples=40, deadline=None)
@given(jobs())
def test_every_layout_can_be_written_down_and_read_back(job: Job) -> None:
    for sheet in lay_out(job).sheets:
        placed = placed_in(sheet.root)
        pieces = tuple(f"{job.parts[leaf.part].code}/{number}" for number, leaf in enumerate(placed))
        line = write(sheet.root, pieces)
        stock = job.stock[sheet.stock]
        named = read(line, stock.length, stock.width, job.kerf)
        assert [replace(leaf, part=0) for leaf in placed_in(named.root)] == [replace(leaf, part=0) for leaf in placed]


def test_other_processes_answer_with_the_same_bytes() -> None:
    program = (
        "import sys; from core.layout.job import Job; from core.layout.search import lay_out;"
        "print(lay_out(Job.from_json(sys.stdin.read())))"
    )
    answers = {
        subprocess.run(
            [sys.executable, "-c", program],
            input=SHELVES.as_json(),
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("0", "1", "2")
    }
    assert answers == {f"{lay_out(SHELVES)}\n"}


def test_what_is_better_is_announced_and_the_search_can_be_cancelled() -> None:
    told: list[Layout] = []
    layout = lay_out(SHELVES, announce=told.append)
    assert told[-1] == layout
    ranks = [rank(SHELVES, each) for each in told]
    assert ranks == sorted(ranks, reverse=True) and ranks[-1] < ranks[0]
    assert lay_out(SHELVES, cancelled=lambda: True) == told[0]
    assert lay_out(SHELVES, cap_seconds=0) == told[0]


def strips(width: int, quantity: int, kerf: int, trim: JobTrim, sheet: int) -> int:
    """How many strips of this width one sheet yields."""
    job = Job("1", kerf, (JobPart("S", 500, width, quantity, False),), (JobStock("sheet", 500, sheet, trim, 1),))
    layout = lay_out(job)
    return sum(isinstance(spot.node, Placed) for sheet in layout.sheets for spot in walk(sheet.root))


@pytest.mark.parametrize(
    ("width", "kerf", "trim", "sheet", "yields"),
    [
        # A 48 in sheet and a 1/8 in blade, in 64ths: 12 in strips give 3, not 4 (strip arithmetic, trade practice).
        (768, 8, 0, 3072, 3),
        (762, 8, 0, 3072, 4),  # 11.90625 in: (48 - 3/8) / 4
        (763, 8, 0, 3072, 3),
        (758, 8, 16, 3072, 4),  # 11.84375 in, where one edge loses 1/4 in, kerf included
        (759, 8, 16, 3072, 3),
        (756, 8, 24, 3072, 4),  # 11.8125 in, where it loses 1/4 in and a kerf besides
        (757, 8, 24, 3072, 3),
        # 1220 mm, kerf 2.2, 5 mm off one edge and a kerf besides, in hundredths: 301.55 mm (the same arithmetic).
        (30155, 220, 720, 122000, 4),
        (30156, 220, 720, 122000, 3),
        # Four quarters fit where they fit exactly, and no blade is needed after the last.
        (768, 0, 0, 3072, 4),
        (769, 0, 0, 3072, 3),
    ],
)
def test_strips_that_a_sheet_yields(width: int, kerf: int, trim: int, sheet: int, yields: int) -> None:
    assert strips(width, 6, kerf, JobTrim(bottom=trim), sheet) == yields
    assert strips(width, 6, kerf, JobTrim(top=trim), sheet) == yields


def test_a_rest_no_wider_than_the_blade_is_eaten_by_it() -> None:
    job = Job("1", 3, (JobPart("A", 98, 48, 1, False),), (JobStock("sheet", 100, 50),))
    (sheet,) = lay_out(job).sheets
    assert faults(sheet.root, 3) == []
    assert [spot.node for spot in walk(sheet.root) if isinstance(spot.node, Placed)] == [Placed(98, 48, 0)]


def test_a_part_as_large_as_the_sheet_needs_no_cut() -> None:
    job = Job("1", 3, (JobPart("A", 100, 50, 1, False),), (JobStock("sheet", 100, 50),))
    (sheet,) = lay_out(job).sheets
    assert sheet.root == Placed(100, 50, 0)


@pytest.mark.parametrize(
    ("part", "reason"),
    [
        (JobPart("A", 250, 50, 1, False), "too long for the trimmed sheet along the grain"),
        (JobPart("A", 50, 250, 1, False), "too wide for the trimmed sheet across the grain"),
        (JobPart("A", 50, 150, 1, False), "it would fit only along it"),
        (JobPart("A", 250, 150, 1, False), "too long and too wide"),
        (JobPart("A", 250, 50, 1, True), "too long for the trimmed sheet"),
        (JobPart("A", 150, 150, 1, True), "too wide for the trimmed sheet"),
        (JobPart("A", 200, 50, 1, False), "not inside the trimmed edges"),
    ],
)
def test_what_fits_no_sheet_is_told_with_its_obstacle(part: JobPart, reason: str) -> None:
    stock = JobStock("sheet", 200, 100, JobTrim(5, 5, 5, 5))
    layout = lay_out(Job("1", 3, (part, JobPart("B", 50, 50, 1, False)), (stock,)))
    (left_out,) = layout.unplaced
    assert left_out.part == 0 and reason in left_out.reason
    assert len(layout.sheets) == layout.lower_bound == 1
    assert not layout.proved_minimum


def test_a_part_that_would_fit_across_the_grain_says_so() -> None:
    layout = lay_out(Job("1", 3, (JobPart("A", 150, 50, 1, False),), (JobStock("sheet", 100, 200),)))
    assert "it would fit only across it" in layout.unplaced[0].reason


def test_when_the_stock_runs_out_the_rest_is_named() -> None:
    job = Job("1", 0, (JobPart("A", 60, 60, 5, True),), (JobStock("sheet", 100, 100, quantity=2),))
    layout = lay_out(job)
    assert [(left_out.quantity, left_out.reason) for left_out in layout.unplaced] == [
        (3, "the search found no room on the stock there is")
    ]
    assert lay_out(replace(job, stock=())).unplaced[0].reason == "there is no stock to cut it from"


def test_least_money_comes_before_fewest_sheets() -> None:
    parts = (JobPart("A", 100, 50, 4, False),)
    full, half = JobStock("full", 100, 100, price=100), JobStock("half", 100, 50, price=40)
    chosen = [sheet.stock for sheet in lay_out(Job("1", 0, parts, (full, half))).sheets]
    assert chosen == [1, 1, 1, 1]
    dear_half = replace(half, price=50)
    assert [sheet.stock for sheet in lay_out(Job("1", 0, parts, (full, dear_half))).sheets] == [0, 0]
    few = replace(half, quantity=2)
    assert [sheet.stock for sheet in lay_out(Job("1", 0, parts, (full, few))).sheets] == [0, 1, 1]


def test_what_is_free_is_gathered_into_one_offcut() -> None:
    job = Job("1", 0, (JobPart("A", 50, 20, 5, True),), (JobStock("sheet", 100, 100),))
    layout = lay_out(job)
    assert layout.proved_minimum
    spare = [spot.node for spot in walk(layout.sheets[0].root) if isinstance(spot.node, Spare)]
    assert [node.length * node.width for node in spare] == [5000]


@pytest.mark.parametrize(
    ("job", "says"),
    [
        (Job("1", 4, (), (JobStock("sheet", 100, 50, JobTrim(left=3)),)), "narrower than the blade"),
        (Job("1", 4, (), (JobStock("sheet", 100, 50, JobTrim(bottom=25, top=25)),)), "leaves nothing"),
        (Job("1", 4, (JobPart("A", 0, 5, 1, True),), (JobStock("sheet", 100, 50),)), "has no size"),
    ],
)
def test_what_cannot_be_asked_is_refused(job: Job, says: str) -> None:
    with pytest.raises(Mistake, match=says):
        lay_out(job)
