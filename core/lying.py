"""What lies in the shop now, by the names that are pencilled on it: parts, pieces that wait to be cut, sheets."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from core.plan import Plan
from core.planned_sheet import read_unit


@dataclass(frozen=True, slots=True)
class Thing:
    """A piece with a name, mm, as it lay on its sheet. `is_part`: it has been cut to be one."""

    name: str
    material: str
    length: Fraction
    width: Fraction
    is_part: bool = False
    fresh: bool = False
    """It is a sheet of the stock that nothing has been cut of."""
    turned: bool = False
    """It is a part whose own length lay along the width."""

    def as_called(self, length: Fraction, width: Fraction) -> tuple[Fraction, Fraction]:
        """What lay along and across is the length and the width of a part that lay turned the other way round."""
        return (width, length) if self.turned else (length, width)


def things_lying(plan: Plan) -> dict[str, Thing]:
    """Everything that has a name and is not cut up: what came off last comes first."""
    found: dict[str, Thing] = {}
    cut = {one.step.piece for one in plan.steps if one.done}
    turned = {spot.piece for one in plan.sheets for sheet in one.sheets for spot in sheet.placed() if spot.turned}
    for one in reversed(plan.steps):
        if not one.done:
            continue
        for made in one.step.pieces:
            if made.id not in cut and made.use != "waste":
                mm = one.sheet.mm
                part = made.use == "part"
                length, width = mm(made.length), mm(made.width)
                found[made.id] = Thing(
                    made.id, one.sheet.material, length, width, part, turned=part and made.id in turned
                )
    for piece in reversed(plan.project.facts.pieces):
        unit = read_unit(piece.unit, f"of piece {piece.id}")
        name = piece.part or piece.id
        if name not in cut:
            length, width = piece.length * unit, piece.width * unit
            is_part = bool(piece.part)
            found.setdefault(name, Thing(name, piece.material, length, width, is_part, turned=is_part and piece.turned))
    for material in plan.sheets:
        for sheet in material.sheets:
            if not sheet.begun and not sheet.on_hand:
                length, width = sheet.mm(sheet.length), sheet.mm(sheet.width)
                found[sheet.id] = Thing(sheet.id, sheet.material, length, width, fresh=True)
    return found
