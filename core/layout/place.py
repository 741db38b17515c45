"""A rectangle on a sheet, such as a bad place: what of it another has, and whether they meet."""

from __future__ import annotations

from fractions import Fraction
from typing import TypeAlias, TypeVar

N = TypeVar("N", int, Fraction)

Place: TypeAlias = tuple[int, int, int, int]
"""x, y, length and width."""


def common(place: tuple[N, N, N, N] | None, x: N, y: N, length: N, width: N) -> tuple[N, N, N, N] | None:
    """What of a place lies in a rectangle, from the corner of that; None where nothing does."""
    if place is None:
        return None
    left, bottom = max(place[0], x), max(place[1], y)
    right, top = min(place[0] + place[2], x + length), min(place[1] + place[3], y + width)
    return (left - x, bottom - y, right - left, top - bottom) if right > left and top > bottom else None


def meets(place: tuple[N, N, N, N] | None, x: N, y: N, length: N, width: N) -> bool:
    """Whether a rectangle has any of a place in it."""
    return common(place, x, y, length, width) is not None


def near(place: Place, kerf: int) -> Place:
    """A bad place and a kerf round it, which parts keep clear.

    What lies beyond a blade that is thinner than planned comes off larger.
    """
    x, y, length, width = place
    return x - kerf, y - kerf, length + 2 * kerf, width + 2 * kerf
