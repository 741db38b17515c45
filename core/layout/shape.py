"""The content of a block as plain nested tuples: the same for all blocks that are cut alike.

A shape names no room and no job's objects, so that it can be compared, remembered and sent to
another process. `block_of` makes the block again.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, TypeAlias

from core.layout.block import Block, Leaf, Member, block_of_members
from core.layout.room import Rooms

Shape: TypeAlias = tuple[Any, ...]
"""A member in one order: less length, less width, whether it is divided, then its size's index or its own shapes.

Of a divided one: less length, less width, 1, whether by rips, then the shapes, the widest strips first.
"""


def shape_of(member: Member) -> Shape:
    """The member with everything in it in one order, so that two that are cut alike are equal."""
    if isinstance(member, Leaf):
        return (-member.length, -member.width, 0, member.blank)
    along = 1 if member.rip else 0
    inner = sorted((shape_of(part) for part in member.members), key=lambda shape: (shape[along], shape))
    return (-member.length, -member.width, 1, member.rip, *inner)


def block_of(shape: Sequence[Any], rooms: Rooms) -> Block:
    """The block of a shape that is divided, or that holds nothing; lists serve as well as tuples."""
    length, width, rip = -shape[0], -shape[1], bool(shape[3])
    members = tuple(_member_of(inner, rooms) for inner in shape[4:])
    return block_of_members(length, width, rip, members, rooms)


def _member_of(shape: Sequence[Any], rooms: Rooms) -> Member:
    if shape[2]:
        return block_of(shape, rooms)
    return Leaf(-shape[0], -shape[1], shape[3])
