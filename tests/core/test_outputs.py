"""Every document that the commands print: its keys and types by the contract, and its numbers by its own geometry."""

from __future__ import annotations

import json
from collections.abc import Mapping
from fractions import Fraction
from functools import cache
from itertools import combinations
from typing import Any

import pytest
from designs import BANDINGS, GOODS, carcass, design, trimmed
from shop import Shop
from test_plan import rich

from core.buy import buying_list
from core.checks import run_checks
from core.goods import Material, Stock
from core.lengths import mm_number
from core.outputs import buy_document, checks_document, cuts_document, parts_document, sheets_document
from core.plan import Plan
from core.project import Bay, Design, LoosePart, Opening

Document = dict[str, Any]
HAIR = 3e-6
"""Each number is right to 0.000001 mm, so what is reckoned from three may be this far off."""


class Maybe:
    """A value that may be null."""

    def __init__(self, kind: Any) -> None:
        self.kind = kind


class ByKind:
    """A table whose other keys go by its `kind`."""

    def __init__(self, kinds: Mapping[str, Any]) -> None:
        self.kinds = kinds


class OneOf:
    """One of a few words."""

    def __init__(self, *words: str) -> None:
        self.words = words


RECTANGLE = {"x": float, "y": float, "length": float, "width": float}
CUT_OUT = {**RECTANGLE, "depth": float, "place": str, "through": bool, "face": Maybe(str), "x_from": str, "y_from": str}
BORED = {
    "x": float,
    "y": float,
    "count": int,
    "pitch": float,
    "along": OneOf("length", "width"),
    "diameter": float,
    "depth": float,
    "place": str,
    "through": bool,
    "face": str,
    "x_from": str,
    "y_from": str,
}
MACHINING = ByKind(
    {**dict.fromkeys(("notch", "cutout", "rabbet", "dado", "groove"), CUT_OUT), "hole": BORED},
)
PARTS = {
    "project": str,
    "unit": OneOf("mm"),
    "parts": [
        {
            "part": str,
            "name": str,
            "carcass": Maybe(str),
            "quantity": int,
            "hand": Maybe(OneOf("left", "right")),
            "material": str,
            "thickness": float,
            "length": float,
            "width": float,
            "blank_length": float,
            "blank_width": float,
            "grain": OneOf("length", "width", "none"),
            "edges": [{"edge": str, "banding": str, "thickness": float}],
            "machining": [MACHINING],
            "pieces": [{"piece": str, "carcass": Maybe(str), "place": str}],
        }
    ],
}
SHEETS = {
    "kerf": float,
    "materials": [
        {
            "material": str,
            "thickness": float,
            "sheets_needed": int,
            "lower_bound": int,
            "proved_minimum": bool,
            "used_share": float,
            "unplaced": [str],
            "sheets": [
                {
                    "id": str,
                    "stock": str,
                    "length": float,
                    "width": float,
                    "grain": OneOf("length", "none"),
                    "trim": {"left": float, "right": float, "bottom": float, "top": float},
                    "parts": [
                        {"part": str, "piece": str, **RECTANGLE, "rotated": bool, "grain_locked": bool},
                    ],
                    "offcuts": [{**RECTANGLE, "worth_keeping": bool}],
                }
            ],
        }
    ],
}
STEP = {
    "step": int,
    "sheet": str,
    "piece": str,
    "saw": str,
    "direction": OneOf("rip", "crosscut"),
    "fence": float,
    "from": OneOf("left", "right", "bottom", "top"),
    "kerf": float,
    "done": bool,
    "pieces": [{"id": str, **RECTANGLE, "use": OneOf("part", "blank", "offcut", "waste"), "part": Maybe(str)}],
}
CUTS = {
    "sheets": [{"id": str, "material": str, "length": float, "width": float}],
    "steps": [STEP],
    "machining": [MACHINING],
    "history": [STEP],
}
CHECKS = {
    "checks": [
        {
            "check": str,
            "about": str,
            "result": OneOf("ok", "warn", "fail", "unknown"),
            "value": Maybe(float),
            "limit": Maybe(float),
            "unit": str,
            "because": str,
            "formula": str,
            "source": str,
            "mend": [str],
        }
    ]
}
BUY = {
    "lines": [
        {
            "item": str,
            "quantity": float,
            "unit": str,
            "price_each": Maybe(float),
            "cost": Maybe(float),
            "for": str,
            "bought": bool,
        }
    ],
    "total": Maybe(float),
    "currency": Maybe(str),
}


def faults(value: Any, kind: Any, at: str = "") -> list[str]:
    """Where a document is not of its kind: a key is missing, or a value of another type. Further keys are allowed."""
    if isinstance(kind, Maybe):
        return [] if value is None else faults(value, kind.kind, at)
    if isinstance(kind, OneOf):
        return [] if value in kind.words else [f"{at}: {value!r}"]
    if isinstance(kind, ByKind):
        known = isinstance(value, dict) and value.get("kind") in kind.kinds
        return faults(value, kind.kinds[value["kind"]], at) if known else [f"{at}: of no known kind"]
    if isinstance(kind, list):
        if not isinstance(value, list):
            return [f"{at}: no list"]
        return [told for n, one in enumerate(value) for told in faults(one, kind[0], f"{at}[{n}]")]
    if isinstance(kind, dict):
        if not isinstance(value, dict):
            return [f"{at}: no table"]
        missing = [f"{at}.{key}: missing" for key in kind if key not in value]
        return missing + [t for key in kind if key in value for t in faults(value[key], kind[key], f"{at}.{key}")]
    if kind is float:
        good = isinstance(value, (int, float)) and not isinstance(value, bool)
    elif kind is int:
        good = isinstance(value, int) and not isinstance(value, bool)
    else:
        good = isinstance(value, kind)
    return [] if good else [f"{at}: {value!r} is no {kind.__name__}"]


def printed(plan: Plan) -> tuple[Document, Document, Document, Document, Document]:
    """Parts, sheets, cuts, checks and the buying list, read back from their text."""
    worked = plan.worked
    documents = (
        parts_document(plan),
        sheets_document(plan.sheets, worked.goods.thickness, worked.kerf),
        cuts_document(plan),
        checks_document(run_checks(worked)),
        buy_document(buying_list(plan), plan.project.design.currency),
    )
    return tuple(json.loads(json.dumps(document, allow_nan=False)) for document in documents)  # type: ignore[return-value]


def metric() -> Design:
    """Thirds of a width, bands, trims, parts that fit no sheet, a material without grain, a price."""
    of = design(
        carcass("A", "2000 mm / 3", "870 mm", "580 mm", front_banding="lip", panel="mdf"),
        carcass("B", "2000 mm / 3", "870 mm", "580 mm", front_banding="tape"),
        loose=(
            LoosePart("L", "Long", "ply", "2600 mm", "100 mm"),
            LoosePart("M", "Cleat", "ply", "300 mm", "60 mm", 2, "none"),
            LoosePart("N", "Across", "ply", "300 mm", "600 mm", 1, "width"),
        ),
        unit="mm",
        show="mm 0.5",
        materials={
            **GOODS,
            "ply": Material("Plywood", "18", "18.3", density="600", stock=(Stock("2440", "1220", "84.50"),)),
        },
    )
    return trimmed(of, "10 mm")


DESIGNS = {"rich": rich, "metric": metric, "empty": design}
each_design = pytest.mark.parametrize("name", DESIGNS)


@cache
def plan_named(name: str) -> Plan:
    shop = Shop(DESIGNS[name]())
    if shop.plan.steps:
        shop.tick(1)
    return shop.plan


@cache
def documents(name: str) -> tuple[Document, Document, Document, Document, Document]:
    return printed(plan_named(name))


@each_design
def test_every_key_is_there_with_its_type(name: str) -> None:
    assert plan_named(name).problems == ()
    for document, kind in zip(documents(name), (PARTS, SHEETS, CUTS, CHECKS, BUY), strict=True):
        assert faults(document, kind) == []


def test_the_check_of_keys_sees_faults() -> None:
    assert faults({"a": 1, "b": [{"c": None}]}, {"a": float, "b": [{"c": Maybe(str)}]}) == []
    assert faults({"a": True}, {"a": float}) == [".a: True is no float"]
    assert faults({"a": [{}]}, {"a": [{"c": str}]}) == [".a[0].c: missing"]


@each_design
def test_lengths_are_right_to_a_millionth_of_a_millimetre(name: str) -> None:
    plan, (parts, sheets, cuts, _, _) = plan_named(name), documents(name)
    for kind, line in zip(plan.kinds, parts["parts"], strict=True):
        for key in ("length", "width", "thickness", "blank_length", "blank_width"):
            assert abs(Fraction(str(line[key])) - getattr(kind.part, key)) <= Fraction(1, 10**6)
    for material, told in zip(plan.sheets, sheets["materials"], strict=True):
        for sheet, drawn in zip(material.sheets, told["sheets"], strict=True):
            for lying, part in zip(sheet.placed(), drawn["parts"], strict=True):
                for key in ("x", "y", "length", "width"):
                    exact = sheet.mm(getattr(lying, key))
                    assert abs(Fraction(str(part[key])) - exact) <= Fraction(1, 10**6)
    for planned, step in zip(plan.steps, cuts["steps"], strict=True):
        assert step["fence"] == pytest.approx(float(planned.sheet.mm(planned.step.fence)), abs=1e-6)


def test_numbers() -> None:
    assert mm_number(Fraction(2000, 3)) == 666.666667
    assert mm_number(Fraction(18)) == 18 and isinstance(mm_number(Fraction(18)), int)


# --- Parts


@each_design
def test_lines_of_the_parts_list(name: str) -> None:
    parts = documents(name)[0]["parts"]
    codes = [line["part"] for line in parts]
    assert len(codes) == len(set(codes))
    for line in parts:
        ids = [piece["piece"] for piece in line["pieces"]]
        assert line["quantity"] == len(ids) == len(set(ids))
        assert all(id.rpartition("/")[0] == line["part"] and id.rpartition("/")[2].isdigit() for id in ids)
        ends = sum(edge["thickness"] for edge in line["edges"] if edge["edge"].endswith(" end"))
        sides = sum(edge["thickness"] for edge in line["edges"] if not edge["edge"].endswith(" end"))
        assert line["blank_length"] + ends == pytest.approx(line["length"], abs=HAIR)
        assert line["blank_width"] + sides == pytest.approx(line["width"], abs=HAIR)
        assert {edge["banding"] for edge in line["edges"]} <= BANDINGS.keys()


def test_a_line_of_several_carcasses_names_none() -> None:
    lines = documents("metric")[0]["parts"]
    owners = {line["name"]: line["carcass"] for line in lines}
    assert owners["Back"] is None
    assert owners["Kick panel"] in ("A", "B")
    assert owners["Cleat"] is None


def test_a_cut_into_one_face_names_the_face() -> None:
    lines = {line["name"]: line for line in documents("rich")[0]["parts"] if line["carcass"] == "A"}
    (rabbet,) = (cut for cut in lines["Side, left"]["machining"] if cut["kind"] == "rabbet")
    assert (rabbet["face"], rabbet["through"]) == ("right", False)
    (notch, *_) = (cut for cut in lines["Side, left"]["machining"] if cut["place"] == "lower front corner")
    assert (notch["face"], notch["through"]) == (None, True)
    assert (notch["x_from"], notch["y_from"]) == ("bottom end", "front")


# --- Sheets


def apart(one: Document, other: Document, kerf: float) -> bool:
    """At least a kerf between two rectangles."""
    return any(
        one[at] + one[size] + kerf <= other[at] + HAIR or other[at] + other[size] + kerf <= one[at] + HAIR
        for at, size in (("x", "length"), ("y", "width"))
    )


@each_design
def test_parts_lie_inside_the_trim_a_kerf_apart_and_clear_of_offcuts(name: str) -> None:
    document = documents(name)[1]
    for material in document["materials"]:
        assert material["sheets_needed"] == len(material["sheets"])
        assert material["lower_bound"] <= material["sheets_needed"]
        minimum = material["lower_bound"] == material["sheets_needed"] and not material["unplaced"]
        assert material["proved_minimum"] is minimum
        for sheet in material["sheets"]:
            trim = sheet["trim"]
            for part in sheet["parts"]:
                assert trim["left"] - HAIR <= part["x"]
                assert part["x"] + part["length"] <= sheet["length"] - trim["right"] + HAIR
                assert trim["bottom"] - HAIR <= part["y"]
                assert part["y"] + part["width"] <= sheet["width"] - trim["top"] + HAIR
            assert all(apart(one, other, document["kerf"]) for one, other in combinations(sheet["parts"], 2))
            for part in sheet["parts"]:
                assert all(apart(part, offcut, 0) for offcut in sheet["offcuts"])
        used = sum(p["length"] * p["width"] for sheet in material["sheets"] for p in sheet["parts"])
        area = sum(sheet["length"] * sheet["width"] for sheet in material["sheets"])
        assert material["used_share"] == pytest.approx(used / area, abs=2e-6)


@each_design
def test_every_piece_lies_on_a_sheet_as_its_blank_or_is_unplaced(name: str) -> None:
    parts, sheets = documents(name)[:2]
    lines = {line["part"]: line for line in parts["parts"]}
    wanted = {code: line["quantity"] for code, line in lines.items()}
    for material in sheets["materials"]:
        for code in material["unplaced"]:
            wanted[code] -= 1
        for sheet in material["sheets"]:
            for part in sheet["parts"]:
                line = lines[part["part"]]
                wanted[part["part"]] -= 1
                assert part["piece"] in [piece["piece"] for piece in line["pieces"]]
                assert line["material"] == material["material"]
                assert line["thickness"] == material["thickness"]
                blank = [line["blank_length"], line["blank_width"]]
                lies = [part["length"], part["width"]]
                assert lies == pytest.approx(blank[::-1] if part["rotated"] else blank, abs=HAIR)
                assert part["grain_locked"] is (line["grain"] != "none")
                assert not part["grain_locked"] or part["rotated"] is (line["grain"] == "width")
                assert sheet["grain"] == ("length" if GOODS[line["material"]].grain else "none")
    assert set(wanted.values()) <= {0}


def test_what_fits_no_sheet_is_named_once_a_piece_with_its_reason() -> None:
    (material, *_) = documents("metric")[1]["materials"]
    (code,) = material["unplaced"]
    assert [told["piece"] for told in material["unplaced_because"]] == [f"{code}/1"]
    assert "too long" in material["unplaced_because"][0]["reason"]


# --- Cuts


@each_design
def test_played_in_order_the_steps_free_every_part_where_it_lies(name: str) -> None:
    _, sheets, cuts, _, _ = documents(name)
    free = {sheet["id"]: {**sheet, "x": 0, "y": 0} for sheet in cuts["sheets"]}
    for number, step in enumerate(cuts["steps"], start=1):
        assert step["step"] == number
        whole = free.pop(step["piece"])
        along, across = ("y", "x") if step["direction"] == "rip" else ("x", "y")
        size, other = {"x": "length", "y": "width"}[along], {"x": "length", "y": "width"}[across]
        first, *rest = step["pieces"]
        assert first[size] == pytest.approx(step["fence"], abs=HAIR)
        low = step["from"] in ("left", "bottom")
        assert low is (abs(first[along] - whole[along]) <= HAIR)
        left_over = whole[size] - first[size]
        if rest:
            assert left_over == pytest.approx(rest[0][size] + step["kerf"], abs=HAIR)
        else:
            assert left_over <= step["kerf"] + HAIR
        for piece in step["pieces"]:
            assert piece[across] == pytest.approx(whole[across], abs=HAIR)
            assert piece[other] == pytest.approx(whole[other], abs=HAIR)
            assert piece["id"] not in free
            free[piece["id"]] = piece
    lying = {part["piece"]: part for m in sheets["materials"] for sheet in m["sheets"] for part in sheet["parts"]}
    freed = {id: piece for id, piece in free.items() if piece.get("use") == "part"}
    assert freed.keys() == lying.keys()
    for id, piece in freed.items():
        assert piece["part"] == lying[id]["part"]
        for key in ("x", "y", "length", "width"):
            assert piece[key] == pytest.approx(lying[id][key], abs=HAIR)


def test_a_ticked_step_is_done_and_no_other() -> None:
    assert [step["done"] for step in documents("rich")[2]["steps"]].count(True) == 1


def test_the_machining_of_every_piece_is_told() -> None:
    parts, _, cuts, _, _ = documents("rich")
    wanted = sorted(piece["piece"] for line in parts["parts"] for piece in line["pieces"] for _ in line["machining"])
    assert sorted(cut["piece"] for cut in cuts["machining"]) == wanted
    assert wanted


# --- Money


def test_the_buying_list_adds_up() -> None:
    document = documents("metric")[4]
    costs = [line["cost"] for line in document["lines"] if line["cost"] is not None]
    assert document["total"] == round(sum(costs), 2) > 0
    assert document["currency"] == "$"
    for line in document["lines"]:
        if line["price_each"] is not None:
            assert line["cost"] == pytest.approx(line["quantity"] * line["price_each"], abs=0.005)


def test_without_a_price_there_is_no_total() -> None:
    document = documents("rich")[4]
    assert (document["total"], document["currency"]) == (None, None)


def test_a_part_that_goes_between_others_is_shown_as_long_where_it_is_listed_and_where_it_is_cut() -> None:
    # Between two bays of 24: (24 - 3 x 23/32) / 2 = 10 59/64, midway between two marks. Rounded up it would not go in.
    ply = {**GOODS, "ply": Material("Ply", "3/4", "23/32", stock=(Stock("96 in", "48 in"),))}
    opening = Opening(above="rail")
    bay = Bay(openings=(opening, Opening()))
    of = design(carcass("A", "24", "34 1/2", "23 1/4", bay, bay, back="none"), materials=ply, show="in 1/32")
    plan = Shop(of).plan
    (rail,) = (line for line in parts_document(plan)["parts"] if line["name"] == "Front rail")
    assert rail["length_text"] == "~10 29/32"
    fences = {step["fence_text"] for step in cuts_document(plan)["steps"] if abs(step["fence"] - rail["length"]) < HAIR}
    assert fences == {"~10 29/32"}
