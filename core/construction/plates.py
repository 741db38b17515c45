"""Where the plates of a door's hinges can sit on the upright that it hangs on.

A plate sits on no shelf, and its holes meet no others; best in two holes of shelf pins, where these have its setback
and diameter. Whatever pins plates take or cover, every adjustable shelf keeps a hole to lie on.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import chain, combinations, islice, pairwise
from math import comb

from core.construction.bench import Bench, place_of
from core.construction.inside import Room, Span
from core.construction.part import Face, Hand, Holes, Part
from core.construction.rule_book import Rules
from core.construction.shelves import FRONT_PINS, PINS

PLATE = Fraction(32)
"""Between the two screws of a hinge's plate, mm; trade practice (32 mm system)."""
PLATE_REACH = Fraction(25)
"""From the middle of a plate to a shelf that would be in its way, mm; common practice, no source."""
FURTHEST = Fraction(96)
"""How far a hinge is moved from where it was wanted, mm: three pitches."""
WOOD = Fraction(3)
"""Between two holes beside each other at least, mm; common practice, no source."""
BEHIND = Fraction(2)
"""Between two holes, or a hole and a housing, from opposite faces, mm."""
MOST_WAYS = 10
"""Ways to lay the adjustable shelves of one opening that are tried, the nearest to where they are drawn first."""
MOST_SETS = 1000
"""Sets of holes that are looked at for such ways: of more, where shelves are many, only the nearest is tried."""


@dataclass(frozen=True, slots=True)
class _Hole:
    """One near the line of the plates: how high, whether a plate's screw may go into it, and how near others may be."""

    up: Fraction
    serves: bool
    apart_squared: Fraction

    def is_clear_of(self, up: Fraction) -> bool:
        """Whether enough wood is left between it and one in the line of the plates."""
        return (up - self.up) ** 2 >= self.apart_squared


@dataclass(frozen=True, slots=True)
class Column:
    """The pins of one opening: the undersides of a shelf on each hole that is still of use, mm, upwards."""

    seats: tuple[Fraction, ...]
    shelves: tuple[Part, ...]
    """Those of the opening, upwards."""

    @property
    def t(self) -> Fraction:
        """Thickness of the shelves, mm."""
        return self.shelves[0].thickness

    def holds(self, heights: Sequence[Fraction]) -> bool:
        """Whether plates at these heights leave each of its shelves a hole."""
        lying, below = 0, None
        for up in self.seats:
            free = all(is_beside(plate, [self.kept(up)]) for plate in heights)
            if free and (below is None or up - below > self.t):
                lying, below = lying + 1, up
        return lying >= len(self.shelves)

    def kept(self, up: Fraction) -> Span:
        """Between which heights no plate is, where a shelf may lie at this one."""
        return up - PLATE_REACH, up + self.t + PLATE_REACH

    def ways(self) -> Iterator[list[Span]]:
        """What is kept free of plates for each way of laying its shelves, the nearest to where they are drawn first."""
        ways = [self._nearest()] if self.holds(()) else []
        if comb(len(self.seats), len(self.shelves)) <= MOST_SETS:
            ways = [
                way
                for way in combinations(self.seats, len(self.shelves))
                if all(above - below > self.t for below, above in pairwise(way))
            ]
            ways.sort(key=lambda way: sum(map(_away, self.shelves, way)))
        return (_merged([self.kept(up) for up in way]) for way in islice(ways, MOST_WAYS))

    def laid(self) -> list[Part]:
        """Its shelves where no plate is, each as near to where it was drawn as the others let it be; or none."""
        if not self.holds(()):
            return []
        return [
            shelf.moved(Fraction(0), Fraction(0), up - shelf.box.low[2])
            for shelf, up in zip(self.shelves, self._nearest(), strict=True)
        ]

    def _nearest(self) -> tuple[Fraction, ...]:
        """The undersides of its shelves, which it holds, moved as little as can be, mm."""
        drawn = tuple(shelf.box.low[2] for shelf in self.shelves)
        if set(drawn) <= set(self.seats):
            return drawn
        # For each seat of the one above: how far all up to it are moved at least, and to which seats.
        best: list[tuple[Fraction, tuple[Fraction, ...]]] = [(Fraction(0), ())]
        for shelf in self.shelves:
            best = [
                (moved + _away(shelf, up), (*below, up))
                for up in self.seats
                if (under := [one for one in best if not one[1] or up - one[1][-1] > self.t])
                for moved, below in [min(under)]
            ]
        return min(best)[1]


def _away(shelf: Part, up: Fraction) -> Fraction:
    return abs(shelf.box.low[2] - up)


def _merged(spans: Sequence[Span]) -> list[Span]:
    """The same spans, upwards, those that overlap as one."""
    found: list[Span] = []
    for low, high in spans:
        if found and low < found[-1][1]:
            low = found.pop()[0]
        found.append((low, high))
    return found


class Plates:
    """The places for plates on the face of an upright that is turned to `room`."""

    def __init__(self, bench: Bench, rules: Rules, room: Room, upright: str, hinged: Hand, setback: Fraction) -> None:
        """`setback`: from the upright's front edge to the row of the plates, mm."""
        self.bench = bench
        self.rules = rules
        self.upright = upright
        self.setback = setback
        self.face: Face = "high" if hinged == "left" else "low"
        """Of the upright, into which they are screwed."""
        self._x = room.x[hinged == "right"]
        self._free: dict[Fraction, bool] = {}
        self._holes = self._near_the_row()
        self._cut, self.is_cut_behind = self._cut_out()
        # Where `is_cut_behind`, what is cut into the other face is so deep that holes for plates would meet it.
        lying = self._lies_there()
        self.is_at_shelf = any(part.role == "shelf" for part in lying)
        self.lying = [(part.box.low[2] - PLATE_REACH, part.box.high[2] + PLATE_REACH) for part in lying]
        """From where to where a plate would be on something that lies against the upright."""
        self.pins = frozenset(hole.up for hole in self._holes if hole.serves)
        """The heights of pins in whose holes its screws may go."""

    @property
    def post(self) -> Part:
        """The upright."""
        return self.bench.parts[self.upright]

    def near(self, wanted: Fraction, moved: Fraction) -> Iterator[Fraction]:
        """The heights at which a hinge that is wanted at one can sit, the best first, mm.

        The holes of two pins come first, where it is `moved` no further for them.
        """
        pins = sorted((pin + PLATE / 2 for pin in self.pins), key=lambda up: abs(up - wanted))
        together = [up for up in pins if abs(up - wanted) <= moved and {up - PLATE / 2, up + PLATE / 2} <= self.pins]
        return (up for up in chain(together, near(wanted)) if self.is_free(up))

    def is_free(self, up: Fraction) -> bool:
        """Whether a plate can sit at a height: on no shelf, its holes clear of others."""
        if up not in self._free:
            self._free[up] = is_beside(up, self.lying) and self._can_be_bored(up)
        return self._free[up]

    def _can_be_bored(self, up: Fraction) -> bool:
        own, radius, post = (up - PLATE / 2, up + PLATE / 2), self.rules.plate_diameter / 2, self.post.box
        if own[0] < post.low[2] + radius or own[1] > post.high[2] - radius:
            return False
        if any(low < hole < high for hole in own for low, high in self._cut):
            return False
        # A pin's own hole is bored deeper, if need be; any other keeps its distance.
        return all(
            (hole == other.up and other.serves) or other.is_clear_of(hole) for hole in own for other in self._holes
        )

    def columns(self) -> list[Column]:
        """The pins on this face of the upright, those of each opening together, without what other plates cover."""
        post, parts = self.post, self.bench.parts
        found: list[Column] = []
        reached = post.box.low[1] + self.setback + PLATE_REACH
        ends = {joint.one: joint.other for joint in self.bench.joints if joint.other != self.upright}
        rows = [row for row in post.holes if row.face == self.face and row.place == FRONT_PINS]
        if not rows:
            return found
        shelves = [
            parts[joint.one]
            for joint in self.bench.joints
            if joint.other == self.upright
            and parts[joint.one].role == "loose shelf"
            and (parts[joint.one].box.low[0] >= self._x) == (self.face == "high")
            and parts[joint.one].box.low[1] < reached
        ]
        for row in rows:
            seats = [up + row.diameter / 2 for up in _heights(post, row)]
            on_it = [one for one in shelves if seats[0] <= one.box.low[2] <= seats[-1]]
            if not on_it:
                continue
            others = [
                up + PLATE / 2
                for part, face in ((post, self.face), (parts[ends[place_of(on_it[0])]], _opposite(self.face)))
                for plate in part.holes
                if plate.face == face and plate.place.startswith("plate")
                for up in _heights(part, plate)[:1]
            ]
            shelves_up = tuple(sorted(on_it, key=lambda one: one.box.low[2]))
            t = shelves_up[0].thickness
            fits = [
                up
                for up in seats
                if not any(low + PLATE_REACH < up + t and up < high - PLATE_REACH for low, high in self.lying)
            ]
            column = Column(tuple(fits), shelves_up)
            if column.holds(()):
                # Else there is too little room as it is, and that is told of the shelves.
                free = [up for up in fits if all(is_beside(plate, [column.kept(up)]) for plate in others)]
                found.append(replace(column, seats=tuple(free)))
        return found

    def _near_the_row(self) -> list[_Hole]:
        """The holes that those of a plate could meet, from either face."""
        part, rules, found = self.post, self.rules, []
        stands = part.length_axis == "z"
        for row in part.holes:
            depth = part.thickness if row.depth is None else row.depth
            if row.face != self.face and depth + rules.plate_depth <= part.thickness - BEHIND:
                continue
            apart = (row.diameter + rules.plate_diameter) / 2 + WOOD
            for x, y in row.centres():
                beside = (y if stands else x) - self.setback
                if abs(beside) < apart:
                    is_pin = row.face == self.face and row.place.startswith(PINS)
                    alike = is_pin and not beside and row.diameter == rules.plate_diameter
                    up = part.box.low[2] + (x if stands else y)
                    found.append(_Hole(up, alike, apart**2 - beside**2))
        return found

    def _cut_out(self) -> tuple[list[Span], bool]:
        """From where to where a plate's holes would meet what is cut out, and whether any of that is behind them."""
        part, radius, behind = self.post, self.rules.plate_diameter / 2, False
        found = []
        for cut in part.machining:
            other_face = cut.depth is not None and cut.face != self.face
            if other_face and (cut.depth or 0) + self.rules.plate_depth <= part.thickness - BEHIND:
                continue
            along, across = (cut.x, cut.length), (cut.y, cut.width)
            if part.length_axis != "z":
                along, across = across, along
            if across[0] - radius < self.setback < across[0] + across[1] + radius:
                low = part.box.low[2] + along[0]
                found.append((low - radius, low + along[1] + radius))
                behind = behind or other_face
        return found, behind

    def _lies_there(self) -> list[Part]:
        return [
            part
            for part in self.bench.parts.values()
            if part.role in ("shelf", "rail", "bottom", "top", "nailer")
            and part.box.low[0] <= self._x <= part.box.high[0]
            and part.box.low[1] < self.post.box.low[1] + self.setback + PLATE_REACH
        ]


def _heights(part: Part, row: Holes) -> list[Fraction]:
    """How high the holes of a row are, upwards, mm."""
    return [part.box.low[2] + (x if part.length_axis == "z" else y) for x, y in row.centres()]


def _opposite(face: Face) -> Face:
    return "low" if face == "high" else "high"


def near(wanted: Fraction) -> Iterator[Fraction]:
    """The heights at which a hinge may sit, the wanted one first, mm."""
    return (wanted + sign * n for n in range(int(FURTHEST) + 1) for sign in (1, -1))


def is_beside(up: Fraction, lying: Sequence[Span]) -> bool:
    """Whether a plate at this height is on nothing that lies there."""
    return not any(low < up < high for low, high in lying)
