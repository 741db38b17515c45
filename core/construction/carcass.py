"""One carcass by its rules: every panel in its place, and the joints that hold it together.

The frame is the carcass's own: x from its left outside, y from its front edges back, z from the
underside of its sides. What a size means is told in DEVELOPERS.md; the numbers come from there.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from core.construction.back import add_back, add_nailers, fasten_inside, let_in, notch_for_nailers
from core.construction.bench import Bench, Built, take_out
from core.construction.bored import check_holes
from core.construction.drawers import add_drawer
from core.construction.frame import add_frame
from core.construction.fronts import add_fronts
from core.construction.goods import ZERO, Goods
from core.construction.inside import Inside, Outside, Room, Span, check_rail, divide, or_back_forward
from core.construction.part import Box, Hand, Part
from core.construction.rule_book import Rules
from core.construction.shelves import add_adjustable
from core.mistakes import Mistake
from core.project import Carcass


@dataclass(frozen=True, slots=True)
class BackBoard:
    """What stands out of the wall behind the carcass, as a block against its rear plane from its z = 0 up, mm.

    Clearance counted, and what the carcass already stands off taken off.
    """

    height: Fraction
    depth: Fraction


def build_carcass(carcass: Carcass, outside: Outside, rules: Rules, goods: Goods, board: BackBoard | None) -> Built:
    """All panels of a carcass, in its own frame, with their machining, and its joints.

    Raises Mistake, naming the panel or the rule, where the sizes leave no room for a part.
    """
    _check(rules, goods)
    framed = goods.framed(rules.face_frame)
    hangs = _hangs(rules, framed)
    if framed:
        outside, rules = _behind_frame(outside, rules, framed, goods)
    board = board if board and board.depth > 0 else None
    bench = Bench(carcass.id, goods, rules.front_banding, rules.grain())
    inside = _box(bench, outside, rules, board)
    rooms = divide(bench, carcass.bays, rules, inside)
    add_nailers(bench, rules, inside)
    if rules.back != "none":
        add_back(bench, rules, outside, inside)
    bench.grow()
    if board:
        _clear_of_board(bench, board, outside.depth, rules)
    bench.cut_housings()
    notch_for_nailers(bench)
    _notch_for_kick(bench, outside, rules)
    if rules.back != "none":
        fasten_inside(bench)
    if rules.back in ("let in", "grooved"):
        let_in(bench, rules, outside)
    if framed:
        rooms = add_frame(bench, carcass.bays, rooms, rules, inside, outside.width, hangs)
    # What is bored and hung comes when the box stands: its holes are placed on finished panels.
    kept = (board.height, outside.depth - board.depth) if board else (ZERO, outside.depth)
    for room in rooms:
        add_adjustable(bench, room, rooms, rules, inside, kept)
    fronts = add_fronts(bench, carcass.bays, rooms, rules, inside, outside.width)
    for front in fronts:
        if front.drawer:
            add_drawer(bench, front, rules, _free_depth(front.room, inside, rules, board, outside.depth))
    for part in bench.parts.values():
        check_holes(part)
    bench.parts = {place: part.moved(ZERO, framed, ZERO) for place, part in bench.parts.items()}
    return bench.built()


MOST_PLAY = Fraction(2)
"""In a dado, mm: with more nothing is housed; common practice, no source."""


def _check(rules: Rules, goods: Goods) -> None:
    if rules.dado_play > MOST_PLAY:
        raise Mistake(
            f"a dado {goods.say(rules.dado_play)} wider than its mate holds nothing; make dado play less than "
            f"{goods.say(MOST_PLAY)}"
        )
    if rules.runs_through == "top and bottom" and rules.base == "kick":
        raise Mistake(
            "top and bottom cannot run through over a notched kick, whose sides stand on the floor; "
            "take base plinth or none, or let the sides run through"
        )
    if rules.back in ("let in", "grooved"):
        cut = "rabbet" if rules.back == "let in" else "groove"
        if rules.rabbet_depth > goods.of(rules.panel) / 2:
            raise Mistake(
                f"a {cut} {goods.say(rules.rabbet_depth)} deep is more than half of a side "
                f"{goods.say(goods.of(rules.panel))} thick; make rabbet depth "
                f"{goods.at_most(goods.of(rules.panel) / 2)} or less"
            )
        if rules.let_in_play >= rules.rabbet_depth:
            raise Mistake(
                f"with {goods.say(rules.let_in_play)} of air a back would fall out of a {cut} "
                f"{goods.say(rules.rabbet_depth)} deep; let in play {goods.usual('let in play')} and rabbet depth "
                f"{goods.usual('rabbet depth')} are usual"
            )
    if rules.back == "grooved" and not rules.back_inset:
        raise Mistake(
            f"a grooved back at the rear edges is a back let in; make back inset {goods.usual('back inset')}, or take "
            "back let in"
        )
    if rules.base != "none" and not rules.kick_height:
        told = {"kick": "a kick needs", "plinth": "a plinth needs", "feet": "feet need"}[rules.base]
        raise Mistake(f"{told} a kick height above 0; make kick height {goods.usual('kick height')}, or take base none")
    if rules.nailers != "none" and not rules.nailer_height:
        raise Mistake(
            f"nailers {goods.say(ZERO)} high are none; make nailer height "
            f"{goods.usual('nailer height')}, or take nailers none"
        )


def _hangs(rules: Rules, framed: Fraction) -> Fraction:
    """How far a face frame may hang below the bottom, mm: half way to the floor, for the other half is for the toes.

    Only before a kick, a plinth or feet's panel that stands back behind all of it; all the way before a flush base.
    Common practice, no source.
    """
    if rules.is_flush_base:
        return rules.kick_height
    return rules.kick_height / 2 if rules.base != "none" and rules.kick_depth >= framed else ZERO


def _behind_frame(outside: Outside, rules: Rules, framed: Fraction, goods: Goods) -> tuple[Outside, Rules]:
    """The box behind a face frame: it is less deep, and the toes have had some of their room before it begins."""
    if rules.base == "kick" and 0 < rules.kick_depth <= framed:
        raise Mistake(
            f"a kick {goods.say(rules.kick_depth)} deep ends in the face frame; make kick depth more than "
            f"{goods.at_least(framed)}, or {goods.say(ZERO)} for a frame down to the floor"
        )
    if outside.depth <= framed:
        raise Mistake(
            f"a carcass {goods.say(outside.depth)} deep is all face frame; make it deeper than {goods.at_least(framed)}"
        )
    kick_depth = max(rules.kick_depth - framed, ZERO)
    return replace(outside, depth=outside.depth - framed), replace(rules, kick_depth=kick_depth)


def _box(bench: Bench, outside: Outside, rules: Rules, board: BackBoard | None) -> Inside:
    """Sides, bottom, top or rails, and the kick panel; what is left between them."""
    goods = bench.goods
    t, say = goods.of(rules.panel), goods.say
    w, h, d = outside.width, outside.height, outside.depth
    kick = rules.kick_height if rules.base == "kick" else ZERO
    inner_back = d
    if rules.back != "none":
        inner_back -= goods.of(rules.back_panel) + (rules.back_inset if rules.back == "grooved" else ZERO)
    ceiling = h if rules.top == "none" else h - t
    _check_size(outside, (kick + t, ceiling), inner_back, rules, goods)
    through = rules.runs_through == "top and bottom"
    full_depth = d if rules.back in ("let in", "grooved") else inner_back
    """Of the panels that run through: a back is housed in them, an applied one lies behind."""
    low = t if through else ZERO
    high = h - t if through and rules.top == "panel" else h
    spans: dict[Hand, Span] = {"left": (ZERO, t), "right": (w - t, w)}
    for side, x in spans.items():
        where = x, (ZERO, full_depth), (low, high)
        bench.panel("side", side, f"Side, {side}", rules.panel, *where, banded=True, hand=side)
    lying, depth = ((ZERO, w), full_depth) if through else ((t, w - t), inner_back)
    bench.panel("bottom", "", "Bottom", rules.panel, lying, (ZERO, depth), (kick, kick + t), banded=True)
    _meet(bench, "bottom", rules.bottom_joint, rules)
    if rules.top == "panel":
        bench.panel("top", "", "Top", rules.panel, lying, (ZERO, depth), (h - t, h), banded=True)
        _meet(bench, "top", rules.top_joint, rules)
    if rules.top == "rails":
        if 2 * rules.rail_width > inner_back:
            raise Mistake(
                f"two rails {say(rules.rail_width)} wide do not fit in {say(inner_back)}; make rail width "
                f"{goods.at_most(inner_back / 2)} or less{or_back_forward(rules, goods)}"
            )
        check_rail(rules, goods)
        for place, y in (("front", (ZERO, rules.rail_width)), ("rear", (inner_back - rules.rail_width, inner_back))):
            name = f"Rail, {place}"
            bench.panel("rail", place, name, rules.panel, (t, w - t), y, (h - t, h), banded=place == "front")
            bench.join(f"rail {place}", "side left", "side right")
    if kick:
        _kick(bench, rules, (t, w - t), min(inner_back, d - board.depth) if board else inner_back, board)
    nailer = rules.nailer_height if rules.nailers != "none" else ZERO
    below = rules.nailers == "top and bottom"
    face = -goods.framed(rules.face_frame)
    over = board.height if board and d - board.depth < inner_back else ZERO
    nailed_from = max(kick + t, over)
    return Inside((t, w - t), inner_back, (kick + t, ceiling), (kick, h), t, nailer, below, nailed_from, face)


def _check_size(outside: Outside, z: Span, inner_back: Fraction, rules: Rules, goods: Goods) -> None:
    """Raises Mistake where nothing is left between the sides, in `z` between bottom and top, or before the back."""
    say, t, t_back = goods.say, goods.of(rules.panel), goods.of(rules.back_panel)
    if outside.width <= 2 * t:
        raise Mistake(
            f"a carcass {say(outside.width)} wide is no wider than its two sides, {say(t)} thick each; make it wider "
            f"than {goods.at_least(2 * t)}"
        )
    if z[0] >= z[1]:
        told = f", or kick height less than {goods.at_most(z[1] - t)}" if rules.base == "kick" and z[1] > t else ""
        raise Mistake(
            f"nothing is left between bottom and top: the carcass is {say(outside.height)} high, its bottom ends at "
            f"{say(z[0])}; make it higher{told}"
        )
    if inner_back <= 0 and rules.back == "grooved" and outside.depth > t_back:
        raise Mistake(
            f"a back {say(rules.back_inset)} before the rear edges of sides {say(outside.depth)} deep leaves nothing "
            f"before it; make back inset less than {goods.at_most(outside.depth - t_back)}, "
            f"{goods.usual('back inset')} is usual"
        )
    if inner_back <= 0:
        raise Mistake(
            f"a carcass {say(outside.depth)} deep is all back, {say(t_back)} thick; make it deeper than "
            f"{goods.at_least(outside.depth - inner_back)}"
        )


def _meet(bench: Bench, lying: str, joint: str, rules: Rules) -> None:
    """Bottom or top and the sides: what runs between is let into what runs through."""
    for side in ("side left", "side right"):
        one, other = (side, lying) if rules.runs_through == "top and bottom" else (lying, side)
        bench.house(one, other, rules.housing(joint))


def _kick(bench: Bench, rules: Rules, between: Span, foot: Fraction, board: BackBoard | None) -> None:
    goods = bench.goods
    say, t = goods.say, goods.of(rules.kick_panel)
    # What is typed counts from before a face frame.
    framed = goods.framed(rules.face_frame)
    end = rules.kick_depth + t
    if end > foot:
        least = f"the carcass {goods.at_least(end - foot)} deeper"
        mend = f"kick depth {goods.at_most(foot - t + framed)} or less, or {least}" if foot > t else least
        told = "the bottom over it reaches" if rules.back == "grooved" else "the sides stand on the floor only"
        raise Mistake(
            f"the kick panel would end {say(end + framed)} from the front, and {told} to {say(foot + framed)}; make "
            f"{mend}{or_back_forward(rules, goods)}{_or_nearer(rules, goods) if board else ''}"
        )
    y = (rules.kick_depth, rules.kick_depth + t)
    bench.panel("kick", "", "Kick panel", rules.kick_panel, between, y, (ZERO, rules.kick_height))
    bench.join("kick", "side left", "side right", "bottom")


def _notch_for_kick(bench: Bench, outside: Outside, rules: Rules) -> None:
    # Of a flush base the sides go down to the floor whole.
    if rules.base == "kick" and not rules.is_flush_base:
        toes = Box((ZERO, ZERO, ZERO), (outside.width, rules.kick_depth, rules.kick_height))
        for side in ("side left", "side right"):
            bench.parts[side] = take_out(bench.parts[side], toes, "lower front corner")


def _or_nearer(rules: Rules, goods: Goods) -> str:
    """What else leaves more beside a baseboard, for the end of a sentence: less air, where it is much."""
    much = rules.baseboard_clearance > goods.usual_size("baseboard clearance")
    return f", or baseboard clearance less, {goods.usual('baseboard clearance')} is usual" if much else ""


def _clear_of_board(bench: Bench, board: BackBoard, d: Fraction, rules: Rules) -> None:
    """Makes everything clear a baseboard, and takes out the joints of a back that it has parted from its mate."""
    bench.parts = {place: _clear(part, board, d, rules, bench.goods) for place, part in bench.parts.items()}

    def meet(one: Box, other: Box) -> bool:
        shared = sorted(one.common(other))
        return shared[0] >= 0 and shared[1] > 0

    boxes = {place: part.box for place, part in bench.parts.items()}
    bench.joints = [
        joint for joint in bench.joints if joint.one != "back" or meet(boxes[joint.one], boxes[joint.other])
    ]


def _clear(part: Part, board: BackBoard, d: Fraction, rules: Rules, goods: Goods) -> Part:
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
        f"the {part.name.lower()} would lie wholly where the baseboard is ({goods.say(over)} high, "
        f"{goods.say(board.depth)} deep with its clearance); raise it, or make the carcass shallower"
        f"{_or_nearer(rules, goods)}"
    )


def _free_depth(room: Room, inside: Inside, rules: Rules, board: BackBoard | None, d: Fraction) -> Fraction:
    """From the front edges back to the first thing that would stop a drawer in this opening, mm."""
    depth = inside.depth - inside.nailer_before(room.z)
    if board and room.z[0] < board.height:
        depth = min(depth, d - board.depth)
    return depth
