"""A plan that has to change, changed as little as can be.

After an accident the cuts that were planned stand on the pieces that are left. What is missing
is put on what they leave free, on other pieces in the shop, and only then on a new sheet; every
cut that can stay keeps its name and its number. Where that takes a new sheet, everything that
is not cut may be laid out anew instead (`anew`), and the person has what costs less.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from core.accepting import with_numbers
from core.adding import Supply, with_missing
from core.bad_places import clear_of_its_bad_places
from core.cutting import PlannedStep, write_steps
from core.following import followed, only_waits
from core.grafting import numbers_had
from core.layout.job import Job
from core.layout.search import lay_out
from core.layout.tree import Layout
from core.mistakes import Mistake
from core.on_hand import with_names_given
from core.plan import Plan, Planner
from core.planned_sheet import PlannedSheet, as_accepted, read_accepted
from core.project import AcceptedLayout, Design, Facts, Project
from core.sheets import MaterialSheets, stored_sheets
from core.standing import compare, without_unsuited
from core.taking_stock import take_stock


def anew(project: Project, material: str) -> Project:
    """The project with nothing of a material laid out: what is not cut is to be planned with a search."""
    layouts = tuple(one for one in project.facts.layouts if one.material != material)
    return replace(project, facts=replace(project.facts, layouts=layouts))


def anew_round_what_waits(project: Project, material: str) -> Project | None:
    """The same, but the pieces on hand in which parts wait that are held back keep theirs; None if there are none."""
    layout = next((one for one in project.facts.layouts if one.material == material), None)
    if layout is None:
        return None
    held = project.design.held_back
    waiting = tuple(sheet for sheet in layout.sheets if only_waits(read_accepted(material, sheet, True, False), held))
    if not waiting:
        return None
    project = anew(project, material)
    kept = replace(layout, job="", sheets=waiting)
    return replace(project, facts=replace(project.facts, layouts=(*project.facts.layouts, kept)))


def amended(plan: Plan, material: str, find: Callable[[Job], Layout]) -> Project:
    """The project of a plan, with the stored layout of a material brought up to what is wanted and what there is.

    `plan` need not have searched for anything: it says what is wanted, and its facts what stands.
    `find` answers where what is missing goes.
    """
    project = plan.project
    asked = next((one for one in plan.sheets if one.material == material), None)
    stored = next((one for one in project.facts.layouts if one.material == material), None)
    if asked is None or stored is None:
        return project
    layout = _Amending(plan, asked, stored, find).layout()
    others = tuple(one for one in project.facts.layouts if one.material != material)
    return replace(project, facts=replace(project.facts, layouts=(*others, layout)))


@dataclass(slots=True)
class _Amending:
    plan: Plan
    asked: MaterialSheets
    stored: AcceptedLayout
    find: Callable[[Job], Layout]

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
        used, held = numbers_had(asked.on_hand.used, standing), self.plan.project.design.held_back
        standing = [one for sheet in standing if (one := clear_of_its_bad_places(sheet, used)).pieces]
        standing = [followed(sheet, blanks, wanted, held, (), used).sheet for sheet in standing]
        given, unsuited = compare(standing, blanks, wanted)
        standing = [one for sheet in standing if (one := without_unsuited(sheet, unsuited)).pieces]
        still = {
            code: left
            for code, pieces in wanted.items()
            if (left := [p for p in pieces if p not in given.get(code, ())])
        }
        if still:
            for_sale = asked.on_hand.left_of(self.plan.worked.stock[asked.material])
            on_hand = replace(asked.on_hand, used=used)
            supply = Supply(asked.material, self._grain, self.plan.worked.kerf, for_sale, on_hand)
            standing = with_missing(standing, still, blanks, held, supply, self.find)
        return AcceptedLayout(
            asked.material,
            asked.job.fingerprint(),
            # What was proved of all that was wanted then is none of what is still wanted.
            least=0,
            steps=self.stored.steps,
            sheets=tuple(as_accepted(sheet) for sheet in standing),
        )

    def _standing(self) -> list[PlannedSheet]:
        """The stored sheets that can be cut as they are laid out."""
        on_hand = self.asked.on_hand
        begun = {cut.sheet for cut in self.plan.project.facts.cuts}
        return [
            sheet
            for sheet in stored_sheets(self.stored, self._grain, begun, on_hand, self.asked.job)
            if sheet.mm(sheet.kerf) == self.plan.worked.kerf and (not sheet.on_hand or on_hand.piece(sheet.id))
        ]

    @property
    def _grain(self) -> bool:
        return self.plan.project.design.materials[self.asked.material].grain


def after(
    planner: Planner,
    plan: Plan,
    material: str,
    change: Callable[[Facts], Facts] = lambda facts: facts,
    design: Design | None = None,
    find: Callable[[Job], Layout] = lay_out,
) -> Project:
    """The project after something went another way: stock is taken, and the least is planned anew.

    `change` says what happened to a material, in pieces that are on hand; `design` is another one
    where that changes with it (a thickness, a kerf): then every material is gone through.
    `find` answers where what is missing goes. Raises Mistake where it cannot have happened.
    """
    # Whatever happens first settles every number that is shown, be it a cut or an accident; the other materials too.
    facts = with_numbers(plan)
    concerned = [one for one in plan.sheets if design is not None or one.material == material]
    for one in concerned:
        if one.pending and any(not sheet.begun for sheet in one.sheets):
            raise Mistake("the sheets are still being laid out: try again when they are")
        facts = take_stock(facts, one, plan.steps)
    # What is spoiled takes its name with it.
    project = Project(design or plan.project.design, change(with_names_given(facts)))
    for one in concerned:
        if design is not None and not _is_begun(project.facts, one):
            # Nothing of it is cut: what it was laid out for is still wanted, or it is laid out as for any design.
            if not _still_answers(planner.plan(project, _put_off), one.material):
                project = anew(project, one.material)
            continue
        project = amended(planner.plan(project, _put_off), one.material, find)
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
    meant = {one.number: one.meaning for one in before.steps}

    def with_steps(steps: Sequence[PlannedStep]) -> Project:
        told = write_steps([one for one in steps if one.sheet.material == material])
        layouts = (replace(one, steps=told) if one.material == material else one for one in project.facts.layouts)
        return replace(project, facts=replace(project.facts, layouts=tuple(layouts)))

    steps = planner.plan(project, _put_off).steps
    same = with_steps([one for one in steps if meant.get(one.number) == one.meaning])
    return with_steps(planner.plan(same, _put_off).steps)
