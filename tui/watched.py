"""A search of a command: how far it is, told where a person looks on, and Ctrl+C takes the best so far."""

from __future__ import annotations

import signal
import sys
from types import FrameType
from typing import Any

from core.layout.tree import Layout


class Watched:
    """While it is entered, Ctrl+C ends the search with what there is; a second one ends the command."""

    def __init__(self) -> None:
        self.stopped = False
        self._told = 0
        """How long the line is that stands there."""

    def __enter__(self) -> Watched:
        self._before: Any = signal.signal(signal.SIGINT, self._stop)
        return self

    def __exit__(self, *raised: object) -> None:
        signal.signal(signal.SIGINT, self._before)
        self._say("")

    def _stop(self, number: int, frame: FrameType | None) -> None:
        if self.stopped:
            raise KeyboardInterrupt
        self.stopped = True

    def tell(self, layout: Layout) -> None:
        """A better layout than those before."""
        count = len(layout.sheets)
        self._say(f"{count} sheet{'' if count == 1 else 's'} so far, still searching; Ctrl+C takes that")

    def _say(self, text: str) -> None:
        """One line that takes the place of the last."""
        if sys.stderr.isatty():
            print(f"\r{text:{self._told}}\r{text}", end="", file=sys.stderr, flush=True)
            self._told = len(text)
