"""From a check to what mends it."""

from __future__ import annotations

from pathlib import Path

import pytest
from driving import SIZES, running
from projects_to_try import bench, stored

from core import edits


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("seen", [True, False], ids=["station seen before", "station new"])
async def test_enter_on_a_check_goes_to_the_field_that_mends_it(
    tmp_path: Path, size: tuple[int, int], seen: bool
) -> None:
    design = edits.set_value(bench(), ("row", 1, "height"), "97")
    async with running(stored(tmp_path, design), size) as shop:
        if seen:
            await shop.go("piece")
        await shop.go("checks")
        await shop.cursor_to("space: height")
        assert "Enter goes there, at Piece" in shop.text
        await shop.press("enter")
        assert shop.session.station == "piece"
        assert shop.list.key == ("row", 1, "height")
        assert shop.said.startswith("space: make it ") and shop.said.endswith("less in height")
        assert any(line.startswith("> height") for line in shop.lines)
        await shop.press("enter")
        assert shop.question == "height", "the keys are the list's"
        await shop.answer("30")
        await shop.go("checks")
        await shop.cursor_to("ok    space: height")


async def test_a_check_that_no_field_mends_says_so(tmp_path: Path) -> None:
    async with running(stored(tmp_path, bench())) as shop:
        await shop.go("checks")
        await shop.cursor_to("ok    dry fit")
        await shop.press("enter")
        assert shop.session.station == "checks"
        assert shop.said == "that holds as it is"


async def test_what_would_mend_it_is_in_view_in_a_small_window(tmp_path: Path) -> None:
    """A sagging shelf has the longest of the usual words."""
    design = edits.set_value(bench(), ("row", 0, "bays", 0, "fixed_shelves"), ("even",))
    design = edits.set_value(design, ("materials", "ply", "stiffness"), "900")
    async with running(stored(tmp_path, design)) as shop:
        await shop.go("checks")
        await shop.cursor_to("sag: Shelf")
        told = " ".join(shop.text.split())
        assert "What would mend it: a support below its middle" in told and "a narrower bay" in told
        assert "Enter goes there" in told
