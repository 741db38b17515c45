"""Reading lines without waiting for them."""

from __future__ import annotations

import queue
import threading
from collections.abc import Iterable
from contextlib import suppress


def lines_of(stream: Iterable[str]) -> queue.Queue[str]:
    """Every line as it comes, read by a thread of its own; at the end an empty one."""
    lines: queue.Queue[str] = queue.Queue()

    def read() -> None:
        # Whoever closes the stream meanwhile does not wait for more lines.
        with suppress(ValueError):
            for line in stream:
                lines.put(line)
        lines.put("")

    threading.Thread(target=read, daemon=True).start()
    return lines
