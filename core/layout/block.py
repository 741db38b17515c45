"""A rectangle in the course of being filled, as the search sees it.

A `Block` is divided in one direction only, into members that lie side by side and a room that
is still free; its members are pieces, or blocks divided in the other direction. The order of
members means nothing here, so whatever is free in a block is always one room: taking a member
out merges its place with what was free before. Sizes include one kerf (`core.layout.blanks`).

A block never changes what it holds, so layouts share all that they have in common.
"""

from __future__ import annotations

from typing import TypeAlias

from core.layout.room import Losses, Room, Rooms


class Leaf:
    """A piece in its place. `size`: the index of its size among the job's blanks."""

    __slots__ = ("length", "size", "width")

    deep = 0
    nodes = 1
    rooms: tuple[Room, ...] = ()
    worth = 0

    def __init__(self, length: int, width: int, size: int) -> None:
        self.length = length
        self.width = width
        self.size = size


class Block:
    """Members side by side, and perhaps a room beside them; where it is divided by rips, one above another."""

    __slots__ = (
        "_largest",
        "_settings",
        "deep",
        "length",
        "losses",
        "members",
        "nodes",
        "noted",
        "rip",
        "room",
        "rooms",
        "width",
        "worth",
    )

    def __init__(self, length: int, width: int, rip: bool, members: tuple[Member, ...], room: Room | None) -> None:
        rooms: tuple[Room, ...] = ()
        worth = deep = 0
        nodes = 1
        if room is not None:
            worth = room.worth
            if room.useful:
                rooms = (room,)
        for member in members:
            nodes += member.nodes
            if member.deep > deep:
                deep = member.deep
            if member.worth:
                worth += member.worth
                rooms += member.rooms
        self.length = length
        self.width = width
        self.rip = rip
        self.members = members
        self.room = room
        self.rooms: tuple[Room, ...] = rooms
        """The rooms in it that some piece fits: its own first, then its members'."""
        self.worth: int = worth
        """What all rooms in it are worth together."""
        self.nodes: int = nodes
        """How many members there are in it, at all depths; one more for itself."""
        self.deep: int = deep + len(members) + 1
        """At least the number of cuts that lie inside one another in it."""
        self.losses: Losses | None = None
        """What each piece loses in the best of its rooms, once that was asked for (`Fitter.losses_of`)."""
        self.noted = False
        """Whether its pieces have been noted as a pattern (`Walker`)."""
        self._settings: frozenset[tuple[bool, int]] | None = None
        self._largest: int | None = None

    def settings(self) -> frozenset[tuple[bool, int]]:
        """The fence settings that cutting it takes: whether it is a rip, and the size that comes off."""
        if self._settings is None:
            sizes = {(self.rip, member.width if self.rip else member.length) for member in self.members}
            self._settings = frozenset(sizes).union(*(m.settings() for m in self.members if isinstance(m, Block)))
        return self._settings

    def largest_room(self) -> int:
        """The area of the largest room in it, whether or not any piece fits it."""
        if self._largest is None:
            own = self.room.length * self.room.width if self.room else 0
            self._largest = max([own, *(m.largest_room() for m in self.members if isinstance(m, Block))])
        return self._largest


Member: TypeAlias = Leaf | Block


def block_of_members(length: int, width: int, rip: bool, members: tuple[Member, ...], rooms: Rooms) -> Block:
    """A block of this size with these members, and with a room for what they leave free."""
    if rip:
        free = width - sum([member.width for member in members])
        room = rooms.of(length, free) if free else None
    else:
        free = length - sum([member.length for member in members])
        room = rooms.of(free, width) if free else None
    return Block(length, width, rip, members, room)


def collect(member: Member, taken: list[int]) -> None:
    """Add the sizes of all pieces in `member` to `taken`."""
    if isinstance(member, Leaf):
        taken.append(member.size)
    else:
        for inner in member.members:
            collect(inner, taken)


def sizes_of(block: Block) -> list[int]:
    """The sizes of all pieces on a sheet."""
    sizes: list[int] = []
    collect(block, sizes)
    return sizes
