"""The rule book: layers, defaults, and what is said of a rule that cannot be."""

from __future__ import annotations

from dataclasses import fields, replace
from fractions import Fraction
from typing import Any

import pytest
from designs import BANDINGS, GOODS, INCH, carcass, design, plan_of, size

from core.checks import run_checks
from core.construction.rule_book import RULE_BOOK, Rules
from core.construction.rules import check_rule, resolve, rule_as_typed
from core.formulas import Names, Quantity
from core.mistakes import Mistake
from core.project import Bay, Opening

NAMES = {unit: Names(unit, {"toe": "3"}, {"ply": Quantity(18 * INCH / INCH, True)}) for unit in ("in", "mm")}


def rules(*layers: dict[str, str], unit: str = "in") -> Rules:
    return resolve(NAMES[unit], unit, GOODS, BANDINGS, *layers)


def test_every_rule_is_in_the_book_once_with_a_reason_and_a_default_that_it_can_take() -> None:
    assert [rule.name for rule in RULE_BOOK] == [field.name for field in fields(Rules)]
    for rule in RULE_BOOK:
        assert len(rule.reason) > 10
        for unit in ("in", "mm"):
            check_rule(rule.name, rule.default(unit), GOODS, BANDINGS)


@pytest.mark.parametrize(("unit", "kick", "rabbet"), [("in", 4 * INCH, INCH / 4), ("mm", 100, 6)])
def test_defaults_are_in_the_project_s_own_unit(unit: str, kick: Fraction, rabbet: Fraction) -> None:
    found = rules(unit=unit)
    assert (found.kick_height, found.rabbet_depth) == (kick, rabbet)
    assert (found.base, found.back, found.top) == ("kick", "applied", "panel")


def test_the_last_layer_that_says_something_wins() -> None:
    project, carcass = {"kick_height": "3", "top": "rails"}, {"kick_height": "toe * 2"}
    found = rules(project, carcass)
    assert found.kick_height == 6 * INCH
    assert found.top == "rails"
    assert rule_as_typed("kick_height", "in", project, carcass) == ("toe * 2", 2)
    assert rule_as_typed("top", "in", project, carcass) == ("rails", 1)
    assert rule_as_typed("back", "in", project, carcass) == ("applied", 0)


def test_goods_that_are_not_named_are_the_panel_s_and_that_is_the_first() -> None:
    found = rules()
    assert found.panel == found.back_panel == found.shelf_panel == found.kick_panel == "ply"
    found = rules({"panel": "mdf", "back_panel": "thin"})
    assert (found.shelf_panel, found.kick_panel, found.back_panel) == ("mdf", "mdf", "thin")


def test_a_load_in_each_unit_s_own_way() -> None:
    # 25 lb/ft is 25 * 0.45359237 / 0.3048 kg/m.
    assert rules().shelf_load == pytest.approx(37.2041, abs=1e-4)
    assert rules(unit="mm").shelf_load == 37


@pytest.mark.parametrize(
    ("told", "where", "why"),
    [
        ({"kick_hieght": "4"}, "", "there is no rule 'kick_hieght'; the nearest is kick_height"),
        ({"zz": "4"}, "", "there is no rule 'zz'; the rules stand at the end of the Piece station"),
        ({"top": "lid"}, "top", "'lid' is not one of panel, rails, none"),
        ({"panel": "oak"}, "panel", "there is no material 'oak' in the project; it has ply, thin, mdf"),
        ({"front_banding": "oak"}, "front banding", "there is no banding 'oak' in the project; it has tape, lip"),
        ({"kick_height": "-1"}, "kick height", "cannot be negative"),
        ({"kick_height": "tow"}, "kick height", "there is no dimension `tow`"),
        ({"shelf_load": "lots"}, "shelf load", "'lots' is no"),
        ({"shelf_load": "-3"}, "shelf load", "'-3' is no"),
    ],
)
def test_a_rule_that_cannot_be(told: dict[str, str], where: str, why: str) -> None:
    with pytest.raises(Mistake) as caught:
        rules(told)
    assert caught.value.where == where
    assert why in caught.value.sentence


def test_without_any_material() -> None:
    with pytest.raises(Mistake, match="the project has no sheet material yet"):
        resolve(NAMES["in"], "in", {}, {})


# --- How grain runs


def test_the_grain_of_a_low_wide_back() -> None:
    """60 wide: with its grain upright no sheet 48 wide gives it, lying or turned either way it is 60 along."""
    item = carcass("A", "60", "17", "12", base="none")
    tried: dict[str, tuple[Any, ...]] = {}
    for way in ("vertical", "horizontal", "either way"):
        plan = plan_of(design(replace(item, rules={**item.rules, "back_grain": way})))
        assert not plan.problems and not plan.worked.misfits
        (back,) = (part for part in plan.worked.parts if part.role == "back")
        none_gives = [one for one in run_checks(plan.worked) if one.check == "sheet"]
        tried[way] = (*size(back), back.grain, back.edge_name("length-"), len(none_gives))
    assert tried == {
        "vertical": (17, 60, "length", "bottom end", 1),
        "horizontal": (60, 17, "length", "left end", 0),
        "either way": (60, 17, "none", "left end", 0),
    }


def test_hidden_parts_may_turn_where_the_person_allows_it() -> None:
    drawer = Bay(openings=(Opening(front="drawer"),))
    hidden = {"nailer", "rail", "plinth end", "drawer side", "drawer end", "drawer bottom"}
    seen = {"side", "bottom", "back", "plinth", "drawer front"}
    rules = {"nailers": "top", "top": "rails", "base": "plinth"}
    for way, grain in (("along", "length"), ("either way", "none")):
        plan = plan_of(design(carcass("A", "24", "30", "22", drawer, hidden_grain=way, **rules)))
        assert not plan.problems and not plan.worked.misfits
        assert {part.grain for part in plan.worked.parts if part.role in hidden} == {grain}
        assert {part.grain for part in plan.worked.parts if part.role in seen} == {"length"}
        assert hidden | seen <= {part.role for part in plan.worked.parts}
