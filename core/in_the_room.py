"""What is done in the room, once the carcasses stand: level, plumb, fast to the wall, then the tops."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from core.build_step import BuildStep, all_of, lifting, listed
from core.construction.row import Standing
from core.lengths import Notation
from core.own_units import RoundSize
from core.plan import Plan
from core.project import Carcass, Filler, Gap, Top
from core.workings import Worked

WALL = (
    "Before a screw goes into a wall find wires and pipes. Power in a wall is licensed work; local codes stand before "
    "anything said here."
)
TALL = RoundSize(27, 685)
"""From here up a piece is fastened: ASTM F2057-23 counts free-standing clothing storage from 27 in high."""


def room_steps(plan: Plan) -> list[BuildStep]:
    """In its place: level, plumb, fast to the wall, then the tops and what no rule makes."""
    steps = []
    worked = plan.worked
    if worked.standing:
        falls = worked.envelope.falls
        low = f" That is up to {worked.notation.with_unit(falls)} where it is lowest." if falls else ""
        text = (
            "Level from the highest point of the floor: everything is shimmed up to it, nothing cut down to a low spot."
        )
        steps.append(BuildStep("room", f"{text}{low}"))
        fits = [fit for fit in worked.envelope.sides if fit.widest_gap]
        if fits:
            told = ", ".join(f"{fit.wall} up to {worked.notation.with_unit(fit.widest_gap)}" for fit in fits)
            steps.append(BuildStep("room", f"Scribe or fill at the walls: {told}."))
        if closing := listed(plan, lambda part: part.role == "end panel"):
            longer = listed(plan, lambda part: part.role == "end panel" and any(part.allowance))
            more = f"{worked.notation.with_unit(falls)} longer at the bottom"
            scribed = f"Scribe {longer} to the floor: {more} for that. " if longer else ""
            text = f"Screw the end panels {closing} to their carcasses from inside, before others stand beside them."
            steps.append(BuildStep("room", f"{scribed}{text}"))
        steps += _hung(worked)
        steps += [BuildStep("room", text) for text in _neighbours(worked.standing, worked.notation)]
        text = "Fasten every carcass to the wall."
        steps.append(BuildStep("room", text, f"{_tipping(worked.notation)} {WALL}"))
    if fillers := listed(plan, lambda part: part.role == "filler"):
        larger = any(part.role == "filler" and any(part.allowance) for part in worked.parts)
        several = ", " in fillers
        it, them, blank = ("they stand", "them", "their blanks are") if several else ("it stands", "it", "its blank is")
        text = f"Scribe {all_of('filler', fillers)} to what {it} at, and screw {them} on"
        text += f": {blank} larger." if larger else "."
        steps.append(BuildStep("room", text))
    for top in plan.project.design.tops:
        layers = listed(plan, lambda part, top=top: part.role == "worktop" and part.carcass == top.id)  # type: ignore[misc]
        if layers:
            glue = _glued(top, plan)
            how = "screw it from below, no screw longer than what it holds"
            if _moves(top, plan):
                how = (
                    "screw it fast along its front edge only, at the back through slots or with buttons in a groove; "
                    "never glue it down. It grows and shrinks across its grain, by as much as the checks say"
                )
            text = f"{glue}Lay {top.name} {layers} last and {how}."
            steps.append(BuildStep("room", text, lifting(worked.notation)))
    loose = listed(plan, lambda part: part.role == "loose")
    if loose:
        steps.append(BuildStep("room", f"Fit what is left, scribed to the wall where it meets one: {loose}."))
    return steps


def _hung(worked: Worked) -> list[BuildStep]:
    """How the carcasses that only the wall carries come to their height."""
    say = worked.notation.with_unit
    hung = [place for place in worked.standing if place.hangs]
    if not hung:
        return []
    text = (
        "Hang what hangs before anything stands below it, with its underside above the floor's highest point: "
        + ", ".join(f"{place.item.id} {say(place.foot)}" for place in hung)
        + ". A straight ledger that is screwed level into the studs carries it until its own screws are in."
    )
    return [BuildStep("room", text, f"Two hold it while it is hung: until the last screw is in, it can fall. {WALL}")]


def _moves(top: Top, plan: Plan) -> bool:
    """Whether a top is of solid wood."""
    material = plan.project.design.materials.get(top.material)
    return bool(material and material.movement)


def _glued(top: Top, plan: Plan) -> str:
    """What is done with the layers of a top, and where its pieces meet, before it is laid."""
    seams = any(part.carcass == top.id and part.place.endswith("2") for part in plan.worked.placed)
    told = "Put its pieces together where they meet over an upright, flush on top. " if seams else ""
    if top.layers < 2:
        return told
    larger = any(part.carcass == top.id and any(part.allowance) for part in plan.worked.placed)
    last = ", and only then band the edges over both" if top.banding else ""
    flush = (
        f"trim the lower one flush when the glue has set{last}" if larger else "line up the edges: they are cut to size"
    )
    return f"{told}Glue its two layers all over and {flush}. "


def _neighbours(standing: Sequence[Standing], notation: Notation) -> list[str]:
    """Which carcasses are joined to each other, and how far those stand apart that an open bay parts, or a filler."""
    items = [place for place in standing if place.outside.width]
    joined, apart = [], []
    for left, right in pairwise(place for place in items if isinstance(place.item, Carcass)):
        one, other = left.item.id, right.item.id
        between = items[items.index(left) + 1 : items.index(right)]
        if max(left.foot, right.foot) >= min(left.height, right.height):
            # One hangs over the other's height.
            continue
        if any(isinstance(place.item, Gap | Filler) for place in between):
            apart.append(f"{one} and {other} {notation.with_unit(right.x - left.right)}")
        else:
            flush = "fronts" if left.outside.depth == right.outside.depth else "rear edges"
            joined.append(f"{one} to {other}, {flush} flush")
    texts = [f"Join the carcasses that touch: {'; '.join(joined)}."] if joined else []
    if apart:
        wide = "as wide as what is left open or filled"
        texts.append(f"Set carcasses apart with a spacer, top and bottom, {wide}: {', '.join(apart)}.")
    return texts


def _tipping(notation: Notation) -> str:
    return (
        f"Whatever is taller than {TALL.text(notation)} is fastened to the wall, at two studs at least, before "
        "anything is put in it."
    )
