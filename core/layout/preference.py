"""What is best: the one place that says which of two answers to a job a person would rather have.

In this order:

1. the least bulk of pieces without a place;
2. the least money for sheets; where that is equal the fewest sheets, then the smaller ones;
3. the fewest lengths and widths that are cut early of pieces which are cut later;
4. the largest single offcut, in steps of a fiftieth of a sheet;
5. the fewest settings of the fence, counted sheet by sheet;
6. the fewest sheets that must be crosscut before they can be ripped;
7. the fewest cuts;
8. the largest single offcut, to the last unit;
9. what is free in large pieces.

The search looks for less of the first two, and gathers what is free for the rest.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple, TypeAlias

from core.layout.blanks import bulk_of, ways_of
from core.layout.block import Block
from core.layout.fitter import Draft, Filling, Fitter
from core.layout.job import Job
from core.layout.later import settled_early
from core.layout.tree import Layout

Score: TypeAlias = tuple[int, ...]
"""Less is better, the first number first."""

OFFCUT_STEPS = 50
"""Offcuts that differ by less than one part in this many of a sheet are as good as each other."""


def spent(filling: Filling | Draft, fitter: Fitter) -> tuple[int, int]:
    """What comes first: the bulk that is left out, then the cost of the sheets (`core.layout.blanks.Board.cost`)."""
    return fitter.bulk(filling.missing), fitter.cost(filling.boards)


class Handiness(NamedTuple):
    """All of the order; less is better, the first that differs decides."""

    missing: int
    """Bulk of pieces without a place."""
    cost: int
    settled_early: int
    offcut: int
    """The largest, in steps; below nothing, as more is better."""
    settings: int
    crosscut_first: int
    cuts: int
    offcut_exactly: int
    used: int
    """How much less the free places are worth than on empty sheets."""


def handiness(filling: Filling | Draft, fitter: Fitter) -> Handiness:
    """Where an answer stands in the order."""
    blocks: Sequence[Block] = filling.blocks
    largest = max([block.largest_room() for block in blocks], default=0)
    return Handiness(
        *spent(filling, fitter),
        sum([settled_early(block, fitter.later) for block in blocks]) if fitter.later else 0,
        -(largest * OFFCUT_STEPS // fitter.largest_area),
        sum([len(block.settings()) for block in blocks]),
        sum([not block.rip for block in blocks]),
        sum([block.nodes for block in blocks]),
        -largest,
        fitter.used(filling),
    )


def rank(job: Job, layout: Layout) -> Score:
    """The first two of whole layouts: the bulk that has no place, then money, then sheets."""
    missing = sum(one.quantity * bulk_of(ways_of(job.parts[one.part], job.kerf)) for one in layout.unplaced)
    return missing, sum(job.stock[sheet.stock].price for sheet in layout.sheets), len(layout.sheets)
