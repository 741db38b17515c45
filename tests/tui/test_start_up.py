"""What is loaded before the first paint: its time is mostly imports, so the imports are what is counted.

`tests/bench/first_paint.py` measures the time itself.
"""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
from projects_to_try import bench, stored
from terminals import Terminal

BARE = """
import sys
from textual.app import App
from textual.widgets import Static

class Bare(App):
    def compose(self):
        yield Static("bare")
    def on_mount(self):
        self.call_after_refresh(self.painted)
    def painted(self):
        open("painted", "w").write(" ".join(sys.modules))
        self.exit()

Bare().run()
"""
SAWHORSE = """
import sys
from tui.app import SawhorseApp

opening, leaving = SawhorseApp._open, SawhorseApp.action_leave
def painted(self):
    open("painted", "w").write(" ".join(sys.modules))
    return opening(self)
def left(self):
    open("left", "w").write(" ".join(sys.modules))
    leaving(self)
SawhorseApp._open, SawhorseApp.action_leave = painted, left

from tui.command import main
main()
"""
"""Started as ever, but for notes of what is loaded when the frame has been painted, and when the person leaves."""
LATER = ("core.project", "core.storage", "core.plan", "core.construction", "core.layout", "core.checks", "tui.bench")
"""What an opened project needs comes after the first paint."""
SELDOM = ("pint", "rectpack", "reportlab", "core.bare_list", "core.layout.child", "tui.start")
"""What opening a project does not need at all, or only where something in it asks for it."""


class Loaded:
    """The modules that were loaded, by moment."""

    def __init__(self, folder: Path) -> None:
        path = stored(folder, bench())
        with Terminal([sys.executable, "-P", "-c", BARE], folder) as terminal:
            assert terminal.ended() == 0
        self.bare = set((folder / "painted").read_text().split())
        with Terminal([sys.executable, "-P", "-c", SAWHORSE, "--read-only", str(path)], folder) as terminal:
            terminal.wait_for("3 sheets")
            terminal.press("q")
            assert terminal.ended() == 0
        self.painted = set((folder / "painted").read_text().split())
        self.left = set((folder / "left").read_text().split())


@pytest.fixture(scope="module")
def loaded(tmp_path_factory: pytest.TempPathFactory) -> Loaded:
    """One run of a bare Textual app, and one of this."""
    return Loaded(tmp_path_factory.mktemp("loaded"))


def of(names: tuple[str, ...], modules: set[str]) -> list[str]:
    """Which of the names, or what lies in them, are among the modules."""
    return sorted(module for module in modules if any(f"{module}.".startswith(f"{name}.") for name in names))


def test_the_first_paint_loads_little_more_than_a_bare_app(loaded: Loaded) -> None:
    assert len(loaded.painted) < 1.25 * len(loaded.bare)
    assert of(LATER + SELDOM, loaded.painted) == []


def test_opening_a_project_loads_nothing_that_is_seldom_needed(loaded: Loaded) -> None:
    assert of(("core.storage", "core.plan", "tui.bench", "tui.stations.space"), loaded.left), "it was opened"
    assert of(SELDOM, loaded.left) == []


def test_a_station_is_loaded_when_a_person_goes_there(loaded: Loaded) -> None:
    stations = ("goods", "piece", "parts", "sheets", "cuts", "checks", "buy", "build")
    assert of(tuple(f"tui.stations.{name}" for name in stations), loaded.left) == []
