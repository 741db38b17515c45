"""The bench: everything that happens to an opened project while it is on the screen.

It makes edits and ticks by the session, puts questions, sets off the search for layouts, and
brings the screen up to the plan. Stations know it as their `Desk`.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial

from textual.screen import ModalScreen
from textual.widget import AwaitMount
from textual.widgets import ContentSwitcher

from core.buy import money
from core.drawing.glyphs import Glyphs
from core.editing.forms import Form, Question, check
from core.edits import set_value
from core.layout.job import Job
from core.layout.tree import Layout
from core.lengths import UNIT_WORDS, Notation
from core.mistakes import Mistake
from core.project import Design
from core.storage import ChangedOnDisk
from tui.frame import show_frame
from tui.ground import Ground
from tui.searching import Searcher
from tui.session import Session
from tui.stations import NAMES, station_class
from tui.stations.base import Station
from tui.walking import Walking
from tui.widgets.entry import Asked, EntryLine

SHOWN_AS = ("in 1/16", "in 1/32", "in 1/64", "in 1/8", "mm 1", "mm 0.5", "mm 0.1")
"""The ways to show sizes, in the order in which one key goes through them."""


class Bench:
    """One opened project on the screen of an app."""

    def __init__(self, app: Ground[None], session: Session, glyphs: Glyphs) -> None:
        self.app = app
        self.session = session
        self.glyphs = glyphs
        self.searcher = Searcher()
        self.alone = False
        """One station has the whole window, and only its own keys do anything."""
        self._nudged = False
        self._figures: tuple[int, float | None] | None = None
        """Sheets and cost before the edit whose effect is still being worked out."""
        self._mounting: AwaitMount | None = None
        """The station that is being put on the screen."""
        self._noticed = False
        """The person has been told that another program has changed the file."""
        self._searching: frozenset[str] = frozenset()
        """Fingerprints of the jobs that are under way."""

    def begin(self, notice: str = "") -> None:
        """Takes up where the person left; an empty project begins with the walk. A notice is told before anything."""
        left, design = self.session.project.facts.left_at, self.session.design
        self.go_to(left.station if left.station in self._names() else NAMES[0].lower())
        if notice:
            self.say(notice)
        elif self.session.read_only:
            self.say(f"Read only: {self.session.read_only}")
        elif left.station:
            self.say(f"You were last here on {left.when.replace('T', ' at ')}, at {left.station.capitalize()}.")
        elif not design.row and not design.loose and not design.space.readings:
            self.walk()
        else:
            self.say("? tells the keys of a station; 1 to 9, or [ and ], go from station to station")

    @staticmethod
    def _names() -> list[str]:
        return [name.lower() for name in NAMES]

    @property
    def key_at(self) -> float:
        """When the key was pressed that is being dealt with, by a clock that only goes on; s."""
        return self.app.key_at

    @property
    def station(self) -> Station:
        """The station before the eye."""
        return self.app.query_one(f"#{self.session.station}", Station)

    def go_to(self, name: str) -> None:
        """Goes to a station, by its name in small letters. One that is new shows itself once it is there."""
        switcher = self.app.query_one("#stations", ContentSwitcher)
        if not switcher.query_children(f"#{name}"):
            self._mounting = switcher.mount(station_class(name.capitalize())(id=name))
        switcher.current = name
        self.session.station = name
        self.say("")
        self.shown()
        self.take_keys(self.station)

    async def arrived(self) -> None:
        """Returns once the station is there, so that a key typed ahead finds it."""
        if self._mounting:
            await self._mounting
            self._mounting = None

    def take_keys(self, station: Station) -> None:
        """Gives a station the keys, if it is the one before the eye and no question is open."""
        if station is self.station and not self.app.query_one(EntryLine).asked:
            station.enter()
        self.app.refresh_bindings()

    def go(self, by: int) -> None:
        """To the next station, or the one before."""
        number = self._names().index(self.session.station) + by
        if 0 <= number < len(NAMES):
            self.go_to(NAMES[number].lower())

    def back_to_station(self) -> None:
        """Gives the keys back to the station before the eye."""
        self.take_keys(self.station)

    def say(self, text: str, *, bad: bool = False) -> None:
        """A line at the foot of the screen."""
        self.app.query_one(EntryLine).say(text, bad=bad)

    def say_meanwhile(self, text: str) -> None:
        """The same where nothing else is said."""
        self.app.query_one(EntryLine).say_meanwhile(text)

    def ask(self, asked: Asked) -> None:
        """Puts a question at the foot of the screen."""
        if self.session.read_only:
            self.say(f"nothing can be changed here: {self.session.read_only}", bad=True)
            return
        line = self.app.query_one(EntryLine)
        if not line.asked:
            # One that is open, with what has been typed into it, is answered or left first, whatever is clicked on.
            line.ask(asked)

    def ask_form(self, form: Form, done: Callable[[], object]) -> None:
        """Puts the questions of a form one after the other, then makes its edit."""
        told: dict[str, str] = {}

        def put(number: int) -> None:
            if number == len(form.questions):
                self.edit(lambda design: form.finish(design, told))
                done()
                return
            question = form.questions[number]
            if question.key in told:
                question = replace(question, default=told[question.key])

            def accept(text: str) -> None:
                told[question.key] = text.strip()
                put(number + 1)

            back = (lambda: put(number - 1)) if number else None
            self.ask_question(question, f"{form.title}, {question.label}", accept, done, back)

        put(0)

    def ask_question(
        self,
        question: Question,
        label: str,
        accept: Callable[[str], None],
        cancel: Callable[[], object],
        back: Callable[[], None] | None = None,
    ) -> None:
        """Puts one question of a form or a walk."""
        names = self.session.plan.worked.names
        choices = ("yes", "no") if question.kind == "yes or no" else question.choices
        self.ask(
            Asked(
                label,
                question.default,
                lambda text: check(question, self.session.design, text, names),
                accept,
                choices,
                question.help,
                cancel=cancel,
                back=back,
            )
        )

    def choose(self, label: str, choices: tuple[str, ...], accept: Callable[[str], None], help: str = "") -> None:
        """Puts a question that one of a few words answers."""

        def check_choice(text: str) -> str:
            if text not in choices:
                raise Mistake(f"one of: {', '.join(choices)}")
            return text

        self.ask(Asked(label, choices[0], check_choice, accept, choices, help, cancel=self.back_to_station))

    def push(self, screen: ModalScreen[bool], done: Callable[[bool | None], None]) -> None:
        """Puts a page over the stations, to be accepted or left."""
        self.app.push_screen(screen, done)

    async def lay_out(self, job: Job) -> Layout:
        """The layout of a job, searched for beside the keyboard."""
        return await self.searcher.answer(job, lambda layout: None)

    def nudge(self, change: Callable[[Design], Design]) -> None:
        """An edit whose effect on sheets and cost is what the person asks for: that there is none is told too."""
        self._nudged = True
        self.edit(change)

    def edit(self, change: Callable[[Design], Design]) -> bool:
        """Changes the design, on disk at once. Says why where it cannot, and then nothing has changed."""
        before = self._now_figures()
        if not self.record(lambda: self.session.edit(change(self.session.design))):
            return False
        self._figures = self._figures or before
        self.shown()
        return True

    def record(self, change: Callable[[], object]) -> bool:
        """Makes a change of the session, on disk at once. Says why where it cannot, and then nothing has changed."""
        try:
            change()
        except ChangedOnDisk as mistake:
            self._file_changed(mistake)
            return False
        except Mistake as mistake:
            self.say(str(mistake), bad=True)
            return False
        return True

    def _now_figures(self) -> tuple[int, float | None] | None:
        plan = self.session.plan
        return None if plan.pending else (sum(len(one.sheets) for one in plan.sheets), self.session.cost())

    def shown(self, said: str | None = None) -> None:
        """Brings title, station and the line in view up to the plan, and sets off what is still to be searched."""
        plan = self.session.plan
        self.show_frame()
        if self.station.is_mounted:
            self.station.show(plan)
        if said is not None:
            self.say(said)
        if not self.session.waiting:
            self._searching = frozenset()
            if self._figures:
                self._tell_difference()
        elif not self._searching.issuperset(self.session.waiting):
            # A newer plan takes the place of the search for an older one; the same one goes on.
            self._searching = frozenset(self.session.waiting)
            jobs = tuple(self.session.waiting.values())
            self.app.run_worker(self._search(jobs), exclusive=True, group="layout")

    def _tell_difference(self) -> None:
        """What the last edit cost in sheets and money."""
        before, now, nudged = self._figures, self._now_figures(), self._nudged
        self._figures, self._nudged = None, False
        if not before or not now or self.session.plan.problems or self.app.query_one(EntryLine).asked:
            # A carcass that is left out is no saving.
            return
        if before == now:
            if nudged:
                self.say("That changes nothing in sheets or cost")
            return
        told = [f"sheets {before[0]} -> {now[0]}"] if before[0] != now[0] else []
        if before[1] is not None and now[1] is not None and before[1] != now[1]:
            currency = self.session.design.currency
            told.append(f"cost {money(before[1], currency)} -> {money(now[1], currency)}")
        if told:
            self.say("That changes " + ", ".join(told))

    def show_frame(self) -> None:
        """What stands round the station, as wide as the window."""
        show_frame(self.app, self.session, self.glyphs)

    async def _search(self, jobs: tuple[Job, ...]) -> None:
        """Has the sheets laid out beside the keyboard."""
        for job in jobs:
            self._found(job, await self.searcher.answer(job, partial(self._better, job)))

    def _better(self, job: Job, layout: Layout) -> None:
        if job.search_key() in self.session.waiting:
            self.session.better(job, layout)
            self.shown()

    def _found(self, job: Job, layout: Layout) -> None:
        if job.search_key() in self.session.waiting:
            self.session.answer(job, layout)
            if not self.session.waiting:
                self.shown()

    def look_at_file(self) -> None:
        """Another program may have changed the file: a second Sawhorse ticking, or an editor."""
        if self.session.elsewhere:
            self._take_over()
        if not self.session.changed_elsewhere():
            self._noticed = False
        elif self.session.read_only:
            self._reload()
        elif not self._noticed:
            # Once: it must not take the place of what is said later, nor send a line every second.
            self._noticed = True
            self.say("The file was changed by another program; the next change here will ask what to do", bad=True)

    def _take_over(self) -> None:
        try:
            taken = self.session.take_over()
        except Mistake as mistake:
            self.say(str(mistake).splitlines()[0], bad=True)
            return
        if taken:
            self.shown("whoever had the project open has closed it: it is yours to change now")

    def _reload(self, said: str | None = None) -> None:
        """Takes the file as it is now; where it cannot be read, says why and goes on showing what was read before."""
        try:
            self.session.reload()
        except Mistake as mistake:
            self.say(str(mistake).splitlines()[0], bad=True)
            return
        self.shown(said)

    def _file_changed(self, mistake: Mistake) -> None:
        """The file is another than the one that was read: nothing is overwritten before the person has chosen."""

        def accept(text: str) -> None:
            if text == "read it again":
                self._reload("read again; the last change was not made, make it once more")
            else:
                self._keep_copy()
            self.back_to_station()

        # Who is asked need not be told at the next look as well, in the place of what is said to the answer.
        self._noticed = True
        label = "Changed on disk by another program"
        self.choose(label, ("read it again", "keep mine as a copy"), accept, str(mistake))

    def _keep_copy(self) -> None:
        path = self.session.opened.path
        number = 1
        while (copy := path.with_name(f"{path.stem}-mine-{number}{path.suffix}")).exists():
            number += 1
        try:
            self.session.save_copy(copy)
        except Mistake as mistake:
            self.say(str(mistake), bad=True)
            return
        self.shown(f"you are now working in {copy.name}; the other file is as the other program left it")

    def undo(self) -> None:
        """The design before the last change."""
        # Whoever has just accepted an accident may mean that one.
        besides = "; what an accident changed is taken back by x at Cuts" if self.session.may_take_back else ""
        self._travel(self.session.undo, f"undone; U brings it back{besides}", f"nothing to undo{besides}")

    def redo(self) -> None:
        """What was undone."""
        self._travel(self.session.redo, "done again", "nothing to do again")

    def _travel(self, way: Callable[[], bool], said: str, nothing: str) -> None:
        before = self._now_figures()
        moved: list[bool] = []
        if self.record(lambda: moved.append(way())):
            self._figures = self._figures or before
            self.shown(said if moved[0] else nothing)

    def walk(self) -> None:
        """The guided walk, from the first question."""
        Walking(self).begin()

    def next_notation(self) -> None:
        """Shows sizes the next way: inches to an eighth, … millimetres to a tenth."""
        now = replace(self.session.plan.worked.notation, between=frozenset())
        at = next((n for n, way in enumerate(SHOWN_AS) if Notation.read(way, "in") == now), 0)
        way = SHOWN_AS[(at + 1) % len(SHOWN_AS)]
        if self.edit(lambda design: set_value(design, ("show",), way)):
            unit = UNIT_WORDS[Notation.read(way, "in").unit]
            self.say(f"sizes are shown in {unit} to {way.split()[1]}; what you typed stays as typed")
