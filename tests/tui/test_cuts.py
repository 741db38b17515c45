"""The cut list: how a sheet opens, and what is said of the cut under the cursor."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from driving import SIZES, running
from projects_to_try import bench, many_cuts, stored, three_boards

from core.project import LoosePart, Saw
from core.steps_in_words import told_before, uncut_in_words


@pytest.mark.parametrize("size", SIZES)
async def test_trimming_is_told_once_and_ticked_cut_by_cut(tmp_path: Path, size: tuple[int, int]) -> None:
    async with running(stored(tmp_path, bench()), size) as shop:
        await shop.go("cuts")
        sheets = {planned.step.sheet for planned in shop.session.plan.steps}
        assert shop.list_text.count("trim all four edges by 1/4 in, kerf counted") == len(sheets)
        assert "trim all four edges" in shop.text
        for number in range(1, 5):
            assert f"> [ ]   {number}  " in shop.text
            await shop.press("space")
            assert len(shop.session.project.facts.cuts) == number
        assert told_before(shop.session.plan)[5] in shop.text
        assert "> [ ]   5  " in shop.text, "the line between is passed over"
        await shop.press("pagedown", "pagedown", "home")
        assert " settings of a fence or a line" in shop.lines[2], "what stands above is in view again"
        assert shop.lines[3].startswith(f"  {shop.session.plan.steps[0].step.sheet}")


async def test_what_a_name_stands_for_is_said_where_it_first_matters(tmp_path: Path) -> None:
    async with running(stored(tmp_path, bench())) as shop:
        await shop.go("cuts")
        assert " is piece " not in shop.text
        said = []
        for _ in range(12):
            await shop.press("down")
            said += [line.strip() for line in shop.lines if " is piece " in line]
        sheets = []
        for line in said:
            name, _, meaning = line.partition(" is ")
            sheet, _, number = name.rpartition(".")
            assert meaning == f"piece {number} of sheet {sheet}"
            sheets.append(sheet)
        assert sheets == ["ply-1", "ply-2"], "once for each sheet"
        await shop.press("?")
        assert "piece 17 of sheet" in " ".join(shop.text.split())


async def test_the_next_cut_is_in_view_however_low_the_window_becomes(tmp_path: Path) -> None:
    path = stored(tmp_path, many_cuts())
    async with running(path, (80, 40)) as shop:
        await shop.go("cuts")
        for _ in range(11):
            await shop.press("space")
        assert any(line.startswith("> [ ]  12 ") for line in shop.lines)
        for rows in (24, 18):
            await shop.resize(80, rows)
            assert any(line.startswith("> [ ]  12 ") for line in shop.lines), rows
    async with running(path) as shop:
        assert any(line.startswith("> [ ]  12 ") for line in shop.lines), "taken up where it was left"


@pytest.mark.parametrize("size", SIZES)
async def test_what_no_saw_can_cut_is_told_whole_however_narrow_the_window(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    design = replace(bench(), saws=(Saw("track saw", "track", "1/8", longest_cut="50"),))
    async with running(stored(tmp_path, design), size) as shop:
        await shop.go("cuts")
        told = uncut_in_words(shop.session.plan)
        assert told
        whole = " ".join(shop.list_text.split())
        assert all(f"! {sentence}" in whole for sentence in told)
        # The cursor stands in front, and the bar that scrolls behind.
        assert max(len(line) for line in shop.list_text.splitlines() if "!" in line) <= size[0] - 4
        await shop.resize(60, 20)
        assert max(len(line) for line in shop.list_text.splitlines() if "!" in line) <= 60 - 4


async def test_what_stands_below_the_cuts_is_reached_and_told_whole_and_nothing_is_ticked_there(tmp_path: Path) -> None:
    async with running(stored(tmp_path, bench())) as shop:
        await shop.go("cuts")
        await shop.press("end")
        assert "set-up" in shop.text and "Machining, once the parts are cut" not in shop.said
        assert shop.session.plan.steps and not shop.session.project.facts.cuts
        await shop.press("space")
        assert "on paper" in shop.said and not shop.session.project.facts.cuts
        # The bench shows a cut all the same, and an accident is one of a cut.
        await shop.press("b")
        assert shop.lines[0].startswith("[ ] Step 1 ")
        await shop.press("escape", "end", "x")
        assert shop.question == "What happened?"


async def test_the_cursor_stays_on_the_last_cut_when_it_is_ticked(tmp_path: Path) -> None:
    async with running(stored(tmp_path, bench())) as shop:
        await shop.go("cuts")
        steps = shop.session.plan.steps
        shop.session.tick_through(steps[-2].number)
        await shop.settle()
        await shop.press("n", "space")
        assert all(one.done for one in shop.session.plan.steps)
        await shop.press("x")
        assert shop.question == "What happened?"


async def test_the_next_cut_is_none_that_is_held_back_while_one_of_another_material_waits(tmp_path: Path) -> None:
    design = three_boards()
    ply = next(key for key in design.materials if key != "mdf")
    held = LoosePart("L3", "Door", ply, "500", "200", 1)
    side = LoosePart("L2", "Side", ply, "600", "300", 1)
    design = replace(design, loose=(*design.loose, side, held), held_back=("L3",))
    async with running(stored(tmp_path, design)) as shop:
        await shop.go("cuts")
        steps = shop.session.plan.steps
        first = {one.sheet.material: one.number for one in reversed(steps) if not one.step.held}
        of_ply = [one.number for one in steps if one.sheet.material == ply and not one.step.held]
        assert set(first) == {"mdf", ply} and steps[-1].step.held and steps[-1].sheet.material == ply
        # All the plywood that need not wait, before any of the MDF.
        for number in of_ply:
            shop.list.move_to(number.__eq__)
            await shop.press("space")
        shop.list.move_to(of_ply[-1].__eq__)
        await shop.press("n")
        assert f"> [ ] {first['mdf']:>3}  " in shop.text


async def test_sizes_nearly_the_same_are_asked_of_pair_by_pair_as_long_as_they_are_to_be_cut(tmp_path: Path) -> None:
    widths = ("100", "100.4", "200", "200.3")
    boards = tuple(LoosePart(f"L{n}", f"Board {n}", "mdf", "600", width) for n, width in enumerate(widths))
    async with running(stored(tmp_path, replace(three_boards(), loose=boards, show="mm 0.5"))) as shop:
        await shop.go("cuts")
        told = "differ by less than the tape shows"
        assert " ".join(shop.list_text.split()).count(f"{told}; e makes them one") == 2
        await shop.press("e", "down", "down", "enter")
        assert "200 (L3) and 200.3 (L4)" in shop.text, "the first two are left, the next two are asked of"
        await shop.press("down", "enter")
        assert [(one.size, one.cut_as) for one in shop.session.project.design.evened] == [("200 mm", "200.3 mm")]
        assert " ".join(shop.list_text.split()).count(told) == 1
        while not {"L1/1", "L2/1"} & {piece for cut in shop.session.project.facts.cuts for piece in cut.makes}:
            await shop.press("space")
        assert told not in " ".join(shop.list_text.split()), "one of the two is cut"
        await shop.press("e")
        assert "no two sizes are nearly the same" in shop.text
