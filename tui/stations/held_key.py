"""A key that ticks, or takes a tick back: whether a press of it is meant, or the key was hit twice or is held down.

What counts is when keys were pressed, not when they are dealt with, however slow the machine is.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

AGAIN = 0.1
"""Seconds within which a key comes again that is held down: 0.03 to 0.05 are usual; no two presses are that close."""
FIRST = 1.0
"""Seconds within which it does so for the first time: keyboards are set to 0.25 to 1."""


Act = Callable[[], object]


@dataclass(frozen=True, slots=True)
class _Waiting:
    key: str
    act: Act


class HeldKey:
    """Presses of such keys. One that may be the first of a key held down waits until none comes close after it."""

    def __init__(self, later: Callable[[float, Callable[[], None]], object]) -> None:
        """`later` does something after so many seconds."""
        self._later = later
        self._at: dict[str, float] = {}
        """When each key was pressed last, s."""
        self._waiting: _Waiting | None = None

    def pressed(self, key: str, at: float, same_within: float, meant: Callable[[], Act]) -> None:
        """Does what a key is for, now or in a moment, if it is meant.

        `at`: when it was pressed, s; `same_within`: seconds within which another press is the same one; `meant`
        says what it is for, once all that was pressed before is done.
        """
        before = self._at.get(key)
        self._at[key] = at
        gap = FIRST if before is None else at - before
        if gap < AGAIN:
            if self._waiting and self._waiting.key == key:
                self._waiting = None
            return
        self._go_on()
        if gap < max(same_within, AGAIN):
            return
        act = meant()
        if gap >= FIRST:
            act()
            return
        self._waiting = waiting = _Waiting(key, act)
        self._later(AGAIN, lambda: self._due(waiting))

    def _due(self, waiting: _Waiting) -> None:
        if self._waiting is waiting:
            self._go_on()

    def _go_on(self) -> None:
        """Does what waits: nothing has come close after it."""
        waiting, self._waiting = self._waiting, None
        if waiting:
            waiting.act()
