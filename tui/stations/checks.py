"""Station: what holds, what stands, what fits."""

from __future__ import annotations

from typing import ClassVar

from textual import on
from textual.app import ComposeResult

from core.checks import run_checks
from core.own_units import amount_text
from core.plan import Plan
from tui.stations.base import Station
from tui.widgets.painted import Painted, Row, plain_row, wrapped
from tui.widgets.rows import Line, Rows

MARKS = {"fail": ("FAIL", "bad"), "warn": ("warn", "warning"), "unknown": ("?   ", "quiet"), "ok": ("ok  ", "good")}


class ChecksStation(Station):
    """Findings, the worst first."""

    NAME = "Checks"
    HELP: ClassVar[str] = (
        "Whether the piece fits its space, goes together, holds its load, stands, and can be got in and "
        "lifted. The worst come first; below stand the figures, the formula, where it comes from, and what "
        "would mend it.\n\n"
        "These are estimates to think with. They replace no local code, no maker's instructions and no "
        "licensed practice; a tipping estimate is no compliance test, and tall furniture is fastened to the "
        "wall in any case."
    )

    def compose(self) -> ComposeResult:
        """The list, and the finding under the cursor."""
        yield Rows(id="checks-list", glyphs=self.glyphs)
        yield Painted(id="checks-told", glyphs=self.glyphs)

    def show(self, plan: Plan) -> None:
        """The findings of a plan."""
        self.findings = run_checks(plan.worked)
        lines: list[Line] = []
        for number, one in enumerate(self.findings):
            mark, role = MARKS[one.result]
            row: Row = (
                (f"{mark}  ", role),
                (f"{one.check}: ", "text"),
                (f"{one.about}  ", "value"),
                (one.because, "quiet"),
            )
            lines.append(Line(row, number))
        if not lines:
            lines = [Line(plain_row("Nothing to check yet.", "quiet"))]
        self.query_one(Rows).show_lines(lines)
        self._tell()

    def fit(self) -> None:
        """Words wrap to the room that there is."""
        self._tell()

    @on(Rows.Moved)
    def _moved(self, event: Rows.Moved) -> None:
        event.stop()
        self._tell()

    def _tell(self) -> None:
        told, number = self.query_one("#checks-told", Painted), self.query_one(Rows).key
        if not isinstance(number, int) or number >= len(self.findings):
            told.show_rows([])
            return
        one = self.findings[number]
        texts = [(one.because, "text")]
        if one.value is not None and one.limit is not None:
            notation = self.session.plan.worked.notation
            value, limit = (amount_text(number, one.unit, notation) for number in (one.value, one.limit))
            texts.append((f"it is {value}; the limit is {limit}", "value"))
        if one.formula:
            texts.append((one.formula, "quiet"))
        if one.source:
            texts.append((f"Source: {one.source}", "quiet"))
        if one.mend:
            texts.append(("What would mend it: " + "; ".join(one.mend), "text"))
        width = max(told.size.width - 2, 20)
        told.show_rows([row for text, role in texts for row in wrapped(text, width, role, "  ")])
