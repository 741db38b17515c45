"""What a change of plan comes to, as the person reads it who is to accept it."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

import pytest
from designs import GOODS, INCH, design
from shop import Shop

from core import accidents
from core.amending import after, anew
from core.changes_in_words import buys_more, changes_in_words, listed, misfits_in_words, sheets_to_buy
from core.goods import Stock
from core.plan import Plan
from core.project import Design, Facts, LoosePart

SHEET = "Plywood 3/4, 96 x 48"
NONE_MORE = "No sheet more is needed."


def boards(*parts: tuple[str, str, int], price: str = "84.50", quantity: int | None = None) -> Shop:
    """Loose parts by length, width and quantity, out of plywood sheets; one cut is made."""
    loose = tuple(LoosePart(f"L{n}", f"Board {n}", "ply", *part) for n, part in enumerate(parts, start=1))
    goods = {**GOODS, "ply": replace(GOODS["ply"], stock=(Stock("96", "48", price, quantity),))}
    shop = Shop(design(loose=loose, materials=goods))
    shop.tick(1)
    return shop


def cut_until(shop: Shop, part: str) -> Shop:
    """Ticks step after step until a part is made."""
    while not any(one.done and any(made.id == part for made in one.step.pieces) for one in shop.plan.steps):
        shop.tick(next(one for one in shop.plan.steps if not one.done).number)
    return shop


def then(shop: Shop, change: Callable[[Facts], Facts] = lambda facts: facts, to: Design | None = None) -> Plan:
    """The plan as it would be after something happened, changed as little as can be."""
    return shop.planner.plan(after(shop.planner, shop.plan, "ply", change, to), shop.find)


def resized(shop: Shop, length: str, width: str) -> Design:
    """The design with its first loose part in another size."""
    first, *others = shop.project.design.loose
    return replace(shop.project.design, loose=(replace(first, length=length, width=width), *others))


def spoil(facts: Facts) -> Facts:
    return accidents.spoil(facts, "L1/1")


def test_where_nothing_changes_it_says_so() -> None:
    shop = boards(("96", "23", 2))
    stays = "1 of the 1 cuts that are left stay as they are, under their numbers."
    assert changes_in_words(shop.plan, then(shop)) == [NONE_MORE, stays]
    shop.tick(2)
    assert changes_in_words(shop.plan, then(shop)) == [NONE_MORE], "no cut is left to speak of"


def test_a_part_that_comes_out_of_what_is_there_costs_cuts_and_no_sheet() -> None:
    shop = cut_until(boards(("40", "10", 6), ("20", "10", 5)), "L1/1")
    left, last = sum(not one.done for one in shop.plan.steps), shop.plan.steps[-1].number
    plan = then(shop, spoil)
    (host,) = (sheet for sheet in plan.sheets[0].sheets if "L1/1" in sheet.pieces)
    assert host.on_hand
    assert changes_in_words(shop.plan, plan) == [
        NONE_MORE,
        f"{left} of the {left} cuts that are left stay as they are, under their numbers.",
        f"2 new cuts: step {last + 1} to {last + 2}.",
        f"Made again: L1/1, out of {host.id}.",
    ]
    assert not buys_more(shop.plan, plan)


@pytest.mark.parametrize(("price", "cost"), [("84.50", ["cost $84.50 -> $169.00"]), ("", [])])
def test_a_sheet_more_is_told_with_what_it_costs_where_that_is_known(price: str, cost: list[str]) -> None:
    shop = boards(("96", "23", 2), price=price)
    plan = then(shop, spoil)
    assert changes_in_words(shop.plan, plan) == [
        f"1 sheet more: {SHEET}, ply-2",
        *cost,
        "1 of the 1 cuts that are left stay as they are, under their numbers.",
        "1 new cut: step 3.",
        "Made again: L1/1, out of ply-2.",
    ]
    assert (sheets_to_buy(shop.plan), sheets_to_buy(plan)) == ({SHEET: 1}, {SHEET: 2})
    assert buys_more(shop.plan, plan) and not buys_more(plan, shop.plan)


def test_the_parts_that_come_from_another_piece_or_sheet_are_told_together() -> None:
    shop = boards(("40", "10", 12), ("20", "9", 3))
    (first,) = (sheet for sheet in shop.plan.sheets[0].sheets if sheet.begun)
    (other,) = (sheet for sheet in shop.plan.sheets[0].sheets if not sheet.begun)
    # What is left of the sheet that was begun is a narrow strip: its parts go to other sheets.
    largest = max(
        (made for made in shop.plan.steps[0].step.pieces if made.use == "blank"),
        key=lambda made: made.length * made.width,
    )
    plan = then(shop, lambda facts: accidents.resize(facts, largest.id, 12 * INCH, 12 * INCH))
    told = [line for line in changes_in_words(shop.plan, plan) if " now come" in line]
    now = {piece: sheet.id for sheet in plan.sheets[0].sheets for piece in sheet.pieces}
    moved = {piece for piece in first.pieces if not now.get(piece, first.id).startswith(first.id)}
    assert moved and {line.rpartition(" ")[2].rstrip(".") for line in told} == {now[piece] for piece in moved}
    assert sum(line.count("/") + line.count(" to ") for line in told) <= len(moved)
    assert not any(piece in " ".join(told) for piece in other.pieces if now[piece] == other.id)


def test_pieces_in_a_row_are_told_by_their_ends_and_others_one_by_one() -> None:
    row = ["S1/1", "S1/2", "S1/3", "S2/4", "S1/5", "S1/6", "K1/9"]
    assert listed(row) == "S1/1 to S1/3, S2/4, S1/5, S1/6, K1/9"


def test_a_part_that_is_stock_again_is_told_with_the_name_that_it_has_now() -> None:
    shop = cut_until(boards(("40", "10", 6)), "L1/1")
    plan = then(shop, lambda facts: accidents.resize(facts, "L1/1", 30 * INCH, 10 * INCH))
    (piece,) = (one for one in plan.project.facts.pieces if one.length * Fraction(one.unit) == 30 * INCH)
    told = f"New name to pencil on: {piece.id}, 30 x 10 (it was L1/1)."
    assert told in changes_in_words(shop.plan, plan)
    # It has that name from now on.
    assert not any("pencil on" in line for line in changes_in_words(plan, plan))


def test_what_was_cut_otherwise_is_told_with_both_names() -> None:
    shop = boards(("40", "10", 6))
    blank = next(made for made in shop.plan.steps[0].step.pieces if made.use == "blank")
    plan = then(shop, lambda facts: accidents.cut_otherwise(facts, blank.id, "rip", 5 * INCH, "bottom", INCH / 8))
    (told,) = (line for line in changes_in_words(shop.plan, plan) if "pencil on" in line)
    new = [one.id for one in plan.project.facts.pieces if one.id in told]
    assert len(new) == 2 and told.startswith("New names to pencil on: ")


def test_what_has_no_place_any_more_is_named_with_the_reason() -> None:
    shop = boards(("96", "23", 2), quantity=1)
    plan = then(shop, spoil)
    assert changes_in_words(shop.plan, plan) == [
        NONE_MORE,
        "1 of the 1 cuts that are left stay as they are, under their numbers.",
        "L1/1 has no place: the search found no room on the stock there is",
    ]
    # What had none before is nothing that changes.
    assert not any("no place" in line for line in changes_in_words(plan, plan))


def test_sheets_that_are_no_longer_wanted_are_told_as_less() -> None:
    shop = boards(("40", "30", 8), price="80")
    had = int(sheets_to_buy(shop.plan)[SHEET])
    narrower = anew(after(shop.planner, shop.plan, "ply", design=resized(shop, "40", "20")), "ply")
    plan = shop.planner.plan(narrower, shop.find)
    now = int(sheets_to_buy(plan)[SHEET])
    # By area a sheet less; two if what the first cut left holds two parts each.
    less = {1: "1 sheet", 2: "2 sheets"}[had - now]
    told = changes_in_words(shop.plan, plan)
    assert told[:2] == [f"{less} less: {SHEET}", f"cost ${80 * had}.00 -> ${80 * now}.00"]
    back = changes_in_words(plan, shop.plan)
    more = [f"ply-{number}" for number in range(now + 1, had + 1)]
    assert back[:2] == [f"{less} more: {SHEET}, {' and '.join(more)}", f"cost ${80 * now}.00 -> ${80 * had}.00"]


@pytest.mark.parametrize(
    ("length", "width", "off"),
    [
        ("39", "10", "1 in too long"),
        ("41 1/2", "10", "1 1/2 in too short"),
        ("40", "9 3/4", "1/4 in too wide"),
        ("40", "10 1/16", "1/16 in too narrow"),
        ("39", "10 1/8", "1 in too long, 1/8 in too narrow"),
    ],
)
def test_a_part_that_no_longer_suits_is_told_with_by_how_much(length: str, width: str, off: str) -> None:
    shop = cut_until(boards(("40", "10", 2)), "L1/1")
    shop.edit(resized(shop, length, width))
    plan = then(shop)
    say = plan.worked.notation.text
    wanted = [say(shop.plan.worked.names.length(size)) for size in (length, width)]
    told = f"L1/1 is cut 40 x 10; the design now asks for {wanted[0]} x {wanted[1]}: {off}"
    assert misfits_in_words(plan) == [told]
    *_, last, choices = changes_in_words(shop.plan, plan)
    assert last == told and "keep, to trim or to make again" in choices


def test_a_part_that_nobody_asks_for_is_told_so() -> None:
    shop = cut_until(boards(("40", "10", 2), ("30", "8", 1)), "L1/1")
    shop.edit(replace(shop.project.design, loose=shop.project.design.loose[1:]))
    plan = then(shop)
    assert misfits_in_words(plan)[0] == "L1/1 is cut 40 x 10; it is not wanted now"
    assert "put aside or to cut up for others" in changes_in_words(shop.plan, plan)[-1]


def test_a_part_that_nobody_asks_for_is_put_aside_or_is_stock() -> None:
    shop = cut_until(boards(("40", "10", 2), ("30", "8", 1)), "L1/1")
    wanted = shop.project.design
    shop.edit(replace(wanted, loose=wanted.loose[1:]))
    aside = then(shop, lambda facts: accidents.keep(facts, "L1/1", None))
    assert misfits_in_words(aside) == []
    assert "L1/1" not in {sheet.id for one in aside.sheets for sheet in one.sheets}
    stock = then(shop, lambda facts: accidents.make_again(facts, "L1/1"))
    assert misfits_in_words(stock) == []
    assert [one.id for one in stock.project.facts.pieces if not one.part]
    # Wanted again, the one that was put aside serves.
    again = Shop(wanted, aside.project.facts).plan
    assert "L1/1" in again.sheets[0].made and misfits_in_words(again) == []


def test_a_part_that_is_kept_as_it_is_is_no_longer_spoken_of() -> None:
    shop = cut_until(boards(("40", "10", 2)), "L1/1")
    shop.edit(resized(shop, "39", "10"))
    (misfit,) = then(shop).sheets[0].misfits
    assert misfits_in_words(then(shop, lambda facts: accidents.keep(facts, "L1/1", misfit.wanted))) == []


def test_names_of_what_was_cut_otherwise_are_told_though_other_pieces_were_planned_under_them() -> None:
    shop = boards(("96", "20", 3))
    sheet, kerf = shop.sheet("ply-2"), shop.plan.worked.kerf
    planned = {made.id for one in shop.plan.steps for made in one.step.pieces}
    assert "ply-2.2" in planned and not sheet.begun

    def ripped(facts: Facts) -> Facts:
        facts = accidents.take_up(facts, sheet, 96 * INCH, 48 * INCH)
        return accidents.cut_otherwise(facts, "ply-2", "rip", 30 * INCH, "bottom", kerf)

    told = changes_in_words(shop.plan, then(shop, ripped))
    assert "New names to pencil on: ply-2.1, 96 x 30; ply-2.2, 96 x 17 7/8." in told


def test_sizes_are_told_as_the_person_has_them_shown() -> None:
    shop = cut_until(boards(("40", "10", 2)), "L1/1")
    shop.edit(replace(resized(shop, "39 1/2", "10"), show="mm 1"))
    (told,) = misfits_in_words(then(shop))
    assert told == "L1/1 is cut 1016 x 254; the design now asks for ~1003 x 254: ~13 mm too long"


@pytest.mark.parametrize("begun", [False, True])
def test_a_part_that_lies_elsewhere_on_its_piece_is_told(begun: bool) -> None:
    # By hand: two by two boards 40 x 14 leave 96 x 19 3/4 of a sheet, and what is right of them.
    shop = boards(("40", "14", 4))
    if not begun:
        shop.untick(1)
    (sheet,) = shop.plan.sheets[0].sheets
    piece = shop.plan.steps[1].step.piece if begun else sheet.id

    def spoilt(facts: Facts) -> Facts:
        if not begun:
            facts = accidents.take_up(facts, sheet, 96 * INCH, 48 * INCH)
        return accidents.mark_bad(facts, piece, Fraction(0), Fraction(0), 2 * INCH, 2 * INCH)

    (told,) = [line for line in changes_in_words(shop.plan, then(shop, spoilt)) if "/" in line]
    assert re.fullmatch(rf"L1/\d(, L1/\d| to L1/\d)? now lies? elsewhere on {re.escape(piece)}\.", told)
