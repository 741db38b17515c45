"""From millimetres to cells, along one direction, so that a picture stays readable.

Plain rounding would let a narrow part vanish, and would draw a board of less than a cell as two
lines. So each coordinate gets the nearest cell that keeps the order of all of them, leaves room
inside what is to be seen, and brings to one line what is thinner than a cell.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby
from math import ceil, lcm

Stretch = tuple[Fraction, Fraction]
"""From a lower coordinate to a higher one, mm."""

Span = tuple[int, int]
"""The same in whole units."""

THIN = Fraction(3, 2)
"""Below so many cells two lines would touch, and are drawn as one."""


@dataclass(frozen=True, slots=True)
class Scale:
    """Where coordinates fall: `cells[i]` for the coordinate `stops[i]`, both rising; stops in 1/`unit` mm."""

    unit: int
    stops: tuple[int, ...]
    cells: tuple[int, ...]

    def at(self, coordinate: Fraction) -> int:
        """The cell of a coordinate in mm; between two stops it is in proportion, beyond the ends it is the end."""
        whole, rest = divmod(coordinate.numerator * self.unit, coordinate.denominator)
        i = bisect_right(self.stops, whole) - 1
        if i < 0:
            return self.cells[0]
        if i + 1 == len(self.stops) or (self.stops[i] == whole and not rest):
            return self.cells[i]
        low, high = self.stops[i], self.stops[i + 1]
        return round(
            self.cells[i] + (self.cells[i + 1] - self.cells[i]) * (coordinate * self.unit - low) / (high - low)
        )


def fit_scale(
    ends: Stretch,
    cells: int,
    wide: Sequence[Stretch],
    thin: Sequence[Stretch],
    together: Fraction = THIN,
    apart: Sequence[Stretch] = (),
) -> Scale:
    """The scale that draws `ends` over `cells` steps, from cell 0 to cell `cells`.

    The order of all coordinates is kept. A stretch in `wide` gets two steps at least, so that a cell
    is seen between its lines; where that is too much for all of them together, the narrowest get
    one, or none. A stretch in `thin` gets none, as long as all that comes to lie on one line is less
    than `together` cells and no wide one is lost in it. A stretch in `apart` gets one step at least, if
    there is room for all of them. Coordinates beyond the ends lie on the ends.
    """
    unit = lcm(*(stop.denominator for stretch in (ends, *wide, *thin, *apart) for stop in stretch))

    def counted(stretch: Stretch) -> Span:
        low, high = (stop.numerator * (unit // stop.denominator) for stop in stretch)
        return low, high

    first, last = counted(ends)
    must = sorted({(max(low, first), min(high, last)) for low, high in map(counted, wide)})
    may = {(max(low, first), min(high, last)) for low, high in map(counted, thin)}
    ones = sorted({(max(low, first), min(high, last)) for low, high in map(counted, apart)})
    stops = sorted({first, last, *(stop for low, high in (*must, *may, *ones) if low <= high for stop in (low, high))})
    must, ones = ([(low, high) for low, high in pairs if low < high] for pairs in (must, ones))
    within = ceil((last - first) * together / max(cells, 1))
    narrow = sorted((high - low, low, high) for low, high in may if 0 < high - low < within)

    def missing(places: dict[int, int]) -> int:
        return sum(max(0, 2 - places[high] + places[low]) for low, high in must)

    lines = _lines(stops, [*must, *ones], [(low, high) for _, low, high in narrow], within)
    places = _fitted(stops, must, ones, lines, cells)
    if missing(places):
        # Bringing lines together can make one row of stretches out of two, longer than there is room for.
        places = min(places, _fitted(stops, must, ones, {stop: i for i, stop in enumerate(stops)}, cells), key=missing)
    return Scale(unit, tuple(stops), tuple(places[stop] for stop in stops))


def steps_needed(ends: Stretch, wide: Sequence[Stretch], apart: Sequence[Stretch]) -> int:
    """The fewest steps from end to end in which every wide stretch gets two, and every one in `apart` one."""
    stops = sorted({*ends, *(stop for stretch in (*wide, *apart) for stop in stretch)})
    index = {stop: i for i, stop in enumerate(stops)}
    before: list[list[tuple[int, int]]] = [[] for _ in stops]
    for stretches, step in ((wide, 2), (apart, 1)):
        for low, high in stretches:
            before[index[high]].append((index[low], step))
    least = [0] * len(stops)
    for i in range(1, len(stops)):
        least[i] = max([least[i - 1], *(least[j] + step for j, step in before[i])])
    return least[-1]


def _lines(stops: list[int], wide: list[Span], narrow: list[Span], within: int) -> dict[int, int]:
    """The number of the line on which each stop lies: the stops of a narrow stretch, and all between, share one."""
    index = {stop: i for i, stop in enumerate(stops)}
    last = len(stops) - 1
    joined = [False] * last
    for low, high in narrow:
        start, end = index[low], index[high]
        while start > 0 and joined[start - 1]:
            start -= 1
        while end < last and joined[end]:
            end += 1
        everything = start == 0 and end == last
        loses_one = any(stops[start] <= begin and finish <= stops[end] for begin, finish in wide)
        if stops[end] - stops[start] < within and not everything and not loses_one:
            joined[start:end] = [True] * (end - start)
    lines = {stops[0]: 0}
    for i, is_joined in enumerate(joined):
        lines[stops[i + 1]] = lines[stops[i]] + (not is_joined)
    return lines


def _fitted(stops: list[int], must: list[Span], ones: list[Span], line: dict[int, int], cells: int) -> dict[int, int]:
    """The cell of each stop, where stops on one line share one and those in `must` are apart as far as may be."""
    first, last = stops[0], stops[-1]
    wanted = []
    for _, on_it in groupby(stops, key=lambda stop: line[stop]):
        members = list(on_it)
        # Halfway between the line's outermost coordinates, scaled to cells and rounded.
        middle = (members[0] + members[-1] - 2 * first) * cells
        wanted.append((middle + last - first) // (2 * (last - first)) if last > first else 0)
    wanted[-1] = cells
    wanted[0] = 0
    apart = {(line[low], line[high]): high - low for low, high in must}
    pairs = sorted(apart, key=lambda pair: (-apart[pair], pair))
    single = [(line[low], line[high], 1) for low, high in ones]
    if single and not _placed(wanted, [*((i, j, 1) for i, j in pairs), *single]):
        single = []
    placed = _roomiest(wanted, pairs, single)
    return {stop: placed[line[stop]] for stop in stops}


def _roomiest(wanted: list[int], apart: list[tuple[int, int]], single: list[tuple[int, int, int]]) -> list[int]:
    """Places with two steps between each pair; with one between the last of them, or none, as room demands."""
    more, less = (2, 1) if _placed(wanted, [(i, j, 1) for i, j in apart]) else (1, 0)
    best = wanted
    few, many = 0, len(apart)
    while few <= many:
        count = (few + many) // 2
        steps = [(i, j, more if n < count else less) for n, (i, j) in enumerate(apart)]
        placed = _placed(wanted, [*steps, *single])
        if placed:
            best, few = placed, count + 1
        else:
            many = count - 1
    return best


def _placed(wanted: list[int], apart: list[tuple[int, int, int]]) -> list[int] | None:
    """Rising places, near the wanted ones, with the given steps between each pair; None where there is no room.

    One pass moves what is too near to the right, one to the left. Both keep every distance, and so
    does the mean of the two: whole numbers at least n apart stay so when both are halved and cut.
    """
    last = len(wanted) - 1
    before: list[list[tuple[int, int]]] = [[] for _ in wanted]
    after: list[list[tuple[int, int]]] = [[] for _ in wanted]
    for i, j, step in apart:
        before[j].append((i, step))
        after[i].append((j, step))
    least, most = [0] * len(wanted), [wanted[-1]] * len(wanted)
    for i in range(1, last + 1):
        least[i] = max([least[i - 1], *(least[j] + step for j, step in before[i])])
    for i in range(last - 1, -1, -1):
        most[i] = min([most[i + 1], *(most[j] - step for j, step in after[i])])
    if least[last] > wanted[last]:
        return None
    rightward, leftward = list(wanted), list(wanted)
    for i in range(1, last + 1):
        rightward[i] = max([min(wanted[i], most[i]), rightward[i - 1], *(rightward[j] + step for j, step in before[i])])
    for i in range(last - 1, -1, -1):
        leftward[i] = min([max(wanted[i], least[i]), leftward[i + 1], *(leftward[j] - step for j, step in after[i])])
    return [(right + left) // 2 for right, left in zip(rightward, leftward, strict=True)]
