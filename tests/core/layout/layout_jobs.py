"""Random jobs and trees, and a check of layouts that shares no code with the engine."""

from __future__ import annotations

from collections import Counter

from hypothesis import strategies as st

from core.layout.job import Job, JobPart, JobStock, JobTrim
from core.layout.tree import Cut, Layout, Node, Placed, Spare

Rectangle = tuple[int, int, int, int]
"""x, y, length, width."""


@st.composite
def jobs(draw: st.DrawFn, iterations: int = 40) -> Job:
    """Jobs small enough to be searched at once, with every feature that a job has."""
    kerf = draw(st.integers(0, 4))

    def trim() -> int:
        return draw(st.just(0) | st.integers(kerf, kerf + 6))

    stock = []
    for index in range(draw(st.integers(1, 3))):
        length, width = draw(st.integers(30, 120)), draw(st.integers(30, 90))
        quantity = draw(st.none() | st.integers(0, 3))
        edges = JobTrim(trim(), trim(), trim(), trim())
        stock.append(JobStock(f"stock {index}", length, width, edges, quantity, draw(st.sampled_from((0, 20, 35, 50)))))
    parts = []
    for index in range(draw(st.integers(0, 7))):
        length, width = draw(st.integers(1, 100)), draw(st.integers(1, 60))
        turns, later = draw(st.booleans()), draw(st.booleans())
        parts.append(JobPart(f"P{index}", length, width, draw(st.integers(0, 4)), turns, later))
    return Job("1", kerf, tuple(parts), tuple(stock), iterations, draw(st.integers(1, 3)))


@st.composite
def trees(draw: st.DrawFn, kerf: int) -> Node:
    """Any tree that can be cut, waste between the parts included."""
    parts = 0

    def node(length: int, width: int, deep: int) -> Node:
        nonlocal parts
        direction = draw(st.sampled_from(("rip", "crosscut"))) if deep else "none"
        extent = width if direction == "rip" else length
        if direction == "none" or extent < 2:
            if draw(st.booleans()):
                return Spare(length, width)
            parts += 1
            return Placed(length, width, parts - 1, draw(st.booleans()))

        def piece(size: int) -> Node | None:
            if size <= 0:
                return None
            return node(length, size, deep - 1) if direction == "rip" else node(size, width, deep - 1)

        if kerf and draw(st.integers(0, 5)) == 0:
            eaten = draw(st.integers(1, min(kerf, extent - 1)))
            kept = piece(extent - eaten)
            return Cut(length, width, direction, *draw(st.permutations((kept, None))))
        low = draw(st.integers(1, extent - 1))
        return (
            Cut(length, width, direction, piece(low), piece(extent - low - kerf))
            if extent - low - kerf >= 0 and (extent - low - kerf > 0 or kerf)
            else Spare(length, width)
        )

    return node(draw(st.integers(5, 200)), draw(st.integers(5, 120)), draw(st.integers(0, 6)))


def rectangles(node: Node, x: int = 0, y: int = 0) -> list[tuple[Rectangle, Node]]:
    """Every piece that is not cut again, where it lies."""
    if not isinstance(node, Cut):
        return [((x, y, node.length, node.width), node)]
    found = []
    if node.low is not None:
        found += rectangles(node.low, x, y)
    if node.high is not None:
        if node.direction == "rip":
            found += rectangles(node.high, x, y + node.width - node.high.width)
        else:
            found += rectangles(node.high, x + node.length - node.high.length, y)
    return found


def check(job: Job, layout: Layout) -> None:
    """Everything that a layout must keep to, looked at from outside: places and sizes alone."""
    placed: Counter[int] = Counter()
    used: Counter[int] = Counter()
    for sheet in layout.sheets:
        used[sheet.stock] += 1
        stock = job.stock[sheet.stock]
        assert (sheet.root.length, sheet.root.width) == (stock.length, stock.width)
        parts = []
        for (x, y, length, width), node in rectangles(sheet.root):
            if isinstance(node, Placed):
                part = job.parts[node.part]
                lies = (part.width, part.length) if node.turned else (part.length, part.width)
                assert (length, width) == lies
                assert part.turns or not node.turned
                assert x >= stock.trim.left and x + length <= stock.length - stock.trim.right
                assert y >= stock.trim.bottom and y + width <= stock.width - stock.trim.top
                placed[node.part] += 1
                parts.append((x, y, length, width))
        assert parts, "a sheet is used for nothing"
        for index, (x, y, length, width) in enumerate(parts):
            for other_x, other_y, other_length, other_width in parts[:index]:
                beside = max(other_x - x - length, x - other_x - other_length)
                above = max(other_y - y - width, y - other_y - other_width)
                assert max(beside, above) >= job.kerf
    for index, stock in enumerate(job.stock):
        assert stock.quantity is None or used[index] <= stock.quantity
    left_out = Counter({unplaced.part: unplaced.quantity for unplaced in layout.unplaced})
    assert len(left_out) == len(layout.unplaced)
    for index, part in enumerate(job.parts):
        assert placed[index] + left_out[index] == part.quantity
    assert all(unplaced.quantity > 0 and unplaced.reason for unplaced in layout.unplaced)
    assert layout.lower_bound <= len(layout.sheets)
