"""Keys that are pressed while a project is still being opened."""

from __future__ import annotations

from pathlib import Path
from unittest.mock import patch

import pytest
from driving import AtOnce, Driver
from projects_to_try import bench, stored

import tui.app
from core.drawing.glyphs import UNICODE
from core.starter import new_design
from tui.app import SawhorseApp


class Early(SawhorseApp):
    """Presses keys at the two moments before the project is open: frame not painted yet, and project being read."""

    CSS_PATH = Path(tui.app.__file__).with_name("sawhorse.tcss")

    def __init__(self, path: Path, first: tuple[str, ...], then: tuple[str, ...]) -> None:
        super().__init__(path, UNICODE, "ansi-dark")
        self.first, self.then = first, then

    def on_mount(self) -> None:
        for key in self.first:
            Driver.send(Driver(None, self), key)  # type: ignore[arg-type]

    async def _open(self) -> None:
        for key in self.then:
            Driver.send(Driver(None, self), key)  # type: ignore[arg-type]
        await super()._open()


@pytest.mark.parametrize(
    ("first", "then"),
    [(("3", "down"), ()), ((), ("3", "down")), (("3",), ("down",)), (("2", "3"), ("home", "down"))],
)
async def test_keys_pressed_while_a_project_opens_are_kept(
    tmp_path: Path, first: tuple[str, ...], then: tuple[str, ...]
) -> None:
    app = Early(stored(tmp_path, bench()), first, then)
    with patch("tui.bench.Searcher", AtOnce):
        async with app.run_test(size=(80, 24)) as pilot:
            shop = Driver(pilot, app)
            while app.bench is None:
                # A busy machine may leave the queues empty before the file is read.
                await pilot.pause(0.01)
            await shop.settle()
            assert shop.session.station == "piece"
            assert shop.list.key == ("row_width",), "the second line"
    assert app.bench is not None
    app.bench.session.leave()


async def test_keys_of_the_first_station_are_kept(tmp_path: Path) -> None:
    app = Early(stored(tmp_path, bench()), ("down", "down"), ("enter",))
    with patch("tui.bench.Searcher", AtOnce):
        async with app.run_test(size=(80, 24)) as pilot:
            shop = Driver(pilot, app)
            while app.bench is None:
                # A busy machine may leave the queues empty before the file is read.
                await pilot.pause(0.01)
            await shop.settle()
            assert shop.question == "floor out of level"
    assert app.bench is not None
    app.bench.session.leave()


async def test_an_answer_typed_ahead_goes_into_the_walk(tmp_path: Path) -> None:
    app = Early(stored(tmp_path, new_design("New", "mm")), ("h", "a"), ("l", "l", "enter"))
    with patch("tui.bench.Searcher", AtOnce):
        async with app.run_test(size=(80, 24)) as pilot:
            shop = Driver(pilot, app)
            while app.bench is None:
                # A busy machine may leave the queues empty before the file is read.
                await pilot.pause(0.01)
            await shop.settle()
            assert shop.session.design.space.name == "hall"
            assert shop.question.startswith("2/")
    assert app.bench is not None
    app.bench.session.leave()


async def test_quitting_is_not_put_off(tmp_path: Path) -> None:
    app = Early(stored(tmp_path, bench()), ("d", "q"), ())
    with patch("tui.bench.Searcher", AtOnce):
        async with app.run_test(size=(80, 24)) as pilot:
            await Driver(pilot, app).settle()
            assert app._exit
    if app.bench:
        app.bench.session.leave()
