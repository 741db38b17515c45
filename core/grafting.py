"""Something else on a sheet that is laid out: a tree put in the place of a piece and of all that was to come of it.

Everything else of the sheet keeps its place, its name and the cuts that free it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import islice

from core.cuts.steps import Numbers
from core.layout.place import scaled
from core.layout.tree import Cut, Node, Placed, Spare, Spot, members, nodes_below, replaced, walk
from core.on_hand import new_numbers
from core.planned_sheet import PlannedSheet


def gaps_of(sheet: PlannedSheet) -> Iterator[tuple[int, Spot]]:
    """What no part uses, each with its place in the walk through the tree."""
    for place, spot in enumerate(walk(sheet.root)):
        if isinstance(spot.node, Spare):
            yield place, spot


def numbers_in(sheet: PlannedSheet) -> list[int]:
    """The numbers of its pieces, in the order of the walk."""
    return list(islice(sheet.named.each(), nodes_below(sheet.root)))


def numbers_had(used: Mapping[str, int], standing: Sequence[PlannedSheet]) -> dict[str, int]:
    """The highest number that a piece of each sheet has had (`used`), or is to have as the sheets stand."""
    found = dict(used)
    for sheet in standing:
        of = sheet.named.of
        found[of] = max([found.get(of, 0), *numbers_in(sheet)])
    return found


def in_finer_units(sheet: PlannedSheet, unit: Fraction) -> PlannedSheet:
    """The same sheet counted in a unit that divides its own. Raises ValueError where it does not."""
    times = sheet.unit / unit
    if times.denominator != 1:
        raise ValueError(f"{unit} mm does not divide {sheet.unit} mm")
    factor = times.numerator
    left, right, bottom, top = (side * factor for side in sheet.trim)
    return replace(
        sheet,
        length=sheet.length * factor,
        width=sheet.width * factor,
        trim=(left, right, bottom, top),
        unit=unit,
        kerf=sheet.kerf * factor,
        root=_scaled(sheet.root, factor),
        bad=tuple(scaled(place, factor) for place in sheet.bad),
    )


def _scaled(node: Node, factor: int) -> Node:
    sized = replace(node, length=node.length * factor, width=node.width * factor)
    if isinstance(sized, Cut):
        low, high = (one if one is None else _scaled(one, factor) for one in (sized.low, sized.high))
        return replace(sized, low=low, high=high)
    return sized


def grafted(sheet: PlannedSheet, place: int, tree: Node, pieces: Sequence[str], used: dict[str, int]) -> PlannedSheet:
    """The sheet with `tree`, which bears `pieces`, in the place of a piece and of all that was to come of it.

    `used`: the highest number that a piece of each sheet has had; what is new counts on from there.
    """
    spots = list(walk(sheet.root))
    of, old = sheet.named.of, numbers_in(sheet)
    new = new_numbers(of, tree, used)
    beyond = place + nodes_below(spots[place].node)
    before, until = (sum(isinstance(spot.node, Placed) for spot in spots[:end]) for end in (place, beyond + 1))
    return replace(
        sheet,
        root=replaced(sheet.root, place, tree),
        pieces=(*sheet.pieces[:before], *pieces, *sheet.pieces[until:]),
        numbers=Numbers(of, (*old[:place], *new.told, *old[beyond:])),
    )


def without_idle_cuts(sheet: PlannedSheet, cut: Iterable[str] = ()) -> PlannedSheet:
    """The sheet without the cuts that free nothing any more: what they would divide stays one piece.

    Trimming stays, since what lies inside it may still be used, and so do first cuts and what is done. `cut`: the
    pieces that are cut already.
    """
    numbers = iter(numbers_in(sheet))
    kept: list[int] = []
    left, right, bottom, top = sheet.trim
    # What is skimmed has the name of what it becomes, and an x.
    begun = {called for name in cut for called in (name, name.rstrip("x"))}

    def cleared(node: Node, x: int, y: int, name: str) -> Node:
        if not isinstance(node, Cut):
            return node
        is_inside = x >= left and y >= bottom
        is_inside &= x + node.length <= sheet.length - right and y + node.width <= sheet.width - top
        gives_any = any(isinstance(spot.node, Placed) for spot in walk(node))
        if is_inside and name not in begun and not gives_any and not _is_first(sheet, node, x, y):
            for _ in range(nodes_below(node)):
                next(numbers)
            return Spare(node.length, node.width)
        found: list[Node | None] = []
        for member, *at in members(node, x, y):
            if member is None:
                found.append(None)
                continue
            kept.append(next(numbers))
            found.append(cleared(member, at[0], at[1], f"{sheet.named.of}.{kept[-1]}"))
        return replace(node, low=found[0], high=found[1])

    root = cleared(sheet.root, 0, 0, sheet.id)
    if root == sheet.root:
        return sheet
    return replace(sheet, root=root, numbers=Numbers(sheet.named.of, tuple(kept)))


def _is_first(sheet: PlannedSheet, node: Cut, x: int, y: int) -> bool:
    """Whether it is one of the cuts that the person wants made before anything else."""
    low = node.low
    at = None if low is None else y + low.width if node.direction == "rip" else x + low.length
    return at is not None and any(
        first.direction == node.direction and first.at == sheet.mm(at) for first in sheet.first_cuts
    )


def only_for_parts(node: Node) -> Node:
    """A tree without the cuts of which no part comes: what is left over with a bad place is cut up when it is used."""
    if not isinstance(node, Cut):
        return node
    if not any(isinstance(spot.node, Placed) for spot in walk(node)):
        return Spare(node.length, node.width)
    low, high = (one if one is None else only_for_parts(one) for one in (node.low, node.high))
    return replace(node, low=low, high=high)
