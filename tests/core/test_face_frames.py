"""Face frames, worked out by hand, and what is cut for them from boards.

Sizes and places are common practice, no source; the arithmetic stands beside each.
"""

from __future__ import annotations

import json
from fractions import Fraction as F
from math import acos, atan, cos, hypot, sin
from typing import Literal

import pytest
from designs import INCH, carcass, design, inches, parts_of, plan_of, size

from core.boards import boards_in_words
from core.build import build_steps
from core.checks import run_checks
from core.construction.bench import place_of
from core.goods import Board, Length
from core.outputs import parts_document, sheets_document
from core.project import Bay, Design, Filler, Opening

POPLAR = Board("Poplar 1 x 2", "3/4", "1 1/2", lengths=(Length("96", "7.90"), Length("48", "4.20")))


def framed(*bays: Bay, **rules: str) -> Design:
    """36 wide, 34 1/2 high, 24 deep, on a kick 4 high; the back 1/4 is applied."""
    made = carcass("A", "36", "34 1/2", "24", *bays, face_frame="poplar", **rules)
    return design(made, boards={"poplar": POPLAR})


def test_the_frame_and_the_box_behind_it() -> None:
    found = parts_of(framed(Bay(openings=(Opening(above="rail"), Opening("6")))))
    # The depth counts the frame: 24 - 3/4 - 1/4 back = 23.
    assert size(found["A side left"]) == (F(69, 2), 23)
    # From the bottom rail's lower edge to the top: the bottom's top face is at 4 3/4, a rail 1 1/2 wide is flush with
    # it, so it begins at 3 1/4: 34 1/2 - 3 1/4 = 31 1/4.
    assert size(found["A stile left"]) == size(found["A stile right"]) == (F(125, 4), F(3, 2))
    # Between the stiles: 36 - 2 x 1 1/2 = 33. Top, bottom, and one flush with the top of the rail that parts the bay.
    for place in ("top", "bottom", "bay 1 no 1"):
        assert size(found[f"A frame rail {place}"]) == (33, F(3, 2))
    # The drawer's opening is 6 high under the top panel, whose underside is at 33 3/4: the rail's top is at 27 3/4.
    assert found["A frame rail bay 1 no 1"].box.high[2] == (34 - F(1, 4) - 6) * INCH
    # The frame is in front; the kick is 3 deep from its face, so the notch in the side is 2 1/4.
    assert found["A stile left"].box.low[1] == 0 and found["A side left"].box.low[1] == F(3, 4) * INCH
    (notch,) = (cut for cut in found["A side left"].machining if cut.kind == "notch")
    assert (notch.length, notch.width) == (4 * INCH, F(9, 4) * INCH)


def test_edges_that_the_frame_hides_are_not_banded() -> None:
    # Two openings parted by a shelf with a rail before it, in the other bay a shelf behind one door: that one is seen.
    bays = Bay(openings=(Opening(), Opening())), Bay(fixed_shelves=("even",), front="door", adjustable_shelves=1)
    found = parts_of(framed(*bays, front_banding="tape", top="rails"))
    banded = {place for place, part in found.items() if part.edges and part.role != "door"}
    assert banded == {"A shelf bay 2 no 1", "A loose shelf bay 2 no 1"}
    # They are as large as before, and their blanks are no longer cut less: 24 - 3/4 - 1/4.
    assert found["A side left"].blank_width == found["A side left"].width == 23 * INCH


def test_a_stile_before_a_divider_is_centred_on_it_and_ends_at_the_rails() -> None:
    found = parts_of(framed(Bay(), Bay()))
    divider, stile = found["A divider 1"].box, found["A stile 1"].box
    assert divider.low[0] + divider.high[0] == stile.low[0] + stile.high[0]
    # From 4 3/4 to 34 1/2 - 1 1/2 = 33: 28 1/4.
    assert size(found["A stile 1"]) == (F(113, 4), F(3, 2))


@pytest.mark.parametrize(
    ("fronts", "width", "height"),
    [
        # Inset: the frame's opening, 33 x (33 - 4 3/4 = 28 1/4), less 1/8 on every side.
        ("inset", F(131, 4), 28),
        # Full overlay: the box's width less half a gap at each edge; from the bottom's underside to 1/8 below the top.
        ("full overlay", F(287, 8), F(243, 8)),
        # Half: it ends in the middle of the stiles, less half a gap: 36 - 2 x 3/4 - 1/8.
        ("half overlay", F(275, 8), F(243, 8)),
    ],
)
def test_doors_before_a_frame(fronts: str, width: F, height: F) -> None:
    found = parts_of(framed(Bay(front="pair of doors"), fronts=fronts))
    left, right = found["A door bay 1 left"], found["A door bay 1 right"]
    assert (right.box.high[0] - left.box.low[0]) / INCH == width
    assert left.length / INCH == height
    # Two halves with a gap of 1/8 between.
    assert 2 * left.width / INCH == width - F(1, 8)


def test_a_drawer_comes_through_the_frame() -> None:
    found = parts_of(framed(Bay(openings=(Opening(above="rail"), Opening("6", front="drawer"))), fronts="inset"))
    # The frame's opening is 33 wide; a side mount takes 1/2 on each side.
    sides = found["A drawer side bay 1 no 2 left"].box, found["A drawer side bay 1 no 2 right"].box
    assert (sides[1].high[0] - sides[0].low[0]) / INCH == 32
    # High: from the rail's top, 27 3/4, to the top rail's lower edge, 33: 5 1/4, less 3/4 above and 5/8 below.
    assert (sides[0].high[2] - sides[0].low[2]) / INCH == F(31, 8)


def test_boards_have_a_list_of_their_own_and_lie_on_no_sheet() -> None:
    plan = plan_of(framed())
    document = json.loads(json.dumps(parts_document(plan)))
    assert "poplar" not in {part["material"] for part in document["parts"]}
    (board,) = document["boards"]
    # Stiles 2 x 31 1/4, rails 2 x 33: 128 1/2 in all. 48 gives one each, 96 two or, with kerfs of 1/8, not three
    # (31 1/4 x 2 + 33 + 2/8 = 95 3/4: yes, three). Cheapest: one of 96 for three pieces, one of 48: 7.90 + 4.20.
    assert sorted(bar["length"] for bar in board["bars"]) == [1219.2, 2438.4]
    assert sorted(piece for bar in board["bars"] for piece in bar["pieces"]) == ["M1/1", "M1/2", "Y1/1", "Y1/2"]
    assert board["unplaced"] == [] and board["proved_minimum"]
    sheets = sheets_document(plan.sheets, plan.worked.goods.thickness, plan.worked.kerf)
    assert "poplar" not in {one["material"] for one in sheets["materials"]}


def test_a_piece_that_no_length_gives_is_told() -> None:
    of = design(carcass("A", "36", "110", "24", face_frame="poplar"), boards={"poplar": POPLAR})
    plan = plan_of(of)
    told = boards_in_words(plan.boards, of.boards, plan.worked.notation)
    assert sum("has no place: longer than any length of the board" in line for line in told) == 2


@pytest.mark.parametrize(
    ("rules", "wide", "hangs"),
    [
        # A bottom 3/4 thick and a rail 1 1/2 wide: 3/4 below it, before whatever stands back behind the frame.
        ({}, "3/2", "3/4"),
        ({"base": "plinth"}, "3/2", "3/4"),
        ({"base": "feet"}, "3/2", "3/4"),
        ({"base": "plinth", "kick_depth": "3/4"}, "3/2", "3/4"),
        # Half way to the floor at most: 1/2 of a kick 1 high.
        ({"kick_height": "1"}, "5/4", "1/2"),
        ({"base": "plinth", "kick_height": "1"}, "5/4", "1/2"),
        # On a plinth that stands under the frame, and where a box stands on something else, not at all.
        ({"base": "plinth", "kick_depth": "1/2"}, "3/4", "0"),
        ({"base": "feet", "kick_depth": "0"}, "3/4", "0"),
        ({"base": "none"}, "3/4", "0"),
        # Before a flush base as far as it is wide, and the stiles stand on the floor.
        ({"kick_depth": "0"}, "3/2", "3/4"),
        ({"kick_depth": "0", "kick_height": "1/2"}, "5/4", "1/2"),
    ],
)
def test_the_bottom_rail_hangs_before_a_kick(rules: dict[str, str], wide: str, hangs: str) -> None:
    of = framed(Bay(front="pair of doors"), **rules, fronts="inset")
    found = parts_of(of)
    rail, bottom = found["A frame rail bottom"].box, found["A bottom"].box
    assert rail.span("z") == inches(wide) and rail.high[2] == bottom.high[2]
    assert bottom.low[2] - rail.low[2] == inches(hangs)
    on_floor = rules.get("kick_depth") == "0" and "base" not in rules
    stands = {found[f"A stile {side}"].box.low[2] for side in ("left", "right")}
    assert stands == ({0} if on_floor else {rail.low[2]})
    # Doors do not know of it: 1/8 above the bottom's top face.
    assert found["A door bay 1 left"].box.low[2] - bottom.high[2] == inches("1/8")
    (told,) = (step.text for step in build_steps(plan_of(of)) if "face frame" in step.text)
    below = f" and {hangs} in below its underside" if hangs != "0" else ""
    stiles = ", the outer stiles down to the feet of the sides" if on_floor else ""
    assert f"its bottom rail flush with the top face of the bottom{below}{stiles}, clamped" in told


def test_a_flush_base_behind_a_frame() -> None:
    # 36 wide and 24 deep, a kick 4 high that is set back by nothing: the sides stand on the floor whole, 34 1/2 by 23.
    found = parts_of(framed(Bay(), kick_depth="0", bottom_joint="dado"))
    assert size(found["A side left"]) == (F(69, 2), 23)
    assert not [cut for cut in found["A side left"].machining if cut.kind == "notch"]
    # The stiles 34 1/2; between the sides the kick panel, 36 - 2 x 3/4 = 34 1/2 by 4, touches them from behind.
    assert size(found["A stile left"]) == (F(69, 2), F(3, 2))
    assert size(found["A kick"]) == (F(69, 2), 4)
    assert found["A kick"].box.low[1] == found["A stile left"].box.high[1]
    # The filler beside it closes it down to the floor, too.
    row = (carcass("A", "36", "34 1/2", "24", face_frame="poplar", kick_depth="0"), Filler("F", "Filler", "ply", "2"))
    assert size(parts_of(design(*row, boards={"poplar": POPLAR}))["F filler"]) == (F(69, 2), 2)
    assert size(parts_of(design(carcass("A", kick_depth="0"), row[1]))["F filler"]) == (F(69, 2), 2)


@pytest.mark.parametrize(("kick_depth", "each"), [("3", 2), ("0", 1)])
@pytest.mark.parametrize(("fastening", "kind"), [("screws", "pocket screws"), ("dowels", "dowels")])
def test_a_narrow_rail_has_one_screw_an_end(fastening: str, kind: str, kick_depth: str, each: int) -> None:
    joints = plan_of(framed(Bay(), base="plinth", kick_depth=kick_depth, fastening=fastening)).worked.joints
    found = [one.fastener for one in joints if place_of(one.meeting.one) == "frame rail bottom"]
    assert [(one.kind, one.count) for one in found if one] == [(kind, each)] * 2


def test_what_is_wrong_with_a_frame_is_said() -> None:
    def problem(**rules: str) -> str:
        return str(plan_of(framed(**rules)).problems[0])

    assert "a kick 3/4 in deep ends in the face frame" in problem(kick_depth="3/4")
    assert "make kick depth more than 3/4 in, or 0 in for a frame down to the floor" in problem(kick_depth="1/2")
    assert "there is no board 'oak' in the project" in problem(frame_rail="oak")
    thin = {"poplar": POPLAR, "strip": Board("Strip", "3/4", "1/2")}
    of = design(carcass("A", "36", face_frame="poplar", frame_rail="strip"), boards=thin)
    assert "rails 1/2 in wide do not cover edges 3/4 in thick" in str(plan_of(of).problems[0])
    # A drawer takes its width from the opening of the frame, and its slides would have less than their room.
    of = design(carcass("A", "36", face_frame="strip", frame_rail="poplar"), boards=thin)
    told = "stiles 1/2 in wide do not cover edges 3/4 in thick; take a wider board as face frame"
    assert told in str(plan_of(of).problems[0])
    narrow = design(carcass("A", "3", "34 1/2", "24", face_frame="poplar"), boards={"poplar": POPLAR})
    assert str(plan_of(narrow).problems[0]) == (
        "carcass A: stiles 1 1/2 in wide leave nothing open before 3 in; make the carcass wider than 3 in, or take a "
        "narrower board as face frame"
    )
    # A bay 1 wide: of the stiles before its side and its divider 3/4 and 3/8 reach before it.
    told = "; make it wider by more than 1/8 in, or take a narrower board as face frame"
    assert str(plan_of(framed(Bay("1"), Bay())).problems[0]).endswith(told)
    # Under a shelf 3/4 thick an opening 1/2 high: the rail before the shelf reaches 3/4 below its underside.
    low = framed(Bay(openings=(Opening("1/2", above="shelf"), Opening())))
    assert str(plan_of(low).problems[0]) == (
        "carcass A, bay 1, opening 1: the rails of the face frame leave nothing open of it; make it higher by more "
        "than 1/4 in, or take a narrower board as frame rail"
    )
    # A shelf 34 1/2 - 2 x 1/16 = 34 3/8 long and 3/4 thick through 33: turned by 17.5 degrees it is 33 wide and 11.08
    # high, and the rail before the shelf above it takes 3/4 of the opening.
    turned = acos(33 / hypot(34.375, 0.75)) + atan(0.75 / 34.375)
    assert 34.375 * cos(turned) + 0.75 * sin(turned) == pytest.approx(33)
    assert 34.375 * sin(turned) + 0.75 * cos(turned) + 0.75 == pytest.approx(11.834, abs=0.001)
    for height, told in (("11 3/4", "; make the opening 11 7/8 in high, or the shelf fixed"), ("11 7/8", "")):
        low = framed(Bay(openings=(Opening(height, adjustable_shelves=1, above="shelf"), Opening())))
        assert [str(one).endswith(told) for one in plan_of(low).problems] == [True] * bool(told)


@pytest.mark.parametrize("with_shelf", [0, 1])
def test_a_shelf_is_tilted_in_through_all_that_nothing_parts(with_shelf: int) -> None:
    # It wants 11.08, as above; of the 28 1/4 that the frame leaves of the bay its own opening has 8.
    heights = ("8", "share") if with_shelf == 0 else ("share", "9 1/2")

    def openings(above: Literal["rail", "nothing"]) -> Bay:
        shelves = [int(n == with_shelf) for n in range(2)]
        return Bay(
            openings=tuple(
                Opening(height, above=above, adjustable_shelves=count)
                for height, count in zip(heights, shelves, strict=True)
            )
        )

    assert plan_of(framed(openings("nothing"))).problems == ()
    (told,) = plan_of(framed(openings("rail"))).problems
    assert "cannot be tilted in through 33 in x" in str(told) and "make the opening" in str(told)


def test_where_nothing_parts_a_bay_that_is_too_low_the_carcass_is_to_be_higher() -> None:
    # 13 less a bottom of 3/4 and a rail of 1 1/2: the frame leaves 10 3/4 of the bay, and the shelf wants 11.08.
    def told(height: str) -> list[str]:
        bay = Bay(openings=(Opening("5", adjustable_shelves=1, above="nothing"), Opening()))
        item = carcass("A", "36", height, "24", bay, base="none", face_frame="poplar")
        return [str(one).rpartition("; make ")[2] for one in plan_of(design(item, boards={"poplar": POPLAR})).problems]

    assert told("13") == ["the carcass 3/8 in higher, or the shelf fixed"]
    assert told("13 3/8") == []


@pytest.mark.parametrize(
    ("kick_depth", "carries"),
    [
        # A plinth 3/4 thick: wholly under a frame 3/4 thick; half of it; none.
        ("0", "A frame rail bottom"),
        ("3/8", "A frame rail bottom"),
        ("3/4", "A bottom"),
    ],
)
@pytest.mark.parametrize(("base", "front", "gap"), [("plinth", "A plinth front", "0"), ("feet", "A plinth", "1/4")])
def test_what_stands_under_a_frame_carries_the_frame(
    base: str, front: str, gap: str, kick_depth: str, carries: str
) -> None:
    found = parts_of(framed(Bay(), base=base, kick_depth=kick_depth))
    below, over = found[front].box, found[carries].box
    x, y, z = below.common(over)
    assert x > 0 and y > 0 and z == -inches(gap)


def test_a_box_whose_plinth_stands_under_the_frame_is_screwed_to_a_crosspiece() -> None:
    # 20 wide: the ends are nearer than plinth spacing, 24, and an ordinary plinth has no crosspiece.
    of = design(carcass("A", "20", face_frame="poplar", base="plinth", kick_depth="0"), boards={"poplar": POPLAR})
    joints = plan_of(of).worked.joints
    (front,) = (one for one in joints if {"plinth", "frame rail"} == {part.role for part in one.meeting.parts})
    assert front.fastener is None and not front.glued
    (down,) = (one for one in joints if {"bottom", "plinth end"} == {part.role for part in one.meeting.parts})
    assert down.fastener is not None and down.fastener.kind == "screws"


def test_an_opening_through_which_no_hand_goes_is_told() -> None:
    def told(*bays: Bay) -> list[tuple[str, str, str]]:
        findings = run_checks(plan_of(framed(*bays)).worked)
        return [(one.about, one.because, one.mend[1]) for one in findings if one.check == "face frame"]

    # Of a bay 3 wide the left stile takes 3/4 and the one before the divider 3/8: 1 7/8, less than 50 mm.
    ((about, because, mend),) = told(Bay("3"), Bay())
    assert about == "the face frame of carcass A, between stile, left and stile 1, over frame rail, bottom"
    assert because.startswith("it leaves 1 7/8 in x 28 1/4 in open there") and mend == "a narrower board as face frame"
    # The rail flush with the top of the shelf reaches 3/4 below it: 1 7/8 of an opening 2 5/8 high.
    low = Bay(openings=(Opening("2 5/8", above="shelf"), Opening()))
    ((about, because, mend),) = told(low)
    assert because.startswith("it leaves 33 in x 1 7/8 in open there") and mend == "a narrower board as frame rail"
    # 2 in are 50.8 mm.
    assert told(Bay("3 1/8"), Bay()) == told(Bay(openings=(Opening("2 3/4", above="shelf"), Opening()))) == []
