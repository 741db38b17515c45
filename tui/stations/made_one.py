"""Of two sizes that the tape does not tell apart, which one both are cut as."""

from __future__ import annotations

from collections.abc import Sequence

from core.edits import make_one
from core.evening import NearSizes
from core.lengths import UNITS, exact_text
from core.printing import near_in_words
from tui.desk import Desk


def ask_what_to_make_one(desk: Desk, near: Sequence[NearSizes]) -> None:
    """Asks of the first two sizes what both are cut as; where they are left, of the next two."""
    one, *others = near
    notation = desk.session.plan.worked.notation
    sizes = {exact_text(size / UNITS[notation.unit], notation.unit): size for size in one.sizes}

    def accept(text: str) -> None:
        if text in sizes:
            (other,) = (told for told in sizes if told != text)
            unit = notation.unit
            desk.edit(lambda design: make_one(design, one.material, f"{other} {unit}", f"{text} {unit}"))
        elif others:
            ask_what_to_make_one(desk, others)
            return
        desk.back_to_station()

    desk.choose("Cut both as", (*sizes, "leave them"), accept, near_in_words(one, notation))
