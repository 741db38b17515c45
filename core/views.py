"""What pictures are drawn from: a plan's sheets, cuts and carcasses as views in millimetres."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from core.cutting import PlannedStep, cut_free
from core.drawing.elevation import Label
from core.drawing.sheet_places import BadView, CutLine, OffcutView, PieceView, SheetView, TrimView
from core.plan import Plan
from core.planned_sheet import PlannedSheet

HALF = Fraction(1, 2)


def sheet_view(plan: Plan, sheet: PlannedSheet) -> SheetView:
    """One sheet with its parts, what is cut of it already, and its offcuts."""
    turned = {kind.code: kind.part.grain == "width" for kind in plan.kinds}
    made = cut_free((), (one for one in plan.steps if one.step.sheet == sheet.id))
    left, right, bottom, top = (sheet.mm(side) for side in sheet.trim)
    return SheetView(
        id=sheet.id,
        material=plan.project.design.materials[sheet.material].name,
        length=sheet.mm(sheet.length),
        width=sheet.mm(sheet.width),
        kerf=sheet.mm(sheet.kerf),
        grain=sheet.grain,
        parts=tuple(
            PieceView(
                one.piece,
                code := one.piece.rpartition("/")[0],
                sheet.mm(one.x),
                sheet.mm(one.y),
                sheet.mm(one.length),
                sheet.mm(one.width),
                one.turned != turned.get(code, False),
                one.piece in made,
            )
            for one in sheet.placed()
        ),
        offcuts=tuple(
            OffcutView(sheet.mm(o.x), sheet.mm(o.y), sheet.mm(o.length), sheet.mm(o.width), o.worth_keeping)
            for o in sheet.offcuts()
        ),
        trim=TrimView(left, right, bottom, top),
        bad=tuple(BadView(*map(sheet.mm, place)) for place in sheet.bad),
    )


def cut_line(planned: PlannedStep) -> CutLine:
    """Where a step's blade runs, along the middle of its kerf."""
    step, sheet = planned.step, planned.sheet
    xs = [made.x for made in step.pieces]
    ys = [made.y for made in step.pieces]
    right = max(made.x + made.length for made in step.pieces)
    top = max(made.y + made.width for made in step.pieces)
    first = step.pieces[0]
    kerf = sheet.mm(step.kerf) * HALF
    if step.direction == "rip":
        at = sheet.mm(first.y + first.width) + kerf if step.edge == "bottom" else sheet.mm(first.y) - kerf
        return CutLine(planned.number, sheet.mm(min(xs)), at, sheet.mm(right), at, sheet.mm(step.fence), step.edge)
    at = sheet.mm(first.x + first.length) + kerf if step.edge == "left" else sheet.mm(first.x) - kerf
    return CutLine(planned.number, at, sheet.mm(min(ys)), at, sheet.mm(top), sheet.mm(step.fence), step.edge)


def piece_view(planned: PlannedStep) -> OffcutView:
    """The piece that a step cuts, where it lies on its sheet."""
    step, mm = planned.step, planned.sheet.mm
    left = min(made.x for made in step.pieces)
    bottom = min(made.y for made in step.pieces)
    right = max(made.x + made.length for made in step.pieces)
    top = max(made.y + made.width for made in step.pieces)
    return OffcutView(mm(left), mm(bottom), mm(right - left), mm(top - bottom), False)


def row_labels(plan: Plan) -> Sequence[Label]:
    """The id of every item of the row, over its middle."""
    return [
        Label(place.item.id, place.x + place.outside.width * HALF, place.foot + place.outside.height * HALF)
        for place in plan.worked.standing
    ]
