"""The commands: what is printed for people and as JSON, exit codes, wrong use in one sentence, opening."""

from __future__ import annotations

import os
import shutil
import subprocess
from pathlib import Path

import pytest
from answers import Run, a_list, is_one_sentence, refused
from projects_to_try import bench, hostile, opened, stored
from terminals import SAWHORSE, Terminal, environment, sawhorse

from core import edits, printing
from core.project import Design
from core.storage import open_project
from tui.command import STATIONS

DEMOS = Path(__file__).parents[2] / "projects"


SAYS = {
    "parts": ("Parts of Window bench", "S1", "Side, left", "length", "notch"),
    "sheets": ("ply-1", "96 x 48", "% used", "/1"),
    "cuts": ("Cuts of Window bench", "[ ]   1", "rip", "crosscut", "from bottom"),
    "checks": ("OK", "dry fit", "local codes"),
    "buy": ("Plywood 3/4, 96 x 48", "Together $169.00"),
    "build": ("1. ", "Dry fit without glue", "!"),
}


@pytest.mark.parametrize("station", STATIONS)
def test_every_station_is_printed_for_people(tmp_path: Path, run: Run, station: str) -> None:
    path = stored(tmp_path, bench())
    text = path.read_text()
    told = run(station, path)
    assert (told.code, told.err) == (0, "")
    missing = [words for words in SAYS[station] if words not in told.out]
    assert not missing, told.out
    assert "\x1b" not in told.out
    assert all(line == line.rstrip() for line in told.out.splitlines())
    # Printing takes no lock and writes nothing.
    assert path.read_text() == text
    assert [one.name for one in tmp_path.iterdir()] == ["bench.toml"]


@pytest.mark.parametrize("station", STATIONS)
def test_plain_ascii_is_printed_where_it_is_asked_for(tmp_path: Path, run: Run, station: str) -> None:
    told = run(station, stored(tmp_path, hostile()), "--ascii")
    assert told.out.isascii()
    assert told.out


KEYS = {
    "parts": {"project", "unit", "parts"},
    "sheets": {"kerf", "materials"},
    "cuts": {"sheets", "steps", "machining", "history"},
    "checks": {"checks"},
    "buy": {"lines", "total", "currency"},
}


@pytest.mark.parametrize("station", KEYS)
@pytest.mark.parametrize("design", [bench("in"), bench("mm"), hostile()], ids=["in", "mm", "hostile"])
def test_json_is_one_document(tmp_path: Path, run: Run, station: str, design: Design) -> None:
    told = run(station, stored(tmp_path, design), "--json")
    assert told.code == 0
    assert set(told.document) >= KEYS[station]
    assert told.out.isascii(), "no encoding stands in its way"


def test_json_and_text_of_one_project_agree(tmp_path: Path, run: Run) -> None:
    path = stored(tmp_path, bench())
    parts = run("parts", path, "--json").document["parts"]
    table = run("parts", path).out
    assert all(f"{part['part']} " in table and part["length_text"] in table for part in parts)
    steps = run("cuts", path, "--json").document["steps"]
    assert run("cuts", path).out.count("[ ] ") >= len(steps)
    opened(path).tick(1)
    assert [step["done"] for step in run("cuts", path, "--json").document["steps"]][:2] == [True, False]
    assert "[x]   1" in run("cuts", path).out


def test_a_part_that_fits_no_sheet_is_a_finding(tmp_path: Path, run: Run) -> None:
    path = stored(tmp_path, edits.add_loose(bench(), "Long shelf", "ply", "100", "12"))
    for station in ("sheets", "cuts"):
        told = run(station, path, "--json")
        assert told.code == 1
        assert is_one_sentence(told.err)
        assert "L1/1" in told.err or "L1" in told.err
        assert told.document
    (ply,) = [one for one in run("sheets", path, "--json").document["materials"] if one["material"] == "ply"]
    assert len(ply["unplaced"]) == 1
    assert run("parts", path).code == 0


def test_a_check_that_fails_is_a_finding(tmp_path: Path, run: Run) -> None:
    low = edits.set_value(bench(), ("space", "readings", 2, "size"), "15")
    told = run("checks", stored(tmp_path, low), "--json")
    failed = [one for one in told.document["checks"] if one["result"] == "fail"]
    assert failed
    assert told.code == 1
    assert len(told.err.splitlines()) == len(failed)
    assert all(line.startswith("sawhorse: ") for line in told.err.splitlines())


@pytest.mark.parametrize(
    "arguments",
    [
        ["parts"],
        ["parts", "FILE", "more"],
        ["parts", "FILE", "--jsn"],
        ["sheets", "nowhere.toml"],
        ["cuts", "."],
        ["build", "FILE", "--json"],
        ["FILE", "--theme", "plaid"],
        ["FILE", "FILE"],
        ["--no-such-option"],
        ["nowhere.toml"],
        ["nowhere.toml", "--read-only"],
        ["open", "FILE", "--kerf", "3"],
        ["layout"],
        ["layout", "LIST"],
        ["layout", "nowhere.csv", "--sheet", "2440x1220"],
        ["layout", "LIST", "--sheet", "2440"],
        ["layout", "LIST", "--sheet", "2440x1220x18"],
        ["layout", "LIST", "--sheet", "0x1220"],
        ["layout", "LIST", "--sheet", "2440x1220", "--kerf", "-3"],
        ["layout", "LIST", "--sheet", "2440x1220", "--kerf", "thin"],
        ["layout", "LIST", "--sheet", "2440x1220", "--kerf", "3.2", "--trim", "3"],
        ["layout", "LIST", "--sheet", "2440x1220", "--trim", "700"],
        ["layout", "LIST", "--sheet", "2440x1220", "--unit", "cm"],
        ["layout", "LIST", "--sheet", "2440x1220", "--seconds", "0"],
        ["layout", "LIST", "--sheet", "2440x1220", "--seconds", "soon"],
        ["layout", "LIST", "--sheet", "2440x1220", "--seconds", "nan"],
        ["layout", "LIST", "--sheet", "2440x1220", "--seconds", "inf"],
        ["layout", "LIST", "--sheet", "2440x1220,price=5", "--sheet", "1220 x 2440,price=5"],
        ["layout", "LIST", "--sheet", "2440x1220,price=5", "--sheet", "1220x1220"],
        ["layout", "LIST", "--sheet", "2440x1220,price=0"],
        ["layout", "LIST", "--sheet", "2440x1220,price=dear"],
        ["layout", "LIST", "--sheet", "2440x1220,price=0.001"],
        ["layout", "LIST", "--sheet", "2440x1220 price=5"],
        ["layout", "LIST", "--sheet", "2440x1220,price=5,price=6"],
        ["layout", "LIST", "--sheet", "2440x1220,quantity=0"],
        ["layout", "LIST", "--sheet", "2440x1220,trim=-1"],
        ["layout", "LIST", "--sheet", "2440x1220,colour=red"],
    ],
    ids=" ".join,
)
def test_wrong_use_is_one_sentence(
    tmp_path: Path, run: Run, monkeypatch: pytest.MonkeyPatch, arguments: list[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    stored(tmp_path, bench())
    a_list(tmp_path)
    names = {"FILE": "bench.toml", "LIST": "list.csv"}
    told = run(*(names.get(one, one) for one in arguments))
    assert refused(told), told
    assert sorted(one.name for one in tmp_path.iterdir()) == ["bench.toml", "list.csv"]


def test_everything_that_is_wrong_in_a_file_is_told_at_once(tmp_path: Path, run: Run) -> None:
    """A line for each: with one sentence alone whoever mends the first would meet the second after it."""
    path = tmp_path / "wrong.toml"
    path.write_text('format = 2\nname = "Wrong"\nunit = "ells"\nrow_width = true\ncolour = "red"\n')
    told = run("parts", path)
    assert (told.code, told.out) == (2, "")
    for line, words in ((3, '"ells"'), (4, "row_width"), (5, "colour")):
        assert any(f"line {line}" in one and words in one for one in told.err.splitlines())


def test_a_newer_format_is_refused_politely(tmp_path: Path, run: Run) -> None:
    path = stored(tmp_path, bench())
    path.write_text(path.read_text().replace("format = 2", "format = 9"))
    told = run("parts", path)
    assert refused(told)
    assert "9" in told.err


def test_without_a_terminal_the_plan_is_printed(tmp_path: Path, run: Run) -> None:
    path = stored(tmp_path, bench())
    for arguments in ((path,), ("open", path)):
        told = run(*arguments)
        assert (told.code, told.err) == (0, "")
        assert all(heading in told.out for heading in ("Window bench", *(name.capitalize() for name in STATIONS)))
        assert "\x1b" not in told.out
    assert [one.name for one in tmp_path.iterdir()] == ["bench.toml"]


def test_a_project_that_is_named_like_a_command_can_be_opened(
    tmp_path: Path, run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    stored(tmp_path, bench(), "parts")
    assert "Window bench" in run("open", "parts").out


def test_nothing_to_open_and_no_terminal_is_said(run: Run) -> None:
    assert refused(run())


def test_a_file_that_is_missing_cannot_be_read_only(tmp_path: Path) -> None:
    path = tmp_path / "missing.toml"
    with sawhorse(path, "--read-only") as terminal:
        assert terminal.ended() == 2
        assert is_one_sentence(terminal.printed.strip("\r\n").replace("\r\n", " ") + "\n")
    assert not path.exists()


def test_read_only_writes_nothing(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    text = path.read_text()
    with sawhorse(path, "--read-only") as terminal:
        terminal.wait_for("Read only: opened to be read only")
        terminal.press("6")
        terminal.wait_for("[ ]   1")
        terminal.press(" ")
        terminal.wait_for("nothing can be changed here")
        terminal.press("q")
        assert terminal.ended() == 0
    assert path.read_text() == text
    assert [one.name for one in tmp_path.iterdir()] == ["bench.toml"]


@pytest.mark.parametrize("demo", sorted(DEMOS.glob("*.toml")), ids=lambda path: path.stem)
def test_a_demo_is_opened_as_a_copy(tmp_path: Path, demo: Path) -> None:
    shipped = demo.read_bytes()
    home = tmp_path / "home"
    home.mkdir()
    with Terminal([*SAWHORSE, str(demo)], tmp_path, changes={"HOME": str(home)}) as terminal:
        terminal.wait_for("A copy of the demo")
        terminal.wait_for("sheets,")
        terminal.press("8")
        terminal.wait_for("[ ] ")
        terminal.press(" ")
        terminal.wait_for("[x] ")
        terminal.press("q")
        assert terminal.ended() == 0
    assert demo.read_bytes() == shipped
    (copy,) = home.rglob(demo.name)
    assert len(open_project(copy).project.facts.bought) == 1
    assert not [one for one in DEMOS.iterdir() if one.name.startswith(".")]


@pytest.mark.parametrize("demo", sorted(DEMOS.glob("*.toml")), ids=lambda path: path.stem)
def test_the_demos_print_whole(tmp_path: Path, run: Run, demo: Path) -> None:
    copy = tmp_path / demo.name
    shutil.copyfile(demo, copy)
    told = run(copy)
    assert told.code == 0
    for station in KEYS:
        assert run(station, copy, "--json").document


def command(*arguments: object, cwd: Path, **changes: str) -> subprocess.CompletedProcess[bytes]:
    """Runs the command as a process of its own, its output piped."""
    return subprocess.run(
        [*SAWHORSE, *map(str, arguments)], cwd=cwd, env=environment(cwd, changes), capture_output=True, timeout=120
    )


def test_piped_output_is_plain(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    for arguments in ((path,), ("sheets", path), ("parts", path)):
        told = command(*arguments, cwd=tmp_path, COLORTERM="truecolor", FORCE_COLOR="1", CLICOLOR_FORCE="1")
        assert told.returncode == 0
        assert b"\x1b" not in told.stdout + told.stderr
        assert told.stdout.decode()


def test_an_encoding_that_cannot_draw_gets_ascii(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    told = command("sheets", path, cwd=tmp_path, PYTHONIOENCODING="latin-1")
    assert told.returncode == 0
    assert told.stdout.isascii()


def test_a_reader_that_has_read_enough_is_no_fault(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    reading, writing = os.pipe()
    os.close(reading)
    with os.fdopen(writing, "wb") as pipe:
        process = subprocess.run(
            [*SAWHORSE, str(path)],
            cwd=tmp_path,
            env=environment(tmp_path),
            stdout=pipe,
            stderr=subprocess.PIPE,
            timeout=120,
        )
    assert process.returncode == 0
    assert process.stderr == b""


def test_help_names_every_command_and_loads_no_screen(tmp_path: Path) -> None:
    told = subprocess.run(
        [*SAWHORSE[:1], "-X", "importtime", *SAWHORSE[1:], "--help"],
        cwd=tmp_path,
        env=environment(tmp_path),
        capture_output=True,
        timeout=120,
    )
    assert told.returncode == 0
    assert all(name.encode() in told.stdout for name in ("open", "layout", *STATIONS))
    loaded = told.stderr.decode()
    assert "argparse" in loaded
    assert "textual" not in loaded
    assert "tomlkit" not in loaded


@pytest.mark.parametrize("name", ["parts", "layout", "open"])
def test_every_command_tells_its_options(run: Run, name: str) -> None:
    told = run(name, "--help")
    assert told.code == 0
    assert "--ascii" in told.out


def test_a_fault_is_one_sentence_and_a_report(tmp_path: Path, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    monkeypatch.setitem(printing.TEXTS, "parts", lambda *_: 1 / 0)  # type: ignore[arg-type]
    told = run("parts", stored(tmp_path, bench()))
    assert (told.code, told.out) == (70, "")
    assert is_one_sentence(told.err)
    assert "Traceback" not in told.err
    (report,) = tmp_path.glob("sawhorse-fault-*.txt")
    assert str(report) in told.err
    assert "ZeroDivisionError" in report.read_text()
