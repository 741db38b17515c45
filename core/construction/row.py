"""The row: carcasses and open gaps side by side, what they stand on, and the tops over them.

In the room's frame: x from the row's left end, y from the front of the deepest carcass back to
the wall, where every carcass has its rear plane, z from the floor.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from core.construction.bench import ZERO, Bench, Built, Goods, share_out
from core.construction.carcass import BackBoard, Outside, build_carcass
from core.construction.part import Box, Part
from core.construction.rules import Rules
from core.mistakes import Mistake
from core.project import Carcass, LoosePart, RowItem, Top


@dataclass(frozen=True, slots=True)
class Standing:
    """One item of the row where it stands, mm. `foot` is the plinth's height under it, 0 for none."""

    item: RowItem
    x: Fraction
    outside: Outside
    foot: Fraction

    @property
    def right(self) -> Fraction:
        """Its right end."""
        return self.x + self.outside.width

    @property
    def height(self) -> Fraction:
        """Floor to top edge, plinth counted."""
        return self.foot + self.outside.height


Profile = tuple[Fraction, Fraction]
"""Height and depth of a carcass, mm."""


def stand(
    row: tuple[RowItem, ...],
    width: Fraction | None,
    profiles: Mapping[str, Profile],
    rules: Mapping[str, Rules],
    goods: Goods,
) -> tuple[Standing, ...]:
    """Where each item stands. `width` is what the row fills; None only where no item is a share of it.

    A carcass that is not among `profiles` has a width, and neither height nor depth. Raises
    Mistake where a width cannot be read, or nothing is left for the shares.
    """
    where = [f"{item.kind} {item.id}" for item in row]
    widths = share_out([item.width for item in row], width, goods, where)
    standing = []
    x = ZERO
    for item, item_width in zip(row, widths, strict=True):
        height, depth = profiles.get(item.id, (ZERO, ZERO))
        on_plinth = item.id in profiles and item.id in rules and rules[item.id].base == "plinth"
        foot = rules[item.id].kick_height if on_plinth else ZERO
        standing.append(Standing(item, x, Outside(item_width, height, depth), foot))
        x += item_width
    return tuple(standing)


def check_row(standing: tuple[Standing, ...], width: Fraction, goods: Goods) -> None:
    """Raises Mistake where the row is wider than what it is to fill."""
    total = sum((place.outside.width for place in standing), ZERO)
    if total > width:
        raise Mistake(
            f"the row is {goods.say(total)} wide and has {goods.say(width)}: {goods.say(total - width)} too much"
        )


def depth_of(standing: tuple[Standing, ...]) -> Fraction:
    """Depth of the row: its deepest carcass, mm."""
    return max((item.outside.depth for item in standing), default=ZERO)


def build_standing(
    place: Standing,
    row_depth: Fraction,
    rules: Rules,
    goods: Goods,
    baseboard: tuple[Fraction, Fraction] | None,
    stands_off: Fraction,
) -> Built:
    """One carcass and its plinth, where they stand. `baseboard` is height and thickness at the back wall, mm.

    `stands_off`: how far the rear plane stays from that wall.
    """
    carcass = place.item
    assert isinstance(carcass, Carcass)
    board = None
    if baseboard:
        height, thickness = baseboard
        clear = rules.baseboard_clearance
        board = BackBoard(height + clear, max(thickness + clear - stands_off, ZERO))
    y = row_depth - place.outside.depth
    raised = BackBoard(board.height - place.foot, board.depth) if board and board.height > place.foot else None
    built = build_carcass(carcass, place.outside, rules, goods, raised)
    parts = [part.moved(place.x, y, place.foot) for part in built.parts]
    joints = list(built.joints)
    if place.foot:
        plinth = _plinth(carcass, place.outside, rules, goods, board)
        parts += [part.moved(place.x, y, ZERO) for part in plinth.parts]
        joints += plinth.joints
    return Built(tuple(parts), tuple(joints), built.movers)


def _plinth(carcass: Carcass, outside: Outside, rules: Rules, goods: Goods, board: BackBoard | None) -> Built:
    """A base of its own: front and rear run through, the ends stand between them; it stops short of a baseboard."""
    t, height = goods.of(rules.kick_panel), rules.kick_height
    front, rear = rules.kick_depth, outside.depth - (board.depth if board else ZERO)
    bench = Bench(carcass.id, goods, "")
    through, between = (ZERO, outside.width), (front + t, rear - t)
    for place, y in (("front", (front, front + t)), ("rear", (rear - t, rear))):
        name = f"Plinth, {place}"
        bench.panel("plinth", place, name, rules.kick_panel, through, y, (ZERO, height))
    for place, x in (("left", (ZERO, t)), ("right", (outside.width - t, outside.width))):
        name = f"Plinth end, {place}"
        bench.panel("plinth end", place, name, rules.kick_panel, x, between, (ZERO, height))
        carried = f"side {place}" if rules.runs_through == "sides" else "bottom"
        bench.join(f"plinth end {place}", "plinth front", "plinth rear", carried)
    bench.join("bottom", "plinth front")
    return bench.built()


def build_top(top: Top, standing: tuple[Standing, ...], goods: Goods) -> Built:
    """A top of one layer or two, glued all over, over the items from `first` to `last`.

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
    for layer in range(1, top.layers + 1):
        x = (covered[0].x - overhangs["left"], covered[-1].right + overhangs["right"])
        y = (row_depth - depth - overhangs["front"], row_depth)
        # The upper layer is what is seen, so it is named first.
        place = "" if top.layers == 1 else "lower" if layer == 1 else "upper"
        name = f"{top.name}, {place} layer" if place else top.name
        bench.panel("worktop", place, name, top.material, x, y, (z, z + t), banded=True)
        z += t
    if top.layers == 2:
        bench.join("worktop lower", "worktop upper")
    return bench.built()


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


def build_loose(loose: LoosePart, goods: Goods) -> tuple[Part, ...]:
    """Parts that no rule makes, lying flat at the origin: they have no place in the room. `quantity` of them."""
    length = goods.size(loose.length, "length")
    width = goods.size(loose.width, "width")
    t = goods.of(loose.material)
    if length <= 0 or width <= 0:
        raise Mistake(f"{goods.say(length)} x {goods.say(width)} is no size for a part")
    if loose.quantity < 1:
        raise Mistake(f"{loose.quantity} pieces; a loose part is wanted at least once")
    grained = goods.materials[loose.material].grain
    grain = loose.grain if grained else "none"
    if grain == "width":
        # Length is the side along the grain, whatever is longer.
        length, width, grain = width, length, "length"
    box = Box((ZERO, ZERO, ZERO), (length, width, t))
    part = Part("", "loose", "", loose.name, loose.material, box, "x", "y", grain)
    return tuple(replace(part, place=f"{loose.id} {n}") for n in range(1, loose.quantity + 1))


def top_joints(tops: tuple[Part, ...], parts: tuple[Part, ...]) -> tuple[tuple[Part, Part], ...]:
    """What each lowest layer of a top rests on and is screwed to: a carcass's top or rails, else its sides."""
    pairs = []
    for top in tops:
        if top.place == "upper":
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
