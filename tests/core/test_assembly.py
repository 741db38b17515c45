"""Random carcasses, put together from their printed parts by a test that shares no code with the construction."""

from __future__ import annotations

import copy
import json
from typing import Any

import pytest
from assembly import Amiss, Asked, Assembly
from carcasses import buildable
from designs import INCH, plan_of
from hypothesis import given, settings
from hypothesis import strategies as st

from core.outputs import parts_document
from core.project import Design

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
@given(buildable())
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
@given(buildable(), st.data(), st.sampled_from((SIXTY_FOURTH, -SIXTY_FOURTH)))
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
@given(buildable(), st.data())
def test_a_part_too_few_or_too_many_is_noticed(
    drawn: tuple[Design, Asked, dict[str, str]], data: st.DataObject
) -> None:
    design, asked, materials = drawn
    document = printed(design)
    line = data.draw(st.sampled_from(document["parts"]))
    line["quantity"] += data.draw(st.sampled_from((-1, 1)))
    with pytest.raises(Amiss):
        check(document, asked, materials)
