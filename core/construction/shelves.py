"""Shelves that can be moved, and the rows of holes for their pins.

All holes of a carcass are on one grid up from its bottom, so that uprights agree and one jig does
for all of them. A shelf lies on the top of its pins; it is drawn at the hole next below where it would stand evenly.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, isqrt
from typing import Literal

from core.construction.bench import Bench
from core.construction.goods import ZERO, Goods
from core.construction.inside import Inside, Room, Span, evenly, open_together, or_back_forward
from core.construction.part import Face, Holes, Part
from core.construction.rule_book import Rules
from core.mistakes import Mistake

PINS = "shelf pins"
FRONT_PINS = f"{PINS}, front row"


def add_adjustable(
    bench: Bench, room: Room, rooms: Sequence[Room], rules: Rules, inside: Inside, board: tuple[Fraction, Fraction]
) -> None:
    """The adjustable shelves of an opening, one of the carcass's `rooms`, and their holes in both uprights.

    `board`: up to which height a baseboard keeps everything before how much of the depth, mm. Where most of the
    opening is above it the shelves are, too; in a lower one they are all shallower.

    Raises Mistake where no holes fit, or they would meet or come through.
    """
    count = room.opening.adjustable_shelves
    if not count:
        return
    where = f"bay {room.bay}" + (f", opening {room.number}" if room.of > 1 else "")
    say, t = bench.goods.say, bench.goods.of(rules.shelf_panel)
    if room.opening.front == "drawer":
        raise Mistake("a drawer and adjustable shelves are in each other's place; take the shelves away", where)
    _check_pins(rules, bench.goods, where)
    (low, high), depth = _free(room, inside), inside.depth
    if low < board[0]:
        if 2 * board[0] <= low + high:
            low = board[0]
        else:
            depth = min(depth, board[1])
    free = (low, high)
    evenly_spaced = evenly(count, t, free, say, where)
    column = _column(free, inside.z[0], count, t, rules)
    if column is None:
        shelves = "1 adjustable shelf wants" if count == 1 else f"{count} adjustable shelves want"
        mend = ", or make pin pitch less" if rules.pin_pitch > t and count > 1 else ""
        raise Mistake(
            f"{shelves} {count} pair{'' if count == 1 else 's'} of holes above each other, and "
            f"{say(free[1] - free[0])} has no room for that; take a shelf away{mend}",
            where,
        )
    _check_tilted(bench, room, rooms, rules, where)
    rows = {"front": room.inset + rules.pin_setback, "rear": depth - rules.pin_setback}
    if rows["rear"] - rows["front"] < rules.pin_diameter or rows["rear"] > depth:
        most = (depth - room.inset - rules.pin_diameter) / 2
        mend = f"make pin setback {bench.goods.at_most(most)} or less" if most > 0 else "make the carcass deeper"
        raise Mistake(
            f"two rows of holes {say(rules.pin_setback)} from front and rear do not fit in {say(depth - room.inset)}; "
            f"{mend}{or_back_forward(rules, bench.goods)}",
            where,
        )
    front, rest, least = room.front_line + rules.shelf_setback, rules.pin_diameter / 2, 0
    if front + rest > rows["front"]:
        mend = f"shelf setback {bench.goods.at_most(rows['front'] - rest - room.front_line)} or less"
        if rules.pin_setback < bench.goods.usual_size("pin setback"):
            mend = f"pin setback {bench.goods.at_least(front + rest - room.inset)} or more"
        elif room.inset and rules.front_gap > rules.shelf_setback:
            mend = f"front gap less, {bench.goods.usual('front gap')} is usual"
        raise Mistake(
            f"an adjustable shelf that begins {say(front - room.inset)} behind the front does not lie on its front "
            f"pins, {say(rules.pin_setback)} behind it; make {mend}",
            where,
        )
    if rules.pin_depth <= 0:
        raise Mistake(
            f"holes for pins without a depth hold none; make pin depth {bench.goods.usual('pin depth')}",
            where,
        )
    if 2 * rules.shelf_play >= rules.pin_depth:
        raise Mistake(
            f"an adjustable shelf with {say(rules.shelf_play)} of play at each end slides off its pins, which stand "
            f"out about as far as they go in, {say(rules.pin_depth)}; make shelf play less than "
            f"{bench.goods.at_most(rules.pin_depth / 2)}, or pin depth more",
            where,
        )
    for n, wanted in enumerate(evenly_spaced, start=1):
        # The hole next below, but never one that a shelf below or above needs.
        below = int((wanted - rest - column.first) // rules.pin_pitch)
        hole = max(least, min(below, column.holes - 1 - (count - n) * column.step))
        least = hole + column.step
        up = column.first + hole * rules.pin_pitch + rest
        number = 1 + sum(1 for place in bench.parts if place.startswith(f"loose shelf bay {room.bay} no "))
        place = bench.panel(
            "loose shelf",
            f"bay {room.bay} no {number}",
            f"Adjustable shelf {number}, bay {room.bay}",
            rules.shelf_panel,
            (room.x[0] + rules.shelf_play, room.x[1] - rules.shelf_play),
            (front, depth),
            (up, up + t),
            banded=True,
        )
        bench.join(place, *room.uprights, play=rules.shelf_play)
    faces: tuple[Face, Face] = ("high", "low")
    for upright, face in zip(room.uprights, faces, strict=True):
        for row, y in rows.items():
            _bore(bench, upright, face, row, y, column, rules)


def _check_pins(rules: Rules, goods: Goods, where: str) -> None:
    """Raises Mistake where there are no pins of such a diameter, or their holes meet each other."""
    say, thick = goods.say, rules.pin_diameter
    if not thick:
        raise Mistake(f"pins {say(thick)} thick hold nothing; make pin diameter {goods.usual('pin diameter')}", where)
    if rules.pin_pitch <= thick:
        raise Mistake(
            f"holes {say(thick)} in diameter meet where they are {say(rules.pin_pitch)} from one to the next; pin "
            f"diameter {goods.usual('pin diameter')} and pin pitch {goods.usual('pin pitch')} are usual",
            where,
        )
    if rules.pin_margin < thick / 2:
        raise Mistake(
            f"a pin margin of {say(rules.pin_margin)} is less than half a hole {say(thick)} in diameter; make pin "
            f"margin {goods.at_least(thick / 2)} or more",
            where,
        )


def _check_tilted(bench: Bench, room: Room, rooms: Sequence[Room], rules: Rules, where: str) -> None:
    """Raises Mistake where an adjustable shelf cannot be tilted in through a face frame."""
    say, t = bench.goods.say, bench.goods.of(rules.shelf_panel)
    wide, open_wide = room.x[1] - room.x[0] - 2 * rules.shelf_play, room.open_x[1] - room.open_x[0]
    together = open_together(room, rooms)
    open_high = together[-1].open_z[1] - together[0].open_z[0]
    if wide <= open_wide or (needed := _tilted(wide, t, open_wide)) <= open_high:
        return
    # What nothing parts is higher only where all of the bay is.
    mend = f"the carcass {bench.goods.at_least(needed - open_high)} higher"
    if len(together) < room.of:
        mend = f"the opening {bench.goods.at_least(room.z[1] - room.z[0] + needed - open_high)} high"
    raise Mistake(
        f"an adjustable shelf {say(wide)} long cannot be tilted in through {say(open_wide)} x {say(open_high)} of "
        f"the face frame; make {mend}, or the shelf fixed",
        where,
    )


def _tilted(long: Fraction, t: Fraction, opening: Fraction) -> Fraction:
    """How high a board of this length and thickness is, tilted so far that it goes into an opening less long, mm.

    By an angle a for which long cos a + t sin a is the opening, it is long sin a + t cos a high. The root is rounded
    up to a hundredth.
    """
    diagonal = long**2 + t**2
    root = Fraction(isqrt(ceil((diagonal - opening**2) * 10_000)) + 1, 100)
    return (2 * long * t * opening + (long**2 - t**2) * root) / diagonal


def _free(room: Room, inside: Inside) -> Span:
    """The height of the opening in which no nailer is in the way of a shelf, mm."""
    low, high = room.z
    for start, end in inside.nailers():
        if not (start < high and low < end):
            continue
        if end == inside.z[1]:
            high = max(start, low)
        else:
            # Nor under one that stands over a baseboard.
            low = min(end, high)
    return low, high


@dataclass(frozen=True, slots=True)
class _Column:
    """Holes above each other: the height of the first, how many, and how many apart two shelves lie at least."""

    first: Fraction
    holes: int
    step: int


def _column(free: Span, floor: Fraction, count: int, t: Fraction, rules: Rules) -> _Column | None:
    """As many holes as the margins leave; in a low opening as many as the shelves need, about its middle."""
    pitch, margin = rules.pin_pitch, rules.pin_margin
    step = int(t // pitch) + 1
    need = (count - 1) * step + 1
    # On the grid, whose first hole is `margin` over the bottom.
    first = floor + margin + ceil((free[0] - floor) / pitch) * pitch
    holes = int((free[1] - margin - first) // pitch) + 1
    if holes >= need:
        return _Column(first, holes, step)
    half, reach = rules.pin_diameter / 2, (need - 1) * pitch
    middle = free[0] + (free[1] - free[0] - reach - half - t) / 2
    on_grid = first + round((middle - first) / pitch) * pitch
    # On the grid if that leaves room for it, else in the very middle.
    found = on_grid if free[0] + half < on_grid < free[1] - reach - half - t else middle
    return _Column(found, need, step) if found > free[0] + half else None


def _bore(bench: Bench, upright: str, face: Face, row: str, y: Fraction, column: _Column, rules: Rules) -> None:
    part = bench.parts[upright]
    say = bench.goods.say
    check_bored(part, rules.pin_depth, "pin depth", bench)
    behind = any(row.face != face and row.place.startswith(PINS) for row in part.holes)
    if behind and 2 * rules.pin_depth >= part.thickness:
        raise Mistake(
            f"holes {say(rules.pin_depth)} deep from both faces of {part.name.lower()} would meet in "
            f"{say(part.thickness)}; make pin depth less than {bench.goods.at_most(part.thickness / 2)}"
        )
    along: Literal["length", "width"] = "length" if part.length_axis == "z" else "width"
    z, y = column.first - part.box.low[2], y - part.box.low[1]
    at = (z, y) if along == "length" else (y, z)
    bench.bore(
        upright,
        Holes(
            f"{PINS}, {row} row",
            *at,
            column.holes,
            rules.pin_pitch,
            along,
            rules.pin_diameter,
            rules.pin_depth,
            face,
        ),
    )


def check_bored(part: Part, depth: Fraction, rule: str, bench: Bench) -> None:
    """Raises Mistake where a hole so deep, mm, comes through, or is none; `rule` says how deep."""
    say = bench.goods.say
    if depth <= ZERO:
        least = bench.goods.usual(rule)
        raise Mistake(f"holes {say(depth)} deep in the {part.name.lower()} hold nothing; make {rule} {least}")
    if depth >= part.thickness:
        raise Mistake(
            f"holes {say(depth)} deep come through the {part.name.lower()}, {say(part.thickness)} thick; "
            f"make {rule} less than {bench.goods.at_most(part.thickness)}"
        )
