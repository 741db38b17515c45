"""Station: what holds, what stands, what fits."""

from __future__ import annotations

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from core.checks import run_checks
from core.checks.finding import Finding
from core.editing.places import station_of, with_places
from core.own_units import amount_text
from core.plan import Plan
from tui.stations.base import Station
from tui.widgets.painted import Painted, Row, plain_row, wrapped
from tui.widgets.rows import Line, Rows

MARKS = {"fail": ("FAIL", "bad"), "warn": ("warn", "warning"), "unknown": ("?   ", "quiet"), "ok": ("ok  ", "good")}


class Findings(Rows):
    """The list of findings: Enter goes where the one under the cursor can be mended."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(
            "enter", "choose", "mend", id="list.choose", tooltip="To the field that mends the line under the cursor"
        ),
    ]


class ChecksStation(Station):
    """Findings, the worst first."""

    NAME = "Checks"
    HELP: ClassVar[str] = (
        "Whether the piece fits its space, goes together, holds its load, stands, and can be got in and "
        "lifted. The worst come first; below stands what would mend the one under the cursor, and Enter goes "
        "to that field; then the figures, the formula, and where it comes from.\n\n"
        "These are estimates to think with. They replace no local code, no maker's instructions and no "
        "licensed practice; a tipping estimate is no compliance test, and tall furniture is fastened to the "
        "wall in any case."
    )

    def compose(self) -> ComposeResult:
        """The list, and the finding under the cursor."""
        yield Findings(id="checks-list", glyphs=self.glyphs)
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

    def _finding(self) -> Finding | None:
        number = self.query_one(Rows).key
        return self.findings[number] if isinstance(number, int) and number < len(self.findings) else None

    @on(Rows.Chosen)
    def _chosen(self, event: Rows.Chosen) -> None:
        event.stop()
        one = self._finding()
        if one is None or not one.mended_at:
            holds = one is not None and one.result == "ok"
            self.desk.say(
                "that holds as it is" if holds else "no field of the design mends that; see what would, above"
            )
            return
        mends = "; ".join(one.mend)
        self.desk.go_to(station_of(one.mended_at).lower())
        said = f"{one.check}: {mends}" if mends else one.because
        self.desk.station.look_at(with_places(self.session.design, one.mended_at), said)

    def _tell(self) -> None:
        told, one = self.query_one("#checks-told", Painted), self._finding()
        if one is None:
            told.show_rows([])
            return
        texts = [(one.because, "text")]
        if one.mend:
            # Before the figures: where room is short, this is what has to be read.
            texts.append(("What would mend it: " + "; ".join(one.mend), "text"))
        if one.mended_at:
            texts.append((f"Enter goes there, at {station_of(one.mended_at)}", "key"))
        if one.value is not None and one.limit is not None:
            notation = self.session.plan.worked.notation
            value, limit = (amount_text(number, one.unit, notation) for number in (one.value, one.limit))
            texts.append((f"it is {value}; the limit is {limit}", "value"))
        if one.formula:
            texts.append((one.formula, "quiet"))
        if one.source:
            texts.append((f"Source: {one.source}", "quiet"))
        width = max(told.size.width - 2, 20)
        told.show_rows([row for text, role in texts for row in wrapped(text, width, role, "  ")])
