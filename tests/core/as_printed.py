"""Pieces as the parts list prints them, and what can be told of them with a tape and a square.

Reads the JSON of the parts and nothing else, and shares no code with the construction.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise, product
from typing import Any

TOLERANCE = 1e-5
"""mm; the numbers are printed to 0.000001 mm."""
ROW = 1e-4
"""mm; the last of a row of holes is as far off as its pitch, printed to 0.000001 mm, as often as there are holes."""
AXES = ("x", "y", "z")
ENDS = {"left": "x", "right": "x", "front": "y", "back": "y", "bottom": "z", "top": "z"}
Span = tuple[float, float]
Block = tuple[Span, Span, Span]
"""What lies from where to where along x, y, z."""
Point = tuple[float, float, float]


class Amiss(Exception):
    """The first thing found wrong."""


@dataclass
class Hole:
    """A hole as bored: the middle of its mouth in the room, the axis that it goes along, and which way."""

    what: str
    mouth: Point
    axis: str
    inward: int
    radius: float
    depth: float

    def apart(self, other: Hole) -> float:
        """Between the middles, seen along the axis."""
        return sum((a - b) ** 2 for a, b in zip(self.seen(self.mouth), self.seen(other.mouth), strict=True)) ** 0.5

    def seen(self, of: Sequence[Any]) -> tuple[Any, Any]:
        """Two of three coordinates: those across the axis."""
        one, other = (of[i] for i, axis in enumerate(AXES) if axis != self.axis)
        return one, other


@dataclass
class Piece:
    """A piece as printed: its block, the blocks that machining takes out of it, and its holes."""

    name: str
    place: str
    material: str
    block: Block
    taken: list[Block]
    holes: list[Hole]

    def along(self, axis: str) -> Span:
        return self.block[AXES.index(axis)]

    def fills(self, point: Sequence[float]) -> bool:
        """Whether there is wood at a point."""
        return within(point, self.block) and not any(within(point, block) for block in self.taken)


def within(point: Sequence[float], block: Block) -> bool:
    return all(start < at < end for at, (start, end) in zip(point, block, strict=True))


def number(value: Any) -> float:
    assert isinstance(value, (int, float)) and not isinstance(value, bool), value
    return float(value)


def same(one: Any, other: Any, what: str) -> None:
    if abs(float(one) - float(other)) > TOLERANCE:
        raise Amiss(f"{what}: {float(one)} where {float(other)} is right")


def axis_of(edge: str) -> str:
    return ENDS[edge.removesuffix(" end")]


def span_of(box: Mapping[str, Any], axis: str) -> Span:
    return number(box[axis]), number(box[axis]) + number(box[f"d{axis}"])


def pieces_of(line: Mapping[str, Any]) -> Iterator[Piece]:
    """The pieces of a printed line, once its own figures agree with one another."""
    code = line["part"]
    if line["quantity"] != len(line["pieces"]):
        raise Amiss(f"{code}: {line['quantity']} wanted, {len(line['pieces'])} listed")
    length, width, thickness = number(line["length"]), number(line["width"]), number(line["thickness"])
    off = {"length": 0.0, "width": 0.0}
    for edge in line["edges"]:
        off["length" if edge["edge"].endswith(" end") else "width"] += number(edge["thickness"])
    same(number(line["blank_length"]) + off["length"], length, f"{code}: blank and bands in length")
    same(number(line["blank_width"]) + off["width"], width, f"{code}: blank and bands in width")
    if min(number(line["blank_length"]), number(line["blank_width"]), thickness) <= 0:
        raise Amiss(f"{code}: a part of no size")
    for piece in line["pieces"]:
        if "box" not in piece:
            continue
        spans = {axis: span_of(piece["box"], axis) for axis in AXES}
        extents = sorted(end - start for start, end in spans.values())
        for extent, told in zip(extents, sorted((length, width, thickness)), strict=True):
            same(extent, told, f"{piece['piece']}: its box")
        block = (spans["x"], spans["y"], spans["z"])
        cuts = [cut for cut in line["machining"] if cut["kind"] != "hole"]
        taken = [taken_block(cut, spans, thickness) for cut in cuts]
        holes = [
            hole
            for cut in line["machining"]
            if cut["kind"] == "hole"
            for hole in holes_of(cut, spans, length, width, thickness)
        ]
        made = Piece(piece["piece"], piece["place"], line["material"], block, taken, holes)
        check_holes(made, thickness)
        yield made


def high_face(cut: Mapping[str, Any]) -> bool:
    return cut["face"] in ("right", "back", "top")


def taken_block(cut: Mapping[str, Any], spans: Mapping[str, Span], thickness: float) -> Block:
    """Where a notch, rabbet, dado or groove lies in the room."""
    along, across = axis_of(cut["x_from"]), axis_of(cut["y_from"])
    (through,) = set(AXES) - {along, across}
    x, y = spans[along][0] + number(cut["x"]), spans[across][0] + number(cut["y"])
    if min(number(cut[key]) for key in ("x", "y")) < 0:
        raise Amiss(f"a {cut['kind']} that begins outside its part")
    out = {along: (x, x + number(cut["length"])), across: (y, y + number(cut["width"]))}
    for axis in (along, across):
        if out[axis][1] > spans[axis][1] + TOLERANCE or out[axis][1] <= out[axis][0]:
            raise Amiss(f"a {cut['kind']} that reaches outside its part, or has no size")
    start, end = spans[through]
    if not cut["through"]:
        depth = number(cut["depth"])
        if not 0 < depth < thickness:
            raise Amiss(f"a {cut['kind']} {depth} deep in {thickness}")
        start, end = (end - depth, end) if high_face(cut) else (start, start + depth)
    out[through] = (start, end)
    check_kind(cut, out, spans, along, across)
    return out["x"], out["y"], out["z"]


def check_kind(
    cut: Mapping[str, Any], out: Mapping[str, Span], spans: Mapping[str, Span], along: str, across: str
) -> None:
    """The word of the trade for it: rabbet along an edge, dado across the length, groove along it."""
    reaches = {
        axis: any(abs(a - b) <= TOLERANCE for a, b in zip(out[axis], spans[axis], strict=True))
        for axis in (along, across)
    }
    lengthwise = out[along][1] - out[along][0] >= out[across][1] - out[across][0] - TOLERANCE
    if cut["through"]:
        right = "notch" if any(reaches.values()) else "cutout"
    elif lengthwise:
        right = "rabbet" if reaches[across] else "groove"
    else:
        right = "rabbet" if reaches[along] else "dado"
    if cut["kind"] != right:
        raise Amiss(f"a {right} that is called a {cut['kind']}")


def holes_of(
    cut: Mapping[str, Any], spans: Mapping[str, Span], length: float, width: float, thickness: float
) -> Iterator[Hole]:
    """Each hole of a printed row, in the room."""
    along, across = axis_of(cut["x_from"]), axis_of(cut["y_from"])
    (through,) = set(AXES) - {along, across}
    if cut["through"] or not 0 < number(cut["depth"]) < thickness:
        raise Amiss(f"{cut['place']}: a hole {cut['depth']} deep comes through {thickness}")
    radius = number(cut["diameter"]) / 2
    if radius <= 0 or cut["count"] < 1 or (cut["count"] > 1 and number(cut["pitch"]) < 2 * radius):
        raise Amiss(f"{cut['place']}: holes that are none, or run into each other")
    for n in range(cut["count"]):
        x = number(cut["x"]) + (n * number(cut["pitch"]) if cut["along"] == "length" else 0)
        y = number(cut["y"]) + (n * number(cut["pitch"]) if cut["along"] == "width" else 0)
        if not (radius <= x <= length - radius and radius <= y <= width - radius):
            raise Amiss(f"{cut['place']}: a hole that is not whole on its panel")
        at = {along: spans[along][0] + x, across: spans[across][0] + y, through: spans[through][high_face(cut)]}
        inward = -1 if high_face(cut) else 1
        yield Hole(
            cut["place"], (at["x"], at["y"], at["z"]), through, inward, radius, min(number(cut["depth"]), thickness)
        )


def shares_hole(one: Hole, other: Hole) -> bool:
    """The screw of a plate goes into the very hole of a pin, which is bored deeper for it."""
    alike = one.apart(other) <= ROW and one.radius == other.radius and one.inward == other.inward
    return alike and sorted(hole.what.partition(" ")[0] for hole in (one, other)) == ["plate", "shelf"]


def check_holes(piece: Piece, thickness: float) -> None:
    """No hole is bored into air, comes through into a cut or another hole, or cuts into another's rim."""
    upwards = sorted(piece.holes, key=lambda hole: hole.mouth[2])
    widest = max((2 * hole.radius for hole in upwards), default=0)
    for n, one in enumerate(upwards):
        for other in upwards[n + 1 :]:
            if other.mouth[2] - one.mouth[2] > widest:
                break
            near = one.apart(other) < one.radius + other.radius - TOLERANCE
            if near and shares_hole(one, other):
                continue
            if near and (one.inward == other.inward or one.depth + other.depth >= thickness - TOLERANCE):
                raise Amiss(f"{piece.place}: {one.what} and {other.what} run into each other")
    for hole in piece.holes:
        i = AXES.index(hole.axis)
        deep = sorted((hole.mouth[i], hole.mouth[i] + hole.inward * hole.depth))
        for block in piece.taken:
            beside = sum(
                max(start - at, at - end, 0) ** 2
                for at, (start, end) in zip(hole.seen(hole.mouth), hole.seen(block), strict=True)
            )
            near = beside < (hole.radius - TOLERANCE) ** 2
            if near and deep[0] <= block[i][1] + TOLERANCE and block[i][0] <= deep[1] + TOLERANCE:
                raise Amiss(f"{piece.place}: {hole.what} is bored where a cut is")


def shared(one: Piece, other: Piece, least: float = TOLERANCE) -> Block | None:
    """What two blocks have in common, if it is more than `least` each way."""
    both = [(max(a[0], b[0]), min(a[1], b[1])) for a, b in zip(one.block, other.block, strict=True)]
    if any(end - start <= least for start, end in both):
        return None
    return both[0], both[1], both[2]


def middles(region: Sequence[Span], cuts: Sequence[Sequence[Span]]) -> Iterator[tuple[float, ...]]:
    """A point in each cell of the grid that the faces of cuts make in a region."""
    lines = []
    for axis, (start, end) in enumerate(region):
        ends = sorted({start, end, *(at for cut in cuts for at in cut[axis] if start < at < end)})
        lines.append([(a + b) / 2 for a, b in pairwise(ends) if b - a > TOLERANCE])
    yield from product(*lines)


def overlap(one: Piece, other: Piece) -> bool:
    """Whether they are in each other's place, with all that is cut out of them."""
    region = shared(one, other)
    if region is None:
        return False
    near = [
        cut
        for cut in (*one.taken, *other.taken)
        if all(a[0] < b[1] and b[0] < a[1] for a, b in zip(cut, region, strict=True))
    ]
    return any(one.fills(at) and other.fills(at) for at in middles(region, near))


def touch(one: Piece, other: Piece, axis: str = "") -> bool:
    """Whether they meet over a real area; `axis`: on faces across that axis."""
    if shared(one, other, -2 * TOLERANCE) is None:
        return False
    for i in range(3) if not axis else (AXES.index(axis),):
        flat = [n for n in range(3) if n != i]
        region = [(max(one.block[n][0], other.block[n][0]), min(one.block[n][1], other.block[n][1])) for n in flat]
        if any(end - start <= TOLERANCE for start, end in region):
            continue
        mine, theirs = ({at for block in (p.block, *p.taken) for at in block[i]} for p in (one, other))
        cuts = [[cut[n] for n in flat] for cut in (*one.taken, *other.taken)]
        for plane in [a for a in mine if any(abs(a - b) <= TOLERANCE for b in theirs)]:
            for at in middles(region, cuts):
                below, above = ([*at[:i], plane + step, *at[i:]] for step in (-2 * TOLERANCE, 2 * TOLERANCE))
                if (one.fills(below) and other.fills(above)) or (other.fills(below) and one.fills(above)):
                    return True
    return False
