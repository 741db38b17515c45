"""What would come of something that went another way, before anybody says yes to it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from core.amending import after, anew, anew_round_what_waits
from core.layout.job import Job
from core.layout.tree import Layout
from core.mistakes import Mistake
from core.plan import Plan
from core.project import Design, Facts, Project
from tui.finding import Finding


@dataclass(frozen=True)
class Supposed:
    """A project as it would be, and its plan, beside the plan that there is."""

    of: Project
    """The project as it was when this was worked out: it can be made real only while it is that."""
    before: Plan
    project: Project
    plan: Plan
    waiting: dict[str, Job]
    """What would have to be searched for."""
    said: str
    """What went another way, as it is to be remembered."""
    finding: Finding

    def planned_again(self) -> Supposed:
        """The same, with what has been found meanwhile."""
        plan, waiting = self.finding.planned(self.project)
        return replace(self, plan=plan, waiting=waiting)

    def anew(self, material: str) -> list[Supposed]:
        """The same, but with what is not cut of a material laid out anew: `waiting` says what to search.

        First with what is held back where it waits, if any of it does in a piece on hand; then all of it.
        """
        projects = [anew_round_what_waits(self.project, material), anew(self.project, material)]
        return [replace(self, project=project).planned_again() for project in projects if project]


def suppose(
    finding: Finding,
    of: Project,
    before: Plan,
    material: str,
    change: Callable[[Facts], Facts],
    design: Design | None,
    said: str,
    find: Callable[[Job], Layout],
) -> Supposed:
    """The project `of` with its plan `before`, after such a change of what there is. Raises Mistake.

    `design` where the design changes with it: another thickness, another kerf. `find` answers
    where what is missing goes, or raises as `Finding.found` does.
    """
    project = after(finding.planner, before, material, change, design, find)
    plan, waiting = finding.planned(project)
    lost = {one.material for one in before.sheets} - {one.material for one in plan.sheets}
    if any(kind.part.material in lost for kind in plan.kinds):
        # Nothing of that could be cut any more: what is in the way is mended first.
        known = set(map(str, before.problems))
        raise next((one for one in plan.problems if str(one) not in known), Mistake("then nothing could be cut"))
    return Supposed(of, before, project, plan, waiting, said, finding)
