"""What a station, or the guided walk, may ask of the app: the bench that they all work at."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Protocol

from textual.screen import ModalScreen

from core.drawing.glyphs import Glyphs
from core.editing.forms import Form, Question
from core.layout.job import Job
from core.layout.tree import Layout
from core.project import Design
from tui.session import Session
from tui.widgets.entry import Asked


class Desk(Protocol):
    """The app, as those see it that stand in it."""

    session: Session
    glyphs: Glyphs
    alone: bool
    """One station has the whole window, and only its own keys do anything."""

    @property
    def key_at(self) -> float:
        """When the key was pressed that is being dealt with, by a clock that only goes on; s."""

    @property
    def station(self) -> Any:
        """The station before the eye."""

    def say(self, text: str, *, bad: bool = False) -> None:
        """A line at the foot of the screen."""

    def say_meanwhile(self, text: str) -> None:
        """The same where nothing else is said."""

    def ask(self, asked: Asked) -> None:
        """Puts a question at the foot of the screen."""

    def ask_question(
        self,
        question: Question,
        label: str,
        accept: Callable[[str], None],
        cancel: Callable[[], object],
        back: Callable[[], None] | None = None,
    ) -> None:
        """Puts one question of a form or a walk."""

    def ask_form(self, form: Form, done: Callable[[], object]) -> None:
        """Puts the questions of a form one after the other, then makes its edit."""

    def choose(self, label: str, choices: tuple[str, ...], accept: Callable[[str], None], help: str = "") -> None:
        """Puts a question that one of a few words answers."""

    def push(self, screen: ModalScreen[bool], done: Callable[[bool | None], None]) -> None:
        """Puts a page over the stations, to be accepted or left."""

    async def lay_out(self, job: Job) -> Layout:
        """The layout of a job, searched for beside the keyboard."""

    def edit(self, change: Callable[[Design], Design]) -> bool:
        """Changes the design, on disk at once; False where it could not."""

    def nudge(self, change: Callable[[Design], Design]) -> None:
        """An edit after which it is told whether sheets or cost have changed, or not."""

    def record(self, change: Callable[[], object]) -> bool:
        """Makes another change of the session, on disk at once; False where it could not."""

    def shown(self, said: str | None = None) -> None:
        """Brings the screen up to the plan."""

    def go_to(self, name: str) -> None:
        """Goes to a station, by its name in small letters."""

    def take_keys(self, station: Any) -> None:
        """Gives a station the keys, if it is the one before the eye."""

    def back_to_station(self) -> None:
        """Gives the keys back to the station before the eye."""
