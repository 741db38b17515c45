"""Sheets that are first cut in a way that is settled, and laid out on what that leaves.

A sheet whose length no saw here can rip is crosscut first, and one that is brought home in strips
is ripped first; out of a piece with a bad place that is cut first. To the search each piece that
is left is a stock of its own; what it finds on them is put together again to whole sheets, whose
trees begin with the settled cuts.
"""

from __future__ import annotations

from collections import Counter, deque
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from core.layout.blanks import Blank, Board, blanks_of, boards_of
from core.layout.bounds import bound_of
from core.layout.finish import obstacle
from core.layout.job import Job, JobPart, JobStock, JobTrim
from core.layout.tree import Cut, Direction, LaidSheet, Layout, Node, Spare, Spot, Unplaced, replaced, walk

TOO_SMALL = "it would fit a whole sheet, but not what is left by a first cut or beside a bad place"

MORE_TRIED = 3
"""How often it is asked again for fewer sheets, each time for one more."""

MOST_ASKED = 8
"""How often it is asked in all."""


@dataclass(frozen=True, slots=True)
class Opening:
    """A piece of a divided sheet that can be laid out, by its place in the walk through the settled cuts."""

    place: int
    stock: JobStock


def is_divided(job: Job) -> bool:
    """Whether any of its stock is cut in a settled way first."""
    return any(map(_is_cut_first, job.stock))


def _is_cut_first(stock: JobStock) -> bool:
    return bool(stock.crosscut_at or stock.rip_at or stock.bad)


def openings_of(stock: JobStock, kerf: int) -> tuple[Node, tuple[Opening, ...]]:
    """The settled cuts of a sheet as a tree, and the pieces that are laid out; an undivided sheet is one piece."""
    if not _is_cut_first(stock):
        return Spare(stock.length, stock.width), (Opening(0, stock),)
    tree = _quartered(stock, kerf)
    trees = [tree] if not stock.bad else [_around(tree, stock.bad, kerf, rip) for rip in (True, False)]
    # Of the ways round a bad place the one that leaves the largest pieces.
    return max(
        ((tree, tuple(_openings(stock, tree, kerf))) for tree in trees),
        key=lambda told: sorted((one.stock.inner_length * one.stock.inner_width for one in told[1]), reverse=True),
    )


def split(job: Job) -> Job:
    """The same question with every piece of a divided sheet as a stock of its own."""
    return replace(job, stock=tuple(opening.stock for _, _, opening in _all(job)))


def joined(job: Job, layout: Layout) -> Layout:
    """The answer to `split(job)` as an answer to `job`."""
    owners = [(index, number) for index, number, _ in _all(job)]
    laid: dict[tuple[int, int], list[Node]] = {}
    for sheet in layout.sheets:
        laid.setdefault(owners[sheet.stock], []).append(sheet.root)
    sheets: list[LaidSheet] = []
    most = 1
    for index, stock in enumerate(job.stock):
        tree, openings = openings_of(stock, job.kerf)
        most = max(most, len(openings))
        queues = [laid.get((index, number), []) for number in range(len(openings))]
        for turn in range(max(map(len, queues), default=0)):
            root = tree
            # The last place first, so that the others stay where they are.
            for opening, queue in sorted(zip(openings, queues, strict=True), key=lambda pair: -pair[0].place):
                if turn < len(queue):
                    root = replaced(root, opening.place, queue[turn])
            sheets.append(LaidSheet(index, root))
    least = -(-layout.lower_bound // most)
    unplaced = tuple(_with_reason(job, one) for one in layout.unplaced)
    return replace(layout, sheets=tuple(sheets), unplaced=unplaced, lower_bound=min(least, len(sheets)))


def _with_reason(job: Job, left_out: Unplaced) -> Unplaced:
    """The same, saying so where only the settled cuts are in the way."""
    reason = in_the_way(job.parts[left_out.part], job)
    return replace(left_out, reason=reason) if reason == TOO_SMALL else left_out


def in_the_way(part: JobPart, job: Job) -> str | None:
    """Why a part fits no sheet of the job's stock once that has had its settled cuts, in words; None if it fits one."""
    reason = obstacle(part, job)
    if reason or not is_divided(job):
        return reason
    return TOO_SMALL if obstacle(part, split(job)) else None


def answered(job: Job, answer: Callable[[Job], Layout]) -> Layout:
    """The answer to a job with divided sheets, by whoever answers the question with their pieces.

    To that, one piece of a sheet is as good without the other. Where it leaves halves over, it is
    asked again with only so many sheets as would do if all their pieces were used, and so on from
    each answer.
    """
    found = answer(split(job))
    best = joined(job, found)
    asked = [job]
    waiting = deque(_otherwise(job, found))
    while waiting and len(asked) < MOST_ASKED:
        less = waiting.popleft()
        if less in asked:
            continue
        asked.append(less)
        found = answer(split(less))
        tried = joined(job, found)
        if rank(job, tried) < rank(job, best):
            best = replace(tried, lower_bound=min(best.lower_bound, len(tried.sheets)))
        waiting.extend(_otherwise(less, found))
    return replace(best, lower_bound=min(max(best.lower_bound, fewest(job, bound_of)), len(best.sheets)))


def fewest(job: Job, bound: Callable[[tuple[Blank, ...], tuple[Board, ...]], int]) -> int:
    """So many sheets there must be even if none were cut first: more than the number of their pieces tells."""
    return bound(blanks_of(job, boards_of(split(job))), boards_of(job))


def _otherwise(job: Job, found: Layout) -> Iterator[Job]:
    """The job without any one kind of sheet that has a price and was used, then with fewer of all divided ones."""
    owners = [index for index, _, _ in _all(job)]
    for index in sorted({owners[sheet.stock] for sheet in found.sheets}):
        stock = job.stock[index]
        others = (*job.stock[:index], replace(stock, quantity=0), *job.stock[index + 1 :])
        if stock.price and any(other.quantity != 0 for other in others):
            yield replace(job, stock=others)
    for more in range(MORE_TRIED):
        fewer = _fewer(job, found, more)
        if fewer is None:
            return
        yield fewer


def _fewer(job: Job, found: Layout, more: int) -> Job | None:
    """The job with as many of each divided sheet as the pieces used would fill, and `more`; None if that is no less."""
    owners = [(index, number) for index, number, _ in _all(job)]
    used = Counter(owners[sheet.stock] for sheet in found.sheets)
    stocks = list(job.stock)
    for index, stock in enumerate(job.stock):
        pieces = [used[index, number] for number in range(len(openings_of(stock, job.kerf)[1]))]
        enough = -(-sum(pieces) // max(len(pieces), 1)) + more
        if enough < max(pieces, default=0):
            stocks[index] = replace(stock, quantity=enough)
    return None if stocks == list(job.stock) else replace(job, stock=tuple(stocks))


def rank(job: Job, layout: Layout) -> tuple[int, int, int]:
    """As `core.layout.preference` begins, with whole sheets: the area that has no place, then money, then sheets."""
    missing = sum(one.quantity * job.parts[one.part].length * job.parts[one.part].width for one in layout.unplaced)
    return missing, sum(job.stock[sheet.stock].price for sheet in layout.sheets), len(layout.sheets)


def _all(job: Job) -> Iterator[tuple[int, int, Opening]]:
    """The place of each stock in the job, the number of each of its openings, and the opening."""
    for index, stock in enumerate(job.stock):
        for number, opening in enumerate(openings_of(stock, job.kerf)[1]):
            yield index, number, opening


def _quartered(stock: JobStock, kerf: int) -> Node:
    """The first crosscut, and the first rip of each piece that it leaves; of the sheet where there is no crosscut."""
    if not stock.crosscut_at:
        return _ripped(stock, stock.length, kerf)
    beyond = stock.length - stock.crosscut_at - kerf
    high = _ripped(stock, beyond, kerf) if beyond > 0 else None
    return Cut(stock.length, stock.width, "crosscut", _ripped(stock, stock.crosscut_at, kerf), high)


def _ripped(stock: JobStock, length: int, kerf: int) -> Node:
    if not stock.rip_at:
        return Spare(length, stock.width)
    beyond = stock.width - stock.rip_at - kerf
    high = Spare(length, beyond) if beyond > 0 else None
    return Cut(length, stock.width, "rip", Spare(length, stock.rip_at), high)


def _around(tree: Node, bad: tuple[int, int, int, int], kerf: int, rip_first: bool) -> Node:
    """The tree, and the cuts that take a bad place out of each of its pieces.

    Strips on both sides of it one way, then what is left of its strip.
    """
    # The last place first, so that the others stay where they are.
    for place, spot in reversed([*enumerate(walk(tree))]):
        piece = spot.node
        if isinstance(piece, Spare) and _has_any(bad, spot):
            x, length = _within(bad[0], bad[2], spot.x, piece.length)
            y, width = _within(bad[1], bad[3], spot.y, piece.width)
            ways: list[tuple[Direction, int, int]] = [("rip", y, width), ("crosscut", x, length)]
            tree = replaced(tree, place, _without(piece.length, piece.width, ways if rip_first else ways[::-1], kerf))
    return tree


def _within(start: int, extent: int, low: int, whole: int) -> tuple[int, int]:
    """What of an extent lies on a piece that begins at `low`: from where on it, and how much."""
    first, last = max(start, low), min(start + extent, low + whole)
    return first - low, last - first


def _without(length: int, width: int, ways: list[tuple[Direction, int, int]], kerf: int) -> Node:
    """A rectangle with what lies before and behind `start` and its `extent` cut off, way after way."""
    if not ways:
        return Spare(length, width)
    (direction, start, extent), *others = ways
    rip = direction == "rip"
    whole = width if rip else length

    def sized(size: int) -> tuple[int, int]:
        return (length, size) if rip else (size, width)

    # What is no wider than the blade stays with the bad place.
    low = start if start > kerf else 0
    high = start + extent if whole - start - extent > kerf else whole
    node = _without(*sized(high - low), others, kerf)
    if high < whole:
        node = Cut(*sized(whole - low), direction, node, Spare(*sized(whole - high - kerf)))
    if low:
        node = Cut(*sized(whole), direction, Spare(*sized(low - kerf)), node)
    return node


def _openings(stock: JobStock, tree: Node, kerf: int) -> Iterator[Opening]:
    """The pieces that are laid out: all that no bad place is in, and of which trimming leaves something."""
    number = 0
    for place, spot in enumerate(walk(tree)):
        piece = spot.node
        if not isinstance(piece, Spare) or (stock.bad and _has_any(stock.bad, spot)):
            continue
        own, first = stock.trim, (stock.crosscut_at, stock.crosscut_trim)
        left, right = _lost((spot.x, spot.x + piece.length), stock.length, (own.left, own.right), first, kerf)
        first = (stock.rip_at, stock.rip_trim)
        bottom, top = _lost((spot.y, spot.y + piece.width), stock.width, (own.bottom, own.top), first, kerf)
        trim = JobTrim(left, right, bottom, top)
        number += 1
        share = -(-stock.price * piece.length * piece.width // (stock.length * stock.width))
        one = JobStock(f"{stock.name}, {number}", piece.length, piece.width, trim, stock.quantity, share)
        if one.inner_length > 0 and one.inner_width > 0:
            yield Opening(place, one)


def _lost(
    ends: tuple[int, int], whole: int, trim: tuple[int, int], first: tuple[int, int], kerf: int
) -> tuple[int, int]:
    """What a piece loses at both ends one way: what the sheet's own edges do, and those that a first cut made.

    `first`: where that is, and what both its sides lose. What was cut round a bad place loses no more than
    there is left to lose.
    """
    (start, end), (at, loses) = ends, first
    low, high = (0, trim[0]), (whole, trim[1])
    if 0 < at <= start:
        low = at + kerf, loses
    elif at:
        high = at, loses
    return _left_to_lose(low[1], start - low[0], kerf), _left_to_lose(high[1], high[0] - end, kerf)


def _left_to_lose(loses: int, gone: int, kerf: int) -> int:
    """What an edge still loses where so much is gone: nothing, or at least a kerf."""
    return max(loses - gone, min(loses, kerf)) if gone < loses else 0


def _has_any(bad: tuple[int, int, int, int], spot: Spot) -> bool:
    """Whether a piece has any of a bad place in it."""
    x, y, length, width = bad
    inside_x = spot.x < x + length and x < spot.x + spot.node.length
    return inside_x and spot.y < y + width and y < spot.y + spot.node.width
