"""What tells doors from drawers in a front view: to which side a door opens, and by what a drawer is pulled.

The convention of drafting: two light lines run from the corners of a door's free edge and meet where it is hinged.
A drawer front has a knob in the middle; a false front has nothing.
"""

from __future__ import annotations

from collections.abc import Iterable

from core.construction.part import Part
from core.drawing.blocks import Block, free_block
from core.drawing.canvas import Canvas

_LEAST_COLUMNS, _LEAST_ROWS = 3, 3
"""A door that is drawn smaller inside than this has no room for lines that meet."""


def draw_front(canvas: Canvas, part: Part, frame: Block, labels: Iterable[Block]) -> None:
    """Marks a door or a drawer front that is drawn in this frame; any other part is left as it is."""
    room = Block(frame.left + 1, frame.top + 1, frame.right - 1, frame.bottom - 1)
    if part.role == "door":
        _draw_hinged(canvas, part, room)
    elif part.role == "drawer front":
        place = free_block(room, 1, 1, labels)
        if place is not None:
            canvas.text(place.left, place.top, canvas.glyphs.ring, "label")


def _draw_hinged(canvas: Canvas, part: Part, room: Block) -> None:
    wide, high = room.right - room.left, room.bottom - room.top
    if part.hand is None or wide + 1 < _LEAST_COLUMNS or high + 1 < _LEAST_ROWS:
        return
    is_left = part.hand == "left"
    for y in range(room.top, room.bottom + 1):
        # Twice the rows above the middle, so that they are whole.
        above = high - 2 * (y - room.top)
        away = (abs(above) * wide * 2 + high) // (2 * high)
        character = ("<" if is_left else ">") if above == 0 else "/" if (above > 0) is is_left else "\\"
        canvas.text(room.left + away if is_left else room.right - away, y, character, "hidden")
