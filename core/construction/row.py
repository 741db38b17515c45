"""The row: carcasses and open gaps side by side, what they stand on, and the tops over them.

In the room's frame: x from the row's left end, y from the front of the deepest carcass back to
the wall, where every carcass has its rear plane, z from the floor.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise
from math import ceil

from core.construction.bench import Bench, Built, share_out
from core.construction.carcass import BackBoard, build_carcass
from core.construction.goods import ZERO, Goods
from core.construction.inside import Outside
from core.construction.part import Box, Part
from core.construction.rule_book import Rules
from core.mistakes import Mistake
from core.project import Carcass, LoosePart, RowItem


@dataclass(frozen=True, slots=True)
class Standing:
    """One item of the row where it stands, mm. `foot` is how high it begins: on a plinth or feet, or hung."""

    item: RowItem
    x: Fraction
    outside: Outside
    foot: Fraction
    hangs: bool = False
    """Only the wall carries it."""

    @property
    def right(self) -> Fraction:
        """Its right end."""
        return self.x + self.outside.width

    @property
    def height(self) -> Fraction:
        """Floor to top edge, plinth counted."""
        return self.foot + self.outside.height


FOOT_WIDE = Fraction(60)
"""mm of floor that a foot for a kick panel takes; from memory."""
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
        own = rules.get(item.id) if item.id in profiles else None
        foot, hangs = (own.foot, own.hangs) if own else (ZERO, False)
        standing.append(Standing(item, x, Outside(item_width, height, depth), foot, hangs))
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
    board = back_board(baseboard, rules, stands_off)
    y = row_depth - place.outside.depth
    raised = BackBoard(board.height - place.foot, board.depth) if board and board.height > place.foot else None
    built = build_carcass(carcass, place.outside, rules, goods, raised)
    parts = [part.moved(place.x, y, place.foot) for part in built.parts]
    joints = list(built.joints)
    if rules.base in ("plinth", "feet"):
        base = _plinth if rules.base == "plinth" else _feet
        bottom = next(part.box.high[1] for part in built.parts if part.role == "bottom")
        below = base(carcass, place.outside, rules, goods, board, bottom)
        parts += [part.moved(place.x, y, ZERO) for part in below.parts]
        joints += below.joints
    return Built(tuple(parts), tuple(joints), built.movers)


def back_board(baseboard: tuple[Fraction, Fraction] | None, rules: Rules, stands_off: Fraction) -> BackBoard | None:
    """What a baseboard of that height and thickness, mm, keeps away from the rear plane; None without one."""
    if not baseboard:
        return None
    height, thickness = baseboard
    clear = rules.baseboard_clearance
    return BackBoard(height + clear, max(thickness + clear - stands_off, ZERO))


def _plinth(
    carcass: Carcass, outside: Outside, rules: Rules, goods: Goods, board: BackBoard | None, bottom: Fraction
) -> Built:
    """A base of its own: front and rear run through, the ends stand between them; it stops short of a baseboard.

    It carries a bottom that ends `bottom` mm from the front.
    """
    t, height = goods.of(rules.kick_panel), rules.kick_height
    front, rear = rules.kick_depth, outside.depth - (board.depth if board else ZERO)
    if rear - front <= 2 * t:
        # Half of what is free stays for the ends between front and rear.
        most = (rear - 2 * t) / 2
        mend = f"kick depth {goods.at_most(most)} or less" if most > 0 else "the carcass deeper, or take feet"
        raise Mistake(
            f"a plinth {goods.say(front)} behind the front has no room for its front and its rear in "
            f"{goods.say(rear)}; make {mend}"
        )
    if front + t >= bottom:
        mend = f"kick depth less than {goods.at_most(bottom - t)}" if bottom > t else "the carcass deeper, or take feet"
        raise Mistake(
            f"a plinth {goods.say(front)} behind the front would have its crosspieces behind the bottom that they "
            f"carry, which ends at {goods.say(bottom)}; make {mend}"
        )
    bench = Bench(carcass.id, goods, "", rules.grain())
    through, between = (ZERO, outside.width), (front + t, rear - t)
    for place, y in (("front", (front, front + t)), ("rear", (rear - t, rear))):
        name = f"Plinth, {place}"
        bench.panel("plinth", place, name, rules.kick_panel, through, y, (ZERO, height))
    for place, x in (("left", (ZERO, t)), ("right", (outside.width - t, outside.width))):
        name = f"Plinth end, {place}"
        bench.panel("plinth end", place, name, rules.kick_panel, x, between, (ZERO, height))
        carried = f"side {place}" if rules.runs_through == "sides" else "bottom"
        bench.join(f"plinth end {place}", "plinth front", "plinth rear", carried)
    if outside.width < 2 * t:
        raise Mistake(
            "the two ends of the plinth would lie in each other; make the carcass wider than "
            f"{goods.at_least(2 * t)}, or the kick panel thinner"
        )
    if rules.plinth_spacing <= t:
        raise Mistake(
            "the crosspieces of the plinth would lie in each other; make plinth spacing more than "
            f"{goods.at_least(t)}, {goods.usual('plinth spacing')} is usual"
        )
    over_front = _over_front(rules, goods)
    # Where the front takes no screws from the bottom a crosspiece does, also in a narrow box.
    fewest = 1 if over_front == "bottom" else 2
    fields = max(ceil((outside.width - t) / rules.plinth_spacing), fewest)
    if fields > 1 and (outside.width - t) / fields < t:
        # As many fields as leave each piece its thickness.
        many = (outside.width - t) // t
        mend = f"plinth spacing {goods.at_least((outside.width - t) / many)} or more, " if many >= fewest else ""
        raise Mistake(
            f"the crosspieces of the plinth would lie in each other; make {mend}"
            + (f"{goods.usual('plinth spacing')} is usual" if mend else f"the carcass {goods.at_least(3 * t)} wide")
        )
    for n in range(1, fields):
        left = (outside.width - t) * n / fields
        where = (left, left + t), between, (ZERO, height)
        cross = bench.panel("plinth end", f"cross {n}", "Plinth end, inner", rules.kick_panel, *where)
        bench.join(cross, "plinth front", "plinth rear", "bottom")
    bench.join(over_front, "plinth front")
    return bench.built()


def _over_front(rules: Rules, goods: Goods) -> str:
    """What stands over the front of a plinth or a kick panel: the bottom, or a face frame before that.

    Under a frame, wholly or in part, it carries the frame, and the box is screwed down to what is behind.
    """
    return "frame rail bottom" if rules.kick_depth < goods.framed(rules.face_frame) else "bottom"


def _feet(
    carcass: Carcass, outside: Outside, rules: Rules, goods: Goods, board: BackBoard | None, bottom: Fraction
) -> Built:
    """A kick panel that is clipped to bought feet; a little lower than they are high, for the floor is not level.

    It stands under a bottom that ends `bottom` mm from the front.
    """
    t, height = goods.of(rules.kick_panel), rules.kick_height
    rear = min(outside.depth - (board.depth if board else ZERO), bottom)
    if rules.kick_depth + t > rear:
        mend = f"kick depth {goods.at_most(rear - t)} or less" if rear > t else "the carcass deeper"
        raise Mistake(
            f"a kick panel {goods.say(rules.kick_depth)} from the front does not fit under {goods.say(rear)}; make "
            f"{mend}"
        )
    if rules.feet_gap >= height:
        raise Mistake(
            f"a gap of {goods.say(rules.feet_gap)} leaves nothing of a kick panel on feet {goods.say(height)} high; "
            f"make feet gap less than {goods.at_most(height)}, {goods.usual('feet gap')} is usual"
        )
    if rules.plinth_spacing < FOOT_WIDE:
        raise Mistake(
            f"feet {goods.say(rules.plinth_spacing)} apart would stand on each other; make plinth spacing "
            f"{goods.at_least(FOOT_WIDE)} or more, {goods.usual('plinth spacing')} is usual"
        )
    bench = Bench(carcass.id, goods, "", rules.grain())
    y = (rules.kick_depth, rules.kick_depth + t)
    place = bench.panel(
        "plinth", "", "Kick panel", rules.kick_panel, (ZERO, outside.width), y, (ZERO, height - rules.feet_gap)
    )
    bench.join(place, _over_front(rules, goods), play=rules.feet_gap)
    return bench.built()


def count_feet(place: Standing, parts: Iterable[Part], rules: Mapping[str, Rules]) -> int:
    """How many feet an item of the row stands on; 0 where it has none, or is not among `parts`.

    In each row from left to right one stands under every side and divider, or under two that are closer than feet can
    stand; between these, and between the row in front and the one at the rear, more stand, so that none is further
    from the next than plinth spacing.
    """
    id = place.item.id
    own = [part for part in parts if part.carcass == id and part.role in ("side", "divider")]
    if not own or rules[id].base != "feet":
        return 0
    apart = rules[id].plinth_spacing
    under: list[Fraction] = []
    for middle in sorted(part.box.low[0] + part.thickness / 2 for part in own):
        if not under or middle - under[-1] >= FOOT_WIDE:
            under.append(middle)
    in_a_row = 1 + sum(ceil((right - left) / apart) for left, right in pairwise(under))
    # From the middle of one in front, behind the kick panel's face, to that of one at the rear edge.
    between = place.outside.depth - rules[id].kick_depth - FOOT_WIDE
    rows = 1 + max(1, ceil(between / apart))
    return in_a_row * rows


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
