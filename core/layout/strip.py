"""Pieces side by side, no larger together than they need to be; and such a strip as the content of a board."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeAlias

from core.layout.block import Block, Leaf, Member, block_of_members
from core.layout.room import Rooms


@dataclass(frozen=True, slots=True)
class Strip:
    """Pieces, and strips the other way, side by side; ripped ones lie one above another."""

    rip: bool
    length: int
    width: int
    inner: tuple[Laid, ...]


Laid: TypeAlias = Leaf | Strip


def strip_of(rip: bool, parts: Sequence[Laid]) -> Laid:
    """These side by side: as many of them as there are, and at least one."""
    if len(parts) == 1:
        return parts[0]
    inner: list[Laid] = []
    for part in parts:
        inner += part.inner if isinstance(part, Strip) and part.rip == rip else (part,)
    lengths, widths = [part.length for part in inner], [part.width for part in inner]
    if rip:
        return Strip(rip, max(lengths), sum(widths), tuple(inner))
    return Strip(rip, sum(lengths), max(widths), tuple(inner))


def laid_in(member: Member) -> Laid:
    """What lies in it, with every strip no larger than that needs."""
    if isinstance(member, Leaf):
        return member
    return strip_of(member.rip, [laid_in(inner) for inner in member.members])


def board_with(laid: Laid, length: int, width: int, rooms: Rooms) -> Block:
    """A board of this size with these pieces in its corner."""
    strip = laid if isinstance(laid, Strip) else Strip(True, laid.length, laid.width, (laid,))
    return _laid_in(strip, length, width, rooms)


def _laid_in(strip: Strip, length: int, width: int, rooms: Rooms) -> Block:
    """A strip in a rectangle that may be larger than it needs; what is free lies beyond the last of its parts."""
    if strip.rip:
        members = tuple([_member(part, length, part.width, rooms) for part in strip.inner])
    else:
        members = tuple([_member(part, part.length, width, rooms) for part in strip.inner])
    return block_of_members(length, width, strip.rip, members, rooms)


def _member(part: Laid, length: int, width: int, rooms: Rooms) -> Member:
    if isinstance(part, Strip):
        return _laid_in(part, length, width, rooms)
    if (part.length, part.width) == (length, width):
        return part
    return _laid_in(Strip(part.length == length, part.length, part.width, (part,)), length, width, rooms)
