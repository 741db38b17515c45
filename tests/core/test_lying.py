"""What lies in the shop: everything that has a name and is not cut up, and nothing else."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from functools import partial

import pytest
from designs import GOODS, INCH, design
from hypothesis import given, settings
from hypothesis import strategies as st
from shop import Shop

from core import accidents
from core.amending import after
from core.changes_in_words import misfits_in_words
from core.goods import Stock
from core.lying import Thing, called_in_lists, things_lying
from core.mistakes import Mistake
from core.outputs import cuts_document
from core.printing import disagreements_in_words
from core.project import Facts, LoosePart, Saw
from core.steps_in_words import in_words

BOARDS = (("40", "10", 6), ("20", "10", 5))


def boards(*parts: tuple[str, str, int], sheet: tuple[str, str] = ("96", "48"), **changes: object) -> Shop:
    """Loose parts by length, width and quantity, out of plywood sheets, with one saw of 1/8 in."""
    loose = tuple(LoosePart(f"L{n}", f"Board {n}", "ply", *part) for n, part in enumerate(parts, start=1))
    goods = {**GOODS, "ply": replace(GOODS["ply"], stock=(Stock(*sheet),))}
    return Shop(design(loose=loose, materials=goods, **changes))


def inch(*sizes: int | str) -> list[Fraction]:
    """Inches in mm."""
    return [Fraction(size) * INCH for size in sizes]


def test_before_the_first_cut_there_are_sheets_and_nothing_else() -> None:
    shop = boards(("90", "40", 2))
    length, width = inch(96, 48)
    assert list(things_lying(shop.plan).values()) == [
        Thing("ply-1", "ply", length, width, is_part=False, fresh=True),
        Thing("ply-2", "ply", length, width, is_part=False, fresh=True),
    ]


def test_a_sheet_that_is_begun_gives_way_to_what_was_cut_of_it() -> None:
    shop = boards(("40", "48", 1))
    shop.tick(1)
    (length, width), (rest,) = inch(40, 48), inch("447/8")
    assert things_lying(shop.plan) == {
        "L1/1": Thing("L1/1", "ply", length, width, is_part=True, number="ply-1.1"),
        "ply-1.2": Thing("ply-1.2", "ply", rest, width),
    }


def test_waste_does_not_lie_about() -> None:
    shop = boards(("95", "48", 1))
    assert [made.use for made in shop.plan.steps[0].step.pieces] == ["part", "waste"]
    shop.tick(1)
    assert list(things_lying(shop.plan)) == ["L1/1"]


def test_what_came_off_last_comes_first_and_whole_sheets_last() -> None:
    shop = boards(("95", "40", 3))
    shop.tick(*(one.number for one in shop.plan.steps if one.step.sheet != "ply-3"))
    cut = [one.number for one in shop.plan.steps if one.done]
    made_by = {made.id: one.number for one in shop.plan.steps for made in one.step.pieces}
    *lying, fresh = things_lying(shop.plan)
    assert fresh == "ply-3"
    assert {"L1/1", "L1/2"} < set(lying)
    assert [made_by[name] for name in lying] == sorted((made_by[name] for name in lying), reverse=True)
    assert max(cut) == made_by[lying[0]]


def test_a_tick_that_is_taken_back_takes_its_pieces_with_it() -> None:
    shop = boards(*BOARDS)
    before = things_lying(shop.plan)
    shop.tick(1)
    assert things_lying(shop.plan) != before
    shop.untick(1)
    assert things_lying(shop.plan) == before


def test_a_piece_out_of_the_rack_lies_there_under_its_name_with_its_size() -> None:
    shop = boards(*BOARDS)
    shop.tick(1)
    length, width = inch(31, 21)
    shop.project = after(shop.planner, shop.plan, "ply", lambda facts: accidents.bring(facts, "ply", length, width))
    shop.take_up()
    name = shop.project.facts.pieces[-1].id
    assert things_lying(shop.plan)[name] == Thing(name, "ply", length, width)


def test_what_is_spoiled_is_gone_and_parts_are_parts_after_stock_was_taken() -> None:
    shop = boards(("40", "10", 6))
    while "L1/2" not in things_lying(shop.plan):
        shop.tick(next(one for one in shop.plan.steps if not one.done).number)
    before = things_lying(shop.plan)
    parts = {name: thing for name, thing in before.items() if thing.is_part}
    assert "L1/1" in parts
    shop.project = after(shop.planner, shop.plan, "ply", lambda facts: accidents.spoil(facts, "L1/1"))
    shop.take_up()
    now = things_lying(shop.plan)
    assert "L1/1" not in now
    assert {name: thing for name, thing in now.items() if thing.is_part} == {
        name: thing for name, thing in parts.items() if name != "L1/1"
    }


def test_a_sheet_that_measures_otherwise_is_no_longer_one_as_it_came() -> None:
    shop = boards(("40", "10", 6))
    length, width = inch(96, 47)
    sheet = shop.sheet("ply-1")
    shop.project = after(shop.planner, shop.plan, "ply", lambda facts: accidents.take_up(facts, sheet, length, width))
    shop.take_up()
    assert things_lying(shop.plan)["ply-1"] == Thing("ply-1", "ply", length, width)


@settings(max_examples=40, deadline=None)
@given(st.data())
def test_whatever_is_ticked_in_whatever_order_it_is_what_a_count_by_hand_comes_to(data: st.DataObject) -> None:
    thin = (Saw("track saw", "track", "3/32"), Saw("table saw", "table", "1/8", widest_rip="30"))
    shop = boards(*BOARDS, ("90", "30", 1), saws=data.draw(st.sampled_from([thin, thin[1:]])))
    bench = {sheet.id for one in shop.plan.sheets for sheet in one.sheets}
    for _ in range(data.draw(st.integers(0, 12))):
        ready = [one for one in shop.plan.steps if not one.done and one.step.piece in bench]
        if not ready:
            break
        one = data.draw(st.sampled_from(ready))
        bench.remove(one.step.piece)
        bench |= {made.id for made in one.step.pieces if made.use != "waste"}
        shop.tick(one.number)
    things = things_lying(shop.plan)
    assert set(things) == bench
    begun = {one.step.sheet for one in shop.plan.steps if one.done}
    sheets = {sheet.id for one in shop.plan.sheets for sheet in one.sheets}
    assert {name for name, thing in things.items() if thing.fresh} == sheets - begun


def with_an_older_one() -> Shop:
    """L1/1 was cut 40 x 10, then 40 x 20 was asked for, and L1/1 was cut so."""
    shop = boards(("40", "10", 1), ("20", "10", 3))
    cut_until_there(shop, "L1/1")
    first, *others = shop.project.design.loose
    shop.edit(replace(shop.project.design, loose=(replace(first, width="20"), *others)))
    cut_until_there(shop, "L1/1")
    return shop


def cut_until_there(shop: Shop, part: str) -> None:
    """Makes cuts until one makes a part."""
    while not any(made.id == part for one in shop.plan.steps if one.done for made in one.step.pieces):
        shop.tick(next(one for one in shop.plan.steps if not one.done).number)


def test_an_older_piece_is_not_wanted_where_a_newer_one_of_its_name_serves() -> None:
    shop = with_an_older_one()
    shop.project = after(shop.planner, shop.plan, "ply")
    shop.take_up()
    (sheets,) = shop.plan.sheets
    ((older, wanted),) = ((one.piece.id, one.wanted) for one in sheets.misfits)
    assert wanted is None and sheets.made["L1/1"].id != older


@pytest.mark.parametrize("stock_is_taken", [False, True])
def test_two_pieces_of_one_name_are_two_things_and_the_one_that_suits_goes_by_it(stock_is_taken: bool) -> None:
    shop = with_an_older_one()
    if stock_is_taken:
        shop.project = after(shop.planner, shop.plan, "ply")
        shop.take_up()
    things = things_lying(shop.plan)
    new, (id, old) = things["L1/1"], next((id, one) for id, one in things.items() if not one.suits)
    assert (old.name, old.is_part, old.length, old.width) == ("L1/1", True, *inch(40, 10))
    assert (new.suits, new.length, new.width) == (True, *inch(40, 20))
    assert old.id == id != new.id
    called = called_in_lists(shop.plan)
    assert (called[new.id], called[old.id]) == ("L1/1 (40 x 20)", "L1/1 (40 x 10, no longer suits)")
    assert all(called[one.id] == one.name for one in things.values() if one.name != "L1/1")


@pytest.mark.parametrize("which", ["new", "old"])
def test_of_two_pieces_of_one_name_the_one_that_is_spoiled_is_gone(which: str) -> None:
    shop = with_an_older_one()
    id = next(
        one.id for one in things_lying(shop.plan).values() if one.name == "L1/1" and one.suits == (which == "new")
    )
    before = things_lying(shop.plan)
    shop.project = after(shop.planner, shop.plan, "ply", lambda facts: accidents.spoil(facts, id))
    shop.take_up()
    left = [one for one in things_lying(shop.plan).values() if one.name == "L1/1"]
    assert [one.suits for one in left] == [which == "old"]
    assert len(things_lying(shop.plan)) == len(before) - 1
    is_planned = any("L1/1" in sheet.pieces for one in shop.plan.sheets for sheet in one.sheets if not sheet.begun)
    assert is_planned == (which == "new"), "it is made again if it was the one that serves"


@pytest.mark.parametrize("what", [accidents.spoil, partial(accidents.keep, asked=None), accidents.make_again])
def test_a_name_that_several_pieces_bear_is_refused_with_those_of_the_pieces(
    what: Callable[[Facts, str], Facts],
) -> None:
    shop = with_an_older_one()
    shop.project = after(shop.planner, shop.plan, "ply")
    ids = [piece.id for piece in shop.project.facts.pieces if piece.part == "L1/1"]
    with pytest.raises(Mistake, match=f"several pieces in the shop bear L1/1: say which, {' or '.join(ids)}"):
        what(shop.project.facts, "L1/1")


def test_what_no_longer_suits_is_told_to_be_marked_where_another_piece_bears_its_name() -> None:
    shop = with_an_older_one()
    told = "L1/1 is cut 40 x 10; the design now asks for 40 x 20: 10 in too narrow"
    told += "; another piece bears L1/1 too: write the size beside it on this one"
    (plywood,) = shop.plan.sheets
    assert disagreements_in_words(plywood, shop.plan)[0] == told
    shop.project = after(shop.planner, shop.plan, "ply")
    shop.take_up()
    asked = "the design now asks for 40 x 20: 10 in too narrow"
    assert misfits_in_words(shop.plan) == [told.replace(asked, "it is not wanted now")]


@pytest.mark.parametrize("width", ["20", "2"])
def test_what_is_cut_keeps_the_name_that_was_pencilled_whatever_is_asked_for_now(width: str) -> None:
    shop = boards((("40"), width, 1), ("20", "10", 3))
    cut_until_there(shop, "L1/1")
    before = things_lying(shop.plan)["L1/1"]
    first, *others = shop.project.design.loose
    shop.edit(replace(shop.project.design, loose=(replace(first, width="21"), *others)))
    things = things_lying(shop.plan)
    assert things["L1/1"] == replace(before, suits=False)
    document = [(step["done"], made) for step in cuts_document(shop.plan)["steps"] for made in step["pieces"]]
    # Each id is used once: the new one has it, and of the old one it is told what is pencilled on it.
    ((is_cut, told),) = ((done, made) for done, made in document if made["id"] == "L1/1")
    assert not is_cut and told["width"] == 25.4 * 21
    ((is_cut, told),) = ((done, made) for done, made in document if made.get("pencilled") == "L1/1")
    assert is_cut and (told["use"], told["width"]) == ("offcut", 25.4 * int(width))
    # Where none is made in its place it keeps the name.
    shop.edit(replace(shop.project.design, loose=tuple(others)))
    document = [(step["done"], made) for step in cuts_document(shop.plan)["steps"] for made in step["pieces"]]
    ((is_cut, told),) = ((done, made) for done, made in document if made["id"] == "L1/1")
    assert is_cut and (told["use"], told["part"], told["width"]) == ("part", "L1", 25.4 * int(width))
    shop.edit(replace(shop.project.design, loose=(replace(first, width="21"), *others)))
    assert "L1/1, no longer suits" in "\n".join(
        line for one in shop.plan.steps if one.done for line in in_words(one, shop.plan)
    )
