"""Random carcasses, put together from their printed parts by a test that shares no code with the construction."""

from __future__ import annotations

import copy
import json
from fractions import Fraction
from itertools import combinations
from typing import Any

import pytest
from assembly import Amiss, Asked, Assembly, Piece, overlap, pieces_of, same
from carcasses import buildable, sizes
from designs import INCH, design, plan_of
from hypothesis import given, settings
from hypothesis import strategies as st

from core.outputs import parts_document
from core.project import Carcass, Design, Gap, RowItem, Top

SIXTY_FOURTH = float(INCH / 64)


def printed(design: Design) -> dict[str, Any]:
    """The parts list as a program would read it, from the text."""
    plan = plan_of(design)
    assert [str(problem) for problem in plan.problems] == []
    assert plan.worked.misfits == ()
    document: dict[str, Any] = json.loads(json.dumps(parts_document(plan)))
    return document


def check(document: dict[str, Any], asked: Asked, materials: dict[str, str]) -> None:
    Assembly(document, asked, materials).check()


@settings(max_examples=100, deadline=None)
@given(buildable)
def test_parts_as_printed_go_together_and_measure_what_was_asked(drawn: tuple[Design, Asked, dict[str, str]]) -> None:
    design, asked, materials = drawn
    check(printed(design), asked, materials)


def changes(line: dict[str, Any]) -> list[str]:
    """Every way in which a printed line can be altered by a sixty-fourth."""
    ways = ["length", "width", "blank_length", "blank_width", "thickness"]
    ways += [
        f"piece {n} {side} {end}" for n in range(len(line["pieces"])) for side in ("length", "width") for end in "-+"
    ]
    ways += [f"piece {n} moved {axis}" for n in range(len(line["pieces"])) for axis in "xyz"]
    ways += [f"machining {n} {key}" for n in range(len(line["machining"])) for key in ("x", "y", "length", "width")]
    ways += [f"machining {n} depth" for n, cut in enumerate(line["machining"]) if not cut["through"]]
    ways += [f"edge {n}" for n in range(len(line["edges"]))]
    return ways


def alter(line: dict[str, Any], way: str, by: float) -> dict[str, Any]:
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
        case ["machining", n, key]:
            line["machining"][int(n)][key] += by
        case ["edge", n]:
            line["edges"][int(n)]["thickness"] += by
        case [key]:
            line[key] += by
    return line


@settings(max_examples=100, deadline=None)
@given(buildable, st.data(), st.sampled_from((SIXTY_FOURTH, -SIXTY_FOURTH)))
def test_one_part_altered_by_a_sixty_fourth_is_noticed(
    drawn: tuple[Design, Asked, dict[str, str]], data: st.DataObject, by: float
) -> None:
    design, asked, materials = drawn
    document = printed(design)
    place = data.draw(st.integers(0, len(document["parts"]) - 1))
    line = document["parts"][place]
    way = data.draw(st.sampled_from(changes(line)))
    altered = [alter(line, way, by)]
    if way.startswith("piece") and "moved" not in way and len(line["pieces"]) > 1:
        rest = copy.deepcopy(line)
        del rest["pieces"][int(way.split()[1])]
        rest["quantity"] -= 1
        altered.append(rest)
    document["parts"][place : place + 1] = altered
    with pytest.raises(Amiss):
        check(document, asked, materials)


@settings(max_examples=40, deadline=None)
@given(buildable, st.data())
def test_a_part_too_few_or_too_many_is_noticed(
    drawn: tuple[Design, Asked, dict[str, str]], data: st.DataObject
) -> None:
    design, asked, materials = drawn
    document = printed(design)
    line = data.draw(st.sampled_from(document["parts"]))
    line["quantity"] += data.draw(st.sampled_from((-1, 1)))
    with pytest.raises(Amiss):
        check(document, asked, materials)


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
    return design(*items, row_width=width.text, tops=tops), asked


@settings(max_examples=60, deadline=None)
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
