"""A rectangle in the course of being filled, as the search sees it.

A `Block` is divided in one direction only, into members that lie side by side and a rest that
is still free; its members are pieces, or blocks divided in the other direction. The order of
members means nothing here, so whatever is free in a block is always one rest: taking a member
out merges its room with what was free before. Sizes include one kerf (`core.layout.blanks`).

Blocks never change, so layouts share all that they have in common, and each block remembers
the best place in it for each size (`core.layout.insert`).
"""

from __future__ import annotations

from typing import TypeAlias

Place: TypeAlias = tuple[int, int, "Leaf", bool]
"""Where a piece can go in a block: the value that is lost by it; the index of the member that it goes into,
or -1 for the block's own rest; the piece as it would lie; whether the rest is ripped before it is crosscut."""


class Leaf:
    """A piece in its place. `blank` is the index of its size among the job's blanks."""

    __slots__ = ("blank", "length", "width")

    deep = 0
    nodes = 1
    value = 0

    def __init__(self, length: int, width: int, blank: int) -> None:
        self.length = length
        self.width = width
        self.blank = blank


class Block:
    """Members side by side, and `rest` still free beside them; where it is divided by rips, one above another."""

    __slots__ = ("best", "deep", "length", "members", "nodes", "rest", "rip", "value", "width")

    def __init__(
        self,
        length: int,
        width: int,
        rip: bool,
        members: tuple[Member, ...],
        rest: int,
        value: int,
        nodes: int,
        deep: int,
    ) -> None:
        self.length = length
        self.width = width
        self.rip = rip
        self.members = members
        self.rest = rest
        self.value = value
        """What the free room in it is worth, its members' included."""
        self.nodes = nodes
        """How many members there are in it, at all depths; one more for itself."""
        self.deep = deep
        """At least the number of cuts that lie inside one another in it."""
        self.best: dict[int, Place | None] = {}

    def largest(self) -> int:
        """The area of the largest free rectangle in it."""
        own = self.rest * (self.length if self.rip else self.width)
        return max([own, *(member.largest() for member in self.members if isinstance(member, Block))])


Member: TypeAlias = Leaf | Block


def collect(member: Member, taken: list[int]) -> None:
    """Add the sizes of all pieces in `member` to `taken`."""
    if isinstance(member, Leaf):
        taken.append(member.blank)
    else:
        for inner in member.members:
            collect(inner, taken)


def fifth_root(number: int) -> int:
    """The largest whole number whose fifth power is not above `number`."""
    if number == 0:
        return 0
    root = 1 << -(-number.bit_length() // 5)
    while True:
        nearer = (4 * root + number // root**4) // 5
        if nearer >= root:
            return root
        root = nearer


class Worth:
    """What free room is worth: its area to the power 6/5, so that one large rest is worth more than two small.

    Worked out in whole numbers, on areas counted in millionths of the largest sheet: a power
    in floating point may differ in its last digit from one machine to the next.
    """

    def __init__(self, sheet_area: int) -> None:
        self.sheet_area = sheet_area
        self.known: dict[int, int] = {}

    def of(self, length: int, width: int) -> int:
        """The worth of a free rectangle, more than nothing however small it is."""
        area = length * width
        worth = self.known.get(area)
        if worth is None:
            worth = self.known[area] = 1 + fifth_root((area * 1_000_000 // self.sheet_area) ** 6)
        return worth
