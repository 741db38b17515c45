"""The entry line at the foot of the screen: one question, an answer being typed, and what it comes to."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import ClassVar, Protocol, cast
from weakref import WeakSet

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.widgets import Input, Static

from core.drawing.glyphs import Glyphs
from core.drawing.lettering import clean, fitted
from core.mistakes import Mistake

MOST_CHOICES = 9
"""That are told; up and down go through all of them."""


@dataclass(frozen=True)
class Asked:
    """A question as the entry line puts it. `check` gives what an answer comes to, or raises Mistake."""

    label: str
    default: str
    check: Callable[[str], str]
    accept: Callable[[str], None]
    choices: tuple[str, ...] = ()
    help: str = ""
    cancel: Callable[[], object] | None = None
    back: Callable[[], None] | None = None
    """To the question before, where there is one."""


class Timed(Protocol):
    """An app that knows when the key was pressed that is being dealt with, by a clock that only goes on; s."""

    key_at: float


class AnswerInput(Input):
    """Where an answer is typed. Up and down go through the choices; Escape gives up."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "give_up", "leave", id="entry.leave"),
        Binding("enter,tab", "submit", "take it", id="entry.take", key_display="Enter"),
        Binding("up", "choice(-1)", "choice before", show=False, id="entry.choice_before"),
        Binding("down", "choice(1)", "next choice", show=False, id="entry.next_choice"),
        Binding("shift+tab,ctrl+left", "back", "question before", id="entry.back", key_display="Shift+Tab"),
    ]

    def on_mount(self) -> None:
        """Has had no key yet."""
        self._had: WeakSet[events.Key] = WeakSet()

    def has_had(self, key: events.Key) -> bool:
        """Whether it has been given this very key."""
        return key in self._had

    async def _on_key(self, event: events.Key) -> None:
        """Each key in its turn, also where several come at once, as they do over a slow line.

        A binding is looked for only when its key has bubbled up to the app, behind letters that were typed
        after it: `Backspace 4` would take away the 4. So what is bound here is done here.
        """
        self._had.add(event)
        # It may not come as far as the app, which tells by this when a key was pressed.
        cast("Timed", self.app).key_at = event.time
        bound = None if event.is_printable else self.screen.active_bindings.get(event.key)
        if bound is not None and bound.node is self:
            event.stop()
            event.prevent_default()
            if bound.enabled:
                await self.run_action(bound.binding.action)
        elif event.key == "space" and self.selected_text == self.value:
            # No answer begins with a blank: a space bar hit twice must not wipe out what is offered.
            event.stop()
            event.prevent_default()
        else:
            await super()._on_key(event)

    def on_paste(self, event: events.Paste) -> None:
        """A pasted text of several lines is taken as one; what could move the cursor is left out."""
        event.text = "".join(character for character in " ".join(event.text.split()) if character.isprintable())

    def on_blur(self) -> None:
        """An open question keeps the keys until it is answered or left, whatever is clicked on."""
        if self.query_ancestor(EntryLine).asked:
            self.focus()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """There is not always a question before."""
        asked = self.query_ancestor(EntryLine).asked
        return action != "back" or bool(asked and asked.back)

    async def action_submit(self) -> None:
        """Takes the answer before the next key is looked at: that is for the next question."""
        self.query_ancestor(EntryLine).take(self.value)

    def action_give_up(self) -> None:
        """Leaves the question unanswered."""
        line = self.query_ancestor(EntryLine)
        line.give_up()

    def action_back(self) -> None:
        """To the question before; this one stays as it was."""
        self.query_ancestor(EntryLine).back()

    def action_choice(self, by: int) -> None:
        """Another of the choices."""
        self.query_ancestor(EntryLine).turn(by)


class EntryLine(Vertical):
    """Shows a message, or asks. Nothing is accepted that cannot be read."""

    def __init__(self, glyphs: Glyphs, id: str | None = None) -> None:
        super().__init__(id=id)
        self.glyphs = glyphs
        self.asked: Asked | None = None
        self._said = ("", False)
        self._meanwhile = ""

    def compose(self) -> ComposeResult:
        """One line to type in, hidden until something is asked, and one to say things."""
        with Horizontal(id="entry-row"):
            yield Static("", id="entry-label", markup=False)
            answer = AnswerInput(id="entry-input", compact=True, select_on_focus=False)
            answer.cursor_blink = False
            yield answer
        yield Static("", id="entry-said", markup=False)

    def on_mount(self) -> None:
        """Begins with nothing asked."""
        self.query_one("#entry-row").display = False

    @property
    def _input(self) -> AnswerInput:
        return self.query_one(AnswerInput)

    def say(self, text: str, *, bad: bool = False) -> None:
        """One line for the person to read; it stays until the next. The same again sends nothing."""
        if (text, bad) == self._said:
            return
        self._said = (text, bad)
        said = self.query_one("#entry-said", Static)
        said.set_class(bad, "-bad")
        said.update(Content(clean(text, self.glyphs)))

    def say_meanwhile(self, text: str) -> None:
        """The same where nothing else is said but what was said so before."""
        if self._said in (("", False), (self._meanwhile, False)):
            self._meanwhile = text
            self.say(text)

    def ask(self, asked: Asked) -> None:
        """Puts a question, with its default ready to be taken or typed over."""
        self.asked = asked
        # A label that is cut off by the answer reads as part of it.
        room = max(self.app.size.width * 6 // 10 - len(": "), 10)
        label = fitted(clean(asked.label, self.glyphs), room, self.glyphs)
        self.query_one("#entry-label", Static).update(Content(f"{label}: "))
        self.query_one("#entry-row").display = True
        self._input.value = asked.default
        # At once, and not after the keys that have come meanwhile.
        self.screen.set_focus(self._input)
        # This question may have one before it where the last had none.
        self._input.refresh_bindings()
        # All of it is selected: typing puts another answer in its place, an arrow key goes into it.
        self._input.select_all()
        self._tell(asked.default)

    def turn(self, by: int) -> None:
        """The choice before or after the one that stands there."""
        if not self.asked or not self.asked.choices:
            return
        choices = self.asked.choices
        at = choices.index(self._input.value) if self._input.value in choices else -1 if by > 0 else 0
        self._input.value = choices[(at + by) % len(choices)]
        # Typing puts another answer in its place.
        self._input.select_all()

    def _completed(self, text: str) -> str:
        """The one choice that begins so; otherwise the text."""
        assert self.asked
        begins = [choice for choice in self.asked.choices if text and choice.lower().startswith(text.strip().lower())]
        return begins[0] if len(begins) == 1 and text not in self.asked.choices else text

    def _tell(self, text: str) -> None:
        assert self.asked
        shown = self.asked.choices[:MOST_CHOICES]
        choices = ", ".join(choice or "(nothing)" for choice in shown)
        if len(shown) < len(self.asked.choices):
            choices += f" and {len(self.asked.choices) - len(shown)} more"
        hint = "   ".join(part for part in (f"{choices}  (up/down)" if choices else "", self.asked.help) if part)
        try:
            comes_to = self.asked.check(self._completed(text))
        except Mistake as mistake:
            typed_something = text.strip() != "" and text != self.asked.default
            self.say(str(mistake) if typed_something else hint, bad=typed_something)
            return
        same = comes_to.strip() == text.strip()
        self.say(hint if same or not comes_to else f"= {comes_to}   {hint}")

    @on(Input.Changed)
    def _typed(self, event: Input.Changed) -> None:
        event.stop()
        if self.asked:
            self._tell(event.value)

    def take(self, answer: str) -> None:
        """Accepts an answer, or says why it cannot be one."""
        if not self.asked:
            return
        asked, text = self.asked, self._completed(answer)
        try:
            asked.check(text)
        except Mistake as mistake:
            self.say(str(mistake), bad=True)
            return
        self._close()
        self.say("")
        asked.accept(text)

    def give_up(self) -> None:
        """Nothing is answered, nothing changes."""
        asked = self.asked
        self._close()
        self.say("")
        if asked and asked.cancel:
            asked.cancel()

    def back(self) -> None:
        """The question before, where there is one."""
        if self.asked and self.asked.back:
            go_back = self.asked.back
            self._close()
            go_back()

    def _close(self) -> None:
        self.asked = None
        self.query_one("#entry-row").display = False
