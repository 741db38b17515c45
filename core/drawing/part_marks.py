"""How everything that is cut into a drawn panel is told: dimensioned in place, written inside, or in a note."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from string import ascii_lowercase
from typing import Literal

from core.construction.part import Holes, Machining, Part
from core.drawing.blocks import Block, free_block
from core.drawing.dimension import Across, Dimension, Running, Upright
from core.drawing.lettering import cells
from core.drawing.part_notes import (
    Write,
    cut_note,
    distance,
    group_note,
    groups,
    is_channel,
    larger_in_words,
    lies_along,
    run_out_text,
)
from core.drawing.part_seen import Seen
from core.drawing.part_shape import Shape


@dataclass(frozen=True, slots=True)
class Told:
    """What is drawn: dimensions; a text at some places; a note, and then the text is its key."""

    dimensions: tuple[Dimension, ...] = ()
    text: str = ""
    at: tuple[tuple[int, int], ...] = ()
    note: str = ""

    @property
    def blocks(self) -> list[Block]:
        """What its texts cover."""
        return [Block(x, y, x + cells(self.text) - 1, y) for x, y in self.at]


@dataclass(frozen=True, slots=True)
class Lanes:
    """Free rows above and below the panel, nearest first, and whether there is room beside it."""

    above: tuple[int, ...] = ()
    below: tuple[int, ...] = ()
    beside: bool = False
    columns: int = 0
    """Of the canvas."""
    running_row: int | None = None
    """Where lengths may run from the reference end,"""
    running_column: int | None = None
    """and from the reference edge."""


def starts_inside(machining: Machining, part: Part) -> tuple[bool, bool]:
    """Whether it begins and ends away from both ends, and away from both long edges."""
    return (
        machining.x > 0 and machining.x + machining.length < part.length,
        machining.y > 0 and machining.y + machining.width < part.width,
    )


def is_above(machining: Machining, part: Part) -> bool:
    """Whether its length is measured above the panel: it lies nearer to the far edge."""
    return 2 * machining.y + machining.width > part.width


def tell(shape: Shape, seen: Seen, lanes: Lanes, write: Write) -> list[Told]:
    """Everything that is cut into the panel; what has no room in place gets a note and a key."""
    part = seen.part
    cut_through = [machining for machining in part.machining if machining.depth is None]
    taken = [outer_block(shape, machining) for machining in cut_through]
    dimensions = {}
    for machining in cut_through:
        dimensions[machining] = _dimensioned(shape, seen, machining, lanes, write, taken)
        taken += [dimension.block for dimension in dimensions[machining]]
    alike = groups(seen)
    running, measured = _running(shape, seen, [one for group in alike for one in group], lanes, write, taken)
    taken += [dimension.block for dimension in running]
    taken += [Block(e.x1, e.y1, e.x2, e.y2) for cut in part.machining if cut.depth for e in shape.shoulders(cut)]
    taken += [shape.row_block(holes) for holes in part.holes]
    told = [Told(running)] if running else []
    # An o could be read as a hole.
    keys = iter(ascii_lowercase.replace("o", ""))
    for machining in part.machining:
        if dimensions.get(machining):
            told.append(Told(dimensions[machining]))
        elif not is_channel(machining):
            told.append(_written(shape, seen, machining, taken, write, keys))
            taken += told[-1].blocks
    for group in alike:
        key = next(keys, "")
        marks = []
        for one in group:
            place = _mark(shape, one, taken) if key else None
            if place is not None:
                taken.append(place)
                marks.append((place.left + (place.right - place.left) // 2, place.top))
        told.append(Told((), key, tuple(marks), group_note(seen, group, write, measured)))
    # These come first of the notes: they are the last that may be left out.
    larger = larger_in_words(part, write, seen)
    return [*_face(shape, seen, taken), *([Told(note=larger)] if larger else []), *told]


def _written(
    shape: Shape, seen: Seen, machining: Machining, taken: list[Block], write: Write, keys: Iterator[str]
) -> Told:
    """A rabbet's sizes inside it, where they have room; else a note and its key."""
    room = inner_block(shape, machining)
    others = [block for block in taken if block != outer_block(shape, machining)]
    text = run_out_text(seen, machining, write)
    place = free_block(room, cells(text) + 2, 1, others) if text else None
    if place is not None:
        return Told((), text, ((place.left + 1, place.top),))
    key = next(keys, "")
    wide = min(3, room.right - room.left + 1)
    place = free_block(room, wide, 1, others) if key else None
    at = ((place.left + wide // 2, place.top),) if place else ()
    return Told((), key, at, cut_note(seen, machining, write, starts_inside(machining, seen.part)))


def _mark(shape: Shape, one: Machining | Holes, taken: list[Block]) -> Block | None:
    """Where the key of a channel or a row may stand: inside the one, amid the other or before its ends."""
    if isinstance(one, Machining):
        room = inner_block(shape, one)
        return free_block(room, min(3, room.right - room.left + 1), 1, taken)
    row = shape.row_block(one)
    others = [block for block in taken if block != row]
    within = Block(shape.left + 1, shape.top + 1, shape.right - 1, shape.bottom - 1)
    if lies_along(one):
        amid = Block(row.left + 2, row.top, row.right - 2, row.top)
        before, after = row.left - 3, row.right + 1
        rooms = [amid, *(Block(x, row.top, x + 2, row.top) for x in (before, after))]
        # Plates of hinges lie within rows of pins: then over the first of their holes, or under it.
        rooms += [Block(row.left - 1, y, row.left + 1, y) for y in (row.top - 1, row.top + 1)]
    else:
        amid = Block(row.left - 1, row.top + 1, row.right + 1, row.bottom - 1)
        rooms = [amid, *(Block(row.left - 1, y, row.right + 1, y) for y in (row.bottom + 1, row.top - 1))]
    for room in rooms:
        place = free_block(room, 3, 1, others)
        if place is not None and within.holds(place):
            return place
    return None


def _running(
    shape: Shape, seen: Seen, found: list[Machining | Holes], lanes: Lanes, write: Write, taken: list[Block]
) -> tuple[tuple[Dimension, ...], set[Machining | Holes]]:
    """The distances of channels and rows from the reference edge and end, and whose of them are in the picture."""
    dimensions: list[Dimension] = []
    measured: set[Machining | Holes] = set()
    for lane, along in ((lanes.running_row, False), (lanes.running_column, True)):
        if lane is None:
            continue
        places: dict[tuple[int, str], list[Machining | Holes]] = {}
        for one in found:
            if lies_along(one) is along:
                places.setdefault((_near_line(shape, seen, one), write(distance(seen, one))), []).append(one)
        origin = _origin(shape, seen, along)
        towards: Literal["left", "right"] = "right" if lane > shape.left else "left"
        running, kept = Running.fitted(not along, lane, origin, list(places), towards)
        block = running.block
        is_free = block.left >= 0 and block.right < lanes.columns and not any(block.meets(other) for other in taken)
        if running.readable and is_free:
            dimensions.append(running)
            measured.update(one for i in kept for one in list(places.values())[i])
    return tuple(dimensions), measured


def _origin(shape: Shape, seen: Seen, along: bool) -> int:
    """The row of the reference edge, or the column of the reference end."""
    if along:
        return shape.bottom if seen.edge == "width-" else shape.top
    return shape.left if seen.end == "length-" else shape.right


def _near_line(shape: Shape, seen: Seen, one: Machining | Holes) -> int:
    """The row or the column of what is measured: a channel's near side, the middle of a row."""
    width, length = (Fraction(0), Fraction(0)) if isinstance(one, Holes) else (one.width, one.length)
    if lies_along(one):
        return shape.row(one.y if seen.edge == "width-" else one.y + width)
    return shape.column(one.x if seen.end == "length-" else one.x + length)


def _face(shape: Shape, seen: Seen, taken: list[Block]) -> list[Told]:
    """Which face is up, on the panel or else in a note without a key."""
    text = seen.face_in_words
    if not text:
        return []
    room = Block(shape.left + 1, shape.top + 1, shape.right - 1, shape.bottom - 1)
    rabbets = [outer_block(shape, machining) for machining in seen.part.machining]
    place = free_block(room, cells(text) + 2, 1, [*taken, *rabbets])
    return [Told((), text, ((place.left + 1, place.top),))] if place else [Told(note=text)]


def outer_block(shape: Shape, machining: Machining) -> Block:
    """Its cells with its lines."""
    inner = inner_block(shape, machining)
    return Block(inner.left - 1, inner.top - 1, inner.right + 1, inner.bottom + 1)


def inner_block(shape: Shape, machining: Machining) -> Block:
    """The cells between its lines; none, where its left is beyond its right or its top below its bottom."""
    return Block(
        shape.column(machining.x) + 1,
        shape.row(machining.y + machining.width) + 1,
        shape.column(machining.x + machining.length) - 1,
        shape.row(machining.y) - 1,
    )


def _dimensioned(
    shape: Shape, seen: Seen, machining: Machining, lanes: Lanes, write: Write, taken: list[Block]
) -> tuple[Dimension, ...]:
    """Its length, its width and where it starts, all of them in free places; else none."""
    part = shape.part
    end_free, edge_free = starts_inside(machining, part)
    rows = lanes.above if is_above(machining, part) else lanes.below
    x1, x2 = shape.column(machining.x), shape.column(machining.x + machining.length)
    y1, y2 = shape.row(machining.y + machining.width), shape.row(machining.y)
    wanted: list[list[Dimension]] = [[Across(x1, x2, row, write(machining.length)) for row in rows]]
    if end_free:
        start = (shape.left, x1) if seen.end == "length-" else (x2, shape.right)
        away = write(seen.from_end(machining.x, machining.length))
        wanted.append([Across(*start, row, away) for row in rows])
    uprights = list(_upright_places(shape, machining, x1, x2)) if lanes.beside else []
    wanted.append([Upright(x, y1, y2, write(machining.width), towards) for x, towards in uprights])
    if edge_free:
        reach = (y2, shape.bottom) if seen.edge == "width-" else (shape.top, y1)
        away = write(seen.from_edge(machining.y, machining.width))
        wanted.append([Upright(x, *reach, away, towards) for x, towards in uprights])
    placed: list[Dimension] = []
    for choices in wanted:
        blocks = [*taken, *(dimension.block for dimension in placed)]
        found = next((choice for choice in choices if _has_room(choice, shape, blocks, lanes.columns)), None)
        if found is None:
            return ()
        placed.append(found)
    return tuple(placed)


def _upright_places(
    shape: Shape, machining: Machining, x1: int, x2: int
) -> Iterable[tuple[int, Literal["left", "right"]]]:
    """Columns for its width: beyond the end that it is cut into, else beside it on the panel."""
    if machining.x == 0:
        yield shape.left - 2, "left"
    if machining.x + machining.length == shape.part.length:
        yield shape.right + 2, "right"
    yield x2 + 2, "right"
    yield x1 - 2, "left"


def _has_room(dimension: Dimension, shape: Shape, taken: list[Block], columns: int) -> bool:
    block = dimension.block
    beside = block.right < shape.left or shape.right < block.left
    within = shape.left < block.left and block.right < shape.right
    return (
        dimension.readable
        and block.left >= 0
        and block.right < columns
        and (isinstance(dimension, Across) or beside or within)
        and not any(block.meets(other) for other in taken)
    )
