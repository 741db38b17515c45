"""The line of keys at the foot of the screen.

One line of text, not a widget for each key: what can be pressed changes with every question, and
a line is repainted in a few hundred bytes.
"""

from __future__ import annotations

from textual.content import Content
from textual.screen import Screen
from textual.widgets import Static

ALWAYS = ("help", "quit", "leave")
"""Actions whose keys are told at the right end, however little room there is."""
GAP = "  "
WORDS = {"enter": "Enter", "escape": "Esc", "space": "Space", "backspace": "Bksp", "tab": "Tab"}
"""Keys that have a word on them, where others would show a sign that not every terminal has."""


class KeysLine(Static):
    """What can be pressed now; the keys in bold."""

    def on_mount(self) -> None:
        """Follows whatever has the focus."""
        self.screen.bindings_updated_signal.subscribe(self, self._show)

    def on_resize(self) -> None:
        """Another width, perhaps with room for more."""
        self._show(self.screen)

    def _show(self, screen: Screen[object]) -> None:
        told: dict[str, Content] = {}
        for active in screen.active_bindings.values():
            binding = active.binding
            if binding.show and active.enabled:
                name = binding.key_display or WORDS.get(binding.key) or self.app.get_key_display(binding)
                key = Content.styled(name, "bold")
                # A station may say better what a key does there; it is not imported for the first paint.
                words = getattr(active.node, "told_as", lambda action: "")(binding.action)
                if words is not None:
                    told.setdefault(binding.action, Content.assemble(key, " ", words or binding.description))
        always = [told.pop(action) for action in ALWAYS if action in told]
        end = Content(GAP).join(always)
        room = self.size.width - len(" ") - end.cell_length
        kept: list[Content] = []
        for one in told.values():
            # A key that is told in part is told wrongly.
            room -= one.cell_length + len(GAP)
            if room < 0:
                break
            kept.append(one)
        line = Content(GAP).join(kept)
        space = self.size.width - len(" ") - line.cell_length - end.cell_length
        self.update(Content.assemble(" ", line, " " * max(space, 0), end))
