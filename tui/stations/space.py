"""Station: the space, as the tape read it, and the true box that follows."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import ClassVar

from core.editing import forms
from core.editing.field import Section
from core.editing.forms import Form
from core.editing.space import space_sections
from core.edits import Path
from core.plan import Plan
from core.project import Design
from tui.stations.ledger import Ledger
from tui.widgets.painted import Painted, Row, plain_row, wrapped


class SpaceStation(Ledger):
    """Readings, leans, baseboards, what is on the walls."""

    NAME = "Space"
    BESIDE = "walls"
    HELP: ClassVar[str] = (
        "The place that the piece is built for, as the tape read it. One width is enough to begin; more make "
        "it better: rooms are not square. Read widths at the floor, the middle and the top, at the back and "
        "the front; two diagonals of the floor; the lean of each wall against a plumb line. What stays in the "
        "way - baseboards, outlets, pipes - is entered with its place and size, and the parts are notched or "
        "warned for it.\n\n"
        "The true box is the largest plumb and square box that slides in from the front, less the air wanted. "
        "Formulas know it as clear_width, clear_depth and clear_height."
    )

    def sections(self, design: Design) -> Sequence[Section]:
        """The fields of the space."""
        return space_sections(design)

    def forms(self, design: Design, at: Path | None) -> dict[str, Callable[[], Form]]:
        """What can be added to the space."""
        return {
            "reading": lambda: forms.reading_form(design),
            "lean of a wall": lambda: forms.lean_form(design),
            "baseboard": lambda: forms.baseboard_form(design),
            "something on a wall": lambda: forms.obstacle_form(design),
        }

    def findings(self, plan: Plan) -> list[Row]:
        """The true box."""
        envelope, say = plan.worked.envelope, plan.worked.notation.with_unit
        known = [
            f"{word} {say(size)}"
            for word, size in (("width", envelope.width), ("depth", envelope.depth), ("height", envelope.height))
            if size is not None
        ]
        told = ", ".join(known) or "not known yet: read a width of the space"
        rows: list[Row] = [(("True box  ", "heading"), (told, "value"))]
        if not self.wide:
            rows.append(plain_row("  v tells how the walls run beside it, and what was assumed", "quiet"))
        return rows

    def _beside(self, plan: Plan, width: int) -> list[Row]:
        """How the walls run beside the box, and what was assumed."""
        envelope, say = plan.worked.envelope, plan.worked.notation.with_unit
        told = [
            f"  {fit.wall} wall: runs out by {say(fit.varies)}; scribe or fill up to {say(fit.widest_gap)}"
            for fit in envelope.sides
        ]
        if envelope.out_of_square:
            way = "right" if envelope.out_of_square > 0 else "left"
            told.append(f"  out of square: the back stands {say(abs(envelope.out_of_square))} to the {way}")
        told += [f"  {note}" for note in envelope.notes]
        return [row for line in told for row in wrapped(line, width, "quiet", "  ")]

    def draw(self, plan: Plan, picture: Painted) -> None:
        """What follows from the readings, in words, beside them."""
        told = self._beside(plan, picture.size.width - 1) or [plain_row("  nothing yet: read a width", "quiet")]
        picture.show_rows([plain_row("What follows", "heading"), *told])
