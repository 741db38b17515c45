"""How a cut list that was worked out by hand is written down, and how the program's is read to stand beside it.

A size is written as in the shop, in inches (`34 1/2 x 23 3/4`), or with its unit (`2100 x 600 mm`).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from designs import BANDINGS, GOODS, INCH, parts_of, plan_of

from core.construction.part import Part
from core.goods import Banding, Material, Stock
from core.outputs import parts_document
from core.project import Design

WORKED_GOODS: Mapping[str, Material] = {
    **GOODS,
    "half": Material("Plywood 1/2", "1/2 in", "1/2 in", stock=(Stock("96 in", "48 in"),)),
    "hardboard": Material("Hardboard 1/4", "1/4 in", "1/4 in", grain=False, stock=(Stock("96 in", "48 in"),)),
    "board": Material("Board 18", "18 mm", "18 mm", grain=False, stock=(Stock("2800 mm", "2070 mm"),)),
    "backing": Material("Board 6", "6 mm", "6 mm", grain=False, stock=(Stock("2800 mm", "2070 mm"),)),
}
WORKED_BANDINGS: Mapping[str, Banding] = {**BANDINGS, "edge": Banding("Edge", "1 mm")}


def placed(of: Design) -> dict[str, Part]:
    """Its parts by place, those of carcass A without its letter (`side left`); all of them must fit together."""
    return {place.removeprefix("A "): part for place, part in parts_of(of).items()}


def lengths(text: str) -> tuple[Fraction, ...]:
    """Each size of `34 1/2 x 4`, mm."""
    unit = Fraction(1) if text.endswith(" mm") else INCH
    return tuple(sum(map(Fraction, one.split()), Fraction(0)) * unit for one in text.removesuffix(" mm").split(" x "))


@dataclass(frozen=True)
class Cut:
    """A line of a cut list: finished length and width, what the saw delivers, and which edges are banded."""

    finished: tuple[Fraction, ...]
    blank: tuple[Fraction, ...]
    material: str
    banded: str


def cut(finished: str, material: str = "ply", banded: str = "", blank: str = "") -> Cut:
    """By hand. Without banding the blank is the finished size."""
    return Cut(lengths(finished), lengths(blank or finished), material, banded)


def cut_list(parts: Mapping[str, Part]) -> dict[str, Cut]:
    """The program's: one line a part, by its place."""
    found = {}
    for place, part in parts.items():
        edges = [part.edge_name(edge.side).removesuffix(" end") for edge in part.edges]
        banded = "all round" if len(edges) == 4 else ", ".join(edges)
        blank = (part.blank_length, part.blank_width)
        found[place] = Cut((part.length, part.width), blank, part.material, banded)
    return found


def shop_list(of: Design) -> Counter[tuple[str, str]]:
    """How many of each material and size, out of what `sawhorse parts --json` prints."""
    found: Counter[tuple[str, str]] = Counter()
    for line in parts_document(plan_of(of))["parts"]:
        found[line["material"], f"{line['length_text']} x {line['width_text']}"] += line["quantity"]
    return found


@dataclass(frozen=True)
class Taken:
    """A rectangle that is cut out: its corner nearest the part's lower left, and its size, along length and width."""

    kind: str
    at: tuple[Fraction, ...]
    size: tuple[Fraction, ...]
    depth: Fraction | None
    face: str | None


def taken(kind: str, at: str, size: str, depth: str = "", face: str | None = None) -> Taken:
    """By hand. Without a depth it goes through."""
    return Taken(kind, lengths(at), lengths(size), lengths(depth)[0] if depth else None, face)


def machining(part: Part) -> set[Taken]:
    """The program's, of one part."""
    return {
        Taken(one.kind, (one.x, one.y), (one.length, one.width), one.depth, one.face and part.face_name(one.face))
        for one in part.machining
    }


@dataclass(frozen=True)
class Bored:
    """A row of holes, 32 mm apart, up the part's length: the centre of the first, how many, how wide, how deep."""

    at: tuple[Fraction, Fraction]
    count: int
    diameter: Fraction
    depth: Fraction | None
    face: str


def _bored(x: str, y: str, face: str, count: int, diameter: int, depth: str) -> Bored:
    return Bored((lengths(x)[0], lengths(y)[0]), count, Fraction(diameter), lengths(depth)[0], face)


def pins(x: str, y: str, face: str, count: int, depth: str = "5/16") -> Bored:
    """By hand: `x` along the length, `y` across. 5 mm pins (32 mm system), as deep as the rule book says."""
    return _bored(x, y, face, count, 5, depth)


def plate(x: str, y: str, face: str, depth: str = "7/16") -> Bored:
    """The two holes of a hinge's plate; `x` of the lower one. 5 mm (32 mm system), as deep as the rule book says."""
    return _bored(x, y, face, 2, 5, depth)


def cup(x: str, y: str) -> Bored:
    """A hinge's cup in the back of a door: 35 mm wide, 12.5 deep (trade practice)."""
    return _bored(x, y, "back", 1, 35, "12.5 mm")


def holes(part: Part) -> set[Bored]:
    """The program's, of one part."""
    found = set()
    for row in part.holes:
        face = part.face_name(row.face)
        if row.diameter == 35:
            # Cups stand for themselves: they follow each other as the door is high.
            found |= {Bored(at, 1, row.diameter, row.depth, face) for at in row.centres()}
            continue
        assert (row.pitch, row.along) == (32, "length")
        found.add(Bored((row.x, row.y), row.count, row.diameter, row.depth, face))
    return found


def low_corner(part: Part) -> tuple[Fraction, ...]:
    """Where its left, front, lower corner is: x from the carcass's left, y from its front edges, z from the floor."""
    return part.box.low
