"""What every station has: a name, a help text, and a way to show a plan."""

from __future__ import annotations

from typing import ClassVar, Protocol, cast

from textual import on
from textual.containers import Container

from core.drawing.glyphs import Glyphs
from core.edits import Path
from core.plan import Plan
from tui.desk import Desk
from tui.session import Session
from tui.widgets.painted import Painted


class HasBench(Protocol):
    """The app, once a project is open in it."""

    bench: Desk


class Station(Container):
    """One place of work. It shows what the plan says and turns keys into edits of the session."""

    NAME: ClassVar[str] = ""
    HELP: ClassVar[str] = ""
    """What is done here, for the help page; plain text."""

    @property
    def desk(self) -> Desk:
        """What does things: edits, questions, words at the foot of the screen."""
        return cast("HasBench", self.app).bench

    @property
    def session(self) -> Session:
        """The opened project."""
        return self.desk.session

    @property
    def glyphs(self) -> Glyphs:
        """The characters that the terminal shows."""
        return self.desk.glyphs

    def show(self, plan: Plan) -> None:
        """Brings the station up to a plan."""
        raise NotImplementedError

    def on_mount(self) -> None:
        """Shows itself as soon as it is there."""
        self.show(self.session.plan)
        self.desk.take_keys(self)

    def look_at(self, path: Path, said: str = "") -> None:
        """Puts the cursor on a thing of the design, and says something of it. There are no such things here."""

    def fit(self) -> None:
        """Draws again what depends on the room that there is."""

    @on(Painted.Fitted)
    def _fitted(self, event: Painted.Fitted) -> None:
        event.stop()
        self.fit()

    def enter(self) -> None:
        """The person has come to this station; whatever takes the keys gets the focus."""
        for widget in self.query("*"):
            if widget.focusable:
                # At once: a key that was typed ahead is for this station already.
                self.screen.set_focus(widget)
                return

    @property
    def wide(self) -> bool:
        """Whether there is room for two things side by side."""
        return self.size.width >= 104
