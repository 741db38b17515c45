"""What construction works with: the goods at hand, and a bench where panels and joints come together."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from core.construction.part import Axis, BandedEdge, Box, Machining, Part, Side
from core.formulas import Names, read_share
from core.goods import Material
from core.mistakes import Mistake

ZERO = Fraction(0)
Say = Callable[[Fraction], str]
WORDS: Mapping[Axis, str] = {"x": "wide", "y": "deep", "z": "high"}
STANDS: Mapping[str, tuple[Axis, Axis]] = {
    **dict.fromkeys(("side", "divider"), ("x", "z")),
    "back": ("y", "z"),
    **dict.fromkeys(("bottom", "top", "rail", "shelf", "loose shelf", "worktop"), ("z", "x")),
    **dict.fromkeys(("kick", "plinth"), ("y", "x")),
    "plinth end": ("x", "y"),
}
"""The axis of each role's thickness, and the one along which its face grain runs."""


@dataclass(frozen=True, slots=True)
class Joint:
    """Two parts, by their places, that meet: `play` mm apart, or touching over a real area where it is 0."""

    one: str
    other: str
    play: Fraction = ZERO


@dataclass(frozen=True, slots=True)
class Built:
    """The parts of one thing and how they meet. A part's place names it within the thing: `side left`."""

    parts: tuple[Part, ...]
    joints: tuple[Joint, ...]


@dataclass(frozen=True, slots=True)
class Goods:
    """What construction asks of the project's goods: actual thicknesses in mm, and whether a material has grain."""

    thickness: Mapping[str, Fraction]
    materials: Mapping[str, Material]
    banding: Mapping[str, Fraction]
    names: Names
    say: Say
    """A length in the project's own notation, for sentences."""

    def size(self, text: str, where: str) -> Fraction:
        """A size as typed, mm; Mistake, saying where, if it cannot be read or is negative."""
        return self.names.length(text, where=where, least=ZERO)

    def of(self, material: str) -> Fraction:
        """Actual thickness, mm; Mistake for a material that the project lacks."""
        if material not in self.thickness:
            raise Mistake(f"there is no material {material!r} in the project; it has {', '.join(self.materials)}")
        return self.thickness[material]


def place_of(part: Part) -> str:
    """A part's name within its carcass: role and place."""
    return f"{part.role} {part.place}".strip()


class Bench:
    """Where one carcass is put together: collects panels and joints, and refuses a panel that has no size."""

    def __init__(self, owner: str, goods: Goods, band: str) -> None:
        self.owner = owner
        self.goods = goods
        self.band = band
        self.parts: list[Part] = []
        self.joints: list[Joint] = []

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
    ) -> Part:
        """Adds a panel that fills x, y, z; `banded` bands its front edge."""
        box = Box((x[0], y[0], z[0]), (x[1], y[1], z[1]))
        for axis, words in WORDS.items():
            if box.span(axis) <= 0:
                size = self.goods.say(box.span(axis))
                raise Mistake(f"the {name.lower()} would be {size} {words}; the sizes or rules leave no room for it")
        part = _lie(self.owner, role, place, name, material, box, self.goods.materials[material].grain)
        if banded and self.band:
            side: Side = "width-" if part.width_axis == "y" else "length-"
            part = replace(part, edges=(BandedEdge(side, self.band, self.goods.banding[self.band]),))
            if min(part.blank_length, part.blank_width) <= 0:
                raise Mistake(f"the {name.lower()} would be all banding; make it deeper, or the banding thinner")
        self.parts.append(part)
        return part

    def join(self, one: str, *others: str, play: Fraction = ZERO) -> None:
        """Says that `one` meets each of `others`."""
        self.joints += [Joint(one, other, play) for other in others]


def _lie(owner: str, role: str, place: str, name: str, material: str, box: Box, grained: bool) -> Part:
    """A part in its box: length along the grain where the material has one, else along the longer side."""
    thin, grain = STANDS[role]
    flat: list[Axis] = [axis for axis in WORDS if axis != thin]
    if not grained:
        grain = max(flat, key=box.span)
    (across,) = (axis for axis in flat if axis != grain)
    return Part(owner, role, place, name, material, box, grain, across, "length" if grained else "none")


def share_out(texts: Sequence[str], room: Fraction | None, goods: Goods, where: Sequence[str]) -> list[Fraction]:
    """Sizes for a row of texts, mm: lengths as they are, shares in proportion out of what they leave of `room`.

    Raises Mistake where nothing is left for the shares, or `room` is not known, or a size is not more than nothing.
    """
    shares = [_share(text, place) for text, place in zip(texts, where, strict=True)]
    sizes = [
        ZERO if share is not None else goods.size(text, f"{place}, width")
        for text, share, place in zip(texts, shares, where, strict=True)
    ]
    for size, share, place in zip(sizes, shares, where, strict=True):
        if share is None and not size:
            raise Mistake(f"a width of {goods.say(size)} is no width", place)
    total = sum((share for share in shares if share is not None), ZERO)
    if not total:
        return sizes
    if room is None:
        raise Mistake("there is a share of a width that is not known: read a width of the space, or type one")
    left = room - sum(sizes, ZERO)
    if left <= 0:
        raise Mistake(
            f"nothing is left to share: {goods.say(sum(sizes, ZERO))} is asked for out of {goods.say(room)}; "
            "make one narrower"
        )
    return [size if share is None else left * share / total for size, share in zip(sizes, shares, strict=True)]


def _share(text: str, place: str) -> Fraction | None:
    try:
        return read_share(text)
    except Mistake as mistake:
        raise mistake.at(f"{place}, width") from None


def take_out(part: Part, block: Box, place: str) -> Part:
    """The part with what `block` covers of it cut away: a notch if right through, else a rabbet in one face."""

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
        kind="notch" if full else "rabbet",
        place=place,
        x=x[0],
        y=y[0],
        length=x[1] - x[0],
        width=y[1] - y[0],
        depth=None if full else through[1] - through[0],
        face=None if full else "low" if through[0] == 0 else "high",
    )
    return replace(part, machining=(*part.machining, cut))
