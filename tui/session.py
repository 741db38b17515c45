"""A project that is open: its file, its history, its plan. Knows nothing of the screen.

Every accepted edit and every tick is on disk when the method that makes it returns; only then
does anybody see it. Undo goes through designs and leaves the facts alone.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import replace
from datetime import datetime
from fractions import Fraction
from pathlib import Path

from core.accepting import ticked, with_layouts, with_steps_given
from core.amending import anew
from core.buy import buying_list, total
from core.cutting import PlannedStep, check_untick, last_made, step_of, tick_for, ticks_through
from core.edits import untick
from core.layout.job import Job
from core.layout.search import lay_out
from core.layout.tree import Layout
from core.mistakes import Mistake
from core.on_hand import with_names_given
from core.plan import Plan, with_codes
from core.project import CutMade, Design, Facts, Mishap, Place, Project
from core.storage import HeldBy, Lock, OpenedProject, changed, copy_to, hold, open_project, save
from core.taking_stock import take_stock, with_saws_renamed
from tui.finding import Finding
from tui.supposed import Supposed, suppose

UNDO_DEPTH = 200


def still_laid_out(then: str) -> str:
    """Why something has to wait, and what can be done `then`."""
    return f"the sheets are still being laid out; {then} when they are"


def now() -> str:
    """Local time to the second, as the file writes it."""
    return datetime.now().isoformat(timespec="seconds")


class Session:
    """One opened project. `read_only` says why nothing can be changed, or is empty."""

    def __init__(self, path: Path, *, read_only: bool = False) -> None:
        """Opens the project at `path` and takes the lock beside it, if nobody has it. Raises Mistake."""
        self.lock: Lock | None = None
        self.station = ""
        """Where the person is working."""
        self.view = ""
        """What of it is before the eye, where there are several."""
        self.measuring = 0
        """The number of the cut of which is asked what its piece reads."""
        self.read_only = "opened to be read only" if read_only else ""
        held: Lock | HeldBy | None = None
        if not read_only:
            held = hold(path)
        self.elsewhere = isinstance(held, HeldBy)
        """Read only because somebody else has it open."""
        if isinstance(held, HeldBy):
            self.read_only = f"open elsewhere: {held}"
        elif held is not None:
            self.lock = held
        self.opened: OpenedProject
        self.finding = Finding()
        self.plan: Plan
        self.waiting: dict[str, Job]
        """Jobs that the plan waits for, by their search keys."""
        try:
            self.opened = open_project(path)
            left = self.opened.project.facts.left_at
            self.view, self.measuring = left.view, left.measuring
            self._take_up()
        except BaseException:
            self.close()
            raise
        if self.opened.read_only and not self.read_only:
            self.read_only = "the file may not be written"
        self._accepted: tuple[Project, Project] | None = None
        """The project before the last accident was accepted, or layouts were given up, and after it."""
        self._before: list[Design] = []
        self._after: list[Design] = []
        self.numbers_seen = True
        """Whether the steps may have been seen under their numbers: on the screen, or printed while it was shut."""

    @property
    def project(self) -> Project:
        """The project as it is on disk."""
        return self.opened.project

    @property
    def design(self) -> Design:
        """Its design."""
        return self.project.design

    def close(self) -> None:
        """Gives the lock up. Everything is on disk already."""
        if self.lock:
            self.lock.release()
            self.lock = None

    def edit(self, design: Design) -> None:
        """Makes `design` the project's. Raises Mistake, and changes nothing, where it cannot be stored."""
        if design == self.design:
            return
        before = self.design
        self._design(design)
        self._before = [*self._before[-UNDO_DEPTH:], before]
        self._after = []

    def undo(self) -> bool:
        """Back to the design before; False where there is none. Ticks stay."""
        return self._travel(self._before, self._after)

    def redo(self) -> bool:
        """Forward again; False where there is nothing to redo."""
        return self._travel(self._after, self._before)

    def _travel(self, source: list[Design], target: list[Design]) -> bool:
        if not source:
            return False
        here = self.design
        self._design(source[-1])
        source.pop()
        target.append(here)
        return True

    def _design(self, design: Design) -> None:
        """Stores another design. No step of its plan gets a number that was seen at another step."""
        facts = with_saws_renamed(self.project.facts, self.design.saws, design.saws)
        # Before anything has happened an edit may number the steps anew.
        if self.numbers_seen and facts.begun:
            facts = self._with_steps_given(facts)
        self._store(replace(self.project, design=design, facts=facts))
        self.numbers_seen = False

    def _with_steps_given(self, facts: Facts) -> Facts:
        """The facts, which remember the numbers of the plan that is shown."""
        given = max(facts.steps_given, self.project.facts.steps_given)
        return with_steps_given(replace(facts, steps_given=given), self.plan.steps)

    def tick(self, number: int, measured: bool = False) -> None:
        """Ticks a step. The layout of its sheet is settled by it. Raises Mistake where it cannot be ticked.

        `measured`: it will be asked what its piece reads, and asked again if the terminal closes before the answer.
        """
        self._tick((tick_for(self._to_cut(number), number, now()),), number if measured else 0)

    def tick_through(self, number: int) -> int:
        """Ticks every step up to that number, for whoever worked from paper; how many those were. Raises Mistake."""
        cuts = ticks_through(self._to_cut(number), number, now())
        if not cuts:
            raise Mistake(f"everything up to step {number} is ticked already")
        self._tick(cuts)
        return len(cuts)

    def _to_cut(self, number: int) -> tuple[PlannedStep, ...]:
        """The steps, if one of that number may be among them."""
        self._check_writable()
        steps = self.plan.steps
        if self.plan.pending and number > max((one.number for one in steps), default=0):
            raise Mistake(still_laid_out("tick"))
        return steps

    def _tick(self, cuts: Sequence[CutMade], measuring: int = 0) -> None:
        settled = {
            one.material: one
            for one in self.plan.sheets
            for sheet in one.sheets
            for cut in cuts
            if cut.sheet == sheet.id
        }
        if any(one.pending for one in settled.values()):
            # What is ticked is kept as it lies, and better may still come.
            raise Mistake(still_laid_out("tick"))
        self.measuring = measuring
        self._store(replace(self.project, facts=ticked(self.plan, cuts)))

    def untick(self, number: int) -> None:
        """Takes a tick back. Raises Mistake where a later cut stands on it."""
        check_untick(self.plan.steps, number)
        step = step_of(self.plan.steps, number).step
        self._store(replace(self.project, facts=untick(self.project.facts, step.sheet, step.piece)))

    def keep_layouts(self) -> None:
        """Stores the layouts as they are shown, so that they hold until the person asks for others."""
        if self.plan.pending:
            raise Mistake(still_laid_out("keep them"))
        self._store(replace(self.project, facts=with_layouts(self.plan)))

    def drop_layouts(self) -> None:
        """Lets everything that is not cut be laid out anew: of begun sheets the pieces that are left.

        It is taken back like an accident.
        """
        before = replace(self.project, facts=with_layouts(self.plan))
        facts = self.project.facts
        if facts.begun:
            facts = self._with_steps_given(facts)
        for one in self.plan.sheets:
            if any(sheet.begun for sheet in one.sheets):
                facts = take_stock(facts, one, self.plan.steps)
        project = replace(self.project, facts=with_names_given(facts))
        for one in self.plan.sheets:
            project = anew(project, one.material)
        if project != self.project:
            self._store(project)
            self._accepted = before, self.project

    def suppose(
        self,
        material: str,
        change: Callable[[Facts], Facts],
        design: Design | None = None,
        said: str = "",
        *,
        find: Callable[[Job], Layout] = lay_out,
    ) -> Supposed:
        """What would come of something that went another way, changed as little as can be. Raises Mistake.

        `design` and `find` as `tui.supposed` says; `said` is remembered if it is accepted.
        """
        self._check_writable()
        if self.plan.pending:
            raise Mistake(still_laid_out("tell it"))
        return suppose(self.finding, self.project, self.plan, material, change, design, said, find)

    def accept(self, supposed: Supposed) -> None:
        """Makes what was supposed the project's, with its layouts as they were shown."""
        if supposed.of != self.project:
            raise Mistake("more has happened since that was worked out: tell it once more")
        plan, _ = self.finding.planned(supposed.project)
        before = replace(self.project, facts=with_layouts(supposed.before))
        facts = with_layouts(plan)
        if supposed.said:
            mishap = Mishap(supposed.said, last_made(supposed.before.steps, before.facts), now())
            facts = replace(facts, mishaps=(*facts.mishaps, mishap))
        self._store(replace(supposed.project, facts=facts))
        self._accepted = before, self.project
        if before.design != self.design:
            # The change of the design that comes with it is undone like any other, and by itself.
            self._before, self._after = [*self._before[-UNDO_DEPTH:], before.design], []

    @property
    def may_take_back(self) -> bool:
        """Nothing has been cut or changed since the last accident, or giving up of layouts, in this sitting."""
        return self._accepted is not None and self._accepted[1] == self.project

    def take_back(self) -> None:
        """Everything as it was before that: it has not happened. Raises Mistake where more has since.

        The names and the numbers that were shown meanwhile have been given all the same.
        """
        if self._accepted is None or not self.may_take_back:
            raise Mistake("more has happened since: it cannot be taken back")
        before = self._accepted[0]
        facts = with_names_given(before.facts, self.project.facts)
        self._store(replace(before, facts=self._with_steps_given(facts)))
        self._accepted = None

    def toggle_bought(self, item: str) -> None:
        """Marks something on the buying list as had, or takes the mark off."""
        bought = self.project.facts.bought
        bought = tuple(one for one in bought if one != item) if item in bought else (*bought, item)
        self._store(replace(self.project, facts=replace(self.project.facts, bought=bought)))

    def leave(self) -> None:
        """Remembers where the person is, for when they come back, and gives the lock up."""
        if not self.read_only and self.station:
            # It is no loss to the project if this one thing cannot be stored.
            with suppress(Mistake):
                self.opened = save(self.opened, self._at_station(self.project))
        self.close()

    def _at_station(self, project: Project) -> Project:
        here = Place(self.station, now(), self.view, self.measuring)
        place = here if self.station else project.facts.left_at
        return replace(project, facts=replace(project.facts, left_at=place))

    def _store(self, project: Project) -> None:
        """To the disk first; only when it is there does it become what everybody sees."""
        self._check_writable()
        plan, _ = self.finding.planned(project)
        self.opened = save(self.opened, self._at_station(with_codes(project, plan)))
        self._take_up()

    def _check_writable(self) -> None:
        if self.read_only:
            raise Mistake(f"nothing can be changed here: {self.read_only}")

    def take_over(self) -> bool:
        """Takes the project up for writing once whoever had it open has closed it. Raises Mistake if it is bad."""
        if not self.elsewhere:
            return False
        held = hold(self.opened.path)
        if isinstance(held, HeldBy):
            return False
        try:
            self.reload()
        except Mistake:
            held.release()
            raise
        self.lock, self.elsewhere = held, False
        self.read_only = "the file may not be written" if self.opened.read_only else ""
        return True

    def fresh_codes(self) -> None:
        """Gives codes from the first on, where nothing has been cut or kept under those given so far."""
        facts = self.project.facts
        if not (self.read_only or facts.cuts or facts.layouts):
            self._store(replace(self.project, facts=replace(facts, codes=())))

    def save_copy(self, path: Path) -> Path:
        """The project in a new file beside a file that somebody else has changed. Raises Mistake."""
        self.opened = copy_to(path, self.opened, self.project)
        self.close()
        held = hold(path)
        self.lock = held if isinstance(held, Lock) else None
        return path

    def changed_elsewhere(self) -> bool:
        """The file on disk is no longer the one that was read or saved here."""
        return changed(self.opened)

    def reload(self) -> None:
        """Reads the file again. Raises Mistake, and keeps what is shown, where it cannot be read."""
        self.opened = open_project(self.opened.path)
        # To go back to a design from before would undo what the other program did.
        self._before, self._after = [], []
        self._take_up()

    def _take_up(self) -> None:
        """Shows what is on the disk, and waits for the layouts that it asks for."""
        self.plan, self.waiting = self.finding.planned(self.project)
        self.finding.forget_all_but(self.waiting)

    def better(self, job: Job, layout: Layout) -> None:
        """A better layout than the one so far; the search goes on."""
        self.finding.better(job, layout)
        self._take_up()

    def answer(self, job: Job, layout: Layout) -> None:
        """A layout has been found; the plan takes it up."""
        self.finding.answer(job, layout)
        self._take_up()

    def search(self, find: Callable[[Job], Layout]) -> None:
        """Answers every job that the plan waits for, here and now."""
        while self.waiting:
            job = next(iter(self.waiting.values()))
            self.answer(job, find(job))

    def to_type_over(self, size: Fraction) -> str:
        """A size as it is shown, for an answer: with its unit where a bare number would mean another one."""
        notation = self.plan.worked.notation
        other = notation.unit != self.design.unit
        return (notation.with_unit if other else notation.text)(size).lstrip("~")

    def cost(self) -> float | None:
        """What has to be bought, in the project's currency; None without prices or while sheets are laid out."""
        return None if self.plan.pending else total(buying_list(self.plan))
