"""The app under its pilot: from an empty project to ticked cuts, and what each station shows and does."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Literal

import pytest
from driving import SIZES, STATIONS, Driver, running
from projects_to_try import bench, stored

from core import edits
from core.drawing.lettering import cells
from core.editing.walk import WALK
from core.project import Bay
from core.starter import new_design
from core.storage import open_project

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
    await shop.press("home")
    return shop.text


SHOWS = {
    "space": ("True box", "Readings", "width, floor, back", "71 5/8", "Clearance wanted"),
    "goods": ("Saw", "kerf", '1/8"', "Material ply", "actual thickness", "23/32"),
    "piece": ("Carcass A: Left box", "Carcass B: Right box", "share", "height", "18", "depth", "20"),
    "parts": ("Side, left", "Bottom", "Back", "Seat", "ply", "backing", "left notch", "~3/4"),
    "sheets": ("Sheet 1 of", "ply-1", "96 x 48", "grain", "/1"),
    "cuts": ("ply-1", "[ ]   1  rip", "from bottom", "Step 1", "under the track", "waste"),
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


async def test_the_key_of_the_picture_says_what_it_shows(tmp_path: Path) -> None:
    async with running(stored(tmp_path, bench())) as shop:
        for station, beside, shown in (
            ("space", "walls", "The lean of the left wall is not measured"),
            ("goods", "used so far", "of its parts placed"),
            ("piece", "picture", "┌"),
        ):
            await shop.go(station)
            assert f"  v {beside}  " in shop.lines[-1]
            assert shown not in shop.text
            await shop.press("v")
            assert "v list  " in shop.lines[-1]
            assert shown in shop.text
            await shop.press("v")
            assert f"  v {beside}  " in shop.lines[-1]
        await shop.resize(120, 40)
        for station in STATIONS:
            await shop.go(station)
            drawn = station == "parts"
            assert (" v " in shop.lines[-1]) is drawn, "nothing is to be changed where both are shown, or there is none"


async def test_a_picture_of_nothing_says_so(tmp_path: Path) -> None:
    async with running(stored(tmp_path, replace(bench(), row=(), tops=()))) as shop:
        await shop.go("piece")
        await shop.press("v")
        assert "Nothing to draw yet" in shop.text


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
        number = next(one.unsuited for one in shop.session.plan.sheets if one.material == "ply")
        assert number and f"1 wrong: {number} of ply unsuited" in shop.lines[-2]
        await shop.go("sheets")
        assert f"was laid out on {shop.session.plan.steps[0].step.sheet} as" in shop.text


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
