"""The app: one project, nine stations, one line that is always in view."""

from __future__ import annotations

import asyncio
import signal
from collections.abc import Callable
from dataclasses import replace
from typing import ClassVar

from textual import events, work
from textual.app import App, ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.css.query import NoMatches
from textual.widgets import ContentSwitcher, Footer, Static
from textual.worker import get_current_worker

from core.checks import run_checks
from core.drawing.glyphs import Glyphs
from core.drawing.lettering import clean, fitted
from core.editing.forms import Form, Question, check
from core.edits import set_value
from core.layout.job import Job
from core.layout.search import lay_out
from core.layout.tree import Layout
from core.mistakes import Mistake
from core.project import Design
from core.storage import ChangedOnDisk
from tui.screens import HelpPage, TooSmall
from tui.session import Session
from tui.stations.base import Station
from tui.stations.build import BuildStation
from tui.stations.buy import BuyStation
from tui.stations.checks import ChecksStation
from tui.stations.cuts import CutsStation
from tui.stations.goods import GoodsStation
from tui.stations.parts import PartsStation
from tui.stations.piece import PieceStation
from tui.stations.sheets import SheetsStation
from tui.stations.space import SpaceStation
from tui.status import summary
from tui.walking import Walking
from tui.widgets.entry import Asked, EntryLine

STATIONS: tuple[type[Station], ...] = (
    SpaceStation,
    GoodsStation,
    PieceStation,
    PartsStation,
    SheetsStation,
    CutsStation,
    ChecksStation,
    BuyStation,
    BuildStation,
)
SMALLEST = (60, 16)
"""Columns and rows below which nothing useful can be drawn."""
LOOK_AGAIN = 1.0
"""Seconds between looks at whether another program has changed the file. A look sends nothing to the screen."""


class SawhorseApp(App[None]):
    """One project on the screen."""

    CSS_PATH = "sawhorse.tcss"
    TITLE = "Sawhorse"
    ENABLE_COMMAND_PALETTE = False
    BINDINGS: ClassVar[list[BindingType]] = [
        *(
            Binding(str(number), f"station({number})", station.NAME, show=False, id=f"station.{station.NAME.lower()}")
            for number, station in enumerate(STATIONS, start=1)
        ),
        Binding("right_square_bracket,ctrl+right", "go(1)", "next station", show=False, id="station.next"),
        Binding("left_square_bracket,ctrl+left", "go(-1)", "station before", show=False, id="station.before"),
        Binding("u,ctrl+u", "undo", "undo", id="project.undo", tooltip="The last change of the design; ticks stay"),
        Binding("U,ctrl+r", "redo", "redo", show=False, id="project.redo", tooltip="What was undone"),
        Binding("w", "walk", "walk", id="project.walk", tooltip="The guided walk, one question at a time"),
        Binding("m", "notation", "units", show=False, id="project.units", tooltip="Show sizes another way"),
        Binding("question_mark,f1", "help", "help", id="app.help", key_display="?"),
        Binding("ctrl+l", "redraw", "draw again", show=False, id="app.redraw"),
        Binding("ctrl+z", "suspend_process", "suspend", show=False, id="app.suspend"),
        Binding("ctrl+q,q", "leave", "quit", id="app.quit", key_display="q"),
    ]

    def __init__(self, session: Session, glyphs: Glyphs, theme: str, keys: dict[str, str] | None = None) -> None:
        super().__init__()
        self.session = session
        self.glyphs = glyphs
        self._theme_name = theme
        self._keys = keys or {}
        self.crash: BaseException | None = None
        """What went wrong, for the report that the command writes."""
        self._figures: tuple[int, float | None] | None = None
        """Sheets and cost before the edit whose effect is still being worked out."""
        self._walking: Walking | None = None

    def compose(self) -> ComposeResult:
        """Title, stations, entry line, the line in view, keys."""
        yield Static("", id="title", markup=False)
        yield Static("", id="tabs", markup=False)
        with ContentSwitcher(initial="space", id="stations"):
            for station in STATIONS:
                yield station(id=station.NAME.lower())
        yield EntryLine(self.glyphs, id="entry")
        yield Static("", id="status", markup=False)
        yield Footer(compact=True, show_command_palette=False)

    def on_mount(self) -> None:
        """Takes up where the person left."""
        self.theme = self._theme_name
        self.animation_level = "none"
        if self._keys:
            self.set_keymap(self._keys)
        self._leave_on_signals()
        self.app_resume_signal.subscribe(self, lambda _: self.set_timer(0.1, self.action_redraw))
        self.set_interval(LOOK_AGAIN, self._look_at_file)
        self._welcome()

    def _leave_on_signals(self) -> None:
        """A hang-up or a termination ends the app as quitting does, the terminal put back in order."""
        loop = asyncio.get_running_loop()
        for name in ("SIGHUP", "SIGTERM"):
            number = getattr(signal, name, None)
            if number is not None:
                loop.add_signal_handler(number, self.exit)

    def _welcome(self) -> None:
        facts, design = self.session.project.facts, self.session.design
        names = [station.NAME.lower() for station in STATIONS]
        left = facts.left_at
        self.action_station(1 + names.index(left.station) if left.station in names else 1)
        if self.session.read_only:
            self.say(f"Read only: {self.session.read_only}")
        elif left.station:
            self.say(f"You were last here on {left.when.replace('T', ' at ')}, at {left.station.capitalize()}.")
        elif not design.row and not design.loose and not design.space.readings:
            self.action_walk()
        else:
            self.say("? tells the keys of a station; 1 to 9, or [ and ], go from station to station")

    @property
    def station(self) -> Station:
        """The station before the eye."""
        current = self.query_one("#stations", ContentSwitcher).current
        return self.query_one(f"#{current}", Station)

    def action_station(self, number: int) -> None:
        """Goes to a station."""
        station = STATIONS[number - 1]
        self.query_one("#stations", ContentSwitcher).current = station.NAME.lower()
        self.session.station = station.NAME.lower()
        self.say("")
        self.shown()
        self.station.enter()
        self.refresh_bindings()

    def go_to(self, name: str) -> None:
        """Goes to a station by its name."""
        self.action_station(1 + [station.NAME.lower() for station in STATIONS].index(name))

    def back_to_station(self) -> None:
        """Gives the keys back to the station before the eye."""
        self.station.enter()

    def action_go(self, by: int) -> None:
        """To the next station, or the one before."""
        number = [station.NAME.lower() for station in STATIONS].index(self.session.station) + by
        if 0 <= number < len(STATIONS):
            self.action_station(number + 1)

    def say(self, text: str, *, bad: bool = False) -> None:
        """A line at the foot of the screen."""
        self.query_one(EntryLine).say(text, bad=bad)

    def ask(self, asked: Asked) -> None:
        """Puts a question at the foot of the screen."""
        if self.session.read_only:
            self.say(f"nothing can be changed here: {self.session.read_only}", bad=True)
            return
        self.query_one(EntryLine).ask(asked)

    def ask_form(self, form: Form, done: Callable[[], object]) -> None:
        """Puts the questions of a form one after the other, then makes its edit."""
        told: dict[str, str] = {}

        def put(number: int) -> None:
            if number == len(form.questions):
                self.edit(lambda design: form.finish(design, told))
                done()
                return
            question = form.questions[number]

            def accept(text: str) -> None:
                told[question.key] = text.strip()
                put(number + 1)

            if question.key in told:
                question = replace(question, default=told[question.key])
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
        """Puts one question."""
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
                cancel=lambda: void(cancel()),
                back=back,
            )
        )

    def edit(self, change: Callable[[Design], Design]) -> bool:
        """Changes the design, on disk at once. Says why where it cannot, and then nothing has changed."""
        before = self._now_figures()
        try:
            self.session.edit(change(self.session.design))
        except ChangedOnDisk as mistake:
            self._file_changed(mistake)
            return False
        except Mistake as mistake:
            self.say(str(mistake), bad=True)
            return False
        self._figures = self._figures or before
        self.shown()
        return True

    def _now_figures(self) -> tuple[int, float | None] | None:
        plan = self.session.plan
        return None if plan.pending else (sum(len(one.sheets) for one in plan.sheets), self.session.cost())

    def shown(self, said: str | None = None) -> None:
        """Brings title, station and the line in view up to the plan, and sets off what is still to be searched."""
        plan = self.session.plan
        self._title()
        self.station.show(plan)
        status = self.query_one("#status", Static)
        status.update(
            Content(summary(plan, run_checks(plan.worked), self.session.cost(), self.glyphs, self.size.width))
        )
        if said is not None:
            self.say(said)
        if self.session.waiting:
            self._search(tuple(self.session.waiting.values()))
        elif self._figures:
            self._tell_difference()

    def _tell_difference(self) -> None:
        """What the last edit cost in sheets and money."""
        before, now = self._figures, self._now_figures()
        self._figures = None
        if not before or not now or before == now or self.query_one(EntryLine).asked:
            return
        told = [f"sheets {before[0]} -> {now[0]}"] if before[0] != now[0] else []
        if before[1] is not None and now[1] is not None and before[1] != now[1]:
            told.append(f"{self.session.design.currency}{before[1]:.2f} -> {now[1]:.2f}")
        if told:
            self.say("That changes " + ", ".join(told))

    def _title(self) -> None:
        session = self.session
        unit = {"in": "inches", "mm": "millimetres"}[session.plan.worked.notation.unit]
        right = "read only" if session.read_only else "saved"
        name = fitted(clean(session.design.name, self.glyphs), max(self.size.width - 40, 8), self.glyphs)
        left = f"Sawhorse  {name}"
        right = f"sizes in {unit}  {right}"
        space = " " * max(1, self.size.width - len(left) - len(right) - 2)
        self.query_one("#title", Static).update(Content(f" {left}{space}{right} "))
        tabs = []
        for number, station in enumerate(STATIONS, start=1):
            current = station.NAME.lower() == session.station
            tabs.append(f"[{number} {station.NAME}]" if current else f" {number} {station.NAME}")
        line = " ".join(tabs)
        if len(line) > self.size.width:
            line = "".join(tabs)
        here = next((tab for tab in tabs if tab.startswith("[")), "")
        content = Content(line)
        if here:
            content = content.stylize("reverse", line.index(here), line.index(here) + len(here))
        self.query_one("#tabs", Static).update(content)

    @work(thread=True, exclusive=True, group="layout", exit_on_error=False)
    def _search(self, jobs: tuple[Job, ...]) -> None:
        """Lays sheets out beside the keyboard. A newer plan cancels the search for an older one."""
        worker = get_current_worker()
        for job in jobs:
            layout = lay_out(job, cancelled=lambda: worker.is_cancelled)
            if worker.is_cancelled:
                return
            self.call_from_thread(self._found, job, layout)

    def _found(self, job: Job, layout: Layout) -> None:
        if job.fingerprint() in self.session.waiting:
            self.session.answer(job, layout)
            if not self.session.waiting:
                self.shown()

    def _look_at_file(self) -> None:
        """Another program may have changed the file: a second Sawhorse ticking, or an editor."""
        if not self.session.changed_elsewhere():
            return
        if self.session.read_only:
            self._reload()
        else:
            self.say("The file was changed by another program; the next change here will ask what to do", bad=True)

    def _reload(self) -> None:
        try:
            self.session.reload()
        except Mistake as mistake:
            self.say(str(mistake).splitlines()[0], bad=True)
            return
        self.shown()

    def _file_changed(self, mistake: Mistake) -> None:
        """The file is another than the one that was read: nothing is overwritten before the person has chosen."""
        choices = ("read it again", "keep mine as a copy")

        def check(text: str) -> str:
            if text not in choices:
                raise Mistake(f"one of {', '.join(choices)}")
            return text

        def accept(text: str) -> None:
            if text == choices[0]:
                self._reload()
                self.say("read again; the last change was not made, make it once more")
            else:
                self._keep_copy()
            self.station.enter()

        self.ask(Asked("Changed on disk by another program", choices[0], check, accept, choices, str(mistake)))

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

    def action_undo(self) -> None:
        """The design before the last change."""
        self._travel(self.session.undo, "undone; U brings it back", "nothing to undo")

    def action_redo(self) -> None:
        """What was undone."""
        self._travel(self.session.redo, "done again", "nothing to do again")

    def _travel(self, way: Callable[[], bool], said: str, nothing: str) -> None:
        self._figures = self._figures or self._now_figures()
        try:
            moved = way()
        except Mistake as mistake:
            self.say(str(mistake), bad=True)
            return
        self.shown(said if moved else nothing)

    def action_walk(self) -> None:
        """The guided walk, from the first question."""
        self._walking = Walking(self)
        self._walking.begin()

    def action_notation(self) -> None:
        """Shows sizes the next way: inches to an eighth, … millimetres to a tenth."""
        ways = ("in 1/16", "in 1/32", "in 1/64", "in 1/8", "mm 1", "mm 0.5", "mm 0.1")
        notation = self.session.plan.worked.notation
        now = next((n for n, way in enumerate(ways) if type(notation).read(way, "in") == notation), 0)
        way = ways[(now + 1) % len(ways)]
        if self.edit(lambda design: set_value(design, ("show",), way)):
            unit, step = way.split()
            words = "inches" if unit == "in" else "millimetres"
            self.say(f"sizes are shown in {words} to {step}; what you typed stays as typed")

    def action_help(self) -> None:
        """The keys and the sense of this station."""
        self.push_screen(HelpPage(self.station, self.glyphs))

    def action_redraw(self) -> None:
        """Paints everything again."""
        self.screen.refresh(layout=True, repaint=True)

    def action_leave(self) -> None:
        """Everything is on disk; the app just ends."""
        self.exit()

    def on_resize(self, event: events.Resize) -> None:
        """Says so where the window is too small to draw in, and takes no keys there but quit."""
        small = event.size.width < SMALLEST[0] or event.size.height < SMALLEST[1]
        showing = isinstance(self.screen, TooSmall)
        if small and not showing:
            self.push_screen(TooSmall())
        elif showing and not small:
            self.pop_screen()
        # The first resize comes before there is anything to bring up to date.
        try:
            self._title()
        except NoMatches:
            return

    def _handle_exception(self, error: Exception) -> None:
        """Keeps what went wrong for the report, and ends without a traceback on the person's screen."""
        self.crash = error
        if self.is_headless:
            super()._handle_exception(error)
        else:
            self.exit(return_code=70)


def void(value: object) -> None:
    """Takes a result that nobody wants."""
