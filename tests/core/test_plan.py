"""The pipeline: the same plan anywhere, each stage worked out once, and one mistake that hides nothing else."""

from __future__ import annotations

import os
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest
from designs import carcass, design, inches, plan_of
from shop import Shop

from core import edits
from core.goods import Board, Length
from core.layout.bar_search import lay_out_bars
from core.layout.bars import BarJob, BarLayout
from core.plan import Planner, with_codes
from core.project import Bay, Design, Facts, LoosePart, Project, Top
from core.space import Baseboard, Clearance, Reading, Space

ROOT = Path(__file__).parents[2]


def rich() -> Design:
    space = Space(
        readings=(Reading("width", "96", at="back"), Reading("width", "95 7/8", at="front")),
        baseboards=(Baseboard("back", "3 1/2", "1/2"),),
        clearance=Clearance("1/4", "1/4"),
    )
    row = (
        carcass("A", "share", "34 1/2", "23 1/4", Bay(), Bay("2 shares", ("even",), 1), back="let in"),
        carcass("B", "share", top="rails"),
        carcass("C", "20", base="kick", panel="mdf"),
    )
    return design(*row, space=space, row_width="clear_width", tops=(Top("W", "Top", "ply", 2, overhang_front="1"),))


PRINT = """
import json, sys
sys.path.insert(0, "tests/core")
from test_plan import rich
from core.buy import buying_list
from core.checks import run_checks
from core.outputs import buy_document, checks_document, cuts_document, parts_document, sheets_document
from core.plan import Planner
from core.project import Project
plan = Planner().plan(Project(rich()))
worked = plan.worked
print(json.dumps([
    parts_document(plan), sheets_document(plan.sheets, worked.goods.thickness, worked.kerf), cuts_document(plan),
    checks_document(run_checks(worked)), buy_document(buying_list(plan), "$"),
    [[c.code, c.stands_for, dict(c.pieces)] for c in plan.codes], list(worked.envelope.notes),
]))
"""


def printed_elsewhere(seed: str) -> str:
    """Everything of the rich design's plan, as another process prints it."""
    environment = {**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": str(ROOT)}
    told = subprocess.run(
        [sys.executable, "-c", PRINT], cwd=ROOT, env=environment, capture_output=True, text=True, check=True
    )
    return told.stdout


def test_the_same_project_gives_the_same_plan_in_another_process() -> None:
    first, second = printed_elsewhere("1"), printed_elsewhere("20011")
    assert first == second
    assert len(first) > 10_000


# --- What is worked out once


def test_a_layout_is_not_searched_for_twice() -> None:
    shop = Shop(design(carcass()))
    assert len(shop.searched) == 2  # plywood, and the thin one of the back
    shop.edit(replace(shop.project.design, notes="sand to 180"))
    shop.edit(edits.set_value(shop.project.design, ("row", 0, "name"), "Sink"))
    assert len(shop.searched) == 2
    shop.edit(edits.set_value(shop.project.design, ("row", 0, "height"), "30"))
    assert len(shop.searched) == 4
    # Back to what was answered before.
    shop.edit(edits.set_value(shop.project.design, ("row", 0, "height"), "34 1/2"))
    assert len(shop.searched) == 4


def test_boards_are_not_cut_anew_for_what_does_not_concern_them(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[BarJob] = []

    def counted(job: BarJob) -> BarLayout:
        asked.append(job)
        return lay_out_bars(job)

    monkeypatch.setattr("core.plan.lay_out_bars", counted)
    poplar = Board("Poplar", "3/4", "1 1/2", lengths=(Length("96"),))
    box = carcass("A", "20", "34 1/2", "24", Bay(front="door"), face_frame="poplar")
    shop = Shop(design(box, boards={"poplar": poplar}))
    assert len(asked) == 1
    shop.edit(replace(shop.project.design, notes="sand to 180"))
    shop.edit(edits.set_value(shop.project.design, ("row", 0, "depth"), "23"))
    assert len(asked) == 1
    shop.edit(edits.set_value(shop.project.design, ("row", 0, "height"), "30"))
    assert len(asked) == 2


def test_a_change_in_one_material_leaves_the_layout_of_the_other() -> None:
    shop = Shop(design(carcass(), loose=(LoosePart("L", "Cleat", "mdf", "20", "3"),)))
    before = len(shop.searched)
    shop.edit(edits.set_value(shop.project.design, ("loose", 0, "length"), "21"))
    (job,) = shop.searched[before:]
    assert [part.code for part in job.parts] == ["L1"]


def test_stages_whose_input_is_the_same_are_kept() -> None:
    shop = Shop(design(carcass(), rules={"panel": "ply", "back_panel": "ply"}))
    shop.tick(1)
    shop.take_up()
    worked, kinds = shop.plan.worked, shop.plan.kinds
    shop.untick(1)
    assert shop.plan.worked is worked
    assert shop.plan.kinds is kinds
    shop.edit(replace(shop.project.design, notes="x"))
    assert shop.plan.worked is not worked


def test_a_search_that_is_put_off_is_asked_for_again() -> None:
    planner, project = Planner(), Project(design(carcass()))
    asked: list[str] = []

    def later(job: object) -> None:
        asked.append(str(job))

    assert planner.plan(project, later).pending
    assert planner.plan(project, later).pending
    assert len(asked) == 4
    assert not planner.plan(project).pending


def test_codes_are_stored_once_they_are_given() -> None:
    planner, project = Planner(), Project(design(carcass()))
    plan = planner.plan(project, lambda job: None)
    stored = with_codes(project, plan)
    assert stored.facts.codes == plan.codes != ()
    again = planner.plan(stored, lambda job: None)
    assert with_codes(stored, again) is stored


# --- One mistake hides nothing else


@pytest.mark.parametrize(
    "bad",
    [
        {"kick_height": "x"},
        {"kick_height": "40"},
        {"back": "round"},
        {"panel": "oak"},
        {"bays": "five"},
        {"height": "nothing"},
        {"depth": "-1"},
    ],
)
def test_a_carcass_that_cannot_be_leaves_the_others_and_the_rest(bad: dict[str, str]) -> None:
    wrong = carcass("B")
    wrong = replace(wrong, **bad) if bad.keys() <= {"height", "depth"} else replace(wrong, rules=bad)
    of = design(carcass("A"), wrong, carcass("C"), loose=(LoosePart("L", "Cleat", "ply", "20", "3"),))
    shop = Shop(replace(of, tops=(Top("W", "Top", "ply", first="A", last="A"),)))
    assert len(shop.plan.problems) == 1
    assert str(shop.plan.problems[0]).startswith("carcass B")
    assert {part.carcass for part in shop.plan.worked.parts} == {"A", "C", "W", ""}
    # C stands where it would if B were right.
    assert min(part.box.low[0] for part in shop.plan.worked.placed if part.carcass == "C") == inches(48)
    wanted = sum(kind.quantity for kind in shop.plan.kinds)
    assert sum(len(sheet.pieces) for one in shop.plan.sheets for sheet in one.sheets) == wanted


def test_a_material_without_stock_leaves_the_other() -> None:
    of = design(carcass())
    bare = replace(of.materials["thin"], stock=())
    shop = Shop(replace(of, materials={**of.materials, "thin": bare}))
    assert [one.material for one in shop.plan.sheets] == ["ply"]
    assert [str(told) for told in shop.plan.problems] == [
        "material thin: it has no stock sheets: give it at least one size"
    ]


def test_each_mistake_is_told_once_though_many_lean_on_it() -> None:
    of = design(carcass("A", "wide"), carcass("B", "wide"), dimensions={"wide": "1/0"})
    told = [str(problem) for problem in plan_of(of).problems]
    assert len(told) == len(set(told)) == 2
    assert "divides by zero" in told[0]


def test_an_empty_project_has_a_plan() -> None:
    plan = Planner().plan(Project(Design("Nothing yet"), Facts()))
    assert (plan.problems, plan.kinds, plan.sheets, plan.steps) == ((), (), (), ())
