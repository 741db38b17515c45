"""What is cut when the carcasses stand: after all else, and with its place kept where that can be."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import replace
from fractions import Fraction
from functools import partial
from pathlib import Path

import pytest
from designs import GOODS, design
from hypothesis import given, settings
from hypothesis import strategies as st
from shop import Shop, check_sheets, check_steps

from core.accidents import bring, resize, spoil
from core.amending import after, anew_round_what_waits
from core.changes_in_words import changes_in_words
from core.edits import hold_back, set_value
from core.goods import Stock
from core.held_back import held_in_words
from core.layout.job import Job
from core.layout.search import lay_out
from core.layout.tree import Layout
from core.lying import things_lying
from core.mistakes import Mistake
from core.plan import Plan
from core.project import Design, Facts, LoosePart, Project
from core.storage import open_project

SIDES = LoosePart("L1", "Side", "ply", "28", "12", 3)
DOORS = LoosePart("L2", "Door", "ply", "28", "11 7/8", 2)
FRONT = LoosePart("L3", "Front", "mdf", "30", "20", 2)


def test_what_is_held_back_is_cut_after_all_else_of_all_materials() -> None:
    held = Shop(design(loose=(SIDES, DOORS, FRONT), held_back=("L2",))).plan
    turns = [(one.step.held, one.sheet.material) for one in held.steps]
    assert {material for _, material in turns} == {"ply", "mdf"}
    assert [is_held for is_held, _ in turns] == sorted(is_held for is_held, _ in turns)
    assert turns[-1] == (True, "ply")
    assert held_in_words(held) == []


def test_a_code_that_no_part_has_is_told() -> None:
    held = Shop(design(loose=(SIDES, DOORS), held_back=("L22", "L2"))).plan
    assert held_in_words(held) == ["L22 is held back, but no part has this code"]


def on_a_narrow_sheet(length: str, *more: LoosePart, side: str = "28") -> Design:
    """A side of this length, and a door that waits; together they fill the width of a sheet."""
    ply = replace(GOODS["ply"], stock=(Stock(length, "24 1/8"),))
    loose = (replace(SIDES, length=side, width="12 1/8", quantity=1), replace(DOORS, quantity=1), *more)
    return design(materials={"ply": ply}, loose=loose, held_back=("L2",))


@pytest.mark.parametrize(
    ("sheet", "told"),
    [
        # 12 1/8 + 1/8 + 11 7/8 fill the width: one rip makes both.
        ("28", "L2/1 is held back, but comes off in step 1: it cannot wait"),
        ("40", "L2/1 is held back, but its 11 7/8 is cut by step 1: only the other waits"),
    ],
)
def test_what_cannot_wait_is_told_with_the_size_and_the_step(sheet: str, told: str) -> None:
    assert held_in_words(Shop(on_a_narrow_sheet(sheet)).plan) == [told]


def test_the_step_that_is_told_is_the_one_that_makes_the_size() -> None:
    rail = LoosePart("L3", "Rail", "ply", "30", "11 7/8", 1)
    plan = Shop(on_a_narrow_sheet("62 1/8", rail, side="62")).plan
    rip, *_, last_that_does_not_wait = (one for one in plan.steps if not one.step.held)
    assert rip.step.direction == "rip" and last_that_does_not_wait.step.direction == "crosscut"
    assert held_in_words(plan) == ["L2/1 is held back, but its 11 7/8 is cut by step 1: only the other waits"]


def test_what_waits_in_a_piece_of_its_own_to_the_last_is_not_told() -> None:
    shop, piece = in_a_piece_on_hand()
    of = set_value(shop.project.design, ("loose", 1, "quantity"), 1)
    # As wide as the piece: one cut frees the door, and that is held.
    shop.edit(set_value(of, ("loose", 1, "width"), "35 7/8"))
    (sheet,) = (sheet for sheet in shop.plan.sheets[0].sheets if sheet.id == piece)
    assert sheet.pieces == ("L2/1",) and all(one.step.held for one in shop.plan.steps if not one.done)
    assert held_in_words(shop.plan) == []


def test_what_can_no_longer_wait_is_told_with_the_changes_once() -> None:
    could_wait = Shop(design(loose=(replace(SIDES, width="12 1/8", quantity=1), replace(DOORS, quantity=1)))).plan
    cannot = Shop(on_a_narrow_sheet("40")).plan
    (told,) = held_in_words(cannot)
    assert told in changes_in_words(could_wait, cannot)
    assert told not in changes_in_words(cannot, cannot)


def test_a_part_that_is_held_back_when_its_layout_is_kept_leaves_that_as_it_is() -> None:
    shop = Shop(design(loose=(SIDES, DOORS)))
    (ply,) = shop.keep(shop.plan.sheets[0]).sheets
    shop.searched.clear()
    (held,) = shop.edit(hold_back(shop.project.design, "L2")).sheets
    assert [sheet.root for sheet in held.sheets] == [sheet.root for sheet in ply.sheets]
    assert held.accepted and not shop.searched


def all_else_cut(*loose: LoosePart) -> Shop:
    """A shop where everything is cut but the doors, which are held back."""
    shop = Shop(design(loose=loose, held_back=("L2",)))
    shop.tick(*(one.number for one in shop.plan.steps if not one.step.held))
    return shop


def test_what_is_held_back_follows_the_carcasses_in_its_place_under_new_numbers() -> None:
    shop = all_else_cut(SIDES, DOORS)
    before = shop.plan
    shop.searched.clear()
    # The carcasses stand, and measure an eighth more each way.
    after = shop.edit(
        set_value(set_value(shop.project.design, ("loose", 1, "length"), "28 1/8"), ("loose", 1, "width"), "12")
    )
    check_sheets(after)
    assert not shop.searched and after.sheets[0].disagreements == ()
    assert [sheet.id for sheet in after.sheets[0].sheets] == [sheet.id for sheet in before.sheets[0].sheets]
    done = {one.number for one in before.steps if one.done}
    assert {one.number for one in after.steps if one.done} == done
    # No number that has been shown means another cut now.
    waiting = {one.number for one in after.steps if not one.done}
    assert waiting and min(waiting) > before.steps[-1].number
    assert all(one.step.held for one in after.steps if not one.done)
    # What was pencilled on the piece that waits stays; what is new of it has new names.
    names = {made.id for one in before.steps if one.step.held for made in one.step.pieces if not made.part}
    assert names.isdisjoint(made.id for one in after.steps if not one.done for made in one.step.pieces)
    # And back: the plan is the one that it was.
    back = shop.edit(before.project.design)
    assert [(one.number, one.step) for one in back.steps] == [(one.number, one.step) for one in before.steps]


def test_it_follows_through_the_cuts_to_the_last() -> None:
    shop = all_else_cut(SIDES, DOORS)
    shop.edit(set_value(shop.project.design, ("loose", 1, "width"), "12 1/8"))
    while step := shop.next_step():
        shop.tick(step.number)
        check_sheets(shop.plan)
    assert all(one.done for one in shop.plan.steps) and shop.plan.sheets[0].accepted


def idle_cuts(plan: Plan) -> list[int]:
    """The steps that are not done and free no part, not even in the end; trimming may be for later."""
    needed = {made.id for one in plan.steps for made in one.step.pieces if made.part}
    for one in reversed(plan.steps):
        if needed & {made.id for made in one.step.pieces}:
            needed.add(one.step.piece)
    return [one.number for one in plan.steps if not one.done and one.step.piece not in needed]


@pytest.mark.parametrize("width", ["47", "16"])
def test_what_has_no_room_to_follow_is_named_and_gets_another_place(width: str) -> None:
    shop = all_else_cut(replace(SIDES, quantity=6), DOORS)
    (sheet,) = {one.step.sheet for one in shop.plan.steps if one.step.held}
    after = shop.edit(set_value(shop.project.design, ("loose", 1, "width"), width))
    assert {told.sheet for told in after.sheets[0].disagreements} == {sheet}
    check_sheets(after)
    # Nothing saws up the board where it waited.
    assert idle_cuts(after) == []


def test_one_that_is_not_wanted_any_more_leaves_no_cuts_behind() -> None:
    shop = all_else_cut(SIDES, DOORS)
    fewer = shop.edit(set_value(shop.project.design, ("loose", 1, "quantity"), 1))
    assert {told.piece: told.wanted for told in fewer.sheets[0].disagreements} == {"L2/2": None}
    assert idle_cuts(fewer) == []
    none = shop.edit(replace(shop.project.design, loose=(SIDES,)))
    assert not [one.number for one in none.steps if not one.done]


def test_a_cut_that_was_made_for_others_too_is_not_told_as_held_back_when_these_are_not_wanted_any_more() -> None:
    shop = all_else_cut(replace(SIDES, quantity=1), DOORS)
    changed = shop.edit(set_value(shop.project.design, ("loose", 0, "length"), "27"))
    done = [one for one in changed.steps if one.done]
    assert done and not [one.number for one in done if one.step.held]
    assert [one.number for one in changed.steps if one.step.held]


def test_a_part_that_is_not_held_back_keeps_its_place_on_a_begun_sheet() -> None:
    shop = Shop(design(loose=(SIDES, DOORS)))
    shop.tick(shop.plan.steps[0].number)
    before = shop.plan
    after = shop.edit(set_value(shop.project.design, ("loose", 1, "width"), "12 1/8"))
    begun = after.sheets[0].sheets[0]
    assert set(begun.pieces) == {"L1/1", "L1/2", "L1/3"}
    assert {told.piece for told in after.sheets[0].disagreements} == {"L2/1", "L2/2"}
    # What is still wanted of the sheet is cut as before, and nothing besides.
    meant = {one.number: one.meaning for one in before.steps}
    of_it = [one for one in after.steps if one.step.sheet == begun.id]
    assert all(meant[one.number] == one.meaning for one in of_it) and len(of_it) < len(before.steps)
    assert idle_cuts(after) == []
    back = shop.edit(before.project.design)
    assert [(one.number, one.step) for one in back.steps] == [(one.number, one.step) for one in before.steps]


def test_after_an_accident_it_still_comes_last_and_cuts_that_are_made_keep_their_numbers() -> None:
    shop = all_else_cut(SIDES, DOORS)
    shop.untick(max(one.number for one in shop.plan.steps if one.done))
    before = shop.plan
    shop.project = after(shop.planner, before, "ply", lambda facts: spoil(facts, "L1/1"))
    then = shop.take_up()
    undone = [one.step.held for one in then.steps if not one.done]
    assert False in undone and undone == sorted(undone)
    shown = {one.number: one.step.piece for one in before.steps}
    assert all(shown.get(one.number, one.step.piece) == one.step.piece for one in then.steps)


def in_a_piece_on_hand() -> tuple[Shop, str]:
    """A shop where the doors wait in a piece, and there is another one in which they would find room; and its name."""
    shop = all_else_cut(SIDES, DOORS)
    board = partial(bring, material="ply", length=Fraction(800), width=Fraction(700))
    shop.project = after(shop.planner, shop.plan, "ply", board)
    (waits,) = shop.take_up().sheets[0].sheets
    assert waits.on_hand and set(waits.pieces) == {"L2/1", "L2/2"}
    return shop, waits.id


def test_after_an_accident_it_follows_in_the_piece_in_which_it_waits() -> None:
    shop, piece = in_a_piece_on_hand()
    numbers = {one.number for one in shop.plan.steps}
    shop.searched.clear()
    wider = shop.edit(set_value(shop.project.design, ("loose", 1, "width"), "12 1/8"))
    check_sheets(wider)
    assert [sheet.id for sheet in wider.sheets[0].sheets] == [piece] and not shop.searched
    assert numbers.isdisjoint(one.number for one in wider.steps)
    # What has no room there any more is looked for a place elsewhere, and named.
    wide = shop.edit(set_value(shop.project.design, ("loose", 1, "width"), "40"))
    assert {told.sheet for told in wide.sheets[0].disagreements} == {piece} and idle_cuts(wide) == []
    check_sheets(wide)


def test_what_is_laid_out_anew_may_go_round_what_waits() -> None:
    shop, piece = in_a_piece_on_hand()
    shop.edit(replace(shop.project.design, loose=(replace(SIDES, quantity=4), DOORS)))
    round_it = anew_round_what_waits(shop.project, "ply")
    assert round_it is not None
    plan = Shop(round_it.design, round_it.facts).plan
    check_sheets(plan)
    (waits,) = (sheet for sheet in plan.sheets[0].sheets if sheet.id == piece)
    assert waits.pieces == ("L2/1", "L2/2")
    assert anew_round_what_waits(Project(design(loose=(SIDES, DOORS)), Facts()), "ply") is None


def test_cuts_that_only_come_later_are_not_told_as_new() -> None:
    shop, _ = in_a_piece_on_hand()
    before = shop.plan
    shop.project = after(shop.planner, before, "ply", partial(spoil, name="L1/1"))
    told = changes_in_words(before, shop.take_up())
    last = before.steps[-1].number
    assert "None of the 3 cuts that are left stay as they are, under their numbers." in told
    assert f"2 new cuts: step {last + 1} to {last + 2}." in told
    assert f"3 more stay, but later, under other numbers: step {last + 3} to {last + 5}." in told


class Patient(Shop):
    """One where sheets are laid out with all the iterations that a job has."""

    def find(self, job: Job) -> Layout:
        return lay_out(job)


@pytest.mark.parametrize("ticks", [36, 60, 84])
def test_what_is_made_again_lets_others_wait_as_before(ticks: int) -> None:
    opened = open_project(Path(__file__).parents[2] / "projects" / "mudroom-bench.toml").project
    shop = Patient(opened.design, opened.facts)
    while (step := shop.next_step()) and step.number <= ticks:
        shop.tick(step.number)
    before = shop.plan
    assert held_in_words(before) == []
    cut = [thing for thing in things_lying(before).values() if thing.is_part]
    for thing in cut[::3]:
        for left in (None, (thing.length * 3 / 4, thing.width)):
            spoilt = (
                partial(resize, name=thing.name, length=left[0], width=left[1])
                if left
                else partial(spoil, name=thing.name)
            )
            project = after(shop.planner, before, thing.material, spoilt)
            again = Shop(project.design, project.facts).plan
            assert thing.name in {piece for one in again.sheets for sheet in one.sheets for piece in sheet.pieces}
            assert held_in_words(again) == []


@settings(max_examples=40, deadline=None)
@given(st.data())
def test_whatever_is_done_no_two_pieces_have_one_name_and_what_is_held_back_is_last(data: st.DataObject) -> None:
    loose = (
        LoosePart("L1", "A", "ply", "14", "6", 3),
        LoosePart("L2", "B", "ply", "28", "6", 3),
        replace(SIDES, id="L3"),
    )
    shop = Shop(design(loose=loose, held_back=("L1", "L2")))
    for _ in range(data.draw(st.integers(3, 7))):
        what = data.draw(st.sampled_from(("tick", "tick", "spoil", "size")))
        undone = [one.number for one in shop.plan.steps if not one.done]
        lying = [thing.name for thing in things_lying(shop.plan).values() if not thing.fresh]
        if what == "tick" and undone:
            shop.tick(*undone[: data.draw(st.integers(1, 3))])
        elif what == "spoil" and lying:
            name = data.draw(st.sampled_from(sorted(lying)))
            with suppress(Mistake):
                shop.project = after(shop.planner, shop.plan, "ply", partial(spoil, name=name))
                shop.take_up()
        elif what == "size":
            path = ("loose", data.draw(st.integers(0, 1)), data.draw(st.sampled_from(("length", "width"))))
            size = data.draw(
                st.sampled_from({"length": ["14 1/8", "28 1/8", "27"], "width": ["6", "6 1/8", "5 7/8"]}[path[2]])
            )
            shop.edit(set_value(shop.project.design, path, size))
        check_steps(shop.plan)
        names = [made.id for one in shop.plan.steps for made in one.step.pieces]
        assert len(names) == len(set(names))
        held = [one.step.held for one in shop.plan.steps if not one.done]
        assert held == sorted(held)
        assert idle_cuts(shop.plan) == []
