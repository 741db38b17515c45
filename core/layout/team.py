"""Two explorers side by side: one in this process, the other in a process of its own where there is a second core.

They exchange what they found at the end of each round, a round being a fixed number of
iterations, so that the answer does not depend on how fast either of them is, nor on whether
there are two processes at all: where a second one cannot be had, or is lost, the same is done
here.
"""

from __future__ import annotations

import json
import os
import queue
import subprocess
import sys
from collections.abc import Callable
from contextlib import suppress
from typing import Any, TypeAlias

from core.layout.explorer import Explorer, Found
from core.layout.fitter import Filling
from core.layout.garbage import collected_seldom
from core.layout.job import Job
from core.layout.limit import Limit
from core.layout.lines import lines_of
from core.layout.pattern import Pattern, outline_told
from core.layout.shape import shape_told

Round: TypeAlias = tuple[int, Found, float | None]
"""What a partner is told: iterations, what the other has found, and the seconds left where the time is capped."""

PATIENCE = 0.05
"""Seconds between two looks at whether the search was cancelled, while the partner is waited for."""


class Partner:
    """The second explorer of a job, in another process if there can be one."""

    def __init__(self, job: Job, least: int) -> None:
        self._job = job
        self._least = least
        self._told: list[Round] = []
        self._explorer: Explorer | None = None
        self._child: _Child | None = None
        if cores() > 1:
            with suppress(OSError):
                self._child = _Child(job, least)

    def begin(self, told: Round) -> None:
        """Sets the partner to a round."""
        if told[2] is not None:
            # By the clock the answer is never the same: no round has to be made again.
            self._told.clear()
        self._told.append(told)
        if self._child is not None:
            self._child.ask(told)

    def found(self, stopped: Callable[[], bool]) -> Found | None:
        """What the round brought; None if the search was stopped before it was over."""
        if self._child is not None:
            with suppress(EOFError):
                return self._child.answer(stopped)
            self.end()
        if self._explorer is None:
            # Every round from the first, as the process that is not there would have made them.
            self._explorer = Explorer(self._job, 1, self._least)
            for told in self._told[:-1]:
                explored(self._explorer, told, stopped)
        return explored(self._explorer, self._told[-1], stopped)

    def end(self) -> None:
        """Ends the process."""
        if self._child is not None:
            self._child.end()
            self._child = None


def cores() -> int:
    """How many this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def explored(explorer: Explorer, told: Round, stopped: Callable[[], bool]) -> Found:
    """One round of the second explorer."""
    iterations, heard, seconds = told
    limit = Limit(seconds, stopped)
    explorer.hear(heard)
    explorer.combine(limit)
    explorer.walk(iterations, limit.reached, _keep_quiet)
    return explorer.told()


def _keep_quiet(filling: Filling) -> None:
    """The first explorer speaks for both."""


class _Child:
    """A process that explores as it is told: a line of JSON in, a line of JSON out. It ends with its standard input."""

    def __init__(self, job: Job, least: int) -> None:
        # -P: a folder named core where the person stands is not ours.
        command = (sys.executable, "-P", "-m", "core.layout.team")
        self._process = subprocess.Popen(
            command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True
        )
        assert self._process.stdout is not None
        self._lines = lines_of(self._process.stdout)
        self._write(job.as_json())
        self._write(json.dumps(least))

    def _write(self, line: str) -> None:
        assert self._process.stdin is not None
        # If it has died, its answer will say so.
        with suppress(OSError):
            self._process.stdin.write(line + "\n")
            self._process.stdin.flush()

    def ask(self, told: Round) -> None:
        """Sets it to a round."""
        iterations, found, seconds = told
        self._write(json.dumps([iterations, _listed(found), seconds], separators=(",", ":")))

    def answer(self, stopped: Callable[[], bool]) -> Found | None:
        """What it found. Raises EOFError if it is no more."""
        while True:
            try:
                line = self._lines.get(timeout=PATIENCE)
            except queue.Empty:
                if stopped():
                    return None
                continue
            if not line:
                raise EOFError
            return _found(json.loads(line))

    def end(self) -> None:
        """Ends it."""
        self._process.kill()
        self._process.wait()
        for stream in (self._process.stdin, self._process.stdout):
            assert stream is not None
            with suppress(OSError):
                stream.close()


def _listed(found: Found) -> list[Any]:
    """What was found, as JSON has it."""
    return [found.best, list(found.patterns.items())]


def _found(listed: list[Any]) -> Found:
    """What `_listed` told."""
    best, patterns = listed
    met = {Pattern(board, tuple(sizes)): shape_told(shape) for (board, sizes), shape in patterns}
    return Found(outline_told(best), met)


def main() -> None:
    """The process: a job, its least cost, then rounds until there are no more."""
    import signal

    # Ctrl+C in the terminal is for the process that asks; this one ends when its input does.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    explorer = Explorer(Job.from_json(sys.stdin.readline()), 1, json.loads(sys.stdin.readline()))
    lines = lines_of(sys.stdin)
    with collected_seldom():
        while line := lines.get():
            iterations, heard, seconds = json.loads(line)
            # Nothing is said in the course of a round but that whoever asked is gone.
            found = explored(explorer, (iterations, _found(heard), seconds), lambda: not lines.empty())
            if not lines.empty():
                return
            sys.stdout.write(json.dumps(_listed(found), separators=(",", ":")) + "\n")
            sys.stdout.flush()


if __name__ == "__main__":
    main()
