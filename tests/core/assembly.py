"""Puts a carcass together from the parts as printed, and measures it as a person with a tape would.

Reads the JSON of the parts and nothing else, and shares no code with the construction: the
geometry here is its own, and what a size means is worked out once more from the words.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import combinations, product
from typing import Any

TOLERANCE = Fraction(1, 100_000)
"""mm; the numbers are printed to 0.000001 mm."""
AXES = ("x", "y", "z")
ENDS = {"left": "x", "right": "x", "front": "y", "back": "y", "bottom": "z", "top": "z"}
Span = tuple[Fraction, Fraction]
Block = tuple[Span, Span, Span]
"""What lies from where to where along x, y, z."""


@dataclass
class Asked:
    """What was asked of a carcass, mm, in the words of the rule book; standing alone at x = 0."""

    width: Fraction
    height: Fraction
    depth: Fraction
    panel: Fraction
    back_panel: Fraction
    shelf_panel: Fraction
    kick_panel: Fraction
    base: str = "kick"
    runs_through: str = "sides"
    top: str = "panel"
    back: str = "applied"
    back_reach: str = "bottom"
    kick_height: Fraction = Fraction(0)
    kick_depth: Fraction = Fraction(0)
    rail_width: Fraction = Fraction(0)
    back_height: Fraction = Fraction(0)
    rabbet_depth: Fraction = Fraction(0)
    shelf_play: Fraction = Fraction(0)
    shelf_setback: Fraction = Fraction(0)
    band: Fraction | None = None
    """Thickness of the banding on front edges; None for none."""
    bays: list[tuple[Fraction | None, list[Fraction] | int, int]] = field(default_factory=lambda: [(None, 0, 0)])
    """Of each bay its width (None: an equal share), its fixed shelves (heights, or how many), its adjustable ones."""
    board: tuple[Fraction, Fraction] | None = None
    """A baseboard: how high and how far from the carcass's rear plane it keeps everything away, clearance counted."""


@dataclass
class Piece:
    """A piece as printed: its block, and the blocks that machining takes out of it."""

    name: str
    place: str
    material: str
    block: Block
    taken: list[Block]

    def along(self, axis: str) -> Span:
        return self.block[AXES.index(axis)]


class Amiss(Exception):
    """The first thing found wrong."""


def number(value: Any) -> Fraction:
    assert isinstance(value, (int, float)) and not isinstance(value, bool), value
    return Fraction(str(value))


def same(one: Fraction, other: Fraction, what: str) -> None:
    if abs(one - other) > TOLERANCE:
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
    off = {"length": Fraction(0), "width": Fraction(0)}
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
        taken = [taken_block(cut, spans, thickness) for cut in line["machining"]]
        yield Piece(piece["piece"], piece["place"], line["material"], block, taken)


def taken_block(cut: Mapping[str, Any], spans: Mapping[str, Span], thickness: Fraction) -> Block:
    """Where a notch or rabbet lies in the room."""
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
            raise Amiss(f"a {cut['kind']} {float(depth)} deep in {float(thickness)}")
        high = cut["face"] in ("right", "back", "top")
        start, end = (end - depth, end) if high else (start, start + depth)
    out[through] = (start, end)
    return out["x"], out["y"], out["z"]


def cells(one: Piece, other: Piece) -> tuple[list[list[Fraction]], set[tuple[int, ...]], set[tuple[int, ...]]]:
    """A grid by all faces of two pieces, and the cells of it that each of them fills."""
    blocks = [one.block, *one.taken, other.block, *other.taken]
    lines: list[list[Fraction]] = []
    for axis in range(3):
        ordered = sorted(end for block in blocks for end in block[axis])
        lines.append([x for i, x in enumerate(ordered) if i == 0 or x - ordered[i - 1] > TOLERANCE])

    def filled(piece: Piece) -> set[tuple[int, ...]]:
        found = set()
        for cell in product(*(range(len(line) - 1) for line in lines)):
            middle = [(lines[axis][i] + lines[axis][i + 1]) / 2 for axis, i in enumerate(cell)]
            inside = [
                all(start < at < end for at, (start, end) in zip(middle, block, strict=True))
                for block in (piece.block, *piece.taken)
            ]
            if inside[0] and not any(inside[1:]):
                found.add(cell)
        return found

    return lines, filled(one), filled(other)


def apart(one: Piece, other: Piece) -> bool:
    """One beside the other with nothing in common, whatever is cut out of them."""
    return any(
        a[1] <= b[0] + TOLERANCE or b[1] <= a[0] + TOLERANCE for a, b in zip(one.block, other.block, strict=True)
    )


def overlap(one: Piece, other: Piece) -> bool:
    if apart(one, other):
        return False
    _, mine, theirs = cells(one, other)
    return bool(mine & theirs)


def touch(one: Piece, other: Piece) -> bool:
    """Whether they meet over a real area."""
    if any(a[1] < b[0] - TOLERANCE or b[1] < a[0] - TOLERANCE for a, b in zip(one.block, other.block, strict=True)):
        return False
    _, mine, theirs = cells(one, other)
    for cell in mine:
        for axis in range(3):
            for step in (-1, 1):
                if (*cell[:axis], cell[axis] + step, *cell[axis + 1 :]) in theirs:
                    return True
    return False


class Assembly:
    """The pieces of one carcass, by their places, and every measure that can be taken of them."""

    def __init__(self, document: Mapping[str, Any], asked: Asked, materials: Mapping[str, str]) -> None:
        """`materials`: which material each of panel, back_panel, shelf_panel and kick_panel is."""
        self.asked = asked
        self.pieces: dict[str, Piece] = {}
        thick = {"panel": asked.panel, "back_panel": asked.back_panel}
        thick |= {"shelf_panel": asked.shelf_panel, "kick_panel": asked.kick_panel}
        for line in document["parts"]:
            for piece in pieces_of(line):
                self.pieces[piece.place] = piece
                rule = self.rule_of(piece.place)
                if piece.material != materials[rule]:
                    raise Amiss(f"{piece.place} is of {piece.material}")
                same(number(line["thickness"]), thick[rule], f"{piece.place}: thickness")
                axis = {"side": "x", "divider": "x", "plinth end": "x"}.get(self.role_of(piece.place))
                axis = axis or ("y" if self.role_of(piece.place) in ("back", "kick", "plinth") else "z")
                start, end = piece.along(axis)
                same(end - start, thick[rule], f"{piece.place}: the way that it stands")
                self.check_bands(line, piece.place)

    @staticmethod
    def role_of(place: str) -> str:
        for role in ("plinth end", "loose shelf", "side", "bottom", "top", "rail", "kick", "back", "divider", "shelf"):
            if place == role or place.startswith(f"{role} "):
                return role
        return "plinth"

    def rule_of(self, place: str) -> str:
        role = self.role_of(place)
        if role in ("shelf", "loose shelf"):
            return "shelf_panel"
        if role in ("kick", "plinth", "plinth end"):
            return "kick_panel"
        return "back_panel" if role == "back" else "panel"

    def check_bands(self, line: Mapping[str, Any], place: str) -> None:
        shows = self.role_of(place) in ("side", "bottom", "top", "divider", "shelf", "loose shelf")
        shows = shows or place == "rail front"
        edges = [(edge["edge"].removesuffix(" end"), number(edge["thickness"])) for edge in line["edges"]]
        if shows and self.asked.band is not None:
            if [edge for edge, _ in edges] != ["front"]:
                raise Amiss(f"{place}: banded at {edges}")
            same(edges[0][1], self.asked.band, f"{place}: banding")
        elif edges:
            raise Amiss(f"{place}: banded at {edges}")

    def span(self, place: str, axis: str, start: Fraction, end: Fraction) -> None:
        if place not in self.pieces:
            raise Amiss(f"there is no {place}")
        have = self.pieces[place].along(axis)
        same(have[0], start, f"{place}, {axis}, where it begins")
        same(have[1], end, f"{place}, {axis}, where it ends")

    def joint(self, one: str, other: str) -> None:
        if not touch(self.pieces[one], self.pieces[other]):
            raise Amiss(f"{one} and {other} do not meet")

    def check(self) -> None:
        """Everything. Raises Amiss at the first thing that is not as it was asked."""
        for one, other in combinations(self.pieces.values(), 2):
            if overlap(one, other):
                raise Amiss(f"{one.place} and {other.place} are in each other")
        asked = self.asked
        self.foot = asked.kick_height if asked.base == "plinth" else Fraction(0)
        self.kick = asked.kick_height if asked.base == "kick" else Fraction(0)
        self.rear = asked.depth - (asked.back_panel if asked.back != "none" else 0)
        self.expected: set[str] = set()
        self.outside()
        self.sides()
        self.lying()
        self.base()
        self.back()
        self.inside()
        if set(self.pieces) != self.expected:
            raise Amiss(f"{set(self.pieces) ^ self.expected} is not what was asked")

    def outside(self) -> None:
        """Outside to outside: width, depth and height of the box, its plinth apart."""
        box = [piece for place, piece in self.pieces.items() if self.role_of(place) not in ("plinth", "plinth end")]
        outer = {axis: (min(p.along(axis)[0] for p in box), max(p.along(axis)[1] for p in box)) for axis in AXES}
        same(outer["x"][1] - outer["x"][0], self.asked.width, "width")
        same(outer["y"][1] - outer["y"][0], self.asked.depth, "depth")
        same(outer["z"][1] - self.foot, self.asked.height, "height")

    def sides(self) -> None:
        asked = self.asked
        through = asked.runs_through == "sides"
        low = self.foot if through else self.foot + asked.panel
        high = self.foot + asked.height
        if not through and asked.top == "panel":
            high -= asked.panel
        deep = asked.depth - (asked.back_panel if asked.back == "applied" else 0)
        for place, start in (("side left", Fraction(0)), ("side right", asked.width - asked.panel)):
            self.expected.add(place)
            self.span(place, "x", start, start + asked.panel)
            self.span(place, "y", Fraction(0), deep)
            self.span(place, "z", low, high)
            self.side_cuts(place, deep, low, high)

    def side_cuts(self, place: str, deep: Fraction, low: Fraction, high: Fraction) -> None:
        """Toe notch, baseboard notch and rabbet of a side, and nothing else."""
        asked, piece = self.asked, self.pieces[place]
        whole = piece.along("x")
        wanted: list[Block] = []
        if self.kick:
            wanted.append((whole, (Fraction(0), asked.kick_depth), (low, low + self.kick)))
        wanted += self.board_notch(whole, deep, low, high)
        if asked.back == "let in" and asked.rabbet_depth:
            inner = (whole[1] - asked.rabbet_depth, whole[1])
            if place == "side right":
                inner = (whole[0], whole[0] + asked.rabbet_depth)
            wanted.append((inner, (asked.depth - asked.back_panel, asked.depth), (low, high)))
        self.cuts(place, wanted)

    def board_notch(self, whole: Span, deep: Fraction, low: Fraction, high: Fraction) -> list[Block]:
        if not self.asked.board:
            return []
        over, off = self.asked.board
        front = self.asked.depth - off
        if front >= deep or low >= over:
            return []
        return [(whole, (front, deep), (low, over))]

    def cuts(self, place: str, wanted: list[Block]) -> None:
        have = sorted(self.pieces[place].taken)
        if len(have) != len(wanted):
            raise Amiss(f"{place} has {len(have)} cuts, {len(wanted)} are right")
        for mine, right in zip(have, sorted(wanted), strict=True):
            for axis in range(3):
                same(mine[axis][0], right[axis][0], f"a cut in {place}, {AXES[axis]}")
                same(mine[axis][1], right[axis][1], f"a cut in {place}, {AXES[axis]}")

    def clear(self, low: Fraction, deep: Fraction) -> Fraction:
        """How deep a lying panel may be whose underside is at `low`."""
        if self.asked.board and low < self.asked.board[0]:
            return min(deep, self.asked.depth - self.asked.board[1])
        return deep

    def lying(self) -> None:
        """Bottom, top, rails."""
        asked = self.asked
        through = asked.runs_through != "sides"
        x = (Fraction(0), asked.width) if through else (asked.panel, asked.width - asked.panel)
        deep = asked.depth if through and asked.back == "let in" else self.rear
        bottom = self.foot + self.kick
        top = self.foot + asked.height - asked.panel
        levels = [("bottom", bottom)] + ([("top", top)] if asked.top == "panel" else [])
        for place, low in levels:
            self.expected.add(place)
            self.span(place, "x", *x)
            self.span(place, "y", Fraction(0), self.clear(low, deep))
            self.span(place, "z", low, low + asked.panel)
            rabbet: list[Block] = []
            if through and asked.back == "let in" and asked.rabbet_depth and self.clear(low, deep) > self.rear:
                z = (low + asked.panel - asked.rabbet_depth, low + asked.panel)
                if place == "top":
                    z = (low, low + asked.rabbet_depth)
                inner = (asked.panel - asked.rabbet_depth, asked.width - asked.panel + asked.rabbet_depth)
                rabbet = [(inner, (self.rear, self.clear(low, deep)), z)]
            self.cuts(place, rabbet)
            self.joint(place, "side left")
            self.joint(place, "side right")
        if asked.top == "rails":
            for place, y in (("rail front", Fraction(0)), ("rail rear", self.rear - asked.rail_width)):
                self.expected.add(place)
                self.span(place, "x", asked.panel, asked.width - asked.panel)
                self.span(place, "y", y, y + asked.rail_width)
                self.span(place, "z", top, top + asked.panel)
                self.joint(place, "side left")
                self.joint(place, "side right")
        self.floor = bottom + asked.panel
        self.ceiling = self.foot + asked.height - (asked.panel if asked.top != "none" else 0)

    def base(self) -> None:
        asked = self.asked
        if self.kick:
            self.expected.add("kick")
            self.span("kick", "x", asked.panel, asked.width - asked.panel)
            self.span("kick", "y", asked.kick_depth, asked.kick_depth + asked.kick_panel)
            self.span("kick", "z", Fraction(0), self.kick)
            for other in ("side left", "side right", "bottom"):
                self.joint("kick", other)
        if not self.foot:
            return
        t = asked.kick_panel
        rear = asked.depth - (asked.board[1] if asked.board else 0)
        for place, y in (("plinth front", asked.kick_depth), ("plinth rear", rear - t)):
            self.expected.add(place)
            self.span(place, "x", Fraction(0), asked.width)
            self.span(place, "y", y, y + t)
            self.span(place, "z", Fraction(0), self.foot)
        for place, x in (("plinth end left", Fraction(0)), ("plinth end right", asked.width - t)):
            self.expected.add(place)
            self.span(place, "x", x, x + t)
            self.span(place, "y", asked.kick_depth + t, rear - t)
            self.span(place, "z", Fraction(0), self.foot)
            for other in ("plinth front", "plinth rear"):
                self.joint(place, other)
            carried = f"side {place.split()[-1]}" if asked.runs_through == "sides" else "bottom"
            self.joint(place, carried)

    def back(self) -> None:
        asked = self.asked
        if asked.back == "none":
            return
        self.expected.add("back")
        x = (Fraction(0), asked.width)
        low, high = self.foot, self.foot + asked.height
        if asked.back == "let in":
            x = (asked.panel - asked.rabbet_depth, asked.width - asked.panel + asked.rabbet_depth)
            if asked.runs_through != "sides":
                low += asked.panel - asked.rabbet_depth
                high -= asked.panel - asked.rabbet_depth if asked.top == "panel" else 0
        if asked.back_reach == "bottom":
            low = max(low, self.foot + self.kick)
        if asked.back_reach == "part":
            low = high - asked.back_height
        whole = low
        if asked.board:
            low = max(low, asked.board[0])
        self.span("back", "x", *x)
        self.span("back", "y", asked.depth - asked.back_panel, asked.depth)
        self.span("back", "z", low, high)
        for side in ("side left", "side right"):
            self.joint("back", side)
        if asked.back_reach != "part" and low == whole and self.pieces["bottom"].along("y")[1] >= self.rear - TOLERANCE:
            self.joint("back", "bottom")
        if asked.top == "panel":
            self.joint("back", "top")
        if asked.top == "rails":
            self.joint("back", "rail rear")

    def inside(self) -> None:
        """Dividers and shelves, bay by bay from the left."""
        asked, t = self.asked, self.asked.panel
        told = [width for width, _, _ in asked.bays]
        room = asked.width - 2 * t - (len(told) - 1) * t - sum((w for w in told if w is not None), Fraction(0))
        share = room / max(1, told.count(None))
        left, upright = t, "side left"
        for bay, (width, fixed, loose) in enumerate(asked.bays, start=1):
            right = left + (share if width is None else width)
            beyond = "side right" if bay == len(told) else f"divider {bay}"
            if beyond.startswith("divider"):
                self.divider(beyond, right)
            tops = self.shelves(bay, (left, right), fixed, (upright, beyond))
            self.adjustable(bay, (left, right), loose, tops, (upright, beyond))
            left, upright = right + t, beyond

    def divider(self, place: str, x: Fraction) -> None:
        asked = self.asked
        self.expected.add(place)
        self.span(place, "x", x, x + asked.panel)
        self.span(place, "y", Fraction(0), self.rear)
        self.span(place, "z", self.floor, self.ceiling)
        self.cuts(place, self.board_notch((x, x + asked.panel), self.rear, self.floor, self.ceiling))
        self.joint(place, "bottom")
        for over in {"panel": ("top",), "rails": ("rail front", "rail rear"), "none": ()}[asked.top]:
            self.joint(place, over)

    def shelves(
        self, bay: int, x: Span, fixed: list[Fraction] | int, uprights: tuple[str, str]
    ) -> list[tuple[Fraction, Fraction]]:
        """Checks the fixed shelves; returns the openings that they leave, upwards."""
        t = self.asked.shelf_panel
        if isinstance(fixed, int):
            opening = (self.ceiling - self.floor - fixed * t) / (fixed + 1)
            heights = [self.floor + opening * (n + 1) + t * n for n in range(fixed)]
        else:
            heights = [self.floor + up for up in sorted(fixed)]
        openings = []
        low = self.floor
        for n, up in enumerate(heights, start=1):
            place = f"shelf bay {bay} no {n}"
            self.expected.add(place)
            self.span(place, "x", *x)
            self.span(place, "y", Fraction(0), self.clear(up, self.rear))
            self.span(place, "z", up, up + t)
            for upright in uprights:
                self.joint(place, upright)
            openings.append((low, up))
            low = up + t
        return [*openings, (low, self.ceiling)]

    def adjustable(
        self, bay: int, x: Span, count: int, openings: list[tuple[Fraction, Fraction]], uprights: tuple[str, str]
    ) -> None:
        asked, t = self.asked, self.asked.shelf_panel
        low, high = max(openings, key=lambda opening: opening[1] - opening[0])
        clear = (high - low - count * t) / (count + 1)
        for n in range(1, count + 1):
            place = f"loose shelf bay {bay} no {n}"
            self.expected.add(place)
            up = low + clear * n + t * (n - 1)
            self.span(place, "x", x[0] + asked.shelf_play, x[1] - asked.shelf_play)
            self.span(place, "y", asked.shelf_setback, self.clear(up, self.rear))
            self.span(place, "z", up, up + t)
            for upright in uprights if not asked.shelf_play else ():
                self.joint(place, upright)
