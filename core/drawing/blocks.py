"""Blocks of cells, and where on a drawing there is still a free one."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Block:
    """Columns and rows that something covers, both ends included."""

    left: int
    top: int
    right: int
    bottom: int

    def meets(self, other: Block) -> bool:
        """Whether the two share a cell."""
        return (
            self.left <= other.right
            and other.left <= self.right
            and self.top <= other.bottom
            and other.top <= self.bottom
        )

    def holds(self, other: Block) -> bool:
        """Whether all of the other lies in it."""
        return (
            self.left <= other.left
            and other.right <= self.right
            and self.top <= other.top
            and other.bottom <= self.bottom
        )


def free_block(room: Block, columns: int, rows: int, taken: Iterable[Block]) -> Block | None:
    """The block of this size inside `room`, as near to its middle as may be, that meets nothing taken."""
    across = range(room.left, room.right - columns + 2)
    down = range(room.top, room.bottom - rows + 2)
    if not across or not down or columns < 1:
        return None
    middle_x, middle_y = across[(len(across) - 1) // 2], down[(len(down) - 1) // 2]
    near = [block for block in taken if block.meets(room)]
    # A row up or down is as far as two columns: a cell is about twice as high as wide.
    places = ((abs(x - middle_x) + 2 * abs(y - middle_y), y, x) for y in down for x in across)
    for _, y, x in sorted(places):
        block = Block(x, y, x + columns - 1, y + rows - 1)
        if not any(block.meets(other) for other in near):
            return block
    return None
