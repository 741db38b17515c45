"""The bound is never above the truth, which is found here by trying everything."""

from __future__ import annotations

from functools import cache
from itertools import combinations_with_replacement, product

from hypothesis import given, settings
from hypothesis import strategies as st

from core.layout.bounds import lower_bound
from core.layout.job import Job, JobPart, JobStock, JobTrim
from core.layout.search import lay_out

Piece = tuple[int, int, bool]


@cache
def comes_out(length: int, width: int, pieces: tuple[Piece, ...], kerf: int) -> bool:
    """Whether edge-to-edge cuts free all these pieces from a rectangle."""
    if not pieces:
        return True
    if length <= 0 or width <= 0 or sum(a * b for a, b, _ in pieces) > length * width:
        return False
    if len(pieces) == 1:
        ((a, b, turns),) = pieces
        return (a <= length and b <= width) or (turns and b <= length and a <= width)
    for picked in product((False, True), repeat=len(pieces) - 1):
        low = (pieces[0], *(piece for piece, yes in zip(pieces[1:], picked, strict=True) if yes))
        high = tuple(piece for piece, yes in zip(pieces[1:], picked, strict=True) if not yes)
        if not high:
            continue
        for at in range(1, length - kerf):
            if comes_out(at, width, low, kerf) and comes_out(length - at - kerf, width, high, kerf):
                return True
        for at in range(1, width - kerf):
            if comes_out(length, at, low, kerf) and comes_out(length, width - at - kerf, high, kerf):
                return True
    return False


def fewest(pieces: tuple[Piece, ...], stock: tuple[JobStock, ...], kerf: int) -> int:
    """The least number of sheets that all pieces come out of; every piece fits some sheet."""

    @cache
    def come_out(sheets: tuple[int, ...], left: tuple[Piece, ...]) -> bool:
        if not left:
            return True
        if not sheets:
            return False
        sheet = stock[sheets[0]]
        for picked in product((False, True), repeat=len(left)):
            here = tuple(piece for piece, yes in zip(left, picked, strict=True) if yes)
            rest = tuple(piece for piece, yes in zip(left, picked, strict=True) if not yes)
            if comes_out(sheet.inner_length, sheet.inner_width, here, kerf) and come_out(sheets[1:], rest):
                return True
        return False

    for count in range(len(pieces) + 1):
        if any(come_out(sheets, pieces) for sheets in combinations_with_replacement(range(len(stock)), count)):
            return count
    raise AssertionError("a piece fits no sheet")


@st.composite
def tiny_jobs(draw: st.DrawFn) -> Job:
    """Jobs of a few pieces on sheets a few counts wide, crowded enough that bounds have something to say."""
    kerf = draw(st.integers(0, 1))
    stock = tuple(
        JobStock(f"stock {index}", *((side, side) if draw(st.booleans()) else (side, draw(st.integers(4, 9)))))
        for index, side in enumerate(draw(st.lists(st.integers(4, 9), min_size=1, max_size=2)))
    )
    if draw(st.booleans()):
        stock = tuple(JobStock(s.name, s.length, s.width, JobTrim(left=kerf, top=kerf)) for s in stock)
    inside = [(s.inner_length, s.inner_width) for s in stock]
    parts = []
    for index in range(draw(st.integers(1, 5))):
        length, width = draw(st.sampled_from(inside))
        least = draw(st.sampled_from((1, 2, 3)))
        size = draw(st.integers(min(least, length), length)), draw(st.integers(min(least, width), width))
        parts.append(JobPart(f"P{index}", *size, 1, draw(st.booleans())))
    return Job("1", kerf, tuple(parts), stock, iterations=60)


@settings(max_examples=250, deadline=None)
@given(tiny_jobs())
def test_the_bound_is_never_above_the_truth(job: Job) -> None:
    pieces = tuple(sorted((part.length, part.width, part.turns) for part in job.parts))
    truth = fewest(pieces, job.stock, job.kerf)
    layout = lay_out(job)
    assert lower_bound(job) <= truth <= len(layout.sheets)
    assert layout.lower_bound <= truth


def bound(sheet: tuple[int, int], sizes: list[tuple[int, int]], turns: bool = False, kerf: int = 0) -> int:
    parts = tuple(JobPart(f"P{index}", *size, 1, turns) for index, size in enumerate(sizes))
    return lower_bound(Job("1", kerf, parts, (JobStock("sheet", *sheet),)))


def test_what_bounds_see_that_area_does_not() -> None:
    # More than half both ways: no two share a sheet, whatever their area (by hand).
    assert bound((100, 100), [(51, 51)] * 5) == 5
    # Just above a third both ways: four to a sheet, not eight (by hand).
    assert bound((99, 99), [(34, 34)] * 8) == 2
    # A blade makes halves too large (by hand): 50 + 50 fits 100, with a kerf it doesn't.
    assert bound((100, 100), [(50, 100)] * 2) == 1
    assert bound((100, 100), [(50, 100)] * 2, kerf=1) == 2
    # Crossed strips: neither two beside nor two above one another (by hand).
    assert bound((100, 100), [(60, 45), (45, 60), (60, 60)]) == 3
    assert bound((100, 60), [(100, 40), (40, 60)]) == 2


def test_a_limited_stock_bounds_no_higher_than_there_are_sheets() -> None:
    job = Job("1", 0, (JobPart("A", 60, 60, 9, False),), (JobStock("sheet", 100, 100, quantity=4),))
    assert lower_bound(job) == 4
