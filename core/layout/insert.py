"""Putting a piece into a block, and taking pieces out again. Each makes a new block; the old one stays as it was."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from core.layout.blanks import Blank
from core.layout.block import Block, Leaf, Member, Place, Worth, collect
from core.layout.notation import DEEPEST

UNKNOWN: Place = (0, -2, Leaf(0, 0, -1), False)
"""Stands for a place that has not been looked for."""

DEEPEST_TO_FILL = DEEPEST - 8
"""A sheet with so many cuts inside one another gets no more pieces, so that every layout can be written down."""


class Joiner:
    """Knows the sizes of one job, and remembers what each free rectangle would lose by each of them."""

    def __init__(self, blanks: Sequence[Blank], worth: Worth) -> None:
        self.worth = worth
        self.leaves = [
            [Leaf(length, width, index) for length, width in blank.ways] for index, blank in enumerate(blanks)
        ]
        self.rooms: dict[tuple[int, int], dict[int, Place | None]] = {}

    def empty(self, length: int, width: int) -> Block:
        """A sheet with nothing on it."""
        return Block(length, width, True, (), width, self.worth.of(length, width), 1, 0)

    def best(self, block: Block, blank: int) -> Place | None:
        """Where in `block` a piece of this size loses the least of the worth of what is free."""
        place = block.best.get(blank, UNKNOWN)
        if place is not UNKNOWN:
            return place
        place = None
        if block.rest and block.deep < DEEPEST_TO_FILL:
            room = _room(block)
            known = self.rooms.get(room)
            if known is None:
                known = self.rooms[room] = {}
            place = known.get(blank, UNKNOWN)
            if place is UNKNOWN:
                place = known[blank] = self._in_room(*room, blank)
        for index, member in enumerate(block.members):
            if member.value:
                assert isinstance(member, Block)
                inner = member.best.get(blank, UNKNOWN)
                if inner is UNKNOWN:
                    inner = self.best(member, blank)
                if inner is not None and (place is None or inner[0] < place[0]):
                    place = (inner[0], index, inner[2], inner[3])
        block.best[blank] = place
        return place

    def _in_room(self, length: int, width: int, blank: int) -> Place | None:
        """The best way to lay a piece into the corner of a free rectangle."""
        return min(self._ways_in_room(length, width, blank), key=lambda place: place[0], default=None)

    def _ways_in_room(self, length: int, width: int, blank: int) -> list[Place]:
        """Every way to lay a piece into the corner of a free rectangle."""
        worth = self.worth.of
        full = worth(length, width)
        places: list[Place] = []
        for leaf in self.leaves[blank]:
            beside, above = length - leaf.length, width - leaf.width
            if beside < 0 or above < 0:
                continue
            if above or not beside:
                loss = full - (worth(length, above) if above else 0) - (worth(beside, leaf.width) if beside else 0)
                places.append((loss, -1, leaf, True))
            if beside:
                loss = full - worth(beside, width) - (worth(leaf.length, above) if above else 0)
                places.append((loss, -1, leaf, False))
        return places

    def insert(self, block: Block, blank: int) -> Block:
        """`block` with one more piece of this size, at its best place, which there must be."""
        place = self.best(block, blank)
        assert place is not None
        loss, index, leaf, rip_first = place
        if index < 0:
            return self._laid(block, leaf, rip_first, block.value - loss)
        inner = block.members[index]
        assert isinstance(inner, Block)
        return _with_member(block, index, self.insert(inner, blank))

    def insert_anywhere(self, block: Block, blank: int, random: Callable[[], float]) -> Block:
        """`block` with one more piece of this size at a place by chance; there must be one."""
        length, width = _room(block)
        places = self._ways_in_room(length, width, blank) if block.rest else []
        inner = [
            (index, member)
            for index, member in enumerate(block.members)
            if isinstance(member, Block) and self.best(member, blank)
        ]
        chosen = int(random() * (len(inner) + bool(places)))
        if chosen < len(inner):
            index, member = inner[chosen]
            return _with_member(block, index, self.insert_anywhere(member, blank, random))
        loss, _, leaf, rip_first = places[int(random() * len(places))]
        return self._laid(block, leaf, rip_first, block.value - loss)

    def _laid(self, block: Block, leaf: Leaf, rip_first: bool, value: int) -> Block:
        """`block` with `leaf` in the corner of its own rest."""
        rip = block.rip if block.members else rip_first
        length, width = _room(block)
        member: Member = leaf
        if rip == rip_first:
            if rip:
                rest = width - leaf.width
                if leaf.length < length:
                    member = self._around(leaf, length, leaf.width, False)
            else:
                rest = length - leaf.length
                if leaf.width < width:
                    member = self._around(leaf, leaf.length, width, True)
        else:
            rest = 0
            if rip:
                if leaf.width < width:
                    member = self._around(leaf, leaf.length, width, True)
                member = self._around(member, length, width, False)
            else:
                if leaf.length < length:
                    member = self._around(leaf, length, leaf.width, False)
                member = self._around(member, length, width, True)
        members = (*block.members, member)
        deep = max(block.deep + 1, len(members) + 1 + member.deep)
        return Block(block.length, block.width, rip, members, rest, value, block.nodes + member.nodes, deep)

    def _around(self, member: Member, length: int, width: int, rip: bool) -> Block:
        """A block with one member at its beginning."""
        if rip:
            rest = width - member.width
            value = self.worth.of(length, rest)
        else:
            rest = length - member.length
            value = self.worth.of(rest, width)
        return Block(length, width, rip, (member,), rest, value + member.value, 1 + member.nodes, 2 + member.deep)

    def remove(self, block: Block, node: int, taken: list[int]) -> Block | None:
        """`block` without one of the members in it, counted from 0 through all depths; None if nothing stays.

        The sizes of the pieces that come off are added to `taken`.
        """
        members = block.members
        index = 0
        while node >= members[index].nodes:
            node -= members[index].nodes
            index += 1
        old = members[index]
        new: Block | None = None
        if node and isinstance(old, Block):
            new = self.remove(old, node - 1, taken)
        else:
            collect(old, taken)
        if new is not None:
            return _with_member(block, index, new)
        if len(members) == 1:
            return None
        if block.rip:
            rest = block.rest + old.width
            gain = self.worth.of(block.length, rest) - (self.worth.of(block.length, block.rest) if block.rest else 0)
        else:
            rest = block.rest + old.length
            gain = self.worth.of(rest, block.width) - (self.worth.of(block.rest, block.width) if block.rest else 0)
        kept = (*members[:index], *members[index + 1 :])
        value = block.value + gain - old.value
        deep = len(kept) + 1 + max(member.deep for member in kept)
        return Block(block.length, block.width, block.rip, kept, rest, value, block.nodes - old.nodes, deep)


def _room(block: Block) -> tuple[int, int]:
    """Length and width of what is free beside the members."""
    return (block.length, block.rest) if block.rip else (block.rest, block.width)


def _with_member(block: Block, index: int, new: Block) -> Block:
    """`block` with another member in place of one that is as large."""
    members = block.members
    old = members[index]
    return Block(
        block.length,
        block.width,
        block.rip,
        (*members[:index], new, *members[index + 1 :]),
        block.rest,
        block.value + new.value - old.value,
        block.nodes + new.nodes - old.nodes,
        max(block.deep, len(members) + 1 + new.deep),
    )
