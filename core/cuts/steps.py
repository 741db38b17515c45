"""What cutting is made of: sheets to cut, steps, and the pieces that a step makes. Sizes in whole units of the job."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from core.layout.tree import Direction, Node

Edge = Literal["left", "right", "bottom", "top"]
"""An edge of a piece as it lies on its sheet."""

Use = Literal["part", "blank", "offcut", "waste"]
"""What becomes of a piece: a part, cut again, kept, or thrown away."""


@dataclass(frozen=True, slots=True)
class SheetToCut:
    """A sheet with its layout. `pieces` names the placed parts (`A/1`) in the order of the walk through the tree."""

    id: str
    root: Node
    pieces: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Keeping:
    """What makes an offcut worth keeping: its shorter and its longer side are at least this."""

    shorter: int
    longer: int

    def worth_keeping(self, length: int, width: int) -> bool:
        """Whether a piece of this size is kept."""
        return min(length, width) >= self.shorter and max(length, width) >= self.longer


@dataclass(frozen=True, slots=True)
class Made:
    """A piece that a step makes, where it lay on its sheet. `part` is the code of the part that it is, if any."""

    id: str
    x: int
    y: int
    length: int
    width: int
    use: Use
    part: str | None = None


@dataclass(frozen=True, slots=True)
class Step:
    """One cut. `pieces` has the one between fence and blade first; `fence` is its size across the cut.

    `edge` is the edge of `piece` that lies against the fence, or that is measured from.
    """

    number: int
    sheet: str
    piece: str
    saw: str
    direction: Direction
    fence: int
    edge: Edge
    kerf: int
    pieces: tuple[Made, ...]


@dataclass(frozen=True, slots=True)
class Offcut:
    """What no part uses of a sheet, and where it lies."""

    x: int
    y: int
    length: int
    width: int
    worth_keeping: bool
