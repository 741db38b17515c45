"""From readings of a space to the largest true box that can be put there from the front.

The box slides in from the front, plumb and square to the back wall's left corner, so at every
level and on every line front to back it must lie between the two side walls. With straight
walls the corners decide: the box reaches from the rightmost point of the left wall to the
leftmost point of the right one. Two walls that lean the same way narrow it although every
width reads the same, and an alcove wider at the back cannot be filled from the front.

Lengths are exact fractions of a millimetre, as everywhere.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from fractions import Fraction

from core.mistakes import Mistake
from core.space import Baseboard, Space, Wall

LEVELS = ("floor", "middle", "top")
LINES = ("front", "back")
ZERO = Fraction(0)
Read = Callable[[str, str], Fraction]
"""Reads a size as typed; the second text says where it stands, for the Mistake."""


@dataclass(frozen=True, slots=True)
class SideFit:
    """How one side wall runs: what the gap beside a plumb and square box varies by, and what to scribe or fill."""

    wall: Wall
    varies: Fraction
    """Widest gap less narrowest, clearance apart, mm."""
    widest_gap: Fraction
    """Clearance and all, mm: what a filler or a scribe must cover."""


@dataclass(frozen=True, slots=True)
class Envelope:
    """The true box, clearances taken off, mm; None where no reading tells. `notes` are for the person, in words."""

    width: Fraction | None
    depth: Fraction | None
    height: Fraction | None
    sides: tuple[SideFit, ...]
    out_of_square: Fraction | None
    """How far the left wall strays sideways from front to back, mm, right positive; None without both diagonals."""
    baseboard: tuple[Fraction, Fraction] | None
    """Height and thickness of the baseboard at the back, mm."""
    left: Fraction
    """Where the box begins, to the right of the left wall's front foot, mm."""
    notes: tuple[str, ...]


def find_envelope(space: Space, read: Read) -> Envelope:
    """What can stand in the space. `read` turns a size as typed into mm and raises Mistake where it cannot."""
    readings = [
        (r, _positive(read(r.size, f"reading {n}, {r.of} at the {r.level}"), f"reading {n}"))
        for n, r in enumerate(space.readings, start=1)
    ]
    boards = {b.wall: _baseboard(b, read) for b in space.baseboards}
    heights = [size for r, size in readings if r.of == "height"]
    reach = read(space.up_to, "up to") if space.up_to else min(heights, default=None)
    leans = _leans_at_top(space, reach, read)
    widths = {
        (level, line): min(sizes)
        for level in LEVELS
        for line in LINES
        if (sizes := [s for r, s in readings if r.of == "width" and r.level == level and r.at in (line, "middle")])
    }
    skew, notes = _skew(widths, [(r.at, s) for r, s in readings if r.of == "diagonal"])
    width: Fraction | None = None
    sides: tuple[SideFit, ...] = ()
    begins = read(space.clearance.left, "clearance, left")
    if widths:
        left, right = _side_walls(widths, leans, skew or ZERO)
        width, sides, begins = _between(left, right, space, boards, read)
        notes += _what_was_assumed(widths, leans, space)
    return Envelope(
        width=width,
        depth=_depth(space, [(r.level, s) for r, s in readings if r.of == "depth"], leans, read),
        height=_height(space, heights, read),
        sides=sides,
        out_of_square=skew,
        baseboard=boards.get("back"),
        left=begins,
        notes=tuple(notes),
    )


def _positive(size: Fraction, where: str) -> Fraction:
    if size <= 0:
        raise Mistake("a reading of a space is more than nothing", where)
    return size


def _baseboard(board: Baseboard, read: Read) -> tuple[Fraction, Fraction]:
    where = f"baseboard on the {board.wall} wall"
    return read(board.height, f"{where}, height"), read(board.thickness, f"{where}, thickness")


def _leans_at_top(space: Space, reach: Fraction | None, read: Read) -> dict[Wall, Fraction]:
    """How far each measured wall comes into the room at the top of what counts; straight walls, so in proportion."""
    leans: dict[Wall, Fraction] = {}
    for lean in space.leans:
        where = f"lean of the {lean.wall} wall"
        over = _positive(read(lean.over, f"{where}, over"), f"{where}, over")
        leans[lean.wall] = read(lean.into_room, where) * ((reach or over) / over)
    return leans


def _share_of_height(level: str) -> Fraction:
    return Fraction(LEVELS.index(level), 2)


def _skew(
    widths: dict[tuple[str, str], Fraction], diagonals: list[tuple[str, Fraction]]
) -> tuple[Fraction | None, list[str]]:
    """Where the back left corner lies, to the right of straight behind the front left one.

    With front width f, back width b, skew s and depth d: left² = (s + b)² + d² and
    right² = (f - s)² + d², so left² - right² = (f + b)(2 s + b - f), whatever d is.
    """
    front, back = widths.get(("floor", "front")), widths.get(("floor", "back"))
    found = dict(diagonals)
    if front is None or back is None or "left" not in found or "right" not in found:
        return None, ["No pair of diagonals with a front and a back width: the plan is taken as square."]
    return ((found["left"] ** 2 - found["right"] ** 2) / (front + back) - back + front) / 2, []


def _side_walls(
    widths: dict[tuple[str, str], Fraction], leans: dict[Wall, Fraction], skew: Fraction
) -> tuple[dict[tuple[str, str], Fraction], dict[tuple[str, str], Fraction]]:
    """The two side walls at each level and line, as x from the front left corner at the floor.

    Where a width and two leans say different things the narrower is believed.
    """
    left: dict[tuple[str, str], Fraction] = {}
    right: dict[tuple[str, str], Fraction] = {}
    for line in LINES:
        at_floor = ZERO if line == "front" else skew
        on_line = [widths[key] for key in ((level, line) for level in LEVELS) if key in widths]
        foot = widths.get(("floor", line), min(on_line, default=min(widths.values())))
        for level in LEVELS:
            up = _share_of_height(level)
            wide = widths.get((level, line))
            left_x = at_floor + leans.get("left", ZERO) * up
            right_x = at_floor + foot - leans.get("right", ZERO) * up
            if wide is not None and "left" not in leans and "right" in leans:
                left_x = max(left_x, right_x - wide)
            elif wide is not None:
                right_x = min(right_x, left_x + wide) if "right" in leans else left_x + wide
            left[level, line], right[level, line] = left_x, right_x
    return left, right


def _between(
    left: dict[tuple[str, str], Fraction],
    right: dict[tuple[str, str], Fraction],
    space: Space,
    boards: dict[Wall, tuple[Fraction, Fraction]],
    read: Read,
) -> tuple[Fraction, tuple[SideFit, ...], Fraction]:
    """Width of the box between the walls, how each wall runs beside it, and where the box begins.

    A side baseboard counts at the floor.
    """

    def with_board(wall: Wall, xs: dict[tuple[str, str], Fraction], towards: int) -> list[Fraction]:
        thickness = boards.get(wall, (ZERO, ZERO))[1]
        at_floor = [x + towards * thickness for (level, _), x in xs.items() if level == "floor"]
        return [*xs.values(), *at_floor]

    lefts, rights = with_board("left", left, 1), with_board("right", right, -1)
    air_left = read(space.clearance.left, "clearance, left")
    air_right = read(space.clearance.right, "clearance, right")
    fits: list[SideFit] = []
    if not space.open_left:
        varies = max(lefts) - min(lefts)
        fits.append(SideFit("left", varies, varies + air_left))
    if not space.open_right:
        varies = max(rights) - min(rights)
        fits.append(SideFit("right", varies, varies + air_right))
    begins = max(lefts) + air_left
    return min(rights) - air_right - begins, tuple(fits), begins


def _depth(
    space: Space, depths: list[tuple[str, Fraction]], leans: dict[Wall, Fraction], read: Read
) -> Fraction | None:
    """Least depth; where a level was not read, the foot's reading less what the back wall comes forward there."""
    if not depths:
        return None
    found = [size for _, size in depths]
    foot = min((size for level, size in depths if level == "floor"), default=None)
    if foot is not None:
        found += [
            foot - leans.get("back", ZERO) * _share_of_height(level)
            for level in LEVELS
            if level not in {told for told, _ in depths}
        ]
    return min(found) - read(space.clearance.back, "clearance, back")


def _height(space: Space, heights: Iterable[Fraction], read: Read) -> Fraction | None:
    """Least height above the floor's highest point, wherever that is: the piece is levelled from there."""
    least = min(heights, default=None)
    if least is None:
        return None
    return least - read(space.floor_out_of_level, "floor out of level") - read(space.clearance.top, "clearance, top")


def _what_was_assumed(widths: dict[tuple[str, str], Fraction], leans: dict[Wall, Fraction], space: Space) -> list[str]:
    notes = []
    for wall, is_open in (("left", space.open_left), ("right", space.open_right)):
        if not is_open and wall not in leans:
            notes.append(f"The lean of the {wall} wall is not measured: equal widths do not prove it plumb.")
    if len(widths) < 4:
        notes.append("Few widths read: take floor, middle and top, front and back; the least decides.")
    front = [size for (_, line), size in widths.items() if line == "front"]
    back = [size for (_, line), size in widths.items() if line == "back"]
    if front and back and min(back) > min(front):
        notes.append("Wider at the back than at the front: the piece comes in from the front, so the front decides.")
    return notes
