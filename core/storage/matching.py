"""Which table of a new list is which table of the old one."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

_NAMES = ("id", "code", "name", "material")
"""Keys by which a table of a list is known, if all of them have it and no two the same."""


def matched(old: list[Any], new: list[Any], agree: Callable[[int, int], bool]) -> list[int | None]:
    """For each new item the position of the old one that it was, or None for one that was not there.

    `agree(i, j)` tells that the old item i and the new item j are equal. Tables without a name
    are matched where they are equal, wherever they moved; what is left over is taken as changed
    in place if it stands between the same neighbours.
    """
    for name in _NAMES:
        old_names, new_names = _names(old, name), _names(new, name)
        if old_names and new_names:
            return [old_names.get(known) for known in new_names]
    found = _equal(len(old), len(new), agree)
    taken = set(found)
    spare: dict[int, list[int]] = {}
    passed = 0
    for i in range(len(old)):
        passed += i in taken
        if i not in taken:
            spare.setdefault(passed, []).append(i)
    passed = 0
    for j, known in enumerate(list(found)):
        passed += known is not None
        if known is None and spare.get(passed):
            found[j] = spare[passed].pop(0)
    return found


def _names(items: list[Any], key: str) -> dict[str, int]:
    """The items' positions by name; empty where the name does not tell each from the others."""
    if not all(isinstance(item, dict) and isinstance(item.get(key), str) for item in items):
        return {}
    names = {item[key]: position for position, item in enumerate(items)}
    return names if len(names) == len(items) else {}


def _equal(old: int, new: int, agree: Callable[[int, int], bool]) -> list[int | None]:
    """Equal items: the common beginning and end first, so that a long list with one change is matched in one pass."""
    found: list[int | None] = [None] * new
    start = 0
    while start < min(old, new) and agree(start, start):
        found[start] = start
        start += 1
    end = 0
    while end < min(old, new) - start and agree(old - 1 - end, new - 1 - end):
        found[new - 1 - end] = old - 1 - end
        end += 1
    unused = list(range(start, old - end))
    for j in range(start, new - end):
        # Of several the one in the same place: then those beside it are taken as changed in theirs.
        in_place = [j] if j in unused else []
        for i in (*in_place, *unused):
            if agree(i, j):
                found[j] = i
                unused.remove(i)
                break
    return found
