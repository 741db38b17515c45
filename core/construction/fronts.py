"""Doors, drawer fronts and false fronts: what they cover, and where their hinges sit.

An overlay front ends on a line in the middle of what it shares with its neighbour, less half the
gap; at the outside of the box a full overlay ends at its edge, a half overlay in the middle of
the side, both less that half; above and below by the reveals. An inset front fills its opening,
less the gap all round.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise

from core.construction.bench import ZERO, Bench, Swing
from core.construction.inside import Inside, Room, Span, stile_before
from core.construction.part import Face, Hand, Holes
from core.construction.rules import Rules
from core.construction.shelves import check_bored
from core.lengths import UNITS
from core.mistakes import Mistake
from core.own_units import KG_A_POUND
from core.project import Bay, Opening

CUP = Fraction(35)
CUP_DEPTH = Fraction(25, 2)
"""Of a concealed hinge, mm: diameter, and depth from 10.5 to 12.5 by maker; trade practice."""
BEHIND_CUP = Fraction(2)
"""What is left behind a cup at least, mm: 16 mm boards bear one, 12 mm ones do not; trade practice."""
PLATE = Fraction(32)
"""Between the two screws of a hinge's plate, mm; their row is that of the shelf pins; trade practice (32 mm system)."""
PLATE_REACH = Fraction(25)
"""From the middle of a plate to a shelf that would be in its way, mm; common practice, no source."""
FURTHEST = Fraction(96)
"""How far a hinge is moved from where it was wanted, mm: three pitches."""
FROM_END = Fraction(80)
"""From an end of a door to the middle of a cup at least, mm; trade practice."""
BETWEEN_CUPS = Fraction(13)
"""mm of wood; common practice, no source."""
SHARED = Fraction(40)
"""How far a hinge is moved so that its plate has the holes of two pins, mm."""
WOOD = Fraction(2)
"""Between two holes at least, mm."""
SAME = 1e-9
"""kg; weights that differ by less do so by rounding alone."""
CHART = ((40, 15), (60, 30), (80, 45), (100, 60))
"""Up to which height in inches and weight in pounds a door has two hinges, three, four, five: a hinge maker's chart
for doors up to 24 in wide, from memory."""


@dataclass(frozen=True, slots=True)
class Front:
    """A front in its place, by that place; `drawer` where a drawer hangs behind it."""

    place: str
    room: Room
    drawer: bool


def add_fronts(
    bench: Bench, bays: Sequence[Bay], rooms: Sequence[Room], rules: Rules, inside: Inside, width: Fraction
) -> list[Front]:
    """All fronts of a carcass `width` mm wide, their hinges bored. Raises Mistake where one has no room."""
    found: list[Front] = []
    closed = [bay.front != "open" for bay in bays] + [room.opening.front != "open" for room in rooms]
    if any(closed) and rules.fronts != "inset" and rules.front_gap >= inside.t:
        say = bench.goods.say
        raise Mistake(
            f"a gap of {say(rules.front_gap)} leaves two fronts nothing to lie on of boards {say(inside.t)} thick; "
            "make front gap less"
        )
    for number, bay in enumerate(bays or (Bay(),), start=1):
        of_bay = [room for room in rooms if room.bay == number]
        if bay.front != "open":
            # Before the whole bay: one room from the bottom to the top.
            opening = Opening(front=bay.front, hinged=bay.hinged)
            low, high = of_bay[0], of_bay[-1]
            whole = replace(low, number=0, opening=opening, bounds=(low.bounds[0], high.bounds[1]))
            of_bay = [replace(whole, z=(low.z[0], high.z[1]), open_z=(low.open_z[0], high.open_z[1]))]
        for below, room, above in zip([None, *of_bay], of_bay, [*of_bay[1:], None], strict=False):
            front = room.opening.front
            if front == "open":
                continue
            alike = [one for one in of_bay if one.opening.front == front]
            said = f" {alike.index(room) + 1}" if len(alike) > 1 else ""
            told = f", bay {number}" if len(bays) > 1 else ""
            hanging = _Hanging(bench, rules, inside, width, room, below, above, said, told)
            if front in ("door", "pair of doors"):
                hanging.doors()
            else:
                found.append(hanging.panel())
    return found


@dataclass(slots=True)
class _Hanging:
    """One room that gets a front, and its neighbours below and above."""

    bench: Bench
    rules: Rules
    inside: Inside
    width: Fraction
    room: Room
    below: Room | None
    above: Room | None
    said: str
    """Its number among those of its kind in the bay, where there are several."""
    told: str
    """Its bay, where there are several."""

    def panel(self) -> Front:
        """A drawer's front or a false one."""
        drawer = self.room.opening.front == "drawer"
        role, word = ("drawer front", "Drawer front") if drawer else ("false front", "False front")
        place = self._add(role, word, "", self._x(), None)
        if not drawer:
            self._on_uprights(place, self.room.uprights)
        return Front(place, self.room, drawer)

    def doors(self) -> None:
        """A door, or a pair."""
        x, opening = self._x(), self.room.opening
        if opening.front == "door":
            self._door(x, opening.hinged, "")
            return
        half = (x[1] - x[0] - self.rules.front_gap) / 2
        self._door((x[0], x[0] + half), "left", "left")
        self._door((x[1] - half, x[1]), "right", "right")

    def _door(self, x: Span, hinged: Hand, which: str) -> None:
        place = self._add("door", "Door", which, x, hinged)
        upright = self.room.uprights[hinged == "right"]
        self._on_uprights(place, (upright,))
        self.bench.movers.append(Swing(place, hinged))
        self._bore(place, upright, hinged)

    def _add(self, role: str, word: str, which: str, x: Span, hand: Hand | None) -> str:
        bench, room = self.bench, self.room
        place = " ".join(
            [f"bay {room.bay}", *([f"no {room.number}"] if room.number else []), *([which] if which else [])]
        )
        face = self.inside.face
        y = (face, face + self._t) if self.rules.fronts == "inset" else (face - self._t, face)
        return bench.panel(
            role,
            place,
            f"{word}{self.said}{self.told}" + (f", {which}" if which else ""),
            self.rules.front_panel,
            x,
            y,
            self._z(),
            all_round=self.rules.door_banding,
            hand=hand,
        )

    @property
    def _t(self) -> Fraction:
        return self.bench.goods.of(self.rules.front_panel)

    def _on_uprights(self, place: str, uprights: Sequence[str]) -> None:
        """Closed, an overlay front lies on the edges of the uprights; an inset one stands off by its gap."""
        before = [stile_before(one) if self.rules.face_frame else one for one in uprights]
        self.bench.join(place, *before, play=self.rules.front_gap if self.rules.fronts == "inset" else ZERO)

    def _x(self) -> Span:
        gap, room = self.rules.front_gap, self.room
        if self.rules.fronts == "inset":
            return room.open_x[0] + gap, room.open_x[1] - gap
        half = self.inside.t / 2
        left, right = room.x[0] - half, room.x[1] + half
        # At the outside of the box there is no neighbour: its edge, or the middle of the side or the stile.
        share = 0 if self.rules.fronts == "full overlay" else Fraction(1, 2)
        if room.uprights[0] == "side left":
            left = room.open_x[0] * share
        if room.uprights[1] == "side right":
            right = self.width - (self.width - room.open_x[1]) * share
        return left + gap / 2, right - gap / 2

    def _z(self) -> Span:
        """From where to where: at the ends of the box by its reveals, between two openings in the middle."""
        gap, rules, inside, z = self.rules.front_gap, self.rules, self.inside, self.room.open_z
        if rules.fronts == "inset":
            low = z[0] + (gap if self.room.bounds[0] else gap / 2)
            # Where nothing lies over the box a worktop does, and is kept clear of like any other.
            high = z[1] - (gap if self.room.bounds[1] or self.above is None else gap / 2)
            return low, high
        low, high = inside.outer_z[0] + rules.bottom_reveal, inside.outer_z[1] - rules.top_reveal
        if self.below is not None:
            low = (self.below.open_z[1] + z[0] + gap) / 2
        if self.above is not None:
            high = (z[1] + self.above.open_z[0] - gap) / 2
        return low, high

    def _bore(self, place: str, upright: str, hinged: Hand) -> None:
        """The cups in the door, and the holes for their plates in the upright."""
        bench, rules = self.bench, self.rules
        say, door, post = bench.goods.say, bench.parts[place], bench.parts[upright]
        name = door.name.lower()
        if door.thickness < CUP_DEPTH + BEHIND_CUP:
            raise Mistake(
                f"the cup of a hinge, {say(CUP_DEPTH)} deep, leaves too little of the {name}, {say(door.thickness)} "
                "thick; take a thicker front panel"
            )
        low, high = door.box.low[2], door.box.high[2]
        count = hinge_count(door.box.span("z"), self._weight(place))
        if not count:
            raise Mistake(f"the {name} is too high or too heavy for five hinges; make it a pair, or the panel lighter")
        ends = (low + rules.hinge_from_end, high - rules.hinge_from_end)
        least = max(CUP, PLATE)
        if ends[1] - ends[0] < least * (count - 1) or rules.hinge_from_end < least / 2:
            raise Mistake(
                f"hinges {say(rules.hinge_from_end)} from the ends of the {name} do not fit in {say(high - low)}; "
                "make hinge from end less, or the door higher"
            )
        from_edge = rules.cup_edge + CUP / 2
        if from_edge + CUP / 2 >= door.box.span("x"):
            raise Mistake(f"the {name} is {say(door.box.span('x'))} wide, and a hinge's cup does not fit in it")
        across = from_edge if hinged == "left" else door.box.span("x") - from_edge
        setback = rules.pin_setback + (self._t if rules.fronts == "inset" else ZERO) - post.box.low[1]
        check_bored(post, rules.plate_depth, "plate depth", bench)
        face: Face = "high" if hinged == "left" else "low"
        heights: list[Fraction] = []
        from_end = min(rules.hinge_from_end, FROM_END)
        for n in range(count):
            wanted = ends[0] + n * (ends[1] - ends[0]) / (count - 1)
            # Not nearer to an end than was asked for, or than makers want; and cups do not touch.
            least = heights[-1] + CUP + BETWEEN_CUPS if heights else low + from_end
            within = (least, high - from_end)
            up = wanted if rules.face_frame else self._free_height(upright, face, setback, wanted, within)
            if up is None:
                raise Mistake(
                    f"hinge {n + 1} of the {name} would sit on a shelf; change hinge from end, or the shelf's height"
                )
            heights.append(up)
            if rules.face_frame:
                # Its plates are screwed to the stile, where the hinge's maker says.
                continue
            at = (setback, up - PLATE / 2 - post.box.low[2])
            what = f"plate of hinge {n + 1}, {name}"
            self._row(upright, what, at, (2, PLATE), rules.pin_diameter, rules.plate_depth, face)
        apart = {b - a for a, b in pairwise(heights)}
        if len(apart) == 1:
            self._row(place, "hinge cups", (across, heights[0] - low), (count, apart.pop()), CUP, CUP_DEPTH, "high")
            return
        for n, up in enumerate(heights, start=1):
            self._row(place, f"hinge cup {n}", (across, up - low), (1, ZERO), CUP, CUP_DEPTH, "high")

    def _holes(self, upright: str, face: Face, setback: Fraction) -> list[tuple[Fraction, Fraction]]:
        """Height and depth of the holes in one line with a plate's: those in its face, and those that would meet it."""
        part, found = self.bench.parts[upright], []
        stands = part.length_axis == "z"
        for row in part.holes:
            depth = part.thickness if row.depth is None else row.depth
            if row.face != face and depth + self.rules.plate_depth < part.thickness:
                continue
            for x, y in row.centres():
                if abs((y if stands else x) - setback) < row.diameter:
                    found.append((part.box.low[2] + (x if stands else y), depth if row.face == face else ZERO))
        return found

    def _free_height(
        self, upright: str, face: Face, setback: Fraction, wanted: Fraction, within: Span
    ) -> Fraction | None:
        """The height next to the wanted one at which a plate is on no shelf, and its holes meet no others, mm.

        Or they are those of pins, bored deeper: that is what makers give both the same pitch for.
        """
        post, rules = self.bench.parts[upright], self.rules
        holes = self._holes(upright, face, setback)
        pins = {up for up, depth in holes if depth}
        x = self.room.x[0] if face == "high" else self.room.x[1]
        lying = [
            (part.box.low[2] - PLATE_REACH, part.box.high[2] + PLATE_REACH)
            for part in self.bench.parts.values()
            if part.role in ("shelf", "rail", "bottom", "top", "nailer")
            and part.box.low[0] <= x <= part.box.high[0]
            and part.box.low[1] < post.box.low[1] + setback + PLATE_REACH
        ]

        cut = self._cut_behind(upright, face, setback)

        def free(up: Fraction) -> bool:
            if not within[0] <= up <= within[1] or any(low < up < high for low, high in lying):
                return False
            own = (up - PLATE / 2, up + PLATE / 2)
            if any(low < hole < high for hole in own for low, high in cut):
                return False
            return all(
                (hole == other and depth) or abs(hole - other) >= rules.pin_diameter + WOOD
                for hole in own
                for other, depth in holes
            )

        near = sorted((pin + PLATE / 2 for pin in pins), key=lambda up: abs(up - wanted))
        together = [up for up in near if abs(up - wanted) <= SHARED and {up - PLATE / 2, up + PLATE / 2} <= pins]
        beside = [wanted + sign * n for n in range(int(FURTHEST) + 1) for sign in (1, -1)]
        return next((up for up in (*together, *beside) if free(up)), None)

    def _cut_behind(self, upright: str, face: Face, setback: Fraction) -> list[Span]:
        """From where to where a plate's holes would come out in a housing that is cut into the other face."""
        part, radius = self.bench.parts[upright], self.rules.pin_diameter / 2
        found = []
        for cut in part.machining:
            if cut.depth is None or cut.face == face or cut.depth + self.rules.plate_depth < part.thickness:
                continue
            along, across = (cut.x, cut.length), (cut.y, cut.width)
            if part.length_axis != "z":
                along, across = across, along
            if across[0] - radius < setback < across[0] + across[1] + radius:
                low = part.box.low[2] + along[0]
                found.append((low - radius, low + along[1] + radius))
        return found

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
        holes = Holes(what, x, y, *row, "length" if stands else "width", diameter, depth, face)
        self.bench.bore(place, holes)

    def _weight(self, place: str) -> float:
        door = self.bench.parts[place]
        volume = float(door.length * door.width * door.thickness)
        return volume * 1e-9 * self.bench.goods.density(door.material)


def hinge_count(height: Fraction, kilograms: float) -> int:
    """How many hinges a door wants by its height, mm, and its weight; 0 where the chart has none."""
    for count, (inches, pounds) in enumerate(CHART, start=2):
        if height <= inches * UNITS["in"] and kilograms <= pounds * KG_A_POUND + SAME:
            return count
    return 0
