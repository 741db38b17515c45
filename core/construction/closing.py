"""What closes a row beside a carcass: fillers to the walls, and end panels."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction

from core.construction.bench import ZERO, Bench, Built, Goods, take_out
from core.construction.part import Box
from core.construction.row import Standing, back_board, depth_of
from core.construction.rule_book import Rules
from core.mistakes import Mistake
from core.project import Carcass, EndPanel, Filler


def build_filler(
    place: Standing, standing: tuple[Standing, ...], rules: Mapping[str, Rules], goods: Goods, gap: Fraction
) -> Built:
    """A filler, flush with the front edges of the carcass beside it, from the underside of its bottom to its top.

    `gap`: the widest gap to the wall that it stands at, mm, 0 where it stands at none: its blank is wider
    by that. Raises Mistake where no carcass stands beside it.
    """
    filler = place.item
    assert isinstance(filler, Filler)
    beside, mate = _beside(place, standing)
    material = _material(filler, goods)
    t, own = goods.of(material), rules[beside.item.id]
    front = depth_of(standing) - beside.outside.depth
    low = beside.foot + (own.kick_height if own.base == "kick" else ZERO)
    bench = Bench(filler.id, goods, "")
    made = bench.panel(
        "filler", "", filler.name, material, (place.x, place.right), (front, front + t), (low, beside.height)
    )
    if gap:
        part = bench.parts[made]
        bench.parts[made] = replace(part, allowance=(ZERO, gap) if part.width_axis == "x" else (gap, ZERO))
    # At the front edges it stands against the stile of a face frame, where there is one.
    bench.join(made, mate.replace("side", "stile") if own.face_frame else mate)
    return bench.built()


def build_end_panel(
    place: Standing,
    standing: tuple[Standing, ...],
    rules: Mapping[str, Rules],
    goods: Goods,
    baseboard: tuple[Fraction, Fraction] | None,
    stands_off: Fraction,
) -> Built:
    """An end panel against the carcass beside it, as deep, from the floor to its top; notched for a baseboard."""
    panel = place.item
    assert isinstance(panel, EndPanel)
    beside, mate = _beside(place, standing)
    rear = depth_of(standing)
    bench = Bench(panel.id, goods, rules[beside.item.id].front_banding)
    x, y = (place.x, place.right), (rear - beside.outside.depth, rear)
    made = bench.panel("end panel", "", panel.name, _material(panel, goods), x, y, (ZERO, beside.height), banded=True)
    board = back_board(baseboard, rules[beside.item.id], stands_off)
    if board and board.depth > 0:
        block = Box((x[0], rear - board.depth, ZERO), (x[1], rear, board.height))
        bench.parts[made] = take_out(bench.parts[made], block, "lower back corner")
    bench.join(made, mate)
    return bench.built()


def _beside(place: Standing, standing: tuple[Standing, ...]) -> tuple[Standing, str]:
    """The carcass that it closes, and the part that it meets: that one's side, or an end panel between them."""
    at = standing.index(place)
    for row, side in ((standing[:at][::-1], "right"), (standing[at + 1 :], "left")):
        panels = [one for one in row[:1] if isinstance(one.item, EndPanel)]
        carcass = row[len(panels)] if len(row) > len(panels) else None
        if carcass is not None and isinstance(carcass.item, Carcass) and carcass.height:
            return carcass, f"{panels[0].item.id} end panel" if panels else f"{carcass.item.id} side {side}"
    raise Mistake("no carcass stands beside it; move it next to one")


def _material(item: Filler | EndPanel, goods: Goods) -> str:
    if item.material not in goods.thickness:
        raise Mistake(f"there is no material {item.material!r} in the project; it has {', '.join(goods.materials)}")
    return item.material
