"""What lies on one sheet together, and whole fillings, without rooms: to be remembered, compared and sent."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any, NamedTuple, TypeAlias

from core.layout.fitter import Filling, Fitter
from core.layout.shape import Shape, block_of, shape_of, shape_told

Sizes: TypeAlias = tuple[int, ...]
"""The sizes of some pieces, in order."""


class Pattern(NamedTuple):
    """A board, and the sizes of the pieces on one of it."""

    board: int
    sizes: Sizes


Outline: TypeAlias = tuple[tuple[tuple[int, Shape], ...], tuple[int, ...]]
"""A filling without its rooms, as it goes to another process: board and shape of each sheet; what is missing."""


def pattern_of(board: int, sizes: Iterable[int]) -> Pattern:
    """The pattern of a sheet with pieces of these sizes."""
    return Pattern(board, tuple(sorted(sizes)))


def outline_of(filling: Filling) -> Outline:
    """The filling as plain tuples."""
    return tuple(zip(filling.boards, map(shape_of, filling.blocks), strict=True)), filling.missing


def filling_of(outline: Outline, fitter: Fitter) -> Filling:
    """The filling again."""
    sheets, missing = outline
    blocks = tuple(block_of(shape, fitter.rooms) for _, shape in sheets)
    return Filling(tuple(board for board, _ in sheets), blocks, tuple(missing))


def outline_told(listed: Sequence[Any]) -> Outline:
    """The outline again that has been made lists of, as JSON does."""
    sheets, missing = listed
    return tuple([(board, shape_told(shape)) for board, shape in sheets]), tuple(missing)
