"""The inside of a carcass: bays between dividers, and in each bay openings from the bottom up.

A plain bay says its fixed shelves by height and how many others can be moved; openings say what
is in each and before it. Either way the outcome is rooms: empty boxes, each with what bounds it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from core.construction.bench import ZERO, Bench, Goods, Say, share_out
from core.construction.rule_book import Rules
from core.mistakes import Mistake
from core.project import Bay, Opening

Span = tuple[Fraction, Fraction]
"""From where to where, mm."""


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
    face: Fraction = ZERO
    """Where fronts lie on: the front edges, or the face of a frame before them."""

    def nailers(self) -> list[Span]:
        """From where to where nailers stand, upwards."""
        floor, ceiling = self.z
        below = [(floor, floor + self.nailer_height)] if self.nailed_below else []
        return [*below, (ceiling - self.nailer_height, ceiling)] if self.nailer_height else []

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
        rooms += _rooms(bench, bay, number, rules, inside, (x, x + width), (upright, following))
        x, upright = x + width + t, following
    return rooms


def _divider(bench: Bench, rules: Rules, inside: Inside, number: int, x: Fraction) -> str:
    place = bench.panel(
        "divider",
        str(number),
        f"Divider {number}",
        rules.panel,
        (x, x + inside.t),
        (ZERO, inside.depth),
        inside.z,
        banded=True,
    )
    depth, stop = rules.housing(rules.divider_joint)
    bench.house(place, "bottom", depth, stop, rules.dado_play)
    if rules.top == "panel":
        bench.house(place, "top", depth, stop, rules.dado_play)
    if rules.top == "rails":
        bench.join(place, "rail front", "rail rear")
    return place


def _rooms(
    bench: Bench,
    bay: Bay,
    number: int,
    rules: Rules,
    inside: Inside,
    x: Span,
    uprights: tuple[str, str],
) -> list[Room]:
    """The bay's openings with what parts them."""
    goods, where = bench.goods, f"bay {number}"
    t = goods.of(rules.shelf_panel)
    if bay.openings and (bay.fixed_shelves or bay.adjustable_shelves):
        raise Mistake("it has openings, so its shelves belong to them: take fixed and adjustable shelves away", where)
    if bay.openings and bay.front != "open" and any(one.front != "open" for one in bay.openings):
        raise Mistake("a door before the whole bay hides the fronts of its openings: let one of them be open", where)
    front_line = _behind(bay.front, rules, goods)[1]
    openings, heights = (
        _openings(bay, goods, rules, inside, where) if bay.openings else _plain(bay, goods, t, inside.z, where)
    )
    rooms = []
    parted = {"shelf": t, "rail": inside.t, "nothing": ZERO}
    low, below = inside.z[0], "bottom"
    over = "top" if rules.top == "panel" else "rail front" if rules.top == "rails" else ""
    for n, (opening, height) in enumerate(zip(openings, heights, strict=True), start=1):
        last = n == len(openings)
        z = (low, low + height)
        above = over if last else ""
        if not last and opening.above != "nothing":
            lying = (z[1], z[1] + parted[opening.above])
            above = _parting(bench, opening, number, n, len(openings), rules, inside, (x, lying), uprights, front_line)
        behind = _behind(opening.front if bay.front == "open" else bay.front, rules, goods)
        rooms.append(Room(number, n, len(openings), x, z, uprights, (below, above), opening, x, z, *behind))
        low, below = z[1] + (ZERO if last else parted[opening.above]), above
    return rooms


def _behind(front: str, rules: Rules, goods: Goods) -> tuple[Fraction, Fraction]:
    """Thickness of an inset front, and where what is behind it can begin, mm."""
    if front == "open" or rules.fronts != "inset":
        return ZERO, ZERO
    thick = goods.of(rules.front_panel) - (goods.section(rules.face_frame).thickness if rules.face_frame else ZERO)
    return (thick, thick + rules.front_gap) if thick > 0 else (ZERO, ZERO)


def _parting(
    bench: Bench,
    opening: Opening,
    bay: int,
    number: int,
    of: int,
    rules: Rules,
    inside: Inside,
    at: tuple[Span, Span],
    uprights: tuple[str, str],
    front_line: Fraction,
) -> str:
    """A fixed shelf or a front rail over an opening."""
    (x, z), goods = at, bench.goods
    role, word = ("shelf", "Shelf") if opening.above == "shelf" else ("rail", "Front rail")
    name = f"{word} {number}, bay {bay}" if bay > 1 or of > 2 else word
    if opening.above == "rail":
        if front_line + rules.rail_width > inside.depth:
            raise Mistake(f"a rail {goods.say(rules.rail_width)} wide does not fit; make rail width less", f"bay {bay}")
        y = (front_line, front_line + rules.rail_width)
        place = bench.panel(role, f"bay {bay} no {number}", name, rules.panel, x, y, z, banded=True)
        bench.join(place, *uprights)
        return place
    if inside.nailer_before(z):
        raise Mistake(
            f"a fixed shelf at {goods.say(z[0] - inside.z[0])} lies where a nailer is; change its height, "
            "or make nailer height less",
            f"bay {bay}",
        )
    y = (front_line, inside.depth)
    place = bench.panel(role, f"bay {bay} no {number}", name, rules.shelf_panel, x, y, z, banded=True)
    depth, stop = rules.housing(rules.shelf_joint)
    for upright in uprights:
        bench.house(place, upright, depth, stop, rules.dado_play)
    return place


def _openings(
    bay: Bay, goods: Goods, rules: Rules, inside: Inside, where: str
) -> tuple[tuple[Opening, ...], list[Fraction]]:
    """The bay's openings and their heights."""
    parted = {"shelf": goods.of(rules.shelf_panel), "rail": inside.t, "nothing": ZERO}
    between = sum((parted[one.above] for one in bay.openings[:-1]), ZERO)
    room = inside.z[1] - inside.z[0] - between
    places = [f"{where}, opening {n}" for n in range(1, len(bay.openings) + 1)]
    heights = share_out([one.height for one in bay.openings], room, goods, places, "height")
    total = sum(heights, ZERO)
    if total != room:
        raise Mistake(
            f"the openings add up to {goods.say(total)} where the inside has {goods.say(room)} beside what parts "
            "them; make one of them a share",
            where,
        )
    return bay.openings, heights


def _plain(bay: Bay, goods: Goods, t: Fraction, z: Span, where: str) -> tuple[tuple[Opening, ...], list[Fraction]]:
    """A bay of shelves alone as openings: those that can be moved are in the highest of them."""
    undersides = _fixed_heights(bay, goods, t, z, where)
    lows, highs = [z[0], *(up + t for up in undersides)], [*undersides, z[1]]
    heights = [high - low for low, high in zip(lows, highs, strict=True)]
    highest = heights.index(max(heights))
    openings = tuple(
        Opening(above="shelf", adjustable_shelves=bay.adjustable_shelves if n == highest else 0)
        for n in range(len(heights))
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
    for below, above in zip([z[0], *(up + t for up in heights)], [*heights, z[1]], strict=True):
        if above < below:
            raise Mistake("a fixed shelf lies in another, or outside the carcass; change its height", where)
    return heights


def evenly(count: int, t: Fraction, z: Span, say: Say, where: str) -> list[Fraction]:
    """Undersides of `count` shelves that leave equal openings in `z`, mm. Raises Mistake where none is left."""
    opening = (z[1] - z[0] - count * t) / (count + 1)
    if opening <= 0:
        shelves = "1 shelf" if count == 1 else f"{count} shelves"
        raise Mistake(f"{shelves} {say(t)} thick would leave no opening in {say(z[1] - z[0])}", where)
    return [z[0] + opening * n + t * (n - 1) for n in range(1, count + 1)]
