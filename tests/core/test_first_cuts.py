"""A sheet that is cut at the yard before it comes home: how the steps begin, and what its rough edges ask for."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

import pytest
from designs import GOODS, design, inches
from shop import Shop

from core import accidents
from core.amending import after
from core.changes_in_words import changes_in_words
from core.goods import Stock, Trim
from core.layout.division import TOO_SMALL
from core.plan import Plan, Planner
from core.project import Facts, LoosePart, Saw
from core.steps_in_words import grouped, in_words, told_before, uncut_in_words

YARD = Saw("yard", "yard", "1/8", finished=False, fee="2")
TABLE = Saw("table saw", "table", "1/8", widest_rip="30")
SHORT_TRACK = Saw("track saw", "track", "1/8", longest_cut="55")


def plan_of(*saws: Saw, parts: tuple[tuple[str, str, int], ...] = (("40", "10", 8),), **first: str) -> Plan:
    loose = tuple(LoosePart(f"L{n}", f"Board {n}", "ply", *part) for n, part in enumerate(parts, start=1))
    goods = {**GOODS, "ply": replace(GOODS["ply"], stock=(Stock("96", "48", **first),))}  # type: ignore[arg-type]
    return Shop(design(loose=loose, materials=goods, saws=saws)).plan


def test_the_yard_crosscuts_a_sheet_and_then_rips_both_halves() -> None:
    first = {"first_crosscut": "47", "crosscut_loses": "1/4", "first_rip": "23", "rip_loses": "1/4"}
    plan = plan_of(YARD, TABLE, SHORT_TRACK, **first)
    at_yard = [one for one in plan.steps if one.step.saw.kind == "yard"]
    told = [(one.step.direction, one.sheet.mm(one.step.fence), one.step.edge) for one in at_yard]
    assert told == [("crosscut", inches(47), "left"), ("rip", inches(23), "bottom"), ("rip", inches(23), "bottom")]
    assert [one.number for one in at_yard] == [1, 2, 3]
    assert not uncut_in_words(plan)


def test_all_that_is_cut_at_the_yard_comes_before_anything_else_whatever_the_material() -> None:
    goods = {
        key: replace(GOODS[key], stock=(Stock("96", "48", first_crosscut="50", crosscut_loses="1/4"),))
        for key in ("ply", "thin")
    }
    loose = tuple(LoosePart(f"L{n}", f"Board {n}", key, "40", "20", 6) for n, key in enumerate(goods, start=1))
    plan = Shop(design(loose=loose, materials={**GOODS, **goods}, saws=(YARD, TABLE, SHORT_TRACK))).plan
    kinds = [one.step.saw.kind for one in plan.steps]
    sheets = [sheet.id for one in plan.sheets for sheet in one.sheets]
    assert len(sheets) == 4
    assert [one.step.piece for one in plan.steps[:4]] == sheets and kinds[:4] == ["yard"] * 4
    assert "yard" not in kinds[4:]


def test_a_yard_makes_no_other_cut_that_a_saw_of_the_shop_can_make() -> None:
    plan = plan_of(replace(YARD, finished=True), TABLE, replace(SHORT_TRACK, longest_cut=""))
    assert not [one for one in plan.steps if one.step.saw.kind == "yard"]


def test_a_rough_first_rip_without_an_allowance_cannot_be_made() -> None:
    # A part would keep the edge that the yard leaves.
    parts = (("96", "23", 1), ("96", "24 1/4", 1))
    plan = plan_of(YARD, TABLE, SHORT_TRACK, parts=parts, first_rip="23")
    assert "yard leaves a rough edge" in uncut_in_words(plan)[0]
    finished = replace(YARD, finished=True)
    assert not uncut_in_words(plan_of(finished, TABLE, SHORT_TRACK, parts=parts, first_rip="23"))


@pytest.mark.parametrize(
    ("part", "reach", "told"),
    [
        (("80", "20", 1), "55", "track saw does not cut that far: a first crosscut of the sheet, at Goods, makes the"),
        (("20", "46", 1), "40", "track saw does not cut that far: a first rip of the sheet, at Goods, makes the cross"),
    ],
)
def test_what_is_too_far_for_every_saw_is_told_with_the_first_cut_that_would_help(
    part: tuple[str, str, int], reach: str, told: str
) -> None:
    assert any(told in line for line in uncut_in_words(plan_of(replace(SHORT_TRACK, longest_cut=reach), parts=(part,))))


def test_a_part_that_a_first_cut_is_in_the_way_of_says_so_also_once_the_layout_is_kept() -> None:
    loose = (LoosePart("L1", "Long", "ply", "60", "10"), LoosePart("L2", "Board", "ply", "40", "10"))
    goods = {**GOODS, "ply": replace(GOODS["ply"], stock=(Stock("96", "48", first_crosscut="48"),))}
    shop = Shop(design(loose=loose, materials=goods))
    told = (("L1/1", TOO_SMALL),)
    assert shop.plan.sheets[0].unplaced == told
    shop.keep(shop.plan.sheets[0])
    assert shop.plan.sheets[0].accepted and shop.plan.sheets[0].unplaced == told


def test_what_the_yard_cuts_is_told_by_itself_and_is_nobodys_lift() -> None:
    plan = plan_of(YARD, TABLE, SHORT_TRACK, first_crosscut="47", crosscut_loses="1/4")
    assert grouped(plan)[0].title == "ply: yard, before they come home"
    assert not any("weighs" in line for line in in_words(plan.steps[0], plan))


def test_a_sheet_that_is_trimmed_in_pieces_is_told_so() -> None:
    trims = {"first_crosscut": "47", "crosscut_loses": "1/4", "trim": Trim("1/4", "1/4", "1/4", "1/4")}
    plan = plan_of(YARD, TABLE, SHORT_TRACK, parts=(("40", "10", 8),), **trims)  # type: ignore[arg-type]
    told = told_before(plan)
    assert list(told.values()) == ["trim all four edges by 1/4 in, kerf counted: sheet ply-1, piece by piece"]
    assert min(told) > 1


def measures_more(facts: Facts) -> Facts:
    return accidents.resize(facts, "ply-1", inches("96 1/8"), inches("48 1/8"))


def has_a_bad_place(facts: Facts) -> Facts:
    return accidents.mark_bad(facts, "ply-1", inches(10), inches(0), inches(2), inches(1))


def happens_to_a_sheet(plan: Plan, change: Callable[[Facts], Facts]) -> Plan:
    """The plan after something has happened to ply-1, which is not cut."""
    planner = Planner()
    plan = planner.plan(plan.project)
    sheet = next(sheet for one in plan.sheets for sheet in one.sheets if sheet.id == "ply-1")

    def happens(facts: Facts) -> Facts:
        return change(accidents.take_up(facts, sheet, sheet.mm(sheet.length), sheet.mm(sheet.width)))

    return planner.plan(after(planner, plan, "ply", happens))


@pytest.mark.parametrize("change", [measures_more, has_a_bad_place])
def test_a_sheet_that_is_not_as_it_should_be_is_first_cut_like_any_other(change: Callable[[Facts], Facts]) -> None:
    first = {"first_crosscut": "47", "crosscut_loses": "1/4", "first_rip": "23", "rip_loses": "1/4"}
    before = plan_of(YARD, TABLE, SHORT_TRACK, **first)
    plan = happens_to_a_sheet(before, change)
    assert not uncut_in_words(plan)
    (sheet,) = (sheet for one in plan.sheets for sheet in one.sheets if sheet.id == "ply-1")
    of_sheet = [one for one in plan.steps if one.step.sheet == "ply-1"]
    crosscut = next(one for one in of_sheet if one.step.piece == "ply-1")
    halves = {made.id for made in crosscut.step.pieces}
    cuts = [crosscut, *(one for one in of_sheet if one.step.piece in halves)]
    told = [(one.step.direction, one.sheet.mm(one.step.fence), one.step.edge) for one in cuts]
    assert told == [("crosscut", inches(47), "left"), ("rip", inches(23), "bottom"), ("rip", inches(23), "bottom")]
    assert {one.step.saw.name for one in cuts} == {"track saw"}, "what is measured is at home"
    for spot in sheet.placed():
        _clear_of(sheet.mm(spot.x), sheet.mm(spot.length), inches(47))
        _clear_of(sheet.mm(spot.y), sheet.mm(spot.width), inches(23))


def _clear_of(start: Fraction, extent: Fraction, first: Fraction) -> None:
    """No part has an edge that a first cut made."""
    assert start + extent <= first - inches("1/4") or start >= first + inches("1/8") + inches("1/4")


def test_of_a_sheet_that_is_too_small_for_its_first_cut_nothing_is_cut_first() -> None:
    plan = plan_of(YARD, TABLE, SHORT_TRACK, first_crosscut="47", crosscut_loses="1/4")
    plan = happens_to_a_sheet(plan, lambda facts: accidents.resize(facts, "ply-1", inches(45), inches(48)))
    (sheet,) = (sheet for one in plan.sheets for sheet in one.sheets if sheet.id == "ply-1")
    assert sheet.first_cuts == () and sheet.pieces


def test_a_cut_that_no_saw_can_make_any_more_is_told_before_the_change_is_accepted() -> None:
    table = Saw("table saw", "table", "1/8", longest_piece="60")
    before = plan_of(replace(YARD, finished=True), table, first_crosscut="47")
    assert not uncut_in_words(before)
    told = changes_in_words(before, happens_to_a_sheet(before, measures_more))
    (line,) = (line for line in told if line.startswith("no saw of this shop can make"))
    assert "through ply-1: yard cuts sheets only before they are brought home" in line
    assert not [line for line in changes_in_words(before, before) if "no saw" in line]
