"""Dimension lines: a length between two arrow heads that point at what it is measured between."""

from __future__ import annotations

from collections.abc import Sequence
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


@dataclass(frozen=True, slots=True)
class Running:
    """Lengths that all run from one place: there a 0, at each place a head, and beyond the head how far it is.

    `across` they run along the row `lane` and the places are columns; else along the column `lane`, and the
    places are rows. Texts of a column stand on the side `towards`.
    """

    across: bool
    lane: int
    origin: int
    marks: tuple[tuple[int, str], ...]
    towards: Literal["left", "right"] = "right"

    @staticmethod
    def fitted(
        across: bool, lane: int, origin: int, wanted: Sequence[tuple[int, str]], towards: Literal["left", "right"]
    ) -> tuple[Running, list[int]]:
        """With as many of the wanted marks as have room, the nearest first; and which those are."""
        kept: list[int] = []
        free = 1
        for i in sorted(range(len(wanted)), key=lambda i: abs(wanted[i][0] - origin)):
            place, text = wanted[i]
            if abs(place - origin) >= free:
                kept.append(i)
                free = abs(place - origin) + (cells(text) + 2 if across else 1)
        return Running(across, lane, origin, tuple(wanted[i] for i in kept), towards), kept

    @property
    def readable(self) -> bool:
        """Whether there is anything to read."""
        return bool(self.marks)

    @property
    def block(self) -> Block:
        """What it covers."""
        places = [self.origin, *(place for place, _ in self.marks)]
        longest = max((cells(text) for _, text in self.marks), default=0)
        if not self.across:
            first, last = (
                (self.lane, self.lane + longest) if self.towards == "right" else (self.lane - longest, self.lane)
            )
            return Block(first, min(places), last, max(places))
        place, text = max(self.marks, key=lambda mark: abs(mark[0] - self.origin), default=(self.origin, ""))
        end = place + cells(text) if place >= self.origin else place - cells(text)
        return Block(min(self.origin, end), self.lane, max(self.origin, end), self.lane)

    def draw(self, canvas: Canvas) -> None:
        """Draws it, on whatever lies there."""
        left, right, up, down = canvas.glyphs.heads
        line = canvas.glyphs.join(0, 1, 0, 1) if self.across else canvas.glyphs.join(1, 0, 1, 0)
        for place, _ in self.marks:
            for at in range(min(self.origin, place), max(self.origin, place) + 1):
                canvas.text(at if self.across else self.lane, self.lane if self.across else at, line, "dimension")
        for place, text in self.marks:
            if self.across:
                forth = place > self.origin
                canvas.text(place, self.lane, right if forth else left, "dimension")
                canvas.text(place + 1 if forth else place - cells(text), self.lane, text, "dimension")
            else:
                canvas.text(self.lane, place, down if place > self.origin else up, "dimension")
                canvas.text(
                    self.lane + 1 if self.towards == "right" else self.lane - cells(text), place, text, "dimension"
                )
        x, y = (self.origin, self.lane) if self.across else (self.lane, self.origin)
        canvas.text(x, y, "0", "dimension")


Dimension = Across | Upright | Running
