"""The app: the frame round an opened project. It is painted first; then the project is opened in it."""

from __future__ import annotations

from difflib import get_close_matches
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.reactive import Reactive
from textual.screen import Screen
from textual.widget import Widget
from textual.widgets import ContentSwitcher, Static

from core.drawing.glyphs import Glyphs
from core.drawing.lettering import clean
from core.mistakes import Mistake
from tui.ground import Ground
from tui.stations import NAMES
from tui.widgets.entry import EntryLine
from tui.widgets.keys import KeysLine

if TYPE_CHECKING:
    from tui.bench import Bench

LOOK_AGAIN = 1.0
"""Seconds between looks at whether another program has changed the file. A look sends nothing to the screen."""


def every_binding_id() -> list[str]:
    """Ids of all bindings of the app, its stations and its widgets."""
    from tui.keys import binding_ids
    from tui.screens import ChangePage, HelpPage, TooSmall
    from tui.stations import station_class
    from tui.stations.cuts import BenchPane
    from tui.stations.ledger import Fields
    from tui.widgets.entry import AnswerInput

    return binding_ids(
        [SawhorseApp, HelpPage, ChangePage, TooSmall, AnswerInput, Fields, BenchPane, *map(station_class, NAMES)]
    )


def unknown_keys(keys: dict[str, str]) -> str:
    """Which bindings of the shop file there are none of, in one line; empty where all are known."""
    if not keys:
        return ""
    known = every_binding_id()
    wrong = [id for id in keys if id not in known]
    if not wrong:
        return ""
    near = get_close_matches(wrong[0], known, 1)
    return f"The shop file gives a key to {wrong[0]}, which is nothing here" + (f"; {near[0]} is" if near else "")


class Frame(Screen[None]):
    """The screen that the stations stand on."""

    focused = Reactive[Widget | None](None, repaint=False)
    """Where the keys go. That they go elsewhere repaints the two concerned, not the whole screen."""


BY_LETTER = ("station", "go", "undo", "redo", "walk", "notation", "help", "leave")
"""Actions whose keys are letters and signs, which an open question takes as text."""


class SawhorseApp(Ground[None]):
    """One project on the screen."""

    CSS_PATH = "sawhorse.tcss"
    TITLE = "Sawhorse"
    AUTO_FOCUS = None
    """Stations take the keys themselves; a hidden line must not."""
    BINDINGS: ClassVar[list[BindingType]] = [
        *(
            Binding(str(number), f"station('{name.lower()}')", name, show=False, id=f"station.{name.lower()}")
            for number, name in enumerate(NAMES, start=1)
        ),
        Binding("right_square_bracket,ctrl+right", "go(1)", "next station", show=False, id="station.next"),
        Binding("left_square_bracket,ctrl+left", "go(-1)", "station before", show=False, id="station.before"),
        Binding("u,ctrl+u", "undo", "undo", id="project.undo", tooltip="The last change of the design; ticks stay"),
        Binding("U,ctrl+r", "redo", "redo", show=False, id="project.redo", tooltip="What was undone"),
        Binding("w", "walk", "walk", id="project.walk", tooltip="The guided walk, one question at a time"),
        Binding("m", "notation", "units", show=False, id="project.units", tooltip="Show sizes another way"),
        Binding("question_mark,f1", "help", "help", id="app.help", key_display="?"),
        Binding("f5,ctrl+l", "redraw", "draw again", show=False, id="app.redraw"),
        Binding("ctrl+z", "suspend_process", "suspend", show=False, id="app.suspend"),
        Binding("q", "leave", "quit", id="app.leave"),
        Binding("ctrl+q", "quit", "quit at once", show=False, id="app.quit"),
    ]

    def __init__(
        self,
        path: Path,
        glyphs: Glyphs,
        theme: str,
        *,
        read_only: bool = False,
        keys: dict[str, str] | None = None,
        notice: str = "",
    ) -> None:
        super().__init__(theme)
        self.path = path
        self.glyphs = glyphs
        self.bench: Bench | None = None
        """The opened project; None until the frame has been painted."""
        self.refused: Mistake | None = None
        """Why the project could not be opened."""
        self._read_only = read_only
        self._keys = keys or {}
        self._notice = notice
        self._typed_ahead: list[events.Key] | None = []
        """Keys that came while the project was being opened; None once it is open."""

    def get_default_screen(self) -> Screen[None]:
        """What everything stands on."""
        return Frame(id="frame")

    def compose(self) -> ComposeResult:
        """Title, stations, entry line, the line in view, keys."""
        yield Static(Content(clean(f" Sawhorse  opening {self.path.name}", self.glyphs)), id="title", markup=False)
        yield Static("", id="tabs", markup=False)
        yield Static("", id="problems", markup=False)
        yield ContentSwitcher(id="stations")
        yield EntryLine(self.glyphs, id="entry")
        yield Static("", id="status", markup=False)
        yield KeysLine(id="keys")

    def on_mount(self) -> None:
        """Paints the frame, then opens the project."""
        if self._keys:
            self.set_keymap(self._keys)
        self.call_after_refresh(self._open)

    async def on_event(self, event: events.Event) -> None:
        """Keeps keys for when there is something to take them; quitting is not put off."""
        waits = isinstance(event, events.Key) and not event.is_forwarded and self._typed_ahead is not None
        if waits and isinstance(event, events.Key) and event.key not in ("ctrl+q", "ctrl+c"):
            assert self._typed_ahead is not None
            self._typed_ahead.append(event)
            return
        await super().on_event(event)

    async def _give_out_keys(self) -> None:
        """Hands the keys that were kept to the station that is there now, in the order in which they came."""
        kept, self._typed_ahead = self._typed_ahead or [], None
        for event in kept:
            await self.on_event(event)

    async def _open(self) -> None:
        # What an opened project needs is imported here: a frame on the screen first, then the rest.
        from tui.bench import Bench
        from tui.session import Session

        try:
            session = Session(self.path, read_only=self._read_only)
        except Mistake as mistake:
            self.refused = mistake
            self.exit()
            return
        self.bench = Bench(self, session, self.glyphs)
        self.bench.begin(self._notice or unknown_keys(self._keys))
        self.set_interval(LOOK_AGAIN, self.bench.look_at_file)
        await self.bench.arrived()
        # Behind the keys that came meanwhile and wait their turn.
        self.call_later(self._give_out_keys)

    async def on_unmount(self) -> None:
        """The child that lays sheets out ends with the app."""
        if self.bench:
            await self.bench.searcher.stop()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Most keys do nothing until the project is open, nor while a question is: there they are text."""
        if action not in BY_LETTER:
            return True
        if self.bench is None or self.query_one(EntryLine).asked:
            return False
        # A sleeve on the keyboard must not lead away from the cut.
        return not self.bench.alone or action == "help"

    async def action_station(self, name: str) -> None:
        """Goes to a station."""
        if self.bench:
            # Painted once, when the station is there.
            with self.batch_update():
                self.bench.go_to(name)
                await self.bench.arrived()

    async def action_go(self, by: int) -> None:
        """To the next station, or the one before."""
        if self.bench:
            with self.batch_update():
                self.bench.go(by)
                await self.bench.arrived()

    def action_undo(self) -> None:
        """The design before the last change."""
        if self.bench:
            self.bench.undo()

    def action_redo(self) -> None:
        """What was undone."""
        if self.bench:
            self.bench.redo()

    def action_walk(self) -> None:
        """The guided walk."""
        if self.bench:
            self.bench.walk()

    def action_notation(self) -> None:
        """Shows sizes another way."""
        if self.bench:
            self.bench.next_notation()

    async def action_help(self) -> None:
        """The keys and the sense of this station."""
        from tui.screens import HelpPage

        if self.bench:
            with self.batch_update():
                await self.push_screen(HelpPage(self.bench.station, self.glyphs, self._keys))

    def action_leave(self) -> None:
        """Everything is on disk; the app just ends."""
        self.exit()

    def on_resize(self, event: events.Resize) -> None:
        """What stands round the station is as wide as the window."""
        if self.bench:
            self.call_after_refresh(self.bench.show_frame)
