"""What a blade really takes: told late, told at Goods, told under another name, or beside a size that was measured."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from functools import partial

import pytest
from designs import design
from shop import Shop

from core import accidents
from core.accidents import find_piece, took
from core.amending import after
from core.edits import set_value
from core.goods import Material, Stock
from core.planned_sheet import read_over, read_unit
from core.printing import disagreements_in_words
from core.project import Design, Facts, LoosePart, Saw
from core.taking_stock import saws_used, with_saws_renamed

Size = tuple[Fraction, Fraction]
TRACK, TABLE = Saw("track saw", "track", "2.2"), Saw("table saw", "table", "3.2", widest_rip="760")


def boards(*saws: Saw) -> Design:
    """Twelve boards 600 x 250, three to a strip: the track divides the sheet, and the strips are crosscut."""
    ply = Material("Ply", "18", "18", stock=(Stock("2440", "1220"),), density="680")
    loose = (LoosePart("L", "Board", "ply", "600", "250", 12),)
    return design(unit="mm", show="mm 0.1", materials={"ply": ply}, loose=loose, saws=saws, rules={})


def suffer(shop: Shop, change: partial[Facts], of: Design | None = None) -> None:
    """Something went another way."""
    shop.project = after(shop.planner, shop.plan, "ply", change, of)
    shop.take_up()


def sizes(shop: Shop) -> dict[str, Size]:
    """What is in the shop, each by its own name, as large as it may be; mm."""
    found = {}
    for one in shop.project.facts.pieces:
        unit, (long, wide) = read_unit(one.unit, ""), read_over(one.over, "")
        found[one.id] = (one.length * unit + long, one.width * unit + wide)
    return found


@pytest.mark.parametrize("really", ["3", "1.4"])
def test_a_kerf_told_after_another_accident_changes_what_lay_beyond_that_blade(really: str) -> None:
    shop = Shop(boards(TRACK))
    shop.tick(1)
    fence, beyond = (made.id for made in shop.plan.steps[0].step.pieces)
    suffer(shop, partial(accidents.bring, material="ply", length=Fraction(50), width=Fraction(50)))
    before = sizes(shop)
    of = set_value(shop.project.design, ("saws", 0, "kerf"), really)
    suffer(shop, partial(took, saw="track saw", kerf=Fraction(really)), of)
    now, less = sizes(shop), Fraction(really) - Fraction("2.2")
    across = 0 if shop.project.facts.history[0].direction == "crosscut" else 1
    assert now[fence] == before[fence]
    assert before[beyond][across] - now[beyond][across] == less
    assert now[beyond][1 - across] == before[beyond][1 - across]


def test_what_was_measured_does_not_hang_on_a_blade_any_more() -> None:
    shop = Shop(boards(TRACK))
    shop.tick(1)
    fence, beyond = (one.id for one in shop.plan.steps[0].step.pieces)
    suffer(shop, partial(accidents.resize, name=beyond, length=Fraction(2440), width=Fraction(960)))
    suffer(shop, partial(took, saw="track saw", kerf=Fraction(4)))
    assert sizes(shop)[beyond] == (2440, 960)
    assert fence in sizes(shop) and not find_piece(shop.project.facts, fence).crossed


def test_a_size_that_was_measured_one_way_leaves_the_other_too_large() -> None:
    shop = Shop(boards(replace(TRACK, kerf="1.8"), TABLE))
    shop.tick(1, 2)
    suffer(shop, partial(accidents.bring, material="ply", length=Fraction(50), width=Fraction(50)))
    name = next(one.id for one in shop.project.facts.pieces if any(read_over(one.over, "")))
    piece = find_piece(shop.project.facts, name)
    unit, over = read_unit(piece.unit, ""), read_over(piece.over, "")
    across = 1 if over[1] else 0
    # Beyond the track twice, which takes 1.4 less than was planned with.
    assert over[across] == 2 * Fraction("1.4") and over[1 - across] == 0
    size = [piece.length * unit, piece.width * unit]
    size[1 - across] -= 1
    other = accidents.resize(shop.project.facts, name, size[0], size[1])
    assert read_over(find_piece(other, name).over, "") == over, "only the other way was measured"
    size[across] += 1
    assert find_piece(accidents.resize(other, name, size[0], size[1]), name).over == ""
    told = accidents.resize(other, name, size[0], size[1], measured=False)
    assert read_over(find_piece(told, name).over, "") == over, "it follows from what another piece measures"


def test_a_wider_blade_told_amid_a_job_does_not_cut_what_was_planned_for_a_thinner_one() -> None:
    shop = Shop(boards(TRACK, replace(TABLE, kerf="2.2")))
    shop.tick(1, 2)
    shop.edit(set_value(shop.project.design, ("saws", 1, "kerf"), "3.2"))
    (material,) = shop.plan.sheets
    for one in shop.plan.steps:
        kept = [made for made in one.step.pieces[1:] if made.use in ("part", "blank")]
        assert one.done or one.step.saw.name == "track saw" or not kept
    (told,) = disagreements_in_words(material, shop.plan)
    assert told.startswith("ply-1: laid out for blades that take 2.2 mm, and one takes 3.2 mm now;")
    # Planned anew, either saw may cut.
    suffer(shop, partial(replace))
    (material,) = shop.plan.sheets
    assert not disagreements_in_words(material, shop.plan)
    assert {one.step.saw.name for one in shop.plan.steps if not one.done} >= {"table saw"}


def test_where_no_saw_is_left_whose_blade_is_thin_enough_the_cut_says_so() -> None:
    shop = Shop(boards(replace(TABLE, widest_rip="", heaviest_piece="90", kerf="2.2")))
    shop.tick(1)
    shop.edit(set_value(shop.project.design, ("saws", 0, "kerf"), "3.2"))
    told = "the blade of table saw takes more than was planned with"
    for one in shop.plan.steps:
        if not one.done:
            kept = any(made.use in ("part", "blank") for made in one.step.pieces[1:])
            assert (told in one.step.cannot) == kept
    assert any(one.step.cannot for one in shop.plan.steps)


def test_an_edge_that_was_cut_otherwise_by_a_rough_saw_is_lost_again() -> None:
    shop = Shop(boards(TRACK))
    shop.tick(1)
    name = shop.plan.steps[0].step.pieces[1].id
    cut = partial(
        accidents.cut_otherwise, name=name, direction="crosscut", size=Fraction(700), edge="left", kerf=Fraction(3)
    )
    suffer(shop, partial(cut, saw="circular saw", rough=Fraction("3.2")))
    left, right = shop.project.facts.pieces[-2:]
    assert int(left.trim.split()[1]) * read_unit(left.unit, "") == Fraction("3.2")
    assert int(right.trim.split()[0]) * read_unit(right.unit, "") == Fraction("3.2")
    for sheet in shop.plan.sheets[0].sheets:
        for spot in sheet.placed():
            reaches = {left.id: sheet.mm(sheet.length - spot.x - spot.length), right.id: sheet.mm(spot.x)}
            assert reaches.get(sheet.id, 4) >= Fraction("3.2"), "no part has that edge"
    # Its kerf may prove to be another, too.
    assert "circular saw" in saws_used(shop.project.facts)


def test_an_edge_to_be_trimmed_loses_the_kerf_of_a_blade_that_is_wider_than_it_was_then() -> None:
    shop = Shop(boards(TRACK))
    shop.tick(1)
    name = shop.plan.steps[0].step.pieces[1].id
    cut = partial(accidents.cut_otherwise, name=name, direction="crosscut", size=Fraction(1250), edge="left")
    suffer(shop, partial(cut, kerf=Fraction(3), saw="circular saw", rough=Fraction("2.2")))
    shop.edit(set_value(shop.project.design, ("saws", 0, "kerf"), "2.6"))
    suffer(shop, partial(replace))
    assert not shop.plan.problems
    (material,) = shop.plan.sheets
    assert not material.unplaced and any(sheet.on_hand for sheet in material.sheets)


def test_what_a_saw_cut_with_another_blade_stays_as_it_is() -> None:
    shop = Shop(boards(TRACK))
    shop.tick(1)
    of = set_value(shop.project.design, ("saws", 0, "kerf"), "2.8")
    suffer(shop, partial(replace), of)
    shop.tick(next(one.number for one in shop.plan.steps if not one.done))
    suffer(shop, partial(replace))
    before = shop.project.facts
    now = took(before, "track saw", Fraction("3.2"), Fraction("2.8"))
    by_kerf = {one.kerf for piece in before.pieces for one in piece.crossed}
    assert by_kerf == {"11/5", "14/5"}
    for was, is_now in zip(before.pieces, now.pieces, strict=True):
        new = sum(one.times for one in was.crossed if one.kerf == "14/5")
        lost = (was.length + was.width) * read_unit(was.unit, "") - (is_now.length + is_now.width) * read_unit(
            is_now.unit, ""
        )
        assert lost == new * Fraction("0.4")


def test_a_saw_that_is_called_otherwise_is_the_same_blade() -> None:
    shop = Shop(boards(TRACK, TABLE))
    shop.tick(1, 2)
    suffer(shop, partial(accidents.bring, material="ply", length=Fraction(50), width=Fraction(50)))
    shop.tick(next(one.number for one in shop.plan.steps if not one.done))
    now = (replace(TRACK, name="rail saw"), TABLE)
    renamed = with_saws_renamed(shop.project.facts, (TRACK, TABLE), now)
    assert "rail saw" in saws_used(renamed) and "track saw" not in saws_used(renamed)
    assert renamed.history == shop.project.facts.history, "the history stays as it was written"
    assert with_saws_renamed(renamed, now, (TRACK, TABLE)) == shop.project.facts, "and back"
    # Another blade, another saw, or two that change their names: that is no name only.
    for other in ((replace(TRACK, name="rail saw", kerf="3"), TABLE), (TABLE,), (TABLE, TRACK)):
        assert with_saws_renamed(shop.project.facts, (TRACK, TABLE), other) == shop.project.facts
