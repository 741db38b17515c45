"""Carcasses put together from their printed parts by a test that shares no code with the construction.

Those that can be built are never refused; any other is right, or refused with a sentence.
"""

from __future__ import annotations

import copy
import json
from dataclasses import replace
from fractions import Fraction
from functools import cache
from itertools import combinations
from typing import Any

import pytest
from as_printed import Amiss, Piece, overlap, pieces_of, same
from asked import ROLES, Asked, role_of
from assembly import Assembly
from carcasses import Tried, buildable, by_hand, sizes, unshrunk, wild
from designs import GOODS, INCH, design, plan_of
from hypothesis import given, settings
from hypothesis import strategies as st

from core.construction.bench import place_of
from core.goods import Board, Length, Stock
from core.outputs import parts_document
from core.plan import Plan
from core.project import Bay, Carcass, Design, Gap, Opening, RowItem, Top

SIXTY_FOURTH = float(INCH / 64)
Document = dict[str, Any]


def read(plan: Plan) -> Document:
    """The parts list as a program would read it, from the text."""
    document: Document = json.loads(json.dumps(parts_document(plan)))
    return document


def printed(design: Design) -> Document:
    """The parts list of a design that has no problem, and goes together."""
    plan = plan_of(design)
    assert [str(problem) for problem in plan.problems] == []
    assert told(plan) == []
    return read(plan)


def told(plan: Plan) -> list[str]:
    """What the dry fit says."""
    return [
        " and ".join(place_of(part) for part in (one.one, one.other) if part) + f" {one.sentence}"
        for one in plan.worked.misfits
    ]


def check(document: Document, asked: Asked, materials: dict[str, str]) -> None:
    Assembly(document, asked, materials).check()


@settings(unshrunk, max_examples=70)
@given(buildable)
def test_what_can_be_built_is_not_refused_and_its_parts_measure_what_was_asked(drawn: Tried) -> None:
    design, asked, materials = drawn
    check(printed(design), asked, materials)


@settings(unshrunk, max_examples=100)
@given(wild)
def test_any_carcass_is_right_or_refused_with_a_sentence(drawn: Tried) -> None:
    check_or_refused(drawn)


def check_or_refused(drawn: Tried) -> None:
    design, asked, materials = drawn
    plan = plan_of(design)
    if plan.problems:
        assert all(len(problem.sentence) > 10 for problem in plan.problems)
        return
    # Two doors may be made that cannot open: the dry fit tells of it, and the parts are right.
    assert [one for one in told(plan) if not one.endswith("when the door opens")] == []
    check(read(plan), asked, materials)


@settings(unshrunk, max_examples=25)
@given(buildable, st.sampled_from(("0", "1/2 in", "3/4 in", "4 in")))
def test_a_face_frame_before_it_goes_together_and_the_whole_measures_what_was_asked(
    drawn: Tried, kick_depth: str
) -> None:
    of, asked, _ = drawn
    boards = {"oak": Board("Oak", "3/4 in", "1 1/2 in", lengths=(Length("12 ft"),))}
    item = of.row[0]
    assert isinstance(item, Carcass)
    # The toes have room before the box, too; or a plinth stands under the frame.
    framed = replace(item, rules={**item.rules, "kick_depth": kick_depth, "face_frame": "oak"})
    plan = plan_of(replace(of, boards=boards, row=(framed,)))
    if plan.problems:
        return
    assert [one for one in told(plan) if not one.endswith("when the door opens")] == []
    document = read(plan)
    lines = [*document["parts"], *(line for board in document["boards"] for line in board["parts"])]
    pieces = [piece for line in lines for piece in pieces_of(line)]
    assert [(one.place, other.place) for one, other in combinations(pieces, 2) if overlap(one, other)] == []
    box = [piece for piece in pieces if not piece.place.startswith(("plinth", "drawer", "door", "false front"))]
    assert any(piece.place.startswith("stile") for piece in box)
    for axis, size in (("x", asked.width), ("y", asked.depth), ("z", asked.height)):
        least, most = min(piece.along(axis)[0] for piece in box), max(piece.along(axis)[1] for piece in box)
        foot = asked["kick_height"] if axis == "z" and asked["base"] in ("plinth", "feet") else 0
        same(most - max(least, float(foot)), size, f"extent in {axis}")


# --- One part is not as it should be


def changes(line: Document) -> list[str]:
    """Every way in which a printed line can be altered by a sixty-fourth, or in a word."""
    ways = ["length", "width", "blank_length", "blank_width", "thickness"]
    ways += [
        f"piece {n} {side} {end}" for n in range(len(line["pieces"])) for side in ("length", "width") for end in "-+"
    ]
    ways += [f"piece {n} moved {axis}" for n in range(len(line["pieces"])) for axis in "xyz"]
    for n, cut in enumerate(line["machining"]):
        ways.append(f"machining {n} left out")
        if cut["face"]:
            ways.append(f"machining {n} turned over")
        if cut["kind"] == "hole":
            # A cup's depth is the hinge maker's.
            keys = ["x", "y", "diameter", "count", *(["pitch"] if cut["count"] > 1 else [])]
            keys += ["depth"] if "cup" not in cut["place"] else []
        else:
            keys = ["x", "y", "length", "width", *([] if cut["through"] else ["depth"])]
        ways += [f"machining {n} {key}" for key in keys]
    ways += [f"edge {n}" for n in range(len(line["edges"]))]
    return ways + (["hand"] if line["hand"] else [])


OPPOSITE = {"left": "right", "right": "left", "front": "back", "back": "front", "bottom": "top", "top": "bottom"}


def alter(line: Document, way: str, by: float) -> Document:
    """The line with one thing altered. A whole part grows with its blank and in its place, at one of its ends."""
    line = copy.deepcopy(line)
    match way.split():
        case ["piece", n, "moved", axis]:
            line["pieces"][int(n)]["box"][axis] += by
        case ["piece", n, side, end]:
            box = line["pieces"][int(n)]["box"]
            axis = next(a for a in "xyz" if abs(box[f"d{a}"] - line[side]) < 1e-5)
            line[side] += by
            line[f"blank_{side}"] += by
            box[f"d{axis}"] += by
            if end == "-":
                box[axis] -= by
            # The other pieces of the line are as they are printed: only one was altered.
            line["quantity"], line["pieces"] = 1, [line["pieces"][int(n)]]
        case ["machining", n, "left", "out"]:
            del line["machining"][int(n)]
        case ["machining", n, "turned", "over"]:
            line["machining"][int(n)]["face"] = OPPOSITE[line["machining"][int(n)]["face"]]
        case ["machining", n, "count"]:
            line["machining"][int(n)]["count"] += 1 if by > 0 else -1
        case ["machining", n, key]:
            line["machining"][int(n)][key] += by
        case ["edge", n]:
            line["edges"][int(n)]["thickness"] += by
        case ["hand"]:
            line["hand"] = OPPOSITE[line["hand"]]
        case [key]:
            line[key] += by
    return line


def with_altered(document: Document, place: int, way: str, by: float) -> Document:
    """The document with one line altered, and no more of its pieces than one."""
    line = document["parts"][place]
    altered = [alter(line, way, by)]
    if way.startswith("piece") and "moved" not in way and len(line["pieces"]) > 1:
        rest = copy.deepcopy(line)
        del rest["pieces"][int(way.split()[1])]
        rest["quantity"] -= 1
        altered.append(rest)
    return {**document, "parts": [*document["parts"][:place], *altered, *document["parts"][place + 1 :]]}


@settings(unshrunk, max_examples=70)
@given(buildable, st.data(), st.sampled_from((SIXTY_FOURTH, -SIXTY_FOURTH)))
def test_one_part_altered_by_a_sixty_fourth_is_noticed(drawn: Tried, data: st.DataObject, by: float) -> None:
    design, asked, materials = drawn
    document = printed(design)
    place = data.draw(st.integers(0, len(document["parts"]) - 1))
    way = data.draw(st.sampled_from(changes(document["parts"][place])))
    with pytest.raises(Amiss):
        check(with_altered(document, place, way, by), asked, materials)


@settings(unshrunk, max_examples=20)
@given(buildable, st.data())
def test_a_part_too_few_or_too_many_is_noticed(drawn: Tried, data: st.DataObject) -> None:
    design, asked, materials = drawn
    document = printed(design)
    line = data.draw(st.sampled_from(document["parts"]))
    line["quantity"] += data.draw(st.sampled_from((-1, 1)))
    with pytest.raises(Amiss):
        check(document, asked, materials)


# --- By hand


def everything() -> Tried:
    """Housings of every sort, nailers, a grooved back, a drawer, a door, a pair of doors, shelves on pins."""
    return by_hand(
        "48",
        "34 1/2",
        "23 1/4",
        Bay(
            "20",
            openings=(
                Opening("share", "door", "left", 1, "rail"),
                Opening("6", "drawer", above="rail"),
                Opening("3", "false front"),
            ),
        ),
        Bay("share", ("even",), 2, "pair of doors"),
        board=("5", "1/2"),
        bottom_joint="dado",
        top_joint="dado",
        shelf_joint="stopped dado",
        divider_joint="stopped dado",
        dado_play="1/128",
        back="grooved",
        nailers="top",
        drawer_joint="rabbet",
        front_banding="1/32",
        door_banding="1/64",
    )


@cache
def everything_printed() -> str:
    return json.dumps(printed(everything()[0]))


def test_a_carcass_with_everything() -> None:
    of, asked, materials = everything()
    check(json.loads(everything_printed()), asked, materials)
    places = [piece["place"] for line in printed(of)["parts"] for piece in line["pieces"]]
    assert {role_of(place) for place in places} == set(ROLES) - {"plinth", "plinth end"}


@pytest.mark.parametrize("by", [SIXTY_FOURTH, -SIXTY_FOURTH])
@pytest.mark.parametrize(
    ("place", "way"),
    [
        ("shelf bay 2 no 1", "length +"),
        ("shelf bay 2 no 1", "moved z"),
        ("shelf bay 2 no 1", "right front corner: width"),
        ("loose shelf bay 2 no 1", "moved z"),
        ("bottom", "length -"),
        ("nailer top", "moved y"),
        ("back", "width +"),
        ("side left", "for the bottom: x"),
        ("side left", "for the bottom: depth"),
        ("side left", "for the bottom: left out"),
        ("side right", "for the back: y"),
        ("side right", "for the shelf 1, bay 2: turned over"),
        ("divider 1", "for the shelf 1, bay 2: length"),
        ("divider 1", "upper back corner: length"),
        ("bottom", "for the divider 1: x"),
        ("side left", "shelf pins, front row: x"),
        ("side left", "shelf pins, rear row: y"),
        ("divider 1", "shelf pins, rear row: count"),
        ("divider 1", "shelf pins, front row: left out"),
        ("side left", "plate of hinge 1 of the door bay 1: x"),
        ("side left", "plate of hinge 1 of the door bay 1: left out"),
        ("door bay 1 no 1", "hinge cups: x"),
        ("door bay 1 no 1", "hinge cups: pitch"),
        ("door bay 2 left", "width +"),
        ("door bay 2 right", "hand"),
        ("false front bay 1 no 3", "moved x"),
        ("drawer front bay 1 no 2", "width -"),
        ("drawer side bay 1 no 2 left", "for the bottom: depth"),
        ("drawer side bay 1 no 2 right", "for the rear end: length"),
        ("drawer end bay 1 no 2 front", "for the bottom: y"),
        ("drawer bottom bay 1 no 2", "width +"),
        ("drawer bottom bay 1 no 2", "moved z"),
    ],
)
def test_the_checker_sees_each_of_these(place: str, way: str, by: float) -> None:
    _, asked, materials = everything()
    document = json.loads(everything_printed())
    at, piece = next(
        (n, k)
        for n, line in enumerate(document["parts"])
        for k, one in enumerate(line["pieces"])
        if one["place"] == place
    )
    if ": " in way:
        cut, _, key = way.rpartition(": ")
        cuts = [one["place"] for one in document["parts"][at]["machining"]]
        way = f"machining {cuts.index(cut)} {key}"
    elif way != "hand":
        way = f"piece {piece} {way}"
    with pytest.raises(Amiss):
        check(with_altered(document, at, way, by), asked, materials)


TALL = ("24", "34 1/2", "23 1/4")


@pytest.mark.parametrize(
    "drawn",
    [
        pytest.param(
            by_hand(*TALL, Bay(openings=(Opening(front="door", adjustable_shelves=1),)), fronts="inset"),
            id="a shelf behind an inset door",
        ),
        pytest.param(by_hand(*TALL, Bay("share", (), 2, "door"), fronts="inset"), id="pins and plates in one row"),
        pytest.param(
            by_hand(*TALL, Bay(openings=(Opening(front="drawer", adjustable_shelves=1),))),
            id="a shelf where a drawer is",
        ),
        pytest.param(
            by_hand(*TALL, base="none", runs_through="top and bottom", back="let in", back_reach="part"),
            id="a part-height back leaves the bottom alone",
        ),
        pytest.param(
            by_hand(
                *TALL, base="none", back="let in", back_reach="part", back_height="1/64", runs_through="top and bottom"
            ),
            id="a back that is all in its groove",
        ),
        pytest.param(
            by_hand(*TALL, Bay("share", (), 2), base="none", board=("12", "1")), id="a shelf where a baseboard is"
        ),
        pytest.param(
            by_hand(*TALL, Bay("share", (), 2), base="none", board=("12", "2")), id="pins where a baseboard is"
        ),
        pytest.param(
            by_hand("24", "20", "22 3/8", Bay(openings=(Opening(front="drawer"),)), base="none", board=("4", "1")),
            id="a drawer before a baseboard",
        ),
        pytest.param(by_hand(*TALL, Bay("share", (), 1), pin_setback="1/16"), id="pins on the edge"),
        pytest.param(by_hand(*TALL, Bay("share", (), 1), pin_margin="0"), id="pins half in the bottom"),
        pytest.param(
            by_hand("24", "5", "23 1/4", Bay("share", (), 2), base="none", pin_margin="5/8"),
            id="two shelves in a low box",
        ),
        pytest.param(
            by_hand(*TALL, Bay(openings=(Opening(front="door"),)), nailers="top", nailer_height="8"),
            id="hinges beside a high nailer",
        ),
        pytest.param(
            by_hand(*TALL, Bay("share", ("3/8", "3 1/4"), front="door"), hinge_from_end="4"),
            id="a hinge between two shelves near the end of a door",
        ),
        pytest.param(
            by_hand("24", "16", "23 1/4", Bay("share", ("7 7/8",), front="door"), base="none", hinge_from_end="7"),
            id="two hinges that a shelf brings together",
        ),
        pytest.param(
            by_hand("16", "33", "12", Bay("share", ("8 1/4", "17 1/2"), 1, "pair of doors"), kick_height="3 1/8"),
            id="hinges beside the pins of a low opening",
        ),
        pytest.param(
            by_hand("24", "48", "12", Bay("share", (), 1, "door")), id="a shelf in the middle, where a hinge is"
        ),
        pytest.param(
            by_hand(*TALL, Bay(openings=(Opening(front="drawer"),)), drawer_bottom_up="0", dado_play="1/128"),
            id="a drawer's bottom at the lower edge",
        ),
        pytest.param(
            by_hand(*TALL, Bay(), Bay(), top="rails", nailers="top", rail_width="3/4"),
            id="a rear rail over nothing but a nailer",
        ),
        pytest.param(by_hand("2", "34 1/2", "23 1/4", base="plinth", kick_panel="1 1/4"), id="a plinth's two ends"),
        pytest.param(
            by_hand(
                *TALL,
                Bay("share", front="door", hinged="right"),
                Bay("share", ("2 1/2",)),
                panel="5/8",
                shelf_joint="dado",
            ),
            id="screws of a plate behind a dado",
        ),
        pytest.param(
            by_hand(*TALL, Bay("share", front="door"), Bay("share", front="door"), front_gap="2"),
            id="a gap wider than what the fronts lie on",
        ),
    ],
)
def test_hard_cases_are_right_or_refused_with_a_sentence(drawn: Tried) -> None:
    check_or_refused(drawn)


# --- A row of them


@st.composite
def rows(draw: st.DrawFn) -> tuple[Design, dict[str, Any]]:
    """Carcasses and gaps that fill a width, a top over them, and what each was asked to be wide and deep, mm."""
    width = draw(sizes(1500, 4000))
    items: list[RowItem] = []
    asked: dict[str, Any] = {"width": width.mm, "fixed": {}, "shares": {}, "depth": {}}
    for id in "ABCD"[: draw(st.integers(1, 4))]:
        own = draw(sizes(200, 330)) if draw(st.booleans()) else None
        share = draw(st.integers(1, 3))
        text = own.text if own else f"{share} shares" if share > 1 else "share"
        if own:
            asked["fixed"][id] = own.mm
        else:
            asked["shares"][id] = share
        if draw(st.integers(0, 3)):
            depth = draw(sizes(300, 600))
            asked["depth"][id] = depth.mm
            base = draw(st.sampled_from(("kick", "none")))
            items.append(Carcass(id, "Base", "870 mm", depth.text, text, rules={"base": base}))
        else:
            items.append(Gap(id, "Open", text))
    over = [draw(sizes(0, 40)) for _ in range(3)]
    asked["over"] = [one.mm for one in over]
    layers = draw(st.integers(1, 2))
    top = Top("W", "Top", "mdf", layers, "", "", over[0].text, over[1].text, over[2].text)
    tops = (top,) if asked["depth"] else ()
    # A sheet so long that no top needs a seam.
    long = replace(GOODS["mdf"], stock=(Stock("5000 mm", "1220 mm"),))
    return design(*items, row_width=width.text, tops=tops, materials={**GOODS, "mdf": long}), asked


@settings(max_examples=40, deadline=None)
@given(rows())
def test_a_row_as_printed_fills_its_width_with_its_backs_in_one_plane(drawn: tuple[Design, dict[str, Any]]) -> None:
    design, asked = drawn
    pieces: dict[str, list[Piece]] = {}
    for line in printed(design)["parts"]:
        owners = {piece["piece"]: piece["carcass"] for piece in line["pieces"]}
        for piece in pieces_of(line):
            pieces.setdefault(owners[piece.name], []).append(piece)
    assert not any(overlap(*pair) for pair in combinations([one for own in pieces.values() for one in own], 2))

    def outer(id: str, axis: str) -> tuple[Fraction, Fraction]:
        spans = [piece.along(axis) for piece in pieces[id]]
        return min(start for start, _ in spans), max(end for _, end in spans)

    left = asked["width"] - sum(asked["fixed"].values())
    total = sum(asked["shares"].values())
    wide = {**asked["fixed"], **{id: left * share / total for id, share in asked["shares"].items()}}
    x, deepest = Fraction(0), max(asked["depth"].values(), default=Fraction(0))
    for id in sorted(wide):
        if id in asked["depth"]:
            same(outer(id, "x")[0], x, f"{id} begins")
            same(outer(id, "x")[1], x + wide[id], f"{id} ends")
            same(outer(id, "y")[0], deepest - asked["depth"][id], f"{id}, front")
            same(outer(id, "y")[1], deepest, f"{id}, rear plane")
            same(outer(id, "z")[1], Fraction(870), f"{id}, height")
        x += wide[id]
    if total:
        same(x, asked["width"], "width of the row")
    for piece in pieces.get("W", []):
        front, at_left, at_right = asked["over"]
        for axis, span in (("x", (-at_left, x + at_right)), ("y", (-front, deepest))):
            same(piece.along(axis)[0], span[0], f"top, {axis}")
            same(piece.along(axis)[1], span[1], f"top, {axis}")
    layers = sorted(piece.along("z") for piece in pieces.get("W", []))
    for number, (low, high) in enumerate(layers):
        same(low, Fraction(870 + 18 * number), "underside of a layer")
        same(high - low, Fraction(18), "thickness of a layer")
