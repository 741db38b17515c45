"""A drawer behind its front: a box of two sides, two ends and a bottom in grooves, as long as its slides.

The sides run through, the ends stand between them. Side mounts take their clearance on both
sides; undermounts fix what the inside measures, however thick the drawer's sides are.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from core.construction.bench import Bench, Slide, take_out
from core.construction.fronts import Front
from core.construction.goods import ZERO, Goods
from core.construction.inside import or_back_forward
from core.construction.part import Box, Hand
from core.construction.rule_book import Rules
from core.mistakes import Mistake

INCH = Fraction(254, 10)
LENGTHS: Mapping[tuple[str, str], tuple[Fraction, ...]] = {
    ("side mount", "in"): tuple(n * INCH for n in range(10, 29, 2)),
    ("undermount", "in"): tuple(n * INCH for n in (9, 12, 15, 18, 21)),
    ("side mount", "mm"): tuple(Fraction(n) for n in range(250, 751, 50)),
    ("undermount", "mm"): tuple(Fraction(n) for n in range(250, 601, 50)),
}
"""Usual lengths of slides. Side mounts of 10 to 28 in by 2: trade practice; the others from memory."""
LEAST_LESS = {"side mount": INCH / 2, "undermount": 13 * INCH / 16}
"""What a drawer must be lower than its opening, by its slides, mm; trade practice, makers' instructions first."""


MOST_OF_A_SIDE = Fraction(2, 3)
"""That a groove takes: boards sold as 1/2 in are 7/16, and 1/4 in is cut into them; common practice, no source."""


LEAST_LONG = Fraction(10)
"""mm between the two ends of a drawer, so that there is a bottom at all."""
LEAST_INSIDE = Fraction(50)
"""mm within a drawer that a hand can go into; common practice, no source."""


def add_drawer(bench: Bench, front: Front, rules: Rules, free_depth: Fraction) -> None:
    """The box behind a drawer's front. `free_depth` reaches from the front edges to what would stop it, mm.

    Raises Mistake, naming the rule, where no slide or no box fits.
    """
    goods, room = bench.goods, front.room
    say, t = goods.say, goods.of(rules.drawer_panel)
    where = bench.parts[front.place].name.lower().replace("drawer front", "drawer")
    start = bench.parts[front.place].box.high[1]
    length = _slide_length(rules, free_depth - start - rules.slide_behind, bench, where)
    width = room.open_x[1] - room.open_x[0]
    if rules.slides == "side mount":
        outside = width - 2 * rules.slide_clearance
    else:
        outside = width - rules.undermount_less + 2 * t
    aside = (width - outside) / 2
    if aside <= 0 or outside - 2 * t < LEAST_INSIDE:
        told = f"the {where} would be {say(max(outside, ZERO))} wide in an opening of {say(width)}"
        wider = f"the opening {goods.at_least(LEAST_INSIDE + 2 * t - outside)} wider"
        raise Mistake(f"{told}; make {_mend(rules, aside, goods) or wider}")
    less, least = rules.drawer_above + rules.drawer_below, LEAST_LESS[rules.slides]
    if less < least:
        rule, other = ("above", "below") if rules.drawer_above < rules.drawer_below else ("below", "above")
        raise Mistake(
            f"a drawer on {rules.slides}s is at least {say(least)} lower than its opening; make drawer {rule} "
            f"{goods.at_least(rules.drawer_above + least - less)} or more, or drawer {other}"
        )
    z = (room.open_z[0] + rules.drawer_below, room.open_z[1] - rules.drawer_above)
    t_bottom = goods.of(rules.drawer_bottom_panel)
    if (missing := rules.drawer_bottom_up + t_bottom - (z[1] - z[0])) >= 0:
        opening, high = say(room.open_z[1] - room.open_z[0]), say(max(z[1] - z[0], ZERO))
        taken = {
            "drawer above": rules.drawer_above,
            "drawer below": rules.drawer_below,
            "drawer bottom up": rules.drawer_bottom_up,
        }
        rule = max(taken, key=lambda name: taken[name])
        mend = f", or {rule} less than {goods.at_most(taken[rule] - missing)}" if taken[rule] > missing else ""
        raise Mistake(
            f"the {where} would be {high} high in an opening of {opening}, too low for its bottom; make the opening "
            f"higher than {goods.at_least(room.open_z[1] - room.open_z[0] + missing)}{mend}"
        )
    if not rules.drawer_bottom_up:
        raise Mistake(
            "a drawer's bottom at the lower edge of its sides has nothing under it; make drawer bottom up "
            f"{goods.usual('drawer bottom up')}"
        )
    if rules.drawer_groove > MOST_OF_A_SIDE * t:
        raise Mistake(
            f"the groove for a drawer's bottom is {say(rules.drawer_groove)} deep, and more than two thirds of the "
            f"drawer's sides, {say(t)} thick; make drawer groove {goods.at_most(MOST_OF_A_SIDE * t)} or less"
        )
    if rules.let_in_play >= rules.drawer_groove:
        raise Mistake(
            f"with {say(rules.let_in_play)} of air a drawer's bottom would fall out of a groove "
            f"{say(rules.drawer_groove)} deep; let in play {goods.usual('let in play')} and drawer groove "
            f"{goods.usual('drawer groove')} are usual"
        )
    _box(bench, front, rules, (room.open_x[0] + aside, room.open_x[1] - aside), (start, start + length), z)


def _mend(rules: Rules, aside: Fraction, goods: Goods) -> str:
    """What makes a drawer narrower that has too little air beside it, or wider; empty where no rule does."""
    if rules.slides == "side mount":
        rule, value = "slide clearance", rules.slide_clearance
    else:
        rule, value = "undermount less", rules.undermount_less
    if value > goods.usual_size(rule) or (aside <= 0 and rules.slides == "side mount"):
        return f"{rule} {goods.usual(rule)}"
    return f"{rule} {goods.usual(rule)}, or the drawer panel thinner" if aside <= 0 else ""


def _slide_length(rules: Rules, room: Fraction, bench: Bench, where: str) -> Fraction:
    say = bench.goods.say
    if rules.slide_length:
        least = 2 * bench.goods.of(rules.drawer_panel) + LEAST_LONG
        if rules.slide_length < least:
            raise Mistake(
                f"slides {say(rules.slide_length)} long leave nothing within the {where}; make slide length "
                f"{bench.goods.at_least(least)} or more, or 0 for the longest usual one"
            )
        if rules.slide_length > room:
            raise Mistake(
                f"slides {say(rules.slide_length)} long for the {where} do not fit: {say(max(room, ZERO))} is free; "
                "make slide length less, 0 for the longest usual one that fits, or the carcass deeper"
            )
        return rules.slide_length
    lengths = LENGTHS[rules.slides, bench.goods.names.unit]
    fitting = [one for one in lengths if one <= room]
    if not fitting:
        least = lengths[0]
        behind = rules.slide_behind + room - least
        mend = (
            f"slide behind {bench.goods.at_most(behind)} or less"
            if behind > 0
            else f"the carcass {bench.goods.at_least(least - room)} deeper, or give slide length"
        )
        raise Mistake(
            f"no usual slide fits the {where}: {say(max(room, ZERO))} is free and the shortest is {say(least)}; make "
            f"{mend}{or_back_forward(rules, bench.goods)}"
        )
    return fitting[-1]


def _box(
    bench: Bench,
    front: Front,
    rules: Rules,
    x: tuple[Fraction, Fraction],
    y: tuple[Fraction, Fraction],
    z: tuple[Fraction, Fraction],
) -> None:
    goods, room = bench.goods, front.room
    t, t_bottom, deep = goods.of(rules.drawer_panel), goods.of(rules.drawer_bottom_panel), rules.drawer_groove
    at = bench.parts[front.place].place
    told = bench.parts[front.place].name.removeprefix("Drawer front")
    rabbet = deep if rules.drawer_joint == "rabbet" else ZERO
    upright: dict[Hand, str] = {"left": room.uprights[0], "right": room.uprights[1]}
    sides: dict[Hand, str] = {}
    spans: dict[Hand, tuple[Fraction, Fraction]] = {"left": (x[0], x[0] + t), "right": (x[1] - t, x[1])}
    for hand, across in spans.items():
        name = f"Drawer side{told}, {hand}"
        sides[hand] = bench.panel("drawer side", f"{at} {hand}", name, rules.drawer_panel, across, y, z, hand=hand)
        bench.join(
            sides[hand], upright[hand], play=(across[0] - room.x[0]) if hand == "left" else room.x[1] - across[1]
        )
    inside = (x[0] + t, x[1] - t)
    ends: list[str] = []
    for end, along in (("front", (y[0], y[0] + t)), ("rear", (y[1] - t, y[1]))):
        between = (inside[0] - rabbet, inside[1] + rabbet)
        name = f"Drawer end{told}, {end}"
        place = bench.panel("drawer end", f"{at} {end}", name, rules.drawer_panel, between, along, z)
        ends.append(place)
        bench.join(place, *sides.values())
        if rabbet:
            for side in sides.values():
                bench.parts[side] = take_out(bench.parts[side], bench.parts[place].box, f"for the {end} end")
    bench.join(front.place, ends[0])
    reach = deep - rules.let_in_play
    low = z[0] + rules.drawer_bottom_up
    bottom = bench.panel(
        "drawer bottom",
        at,
        f"Drawer bottom{told}",
        rules.drawer_bottom_panel,
        (inside[0] - reach, inside[1] + reach),
        (y[0] + t - reach, y[1] - t + reach),
        (low, low + t_bottom),
    )
    bench.join(bottom, *sides.values(), *ends)
    bench.join(bottom, *sides.values(), *ends, play=rules.let_in_play)
    groove = Box((inside[0] - deep, y[0], low), (inside[1] + deep, y[1], low + t_bottom + rules.dado_play))
    for side in sides.values():
        bench.parts[side] = take_out(bench.parts[side], groove, "for the bottom")
    across_ends = Box((x[0], y[0] + t - deep, low), (x[1], y[1] - t + deep, groove.high[2]))
    for place in ends:
        bench.parts[place] = take_out(bench.parts[place], across_ends, "for the bottom")
    bench.movers.append(Slide((front.place, *sides.values(), *ends, bottom), y[1] - y[0]))
