"""How each notch and rabbet of a drawn panel is told: dimensioned in place, written inside, or in a note."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from fractions import Fraction
from string import ascii_lowercase
from typing import Literal

from core.construction.part import ENDS_OF, Machining, Part
from core.drawing.blocks import Block, free_block
from core.drawing.dimension import Across, Dimension, Upright
from core.drawing.lettering import cells
from core.drawing.part_shape import Shape

Write = Callable[[Fraction], str]
"""A length in mm as text that is fit for the picture."""


@dataclass(frozen=True, slots=True)
class Told:
    """What is drawn for one machining: dimensions, or a text inside it, or else a note and inside it the note's key."""

    machining: Machining
    dimensions: tuple[Dimension, ...] = ()
    text: str = ""
    text_at: tuple[int, int] | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class Lanes:
    """Free rows above and below the panel, nearest first, and whether there is room beside it."""

    above: tuple[int, ...]
    below: tuple[int, ...]
    beside: bool
    columns: int
    """Of the canvas."""


def starts_inside(machining: Machining, part: Part) -> tuple[bool, bool]:
    """Whether it begins and ends away from both ends, and away from both long edges."""
    return (
        machining.x > 0 and machining.x + machining.length < part.length,
        machining.y > 0 and machining.y + machining.width < part.width,
    )


def is_above(machining: Machining, part: Part) -> bool:
    """Whether its length is measured above the panel: it lies nearer to the far edge."""
    return 2 * machining.y + machining.width > part.width


def tell(shape: Shape, lanes: Lanes, write: Write) -> list[Told]:
    """Everything that is cut into the panel; what has no room in place gets a note and a key."""
    part = shape.part
    cut_through = [machining for machining in part.machining if machining.depth is None]
    taken = [outer_block(shape, machining) for machining in cut_through]
    dimensions = {}
    for machining in cut_through:
        dimensions[machining] = _dimensioned(shape, machining, lanes, write, taken)
        taken += [dimension.block for dimension in dimensions[machining]]
    told = []
    keys = iter(ascii_lowercase)
    for machining in part.machining:
        if dimensions.get(machining):
            told.append(Told(machining, dimensions[machining]))
            continue
        room = inner_block(shape, machining)
        others = [block for block in taken if block != outer_block(shape, machining)]
        text = _rabbet_text(part, machining, write)
        place = free_block(room, cells(text) + 2, 1, others) if text else None
        if place is not None:
            taken.append(place)
            told.append(Told(machining, (), text, (place.left + 1, place.top)))
            continue
        key = next(keys, "")
        wide = min(3, room.right - room.left + 1)
        place = free_block(room, wide, 1, others)
        taken += [place] if place else []
        text_at = (place.left + wide // 2, place.top) if place else None
        told.append(Told(machining, (), key, text_at, _note(part, machining, write)))
    return told


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
    shape: Shape, machining: Machining, lanes: Lanes, write: Write, taken: list[Block]
) -> tuple[Dimension, ...]:
    """Its length, its width and where it starts, all of them in free places; else none."""
    part = shape.part
    end_free, edge_free = starts_inside(machining, part)
    rows = lanes.above if is_above(machining, part) else lanes.below
    x1, x2 = shape.column(machining.x), shape.column(machining.x + machining.length)
    y1, y2 = shape.row(machining.y + machining.width), shape.row(machining.y)
    wanted: list[list[Dimension]] = [[Across(x1, x2, row, write(machining.length)) for row in rows]]
    if end_free:
        wanted.append([Across(shape.left, x1, row, write(machining.x)) for row in rows])
    uprights = list(_upright_places(shape, machining, x1, x2)) if lanes.beside else []
    wanted.append([Upright(x, y1, y2, write(machining.width), towards) for x, towards in uprights])
    if edge_free:
        wanted.append([Upright(x, y2, shape.bottom, write(machining.y), towards) for x, towards in uprights])
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


def _rabbet_text(part: Part, machining: Machining, write: Write) -> str:
    """What can be said inside a rabbet that runs all along an edge; empty for anything else."""
    along_length, along_width = machining.length == part.length, machining.width == part.width
    if machining.depth is None or not (along_length or along_width):
        return ""
    wide = write(machining.width if along_length else machining.length)
    return f"{machining.kind} {wide} wide, {write(machining.depth)} deep in the {_face(machining, part)}"


def _face(machining: Machining, part: Part) -> str:
    return f"{ENDS_OF[part.thickness_axis][machining.face == 'high']} face"


def _note(part: Part, machining: Machining, write: Write) -> str:
    """`notch 4 x 3, 12 from the left end, front edge`: its own length first, the place in words last."""
    said = [f"{machining.kind} {write(machining.length)} x {write(machining.width)}"]
    if machining.depth is not None:
        said.append(f"{write(machining.depth)} deep in the {_face(machining, part)}")
    end_free, edge_free = starts_inside(machining, part)
    if end_free:
        said.append(f"{write(machining.x)} from the {part.edge_name('length-')}")
    if edge_free:
        said.append(f"{write(machining.y)} from the {part.edge_name('width-')}")
    return ", ".join([*said, *([machining.place] if machining.place else [])])
