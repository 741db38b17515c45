"""What stops a search before it has spent its count."""

from __future__ import annotations

import time
from collections.abc import Callable


class Limit:
    """Says whether the cap on the time is over, if there is one, or the search was cancelled."""

    def __init__(self, seconds: float | None, cancelled: Callable[[], bool]) -> None:
        self._ends = None if seconds is None else time.monotonic() + seconds
        self._cancelled = cancelled

    def reached(self) -> bool:
        """Whether to stop now."""
        return (self._ends is not None and time.monotonic() >= self._ends) or self._cancelled()

    def seconds_left(self) -> float | None:
        """Until the time is over; None where none was set."""
        return None if self._ends is None else self._ends - time.monotonic()
