"""Layouts that are settled, begun and overtaken: what holds when the design moves on."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from fractions import Fraction

import pytest
from designs import GOODS, INCH, carcass, design, plan_of
from hypothesis import given, settings
from hypothesis import strategies as st
from shop import Shop, check_sheets, check_steps

from core import accidents, edits
from core.cutting import cut_free
from core.goods import Stock, Trim
from core.outputs import cuts_document, parts_document, sheets_document
from core.plan import Plan, Planner
from core.printing import disagreements_in_words, needed_in_words
from core.project import Carcass, Design, LoosePart, Saw
from core.sheets import MaterialSheets, accept
from core.taking_stock import take_stock

PLY = {"panel": "ply", "back_panel": "ply"}


def loose(*quantities: int, size: str = "30") -> Design:
    """Loose parts 30 x 20, so many under each id."""
    parts = tuple(LoosePart("LMNPR"[n], "Panel", "ply", size, "20", quantity) for n, quantity in enumerate(quantities))
    return design(loose=parts)


def of(plan: Plan, material: str = "ply") -> MaterialSheets:
    return next(one for one in plan.sheets if one.material == material)


def drawn(plan: Plan) -> tuple[object, ...]:
    """The sheets and the cuts as they are printed."""
    return sheets_document(plan.sheets, plan.worked.goods.thickness, plan.worked.kerf), cuts_document(plan)


def pieces(plan: Plan) -> list[str]:
    return sorted(piece for sheet in of(plan).sheets for piece in sheet.pieces)


# --- An accepted layout


def test_an_accepted_layout_is_used_while_it_answers_the_job() -> None:
    shop = Shop(design(carcass(), rules=PLY))
    laid, was = of(shop.plan), drawn(shop.plan)
    shop.keep(laid)
    again = Shop(shop.project.design, shop.project.facts)
    assert again.searched == []
    assert of(again.plan).accepted
    assert drawn(again.plan) == was
    assert of(again.plan).lower_bound == laid.lower_bound


def test_a_change_that_leaves_the_job_leaves_the_layout() -> None:
    shop = Shop(design(carcass(), rules=PLY))
    shop.keep(of(shop.plan))
    shop.edit(replace(shop.project.design, notes="Oil it twice", space=replace(shop.project.design.space, name="Hall")))
    assert of(shop.plan).accepted
    assert len(shop.searched) == 1


def test_a_layout_that_answers_another_job_is_searched_for_anew_and_holds_again_after_an_undo() -> None:
    before = design(carcass(), rules=PLY)
    shop = Shop(before)
    was = drawn(shop.plan)
    shop.keep(of(shop.plan))
    shop.edit(edits.set_value(before, ("row", 0, "width"), "30"))
    assert not of(shop.plan).accepted
    assert of(shop.plan).disagreements == ()
    shop.edit(before)
    assert of(shop.plan).accepted
    assert drawn(shop.plan) == was


def test_parts_that_fit_no_sheet_are_named_with_the_reason_before_and_after_it_is_accepted() -> None:
    shop = Shop(loose(2, size="100"))
    told = of(shop.plan).unplaced
    assert [piece for piece, _ in told] == ["L1/1", "L1/2"]
    assert all("too long" in reason for _, reason in told)
    shop.keep(of(shop.plan))
    assert of(shop.plan).accepted and of(shop.plan).unplaced == told
    assert not of(shop.plan).proved_minimum


def test_a_layout_in_the_finest_of_units_can_be_stored_and_read() -> None:
    # Sevenths, elevenths, … of a millimetre ask for a unit of 1/517316800 mm, and sizes of 13 digits.
    primes = (7, 11, 13, 17, 19, 23, 29, 31)
    parts = tuple(LoosePart(f"L{n}", "Strip", "ply", f"2300 mm - 1 mm / {n}", "100 mm") for n in primes)
    shop = Shop(design(loose=parts))
    was = drawn(shop.plan)
    shop.keep(of(shop.plan))
    assert shop.plan.problems == () and of(shop.plan).accepted
    assert drawn(shop.plan) == was


def test_trim_and_price_of_a_sheet_stay_with_it() -> None:
    stock = Stock("96", "48", "84.50", trim=Trim("1/4", "3/8", "1/2", "5/8"))
    shop = Shop(with_stock(loose(2), stock))
    shop.tick(1)
    (sheet,) = of(shop.plan).sheets
    assert [sheet.mm(side) / INCH for side in sheet.trim] == [Fraction(n, 8) for n in (2, 3, 4, 5)]
    assert sheet.price == 8450


def test_areas() -> None:
    (one,) = Shop(loose(3)).plan.sheets
    assert (one.area / INCH**2, one.used_area / INCH**2) == (96 * 48, 3 * 30 * 20)


def test_what_is_worth_keeping_is_100_by_300_mm() -> None:
    def offcuts(length: str, width: str) -> set[bool]:
        # Two cuts with no kerf leave a strip of the whole width, and one beside the part.
        stock = Stock("1000 mm", "500 mm")
        part = LoosePart("L", "Panel", "ply", length, width)
        shop = Shop(replace(with_stock(design(loose=(part,)), stock), saws=(Saw("saw", kerf="0"),)))
        return {offcut.worth_keeping for sheet in of(shop.plan).sheets for offcut in sheet.offcuts()}

    # 100 x 500 and no other; then 99.9 x 500; then 299.9 x 1000, and 1000 x 300 is beside it.
    assert offcuts("900 mm", "500 mm") == {True}
    assert offcuts("900.1 mm", "500 mm") == {False}


def test_what_is_worth_keeping_is_the_same_however_finely_a_sheet_is_counted() -> None:
    shop = Shop(loose(3))
    shop.tick(1)
    # Thirds of an inch ask for a finer unit; the sheet that is begun keeps its own.
    first, *others = shop.project.design.loose
    shop.edit(
        replace(shop.project.design, loose=(first, *others, LoosePart("T", "Third", "ply", "46 1/3", "22 1/3", 2)))
    )
    sheets = of(shop.plan).sheets
    assert len({sheet.unit for sheet in sheets}) == 2
    cut_off = {
        (one.step.sheet, made.x, made.y): made.use == "offcut"
        for one in shop.plan.steps
        for made in one.step.pieces
        if made.use in ("offcut", "waste")
    }
    told = {(sheet.id, one.x, one.y): one.worth_keeping for sheet in sheets for one in sheet.offcuts()}
    assert cut_off == told and set(told.values()) == {True, False}


def test_as_few_sheets_as_can_be_is_told() -> None:
    assert of(Shop(loose(2)).plan).proved_minimum
    assert not of(Shop(loose(2, size="100")).plan).proved_minimum


def test_an_equal_piece_stands_for_one_that_went() -> None:
    shop = Shop(loose(1, 1))
    shop.keep(of(shop.plan))
    # A third is wanted, then the second is not: as many as before, and the job is the same.
    shop.edit(loose(1, 1, 1))
    shop.edit(replace(loose(1, 1, 1), loose=tuple(part for part in loose(1, 1, 1).loose if part.id != "M")))
    assert of(shop.plan).accepted
    assert pieces(shop.plan) == ["L1/1", "L1/3"]
    check_sheets(shop.plan)


# --- A begun sheet


def begun() -> Shop:
    """Two carcasses on sheets of plywood, the first two cuts of the first sheet made."""
    shop = Shop(design(carcass("A"), carcass("B", "30"), rules=PLY))
    for _ in range(2):
        step = shop.next_step("ply-1")
        assert step
        shop.tick(step.number)
    assert of(shop.plan).accepted and len(of(shop.plan).sheets) > 1
    return shop


def steps_of(shop: Shop, sheet: str) -> list[tuple[str, bool]]:
    return [(one.step.piece, one.done) for one in shop.plan.steps if one.step.sheet == sheet]


def test_new_sheets_are_numbered_after_the_last_begun_one() -> None:
    shop = Shop(loose(20))
    last = of(shop.plan).sheets[-1].id
    step = shop.next_step(last)
    assert step and last != "ply-1"
    shop.tick(step.number)
    shop.edit(loose(20, 1, size="31"))
    number = int(last.removeprefix("ply-"))
    ids = [sheet.id for sheet in of(shop.plan).sheets]
    assert ids == [last, *(f"ply-{number + n}" for n in range(1, len(ids)))]


def test_a_begun_sheet_keeps_its_layout_when_the_design_changes() -> None:
    shop = begun()
    was, steps = shop.sheet("ply-1"), steps_of(shop, "ply-1")
    meant = {one.number: one.meaning for one in shop.plan.steps if one.step.sheet == "ply-1"}
    shop.edit(edits.set_value(shop.project.design, ("row", 1, "height"), "30"))
    now = shop.sheet("ply-1")
    assert now.begun
    assert (now.length, now.width, now.kerf, now.unit) == (was.length, was.width, was.kerf, was.unit)
    # The same cuts, known by the same pieces, with the same ticks.
    assert sorted(steps_of(shop, "ply-1")) == sorted(steps)
    # Where what lay at the fence is no part any more it is the other end, and another number.
    same = {one.number: one.meaning for one in shop.plan.steps if one.number in meant}
    assert len(meant) / 2 < len(same) < len(meant) and all(meant[number] == one for number, one in same.items())
    check_sheets(shop.plan)


def test_what_a_begun_sheet_has_and_nobody_asks_for_any_more_is_named() -> None:
    shop = begun()
    on_it = set(shop.sheet("ply-1").pieces)
    shop.edit(edits.set_value(shop.project.design, ("row", 1, "height"), "30"))
    told = of(shop.plan).disagreements
    assert told
    for one in told:
        assert (one.sheet, one.piece in on_it) == ("ply-1", True)
        assert one.length > 0 and one.width > 0
        # Its code stands for something of another size now, or no more like it are wanted.
        if one.wanted is None:
            assert one.piece not in [id for kind in shop.plan.kinds for id in kind.piece_ids()]
        else:
            assert (one.wanted.length, one.wanted.width) != (one.length, one.width)
    assert {one.piece for one in told}.isdisjoint(shop.sheet("ply-1").pieces)
    check_sheets(shop.plan)


def test_when_fewer_are_wanted_those_that_are_made_serve_whatever_their_numbers() -> None:
    # Of panels so long each comes off a strip of its own: the last two can be cut before the others.
    shop = Shop(loose(4, size="60"))
    makes = {made.id: one for one in shop.plan.steps for made in one.step.pieces}
    needed = {makes["L1/3"].number, makes["L1/4"].number}
    for piece in ("L1/3", "L1/4"):
        while piece in makes:
            needed.add(makes[piece].number)
            piece = makes[piece].step.piece
    shop.tick(*sorted(needed))
    cut = {name for one in shop.plan.steps if one.done for name in one.names if name.startswith("L1/")}
    shop.edit(loose(2, size="60"))
    assert not of(shop.plan).disagreements and cut_free(shop.plan.sheets, shop.plan.steps) == set(pieces(shop.plan))
    assert not any(one.names[0].startswith("L1/") for one in shop.plan.steps if not one.done), "nothing more is cut"
    # If one less is wanted after the next tick, that is told of as it is called.
    fewer = Shop(loose(1, size="60"), replace(shop.project.facts, layouts=(accept(of(shop.plan)),)))
    told, *_ = disagreements_in_words(of(fewer.plan), fewer.plan)
    assert told in {f"{one} is cut 60 x 20; it is not wanted now" for one in cut}
    # They go by what was pencilled on them, also once they are only pieces in the shop.
    shop = Shop(shop.project.design, take_stock(shop.project.facts, of(shop.plan), shop.plan.steps))
    assert {piece.part for piece in shop.project.facts.pieces if piece.part} == cut
    assert set(of(shop.plan).made) == {f"L1/{n + 1}" for n in range(len(cut))} and not of(shop.plan).misfits


def test_what_came_off_as_an_offcut_is_no_part_that_no_longer_suits() -> None:
    def boards(width: str) -> Design:
        wide, narrow = LoosePart("L", "Shelf", "ply", "30", width), LoosePart("M", "Rail", "ply", "30", "12", 2)
        return design(loose=(wide, narrow))

    shop = Shop(boards("22"))
    shop.tick(1)
    # The shelf is wanted narrower before it comes off, and has to be cut off as it lies: the rails lie beyond it.
    shop.edit(boards("21"))
    while step := shop.next_step("ply-1"):
        shop.tick(step.number)
    done = [one for one in shop.plan.steps if one.done]
    assert [one.names for one in done] == [
        ("ply-1.1", "ply-1.8"),
        ("ply-1.3", "ply-1.2"),
        ("L2/1", "ply-1.5"),
        ("L2/2", "ply-1.7"),
    ]
    assert not any("is cut 30 x 22" in told for told in disagreements_in_words(of(shop.plan), shop.plan))
    facts = take_stock(shop.project.facts, of(shop.plan), shop.plan.steps)
    assert [(one.id, one.part) for one in facts.pieces] == [
        ("ply-1.2", ""),
        ("ply-1.4", "L2/1"),
        ("ply-1.6", "L2/2"),
        ("ply-1.8", ""),
    ]


def test_what_is_cut_and_no_longer_suits_is_named_until_it_is_decided_on_whatever_is_ticked() -> None:
    shop = Shop(loose(2))
    while step := shop.next_step("ply-1"):
        shop.tick(step.number)
    whole, wanted = shop.sheet("ply-1"), shop.project.design
    shop.edit(edits.set_value(wanted, ("loose", 0, "length"), "29"))
    told = of(shop.plan).disagreements
    assert [one.piece for one in told] == ["L1/1", "L1/2"]
    # The one more that these take is cut, and another material is settled with it.
    while step := shop.next_step():
        shop.tick(step.number)
        assert of(shop.plan).disagreements == told and of(shop.plan).accepted
        check_sheets(shop.plan)
    # Stock is taken: they are parts that are cut, and the history tells them as such.
    facts = take_stock(shop.project.facts, of(shop.plan), shop.plan.steps)
    assert {(one.part, one.of) for one in facts.pieces if one.part} >= {("L1/1", "ply-1"), ("L1/2", "ply-1")}
    assert {word.split()[0] for past in facts.history for word in past.makes} >= {"L1/1", "L1/2"}
    # Or the old size is wanted after all: then they serve.
    shop.edit(wanted)
    assert shop.sheet("ply-1").root == whole.root and set(shop.sheet("ply-1").pieces) == {"L1/1", "L1/2"}


def test_what_was_kept_at_the_fence_of_a_cut_that_is_made_does_not_become_waste_there() -> None:
    strip, panel = LoosePart("L1", "Strip", "ply", "40", "3", 2), LoosePart("L2", "Panel", "ply", "30", "20", 1)
    shop = Shop(design(loose=(strip, panel)))
    while step := shop.next_step():
        shop.tick(step.number)
    # Narrower than what is worth keeping, and not wanted any more.
    shop.edit(replace(shop.project.design, loose=(panel,)))
    check_steps(shop.plan)
    uses = {made.use for one in shop.plan.steps for made in one.step.pieces[:1]}
    assert "offcut" in uses and "waste" not in uses


def test_what_a_begun_sheet_gives_is_not_laid_out_again() -> None:
    shop = begun()
    kept = Counter(piece.rpartition("/")[0] for piece in shop.sheet("ply-1").pieces)
    shop.edit(replace(shop.project.design, row=(*shop.project.design.row, carcass("C", "20"))))
    job = shop.searched[-1]
    wanted = {kind.code: kind.quantity for kind in shop.plan.kinds}
    assert {part.code: part.quantity for part in job.parts} == {
        code: count - kept[code] for code, count in wanted.items() if count > kept[code]
    }
    check_sheets(shop.plan)


def test_a_spoilt_tree_does_not_move_the_ticks_of_other_pieces() -> None:
    # Every blank that comes after a piece which is given up keeps its name.
    shop = begun()
    while step := shop.next_step("ply-1"):
        shop.tick(step.number)
    done = steps_of(shop, "ply-1")
    assert all(ticked for _, ticked in done)
    shop.edit(edits.set_value(shop.project.design, ("row", 0, "height"), "30"))
    assert of(shop.plan).disagreements
    assert steps_of(shop, "ply-1") == done


def test_after_an_undo_the_begun_layout_is_whole_again() -> None:
    shop = begun()
    before, laid = shop.project.design, of(shop.plan).sheets
    shop.edit(edits.set_value(before, ("row", 1, "height"), "30"))
    shop.edit(before)
    assert of(shop.plan).sheets == laid
    assert of(shop.plan).disagreements == ()


def test_a_layout_accepted_beside_a_begun_sheet() -> None:
    shop = begun()
    shop.edit(edits.set_value(shop.project.design, ("row", 1, "height"), "30"))
    shop.keep(of(shop.plan))
    assert of(shop.plan).accepted
    assert of(shop.plan).sheets[0].begun
    check_sheets(shop.plan)


def test_a_later_kerf_leaves_a_begun_sheet_its_own() -> None:
    shop = begun()
    was = shop.sheet("ply-1").kerf * shop.sheet("ply-1").unit
    shop.edit(replace(shop.project.design, saws=(Saw("saw", kerf="3/32"),)))
    kept, *others = of(shop.plan).sheets
    assert kept.kerf * kept.unit == was
    assert {sheet.kerf * sheet.unit for sheet in others} == {Fraction(3, 32) * Fraction(254, 10)}
    check_sheets(shop.plan)


def test_a_begun_sheet_stays_when_nothing_of_its_material_is_asked_for() -> None:
    shop = Shop(loose(2))
    shop.tick(1)
    shop.edit(design())
    assert [sheet.id for sheet in of(shop.plan).sheets] == ["ply-1"]
    assert len(of(shop.plan).disagreements) == 2
    assert all(told.wanted is None for told in of(shop.plan).disagreements)
    check_sheets(shop.plan)


def test_a_material_that_is_taken_away_though_its_sheets_are_begun() -> None:
    shop = Shop(loose(2))
    shop.tick(1)
    shop.edit(replace(design(), materials={"thin": GOODS["thin"]}))
    (problem,) = shop.plan.problems
    assert str(problem).startswith("material ply: sheets of it are begun")


def test_a_sheet_that_is_no_longer_begun_is_laid_out_anew() -> None:
    shop = begun()
    shop.edit(edits.set_value(shop.project.design, ("row", 1, "height"), "30"))
    ticked = [step.number for step in shop.plan.steps if step.done]
    for number in reversed(ticked):
        shop.untick(number)
    assert of(shop.plan).disagreements == ()
    assert not any(sheet.begun for sheet in of(shop.plan).sheets)
    check_sheets(shop.plan)


def test_an_equal_piece_on_a_begun_sheet_stands_for_one_that_went() -> None:
    shop = Shop(loose(1, 1, 1))
    shop.tick(1)
    shop.edit(replace(shop.project.design, loose=shop.project.design.loose[1:]))
    # Two of the three are wanted still, and both are on the sheet; nothing is searched for.
    assert pieces(shop.plan) == ["L1/2", "L1/3"]
    (told,) = of(shop.plan).disagreements
    assert told.piece == "L1/1"
    shop.edit(
        replace(shop.project.design, loose=(*shop.project.design.loose, LoosePart("X", "Panel", "ply", "30", "20")))
    )
    assert of(shop.plan).disagreements == ()
    assert pieces(shop.plan) == ["L1/1", "L1/2", "L1/3"]
    assert len(shop.searched) == 1


def trimmed_first() -> Shop:
    """A carcass on trimmed sheets, of which the first has lost the first of its edges and nothing else."""
    trim = Trim("1/4", "1/4", "1/4", "1/4")
    shop = Shop(with_stock(design(carcass("A", "30", "30", "12"), rules=PLY), Stock("96", "48", trim=trim)))
    shop.tick(1)
    return shop


def test_a_sheet_that_is_only_trimmed_proves_nothing_about_the_rest() -> None:
    shop = trimmed_first()
    assert of(shop.plan).proved_minimum and len(of(shop.plan).sheets) == 1
    shop.edit(edits.set_value(shop.project.design, ("row", 0, "depth"), "11 3/4"))
    # What changed no longer lies on the begun sheet, and its room is not offered: a second sheet is shown.
    assert len(of(shop.plan).sheets) == 2 and of(shop.plan).unplaced == ()
    fresh = Shop(shop.project.design)
    assert len(of(fresh.plan).sheets) == 1
    assert of(shop.plan).lower_bound == 1 and not of(shop.plan).proved_minimum
    assert needed_in_words(of(shop.plan)) == "2 sheets; at least 1 needed"


@pytest.mark.parametrize(
    ("half", "whole", "said"),
    [
        # By hand: four boards of 40 x 20 go on one whole sheet, or on two halves.
        ("40", "100", "2 sheets; no layout costs less"),
        ("60", "100", "1 sheet; no layout costs less"),
        ("", "", "1 sheet"),
        # Nobody knows whether a half at its price would not cost less.
        ("", "100", "2 sheets"),
    ],
)
def test_of_sheets_at_several_prices_it_is_told_that_none_cost_less(half: str, whole: str, said: str) -> None:
    four = with_stock(loose(4, size="40"), Stock("96", "48", whole), Stock("48", "48", half))
    assert needed_in_words(of(Shop(four).plan)) == said


def test_what_might_cost_less_is_not_said_to_cost_least() -> None:
    # By area two half sheets would do, at 120; but no two boards of 40 x 30 go on one, so it takes 160.
    boards = design(loose=(LoosePart("L1", "Board", "ply", "40", "30", 3),))
    found = of(Shop(with_stock(boards, Stock("96", "48", "100"), Stock("48", "48", "60"))).plan)
    assert sorted(sheet.stock for sheet in found.sheets) == ["48 x 48", "96 x 48"]
    assert (found.cost, found.least_money) == (16000, 16000), "every way was tried"
    assert needed_in_words(found) == "2 sheets; no layout costs less"
    assert needed_in_words(replace(found, least_money=15999)) == "2 sheets"


def test_beside_a_piece_on_hand_it_is_told_how_many_new_sheets_there_must_be() -> None:
    # Two boards 96 x 23 are a sheet, so four are two; what is left of these is too narrow for one of 30 x 20.
    parts = (LoosePart("L1", "Board", "ply", "96", "23", 4), LoosePart("L2", "Small", "ply", "30", "20", 1))
    shop = Shop(design(loose=parts))
    found = of(shop.store(pieces=accidents.bring(shop.project.facts, "ply", 31 * INCH, 21 * INCH).pieces))
    assert needed_in_words(found) == "1 piece on hand, 2 new sheets; no layout can do with 1"
    assert found.cost is None, "nobody knows what a sheet costs"
    # With a sheet and the piece begun, and nothing of them wanted any more, there is no price at all to prove by.
    for id in ("rack-1", "ply-1"):
        shop.tick(next(one.number for one in shop.plan.steps if one.sheet.id == id and not one.done))
    shop.edit(design(loose=(replace(parts[0], length="95"), replace(parts[1], length="29"))))
    assert not of(shop.plan).costs_least and "no layout" not in needed_in_words(of(shop.plan))


def test_a_begun_sheet_that_nothing_needs_is_no_bound() -> None:
    shop = trimmed_first()
    shop.edit(design())
    assert (len(of(shop.plan).sheets), of(shop.plan).lower_bound) == (1, 0)
    assert needed_in_words(of(shop.plan)) == "1 sheet"


def test_a_begun_sheet_larger_than_what_is_sold_now_may_do_better_than_fresh_stock() -> None:
    shop = Shop(with_stock(loose(4), Stock("96", "48")))
    shop.tick(1)
    shop.edit(with_stock(loose(4), Stock("31", "21")))
    assert len(of(shop.plan).sheets) == of(shop.plan).lower_bound == 1


# --- Limited stock


def with_stock(of: Design, *stock: Stock) -> Design:
    return replace(of, materials={**GOODS, "ply": replace(GOODS["ply"], stock=stock)})


def test_limited_stock() -> None:
    # Eight of 30 x 20 go on a sheet of 96 x 48 without a kerf to spare; ten need two.
    one = Shop(with_stock(loose(10), Stock("96", "48", quantity=1)))
    assert len(of(one.plan).sheets) == 1
    assert of(one.plan).unplaced
    assert {reason for _, reason in of(one.plan).unplaced} == {"the search found no room on the stock there is"}
    check_sheets(one.plan)
    both = Shop(with_stock(loose(10), Stock("96", "48", quantity=1), Stock("60", "48")))
    assert of(both.plan).unplaced == ()
    assert Counter(sheet.stock for sheet in of(both.plan).sheets)["96 x 48"] <= 1


def test_a_begun_sheet_is_taken_from_limited_stock() -> None:
    shop = Shop(with_stock(loose(2), Stock("96", "48", quantity=1)))
    shop.tick(1)
    shop.edit(with_stock(loose(2, 20), Stock("96", "48", quantity=1)))
    assert [sheet.id for sheet in of(shop.plan).sheets] == ["ply-1"]
    assert {reason for _, reason in of(shop.plan).unplaced} == {"there is no stock to cut it from"}
    check_sheets(shop.plan)
    # Of three sheets two are left beside the one that is begun, whatever other stock there is.
    stocks = Stock("96", "48", quantity=3), Stock("80", "48", quantity=5)
    shop.edit(with_stock(loose(2, 20), *stocks))
    assert {stock.name: stock.quantity for stock in shop.searched[-1].stock} == {"96 x 48": 2, "80 x 48": 5}
    shop.edit(with_stock(loose(2, 20), Stock("96", "48", quantity=0)))
    assert {reason for _, reason in of(shop.plan).unplaced} == {"there is no stock to cut it from"}


def test_none_to_be_had() -> None:
    shop = Shop(with_stock(loose(2), Stock("96", "48", quantity=0)))
    assert of(shop.plan).sheets == ()
    assert [reason for _, reason in of(shop.plan).unplaced] == ["there is no stock to cut it from"] * 2
    assert of(shop.plan).lower_bound == 0 and not of(shop.plan).proved_minimum


# --- A search under way


def test_while_a_layout_is_searched_for() -> None:
    plan = plan_of(design(carcass(), rules=PLY))
    assert plan.pending and of(plan).pending and not of(plan).proved_minimum
    assert (of(plan).sheets, of(plan).unplaced, plan.steps) == ((), (), ())
    sheets_document(plan.sheets, plan.worked.goods.thickness, plan.worked.kerf)


def test_begun_sheets_are_there_while_the_rest_is_searched_for() -> None:
    shop = begun()
    wider = replace(shop.project, design=edits.set_value(shop.project.design, ("row", 1, "height"), "30"))
    waiting = shop.planner.plan(wider, lambda job: None)
    assert of(waiting).pending
    assert [sheet.id for sheet in of(waiting).sheets] == ["ply-1"]
    check_sheets(waiting)


# --- What a file may hold


@pytest.mark.parametrize(
    ("field", "text", "told"),
    [
        ("unit", "0", "is no part of a millimetre"),
        ("unit", "-1/1600", "is no part of a millimetre"),
        ("unit", "half", "is no part of a millimetre"),
        ("trim", "1 2 3", "is not four whole numbers"),
        ("trim", "² 0 0 0", "is not four whole numbers"),
        ("cuts", "rip (", "cannot be read"),
        ("cuts", "rip (5 - | 3 -)", "layout"),
        ("length", 7, "layout"),
    ],
)
def test_an_accepted_sheet_that_cannot_be(field: str, text: object, told: str) -> None:
    shop = Shop(loose(2))
    shop.keep(of(shop.plan))
    (layout,) = shop.project.facts.layouts
    bad = replace(layout, sheets=(replace(layout.sheets[0], **{field: text}),))
    plan = Planner().plan(replace(shop.project, facts=replace(shop.project.facts, layouts=(bad,))))
    (problem,) = plan.problems
    assert told in str(problem) and problem.where == "material ply"


def test_an_accepted_sheet_of_other_sizes_than_it_claims_to_answer_is_not_believed() -> None:
    shop = Shop(loose(2))
    shop.keep(of(shop.plan))
    (layout,) = shop.project.facts.layouts
    other = accept(of(Shop(loose(2, size="31")).plan))
    forged = replace(layout, sheets=other.sheets)
    plan = Planner().plan(replace(shop.project, facts=replace(shop.project.facts, layouts=(forged,))))
    assert not of(plan).accepted
    check_sheets(plan)


def test_two_accepted_sheets_with_the_same_pieces_count_once() -> None:
    shop = Shop(loose(2))
    shop.keep(of(shop.plan))
    (layout,) = shop.project.facts.layouts
    twice = replace(layout, sheets=(layout.sheets[0], replace(layout.sheets[0], id="ply-x")))
    plan = Planner().plan(replace(shop.project, facts=replace(shop.project.facts, layouts=(twice,))))
    check_sheets(plan)


# --- Whatever a person does

CHANGES = st.sampled_from(
    [
        ("width", "20"), ("width", "24"), ("height", "30"), ("height", "34 1/2"), ("depth", "20"),
        ("rules", {"panel": "mdf"}), ("rules", {}), ("rules", {"base": "none"}),
    ]
)  # fmt: skip
DEEDS = ("tick", "tick", "tick", "untick", "change", "add", "remove", "undo", "hold", "hold", "kerf")


@settings(max_examples=40, deadline=None)
@given(st.data())
def test_whatever_is_done_ticks_stay_and_every_piece_has_its_place(data: st.DataObject) -> None:
    shop = Shop(design(carcass("A"), rules={**PLY, "top": "none"}))
    undo = [shop.project.design]
    for _ in range(data.draw(st.integers(2, 8))):
        here = shop.project.design
        what = data.draw(st.sampled_from(DEEDS))
        done = [one for one in shop.plan.steps if one.done]
        if what == "tick" and shop.plan.steps:
            sheet = data.draw(st.sampled_from(sorted({one.step.sheet for one in shop.plan.steps})))
            step = shop.next_step(sheet)
            if step:
                shop.tick(step.number)
        elif what == "untick" and done:
            shop.untick(done[-1].number)
        elif what == "change" and here.row:
            at = data.draw(st.integers(0, len(here.row) - 1))
            name, value = data.draw(CHANGES)
            assert isinstance(here.row[at], Carcass)
            shop.edit(edits.set_value(here, ("row", at, name), value))
        elif what == "add" and len(here.row) < 3:
            shop.edit(edits.add_carcass(here, "New", "24", "34 1/2", "23 1/4", 0))
        elif what == "remove" and here.row:
            shop.edit(edits.remove_at(here, ("row", data.draw(st.integers(0, len(here.row) - 1)))))
        elif what == "undo" and len(undo) > 1:
            undo.pop()
            shop.edit(undo.pop())
        elif what == "hold":
            shop.edit(
                edits.hold_back(here, data.draw(st.sampled_from([kind.code for kind in shop.plan.kinds] or ["X1"])))
            )
        elif what == "kerf":
            shop.edit(edits.set_value(here, ("saws", 0, "kerf"), data.draw(st.sampled_from(["1/8", "3/32"]))))
        undo.append(shop.project.design)
        assert shop.plan.problems == ()
        check_sheets(shop.plan)
        parts_document(shop.plan)
        sheets_document(shop.plan.sheets, shop.plan.worked.goods.thickness, shop.plan.worked.kerf)
        cuts_document(shop.plan)
