"""Any window: sizes, resizing, too small to draw in, what does not fit, names that would break it."""

from __future__ import annotations

from pathlib import Path

import pytest
from driving import STATIONS, Waits, depth, running
from projects_to_try import bench, hostile, stored

from core import edits
from core.checks import run_checks
from core.drawing.glyphs import ASCII, UNICODE, Glyphs
from core.drawing.lettering import cells
from core.project import Bay


async def test_what_runs_out_of_the_window_says_so(tmp_path: Path) -> None:
    design = edits.set_value(bench(), ("row", 0, "name"), "A long name for a box " * 6)
    async with running(stored(tmp_path, design), (62, 18)) as shop:
        for station in ("piece", "checks", "buy"):
            await shop.go(station)
            shown = shop.lines[2:]
            longer = [line.rstrip() for line in shop.list_text.splitlines() if cells(line.rstrip()) > 62]
            assert longer
            cut = [line for line in shown if any(one.startswith(line[:50]) and len(line) > 50 for one in longer)]
            assert cut
            assert all("…" in line[-2:] for line in cut), cut


async def test_a_long_question_is_set_apart_from_its_answer(tmp_path: Path) -> None:
    design = edits.set_value(bench(), ("materials", "ply", "name"), "Plywood of seven layers, faced with walnut")
    async with running(stored(tmp_path, design)) as shop:
        await shop.press("w")
        for _ in range(40):
            if "Actual thickness" in shop.question:
                break
            await shop.answer()
        assert "…: 23/32" in shop.text
        await shop.press("escape", "w")
        assert "What do you call the place?: alcove" in shop.text


async def test_keys_are_told_whole_or_not_at_all(tmp_path: Path) -> None:
    async with running(stored(tmp_path, bench()), (62, 18)) as shop:
        for station in STATIONS:
            await shop.go(station)
            told = [one.strip() for one in shop.lines[-1].split("  ") if one.strip()]
            known = {binding.description for _, binding, *_ in shop.app.screen.active_bindings.values()}
            known.add(getattr(shop.station, "BESIDE", "quit"))
            assert {words.partition(" ")[2] for words in told} <= known
            assert told[-2:] == ["? help", "q quit"]


async def test_the_station_before_the_eye_is_told_in_any_window(tmp_path: Path) -> None:
    async with running(stored(tmp_path, bench()), (60, 16)) as shop:
        for number, station in enumerate(STATIONS, start=1):
            await shop.go(station)
            assert f"[{number} {station.capitalize()}]" in shop.lines[1]
            assert all(str(n) in shop.lines[1] for n in range(1, 10))


async def test_resizing_loses_nothing(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    async with running(path) as shop:
        await shop.go("piece")
        await shop.cursor_to("depth")
        await shop.press("enter")
        await shop.type("19 1")
        for size in ((120, 40), (61, 17), (200, 60), (80, 24)):
            await shop.resize(*size)
            assert (shop.question, shop.typed) == ("depth", "19 1")
            assert "depth: 19 1" in shop.text
            assert len(shop.lines) == size[1]
            assert len(shop.lines[0]) > size[0] - 3, "the title is as wide as the window"
        await shop.press("slash", "4", "enter")
        assert depth(shop) == "19 1/4"
        await shop.press("enter")
        assert shop.question == "depth", "the cursor is where it was"


async def test_the_line_in_view_follows_the_window(tmp_path: Path) -> None:
    """Two carcasses too heavy for one person and shelves that sag: more than a narrow line holds."""
    design = bench()
    for place in (0, 1):
        design = edits.set_value(design, ("row", place, "height"), "34")
        design = edits.set_value(design, ("row", place, "bays"), (Bay(adjustable_shelves=1),))
    async with running(stored(tmp_path, design), (62, 18)) as shop:
        narrow = shop.lines[-2]
        found = [one for one in run_checks(shop.session.plan.worked) if one.result == "warn"]
        assert f"  {len(found)} warn: " in narrow, "what did not fit is counted"
        await shop.resize(140, 40)
        assert len(shop.lines[-2]) > len(narrow)
        await shop.resize(62, 18)
        assert shop.lines[-2] == narrow


@pytest.mark.parametrize("small", [(40, 10), (59, 24), (80, 15), (5, 2), (1, 1)])
async def test_a_window_too_small_takes_no_key_but_quit(tmp_path: Path, small: tuple[int, int]) -> None:
    path = stored(tmp_path, bench())
    async with running(path) as shop:
        await shop.go("piece")
        await shop.cursor_to("depth")
        await shop.press("enter")
        await shop.type("19 1")
        text = path.read_text()
        await shop.resize(*small)
        if small[0] >= 40:
            assert "Too small" in shop.text
        await shop.press("d", "9", "enter", "space", "u", "plus", "w", "tab", "?", "f1", "escape", "m")
        assert path.read_text() == text
        await shop.resize(80, 24)
        assert (shop.question, shop.typed) == ("depth", "19 1")
        assert "depth: 19 1" in shop.text
        assert any(line.startswith("> depth") for line in shop.lines), "the cursor's line is in view"
        await shop.press("slash", "4", "enter")
        assert depth(shop) == "19 1/4"
        await shop.resize(*small)
        await shop.press("q")
        assert not shop.app.is_running or shop.app._exit


async def test_a_window_too_small_from_the_beginning(tmp_path: Path) -> None:
    async with running(stored(tmp_path, bench()), (30, 8)) as shop:
        assert "Too small" in shop.text
        await shop.press("3")
        await shop.resize(80, 24)
        assert shop.session.station == "space"
        assert "True box" in shop.text
        await shop.press("3")
        assert shop.session.station == "piece"


async def test_what_happens_behind_the_help_does_no_harm(tmp_path: Path) -> None:
    """A resize, a layout that is found, and another program's change, while the help covers the stations."""
    path = stored(tmp_path, bench())
    searcher = Waits()
    async with running(path, searcher=lambda: searcher, laid_out=False) as shop:
        shop.send("?")
        await shop.calm()
        assert "Station Space" in shop.text
        searcher.go_on.set()
        await shop.settle()
        for size in ((120, 40), (40, 10), (80, 24)):
            await shop.resize(*size)
        assert "Station Space" in shop.text
        path.write_text(path.read_text().replace("alcove", "niche"))
        shop.app.bench.look_at_file()
        await shop.settle()
        await shop.press("escape")
        assert "3 sheets" in shop.lines[-2]
        assert "changed by another program" in shop.said


@pytest.mark.parametrize(("size", "glyphs"), [((80, 24), UNICODE), ((120, 40), ASCII), ((60, 16), ASCII)])
async def test_hostile_names_are_shown_as_text(tmp_path: Path, size: tuple[int, int], glyphs: Glyphs) -> None:
    async with running(stored(tmp_path, hostile()), size, glyphs) as shop:
        seen = ""
        for station in STATIONS:
            await shop.go(station)
            for _ in range({"parts": 20, "cuts": 20}.get(station, 5)):
                await shop.press("down")
                seen += shop.text
                assert all(cells(line) <= size[0] for line in shop.lines)
            await shop.press("?", "escape")
        for name in ("[/left]", "[red]A", "[true,false]"):
            assert name in seen
        assert all(character >= " " or character == "\n" for character in seen)
        if glyphs.ascii_only:
            assert [line for line in seen.split("\n") if not line.isascii()] == []
