"""What both apps stand on: nothing moves, a small window says so, and whatever ends them leaves the terminal whole."""

from __future__ import annotations

import asyncio
import signal
from typing import Generic, TypeVar

from textual import events
from textual.worker import WorkerFailed

from tui.theme import Coloured
from tui.widgets.entry import AnswerInput

T = TypeVar("T")

SMALLEST = (60, 16)
"""Columns and rows below which nothing useful can be drawn."""


class Ground(Coloured[T], Generic[T]):
    """An app for a bench: leaves cleanly on a hang-up, a termination, a closed terminal and a fault of its own."""

    ENABLE_COMMAND_PALETTE = False

    def __init__(self, theme: str) -> None:
        super().__init__(theme)
        self.crash: BaseException | None = None
        """What went wrong, for the report that the command writes."""
        self.key_at = 0.0
        """When the key was pressed that is being dealt with, by a clock that only goes on; s."""

    def on_mount(self) -> None:
        """No animations; a hang-up or a termination ends the app as quitting does."""
        self.animation_level = "none"
        loop = asyncio.get_running_loop()
        for name in ("SIGHUP", "SIGTERM"):
            number = getattr(signal, name, None)
            if number is not None:
                loop.add_signal_handler(number, self.exit)
        self.app_resume_signal.subscribe(self, lambda _: self.set_timer(0.1, self.action_redraw))

    async def on_event(self, event: events.Event) -> None:
        """A key that found nobody, since it was pressed before a question was there, is for that question."""
        if isinstance(event, events.Key) and event.is_forwarded:
            question = self.focused
            if isinstance(question, AnswerInput) and not question.has_had(event):
                question.post_message(event)
                return
        await super().on_event(event)

    def on_key(self, event: events.Key) -> None:
        """Comes before what the key is bound to."""
        self.key_at = event.time

    def action_redraw(self) -> None:
        """Paints everything again."""
        self.screen.refresh(layout=True, repaint=True)

    def on_resize(self, event: events.Resize) -> None:
        """Says so where the window is too small to draw in, and takes no keys there but quit."""
        from tui.screens import TooSmall

        small = event.size.width < SMALLEST[0] or event.size.height < SMALLEST[1]
        showing = isinstance(self.screen, TooSmall)
        if small and not showing:
            self.push_screen(TooSmall())
        elif showing and not small:
            self.pop_screen()

    def _handle_exception(self, error: Exception) -> None:
        """Keeps what went wrong for the report, and ends without a traceback on the person's screen."""
        self.crash = error.error if isinstance(error, WorkerFailed) else error
        if self.is_headless:
            super()._handle_exception(error)
        else:
            self.exit(return_code=70)
