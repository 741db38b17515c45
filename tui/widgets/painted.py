"""Rows of text painted by role: the ground of every list and picture of the app.

A row is spans of (text, role); roles are turned into styles by the stylesheet. Only the rows on
the screen are drawn, and moving the cursor redraws two of them, so a key sends little.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

from rich.segment import Segment
from rich.style import Style
from textual.geometry import Region, Size
from textual.message import Message
from textual.scroll_view import ScrollView
from textual.scrollbar import ScrollBar, ScrollBarRender
from textual.strip import Strip

from core.drawing.canvas import ROLES as PICTURE_ROLES
from core.drawing.canvas import Picture
from core.drawing.glyphs import ASCII, UNICODE, Glyphs
from core.drawing.lettering import broken, cells, clean

LIST_ROLES = ("heading", "text", "value", "quiet", "good", "warning", "bad", "key", "cursor")
ROLES = tuple(dict.fromkeys((*(role for role in PICTURE_ROLES if role), *LIST_ROLES)))

Row = tuple[tuple[str, str], ...]
"""Spans of (text, role)."""


class WholeCells(ScrollBarRender):
    """Scroll bars of whole cells: the finer ones need characters that a plain terminal has not."""

    VERTICAL_BARS: ClassVar[list[str]] = [" "]
    HORIZONTAL_BARS: ClassVar[list[str]] = [" "]


ScrollBar.renderer = WholeCells


def plain_row(text: str, role: str = "text") -> Row:
    """A row of one span."""
    return ((text, role),)


def wrapped(text: str, width: int, role: str = "text", hang: str = "") -> list[Row]:
    """A text broken at words into rows; those after the first begin with `hang`."""
    indent = text[: len(text) - len(text.lstrip())]
    return [plain_row(line, role) for line in broken(text, max(width, 12), indent + hang)]


class Painted(ScrollView):
    """Rows that are shown and scrolled, without a cursor."""

    COMPONENT_CLASSES: ClassVar[set[str]] = {f"painted--{role}" for role in ROLES}
    DEFAULT_CSS = ""

    def __init__(self, *, id: str | None = None, glyphs: Glyphs = UNICODE) -> None:
        super().__init__(id=id)
        self.glyphs = glyphs
        self._rows: list[Row] = []
        self._strips: dict[tuple[int, bool], Strip] = {}

    @property
    def rows(self) -> Sequence[Row]:
        """What is shown."""
        return self._rows

    def show_rows(self, rows: Sequence[Row]) -> None:
        """Shows other rows, and stays where it was scrolled to as far as there are rows there."""
        # Text comes from files: nothing of it may reach the terminal as a command.
        self._rows = [tuple((clean(text, self.glyphs), role) for text, role in row) for row in rows]
        self._strips.clear()
        width = max((sum(cells(text) for text, _ in row) for row in self._rows), default=0)
        self.virtual_size = Size(width, len(self._rows))
        self.refresh()

    def show_picture(self, picture: Picture) -> None:
        """Shows a drawing."""
        self.show_rows([tuple((span.text, span.role or "text") for span in row) for row in picture.rows])

    @dataclass
    class Fitted(Message):
        """The rows have another window to be shown in: what was drawn to fit the last one is to be drawn again."""

        painted: Painted

    def on_resize(self) -> None:
        """Tells the station, which knows what to draw."""
        self.post_message(self.Fitted(self))

    def is_marked(self, y: int) -> bool:
        """Whether a row is painted as the cursor's."""
        return False

    def notify_style_update(self) -> None:
        """Another theme: nothing that was painted holds."""
        self._strips.clear()
        super().notify_style_update()

    def render_line(self, y: int) -> Strip:
        """One line of the window."""
        left, top = self.scroll_offset
        number = y + top
        # The window without its scroll bar.
        width = self.scrollable_content_region.width
        if number >= len(self._rows):
            return Strip.blank(width, self.rich_style)
        marked = self.is_marked(number)
        strip = self._strips.get((number, marked))
        if strip is None:
            strip = self._painted(self._rows[number], marked)
            self._strips[number, marked] = strip
        style = self._style("cursor" if marked else "text")
        ellipsis = self.glyphs.ellipsis
        if cells(strip.text.rstrip()) > left + width > len(ellipsis):
            # What runs out of the window says so.
            shown = strip.crop(left, left + width - len(ellipsis))
            return Strip([*shown, Segment(ellipsis, style)])
        return strip.crop_extend(left, left + width, style)

    def _painted(self, row: Row, marked: bool) -> Strip:
        cursor = self._style("cursor") if marked else None
        segments = [Segment(text, self._style(role) + cursor if cursor else self._style(role)) for text, role in row]
        return Strip(segments).simplify()

    def _style(self, role: str) -> Style:
        return self.rich_style + self.get_component_rich_style(f"painted--{role}", partial=True)

    def redraw(self, *numbers: int) -> None:
        """Redraws single rows."""
        top = self.scroll_offset.y
        width = self.size.width
        self.refresh(*(Region(0, number - top, width, 1) for number in numbers))


def glyphs_for(ascii_only: bool) -> Glyphs:
    """The characters that the terminal can show."""
    return ASCII if ascii_only else UNICODE
