"""The fields of the space: what was read, what sticks out, what air is wanted."""

from __future__ import annotations

from collections.abc import Iterator

from core.editing.field import Field, Section, yes
from core.edits import Path
from core.project import Design
from core.space import Reading


def space_sections(design: Design) -> list[Section]:
    """The place: what was read, what sticks out, what air is wanted."""
    space = design.space
    at: Path = ("space",)
    general = (
        Field("place", (*at, "name"), "text", space.name, "what you call it"),
        Field(
            "height of the piece",
            (*at, "up_to"),
            "size",
            space.up_to,
            "levels and leans count up to here",
            optional=True,
        ),
        Field(
            "floor out of level",
            (*at, "floor_out_of_level"),
            "size",
            space.floor_out_of_level,
            "highest point less lowest, under the piece: lay a long level on it",
        ),
        Field("no wall on the left", (*at, "open_left"), "yes or no", yes(space.open_left)),
        Field("no wall on the right", (*at, "open_right"), "yes or no", yes(space.open_right)),
    )
    sections = [Section("Space", general)]
    readings = tuple(
        Field(
            reading_label(reading),
            (*at, "readings", n, "size"),
            "size",
            reading.size,
            "wall to wall or floor to ceiling; take three, the least decides",
            item=(*at, "readings", n),
        )
        for n, reading in enumerate(space.readings)
    )
    sections.append(Section("Readings", readings))
    leans = tuple(
        field
        for n, lean in enumerate(space.leans)
        for field in (
            Field(
                f"{lean.wall} wall leans in by",
                (*at, "leans", n, "into_room"),
                "size",
                lean.into_room,
                "at the top of a plumb line; negative where it falls away",
                item=(*at, "leans", n),
            ),
            Field(
                "  over",
                (*at, "leans", n, "over"),
                "size",
                lean.over,
                "length of the plumb line",
                item=(*at, "leans", n),
            ),
        )
    )
    sections.append(Section("Lean of the walls", leans))
    sections.append(Section("Baseboards that stay", tuple(_baseboards(design))))
    sections.append(Section("On the walls", tuple(_obstacles(design))))
    air = tuple(
        Field(
            f"air {side}",
            (*at, "clearance", side),
            "size",
            getattr(space.clearance, side),
            "to be scribed, filled or left",
        )
        for side in ("left", "right", "back", "top")
    )
    sections.append(Section("Clearance wanted", air))
    return sections


def reading_label(reading: Reading) -> str:
    """`width, floor, back`; what was not said is left out."""
    if reading.of == "diagonal":
        return f"diagonal from front {reading.at}"
    level = "" if reading.of == "height" else reading.level
    # The middle of the height is a level of its own; the middle across only says that nothing was said.
    at = "" if reading.at == "middle" else reading.at
    return ", ".join(word for word in (reading.of, level, at) if word)


def _baseboards(design: Design) -> Iterator[Field]:
    for n, board in enumerate(design.space.baseboards):
        item: Path = ("space", "baseboards", n)
        yield Field(f"{board.wall} wall, height", (*item, "height"), "size", board.height, item=item)
        yield Field("  thickness", (*item, "thickness"), "size", board.thickness, item=item)


def _obstacles(design: Design) -> Iterator[Field]:
    hints = {
        "along": "from the wall's left end, as you face it, to its left edge",
        "up": "from the floor to its lower edge",
        "width": "",
        "height": "",
        "sticks_out": "how far it stands out of the wall",
    }
    for n, obstacle in enumerate(design.space.obstacles):
        item: Path = ("space", "obstacles", n)
        for number, (name, hint) in enumerate(hints.items()):
            label = f"{obstacle.title}, {obstacle.wall} wall, {name}" if number == 0 else f"  {name.replace('_', ' ')}"
            yield Field(label, (*item, name), "size", getattr(obstacle, name), hint, item=item)
        hint = "what it is, where its kind does not say enough"
        yield Field("  called", (*item, "called"), "text", obstacle.called, hint, item=item, optional=True)
