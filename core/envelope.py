"""From readings of a space to the largest true box that can be put there from the front.

The box slides in from the front, plumb and square to the back wall's left corner, so at every
level and on every line front to back it must lie between the two side walls. With straight
walls the corners decide: the box reaches from the rightmost point of the left wall to the
leftmost point of the right one. Two walls that lean the same way narrow it although every
width reads the same, and an alcove wider at the back cannot be filled from the front.

Lengths are exact fractions of a millimetre, as everywhere.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction

from core.mistakes import Mistake
from core.space import Reading, Space, Wall

LEVELS = ("floor", "middle", "top")
UP = {"floor": Fraction(0), "middle": Fraction(1, 2), "top": Fraction(1)}
"""How high each level lies, as a share of what counts."""
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
    ceiling: Fraction | None
    """The least height that was read, nothing taken off, mm."""
    sides: tuple[SideFit, ...]
    out_of_square: Fraction | None
    """How far the left wall strays sideways from front to back, mm, right positive; None without both diagonals."""
    baseboard: tuple[Fraction, Fraction] | None
    """Height and thickness of the baseboard at the back, mm."""
    left: Fraction
    """Where the box begins, to the right of the left wall's front foot, mm."""
    notes: tuple[str, ...]
    falls: Fraction = ZERO
    """How far the floor falls from its highest point, from which all is levelled, to its lowest, mm."""


def find_envelope(space: Space, read: Read) -> Envelope:
    """What can stand in the space. `read` turns a size as typed into mm and raises Mistake where it cannot.

    Raises Mistake, too, for a reading that can mean nothing, and where clearances leave no room.
    """
    readings = [(reading, _reading(n, reading, read)) for n, reading in enumerate(space.readings, start=1)]
    heights = [size for r, size in readings if r.of == "height"]
    reach = _positive(read(space.up_to, "up to"), "up to") if space.up_to else min(heights, default=None)
    leans, reach = _leans_at_top(space, reach, read)
    boards = _baseboards(space, read)
    widths = {
        (level, line): min(sizes)
        for level in LEVELS
        for line in LINES
        if (sizes := [s for r, s in readings if r.of == "width" and r.level == level and r.at in (line, "middle")])
    }
    skew, notes = _skew(widths, [(r.at, s) for r, s in readings if r.of == "diagonal"])
    width: Fraction | None = None
    sides: tuple[SideFit, ...] = ()
    begins = _air(space, "left", read)
    if widths:
        left, right = _side_walls(widths, leans, skew)
        feet: dict[Wall, Fraction] = {wall: _board_foot(wall, boards, leans, reach) for wall in ("left", "right")}
        width, sides, begins = _between(left, right, space, feet, read)
        if not leans.keys() & {"left", "right"}:
            # What the widths differ by may as well be the left wall's; beside a baseboard that can be narrower.
            left, right = _side_walls(widths, {"right": ZERO}, skew)
            width = min(width, _between(left, right, space, feet, read)[0])
        notes += _what_was_assumed(widths, leans, space)
    depth = _depth([(r.level, s) for r, s in readings if r.of == "depth"], leans.get("back", ZERO))
    ceiling = min(heights, default=None)
    floor = _not_negative(read(space.floor_out_of_level, "floor out of level"), "floor out of level")
    return Envelope(
        width=_room_left(width, "width"),
        depth=_room_left(None if depth is None else depth - _air(space, "back", read), "depth"),
        # The piece is levelled from the floor's highest point, wherever the least height was read.
        height=_room_left(None if ceiling is None else ceiling - floor - _air(space, "top", read), "height"),
        ceiling=ceiling,
        sides=sides,
        out_of_square=skew,
        baseboard=boards.get("back"),
        left=begins,
        notes=tuple(notes),
        falls=floor,
    )


def check_reading(reading: Reading) -> None:
    """Raises Mistake where a reading says a place that such a reading cannot have."""
    if reading.of == "width" and reading.at in ("left", "right"):
        raise Mistake(f"a width is read at the front or at the back, not at the {reading.at}; middle: not said")
    if reading.of == "diagonal" and reading.at not in ("left", "right"):
        raise Mistake("a diagonal is named by the front corner that it starts from: left or right")


def _reading(number: int, reading: Reading, read: Read) -> Fraction:
    where = f"reading {number}"
    try:
        check_reading(reading)
    except Mistake as mistake:
        raise mistake.at(where) from None
    return _positive(read(reading.size, f"{where}, {reading.of} at the {reading.level}"), where)


def _positive(size: Fraction, where: str) -> Fraction:
    if size <= 0:
        raise Mistake("a reading of a space is more than nothing", where)
    return size


def _not_negative(size: Fraction, where: str) -> Fraction:
    if size < 0:
        raise Mistake("this cannot be less than nothing", where)
    return size


def _air(space: Space, side: str, read: Read) -> Fraction:
    where = f"clearance, {side}"
    return _not_negative(read(getattr(space.clearance, side), where), where)


def _room_left(size: Fraction | None, word: str) -> Fraction | None:
    if size is not None and size <= 0:
        raise Mistake(f"nothing is left of the {word} once walls, baseboards and clearances have taken their share")
    return size


def _baseboards(space: Space, read: Read) -> dict[Wall, tuple[Fraction, Fraction]]:
    """Height and thickness of the baseboard on each wall that has one; of several the greatest of each."""
    boards: dict[Wall, tuple[Fraction, Fraction]] = {}
    for board in space.baseboards:
        where = f"baseboard on the {board.wall} wall"
        height = _not_negative(read(board.height, f"{where}, height"), f"{where}, height")
        thickness = _not_negative(read(board.thickness, f"{where}, thickness"), f"{where}, thickness")
        had = boards.get(board.wall, (ZERO, ZERO))
        boards[board.wall] = (max(had[0], height), max(had[1], thickness))
    return boards


def _leans_at_top(space: Space, reach: Fraction | None, read: Read) -> tuple[dict[Wall, Fraction], Fraction | None]:
    """How far each measured wall comes into the room at the top of what counts, and how high that is.

    Walls are straight, so a lean goes in proportion. Where no height is known the longest plumb
    line says how high. Of several leans of one wall the one that comes in most counts.
    """
    told: list[tuple[Wall, Fraction, Fraction]] = []
    for lean in space.leans:
        where = f"lean of the {lean.wall} wall"
        over = _positive(read(lean.over, f"{where}, over"), f"{where}, over")
        told.append((lean.wall, read(lean.into_room, where), over))
    top = reach or max((over for _, _, over in told), default=None)
    leans: dict[Wall, Fraction] = {}
    for wall, into_room, over in told:
        assert top is not None
        at_top = into_room * (top / over)
        leans[wall] = max(leans.get(wall, at_top), at_top)
    return leans, top


def _upwards(line: str) -> list[tuple[str, str]]:
    return [(level, line) for level in LEVELS]


def _skew(
    widths: dict[tuple[str, str], Fraction], diagonals: list[tuple[str, Fraction]]
) -> tuple[Fraction | None, list[str]]:
    """Where the back left corner lies, to the right of straight behind the front left one.

    With front width f, back width b, skew s and depth d: left² = (s + b)² + d² and
    right² = (f - s)² + d², so left² - right² = (f + b)(2 s + b - f), whatever d is.
    Where a diagonal was read more than once the pair that is furthest out of square counts.
    """
    front, back = widths.get(("floor", "front")), widths.get(("floor", "back"))
    lefts = [size for at, size in diagonals if at == "left"]
    rights = [size for at, size in diagonals if at == "right"]
    if front is None or back is None or not lefts or not rights:
        return None, ["No pair of diagonals with a front and a back width: the plan is taken as square."]
    skews = [((a**2 - b**2) / (front + back) - back + front) / 2 for a in lefts for b in rights]
    return max(skews, key=abs), []


Walls = dict[tuple[str, str], Fraction]
"""One side wall at levels and lines, as x from the front left corner at the floor."""


def _side_walls(widths: Walls, leans: Mapping[Wall, Fraction], skew: Fraction | None) -> tuple[Walls, Walls]:
    """The two side walls, at every level where their lean is measured and else where a width was read.

    What the widths leave unexplained goes to the wall whose lean is not measured; to the right
    one where neither is, the left one then being taken as plumb. Where two leans and the
    widths say different things the narrowest is believed.
    """
    if "right" in leans and "left" not in leans:
        # The same seen in a mirror: from the right wall's front foot, to the left.
        if skew is not None:
            skew = widths["floor", "front"] - widths["floor", "back"] - skew
        right, left = _side_walls(widths, {"left": leans["right"]}, skew)
        return {at: -x for at, x in left.items()}, {at: -x for at, x in right.items()}
    left, right = {}, {}
    for line in LINES:
        corner = skew if line == "back" and skew else ZERO
        read = {level: widths[level, line] for level in LEVELS if (level, line) in widths}
        left_at = {level: corner + leans.get("left", ZERO) * UP[level] for level in LEVELS}
        right_at = {level: left_at[level] + wide for level, wide in read.items()}
        if "right" in leans and read:
            foot = min(x + leans["right"] * UP[level] for level, x in right_at.items())
            right_at = {level: foot - leans["right"] * UP[level] for level in LEVELS}
        left |= {(level, line): x for level, x in left_at.items()}
        right |= {(level, line): x for level, x in right_at.items()}
    return left, right


def _board_foot(
    wall: Wall,
    boards: dict[Wall, tuple[Fraction, Fraction]],
    leans: dict[Wall, Fraction],
    reach: Fraction | None,
) -> Fraction:
    """How far a side wall's baseboard stands into the room, from the wall's foot, at the board's upper edge."""
    height, thickness = boards.get(wall, (ZERO, ZERO))
    up = min(height / reach, Fraction(1)) if reach else ZERO
    return thickness + max(leans.get(wall, ZERO), ZERO) * up if thickness else ZERO


def _between(
    left: Walls, right: Walls, space: Space, feet: Mapping[Wall, Fraction], read: Read
) -> tuple[Fraction, tuple[SideFit, ...], Fraction]:
    """Width of the box between the walls, how each wall runs beside it, and where the box begins.

    `feet`: how far each side's baseboard stands into the room.
    """

    def with_board(wall: Wall, xs: Walls, towards: int) -> list[Fraction]:
        feet_of_lines = [next(xs[at] for at in _upwards(line) if at in xs) for line in {line for _, line in xs}]
        return [*xs.values(), *(x + towards * feet[wall] for x in feet_of_lines)]

    lefts, rights = with_board("left", left, 1), with_board("right", right, -1)
    fits: list[SideFit] = []
    if not space.open_left:
        varies = max(lefts) - min(lefts)
        fits.append(SideFit("left", varies, varies + _air(space, "left", read)))
    if not space.open_right:
        varies = max(rights) - min(rights)
        fits.append(SideFit("right", varies, varies + _air(space, "right", read)))
    begins = max(lefts) + _air(space, "left", read)
    width = min(rights) - _air(space, "right", read) - begins
    corner = next((left[at] for at in (*_upwards("front"), *_upwards("back")) if at in left), ZERO)
    return width, tuple(fits), begins - corner


def _depth(depths: list[tuple[str, Fraction]], lean: Fraction) -> Fraction | None:
    """Least depth at any level, mm; `lean`: how far the back wall comes forward at the top."""
    if not depths:
        return None
    at_floor = min(size + lean * UP[level] for level, size in depths)
    return at_floor - max(lean, ZERO)


def _what_was_assumed(widths: dict[tuple[str, str], Fraction], leans: dict[Wall, Fraction], space: Space) -> list[str]:
    notes = []
    for wall, is_open in (("left", space.open_left), ("right", space.open_right)):
        if not is_open and wall not in leans:
            notes.append(f"The lean of the {wall} wall is not measured: equal widths do not prove it plumb.")
    if len(widths) < 4:
        notes.append("Few widths read: take floor, middle and top, front and back; the least decides.")
    both = [level for level in LEVELS if (level, "front") in widths and (level, "back") in widths]
    wider = [level for level in both if widths[level, "back"] > widths[level, "front"]]
    if wider:
        notes.append(
            f"Wider at the back than at the front ({', '.join(wider)}): the piece comes in from the front, so there "
            "the front decides."
        )
    return notes
