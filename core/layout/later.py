"""What is cut later: pieces that are to be cut when all others are, and whether their place lets them wait.

Such a piece can be made to another size as long as the cuts on both sides of it wait. Members
of a block that hold nothing else come last in it (`core.layout.finish`), so they stay in one
piece with what is free until the others are off. What comes off beside other pieces, or lies in
a strip with them, has its length or its width before it is measured for.
"""

from __future__ import annotations

from collections.abc import Container

from core.layout.block import Leaf, Member


def settled_early(member: Member, later: Container[int], across: int = 0, along: int = 0) -> int:
    """How many lengths and widths of pieces of the sizes in `later` are cut with the pieces that do not wait.

    `across`, `along`: 1 where the width, or the length, of `member` itself has been cut by then.
    """
    if isinstance(member, Leaf):
        return across + along if member.size in later else 0
    waiting = [_waits(one, later) for one in member.members]
    is_cut = len(waiting) > 1 or member.room is not None
    stay_in_one = sum(waiting) > 1 or member.room is not None
    early = 0
    for one, waits in zip(member.members, waiting, strict=True):
        cut = int(not (waits and stay_in_one)) if is_cut else across if member.rip else along
        early += settled_early(one, later, *((cut, along) if member.rip else (across, cut)))
    return early


def _waits(member: Member, later: Container[int]) -> bool:
    """Whether it holds nothing that does not wait."""
    if isinstance(member, Leaf):
        return member.size in later
    return all(_waits(one, later) for one in member.members)
