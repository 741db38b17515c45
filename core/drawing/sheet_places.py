"""Where everything on a drawn sheet goes: parts, offcuts and the frame, in cells."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from typing import Literal

from core.drawing.scale import THIN, Scale, Stretch, fit_scale
from core.layout.place import meets

SheetEdge = Literal["left", "right", "bottom", "top"]


@dataclass(frozen=True, slots=True)
class PieceView:
    """A blank as it lies on the sheet; mm, from the sheet's lower left corner."""

    piece: str
    code: str
    x: Fraction
    y: Fraction
    length: Fraction
    width: Fraction
    rotated: bool = False
    """The part's own length lies along y."""
    done: bool = False
    """It is cut."""


@dataclass(frozen=True, slots=True)
class OffcutView:
    """What no part uses, mm. Where it is not worth keeping it is waste."""

    x: Fraction
    y: Fraction
    length: Fraction
    width: Fraction
    worth_keeping: bool


@dataclass(frozen=True, slots=True)
class BadView:
    """A place that is of no use, mm."""

    x: Fraction
    y: Fraction
    length: Fraction
    width: Fraction


@dataclass(frozen=True, slots=True)
class TrimView:
    """What each edge loses, kerf included, mm."""

    left: Fraction = Fraction(0)
    right: Fraction = Fraction(0)
    bottom: Fraction = Fraction(0)
    top: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True)
class CutLine:
    """A cut along the middle of its kerf, mm: along x (a rip) or along y (a crosscut)."""

    number: int
    x1: Fraction
    y1: Fraction
    x2: Fraction
    y2: Fraction
    fence: Fraction
    """What is set at the saw: from the edge measured from to the blade."""
    measured_from: SheetEdge


@dataclass(frozen=True, slots=True)
class SheetView:
    """A laid-out sheet as it is to be drawn. x runs along its length (the grain, if it has one), y up its width; mm."""

    id: str
    material: str
    length: Fraction
    width: Fraction
    kerf: Fraction
    grain: bool
    parts: tuple[PieceView, ...]
    offcuts: tuple[OffcutView, ...] = ()
    trim: TrimView = field(default_factory=TrimView)
    cuts: tuple[CutLine, ...] = ()
    bad: tuple[BadView, ...] = ()


@dataclass(frozen=True, slots=True)
class Cells:
    """A frame on the canvas, by the columns and rows in which its lines lie."""

    left: int
    top: int
    right: int
    bottom: int

    @property
    def columns(self) -> int:
        """Columns inside the lines."""
        return max(self.right - self.left - 1, 0)

    @property
    def rows(self) -> int:
        """Rows inside the lines."""
        return max(self.bottom - self.top - 1, 0)


@dataclass(frozen=True, slots=True)
class Places:
    """A sheet fitted into a frame of cells whose left line is column 0."""

    frame: Cells
    across: Scale
    up: Scale
    half_kerf: Fraction

    def cells(self, it: PieceView | OffcutView) -> Cells:
        """The frame of a piece. Neighbours share the line in the middle of their kerf."""
        return Cells(
            self.across.at(it.x - self.half_kerf),
            self.row(it.y + it.width + self.half_kerf),
            self.across.at(it.x + it.length + self.half_kerf),
            self.row(it.y - self.half_kerf),
        )

    def bad_cells(self, bad: BadView, offcut: OffcutView) -> Cells | None:
        """A frame round what an offcut has of a bad place, a cell at least; None where it has none, or is too small."""
        room = self.cells(offcut)
        if not (room.columns and room.rows) or not _has(offcut, bad):
            return None
        left, right = _inside(self.across.at(bad.x), self.across.at(bad.x + bad.length), room.left, room.right)
        top, bottom = _inside(self.row(bad.y + bad.width), self.row(bad.y), room.top, room.bottom)
        return Cells(left, top, right, bottom)

    def row(self, y: Fraction) -> int:
        """The row of a height on the sheet."""
        return self.frame.bottom - self.up.at(y)


def _has(offcut: OffcutView, bad: BadView) -> bool:
    return meets([(bad.x, bad.y, bad.length, bad.width)], offcut.x, offcut.y, offcut.length, offcut.width)


def _inside(first: int, last: int, low: int, high: int) -> tuple[int, int]:
    """The lines round the cells from first to last, as far as these lie between two lines; round one at least."""
    last = max(last - 1, first)
    first, last = (min(max(at, low + 1), high - 1) for at in (first, last))
    return first - 1, last + 1


def fit_sheet(view: SheetView, columns: int, rows: int, top: int, cell_ratio: Fraction) -> Places:
    """The sheet as large as `columns` by `rows` cells (at least 3 by 3) allow, in proportion.

    `cell_ratio` is the height of a cell in widths of it. A trim too narrow to be seen is left out. What has a bad
    place has a row and a column, so that this is seen.
    """
    per_mm = min((columns - 1) / view.length, (rows - 1) * cell_ratio / view.width)
    steps_across = max(2, min(round(view.length * per_mm), columns - 1))
    steps_up = max(2, min(round(view.width * per_mm / cell_ratio), rows - 1))
    shown = (one for one in view.offcuts if one.worth_keeping or any(_has(one, bad) for bad in view.bad))
    wide: list[PieceView | OffcutView] = [*view.parts, *shown]
    across = _fit(
        view.length,
        (view.trim.left, view.trim.right),
        view.kerf,
        steps_across,
        [(it.x, it.x + it.length) for it in wide],
        [(it.x, it.x + it.length) for it in view.offcuts],
    )
    up = _fit(
        view.width,
        (view.trim.bottom, view.trim.top),
        view.kerf,
        steps_up,
        [(it.y, it.y + it.width) for it in wide],
        [(it.y, it.y + it.width) for it in view.offcuts],
    )
    return Places(Cells(0, top, steps_across, top + steps_up), across, up, view.kerf / 2)


def _fit(
    extent: Fraction,
    trim: tuple[Fraction, Fraction],
    kerf: Fraction,
    steps: int,
    wide: list[Stretch],
    thin: list[Stretch],
) -> Scale:
    """One direction of the sheet."""
    seen = [amount >= THIN * extent / steps for amount in trim]
    start = Fraction(0) if seen[0] else max(trim[0] - kerf / 2, Fraction(0))
    end = extent if seen[1] else min(extent - trim[1] + kerf / 2, extent)

    def to_the_middle_of_the_kerf(stretches: list[Stretch]) -> list[Stretch]:
        return [(low - kerf / 2, high + kerf / 2) for low, high in stretches]

    wide, thin = to_the_middle_of_the_kerf(wide), to_the_middle_of_the_kerf(thin)
    thin += [(start, low) for low, _ in wide] + [(high, end) for _, high in wide]
    return fit_scale((start, end), steps, wide, thin)
