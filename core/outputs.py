"""Every JSON document that the commands print. The names in them are a contract: add keys, rename none.

Lengths are numbers in millimetres, right to 0.000001 mm; beside them `…_text` keys carry the
shop's own notation.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import Any

from core.boards import BoardList
from core.buy import BuyLine, total
from core.checks.finding import Finding
from core.construction.part import Holes, Kind, Machining, Part
from core.cutting import PlannedStep, settings_needed
from core.lengths import Notation, mm_number
from core.machining_list import set_ups
from core.on_hand import bad_places, code_of
from core.plan import Plan
from core.planned_sheet import PlannedSheet, read_unit
from core.project import PastStep, PieceOnHand
from core.sheets import MaterialSheets
from core.steps_in_words import face_of

Document = dict[str, Any]


def parts_document(plan: Plan) -> Document:
    """`sawhorse parts FILE --json`."""
    notation = plan.worked.notation
    return {
        "project": plan.project.design.name,
        "unit": "mm",
        "parts": [_kind(kind, notation) for kind in plan.kinds if kind.part.material not in plan.worked.goods.boards],
        "boards": [_board(one, plan) for one in plan.boards],
    }


def _board(one: BoardList, plan: Plan) -> Document:
    """A list of its own: what is cut to length, from which bars. `rest` is what each leaves."""
    board, section = plan.project.design.boards[one.board], plan.worked.goods.boards[one.board]
    return {
        "board": one.board,
        "name": board.name,
        "thickness": mm_number(section.thickness),
        "width": mm_number(section.width),
        "trim": mm_number(one.trim),
        "bars_needed": len(one.bars),
        "lower_bound": one.lower_bound,
        "proved_minimum": one.proved_minimum,
        "unplaced": list(one.unplaced),
        "parts": [_kind(kind, plan.worked.notation) for kind in one.kinds],
        "bars": [
            {"length": mm_number(bar.length), "pieces": list(bar.pieces), "rest": mm_number(bar.rest)}
            for bar in one.bars
        ],
    }


def _kind(kind: Kind, notation: Notation) -> Document:
    part = kind.part
    owners = {piece.carcass for _, piece in kind.pieces}
    return {
        "part": kind.code,
        "name": kind.name,
        "carcass": owners.pop() or None if len(owners) == 1 else None,
        "quantity": kind.quantity,
        "hand": part.hand,
        "material": part.material,
        "thickness": mm_number(part.thickness),
        "length": mm_number(part.length),
        "width": mm_number(part.width),
        "length_text": notation.text(part.length),
        "width_text": notation.text(part.width),
        "blank_length": mm_number(part.blank_length),
        "blank_width": mm_number(part.blank_width),
        "larger_at": [{"edge": part.edge_name(side), "by": mm_number(more)} for side, more in part.allowances],
        "grain": part.grain,
        "edges": [
            {"edge": part.edge_name(edge.side), "banding": edge.banding, "thickness": mm_number(edge.thickness)}
            for edge in part.edges
        ],
        "machining": [
            *(machining_document(cut, part) for cut in part.machining),
            *(holes_document(holes, part) for holes in part.holes),
        ],
        "pieces": [
            {
                "piece": f"{kind.code}/{number}",
                "carcass": piece.carcass or None,
                "place": f"{piece.role} {piece.place}".strip(),
                **({"box": _box(piece)} if piece.role != "loose" else {}),
            }
            for number, piece in kind.pieces
        ],
    }


def _box(part: Part) -> Document:
    """Where the finished part stands in the room: x to the right, y back to the wall, z up."""
    low, high = part.box.low, part.box.high
    return {
        "x": mm_number(low[0]),
        "y": mm_number(low[1]),
        "z": mm_number(low[2]),
        "dx": mm_number(high[0] - low[0]),
        "dy": mm_number(high[1] - low[1]),
        "dz": mm_number(high[2] - low[2]),
    }


def machining_document(cut: Machining, part: Part) -> Document:
    """What is cut out of a panel: its place in words, and its rectangle from the part's own origin.

    `x_from` and `y_from` name the edges that x and y count from, `face` the face that is cut into.
    """
    return {
        "kind": cut.kind,
        "place": cut.place,
        "x": mm_number(cut.x),
        "y": mm_number(cut.y),
        "length": mm_number(cut.length),
        "width": mm_number(cut.width),
        "depth": mm_number(part.thickness if cut.depth is None else cut.depth),
        "through": cut.depth is None,
        "face": cut.face and part.face_name(cut.face),
        "x_from": part.edge_name("length-"),
        "y_from": part.edge_name("width-"),
    }


def holes_document(holes: Holes, part: Part) -> Document:
    """A row of holes: the centre of the first from the part's own origin, and how the others follow."""
    return {
        "kind": "hole",
        "place": holes.place,
        "x": mm_number(holes.x),
        "y": mm_number(holes.y),
        "count": holes.count,
        "pitch": mm_number(holes.pitch),
        "along": holes.along,
        "diameter": mm_number(holes.diameter),
        "depth": mm_number(part.thickness if holes.depth is None else holes.depth),
        "through": holes.depth is None,
        "face": part.face_name(holes.face),
        "x_from": part.edge_name("length-"),
        "y_from": part.edge_name("width-"),
    }


def sheets_document(materials: Sequence[MaterialSheets], thickness: Mapping[str, Fraction], kerf: Fraction) -> Document:
    """`sawhorse sheets FILE --json` and `sawhorse layout … --json`. `thickness` of each material in mm."""
    return {
        "kerf": mm_number(kerf),
        "materials": [
            {
                "material": one.material,
                "thickness": mm_number(thickness[one.material]) if one.material in thickness else 0,
                "sheets_needed": len(one.sheets),
                "new_sheets": sum(not one.is_in_shop(sheet) for sheet in one.sheets),
                "lower_bound": one.lower_bound,
                "proved_minimum": one.proved_minimum,
                "cost": None if one.cost is None else one.cost / 100,
                "costs_least": one.costs_least and one.prices_known,
                "used_share": round(float(one.used_area / one.area), 6) if one.sheets else 0,
                "unplaced": [piece.rpartition("/")[0] for piece, _ in one.unplaced],
                "unplaced_because": [{"piece": piece, "reason": reason} for piece, reason in one.unplaced],
                "sheets": [_sheet(sheet, one) for sheet in one.sheets],
            }
            for one in materials
        ],
    }


def _sheet(sheet: PlannedSheet, material: MaterialSheets) -> Document:
    blanks = {blank.code: blank for blank in material.blanks}
    left, right, bottom, top = (mm_number(sheet.mm(side)) for side in sheet.trim)
    parts = []
    for lying in sheet.placed():
        code = lying.piece.rpartition("/")[0]
        blank = blanks[code]
        parts.append(
            {
                "part": code,
                "piece": lying.piece,
                **_rectangle(*map(sheet.mm, (lying.x, lying.y, lying.length, lying.width))),
                "rotated": lying.turned != blank.lies_turned,
                "grain_locked": not blank.may_turn,
            }
        )
    return {
        "id": sheet.id,
        "stock": sheet.stock,
        "length": mm_number(sheet.mm(sheet.length)),
        "width": mm_number(sheet.mm(sheet.width)),
        "grain": "length" if sheet.grain else "none",
        "trim": {"left": left, "right": right, "bottom": bottom, "top": top},
        "on_hand": material.is_in_shop(sheet),
        "price": sheet.price / 100 if sheet.price else None,
        "parts": parts,
        "offcuts": [
            {**_rectangle(*map(sheet.mm, (o.x, o.y, o.length, o.width))), "worth_keeping": o.worth_keeping}
            for o in sheet.offcuts()
        ],
        "bad": [_rectangle(*map(sheet.mm, place)) for place in sheet.bad],
    }


def _rectangle(x: Fraction, y: Fraction, length: Fraction, width: Fraction) -> Document:
    return {"x": mm_number(x), "y": mm_number(y), "length": mm_number(length), "width": mm_number(width)}


def cuts_document(plan: Plan) -> Document:
    """`sawhorse cuts FILE --json`."""
    return {
        "sheets": [
            {
                "id": sheet.id,
                "material": sheet.material,
                "length": mm_number(sheet.mm(sheet.length)),
                "width": mm_number(sheet.mm(sheet.width)),
            }
            for one in plan.sheets
            for sheet in one.sheets
        ],
        "steps": [_step(step, plan, ids) for step, ids in zip(plan.steps, _ids_of_pieces(plan.steps), strict=True)],
        "machining": [
            {
                "piece": piece,
                "set_up": one.number,
                **(holes_document(cut, kind.part) if isinstance(cut, Holes) else machining_document(cut, kind.part)),
            }
            for one in set_ups(plan.kinds)
            for kind, cut in one.cuts
            for piece in kind.piece_ids()
        ],
        "history": [_past(step) for step in plan.project.facts.history],
        "mishaps": [
            {"said": one.said, "after_step": one.after, "when": one.when} for one in plan.project.facts.mishaps
        ],
        "made": [_on_hand(piece) for piece in plan.project.facts.pieces if piece.part],
        "on_hand": [_on_hand(piece) for piece in plan.project.facts.pieces if not piece.part],
        "settings": {
            "needed": settings_needed(plan.steps),
            "sheet_by_sheet": sum(order.plain_changes for order in plan.orders),
        },
    }


def _past(past: PastStep) -> Document:
    """A step that an accident has overtaken."""
    unit = read_unit(past.unit, f"of step {past.number}")
    made = []
    for text in past.makes:
        id, use, *places = text.split()
        x, y, length, width = (mm_number(int(place) * unit) for place in places)
        part = id.rpartition("/")[0] if use == "part" else None
        made.append({"id": id, "x": x, "y": y, "length": length, "width": width, "use": use, "part": part})
    return {
        "step": past.number,
        "sheet": past.sheet,
        "piece": past.piece,
        "saw": past.saw,
        "direction": past.direction,
        "fence": mm_number(past.fence * unit),
        "from": past.edge,
        "kerf": mm_number(past.kerf * unit),
        "done": True,
        "pieces": made,
    }


def _on_hand(piece: PieceOnHand) -> Document:
    """A part that is cut, or a piece that can be cut up."""
    unit = read_unit(piece.unit, f"of piece {piece.id}")
    return {
        "id": piece.id,
        "material": piece.material,
        "length": mm_number(piece.length * unit),
        "width": mm_number(piece.width * unit),
        "bad": [_rectangle(*place) for place in bad_places(piece)],
        "part": piece.part.rpartition("/")[0] or None,
        "piece": piece.part or None,
    }


def _ids_of_pieces(steps: Sequence[PlannedStep]) -> list[list[str]]:
    """What the pieces of each step are called, each name once.

    What is cut bears the name of its part, whatever the design asks for now; where another piece bears that too, the
    number of its own.
    """
    given = Counter(made.id for one in steps for made in one.step.pieces)
    found = []
    for one in steps:
        ids = []
        for made, name in zip(one.step.pieces, one.names, strict=True):
            ids.append(name if name == made.id or not given[name] else made.id)
            given[ids[-1]] += 1
        found.append(ids)
    return found


def _step(planned: PlannedStep, plan: Plan, ids: Sequence[str]) -> Document:
    step, sheet, notation = planned.step, planned.sheet, plan.worked.notation
    return {
        "step": planned.number,
        "sheet": step.sheet,
        "piece": step.piece,
        "saw": step.saw.name,
        "saw_kind": step.saw.kind,
        "direction": step.direction,
        "fence": mm_number(sheet.mm(step.fence)),
        "fence_text": notation.text(sheet.mm(step.fence)),
        "from": step.edge,
        "kerf": mm_number(sheet.mm(step.kerf)),
        "done": planned.done,
        "face": face_of(planned, plan) or None,
        "weight": round(step.weight, 3),
        "held": step.held,
        "cannot": step.cannot or None,
        "pieces": [
            {
                "id": id,
                **({"pencilled": name} if name != id else {}),
                **_rectangle(*map(sheet.mm, (made.x, made.y, made.length, made.width))),
                "use": "part" if code_of(id) else made.use,
                "part": code_of(id) or None,
            }
            for made, name, id in zip(step.pieces, planned.names, ids, strict=True)
        ],
    }


def checks_document(findings: Sequence[Finding]) -> Document:
    """`sawhorse checks FILE --json`."""
    return {
        "checks": [
            {
                "check": one.check,
                "about": one.about,
                "result": one.result,
                "value": one.value,
                "limit": one.limit,
                "unit": one.unit,
                "because": one.because,
                "formula": one.formula,
                "source": one.source,
                "mend": list(one.mend),
            }
            for one in findings
        ]
    }


def buy_document(lines: Sequence[BuyLine], currency: str) -> Document:
    """`sawhorse buy FILE --json`."""
    cost = total(lines)
    return {
        "lines": [
            {
                "item": line.item,
                "quantity": line.quantity,
                "unit": line.unit,
                "price_each": line.price_each,
                "cost": line.cost,
                "for": line.purpose,
                "bought": line.bought,
            }
            for line in lines
        ],
        "total": cost,
        "currency": currency if cost is not None else None,
    }
