"""The piece as it stands: from the front, or from above as a plan, drawn from the boxes of its parts.

Mostly a board is thinner than a cell: then it is drawn as one line, and so are two of them side by
side. Machining is not shown. Doors and drawer fronts are marked as such (`fronts`).
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Literal

from core.construction.part import Axis, Part
from core.drawing.blocks import Block
from core.drawing.canvas import Canvas, Notation, Picture
from core.drawing.dimension import Across, Upright
from core.drawing.fronts import draw_front
from core.drawing.glyphs import Glyphs
from core.drawing.lettering import cells, clean
from core.drawing.scale import THIN, Scale, Stretch, fit_scale

View = Literal["front", "plan"]

_OF_A_DRAWER = ("drawer side", "drawer end", "drawer bottom")

_AXES: dict[View, tuple[Axis, Axis]] = {"front": ("x", "z"), "plan": ("x", "y")}


@dataclass(frozen=True, slots=True)
class Label:
    """A text over the drawing, centred at x and at a height z (front) or a depth y (plan), mm."""

    text: str
    x: Fraction
    up: Fraction


def draw_elevation(
    parts: Sequence[Part],
    columns: int,
    rows: int,
    notation: Notation,
    glyphs: Glyphs,
    highlight: Collection[Part] = (),
    view: View = "front",
    labels: Sequence[Label] = (),
    cell_ratio: Fraction = Fraction(2),
) -> Picture:
    """What is seen of the parts from the front (x to the right, z up) or from above (the wall at the top).

    Nearer parts hide what is behind them; those in `highlight` are drawn double and whole, even where they
    are hidden, but of a drawer whose front is among them only the front. Overall width below, overall height
    (or depth) to the right.
    """
    canvas = Canvas(columns, rows, glyphs)
    if not parts:
        return canvas.picture()
    across, up = _AXES[view]
    wide, high = (_ends(parts, axis) for axis in (across, up))
    text_wide, text_high = (clean(notation.text(ends[1] - ends[0]), glyphs) for ends in (wide, high))
    measured = columns >= cells(text_high) + 12 and rows >= 6
    free_columns, free_rows = (columns - cells(text_high) - 2, rows - 1) if measured else (columns, rows)
    if free_columns < 2 or free_rows < 2:
        return canvas.picture()
    per_mm = min((free_columns - 1) / (wide[1] - wide[0]), (free_rows - 1) * cell_ratio / (high[1] - high[0]))
    along_x = _Direction.fitted(parts, across, wide, max(1, min(round((wide[1] - wide[0]) * per_mm), free_columns - 1)))
    along_up = _Direction.fitted(
        parts, up, high, max(1, min(round((high[1] - high[0]) * per_mm / cell_ratio), free_rows - 1))
    )
    right, bottom = along_x.scale.at(wide[1]), along_up.scale.at(high[1])

    def frame(part: Part) -> Block:
        (x1, x2), (z1, z2) = along_x.cells(part), along_up.cells(part)
        return Block(x1, bottom - z2, x2, bottom - z1)

    texts: list[tuple[Block, str]] = []
    for label in labels:
        text = f" {clean(label.text, glyphs)} "
        x, y = along_x.scale.at(label.x) - cells(text) // 2, bottom - along_up.scale.at(label.up)
        texts.append((Block(x, y, x + cells(text) - 1, y), text))

    def mark(part: Part) -> None:
        if view == "front":
            draw_front(canvas, part, frame(part), [block for block, _ in texts])

    for part in sorted(parts, key=lambda part: -part.box.start("y") if view == "front" else _stretch(part, "z")[1]):
        place = frame(part)
        canvas.hide(place.left, place.top, place.right, place.bottom)
        canvas.box(place.left, place.top, place.right, place.bottom, "outline")
        mark(part)
    for part in _told_double(highlight):
        place = frame(part)
        canvas.box(place.left, place.top, place.right, place.bottom, "selected", "strong")
    for part in highlight:
        mark(part)
    for block, text in texts:
        canvas.text(block.left, block.top, text, "label")
    if measured:
        Across(0, right, bottom + 1, text_wide).draw(canvas)
        Upright(right + 2, 0, bottom, text_high, "right").draw(canvas)
    return canvas.picture()


def _told_double(parts: Collection[Part]) -> list[Part]:
    """Those to be drawn double: behind their fronts the lines of drawers would only be more lines."""
    fronted = any(part.role == "drawer front" for part in parts)
    return [part for part in parts if not (fronted and part.role in _OF_A_DRAWER)]


def _stretch(part: Part, axis: Axis) -> Stretch:
    return part.box.start(axis), part.box.start(axis) + part.box.span(axis)


def _ends(parts: Sequence[Part], axis: Axis) -> Stretch:
    stretches = [_stretch(part, axis) for part in parts]
    return min(low for low, _ in stretches), max(high for _, high in stretches)


@dataclass(frozen=True, slots=True)
class _Direction:
    """One direction of the drawing. A board of less than a cell lies on one line, in the middle of its thickness."""

    axis: Axis
    board: Fraction
    """Below so many mm it is one."""
    scale: Scale

    @staticmethod
    def fitted(parts: Sequence[Part], axis: Axis, ends: Stretch, steps: int) -> _Direction:
        cell = (ends[1] - ends[0]) / steps
        lines = [_lines(_stretch(part, axis), THIN * cell) for part in parts]
        stops = sorted({*ends, *(stop for pair in lines for stop in pair)})
        close = [(low, high) for low, high in pairwise(stops) if high - low < THIN / 2 * cell]
        return _Direction(axis, THIN * cell, fit_scale(ends, steps, lines, close, together=2 * THIN))

    def cells(self, part: Part) -> tuple[int, int]:
        """The first and the last cell of a part."""
        low, high = _lines(_stretch(part, self.axis), self.board)
        return self.scale.at(low), self.scale.at(high)


def _lines(stretch: Stretch, board: Fraction) -> Stretch:
    low, high = stretch
    return stretch if high - low >= board else ((low + high) / 2, (low + high) / 2)
