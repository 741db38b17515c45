"""A list with a cursor. The cursor's row begins with `>` and is shown in reverse, so that it is seen without colour."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import ClassVar

from textual import events
from textual.binding import Binding, BindingType
from textual.message import Message

from core.drawing.glyphs import UNICODE, Glyphs
from tui.widgets.painted import Painted, Row


@dataclass(frozen=True)
class Line:
    """One line of a list. `key` says what it stands for; a line without one is a heading and is passed over."""

    row: Row
    key: object = None


class Rows(Painted, can_focus=True):
    """Lines to choose from by keyboard. Keeps its place by key when its lines change."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up,k", "move(-1)", "up", show=False, id="list.up"),
        Binding("down,j", "move(1)", "down", show=False, id="list.down"),
        Binding("pageup", "page(-1)", "page up", show=False, id="list.page_up"),
        Binding("pagedown", "page(1)", "page down", show=False, id="list.page_down"),
        Binding("home", "end(-1)", "first", show=False, id="list.first"),
        Binding("end", "end(1)", "last", show=False, id="list.last"),
        Binding("enter", "choose", "choose", show=False, id="list.choose"),
    ]

    @dataclass
    class Moved(Message):
        """The cursor stands on another line."""

        rows: Rows
        key: object

        @property
        def control(self) -> Rows:
            """The list."""
            return self.rows

    @dataclass
    class Chosen(Message):
        """Enter was pressed on a line."""

        rows: Rows
        key: object

        @property
        def control(self) -> Rows:
            """The list."""
            return self.rows

    def __init__(self, *, id: str | None = None, glyphs: Glyphs = UNICODE) -> None:
        super().__init__(id=id, glyphs=glyphs)
        self._lines: list[Line] = []
        self._at = -1
        self._amid = False
        """The next line that is brought into view shall have others round it."""

    @property
    def key(self) -> object:
        """What the cursor stands on; None in an empty list."""
        return self._lines[self._at].key if 0 <= self._at < len(self._lines) else None

    def show_lines(self, lines: Sequence[Line]) -> None:
        """Other lines; the cursor stays on the same key, or else as near to its place as can be."""
        before, at = self.key, self._at
        self._lines = list(lines)
        keys = [number for number, line in enumerate(lines) if line.key is not None]
        self._at = next((n for n in keys if lines[n].key == before and before is not None), -1)
        if self._at < 0 and keys:
            self._at = min(keys, key=lambda number: (abs(number - max(at, 0)), number))
        self.show_rows([_with_mark(line.row, number == self._at) for number, line in enumerate(lines)])
        self.call_after_refresh(self._into_view)

    def on_resize(self) -> None:
        """A lower window must not hide the cursor's line."""
        self.call_after_refresh(self._into_view)

    def is_marked(self, y: int) -> bool:
        """The cursor's line."""
        return y == self._at

    def move_to(self, matches: Callable[[object], bool], *, amid: bool = False) -> bool:
        """Puts the cursor on the first line whose key matches; False if there is none.

        `amid`: with what stands round it, where it was out of sight.
        """
        for number, line in enumerate(self._lines):
            if line.key is not None and matches(line.key):
                self._amid = amid
                self._go(number)
                return True
        return False

    def action_move(self, by: int) -> None:
        """One line up or down, headings passed over."""
        at = self._at + by
        while 0 <= at < len(self._lines) and self._lines[at].key is None:
            at += by
        if 0 <= at < len(self._lines):
            self._go(at)
        elif by < 0:
            # The heading above the first line is worth seeing too.
            self.scroll_to(y=0, animate=False, immediate=True)

    def action_page(self, by: int) -> None:
        """A window up or down."""
        self._go_near(self._at + by * max(1, self.size.height - 1), by)

    def action_end(self, by: int) -> None:
        """To the first line or the last."""
        self._go_near(0 if by < 0 else len(self._lines) - 1, -by)

    def action_choose(self) -> None:
        """Tells that the line under the cursor was chosen."""
        if self.key is not None:
            self.post_message(self.Chosen(self, self.key))

    def on_click(self, event: events.Click) -> None:
        """A click puts the cursor there; on the cursor's own line it chooses."""
        at = event.y + self.scroll_offset.y
        if 0 <= at < len(self._lines) and self._lines[at].key is not None:
            if at == self._at:
                self.action_choose()
            else:
                self._go(at)

    def _go_near(self, at: int, by: int) -> None:
        at = max(0, min(len(self._lines) - 1, at))
        keys = [number for number, line in enumerate(self._lines) if line.key is not None]
        if keys:
            self._go(min(keys, key=lambda number: (abs(number - at), -by * number)))

    def _go(self, at: int) -> None:
        if at == self._at:
            return
        before, self._at = self._at, at
        for number in (before, at):
            if 0 <= number < len(self._lines):
                # What stands after the mark has been cleaned: the line as it was given has not.
                self._rows[number] = _with_mark(self._rows[number][1:], number == at)
                for marked in (False, True):
                    self._strips.pop((number, marked), None)
        self.redraw(before, at)
        self._into_view()
        self.post_message(self.Moved(self, self.key))

    def _into_view(self) -> None:
        """Scrolls no further than the cursor's line asks, its headings shown with a first line."""
        height, top = self.size.height, self.scroll_offset.y
        if not height or self._at < 0:
            return
        first = self._at
        while first and self._lines[first - 1].key is None and self._at - first < height // 2:
            first -= 1
        if self._at < height and all(line.key is None for line in self._lines[: self._at]):
            # What stands above the first line is worth seeing too.
            first = 0
        below = self._at >= top + height
        if first < top or below:
            y = self._at - height // 3 if self._amid else self._at - height + 1 if below else first
            self.scroll_to(y=max(y, 0), animate=False, immediate=True)
        self._amid = False


def _with_mark(row: Row, marked: bool) -> Row:
    return (("> " if marked else "  ", "key"), *row)
