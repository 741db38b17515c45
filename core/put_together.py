"""What was built, as a whole: how its parts meet, what of it moves, what it should measure, how it goes together."""

from __future__ import annotations

from collections.abc import Sequence

from core.construction.bench import Built, Slide, place_of
from core.construction.codes import place_key
from core.construction.part import Part
from core.construction.row import Standing
from core.construction.rule_book import Rules
from core.construction.tops import top_joints
from core.dry_fit import Asked, Coming, Meeting, Moving, Pinned, Sliding, Swinging, order_of_assembly
from core.fastening import FRAME, pinned_in
from core.lengths import Unit
from core.mistakes import Mistake

BOX = ("side", "bottom", "top", "rail", "divider", "shelf", "nailer", "kick", "back", "stile", "frame rail")
"""Roles of what a carcass itself is made of, in the order in which it goes together where nothing forbids it."""
DRAWER = ("drawer side", "drawer end", "drawer bottom")


def meetings_of(built: Sequence[Built]) -> tuple[Meeting, ...]:
    """The joints of everything built, and every top on the sides that carry it."""
    meetings = []
    everywhere = {place_key(part): part for one in built for part in one.parts}
    for one in built:
        # A joint with something else built says whose part it is.
        by_place = everywhere | {place_of(part): part for part in one.parts}
        meetings += [
            Meeting(by_place[joint.one], by_place[joint.other], joint.play)
            for joint in one.joints
            if joint.other in by_place
        ]
    placed = tuple(part for one in built for part in one.parts)
    tops = tuple(part for part in placed if part.role == "worktop")
    return (*meetings, *(Meeting(top, under) for top, under in top_joints(tops, placed)))


def moving_in(built: Sequence[Built]) -> list[Moving]:
    """Drawers and doors."""
    found: list[Moving] = []
    for one in built:
        by_place = {place_of(part): part for part in one.parts}
        for mover in one.movers:
            if isinstance(mover, Slide):
                found.append(Sliding(tuple(by_place[place] for place in mover.parts), mover.travel))
            else:
                found.append(Swinging(by_place[mover.part]))
    return found


def asked_of(built: Sequence[Built], standing: Sequence[Standing]) -> list[Asked]:
    """What each carcass should measure; its height without a face frame, which may hang below the bottom."""
    found = []
    sizes = {place.item.id: place.outside for place in standing}
    for one in built:
        parts = tuple(part for part in one.parts if part.role in BOX)
        if parts and parts[0].carcass in sizes:
            outside = sizes[parts[0].carcass]
            box = tuple(part for part in parts if part.role not in FRAME)
            found += [Asked(parts, (outside.width, outside.depth, None)), Asked(box, (None, None, outside.height))]
    return found


def assembly_of(one: Built, rules: Rules | None = None, unit: Unit = "mm") -> tuple[Coming, ...]:
    """The order in which a carcass goes together, without what moves in it. Raises Mistake where there is none."""
    for mover in one.movers:
        if isinstance(mover, Slide):
            drawer = [part for part in one.parts if part.role in DRAWER and place_of(part) in mover.parts]
            _in_order(sorted(drawer, key=lambda part: DRAWER.index(part.role)))
    pinned = pinned_in(meetings_of([one]), rules, unit)
    # A face frame is put together by itself, and comes as a whole.
    box = [part for part in one.parts if part.role in BOX and part.role not in FRAME]
    return _in_order(sorted(box, key=_turn), pinned)


def _turn(part: Part) -> tuple[bool, bool, int]:
    """Of a part in the order of assembly: on the left side everything is stood, and the right side closes the box."""
    late = part.role in ("nailer", "kick", "back")
    return late, (part.role, part.place) == ("side", "right"), BOX.index(part.role)


def _in_order(parts: Sequence[Part], pinned: Sequence[Pinned] = ()) -> tuple[Coming, ...]:
    order, locked = order_of_assembly(parts, pinned)
    if locked:
        names = ", ".join(part.name.lower() for part in locked)
        raise Mistake(
            f"these cannot be got to their places one after another: {names}; make some of their joints butt, "
            "or the dadoes through"
        )
    return order
