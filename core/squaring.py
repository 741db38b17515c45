"""The edge of a sheet that all else is squared to: which cut makes it, and which cut is the first one across it.

A fence or a stop keeps its own cuts square or parallel; a track or a straightedge is as square as
its line is marked. Only an edge to be used counts: one that is rough, or trimmed off again, is none.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from core.cuts.steps import OPPOSITE, Edge, Step
from core.cutting import PlannedStep
from core.layout.tree import Direction
from core.own_units import RoundSize
from core.plan import Plan

ALONG: Mapping[Direction, tuple[Edge, Edge]] = {"rip": ("bottom", "top"), "crosscut": ("left", "right")}
"""The edges that such a cut can make."""
ACROSS: Mapping[Direction, Direction] = {"rip": "crosscut", "crosscut": "rip"}

THREE_FOUR_FIVE = (
    (RoundSize(30, 600), RoundSize(40, 800), RoundSize(50, 1000)),
    (RoundSize(12, 300), RoundSize(16, 400), RoundSize(20, 500)),
)
"""Sides of right-angled triangles (3² + 4² = 5²), the larger, which shows more, first."""


def squaring_in_words(planned: PlannedStep, plan: Plan) -> list[str]:
    """What to mark and to square at a cut along a track or a straightedge; nothing where that was done before."""
    step = planned.step
    if step.saw.kind not in ("track", "circular"):
        return []
    cuts = {one.step.piece: one.step for one in plan.steps if one.step.sheet == step.sheet}
    true = _true_edges(step, cuts, planned.sheet.sawn)
    told = []
    made = OPPOSITE[step.edge]
    if not true and _stays(step, made, cuts):
        told.append(f"the {made} edge that this makes is the reference edge: mark it")
    across = [edge for edge in true if edge in ALONG[ACROSS[step.direction]]]
    # A rip runs along the factory edge that it is measured from; a crosscut has nothing but that to be squared to.
    to: Edge | None = across[0] if across else "bottom" if step.direction == "crosscut" else None
    if to and not any(edge in ALONG[step.direction] for edge in true) and (triangle := _triangle(planned, plan)):
        told.append(f"square the line to the {to} edge: {triangle}")
    return told


def _true_edges(step: Step, cuts: Mapping[str, Step], sawn: tuple[Edge, ...]) -> list[Edge]:
    """The edges of the piece that a step cuts which are true and stay so, those made first before others."""
    makers: list[tuple[Step, Literal[0, 1]]] = []
    by_made = {made.id: (one, place) for one in cuts.values() for place, made in enumerate(one.pieces)}
    piece = step.piece
    while piece in by_made:
        maker, place = by_made[piece]
        makers.append((maker, 0 if place == 0 else 1))
        piece = maker.piece
    true = list(sawn)
    for maker, place in reversed(makers):
        edge = OPPOSITE[maker.edge] if place == 0 else maker.edge
        if edge not in true and _stays(maker, edge, cuts, place):
            true.append(edge)
    return true


def _stays(step: Step, edge: Edge, cuts: Mapping[str, Step], place: int = 0) -> bool:
    """Whether the edge that a cut makes on one of its pieces is there when that is cut up, after all trimming."""
    if not step.saw.finished:
        return False
    piece = step.pieces[place].id
    while piece in cuts:
        later = cuts[piece]
        if sum(made.use != "waste" for made in later.pieces) > 1:
            return True
        at_edge = later.pieces[:1]
        if edge in ALONG[later.direction] and edge != later.edge:
            at_edge = later.pieces[1:]
        kept = [made.id for made in at_edge if made.use != "waste"]
        if not kept:
            # Where nothing lies there the blade takes it.
            return False
        piece = kept[0]
    return True


def _triangle(planned: PlannedStep, plan: Plan) -> str:
    """`30 in along it and 40 in along the line are 50 in apart`; empty on a piece too small for that."""
    notation = plan.worked.notation
    _, along, across = planned.extents
    for three, four, five in THREE_FOUR_FIVE:
        if three.mm(notation) <= across and four.mm(notation) <= along:
            legs = f"{three.text(notation)} along it and {four.text(notation)} along the line"
            return f"{legs} are {five.text(notation)} apart"
    return ""
