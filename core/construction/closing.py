"""What closes a row beside a carcass: fillers to the walls, and end panels."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from core.construction.bench import Bench, Built, take_out
from core.construction.codes import place_key
from core.construction.goods import ZERO, Goods
from core.construction.inside import stile_before
from core.construction.part import Axis, Box, Hand, Part, Side
from core.construction.row import Standing, back_board, depth_of
from core.construction.rule_book import Rules
from core.mistakes import Mistake
from core.project import Carcass, EndPanel, Filler


def build_filler(
    place: Standing,
    standing: tuple[Standing, ...],
    rules: Mapping[str, Rules],
    goods: Goods,
    made: Mapping[str, Part],
    under: Sequence[Collection[str]],
    gap: Fraction,
    falls: Fraction,
) -> Built:
    """A filler from the underside of the bottom of the carcass it closes to its top, flush with its front edges.

    Between two carcasses it is as high as the lower and flush with the shallower, and begins where both have begun: it
    closes what is between them. At a flush base it begins on the floor.

    `made`: what of the row is built, by its place; `under`: the items that lie under one top, by their ids, for each
    top. `gap`: the widest gap to the wall that it stands at, mm, 0 where it stands at none: its blank is wider by that.
    `falls`: how far the floor falls from its highest point, mm: one that stands there is longer in the blank by that.
    Raises Mistake where no carcass stands beside it, or two that have no height in common.
    """
    filler = place.item
    assert isinstance(filler, Filler)
    beside, mate, _ = _beside(place, standing, made, under)
    own, t = rules[beside.item.id], goods.of(filler.material)
    between = [one.carcass for one in _closed(place, standing)]
    front = depth_of(standing) - min(one.outside.depth for one in between)
    low = max(_begins(one, rules) for one in between)
    side = f"{mate.role} {mate.place}" if mate.role == "side" else "side left"
    stile = made.get(f"{beside.item.id} {stile_before(side)}") if own.face_frame else None
    if stile is not None:
        # It is as long as the stiles of a face frame, which may hang; beside one it stands against it.
        low = max([stile.box.low[2], *(_begins(one, rules) for one in between if one is not beside)])
        if mate.role == "side" and front < stile.box.high[1]:
            mate = stile
    if low >= beside.height:
        ids = " and ".join(one.item.id for one in between)
        raise Mistake(f"carcasses {ids} have no height in common: there is nothing to close between them, take a gap")
    bench = Bench(filler.id, goods, "")
    sizes = (place.x, place.right), (front, front + t), (low, beside.height)
    at = bench.panel("filler", "", filler.name, filler.material, *sizes)
    bench.parts[at] = _larger(bench.parts[at], "x", gap, at_high=place is not standing[0])
    bench.parts[at] = _larger(bench.parts[at], "z", ZERO if low else falls, at_high=False)
    bench.join(at, place_key(mate))
    return bench.built()


def _begins(place: Standing, rules: Mapping[str, Rules]) -> Fraction:
    """How high the box of a carcass begins, over a kick; of one that cannot be built, over its foot."""
    own = rules.get(place.item.id)
    return place.foot + (own.kick_height if own and own.base == "kick" and not own.is_flush_base else ZERO)


def build_end_panel(
    place: Standing,
    standing: tuple[Standing, ...],
    rules: Mapping[str, Rules],
    goods: Goods,
    made: Mapping[str, Part],
    under: Sequence[Collection[str]],
    baseboard: tuple[Fraction, Fraction] | None,
    stands_off: Fraction,
    falls: Fraction,
) -> Built:
    """An end panel against the carcass it covers, as deep, from the floor to its top; notched for a baseboard.

    Beside one that hangs it begins where that does.

    `made` and `under` as for a filler, the baseboard as for `build_standing`. `falls`: how far the floor
    falls from its highest point, mm: the blank is longer by that, to be scribed down to it. Raises Mistake where no
    carcass stands beside it.
    """
    panel = place.item
    assert isinstance(panel, EndPanel)
    beside, mate, hand = _beside(place, standing, made, under)
    own, rear = rules[beside.item.id], depth_of(standing)
    bench = Bench(panel.id, goods, own.front_banding)
    low = beside.foot if beside.hangs else ZERO
    sizes = (place.x, place.right), (rear - beside.outside.depth, rear), (low, beside.height)
    at = bench.panel("end panel", "", panel.name, panel.material, *sizes, banded=True, hand=hand)
    board = back_board(baseboard, own, stands_off)
    if board and board.depth > 0 and board.height > low:
        block = Box((place.x, rear - board.depth, ZERO), (place.right, rear, board.height))
        bench.parts[at] = take_out(bench.parts[at], block, "lower back corner")
    bench.parts[at] = _larger(bench.parts[at], "z", ZERO if low else falls, at_high=False)
    bench.join(at, place_key(mate))
    return bench.built()


def _larger(part: Part, axis: Axis, more: Fraction, *, at_high: bool) -> Part:
    """The part with a blank that is larger at one end of an axis, mm: nothing more where it need not be."""
    side: Side = part.side_at(axis, at_high)
    return replace(part, allowances=(*part.allowances, (side, more))) if more else part


def rules_of_row(
    standing: tuple[Standing, ...], rules: Mapping[str, Rules], under: Sequence[Collection[str]]
) -> dict[str, Rules]:
    """By what rules each carcass of a row is cut out, by its id, and each end panel: those of the carcass it covers."""
    found = dict(rules)
    for place in standing:
        if isinstance(place.item, EndPanel):
            beside = next(
                (one.carcass.item.id for one in _closed(place, standing, under) if one.carcass.item.id in rules), ""
            )
            if beside:
                found[place.item.id] = rules[beside]
    return found


def turn_of(place: Standing, standing: tuple[Standing, ...]) -> int:
    """Its turn among what closes a row: a filler may stand against an end panel, and that against another."""
    if isinstance(place.item, Filler):
        return 2
    return int(all(one.beyond for one in _closed(place, standing)))


@dataclass(frozen=True, slots=True)
class _Closed:
    """A carcass that something closes: what of it that meets, by its place, and on which side of the carcass."""

    carcass: Standing
    meets: str
    side: Hand
    beyond: bool
    """An end panel stands between."""


def _closed(place: Standing, standing: tuple[Standing, ...], under: Sequence[Collection[str]] = ()) -> list[_Closed]:
    """The carcasses next to it, first the one it closes: the higher, of two as high the deeper, else the left one.

    Over the lower one the side of the higher is seen, and before the shallower that of the deeper; a filler closes what
    is between, and so the lower and the shallower. An end panel covers the carcass that it touches, before one that
    another end panel covers. What lies under a top closes the carcass that does, too, or it would reach through that.
    """
    at = standing.index(place)
    sides: tuple[tuple[tuple[Standing, ...], Hand], ...] = (
        (standing[:at][::-1], "right"),
        (standing[at + 1 :], "left"),
    )
    found = []
    for row, side in sides:
        panels = [one for one in row[:1] if isinstance(one.item, EndPanel)]
        carcass = row[len(panels)] if len(row) > len(panels) else None
        if carcass is not None and isinstance(carcass.item, Carcass) and carcass.height:
            meets = f"{panels[0].item.id} end panel" if panels else f"{carcass.item.id} side {side}"
            found.append(_Closed(carcass, meets, side, bool(panels)))
    tops = [ids for ids in under if place.item.id in ids]

    def turn(one: _Closed) -> tuple[bool, bool, Fraction, Fraction]:
        beyond_top = bool(tops) and not any(one.carcass.item.id in ids for ids in tops)
        deep = one.carcass.outside.depth
        if isinstance(place.item, Filler):
            return beyond_top, False, one.carcass.height, deep
        return beyond_top, one.beyond, -one.carcass.height, -deep

    return sorted(found, key=turn)


def _beside(
    place: Standing, standing: tuple[Standing, ...], made: Mapping[str, Part], under: Sequence[Collection[str]]
) -> tuple[Standing, Part, Hand]:
    """The carcass that it closes, the part that it meets, and on which side of the carcass that is."""
    closed = _closed(place, standing, under)
    for one in closed:
        if one.meets in made:
            return one.carcass, made[one.meets], one.side
    if closed:
        raise Mistake(f"it stands beside carcass {closed[0].carcass.item.id}, which cannot be built as it is")
    raise Mistake("no carcass stands beside it; move it next to one")
