"""No number of a step that may have been seen is given to another cut, once something has happened."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from functools import partial

import pytest
from designs import INCH, design
from shop import Shop

from core import accidents
from core.amending import after
from core.changes_in_words import changes_in_words
from core.cutting import PlannedStep
from core.goods import Material, Stock, Trim
from core.lying import things_lying
from core.planned_sheet import PlannedSheet
from core.project import Design, Facts, LoosePart, Saw

PLY_AND_MDF = design(
    loose=(LoosePart("L1", "Board", "ply", "30", "10", 9), LoosePart("L2", "Front", "mdf", "30", "20", 4))
)


def spoil(facts: Facts, sheet: PlannedSheet) -> Facts:
    return accidents.spoil(facts, sheet.id)


def measure(facts: Facts, sheet: PlannedSheet) -> Facts:
    return accidents.resize(facts, sheet.id, 64 * INCH, 47 * INCH)


def mark_bad(facts: Facts, sheet: PlannedSheet) -> Facts:
    return accidents.mark_bad(facts, sheet.id, 5 * INCH, Fraction(0), INCH, INCH)


@pytest.mark.parametrize("change", [spoil, measure, mark_bad])
def test_what_happens_to_a_sheet_before_the_first_cut_gives_no_number_to_another_cut(
    change: Callable[[Facts, PlannedSheet], Facts],
) -> None:
    shop = Shop(PLY_AND_MDF)
    before, sheet = shop.plan, shop.sheet("ply-1")

    def happens(facts: Facts) -> Facts:
        return change(accidents.take_up(facts, sheet, sheet.mm(sheet.length), sheet.mm(sheet.width)), sheet)

    meant = {one.number: one.meaning for one in before.steps}
    shop.project = after(shop.planner, before, "ply", happens)
    now = {one.number: one.meaning for one in shop.take_up().steps}
    same = [number for number, meaning in now.items() if meant.get(number) == meaning]
    assert {number for number in now if number in meant} == set(same)
    assert set(now) - set(meant), "there are other cuts"
    mdf = {one.number for one in before.steps if one.sheet.material == "mdf"}
    assert mdf and mdf <= set(same), "nothing has happened to the other material"
    told = f"{len(same)} of the {len(meant)} cuts that are left stay as they are, under their numbers."
    assert told in changes_in_words(before, shop.plan)


def test_a_cut_under_the_number_of_another_does_not_count_as_one_that_stays() -> None:
    shop = Shop(PLY_AND_MDF)
    first, *others = shop.plan.steps
    step = replace(first.step, fence=first.step.fence - 1)
    plan = replace(shop.plan, steps=(replace(first, step=step), *others))
    told = f"{len(others)} of the {len(others) + 1} cuts that are left stay as they are, under their numbers."
    assert told in changes_in_words(shop.plan, plan)


def thin_and_thick() -> Design:
    """Boards for a track saw and a table saw with a thicker blade: what the thinner one leaves is skimmed."""
    edges = Trim("6", "6", "6", "6")
    ply = Material("Ply", "18", "18", stock=(Stock("2440", "1220", trim=edges),), density="680")
    saws = (Saw("track saw", "track", "2.2"), Saw("table saw", "table", "3.2", widest_rip="760"))
    sizes = (("611", "283", 4), ("407", "197", 5), ("333", "291", 3))
    loose = tuple(LoosePart(f"L{n}", f"Board {n}", "ply", *size) for n, size in enumerate(sizes))
    return design(unit="mm", materials={"ply": ply}, loose=loose, saws=saws, rules={})


def test_a_cut_that_is_made_once_more_is_another_cut() -> None:
    shop = Shop(thin_and_thick())

    def makes_a_part(one: PlannedStep) -> bool:
        return one.step.skims and one.step.pieces[0].use == "part"

    skim = next(one for one in shop.plan.steps if makes_a_part(one))
    shop.tick(*(one.number for one in shop.plan.steps if one.number <= skim.number))
    part = things_lying(shop.plan)[skim.step.pieces[0].id]
    long, wide = (0, 1) if skim.step.direction == "rip" else (1, 0)
    reads = partial(accidents.resize, name=part.id, length=part.length + long, width=part.width + wide)
    shop.project = after(shop.planner, shop.plan, "ply", reads)
    shop.take_up()
    again = [one for one in shop.plan.steps if one.meaning == skim.meaning]
    done = {past.number for past in shop.project.facts.history}
    assert [one.done for one in again] == [False], "it is cut to its size once more"
    assert skim.number in done and not done & {one.number for one in shop.plan.steps}
