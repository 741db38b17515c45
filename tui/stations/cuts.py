"""Station: the order of cuts, with boxes to tick."""

from __future__ import annotations

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from core.cutting import PlannedStep
from core.drawing.sheet import draw_sheet
from core.plan import Plan
from core.printing import SAME, disagreements_in_words, settings_in_words
from core.steps_in_words import comes_off, grouped, in_words, is_new_setting, told_before
from core.views import cut_line, sheet_view
from tui.stations.base import Station
from tui.widgets.painted import Painted, plain_row, wrapped
from tui.widgets.rows import Line, Rows


class CutsStation(Station):
    """Every cut once, in the order of work."""

    NAME = "Cuts"
    HELP: ClassVar[str] = (
        "The cuts in the order of work. Each says which piece, rip or crosscut, the fence setting and from "
        "which edge, and what comes off. A rip runs along the sheet's length and divides its width; a "
        "crosscut divides its length. The piece that is kept lies between fence and blade. Space ticks the "
        "cut under the cursor once it is made; Backspace takes the tick back. A tick is on the disk before "
        "you see it, and undo never takes one away.\n\n"
        "A piece that will be cut again has a name until it is a part: birch-1.17 is piece 17 of sheet birch-1. "
        "Pencil it on where two such pieces could be taken for one another.\n\n"
        "Saws can take a hand. Read the maker's instructions; guard and riving knife on, eyes and ears "
        "covered, dust drawn off. Nothing shorter than about 12 in or 300 mm between fence and blade without a "
        "sled; a push stick for narrow rips; never mitre gauge and fence together. A full sheet is a lift for "
        "two."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("space", "tick", "tick", id="cuts.tick", tooltip="The cut under the cursor is made"),
        Binding(
            "backspace", "untick", "un-tick", id="cuts.untick", key_display="Bksp", tooltip="It is not made after all"
        ),
        Binding("n", "next", "next cut", id="cuts.next", tooltip="To the first cut that is not ticked"),
    ]

    def compose(self) -> ComposeResult:
        """The list, the cut under the cursor in words, and the sheet with it."""
        yield Rows(id="cuts-list", glyphs=self.glyphs)
        yield Painted(id="cuts-told", glyphs=self.glyphs)
        yield Painted(id="cuts-sheet", glyphs=self.glyphs)

    def show(self, plan: Plan) -> None:
        """The steps of a plan."""
        lines = [
            Line(plain_row(f"! {told}", "warning")) for one in plan.sheets for told in disagreements_in_words(one, plan)
        ]
        told, before = told_before(plan), None
        lines += [Line(plain_row(f"  {settings}", "quiet")) for settings in settings_in_words(plan)]
        for group in grouped(plan):
            done = sum(one.done for one in group.steps)
            lines.append(Line(plain_row(f"{group.title}  {done} of {len(group.steps)} ticked", "heading")))
            for planned in group.steps:
                if planned.number in told:
                    lines.append(Line(plain_row(f"  {told[planned.number]}", "quiet")))
                lines.append(Line(_line(planned, plan, before), planned.number))
                before = planned
        if not plan.steps:
            lines = [Line(plain_row("Laying out…" if plan.pending else "No cuts yet.", "quiet"))]
        first = self.rows.key is None
        self.rows.show_lines(lines)
        if first:
            self.action_next()
        self._tell()

    @property
    def rows(self) -> Rows:
        """The list of steps."""
        return self.query_one(Rows)

    def fit(self) -> None:
        """The drawing follows the room that it has."""
        self._tell()

    @on(Rows.Moved)
    def _moved(self, event: Rows.Moved) -> None:
        event.stop()
        self._tell()

    @on(Rows.Chosen)
    def _chosen(self, event: Rows.Chosen) -> None:
        event.stop()
        self.desk.say("Space ticks a cut, Backspace takes a tick back")

    def _step(self) -> PlannedStep | None:
        return next((one for one in self.session.plan.steps if one.number == self.rows.key), None)

    def _tell(self) -> None:
        """The cut under the cursor, in words, and on its sheet where there is room."""
        planned, plan = self._step(), self.session.plan
        told, sheet = self.query_one("#cuts-told", Painted), self.query_one("#cuts-sheet", Painted)
        sheet.display = self.wide or self.size.height >= 30
        if planned is None:
            told.show_rows([])
            sheet.show_rows([])
            return
        told.show_rows(
            [row for line in in_words(planned, plan) for row in wrapped(line, told.size.width - 1, "text", "  ")]
        )
        if sheet.display and sheet.size.width > 2:
            view = sheet_view(plan, planned.sheet)
            picture = draw_sheet(
                view, sheet.size.width, sheet.size.height, plan.worked.notation, self.glyphs, cut=cut_line(planned)
            )
            sheet.show_picture(picture)

    def action_tick(self) -> None:
        """The cut is made. On the disk first; then the next one is before the eye."""
        planned = self._step()
        if planned is None:
            return
        if not self.desk.record(lambda: self.session.tick(planned.number)):
            return
        self.desk.shown(f"ticked: step {planned.number}, {comes_off(planned, self.session.plan)}")
        self.rows.action_move(1)

    def action_untick(self) -> None:
        """The cut is not made after all."""
        planned = self._step()
        if planned is None:
            return
        if self.desk.record(lambda: self.session.untick(planned.number)):
            self.desk.shown(f"step {planned.number} is no longer ticked")

    def action_next(self) -> None:
        """To the first cut that is not ticked."""
        waiting = next((one.number for one in self.session.plan.steps if not one.done), None)
        if waiting is not None:
            self.rows.move_to(lambda key: key == waiting)


def _line(planned: PlannedStep, plan: Plan, before: PlannedStep | None) -> tuple[tuple[str, str], ...]:
    """`[x]  12  rip       17 5/8  from bottom  ply-1.2: S1/1 + ply-1.3`; a setting that stands is not told again."""
    step, notation = planned.step, plan.worked.notation
    box = "[x]" if planned.done else "[ ]"
    fence = notation.text(planned.sheet.mm(step.fence)) if is_new_setting(planned, before) else SAME
    made = comes_off(planned, plan)
    role = "quiet" if planned.done else "text"
    return (
        (f"{box} ", "good" if planned.done else "key"),
        (f"{planned.number:>3}  {step.direction:<8} ", role),
        (f"{fence:>9}", "quiet" if planned.done else "value"),
        (f"  from {step.edge:<6}  ", role),
        (f"{step.piece}: {made}", role),
    )
