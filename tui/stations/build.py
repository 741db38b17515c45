"""Station: how it goes together."""

from __future__ import annotations

from textwrap import wrap
from typing import ClassVar

from textual.app import ComposeResult

from core.build import build_steps
from core.plan import Plan
from tui.stations.base import Station
from tui.widgets.painted import plain_row
from tui.widgets.rows import Line, Rows


class BuildStation(Station):
    """From a stack of parts to the piece on the wall."""

    NAME = "Build"
    HELP: ClassVar[str] = (
        "How the piece goes together, in order, with the codes that you pencilled on the parts. The cautions "
        "are the usual ones; makers' instructions, local codes and licensed practice stand before them."
    )

    def compose(self) -> ComposeResult:
        """The steps."""
        yield Rows(id="build-list", glyphs=self.glyphs)

    def show(self, plan: Plan) -> None:
        """The steps of a plan."""
        lines: list[Line] = []
        width = max(self.size.width - 6, 40)
        about = ""
        for number, step in enumerate(build_steps(plan), start=1):
            if step.about != about:
                about = step.about
                lines.append(Line(plain_row(about.capitalize(), "heading")))
            for n, text in enumerate(wrap(f"{number}. {step.text}", width)):
                lines.append(Line(plain_row(text if n == 0 else f"   {text}"), (number, n)))
            for n, text in enumerate(wrap(step.caution, width)):
                lines.append(
                    Line(plain_row(f"   ! {text}" if n == 0 else f"     {text}", "warning"), (number, "caution", n))
                )
        self.query_one(Rows).show_lines(lines or [Line(plain_row("Nothing to build yet.", "quiet"))])

    def on_resize(self) -> None:
        """Words wrap to the room that there is."""
        self.show(self.session.plan)
