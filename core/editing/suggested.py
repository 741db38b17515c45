"""What is offered for something new: a name that is not taken, a size that goes into the space."""

from __future__ import annotations

from dataclasses import replace
from itertools import count
from math import floor
from typing import Literal

from core.envelope import Envelope
from core.lengths import UNITS, Notation, read_length
from core.project import Design
from core.workings import work_out

USUAL = {"height": ("34 1/2", "870"), "depth": ("23 1/4", "580")}
"""Outside sizes of a carcass under a worktop, inches and millimetres; common practice, no source."""


def of_unit(design: Design, inch: str, mm: str) -> str:
    """The one of the two that belongs to the project's unit."""
    return inch if design.unit == "in" else mm


def carcass_name(design: Design) -> str:
    """`Base`, then `Base 2`, `Base 3`: the first that nothing in the row is called."""
    taken = {one.name for one in design.row}
    return next(name for n in count(1) if (name := "Base" if n == 1 else f"Base {n}") not in taken)


def carcass_size(design: Design, axis: Literal["height", "depth"]) -> str:
    """The usual height or depth of a carcass as typed, or what the true box has where that is less.

    Rounded down to a mark of the tape: a carcass that is a hair too high does not go in.
    """
    usual = of_unit(design, *USUAL[axis])
    box = measured(design)
    room = box.height if axis == "height" else box.depth
    if room is None or room >= read_length(usual, design.unit):
        return usual
    tape = Notation.read(design.show, design.unit)
    step = tape.step * UNITS[tape.unit]
    marks = floor(room / step)
    return Notation.read("", design.unit).as_typed(marks * step if marks else room)


def measured(design: Design) -> Envelope:
    """The true box of the space; what could not be read is left out."""
    return work_out(replace(design, row=(), tops=(), loose=())).envelope
