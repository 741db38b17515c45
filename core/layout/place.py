"""Rectangles on a sheet, such as bad places: what of them another has, and whether they meet."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from typing import TypeAlias, TypeVar

N = TypeVar("N", int, Fraction)

Place: TypeAlias = tuple[int, int, int, int]
"""x, y, length and width."""

MOST_BAD = 4
"""So many bad places of a piece are known: each doubles the ways to cut round them."""


def common(places: Iterable[tuple[N, N, N, N]], x: N, y: N, length: N, width: N) -> tuple[tuple[N, N, N, N], ...]:
    """What of these places lies in a rectangle, from the corner of that."""
    found = []
    for place in places:
        left, bottom = max(place[0], x), max(place[1], y)
        right, top = min(place[0] + place[2], x + length), min(place[1] + place[3], y + width)
        if right > left and top > bottom:
            found.append((left - x, bottom - y, right - left, top - bottom))
    return tuple(found)


def meets(places: Iterable[tuple[N, N, N, N]], x: N, y: N, length: N, width: N) -> bool:
    """Whether a rectangle has any of these places in it."""
    return bool(common(places, x, y, length, width))


def scaled(place: Place, by: N) -> tuple[N, N, N, N]:
    """The place in another unit."""
    x, y, length, width = place
    return x * by, y * by, length * by, width * by


def near(place: Place, kerf: int) -> Place:
    """A bad place and a kerf round it, which parts keep clear.

    What lies beyond a blade that is thinner than planned comes off larger.
    """
    x, y, length, width = place
    return x - kerf, y - kerf, length + 2 * kerf, width + 2 * kerf
