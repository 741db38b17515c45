"""How a size of something in the shop is asked for, refused, and said."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Any

from core.lengths import as_typed
from core.mistakes import Mistake
from tui.desk import Desk
from tui.widgets.entry import Asked

Refused = Callable[[Fraction], str]
"""Why a size cannot be, in words; nothing where it can."""


class SizesAsked:
    """Sizes in the project's own notation."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk

    def ask(
        self,
        label: str,
        default: str,
        accept: Callable[[Fraction], Any],
        help: str = "",
        *,
        left_empty: Callable[[], Any] | None = None,
        zero: bool = False,
        refused: Refused = lambda size: "",
    ) -> None:
        """Asks for one. `left_empty`: what follows an empty line, if it is an answer; `zero`: nothing is a size too."""
        names = self._desk.session.plan.worked.names

        def read(text: str) -> Fraction | None:
            if not text.strip():
                if left_empty:
                    return None
                raise Mistake("a size is wanted")
            size = names.length(text.strip())
            if size < 0 or (size == 0 and not zero):
                raise Mistake("a size is more than nothing")
            if why := refused(size):
                raise Mistake(why)
            return size

        def check(text: str) -> str:
            size = read(text)
            return "" if size is None else self.text(size)

        def answered(text: str) -> None:
            size = read(text)
            if size is not None:
                accept(size)
            elif left_empty:
                left_empty()

        desk = self._desk
        desk.ask(Asked(label, default, check, answered, help=help, cancel=desk.back_to_station))

    def no_more_than(self, most: Fraction, why: str) -> Refused:
        """Refuses what is more than that."""
        return lambda size: f"{why}: {self.text(most)}" if size > most else ""

    def within(self, across: Fraction, why: str) -> Refused:
        """Refuses what does not lie within a piece that is so far across."""
        return lambda size: f"the piece is {self.text(across)} across: {why}" if size >= across else ""

    def text(self, size: Fraction) -> str:
        """As it is said."""
        return self._desk.session.plan.worked.notation.with_unit(size)

    def area(self, length: Fraction, width: Fraction) -> str:
        """Two of them, as they are said."""
        return f"{self._desk.session.plan.worked.notation.text(length)} x {self.text(width)}"

    def stored(self, size: Fraction) -> str:
        """As it is stored: exactly."""
        return as_typed(size, self._desk.session.design.unit)
