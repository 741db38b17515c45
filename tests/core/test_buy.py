"""What to buy: sheets as laid out, banding with its waste, screws and pins."""

from __future__ import annotations

from dataclasses import replace
from math import ceil

import pytest
from designs import GOODS, carcass, design, plan_of
from shop import Shop

from core.amending import after
from core.build import build_steps
from core.buy import BuyLine, buying_list, total
from core.goods import Board, Length, Stock
from core.printing import buy_text, without_a_place
from core.project import Bay, Design, Facts, LoosePart, Opening, Top
from core.space import Space


def lines(of: Design, facts: Facts | None = None) -> dict[str, BuyLine]:
    return {line.item: line for line in buying_list(Shop(of, facts).plan)}


def test_sheets_by_stock_with_their_price() -> None:
    stock = (Stock("96", "48", "84.50", 1), Stock("60", "60", "70"))
    materials = {**GOODS, "ply": replace(GOODS["ply"], stock=stock)}
    panels = LoosePart("L", "Panel", "ply", "48", "40", 4)
    shop = Shop(design(loose=(panels,), materials=materials))
    bought = [line for line in buying_list(shop.plan) if line.unit == "sheet"]
    sheets = [sheet.stock for one in shop.plan.sheets for sheet in one.sheets]
    assert sum(line.quantity for line in bought) == len(sheets)
    for line in bought:
        name = line.item.removeprefix("Plywood 3/4, ")
        assert line.quantity == sheets.count(name)
        assert line.price_each == {"96 x 48": 84.50, "60 x 60": 70}[name]
        # The pieces are those that lie on sheets of this size.
        on_them = sum(len(s.pieces) for one in shop.plan.sheets for s in one.sheets if s.stock == name)
        assert line.purpose.startswith(f"{on_them} part")
    assert total(bought) == sum(line.quantity * (line.price_each or 0) for line in bought)


def priced(of: Design, price: str) -> Design:
    """The design with its plywood at another price."""
    ply = replace(of.materials["ply"], stock=(replace(of.materials["ply"].stock[0], price=price),))
    return replace(of, materials={**of.materials, "ply": ply})


@pytest.mark.parametrize(
    ("then", "now", "price_each", "cost", "said"),
    [
        ("80", "90", None, 170, "4 parts; 1 at $80.00, 1 at $90.00"),
        ("80", "80", 80, 160, "4 parts"),
        # What nobody knew then is counted as it is known now.
        ("", "90", 90, 180, "4 parts"),
        # What a sheet costs now nobody knows: so nobody knows what they cost together.
        ("80", "", None, None, "4 parts"),
    ],
)
def test_a_price_that_changes_once_a_sheet_is_begun_is_one_line_that_adds_up(
    then: str, now: str, price_each: float | None, cost: float | None, said: str
) -> None:
    of = priced(design(loose=(LoosePart("L", "Panel", "ply", "90", "20", 4),)), then)
    shop = Shop(of)
    shop.tick(1)
    assert [sheet.begun for sheet in shop.plan.sheets[0].sheets] == [True, False]
    shop.edit(priced(of, now))
    (line,) = (one for one in buying_list(shop.plan) if one.unit == "sheet")
    assert (line.quantity, line.price_each, line.cost, line.purpose) == (2, price_each, cost, said)
    # Once the begun sheet is no more than pieces, too.
    shop.project = after(shop.planner, shop.plan, "ply")
    (line,) = (one for one in buying_list(shop.take_up()) if one.unit == "sheet")
    assert (line.quantity, line.price_each, line.cost) == (2, price_each, cost)


def test_a_sheet_of_a_layout_that_was_kept_costs_what_it_costs_now() -> None:
    of = priced(design(loose=(LoosePart("L", "Panel", "ply", "90", "20", 4),)), "80")
    shop = Shop(of)
    shop.keep(shop.plan.sheets[0])
    shop.edit(priced(of, "90"))
    (line,) = (one for one in buying_list(shop.plan) if one.unit == "sheet")
    assert (line.price_each, line.cost) == (90, 180)


def test_banding_by_the_foot_with_a_tenth_more() -> None:
    # Four front edges: two sides of 34 1/2, bottom and top of 22 1/2: 114 in = 2895.6 mm, 50 mm more each.
    found = lines(design(carcass(base="none", front_banding="lip")))["Lip"]
    assert found.quantity == ceil((2895.6 + 4 * 50) * 1.1 / 304.8) == 12
    assert (found.unit, found.price_each, found.cost) == ("ft", 1.5, 18)
    # A price is for what the project counts in, whichever way its sizes are shown.
    shown = lines(design(carcass(base="none", front_banding="lip"), show="mm 0.5"))["Lip"]
    assert (shown.quantity, shown.unit) == (12, "ft")


def test_banding_by_the_metre_where_millimetres_are_the_unit() -> None:
    # Two sides of 800, bottom and top of 600 less two thicknesses of 3/4 in: 2723.8 mm, 50 mm more each.
    of = design(carcass("A", "600", "800", "500", base="none", front_banding="lip"), unit="mm")
    found = lines(of)["Lip"]
    assert found.quantity == ceil((2723.8 + 4 * 50) * 1.1 / 100) / 10 == 3.3
    assert (found.unit, found.price_each, found.cost) == ("m", 1.5, 4.95)


def test_pins_and_screws() -> None:
    found = lines(design(carcass("A", "24", "34 1/2", "23 1/4", Bay("share", (), 3))))
    assert found["Shelf pins"].quantity == 12
    # One joint each end of the bottom, 23 1/4 in long: 4 spaces of at most 7 in, 5 screws. Through 3/4 and at most
    # 38 mm into the edge, 57 mm: the longest that is sold is 2 in, and in millimetres 50.
    screws = lines(design(carcass(back="none", base="none", top="none")))["Screws 2 in"]
    assert (screws.quantity, screws.purpose) == (10, "2 joints, about 7 in apart, pilot holes first")
    metric = design(carcass("A", "600", "800", "526", back="none", base="none", top="none"), unit="mm")
    # 526 mm: four spaces of at most 175 mm again.
    screws = lines(metric)["Screws 50 mm"]
    assert (screws.quantity, screws.purpose) == (10, "2 joints, about 175 mm apart, pilot holes first")


def test_no_screws_for_what_only_lies_on_pins() -> None:
    plain = lines(design(carcass("A", "24", "34 1/2", "23 1/4", Bay())))
    loose = lines(design(carcass("A", "24", "34 1/2", "23 1/4", Bay("share", (), 4))))
    assert plain["Screws 2 in"].quantity == loose["Screws 2 in"].quantity


def test_the_hardware_of_doors_and_drawers() -> None:
    fronts = (Opening(front="pair of doors", above="rail"), Opening("5", front="drawer"))
    found = lines(design(carcass("A", "30", "34 1/2", "24", Bay(openings=fronts))))
    # Doors of 34 1/2 less kick and drawer are below 40 in and 15 lb: two hinges each.
    assert found["Hinges for full overlay doors"].quantity == 4
    # 24 less the back of 1/4 and 1/8 of air is 23 5/8: the longest even slide is 22 in.
    assert found["Slides, side mount, 22 in"].quantity == 1


def test_the_hinges_of_doors_before_a_face_frame() -> None:
    poplar = Board("Poplar", "3/4", "1 1/2", lengths=(Length("96"),))
    box = carcass("A", "20", "34 1/2", "24", Bay(front="door"), face_frame="poplar")
    found = lines(design(box, boards={"poplar": poplar}))
    assert found["Hinges for full overlay doors before a face frame"].quantity == 2


def test_what_is_in_the_shop_is_marked() -> None:
    facts = Facts(bought=("Screws 2 in", "A thing of last week"))
    found = lines(design(carcass()), facts)
    assert [item for item, line in found.items() if line.bought] == ["Screws 2 in"]


def test_an_empty_list_costs_nothing_that_is_known() -> None:
    assert buying_list(plan_of(design())) == ()
    assert total([]) is None


def test_glue_by_the_area_of_the_joints_and_finish_by_that_of_the_parts() -> None:
    # Two layers of a top 60 x 24 are 10 ft2 of joint: at 267 ft2 a gallon (6 thousandths of an inch thick, arithmetic)
    # 128 x 10 / 267 = 4.8 oz; the box adds its own. A second layer has two faces more, 20 ft2. At 350 ft2 a gallon and
    # coat (makers of finishes, trade practice), a tenth more, 4 x 89 x 1.1 / 350 = 1.1 qt.
    def of(layers: int) -> dict[str, BuyLine]:
        return lines(design(carcass("A", "60", "20", "24", base="none"), tops=(Top("T", "Top", "ply", layers),)))

    one, two = of(1), of(2)
    assert two["Wood glue"].unit == "oz" and 4 <= two["Wood glue"].quantity - one["Wood glue"].quantity <= 6
    assert (one["Finish"].unit, one["Finish"].quantity) == ("qt", 2)
    assert ", 89 ft2;" in one["Finish"].purpose and ", 109 ft2;" in two["Finish"].purpose
    assert "Wood glue" not in lines(design(loose=(LoosePart("L", "Panel", "ply", "48", "40", 4),)))


def test_a_banded_top_in_two_layers_takes_one_broad_strip() -> None:
    def banding(layers: int) -> dict[str, float]:
        top = Top("T", "Top", "ply", layers, banding="tape")
        found = lines(design(carcass("A", "60", "20", "24", base="none"), tops=(top,)))
        return {item: line.quantity for item, line in found.items() if "Tape" in item}

    # 60 in and 50 mm, a tenth more, in feet.
    length = ceil((60 + 50 / 25.4) * 1.1 / 12)
    assert banding(1) == {"Tape": length}
    assert banding(2) == {"Tape, broad": length}


def test_a_top_of_solid_wood_is_screwed_through_slots() -> None:
    goods = {**GOODS, "oak": replace(GOODS["ply"], name="Oak", movement="0.00369")}
    row = carcass("A", "60", "20", "24", base="none", top="panel")
    fast = lines(design(row, materials=goods, tops=(Top("T", "Top", "ply"),)))
    free = lines(design(row, materials=goods, tops=(Top("T", "Top", "oak"),)))
    assert not [item for item in fast if "slots" in item]
    assert [item for item in free if item.endswith(" with washers, for slots")]


def test_handles_screws_for_the_wall_and_feet_that_reach_the_lowest_spot() -> None:
    bay = Bay(openings=(Opening("6", front="drawer"), Opening(front="pair of doors")))
    box = carcass("A", "30", "30", "24", bay, base="feet", kick_height="4")
    found = lines(design(box, space=Space(floor_out_of_level="3/8")))
    assert found["Handles or pulls"].quantity == 3
    assert found["Screws for the wall"].quantity == 4
    assert "Feet with threads, to 4 3/8 in" in found


@pytest.mark.parametrize(
    ("width", "depth", "bays", "spacing", "feet"),
    [
        # Sides and divider 3/4: from middle to middle 3/4 less than the width. At most 24 apart (common practice, no
        # source), so 24 3/4 has two in a row, in two rows.
        ("24 3/4", "23 1/4", 1, "24", 4),
        ("24 13/16", "23 1/4", 1, "24", 6),
        ("48", "23 1/4", 1, "24", 6),
        # 95 1/4 is four spaces of 24: five in a row.
        ("96", "23 1/4", 1, "24", 10),
        ("96", "23 1/4", 1, "48", 6),
        # One under a divider, too, however near: 15 1/4, in halves.
        ("16", "23 1/4", 2, "24", 6),
        # Two bays of 47 5/8 from middle to middle, each in two spaces.
        ("96", "23 1/4", 2, "24", 10),
        # Behind a kick 3 deep, and with feet 2 3/8 wide, 24 of 29 3/8 are one space, and more is two: three rows.
        ("24", "29 5/16", 1, "24", 4),
        ("24", "29 3/8", 1, "24", 6),
    ],
)
def test_feet_stand_under_every_upright_and_no_further_apart_than_the_rule_says(
    width: str, depth: str, bays: int, spacing: str, feet: int
) -> None:
    box = carcass("A", width, "30", depth, *([Bay()] * bays), base="feet", plinth_spacing=spacing)
    shop = Shop(design(box))
    (line,) = (line for line in buying_list(shop.plan) if line.item.startswith("Feet"))
    assert (line.quantity, line.purpose) == (feet, "carcasses on feet: 1")
    assert any(f"Screw {feet} feet under the box" in step.text for step in build_steps(shop.plan))


def test_two_uprights_closer_than_feet_can_stand_share_one() -> None:
    # 23/32 and 1 1/2 between the middles of side and divider, where a foot takes 2 3/8 (60 mm).
    box = carcass("A", "30", "30", "24", Bay("1 1/2"), Bay(), base="feet", plinth_spacing="40")
    (line,) = (line for line in buying_list(Shop(design(box)).plan) if line.item.startswith("Feet"))
    assert line.quantity == 4


def test_feet_nearer_than_they_are_wide_are_refused() -> None:
    # 60 mm wide, from memory: 2 in is less.
    (problem,) = plan_of(design(carcass("A", base="feet", plinth_spacing="2"))).problems
    assert "feet 2 in apart would stand on each other; make plinth spacing 2 3/8 in or more" in str(problem)


def test_what_has_no_place_is_not_in_the_list_and_that_is_said() -> None:
    too_wide = LoosePart("L", "Panel", "ply", "40", "60")
    plan = Shop(design(loose=(too_wide, replace(too_wide, id="M", width="20")))).plan
    assert [one.partition(":")[0] for one in without_a_place(plan)] == ["L1/1"]
    assert "L1/1: no place on a sheet" in "\n".join(buy_text(plan, 100, True))


@pytest.mark.parametrize(("length", "told"), [("30", "longer than any length"), ("36", "too few lengths")])
def test_a_stile_without_a_length_is_told_with_the_reason(length: str, told: str) -> None:
    ash = Board("Ash", "2", "3/4", lengths=(Length(length, quantity=1),))
    box = carcass("A", "24", "34 1/2", "20", base="none", face_frame="ash")
    (first, *_) = without_a_place(Shop(design(box, boards={"ash": ash})).plan)
    assert told in first
