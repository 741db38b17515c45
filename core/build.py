"""How it goes together, in order: a list of steps in shop words with the codes of the parts.

The order is common practice, no source: dry fit, box, inside, back, then the room.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from fractions import Fraction
from itertools import groupby, permutations

from core.build_step import BuildStep, all_of, lifting, listed
from core.construction.codes import place_key
from core.construction.part import Part
from core.construction.row import count_feet
from core.construction.rule_book import Rules
from core.cutting import SHORT, cut_free
from core.dry_fit import Way
from core.fastening import FRAME, Fastener
from core.in_the_room import room_steps
from core.lengths import Notation
from core.plan import Plan
from core.project import Carcass
from core.put_together import BOX, DRAWER

PLINTH = ("plinth", "plinth end")
DUST = "Dust of wood and board harms the lungs: extraction and a mask, also when sanding."


def build_steps(plan: Plan) -> tuple[BuildStep, ...]:
    """From the stack of cut parts to the piece on the wall."""
    if not plan.kinds:
        return ()
    notation = plan.worked.notation
    carcasses = [place.item for place in plan.worked.standing if isinstance(place.item, Carcass)]
    steps = (
        BuildStep("sheets", "Bring the sheets to the saw and cut in the order of the cut list.", lifting(notation)),
        BuildStep(
            "sheets", "Tick every cut as it is made; pencil the code on each part as it comes off.", _saws(notation)
        ),
        *_every_part(plan),
        *(step for one in carcasses for step in _carcass(one, plan)),
        *room_steps(plan),
        *(step for one in carcasses for step in _opened(one, plan)),
    )
    return tuple(_measured_first(steps, plan))


def _measured_first(steps: Sequence[BuildStep], plan: Plan) -> Iterator[BuildStep]:
    """The steps, and before each that takes up parts which were held back one in which they are cut."""
    waiting = {piece for kind in plan.kinds if kind.code in plan.project.design.held_back for piece in kind.piece_ids()}
    waiting -= cut_free(plan.sheets, plan.steps)
    for step in steps:
        taken_up = [word for word in re.split(r"[\s,;:.]+", step.text) if word in waiting]
        if taken_up:
            waiting -= set(taken_up)
            text = (
                f"Measure what stands where {', '.join(taken_up)} will go, held back till now. Change the size if it "
            )
            yield BuildStep(step.about, f"{text}asks for that, and only then cut.")
        yield step


def _saws(notation: Notation) -> str:
    return (
        "Saws: makers' instructions first. Guard and riving knife on, eyes and ears covered, dust drawn off at the "
        f"blade. Nothing shorter than about {SHORT.text(notation)} between fence and blade without a sled; a push "
        "stick for narrow rips."
    )


def _every_part(plan: Plan) -> list[BuildStep]:
    """What is done to parts before any two of them meet."""
    steps = []
    if any(part.edges for part in plan.worked.parts):
        text = "Band the edges that show, trim them flush, and hold one part against its finished size."
        layered = [top.name for top in plan.project.design.tops if top.layers > 1 and top.banding]
        if layered:
            text += f" Not those of {' and '.join(layered)}: that is banded over its layers when they are glued."
        steps.append(BuildStep("parts", text, DUST))
    held = set(plan.project.design.held_back)
    machined = listed(plan, lambda part: bool(part.machining or part.holes), held)
    if machined:
        text = f"Machine the parts by set-up, as the cut list says, measured from finished edges: {machined}. Left and "
        text += "right mirror: mark the good face first."
        if scribed := listed(plan, lambda part: part.role == "end panel" and any(part.allowance), held):
            text += f" The bottom of {scribed} is no finished edge yet: it is scribed to the floor in its place."
        steps.append(BuildStep("parts", text))
    return steps


def _carcass(carcass: Carcass, plan: Plan) -> list[BuildStep]:
    """One carcass, from the dry fit to its shelves."""
    named, rules = _namer(carcass, plan), plan.worked.rules.get(carcass.id)
    if rules is None or not named("side"):
        return []
    about = f"carcass {carcass.id}"
    box = [role for role in BOX if role not in ("back", *FRAME)]
    held_by = _fastened(carcass, plan, box, box) or ", clamped until it has set"
    texts = [
        f"Dry fit without glue, each part as it comes to its place: {_in_order(carcass, plan)}.",
        f"Glue up in the same order{held_by}; both diagonals equal before the glue sets.",
    ]
    order = plan.worked.assembly.get(carcass.id, ())
    # A back that goes in before what runs through closes is in the order above.
    if named("back") and (not order or order[-1].part.role == "back"):
        does = {"applied": "Put on", "grooved": "Slide in"}.get(rules.back, "Let in")
        holds = (
            ". It is too low to hold the box square by itself: fasten to the wall."
            if rules.back_reach == "part"
            else ": it holds the box square, so measure the diagonals once more"
            + (", glue its rabbets, and nail it there." if rules.back == "let in" else ".")
        )
        screws = _fastened(carcass, plan, ("back",), box)
        texts.append(f"{does} the back {named('back')}{screws}{holds}")
    if rules.base == "feet":
        panel = named("plinth")
        texts.append(
            f"Screw {_feet(carcass, plan)} under the box, first at both ends of every side and divider, and turn "
            f"them level; the kick panel {panel} is clipped on last."
        )
    if named("plinth end"):
        screws = _fastened(carcass, plan, PLINTH, PLINTH)
        texts.append(
            f"Put the plinth together: {named('plinth')}, the ends {named('plinth end')} between{screws}. It is "
            "levelled in its place, and the box screwed down to it."
        )
    if named("loose shelf"):
        texts.append(f"Try {all_of('shelf', named('loose shelf'), 'shelves')} on the pins.")
    if named("stile"):
        texts.append(
            f"Put the face frame together on a flat bench: stiles {named('stile')}, rails {named('frame rail')}, with "
            "pocket screws or dowels; both diagonals equal. Glue it to the front edges, its bottom rail flush with the "
            f"top face of the bottom{_hanging(carcass, plan)}, clamped until it has set."
        )
    if named("stile") and (by := _packing(carcass, plan)):
        texts.append(f"Pack the slides out by {by}, flush with the stiles.")
    return [BuildStep(about, text) for text in texts]


def _opened(carcass: Carcass, plan: Plan) -> list[BuildStep]:
    """Its drawers and doors, once it stands and is fast: on a floor that is not level they would be set twice."""
    named, rules, about = _namer(carcass, plan), plan.worked.rules.get(carcass.id), f"carcass {carcass.id}"
    if rules is None or not named("side"):
        return []
    return [*_drawers(about, rules, named, carcass, plan), *_doors(about, rules, named)]


def _namer(carcass: Carcass, plan: Plan) -> Callable[..., str]:
    """Lists the pieces of a carcass that have one of some roles."""
    return lambda *roles: listed(plan, lambda part: part.carcass == carcass.id and part.role in roles)


def _feet(carcass: Carcass, plan: Plan) -> str:
    """`6 feet`."""
    worked = plan.worked
    place = next(one for one in worked.standing if one.item.id == carcass.id)
    return f"{count_feet(place, worked.placed, worked.rules)} feet"


def _hanging(carcass: Carcass, plan: Plan) -> str:
    """How far the bottom rail of a face frame hangs below the bottom, as a clause; or empty."""
    low = {place_key(part): part.box.low[2] for part in plan.worked.placed}
    below = low[f"{carcass.id} bottom"] - low[f"{carcass.id} frame rail bottom"]
    told = f" and {plan.worked.notation.with_unit(below)} below its underside" if below else ""
    on_floor = plan.worked.rules[carcass.id].is_flush_base
    return f"{told}, the outer stiles down to the feet of the sides" if on_floor else told


def _packing(carcass: Carcass, plan: Plan) -> str:
    """How far uprights stand back behind the openings of a face frame: what slides are packed out by; or empty."""
    rules = plan.worked.rules[carcass.id]

    def beside(side: Part) -> Fraction:
        """From an opening to the drawer, by its slides."""
        if rules.slides == "side mount":
            return rules.slide_clearance
        return rules.undermount_less / 2 - side.thickness

    found: dict[Fraction, dict[str, None]] = {}
    for meeting in plan.worked.meetings:
        if meeting.one.carcass == carcass.id and meeting.one.role == "drawer side":
            at = "the sides" if meeting.other.role == "side" else "the dividers"
            found.setdefault(meeting.play - beside(meeting.one), {})[at] = None
    packed = [(by, " and ".join(where)) for by, where in sorted(found.items()) if by > 0]
    say = plan.worked.notation.with_unit
    return " and by ".join(say(by) + (f" at {where}" if len(found) > 1 else "") for by, where in packed)


def _heights(carcass: Carcass, plan: Plan) -> str:
    """How high the drawers sit: `16 (C1/1, C1/2), 190 (C2/1, C2/2)`, above the carcass's bottom."""
    of_carcass = [part for part in plan.worked.placed if part.carcass == carcass.id]
    floor = max((part.box.high[2] for part in of_carcass if part.role == "bottom"), default=Fraction(0))
    heights = sorted({part.box.low[2] for part in of_carcass if part.role == "drawer side"})

    def at(height: Fraction) -> str:
        def sits(part: Part) -> bool:
            return part.carcass == carcass.id and part.role == "drawer side" and part.box.low[2] == height

        return f"{plan.worked.notation.text(height - floor)} ({listed(plan, sits)})"

    return ", ".join(map(at, heights))


def _drawers(about: str, rules: Rules, named: Callable[..., str], carcass: Carcass, plan: Plan) -> list[BuildStep]:
    if not named("drawer side"):
        return []
    texts = (
        f"Put the drawers together{_fastened(carcass, plan, DRAWER, DRAWER)}: sides {named('drawer side')}, ends "
        f"{named('drawer end')}, the bottoms {named('drawer bottom')} in their grooves before the last side, without "
        "glue there. Diagonals equal, or they bind.",
        *(
            ["Bore or notch the rear ends below the bottom for the hooks of the undermounts, as their maker says."]
            if rules.slides == "undermount"
            else []
        ),
        f"Mount the slides ({rules.slides}) by their maker's instructions, level and at one height left and right. "
        f"The undersides of the drawers above the bottom: {_heights(carcass, plan)}. Try every drawer.",
        f"Screw the fronts on from inside, {named('drawer front')}, packed up to equal gaps.",
    )
    return [BuildStep(about, text) for text in texts]


def _doors(about: str, rules: Rules, named: Callable[..., str]) -> list[BuildStep]:
    steps = []
    if named("false front"):
        fronts = all_of("false front", named("false front"))
        text = f"Hold {fronts} from behind, by blocks glued and screwed to the uprights."
        steps.append(BuildStep(about, text))
    if named("door"):
        caution = "Two hold a tall door while it is hung: until the last screw is in, it can fall."
        text = f"Hang {all_of('door', named('door'))}, and set the hinges until the gaps are equal."
        steps.append(BuildStep(about, text, caution))
    return steps


FROM: Mapping[Way, str] = {
    "right": "from the right",
    "back": "from behind",
    "above": "from above",
    "front": "from the front",
    "left": "from the left",
    "below": "from below",
}


def _in_order(carcass: Carcass, plan: Plan) -> str:
    """The parts as they go together, with the side from which each comes where that is the only one said so far."""
    piece_of = {
        place_key(part): piece
        for kind in plan.kinds
        for piece, (_, part) in zip(kind.piece_ids(), kind.pieces, strict=True)
    }
    told = []
    for way, comings in groupby(plan.worked.assembly.get(carcass.id, ()), lambda coming: coming.way):
        pieces = ", ".join(piece_of[place_key(coming.part)] for coming in comings)
        told.append(f"{pieces} {FROM[way]}" if way else pieces)
    return "; ".join(told)


def _fastened(carcass: Carcass, plan: Plan, roles: Collection[str], others: Collection[str]) -> str:
    """` with screws 2 in and dowels 8 mm x 30 mm, pilot holes first`: what joins parts of such roles; or empty."""
    worked = plan.worked
    used = {
        f"{joint.fastener.text(worked.notation)}{_holes(joint.fastener, worked.notation)}": None
        for joint in worked.joints
        if joint.fastener and {one.carcass for one in joint.meeting.parts} == {carcass.id}
        if any(a.role in roles and b.role in others for a, b in permutations(joint.meeting.parts))
    }
    if not used:
        return ""
    pilot = ", pilot holes first" if any(one.startswith(("screws", "connector")) for one in used) else ""
    return f" with {' and '.join(used)}{pilot}"


def _holes(dowel: Fastener, notation: Notation) -> str:
    """How deep the holes of a dowel are, so that none comes through a face."""
    if dowel.into_face is None or dowel.into_edge is None:
        return ""
    return f", in holes {notation.text(dowel.into_face)} deep in faces, {notation.text(dowel.into_edge)} in edges"
