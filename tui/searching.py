"""The search for layouts beside the keyboard: one warm child process, asked for one job at a time."""

from __future__ import annotations

import asyncio
import json
import sys
from asyncio.subprocess import DEVNULL, PIPE, Process
from collections.abc import Callable
from contextlib import suppress

from core.layout.job import Job
from core.layout.transport import layout_told
from core.layout.tree import Layout

LONGEST_LINE = 64 * 1024 * 1024


class Searcher:
    """Answers jobs by a child that is started when it is first needed, and again if it has died."""

    def __init__(self) -> None:
        self._child: Process | None = None

    async def answer(self, job: Job, better: Callable[[Layout], None]) -> Layout:
        """The layout of a job; `better` hears of each on the way to it.

        Cancelled, it leaves the child to the next job, which it takes up at once.
        """
        for _ in range(2):
            with suppress(ConnectionError, EOFError):
                return await self._ask(job, better)
            await self.stop()
        # No child can be had here: better a slow keyboard than no layout.
        from core.layout.search import lay_out

        return await asyncio.to_thread(lay_out, job)

    async def _ask(self, job: Job, better: Callable[[Layout], None]) -> Layout:
        child = await self._running()
        assert child.stdin is not None and child.stdout is not None
        child.stdin.write(job.as_json().encode() + b"\n")
        await child.stdin.drain()
        while True:
            line = await child.stdout.readline()
            if not line:
                raise EOFError
            told = json.loads(line)
            # An answer to an older job may still have been on its way.
            if told["job"] == job.search_key():
                layout = layout_told(told["layout"])
                if told["final"]:
                    return layout
                better(layout)

    async def _running(self) -> Process:
        if self._child is None or self._child.returncode is not None:
            # -P: a folder named core where the person stands is not ours.
            command = (sys.executable, "-P", "-m", "core.layout.child")
            self._child = await asyncio.create_subprocess_exec(
                *command, stdin=PIPE, stdout=PIPE, stderr=DEVNULL, limit=LONGEST_LINE
            )
        return self._child

    async def stop(self) -> None:
        """Ends the child."""
        child, self._child = self._child, None
        if child is not None and child.returncode is None:
            with suppress(ProcessLookupError):
                child.kill()
            await child.wait()
