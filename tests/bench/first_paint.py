"""How long the first paint takes, against a bare Textual app: on a terminal, in one run, taken in turns.

    python tests/bench/first_paint.py [PROJECT] [TURNS]

Prints the seconds until the first painted line of each, and their ratio. The aim is a ratio of no
more than 1.5. `usable` is the time until the project is open and its first station stands.
"""

from __future__ import annotations

import statistics
import sys
import tempfile
import time
from pathlib import Path

HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(HERE.parent / "tui"))

from terminals import SAWHORSE, Terminal  # noqa: E402

BARE = """
from textual.app import App
from textual.widgets import Static

class Bare(App):
    def compose(self):
        yield Static("Painted")

Bare().run()
"""


def seconds_until(terminal: Terminal, began: float, words: str) -> float:
    """How long the screen takes to show the words."""
    while words not in terminal.screen.text:
        if not terminal.read(10):
            raise SystemExit(f"{words!r} never came:\n{terminal.screen.text}")
    return time.monotonic() - began


def one_turn(project: Path, folder: Path) -> tuple[float, float, float]:
    """A bare app's first paint, ours, and ours with the project on the screen."""
    began = time.monotonic()
    with Terminal([sys.executable, "-P", "-c", BARE], folder) as terminal:
        bare = seconds_until(terminal, began, "Painted")
    began = time.monotonic()
    with Terminal([*SAWHORSE, "--read-only", str(project)], folder) as terminal:
        painted = seconds_until(terminal, began, "Sawhorse")
        usable = seconds_until(terminal, began, "[1 Space]")
    return bare, painted, usable


def main() -> None:
    """Prints the medians."""
    project = Path(sys.argv[1] if len(sys.argv) > 1 else HERE.parent.parent / "projects" / "study-wall.toml").resolve()
    turns = int(sys.argv[2]) if len(sys.argv) > 2 else 15
    with tempfile.TemporaryDirectory() as folder:
        one_turn(project, Path(folder))  # compiles what has changed
        taken = [one_turn(project, Path(folder)) for _ in range(turns)]
    bare, painted, usable = (statistics.median(times) for times in zip(*taken, strict=True))
    print(f"bare Textual app   {bare:.3f} s")
    print(f"first paint        {painted:.3f} s   ratio {painted / bare:.2f}")
    print(f"usable             {usable:.3f} s   ratio {usable / bare:.2f}")


if __name__ == "__main__":
    main()
