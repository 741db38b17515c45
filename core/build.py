"""How it goes together, in order: a list of steps in shop words with the codes of the parts.

The order is common practice, no source: dry fit, box, inside, back, then the room.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from core.construction.part import Part
from core.plan import Plan
from core.project import Carcass

SAWS = (
    "Saws: makers' instructions first. Guard and riving knife on, eyes and ears covered, dust drawn off at the blade. "
    "Nothing shorter than about 12 in between fence and blade without a sled; a push stick for narrow rips."
)
DUST = "Dust of wood and board harms the lungs: extraction and a mask, also when sanding."
LIFTING = "A full sheet is a lift for two, or a dolly: most weigh more than 51 lb (23 kg)."
WALL = (
    "Before a screw goes into a wall find wires and pipes. Power in a wall is licensed work; local codes stand before "
    "anything said here."
)
TIPPING = "Whatever is taller than 27 in is fastened to the wall, at two studs at least, before anything is put in it."


@dataclass(frozen=True, slots=True)
class BuildStep:
    """One thing to do; `caution` where somebody can be hurt."""

    about: str
    text: str
    caution: str = ""


def build_steps(plan: Plan) -> tuple[BuildStep, ...]:
    """From the stack of cut parts to the piece on the wall."""
    if not plan.kinds:
        return ()
    codes = {id(part): f"{kind.code}/{number}" for kind in plan.kinds for number, part in kind.pieces}
    steps = [
        BuildStep("sheets", "Bring the sheets to the saw and cut in the order of the cut list.", LIFTING),
        BuildStep("cutting", "Tick every cut as it is made; pencil the code on each part as it comes off.", SAWS),
    ]
    if any(part.machining for part in plan.worked.parts):
        told = _listed(plan.worked.parts, codes, lambda part: bool(part.machining))
        steps.append(
            BuildStep(
                "machining", f"Cut the notches and rabbets: {told}. Left and right mirror: mark the good face.", SAWS
            )
        )
    if any(part.edges for part in plan.worked.parts):
        steps.append(
            BuildStep(
                "edges",
                "Band the edges that show, trim them flush, and check one part against its finished size.",
                DUST,
            )
        )
    for place in plan.worked.standing:
        if isinstance(place.item, Carcass):
            own = [part for part in plan.worked.placed if part.carcass == place.item.id]
            steps += _carcass(place.item, own, codes)
    steps += _room(plan, codes)
    return tuple(steps)


def _carcass(carcass: Carcass, parts: list[Part], codes: dict[int, str]) -> list[BuildStep]:
    def named(*roles: str) -> str:
        return _listed(parts, codes, lambda part: part.role in roles)

    about = f"carcass {carcass.id}"
    steps = [
        BuildStep(about, f"Dry fit without glue: {named('side', 'bottom', 'top', 'rail', 'kick', 'divider', 'shelf')}.")
    ]
    box = named("bottom", "kick", "top", "rail")
    steps.append(
        BuildStep(
            about,
            f"Glue and screw {box} between the sides {named('side')}: pilot holes first. Both diagonals equal before the glue sets.",
        )
    )
    if named("divider", "shelf"):
        steps.append(
            BuildStep(about, f"Set dividers and fixed shelves: {named('divider', 'shelf')}, the box on its back.")
        )
    if named("back"):
        steps.append(
            BuildStep(
                about, f"Put on the back {named('back')}: it holds the box square, so check the diagonals once more."
            )
        )
    if named("plinth"):
        steps.append(
            BuildStep(about, f"Put the plinth together: {named('plinth')} with the ends {named('plinth end')}.")
        )
    if named("loose shelf"):
        steps.append(
            BuildStep(
                about,
                f"Drill the pin holes, both sides from the bottom up, and try the shelves {named('loose shelf')}.",
            )
        )
    return steps


def _room(plan: Plan, codes: dict[int, str]) -> list[BuildStep]:
    steps = []
    if plan.worked.standing:
        steps.append(
            BuildStep(
                "room",
                "Level from the highest point of the floor: plinths or sides are shimmed up, never cut down to a low spot.",
            )
        )
        fits = [fit for fit in plan.worked.envelope.sides if fit.widest_gap]
        if fits:
            say = plan.worked.notation.with_unit
            told = ", ".join(f"{fit.wall} up to {say(fit.widest_gap)}" for fit in fits)
            steps.append(BuildStep("room", f"Scribe or fill at the walls: {told}."))
        steps.append(
            BuildStep(
                "room",
                "Join the carcasses to each other, fronts flush, then fasten them to the wall.",
                f"{TIPPING} {WALL}",
            )
        )
    tops = _listed(plan.worked.placed, codes, lambda part: part.role == "worktop")
    if tops:
        steps.append(
            BuildStep("top", f"Lay the top {tops} last. Two layers are glued all over, the upper trimmed flush after. Screw it from below, "
                      "the screws shorter than what they hold together.", LIFTING)
        )  # fmt: skip
    return steps


def _listed(parts: Iterable[Part], codes: dict[int, str], wanted: Callable[[Part], bool]) -> str:
    return ", ".join(codes[id(part)] for part in parts if wanted(part))
