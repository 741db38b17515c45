"""What a new project begins with, where the shop's own settings say nothing: usual sheet goods and saws.

Every figure bears its source and can be typed over. Measure the sheet that you have: the
actual thickness is the one thing here that every part depends on.
"""

from __future__ import annotations

from collections.abc import Mapping

from core.goods import Banding, Material, Stock, Trim
from core.lengths import Unit
from core.project import Design, Saw
from core.shop import Shop

_TRIM_IN = Trim(left="1/4", right="1/4", bottom="1/4", top="1/4")
_TRIM_MM = Trim(left="6", right="6", bottom="6", top="6")

INCH_MATERIALS: Mapping[str, Material] = {
    "ply": Material(
        name="Plywood 3/4",
        nominal="3/4",
        actual="23/32",
        density="600",
        stiffness="6550",
        creep="1.5",
        source="actual: common shop pair, from memory; density: hardwood plywood, veneer core, 550 to 650; "
        "stiffness 950,000 psi: Architectural Woodwork Standards 2009 section 10; "
        "creep: NDS 3.5.2, seasoned lumber",
        stock=(Stock("96", "48", trim=_TRIM_IN),),
    ),
    "backing": Material(
        name="Plywood 1/4",
        nominal="1/4",
        actual="7/32",
        density="600",
        source="actual: common shop pair, from memory; density: hardwood plywood, veneer core, 550 to 650",
        stock=(Stock("96", "48", trim=_TRIM_IN),),
    ),
    "mdf": Material(
        name="MDF 3/4",
        nominal="3/4",
        actual="3/4",
        grain=False,
        faces="alike",
        density="750",
        stiffness="2160",
        creep="2",
        source="density 720 to 800; stiffness: ANSI A208.2 grade 130, from memory; creep: twice, from memory",
        stock=(Stock("97", "49", trim=Trim("1/2", "1/2", "1/2", "1/2")),),
    ),
}

MM_MATERIALS: Mapping[str, Material] = {
    "birch": Material(
        name="Birch plywood 18",
        nominal="18",
        actual="18",
        density="680",
        stiffness="10048",
        creep="1.5",
        source="density and stiffness: Handbook of Finnish Plywood, 18 mm, from memory; real thickness 17.1 to 18.1; "
        "creep: NDS 3.5.2, seasoned lumber",
        stock=(Stock("2440", "1220", trim=_TRIM_MM),),
    ),
    "backing": Material(
        name="Birch plywood 6.5",
        nominal="6.5",
        actual="6.5",
        density="680",
        source="Handbook of Finnish Plywood, from memory; real thickness 6.1 to 6.9",
        stock=(Stock("2440", "1220", trim=_TRIM_MM),),
    ),
    "mdf": Material(
        name="MDF 18",
        nominal="18",
        actual="18",
        grain=False,
        faces="alike",
        density="750",
        stiffness="2200",
        creep="2",
        source="density 720 to 800; stiffness: EN 622-5, over 12 to 19 mm, from memory; creep: twice, from memory",
        stock=(Stock("2440", "1220", trim=_TRIM_MM),),
    ),
}


INCH_SAWS = (Saw("track saw", "track", '3/32"'), Saw("table saw", "table", '1/8"', widest_rip='30"'))
MM_SAWS = (Saw("track saw", "track", "2.2"), Saw("table saw", "table", "3.2", widest_rip="760"))
"""Usual kerfs of a track saw and of a full blade, and how far a usual fence goes; common practice, no source."""


def new_design(name: str, unit: Unit, shop: Shop | None = None) -> Design:
    """A design with nothing in it yet but goods, rules and two saws.

    They are the shop's own where it counts in the same unit, and usual ones where it says nothing.
    """
    own = shop if shop is not None and shop.unit == unit else Shop(unit)
    inch = unit == "in"
    materials = dict(own.materials or (INCH_MATERIALS if inch else MM_MATERIALS))
    rules = dict(own.rules)
    if "backing" in materials:
        rules.setdefault("back_panel", "backing")
    return Design(
        name=name,
        unit=unit,
        # Real thicknesses run in thirty-seconds of an inch: 23/32 should not read as ~3/4.
        show=own.show or ("in 1/32" if inch else ""),
        currency=own.currency or ("$" if inch else "EUR"),
        saws=own.saws or (INCH_SAWS if inch else MM_SAWS),
        rules=rules,
        materials=materials,
        bandings=dict(own.bandings or {"veneer": Banding("Veneer banding", "1/40" if inch else "0.6")}),
        boards=dict(own.boards),
    )
