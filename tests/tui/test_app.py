"""The app under its pilot: the guided walk, every station at two sizes, keys, fields, resizing, hostile names."""

from __future__ import annotations

import asyncio
from pathlib import Path
from typing import Literal

import pytest
from driving import SIZES, STATIONS, AtOnce, Driver, running
from projects_to_try import HOSTILE, bench, hostile, opened, stored, three_boards
from textual import events
from textual.worker import WorkerFailed

from core import edits
from core.drawing.glyphs import ASCII, UNICODE, Glyphs
from core.drawing.lettering import cells
from core.editing.walk import WALK
from core.layout.job import Job
from core.layout.tree import Layout
from core.project import Bay
from core.starter import new_design
from core.storage import open_project
from tui.searching import Searcher

ANSWERS = {
    "in": {
        "Width at the floor, at the back": "71 5/8",
        "Width at the floor, at the front": '71-1/2"',
        "Depth of the space": "2 ft",
        "Floor to ceiling": "8'",
        "Height of the baseboard at the back": "3 1/2",
        "Price of one sheet of it": "84.50",
        "Their height": "18 3/4",
        "Their depth": "20",
        "A top over all of it: how many layers?": "1",
    },
    "mm": {
        "Width at the floor, at the back": "1820",
        "Width at the floor, at the front": "181,5 cm",
        "Depth of the space": "0.6 m",
        "Floor to ceiling": "2440",
        "Height of the baseboard at the back": "90",
        "Price of one sheet of it": "84.50",
        "Their height": "460",
        "Their depth": "510",
        "A top over all of it: how many layers?": "1",
    },
}
"""Answers to the walk where the default will not do."""


@pytest.mark.parametrize("unit", ["in", "mm"])
async def test_from_an_empty_project_to_ticked_cuts_and_back(tmp_path: Path, unit: Literal["in", "mm"]) -> None:
    path = stored(tmp_path, new_design("Window bench", unit))
    answers = dict(ANSWERS[unit])
    async with running(path) as shop:
        asked = []
        while shop.question:
            _, _, label = shop.question.partition(" ")
            asked.append(label)
            # Whatever is asked, it is asked at its station, and what stands there already is an answer.
            step = int(shop.question.partition("/")[0]) - 1
            assert shop.session.station == WALK[step].station.lower()
            await shop.answer(answers.pop(label, None))
            assert len(asked) <= len(WALK)
        assert not answers
        assert asked[0] == "What do you call the place?"
        design = shop.session.design
        assert [reading.size for reading in design.space.readings][:2] == list(ANSWERS[unit].values())[:2]
        assert len(design.row) == 2
        assert len(design.tops) == 1
        # The person sees what was made of it, station by station.
        assert "True box" in await at(shop, "space")
        assert "Carcass A: Base" in await at(shop, "piece")
        assert "Side, left" in await at(shop, "parts")
        assert "Sheet 1 of" in await at(shop, "sheets")
        assert "[ ]   1" in await at(shop, "cuts")
        assert "dry fit" in await at(shop, "checks")
        assert "84.50" in (await at(shop, "buy")).replace("169.00", "84.50").replace("253.50", "84.50")
        assert "Dry fit" in await at(shop, "build")
        await shop.go("cuts")
        for number in (1, 2, 3):
            await shop.press("space")
            assert f"ticked: step {number}" in shop.said
        assert shop.text.count("[x]") == 3
        assert "3/" in shop.lines[-2]
        await shop.press("q")
    assert [one.name for one in tmp_path.iterdir() if "lock" in one.name] == []
    stored_again = open_project(path).project
    assert len(stored_again.facts.cuts) == 3
    assert stored_again.design == design
    async with running(path) as shop:
        assert shop.said.startswith("You were last here on 20")
        assert shop.said.endswith("at Cuts.")
        assert shop.session.station == "cuts"
        assert shop.text.count("[x]") == 3
        # And the next cut is under the cursor.
        assert shop.list.key == 4


async def at(shop: Driver, station: str) -> str:
    """What the screen shows at a station."""
    await shop.go(station)
    return shop.text


SHOWS = {
    "space": ("True box", "Readings", "width, floor, back", "71 5/8", "Clearance wanted"),
    "goods": ("Saw", "kerf", '1/8"', "Material ply", "actual thickness", "23/32"),
    "piece": ("Carcass A: Left box", "Carcass B: Right box", "share", "height", "18", "depth", "20"),
    "parts": ("Side, left", "Bottom", "Back", "Seat", "ply", "backing", "left notch", "~3/4"),
    "sheets": ("Sheet 1 of", "ply-1", "96 x 48", "grain", "/1"),
    "cuts": ("ply-1", "[ ]   1  rip", "from bottom", "Step 1", "against the fence", "waste"),
    "checks": ("ok", "space: width", "dry fit", "Source"),
    "buy": ("[ ]", "sheet", "Plywood 3/4, 96 x 48", "Together", "$"),
    "build": ("Bring the sheets to the saw", "Dry fit without glue", "Carcass A"),
}
"""What each station is there to tell of the bench."""


@pytest.mark.parametrize("size", SIZES)
async def test_every_station_shows_what_it_is_there_for(tmp_path: Path, size: tuple[int, int]) -> None:
    async with running(stored(tmp_path, bench()), size) as shop:
        for number, station in enumerate(STATIONS, start=1):
            text = await at(shop, station)
            missing = [words for words in SHOWS[station] if words not in text]
            assert not missing, f"{station} at {size}: {missing}\n{text}"
            assert f"[{number} {station.capitalize()}]" in shop.lines[1]
            assert "Window bench" in shop.lines[0]
            assert "sheets" in shop.lines[-2]
            assert all(cells(line) <= size[0] for line in shop.lines)
            assert len(shop.lines) == size[1]


async def test_stations_are_walked_forwards_and_back(tmp_path: Path) -> None:
    async with running(stored(tmp_path, bench())) as shop:
        await shop.go("space")
        for station in STATIONS[1:]:
            await shop.press("]")
            assert shop.session.station == station
        await shop.press("]")
        assert shop.session.station == "build"
        for station in reversed(STATIONS[:-1]):
            await shop.press("[")
            assert shop.session.station == station
        await shop.press("[")
        assert shop.session.station == "space"
        await shop.press("ctrl+right", "ctrl+right", "ctrl+left")
        assert shop.session.station == "goods"


@pytest.mark.parametrize("size", SIZES)
async def test_every_station_has_help(tmp_path: Path, size: tuple[int, int]) -> None:
    async with running(stored(tmp_path, bench()), size) as shop:
        for station in STATIONS:
            await shop.go(station)
            behind = shop.text
            await shop.press("?")
            assert f"Station {station.capitalize()}" in shop.text
            words = " ".join(shop.station.HELP.split())[:40]
            assert words in " ".join(shop.text.split())
            pages = [shop.text]
            while shop.text not in pages[:-1]:
                await shop.press("pagedown")
                pages.append(shop.text)
            assert "Keys everywhere" in "".join(pages)
            assert "ctrl+q" in "".join(pages).lower()
            await shop.press("escape")
            assert shop.text == behind


async def test_help_of_the_sheets_names_the_key_that_keeps_a_layout(tmp_path: Path) -> None:
    async with running(stored(tmp_path, bench())) as shop:
        await shop.go("sheets")
        bound = shop.station._merged_bindings.key_to_bindings
        (keeps,) = [key for key, found in bound.items() if found[0].action == "keep"]
        assert f" {keeps} keeps it in the project" in " ".join(shop.station.HELP.split())


def depth(shop: Driver) -> str:
    """How deep the first carcass is, as typed."""
    return str(edits.value_at(shop.session.design, ("row", 0, "depth")))


async def test_a_field_is_checked_as_it_is_left(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    async with running(path) as shop:
        await shop.go("piece")
        await shop.cursor_to("depth")
        text = path.read_text()
        await shop.press("enter")
        assert (shop.question, shop.typed) == ("depth", "20")
        for bad in ("wide", "20 20", "-3", "clear_widht - 1", "18,3,1", "1/0"):
            await shop.answer(bad)
            assert shop.question == "depth", bad
            assert shop.typed == bad
            assert shop.said, bad
            assert path.read_text() == text
        await shop.press("tab")
        assert shop.question == "depth", "a bad answer does not go by Tab either"
        assert path.read_text() == text
        await shop.type("19 1/4")
        await shop.press("tab")
        assert not shop.question
        assert depth(shop) == "19 1/4"
        assert open_project(path).project.design == shop.session.design
        # The keys are the list's again.
        await shop.press("enter")
        assert shop.question == "depth"


async def test_a_click_elsewhere_takes_no_open_question_away(tmp_path: Path) -> None:
    async with running(stored(tmp_path, bench())) as shop:
        await shop.go("piece")
        await shop.cursor_to("depth")
        await shop.press("enter")
        await shop.type("19 1")
        for row in (6, 7, 7):
            await shop.pilot.click(shop.list, offset=(10, row))
            await shop.settle()
            assert (shop.question, shop.typed) == ("depth", "19 1")
        await shop.press("slash", "4", "enter")
        assert depth(shop) == "19 1/4"


async def test_escape_leaves_a_question_and_changes_nothing(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    async with running(path) as shop:
        await shop.go("piece")
        await shop.cursor_to("depth")
        text = path.read_text()
        await shop.press("enter")
        await shop.type("12")
        await shop.press("escape")
        assert not shop.question
        assert depth(shop) == "20"
        assert path.read_text() == text
        await shop.press("enter")
        assert shop.typed == "20"


async def test_choices_are_walked_through_and_completed(tmp_path: Path) -> None:
    async with running(stored(tmp_path, bench())) as shop:
        await shop.go("piece")
        await shop.cursor_to("base ")
        await shop.press("enter")
        assert shop.typed == "kick"
        await shop.press("down")
        assert shop.typed == "plinth"
        await shop.press("up", "up")
        assert shop.typed == "none"
        await shop.answer("pl")
        assert shop.session.design.rules["base"] == "plinth"
        await shop.press("enter")
        await shop.answer("wheels")
        assert shop.question
        assert "kick, plinth, none" in shop.said


async def test_undo_and_redo(tmp_path: Path) -> None:
    async with running(stored(tmp_path, bench())) as shop:
        await shop.go("piece")
        await shop.press("u")
        assert shop.said == "nothing to undo"
        await shop.cursor_to("depth")
        await shop.press("minus")
        assert depth(shop) == "19 15/16"
        await shop.press("u")
        assert depth(shop) == "20"
        assert shop.said.startswith("undone")
        await shop.press("U")
        assert depth(shop) == "19 15/16"
        await shop.press("U")
        assert shop.said == "nothing to do again"


async def test_a_nudge_is_one_step_of_the_tape_and_tells_what_it_costs(tmp_path: Path) -> None:
    async with running(stored(tmp_path, bench("mm"))) as shop:
        await shop.go("piece")
        await shop.cursor_to("depth")
        await shop.press("plus", "plus", "equals_sign")
        assert depth(shop) == "513"
        await shop.press("minus")
        assert depth(shop) == "512"
        await shop.cursor_to("row width")
        await shop.press("plus")
        assert "formula" in shop.said
        assert shop.session.design.row_width == "clear_width"
        sheets = sum(len(one.sheets) for one in shop.session.plan.sheets)
        await shop.cursor_to("depth")
        await shop.press("enter")
        await shop.answer("1150")
        now = sum(len(one.sheets) for one in shop.session.plan.sheets)
        assert now > sheets
        assert f"sheets {sheets} -> {now}" in shop.said


async def test_things_are_added_removed_copied_and_moved(tmp_path: Path) -> None:
    async with running(stored(tmp_path, bench())) as shop:
        await shop.go("piece")
        await shop.cursor_to("row width")
        await shop.press("a")
        assert shop.question == "Add"
        await shop.answer("gap")
        await shop.answer("Stool")
        await shop.answer("12")
        names = lambda: [one.name for one in shop.session.design.row]  # noqa: E731
        assert names() == ["Left box", "Right box", "Stool"]
        await shop.cursor_to("Carcass A")
        await shop.press("c")
        assert names() == ["Left box", "Left box", "Right box", "Stool"]
        await shop.cursor_to("Stool")
        await shop.press("(")
        assert names() == ["Left box", "Left box", "Stool", "Right box"]
        await shop.press(")", ")", ")")
        assert names() == ["Left box", "Left box", "Right box", "Stool"]
        await shop.press("d")
        assert names() == ["Left box", "Left box", "Right box"]
        assert "u brings it back" in shop.said
        await shop.press("u")
        assert names() == ["Left box", "Left box", "Right box", "Stool"]
        await shop.cursor_to("Carcass A")
        await shop.press("a")
        await shop.answer("bay")
        await shop.answer()
        await shop.answer("1")
        await shop.answer("2")
        assert shop.session.design.row[0].bays[-1].adjustable_shelves == 2  # type: ignore[union-attr]
        await shop.press("a")
        await shop.answer("rule")
        await shop.answer("back")
        await shop.answer("let in")
        assert shop.session.design.row[0].rules == {"back": "let in"}  # type: ignore[union-attr]


async def test_every_kind_of_thing_can_be_added(tmp_path: Path) -> None:
    """Each form is gone through with what it offers; where it offers nothing, with a size or a name."""
    async with running(stored(tmp_path, bench())) as shop:
        for station in ("space", "goods", "piece"):
            await shop.go(station)
            await shop.press("end", "a")
            asked = shop.app.query_one("EntryLine").asked  # type: ignore[attr-defined]
            kinds = [kind for kind in asked.choices if kind != "rule of its own"]
            await shop.press("escape")
            for kind in kinds:
                before = shop.session.design
                await shop.press("a")
                await shop.answer(kind)
                while shop.question:
                    label = shop.question
                    await shop.answer("odd_name" if label.endswith("name, for formulas") else None)
                    if shop.question == label:
                        await shop.answer("more" if label.endswith("name") else "7")
                    assert shop.question != label, (kind, label, shop.said)
                assert shop.session.design != before, kind
                await shop.press("u")
                assert shop.session.design == before, kind


async def test_the_picture_takes_the_place_of_the_list_and_gives_it_back(tmp_path: Path) -> None:
    async with running(stored(tmp_path, bench())) as shop:
        await shop.go("piece")
        assert "Named dimensions" in shop.text
        assert "┌" not in shop.text
        await shop.press("v")
        assert "Named dimensions" not in shop.text
        assert "┌" in shop.text
        await shop.press("v")
        assert "Named dimensions" in shop.text
    async with running(stored(tmp_path, bench(), "wide.toml"), (120, 40)) as shop:
        await shop.go("piece")
        assert "Named dimensions" in shop.text
        assert "┌" in shop.text


async def test_sizes_are_shown_another_way_and_stay_as_typed(tmp_path: Path) -> None:
    async with running(stored(tmp_path, bench())) as shop:
        await shop.go("parts")
        assert "23/32" not in shop.text
        await shop.press("m")
        assert "23/32" in shop.text
        for _ in range(3):
            await shop.press("m")
        assert "18.3" not in shop.text
        assert "millimetres" in shop.lines[0]
        assert edits.value_at(shop.session.design, ("row", 0, "depth")) == "20"
        assert shop.session.design.materials["ply"].actual == "23/32"


async def test_cuts_are_ticked_in_their_order(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    async with running(path) as shop:
        await shop.go("cuts")
        await shop.press("down", "space")
        assert "tick that first" in shop.said
        assert "[x]" not in shop.text
        await shop.press("n", "space", "space")
        assert shop.text.count("[x]") == 2
        assert len(open_project(path).project.facts.cuts) == 2
        await shop.press("home", "backspace")
        assert "un-tick that first" in shop.said
        await shop.press("down", "backspace")
        assert shop.text.count("[x]") == 1
        await shop.go("piece")
        await shop.cursor_to("depth")
        await shop.press("minus", "u")
        await shop.go("cuts")
        assert shop.text.count("[x]") == 1, "undo takes no tick away"


async def test_what_is_cut_otherwise_than_the_design_says_is_told(tmp_path: Path) -> None:
    async with running(stored(tmp_path, bench())) as shop:
        await shop.go("cuts")
        await shop.press("space")
        await shop.go("piece")
        await shop.cursor_to("depth")
        await shop.press("enter")
        await shop.answer("17")
        assert "on begun sheets of ply" in shop.lines[-2]
        await shop.go("sheets")
        assert f"lies on {shop.session.plan.steps[0].step.sheet} as" in shop.text


async def test_things_are_ticked_on_the_buying_list(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    async with running(path) as shop:
        await shop.go("buy")
        await shop.press("space")
        assert shop.text.count("[x]") == 1
        assert len(open_project(path).project.facts.bought) == 1
        await shop.press("space")
        assert shop.text.count("[x]") == 0


async def test_names_of_parts_are_whole_where_there_is_room(tmp_path: Path) -> None:
    """An adjustable shelf is the longest of the usual names."""
    design = edits.set_value(bench("mm"), ("row", 0, "bays"), (Bay(adjustable_shelves=1),))
    async with running(stored(tmp_path, design)) as shop:
        await shop.go("parts")
        assert "Adjustable shelf" in shop.list_text
        await shop.resize(120, 40)
        assert "Adjustable shelf" in shop.list_text


async def test_sheets_and_parts_are_stepped_through_and_kept(tmp_path: Path) -> None:
    async with running(stored(tmp_path, bench())) as shop:
        await shop.go("sheets")
        count = sum(len(one.sheets) for one in shop.session.plan.sheets)
        assert f"Sheet 1 of {count}" in shop.text
        first = shop.said
        await shop.press("down")
        assert shop.said != first
        await shop.press("right")
        assert f"Sheet 2 of {count}" in shop.text
        await shop.press("left", "left")
        assert f"Sheet {count} of {count}" in shop.text
        await shop.press("s")
        assert ", kept" in shop.text
        assert shop.session.project.facts.layouts
        await shop.press("l")
        assert ", kept" not in shop.text
        assert not shop.session.project.facts.layouts


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


async def test_keys_are_told_whole_or_not_at_all(tmp_path: Path) -> None:
    async with running(stored(tmp_path, bench()), (62, 18)) as shop:
        for station in STATIONS:
            await shop.go(station)
            told = [one.strip() for one in shop.lines[-1].split("  ") if one.strip()]
            known = {binding.description for _, binding, *_ in shop.app.screen.active_bindings.values()}
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
        assert narrow.endswith(")"), "what did not fit is counted"
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


async def test_a_window_too_small_from_the_beginning(tmp_path: Path) -> None:
    async with running(stored(tmp_path, bench()), (30, 8)) as shop:
        assert "Too small" in shop.text
        await shop.press("3")
        await shop.resize(80, 24)
        assert shop.session.station == "space"
        assert "True box" in shop.text
        await shop.press("3")
        assert shop.session.station == "piece"


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


async def test_hostile_answers_are_taken_as_text(tmp_path: Path) -> None:
    async with running(stored(tmp_path, bench())) as shop:
        await shop.go("piece")
        for name in HOSTILE[:3]:
            await shop.cursor_to("name ")
            await shop.press("enter")
            await shop.answer(name)
            assert not shop.question
            assert shop.session.design.name == name
            assert name in shop.text
        await shop.press("enter")
        await shop.pilot.press("end", "ctrl+u")
        shop.app.screen.focused.post_message(events.Paste("two\nlines \x1b[31mred\x07"))  # type: ignore[union-attr]
        await shop.settle()
        assert shop.typed.isprintable()
        assert shop.typed.startswith("two lines")


class Waits(AtOnce):
    """Answers when it is told to, and counts what it is asked."""

    def __init__(self) -> None:
        self.asked: list[str] = []
        self.go_on = asyncio.Event()

    async def answer(self, job: Job) -> Layout:
        self.asked.append(job.fingerprint())
        await self.go_on.wait()
        return await super().answer(job)


async def test_a_search_under_way_blocks_no_key(tmp_path: Path) -> None:
    searcher = Waits()
    async with running(stored(tmp_path, bench()), searcher=lambda: searcher, laid_out=False) as shop:
        assert "laying out" in shop.lines[-2]
        for number, station in enumerate(STATIONS, start=1):
            shop.send(str(number))
            await shop.calm()
            assert shop.session.station == station
        assert len(searcher.asked) == 1, "going from station to station does not begin the search again"
        shop.send("6")
        await shop.calm()
        assert "Laying out" in shop.text
        shop.send("space")
        await shop.calm()
        assert not shop.session.project.facts.cuts
        shop.send("3")
        await shop.calm()
        while shop.list.key != ("row", 0, "depth"):
            shop.send("down")
            await shop.calm()
        # An edit meanwhile makes the question that is being answered an old one.
        shop.send("plus")
        await shop.calm()
        assert depth(shop) == "20 1/16"
        assert len(set(searcher.asked)) == 2
        searcher.go_on.set()
        await shop.settle()
        assert not shop.session.plan.pending
        assert "sheets" in shop.lines[-2]


async def test_leaving_does_not_wait_for_a_search(tmp_path: Path) -> None:
    async with running(stored(tmp_path, bench()), searcher=Waits, laid_out=False) as shop:
        shop.send("q")
        await shop.calm()
        assert shop.app._exit


async def test_the_child_that_lays_sheets_out_ends_with_the_app(tmp_path: Path) -> None:
    async with running(stored(tmp_path, three_boards()), searcher=Searcher) as shop:
        assert "1 sheet" in shop.lines[-2]
        child = shop.app.bench.searcher._child
        assert child is not None and child.returncode is None
    assert child.returncode is not None


async def test_a_fault_in_the_search_is_no_silence(tmp_path: Path) -> None:
    class Broken(AtOnce):
        async def answer(self, job: Job) -> Layout:
            raise ZeroDivisionError("in the search")

    with pytest.raises(WorkerFailed, match="in the search"):
        async with running(stored(tmp_path, bench()), searcher=Broken):
            pass


async def test_keys_typed_ahead_go_where_they_were_meant_to(tmp_path: Path) -> None:
    """Over a slow line several keys arrive at once; the second is for the station that the first goes to."""
    async with running(stored(tmp_path, bench())) as shop:
        await shop.go("buy")
        for key in ("6", "space", "space"):
            shop.send(key)
        await shop.settle()
        assert shop.session.station == "cuts"
        assert len(shop.session.project.facts.cuts) == 2
        assert not shop.session.project.facts.bought


async def test_a_second_opener_is_told_and_sees_ticks(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    first = opened(path)
    async with running(path) as shop:
        assert "Read only: open elsewhere:" in shop.said
        assert "read only" in shop.lines[0]
        await shop.go("piece")
        await shop.press("d")
        assert "nothing here can be removed" in shop.said
        await shop.cursor_to("depth")
        await shop.press("d")
        assert "nothing can be changed here" in shop.said
        assert len(shop.session.design.row) == 2
        await shop.press("enter")
        assert not shop.question
        assert "nothing can be changed here" in shop.said
        await shop.go("cuts")
        first.tick(1)
        shop.app.bench.look_at_file()
        await shop.settle()
        assert shop.text.count("[x]") == 1
    first.leave()


@pytest.mark.parametrize("station", ["piece", "cuts", "buy", "sheets"])
async def test_a_change_by_an_editor_is_asked_about_before_anything_is_overwritten(
    tmp_path: Path, station: str
) -> None:
    path = stored(tmp_path, bench())
    async with running(path) as shop:
        edited = path.read_text().replace("Window bench", "Door bench")
        for choice in ("keep mine as a copy", "read it again"):
            await shop.go(station)
            path.write_text(edited)
            if station == "piece":
                await shop.cursor_to("depth")
            await shop.press({"piece": "enter", "sheets": "s"}.get(station, "space"))
            if station == "piece":
                await shop.answer("19")
            assert shop.question == "Changed on disk by another program"
            await shop.answer(choice)
            assert not shop.question
            assert path.read_text() == edited
            if choice.startswith("keep"):
                assert shop.session.opened.path.name == "bench-mine-1.toml"
                assert "bench-mine-1.toml" in shop.said
                path = shop.session.opened.path
                edited = path.read_text().replace("Window bench", "Door bench")
        assert "Door bench" in shop.lines[0]


async def test_a_file_spoiled_by_an_editor_is_not_said_to_be_read(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    async with running(path) as shop:
        await shop.go("cuts")
        spoiled = path.read_text() + "junk = = 3\n"
        path.write_text(spoiled)
        await shop.press("space")
        await shop.answer("read it again")
        assert "junk" in shop.said
        assert "read again" not in shop.said
        assert path.read_text() == spoiled
        assert "Window bench" in shop.lines[0]


async def test_an_answer_that_cannot_be_stored_does_not_lead_on(tmp_path: Path) -> None:
    """The walk must not go from question to question while nothing of it reaches the disk."""
    path = stored(tmp_path, new_design("Window bench", "in"))
    async with running(path) as shop:
        await shop.answer()
        asked = shop.question
        path.chmod(0o444)
        await shop.answer("70")
        assert "read-only" in shop.said
        assert not shop.session.design.space.readings
        assert shop.question in ("", asked)
        await shop.press("3")
        assert shop.session.station == "piece" or shop.question == asked
