"""The content of a block as plain values: the same for all blocks that are cut alike.

A shape names no room and no job's objects, so that it can be compared, remembered and sent to
another process. `block_of` makes the block again.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple

from core.layout.block import Block, Leaf, Member, block_of_members
from core.layout.room import Rooms

DIVIDED = -1
"""In the place of the size of a piece: there is none, but members."""


class Shape(NamedTuple):
    """A member of a block. Sizes include one kerf. The larger of two comes after the other."""

    length: int
    width: int
    size: int
    """The index of its size, if it is a piece; else `DIVIDED`."""
    rip: bool = True
    """Whether its members lie one above another."""
    members: tuple[Shape, ...] = ()
    """The widest strips first, and equal ones side by side."""


def shape_of(member: Member) -> Shape:
    """The member with everything in it in one order, so that two that are cut alike are equal."""
    length, width = member.length, member.width
    if isinstance(member, Leaf):
        return Shape(length, width, member.size)
    across = 1 if member.rip else 0
    members = sorted(map(shape_of, member.members), key=lambda shape: (shape[across], shape), reverse=True)
    return Shape(length, width, DIVIDED, member.rip, tuple(members))


def block_of(shape: Shape, rooms: Rooms) -> Block:
    """The block of a shape that is divided, or that holds nothing."""
    members = tuple([_member_of(inner, rooms) for inner in shape.members])
    return block_of_members(shape.length, shape.width, shape.rip, members, rooms)


def _member_of(shape: Shape, rooms: Rooms) -> Member:
    if shape.size == DIVIDED:
        return block_of(shape, rooms)
    return Leaf(shape.length, shape.width, shape.size)


def shape_told(listed: Sequence[Any]) -> Shape:
    """The shape again that has been made lists of, as JSON does."""
    length, width, size, rip, members = listed
    return Shape(length, width, size, rip, tuple([shape_told(inner) for inner in members]))
