"""The demo projects: plausible work from the tape to the last cut, and between them all that a project file can say."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import MISSING, Field, fields, is_dataclass, replace
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from core.checks import run_checks
from core.construction.rule_book import RULE_BOOK
from core.edits import set_value
from core.held_back import held_in_words
from core.outputs import cuts_document, parts_document, sheets_document
from core.plan import Plan, Planner
from core.project import Carcass, Design, Facts
from core.storage import copy_to, open_project
from core.workings import work_out

DEMOS = tuple(sorted((Path(__file__).parents[2] / "projects").glob("*.toml")))
HAIR = 2e-6
"""Numbers in the documents are right to 0.000001 mm, so the sum of two may be this far off."""

each_demo = pytest.mark.parametrize("demo", DEMOS, ids=lambda demo: demo.stem)
Document = dict[str, Any]


@cache
def planned(demo: Path) -> Plan:
    return Planner().plan(open_project(demo).project)


@cache
def documents(demo: Path) -> tuple[Document, Document, Document]:
    """Parts, sheets and cuts, as another program reads them."""
    plan = planned(demo)
    told = (
        parts_document(plan),
        sheets_document(plan.sheets, plan.worked.goods.thickness, plan.worked.kerf),
        cuts_document(plan),
    )
    parts, sheets, cuts = (json.loads(json.dumps(document)) for document in told)
    return parts, sheets, cuts


def designs() -> list[Design]:
    return [open_project(demo).project.design for demo in DEMOS]


def test_one_demo_counts_in_inches_and_one_in_millimetres() -> None:
    assert {design.unit for design in designs()} == {"in", "mm"}


@each_demo
def test_it_is_a_design_that_goes_together_and_nothing_has_happened_yet(demo: Path) -> None:
    plan = planned(demo)
    assert plan.problems == ()
    assert plan.worked.misfits == ()
    assert plan.project.facts == Facts()
    assert 25 <= len(plan.worked.parts) <= 100


@each_demo
def test_the_row_fills_the_space(demo: Path) -> None:
    worked = planned(demo).worked
    assert worked.standing[-1].right == worked.envelope.width


@each_demo
def test_no_check_fails_and_some_have_something_to_say(demo: Path) -> None:
    results: dict[str, set[str]] = {}
    for finding in run_checks(planned(demo).worked):
        results.setdefault(finding.check, set()).add(finding.result)
    assert not [check for check, found in results.items() if "fail" in found]
    assert {"sag", "obstacle"} <= {check for check, found in results.items() if "warn" in found}


@each_demo
def test_every_dimension_decides_something(demo: Path) -> None:
    worked = planned(demo).worked
    for name, formula in worked.design.dimensions.items():
        longer = set_value(worked.design, ("dimensions", name), f"({formula}) + 1")
        assert work_out(longer).parts != worked.parts, name


def _told(value: Any) -> Iterator[tuple[type, str, Any]]:
    """Every field of a design and of what it is made of that says something else than when it is left out."""
    if is_dataclass(value) and not isinstance(value, type):
        for field in fields(value):
            held = getattr(value, field.name)
            if held != _left_out(field):
                yield type(value), field.name, held
            yield from _told(held)
    elif isinstance(value, tuple):
        for item in value:
            yield from _told(item)
    elif isinstance(value, Mapping):
        for item in value.values():
            yield from _told(item)


def _left_out(field: Field[Any]) -> Any:
    return field.default_factory() if field.default_factory is not MISSING else field.default


def test_between_them_they_say_all_that_a_design_can() -> None:
    told = {(kind, name) for design in designs() for kind, name, _ in _told(design)}
    kinds = {kind for kind, _ in told}
    sayable = {(kind, field.name) for kind in kinds for field in fields(kind) if field.name != "kind"}
    # The row's width is written as it is when left out; the right end of a row and of a top is as the left one; no
    # yard cuts for them, no sheet is crosscut or ripped first or cut up by itself, and no size is cut as another.
    left_out = {"row_width", "open_right", "overhang_right", "retired", "one_sheet_at_a_time"}
    left_out |= {"finished", "fee", "first_crosscut", "crosscut_loses", "first_rip", "rip_loses", "evened"}
    assert {name for _, name in sayable - told} == left_out


def test_between_them_they_use_every_choice_and_name_every_rule() -> None:
    chosen = {
        (rule.name, getattr(rules, rule.name))
        for demo in DEMOS
        for rules in planned(demo).worked.rules.values()
        for rule in RULE_BOOK
        if rule.kind == "choice"
    }
    assert chosen == {(rule.name, choice) for rule in RULE_BOOK for choice in rule.choices}
    named: set[str] = set()
    for design in designs():
        named.update(design.rules)
        for item in design.row:
            named.update(item.rules if isinstance(item, Carcass) else ())
    assert named == {rule.name for rule in RULE_BOOK}


def test_between_them_they_use_every_way_to_give_a_size() -> None:
    widths = {item.width for design in designs() for item in design.row}
    bays = [bay for design in designs() for item in design.row if isinstance(item, Carcass) for bay in item.bays]
    shelves = {text for bay in bays for text in bay.fixed_shelves}
    assert {"share", "2 shares"} <= widths
    assert "2 shares" in {bay.width for bay in bays}
    assert "even" in shelves and shelves - {"even"}
    assert {top.layers for design in designs() for top in design.tops} == {1, 2}
    assert {item.kind for design in designs() for item in design.row} == {"carcass", "gap", "filler", "end panel"}


@each_demo
def test_every_piece_has_its_place_and_few_sheets_are_wasted(demo: Path) -> None:
    parts, sheets, _ = documents(demo)
    wanted = [piece["piece"] for part in parts["parts"] for piece in part["pieces"]]
    placed = [lying["piece"] for one in sheets["materials"] for sheet in one["sheets"] for lying in sheet["parts"]]
    assert Counter(placed) == Counter(wanted)
    for one in sheets["materials"]:
        assert one["unplaced"] == []
        assert one["used_share"] > 0.7, one["material"]


def test_mdf_comes_an_inch_larger_and_what_is_on_the_rack_is_used_before_a_sheet_is_bought() -> None:
    used = {(one.material, sheet.stock) for demo in DEMOS for one in planned(demo).sheets for sheet in one.sheets}
    assert ("mdf", "97 x 49") in used
    materials = {key: material for design in designs() for key, material in design.materials.items()}
    on_the_rack = {
        (key, f"{stock.length} x {stock.width}")
        for key, material in materials.items()
        for stock in material.stock
        if stock.quantity is not None
    }
    assert on_the_rack and on_the_rack <= used
    for key in {key for key, _ in on_the_rack}:
        assert len(materials[key].stock) > 1, "nothing is left to choose"


@each_demo
def test_the_cuts_in_their_order_free_every_part_where_it_lies(demo: Path) -> None:
    parts, sheets, cuts = documents(demo)
    on_hand = play(cuts, sheets["kerf"])
    blanks = {part["part"]: part for part in parts["parts"]}
    for one in sheets["materials"]:
        for sheet in one["sheets"]:
            for lying in sheet["parts"]:
                freed = on_hand.pop(lying["piece"])
                assert freed["sheet"] == sheet["id"] and freed["use"] == "part" and freed["part"] == lying["part"]
                assert rectangle(freed) == pytest.approx(rectangle(lying), abs=HAIR)
                assert_is_the_blank(lying, blanks[lying["part"]], sheet)
            ends = [piece for piece in on_hand.values() if piece["sheet"] == sheet["id"]]
            assert {piece["use"] for piece in ends} <= {"offcut", "waste"}
            assert {rectangle(piece) for piece in ends if piece["use"] == "offcut"} == {
                rectangle(offcut) for offcut in sheet["offcuts"] if offcut["worth_keeping"]
            }


def rectangle(piece: Document) -> tuple[float, float, float, float]:
    return piece["x"], piece["y"], piece["length"], piece["width"]


def assert_is_the_blank(lying: Document, part: Document, sheet: Document) -> None:
    """Of the blank's size, inside the trim, and along the grain where both have one."""
    size = (lying["width"], lying["length"]) if lying["rotated"] else (lying["length"], lying["width"])
    assert size == pytest.approx((part["blank_length"], part["blank_width"]), abs=HAIR)
    assert lying["grain_locked"] == (part["grain"] != "none")
    if sheet["grain"] == "length" and part["grain"] != "none":
        assert lying["rotated"] == (part["grain"] == "width")
    trim = sheet["trim"]
    assert lying["x"] >= trim["left"] - HAIR and lying["y"] >= trim["bottom"] - HAIR
    assert lying["x"] + lying["length"] <= sheet["length"] - trim["right"] + HAIR
    assert lying["y"] + lying["width"] <= sheet["width"] - trim["top"] + HAIR


def play(cuts: Document, kerf: float) -> dict[str, Document]:
    """What lies in the shop when every step has been made, by id; each with the sheet that it came from."""
    on_hand: dict[str, Document] = {
        sheet["id"]: {**sheet, "sheet": sheet["id"], "x": 0, "y": 0, "use": "blank"} for sheet in cuts["sheets"]
    }
    used = set(on_hand)
    for number, step in enumerate(cuts["steps"], start=1):
        assert step["step"] == number and step["kerf"] == kerf and not step["done"]
        piece = on_hand.pop(step["piece"])
        assert piece["sheet"] == step["sheet"] and piece["use"] == "blank"
        for made, (start, extent, across) in zip(step["pieces"], expected(piece, step, kerf), strict=True):
            along_start, along = ("y", "width") if step["direction"] == "rip" else ("x", "length")
            assert (made[along_start], made[along]) == pytest.approx((start, extent), abs=HAIR)
            assert across == [made[key] for key in ("x", "length", "y", "width") if key not in (along_start, along)]
            assert made["id"] not in used
            used.add(made["id"])
            on_hand[made["id"]] = {**made, "sheet": step["sheet"]}
    return on_hand


def expected(piece: Document, step: Document, kerf: float) -> list[tuple[float, float, list[float]]]:
    """Start and extent of what an edge-to-edge cut makes, the piece at the fence first; and what it leaves alone."""
    if step["direction"] == "rip":
        start, whole, across, low = piece["y"], piece["width"], [piece["x"], piece["length"]], "bottom"
        assert step["from"] in ("bottom", "top")
    else:
        start, whole, across, low = piece["x"], piece["length"], [piece["y"], piece["width"]], "left"
        assert step["from"] in ("left", "right")
    fence = step["fence"]
    rest = whole - fence - kerf
    assert 0 < fence < whole
    first, second = (start, start + fence + kerf) if step["from"] == low else (start + whole - fence, start)
    return [(first, fence, across)] + ([(second, rest, across)] if rest > HAIR else [])


@each_demo
def test_one_changed_number_changes_one_line_of_the_file(demo: Path, tmp_path: Path) -> None:
    opened = open_project(demo)
    project = opened.project
    deeper = replace(project, design=set_value(project.design, ("row", 0, "depth"), "16 in"))
    copy = copy_to(tmp_path / demo.name, opened, deeper)
    assert open_project(copy.path).project == deeper
    lines = zip(opened.text.splitlines(), copy.text.splitlines(), strict=True)
    assert [after for before, after in lines if before != after] == ['depth = "16 in"']


@each_demo
def test_what_is_held_back_can_wait(demo: Path) -> None:
    plan = planned(demo)
    assert held_in_words(plan) == []
    assert set(plan.project.design.held_back) <= {kind.code for kind in plan.kinds}
    parts = {made.part for one in plan.steps if one.step.held for made in one.step.pieces if made.part}
    assert parts == set(plan.project.design.held_back)
