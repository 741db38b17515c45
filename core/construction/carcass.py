"""One carcass by its rules: every panel in its place, and the joints that hold it together.

The frame is the carcass's own: x from its left outside, y from its front edges back, z from the
underside of its sides. What a size means is told in DEVELOPERS.md; the numbers come from there.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from core.construction.bench import ZERO, Bench, Built, Goods, Joint, Say, place_of, share_out, take_out
from core.construction.part import Box, Part
from core.construction.rules import Rules
from core.mistakes import Mistake
from core.project import Bay, Carcass


@dataclass(frozen=True, slots=True)
class Outside:
    """Outside size of a carcass, mm: with its back, without a separate plinth."""

    width: Fraction
    height: Fraction
    depth: Fraction


@dataclass(frozen=True, slots=True)
class BackBoard:
    """What stands out of the wall behind the carcass, as a block against its rear plane from its z = 0 up, mm.

    Clearance counted, and what the carcass already stands off taken off.
    """

    height: Fraction
    depth: Fraction


def build_carcass(carcass: Carcass, outside: Outside, rules: Rules, goods: Goods, board: BackBoard | None) -> Built:
    """All panels of a carcass, in its own frame, with their notches, and its joints.

    Raises Mistake, naming the panel or the rule, where the sizes leave no room for a part.
    """
    _check(rules, goods)
    bench = Bench(carcass.id, goods, rules.front_banding)
    t, t_back = goods.of(rules.panel), goods.of(rules.back_panel) if rules.back != "none" else ZERO
    w, h, d = outside.width, outside.height, outside.depth
    kick = rules.kick_height if rules.base == "kick" else ZERO
    board = board if board and board.depth > 0 else None
    inner_back = d - t_back
    """Rear limit of everything that lies between the sides."""
    sides_through = rules.runs_through == "sides"
    full_depth = d if rules.back == "let in" else inner_back
    """Of the panels that run through: a let-in back is housed in them, an applied one lies behind."""

    low = ZERO if sides_through else t
    high = h if sides_through or rules.top != "panel" else h - t
    for place, x in (("left", (ZERO, t)), ("right", (w - t, w))):
        bench.panel("side", place, f"Side, {place}", rules.panel, x, (ZERO, full_depth), (low, high), banded=True)
    lying = (t, w - t) if sides_through else (ZERO, w)
    lying_depth = inner_back if sides_through else full_depth
    bench.panel("bottom", "", "Bottom", rules.panel, lying, (ZERO, lying_depth), (kick, kick + t), banded=True)
    bench.join("bottom", "side left", "side right")
    ceiling = _top(bench, rules, goods, lying, (t, w - t), lying_depth, inner_back, h)
    if kick + t >= ceiling:
        raise Mistake(
            f"nothing is left between bottom and top: the carcass is {goods.say(h)} high, its bottom ends at "
            f"{goods.say(kick + t)}; make it higher, or the kick lower"
        )
    if kick:
        t_kick = goods.of(rules.kick_panel)
        foot = min(inner_back, d - board.depth) if board else inner_back
        if rules.kick_depth + t_kick > foot:
            raise Mistake(
                f"the kick panel would end {goods.say(rules.kick_depth + t_kick)} from the front, and the sides "
                f"stand on the floor only to {goods.say(foot)}; make kick depth less, or the carcass deeper"
            )
        y = (rules.kick_depth, rules.kick_depth + t_kick)
        bench.panel("kick", "", "Kick panel", rules.kick_panel, (t, w - t), y, (ZERO, kick))
        bench.join("kick", "side left", "side right", "bottom")
    if rules.back != "none":
        _back(bench, rules, outside, t, t_back, kick)
    _bays(bench, carcass.bays or (Bay(),), rules, (t, w - t), inner_back, kick + t, ceiling, full_height=h)
    parts, joints = bench.parts, bench.joints
    if board:
        parts = [_clear_of_board(part, board, d, goods.say) for part in parts]
        joints = _still_met(joints, parts)
    parts = [_machined(part, outside, rules, t, t_back, kick) for part in parts]
    return Built(tuple(_handed(part, goods) for part in parts), tuple(joints))


def _check(rules: Rules, goods: Goods) -> None:
    if rules.runs_through == "top and bottom" and rules.base == "kick":
        raise Mistake(
            "top and bottom cannot run through over a notched kick, whose sides stand on the floor; "
            "take base plinth or none, or let the sides run through"
        )
    if rules.back == "let in" and rules.rabbet_depth > goods.of(rules.panel) / 2:
        raise Mistake(
            f"a rabbet {goods.say(rules.rabbet_depth)} deep is more than half of a side "
            f"{goods.say(goods.of(rules.panel))} thick; make rabbet depth less"
        )
    if rules.base == "kick" and not (rules.kick_height and rules.kick_depth):
        raise Mistake("a notched kick needs a kick height and a kick depth above 0; or take base none")


def _top(
    bench: Bench,
    rules: Rules,
    goods: Goods,
    lying: tuple[Fraction, Fraction],
    between: tuple[Fraction, Fraction],
    lying_depth: Fraction,
    inner_back: Fraction,
    h: Fraction,
) -> Fraction:
    """Top panel or rails; returns the height under which dividers must stay."""
    t = goods.of(rules.panel)
    if rules.top == "panel":
        bench.panel("top", "", "Top", rules.panel, lying, (ZERO, lying_depth), (h - t, h), banded=True)
        bench.join("top", "side left", "side right")
        return h - t
    if rules.top == "rails":
        if 2 * rules.rail_width > inner_back:
            raise Mistake(
                f"two rails {goods.say(rules.rail_width)} wide do not fit in {goods.say(inner_back)}; "
                "make rail width less"
            )
        for place, y in (("front", (ZERO, rules.rail_width)), ("rear", (inner_back - rules.rail_width, inner_back))):
            bench.panel("rail", place, f"Rail, {place}", rules.panel, between, y, (h - t, h), banded=place == "front")
            bench.join(f"rail {place}", "side left", "side right")
        return h - t
    return h


def _back(bench: Bench, rules: Rules, outside: Outside, t: Fraction, t_back: Fraction, kick: Fraction) -> None:
    w, h, d = outside.width, outside.height, outside.depth
    through = rules.runs_through == "top and bottom" and rules.back == "let in"
    x = (ZERO, w) if rules.back == "applied" else (t - rules.rabbet_depth, w - t + rules.rabbet_depth)
    top = h - t + rules.rabbet_depth if through and rules.top == "panel" else h
    lowest = t - rules.rabbet_depth if through else ZERO
    foot = {"bottom": max(kick, lowest), "floor": lowest, "part": top - rules.back_height}[rules.back_reach]
    if foot < lowest:
        raise Mistake(
            f"a back {bench.goods.say(rules.back_height)} high is higher than the carcass; make back height less"
        )
    bench.panel("back", "", "Back", rules.back_panel, x, (d - t_back, d), (foot, top))
    bench.join("back", "side left", "side right")
    if rules.back_reach != "part":
        bench.join("back", "bottom")
    if rules.top == "panel":
        bench.join("back", "top")
    if rules.top == "rails":
        bench.join("back", "rail rear")


def _bays(
    bench: Bench,
    bays: Sequence[Bay],
    rules: Rules,
    inside: tuple[Fraction, Fraction],
    depth: Fraction,
    floor: Fraction,
    ceiling: Fraction,
    *,
    full_height: Fraction,
) -> None:
    """Dividers between the bays, and each bay's shelves. `floor` is the top face of the bottom."""
    t, say = bench.goods.of(rules.panel), bench.goods.say
    room = inside[1] - inside[0] - t * (len(bays) - 1)
    widths = share_out([bay.width for bay in bays], room, bench.goods, [f"bay {n}" for n in range(1, len(bays) + 1)])
    if sum(widths, ZERO) != room:
        raise Mistake(
            f"the bays add up to {say(sum(widths, ZERO))} where the inside has {say(room)} beside its dividers; "
            "make one of them a share"
        )
    x = inside[0]
    upright = "side left"
    for number, (bay, width) in enumerate(zip(bays, widths, strict=True), start=1):
        last = number == len(bays)
        next_upright = "side right" if last else f"divider {number}"
        if not last:
            bench.panel(
                "divider",
                str(number),
                f"Divider {number}",
                rules.panel,
                (x + width, x + width + t),
                (ZERO, depth),
                (floor, ceiling),
                banded=True,
            )
            bench.join(next_upright, "bottom")
            if ceiling < full_height:
                over = ("top",) if rules.top == "panel" else ("rail front", "rail rear")
                bench.join(next_upright, *over)
        _shelves(bench, bay, number, rules, (x, x + width), depth, (floor, ceiling), (upright, next_upright))
        x += width + t
        upright = next_upright


def _shelves(
    bench: Bench,
    bay: Bay,
    number: int,
    rules: Rules,
    x: tuple[Fraction, Fraction],
    depth: Fraction,
    z: tuple[Fraction, Fraction],
    uprights: tuple[str, str],
) -> None:
    """Fixed shelves where they are asked for; adjustable ones drawn evenly spaced in the bay's tallest opening."""
    goods = bench.goods
    t = goods.of(rules.shelf_panel)
    where = f"bay {number}"
    heights = _fixed_heights(bay, goods, t, z, where)
    for n, up in enumerate(heights, start=1):
        place = f"bay {number} no {n}"
        name = f"Shelf {n}, {where}" if number > 1 or n > 1 or len(heights) > 1 else "Shelf"
        bench.panel("shelf", place, name, rules.shelf_panel, x, (ZERO, depth), (up, up + t), banded=True)
        bench.join(f"shelf {place}", *uprights)
    if not bay.adjustable_shelves:
        return
    edges = [z[0], *(edge for up in heights for edge in (up, up + t)), z[1]]
    openings = list(zip(edges[::2], edges[1::2], strict=True))
    low, high = max(openings, key=lambda opening: opening[1] - opening[0])
    between = (x[0] + rules.shelf_play, x[1] - rules.shelf_play)
    for n, up in enumerate(_evenly(bay.adjustable_shelves, t, low, high, goods.say, where), start=1):
        place = f"bay {number} no {n}"
        y = (rules.shelf_setback, depth)
        bench.panel(
            "loose shelf",
            place,
            f"Adjustable shelf {n}, {where}",
            rules.shelf_panel,
            between,
            y,
            (up, up + t),
            banded=True,
        )
        bench.join(f"loose shelf {place}", *uprights, play=rules.shelf_play)


def _fixed_heights(bay: Bay, goods: Goods, t: Fraction, z: tuple[Fraction, Fraction], where: str) -> list[Fraction]:
    """Undersides of the fixed shelves, upwards."""
    asked = bay.fixed_shelves
    if asked and all(text.strip() == "even" for text in asked):
        return _evenly(len(asked), t, z[0], z[1], goods.say, where)
    if any(text.strip() == "even" for text in asked):
        raise Mistake("give every fixed shelf its height, or call every one of them even", where)
    heights = sorted(z[0] + goods.size(text, f"{where}, fixed shelf") for text in asked)
    for below, above in zip([z[0], *(up + t for up in heights)], [*heights, z[1]], strict=True):
        if above < below:
            raise Mistake("a fixed shelf lies in another, or outside the carcass; change its height", where)
    return heights


def _evenly(count: int, t: Fraction, low: Fraction, high: Fraction, say: Say, where: str) -> list[Fraction]:
    """Undersides of `count` shelves that leave equal openings between `low` and `high`."""
    opening = (high - low - count * t) / (count + 1)
    if opening <= 0:
        shelves = "1 shelf" if count == 1 else f"{count} shelves"
        raise Mistake(f"{shelves} {say(t)} thick would leave no opening in {say(high - low)}", where)
    return [low + opening * n + t * (n - 1) for n in range(1, count + 1)]


def _machined(part: Part, outside: Outside, rules: Rules, t: Fraction, t_back: Fraction, kick: Fraction) -> Part:
    """The kick's notch in the sides, and the rabbet of a let-in back in whatever runs through."""
    w, h, d = outside.width, outside.height, outside.depth
    if part.role == "side" and kick:
        part = take_out(part, Box((ZERO, ZERO, ZERO), (w, rules.kick_depth, kick)), "lower front corner")
    if rules.back == "let in":
        r = rules.rabbet_depth
        housed = Box((t - r, d - t_back, t - r), (w - t + r, d, h - t + r))
        if part.role == "side":
            # A rabbet from end to end is one pass on the saw, whatever the back's height.
            housed = Box((t - r, d - t_back, ZERO), (w - t + r, d, h))
        if part.role in ("side", "top", "bottom"):
            part = take_out(part, housed, "back edge")
    return part


def _clear_of_board(part: Part, board: BackBoard, d: Fraction, say: Say) -> Part:
    """The part as it clears a baseboard: uprights are notched, lying panels and backs made shorter."""
    low, high = part.box.low, part.box.high
    front, over = d - board.depth, board.height
    if high[1] <= front or low[2] >= over:
        return part
    if part.thickness_axis == "x" and low[1] < front and high[2] > over:
        return take_out(part, Box((low[0], front, low[2]), (high[0], high[1], over)), "lower back corner")
    if part.thickness_axis == "z" and low[1] < front:
        return replace(part, box=Box(low, (high[0], front, high[2])))
    if part.thickness_axis == "y" and high[2] > over:
        return replace(part, box=Box((low[0], low[1], over), high))
    raise Mistake(
        f"the {part.name.lower()} would lie wholly where the baseboard is ({say(over)} high, "
        f"{say(board.depth)} deep with its clearance); raise it, or make the carcass shallower"
    )


def _still_met(joints: Sequence[Joint], parts: Sequence[Part]) -> list[Joint]:
    """The joints less those of a back that a baseboard has parted from what it met."""
    boxes = {place_of(part): part.box for part in parts}

    def meet(joint: Joint) -> bool:
        one, other = boxes[joint.one], boxes[joint.other]
        shared = sorted(min(one.high[i], other.high[i]) - max(one.low[i], other.low[i]) for i in range(3))
        return shared[0] >= 0 and shared[1] > 0

    return [joint for joint in joints if joint.one != "back" or meet(joint)]


def _handed(part: Part, goods: Goods) -> Part:
    """Marks a side as left or right where turning it over would not make the other of it."""
    if part.role != "side" or not part.machining:
        return part
    one_face = any(cut.depth is not None for cut in part.machining)
    if not one_face and goods.materials[part.material].faces == "alike":
        return part
    return replace(part, hand="left" if part.place == "left" else "right")
