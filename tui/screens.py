"""Screens that cover the stations: help, and the word that the window is too small."""

from __future__ import annotations

from collections.abc import Awaitable, Callable, Mapping, Sequence
from typing import TYPE_CHECKING, ClassVar, TypeVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.dom import DOMNode
from textual.screen import ModalScreen
from textual.widgets import Static

from core.drawing.glyphs import Glyphs
from tui.keys import own_bindings
from tui.stations.held_key import HeldKey
from tui.widgets.painted import Painted, Row, plain_row, wrapped
from tui.widgets.rows import Rows

if TYPE_CHECKING:
    from tui.stations.base import Station


T = TypeVar("T")


class Page(Painted, can_focus=True):
    """A text to scroll."""


class TextPage(ModalScreen[T]):
    """A text over the stations, wrapped to the room that there is, with a line of keys below it."""

    FOOT: ClassVar[str] = ""

    def __init__(self, glyphs: Glyphs) -> None:
        super().__init__()
        self._glyphs = glyphs

    def compose(self) -> ComposeResult:
        """One page."""
        yield Page(id="help-page", glyphs=self._glyphs)
        yield Static(self.FOOT, id="help-foot", markup=False)

    def on_mount(self) -> None:
        """Fills the page for the room that there is."""
        self.on_resize()

    def on_resize(self) -> None:
        """Words wrap to the room that there is."""
        page = self.query_one(Page)
        page.show_rows(self._rows(max(self.size.width - 6, 30)))
        page.focus()

    def _rows(self, width: int) -> list[Row]:
        """The text, in so many columns."""
        raise NotImplementedError


class HelpPage(TextPage[None]):
    """What a station is for, and every key that works there."""

    FOOT = " Esc goes back; arrows scroll"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,question_mark,q,f1", "dismiss", "back", id="help.back", key_display="Esc")
    ]

    def __init__(self, station: Station, glyphs: Glyphs, keys: Mapping[str, str]) -> None:
        super().__init__(glyphs)
        self._station = station
        self._given = keys

    def _rows(self, width: int) -> list[Row]:
        station = self._station
        rows = [plain_row(f"Station {station.NAME}", "heading"), plain_row("")]
        for paragraph in station.HELP.split("\n\n"):
            rows += [*wrapped(" ".join(paragraph.split()), width), plain_row("")]
        rows += [
            plain_row("Keys here", "heading"),
            *_keys(type(station), self._given),
            *(row for widget in station.query(Rows) for row in _keys(type(widget), self._given)),
        ]
        rows += [plain_row(""), plain_row("Keys everywhere", "heading")]
        rows += [_key("1 to 9", "go to a station"), *_keys(type(self.app), self._given, "station")]
        rows.append(plain_row(""))
        told = "Text is copied from the screen with Shift (or Option) held while the mouse is dragged."
        return rows + wrapped(told, width, "quiet")


def _keys(owner: type[DOMNode], mapped: Mapping[str, str], leave_out: str = "-") -> list[Row]:
    """One row for each action of a class, its keys together. `mapped`: other keys that the person has given."""
    found: dict[str, Row] = {}
    for binding in own_bindings(owner):
        if not binding.action.startswith(leave_out):
            key = mapped.get(binding.id or "", binding.key)
            keys = ", ".join(_spelt(one.strip()) for one in key.split(","))
            found.setdefault(binding.action, _key(keys, binding.tooltip or binding.description))
    return list(found.values())


def _key(keys: str, told: str) -> Row:
    return ((f"  {keys:<22} ", "key"), (told, "text"))


def _spelt(key: str) -> str:
    signs = {
        "question_mark": "?",
        "plus": "+",
        "equals_sign": "=",
        "minus": "-",
        "left_parenthesis": "(",
        "right_parenthesis": ")",
        "left_square_bracket": "[",
        "right_square_bracket": "]",
    }
    words = [signs.get(word, word) for word in key.split("+")] if key != "+" else ["+"]
    return "+".join(word if len(word) == 1 else word.capitalize() for word in words)


SAME_ENTER = 0.5
"""Seconds within which Enter again is the same press of a hand that does not wait for what is told."""


def _nothing() -> None:
    """What a key does that is not meant."""


class ChangePage(TextPage[bool]):
    """What a change of plan comes to, before it is one; at first that it is being worked out."""

    FOOT = " Esc leaves everything as it was"
    FOOT_ONCE_TOLD = f" Enter makes it so;{FOOT}"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "accept", "make it so", id="change.accept", key_display="Enter"),
        Binding("escape,q", "dismiss(False)", "leave it as it was", id="change.leave", key_display="Esc"),
    ]

    def __init__(
        self,
        said: str,
        work_out: Callable[[], Awaitable[Sequence[str] | None]],
        clock: Callable[[], float],
        glyphs: Glyphs,
    ) -> None:
        """`work_out` gives what it comes to, in words, or None if it cannot be; it is given up with the page.

        `clock`: when the key was pressed that is being dealt with, s.
        """
        super().__init__(glyphs)
        self._clock = clock
        self._held = HeldKey(self.set_timer)
        self._said = said
        self._work_out = work_out
        self._lines: Sequence[str] | None = None

    def on_mount(self) -> None:
        """Once it can be seen, what it comes to is worked out."""
        # The Enter that answered the last question is none for what nobody has seen, also if it is held down.
        self._held.pressed("enter", self._clock(), 0, lambda: _nothing)
        self.call_after_refresh(lambda: self.run_worker(self._tell()))

    async def _tell(self) -> None:
        self._lines = await self._work_out()
        if self._lines is None:
            self.dismiss(False)
            return
        self.query_one("#help-foot", Static).update(self.FOOT_ONCE_TOLD)
        self.on_resize()

    @property
    def is_told(self) -> bool:
        """It says what it comes to."""
        return self._lines is not None

    def action_accept(self) -> None:
        """Makes it so, where Enter was pressed after it was told, and not hit twice or held down."""
        self._held.pressed("enter", self._clock(), SAME_ENTER, lambda: self._accept if self.is_told else _nothing)

    def _accept(self) -> None:
        # Escape may have come in the moment that a press waits to be told from a key held down.
        if self.is_current:
            self.dismiss(True)

    def _rows(self, width: int) -> list[Row]:
        said = wrapped(self._said, width, "heading")
        if self._lines is None:
            return [*said, plain_row("Working out what it comes to…", "quiet")]
        told = [row for line in self._lines for row in wrapped(line, width, "text", "  ")]
        above = [*said, plain_row("What changes by that:", "quiet"), plain_row("")]
        return [*above, *told, plain_row(""), plain_row("What is cut stays as it is.", "quiet")]


class TooSmall(ModalScreen[None]):
    """Keys are not taken where nobody could see what they do."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("ctrl+q,q", "app.quit", "quit", id="small.quit")]

    def compose(self) -> ComposeResult:
        """A few words."""
        yield Static("Too small to draw in.\n60 x 16 or more, please.\nq quits.", markup=False)
