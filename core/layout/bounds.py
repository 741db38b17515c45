"""How many sheets a job needs at the least, whatever the layout.

A function f is *dual feasible* when sizes that together fit a length still do so after f:
if the sum of x is at most C, the sum of f(x) is at most f(C). For two such functions the sum
over all pieces of f(length) g(width), divided by that of a sheet, bounds the number of sheets
from below (Fekete & Schepers 2001). The functions here are the whole-number ones of
Fekete & Schepers and of Carlier, Clautiaux & Moukrim 2007. A piece that may turn counts the
lesser of its ways; on a square sheet the mean of both, which is never less.

Sizes include one kerf (`core.layout.blanks`), so the blade needs no thought. With several
sizes of stock the bound is that of one sheet as long as the longest and as wide as the widest.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from math import isqrt
from operator import mul

from core.layout.blanks import Blank, Board, blanks_of, boards_of
from core.layout.job import Job

Stretch = Callable[[int], int]
"""A dual feasible function on whole sizes, times a whole number that makes it whole."""

MOST_SIZES = 60
"""Most different sizes that give functions of their own."""

MOST_PARTS = 11
"""In how many equal parts a length is thought of at the most: more told nothing new on published instances."""

MOST_SUMS = 3_000_000
"""What a bound may cost on a very large job: there, fewer sizes give functions."""


def lower_bound(job: Job) -> int:
    """No layout of the parts that fit some sheet does with fewer sheets; never above the number that can be had."""
    boards = boards_of(job)
    return bound_of(blanks_of(job, boards), boards)


def bound_of(blanks: Sequence[Blank], boards: Sequence[Board]) -> int:
    """`lower_bound`, for sizes that include one kerf."""
    if not blanks or not boards:
        return 0
    length = max(board.length for board in boards)
    width = max(board.width for board in boards)
    bound = max(
        area_bound(blanks, boards),
        _by_stretches(blanks, length, width),
        _by_conflicts(blanks, length, width),
    )
    if all(board.quantity is not None for board in boards):
        bound = min(bound, sum(board.quantity or 0 for board in boards))
    return bound


def area_bound(blanks: Sequence[Blank], boards: Sequence[Board]) -> int:
    """As many of the largest sheets as have the area of all pieces: a lower bound that is there at once."""
    wanted = sum(blank.area * blank.quantity for blank in blanks)
    sheets = 0
    for board in sorted(boards, key=lambda board: -board.length * board.width):
        area = board.length * board.width
        needed = -(-wanted // area)
        if board.quantity is None or needed <= board.quantity:
            return sheets + needed
        sheets += board.quantity
        wanted -= board.quantity * area
    return sheets


def _by_stretches(blanks: Sequence[Blank], length: int, width: int) -> int:
    """The largest bound of any two dual feasible functions."""
    ways = [blank.ways_in(length, width) for blank in blanks]
    first = [of[0] for of in ways]
    last = [of[-1] for of in ways]
    counts = [blank.quantity for blank in blanks]
    if first == last:
        return _by_pairs(first, last, counts, length, width, _only)
    if length != width:
        return _by_pairs(first, last, counts, length, width, _lesser)
    # A square sheet bounds both ways of any piece at once, so the mean holds for those that may not turn as well.
    turned = [(way[1], way[0]) for way in first]
    bound = _by_pairs(first, turned, counts, length, width, _mean)
    if any(len(of) == 1 and of[0][0] != of[0][1] for of in ways):
        bound = max(bound, _by_pairs(first, last, counts, length, width, _lesser))
    return bound


def _only(first: Iterable[int], last: Iterable[int]) -> int:
    return sum(first)


def _lesser(first: Iterable[int], last: Iterable[int]) -> int:
    return sum(map(min, first, last))


def _mean(first: Iterable[int], last: Iterable[int]) -> int:
    return (sum(first) + sum(last) + 1) // 2


def _by_pairs(
    first: Sequence[tuple[int, int]],
    last: Sequence[tuple[int, int]],
    counts: Sequence[int],
    length: int,
    width: int,
    joined: Callable[[Iterable[int], Iterable[int]], int],
) -> int:
    """The largest bound, where `joined` makes one total of pieces that lie the first and the last of their ways."""
    along = _pictures([way[0] for way in first], [way[0] for way in last], length)
    across = _pictures([way[1] for way in first], [way[1] for way in last], width)
    best = 1
    for first_lengths, last_lengths, whole_length in along:
        weighted_first = list(map(mul, first_lengths, counts))
        weighted_last = list(map(mul, last_lengths, counts))
        for first_widths, last_widths, whole_width in across:
            total = joined(map(mul, weighted_first, first_widths), map(mul, weighted_last, last_widths))
            best = max(best, -(-total // (whole_length * whole_width)))
    return best


Picture = tuple[tuple[int, ...], tuple[int, ...], int]
"""What a function makes of each piece lying the first and the last of its ways, and of the sheet."""


def _pictures(first: Sequence[int], last: Sequence[int], whole: int) -> list[Picture]:
    """What each function makes of the pieces, each different picture once."""
    found: dict[Picture, None] = {}
    for stretch in _stretches([*first, *last], whole):
        picture = (tuple(map(stretch, first)), tuple(map(stretch, last)), stretch(whole))
        found[picture] = None
    return list(found)


def _stretches(sizes: Sequence[int], whole: int) -> list[Stretch]:
    """Dual feasible functions on lengths up to `whole`, with the parameters at which they change for these sizes."""
    steps = sorted({min(size, whole - size + 1) for size in sizes} | {whole // 2})
    steps = [step for step in steps if 1 <= step <= whole // 2]
    # Each of them gives two functions, and those of lengths go with those of widths.
    most = min(MOST_SIZES, isqrt(MOST_SUMS // len(sizes)) // 2)
    if len(steps) > most:
        steps = [steps[len(steps) * i // most] for i in range(most)]
    found: list[Stretch] = [lambda size: size]
    found += [_without_small(step, whole) for step in steps]
    found += [_in_steps(step, whole) for step in steps]
    found += [_in_parts(parts, whole) for parts in range(1, 1 + MOST_PARTS)]
    return found


def _without_small(least: int, whole: int) -> Stretch:
    """Forget what is less than `least`, and let what leaves less than `least` count whole."""

    def stretch(size: int) -> int:
        if size > whole - least:
            return whole
        return size if size >= least else 0

    return stretch


def _in_steps(step: int, whole: int) -> Stretch:
    """Small sizes by the whole steps in them, large ones by the whole steps that they leave no room for."""
    steps = whole // step

    def stretch(size: int) -> int:
        if 2 * size > whole:
            return 2 * (steps - (whole - size) // step)
        if 2 * size == whole:
            return steps
        return 2 * (size // step)

    return stretch


def _in_parts(parts: int, whole: int) -> Stretch:
    """Sizes just above a fraction n/(parts + 1) of the whole count as n/parts."""

    def stretch(size: int) -> int:
        if (parts + 1) * size % whole == 0:
            return parts * size
        return (parts + 1) * size // whole * whole

    return stretch


def _by_conflicts(blanks: Sequence[Blank], length: int, width: int) -> int:
    """Pieces of which no two can share a sheet: as many as are found by taking them in turn, the bulkiest first."""

    def share(one: Blank, other: Blank) -> bool:
        return any(
            (a[0] + b[0] <= length and max(a[1], b[1]) <= width) or (a[1] + b[1] <= width and max(a[0], b[0]) <= length)
            for a in one.ways
            for b in other.ways
        )

    alone: list[Blank] = []
    for blank in sorted(blanks, key=lambda blank: (-min(blank.ways[0]), blank.ways)):
        if not any(share(blank, other) for other in alone):
            alone.append(blank)
    return sum(1 if share(blank, blank) else blank.quantity for blank in alone)
