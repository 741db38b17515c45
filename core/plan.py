"""The pipeline, and nothing else: from a project to everything that follows from it.

Each stage is a pure function of what stands before it. A `Planner` keeps, stage by stage, what
each last read and gave, so an edit costs only the stages whose input it changed and nothing
has to be told that it is stale. Layouts are kept by the fingerprint of their job.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable
from dataclasses import dataclass, replace
from functools import lru_cache, partial
from typing import Any, TypeVar

from core.boards import BoardList, list_boards
from core.construction.codes import give_codes, kinds_of
from core.construction.part import Kind, Part
from core.cutting import MaterialOrder, PlannedStep, made_otherwise, number_steps, order_material
from core.layout.bar_search import lay_out_bars
from core.layout.job import Job
from core.layout.search import lay_out
from core.layout.tree import Layout
from core.mistakes import Mistake
from core.on_hand import OnHand
from core.project import CodeGiven, CutMade, Project
from core.sheets import Find, MaterialSheets, settle
from core.workings import Worked, work_out

T = TypeVar("T")

BOARDS_REMEMBERED = 64
"""How many jobs of boards keep their answers: those of a project, as they are and before an edit or two."""


@dataclass(frozen=True)
class Plan:
    """Everything that follows from a project."""

    project: Project
    worked: Worked
    codes: tuple[CodeGiven, ...]
    kinds: tuple[Kind, ...]
    sheets: tuple[MaterialSheets, ...]
    boards: tuple[BoardList, ...]
    orders: tuple[MaterialOrder, ...]
    steps: tuple[PlannedStep, ...]
    problems: tuple[Mistake, ...]

    @property
    def pending(self) -> bool:
        """A layout is still being searched for."""
        return any(one.pending for one in self.sheets)


class Planner:
    """Makes plans, and remembers every stage by the value of what it read."""

    def __init__(self) -> None:
        self._last: dict[str, tuple[Hashable, Any]] = {}
        self._bars = lru_cache(maxsize=BOARDS_REMEMBERED)(lay_out_bars)
        self.layouts: dict[str, Layout] = {}
        """Answers so far, by the search key of the job."""

    def plan(self, project: Project, find: Find | None = None) -> Plan:
        """The whole plan.

        `find` answers the jobs that nothing stored or remembered answers; without it they are searched.
        """
        design, facts = project.design, project.facts
        worked = self._stage("worked", _Same(design), lambda: work_out(design))
        problems = list(worked.problems)
        codes: tuple[CodeGiven, ...] = facts.codes
        kinds: tuple[Kind, ...] = ()
        try:
            codes, kinds = self._stage("codes", (_Same(worked), facts.codes), lambda: _coded(facts.codes, worked.parts))
        except Mistake as mistake:
            problems.append(mistake)
        sheets = self._sheets(project, worked, kinds, find, problems)
        boards = self._boards(worked, kinds, problems)
        orders = [self._order(one, worked, facts.cuts) for one in sheets]
        steps = self._stage(
            "cuts",
            (tuple(map(_Same, orders)), facts.cuts, facts.steps_given),
            lambda: number_steps(orders, facts.cuts, facts.steps_given),
        )
        return Plan(project, worked, codes, kinds, tuple(sheets), boards, tuple(orders), steps, tuple(problems))

    def _boards(self, worked: Worked, kinds: tuple[Kind, ...], problems: list[Mistake]) -> tuple[BoardList, ...]:
        """The lists of the boards that are used; what stands in the way is added to `problems`."""
        found = []
        for key in worked.goods.boards:
            board = worked.design.boards[key]
            wanted = tuple(kind for kind in kinds if kind.part.material == key)
            if not wanted:
                continue
            try:
                cut = partial(list_boards, wanted, key, board, worked.kerf, worked.names, self._bars)
                found.append(self._stage(f"board {key}", (_Same(worked), tuple(kind.code for kind in wanted)), cut))
            except Mistake as mistake:
                problems.append(mistake.at(f"board {key}"))
        return tuple(found)

    def _order(self, sheets: MaterialSheets, worked: Worked, ticks: tuple[CutMade, ...]) -> MaterialOrder:
        """The order of cuts of one material."""
        settled, saws, held = _settled(sheets), worked.saws, frozenset(worked.design.held_back)
        apart = worked.design.one_sheet_at_a_time
        grams = worked.weights.get(sheets.material, 0.0)
        read = _Same(settled), saws, grams, held, apart

        def order(made: tuple[CutMade, ...]) -> MaterialOrder:
            return order_material(settled, saws, grams, held, apart, made)

        usual = self._stage(f"order of {sheets.material}", read, lambda: order(()))
        otherwise = made_otherwise(usual, ticks, saws)
        if not otherwise:
            return usual
        return self._stage(f"order of {sheets.material} as cut", (*read, otherwise), lambda: order(otherwise))

    def _sheets(
        self, project: Project, worked: Worked, kinds: tuple[Kind, ...], find: Find | None, problems: list[Mistake]
    ) -> list[MaterialSheets]:
        """The sheets of every material that is used or begun; what stands in the way is added to `problems`."""
        design, facts = project.design, project.facts
        layouts = {layout.material: layout for layout in facts.layouts}
        sheets = []
        for material in (*design.materials, *(name for name in layouts if name not in design.materials)):
            accepted = layouts.get(material)
            on_sheets = {sheet.id for sheet in accepted.sheets} if accepted else set()
            cuts = tuple(cut for cut in facts.cuts if cut.sheet in on_sheets)
            of_material = tuple(kind for kind in kinds if kind.part.material == material)
            try:
                if material not in design.materials and cuts:
                    raise Mistake("sheets of it are begun, and the project has no such material any more: put it back")
                on_hand = OnHand.of(material, facts)
                if material not in worked.stock or not (of_material or cuts or on_hand.pieces):
                    continue
                if not worked.stock[material]:
                    raise Mistake("it has no stock sheets: give it at least one size")
                grain, stock = design.materials[material].grain, worked.stock[material]
                answer = partial(self._answer, find=find)
                settled = settle(
                    material, grain, of_material, stock, worked.kerf, accepted, cuts, answer, on_hand, design.held_back
                )
                sheets.append(settled)
            except Mistake as mistake:
                problems.append(mistake if mistake.where else mistake.at(f"material {material}"))
        return sheets

    def _answer(self, job: Job, find: Find | None) -> Layout | None:
        key = job.search_key()
        if key not in self.layouts:
            layout = find(job) if find else lay_out(job)
            if layout is None or layout.searching:
                return layout
            self.layouts[key] = layout
        return self.layouts[key]

    def _stage(self, name: str, read: Hashable, work: Callable[[], T]) -> T:
        last = self._last.get(name)
        if last is None or last[0] != read:
            last = (read, work())
            self._last[name] = last
        return last[1]


def _settled(sheets: MaterialSheets) -> MaterialSheets:
    """What can be cut by now: while a layout may still change, only the sheets that are begun."""
    return replace(sheets, sheets=tuple(one for one in sheets.sheets if one.begun)) if sheets.pending else sheets


class _Same:
    """Stands for a value that never changes, told apart by identity first: comparing a whole design takes longer."""

    def __init__(self, value: object) -> None:
        self.value = value

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and (self.value is other.value or self.value == other.value)

    def __hash__(self) -> int:
        return id(type(self.value))


def _coded(given: tuple[CodeGiven, ...], parts: tuple[Part, ...]) -> tuple[tuple[CodeGiven, ...], tuple[Kind, ...]]:
    codes = give_codes(given, parts)
    return codes, kinds_of(codes, parts)


def with_codes(project: Project, plan: Plan) -> Project:
    """The project with the codes of the plan stored, so that they last."""
    if project.facts.codes == plan.codes:
        return project
    return replace(project, facts=replace(project.facts, codes=plan.codes))
