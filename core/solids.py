"""Parts as solids in their places: what they fill, what they weigh, where they balance.

A part is its box less its machining, held as boxes that do not overlap. Exact throughout, in
millimetres and cubic millimetres; only weights are ordinary decimals.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction

from core.construction.part import Axis, Box, Machining, Part


def block_of(part: Part, cut: Machining) -> Box:
    """What a machining takes away, as a box in the room."""
    depth = part.thickness if cut.depth is None else cut.depth
    start = part.thickness - depth if cut.face == "high" else Fraction(0)
    spans: dict[Axis, tuple[Fraction, Fraction]] = {
        part.length_axis: (cut.x, cut.x + cut.length),
        part.width_axis: (cut.y, cut.y + cut.width),
        part.thickness_axis: (start, start + depth),
    }
    low = part.box.low
    x, y, z = (spans["x"], spans["y"], spans["z"])
    return Box((low[0] + x[0], low[1] + y[0], low[2] + z[0]), (low[0] + x[1], low[1] + y[1], low[2] + z[1]))


def solid(part: Part) -> list[Box]:
    """The part as boxes that touch and never overlap: its own box less every machining."""
    boxes = [part.box]
    for cut in part.machining:
        block = block_of(part, cut)
        boxes = [rest for box in boxes for rest in _less(box, block)]
    return boxes


def _less(box: Box, block: Box) -> list[Box]:
    """`box` without what `block` covers, as at most six boxes."""
    if not overlap(box, block):
        return [box]
    rest: list[Box] = []
    low, high = list(box.low), list(box.high)
    for i in range(3):
        if block.low[i] > low[i]:
            cut = high.copy()
            cut[i] = block.low[i]
            rest.append(Box((low[0], low[1], low[2]), (cut[0], cut[1], cut[2])))
            low[i] = block.low[i]
        if block.high[i] < high[i]:
            cut = low.copy()
            cut[i] = block.high[i]
            rest.append(Box((cut[0], cut[1], cut[2]), (high[0], high[1], high[2])))
            high[i] = block.high[i]
    return rest


def overlap(a: Box, b: Box) -> bool:
    """Whether two boxes have more in common than a face."""
    return all(a.low[i] < b.high[i] and b.low[i] < a.high[i] for i in range(3))


def _volume(box: Box) -> Fraction:
    return box.span("x") * box.span("y") * box.span("z")


def outside(parts: Iterable[Part]) -> Box | None:
    """The least box round all parts; None without any."""
    boxes = [part.box for part in parts]
    if not boxes:
        return None
    lows = [min(box.low[i] for box in boxes) for i in range(3)]
    highs = [max(box.high[i] for box in boxes) for i in range(3)]
    return Box((lows[0], lows[1], lows[2]), (highs[0], highs[1], highs[2]))


def volume(part: Part) -> Fraction:
    """What is left of the part after machining, mm3."""
    return sum((_volume(box) for box in solid(part)), Fraction(0))


def weight(part: Part, density: float) -> float:
    """Kilograms, at `density` kilograms a cubic metre."""
    return float(volume(part)) * 1e-9 * density


def centre_of_gravity(
    parts: Iterable[Part], densities: Mapping[str, float]
) -> tuple[float, tuple[float, float, float]]:
    """Weight in kilograms and centre of gravity in the room, mm. Parts of unknown density are left out."""
    total, moment = 0.0, [0.0, 0.0, 0.0]
    for part in parts:
        density = densities.get(part.material)
        if density is None:
            continue
        for box in solid(part):
            mass = float(_volume(box)) * 1e-9 * density
            total += mass
            for i in range(3):
                moment[i] += mass * float(box.low[i] + box.high[i]) / 2
    if not total:
        return 0.0, (0.0, 0.0, 0.0)
    return total, (moment[0] / total, moment[1] / total, moment[2] / total)
