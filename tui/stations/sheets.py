"""Station: the sheets, drawn to scale, one at a time."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from core.drawing.lettering import cells
from core.drawing.sheet import draw_sheet
from core.plan import Plan
from core.planned_sheet import PlannedSheet
from core.printing import disagreements_in_words, needed_in_words, unplaced_in_words
from core.sheets import MaterialSheets
from core.views import sheet_view
from tui.stations.base import Station
from tui.widgets.painted import Painted, Row, plain_row


class Drawing(Painted, can_focus=True):
    """The sheet; it takes the keys."""


class SheetsStation(Station):
    """Layouts."""

    NAME = "Sheets"
    HELP: ClassVar[str] = (
        "How the parts lie on the sheets. Every layout comes apart by edge-to-edge cuts, with the kerf "
        "between parts, the trim at the edges, and the grain of each part kept. Left and right go from sheet "
        "to sheet, up and down from part to part. Offcuts worth keeping are named; the rest is hatched, a bad "
        "place crossed out.\n\n"
        "A layout holds as long as the parts it was made for are the same. s keeps it in the project; l gives "
        "kept layouts up, so that the sheets are laid out anew. A sheet with a ticked cut keeps its layout in "
        "any case; what of it no longer suits the design is named below the drawing."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("right,n", "sheet(1)", "next sheet", id="sheets.next"),
        Binding("left,b", "sheet(-1)", "sheet before", id="sheets.before"),
        Binding("down,j", "part(1)", "next part", show=False, id="sheets.next_part"),
        Binding("up,k", "part(-1)", "part before", show=False, id="sheets.part_before"),
        Binding("s", "keep", "keep layout", id="sheets.keep", tooltip="Store the layouts as they are"),
        Binding("l", "again", "lay out again", id="sheets.again", tooltip="Give kept layouts up"),
    ]

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self.sheet_at = 0
        self.selected = ""
        """The part under the cursor."""

    def compose(self) -> ComposeResult:
        """The drawing and what is told of it."""
        yield Painted(id="sheets-told", glyphs=self.glyphs)
        yield Drawing(id="sheets-drawing", glyphs=self.glyphs)
        yield Painted(id="sheets-notes", glyphs=self.glyphs)

    def show(self, plan: Plan) -> None:
        """The sheets of a plan, the same one before the eye as far as it is still there."""
        self.sheet_at = max(0, min(self.sheet_at, len(self._sheets()) - 1))
        notes = self._notes(plan)
        widget = self.query_one("#sheets-notes", Painted)
        widget.styles.height = min(len(notes), 4)
        widget.show_rows(notes)
        self._draw()

    def fit(self) -> None:
        """The drawing follows the room that it has."""
        self._draw()

    def _sheets(self) -> list[tuple[MaterialSheets, PlannedSheet]]:
        return [(one, sheet) for one in self.session.plan.sheets for sheet in one.sheets]

    def _draw(self) -> None:
        plan = self.session.plan
        drawing, told = self.query_one(Drawing), self.query_one("#sheets-told", Painted)
        sheets = self._sheets()
        if not sheets:
            waiting = "Laying out…" if plan.pending else "No sheets yet: there are no parts to lay out."
            told.show_rows([plain_row(waiting, "quiet")])
            drawing.show_rows([])
            return
        material, sheet = sheets[self.sheet_at]
        rows = self._told(material, sheet, len(sheets))
        told.styles.height = len(rows)
        told.show_rows(rows)
        if self.selected not in sheet.pieces:
            self.selected = sheet.pieces[0] if sheet.pieces else ""
        if drawing.size.width > 2:
            picture = draw_sheet(
                sheet_view(plan, sheet),
                drawing.size.width,
                drawing.size.height,
                plan.worked.notation,
                self.glyphs,
                self.selected,
            )
            drawing.show_picture(picture)
        if self.session.station == self.NAME.lower():
            self.desk.say_meanwhile(self._part_in_words())

    def _told(self, material: MaterialSheets, sheet: PlannedSheet, count: int) -> list[Row]:
        """Which sheet it is, and what is known of all of its material: in two rows where one is too narrow."""
        used = material.used_area / material.area if material.area else 0
        words = f"{material.material}: {needed_in_words(material)}, {float(used):.0%} used"
        if material.pending:
            words += "; looking for better"
        begun = ", begun" if sheet.begun else ", kept" if material.accepted else ""
        one = "Piece" if sheet.on_hand else "Sheet"
        heading = f"{one} {self.sheet_at + 1} of {count}  {sheet.id}{begun}"
        if cells(heading) + len("  ") + cells(words) <= self.size.width:
            return [((f"{heading}  ", "heading"), (words, "quiet"))]
        return [((heading, "heading"),), ((words, "quiet"),)]

    def _part_in_words(self) -> str:
        """The part under the cursor; nothing where there is none."""
        code, _, number = self.selected.rpartition("/")
        kind = next((kind for kind in self.session.plan.kinds if kind.code == code), None)
        if kind is None:
            return ""
        say = self.session.plan.worked.notation.text
        part = next((part for n, part in kind.pieces if str(n) == number), kind.part)
        carcass = f", carcass {part.carcass}" if part.carcass else ""
        return f"{self.selected} {part.name}{carcass}: blank {say(part.blank_length)} x {say(part.blank_width)}"

    def _notes(self, plan: Plan) -> list[Row]:
        rows = []
        for one in plan.sheets:
            rows += [plain_row(f"! {told}", "bad") for told in unplaced_in_words(one)]
            rows += [plain_row(f"! {told}", "warning") for told in disagreements_in_words(one, plan)]
        return rows

    def action_sheet(self, by: int) -> None:
        """The sheet after or before."""
        count = len(self._sheets())
        if count:
            self.sheet_at = (self.sheet_at + by) % count
            self._move("")

    def action_part(self, by: int) -> None:
        """The part after or before on this sheet."""
        sheets = self._sheets()
        pieces = sheets[self.sheet_at][1].pieces if sheets else ()
        if pieces:
            self._move(pieces[(pieces.index(self.selected) + by) % len(pieces)])

    def _move(self, to: str) -> None:
        """The cursor goes to a part, or to the first of the sheet."""
        self.selected = to
        self._draw()
        self.desk.say(self._part_in_words())

    def action_keep(self) -> None:
        """Stores the layouts."""
        if self.desk.record(self.session.keep_layouts):
            self.desk.shown("these layouts are kept until the parts change")

    def action_again(self) -> None:
        """Gives kept layouts up. Where something has happened to the sheets, only once the person says so again."""
        if not self.session.project.facts.begun:
            self._lay_out_again()
            return

        def accept(text: str) -> None:
            if text == "yes":
                self._lay_out_again()
            self.desk.back_to_station()

        help = "its steps get other numbers; what is left of a begun sheet is then a piece like any other"
        self.desk.choose("Lay out anew what is not cut?", ("no", "yes"), accept, help)

    def _lay_out_again(self) -> None:
        facts = self.session.project.facts
        if self.desk.record(self.session.drop_layouts):
            nothing = "no layout was kept: the same parts are laid out the same way"
            done = f"what is not cut is laid out anew{'; x at Cuts takes that back' if facts.begun else ''}"
            self.desk.shown(done if facts.layouts else nothing)
