"""What of the walls the piece covers: outlets, switches, pipes, sills, vents."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

from core.checks.finding import Finding, Result
from core.construction.bench import FOR, things_cut_for
from core.construction.goods import ZERO
from core.construction.part import Axis, Box, Machining, Part, Side
from core.construction.plates import WOOD
from core.construction.rule_book import Rules
from core.construction.shelves import PINS
from core.edits import Path
from core.lengths import Notation
from core.obstacles import NEAR, NOTCHED, REACHED, closed_below, covers, hole_for, needed_in, places, spots_before
from core.solids import block_of, solid
from core.space import Obstacle

CODE = "Power in a wall is work for who is licensed to do it: ask the local code before an outlet is covered or moved."
ELECTRIC = ("outlet", "switch")
SLIVER = Fraction(12)
"""mm of wood beside a cutout that break off under the saw; common practice, no source."""

LEAST_LEFT = Fraction(1, 4)
"""The share of a part beside a cutout below which it bends or breaks when it is carried; common practice, no source."""


def check_obstacles(
    placed: Sequence[tuple[Obstacle, Box]], parts: Sequence[Part], rules: Mapping[str, Rules], notation: Notation
) -> list[Finding]:
    """What of the walls the piece covers. `placed`: each obstacle with its block in the room; `rules` by carcass."""
    found = []
    for obstacle, block in placed:
        through = [part for part in parts if _cut_for(part, obstacle)]
        opened = any(part.role in ("side", "end panel") for part in through)
        spots = spots_before(parts, block, obstacle)
        met = [part for part in parts if _in_front(part, spots, obstacle) or _walls_in(part, block, obstacle, opened)]
        if obstacle.kind in REACHED and not met and not through:
            # A bottom that ends before a baseboard, or the front of a plinth beside the wall, is near enough; and the
            # rear of a drawer stops at a plug.
            near = (part for part in parts if part.role in NOTCHED or part.role.startswith("drawer"))
            met = [part for part in near if _stands_before(part, [(block, NEAR)], obstacle)]
        under = [part for part in closed_below(parts, block, obstacle) if part not in met and part not in through]
        if under and not any(_is_in_its_place(part, block, obstacle.kind in ELECTRIC) for part in met):
            found.append(_buried(obstacle, met, under))
        elif met:
            found.append(_covered(obstacle, block, met, rules))
        elif through and obstacle.kind in REACHED:
            pinless = _without_pins(parts, obstacle, rules)
            found.append(_reached(obstacle, block, through, parts, pinless, notation))
        else:
            found.append(_passed(obstacle, through, _without_pins(parts, obstacle, rules), notation))
    return found


def _cut_for(part: Part, obstacle: Obstacle) -> list[Machining]:
    """What is cut out of a part for an obstacle."""
    return [cut for cut in part.machining if obstacle.title in things_cut_for(cut)]


def _about(obstacle: Obstacle) -> str:
    return f"{obstacle.title} on the {obstacle.wall} wall"


def _passed(obstacle: Obstacle, through: Sequence[Part], pinless: str, notation: Notation) -> Finding:
    """Nothing stands before it, or what did is cut away."""
    told = f"cut out of {_named(through)}" if through else "nothing covers it"
    doubts = _narrow_beside(through, obstacle, notation) + pinless
    result: Result = "warn" if doubts else "ok"
    return Finding("obstacle", _about(obstacle), result, told + doubts, source="geometry", brief=obstacle.title)


def _reached(
    obstacle: Obstacle, block: Box, through: Sequence[Part], parts: Sequence[Part], pinless: str, notation: Notation
) -> Finding:
    """It is of use through a hole in what stands before it, unless something lies across that."""
    flat = "y" if obstacle.wall == "back" else "x"
    flush = [part for part in through if part.thickness_axis == flat] or through
    across = [part for part in parts if _lies_across(part, block, flush[0]) and part not in through]
    names = dict.fromkeys(
        "a drawer" if part.role.startswith("drawer") else part.name + _borne(part, flush[0], obstacle, notation)
        for part in across
    )
    told = f" Across it: {', '.join(names)}." if names else ""
    narrow = _narrow_beside(through, obstacle, notation) + pinless
    electric = obstacle.kind in ELECTRIC
    opened = f"cut out of {_named(through)}"
    mend: tuple[str, ...] = ("an open bay there",) if told else ()
    if electric:
        opened = f"reached through {_named(flush)}, and its box stands back there"
        if notched := [part for part in through if part not in flush]:
            opened += f"; cut out of {_named(notched)}, too"
        mend = ("its box brought forward, by who may do that", "an open bay there")
    stop = "." if mend else ""
    return Finding(
        "obstacle",
        _about(obstacle),
        "warn" if mend or narrow else "ok",
        f"{opened}{narrow}{stop}{told}" + (f" {CODE}" if electric else ""),
        source="geometry",
        mend=mend,
        brief=obstacle.title,
        mended_at=_uncovered_at(through) if mend else (),
    )


def _borne(part: Part, side: Part, obstacle: Obstacle, notation: Notation) -> str:
    """How much of a shelf's end still meets a side beside the hole in that, in brackets; empty for anything else."""
    if part.role not in ("shelf", "rail") or side.thickness_axis != "x":
        return ""
    hole = _cut_for(side, obstacle)[0]
    along = (hole.x, hole.length) if side.length_axis == "y" else (hole.y, hole.width)
    begins = side.box.start("y") + along[0]
    low, high = (part.box.start("y"), part.box.start("y") + part.box.span("y"))
    left = high - low - max(min(begins + along[1], high) - max(begins, low), ZERO)
    return f" ({notation.text(left)} of its {notation.with_unit(high - low)} still meets {side.name})"


def _covered(obstacle: Obstacle, block: Box, met: Sequence[Part], rules: Mapping[str, Rules]) -> Finding:
    """Something stands before it, or where it sticks out."""
    electric = obstacle.kind in ELECTRIC
    inside = [part for part in met if _is_in_its_place(part, block, electric)]
    mend: tuple[str, ...] = ("cut it out of the part that covers it", "leave an open bay there")
    if obstacle.wall == "back":
        mend = (*mend, "no back in that carcass")
    at = _uncovered_at(inside or met)
    if any(part.role.startswith("drawer") for part in inside or met):
        mend = ("slide length less", "another front there", "leave an open bay there")
    elif any(part.role.startswith("plinth") for part in inside):
        mend = ("feet or a kick in the place of the plinth", "a filler or an open bay there")
    elif inside:
        mend = (f"more air at the {obstacle.wall} wall", "a filler or an open bay there")
        if obstacle.kind in ("sill", "other"):
            at = ("space", "clearance", obstacle.wall)
        else:
            mend = ("cutouts yes, where that divides no part", *mend)
    elif not electric:
        mend = mend[1:]
    screwed, plates = _screwed_to(met, block, obstacle, rules)
    why = ""
    if screwed is not None:
        # Of a pair each has its own side.
        turned = ("a door hinged on the other side",) if not plates[0].endswith((" left", " right")) else ()
        mend = ("another hinge from end", *turned, "leave an open bay there")
        at = ("row", screwed.carcass)
        are = f"{' and '.join(f'the {plate}' for plate in plates)} {'are' if len(plates) > 1 else 'is'}"
        why = f"; not cut out, for {are} screwed to {_named([screwed])} there"
    told = f"covered by {_named(met)}{why}" + (f". {CODE}" if electric else "")
    return Finding(
        "obstacle",
        _about(obstacle),
        "fail" if inside else "warn",
        f"in the place of {_named(inside)}{why}" if inside else told,
        source="geometry",
        mend=mend,
        brief=obstacle.title,
        mended_at=at,
    )


def _buried(obstacle: Obstacle, met: Sequence[Part], under: Sequence[Part]) -> Finding:
    """It is in the closed space under a box. `met`: what stands against it besides."""
    # Of a plinth's front and rear it is the nearer one.
    nearest = max(part.box.high[1] for part in under)
    covering = met or [part for part in under if part.box.high[1] == nearest]
    electric = obstacle.kind in ELECTRIC
    moved = "moved, by who may do that" if electric else "an opening in what stands before it"
    return Finding(
        "obstacle",
        _about(obstacle),
        "warn",
        f"covered by {_named(covering)}, in the closed space under the box" + (f". {CODE}" if electric else ""),
        source="geometry",
        mend=(moved, "leave an open bay there"),
        brief=obstacle.title,
        mended_at=_uncovered_at(covering),
    )


def _screwed_to(
    met: Sequence[Part], block: Box, obstacle: Obstacle, rules: Mapping[str, Rules]
) -> tuple[Part | None, list[str]]:
    """The part that is not cut out because plates of hinges are screwed to it there, and these; None without any."""
    for part in met:
        told = rules.get(part.carcass)
        if told is not None and told.cutouts == "yes":
            rows = needed_in(part, hole_for(part, block, obstacle, told.cutout_margin))
            # What they share their holes with is told where they are bored.
            if plates := [row.place.partition(" in ")[0] for row in rows]:
                return part, plates
    return None, []


def _narrow_beside(through: Sequence[Part], obstacle: Obstacle, notation: Notation) -> str:
    """The narrow strips and necks that are left of parts beside what is cut out of them, as clauses; or empty."""
    told = []
    for part in through:
        for cut in _cut_for(part, obstacle):
            left: dict[Side, Fraction] = {
                "length-": cut.x,
                "length+": part.length - cut.x - cut.length,
                "width-": cut.y,
                "width+": part.width - cut.y - cut.width,
            }
            told += [
                f"; {notation.with_unit(wide)} is left of {part.name} {part.carcass} at its {part.edge_name(side)}: "
                "saw it away too, for it breaks off"
                for side, wide in left.items()
                if ZERO < wide < SLIVER
            ]
            told += [
                f"; {notation.with_unit(wide)} is left of {part.name} {part.carcass} between that and the {other.kind} "
                f"{'' if other.place.startswith(FOR) else 'at the '}{other.place}: saw it away too, for it breaks off"
                for other in part.machining
                if other.depth is None and ZERO < (wide := _apart(cut, other)) < SLIVER
            ]
            told += [
                f"; of {part.name} {part.carcass} only {notation.text(whole - cut_away)} of "
                f"{notation.with_unit(whole)} is left there: carry it flat, and brace it until the carcass stands"
                for whole, cut_away in ((part.width, cut.width), (part.length, cut.length))
                if ZERO < whole - cut_away < LEAST_LEFT * whole
            ]
    return "".join(told)


def _apart(one: Machining, other: Machining) -> Fraction:
    """How wide the strip is between two cuts that are beside each other, mm; nothing where they are not."""
    along = max(one.x, other.x) - min(one.x + one.length, other.x + other.length)
    across = max(one.y, other.y) - min(one.y + one.width, other.y + other.width)
    # Where they are apart both ways no strip is between them, but a corner to a corner.
    return max(along, across) if min(along, across) < 0 else ZERO


def _without_pins(parts: Sequence[Part], obstacle: Obstacle, rules: Mapping[str, Rules]) -> str:
    """The adjustable shelves of which a corner lies on no pin for what is cut out there, as a clause; or empty."""
    shelves = [part for part in parts if part.role == "loose shelf" and part.carcass in rules]
    uprights = [part for part in parts if part.role in ("side", "divider")]
    lost: dict[str, bool] = {}
    for shelf in shelves:
        for upright in uprights:
            for row in ("front", "rear"):
                found = _pin_lost(shelf, upright, row, obstacle, rules[shelf.carcass])
                if found is not None:
                    lost[shelf.name] = lost.get(shelf.name, True) and found
    if not lost:
        return ""
    several = len(lost) > 1
    have, them = ("have", "them") if several else ("has", "it")
    elsewhere = f"put {them} on other holes" if all(lost.values()) else f"leave {them} out there"
    return f"; {' and '.join(lost)} {have} no pin at that corner: {elsewhere}, or make {them} fixed"


def _pin_lost(shelf: Part, upright: Part, row: str, obstacle: Obstacle, rules: Rules) -> bool | None:
    """Whether there are other holes for a shelf's corner that has lost its pin at an upright; None where it has not."""
    at_left = upright.box.high[0] <= shelf.box.low[0]
    apart = shelf.box.low[0] - upright.box.high[0] if at_left else upright.box.low[0] - shelf.box.high[0]
    if upright.carcass != shelf.carcass or not ZERO <= apart < rules.pin_depth:
        return None
    of_shelf, of_upright = _cut_for(shelf, obstacle), _cut_for(upright, obstacle)
    if not of_shelf and not of_upright:
        return None
    face = "high" if at_left else "low"
    own = [holes for holes in upright.holes if holes.face == face and holes.place == f"{PINS}, {row} row"]
    centres = [(y, z) for holes in own for _, y, z in places(upright, holes)]
    up = shelf.box.low[2] - rules.pin_diameter / 2
    lines = {y for y, _ in centres}
    end = shelf.box.low[0] if at_left else shelf.box.high[0]
    for cut in (block_of(shelf, cut) for cut in of_shelf):
        if cut.low[0] <= end <= cut.high[0] and any(cut.low[1] < y < cut.high[1] for y in lines):
            return any(z != up for _, z in centres)
    if any(z == up for _, z in centres):
        return None
    free = rules.pin_diameter / 2 + WOOD
    for cut in (block_of(upright, cut) for cut in of_upright):
        beside = not lines or any(cut.low[1] - free < y < cut.high[1] + free for y in lines)
        if beside and cut.low[2] - free < up < cut.high[2] + free:
            return bool(centres)
    return None


def _named(parts: Sequence[Part]) -> str:
    return ", ".join(dict.fromkeys(f"{part.name} {part.carcass}" for part in parts))


def _lies_across(part: Part, block: Box, cut: Part) -> bool:
    """Whether something in the same carcass lies or stands close before the hole that a part has for an obstacle."""
    low, high, through = list(block.low), list(block.high), "xyz".index(cut.thickness_axis)
    low[through], high[through] = cut.box.low[through] - NEAR, cut.box.high[through] + NEAR
    common = part.box.common(Box((low[0], low[1], low[2]), (high[0], high[1], high[2])))
    return part.carcass == cut.carcass and min(common) > 0


def _is_in_its_place(part: Part, block: Box, electric: bool) -> bool:
    """Whether a part cannot be where it is: what sticks out of the wall is there already.

    An outlet or a switch may be set deeper by who may do that, but not for a drawer.
    """
    if electric and not part.role.startswith("drawer"):
        return False
    return any(min(box.common(block)) > 0 for box in solid(part))


def _uncovered_at(met: Sequence[Part]) -> Path:
    """What would have to be changed or moved to uncover it: the carcass whose back covers it, or whatever does."""
    part = next((part for part in met if part.role == "back"), met[0])
    return ("tops" if part.role == "worktop" else "row", part.carcass)


def _in_front(part: Part, spots: Sequence[tuple[Box, Fraction]], obstacle: Obstacle) -> bool:
    """Whether anything of a part stands against the obstacle, beside the wall that bears it."""
    # Nobody reaches behind these; a back that ends beside a pipe on a side wall does not cover it.
    if part.role not in (("back",) if obstacle.wall == "back" else ("side", "end panel")):
        spots = [(spots[0][0], ZERO)]
    return _stands_before(part, spots, obstacle)


def _stands_before(part: Part, spots: Sequence[tuple[Box, Fraction]], obstacle: Obstacle) -> bool:
    """Whether anything of a part is at one of these, or so far before it, mm, as is told with it."""
    flat: Axis = "y" if obstacle.wall == "back" else "x"
    return any(
        covers(part.box, spot, flat, near) and any(covers(box, spot, flat, near) for box in solid(part))
        for spot, near in spots
    )


def _walls_in(part: Part, block: Box, obstacle: Obstacle, opened: bool) -> bool:
    """Whether a filler closes the gap in which an obstacle is: nobody reaches it there any more.

    `opened`: a side or an end panel beside the gap is cut out for it.
    """
    if part.role != "filler" or (opened and obstacle.wall != "back"):
        return False
    # One at a side wall is in the gap at that wall, however little it sticks out.
    near, filler = ZERO if obstacle.wall == "back" else NEAR, part.box
    at_its_height = filler.low[2] < block.high[2] and block.low[2] < filler.high[2]
    beside = filler.low[0] - near < block.high[0] and block.low[0] < filler.high[0] + near
    return at_its_height and beside and block.high[1] > filler.low[1]
