"""The app under its pilot: keys in, the text of the screen out."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from pathlib import Path
from unittest.mock import patch

from textual import events
from textual.keys import _character_to_key
from textual.pilot import Pilot

from core import edits
from core.drawing.glyphs import UNICODE, Glyphs
from core.layout.job import Job
from core.layout.search import lay_out
from core.layout.tree import Layout
from tui.app import SawhorseApp
from tui.screens import ChangePage
from tui.session import Session
from tui.stations.base import Station
from tui.widgets.entry import AnswerInput, EntryLine
from tui.widgets.rows import Rows

STATIONS = ("space", "goods", "piece", "parts", "sheets", "cuts", "checks", "buy", "build")
SIZES = ((80, 24), (120, 40))
CHARACTERS = {"space": " ", "plus": "+", "minus": "-", "slash": "/", "equals_sign": "="}


class Driver:
    """One running app."""

    def __init__(self, pilot: Pilot[None], app: SawhorseApp) -> None:
        self.pilot = pilot
        self.app = app
        self.pressed_at = 0.0

    @property
    def session(self) -> Session:
        """The opened project."""
        assert self.app.bench is not None
        return self.app.bench.session

    async def calm(self) -> None:
        """Until everything that was posted has been dealt with and painted.

        The pilot's own pause sleeps until the processor is idle, tens of milliseconds for every
        key; this asks the queues instead.
        """
        quiet = 0
        while quiet < 2 and self.app.is_running and not self.app._exit:
            await self.pilot._wait_for_screen()
            await self.app.animator.wait_until_complete()
            await asyncio.sleep(0)
            screens = self.app.screen_stack
            pumps = [self.app, *screens, *(node for screen in screens for node in screen.walk_children())]
            busy = any(pump.message_queue_size or pump._next_callbacks for pump in pumps)
            quiet = 0 if busy or self.app.screen._callbacks or self.app.screen._layout_required else quiet + 1
            self.app.screen._on_timer_update()

    async def settle(self) -> None:
        """Until the screen is drawn and no sheet is being laid out."""
        await self.calm()
        while self.app.bench and (self.session.waiting or self._works_out) and self.app.workers:
            await self.app.workers.wait_for_complete()
            await self.calm()

    @property
    def _works_out(self) -> bool:
        return isinstance(self.app.screen, ChangePage) and not self.app.screen.is_told

    async def press(self, *keys: str, after: float = 2.0) -> None:
        """Presses keys, each by its name or its character, and waits for what comes of them; `after` as for `send`."""
        for key in keys:
            self.send(key, after)
            await self.settle()

    def send(self, key: str, after: float = 2.0) -> None:
        """Presses a key, so many seconds after the one before by its own account, and waits for nothing."""
        name = key if len(key) > 1 or key.isalnum() else _character_to_key(key)
        event = events.Key(name, key if len(key) == 1 else CHARACTERS.get(key))
        self.pressed_at = event.time = self.pressed_at + after
        self.app.post_message(event)

    async def type(self, text: str) -> None:
        """Types over what stands in the open question."""
        await self.press("end", "ctrl+u")
        for character in text:
            self.send(character)
        await self.settle()

    async def answer(self, text: str | None = None) -> None:
        """Answers the open question; with None takes what it offers."""
        if text is not None:
            await self.type(text)
        await self.press("enter")

    async def go(self, station: str) -> None:
        """To a station by its number."""
        await self.press(str(1 + STATIONS.index(station)))

    async def resize(self, columns: int, rows: int) -> None:
        """Another size of window."""
        await self.pilot.resize_terminal(columns, rows)
        await self.settle()

    @property
    def lines(self) -> list[str]:
        """The rows of the screen as they are painted."""
        return [strip.text.rstrip() for strip in self.app.screen._compositor.render_strips()]

    @property
    def text(self) -> str:
        """The whole screen."""
        return "\n".join(self.lines)

    @property
    def question(self) -> str:
        """The question that is open; empty where there is none."""
        asked = self.app.query_one(EntryLine).asked
        return asked.label if asked else ""

    @property
    def typed(self) -> str:
        """What stands in the open question."""
        return self.app.screen.query_one(AnswerInput).value

    @property
    def said(self) -> str:
        """The line of words at the foot, with those that ran over."""
        return str(self.app.screen.query_one("#entry-said").render()).strip()

    @property
    def station(self) -> Station:
        """The station before the eye."""
        assert self.app.bench is not None
        return self.app.bench.station

    @property
    def list(self) -> Rows:
        """The list of the station before the eye."""
        return self.station.query_one(Rows)

    @property
    def list_text(self) -> str:
        """All of that list, what is scrolled out of sight too."""
        return "\n".join("".join(text for text, _ in row) for row in self.list.rows)

    async def cursor_to(self, words: str) -> None:
        """Moves the cursor down the list to the first line that shows `words`."""
        lines = self.list._lines
        shown = ["".join(text for text, _ in line.row) for line in lines]
        found = next((n for n, line in enumerate(lines) if line.key is not None and words in shown[n]), None)
        assert found is not None, f"no line shows {words!r}"
        self.send("home")
        for line in lines[:found]:
            if line.key is not None:
                self.send("down")
        await self.settle()
        assert self.list._at == found


class AtOnce:
    """Lays sheets out here and now, where a test is not about the child process that does it."""

    async def answer(self, job: Job, better: Callable[[Layout], None]) -> Layout:
        """The layout of a job."""
        return lay_out(job, announce=better)

    async def stop(self) -> None:
        """Nothing is under way."""


class Waits(AtOnce):
    """Answers when it is told to, and counts what it is asked."""

    def __init__(self) -> None:
        self.asked: list[str] = []
        self.go_on = asyncio.Event()

    async def answer(self, job: Job, better: Callable[[Layout], None]) -> Layout:
        self.asked.append(job.search_key())
        await self.go_on.wait()
        return await super().answer(job, better)


@asynccontextmanager
async def running(
    path: Path,
    size: tuple[int, int] = (80, 24),
    glyphs: Glyphs = UNICODE,
    *,
    searcher: Callable[[], object] = AtOnce,
    laid_out: bool = True,
) -> AsyncIterator[Driver]:
    """The app with a project open, its sheets laid out unless told otherwise; left, and given up, at the end."""
    app = SawhorseApp(path, glyphs, "ansi-dark")
    try:
        with patch("tui.bench.Searcher", searcher):
            async with app.run_test(size=size) as pilot:
                driver = Driver(pilot, app)
                await (driver.settle() if laid_out else driver.calm())
                yield driver
    finally:
        if app.bench:
            app.bench.session.leave()


def depth(shop: Driver) -> str:
    """How deep the first carcass is, as typed."""
    return str(edits.value_at(shop.session.design, ("row", 0, "depth")))
