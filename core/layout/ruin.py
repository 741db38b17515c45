"""Taking pieces out of an answer, so that they can be put back better."""

from __future__ import annotations

from fractions import Fraction

from core.layout.block import collect
from core.layout.fitter import Draft, Filling, Fitter, Mix
from core.layout.remove import remove
from core.layout.strip import board_with, laid_in

MOST_SHEETS = 3
"""Pieces are taken out of one sheet to this many at a time."""

MOST_NODES = 15
"""One to this many nodes of the trees are taken out at a time, each with all in it: 8 on average, as published."""


def ruined(filling: Filling, purse: int | None, fitter: Fitter, mix: Mix | None = None, tightened: float = 0) -> Draft:
    """`filling` with some of its pieces taken out by chance; a sheet that nothing is left on is given up.

    `tightened`: how often what stays on these sheets is laid in strips that are no wider than it needs. A strip
    is as wide as the piece that it was begun with, which may be gone.
    """
    random = fitter.random
    draft = Draft([*filling.boards], [*filling.blocks], [*filling.missing], purse, mix)
    blocks = draft.blocks
    if not blocks:
        return draft
    sheets = [int(random() * len(blocks)) for _ in range(1 + int(random() * MOST_SHEETS))]
    emptied: set[int] = set()
    for _ in range(1 + int(random() * MOST_NODES)):
        sheet = sheets[int(random() * len(sheets))]
        if sheet in emptied:
            continue
        block = blocks[sheet]
        left = remove(block, int(random() * (block.nodes - 1)), draft.missing, fitter.rooms)
        if left is None:
            emptied.add(sheet)
        else:
            blocks[sheet] = left
    if tightened and random() < tightened:
        for sheet in sheets:
            block = blocks[sheet]
            if sheet not in emptied:
                blocks[sheet] = board_with(laid_in(block), block.length, block.width, fitter.rooms)
    for sheet in sorted(emptied, reverse=True):
        fitter.give_up(draft, sheet)
    return draft


def without_freest(draft: Draft, fitter: Fitter) -> None:
    """Give up the sheet that is used least for its size; its pieces are missing."""

    def free_share(sheet: int) -> tuple[Fraction, int]:
        return Fraction(draft.blocks[sheet].worth, fitter.empties[draft.boards[sheet]].worth), sheet

    freest = max(range(len(draft.blocks)), key=free_share)
    collect(draft.blocks[freest], draft.missing)
    fitter.give_up(draft, freest)
