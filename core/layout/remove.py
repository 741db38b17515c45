"""Taking pieces out of a block. It makes a new block; the old one stays as it was."""

from __future__ import annotations

from core.layout.block import Block, collect
from core.layout.room import Rooms


def remove(block: Block, node: int, taken: list[int], rooms: Rooms) -> Block | None:
    """`block` without one of the members in it, counted from 0 through all depths; None if nothing stays.

    The sizes of the pieces that come off are added to `taken`.
    """
    members = block.members
    index = 0
    for member in members:
        if node < member.nodes:
            break
        node -= member.nodes
        index += 1
    if node == 0:
        collect(member, taken)
    else:
        assert isinstance(member, Block)
        left = remove(member, node - 1, taken, rooms)
        if left is not None:
            changed = (*members[:index], left, *members[index + 1 :])
            return Block(block.length, block.width, block.rip, changed, block.room)
    if len(members) == 1:
        return None
    room = block.room
    if block.rip:
        merged = rooms.of(block.length, member.width + (room.width if room else 0))
    else:
        merged = rooms.of(member.length + (room.length if room else 0), block.width)
    return Block(block.length, block.width, block.rip, members[:index] + members[index + 1 :], merged)
