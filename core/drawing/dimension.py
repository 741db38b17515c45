"""Dimension lines: a length between two arrow heads that point at what it is measured between."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from core.drawing.blocks import Block
from core.drawing.canvas import Canvas
from core.drawing.lettering import cells


@dataclass(frozen=True, slots=True)
class Across:
    """A length measured from column x1 to x2, written in row y; to the right of the heads where it is too long."""

    x1: int
    x2: int
    y: int
    text: str

    @property
    def readable(self) -> bool:
        """Whether there is room for two heads."""
        return self.x2 > self.x1

    @property
    def block(self) -> Block:
        """What it covers."""
        return Block(self.x1, self.y, max(self.x2, self._start + cells(self.text) - 1), self.y)

    @property
    def _start(self) -> int:
        room = self.x2 - self.x1 - 1
        return self.x1 + 1 + (room - cells(self.text)) // 2 if cells(self.text) <= room else self.x2 + 2

    def draw(self, canvas: Canvas) -> None:
        """Draws it, on whatever lies there."""
        left, right, _, _ = canvas.glyphs.heads
        canvas.run(self.x1, self.y, self.x2, self.y, "dimension", canvas.glyphs.join(0, 1, 0, 1), (left, right))
        if cells(self.text) + 4 <= self.x2 - self.x1 + 1:
            canvas.text(self._start - 1, self.y, f" {self.text} ", "dimension")
        else:
            canvas.text(self._start, self.y, self.text, "dimension")


@dataclass(frozen=True, slots=True)
class Upright:
    """A length measured from row y1 down to y2, in column x. Its text goes from there to `towards`."""

    x: int
    y1: int
    y2: int
    text: str
    towards: Literal["left", "right"]

    @property
    def readable(self) -> bool:
        """Whether there is room for two heads and the text between."""
        return self.y2 - self.y1 >= 2

    @property
    def block(self) -> Block:
        """What it covers."""
        return Block(self._start, self.y1, max(self.x, self._start + cells(self.text) - 1), self.y2)

    @property
    def _start(self) -> int:
        return self.x if self.towards == "right" else self.x - cells(self.text) + 1

    def draw(self, canvas: Canvas) -> None:
        """Draws it, on whatever lies there."""
        _, _, up, down = canvas.glyphs.heads
        canvas.run(self.x, self.y1, self.x, self.y2, "dimension", canvas.glyphs.join(1, 0, 1, 0), (up, down))
        canvas.text(self._start, (self.y1 + self.y2) // 2, self.text, "dimension")


Dimension = Across | Upright
