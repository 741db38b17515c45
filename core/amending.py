"""A plan that has to change, changed as little as can be.

After an accident the cuts that were planned stand on the pieces that are left. What is missing
is put on what they leave free, on other pieces in the shop, and only then on a new sheet; every
cut that can stay keeps its name and its number. Where that takes a new sheet, everything that
is not cut may be laid out anew instead (`anew`), and the person has what costs less.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from core.cutting import PlannedStep, write_steps
from core.grafting import gaps_of, grafted, in_finer_units, numbers_had, without_idle_cuts
from core.jobs import Blank, Sheet, make_job
from core.layout.job import Job
from core.layout.notation import placed_in
from core.layout.search import lay_out
from core.layout.tree import LaidSheet, Layout
from core.mistakes import Mistake
from core.on_hand import gives_any, without
from core.plan import Plan, Planner
from core.planned_sheet import PlannedSheet, as_accepted, read_accepted
from core.project import AcceptedLayout, Design, Facts, Project
from core.sheets import MaterialSheets, compare, name_pieces, next_number, without_pieces
from core.taking_stock import NO_KERFS, take_stock

ITERATIONS = 400
"""Of the search for places for what is missing: a small question, and a person waits."""


def anew(project: Project, material: str) -> Project:
    """The project with nothing of a material laid out: what is not cut is to be planned with a search."""
    layouts = tuple(one for one in project.facts.layouts if one.material != material)
    return replace(project, facts=replace(project.facts, layouts=layouts))


def amended(plan: Plan, material: str) -> Project:
    """The project of a plan, with the stored layout of a material brought up to what is wanted and what there is.

    `plan` need not have searched for anything: it says what is wanted, and its facts what stands.
    """
    project = plan.project
    asked = next((one for one in plan.sheets if one.material == material), None)
    stored = next((one for one in project.facts.layouts if one.material == material), None)
    if asked is None or stored is None:
        return project
    layout = _Amending(plan, asked, stored).layout()
    others = tuple(one for one in project.facts.layouts if one.material != material)
    return replace(project, facts=replace(project.facts, layouts=(*others, layout)))


@dataclass(frozen=True, slots=True)
class _Gap:
    """What a sheet that stands leaves free, by its place in the walk."""

    host: str
    place: int
    stock: Sheet


@dataclass(slots=True)
class _Amending:
    plan: Plan
    asked: MaterialSheets
    stored: AcceptedLayout

    def layout(self) -> AcceptedLayout:
        """The stored layout as far as it stands, and a place for all that is missing."""
        asked = self.asked
        wanted = {
            kind.code: [piece for piece in kind.piece_ids() if piece not in asked.made]
            for kind in self.plan.kinds
            if kind.part.material == asked.material
        }
        blanks = {blank.code: blank for blank in asked.blanks}
        standing = self._standing()
        given, unsuited = compare(standing, blanks, wanted)
        standing = [
            without_idle_cuts(without_pieces(one, {told.piece for told in unsuited if told.sheet == one.id}))
            for one in standing
        ]
        standing = [one for one in standing if one.pieces]
        still = {
            code: left
            for code, pieces in wanted.items()
            if (left := [p for p in pieces if p not in given.get(code, ())])
        }
        if still:
            missing = [replace(blanks[code], quantity=len(pieces)) for code, pieces in still.items()]
            standing = self._with(standing, missing, still)
        return AcceptedLayout(
            asked.material,
            asked.job.fingerprint(),
            min(self.stored.least, len(standing)),
            self.stored.steps,
            tuple(as_accepted(sheet) for sheet in standing),
        )

    def _standing(self) -> list[PlannedSheet]:
        """The stored sheets that can be cut as they are laid out."""
        on_hand = self.asked.on_hand
        begun = {cut.sheet for cut in self.plan.project.facts.cuts}
        stored = (
            on_hand.known(read_accepted(self.asked.material, one, self._grain, one.id in begun))
            for one in self.stored.sheets
        )
        return [
            sheet
            for sheet in stored
            if sheet.mm(sheet.kerf) == self.plan.worked.kerf and (not sheet.on_hand or on_hand.piece(sheet.id))
        ]

    def _with(
        self, standing: list[PlannedSheet], missing: Sequence[Blank], still: dict[str, list[str]]
    ) -> list[PlannedSheet]:
        """These sheets with what is missing: on what is free of them, on pieces in the shop, on new sheets."""
        material, on_hand = self.asked.material, self.asked.on_hand
        gaps = {gap.stock.name: gap for sheet in standing for gap in _gaps(sheet, missing)}
        there = {sheet.id for sheet in standing}
        loose = [sheet for sheet in on_hand.stock(missing) if sheet.name not in there]
        for_sale = on_hand.left_of(self.plan.worked.stock[material])
        for_sale = without(for_sale, [sheet.stock for sheet in standing])
        kerf, units = self.plan.worked.kerf, [sheet.unit for sheet in standing]
        job = make_job(missing, [*(gap.stock for gap in gaps.values()), *loose, *for_sale], kerf, units)
        if any((unit / Fraction(job.unit)).denominator != 1 for unit in units):
            # Nothing divides all these lengths: what stands is left as it is.
            gaps = {}
            job = make_job(missing, [*loose, *for_sale], kerf)
        found = lay_out(replace(job, iterations=ITERATIONS))
        on_gaps = [one for one in found.sheets if job.stock[one.stock].name in gaps]
        others = replace(found, sheets=tuple(one for one in found.sheets if one not in on_gaps))
        queues = {code: iter(pieces) for code, pieces in still.items()}
        used = numbers_had(on_hand.used, standing)
        # The last gap of a sheet first, so that the places of the others stay.
        for one in sorted(on_gaps, key=lambda one: -gaps[job.stock[one.stock].name].place):
            gap = gaps[job.stock[one.stock].name]
            at = next(number for number, sheet in enumerate(standing) if sheet.id == gap.host)
            host = in_finer_units(standing[at], Fraction(job.unit))
            standing[at] = grafted(host, gap.place, one.root, list(_named(one, job, queues)), used)
        left = {code: list(queue) for code, queue in queues.items()}
        first = next_number([*(sheet.id for sheet in standing), *(one.id for one in on_hand.opened)])
        new, _ = name_pieces(material, self._grain, job, others, left, first, replace(on_hand, used=used))
        return [*standing, *new]

    @property
    def _grain(self) -> bool:
        return self.plan.project.design.materials[self.asked.material].grain


def _named(laid: LaidSheet, job: Job, queues: dict[str, Iterator[str]]) -> Iterator[str]:
    """Names for the pieces on a sheet, in the order of the walk."""
    return (next(queues[job.parts[node.part].code]) for node in placed_in(laid.root, job.kerf))


def _gaps(sheet: PlannedSheet, missing: Sequence[Blank]) -> Iterator[_Gap]:
    """What is free of a sheet and could hold something that is missing."""
    nothing = Fraction(0)
    for place, spare in gaps_of(sheet):
        name, size = f"free on {sheet.id}, {place}", (sheet.mm(spare.length), sheet.mm(spare.width))
        stock = Sheet(name, *size, (nothing, nothing, nothing, nothing), 1, 0, on_hand=True)
        if gives_any(stock, missing):
            yield _Gap(sheet.id, place, stock)


def after(
    planner: Planner,
    plan: Plan,
    material: str,
    change: Callable[[Facts], Facts] = lambda facts: facts,
    design: Design | None = None,
    kerfs: Mapping[str, Fraction] = NO_KERFS,
) -> Project:
    """The project after something went another way: stock is taken, and the least is planned anew.

    `change` says what happened to a material, in pieces that are on hand; `design` is another one
    where that changes with it (a thickness, a kerf): then every material is gone through.
    `kerfs`: what the blades of some saws really took so far, mm. Raises
    Mistake where it cannot have happened.
    """
    facts = plan.project.facts
    concerned = [one for one in plan.sheets if design is not None or one.material == material]
    for one in concerned:
        if one.pending and any(not sheet.begun for sheet in one.sheets):
            raise Mistake("the sheets are still being laid out: try again when they are")
        facts = take_stock(facts, one, plan.steps, kerfs)
    project = Project(design or plan.project.design, change(facts))
    for one in concerned:
        if design is not None and not _is_begun(project.facts, one):
            # Nothing of it is cut: what it was laid out for is still wanted, or it is laid out as for any design.
            if not _still_answers(planner.plan(project, _put_off), one.material):
                project = anew(project, one.material)
            continue
        project = amended(planner.plan(project, _put_off), one.material)
        project = _numbered(planner, plan, project, one.material)
    return project


def _still_answers(plan: Plan, material: str) -> bool:
    """Whether the stored layout of a material is for what is wanted of it."""
    return any(one.material == material and one.accepted for one in plan.sheets)


def _put_off(job: Job) -> Layout | None:
    """Finds nothing: what is wanted and what stands is all that is asked of a plan here."""
    return None


def _is_begun(facts: Facts, sheets: MaterialSheets) -> bool:
    """Whether anything of a material is in the shop as a piece."""
    return any(piece.material == sheets.material for piece in facts.pieces)


def _numbered(planner: Planner, before: Plan, project: Project, material: str) -> Project:
    """The project with numbers for the steps of a material: a cut that is as it was before keeps its own."""
    meant = {one.number: _meaning(one) for one in before.steps}

    def with_steps(steps: Sequence[PlannedStep]) -> Project:
        told = write_steps([one for one in steps if one.sheet.material == material])
        layouts = (replace(one, steps=told) if one.material == material else one for one in project.facts.layouts)
        return replace(project, facts=replace(project.facts, layouts=tuple(layouts)))

    steps = planner.plan(project, _put_off).steps
    same = with_steps([one for one in steps if meant.get(one.number) == _meaning(one)])
    return with_steps(planner.plan(same, _put_off).steps)


def _meaning(planned: PlannedStep) -> tuple[str, str, Fraction]:
    """What is done at a step: for whoever has it on paper, it must not be another cut."""
    return planned.step.piece, planned.step.direction, planned.blade_at
