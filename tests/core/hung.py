"""What hangs in a carcass and what is bored for it: fronts, hinges, drawers, and shelves on their pins."""

from __future__ import annotations

import math
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from typing import TYPE_CHECKING

from as_printed import ROW, TOLERANCE, Amiss, Hole, Piece, overlap, same
from asked import AskedOpening, Room, Stretch

if TYPE_CHECKING:
    from assembly import Assembly

BESIDE = 25
"""From the middle of a plate to a shelf at least, mm."""
CUP = Fraction(35, 2)
"""Half of a hinge's cup, mm."""
PLATE = 16
"""From the middle of a hinge to each screw of its plate, mm: two holes 32 apart."""
INCH = Fraction(254, 10)
USUAL = {
    ("side mount", "in"): [n * INCH for n in range(10, 29, 2)],
    ("side mount", "mm"): [Fraction(n) for n in range(250, 751, 50)],
    ("undermount", "in"): [n * INCH for n in (9, 12, 15, 18, 21)],
    ("undermount", "mm"): [Fraction(n) for n in range(250, 601, 50)],
}
"""Usual lengths of slides, mm."""
POUND = 0.45359237
CHART = ((40, 15), (60, 30), (80, 45), (100, 60))
"""Up to how many inches and pounds a door has two hinges, three, four, five; a hinge maker's chart."""
DENSE = 750
"""kg a cubic metre, where nothing is said of a material."""
MOVED = 96
"""How far a hinge may be from where it was wanted, mm."""


def check_hung(a: Assembly) -> None:
    """Everything that hangs or is bored. Raises Amiss at the first thing that is not right."""
    bored = _Bored(a)
    numbers: dict[int, int] = {}
    for room in a.rooms:
        _adjustable(a, room, bored, numbers)
    for number, bay in enumerate(a.asked.bays, start=1):
        rooms = [room for room in a.rooms if room.bay == number]
        if bay.front != "open":
            whole = AskedOpening(front=bay.front, hinged=bay.hinged)
            first, last = rooms[0], rooms[-1]
            z = (first.z[0], last.z[1])
            rooms = [replace(first, number=0, z=z, opening=whole, above=last.above, last=True)]
        for n, room in enumerate(rooms):
            if room.opening.front != "open":
                over = rooms[n + 1].z[0] if n + 1 < len(rooms) else None
                under = rooms[n - 1].z[1] if n else None
                _front(a, room, (under, over), bored)
    bored.no_more()
    for room in a.rooms:
        _keeps_pins(a, room)


class _Bored:
    """The holes of every piece, each of which must be for something."""

    def __init__(self, a: Assembly) -> None:
        self.pieces = a.pieces
        self.left = {place: list(piece.holes) for place, piece in a.pieces.items()}

    def claim(self, place: str, hole: Hole) -> None:
        if hole in self.left[place]:
            self.left[place].remove(hole)

    def plate(self, place: str, x: float, y: float, z: float) -> Hole:
        """The hole that is bored there for a plate."""
        for hole in self.pieces[place].holes:
            if hole.what.startswith("plate") and all(
                abs(a - float(b)) <= ROW for a, b in zip(hole.mouth, (x, y, z), strict=True)
            ):
                self.claim(place, hole)
                return hole
        raise Amiss(f"{place} has no hole at {float(x):g} {float(y):g} {float(z):g}")

    def no_more(self) -> None:
        for place, holes in self.left.items():
            if holes:
                raise Amiss(f"{place}: a hole for nothing, {holes[0].what} at {holes[0].mouth}")


def _inset(a: Assembly, room: Room) -> bool:
    """A front stands within the box before this room."""
    return a.asked["fronts"] == "inset" and (room.behind or room.opening.front != "open")


# --- Shelves on pins


def _adjustable(a: Assembly, room: Room, bored: _Bored, numbers: dict[int, int]) -> None:
    count, asked = room.opening.loose, a.asked
    if not count:
        return
    t, half = asked["shelf_panel"], asked["pin_diameter"] / 2
    low, high = _free_of_nailers(a, room.z)
    if asked.board and low < asked.board[0] <= (low + high) / 2:
        # Most of the opening is above a baseboard, and so are its shelves.
        low = asked.board[0]
    heights = _pins(a, room, bored)
    pitch, margin = asked["pin_pitch"], asked["pin_margin"]
    # One grid for the whole carcass, up from its bottom; of it what is a margin away from the ends of the opening.
    first = a.floor + margin + -(-(low - a.floor) // pitch) * pitch
    holes = max((high - margin - first) // pitch + 1, 0)
    apart = t // pitch + 1
    need = (count - 1) * apart + 1
    enough = holes >= need
    same(len(heights), holes if enough else need, f"bay {room.bay}: holes above each other")
    if enough:
        same(heights[0], first, f"bay {room.bay}: the first hole")
    for below, above in pairwise(heights):
        same(above - below, pitch, f"bay {room.bay}: from hole to hole")
    if heights[0] - half < low - TOLERANCE or heights[-1] + half > high + ROW:
        raise Amiss(f"bay {room.bay}: holes outside the opening")
    clear = (high - low - count * t) / (count + 1)
    even = [low + clear * n + t * (n - 1) for n in range(1, count + 1)]
    wanted = [(up - half - first) // pitch for up in even]
    simple = enough and wanted[0] >= 0 and wanted[-1] < holes
    simple = simple and all(b - a >= apart for a, b in pairwise(wanted))
    # A plate is in the way of none of them.
    plates = _plates_beside(a, room)
    simple = simple and all(_is_clear(float(first + one * pitch + half), t, plates) for one in wanted)
    front = asked["front_panel"] + asked["front_gap"] if _inset(a, room) else Fraction(0)
    for n in range(count):
        numbers[room.bay] = numbers.get(room.bay, 0) + 1
        place = f"loose shelf bay {room.bay} no {numbers[room.bay]}"
        if place not in a.pieces:
            raise Amiss(f"there is no {place}")
        up = a.pieces[place].along("z")[0]
        if not any(abs(up - float(half) - hole) <= ROW for hole in heights):
            raise Amiss(f"{place} lies on no pins")
        if simple:
            same(up, first + wanted[n] * pitch + half, f"{place}, next below where it would stand evenly")
        x = (room.x[0] + asked["shelf_play"], room.x[1] - asked["shelf_play"])
        a.want(place, x, (front + asked["shelf_setback"], _rear_for_shelves(a, room)), (Fraction(up), Fraction(up) + t))
        for upright in room.uprights if not asked["shelf_play"] else ():
            a.meet(place, upright, "x")


def _free_of_nailers(a: Assembly, z: Stretch) -> Stretch:
    """Where in an opening a shelf has no nailer behind it."""
    low, high = z
    for place, (start, end) in a.nailed():
        if place == "nailer bottom" and start < high and low < end:
            low = min(end, high)
        if place == "nailer top" and start < high and low < end:
            high = max(start, low)
    return low, high


def _rear_for_shelves(a: Assembly, room: Room) -> Fraction:
    """In an opening that is mostly behind a baseboard, every shelf stops before it."""
    low, high = _free_of_nailers(a, room.z)
    board = a.asked.board
    if board and low < board[0] and board[0] > (low + high) / 2:
        return min(a.rear, a.asked.depth - board[1])
    return a.rear


def _pins(a: Assembly, room: Room, bored: _Bored) -> list[float]:
    """The heights of an opening's pins, the same in both rows of both uprights."""
    asked = a.asked
    front = asked["pin_setback"] + (asked["front_panel"] if _inset(a, room) else 0)
    found = []
    for upright, x, inward in zip(room.uprights, room.x, (-1, 1), strict=True):
        for y in (front, _rear_for_shelves(a, room) - asked["pin_setback"]):
            row = [
                hole
                for hole in a.pieces[upright].holes
                if hole.what.startswith("shelf pins")
                and hole.inward == inward
                and abs(hole.mouth[1] - float(y)) <= TOLERANCE
                and float(room.z[0]) <= hole.mouth[2] <= float(room.z[1])
            ]
            for hole in row:
                bored.claim(upright, hole)
                same(hole.mouth[0], x, f"{upright}: face of its pins")
                same(hole.radius * 2, asked["pin_diameter"], f"{upright}: diameter of its pins")
                same(hole.depth, asked["pin_depth"], f"{upright}: depth of its pins")
            found.append(sorted(hole.mouth[2] for hole in row))
    if not found[0]:
        raise Amiss(f"bay {room.bay}: no pins {float(front):g} from the front of {room.uprights[0]}")
    for one in found[1:]:
        same(len(one), len(found[0]), f"bay {room.bay}: holes of one row and another")
        for mine, first in zip(one, found[0], strict=True):
            same(mine, first, f"bay {room.bay}: heights of its pins")
    return found[0]


def _keeps_pins(a: Assembly, room: Room) -> None:
    """As many holes as an opening has adjustable shelves have room for one 25 mm away from the middle of any plate."""
    asked, numbers = a.asked, range(room.opening.loose)
    if not numbers:
        return
    half, t = float(asked["pin_diameter"] / 2), asked["shelf_panel"]
    seats, plates = set[float](), _plates_beside(a, room)
    for upright, inward in zip(room.uprights, (-1, 1), strict=True):
        own = [hole for hole in a.pieces[upright].holes if hole.inward == inward]
        pins = [hole.mouth[2] for hole in own if hole.what == "shelf pins, front row"]
        seats |= {up + half for up in pins if float(room.z[0]) <= up <= float(room.z[1])}
    lying, top = 0, -math.inf
    for up in sorted(seats):
        if _is_clear(up, t, plates) and up > top:
            lying, top = lying + 1, up + float(t)
    if lying < len(numbers):
        raise Amiss(f"bay {room.bay}: plates leave {lying} holes for {len(numbers)} adjustable shelves")
    for place in (place for place in a.pieces if place.startswith(f"loose shelf bay {room.bay} ")):
        up = a.pieces[place].along("z")[0]
        if float(room.z[0]) <= up <= float(room.z[1]) and not _is_clear(up, t, plates):
            raise Amiss(f"{place} lies where a plate is")


def _plates_beside(a: Assembly, room: Room) -> list[float]:
    """How high the middle of each plate is that reaches the adjustable shelves of an opening."""
    found: list[float] = []
    front = min(piece.block[1][0] for place, piece in a.pieces.items() if place.startswith("loose shelf"))
    for upright, inward in zip(room.uprights, (-1, 1), strict=True):
        own = [hole for hole in a.pieces[upright].holes if hole.inward == inward and hole.what.startswith("plate")]
        reach = [hole for hole in own if hole.mouth[1] + BESIDE > front]
        found += [sum(one.mouth[2] for one in reach if one.what == what) / 2 for what in {one.what for one in reach}]
    return found


def _is_clear(up: float, t: Fraction, plates: list[float]) -> bool:
    """Whether a shelf lies far enough from the middle of every plate."""
    return all(one <= up - BESIDE + ROW or one >= up + float(t) + BESIDE - ROW for one in plates)


# --- Fronts


def _front(a: Assembly, room: Room, beside: tuple[Fraction | None, Fraction | None], bored: _Bored) -> None:
    """`beside`: where the opening under it ends, and the one over it begins; None at the ends of the box."""
    asked, kind = a.asked, room.opening.front
    gap, t = asked["front_gap"], asked["front_panel"]
    x, z = _across(a, room), _upwards(a, room, beside)
    y = (Fraction(0), t) if asked["fronts"] == "inset" else (-t, Fraction(0))
    at = f"bay {room.bay}" + (f" no {room.number}" if room.number else "")
    if kind == "door":
        a.want(f"door {at}", x, y, z)
        _hinges(a, room, f"door {at}", room.opening.hinged, bored)
    elif kind == "pair of doors":
        half = (x[1] - x[0] - gap) / 2
        a.want(f"door {at} left", (x[0], x[0] + half), y, z)
        a.want(f"door {at} right", (x[1] - half, x[1]), y, z)
        for hand in ("left", "right"):
            _hinges(a, room, f"door {at} {hand}", hand, bored)
    else:
        a.want(f"{'drawer front' if kind == 'drawer' else kind} {at}", x, y, z)
        if kind == "drawer":
            _drawer(a, room, at)


def _across(a: Assembly, room: Room) -> Stretch:
    """A front ends half a gap before the middle of what it shares; at the outside, before its edge or its middle."""
    asked, gap = a.asked, a.asked["front_gap"]
    if asked["fronts"] == "inset":
        return room.x[0] + gap, room.x[1] - gap
    ends = []
    for upright, face, out in zip(room.uprights, room.x, (-1, 1), strict=True):
        covers = a.t if upright.startswith("side") and asked["fronts"] == "full overlay" else a.t / 2
        ends.append(face + out * (covers - gap / 2))
    return ends[0], ends[1]


def _upwards(a: Assembly, room: Room, beside: tuple[Fraction | None, Fraction | None]) -> Stretch:
    asked, gap = a.asked, a.asked["front_gap"]
    under, over = beside
    if asked["fronts"] == "inset":
        # With nothing to part it from the next, two fronts share the gap.
        low = room.z[0] + (gap if room.below else gap / 2)
        high = room.z[1] - (gap if room.above or room.last else gap / 2)
        return low, high
    low, high = a.under + asked["bottom_reveal"], a.over - asked["top_reveal"]
    if under is not None:
        low = (under + room.z[0]) / 2 + gap / 2
    if over is not None:
        high = (over + room.z[1]) / 2 - gap / 2
    return low, high


def _hinges(a: Assembly, room: Room, place: str, hand: str, bored: _Bored) -> None:
    """Cups in the door and holes for their plates in the upright that it hangs on."""
    asked = a.asked
    x, y, z = a.right[place]
    upright = room.uprights[hand == "right"]
    if asked["fronts"] != "inset":
        a.meet(place, upright, "y")
    from_edge = asked["cup_edge"] + CUP
    across = x[0] + from_edge if hand == "left" else x[1] - from_edge
    cups = sorted(((hole.mouth[2], hole) for hole in a.pieces[place].holes), key=lambda cup: cup[0])
    for up, cup in cups:
        bored.claim(place, cup)
        same(cup.mouth[0], across, f"{place}: cup from the edge")
        same(cup.mouth[1], y[1], f"{place}: the face of its cups")
        same(cup.radius, CUP, f"{place}: half a cup")
        if not 10.5 <= cup.depth <= 13:
            raise Amiss(f"{place}: a cup {cup.depth} deep")
        if any(up - PLATE < end and start < up + PLATE for start, end in _lying(a, room)):
            raise Amiss(f"{place}: the hinge at {up:g} would sit on what lies there")
        row = asked["plate_setback"] + (asked["front_panel"] if asked["fronts"] == "inset" else 0)
        for plate in (up - PLATE, up + PLATE):
            hole = bored.plate(upright, room.x[hand == "right"], row, plate)
            same(hole.radius * 2, asked["plate_diameter"], f"{upright}: a hole for a plate")
            same(hole.depth, asked["plate_depth"], f"{upright}: depth of a hole for a plate")
    if not cups:
        raise Amiss(f"{place} has no hinge")
    high, weight = float(z[1] - z[0]), float((x[1] - x[0]) * (z[1] - z[0]) * (y[1] - y[0])) * 1e-9 * DENSE
    least = next((n for n, (inch, lb) in enumerate(CHART, 2) if high <= inch * 25.4 and weight <= lb * POUND), 99)
    if len(cups) < least:
        raise Amiss(f"{place} has {len(cups)} hinges and wants {least}")
    ends = (float(z[0] + asked["hinge_from_end"]), float(z[1] - asked["hinge_from_end"]))
    for (up, _), end in zip((cups[0], cups[-1]), ends, strict=True):
        if abs(up - end) > MOVED + TOLERANCE:
            raise Amiss(f"{place}: a hinge {abs(up - end):g} from where it is wanted")
    least_end = min(Fraction(80), asked["hinge_from_end"])
    if cups[0][0] < z[0] + least_end - TOLERANCE or cups[-1][0] > z[1] - least_end + TOLERANCE:
        raise Amiss(f"{place}: a hinge nearer to an end than 80 mm, or than was asked")


def _lying(a: Assembly, room: Room) -> list[tuple[float, float]]:
    """From where to where panels lie in a bay, its bottom and its top counted."""
    found = [(float(a.under), float(a.floor))]
    if a.asked["top"] != "none":
        found.append((float(a.ceiling), float(a.over)))
    rooms = [one for one in a.rooms if one.bay == room.bay]
    found += [(float(one.z[1]), float(other.z[0])) for one, other in pairwise(rooms) if one.above]
    return found


# --- Drawers


def _drawer(a: Assembly, room: Room, at: str) -> None:
    """Two sides that run through, two ends between them, a bottom in grooves of all four."""
    asked = a.asked
    t, t_bottom, deep = asked["drawer_panel"], asked["drawer_bottom_panel"], asked["drawer_groove"]
    start = asked["front_panel"] if asked["fronts"] == "inset" else Fraction(0)
    length = _slide(a, room, at, start)
    clearance = asked["slide_clearance"]
    if asked["slides"] == "undermount":
        # Inside it is narrower than its opening by so much, whatever its sides are thick.
        clearance = asked["undermount_less"] / 2 - t
    x = (room.x[0] + clearance, room.x[1] - clearance)
    y = (start, start + length)
    z = (room.z[0] + asked["drawer_below"], room.z[1] - asked["drawer_above"])
    if not asked["drawer_bottom_up"]:
        raise Amiss(f"drawer {at}: nothing is left under its bottom")
    least = INCH / 2 if asked["slides"] == "side mount" else INCH * 13 / 16
    if (room.z[1] - room.z[0]) - (z[1] - z[0]) < least or clearance < 0:
        raise Amiss(f"drawer {at} has too little air")
    inner = (x[0] + t, x[1] - t)
    rabbet = deep if asked["drawer_joint"] == "rabbet" else Fraction(0)
    up = z[0] + asked["drawer_bottom_up"]
    groove = (up, up + t_bottom + asked["dado_play"])
    into = {"left": (inner[0] - deep, inner[0]), "right": (inner[1], inner[1] + deep)}
    ends = {"front": (y[0], y[0] + t), "rear": (y[1] - t, y[1])}
    for hand, side in (("left", (x[0], inner[0])), ("right", (inner[1], x[1]))):
        place = f"drawer side {at} {hand}"
        a.want(place, side, y, z)
        a.cut[place].append((into[hand], y, groove))
        if rabbet:
            a.cut[place] += [(into[hand], end, z) for end in ends.values()]
    across = (inner[0] - rabbet, inner[1] + rabbet)
    inward = {"front": (y[0] + t - deep, y[0] + t), "rear": (y[1] - t, y[1] - t + deep)}
    reach = deep - asked["let_in_play"]
    bottom = f"drawer bottom {at}"
    a.want(bottom, (inner[0] - reach, inner[1] + reach), (y[0] + t - reach, y[1] - t + reach), (up, up + t_bottom))
    for end, along in ends.items():
        place = f"drawer end {at} {end}"
        a.want(place, across, along, z)
        a.cut[place].append((across, inward[end], groove))
        a.meet(place, f"drawer side {at} left", "x")
        a.meet(place, f"drawer side {at} right", "x")
        a.meet(place, bottom, "z")
    for hand in ("left", "right"):
        a.meet(f"drawer side {at} {hand}", bottom, "z")
    a.meet(f"drawer front {at}", f"drawer end {at} front", "y")
    _comes_out(a, at, float(length))


def _slide(a: Assembly, room: Room, at: str, start: Fraction) -> Fraction:
    """The slide's length, which is the drawer's: as asked, or the longest usual one that the opening has room for."""
    asked, side = a.asked, f"drawer side {at} left"
    if side not in a.pieces:
        raise Amiss(f"there is no {side}")
    free = a.rear
    if any(low < room.z[1] and room.z[0] < high for _, (low, high) in a.nailed()):
        free -= a.t
    if asked.board and room.z[0] < asked.board[0]:
        free = min(free, asked.depth - asked.board[1])
    free -= start + asked["slide_behind"]
    usual = USUAL[asked["slides"], asked.unit]
    fitting = [asked["slide_length"]] if asked["slide_length"] else [one for one in usual if one <= free]
    if not fitting or fitting[-1] > free:
        raise Amiss(f"drawer {at}: no slide fits in {float(free):g}")
    front, rear = a.pieces[side].along("y")
    same(rear - front, fitting[-1], f"drawer {at}: its slides")
    return fitting[-1]


def _comes_out(a: Assembly, at: str, travel: float) -> None:
    """Drawn out by the length of its slides, a drawer passes through nothing."""
    own = {place: piece for place, piece in a.pieces.items() if place.startswith("drawer") and f"{at}" in place}
    for piece in own.values():
        x, (front, rear), z = piece.block
        way = Piece(piece.name, piece.place, piece.material, (x, (front - travel, rear), z), [], [])
        for place, other in a.pieces.items():
            if place not in own and overlap(way, other):
                raise Amiss(f"{piece.place} hits {place} on its way out")
