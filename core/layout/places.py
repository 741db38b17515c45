"""Where a cut can matter: at sums of the sizes of pieces. What lies between is as good as the next lower one."""

from __future__ import annotations

from bisect import bisect_right
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from itertools import combinations


def sums(sizes: Sequence[Sequence[int]], counts: Sequence[int], side: int, most: int) -> list[int] | None:
    """All sums below `side`, and the side itself; None if there are more than so many.

    `sizes` gives for each piece the sizes of which it may show one, `counts` how often each is there at the most.
    """
    found = {0}
    for of, count in zip(sizes, counts, strict=True):
        for size in set(of):
            for _ in range(min(count, side // size) if size else 0):
                found |= {place + size for place in found if place + size < side}
                if len(found) >= most:
                    return None
    return [*sorted(found), side]


def places_for(
    sizes: Sequence[Sequence[int]],
    counts: Sequence[int],
    side: int,
    most: int,
    random: Callable[[], float] | None = None,
) -> list[int]:
    """All `sums`, if they are no more than so many; else those that are most likely to be of use.

    That are the sizes of single pieces, then of equal ones in a row, then of any two, and what
    these leave of the side. With `random` half of them are sums met by chance instead.
    """
    places = sums(sizes, counts, side, most)
    if places is not None:
        return places
    chosen = {0, side}
    likely = most if random is None else most // 2
    singles: Counter[int] = Counter()
    for of, count in zip(sizes, counts, strict=True):
        singles.update(dict.fromkeys(of, count))
    for wave in _waves(singles, side):
        room = likely - len(chosen)
        if room <= 0:
            break
        fitting = {place for place in wave if place < side}
        new = sorted((fitting | {side - place for place in fitting}) - chosen)
        # Of more than there is room for, evenly from the shortest to the longest.
        chosen.update(new if len(new) <= room else [new[len(new) * at // room] for at in range(room)])
    if random is not None:
        pieces = [size for of in sizes for size in of]
        place = 0
        for _ in range(most - len(chosen)):
            place += pieces[int(random() * len(pieces))]
            if place >= side:
                place = 0
            chosen.add(place)
    return sorted(chosen)


def _waves(singles: Mapping[int, int], side: int) -> Iterator[Iterable[int]]:
    """Places, those first that are most likely to be of use. `singles`: how often there is each size."""
    yield singles
    yield (times * size for size, count in singles.items() for times in range(2, min(count, side // size) + 1))
    yield (one + other for one, other in combinations(singles, 2))


def rests(places: Sequence[int]) -> list[list[int]]:
    """For each place and each lower one up to its half, from 1 upwards, the number of the place that is left."""
    found = []
    for place in places:
        last = bisect_right(places, place // 2)
        found.append([bisect_right(places, place - low) - 1 for low in places[1:last]])
    return found
