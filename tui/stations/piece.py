"""Station: the piece: named dimensions, the row of carcasses, tops, loose parts, rules."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import ClassVar

from core.construction.part import Part
from core.drawing.elevation import draw_elevation
from core.editing import forms
from core.editing.field import Field, Section
from core.editing.forms import Form
from core.editing.piece import carcass_rules, piece_sections
from core.edits import Path
from core.mistakes import Mistake
from core.plan import Plan
from core.project import Carcass, Design
from core.views import row_labels
from tui.stations.ledger import Ledger
from tui.widgets.entry import Asked
from tui.widgets.painted import Painted, Row, plain_row


class PieceStation(Ledger):
    """What the person decides."""

    NAME = "Piece"
    HELP: ClassVar[str] = (
        "The piece as you decide it. A row of carcasses and open gaps, left to right, fills the row width: "
        "each has a size, a formula over named dimensions (`(clear_width - 2*gap) / 3`), or a share of what "
        "is left. A bay holds shelves, or openings from the bottom up, with doors and drawers before them. "
        "Heights count a notched kick, not a separate plinth; depths count the back. + and - change "
        "a size by one step of the tape, and the line at the foot shows what that costs.\n\n"
        "Rules stand at the end: the project's, which hold for every carcass that has none of its own. a on a "
        "carcass adds a bay, an opening in a bay, or a rule of its own; d on that rule gives it up. ( and ) move a "
        "carcass left and right in the row."
    )

    def sections(self, design: Design) -> Sequence[Section]:
        """The fields of the piece."""
        return piece_sections(design)

    def findings(self, plan: Plan) -> list[Row]:
        """What the row takes up, and what it leaves."""
        worked = plan.worked
        if not worked.standing:
            return []
        say, taken = worked.notation.with_unit, worked.standing[-1].right
        told = f"{say(taken)} wide"
        room = worked.envelope.width
        if room is not None and room != taken:
            told += f", {say(abs(room - taken))} {'left over' if room > taken else 'more than there is'}"
        return [(("Row  ", "heading"), (told, "value" if room is None or room >= taken else "bad"))]

    def forms(self, design: Design, at: Path | None) -> dict[str, Callable[[], Form]]:
        """What can be added to the piece."""
        found: dict[str, Callable[[], Form]] = {}
        if at and at[0] == "row" and isinstance(at[1], int) and isinstance(design.row[at[1]], Carcass):
            place = at[1]
            bay = int(at[3]) if at[2:3] == ("bays",) else 0
            over = int(at[5]) + 1 if at[4:5] == ("openings",) else None
            found["bay in this carcass"] = lambda: forms.bay_form(design, place)
            found["opening in this bay"] = lambda: forms.opening_form(design, place, bay, over)
        # On an item of the row the new one comes to its right.
        beside = int(at[1]) + 1 if at and at[0] == "row" else None
        found |= {
            "carcass": lambda: forms.carcass_form(design, beside),
            "gap": lambda: forms.gap_form(design, beside),
            "filler": lambda: forms.filler_form(design, beside),
            "end panel": lambda: forms.end_panel_form(design, beside),
            "top": lambda: forms.top_form(design),
            "loose part": lambda: forms.loose_form(design),
            "dimension": lambda: forms.dimension_form(design),
        }
        return found

    def action_add(self) -> None:
        """As everywhere, and on a carcass also a rule of its own."""
        design, at = self.session.design, self._thing()
        offered = self.forms(design, at)
        on_carcass = "bay in this carcass" in offered
        names = (*offered, "rule of its own") if on_carcass else tuple(offered)

        def check(text: str) -> str:
            if text not in names:
                raise Mistake(f"one of: {', '.join(names)}")
            return text

        def accept(text: str) -> None:
            if text in offered:
                self.ask_for(offered[text]())
            else:
                assert at is not None and isinstance(at[1], int)
                self._ask_rule(carcass_rules(design, at[1]))

        inside = "opening in this bay" if at and "bays" in at else "bay in this carcass"
        first = inside if on_carcass else "carcass"
        self.desk.ask(Asked("Add", first, check, accept, names, cancel=self.back_to_list))

    def _ask_rule(self, rules: list[Field]) -> None:
        """Which rule the carcass shall have of its own, then what it says."""
        by_name = {rule.label: rule for rule in rules}

        def check(text: str) -> str:
            if text not in by_name:
                raise Mistake("no such rule; up and down go through them")
            return f"now {by_name[text].text or 'nothing'}. {by_name[text].help}"

        names = tuple(by_name)
        accept = lambda text: self.edit_field(by_name[text])  # noqa: E731
        self.desk.ask(Asked("Which rule", names[0], check, accept, names, cancel=self.back_to_list))

    def draw(self, plan: Plan, picture: Painted) -> None:
        """The front view, what is under the cursor picked out, and the view from above where there is room."""
        parts = plan.worked.placed
        if not parts:
            picture.show_rows([plain_row("Nothing to draw yet: a in the list adds a carcass.", "quiet")])
            return
        thing = self._thing()
        chosen: tuple[Part, ...] = ()
        if thing and thing[0] == "row" and isinstance(thing[1], int) and thing[1] < len(plan.project.design.row):
            id = plan.project.design.row[thing[1]].id
            chosen = tuple(part for part in parts if part.carcass == id)
        columns, rows = picture.size.width, picture.size.height
        front_rows = rows if rows < 24 else rows * 2 // 3
        notation, labels = plan.worked.notation, row_labels(plan)
        front = draw_elevation(parts, columns, front_rows, notation, self.glyphs, chosen, "front", labels)
        drawn = list(front.rows)
        if front_rows < rows:
            drawn += draw_elevation(parts, columns, rows - front_rows, notation, self.glyphs, chosen, "plan").rows
        picture.show_rows([tuple((span.text, span.role or "text") for span in row) for row in drawn])
