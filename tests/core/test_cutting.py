"""Ticks: which step may be ticked, which un-ticked, and what a tick remembers."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from designs import carcass, design
from hypothesis import given, settings
from hypothesis import strategies as st
from shop import Shop, check_steps

from core.cutting import Given, check_untick, maker_of, read_steps, settings_needed, tick_for, write_steps
from core.mistakes import Mistake
from core.outputs import cuts_document
from core.plan import Plan
from core.printing import settings_in_words
from core.project import LoosePart, Saw

OF = design(carcass(), rules={"panel": "ply", "back_panel": "ply"})


def test_the_first_cut_of_a_sheet_may_be_ticked_and_names_what_it_cuts_and_makes() -> None:
    shop = Shop(OF)
    first = shop.plan.steps[0]
    assert first.step.piece == first.step.sheet == "ply-1"
    cut = tick_for(shop.plan.steps, 1, "2026-01-01T10:00:00")
    assert (cut.sheet, cut.piece, cut.when) == ("ply-1", "ply-1", "2026-01-01T10:00:00")
    assert cut.makes == tuple(piece.id for piece in first.step.pieces)


def test_a_piece_cannot_be_cut_before_it_is_cut_free() -> None:
    shop = Shop(OF)
    later = next(one for one in shop.plan.steps if one.step.piece != one.step.sheet)
    maker = maker_of(shop.plan.steps, later)
    assert maker is not None
    with pytest.raises(Mistake, match=rf"cuts {later.step.piece}, which step {maker.number} makes: tick that first"):
        tick_for(shop.plan.steps, later.number, "")


def test_nothing_is_ticked_twice_or_unticked_unticked() -> None:
    shop = Shop(OF)
    with pytest.raises(Mistake, match="step 1 is not ticked"):
        check_untick(shop.plan.steps, 1)
    shop.tick(1)
    with pytest.raises(Mistake, match="step 1 is ticked already"):
        tick_for(shop.plan.steps, 1, "")


@pytest.mark.parametrize("number", [0, -1, 999])
def test_there_is_no_such_step(number: int) -> None:
    steps = Shop(OF).plan.steps
    for ask in (lambda: tick_for(steps, number, ""), lambda: check_untick(steps, number)):
        with pytest.raises(Mistake, match=rf"there is no step {number}; there are 1 to {len(steps)}"):
            ask()


def test_a_cut_that_later_ones_stand_on_cannot_be_unticked() -> None:
    shop = Shop(OF)
    shop.tick(1)
    made = {piece.id for piece in shop.plan.steps[0].step.pieces}
    later = next(one for one in shop.plan.steps if one.step.piece in made)
    shop.tick(later.number)
    with pytest.raises(Mistake, match=rf"step {later.number} has cut {later.step.piece} since: un-tick that first"):
        shop.untick(1)
    shop.untick(later.number)
    shop.untick(1)
    assert shop.project.facts.cuts == ()


def test_the_numbers_of_a_file_that_tells_no_edges_are_read_too() -> None:
    numbers = {"birch-1": 1, "birch-1.1": 2, "birch-1.3": 7}
    assert read_steps("1 birch-1 birch-1.1 7 birch-1.3") == {piece: Given(n) for piece, n in numbers.items()}
    assert read_steps("4 birch-1:top") == {"birch-1": Given(4, "top")}
    steps = Shop(OF).plan.steps
    assert read_steps(write_steps(steps)) == {one.step.piece: Given(one.number, one.step.edge) for one in steps}


def test_steps_are_numbered_through_over_materials_and_sheets() -> None:
    parts = (LoosePart("L", "A", "ply", "60", "30", 3), LoosePart("M", "B", "mdf", "30", "20", 2))
    steps = Shop(design(loose=parts)).plan.steps
    assert [one.number for one in steps] == list(range(1, len(steps) + 1))
    sheets = list(dict.fromkeys(one.step.sheet for one in steps))
    assert sheets == sorted(sheets, key=["ply-1", "ply-2", "ply-3", "mdf-1"].index)
    # One sheet after the other, none of them twice.
    assert [one.step.sheet for one in steps] == sorted((one.step.sheet for one in steps), key=sheets.index)


@settings(max_examples=25, deadline=None)
@given(st.data())
def test_in_any_order_that_is_allowed_every_cut_can_be_made_and_taken_back(data: st.DataObject) -> None:
    shop = Shop(OF)
    while not all(one.done for one in shop.plan.steps):
        allowed = [
            one.number
            for one in shop.plan.steps
            if not one.done and ((maker := maker_of(shop.plan.steps, one)) is None or maker.done)
        ]
        shop.tick(data.draw(st.sampled_from(allowed)))
        check_steps(shop.plan)
    freed = {piece for cut in shop.project.facts.cuts for piece in cut.makes}
    assert set(shop.sheet("ply-1").pieces) <= freed
    while done := [one.number for one in shop.plan.steps if one.done]:
        number = data.draw(st.sampled_from(done))
        try:
            shop.untick(number)
        except Mistake:
            assert len(done) > 1
            shop.untick(done[-1])
        check_steps(shop.plan)


def test_one_sheet_at_a_time_is_a_choice_of_the_design_and_costs_settings_that_are_told() -> None:
    loose = (LoosePart("L1", "Board", "ply", "40", "10", 16), LoosePart("L2", "Rail", "ply", "40", "4", 8))
    of = design(loose=loose, saws=(Saw("track saw", "track", "1/8"), Saw("table saw", "table", "1/8")))
    together, apart = Shop(of).plan, Shop(replace(of, one_sheet_at_a_time=True)).plan
    assert len({one.step.sheet for one in apart.steps}) > 1

    def taken_up(plan: Plan) -> int:
        return sum(a.step.sheet != b.step.sheet for a, b in pairwise(plan.steps)) + 1

    assert taken_up(apart) == len({one.step.sheet for one in apart.steps}) < taken_up(together)
    assert settings_needed(apart.steps) > settings_needed(together.steps)
    (told,) = settings_in_words(apart)
    assert told.startswith(f"one sheet at a time: {settings_needed(apart.steps)} settings")
    assert cuts_document(apart)["settings"]["needed"] == settings_needed(apart.steps)


def test_once_a_cut_is_ticked_the_steps_keep_their_numbers_whatever_is_chosen_then() -> None:
    shop = Shop(design(loose=(LoosePart("L1", "Board", "ply", "40", "10", 16),)))
    shop.tick(1)
    before, needed = [(one.number, one.cut) for one in shop.plan.steps], settings_needed(shop.plan.steps)
    shop.edit(replace(shop.project.design, one_sheet_at_a_time=True))
    assert [(one.number, one.cut) for one in shop.plan.steps] == before
    assert settings_needed(shop.plan.steps) == needed
