"""Keys: each binding has an id and can be given another key; no key that is swallowed on the way is the only one."""

from __future__ import annotations

import re
from pathlib import Path
from unittest.mock import patch

import pytest
from driving import AtOnce, Driver
from projects_to_try import bench, stored
from textual.app import App
from textual.dom import DOMNode

from core.drawing.glyphs import UNICODE
from tui.app import SawhorseApp
from tui.keys import own_bindings
from tui.screens import HelpPage, TooSmall
from tui.start import StartApp
from tui.stations import NAMES, station_class
from tui.stations.ledger import Fields
from tui.widgets.entry import AnswerInput
from tui.widgets.keys import KeysLine
from tui.widgets.rows import Rows

OWNERS: tuple[type[DOMNode], ...] = (
    SawhorseApp,
    StartApp,
    HelpPage,
    TooSmall,
    AnswerInput,
    Rows,
    Fields,
    *map(station_class, NAMES),
)
SAFE = re.compile(
    r"[a-zA-Z0-9]|f[1-9]|f10|up|down|left|right|home|end|pageup|pagedown|enter|escape|tab|shift\+tab|space|backspace|"
    r"delete|plus|minus|equals_sign|question_mark|left_square_bracket|right_square_bracket|left_parenthesis|"
    r"right_parenthesis"
)
"""Keys that tmux and every terminal pass on; of those with Ctrl several are taken on the way."""
ITS_OWN = {"app.quit", "app.suspend"}
"""Ctrl+Q besides q, for when a question takes the letters (Escape and q do as well); Ctrl+Z is the shell's own."""


@pytest.mark.parametrize("owner", OWNERS, ids=lambda owner: owner.__name__)
def test_every_binding_has_an_id_and_a_key_that_arrives(owner: type[DOMNode]) -> None:
    for binding in own_bindings(owner):
        assert binding.id, binding
        keys = binding.key.split(",")
        assert binding.id in ITS_OWN or any(SAFE.fullmatch(key) for key in keys), binding


def test_an_id_stands_for_one_thing() -> None:
    actions: dict[str, set[str]] = {}
    for owner in OWNERS:
        for binding in own_bindings(owner):
            actions.setdefault(str(binding.id), set()).add(binding.action.removeprefix("app."))
    several = {id: found for id, found in actions.items() if len(found) > 1}
    assert several == {}


async def test_another_key_takes_the_place_of_the_usual_one(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    app: App[None] = SawhorseApp(path, UNICODE, "ansi-dark", keys={"cuts.tick": "f9,x", "station.cuts": "f4"})
    with patch("tui.bench.Searcher", AtOnce):
        async with app.run_test(size=(80, 24)) as pilot:
            assert isinstance(app, SawhorseApp)
            shop = Driver(pilot, app)
            await shop.settle()
            await shop.press("6")
            assert shop.session.station == "space"
            await shop.press("f4", "space")
            assert shop.session.station == "cuts"
            assert "[x]" not in shop.text
            await shop.press("x", "f9")
            assert shop.text.count("[x]") == 2
            await shop.press("?", "pagedown")
            assert "F9" in shop.text
            await shop.press("escape")
    assert app.bench is not None
    app.bench.session.leave()


async def test_keys_of_ones_own_hold_at_the_start_too(tmp_path: Path) -> None:
    stored(tmp_path, bench(), "one.toml")
    keys = {"list.down": "x", "list.choose": "f9", "app.quit": "f10"}
    app = StartApp(tmp_path, False, "ansi-dark", keys=keys)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("down", "q", "enter")
        rows = app.query_one(Rows)
        assert rows.key == "new", "the usual keys are given away"
        assert "f10 quit" in str(app.query_one("#keys", KeysLine).render()).lower()
        await pilot.press("x")
        assert rows.key == tmp_path / "one.toml"
        await pilot.press("f9")
    assert app.return_value == tmp_path / "one.toml"


async def test_an_id_that_is_unknown_is_told(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    app = SawhorseApp(path, UNICODE, "ansi-dark", keys={"cuts.tickk": "x"})
    with patch("tui.bench.Searcher", AtOnce):
        async with app.run_test(size=(80, 24)) as pilot:
            shop = Driver(pilot, app)
            await shop.settle()
            assert "cuts.tickk" in shop.said
    assert app.bench is not None
    app.bench.session.leave()
