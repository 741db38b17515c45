"""The inside of a carcass: bays between dividers, and in each bay openings from the bottom up.

A plain bay says its fixed shelves by height and how many others can be moved; openings say what
is in each and before it. Either way the outcome is rooms: empty boxes, each with what bounds it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from math import ceil

from core.construction.bench import Bench, share_out
from core.construction.goods import ZERO, Goods
from core.construction.rule_book import Rules
from core.mistakes import Mistake
from core.project import Bay, Opening

Span = tuple[Fraction, Fraction]
"""From where to where, mm."""


@dataclass(frozen=True, slots=True)
class Outside:
    """Outside size of a carcass, mm: with its back, without a separate plinth."""

    width: Fraction
    height: Fraction
    depth: Fraction


@dataclass(frozen=True, slots=True)
class Inside:
    """What is left within the box, in the carcass's frame, mm."""

    x: Span
    """Between the sides."""
    depth: Fraction
    """From the front edges to where everything between the sides ends: the back's face."""
    z: Span
    """From the top face of the bottom to the underside of the top or its rails."""
    outer_z: Span
    """The underside of the bottom, and the top edge."""
    t: Fraction
    """Thickness of sides, bottom, top and dividers."""
    nailer_height: Fraction = ZERO
    """0 where there are none; they are as thick as the sides."""
    nailed_below: bool = False
    nailed_from: Fraction = ZERO
    """No nailer begins lower: the top face of the bottom, or of a baseboard that reaches as far forward."""
    face: Fraction = ZERO
    """Where fronts lie on: the front edges, or the face of a frame before them."""

    def nailers(self) -> list[Span]:
        """From where to where nailers stand, upwards."""
        high, low, ceiling = self.nailer_height, self.nailed_from, self.z[1]
        below = [(low, low + high)] if self.nailed_below else []
        return [*below, (ceiling - high, ceiling)] if high else []

    def nailer_before(self, z: Span) -> Fraction:
        """How much of the depth a nailer takes between two heights, mm."""
        return self.t if any(low < z[1] and z[0] < high for low, high in self.nailers()) else ZERO


@dataclass(frozen=True, slots=True)
class Room:
    """An opening where it lies: `x` between its uprights, `z` from what is below to what is above, mm."""

    bay: int
    """From 1, as `number` of the opening within it."""
    number: int
    of: int
    """How many openings the bay has."""
    x: Span
    z: Span
    uprights: tuple[str, str]
    bounds: tuple[str, str]
    """What is below and above it, by its place; empty where nothing parts it from the next."""
    opening: Opening
    open_x: Span
    """What a front can close and a drawer can come through: `x`, or what a face frame leaves of it; so `open_z`."""
    open_z: Span
    inset: Fraction
    """Thickness of an inset front before it; 0 where none is."""
    front_line: Fraction
    """Where it begins behind the front edges: behind an inset front and its gap."""


def open_together(room: Room, rooms: Sequence[Room]) -> list[Room]:
    """The rooms of a carcass that nothing parts from this one, upwards, and itself."""
    of_bay = [one for one in rooms if one.bay == room.bay]
    first = last = of_bay.index(room)
    while first and not of_bay[first].bounds[0]:
        first -= 1
    while last + 1 < len(of_bay) and not of_bay[last].bounds[1]:
        last += 1
    return of_bay[first : last + 1]


def or_back_forward(rules: Rules, goods: Goods) -> str:
    """What else gives more depth, for the end of a sentence: a grooved back that stands less far forward."""
    told = rules.back == "grooved" and rules.back_inset > goods.usual_size("back inset")
    return f", or back inset less, {goods.usual('back inset')} is usual" if told else ""


def check_rail(rules: Rules, goods: Goods) -> None:
    """Raises Mistake where rails have no width."""
    if not rules.rail_width:
        raise Mistake(f"a rail {goods.say(ZERO)} wide is none; make rail width {goods.usual('rail width')}")


def stile_before(upright: str) -> str:
    """The stile of a face frame that stands before an upright, both by their places."""
    return upright.replace("side", "stile").replace("divider", "stile")


def divide(bench: Bench, bays: Sequence[Bay], rules: Rules, inside: Inside) -> list[Room]:
    """Adds dividers, fixed shelves and rails; returns the rooms between them.

    Raises Mistake where sizes do not add up, or nothing is left.
    """
    bays = bays or (Bay(),)
    t, say = inside.t, bench.goods.say
    room = inside.x[1] - inside.x[0] - t * (len(bays) - 1)
    if room <= 0:
        raise Mistake(
            f"what parts its {len(bays)} bays, {say(t)} thick, leaves nothing of an inside "
            f"{say(inside.x[1] - inside.x[0])} wide; make the carcass wider than "
            f"{bench.goods.at_least(t * (len(bays) + 1))}, or take a bay away"
        )
    widths = share_out([bay.width for bay in bays], room, bench.goods, [f"bay {n}" for n in range(1, len(bays) + 1)])
    if sum(widths, ZERO) != room:
        raise Mistake(
            f"the bays add up to {say(sum(widths, ZERO))} where the inside has {say(room)} beside its dividers; "
            "make one of them a share"
        )
    rooms: list[Room] = []
    x, upright = inside.x[0], "side left"
    for number, (bay, width) in enumerate(zip(bays, widths, strict=True), start=1):
        last = number == len(bays)
        following = "side right" if last else _divider(bench, rules, inside, number, x + width)
        rooms += _Stretch(bench, rules, inside, bay, number, (x, x + width), (upright, following)).rooms()
        x, upright = x + width + t, following
    return rooms


def _divider(bench: Bench, rules: Rules, inside: Inside, number: int, x: Fraction) -> str:
    sizes = (x, x + inside.t), (ZERO, inside.depth), inside.z
    place = bench.panel("divider", str(number), f"Divider {number}", rules.panel, *sizes, banded=True)
    housing = rules.housing(rules.divider_joint)
    bench.house(place, "bottom", housing)
    if rules.top == "panel":
        bench.house(place, "top", housing)
    if rules.top == "rails":
        bench.join(place, "rail front", "rail rear")
    return place


@dataclass(frozen=True, slots=True)
class _Stretch:
    """One bay where it lies: `x` between its uprights."""

    bench: Bench
    rules: Rules
    inside: Inside
    bay: Bay
    number: int
    x: Span
    uprights: tuple[str, str]

    def rooms(self) -> list[Room]:
        """Adds what parts its openings; returns these."""
        bay, rules, where = self.bay, self.rules, f"bay {self.number}"
        if bay.openings and (bay.fixed_shelves or bay.adjustable_shelves):
            raise Mistake(
                "it has openings, so its shelves belong to them: take fixed and adjustable shelves away", where
            )
        if bay.openings and bay.front != "open" and any(one.front != "open" for one in bay.openings):
            raise Mistake(
                "a door before the whole bay hides the fronts of its openings: let its front, or theirs, be open",
                where,
            )
        openings, heights = self._openings(where) if bay.openings else self._plain(where)
        rooms = []
        low, below = self.inside.z[0], "bottom"
        over = "top" if rules.top == "panel" else "rail front" if rules.top == "rails" else ""
        for n, (opening, height) in enumerate(zip(openings, heights, strict=True), start=1):
            last, high = n == len(openings), low + height
            above = over if last else self._parting(opening, n, len(openings), high)
            behind = self._behind(opening.front if bay.front == "open" else bay.front)
            x, z = self.x, (low, high)
            rooms.append(
                Room(self.number, n, len(openings), x, z, self.uprights, (below, above), opening, x, z, *behind)
            )
            low, below = high + (ZERO if last else self._thick(opening)), above
        return rooms

    def _thick(self, opening: Opening) -> Fraction:
        """Of what parts an opening from the next one up, mm."""
        shelf = self.bench.goods.of(self.rules.shelf_panel)
        return {"shelf": shelf, "rail": self.inside.t, "nothing": ZERO}[opening.above]

    def _behind(self, front: str) -> tuple[Fraction, Fraction]:
        """Thickness of an inset front, and where what is behind it can begin, mm."""
        rules, goods = self.rules, self.bench.goods
        if front == "open" or rules.fronts != "inset":
            return ZERO, ZERO
        thick = goods.of(rules.front_panel) - goods.framed(rules.face_frame)
        if thick <= 0:
            return ZERO, ZERO
        self._check_gap(thick)
        return thick, thick + rules.front_gap

    def _check_gap(self, thick: Fraction) -> None:
        """Raises Mistake where an inset front so thick, mm, and the gap behind it leave no depth."""
        gap, goods, free = self.rules.front_gap, self.bench.goods, self.inside.depth - thick
        if free <= 0:
            by = f" by more than {goods.at_least(-free)}" if free else ""
            raise Mistake(
                f"an inset front {goods.say(thick)} thick takes all of the depth; make the carcass deeper{by}"
            )
        if gap >= free:
            raise Mistake(
                f"a gap of {goods.say(gap)} behind an inset front leaves nothing of {goods.say(free)}; make front gap "
                f"less than {goods.at_most(free)}, {goods.usual('front gap')} is usual"
            )

    def _parting(self, opening: Opening, number: int, of: int, low: Fraction) -> str:
        """Adds the fixed shelf or the front rail over an opening; returns its place, empty where nothing parts it."""
        if opening.above == "nothing":
            return ""
        bench, rules, inside, bay = self.bench, self.rules, self.inside, self.number
        say, z, front = bench.goods.say, (low, low + self._thick(opening)), self._behind(self.bay.front)[1]
        role, word = ("shelf", "Shelf") if opening.above == "shelf" else ("rail", "Front rail")
        name = f"{word} {number}, bay {bay}" if bay > 1 or of > 2 else word
        at = f"bay {bay} no {number}"
        if role == "rail":
            check_rail(rules, bench.goods)
            if front + rules.rail_width > inside.depth:
                raise Mistake(
                    f"a rail {say(rules.rail_width)} wide does not fit in {say(inside.depth - front)}; make rail width "
                    f"{bench.goods.at_most(inside.depth - front)} or less{or_back_forward(rules, bench.goods)}",
                    f"bay {bay}",
                )
            place = bench.panel(role, at, name, rules.panel, self.x, (front, front + rules.rail_width), z, banded=True)
            bench.join(place, *self.uprights)
            return place
        if inside.nailer_before(z):
            raise Mistake(
                f"a fixed shelf at {say(low - inside.z[0])} lies where a nailer is; change its height, "
                "or make nailer height less",
                f"bay {bay}",
            )
        place = bench.panel(role, at, name, rules.shelf_panel, self.x, (front, inside.depth), z, banded=True)
        for upright in self.uprights:
            bench.house(place, upright, rules.housing(rules.shelf_joint))
        return place

    def _openings(self, where: str) -> tuple[tuple[Opening, ...], list[Fraction]]:
        """The bay's openings and their heights."""
        openings, goods, z = self.bay.openings, self.bench.goods, self.inside.z
        room = z[1] - z[0] - sum((self._thick(one) for one in openings[:-1]), ZERO)
        if room <= 0:
            by = f" by more than {goods.at_least(-room)}" if room else ""
            raise Mistake(
                f"what parts its {len(openings)} openings leaves nothing of an inside {goods.say(z[1] - z[0])} high; "
                f"make the carcass higher{by}, or take an opening away",
                where,
            )
        places = [f"{where}, opening {n}" for n in range(1, len(openings) + 1)]
        heights = share_out([one.height for one in openings], room, goods, places, "height")
        total = sum(heights, ZERO)
        if total != room:
            raise Mistake(
                f"the openings add up to {goods.say(total)} where the inside has {goods.say(room)} beside what parts "
                "them; make one of them a share",
                where,
            )
        return openings, heights

    def _plain(self, where: str) -> tuple[tuple[Opening, ...], list[Fraction]]:
        """A bay of shelves alone as openings: those that can be moved are in the highest of them."""
        goods, z, loose = self.bench.goods, self.inside.z, self.bay.adjustable_shelves
        t = goods.of(self.rules.shelf_panel)
        undersides = _fixed_heights(self.bay, goods, t, z, where)
        lows, highs = [z[0], *(up + t for up in undersides)], [*undersides, z[1]]
        heights = [high - low for low, high in zip(lows, highs, strict=True)]
        highest = heights.index(max(heights))
        openings = tuple(
            Opening(above="shelf", adjustable_shelves=loose if n == highest else 0) for n in range(len(heights))
        )
        return openings, heights


def _fixed_heights(bay: Bay, goods: Goods, t: Fraction, z: Span, where: str) -> list[Fraction]:
    """Undersides of the fixed shelves, upwards."""
    asked = bay.fixed_shelves
    if asked and all(text.strip() == "even" for text in asked):
        return evenly(len(asked), t, z, goods.say, where)
    if any(text.strip() == "even" for text in asked):
        raise Mistake("give every fixed shelf its height, or call every one of them even", where)
    heights = sorted(z[0] + goods.size(text, f"{where}, fixed shelf") for text in asked)
    if heights and heights[0] <= z[0]:
        raise Mistake("a fixed shelf lies on the bottom; its height counts from there, so make it more", where)
    for below, above in pairwise(heights):
        if above < below + t:
            low, high = below - z[0], above - z[0]
            raise Mistake(
                f"the fixed shelf at {goods.say(high)} lies in the one at {goods.say(low)}, {goods.say(t)} thick; make "
                f"its height {goods.at_least(low + t)} or more, or take it away",
                where,
            )
    if heights and heights[-1] + t > z[1]:
        most = z[1] - t - z[0]
        mend = f"make its height {goods.at_most(most)} or less" if most > 0 else "take it away"
        raise Mistake(
            f"the fixed shelf at {goods.say(heights[-1] - z[0])}, {goods.say(t)} thick, does not lie in an inside "
            f"{goods.say(z[1] - z[0])} high; {mend}",
            where,
        )
    return heights


def evenly(count: int, t: Fraction, z: Span, say: Callable[[Fraction], str], where: str) -> list[Fraction]:
    """Undersides of `count` shelves that leave equal openings in `z`, mm. Raises Mistake where none is left."""
    opening = (z[1] - z[0] - count * t) / (count + 1)
    if opening <= 0:
        shelves, most = "1 shelf" if count == 1 else f"{count} shelves", ceil((z[1] - z[0]) / t) - 1
        mend = f"take {most} or fewer" if most > 0 else "take none"
        raise Mistake(f"{shelves} {say(t)} thick would leave no opening in {say(z[1] - z[0])}; {mend}", where)
    return [z[0] + opening * n + t * (n - 1) for n in range(1, count + 1)]
