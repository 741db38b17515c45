"""Putting a piece into a block. It makes a new block; the old one stays as it was."""

from __future__ import annotations

from collections.abc import Callable

from core.layout.block import Block, Leaf, Member
from core.layout.room import Rooms

ROOMIER = 0.5
"""How often a piece that goes astray gets a strip wide enough for another one beside it."""


class Inserter:
    """Puts pieces of one job's sizes into blocks."""

    def __init__(self, rooms: Rooms) -> None:
        self._rooms = rooms
        self._leaves = [[Leaf(*way, index) for way in blank.ways] for index, blank in enumerate(rooms.blanks)]

    def at_best(self, block: Block, size: int, loss: int) -> Block:
        """`block` with one more piece of this size in the first of its rooms that loses no more than `loss`."""
        number = 0
        for room in block.rooms:
            if room.losses[size] == loss:
                break
            number += 1
        _, way, rip_first = min(room.ways(size))
        return self._in_room(block, number, self._leaves[size][way], rip_first)

    def anywhere(self, block: Block, size: int, random: Callable[[], float]) -> Block:
        """`block` with one more piece of this size, somewhere by chance; it must fit."""
        places = [(number, way) for number, room in enumerate(block.rooms) for way in room.ways(size)]
        number, (_, way, rip_first) = places[int(random() * len(places))]
        leaf = self._leaves[size][way]
        if random() < ROOMIER:
            # A strip for this piece and another beside it: else no cut would have several pieces on both its sides.
            others = self._leaves[int(random() * len(self._leaves))]
            other = others[int(random() * len(others))]
            return self._in_room(block, number, leaf, rip_first, other.width if rip_first else other.length)
        return self._in_room(block, number, leaf, rip_first)

    def _in_room(self, block: Block, number: int, leaf: Leaf, rip_first: bool, extra: int = 0) -> Block:
        """`block` with `leaf` in the corner of the room with this number, in a strip wider than the leaf by `extra`."""
        if block.room is not None and block.room.useful:
            if number == 0:
                return self._in_own_room(block, leaf, rip_first, extra)
            number -= 1
        members = block.members
        for index, member in enumerate(members):
            if number < len(member.rooms):
                assert isinstance(member, Block)
                new = self._in_room(member, number, leaf, rip_first, extra)
                changed = (*members[:index], new, *members[index + 1 :])
                return Block(block.length, block.width, block.rip, changed, block.room)
            number -= len(member.rooms)
        raise IndexError("a block has no room with this number")

    def _in_own_room(self, block: Block, leaf: Leaf, rip_first: bool, extra: int) -> Block:
        """`block` with `leaf` in the corner of the room beside its members."""
        assert block.room is not None
        length, width = block.room.length, block.room.width
        # An empty sheet is not divided yet, and takes the direction of its first cut.
        rip = block.rip if block.members else rip_first
        member: Member = leaf
        if rip_first:
            if extra and leaf.length < length and leaf.width + extra < width:
                member = self._below(leaf, leaf.width + extra)
            member = self._beside(member, length)
            if not rip:
                member = self._below(member, width)
        else:
            if extra and leaf.width < width and leaf.length + extra < length:
                member = self._beside(leaf, leaf.length + extra)
            member = self._below(member, width)
            if rip:
                member = self._beside(member, length)
        if rip:
            room = self._rooms.of(length, width - member.width) if member.width < width else None
        else:
            room = self._rooms.of(length - member.length, width) if member.length < length else None
        return Block(block.length, block.width, rip, (*block.members, member), room)

    def _beside(self, member: Member, length: int) -> Member:
        """A strip `length` long with `member` at its left end."""
        if member.length == length:
            return member
        room = self._rooms.of(length - member.length, member.width)
        return Block(length, member.width, False, (member,), room)

    def _below(self, member: Member, width: int) -> Member:
        """A strip `width` wide with `member` at its lower end."""
        if member.width == width:
            return member
        room = self._rooms.of(member.length, width - member.width)
        return Block(member.length, width, True, (member,), room)
