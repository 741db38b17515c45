"""Concealed hinges: how many a door has, its cups, and the holes for their plates in the upright.

A hinge sits where it is wanted, or at the nearest height at which its plate can (`plates`).
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise
from math import ceil

from core.construction.bench import Bench, place_of
from core.construction.goods import ZERO, Goods
from core.construction.inside import Room, Span
from core.construction.part import Face, Hand, Holes, Part
from core.construction.plates import FURTHEST, PLATE, WOOD, Plates, is_beside, near
from core.construction.rule_book import Rules
from core.construction.shelves import check_bored
from core.lengths import UNITS
from core.mistakes import Mistake
from core.own_units import KG_A_POUND

CUP = Fraction(35)
CUP_DEPTH = Fraction(25, 2)
"""Of a concealed hinge, mm: diameter, and depth from 10.5 to 12.5 by maker; trade practice."""
BEHIND_CUP = Fraction(2)
"""What is left behind a cup at least, mm: 16 mm boards bear one, 12 mm ones do not; trade practice."""
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
SAME = 1e-9
"""kg; weights that differ by less do so by rounding alone."""
CHART = ((40, 15), (60, 30), (80, 45), (100, 60))
"""Up to which height in inches and weight in pounds a door has two hinges, three, four, five: a hinge maker's chart
for doors up to 24 in wide, from memory."""


@dataclass(frozen=True, slots=True)
class Hung:
    """A door, by its place, and the upright before `room` that it hangs on."""

    door: str
    room: Room
    upright: str
    hinged: Hand


class _NoPlace(Mistake):
    """Hinges have no place so far from the ends of a door: what is said of it, and what mends it but that distance."""

    def __init__(self, told: str, mend: str = "", first: str = "", more: str = "") -> None:
        """`first`: the distance that is tried first, as it can be typed, and what `more` is said where it does."""
        super().__init__(f"{told}; {mend or 'make the door higher'}")
        self.told = told
        self.mend = mend
        self.first = first
        self.more = more


def hang(bench: Bench, rules: Rules, doors: Sequence[Hung]) -> None:
    """Bores the cups of all doors of a carcass, and the holes for their plates in the uprights.

    Raises Mistake where a hinge has no place, with a distance from the ends at which all have one, where there is any.
    Before a face frame the plates are screwed to its stile, where the hinge's maker says.
    """
    before = dict(bench.parts)
    try:
        _hang(bench, rules, doors)
    except _NoPlace as mistake:
        # Plates on one face of a divider leave less for those on the other: the last may have to come first.
        bench.parts = dict(before)
        try:
            _hang(bench, rules, doors[::-1])
        except Mistake:
            raise _with_distance(bench, rules, doors, before, mistake) from None


def _with_distance(
    bench: Bench, rules: Rules, doors: Sequence[Hung], before: Mapping[str, Part], mistake: _NoPlace
) -> Mistake:
    """The mistake with a distance from the ends at which all hinges have a place; without one where there is none."""
    most = min(before[one.door].box.span("z") for one in doors) / 2
    for number in _distances(rules.hinge_from_end, most, mistake.first, bench.goods):
        bench.parts = dict(before)
        try:
            _hang(bench, replace(rules, hinge_from_end=bench.goods.size(number, "hinge from end")), doors)
        except Mistake:
            continue
        other = f", or {mistake.mend.removeprefix('make ')}" if mistake.mend else ""
        if number == mistake.first:
            number += mistake.more
        elif mistake.first:
            # More than room at the ends is in the way, and what would give that is not known to be enough.
            other = ""
        return Mistake(f"{mistake.told}; make hinge from end {number}{other}")
    return mistake


def _hang(bench: Bench, rules: Rules, doors: Sequence[Hung]) -> None:
    hung = [_Hinges(bench, rules, one.room, one.door, one.upright, one.hinged) for one in doors]
    for hinges in hung:
        hinges.bore()
    for hinges in hung:
        hinges.lay_shelves()


def _distances(asked: Fraction, most: Fraction, first: str, goods: Goods) -> Iterator[str]:
    """Distances from the ends of doors, at `most` so far, that may do in place of the one `asked` for, mm, as typed.

    After the `first`, round ones: from 80 mm on, the nearest first; then less, for doors too low for that.
    """
    if first:
        yield first
    fine = UNITS["in"] / 4 if goods.notation.unit == "in" else Fraction(5)
    coarse = 2 * fine
    usual = [n * coarse for n in range(ceil(FROM_END / coarse), int(min(most, asked + FURTHEST) / coarse) + 1)]
    low = [n * fine for n in range(ceil(FROM_END / fine) - 1, 0, -1)]
    for distance in (*sorted(usual, key=lambda one: abs(one - asked)), *low):
        yield goods.notation.exactly(distance)


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
    def setback(self) -> Fraction:
        """From the upright's front edge to the row of its plates, mm."""
        inset = self.door.thickness if self.rules.fronts == "inset" else ZERO
        return self.rules.plate_setback + inset - self.post.box.low[1]

    def bore(self) -> None:
        """Cups and plates."""
        rules, door = self.rules, self.door
        low, width, name = door.box.low[2], door.box.span("x"), door.name.lower()
        if not rules.face_frame:
            self._check_plates()
        if rules.face_frame:
            heights = self._wanted()
        else:
            plates = self._plates()
            heights = self._heights(plates)
            for n, up in enumerate(heights, start=1):
                at = (self.setback, up - PLATE / 2 - self.post.box.low[2])
                what = f"plate of hinge {n} of the {name.replace(', ', ' ')}{_shared(up, plates.pins)}"
                self._row(self.upright, what, at, (2, PLATE), rules.plate_diameter, rules.plate_depth, plates.face)
        from_edge = rules.cup_edge + CUP / 2
        across = from_edge if self.hinged == "left" else width - from_edge
        apart = {b - a for a, b in pairwise(heights)}
        if len(apart) == 1:
            row = (len(heights), apart.pop())
            self._row(self.place, "hinge cups", (across, heights[0] - low), row, CUP, CUP_DEPTH, "high")
            return
        for n, up in enumerate(heights, start=1):
            self._row(self.place, f"hinge cup {n}", (across, up - low), (1, ZERO), CUP, CUP_DEPTH, "high")

    def lay_shelves(self) -> None:
        """Lays the adjustable shelves beside the door where no plate is; when all doors of the carcass are hung."""
        if not self.rules.face_frame:
            laid = [shelf for column in self._plates().columns() for shelf in column.laid()]
            self.bench.parts |= {place_of(shelf): shelf for shelf in laid}

    def _plates(self) -> Plates:
        return Plates(self.bench, self.rules, self.room, self.upright, self.hinged, self.setback)

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
            first = (bench.goods.at_most(most), "") if low_door else (bench.goods.at_least(FROM_END), " or more")
            raise _NoPlace(
                f"a hinge {say(rules.hinge_from_end)} from an end of the {name} breaks out of it",
                "",
                *first,
            )
        if ends[1] - ends[0] < least * (count - 1):
            higher = least * (count - 1) - (ends[1] - ends[0])
            raise _NoPlace(
                f"hinges {say(rules.hinge_from_end)} from the ends of the {name} do not fit in {say(high - low)}",
                f"make the door {bench.goods.at_least(higher)} higher",
                *((bench.goods.at_most(most), " or less") if most >= least / 2 else ()),
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

    def _heights(self, plates: Plates) -> list[Fraction]:
        """Where the hinges sit, upwards, so that every adjustable shelf beside them keeps a hole for its pins."""
        columns, kept = plates.columns(), list[Span]()
        found = self._apart(plates, kept)
        if found is None:
            raise self._in_the_way(plates)
        while short := next((one for one in columns if not one.holds(found)), None):
            for way in short.ways():
                moved = self._apart(plates, [*kept, *way])
                if moved is not None:
                    found, kept = moved, [*kept, *way]
                    break
            else:
                count = len(short.shelves)
                raise _NoPlace(
                    f"the plates for the hinges of the {self.door.name.lower()} leave no holes for the pins of the "
                    f"{'adjustable shelf' if count == 1 else f'{count} adjustable shelves'} beside them",
                    "make the opening higher, or take a shelf away",
                )
        return found

    def _apart(self, plates: Plates, kept: Sequence[Span]) -> list[Fraction] | None:
        """In holes of pins, unless that brings them nearer than the door is wide; none of them between `kept` heights.

        A door that is so wide that it hangs down with time either way shares them where that costs little. None where
        a hinge has no place.
        """
        wide, shared = self.door.box.span("x"), self._placed(plates, SHARED, kept)
        if shared and shared[-1] - shared[0] > wide:
            return shared
        alone = self._placed(plates, ZERO, kept)
        if not shared or not alone:
            return alone or shared
        apart = alone[-1] - alone[0]
        return alone if apart > wide or shared[-1] - shared[0] < KEPT * apart else shared

    def _placed(self, plates: Plates, moved: Fraction, kept: Sequence[Span]) -> list[Fraction] | None:
        """The heights of the hinges, upwards, each moved so far at most, mm, for the holes of two pins; or None."""
        wanted, (lowest, highest) = self._wanted(), self._within()
        apart = CUP + BETWEEN_CUPS

        def places(wanted: Fraction) -> Iterator[Fraction]:
            return (up for up in plates.near(wanted, moved) if lowest <= up <= highest and is_beside(up, kept))

        def each_first(latest: Sequence[Fraction]) -> list[Fraction] | None:
            found: list[Fraction] = []
            for one, most in zip(wanted, latest, strict=True):
                least = found[-1] + apart if found else lowest
                up = next((up for up in places(one) if least <= up <= most), None)
                if up is None:
                    return None
                found.append(up)
            return found

        # Mostly the best place of each leaves the next one its own.
        found = each_first([highest] * len(wanted))
        if found is not None:
            return found
        latest: list[Fraction] = []
        for one in reversed(wanted):
            able = [up for up in places(one) if not latest or up + apart <= latest[0]]
            if not able:
                return None
            latest.insert(0, max(able))
        return each_first(latest)

    def _within(self) -> Span:
        """Between which heights hinges are: not nearer to an end than was asked for, or than makers want."""
        low, high = self.door.box.low[2], self.door.box.high[2]
        from_end = min(self.rules.hinge_from_end, FROM_END)
        return low + from_end, high - from_end

    def _in_the_way(self, plates: Plates) -> Mistake:
        """What is said of hinges that have no place: it is for their plates' holes where they alone are in the way."""
        name, (low, high) = self.door.name.lower(), self._within()
        least = low
        for n, wanted in enumerate(self._wanted(), start=1):
            clear = [up for up in near(wanted) if least <= up <= high and is_beside(up, plates.lying)]
            free = [up for up in clear if plates.is_free(up)]
            if clear and not free:
                others, mend = "others", "plate setback and plate diameter those of the pins"
                if plates.is_cut_behind:
                    others, mend = "what is cut into the other face", "plate depth or dado depth less"
                return _NoPlace(
                    f"the holes for the plate of hinge {n} of the {name} would meet {others} wherever it could sit",
                    f"make {mend}",
                )
            if not clear:
                break
            least = min(free) + CUP + BETWEEN_CUPS
        return _NoPlace(
            f"hinge {n} of the {name} would sit on what lies there, or too near the next",
            "change the height of the shelf, or make the door higher" if plates.is_at_shelf else "",
        )

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


def _shared(up: Fraction, pins: Collection[Fraction]) -> str:
    """In which of its holes a pin's own is, for the end of what is said of a plate in the middle of `up`."""
    lower, upper = up - PLATE / 2 in pins, up + PLATE / 2 in pins
    if lower and upper:
        return " in two holes of pins"
    return f" with the {'lower' if lower else 'upper'} in a hole of pins" if lower or upper else ""


def hinge_count(height: Fraction, kilograms: float) -> int:
    """How many hinges a door wants by its height, mm, and its weight; 0 where the chart has none."""
    for count, (inches, pounds) in enumerate(CHART, start=2):
        if height <= inches * UNITS["in"] and kilograms <= pounds * KG_A_POUND + SAME:
            return count
    return 0
