"""The bench of construction, where panels and joints come together.

A housed joint is said once, by `Bench.house`. When every panel stands, `grow` makes what is housed
longer, and `cut_housings` takes its place out of the mate: what goes in is measured, never assumed.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from types import MappingProxyType
from typing import Literal

from core.construction.goods import ZERO, Goods
from core.construction.part import Axis, BandedEdge, Box, Hand, Holes, Machining, Part, Side
from core.construction.rule_book import Grain, Housing
from core.formulas import read_share
from core.mistakes import Mistake

WORDS: Mapping[Axis, str] = {"x": "wide", "y": "deep", "z": "high"}
STANDS: Mapping[str, tuple[Axis, Axis]] = {
    **dict.fromkeys(("side", "divider", "end panel"), ("x", "z")),
    **dict.fromkeys(("back", "door", "filler", "stile"), ("y", "z")),
    **dict.fromkeys(("bottom", "top", "rail", "shelf", "loose shelf", "worktop", "drawer bottom"), ("z", "x")),
    **dict.fromkeys(
        ("kick", "plinth", "nailer", "drawer front", "false front", "drawer end", "frame rail"), ("y", "x")
    ),
    **dict.fromkeys(("plinth end", "drawer side"), ("x", "y")),
}
"""The axis of each role's thickness, and the one along which its face grain runs."""
FOR, AND = "for the ", " and the "
"""How the place begins of what is cut out for something, and what is between two of these in one cut."""
AS_USUAL: Mapping[str, Grain] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class Joint:
    """Two parts, by their places, that meet: `play` mm apart, or touching over a real area where it is 0."""

    one: str
    other: str
    play: Fraction = ZERO


@dataclass(frozen=True, slots=True)
class Slide:
    """A drawer: its parts, by their places, and how far they come out, mm."""

    parts: tuple[str, ...]
    travel: Fraction


@dataclass(frozen=True, slots=True)
class Swing:
    """A door, by its place, and the side on which it is hinged."""

    part: str
    hinged: Hand


Mover = Slide | Swing


@dataclass(frozen=True, slots=True)
class Built:
    """The parts of one thing, what of them moves, and how they meet.

    A part's place names it within the thing: `side left`.
    """

    parts: tuple[Part, ...]
    joints: tuple[Joint, ...]
    movers: tuple[Mover, ...] = ()


def place_of(part: Part) -> str:
    """A part's name within its carcass: role and place."""
    return f"{part.role} {part.place}".strip()


@dataclass(frozen=True, slots=True)
class _Housed:
    """The end of `one` goes into a face of `other`."""

    one: str
    other: str
    how: Housing
    at_high: bool
    """It is the end of `one` at the high end of the axis that goes in."""


class Bench:
    """Where one thing is put together: collects panels and joints, and refuses a panel that has no size."""

    def __init__(self, owner: str, goods: Goods, band: str, grain: Mapping[str, Grain] = AS_USUAL) -> None:
        """`grain`: how it runs where the rules have it otherwise than usual, by the place or the role of a panel."""
        self.owner = owner
        self.goods = goods
        self.band = band
        self.grain = grain
        self.parts: dict[str, Part] = {}
        """By their places."""
        self.joints: list[Joint] = []
        self.movers: list[Mover] = []
        self._housed: list[_Housed] = []

    def panel(
        self,
        role: str,
        place: str,
        name: str,
        material: str,
        x: tuple[Fraction, Fraction],
        y: tuple[Fraction, Fraction],
        z: tuple[Fraction, Fraction],
        *,
        banded: bool = False,
        all_round: str = "",
        hand: Hand | None = None,
    ) -> str:
        """Adds a panel that fills x, y, z; returns its place.

        `banded` bands its front edge; `all_round` all four, with what it names.
        """
        box = Box((x[0], y[0], z[0]), (x[1], y[1], z[1]))
        for axis, words in WORDS.items():
            if box.span(axis) <= 0:
                size = self.goods.say(box.span(axis))
                raise Mistake(f"the {name.lower()} would be {size} {words}; the sizes or rules leave no room for it")
        runs = self.grain.get(f"{role} {place}") or self.grain.get(role)
        grained = self.goods.has_grain(material) and runs != "either way"
        part = _lie(self.owner, role, place, name, material, box, grained, runs == "horizontal")
        sides: tuple[Side, ...] = ()
        if all_round:
            sides = ("length-", "length+", "width-", "width+")
        elif banded and self.band:
            sides = ("width-",) if part.width_axis == "y" else ("length-",)
        band = all_round or self.band
        edges = tuple(BandedEdge(side, band, self.goods.banding[band]) for side in sides)
        part = replace(part, edges=edges, hand=hand)
        if min(part.blank_length, part.blank_width) <= 0:
            raise Mistake(f"the {name.lower()} would be all banding; make it deeper, or the banding thinner")
        self.parts[place_of(part)] = part
        return place_of(part)

    def join(self, one: str, *others: str, play: Fraction = ZERO) -> None:
        """Says that `one` meets each of `others`."""
        self.joints += [Joint(one, other, play) for other in others]

    def house(self, one: str, other: str, how: Housing) -> None:
        """Lets the end of `one`, which stands against a face of `other`, into it.

        Stopped, the front corner of `one` is notched, and nothing shows from the front. Raises Mistake for a
        housing that is too deep.
        """
        self.join(one, other)
        if not how.depth:
            return
        mate, part = self.parts[other], self.parts[one]
        if how.depth > mate.thickness / 2:
            raise Mistake(
                f"a housing {self.goods.say(how.depth)} deep for the {part.name.lower()} is more than half of the "
                f"{mate.name.lower()}, {self.goods.say(mate.thickness)} thick; make dado depth "
                f"{self.goods.at_most(mate.thickness / 2)} or less"
            )
        axis = mate.thickness_axis
        self._housed.append(_Housed(one, other, how, part.box.start(axis) < mate.box.start(axis)))

    def grow(self) -> None:
        """Makes every part longer by what goes into its mates."""
        for one in self._housed:
            axis = "xyz".index(self.parts[one.other].thickness_axis)
            part = self.parts[one.one]
            low, high = list(part.box.low), list(part.box.high)
            if one.at_high:
                high[axis] += one.how.depth
            else:
                low[axis] -= one.how.depth
            self.parts[one.one] = replace(part, box=Box((low[0], low[1], low[2]), (high[0], high[1], high[2])))

    def cut_housings(self) -> None:
        """Takes the place of every housed end out of its mate. Nothing may grow after it."""
        for one in self._housed:
            part, mate = self.parts[one.one], self.parts[one.other]
            low = [max(a, b) for a, b in zip(part.box.low, mate.box.low, strict=True)]
            high = [min(a, b) for a, b in zip(part.box.high, mate.box.high, strict=True)]
            if one.how.stop:
                front = low.copy()
                front[1] = min(low[1] + one.how.stop, high[1])
                if front[1] == high[1]:
                    raise Mistake(
                        f"a stopped dado would leave nothing of the {part.name.lower()}; make dado stop less than "
                        f"{self.goods.at_most(high[1] - low[1])}"
                    )
                corner = _corner(part, "xyz".index(mate.thickness_axis), one.at_high)
                notch = Box((low[0], low[1], low[2]), (high[0], front[1], high[2]))
                self.parts[one.one] = take_out(part, notch, corner)
                low[1] = front[1]
            high["xyz".index(part.thickness_axis)] += one.how.play
            block = Box((low[0], low[1], low[2]), (high[0], high[1], high[2]))
            self.parts[one.other] = take_out(mate, block, f"for the {part.name.lower()}")
        for part in self.parts.values():
            _check_web(part, self.goods)

    def bore(self, place: str, holes: Holes) -> None:
        """Adds a row of holes to a part."""
        self.parts[place] = replace(self.parts[place], holes=(*self.parts[place].holes, holes))

    def built(self) -> Built:
        """What stands on the bench."""
        return Built(tuple(self.parts.values()), tuple(self.joints), tuple(self.movers))


def _corner(part: Part, axis: int, at_high: bool) -> str:
    """`left front corner`, `upper front corner`."""
    words = (("left", "right"), ("", ""), ("lower", "upper"))[axis]
    return f"{words[at_high]} front corner"


LEAST_WEB = Fraction(1, 4)
"""Of a board's thickness, what must be left between cuts into its two faces: dadoes 1/4 in deep leave 5.3 mm of a
divider of 18 mm, which is everyday work, and a little less of plywood thinner than it is sold as; common practice, no
source."""


def _check_web(part: Part, goods: Goods) -> None:
    """Raises Mistake where cuts into both faces, one behind the other, leave too little between them."""
    say = goods.say
    for one in part.machining:
        for other in part.machining:
            if one.face != "low" or other.face != "high" or one.depth is None or other.depth is None:
                continue
            beside = (
                one.x + one.length <= other.x
                or other.x + other.length <= one.x
                or one.y + one.width <= other.y
                or other.y + other.width <= one.y
            )
            web = part.thickness - one.depth - other.depth
            if not beside and web < LEAST_WEB * part.thickness:
                most = part.thickness * (1 - LEAST_WEB) / 2
                raise Mistake(
                    f"cuts into both faces of the {part.name.lower()} would leave {say(web)} of {say(part.thickness)} "
                    f"between them; make dado depth {goods.at_most(most)} or less, or one of the shelves higher"
                )


def _lie(
    owner: str, role: str, place: str, name: str, material: str, box: Box, grained: bool, horizontal: bool
) -> Part:
    """A part in its box: length along the grain where it has one that matters, else along the longer side."""
    thin, grain = STANDS[role]
    flat: list[Axis] = [axis for axis in WORDS if axis != thin]
    if horizontal:
        grain = "x"
    if not grained:
        grain = max(flat, key=box.span)
    (across,) = (axis for axis in flat if axis != grain)
    return Part(owner, role, place, name, material, box, grain, across, "length" if grained else "none")


def share_out(
    texts: Sequence[str], room: Fraction | None, goods: Goods, where: Sequence[str], word: str = "width"
) -> list[Fraction]:
    """Sizes for a row of texts, mm: lengths as they are, shares in proportion out of what they leave of `room`.

    Raises Mistake where nothing is left for the shares, or `room` is not known, or a size is not more than nothing.
    """
    shares = [_share(text, f"{place}, {word}") for text, place in zip(texts, where, strict=True)]
    sizes = [
        ZERO if share is not None else goods.size(text, f"{place}, {word}")
        for text, share, place in zip(texts, shares, where, strict=True)
    ]
    for size, share, place in zip(sizes, shares, where, strict=True):
        if share is None and not size:
            raise Mistake(f"a {word} of {goods.say(size)} is no {word}", place)
    total = sum((share for share in shares if share is not None), ZERO)
    if not total:
        return sizes
    if room is None:
        raise Mistake(f"there is a share of a {word} that is not known: read a {word} of the space, or type one")
    left = room - sum(sizes, ZERO)
    if left <= 0:
        by = f" by more than {goods.at_least(-left)}" if left else ""
        raise Mistake(
            f"nothing is left to share: {goods.say(sum(sizes, ZERO))} is asked for out of {goods.say(room)}; "
            f"make one {'narrower' if word == 'width' else 'lower'}{by}"
        )
    return [size if share is None else left * share / total for size, share in zip(sizes, shares, strict=True)]


def _share(text: str, place: str) -> Fraction | None:
    try:
        return read_share(text)
    except Mistake as mistake:
        raise mistake.at(place) from None


def take_out(part: Part, block: Box, place: str) -> Part:
    """The part with what `block` covers of it cut away. Of two cuts right through, one in the other, one is made."""

    def cover(axis: Axis) -> tuple[Fraction, Fraction]:
        i = "xyz".index(axis)
        start = part.box.low[i]
        return max(block.low[i], start) - start, min(block.high[i], part.box.high[i]) - start

    x, y, through = cover(part.length_axis), cover(part.width_axis), cover(part.thickness_axis)
    if min(x[1] - x[0], y[1] - y[0], through[1] - through[0]) <= 0:
        return part
    if place.endswith("corner") and (y[1] - y[0] >= part.width or x[1] - x[0] >= part.length):
        raise Mistake(f"the notch at the {place} takes the whole of the {part.name.lower()}; make it smaller")
    full = through == (ZERO, part.thickness)
    cut = Machining(
        kind=_kind_of_cut(part, x, y, full),
        place=place,
        x=x[0],
        y=y[0],
        length=x[1] - x[0],
        width=y[1] - y[0],
        depth=None if full else through[1] - through[0],
        face=None if full else "low" if through[0] == 0 else "high",
    )
    kept = []
    for other in part.machining:
        outer = _outer(cut, other) if full and other.depth is None else None
        if outer is None:
            kept.append(other)
        else:
            cut = outer
    return replace(part, machining=(*kept, cut))


def _outer(one: Machining, other: Machining) -> Machining | None:
    """Of two cuts right through the one in which the other lies, named for both where each is for something."""
    for outer, inner in ((one, other), (other, one)):
        along = outer.x <= inner.x and inner.x + inner.length <= outer.x + outer.length
        if along and outer.y <= inner.y and inner.y + inner.width <= outer.y + outer.width:
            both = outer.place.startswith(FOR) and inner.place.startswith(FOR)
            wanted = inner.place.removeprefix(FOR)
            if both and wanted not in things_cut_for(outer):
                return replace(outer, place=f"{outer.place}{AND}{wanted}")
            return outer
    return None


def things_cut_for(cut: Machining) -> list[str]:
    """What a cut is for, as its place names it; none for one that is at a corner or an edge."""
    if not cut.place.startswith(FOR):
        return []
    whole = cut.place.removeprefix(FOR)
    return [whole, *(whole.split(AND) if AND in whole else [])]


def _kind_of_cut(
    part: Part, x: tuple[Fraction, Fraction], y: tuple[Fraction, Fraction], full: bool
) -> Literal["notch", "cutout", "rabbet", "dado", "groove"]:
    """What the trade calls a cut from where to where along and across a panel; `full`: right through."""
    at_end = x[0] == 0 or x[1] == part.length
    at_edge = y[0] == 0 or y[1] == part.width
    if full:
        return "notch" if at_end or at_edge else "cutout"
    if x[1] - x[0] >= y[1] - y[0]:
        return "rabbet" if at_edge else "groove"
    return "rabbet" if at_end else "dado"
