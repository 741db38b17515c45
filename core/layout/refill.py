"""Putting the missing pieces of a draft back, the most restricted first, each where it loses least."""

from __future__ import annotations

from core.layout.block import Block
from core.layout.fitter import Draft, Fitter
from core.layout.room import NEVER

BLINK = 0.1
"""How often the best sheet for a piece is overlooked, so that the same pieces don't always go back where they were."""

ASTRAY = 0.1
"""How often a piece goes to any place on its sheet instead of the best."""


def refill(draft: Draft, fitter: Fitter, astray: float = ASTRAY) -> None:
    """Put the missing pieces back, the size that fewest sheets take first; what finds no place stays missing."""
    blocks = draft.blocks
    counts: dict[int, int] = {}
    for size in sorted(draft.missing):
        counts[size] = counts.get(size, 0) + 1
    losses = [fitter.losses_of(block) for block in blocks]
    rows: dict[int, list[int]] = {}
    """For each missing size, what each sheet loses by it."""
    choices: dict[int, int] = {}
    """For each missing size, how many sheets take it."""
    for size in counts:
        row = rows[size] = [on_sheet[size] for on_sheet in losses]
        choices[size] = len(row) - row.count(NEVER)
    draft.missing = []
    while rows:
        size = min(choices, key=choices.__getitem__)
        row = rows[size]
        if choices[size]:
            chosen = _sheet_for(row, fitter)
        else:
            opened = fitter.open(draft, size)
            if opened is None:
                draft.missing += [size] * counts[size]
                del rows[size], choices[size]
                continue
            chosen = opened
            there = fitter.losses_of(blocks[chosen])
            losses.append(there)
            for other, losses_of_other in rows.items():
                losses_of_other.append(there[other])
                choices[other] += there[other] < NEVER
        block = blocks[chosen] = _with_piece(blocks[chosen], size, row[chosen], fitter, astray)
        counts[size] -= 1
        if not counts[size]:
            del rows[size], choices[size]
        there = fitter.losses_of(block)
        there.take_over(losses[chosen], rows)
        losses[chosen] = there
        for other, losses_of_other in rows.items():
            before, loss = losses_of_other[chosen], there[other]
            if before != loss:
                losses_of_other[chosen] = loss
                choices[other] += (before == NEVER) - (loss == NEVER)


def _sheet_for(row: list[int], fitter: Fitter) -> int:
    """The sheet that loses least; now and then the next best."""
    chosen = row.index(min(row))
    if fitter.random() < BLINK:
        others = row.copy()
        others[chosen] = NEVER
        least = min(others)
        if least < NEVER:
            return others.index(least)
    return chosen


def _with_piece(block: Block, size: int, loss: int, fitter: Fitter, astray: float) -> Block:
    """The sheet with one more piece, at its best place; now and then anywhere."""
    if fitter.random() < astray:
        return fitter.inserter.anywhere(block, size, fitter.random)
    return fitter.inserter.at_best(block, size, loss)
