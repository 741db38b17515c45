"""Sizes by hand, in inches, against the parts: the worked example of DEVELOPERS.md, and each rule beside it.

Everywhere: width 24, depth 23 1/4, height 34 1/2, sides and bottom 3/4, back 1/4, kick 4 by 3.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

import pytest
from designs import INCH, carcass, design, inches, parts_of, plan_of, size

from core.construction.bench import place_of
from core.construction.part import Machining, Part
from core.project import Bay, Gap, LoosePart, Top
from core.space import Baseboard, Clearance, Reading, Space

F = Fraction
EXAMPLE: Mapping[str, str] = {"top": "rails", "rail_width": "4", "kick_height": "4", "kick_depth": "3"}


def sizes(**rules: str) -> dict[str, tuple[Fraction, Fraction]]:
    """Finished sizes of the example's parts by place, with some rules changed."""
    return {place[2:]: size(part) for place, part in parts_of(design(carcass(**{**EXAMPLE, **rules}))).items()}


def notch(part: Part, place: str) -> tuple[Fraction, Fraction]:
    """Height and depth, in inches, of an upright's one notch at a place."""
    (cut,) = (cut for cut in part.machining if cut.place == place)
    assert cut.kind == "notch" and cut.depth is None
    return cut.length / INCH, cut.width / INCH


def board(height: str, thickness: str, wall: str = "back", **clearance: str) -> Space:
    return Space(baseboards=(Baseboard(wall, height, thickness),), clearance=Clearance(**clearance))  # type: ignore[arg-type]


# --- The worked example


@pytest.mark.parametrize(("reach", "high"), [("bottom", F(61, 2)), ("floor", F(69, 2))])
def test_worked_example(reach: str, high: Fraction) -> None:
    found = parts_of(design(carcass(**EXAMPLE, back_reach=reach)))
    # Sides: 34 1/2 x 23 (23 1/4 less the back's 1/4), each notched 4 x 3 at the lower front corner.
    for place in ("A side left", "A side right"):
        assert size(found[place]) == (F(69, 2), 23)
        assert len(found[place].machining) == 1
        assert notch(found[place], "lower front corner") == (4, 3)
    # Bottom, rails and kick panel: 22 1/2 long (24 less two sides of 3/4).
    assert size(found["A bottom"]) == (F(45, 2), 23)
    assert size(found["A rail front"]) == size(found["A rail rear"]) == (F(45, 2), 4)
    assert size(found["A kick"]) == (F(45, 2), 4)
    # Back: 24 wide; 30 1/2 high to the bottom's underside (34 1/2 less the kick's 4), 34 1/2 to the floor.
    assert size(found["A back"]) == (high, 24)
    assert len(found) == 7


def test_worked_example_in_the_parts_list() -> None:
    kinds = {kind.name: kind for kind in plan_of(design(carcass(**EXAMPLE))).kinds}
    assert {name: kind.quantity for name, kind in kinds.items()} == {
        "Side, left": 1,
        "Side, right": 1,
        "Bottom": 1,
        # Two rails and the kick panel are 22 1/2 x 4 of one material: one line.
        "Rail / Kick panel": 3,
        "Back": 1,
    }


def test_the_example_stands_where_it_is_said_to() -> None:
    found = parts_of(design(carcass(**EXAMPLE)))
    assert found["A bottom"].box.low[2] == inches(4)
    # The kick's face is set back 3 from the front edges, and stands between the sides.
    assert found["A kick"].box.low == (inches("3/4"), inches(3), 0)
    assert found["A rail front"].box.low[1] == 0
    assert found["A rail rear"].box.high[1] == inches(23)


# --- Backs


def test_a_kick_that_is_set_back_by_nothing_is_a_flush_base() -> None:
    found = parts_of(design(carcass(**{**EXAMPLE, "kick_depth": "0"})))
    # The sides go down to the floor whole, and the board between them is flush with their front edges.
    assert found["A side left"].machining == found["A side right"].machining == ()
    assert size(found["A kick"]) == (F(45, 2), 4)
    assert found["A kick"].box.low[1] == found["A side left"].box.low[1]


def test_a_let_in_back_leaves_the_sides_their_depth() -> None:
    found = sizes(back="let in", rabbet_depth="3/8")
    assert found["side left"] == (F(69, 2), F(93, 4))
    # Bottom stops at the back's face: 23 1/4 - 1/4.
    assert found["bottom"] == (F(45, 2), 23)
    # 22 1/2 between the sides, and 3/8 more into each of them, less 1/32 of air at each edge.
    assert found["back"] == (F(61, 2), F(45, 2) + F(3, 4) - F(1, 16))


def test_the_rabbet_of_a_let_in_back() -> None:
    found = parts_of(design(carcass(**EXAMPLE, back="let in", rabbet_depth="3/8")))
    (left,) = (cut for cut in found["A side left"].machining if cut.kind == "rabbet")
    # From end to end, as wide as the back is thick, in the face that looks into the carcass.
    right = Machining("rabbet", "back edge", F(0), inches(23), inches("34 1/2"), inches("1/4"), inches("3/8"), "high")
    assert left == right


def test_a_part_height_back_hangs_from_the_top() -> None:
    found = parts_of(design(carcass(**EXAMPLE, back_reach="part", back_height="10")))
    assert size(found["A back"]) == (10, 24)
    assert found["A back"].box.high[2] == inches("34 1/2")


def test_without_a_back_all_is_deep() -> None:
    found = sizes(back="none")
    assert "back" not in found
    assert found["side left"] == (F(69, 2), F(93, 4))
    assert found["bottom"] == (F(45, 2), F(93, 4))


# --- Tops of the carcass, and what runs through


def test_top_panel_rails_none() -> None:
    assert sizes(top="panel")["top"] == (F(45, 2), 23)
    assert {"rail front", "rail rear"} <= sizes(top="rails").keys()
    assert not {"top", "rail front"} & sizes(top="none").keys()


def test_top_and_bottom_through() -> None:
    found = sizes(runs_through="top and bottom", base="none", top="panel")
    assert found["top"] == found["bottom"] == (24, 23)
    # 34 1/2 less top and bottom.
    assert found["side left"] == (33, 23)
    # An applied back covers all of it.
    assert found["back"] == (F(69, 2), 24)


def test_top_and_bottom_through_with_a_let_in_back() -> None:
    found = sizes(runs_through="top and bottom", base="none", top="panel", back="let in", rabbet_depth="1/4")
    assert found["bottom"] == (24, F(93, 4))
    assert found["side left"] == (33, F(93, 4))
    # Clear inside 22 1/2 x 33, and 1/4 more on every side, less 1/32 of air at each edge.
    assert found["back"] == (F(67, 2) - F(1, 16), 23 - F(1, 16))


def test_the_stopped_rabbets_of_top_and_bottom() -> None:
    rules = {**EXAMPLE, "runs_through": "top and bottom", "base": "none", "top": "panel", "back": "let in"}
    found = parts_of(design(carcass(**rules, rabbet_depth="3/8")))
    # As long as the back is wide, 3/8 from each end; as wide as it is thick; 3/8 deep, in the faces that look inside.
    sizes = (inches("3/8"), inches(23), inches("23 1/4"), inches("1/4"), inches("3/8"))
    assert found["A bottom"].machining == (Machining("rabbet", "back edge", *sizes, "high"),)
    assert found["A top"].machining == (Machining("rabbet", "back edge", *sizes, "low"),)


# --- What it stands on


def test_height_excludes_a_plinth() -> None:
    found = parts_of(design(carcass(**EXAMPLE, base="plinth")))
    assert size(found["A side left"]) == (F(69, 2), 23)
    assert found["A side left"].machining == ()
    assert found["A side left"].box.low[2] == inches(4)
    assert found["A side left"].box.high[2] == inches("38 1/2")
    assert size(found["A plinth front"]) == size(found["A plinth rear"]) == (24, 4)
    # 23 1/4 deep, set back 3, less front and rear of 3/4.
    assert size(found["A plinth end left"]) == (F(93, 4) - 3 - F(3, 2), 4)


def test_without_a_base_the_bottom_is_at_the_floor() -> None:
    found = parts_of(design(carcass(**EXAMPLE, base="none")))
    assert found["A bottom"].box.low[2] == 0
    assert found["A side left"].machining == ()


# --- Dividers, shelves, bays


def test_divider_and_bays_by_share() -> None:
    found = parts_of(design(carcass("A", "24", "34 1/2", "23 1/4", Bay(), Bay("2 shares"), **EXAMPLE)))
    # 22 1/2 inside, less the divider's 3/4, is 21 3/4: 7 1/4 and 14 1/2.
    divider = found["A divider 1"]
    assert divider.box.low[0] == inches("3/4") + inches("7 1/4")
    assert inches("23 1/4") - divider.box.high[0] == inches("14 1/2")
    # From the bottom's top face, 4 3/4 up, to the rails' underside, 33 3/4 up; as deep as the bottom.
    assert size(divider) == (29, 23)


def test_bays_by_size() -> None:
    found = parts_of(design(carcass("A", "24", "34 1/2", "23 1/4", Bay("6 in"), Bay("share", ("even",)), **EXAMPLE)))
    assert found["A divider 1"].box.low[0] == inches("6 3/4")
    # 22 1/2 - 6 - 3/4.
    assert size(found["A shelf bay 2 no 1"]) == (F(63, 4), 23)


def test_bays_that_do_not_add_up_are_refused() -> None:
    plan = plan_of(design(carcass("A", "24", "34 1/2", "23 1/4", Bay("6"), Bay("6"), **EXAMPLE)))
    (problem,) = plan.problems
    assert problem.where == "carcass A"
    assert "add up to 12 in where the inside has 21 3/4 in" in problem.sentence


def test_a_divider_under_no_top_reaches_the_top_edge() -> None:
    found = parts_of(design(carcass("A", "24", "34 1/2", "23 1/4", Bay(), Bay(), **{**EXAMPLE, "top": "none"})))
    assert size(found["A divider 1"]) == (F(69, 2) - F(19, 4), 23)


def test_fixed_shelves_even_and_by_height() -> None:
    even = parts_of(design(carcass("A", "24", "34 1/2", "23 1/4", Bay("share", ("even", "even")), **EXAMPLE)))
    # 29 inside, less two shelves of 3/4, in three openings: 9 1/6 each.
    opening = (29 - F(3, 2)) / 3
    assert even["A shelf bay 1 no 1"].box.low[2] == (F(19, 4) + opening) * INCH
    assert even["A shelf bay 1 no 2"].box.low[2] == (F(19, 4) + 2 * opening + F(3, 4)) * INCH
    placed = parts_of(design(carcass("A", "24", "34 1/2", "23 1/4", Bay("share", ("12 in",)), **EXAMPLE)))
    # 12 from the bottom's top face to the shelf's underside.
    assert placed["A shelf bay 1 no 1"].box.low[2] == inches("16 3/4")
    assert size(placed["A shelf bay 1 no 1"]) == (F(45, 2), 23)


def test_adjustable_shelves_have_play_and_setback() -> None:
    rules = {**EXAMPLE, "shelf_play": "1/16", "shelf_setback": "1/4"}
    found = parts_of(design(carcass("A", "24", "34 1/2", "23 1/4", Bay("share", (), 2), **rules)))
    # 22 1/2 less 1/16 at each end; 23 less 1/4 at the front.
    assert size(found["A loose shelf bay 1 no 1"]) == (F(45, 2) - F(1, 8), F(91, 4))
    assert found["A loose shelf bay 1 no 2"].box.low[1] == inches("1/4")


def test_a_thicker_shelf_or_side_moves_what_depends_on_it() -> None:
    found = parts_of(design(carcass(**EXAMPLE, panel="mdf")))
    # 24 in less two sides of 18 mm.
    assert found["A bottom"].box.span("x") == inches(24) - 36
    assert found["A kick"].box.span("x") == inches(24) - 36


# --- Banding


def test_banding_is_taken_off_the_blank() -> None:
    found = parts_of(design(carcass(**EXAMPLE, front_banding="tape")))
    side = found["A side left"]
    assert size(side) == (F(69, 2), 23)
    assert (side.blank_length / INCH, side.blank_width / INCH) == (F(69, 2), 23 - F(1, 32))
    assert found["A kick"].edges == () == found["A rail rear"].edges
    assert [found["A rail front"].edge_name(edge.side) for edge in found["A rail front"].edges] == ["front"]


# --- Baseboards


def test_the_baseboard_notch() -> None:
    of = design(carcass(**EXAMPLE, baseboard_clearance="1/8"), space=board("3 1/2", "1/2"))
    found = parts_of(of)
    # Board 1/2 and clearance 1/8, less the back's 1/4: 3/8 deep; as high as the board and its clearance.
    assert notch(found["A side left"], "lower back corner") == (F(29, 8), F(3, 8))
    # The board ends below the bottom: bottom and back are as they were.
    assert size(found["A bottom"]) == (F(45, 2), 23)
    assert size(found["A back"]) == (F(61, 2), 24)


def test_a_let_in_back_stands_off_nothing() -> None:
    of = design(carcass(**EXAMPLE, baseboard_clearance="1/8", back="let in"), space=board("3 1/2", "1/2"))
    assert notch(parts_of(of)["A side left"], "lower back corner") == (F(29, 8), F(5, 8))


def test_clearance_at_the_back_counts_for_the_baseboard() -> None:
    of = design(carcass(**EXAMPLE, baseboard_clearance="1/8"), space=board("3 1/2", "1/2", back="3/8"))
    # 1/2 + 1/8 - 3/8 is 1/4, which the applied back stands off already.
    assert [cut.place for cut in parts_of(of)["A side left"].machining] == ["lower front corner"]


def test_a_board_higher_than_the_kick_shortens_bottom_and_back() -> None:
    of = design(carcass(**EXAMPLE, baseboard_clearance="1/8"), space=board("5 1/2", "3/4"))
    found = parts_of(of)
    # 3/4 + 1/8 from the rear plane: bottom 23 1/4 - 7/8; back from 5 5/8 to 34 1/2.
    assert size(found["A bottom"]) == (F(45, 2), F(179, 8))
    assert size(found["A back"]) == (F(69, 2) - F(45, 8), 24)
    assert notch(found["A side left"], "lower back corner") == (F(45, 8), F(5, 8))


@pytest.mark.parametrize(
    ("board_height", "back", "met"),
    [
        ("3 1/2", "applied", {"bottom", "side left", "side right", "rail rear"}),
        ("3 1/2", "let in", {"bottom", "side left", "side right", "rail rear"}),
        # Between bottom and back stands the board.
        ("5 1/2", "applied", {"side left", "side right", "rail rear"}),
        ("5 1/2", "let in", {"side left", "side right", "rail rear"}),
    ],
)
def test_what_a_back_is_fastened_to_behind_a_board(board_height: str, back: str, met: set[str]) -> None:
    worked = plan_of(design(carcass(**EXAMPLE, back=back), space=board(board_height, "3/4"))).worked
    assert worked.misfits == ()
    joints = [(place_of(m.one), place_of(m.other)) for m in worked.meetings]
    assert {other for one, other in joints if one == "back"} == met


def test_a_back_to_the_floor_stops_above_the_board() -> None:
    of = design(carcass(**EXAMPLE, back_reach="floor", baseboard_clearance="1/8"), space=board("3 1/2", "1/2"))
    assert size(parts_of(of)["A back"]) == (F(69, 2) - F(29, 8), 24)


def test_a_plinth_stands_in_front_of_the_board() -> None:
    rules = {**EXAMPLE, "base": "plinth", "baseboard_clearance": "1/8"}
    found = parts_of(design(carcass(**rules), space=board("3 1/2", "1/2")))
    assert found["A plinth rear"].box.high[1] == inches("23 1/4") - inches("5/8")
    assert found["A side left"].machining == ()
    higher = parts_of(design(carcass(**rules), space=board("5 1/2", "1/2")))
    # 5 1/2 + 1/8 less the plinth's 4.
    assert notch(higher["A side left"], "lower back corner") == (F(13, 8), F(3, 8))


def test_dividers_and_low_shelves_clear_a_high_board() -> None:
    bays = (Bay("share", ("1 in",)), Bay())
    of = design(carcass("A", "24", "34 1/2", "23 1/4", *bays, **EXAMPLE), space=board("5 3/8", "3/4"))
    found = parts_of(of)
    # The board and 1/8 reach 5 1/2 up; the divider begins at 4 3/4.
    assert notch(found["A divider 1"], "lower back corner") == (F(3, 4), F(5, 8))
    assert size(found["A shelf bay 1 no 1"])[1] == 23
    low = design(carcass("A", "24", "34 1/2", "23 1/4", Bay("share", ("1/2 in",)), **EXAMPLE), space=of.space)
    assert size(parts_of(low)["A shelf bay 1 no 1"])[1] == F(179, 8)


# --- The row


def test_shares_and_gaps_fill_the_clear_width() -> None:
    space = Space(readings=(Reading("width", "100 in"),), clearance=Clearance(left="1/2", right="1/2"))
    row = (carcass("A", "share"), Gap("G", "Washer", "27 in"), carcass("B", "2 shares"))
    found = parts_of(design(*row, space=space, row_width="clear_width"))
    # 99 less 27 is 72: 24 and 48.
    assert found["A side right"].box.high[0] == inches(24)
    assert found["B side left"].box.low[0] == inches(51)
    assert found["B side right"].box.high[0] == inches(99)


def test_carcasses_stand_with_their_backs_in_one_plane() -> None:
    found = parts_of(design(carcass("A"), carcass("B", depth="12 in")))
    assert found["B back"].box.high[1] == found["A back"].box.high[1] == inches("23 1/4")
    assert found["B side left"].box.low[1] == inches("11 1/4")


def test_a_row_too_wide_is_told_and_still_shown() -> None:
    plan = plan_of(design(carcass("A", "60 in"), carcass("B", "60 in"), row_width="100 in"))
    assert [str(problem) for problem in plan.problems] == ["row: the row is 120 in wide and has 100 in: 20 in too much"]
    assert {part.carcass for part in plan.worked.parts} == {"A", "B"}


# --- Tops over the row, and loose parts


def test_a_top_in_two_layers_with_overhangs() -> None:
    top = Top("W", "Top", "ply", 2, overhang_front="1", overhang_left="1/2", overhang_right="3/4", banding="tape")
    found = parts_of(design(carcass("A"), Gap("G", "Stool", "30"), carcass("B"), tops=(top,)))
    for layer in ("lower", "upper"):
        part = found[f"W worktop {layer}"]
        # 24 + 30 + 24 and the overhangs; 23 1/4 and 1.
        assert size(part) == (78 + F(5, 4), F(97, 4))
        assert part.blank_width == part.width - inches("1/32")
        assert part.box.low[:2] == (-inches("1/2"), -inches(1))
    assert found["W worktop lower"].box.low[2] == inches("34 1/2")
    assert found["W worktop upper"].box.low[2] == inches("35 1/4")


def test_a_top_over_a_stretch_of_the_row() -> None:
    row = (carcass("A", height="30"), carcass("B"), carcass("C"))
    found = parts_of(design(*row, tops=(Top("W", "Top", "ply", first="B", last="C"),)))
    assert size(found["W worktop"]) == (48, F(93, 4))
    assert found["W worktop"].box.low[0] == inches(24)


@pytest.mark.parametrize(
    ("top", "told"),
    [
        (Top("W", "Top", "ply"), "different heights"),
        (Top("W", "Top", "ply", first="X"), "no 'X' in the row"),
        (Top("W", "Top", "ply", first="C", last="A"), "rests on no carcass"),
        (Top("W", "Top", "ply", first="G", last="G"), "rests on no carcass"),
        (Top("W", "Top", "oak", last="A"), "no material 'oak'"),
        (Top("W", "Top", "ply", 3, last="A"), "one layer or two"),
        (Top("W", "Top", "ply", last="A", banding="gold"), "no banding 'gold'"),
        (Top("W", "Top", "ply", last="A", overhang_front="-1"), "cannot be negative"),
    ],
)
def test_a_top_that_cannot_be(top: Top, told: str) -> None:
    plan = plan_of(design(carcass("A"), Gap("G", "Open", "20"), carcass("C", height="30"), tops=(top,)))
    (problem,) = plan.problems
    assert problem.where.startswith("top W")
    assert told in problem.sentence
    assert {part.carcass for part in plan.worked.parts} == {"A", "C"}


def test_loose_parts() -> None:
    filler = LoosePart("L", "Filler", "ply", "34 1/2", "2 1/4", 3)
    across = LoosePart("M", "Panel", "ply", "10", "20", grain="width")
    free = LoosePart("N", "Cleat", "ply", "10", "3", grain="none")
    found = parts_of(design(loose=(filler, across, free)))
    assert size(found["loose L 3"]) == (F(69, 2), F(9, 4))
    # Length is the side along the grain, whatever is longer.
    assert size(found["loose M 1"]) == (20, 10)
    assert [found[f"loose {id} 1"].grain for id in "LMN"] == ["length", "length", "none"]


@pytest.mark.parametrize(("length", "width"), [("0", "3"), ("3", "0")])
def test_a_loose_part_of_no_size(length: str, width: str) -> None:
    (problem,) = plan_of(design(loose=(LoosePart("L", "Cleat", "ply", length, width),))).problems
    assert str(problem).startswith("loose part Cleat: ") and problem.sentence.endswith("is no size for a part")


def test_a_loose_part_that_is_wanted_no_times() -> None:
    (problem,) = plan_of(design(loose=(LoosePart("L", "Cleat", "ply", "3", "2", 0),))).problems
    assert problem.sentence == "0 pieces; a loose part is wanted at least once"


@pytest.mark.parametrize(("top", "carried"), [("panel", "top"), ("rails", "rail"), ("none", "side")])
def test_a_top_rests_on_what_it_is_screwed_to(top: str, carried: str) -> None:
    row = (carcass("A", top=top), carcass("B", top=top), carcass("C", top=top))
    worked = plan_of(design(*row, tops=(Top("W", "Top", "ply", 2, "B", "B"),))).worked
    under = [(m.one.place, m.other.carcass, m.other.role) for m in worked.meetings if m.one.role == "worktop"]
    on = [told for told in under if told[2] != "worktop"]
    assert on == [("lower", "B", carried)] * (1 if top == "panel" else 2)


# --- Grain


def test_grain_stands_or_lies_as_it_is_seen() -> None:
    upright = {"side left", "side right", "back", "divider 1"}
    of = design(carcass("A", "60", "20", "23 1/4", Bay("share", ("even",), 1), Bay()), tops=(Top("W", "Top", "ply"),))
    for place, part in parts_of(of).items():
        # Length is along the grain: up in what stands, left to right in what lies, whatever is longer.
        assert part.length_axis == ("z" if place[2:] in upright else "x"), place
        assert part.grain == "length"


def test_without_grain_length_is_the_longer_side() -> None:
    of = design(carcass("A", "60", "20", "23 1/4", panel="mdf", back_panel="mdf"))
    for part in parts_of(of).values():
        assert part.length >= part.width
        assert part.grain == "none"


def test_a_part_narrower_than_it_is_thick_keeps_its_thickness() -> None:
    found = parts_of(design(carcass(**{**EXAMPLE, "kick_height": "1/2", "rail_width": "1/2"})))
    assert (found["A kick"].thickness, found["A kick"].width) == (inches("3/4"), inches("1/2"))
    assert (found["A rail front"].thickness, found["A rail front"].width) == (inches("3/4"), inches("1/2"))


def test_a_lower_nailer_stands_over_a_baseboard() -> None:
    # A baseboard 7 1/4 high and 1/2 thick with 1/8 of air both ways, behind a back 1/4 thick: it reaches 3/8 further
    # forward than the back's face, and the nailer, 4 high, begins at 7 3/8 instead of 4 3/4.
    space = Space(baseboards=(Baseboard("back", "7 1/4", "1/2"),))
    rules = {"nailers": "top and bottom", "baseboard_clearance": "1/8"}
    for back, low in (("applied", F(59, 8)), ("none", F(59, 8))):
        nailer = parts_of(design(carcass("A", back=back, **rules), space=space))["A nailer bottom"].box
        assert (nailer.low[2], nailer.span("z")) == (low * INCH, 4 * INCH)
    # Behind a back that stands off further than the board is thick it stays on the bottom.
    deep = parts_of(design(carcass("A", back="grooved", back_inset="1/2", **rules), space=space))["A nailer bottom"]
    assert deep.box.low[2] == F(19, 4) * INCH
    shelved = carcass("A", "24", "34 1/2", "23 1/4", Bay(adjustable_shelves=1), **rules)
    (pins, *_) = parts_of(design(shelved, space=space))["A side left"].holes
    assert pins.x > (F(59, 8) + 4) * INCH, "a shelf lies above the nailer"
    low = plan_of(design(carcass("A", "24", "16", nailers="top and bottom", baseboard_clearance="1/8"), space=space))
    assert str(low.problems[0]) == (
        "carcass A: nailers 4 in high do not fit in 7 7/8 in over the baseboard; make nailer height 3 15/16 in or less"
    )
