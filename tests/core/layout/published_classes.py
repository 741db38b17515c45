"""Random instances of the ten published classes of two-dimensional bin packing.

Classes 1 to 6 are those of Berkey & Wang, "Two-dimensional finite bin-packing algorithms" (Journal
of the Operational Research Society, 1987); 7 to 10 those of Martello & Vigo, "Exact solution of the
two-dimensional finite bin packing problem" (Management Science, 1998). The numbers below are
those of the generator program that Lodi, Martello & Vigo distribute with "Heuristic and metaheuristic
approaches for a class of two-dimensional bin packing problems" (INFORMS Journal on Computing,
1999), which makes all ten; the two older papers themselves were not at hand. Like that program, 2/3 of
100 is taken as 66. The random numbers are Python's, so these are new instances, not the published ones.
"""

from __future__ import annotations

import random
from dataclasses import dataclass

CLASSES = range(1, 11)

UNIFORM = {1: (10, 10), 2: (30, 10), 3: (40, 35), 4: (100, 35), 5: (100, 100), 6: (300, 100)}
"""Class: side of the square sheet, and the largest length and width; the least are 1."""

MIXED_SIDE = 100
TYPES = (
    ((66, 100), (1, 50)),
    ((1, 50), (66, 100)),
    ((50, 100), (50, 100)),
    ((1, 50), (1, 50)),
)
"""Least and largest length, least and largest width of the four types that classes 7 to 10 mix."""

OWN_TYPE = 0.7
"""The share of the first type in class 7, of the second in class 8, and so on; the other three have 0.1 each."""


@dataclass(frozen=True, slots=True)
class Instance:
    """Whole numbers without a unit; one entry of `items`, length and width, for each piece."""

    side: int
    items: tuple[tuple[int, int], ...]


def instance(number: int, pieces: int, seed: int) -> Instance:
    """An instance of class `number`, 1 to 10: the same for the same seed on any machine."""
    # Only `random()` is the same in every version of Python.
    chance = random.Random(f"class {number}, {pieces} pieces, seed {seed}").random

    def between(least: int, largest: int) -> int:
        return least + int((largest - least + 1) * chance())

    if number in UNIFORM:
        side, largest = UNIFORM[number]
        return Instance(side, tuple((between(1, largest), between(1, largest)) for _ in range(pieces)))
    own = number - 7
    others = [index for index in range(len(TYPES)) if index != own]
    items = []
    for _ in range(pieces):
        index = own if chance() < OWN_TYPE else others[between(0, len(others) - 1)]
        lengths, widths = TYPES[index]
        items.append((between(*lengths), between(*widths)))
    return Instance(MIXED_SIDE, tuple(items))
