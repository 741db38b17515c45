"""Whether doors hang well and open far enough."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction

from core.checks.finding import Finding
from core.construction.hinges import FROM_END, MOST_EDGE
from core.construction.part import Box, Part
from core.construction.row import Standing
from core.construction.rule_book import Rules
from core.construction.rules import usual
from core.envelope import Envelope
from core.lengths import Notation, mm_number
from core.space import Obstacle

HANDLE = Fraction(40)
"""mm that a handle and the fingers behind it want beside an open door; common practice, no source."""


HANDLE_FROM_EDGE = Fraction(80)
"""mm from a door's free edge to the far end of its handle; common practice, no source."""
CUP_EDGE = (Fraction(3), MOST_EDGE)
"""mm from the edge of a door to a hinge's cup; trade practice."""
PLATE_SETBACK = (Fraction(20), Fraction(50))
"""mm from the front to the screws of a plate, 37 in the 32 mm system; the limits are common practice, no source."""
INSET_GAP = Fraction(6)
"""mm round an inset door, over which a hinge for inset doors does not reach; common practice, no source."""
MOST_OVER_A_STILE = Fraction(38)
"""mm, 1 1/2 in, that hinges before a face frame reach at most from the opening to the door's edge; from memory."""
WORTH_TELLING = Fraction(300)
"""mm; of doors further from a wall nothing is said."""


def check_doors(
    parts: Iterable[Part],
    standing: Sequence[Standing],
    envelope: Envelope,
    air: Mapping[str, Fraction],
    on_walls: Sequence[tuple[Obstacle, Box]],
    rules: Mapping[str, Rules],
    notation: Notation,
) -> list[Finding]:
    """Every door: its hinges further apart than it is wide, and room for its handle at what stands beside it.

    `on_walls`: each obstacle with its block in the room.
    """
    parts = tuple(parts)
    walls = {fit.wall for fit in envelope.sides}
    right = envelope.width or max((place.right for place in standing), default=Fraction(0))
    names = {part.carcass: f"top {part.carcass}" for part in parts if part.role == "worktop"}
    names |= {place.item.id: f"{place.item.kind} {place.item.id}" for place in standing}
    found = []
    for door in (part for part in parts if part.role == "door"):
        beside = [
            (away, names[other.carcass], f"beside {names[other.carcass]}", ", which stands out before it")
            for other in parts
            if other.carcass in names
            and other.carcass != door.carcass
            and (away := _jutting(door, other.box)) is not None
        ]
        beside += [
            (away, f"the {obstacle.title}", f"beside the {obstacle.title}", f" on the {obstacle.wall} wall")
            for obstacle, block in on_walls
            # What sticks out less than the clearance is as near as its wall.
            if block.low[0] < right and block.high[0] > 0 and (away := _jutting(door, block)) is not None
        ]
        if door.hand == "left" and "left" in walls:
            beside.append((door.box.low[0] + air["left"], "the wall", "at the left wall", ""))
        if door.hand == "right" and "right" in walls:
            beside.append((right + air["right"] - door.box.high[0], "the wall", "at the right wall", ""))
        found.append(_hinges(door, rules[door.carcass], notation))
        found += _over_its_stile(door, parts, notation)
        if beside and min(beside)[0] < WORTH_TELLING:
            found.append(_beside(door, *min(beside), notation))
    hung = dict.fromkeys(part.carcass for part in parts if part.role == "door")
    return [*found, *(one for carcass in hung for one in _cups(carcass, rules[carcass], notation))]


def _jutting(door: Part, other: Box) -> Fraction | None:
    """How far from a door, on its hinges' side, something stands before its carcass that its handle could meet, mm.

    Opened to a right angle the handle is nearly as far before the box as the door is wide.
    """
    one = door.box
    far = one.low[1] - one.span("x")
    at_its_height = min(one.high[2], other.high[2]) > max(one.low[2], other.low[2])
    reached = other.low[1] < one.low[1] and other.low[1] <= far + HANDLE_FROM_EDGE and other.high[1] > far
    away = other.low[0] - one.high[0] if door.hand == "right" else one.low[0] - other.high[0]
    return away if away >= 0 and at_its_height and reached else None


def is_one_of_a_pair(door: Part) -> bool:
    """Whether another door closes the same opening, so that this one cannot change sides."""
    return door.place.endswith((" left", " right"))


def _hinges(door: Part, rules: Rules, notation: Notation) -> Finding:
    """Common practice: what is wider than its hinges are apart hangs down at the other side."""
    heights = [x if door.length_axis == "z" else y for row in door.holes for x, y in row.centres()]
    apart, wide = max(heights) - min(heights), door.box.span("x")
    ok = apart > wide
    pair = () if is_one_of_a_pair(door) else ("a pair of doors",)
    less = ("hinge from end less",) if rules.hinge_from_end > FROM_END else ()
    return Finding(
        "door",
        f"{door.name} {door.carcass}, {notation.with_unit(wide)} wide",
        "ok" if ok else "warn",
        f"{len(heights)} hinges, the outer ones {notation.with_unit(apart)} apart"
        + ("" if ok else ": less than it is wide, so it hangs down with time"),
        float(mm_number(apart)),
        float(mm_number(wide)),
        "mm",
        "distance of the outer hinges > width of the door",
        "a hinge maker's guide, trade practice",
        () if ok else (*pair, *less, "a flap that is hinged at its long edge"),
        f"{door.name.partition(',')[0]} {door.carcass}",
        () if ok else ("row", door.carcass),
    )


def _over_its_stile(door: Part, parts: Sequence[Part], notation: Notation) -> list[Finding]:
    """A warning for a door that laps so far over the stile of a face frame that no usual hinge reaches."""
    own = (part.box for part in parts if part.role == "stile" and part.carcass == door.carcass)
    # An inset door hangs between them.
    stiles = [box for box in own if box.low[1] >= door.box.high[1]]
    left, right = door.box.low[0], door.box.high[0]
    if door.hand == "left":
        laps = [stile.high[0] - left for stile in stiles if stile.low[0] <= left < stile.high[0]]
    else:
        laps = [right - stile.low[0] for stile in stiles if stile.low[0] < right <= stile.high[0]]
    if not laps or laps[0] <= MOST_OVER_A_STILE:
        return []
    return [
        Finding(
            "door",
            f"{door.name} {door.carcass}, over its stile",
            "warn",
            f"it laps {notation.with_unit(laps[0])} over the stile that it hangs on, and hinges before a face frame "
            f"reach {notation.at_most(MOST_OVER_A_STILE)} at most",
            float(mm_number(laps[0])),
            float(MOST_OVER_A_STILE),
            "mm",
            source="from memory; the maker's instructions stand before it",
            mend=("a narrower board as face frame", "fronts half overlay or inset"),
            brief=f"{door.name.partition(',')[0]} {door.carcass}",
            mended_at=("row", door.carcass, "rules", "face_frame"),
        )
    ]


def _cups(carcass: str, rules: Rules, notation: Notation) -> list[Finding]:
    """Where makers of hinges would have cups, plates and gaps otherwise."""
    say, unit = notation.with_unit, notation.unit
    wrong: dict[tuple[str, ...], str] = {}
    if not CUP_EDGE[0] <= rules.cup_edge <= CUP_EDGE[1]:
        wrong[(f"cup edge {usual('cup_edge', unit)}",)] = (
            f"a cup {say(rules.cup_edge)} from the edge, where makers ask for 3 to 6 mm, 8 at most: with less it "
            "breaks out, with more the hinge does not reach"
        )
    if rules.hinge_from_end < FROM_END:
        # A low door has no room for so much: there the construction itself asks for less.
        wrong[f"hinge from end {notation.at_least(FROM_END)} or more", "a higher door where that has no room"] = (
            f"a hinge wanted {say(rules.hinge_from_end)} from an end, where 80 mm or more is usual"
        )
    if not rules.face_frame and not PLATE_SETBACK[0] <= rules.plate_setback <= PLATE_SETBACK[1]:
        wrong[(f"plate setback {usual('plate_setback', unit)}",)] = (
            f"plates {say(rules.plate_setback)} behind the front, where makers ask for about 37 mm: the hinge does "
            "not reach"
        )
    if rules.fronts == "inset" and rules.front_gap > INSET_GAP:
        wrong[(f"front gap {usual('front_gap', unit)}",)] = (
            f"gaps of {say(rules.front_gap)} round inset doors, where 2 to 3 mm is usual: the hinge does not reach"
        )
    return [
        Finding(
            "door",
            f"hinges of carcass {carcass}",
            "warn",
            sentence,
            source="trade practice; the maker's instructions stand before it",
            mend=mend,
            brief=f"hinges {carcass}",
            mended_at=("row", carcass),
        )
        for mend, sentence in wrong.items()
    ]


def _beside(door: Part, beside: Fraction, meets: str, where: str, more: str, notation: Notation) -> Finding:
    """Room for the handle of a door at what stands beside it: what that handle `meets`, `where` the door is."""
    say, ok = notation.with_unit, beside >= HANDLE
    other_side = () if is_one_of_a_pair(door) else ("hinges on its other side",)
    return Finding(
        "door",
        f"{door.name} {door.carcass} {where}",
        "ok" if ok else "warn",
        f"{say(beside)} from {meets}{more}"
        + ("" if ok else f": its handle meets {meets} before it stands at a right angle"),
        float(mm_number(beside)),
        float(HANDLE),
        "mm",
        source="common practice, no source",
        mend=() if ok else (f"a filler {say(HANDLE)} wide or more between", *other_side),
        brief=f"{door.name.partition(',')[0]} {door.carcass}",
        mended_at=() if ok else ("row", door.carcass),
    )
