"""How a sheet is cut before anything is laid out on it: a first crosscut, a first rip, the way round bad places.

A sheet whose length no saw here can rip is crosscut first, and one that is brought home in strips
is ripped first; out of a piece with bad places, unless its trim takes them off, these are cut first.
What is left are its openings.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product

from core.layout.job import JobStock, JobTrim
from core.layout.place import Place, common
from core.layout.tree import Cut, Direction, Node, Spare, Spot, replaced, walk


@dataclass(frozen=True, slots=True)
class Opening:
    """A piece of a sheet that can be laid out, by its place in the walk through the settled cuts."""

    place: int
    stock: JobStock


@dataclass(frozen=True, slots=True)
class Way:
    """Settled cuts of a sheet, and what they leave to be laid out."""

    tree: Node
    openings: tuple[Opening, ...]

    def area(self, kerf: int) -> int:
        """That of all openings, each one kerf larger in both directions (`core.layout.blanks`)."""
        return sum((of.stock.inner_length + kerf) * (of.stock.inner_width + kerf) for of in self.openings)


def is_cut_first(stock: JobStock) -> bool:
    """Whether it is cut in a settled way before anything is laid out on it."""
    return bool(stock.crosscut_at or stock.rip_at or stock.bad)


def ways_to_cut(stock: JobStock, kerf: int) -> tuple[Way, ...]:
    """In which ways a sheet may be cut first.

    There are two round each bad place, rips first and crosscuts first: each part that fits beside them fits in one.
    The one that leaves the larger piece is told first. A sheet that is not cut first is its own and only opening.
    """
    if not is_cut_first(stock):
        return (Way(Spare(stock.length, stock.width), (Opening(0, stock),)),)
    tree = _quartered(stock, kerf)
    choices = product((True, False), repeat=len(stock.bad))
    trees = dict.fromkeys(_around(tree, stock, kerf, rips_first) for rips_first in choices)
    ways = [Way(around, tuple(_openings(stock, around, kerf))) for around in trees]
    return tuple(sorted(ways, key=_areas, reverse=True))


def _areas(way: Way) -> list[int]:
    """Those of the openings, the largest first."""
    return sorted([one.stock.inner_length * one.stock.inner_width for one in way.openings], reverse=True)


def _quartered(stock: JobStock, kerf: int) -> Node:
    """The first crosscut, and the first rip of each piece that it leaves; of the sheet where there is no crosscut."""
    if not stock.crosscut_at:
        return _ripped(stock, stock.length, kerf)
    beyond = stock.length - stock.crosscut_at - kerf
    high = _ripped(stock, beyond, kerf) if beyond > 0 else None
    return Cut(stock.length, stock.width, "crosscut", _ripped(stock, stock.crosscut_at, kerf), high)


def _ripped(stock: JobStock, length: int, kerf: int) -> Node:
    if not stock.rip_at:
        return Spare(length, stock.width)
    beyond = stock.width - stock.rip_at - kerf
    high = Spare(length, beyond) if beyond > 0 else None
    return Cut(length, stock.width, "rip", Spare(length, stock.rip_at), high)


def _around(tree: Node, stock: JobStock, kerf: int, rips_first: tuple[bool, ...]) -> Node:
    """The tree, and the cuts that take each bad place in turn out of all pieces that are not bad already.

    Strips on both sides of it one way, then what is left of its strip.
    """
    for number, rip_first in enumerate(rips_first):
        # The last place first, so that the others stay where they are.
        for place, spot in reversed([*enumerate(walk(tree))]):
            piece = spot.node
            bad = _bad_on(stock, stock.bad[number : number + 1], spot, kerf)
            if isinstance(piece, Spare) and bad and not _bad_on(stock, stock.bad[:number], spot, kerf):
                x, y, length, width = bad[0]
                ways: list[tuple[Direction, int, int]] = [("rip", y, width), ("crosscut", x, length)]
                around = _without(piece.length, piece.width, ways if rip_first else ways[::-1], kerf)
                tree = replaced(tree, place, around)
    return tree


def _without(length: int, width: int, ways: list[tuple[Direction, int, int]], kerf: int) -> Node:
    """A rectangle with what lies before and behind `start` and its `extent` cut off, way after way."""
    if not ways:
        return Spare(length, width)
    (direction, start, extent), *others = ways
    rip = direction == "rip"
    whole = width if rip else length

    def sized(size: int) -> tuple[int, int]:
        return (length, size) if rip else (size, width)

    # What is no wider than the blade stays with the bad place; in that it does not run: a thinner one would leave
    # some of it beyond.
    low = start if start > kerf else 0
    high = start + extent if whole - start - extent > kerf else whole
    node = _without(*sized(high - low), others, kerf)
    if high < whole:
        node = Cut(*sized(whole - low), direction, node, Spare(*sized(whole - high - kerf)))
    if low:
        node = Cut(*sized(whole), direction, Spare(*sized(low - kerf)), node)
    return node


def _openings(stock: JobStock, tree: Node, kerf: int) -> Iterator[Opening]:
    """The pieces that are laid out: all that no bad place spoils, and of which trimming leaves something."""
    number = 0
    for place, spot in enumerate(walk(tree)):
        piece = spot.node
        if not isinstance(piece, Spare) or _bad_on(stock, stock.bad, spot, kerf):
            continue
        number += 1
        trim = _trim_of(stock, spot, kerf)
        share = -(-stock.price * piece.length * piece.width // (stock.length * stock.width))
        one = JobStock(f"{stock.name}, {number}", piece.length, piece.width, trim, stock.quantity, share)
        if one.inner_length > 0 and one.inner_width > 0:
            yield Opening(place, one)


def _trim_of(stock: JobStock, spot: Spot, kerf: int) -> JobTrim:
    """What a piece loses at its edges: as far as the trim of the sheet's own, and of first cuts, reaches into it."""
    trim, piece = stock.trim, spot.node
    crosscut = (stock.crosscut_at, stock.crosscut_trim, kerf) if stock.crosscut_at else None
    rip = (stock.rip_at, stock.rip_trim, kerf) if stock.rip_at else None
    along = _reach(spot.x, piece.length, stock.length, (trim.left, trim.right), crosscut)
    across = _reach(spot.y, piece.width, stock.width, (trim.bottom, trim.top), rip)
    # A blade takes its kerf, or nothing.
    return JobTrim(*(max(reach, kerf) if reach else 0 for reach in (*along, *across)))


def _reach(
    start: int, extent: int, whole: int, trim: tuple[int, int], first_cut: tuple[int, int, int] | None
) -> tuple[int, int]:
    """How far trim reaches into what lies between two places. `first_cut`: where it begins, its trim and its kerf."""
    end = start + extent
    low, high = trim[0] - start, trim[1] - (whole - end)
    if first_cut:
        at, lost, kerf = first_cut
        if start >= at + kerf:
            low = max(low, at + kerf + lost - start)
        if end <= at:
            high = max(high, end - (at - lost))
    return max(0, low), max(0, high)


def _bad_on(stock: JobStock, bad: tuple[Place, ...], spot: Spot, kerf: int) -> list[Place]:
    """What of these bad places is on a piece, from its corner; nothing of those that trimming an edge takes off.

    What lies between one and an edge, and is trimmed off, goes with it.
    """
    piece, trim, found = spot.node, _trim_of(stock, spot, kerf), []
    for x, y, length, width in common(bad, spot.x, spot.y, piece.length, piece.width):
        end, top = x + length, y + width
        if end <= trim.left or top <= trim.bottom or piece.length - x <= trim.right or piece.width - y <= trim.top:
            continue
        x, y = x if x > trim.left else 0, y if y > trim.bottom else 0
        end = end if piece.length - end > trim.right else piece.length
        top = top if piece.width - top > trim.top else piece.width
        found.append((x, y, end - x, top - y))
    return found
