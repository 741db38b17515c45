"""The parts station: what the list says already is not said again below it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from driving import SIZES, running
from projects_to_try import bench, stored

from core.project import LoosePart


@pytest.mark.parametrize("size", SIZES)
async def test_below_the_list_stands_only_what_it_does_not_say(tmp_path: Path, size: tuple[int, int]) -> None:
    async with running(stored(tmp_path, bench()), size) as shop:
        await shop.go("parts")
        assert shop.text.count("Side, left") == shop.text.count("thick") == 1
        assert any(line.startswith("S1/1 A side left") for line in shop.lines), "where each piece goes"
        assert "◄" in shop.text and "20 " in shop.text, "and there is room for the sizes in the drawing"


async def test_a_name_that_the_list_cuts_off_is_whole_below(tmp_path: Path) -> None:
    name = "Cleat behind the top, at the wall"
    design = replace(bench(), loose=(LoosePart("L", name, "ply", "30", "3"),))
    async with running(stored(tmp_path, design)) as shop:
        await shop.go("parts")
        await shop.press("end")
        assert name not in shop.list_text
        assert f"{name}: L1/1 loose L 1" in shop.text


async def test_in_the_large_drawing_n_goes_to_the_next_part_and_the_foot_says_so(tmp_path: Path) -> None:
    async with running(stored(tmp_path, bench())) as shop:
        await shop.go("parts")
        assert "n next part" not in shop.lines[-1]
        await shop.press("v")
        first = shop.text
        assert "n next part" in shop.lines[-1]
        await shop.press("n")
        second = shop.text
        assert second != first
        await shop.press("N")
        assert shop.text == first


async def test_what_holding_a_part_back_comes_to_is_said_where_it_is_asked(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    async with running(path) as shop:
        await shop.go("parts")
        await shop.press("h")
        assert "is held back; Cuts says whether it can wait" in shop.said
        await shop.press("h")
        assert "with all others" in shop.said
        every = len(shop.session.plan.steps)
        shop.session.tick_through(every)
        await shop.settle()
        await shop.press("h")
        assert "is cut already: there is nothing left to hold back" in shop.said
