"""What lies on one sheet together, and whole fillings, without rooms: to be remembered, compared and sent."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TypeAlias

from core.layout.fitter import Filling, Fitter
from core.layout.shape import Shape, block_of, shape_of

Pattern: TypeAlias = tuple[int, ...]
"""A kind of stock, then the sizes of the pieces on one sheet of it, in order."""

Sizes: TypeAlias = tuple[int, ...]
"""The sizes of some pieces, in order."""

Outline: TypeAlias = tuple[tuple[tuple[int, Shape], ...], tuple[int, ...]]
"""A filling without its rooms, as it goes to another process: board and shape of each sheet; what is missing."""


def pattern_of(board: int, sizes: Iterable[int]) -> Pattern:
    """The pattern of a sheet with pieces of these sizes."""
    return (board, *sorted(sizes))


def outline_of(filling: Filling) -> Outline:
    """The filling as plain tuples."""
    return tuple(zip(filling.boards, map(shape_of, filling.blocks), strict=True)), filling.missing


def filling_of(outline: Outline, fitter: Fitter) -> Filling:
    """The filling again; lists serve as well as tuples."""
    sheets, missing = outline
    blocks = tuple(block_of(shape, fitter.rooms) for _, shape in sheets)
    return Filling(tuple(board for board, _ in sheets), blocks, tuple(missing))
