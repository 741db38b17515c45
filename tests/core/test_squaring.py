"""Which edge of a sheet is the one that all else is squared to, and where that is told."""

from __future__ import annotations

from dataclasses import replace

import pytest
from designs import GOODS, design
from shop import Shop

from core.accidents import spoil
from core.amending import after
from core.bench_view import bench_view
from core.drawing.glyphs import ASCII
from core.goods import Stock, Trim
from core.plan import Plan
from core.project import LoosePart, Saw
from core.squaring import squaring_in_words
from core.steps_in_words import in_words

TRACK = Saw("track saw", "track", "1/8")
ROUGH = Saw("rough saw", "circular", "1/8", finished=False)
TABLE = Saw("table saw", "table", "1/8", widest_rip="30", heaviest_piece="200")
MARK = "edge that this makes is the reference edge: mark it"


def shop_of(
    *saws: Saw, parts: tuple[tuple[str, str, int], ...] = (("40", "10", 12),), trim: str = "1/4", **first: str
) -> Shop:
    loose = tuple(LoosePart(f"L{n}", f"Board {n}", "ply", *part) for n, part in enumerate(parts, start=1))
    stock = (Stock("96", "48", trim=Trim(*[trim] * 4), **first),)  # type: ignore[arg-type]
    return Shop(design(loose=loose, materials={**GOODS, "ply": replace(GOODS["ply"], stock=stock)}, saws=saws))


def told(plan: Plan) -> dict[int, list[str]]:
    return {one.number: lines for one in plan.steps if (lines := squaring_in_words(one, plan))}


def test_the_first_edge_that_a_track_makes_is_marked_and_the_first_crosscut_squared_to_it() -> None:
    plan = shop_of(TRACK).plan
    sheets = [sheet.id for sheet in plan.sheets[0].sheets]
    assert len(sheets) == 2
    lines = told(plan)
    assert [plan.steps[number - 1].step.sheet for number in lines] == [sheet for sheet in sheets for _ in range(2)]
    (rip, marked), (crosscut, squared), *_ = lines.items()
    assert plan.steps[rip - 1].step.direction == "rip" and marked == [f"the top {MARK}"]
    assert plan.steps[crosscut - 1].step.direction == "crosscut"
    assert squared == ["square the line to the top edge: 30 in along it and 40 in along the line are 50 in apart"]
    assert f"  {marked[0]}" in in_words(plan.steps[rip - 1], plan)
    seen = ["".join(span.text for span in row) for row in bench_view(plan, plan.steps[rip - 1], 80, 21, ASCII)]
    assert f" {marked[0]}" in seen


def test_a_fence_keeps_its_own_cuts_square() -> None:
    # Factory edges that are used as they are, against a fence.
    assert told(shop_of(TABLE, trim="0").plan) == {}


def test_an_edge_that_is_rough_or_cut_off_again_is_none() -> None:
    saws, parts = (ROUGH, replace(TRACK, longest_cut="60")), (("40", "10", 16),)
    plan = shop_of(*saws, parts=parts, first_crosscut="48", crosscut_loses="1/4").plan
    first = plan.steps[0]
    assert (first.step.direction, first.step.saw.name) == ("crosscut", "rough saw")
    lines = told(plan)
    # It is square to the factory edge at best; each half gets an edge of its own.
    assert lines[1] == ["square the line to the bottom edge: 30 in along it and 40 in along the line are 50 in apart"]
    marked = [number for number, line in lines.items() if MARK in " ".join(line)]
    sheets = plan.sheets[0].sheets
    assert len(marked) == 2 * len(sheets)
    for sheet in sheets:
        middle = sheet.root.low.length  # type: ignore[union-attr]
        of_sheet = [one for one in plan.steps if one.number in marked and one.step.sheet == sheet.id]
        assert sorted(one.step.pieces[0].x > middle for one in of_sheet) == [False, True]
        assert {one.step.saw.name for one in of_sheet} == {"track saw"}
    # With a saw whose edges could stay it is cut off again all the same.
    fine = shop_of(TRACK, first_crosscut="48", crosscut_loses="1/4").plan
    assert not any(MARK in line for line in told(fine)[1])
    # Where nothing is lost there it stays, and is the edge itself.
    stays = shop_of(TRACK, first_crosscut="48").plan
    assert told(stays)[1][0].endswith(MARK)


@pytest.mark.parametrize(
    ("sheet", "sides"), [(("40", "17"), "12 in along it and 16 in along the line are 20 in"), (("40", "15"), None)]
)
def test_a_triangle_is_told_that_has_room_on_the_piece(sheet: tuple[str, str], sides: str | None) -> None:
    stock = (Stock(*sheet),)
    goods = {**GOODS, "ply": replace(GOODS["ply"], stock=stock)}
    plan = Shop(design(loose=(LoosePart("L1", "Board", "ply", "14", sheet[1]),), materials=goods, saws=(TRACK,))).plan
    assert [line for lines in told(plan).values() for line in lines if "square" in line] == (
        [f"square the line to the bottom edge: {sides} apart"] if sides else []
    )


def test_a_piece_that_is_left_after_an_accident_has_its_edges() -> None:
    shop = shop_of(TRACK)
    while not any(made.use == "part" for one in shop.plan.steps if one.done for made in one.step.pieces):
        step = shop.next_step()
        assert step is not None
        shop.tick(step.number)
    part = next(made.id for one in shop.plan.steps if one.done for made in one.step.pieces if made.use == "part")
    shop.project = after(shop.planner, shop.plan, "ply", lambda facts: spoil(facts, part))
    plan = shop.take_up()
    on_hand = {sheet.id for sheet in plan.sheets[0].sheets if sheet.on_hand}
    assert on_hand and not [one for one in plan.steps if one.step.sheet in on_hand and squaring_in_words(one, plan)]
