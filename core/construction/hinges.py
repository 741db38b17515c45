"""Concealed hinges: how many a door has, its cups, and the holes for their plates in the upright.

A hinge sits where it is wanted, or at the nearest height at which its plate is on no shelf and its
holes meet no others; best in two holes of shelf pins, where these have its setback and diameter.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from core.construction.bench import Bench
from core.construction.goods import ZERO
from core.construction.inside import Room, Span
from core.construction.part import Face, Hand, Holes, Part
from core.construction.rule_book import Rules
from core.construction.shelves import PINS, check_bored
from core.lengths import UNITS
from core.mistakes import Mistake
from core.own_units import KG_A_POUND

CUP = Fraction(35)
CUP_DEPTH = Fraction(25, 2)
"""Of a concealed hinge, mm: diameter, and depth from 10.5 to 12.5 by maker; trade practice."""
BEHIND_CUP = Fraction(2)
"""What is left behind a cup at least, mm: 16 mm boards bear one, 12 mm ones do not; trade practice."""
PLATE = Fraction(32)
"""Between the two screws of a hinge's plate, mm; trade practice (32 mm system)."""
PLATE_REACH = Fraction(25)
"""From the middle of a plate to a shelf that would be in its way, mm; common practice, no source."""
FURTHEST = Fraction(96)
"""How far a hinge is moved from where it was wanted, mm: three pitches."""
FROM_END = Fraction(80)
"""From an end of a door to the middle of a cup at least, mm; trade practice."""
BETWEEN_CUPS = Fraction(13)
"""mm of wood; common practice, no source."""
LEAST_EDGE = Fraction(2)
"""mm beside a cup; makers of hinges ask for 3 or more."""
MOST_EDGE = Fraction(8)
"""mm from the edge of a door to a cup; most hinges want 3 to 6, some up to 8; trade practice."""
SHARED = Fraction(40)
"""How far a hinge is moved so that its plate has the holes of two pins, mm."""
KEPT = Fraction(9, 10)
"""Of the distance between the outer hinges of a low wide door, what sharing holes must leave; no source."""
WOOD = Fraction(3)
"""Between two holes beside each other at least, mm; common practice, no source."""
BEHIND = Fraction(2)
"""Between two holes, or a hole and a housing, from opposite faces, mm."""
SAME = 1e-9
"""kg; weights that differ by less do so by rounding alone."""
CHART = ((40, 15), (60, 30), (80, 45), (100, 60))
"""Up to which height in inches and weight in pounds a door has two hinges, three, four, five: a hinge maker's chart
for doors up to 24 in wide, from memory."""


def hang(bench: Bench, rules: Rules, room: Room, door: str, upright: str, hinged: Hand) -> None:
    """Bores the cups of a door, and the holes for their plates in the upright before `room` on which it hangs.

    Raises Mistake where a hinge has no place. Before a face frame the plates are screwed to its stile, where the
    hinge's maker says.
    """
    _Hinges(bench, rules, room, door, upright, hinged).bore()


@dataclass(frozen=True, slots=True)
class _Hole:
    """One near the line of the plates: how high, whether a plate's screw may go into it, and how near others may be."""

    up: Fraction
    serves: bool
    apart_squared: Fraction

    def is_clear_of(self, up: Fraction) -> bool:
        """Whether enough wood is left between it and one in the line of the plates."""
        return (up - self.up) ** 2 >= self.apart_squared


@dataclass(slots=True)
class _Hinges:
    """The hinges of one door, both by their places."""

    bench: Bench
    rules: Rules
    room: Room
    place: str
    upright: str
    hinged: Hand

    @property
    def door(self) -> Part:
        return self.bench.parts[self.place]

    @property
    def post(self) -> Part:
        return self.bench.parts[self.upright]

    @property
    def face(self) -> Face:
        """Of the upright, into which the plates are screwed."""
        return "high" if self.hinged == "left" else "low"

    @property
    def setback(self) -> Fraction:
        """From the upright's front edge to the row of the plates, mm."""
        inset = self.door.thickness if self.rules.fronts == "inset" else ZERO
        return self.rules.plate_setback + inset - self.post.box.low[1]

    def bore(self) -> None:
        """Cups and plates."""
        rules, door = self.rules, self.door
        low, width, name = door.box.low[2], door.box.span("x"), door.name.lower()
        if not rules.face_frame:
            self._check_plates()
        heights = self._heights()
        pins = {other.up for other in self._holes() if other.serves}
        for n, up in enumerate(() if rules.face_frame else heights, start=1):
            at = (self.setback, up - PLATE / 2 - self.post.box.low[2])
            shared = " in two holes of pins" if {up - PLATE / 2, up + PLATE / 2} <= pins else ""
            self._row(
                self.upright,
                f"plate of hinge {n} of the {name.replace(', ', ' ')}{shared}",
                at,
                (2, PLATE),
                rules.plate_diameter,
                rules.plate_depth,
                self.face,
            )
        from_edge = rules.cup_edge + CUP / 2
        across = from_edge if self.hinged == "left" else width - from_edge
        apart = {b - a for a, b in pairwise(heights)}
        if len(apart) == 1:
            row = (len(heights), apart.pop())
            self._row(self.place, "hinge cups", (across, heights[0] - low), row, CUP, CUP_DEPTH, "high")
            return
        for n, up in enumerate(heights, start=1):
            self._row(self.place, f"hinge cup {n}", (across, up - low), (1, ZERO), CUP, CUP_DEPTH, "high")

    def _check_plates(self) -> None:
        """Raises Mistake where the holes of plates cannot be bored at all."""
        rules, goods, post = self.rules, self.bench.goods, self.post
        say, radius = goods.say, rules.plate_diameter / 2
        if not 0 < rules.plate_diameter <= PLATE - WOOD:
            raise Mistake(
                f"two holes {say(rules.plate_diameter)} in diameter, {say(PLATE)} from one to the other, hold no "
                f"hinge's plate; make plate diameter {goods.usual('plate diameter')}, as its maker says"
            )
        check_bored(post, rules.plate_depth, "plate depth", self.bench)
        deep = post.box.span("y")
        if not radius <= self.setback <= deep - radius:
            most = rules.plate_setback - self.setback + deep - radius
            mend = "more" if self.setback < radius else f"{goods.at_most(most)} or less"
            raise Mistake(
                f"the plate of a hinge {say(rules.plate_setback)} behind the front would lie on an edge of the "
                f"{post.name.lower()}, {say(deep)} deep; make plate setback {mend}, {goods.usual('plate setback')} is "
                "usual"
            )

    def _wanted(self) -> list[Fraction]:
        """The heights at which hinges are wanted: evenly, so far from the ends of the door as the rule says."""
        bench, rules, door = self.bench, self.rules, self.door
        say, name = bench.goods.say, door.name.lower()
        if door.thickness < CUP_DEPTH + BEHIND_CUP:
            raise Mistake(
                f"the cup of a hinge, {say(CUP_DEPTH)} deep, leaves too little of the {name}, {say(door.thickness)} "
                "thick; take a thicker front panel"
            )
        low, high = door.box.low[2], door.box.high[2]
        count = hinge_count(high - low, self._weight())
        if not count:
            lower = high - low > CHART[-1][0] * UNITS["in"]
            pair = self.room.opening.front == "pair of doors"
            mend = "part it into two, one over the other" if lower else "make the front panel lighter"
            raise Mistake(
                f"the {name} is too high or too heavy for five hinges; {mend}"
                + ("" if lower or pair else ", or make it a pair")
            )
        ends = (low + rules.hinge_from_end, high - rules.hinge_from_end)
        least = max(CUP, PLATE)
        most = (high - low - (CUP + BETWEEN_CUPS) * (count - 1)) / 2
        if rules.hinge_from_end < least / 2:
            # In a low door there is no room for the usual distance.
            low_door = least / 2 <= most < FROM_END
            fits = bench.goods.at_most(most) if low_door else f"{bench.goods.at_least(FROM_END)} or more"
            raise Mistake(
                f"a hinge {say(rules.hinge_from_end)} from an end of the {name} breaks out of it; make hinge from end "
                f"{fits}"
            )
        if ends[1] - ends[0] < least * (count - 1):
            mend = f"hinge from end {bench.goods.at_most(most)} or less, or " if most >= least / 2 else ""
            higher = least * (count - 1) - (ends[1] - ends[0])
            raise Mistake(
                f"hinges {say(rules.hinge_from_end)} from the ends of the {name} do not fit in {say(high - low)}; "
                f"make {mend}the door {bench.goods.at_least(higher)} higher"
            )
        self._check_cup_edge()
        return [ends[0] + n * (ends[1] - ends[0]) / (count - 1) for n in range(count)]

    def _check_cup_edge(self) -> None:
        """Raises Mistake where a cup would break out of the door at either side."""
        rules, door, goods = self.rules, self.door, self.bench.goods
        say, name, wide = goods.say, door.name.lower(), door.box.span("x")
        if rules.cup_edge < LEAST_EDGE:
            raise Mistake(
                f"a hinge's cup {say(rules.cup_edge)} from the edge of the {name} breaks out of it; make cup edge "
                f"{goods.at_least(LEAST_EDGE)} or more"
            )
        short = rules.cup_edge + CUP + LEAST_EDGE - wide
        if short <= 0:
            return
        told = (
            f"the {name} is {say(wide)} wide, and a hinge's cup does not fit in it {say(rules.cup_edge)} from its edge"
        )
        if rules.cup_edge > MOST_EDGE:
            raise Mistake(f"{told}; make cup edge less, {goods.usual('cup edge')} is usual")
        pair = self.room.opening.front == "pair of doors"
        wider = f"make its opening {goods.at_least(2 * short if pair else short)} wider"
        raise Mistake(f"{told}; {wider}" + (", or take one door in place of the pair" if pair else ""))

    def _heights(self) -> list[Fraction]:
        """Where the hinges sit, upwards: in holes of pins, unless that brings them nearer than the door is wide.

        A door that is so wide that it hangs down with time either way shares them where that costs little.
        """
        wide, shared = self.door.box.span("x"), self._placed(SHARED)
        if shared[-1] - shared[0] > wide:
            return shared
        try:
            alone = self._placed(ZERO)
        except Mistake:
            return shared
        apart = alone[-1] - alone[0]
        return alone if apart > wide or shared[-1] - shared[0] < KEPT * apart else shared

    def _placed(self, moved: Fraction) -> list[Fraction]:
        """The heights of the hinges, upwards, each moved so far at most for the holes of two pins, mm."""
        low, high = self.door.box.low[2], self.door.box.high[2]
        from_end = min(self.rules.hinge_from_end, FROM_END)
        heights: list[Fraction] = []
        for n, wanted in enumerate(self._wanted(), start=1):
            # Not nearer to an end than was asked for, or than makers want; and cups do not touch.
            least = heights[-1] + CUP + BETWEEN_CUPS if heights else low + from_end
            within = (least, high - from_end)
            up = wanted if self.rules.face_frame else self._free_height(wanted, within, moved)
            if up is None:
                raise self._in_the_way(f"hinge {n} of the {self.door.name.lower()}", wanted, within)
            heights.append(up)
        return heights

    def _in_the_way(self, hinge: str, wanted: Fraction, within: Span) -> Mistake:
        """What is said of a hinge that has no place: it is for its plate's holes where they alone are in the way."""
        lying = self._lying()
        if any(within[0] <= up <= within[1] and _is_beside(up, lying) for up in _near(wanted)):
            others, mend = "others", "plate setback and plate diameter those of the pins"
            if self._cut_behind():
                others, mend = "what is cut into the other face", "plate depth or dado depth less"
            return Mistake(
                f"the holes for the plate of {hinge} would meet {others} wherever it could sit; make {mend}, or change "
                "hinge from end"
            )
        return Mistake(
            f"{hinge} would sit on what lies there, or too near the next; change hinge from end, or the height of the "
            "shelf"
        )

    def _free_height(self, wanted: Fraction, within: Span, moved: Fraction) -> Fraction | None:
        """The height next to the wanted one at which a plate is on no shelf, and its holes meet no others, mm.

        The holes of two pins are taken first, where the hinge is `moved` no further for them.
        """
        holes, cut, lying = self._holes(), self._cut_behind(), self._lying()
        pins = {other.up for other in holes if other.serves}

        def free(up: Fraction) -> bool:
            if not within[0] <= up <= within[1] or not _is_beside(up, lying):
                return False
            own = (up - PLATE / 2, up + PLATE / 2)
            if any(low < hole < high for hole in own for low, high in cut):
                return False
            # A pin's own hole is bored deeper, if need be; any other keeps its distance.
            return all(
                (hole == other.up and other.serves) or other.is_clear_of(hole) for hole in own for other in holes
            )

        near = sorted((pin + PLATE / 2 for pin in pins), key=lambda up: abs(up - wanted))
        together = [up for up in near if abs(up - wanted) <= moved and {up - PLATE / 2, up + PLATE / 2} <= pins]
        return next((up for up in (*together, *_near(wanted)) if free(up)), None)

    def _holes(self) -> list[_Hole]:
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

    def _cut_behind(self) -> list[Span]:
        """From where to where a plate's holes would come out in a housing that is cut into the other face."""
        part, radius = self.post, self.rules.plate_diameter / 2
        found = []
        for cut in part.machining:
            if (
                cut.depth is None
                or cut.face == self.face
                or cut.depth + self.rules.plate_depth <= part.thickness - BEHIND
            ):
                continue
            along, across = (cut.x, cut.length), (cut.y, cut.width)
            if part.length_axis != "z":
                along, across = across, along
            if across[0] - radius < self.setback < across[0] + across[1] + radius:
                low = part.box.low[2] + along[0]
                found.append((low - radius, low + along[1] + radius))
        return found

    def _lying(self) -> list[Span]:
        """From where to where a plate would be on something that lies against the upright."""
        x = self.room.x[self.hinged == "right"]
        return [
            (part.box.low[2] - PLATE_REACH, part.box.high[2] + PLATE_REACH)
            for part in self.bench.parts.values()
            if part.role in ("shelf", "rail", "bottom", "top", "nailer")
            and part.box.low[0] <= x <= part.box.high[0]
            and part.box.low[1] < self.post.box.low[1] + self.setback + PLATE_REACH
        ]

    def _row(
        self,
        place: str,
        what: str,
        at: tuple[Fraction, Fraction],
        row: tuple[int, Fraction],
        diameter: Fraction,
        depth: Fraction,
        face: Face,
    ) -> None:
        """Holes above each other: `at` counts across and up from the panel's lower corner."""
        stands = self.bench.parts[place].length_axis == "z"
        x, y = (at[1], at[0]) if stands else at
        self.bench.bore(place, Holes(what, x, y, *row, "length" if stands else "width", diameter, depth, face))

    def _weight(self) -> float:
        door = self.door
        return float(door.length * door.width * door.thickness) * 1e-9 * self.bench.goods.density(door.material)


def _near(wanted: Fraction) -> list[Fraction]:
    """The heights at which a hinge may sit, the wanted one first, mm."""
    return [wanted + sign * n for n in range(int(FURTHEST) + 1) for sign in (1, -1)]


def _is_beside(up: Fraction, lying: Sequence[Span]) -> bool:
    """Whether a plate at this height is on nothing that lies there."""
    return not any(low < up < high for low, high in lying)


def hinge_count(height: Fraction, kilograms: float) -> int:
    """How many hinges a door wants by its height, mm, and its weight; 0 where the chart has none."""
    for count, (inches, pounds) in enumerate(CHART, start=2):
        if height <= inches * UNITS["in"] and kilograms <= pounds * KG_A_POUND + SAME:
            return count
    return 0
