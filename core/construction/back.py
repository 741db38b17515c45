"""The back of a carcass, and the nailers before it: what keeps a box square and holds it to the wall."""

from __future__ import annotations

from core.construction.bench import Bench, take_out
from core.construction.goods import ZERO
from core.construction.inside import Inside, Outside
from core.construction.part import Box, Part
from core.construction.rule_book import Rules
from core.mistakes import Mistake


def add_back(bench: Bench, rules: Rules, outside: Outside, inside: Inside) -> None:
    """The back by its rule, and what it meets. Raises Mistake for one that is higher than the carcass."""
    w, h = outside.width, outside.height
    t, t_back = inside.t, bench.goods.of(rules.back_panel)
    housed = rules.back != "applied"
    # A back that is let in goes so far into the panels round it, with air at its edges.
    goes_in = rules.rabbet_depth - rules.let_in_play if housed else ZERO
    through = rules.runs_through == "top and bottom" and housed
    x = (t - goes_in, w - t + goes_in) if housed else (ZERO, w)
    top = h - t + goes_in if through and rules.top == "panel" else h
    lowest = t - goes_in if through else ZERO
    under_bottom = inside.outer_z[0]
    foot = {"bottom": max(under_bottom, lowest), "floor": lowest, "part": top - rules.back_height}[rules.back_reach]
    if rules.back_reach == "part" and not rules.back_height:
        raise Mistake(
            f"a back {bench.goods.say(ZERO)} high is none; make back height "
            f"{bench.goods.usual('back height')}, or take back none"
        )
    if housed and top - max(foot, lowest) <= 2 * rules.rabbet_depth:
        say = bench.goods.say
        raise Mistake(
            f"a back {say(rules.back_height)} high is all in its groove, {say(rules.rabbet_depth)} deep; make back "
            f"height more than {bench.goods.at_least(2 * rules.rabbet_depth)}"
        )
    if bench.parts["side left"].box.high[2] <= foot:
        raise Mistake(
            f"a back {bench.goods.say(rules.back_height)} high lies on the top alone and meets no side; make back "
            f"height more than {bench.goods.at_least(t)}"
        )
    if foot < lowest:
        raise Mistake(
            f"a back {bench.goods.say(rules.back_height)} high is higher than the carcass; make back height "
            f"{bench.goods.at_most(top - lowest)} or less"
        )
    bench.panel("back", "", "Back", rules.back_panel, x, (inside.depth, inside.depth + t_back), (foot, top))
    bench.join("back", "side left", "side right")
    if housed:
        bench.join("back", "side left", "side right", play=rules.let_in_play)
    if rules.back_reach != "part":
        bench.join("back", "bottom")
    if rules.top == "panel":
        bench.join("back", "top")
    if rules.top == "rails":
        bench.join("back", "rail rear")
    for place, nailer in bench.parts.items():
        if nailer.role == "nailer" and nailer.box.low[2] < top and nailer.box.high[2] > foot:
            bench.join("back", place)


def fasten_inside(bench: Bench) -> None:
    """Joins the back to what ends on it within the box: dividers and fixed shelves."""
    back = bench.parts["back"].box
    for place, part in bench.parts.items():
        beside = part.box.common(back)
        ends_on_it = part.role in ("divider", "shelf") and beside[1] == 0 and beside[0] > 0 and beside[2] > 0
        if ends_on_it and not _is_notched_away(part, back):
            bench.join("back", place)


def _is_notched_away(part: Part, back: Box) -> bool:
    """Whether all of the rear edge that would meet the back is cut away, for nailers."""
    across = next(axis for axis in (part.length_axis, part.width_axis) if axis != "y")
    low = max(part.box.start(across), back.start(across))
    left = part.box.common(back)["xyz".index(across)]
    high = low + left
    for cut in part.machining:
        if cut.depth is None:
            start = part.box.start(across) + (cut.x if across == part.length_axis else cut.y)
            end = start + (cut.length if across == part.length_axis else cut.width)
            left -= max(min(end, high) - max(start, low), ZERO)
    return left <= 0


def let_in(bench: Bench, rules: Rules, outside: Outside) -> None:
    """The rabbet or groove of the back in every panel that runs through."""
    w, h = outside.width, outside.height
    back, t = bench.parts["back"], bench.goods.of(rules.panel)
    deep = rules.rabbet_depth
    y = (back.box.low[1], back.box.high[1] + (rules.dado_play if rules.back == "grooved" else ZERO))
    place = "back edge" if rules.back == "let in" else "for the back"
    across = Box((t - deep, y[0], t - deep), (w - t + deep, y[1], h - t + deep))
    # From end to end in the sides: one pass on the saw, whatever the back's height.
    upright = Box((t - deep, y[0], ZERO), (w - t + deep, y[1], h))
    for one in ("side left", "side right", "top", "bottom"):
        # A part-height back leaves a bottom alone that it does not come down to.
        if one in bench.parts and (one.startswith("side") or back.box.common(bench.parts[one].box)[2] > 0):
            block = upright if one.startswith("side") else across
            bench.parts[one] = take_out(bench.parts[one], block, place)


def add_nailers(bench: Bench, rules: Rules, inside: Inside) -> None:
    """Nailers stand before the back, between the sides. Raises Mistake where there is no room for them."""
    say = bench.goods.say
    if not inside.nailer_height:
        return
    front, rear = inside.depth - inside.t, inside.depth
    if front <= 0:
        raise Mistake(f"a nailer {say(inside.t)} thick does not fit in {say(inside.depth)}; take nailers none")
    free = inside.z[1] - inside.nailed_from
    at = inside.nailers()
    divided = any(part.role == "divider" for part in bench.parts.values())
    if rules.top == "rails" and divided and rules.rail_width <= inside.t:
        raise Mistake(
            f"a rear rail {say(rules.rail_width)} wide would lie on the nailer alone, where dividers are notched for "
            f"it; make rail width more than {bench.goods.at_least(inside.t)}"
        )
    if len(at) * inside.nailer_height > free:
        board = " over the baseboard" if inside.nailed_from > inside.z[0] else ""
        most = f"make nailer height {bench.goods.at_most(free / len(at))} or less" if free > 0 else "take nailers none"
        raise Mistake(f"nailers {say(inside.nailer_height)} high do not fit in {say(max(free, ZERO))}{board}; {most}")
    for place, z in zip(("bottom", "top")[-len(at) :], at, strict=True):
        name = "Nailer" if len(at) == 1 else f"Nailer, {place}"
        bench.panel("nailer", place, name, rules.panel, inside.x, (front, rear), z)
        bench.join(f"nailer {place}", "side left", "side right")


def notch_for_nailers(bench: Bench) -> None:
    """Dividers give way to the nailers that run through behind them."""
    for nailer in [part for part in bench.parts.values() if part.role == "nailer"]:
        corner = f"{'upper' if nailer.place == 'top' else 'lower'} back corner"
        for place, part in bench.parts.items():
            if part.role == "divider":
                # Up to the divider's own end, which may be housed beyond the nailer.
                low, high = nailer.box.low, nailer.box.high
                ends = (low[2], part.box.high[2]) if nailer.place == "top" else (part.box.low[2], high[2])
                block = Box((low[0], low[1], ends[0]), (high[0], high[1], ends[1]))
                bench.parts[place] = take_out(part, block, corner)
