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
