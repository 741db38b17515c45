"""From what the search found to the layout as a person cuts it.

In a block the order of members is free: here the widest strips come first, equal ones side by
side so that they share a fence setting; then what is cut later, and what is free lies last. Sheets cut alike stand
together. Only here does each place get its part, and every size lose the kerf that the search
had added.
"""

from __future__ import annotations

from collections.abc import Container

from core.layout.blanks import costs_of, fits_inside, ways_of
from core.layout.fitter import Filling, Fitter
from core.layout.job import Job, JobPart
from core.layout.shape import DIVIDED, Shape, shape_of
from core.layout.tree import Cut, Direction, LaidSheet, Layout, Node, Placed, Spare, Unplaced, trimmed

NO_PLACE = "the search found no room on the stock there is"


def layout_of(job: Job, fitter: Fitter, filling: Filling, bound: int, least_cost: int = 0) -> Layout:
    """The layout as it is stored, drawn and cut; none has fewer sheets than `bound`, or boards that cost less."""
    waiting = [[part for part, count in reversed(blank.parts) for _ in range(count)] for blank in fitter.blanks]
    shaped = [
        (fitter.boards[board].stock, shape_of(block))
        for board, block in zip(filling.boards, filling.blocks, strict=True)
    ]
    shaped.sort(key=lambda of: (-of[0], of[1]), reverse=True)
    finisher = _Finisher(job, fitter.later, waiting)
    sheets = [LaidSheet(stock, trimmed(job.stock[stock], finisher.node(shape), job.kerf)) for stock, shape in shaped]
    # Of what cannot be placed on so few sheets as there are the bound knows nothing.
    least = min(bound, len(sheets)) if any(waiting) else bound
    unplaced = _without_room(job)
    for of in waiting:
        for part in sorted(set(of)):
            unplaced.append(Unplaced(part, of.count(part), NO_PLACE))
    unplaced.sort(key=lambda left_out: left_out.part)
    return Layout(tuple(sheets), tuple(unplaced), least, least_cost // costs_of(job)[0])


class _Finisher:
    """Makes trees of shapes, handing out the parts that wait for a place of their size."""

    def __init__(self, job: Job, later: Container[int], waiting: list[list[int]]) -> None:
        self.job = job
        self.later = later
        self.kerf = job.kerf
        self.waiting = waiting

    def node(self, shape: Shape) -> Node:
        """The tree of a shape."""
        length, width = shape.length - self.kerf, shape.width - self.kerf
        if shape.size != DIVIDED:
            part = self.waiting[shape.size].pop()
            return Placed(length, width, part, turned=length != self.job.parts[part].length)
        rip = shape.rip
        direction: Direction = "rip" if rip else "crosscut"
        members = [self.node(inner) for inner in sorted(shape.members, key=self._waits)]
        extents = [member.width if rip else member.length for member in members]
        whole = width if rip else length
        starts = [sum(extents[:index]) + self.kerf * index for index in range(len(members) + 1)]
        free = whole - starts[-1]
        rest: Node | None = None
        if free > 0:
            rest = Spare(length, free) if rip else Spare(free, width)
        exact = free == -self.kerf
        if exact:
            rest = members.pop()
        for index in reversed(range(len(members))):
            remains = whole - starts[index]
            rest = (
                Cut(length, remains, direction, members[index], rest)
                if rip
                else Cut(remains, width, direction, members[index], rest)
            )
        assert rest is not None
        return rest

    def _waits(self, shape: Shape) -> bool:
        """Whether all pieces in it are cut later."""
        return all(map(self._waits, shape.members)) if shape.size == DIVIDED else shape.size in self.later


def _without_room(job: Job) -> list[Unplaced]:
    """The parts that fit no sheet by themselves, each with the reason."""
    found = []
    for index, part in enumerate(job.parts):
        if part.quantity > 0 and (reason := obstacle(part, job)):
            found.append(Unplaced(index, part.quantity, reason))
    return found


def obstacle(part: JobPart, job: Job) -> str | None:
    """Why a part fits no sheet of the job's stock, in words; None if it fits one."""
    stocks = [stock for stock in job.stock if stock.quantity != 0]
    if not stocks:
        return "there is no stock to cut it from"
    ways = ways_of(part, 0)
    turned = (part.width, part.length)
    if any(fits_inside(part, stock) for stock in stocks):
        return None
    if any(way[0] <= s.length and way[1] <= s.width for way in ways for s in stocks):
        return "it fits the sheet as it comes, but not inside the trimmed edges"
    if not part.turns and any(turned[0] <= s.inner_length and turned[1] <= s.inner_width for s in stocks):
        if all(part.length > s.inner_length for s in stocks):
            return "too long for the trimmed sheet along the grain: it would fit only across it"
        return "too wide for the trimmed sheet across the grain: it would fit only along it"
    if part.turns:
        length, width = max(turned), min(turned)
        too_long = all(length > max(s.inner_length, s.inner_width) for s in stocks)
        too_wide = all(width > min(s.inner_length, s.inner_width) for s in stocks)
        along = across = ""
    else:
        too_long = all(part.length > s.inner_length for s in stocks)
        too_wide = all(part.width > s.inner_width for s in stocks)
        along, across = " along the grain", " across the grain"
    if too_long and too_wide:
        return "too long and too wide for the trimmed sheet"
    if too_long:
        return f"too long for the trimmed sheet{along}"
    if too_wide:
        return f"too wide for the trimmed sheet{across}"
    return "no one sheet is both long and wide enough for it"
