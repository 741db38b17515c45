"""A shop to test in: a project with its planner, and what a person does there one after the other."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from fractions import Fraction
from typing import Any

from core.accepting import ticked
from core.cutting import PlannedStep, check_untick, step_of, tick_for
from core.edits import untick
from core.layout.job import Job
from core.layout.search import lay_out
from core.layout.tree import Layout
from core.plan import Plan, Planner, with_codes
from core.planned_sheet import PlannedSheet
from core.project import Design, Facts, Project
from core.sheets import MaterialSheets, accept


class Shop:
    """Plans after everything that is done. `searched` counts the jobs that were laid out."""

    def __init__(self, design: Design, facts: Facts | None = None) -> None:
        self.project = Project(design, facts or Facts())
        self.planner = Planner()
        self.searched: list[Job] = []
        self.plan = self.take_up()

    def find(self, job: Job) -> Layout:
        self.searched.append(job)
        return lay_out(replace(job, iterations=60))

    def take_up(self) -> Plan:
        self.plan = self.planner.plan(self.project, self.find)
        self.project = with_codes(self.project, self.plan)
        return self.plan

    def edit(self, design: Design) -> Plan:
        self.project = replace(self.project, design=design)
        return self.take_up()

    def store(self, **changed: Any) -> Plan:
        self.project = replace(self.project, facts=replace(self.project.facts, **changed))
        return self.take_up()

    def keep(self, sheets: MaterialSheets) -> Plan:
        """Accepts the layout of a material."""
        others = tuple(one for one in self.project.facts.layouts if one.material != sheets.material)
        return self.store(layouts=(*others, accept(sheets)))

    def tick(self, *numbers: int, when: str = "2026-01-01T10:00:00") -> Plan:
        """Ticks steps, which settles the layouts."""
        for number in numbers:
            cut = tick_for(self.plan.steps, number, when)
            self.project = replace(self.project, facts=ticked(self.plan, (cut,)))
            self.take_up()
        return self.plan

    def untick(self, number: int) -> Plan:
        check_untick(self.plan.steps, number)
        step = step_of(self.plan.steps, number).step
        return self.store(cuts=untick(self.project.facts, step.sheet, step.piece).cuts)

    def next_step(self, sheet: str = "") -> PlannedStep | None:
        """The first step that is not done, of a sheet if it is named."""
        return next((one for one in self.plan.steps if not one.done and sheet in ("", one.step.sheet)), None)

    def sheet(self, id: str) -> PlannedSheet:
        return next(sheet for one in self.plan.sheets for sheet in one.sheets if sheet.id == id)


def check_sheets(plan: Plan) -> None:
    """Each piece that is wanted lies on a sheet once, as its blank, is made, or named as left out; ticks are seen."""
    for one in plan.sheets:
        wanted = [id for kind in plan.kinds if kind.part.material == one.material for id in kind.piece_ids()]
        blanks = {blank.code: blank for blank in one.blanks}
        lying = [piece for sheet in one.sheets for piece in sheet.pieces]
        left_out = [piece for piece, _ in one.unplaced]
        if not one.pending:
            assert Counter([*lying, *left_out, *one.made]) == Counter(wanted)
        for sheet in one.sheets:
            for spot in sheet.placed():
                blank = blanks[spot.piece.rpartition("/")[0]]
                size = (sheet.mm(spot.length), sheet.mm(spot.width))
                ways = [(blank.length, blank.width)] + [(blank.width, blank.length)] * blank.may_turn
                assert any(all(0 <= a - b < sheet.unit for a, b in zip(size, way, strict=True)) for way in ways)
    check_edges(plan)
    ids = [sheet.id for one in plan.sheets for sheet in one.sheets]
    assert len(ids) == len(set(ids))
    check_steps(plan)


def check_edges(plan: Plan) -> None:
    """No part lies on an edge that is to be trimmed, be it the sheet's own or one that a first cut made."""
    for one in plan.sheets:
        sizes = {stock.name: stock for stock in plan.worked.stock[one.material]}
        for sheet in one.sheets:
            spots = sheet.placed()
            left, right, bottom, top = sheet.trim
            for spot in spots:
                assert left <= spot.x and spot.x + spot.length <= sheet.length - right, f"{spot.piece} of {sheet.id}"
                assert bottom <= spot.y and spot.y + spot.width <= sheet.width - top, f"{spot.piece} of {sheet.id}"
            stock = sizes.get(sheet.stock)
            if stock and stock.first_crosscut:
                _check_clear(
                    [(spot.x, spot.length) for spot in spots], sheet, stock.first_crosscut, stock.crosscut_loses
                )
            if stock and stock.first_rip:
                _check_clear([(spot.y, spot.width) for spot in spots], sheet, stock.first_rip, stock.rip_loses)


def _check_clear(extents: list[tuple[int, int]], sheet: PlannedSheet, at: Fraction, loses: Fraction) -> None:
    for start, extent in extents:
        ends, begins = sheet.mm(start + extent), sheet.mm(start - sheet.kerf)
        assert ends <= at - loses or begins >= at + loses, f"a first cut of {sheet.id} leaves its edge on a part"


def check_steps(plan: Plan) -> None:
    """Each step cuts a sheet, or what an earlier step made and none has cut; the ticked ones are the facts."""
    there = {sheet.id for one in plan.sheets for sheet in one.sheets}
    numbers = [planned.number for planned in plan.steps]
    assert numbers == sorted(set(numbers))
    for planned in plan.steps:
        assert planned.step.piece in there
        there.remove(planned.step.piece)
        made = [piece.id for piece in planned.step.pieces]
        uses = [piece.use for piece in planned.step.pieces]
        assert uses[0] != "waste" or set(uses) == {"waste"}, "the waste lies between fence and blade"
        assert not there & set(made)
        there |= set(made)
    done = {(planned.step.sheet, planned.step.piece) for planned in plan.steps if planned.done}
    assert done == {(cut.sheet, cut.piece) for cut in plan.project.facts.cuts}
