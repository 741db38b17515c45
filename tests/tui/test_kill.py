"""A tick that the screen has shown is on the disk: killed at the first byte that shows it, a hundred times."""

from __future__ import annotations

import os
import re
import signal
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from projects_to_try import many_cuts, opened, stored
from terminals import Terminal, sawhorse

from core.storage import open_project

KILLS = 100
AT_A_TIME = 2
"""Projects that are worked on side by side; most of the time is the program's start."""
NEXT = re.compile(r"^> \[ \] +([0-9]+) ", re.MULTILINE)
"""The line under the cursor: the next cut, not ticked."""


def test_no_shown_tick_is_lost(tmp_path: Path) -> None:
    paths = []
    for number in range(AT_A_TIME):
        folder = tmp_path / str(number)
        folder.mkdir()
        session = opened(stored(folder, many_cuts()))
        assert len(session.plan.steps) > KILLS / AT_A_TIME
        session.keep_layouts()
        session.station = "cuts"
        session.leave()
        paths.append(folder / "bench.toml")
    with ThreadPoolExecutor(AT_A_TIME) as hands:
        killed = list(hands.map(kill_at_each_tick, paths))
    assert sum(killed) == KILLS


def kill_at_each_tick(path: Path) -> int:
    """Opens the project, ticks the next cut, kills the program as the tick is shown; again and again."""
    shown: list[int] = []
    for _ in range(KILLS // AT_A_TIME):
        with sawhorse(path) as terminal:
            terminal.wait_for(lambda text: NEXT.search(text) is not None)
            # Nothing but the tick may be what comes next.
            terminal.quiet(0.03)
            number = tick_and_kill(terminal)
            shown.append(number)
        kept = open_project(path).project.facts.cuts
        assert len(kept) == len(shown), f"shown {shown}, on the disk {[cut.piece for cut in kept]}"
    # Each was another one, in its order: what was shown before was never shown as not done again.
    assert shown == sorted(set(shown))
    return len(shown)


def tick_and_kill(terminal: Terminal) -> int:
    """The number of the cut whose tick was seen."""
    before = NEXT.search(terminal.screen.text)
    assert before is not None
    number = int(before[1])
    ticked = re.compile(rf"^..\[x\] +{number} ", re.MULTILINE)
    terminal.press(" ")
    while ticked.search(terminal.screen.text) is None:
        # A few bytes at a time, so that not much more than the tick itself has been seen.
        terminal.screen.take(os.read(terminal.child.child_fd, 8))
    os.kill(terminal.child.pid, signal.SIGKILL)
    return number
