"""What lies in the shop now, by the names that are pencilled on it: parts, pieces that wait to be cut, sheets."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from core.plan import Plan
from core.planned_sheet import read_unit


@dataclass(frozen=True, slots=True)
class Thing:
    """A piece with a name, mm. `is_part`: it has been cut to be one."""

    name: str
    material: str
    length: Fraction
    width: Fraction
    is_part: bool = False
    fresh: bool = False
    """It is a sheet of the stock that nothing has been cut of."""


def things_lying(plan: Plan) -> dict[str, Thing]:
    """Everything that has a name and is not cut up: what came off last comes first."""
    found: dict[str, Thing] = {}
    cut = {one.step.piece for one in plan.steps if one.done}
    for one in reversed(plan.steps):
        if not one.done:
            continue
        for made in one.step.pieces:
            if made.id not in cut and made.use != "waste":
                mm = one.sheet.mm
                part = made.use == "part"
                found[made.id] = Thing(made.id, one.sheet.material, mm(made.length), mm(made.width), part)
    for piece in reversed(plan.project.facts.pieces):
        unit = read_unit(piece.unit, f"of piece {piece.id}")
        name = piece.part or piece.id
        if name not in cut:
            length, width = piece.length * unit, piece.width * unit
            found.setdefault(name, Thing(name, piece.material, length, width, bool(piece.part)))
    for material in plan.sheets:
        for sheet in material.sheets:
            if not sheet.begun and not sheet.on_hand:
                length, width = sheet.mm(sheet.length), sheet.mm(sheet.width)
                found[sheet.id] = Thing(sheet.id, sheet.material, length, width, fresh=True)
    return found
