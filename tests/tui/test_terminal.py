"""The app on a real terminal: leaving cleanly, little on the wire, no colour, plain ASCII, suspended, broken."""

from __future__ import annotations

import os
import re
import select
import signal
import sys
from pathlib import Path

import pytest
from driving import STATIONS
from projects_to_try import bench, hostile, stored
from terminals import ESCAPES, SAWHORSE, Terminal, sawhorse

from core.project import Project
from core.starter import new_design
from core.storage import create, open_project

ALTERNATE_ON, ALTERNATE_OFF = b"\x1b[?1049h", b"\x1b[?1049l"
CURSOR_SHOWN = b"\x1b[?25h"
READY = "3 sheets, "
"""The line in view once the bench is laid out; while better layouts may still come it says "so far"."""
BUDGET = 10_000
"""Bytes that a key may send at 80 x 24: about twice the screen with its colours."""


def locks(folder: Path) -> list[str]:
    """Lock files that were left."""
    return [one.name for one in folder.iterdir() if "lock" in one.name]


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP], ids=["terminated", "hung up"])
def test_a_signal_leaves_cleanly(tmp_path: Path, number: signal.Signals) -> None:
    path = stored(tmp_path, bench())
    with sawhorse(path) as terminal:
        terminal.wait_for(READY)
        assert locks(tmp_path)
        terminal.press("6")
        terminal.wait_for("[6 Cuts]")
        os.kill(terminal.child.pid, number)
        assert terminal.ended() == 0
        assert terminal.received.rindex(ALTERNATE_OFF) > terminal.received.rindex(ALTERNATE_ON)
        assert terminal.received.rindex(CURSOR_SHOWN) > terminal.received.rindex(ALTERNATE_ON)
        assert "Traceback" not in terminal.printed
    assert not locks(tmp_path)
    assert open_project(path).project.facts.left_at.station == "cuts"


def test_a_closed_terminal_leaves_cleanly(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    with sawhorse(path) as terminal:
        terminal.wait_for(READY)
        os.close(terminal.child.child_fd)
        terminal.child.closed = True
        _, status = os.waitpid(terminal.child.pid, 0)
        assert os.WIFEXITED(status)
        assert os.WEXITSTATUS(status) == 0
    assert not locks(tmp_path)
    assert not [one for one in tmp_path.iterdir() if one.name.startswith("sawhorse-fault")]
    assert open_project(path).project.facts.left_at.station == "space"


def test_quitting_puts_the_terminal_back(tmp_path: Path) -> None:
    with sawhorse(stored(tmp_path, bench())) as terminal:
        terminal.wait_for(READY)
        terminal.press("q")
        assert terminal.ended() == 0
        assert terminal.received.endswith(CURSOR_SHOWN) or CURSOR_SHOWN in terminal.received[-200:]
        assert terminal.printed.strip() == ""
    assert not locks(tmp_path)


def test_an_idle_screen_sends_nothing(tmp_path: Path) -> None:
    """A list, an open question with its cursor, and a file that another program has changed, side by side."""
    listed, asked, changed = (tmp_path / name for name in ("listed", "asked", "changed"))
    for folder in (listed, asked, changed):
        folder.mkdir()
        stored(folder, bench())
    with (
        sawhorse(listed / "bench.toml") as one,
        sawhorse(asked / "bench.toml") as two,
        sawhorse(changed / "bench.toml") as three,
    ):
        for terminal in (one, two, three):
            terminal.wait_for(READY)
        two.press("\r")
        two.wait_for("place: alcove")
        path = changed / "bench.toml"
        path.write_text(path.read_text().replace("alcove", "niche"))
        three.wait_for("was changed by another program")
        for terminal in (one, two, three):
            terminal.quiet(0.5)
        sending, _, _ = select.select([t.child.child_fd for t in (one, two, three)], [], [], 3)
        assert not sending


def test_a_key_sends_a_few_kilobytes_at_most(tmp_path: Path) -> None:
    with sawhorse(stored(tmp_path, bench())) as terminal:
        terminal.wait_for(READY)
        # A busy machine is still painting what it began with.
        terminal.quiet(1)
        sent: dict[str, int] = {}
        own = {
            "goods": ("\r", "\x1b"),
            "piece": ("v", "v"),
            "sheets": ("n",),
            "cuts": (" ",),
            "buy": (" ", "?", "\x1b"),
        }
        for number, station in enumerate(STATIONS, start=1):
            for key in (str(number), "\x1b[B", "\x1b[6~", *own.get(station, ())):
                terminal.press(key)
                sent[f"{key!r} at {station}"] = len(terminal.quiet(0.3))
        assert {key: size for key, size in sent.items() if size > BUDGET} == {}
        assert max(size for key, size in sent.items() if key.startswith("'\\x1b[B'")) < BUDGET / 2


ATTRIBUTES = {"", "0", "1", "2", "3", "4", "7", "9", "22", "23", "24", "27", "29", "39", "49"}
"""Bold, dim, italic, underlined, reversed, struck out, none of them, and the terminal's own two colours."""


def through_every_station(terminal: Terminal, laid_out: str) -> None:
    """Goes to each station once, opens its help, and asks something."""
    terminal.wait_for(laid_out)
    for number, station in enumerate(STATIONS, start=1):
        terminal.press(str(number))
        terminal.wait_for(f"[{number} {station.capitalize()}]")
        terminal.press("?")
        terminal.wait_for(f"Station {station.capitalize()}")
        terminal.press("\x1b")
        terminal.wait_for(f"[{number} {station.capitalize()}]")
        if station == "piece":
            terminal.press("v")
            terminal.quiet()
            terminal.press("v\r")
            terminal.wait_for("name: ")
            terminal.press("x\x1b")
            terminal.wait_for(lambda text: "name: " not in text)
        if station == "cuts":
            terminal.press(" ")
            terminal.wait_for("[x]")
    terminal.quiet()


def test_without_colour_there_are_attributes_only(tmp_path: Path) -> None:
    with sawhorse(stored(tmp_path, bench()), changes={"NO_COLOR": "1", "COLORTERM": "truecolor"}) as terminal:
        through_every_station(terminal, READY)
        used = {
            one.decode()
            for sequence in re.findall(rb"\x1b\[([0-9;:]*)m", terminal.received)
            for one in sequence.split(b";")
        }
        assert used <= ATTRIBUTES
        assert "7" in used, "the line under the cursor is told by more than colour"
        assert any(line.startswith("> ") for line in terminal.screen.text.splitlines())


def test_an_empty_no_color_says_nothing(tmp_path: Path) -> None:
    """`NO_COLOR` counts where it is set to something (no-color.org)."""
    with sawhorse(stored(tmp_path, bench()), changes={"NO_COLOR": ""}) as terminal:
        terminal.wait_for(READY)
        assert re.search(rb"\x1b\[[0-9;]*(3[0-7]|9[0-7])[;m]", terminal.received), "some colour of the sixteen"


def test_ascii_is_ascii_on_every_station(tmp_path: Path) -> None:
    with sawhorse(stored(tmp_path, hostile()), "--ascii") as terminal:
        through_every_station(terminal, "% used")
        shown = ESCAPES.sub(b"", terminal.received)
        assert {byte for byte in shown if byte > 126} == set()


@pytest.mark.parametrize(
    "why", [{"TERM": "linux"}, {"LANG": "C", "LC_ALL": "POSIX", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"}]
)
def test_a_terminal_that_cannot_show_more_gets_ascii(tmp_path: Path, why: dict[str, str]) -> None:
    with sawhorse(stored(tmp_path, bench()), changes=why) as terminal:
        terminal.wait_for(READY)
        terminal.press("5")
        terminal.wait_for("Sheet 1 of")
        assert ESCAPES.sub(b"", terminal.received).isascii()


def test_after_suspend_and_resume_the_screen_is_whole(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    command = " ".join([*(repr(word) for word in SAWHORSE), str(path)])
    with Terminal(["bash", "--norc", "--noprofile", "-i"], tmp_path, changes={"PS1": "READY$ "}) as terminal:
        terminal.wait_for("READY$")
        terminal.press(command + "\n")
        terminal.wait_for(READY)
        terminal.press("3")
        terminal.wait_for("Carcass A")
        terminal.quiet(0.5)
        before = terminal.screen.text
        terminal.press("\x1a")
        terminal.wait_for("READY$")
        assert ALTERNATE_OFF in terminal.received
        terminal.press("fg\n")
        terminal.wait_for(lambda text: text == before)
        terminal.press("6")
        terminal.wait_for("[ ]   1")
        terminal.press(" ")
        terminal.wait_for("[x]   1")
        terminal.press("q")
        terminal.wait_for("READY$")
    assert len(open_project(path).project.facts.cuts) == 1


BROKEN = "import {module} as broken; broken.{cls}.{name} = lambda *_: 1 / 0; from tui.command import main; main()"


@pytest.mark.parametrize(
    ("module", "cls", "name", "key"),
    [
        ("tui.stations.cuts", "CutsStation", "show", "6"),
        ("tui.stations.cuts", "CutsStation", "action_next", "6n"),
        ("tui.widgets.painted", "Painted", "render_line", ""),
        ("tui.searching", "Searcher", "answer", ""),
        ("tui.finding", "Finding", "planned", ""),
    ],
)
def test_a_fault_is_one_sentence_and_a_report(tmp_path: Path, module: str, cls: str, name: str, key: str) -> None:
    path = stored(tmp_path, bench())
    text = path.read_text()
    code = BROKEN.format(module=module, cls=cls, name=name)
    with Terminal([sys.executable, "-P", "-c", code, str(path)], tmp_path) as terminal:
        if key:
            terminal.wait_for(READY)
            terminal.press(key)
        assert terminal.ended() == 70
        told = " ".join(terminal.printed.split())
        assert b"Traceback" not in terminal.received
        assert told.startswith("sawhorse: a fault of the program stopped it (ZeroDivisionError);")
        (report,) = [one for one in tmp_path.iterdir() if one.name.startswith("sawhorse-fault-")]
        assert str(report) in told.replace(" ", "") or report.name in told.replace(" ", "")
        assert "ZeroDivisionError: division by zero" in report.read_text()
        assert ALTERNATE_OFF in terminal.received or ALTERNATE_ON not in terminal.received
    assert not locks(tmp_path)
    assert path.read_text().partition("[facts")[0].strip() == text.partition("[facts")[0].strip()


def test_a_fault_before_a_project_is_open_is_told_no_otherwise(tmp_path: Path) -> None:
    code = BROKEN.format(module="tui.start", cls="StartApp", name="_ask_name")
    with Terminal([sys.executable, "-P", "-c", code], tmp_path) as terminal:
        terminal.wait_for("A new project")
        terminal.press("\r")
        assert terminal.ended() == 70
        assert b"Traceback" not in terminal.received
        assert terminal.printed.strip().startswith("sawhorse: a fault of the program stopped it (ZeroDivisionError);")
    assert len(list(tmp_path.glob("sawhorse-fault-*.txt"))) == 1


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP], ids=["terminated", "hung up"])
def test_a_signal_before_a_project_is_open_leaves_cleanly(tmp_path: Path, number: signal.Signals) -> None:
    with Terminal(SAWHORSE, tmp_path) as terminal:
        terminal.wait_for("A new project")
        os.kill(terminal.child.pid, number)
        assert terminal.ended() == 0
        assert ALTERNATE_OFF in terminal.received
    assert [one.name for one in tmp_path.iterdir() if not one.name.startswith(".")] == []


def test_a_small_window_before_a_project_is_open_says_so(tmp_path: Path) -> None:
    with Terminal(SAWHORSE, tmp_path, (40, 10)) as terminal:
        terminal.wait_for("Too small")
        terminal.press("\r")
        terminal.quiet()
        assert "What shall it be called" not in terminal.screen.text
        terminal.press("q")
        assert terminal.ended() == 0


def test_a_file_that_cannot_be_read_is_told_in_the_shell(tmp_path: Path) -> None:
    path = tmp_path / "torn.toml"
    path.write_text('format = 2\nname = "Torn"\nunit = "ells"\n')
    with sawhorse(path) as terminal:
        assert terminal.ended() == 2
        told = " ".join(terminal.printed.split())
        assert told.startswith("sawhorse: torn.toml, line 3: unit: read")
        assert "would be right" in told
    assert path.read_text().endswith('unit = "ells"\n')
    assert not locks(tmp_path)


def test_a_new_project_is_begun_and_walked_into(tmp_path: Path) -> None:
    path = tmp_path / "alcove-bench.toml"
    with sawhorse(path) as terminal:
        terminal.wait_for("alcove-bench.toml is new")
        terminal.press("mm\r")
        terminal.wait_for("What do you call the place?")
        assert open_project(path).project.design.unit == "mm"
        terminal.press("\x11")
        assert terminal.ended() == 0


def test_a_project_is_chosen_from_the_folder(tmp_path: Path) -> None:
    create(tmp_path / "one.toml", Project(new_design("One", "in")))
    (tmp_path / "notes.toml").write_text("no = 'project'\n")
    with Terminal(SAWHORSE, tmp_path) as terminal:
        terminal.wait_for("one.toml")
        assert "notes.toml" not in terminal.screen.text
        terminal.press("\x1b[B\r")
        terminal.wait_for("What do you call the place?")
        terminal.press("\x11")
        assert terminal.ended() == 0
