"""The guided walk on the screen: the list goes along with the questions."""

from __future__ import annotations

from pathlib import Path

import pytest
from driving import SIZES, running
from projects_to_try import bench, stored

from core.editing.walk import WALK


@pytest.mark.parametrize("size", SIZES)
async def test_the_cursor_stands_on_the_field_that_is_asked_about(tmp_path: Path, size: tuple[int, int]) -> None:
    async with running(stored(tmp_path, bench()), size) as shop:
        await shop.press("w")
        seen = []
        while shop.question:
            step = WALK[int(shop.question.partition("/")[0]) - 1]
            field = step.field(shop.session.design)
            assert shop.session.station == step.station.lower()
            key = shop.list.key
            there = isinstance(key, tuple) and (key == field or key[: len(field)] == field)
            if field not in (("space", "baseboards"), ("space", "readings")):
                assert there, (shop.question, key)
                seen.append(field)
            assert any(line.startswith("> ") for line in shop.lines), "and it is in view"
            said = shop.said
            await shop.calm()
            assert shop.said == said, "the question's hint stays"
            await shop.answer()
        assert ("space", "clearance", "left") in seen
        assert ("row", 0, "depth") in seen
        assert ("rules", "kick_height") in seen


async def test_each_carcass_that_is_added_has_a_name_of_its_own(tmp_path: Path) -> None:
    async with running(stored(tmp_path, bench())) as shop:
        await shop.go("piece")
        for name in ("Base", "Base 2"):
            await shop.press("end", "a")
            await shop.answer("carcass")
            assert shop.typed == name
            for _ in range(4):
                await shop.answer()
        assert [one.name for one in shop.session.design.row][2:] == ["Base", "Base 2"]
