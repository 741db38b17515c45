"""Designs to test with: goods of exact thickness, and plans that wait for no search."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from typing import Any

from core.construction.bench import place_of
from core.construction.part import Part
from core.goods import Banding, Material, Stock, Trim
from core.plan import Plan, Planner
from core.project import Bay, Carcass, Design, Facts, Project, RowItem, Saw

INCH = Fraction(254, 10)

GOODS: Mapping[str, Material] = {
    "ply": Material("Plywood 3/4", "3/4 in", "3/4 in", stock=(Stock("96 in", "48 in"),)),
    "thin": Material("Plywood 1/4", "1/4 in", "1/4 in", stock=(Stock("96 in", "48 in"),)),
    "mdf": Material("MDF 18", "18 mm", "18 mm", grain=False, faces="alike", stock=(Stock("2440 mm", "1220 mm"),)),
}
BANDINGS: Mapping[str, Banding] = {"tape": Banding("Tape", "1/32 in"), "lip": Banding("Lip", "2 mm", "1.50")}


def inches(text: str | int) -> Fraction:
    """`17 5/8` in mm: whole and fraction apart by a space, and nothing else."""
    return sum((Fraction(word) for word in str(text).split()), Fraction(0)) * INCH


def design(*row: RowItem, **changes: Any) -> Design:
    """A design in inches whose row is as wide as its items."""
    told: dict[str, Any] = {
        "name": "Test",
        "materials": GOODS,
        "bandings": BANDINGS,
        "saws": (Saw("saw", kerf="1/8 in"),),
        "rules": {"panel": "ply", "back_panel": "thin"},
        "row_width": "",
        "row": row,
    }
    return Design(**{**told, **changes})


def carcass(
    id: str = "A", width: str = "24", height: str = "34 1/2", depth: str = "23 1/4", *bays: Bay, **rules: str
) -> Carcass:
    """One carcass; its rules by name."""
    return Carcass(id, "Base", height, depth, width, rules=rules, bays=bays)


def plan_of(of: Design, facts: Facts | None = None) -> Plan:
    """Its plan, without a layout: every search is put off."""
    return Planner().plan(Project(of, facts or Facts()), find=lambda job: None)


def parts_of(of: Design) -> dict[str, Part]:
    """Parts by carcass and place (`A side left`). The design must be without a problem, and fit together."""
    plan = plan_of(of)
    assert [str(problem) for problem in plan.problems] == []
    assert plan.worked.misfits == ()
    return {f"{part.carcass} {place_of(part)}".strip(): part for part in plan.worked.parts}


def size(part: Part) -> tuple[Fraction, Fraction]:
    """Finished length and width in inches."""
    return part.length / INCH, part.width / INCH


def trimmed(of: Design, trim: str) -> Design:
    """The design with every edge of every stock sheet trimmed."""
    materials = {
        key: replace(one, stock=tuple(replace(stock, trim=Trim(trim, trim, trim, trim)) for stock in one.stock))
        for key, one in of.materials.items()
    }
    return replace(of, materials=materials)
