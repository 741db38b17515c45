"""Tops over the row: in one layer or two glued all over, in pieces where no sheet is long enough.

Pieces meet over an upright, and those of two layers never over the same one: a seam is held
together by the layer that runs past it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import combinations, pairwise

from core.construction.bench import Bench, Built
from core.construction.goods import ZERO, Goods
from core.construction.part import Part
from core.construction.row import Standing, depth_of
from core.construction.rule_book import Rules
from core.mistakes import Mistake
from core.project import Top

Seams = tuple[Fraction, ...]
"""Where the pieces of a layer meet, from left to right, mm."""


MOST_WAYS = 60
"""Ways to part a layer that are paired with each other, the best first."""


def build_top(top: Top, standing: tuple[Standing, ...], goods: Goods, parts: Sequence[Part]) -> Built:
    """A top over the items from `first` to `last`; `parts` are those of the row, on whose uprights its pieces meet.

    It runs from the rear plane to its overhang beyond the deepest carcass that it covers, and
    needs its carcasses to be of one height. Raises Mistake otherwise.
    """
    covered = _covered(top, standing)
    carcasses = [item for item in covered if item.height]
    heights = {item.height for item in carcasses}
    if len(heights) != 1:
        told = ", ".join(f"{item.item.id} {goods.say(item.height)}" for item in carcasses)
        raise Mistake(f"it rests on carcasses of different heights ({told}); give them one height, or make two tops")
    if not 1 <= top.layers <= 2:
        raise Mistake(f"{top.layers} layers; a top has one layer or two")
    overhangs = {}
    for end in ("front", "left", "right"):
        overhangs[end] = goods.size(getattr(top, f"overhang_{end}"), f"overhang {end}")
    depth = max(item.outside.depth for item in carcasses)
    row_depth = depth_of(standing)
    (z,) = heights
    t = goods.of(top.material)
    if top.banding and top.banding not in goods.banding:
        raise Mistake(f"there is no banding {top.banding!r} in the project")
    bench = Bench(top.id, goods, top.banding)
    x = (covered[0].x - overhangs["left"], covered[-1].right + overhangs["right"])
    y = (row_depth - depth - overhangs["front"], row_depth)
    allowance = goods.size(top.trim_flush, "trim flush")
    layers: list[list[str]] = []
    ids = {item.item.id for item in carcasses}
    uprights = [part for part in parts if part.role in ("side", "divider") and part.carcass in ids]
    # The upper layer is what is seen, so it is named first.
    names = ("lower", "upper")[2 - top.layers :]
    for layer, seams in zip(names, _seams(top, uprights, x, allowance, goods), strict=True):
        places = []
        for number, ends in enumerate(pairwise((x[0], *seams, x[1])), start=1):
            words = [layer] * (top.layers > 1) + [str(number)] * bool(seams)
            told = f"{layer} layer" if top.layers > 1 else ""
            name = ", ".join(word for word in (top.name, told, f"piece {number}" if seams else "") if word)
            place = bench.panel("worktop", " ".join(words), name, top.material, ends, y, (z, z + t), banded=True)
            places.append(place)
            if layer == "lower" and top.layers > 1 and allowance:
                outer = tuple(at_high for at_high in (False, True) if ends[at_high] == x[at_high])
                bench.parts[place] = _larger(bench.parts[place], allowance, outer)
        for left, right in pairwise(places):
            bench.join(left, right)
        layers.append(places)
        z += t
    if len(layers) == 2:
        for low in layers[0]:
            lapping = (up for up in layers[1] if bench.parts[low].box.common(bench.parts[up].box)[0] > 0)
            bench.join(low, *lapping)
    return bench.built()


def _larger(part: Part, allowance: Fraction, ends: tuple[bool, ...]) -> Part:
    """The part as it is cut: larger in front and at the back, and at these of its ends, each told as at the right."""
    sides = [part.side_at("x", at_right) for at_right in ends]
    sides += [part.side_at("y", at_back) for at_back in (False, True)]
    return replace(part, allowances=tuple((side, allowance) for side in sides))


def _seams(
    top: Top, uprights: Sequence[Part], x: tuple[Fraction, Fraction], allowance: Fraction, goods: Goods
) -> list[Seams]:
    """Where the pieces of each layer meet, the lower layer first. Raises Mistake where they cannot."""
    longest = goods.longest.get(top.material)
    length = x[1] - x[0] + 2 * (allowance if top.layers == 2 else ZERO)
    if longest is None or length <= longest:
        return [()] * top.layers
    where = [place for place in _meeting_places(uprights) if x[0] < place < x[1]]
    # What trimming takes off is counted at both ends of every piece: it is little.
    spare = 2 * (allowance if top.layers == 2 else ZERO)
    ways: list[Seams] = []
    for count in range(1, len(where) + 1):
        fitting = [
            seams
            for seams in combinations(where, count)
            if all(b - a + spare <= longest for a, b in pairwise((x[0], *seams, x[1])))
        ]
        # The fewest pieces, and for a second layer one more, so that it can meet elsewhere.
        if fitting and ways:
            ways += fitting
            break
        ways = fitting

    def shortest(*layers: Seams) -> Fraction:
        return min(b - a for seams in layers for a, b in pairwise((x[0], *seams, x[1])))

    # Few pieces, and of those ways the one whose shortest piece is longest.
    if ways and top.layers == 1:
        return [min(ways, key=lambda seams: (len(seams), -shortest(seams)))]
    best = sorted(ways, key=lambda seams: (len(seams), -shortest(seams)))[:MOST_WAYS]
    pairs = combinations(best, 2)
    for lower, upper in sorted(pairs, key=lambda pair: (len(pair[0]) + len(pair[1]), -shortest(*pair))):
        if not set(lower) & set(upper):
            return [lower, upper]
    said = f"it is {goods.say(length)} long and the longest sheet gives {goods.say(longest)}"
    if ways:
        raise Mistake(f"{said}: its two layers would meet over the same upright; make it two tops, or take one layer")
    raise Mistake(f"{said}, and no upright stands where its pieces could meet; make it two tops, or add a longer sheet")


def _meeting_places(uprights: Sequence[Part]) -> list[Fraction]:
    """Where pieces can meet: between two carcasses that touch, else over the middle of an upright, mm."""
    between = {part.box.low[0] for part in uprights} & {part.box.high[0] for part in uprights}
    alone = [part.box for part in uprights if not between & {part.box.low[0], part.box.high[0]}]
    return sorted(between | {(box.low[0] + box.high[0]) / 2 for box in alone})


def _covered(top: Top, standing: tuple[Standing, ...]) -> tuple[Standing, ...]:
    ids = [place.item.id for place in standing]
    for end in (top.first, top.last):
        if end and end not in ids:
            raise Mistake(f"there is no {end!r} in the row; it has {', '.join(ids)}")
    first = ids.index(top.first) if top.first else 0
    last = ids.index(top.last) if top.last else len(ids) - 1
    covered = standing[first : last + 1]
    if not any(place.height for place in covered):
        raise Mistake("it rests on no carcass; say from which to which item of the row it goes")
    return covered


def under_tops(tops: Sequence[Top], standing: tuple[Standing, ...]) -> list[frozenset[str]]:
    """The items of the row under each top, by their ids; none under one that says of none."""
    found = []
    for top in tops:
        try:
            found.append(frozenset(place.item.id for place in _covered(top, standing)))
        except Mistake:
            # It is not built, and that is told where it would have been.
            continue
    return found


def rules_of_tops(tops: Sequence[Top], standing: tuple[Standing, ...], rules: Mapping[str, Rules]) -> dict[str, Rules]:
    """By what rules each top is cut out, by its id: those of the first carcass that it rests on."""
    found = {}
    for top in tops:
        try:
            first = next(place.item.id for place in _covered(top, standing) if place.height)
        except Mistake:
            # It is not built, and that is told where it would have been.
            continue
        if first in rules:
            found[top.id] = rules[first]
    return found


def top_joints(tops: tuple[Part, ...], parts: tuple[Part, ...]) -> tuple[tuple[Part, Part], ...]:
    """What each lowest layer of a top rests on and is screwed to: a carcass's top or rails, else its sides."""
    pairs = []
    for top in tops:
        if top.place.startswith("upper"):
            continue
        under = [part for part in parts if part.box.high[2] == top.box.low[2] and _lies_under(part, top)]
        tied = {part.carcass for part in under if part.role in ("top", "rail")}
        pairs += [
            (top, part)
            for part in under
            if part.role in ("top", "rail") or (part.role == "side" and part.carcass not in tied)
        ]
    return tuple(pairs)


def _lies_under(part: Part, top: Part) -> bool:
    return top.box.low[0] <= part.box.low[0] and part.box.high[0] <= top.box.high[0]
