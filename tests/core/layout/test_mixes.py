"""Other sheets than those of the best layout, where there are several kinds."""

from __future__ import annotations

from itertools import product

from hypothesis import given
from hypothesis import strategies as st

from core.layout.explorer import Explorer
from core.layout.fitter import Fitter
from core.layout.job import Job, JobPart, JobStock
from core.layout.mixes import MOST_MIXES, mixes_below

SIDES = st.integers(100, 400)


@st.composite
def fitters(draw: st.DrawFn) -> Fitter:
    stock = [JobStock(f"s{n}", draw(SIDES), draw(SIDES), price=draw(st.integers(1, 9))) for n in range(3)]
    stock.append(JobStock("rack", 450, 100, quantity=draw(st.integers(0, 2))))
    stock.append(JobStock("on sale", draw(SIDES), draw(SIDES), price=draw(st.integers(1, 9)), quantity=2))
    parts = (JobPart("A", 90, 80, draw(st.integers(1, 30)), True),)
    return Fitter(Job("1", 3, parts, tuple(stock[draw(st.integers(0, 1)) :])))


@given(fitters(), st.integers(0, 20))
def test_mixes_are_all_that_leave_no_money_and_give_enough_area(fitter: Fitter, price: int) -> None:
    boards, cost = fitter.boards, price * fitter.boards[0].cost // 4
    sold = [number for number, board in enumerate(boards) if board.length != 453]
    wanted = sum(blank.area * blank.quantity for blank in fitter.blanks)
    found = set()
    most = {kind: cost // boards[kind].cost for kind in sold}
    most |= {kind: min(many, boards[kind].quantity or many) for kind, many in most.items()}
    for counts in product(*(range(most[kind] + 1) for kind in sold)):
        left = cost - 1 - sum(count * boards[kind].cost for kind, count in zip(sold, counts, strict=True))
        mix = [board.quantity for board in boards]
        for kind, count in zip(sold, counts, strict=True):
            mix[kind] = count
        area = sum(board.length * board.width * (many or 0) for board, many in zip(boards, mix, strict=True))
        more = [boards[kind].cost for kind, count in zip(sold, counts, strict=True) if count != boards[kind].quantity]
        if 0 <= left < min(more, default=left + 1) and area >= wanted:
            found.add(tuple(mix))
    mixes = mixes_below(fitter, cost)
    assert set(mixes) == found and len(mixes) == len(found)


def test_one_large_sheet_is_found_in_the_place_of_several_small_ones() -> None:
    # That all of it goes on the large sheet was found by this search itself; a walk alone stays with small ones.
    sizes = [(746, 173, 2), (348, 166, 1), (304, 492, 3), (163, 305, 4), (800, 139, 1), (653, 458, 4)]
    sizes += [(661, 123, 3), (311, 428, 3), (226, 357, 3), (221, 239, 1), (760, 489, 2)]
    parts = [JobPart(f"P{number}", *size, False) for number, size in enumerate(sizes)]
    parts.append(JobPart("T", 184, 189, 3, True))
    kinds = [(3040, 1515, 9167), (1210, 600, 1776), (1210, 1210, 2676)]
    stock = tuple(JobStock(f"{price}", length, width, price=price) for length, width, price in kinds)
    explorer = Explorer(Job("1", 3, tuple(parts), stock), 0)
    assert explorer.best.boards != (0,)
    heard: list[tuple[int, ...]] = []
    explorer.walk_on_mixes(1000, lambda: False, lambda filling: heard.append(filling.boards))
    assert explorer.best.boards == heard[-1] == (0,)


def test_of_one_kind_there_are_no_mixes() -> None:
    job = Job("1", 3, (JobPart("A", 90, 80, 30, True),), (JobStock("s", 300, 200), JobStock("r", 400, 90, quantity=2)))
    assert mixes_below(Fitter(job), 10**12) == []


def test_of_sheets_for_a_price_that_there_are_two_of_one_two_or_none_are_taken() -> None:
    # By hand: at 50 and 20, for less than 115; what costs nothing is in each.
    kinds = (JobStock("s", 300, 200, price=50), JobStock("sale", 300, 100, price=20, quantity=2))
    rack = JobStock("rack", 90, 90, quantity=1)
    fitter = Fitter(Job("1", 0, (JobPart("A", 9, 8, 1, True),), (*kinds, rack)))
    assert set(mixes_below(fitter, 115 * fitter.boards[0].cost // 50)) == {(1, 2, 1), (2, 0, 1)}


def test_no_more_are_looked_at_where_a_cheap_one_could_nearly_always_be_had_beside_them() -> None:
    # All mixes without it, of which there are tens of millions, leave the money for it.
    stock = [JobStock(f"s{price}", 10 * price, 200, price=price) for price in (75, 70, 65, 60)]
    stock.append(JobStock("sale", 30, 10, price=1, quantity=1))
    fitter = Fitter(Job("1", 0, (JobPart("A", 9, 8, 1, True),), tuple(stock)))
    mixes = mixes_below(fitter, 400 * fitter.boards[0].cost)
    assert len(mixes) == MOST_MIXES and all(mix[-1] == 1 for mix in mixes)
