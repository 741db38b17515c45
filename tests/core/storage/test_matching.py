"""Which table of a new list is which table of the old one: on that its comments depend."""

from __future__ import annotations

import pytest

from core.storage.matching import matched


@pytest.mark.parametrize(
    ("old", "new", "found"),
    [
        ("ABC", "ABC", [0, 1, 2]),
        ("ABC", "ACB", [0, 2, 1]),
        ("ABC", "AXC", [0, 1, 2]),
        ("ABC", "AC", [0, 2]),
        ("AC", "ABC", [0, None, 1]),
        # Of two equal ones the second stays: the first and the last have changed in their places.
        ("AAB", "XAY", [0, 1, 2]),
    ],
)
def test_equal_ones_are_known_and_the_others_by_where_they_stand(old: str, new: str, found: list[int | None]) -> None:
    assert matched(list(old), list(new), lambda i, j: old[i] == new[j]) == found
