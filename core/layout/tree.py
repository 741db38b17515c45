"""A layout of one sheet as the tree of cuts that takes it apart.

Every node is a rectangle. A `Cut` is made edge to edge through its rectangle, so a layout
that is a tree can always be cut. Nodes hold sizes, not places: places follow from the walk,
and equal subtrees can be shared. Frozen all through.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from itertools import count
from typing import Literal, TypeAlias

from core.layout.job import JobStock

Direction = Literal["rip", "crosscut"]
"""A rip runs along x and divides the width; a crosscut runs along y and divides the length."""
ACROSS: tuple[Direction, Direction] = ("crosscut", "rip")
"""The cuts that settle a piece's length and its width."""


@dataclass(frozen=True, slots=True)
class Placed:
    """A part's blank. `part` is its index in the job; `turned`: the part's own length lies along y."""

    length: int
    width: int
    part: int
    turned: bool = False


@dataclass(frozen=True, slots=True)
class Spare:
    """What no part uses: an offcut, or waste."""

    length: int
    width: int


@dataclass(frozen=True, slots=True)
class Cut:
    """A rectangle cut in two. `low` lies at the bottom (rip) or the left (crosscut), `high` one kerf beyond it.

    Either is None where the blade leaves nothing of it, never both.
    """

    length: int
    width: int
    direction: Direction
    low: Node | None
    high: Node | None


Node: TypeAlias = Placed | Spare | Cut


@dataclass(frozen=True, slots=True)
class LaidSheet:
    """One sheet: the index of its stock in the job, and its tree, whose root is the whole sheet, edges untrimmed."""

    stock: int
    root: Node


@dataclass(frozen=True, slots=True)
class Unplaced:
    """Pieces of a part that got no place, and why, in words."""

    part: int
    quantity: int
    reason: str


@dataclass(frozen=True, slots=True)
class Layout:
    """An answer to a job. `lower_bound`: no layout of what can be placed at all does with fewer sheets.

    `least_money`: none costs less, in hundredths. `searching`: it is the best so far, and better ones are still
    being looked for.
    """

    sheets: tuple[LaidSheet, ...]
    unplaced: tuple[Unplaced, ...]
    lower_bound: int
    least_money: int = 0
    searching: bool = False

    @property
    def proved_minimum(self) -> bool:
        """Nothing is left out, and no layout can do with fewer sheets."""
        return not self.unplaced and len(self.sheets) == self.lower_bound


Announce: TypeAlias = Callable[[Layout], None] | None
"""Who is told of better layouts on the way, if anybody is."""


@dataclass(frozen=True, slots=True)
class Spot:
    """A node and where its lower left corner lies on the sheet, factory edges included."""

    x: int
    y: int
    node: Node


def members(cut: Cut, x: int, y: int) -> tuple[tuple[Node | None, int, int], tuple[Node | None, int, int]]:
    """The low and the high piece of a cut whose corner lies at (x, y), each with its own place."""
    high = cut.high
    if high is None:
        return (cut.low, x, y), (None, x, y)
    if cut.direction == "rip":
        return (cut.low, x, y), (high, x, y + cut.width - high.width)
    return (cut.low, x, y), (high, x + cut.length - high.length, y)


def walk(node: Node, x: int = 0, y: int = 0) -> Iterator[Spot]:
    """Every node of the tree with its place: a cut before what it makes, low before high."""
    pending = [Spot(x, y, node)]
    while pending:
        spot = pending.pop()
        yield spot
        if isinstance(spot.node, Cut):
            low, high = members(spot.node, spot.x, spot.y)
            pending += [Spot(x, y, one) for one, x, y in (high, low) if one is not None]


def nodes_below(node: Node) -> int:
    """How many pieces come of a node, those that are cut again among them."""
    return sum(1 for _ in walk(node)) - 1


def replaced(node: Node, place: int, tree: Node) -> Node:
    """The node with `tree` where the walk comes to `place`: the root is place 0."""
    return _replaced(node, place, tree, count())


def _replaced(node: Node, place: int, tree: Node, places: Iterator[int]) -> Node:
    here = next(places)
    if here == place:
        return tree
    if not isinstance(node, Cut):
        return node
    low, high = (one if one is None else _replaced(one, place, tree, places) for one in (node.low, node.high))
    return replace(node, low=low, high=high)


def faults(node: Node, kerf: int) -> list[str]:
    """Why this tree could not be cut as it stands; empty for a sound one. Meant for tests and for reading files."""
    found: list[str] = []
    for spot in walk(node):
        if spot.node.length <= 0 or spot.node.width <= 0:
            found.append(f"a piece {spot.node.length} x {spot.node.width} has no size")
        cut = spot.node
        if not isinstance(cut, Cut):
            continue
        rip = cut.direction == "rip"
        across = "length" if rip else "width"
        along = "width" if rip else "length"
        pieces = [piece for piece in (cut.low, cut.high) if piece is not None]
        if not pieces:
            found.append("a cut that leaves nothing")
        for piece in pieces:
            if getattr(piece, across) != getattr(cut, across):
                found.append(f"a {cut.direction} of {cut.length} x {cut.width} does not run edge to edge")
        left_over: int = getattr(cut, along) - sum(getattr(piece, along) for piece in pieces)
        if len(pieces) == 2 and left_over != kerf:
            found.append(f"a {cut.direction} takes {left_over} where the kerf is {kerf}")
        if len(pieces) == 1 and not 0 < left_over <= kerf:
            found.append(f"a {cut.direction} that leaves one piece takes {left_over}, kerf {kerf}")
    return found


def trimmed(stock: JobStock, inner: Node, kerf: int) -> Node:
    """The whole sheet: the trimming cuts of `stock`, long edges first, round the tree of what lies inside them."""
    trim = stock.trim
    length, width = stock.inner_length, stock.inner_width
    node = inner
    for direction, side, amount in (
        ("crosscut", "left", trim.left),
        ("crosscut", "right", trim.right),
        ("rip", "bottom", trim.bottom),
        ("rip", "top", trim.top),
    ):
        if not amount:
            continue
        if direction == "crosscut":
            length += amount
            sliver = Spare(amount - kerf, width) if amount > kerf else None
        else:
            width += amount
            sliver = Spare(length, amount - kerf) if amount > kerf else None
        low, high = (sliver, node) if side in ("left", "bottom") else (node, sliver)
        node = Cut(length, width, "rip" if direction == "rip" else "crosscut", low, high)
    return node
