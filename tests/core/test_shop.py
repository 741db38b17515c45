"""The shop's own settings: read with all that is wrong in them, and copied into what is begun."""

from dataclasses import replace
from pathlib import Path

import pytest

from core.goods import Material, Stock
from core.project import Saw
from core.shop import Shop
from core.starter import new_design
from core.storage import BadProject, open_shop

TEXT = """\
format = 2
unit = "mm"
currency = "EUR"
saw = [{ name = "track saw", kerf = "2.2" }]

[rules]
kick_height = "120"

[material.birch]
name = "Birch"
nominal = "18"
actual = "17.7"
[[material.birch.stock]]
length = "2500"
width = "1250"

[keys]
"cuts.tick" = "space,x"
"""


def test_no_shop_file_is_an_empty_shop(tmp_path: Path) -> None:
    assert open_shop(tmp_path / "shop.toml") == Shop()


def test_a_shop_file_is_read(tmp_path: Path) -> None:
    path = tmp_path / "shop.toml"
    path.write_text(TEXT, encoding="utf-8")
    assert open_shop(path) == Shop(
        unit="mm",
        currency="EUR",
        saws=(Saw("track saw", kerf="2.2"),),
        rules={"kick_height": "120"},
        materials={"birch": Material("Birch", "18", "17.7", stock=(Stock("2500", "1250"),))},
        keys={"cuts.tick": "space,x"},
    )


def test_every_slip_in_a_shop_file_is_told_with_its_line(tmp_path: Path) -> None:
    path = tmp_path / "shop.toml"
    path.write_text(TEXT.replace('"mm"', '"cm"').replace("currency", "curency"), encoding="utf-8")
    with pytest.raises(BadProject) as told:
        open_shop(path)
    assert [problem.line for problem in told.value.problems] == [2, 3]
    assert "currency" in str(told.value)


def test_what_is_begun_has_the_shop_s_goods_rules_and_saw(tmp_path: Path) -> None:
    path = tmp_path / "shop.toml"
    path.write_text(TEXT, encoding="utf-8")
    shop = open_shop(path)
    design = new_design("Bench", "mm", shop)
    assert (design.saws, design.materials, design.rules) == (shop.saws, shop.materials, shop.rules)
    # A shop that counts in millimetres says nothing about a project in inches.
    assert new_design("Bench", "in", shop) == new_design("Bench", "in")


def test_the_starter_s_back_is_thin_only_where_there_is_a_thin_board() -> None:
    assert new_design("Bench", "in").rules == {"back_panel": "backing"}
    shop = Shop("in", materials={"ply": Material("Ply", "3/4", "23/32")})
    assert new_design("Bench", "in", shop).rules == {}
    assert new_design("Bench", "in", replace(shop, rules={"top": "rails"})).rules == {"top": "rails"}
