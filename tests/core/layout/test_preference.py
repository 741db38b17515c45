"""What is best: for each point of the order two answers by hand, of which that point decides."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from core.layout.fitter import Filling, Fitter
from core.layout.job import Job, JobPart, JobStock
from core.layout.preference import Handiness, handiness
from core.layout.shape import DIVIDED, Shape, block_of

SIDE = 1000


def piece(size: int, length: int, width: int) -> Shape:
    return Shape(length, width, size)


def sheet(*members: Shape, rip: bool = True) -> Shape:
    return Shape(SIDE, SIDE, DIVIDED, rip, members)


def strip(width: int, *members: Shape) -> Shape:
    """A rip of a whole sheet, crosscut into these."""
    return Shape(SIDE, width, DIVIDED, False, members)


LONG, SHORT, HALF, SMALL, SQUARE, LATER = range(6)
PARTS = (
    JobPart("long", 600, 200, 9, False),
    JobPart("short", 300, 200, 9, False),
    JobPart("half", 500, 200, 9, False),
    JobPart("small", 11, 10, 9, True),
    JobPart("square", 500, 500, 9, False),
    JobPart("later", 400, 200, 9, False, later=True),
)
# Sizes have numbers in the order of their areas.
NUMBERS = {index: number for number, index in enumerate((SQUARE, LONG, HALF, LATER, SHORT, SMALL))}
JOB = Job("1", 0, PARTS, (JobStock("sheet", SIDE, SIDE, price=100), JobStock("dear", SIDE, SIDE, price=101)))


def of(part: int, turned: bool = False) -> Shape:
    length, width = PARTS[part].length, PARTS[part].width
    return piece(NUMBERS[part], *((width, length) if turned else (length, width)))


NEARLY_EMPTY = sheet(strip(10, of(SMALL)))
"""Has a larger offcut than any other sheet here."""

Answer = tuple[Sequence[Shape], Sequence[int], Sequence[int]]
"""Sheets, the kind of stock of each, and what is left out."""


def answer(*sheets: Shape, stock: Sequence[int] = (), missing: Sequence[int] = ()) -> Answer:
    return sheets, stock or [0] * len(sheets), missing


PAIR = strip(200, of(HALF), of(HALF))
ONE = strip(200, of(HALF))


@pytest.mark.parametrize(
    ("decides", "better", "worse"),
    [
        ("missing", answer(sheet(ONE), missing=[SMALL]), answer(sheet(ONE), missing=[HALF])),
        ("cost", answer(sheet(PAIR)), answer(sheet(ONE), sheet(ONE))),
        ("cost", answer(sheet(PAIR)), answer(sheet(PAIR), stock=[1])),
        # A part that is cut later keeps its width, or its length, until then: here in one piece with what is free.
        (
            "settled_early",
            answer(sheet(strip(200, of(LONG)), strip(200, of(LATER)))),
            answer(sheet(strip(200, of(LONG), of(LATER)))),
        ),
        # 800 of the width stay in one piece, or 600.
        ("offcut", answer(sheet(PAIR)), answer(sheet(ONE, ONE))),
        # Two sheets of equal strips take one setting each beside the crosscuts; mixed they take two.
        (
            "settings",
            answer(
                NEARLY_EMPTY,
                sheet(strip(200, of(HALF)), strip(200, of(HALF))),
                sheet(strip(500, of(SQUARE)), strip(500, of(SQUARE))),
            ),
            answer(
                NEARLY_EMPTY,
                sheet(strip(200, of(HALF)), strip(500, of(SQUARE))),
                sheet(strip(200, of(HALF)), strip(500, of(SQUARE))),
            ),
        ),
        # Four quarters, ripped or crosscut first.
        (
            "crosscut_first",
            answer(sheet(*[Shape(SIDE, 500, DIVIDED, False, (of(SQUARE), of(SQUARE)))] * 2)),
            answer(sheet(*[Shape(500, SIDE, DIVIDED, True, (of(SQUARE), of(SQUARE)))] * 2, rip=False)),
        ),
        # Two halves in one strip, or each in its own.
        ("cuts", answer(NEARLY_EMPTY, sheet(PAIR)), answer(NEARLY_EMPTY, sheet(ONE, ONE))),
        # 990 of the width, or 989: less than a fiftieth of a sheet apart.
        ("offcut_exactly", answer(sheet(strip(10, of(SMALL)))), answer(sheet(strip(11, of(SMALL, turned=True))))),
        # What is free in two strips: 100 and 500 of the length, or 400 and 200.
        (
            "used",
            answer(sheet(strip(200, of(LONG), of(SHORT)), strip(200, of(HALF)))),
            answer(sheet(strip(200, of(LONG)), strip(200, of(HALF), of(SHORT)))),
        ),
    ],
)
def test_of_two_answers_the_order_says_which_is_better(decides: str, better: Answer, worse: Answer) -> None:
    fitter = Fitter(JOB)
    assert [blank.parts[0][0] for blank in fitter.blanks] == sorted(NUMBERS, key=NUMBERS.__getitem__)

    def told(of: Answer) -> Handiness:
        sheets, stock, missing = of
        blocks = tuple(block_of(one, fitter.rooms) for one in sheets)
        return handiness(Filling(tuple(stock), blocks, tuple(NUMBERS[size] for size in missing)), fitter)

    one, other = told(better), told(worse)
    assert next(name for name in Handiness._fields if getattr(one, name) != getattr(other, name)) == decides
    assert one < other
