"""Where a cut can matter: at sums of the sizes of pieces. What lies between is as good as the next lower one."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence


def sums(sizes: Sequence[Sequence[int]], counts: Sequence[int], side: int) -> list[int]:
    """All sums up to `side`, and the side itself.

    `sizes` gives for each piece the sizes of which it may show one, `counts` how often each is there at the most.
    """
    mask = (1 << (side + 1)) - 1
    reached = 1
    for of, count in zip(sizes, counts, strict=True):
        for size in set(of):
            for _ in range(min(count, side // size) if size else 0):
                reached |= reached << size & mask
    digits = bin(reached)[:1:-1]
    return [place for place, digit in enumerate(digits) if digit == "1" and place < side] + [side]


def sums_of_few(sizes: Sequence[Sequence[int]], counts: Sequence[int], side: int, most: int) -> list[int]:
    """At most so many of the `sums`: those that few pieces make, and the side itself."""
    steps = sorted({size for of, count in zip(sizes, counts, strict=True) if count for size in of if 0 < size < side})
    if len(steps) == 0:
        return [0, side]
    found = {0, side}
    layer = {0}
    while layer and len(found) < most:
        layer = {place + step for place in layer for step in steps if place + step < side} - found
        # Of more than there is room for, evenly from the shortest to the longest.
        room = most - len(found)
        ordered = sorted(layer)
        found.update(ordered if len(ordered) <= room else [ordered[len(ordered) * i // room] for i in range(room)])
    return sorted(found)


def rests(places: Sequence[int]) -> list[list[int]]:
    """For each place and each lower one up to its half, from 1 upwards, the number of the place that is left."""
    found = []
    for place in places:
        last = bisect_right(places, place // 2)
        found.append([bisect_right(places, place - low) - 1 for low in places[1:last]])
    return found
