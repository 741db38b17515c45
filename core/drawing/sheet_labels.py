"""What is written on a drawn sheet: on each part as much as it has room for, and a legend for the rest."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from string import ascii_lowercase, ascii_uppercase, digits

from core.drawing.canvas import Notation
from core.drawing.glyphs import Glyphs
from core.drawing.lettering import cells, clean, clusters
from core.drawing.sheet_places import Cells, OffcutView, PieceView

KEYS = ascii_lowercase + digits + ascii_uppercase
"""What marks a part that is too small for its own name, in this order."""

MOST_UPRIGHT = 6
"""Longer names are not read letter below letter: in the legend the size has room as well."""

Lines = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Said:
    """All that can be said of a part, fit for the picture."""

    part: PieceView
    name: str
    """The piece, with a tick once it is cut."""
    size: str
    """Its own length first, however it lies, as in the parts list."""
    lies: str
    """That it is turned, or else the way of the grain; empty without grain."""


@dataclass(frozen=True, slots=True)
class Writing:
    """How the shop writes, in these glyphs."""

    notation: Notation
    glyphs: Glyphs

    def length(self, length: Fraction) -> str:
        """`34 1/2`"""
        return clean(self.notation.text(length), self.glyphs)

    def size(self, length: Fraction, width: Fraction) -> str:
        """`34 1/2 x 23`"""
        return f"{self.length(length)} x {self.length(width)}"

    def said_of(self, part: PieceView, grain: bool) -> Said:
        """What can be said of a part on a sheet with or without grain."""
        left, right, _, _ = self.glyphs.arrows
        piece = clean(part.piece, self.glyphs)
        return Said(
            part,
            name=f"{self.glyphs.done} {piece}" if part.done else piece,
            size=self.size(part.width, part.length) if part.rotated else self.size(part.length, part.width),
            lies="turned" if part.rotated else f"{left}{self.glyphs.join(0, 1, 0, 1) * 4}{right}" if grain else "",
        )


def part_lines(said: Said, room: Cells) -> Lines:
    """The most that can be written inside a part, line by line; empty where not even its name has room."""
    name, size = said.name, said.size
    if said.lies and room.rows >= 4 and _fits((name, size, said.lies), room):
        return name, size, said.lies
    close = name.replace(" ", "")
    choices = [(name, size), (f"{name}  {size}",), (name, *_in_two(size)), (name,), (close,)]
    upright = tuple(cluster for cluster, _ in clusters(close))
    if len(upright) <= MOST_UPRIGHT:
        choices.append(upright)
    return _first_fitting(choices, room)


def offcut_lines(offcut: OffcutView, room: Cells, writing: Writing) -> Lines:
    """The most that can be written inside an offcut that is worth keeping."""
    size = writing.size(offcut.length, offcut.width)
    choices = [(f"offcut {size}",), ("offcut", size), ("offcut", *_in_two(size)), (size,), _in_two(size), ("offcut",)]
    lines = _first_fitting(choices, room)
    # The pattern must not touch the text: a dot beside a number could be read as part of it.
    return tuple(
        f" {line} " if cells(line) + 2 <= room.columns else line + " " * (room.columns - cells(line)) for line in lines
    )


def _in_two(size: str) -> Lines:
    length, width = size.split(" x ", 1)
    return length, f"x {width}"


def _first_fitting(choices: Sequence[Lines], room: Cells) -> Lines:
    return next((lines for lines in choices if _fits(lines, room)), ())


def _fits(lines: Lines, room: Cells) -> bool:
    return len(lines) <= room.rows and all(cells(line) <= room.columns for line in lines)


def centred(lines: Lines, room: Cells) -> Iterator[tuple[int, int, str]]:
    """Each line with the column and row where it begins, in the middle of the room."""
    top = room.top + 1 + (room.rows - len(lines)) // 2
    for i, line in enumerate(lines):
        yield room.left + 1 + (room.columns - cells(line)) // 2, top + i, line


@dataclass(frozen=True, slots=True)
class Entry:
    """A line of the legend: a part that could not bear its name. The key is empty where nothing marks it."""

    said: Said
    key: str

    def text(self, with_size: bool, mark: str = " ") -> str:
        """`a S1/2  34 1/2 x 23`; the mark stands before the name."""
        text = f"{self.key or ' '}{mark}{self.said.name}"
        return f"{text}  {self.said.size}" if with_size else text


@dataclass(frozen=True, slots=True)
class Region:
    """A free stretch of the canvas."""

    x: int
    y: int
    columns: int
    rows: int


@dataclass(frozen=True, slots=True)
class Legend:
    """Where each entry goes, each `columns` wide at most."""

    entries: tuple[tuple[int, int, Entry], ...]
    columns: int
    with_sizes: bool
    left_out: int = 0
    """How many entries had no room; `more_at` is where to say so."""
    more_at: tuple[int, int] | None = None


def set_legend(entries: Sequence[Entry], regions: Sequence[Region]) -> Legend:
    """The entries set in columns over the free regions, with their sizes where all of them have room."""
    places: list[tuple[int, int]] = []
    widest = max(region.columns for region in regions)
    wide = 0
    for with_sizes in (True, False):
        wide = min(max((cells(entry.text(with_sizes)) for entry in entries), default=0), widest)
        places = [place for region in regions for place in _columns(region, wide)]
        if len(places) >= len(entries):
            return Legend(_put(places, entries), wide, with_sizes)
    kept = max(len(places) - 1, 0)
    return Legend(_put(places[:kept], entries), wide, False, len(entries) - kept, places[kept] if places else None)


def _put(places: list[tuple[int, int]], entries: Sequence[Entry]) -> tuple[tuple[int, int, Entry], ...]:
    return tuple((x, y, entry) for (x, y), entry in zip(places, entries, strict=False))


def _columns(region: Region, wide: int) -> Iterator[tuple[int, int]]:
    """Places for entries `wide` cells wide, down one column after the other, two cells between columns."""
    for column in range((region.columns + 2) // (wide + 2)):
        for row in range(region.rows):
            yield region.x + column * (wide + 2), region.y + row
