"""Edges that are banded though no rule says so, or left bare though one does."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from core.construction.codes import LETTERS, place_key
from core.construction.part import BandedEdge, Part, Side
from core.mistakes import Mistake
from core.project import Banded, Design

SIDES: tuple[Side, ...] = ("length-", "length+", "width-", "width+")


def side_called(part: Part, edge: str) -> Side:
    """The edge of a part by what it is called as installed: `front`, `top end`. Mistake if it has no such edge."""
    # Which of two sides is the end follows from which is longer: both ways of saying it are understood.
    called = {part.edge_name(side).removesuffix(" end"): side for side in SIDES}
    if edge.removesuffix(" end") not in called:
        raise Mistake(f"{place_key(part)} has no edge {edge!r}; it has {', '.join(called)}")
    return called[edge.removesuffix(" end")]


def check_part_told(design: Design, told: Banded) -> None:
    """Raises Mistake where no part of the design could ever be called so."""
    owner = next((one.id for one in (*design.row, *design.tops) if told.part.startswith(f"{one.id} ")), None)
    place = told.part.removeprefix(f"{owner} ")
    of_loose = told.part.startswith("loose ")
    if not of_loose and (owner is None or not any(place.startswith(role) for role in LETTERS)):
        raise Mistake(f"no part is called {told.part!r}: a carcass and a place in it is, such as `A side left`")


def banded(parts: Iterable[Part], told: Sequence[Banded], thickness: Mapping[str, Fraction]) -> tuple[Part, ...]:
    """The parts with the banding that was told of single edges; their finished sizes stay.

    Raises Mistake for an edge or a banding that is not there, and where nothing is left of a part.
    """
    found = []
    for part in parts:
        key = place_key(part)
        for one in told:
            if one.part != key:
                continue
            if one.banding and one.banding not in thickness:
                raise Mistake(f"there is no banding {one.banding!r} in the project; it has {', '.join(thickness)}")
            side = side_called(part, one.edge)
            edges = [edge for edge in part.edges if edge.side != side]
            if one.banding:
                edges.append(BandedEdge(side, one.banding, thickness[one.banding]))
            part = replace(part, edges=tuple(sorted(edges, key=lambda edge: SIDES.index(edge.side))))
            if min(part.blank_length, part.blank_width) <= 0:
                raise Mistake(f"the {part.name.lower()} would be all banding")
        found.append(part)
    return tuple(found)
