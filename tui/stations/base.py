"""What every station has: a name, a help text, and a way to show a plan."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar, cast

from textual import on
from textual.containers import Container

from tui.widgets.painted import Painted

if TYPE_CHECKING:
    from core.drawing.glyphs import Glyphs
    from core.plan import Plan
    from tui.app import SawhorseApp
    from tui.session import Session


class Station(Container):
    """One place of work. It shows what the plan says and turns keys into edits of the session."""

    NAME: ClassVar[str] = ""
    HELP: ClassVar[str] = ""
    """What is done here, for the help page; plain text."""

    @property
    def sawhorse(self) -> SawhorseApp:
        """The app."""
        return cast("SawhorseApp", self.app)

    @property
    def session(self) -> Session:
        """The opened project."""
        return self.sawhorse.session

    @property
    def glyphs(self) -> Glyphs:
        """The characters that the terminal shows."""
        return self.sawhorse.glyphs

    def show(self, plan: Plan) -> None:
        """Brings the station up to a plan."""
        raise NotImplementedError

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
                widget.focus()
                return

    @property
    def wide(self) -> bool:
        """Whether there is room for two things side by side."""
        return self.size.width >= 104
