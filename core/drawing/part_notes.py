"""What is said in words of what is cut and bored into a panel: sizes, faces, and places from one end and one edge."""

from __future__ import annotations

from collections.abc import Callable, Collection, Hashable, Sequence
from fractions import Fraction
from typing import TypeAlias

from core.construction.part import Holes, Machining, Part, Side
from core.drawing.glyphs import Glyphs
from core.drawing.lettering import cells
from core.drawing.part_seen import Seen, ends_of
from core.own_units import metric

Write = Callable[[Fraction], str]
"""A length in mm as text that is fit for the picture."""

Group: TypeAlias = tuple[Machining, ...] | tuple[Holes, ...]
"""Channels or rows of holes that differ in nothing but how far they lie from the end or the edge."""


def is_channel(cut: Machining) -> bool:
    """Whether it is a dado or a groove: it has a distance of its own from an end or an edge."""
    return cut.kind in ("dado", "groove") and cut.depth is not None


def lies_along(one: Machining | Holes) -> bool:
    """Whether a channel, a rabbet or a row runs along the length, so that it is measured from an edge; else across."""
    if isinstance(one, Holes):
        return one.along == "length"
    return one.kind == "groove" or (one.kind == "rabbet" and one.length > one.width)


def distance(seen: Seen, one: Machining | Holes) -> Fraction:
    """How far a channel's near side, or the middle of a row, is from the reference edge or end, mm."""
    if isinstance(one, Holes):
        return seen.from_edge(one.y) if lies_along(one) else seen.from_end(one.x)
    return seen.from_edge(one.y, one.width) if lies_along(one) else seen.from_end(one.x, one.length)


def place_from(seen: Seen, one: Machining | Holes, write: Write) -> str:
    """`80 from the bottom end`."""
    away = metric(distance(seen, one), write) if isinstance(one, Holes) else write(distance(seen, one))
    return f"{away} from the {seen.edge_name(seen.edge if lies_along(one) else seen.end)}"


def groups(seen: Seen) -> list[Group]:
    """The channels, then the rows, those that are alike together, the nearest of them first."""
    channels: dict[Hashable, list[Machining]] = {}
    for cut in filter(is_channel, seen.part.machining):
        reach = (cut.y, cut.length, cut.width) if cut.kind == "dado" else (cut.x, cut.length, cut.width)
        channels.setdefault((cut.kind, reach, cut.depth, cut.face), []).append(cut)
    level: dict[tuple[Hashable, Fraction], list[Holes]] = {}
    for holes in seen.part.holes:
        size = (holes.diameter, holes.depth, holes.face, holes.along, holes.count, holes.pitch)
        level.setdefault((size, first(seen, holes)), []).append(holes)
    rows: dict[Hashable, list[Holes]] = {}
    for (alike, _), beside in level.items():
        # Wherever they begin, they are as far from the edge: every such place goes with every such beginning.
        rows.setdefault((alike, frozenset(distance(seen, holes) for holes in beside)), []).extend(beside)

    def near(one: Machining | Holes) -> Fraction:
        return distance(seen, one)

    return [
        *(tuple(sorted(cuts, key=near)) for cuts in channels.values()),
        *(tuple(sorted(holes, key=near)) for holes in rows.values()),
    ]


def first(seen: Seen, holes: Holes) -> Fraction:
    """How far the middle of a row's first hole is from the reference end or edge, mm."""
    return min(seen.from_end(x) if lies_along(holes) else seen.from_edge(y) for x, y in ends_of(holes))


def group_note(seen: Seen, group: Group, write: Write, measured: Collection[Machining | Holes]) -> str:
    """`dado 18 wide, 6 deep in the right face, 80, 480 from the bottom end`; what it is for last, if that is one thing.

    `measured`: whose distances stand in the picture, and are not said twice.
    """
    one = group[0]
    rows = [each for each in group if isinstance(each, Holes)]
    said = _channel(seen, one, write) if isinstance(one, Machining) else _holes(seen, rows, write)
    places = list(dict.fromkeys(each.place for each in group if isinstance(each, Machining) and each.place))
    untold = [each for each in group if each not in measured]
    if untold:
        away = list(dict.fromkeys(write(distance(seen, each)) for each in untold))
        away[-1] = place_from(seen, untold[-1], write)
        said += [f"also {away[0]}" if len(untold) < len(group) else away[0], *away[1:]]
    return ", ".join([*said, *(places if len(places) == 1 else [])])


def _channel(seen: Seen, cut: Machining, write: Write) -> list[str]:
    wide = write(cut.width if lies_along(cut) else cut.length)
    return [f"{cut.kind} {wide} wide", _depth(seen, cut, write), *_stops(seen, cut, write)]


def _stops(seen: Seen, cut: Machining, write: Write) -> list[str]:
    """`stopped 12 from the front`: where a channel ends before an end or an edge."""
    if lies_along(cut):
        low, high, whole = cut.x, cut.x + cut.length, seen.part.length
        names = seen.edge_name("length-"), seen.edge_name("length+")
    else:
        low, high, whole = cut.y, cut.y + cut.width, seen.part.width
        names = seen.edge_name("width-"), seen.edge_name("width+")
    return [
        f"stopped {write(short)} from the {name}"
        for short, name in zip((low, whole - high), names, strict=True)
        if short > 0
    ]


def _holes(seen: Seen, rows: Sequence[Holes], write: Write) -> list[str]:
    said = [f"{_what(rows)} {metric(rows[0].diameter, write)} wide", _depth(seen, rows[0], write)]
    return [*said, *_starts(seen, rows, write)]


def _starts(seen: Seen, rows: Sequence[Holes], write: Write) -> list[str]:
    """`14 every 32`, `first 102 from the bottom end`."""
    holes = rows[0]
    starts = [write(start) for start in sorted({first(seen, row) for row in rows})]
    starts[-1] += f" from the {seen.edge_name(seen.end if lies_along(holes) else seen.edge)}"
    if holes.count == 1:
        return starts
    starts[0] = f"first {starts[0]}"
    return [f"{holes.count} every {metric(holes.pitch, write)}", *starts]


def placed(seen: Seen, one: Machining | Holes, write: Write) -> list[str]:
    """Where a channel, a row or a cutout lies, in phrases; nothing for what a place in words says whole."""
    if isinstance(one, Holes):
        return [place_from(seen, one, write), *_starts(seen, [one], write)]
    if is_channel(one):
        return [f"{place_from(seen, one, write)}{_nearer(seen, one, write)}", *_stops(seen, one, write)]
    if one.kind == "rabbet":
        return _stops(seen, one, write)
    if one.kind == "notch" and not one.place.endswith("corner"):
        return _notched_at(seen, one, write)
    if one.kind == "cutout":
        end, edge = seen.edge_name(seen.end), seen.edge_name(seen.edge)
        away = seen.from_end(one.x, one.length), seen.from_edge(one.y, one.width)
        return [f"{write(away[0])} from the {end}", f"{write(away[1])} from the {edge}"]
    return []


def _nearer(seen: Seen, cut: Machining, write: Write) -> str:
    """` (12 from the back)`: of a groove that lies nearer to the edge from which nothing else is measured."""
    if not lies_along(cut):
        return ""
    other: Side = "width-" if seen.edge == "width+" else "width+"
    beyond = seen.part.width - distance(seen, cut) - cut.width
    return f" ({write(beyond)} from the {seen.edge_name(other)})" if beyond < distance(seen, cut) else ""


def _notched_at(seen: Seen, cut: Machining, write: Write) -> list[str]:
    """At which end and edge a notch is, or how far from them: `24 from the left end`, `at the back`."""
    low_end, high_end = cut.x == 0, cut.x + cut.length == seen.part.length
    low_edge, high_edge = cut.y == 0, cut.y + cut.width == seen.part.width
    told = []
    for at_low, at_high, names, reference, away in (
        (low_end, high_end, ("length-", "length+"), seen.end, seen.from_end(cut.x, cut.length)),
        (low_edge, high_edge, ("width-", "width+"), seen.edge, seen.from_edge(cut.y, cut.width)),
    ):
        side: Side = names[0] if at_low else names[1] if at_high else reference  # type: ignore[assignment]
        name = seen.edge_name(side)
        told.append(f"at the {name}" if at_low or at_high else f"{write(away)} from the {name}")
    return told


def _what(rows: Sequence[Holes]) -> str:
    """What the holes are for, without which of them; where that differs, just holes."""
    names = {row.place.partition(",")[0] for row in rows}
    if len(names) > 1:
        names = {name.rstrip("0123456789 ") for name in names}
    return names.pop() if len(names) == 1 and "" not in names else "holes" if rows[0].count > 1 else "hole"


def _depth(seen: Seen, one: Machining | Holes, write: Write) -> str:
    """How deep; and the face only where it is the one beneath, since the other is named as the one that is up."""
    if one.depth is None or one.face is None:
        return "right through"
    beneath = "" if one.face == seen.face else f" in the {seen.part.face_name(one.face)} face"
    deep = metric(one.depth, write) if isinstance(one, Holes) else write(one.depth)
    return f"{deep} deep{beneath}"


def larger_in_words(part: Part, write: Write, seen: Seen | None = None) -> str:
    """`8 more at the bottom end, to scribe`: what is still to come off the blank; empty where nothing is.

    `seen`: how the part lies on the bench, where it is its part as seen.
    """

    def name(side: Side) -> str:
        edge = seen.edge_name(side) if seen else part.edge_name(side)
        # Fillers at both ends of a row are one kind, and each has its wall at another edge.
        return "wall" if part.role == "filler" and not edge.startswith("bottom") else edge

    told = []
    for more in dict.fromkeys(more for _, more in part.allowances):
        names = list(dict.fromkeys(name(side) for side, by in part.allowances if by == more))
        listed = " and ".join(filter(None, (", ".join(names[:-1]), names[-1])))
        told.append(f"{write(more)} more at the {listed}")
    if not told:
        return ""
    further = any(in_blank(part, cut) != (cut.length, cut.width) for cut in part.machining)
    how = "to trim flush" if is_trimmed(part) else "to scribe"
    return f"{' and '.join(told)}, {how}" + (": a cut there goes in as much further" if further else "")


def is_trimmed(part: Part) -> bool:
    """Whether what its blank is larger by comes off before anything is cut into it: so it is with layers of a top."""
    return part.role == "worktop" and bool(part.allowances)


def in_blank(part: Part, cut: Machining) -> tuple[Fraction, Fraction]:
    """How long and how wide a notch is where it is cut before the part is scribed at the edge that it lies at, mm."""
    at: dict[Side, bool] = {
        "length-": cut.x == 0,
        "length+": cut.x + cut.length == part.length,
        "width-": cut.y == 0,
        "width+": cut.y + cut.width == part.width,
    }
    length, width = cut.length, cut.width
    for side, more in () if is_trimmed(part) else part.allowances:
        if at[side] and side.startswith("length"):
            length += more
        elif at[side]:
            width += more
    return length, width


def run_out_text(seen: Seen, cut: Machining, write: Write) -> str:
    """What can be said inside a rabbet that runs all along an edge; empty for anything else."""
    part = seen.part
    along_length, along_width = cut.length == part.length, cut.width == part.width
    if cut.depth is None or not (along_length or along_width):
        return ""
    wide = write(cut.width if along_length else cut.length)
    return f"{cut.kind} {wide} wide, {_depth(seen, cut, write)}"


def cut_note(seen: Seen, cut: Machining, write: Write, free: tuple[bool, bool]) -> str:
    """`notch 4 x 3, 12 from the left end, front edge`: its own length first, the place in words last.

    `free`: whether it begins away from both ends, and away from both long edges.
    """
    said = [f"{cut.kind} {write(cut.length)} x {write(cut.width)}"]
    if cut.depth is not None:
        said.append(_depth(seen, cut, write))
    if free[0]:
        said.append(f"{write(seen.from_end(cut.x, cut.length))} from the {seen.edge_name(seen.end)}")
    if free[1]:
        said.append(f"{write(seen.from_edge(cut.y, cut.width))} from the {seen.edge_name(seen.edge)}")
    return ", ".join([*said, *([cut.place] if cut.place else [])])


def note_lines(notes: Sequence[str], columns: int, rows: int, glyphs: Glyphs) -> list[str]:
    """The notes in `rows` lines: each on one, then over as many as it needs as long as there are any left.

    A line ends between two phrases: a size that is cut off in the middle would be read as another.
    """
    if len(notes) > rows > 0:
        kept = [_shortened(note, columns, glyphs) for note in notes[: rows - 1]]
        return [*kept, f"+ {len(notes) - rows + 1} more"]
    left = rows - len(notes)
    lines: list[str] = []
    for note in notes[:rows]:
        wrapped = _wrapped(note, columns, glyphs)
        if len(wrapped) - 1 > left:
            wrapped = [_shortened(note, columns, glyphs)]
        left -= len(wrapped) - 1
        lines += wrapped
    return lines


def _wrapped(note: str, columns: int, glyphs: Glyphs) -> list[str]:
    phrases = note.split(", ")
    lines = [phrases[0]]
    for phrase in phrases[1:]:
        # A comma more may have to follow.
        if cells(lines[-1]) + cells(phrase) + 3 <= columns:
            lines[-1] += f", {phrase}"
        else:
            lines[-1] += ","
            lines.append(f"  {phrase}")
    return [line if cells(line) <= columns else _shortened(line, columns, glyphs) for line in lines]


def _shortened(note: str, columns: int, glyphs: Glyphs) -> str:
    """As many of a note's phrases as have room."""
    phrases = note.split(", ")
    shorter = [", ".join([*phrases[:kept], glyphs.ellipsis]) for kept in range(len(phrases) - 1, -1, -1)]
    return next((text for text in (note, *shorter) if cells(text) <= columns), "")
