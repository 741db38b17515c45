"""Station: how it goes together."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult

from core.build import build_steps
from core.plan import Plan
from tui.stations.base import Station
from tui.widgets.painted import plain_row, wrapped
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
        width = self.size.width - 3
        about = ""
        for number, step in enumerate(build_steps(plan), start=1):
            if step.about != about:
                about = step.about
                lines.append(Line(plain_row(about[0].upper() + about[1:], "heading")))
            rows = wrapped(f"{number}. {step.text}", width, "text", "   ")
            if step.caution:
                rows += wrapped(f"   ! {step.caution}", width, "warning", "  ")
            lines += [Line(row, (number, n)) for n, row in enumerate(rows)]
        self.query_one(Rows).show_lines(lines or [Line(plain_row("Nothing to build yet.", "quiet"))])

    def fit(self) -> None:
        """Words wrap to the room that there is."""
        self.show(self.session.plan)
