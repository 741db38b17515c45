"""Keys that tick, by when they were pressed: held down, hit twice, or one after another on purpose."""

from __future__ import annotations

import asyncio
from pathlib import Path

import pytest
from driving import Driver, running
from projects_to_try import many_cuts, stored

from core.storage import open_project
from tui.stations.cuts import REPEAT
from tui.stations.held_key import AGAIN


async def to_the_cuts(shop: Driver, bench: bool) -> None:
    await shop.go("cuts")
    if bench:
        await shop.press("b")


def cuts(path: Path) -> int:
    """How many are ticked on the disk."""
    return len(open_project(path).project.facts.cuts)


async def hold(shop: Driver, key: str, first: float, repeats: int = 12) -> None:
    """Holds a key down: it comes again after `first` seconds, and then every 0.03."""
    shop.send(key)
    shop.send(key, first)
    for _ in range(repeats):
        shop.send(key, 0.03)
    await a_moment(shop)


async def a_moment(shop: Driver) -> None:
    await shop.settle()
    await asyncio.sleep(2 * AGAIN)
    await shop.settle()


async def test_two_presses_close_together_are_one_cut_however_late_the_second_is_dealt_with(tmp_path: Path) -> None:
    path = stored(tmp_path, many_cuts())
    async with running(path) as shop:
        await to_the_cuts(shop, bench=True)
        await shop.press("space")
        # The machine was busy all that time.
        await asyncio.sleep(REPEAT + 0.1)
        await shop.press("space", after=0.1)
        assert cuts(path) == 1


@pytest.mark.parametrize("first", [0.25, 0.6, 0.9])
@pytest.mark.parametrize("bench", [True, False])
async def test_a_space_that_is_held_down_ticks_one_cut(tmp_path: Path, bench: bool, first: float) -> None:
    path = stored(tmp_path, many_cuts())
    async with running(path) as shop:
        await to_the_cuts(shop, bench)
        number = min(one.number for one in shop.session.plan.steps)
        await hold(shop, "space", first)
        assert cuts(path) == 1
        if shop.question:
            await shop.answer()
        step = shop.station._step()
        assert step and step.number == number + 1, "the next cut is before the eye"
        await shop.press("space")
        assert cuts(path) == 2


async def test_a_backspace_that_is_held_down_takes_one_tick_back(tmp_path: Path) -> None:
    path = stored(tmp_path, many_cuts())
    async with running(path) as shop:
        await to_the_cuts(shop, bench=False)
        await shop.press("space", "space", "space")
        await shop.press("b")
        await hold(shop, "backspace", 0.6)
        assert cuts(path) == 2


async def test_presses_one_after_another_in_the_list_tick_a_cut_each(tmp_path: Path) -> None:
    path = stored(tmp_path, many_cuts())
    async with running(path) as shop:
        await to_the_cuts(shop, bench=False)
        shop.send("space")
        for _ in range(4):
            shop.send("space", 0.12)
        await a_moment(shop)
        assert cuts(path) == 5


async def test_a_tick_that_waits_is_made_before_one_is_taken_back(tmp_path: Path) -> None:
    path = stored(tmp_path, many_cuts())
    async with running(path) as shop:
        await to_the_cuts(shop, bench=True)
        await shop.press("space")
        if shop.question:
            await shop.answer()
        shop.send("space", 0.7)
        shop.send("backspace", 0.05)
        await a_moment(shop)
        assert cuts(path) == 1
