"""What becomes of a sheet that is laid out when it turns out to have bad places."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import count

from core.grafting import without_idle_cuts
from core.layout.clear_of_bad import in_another_order
from core.layout.job import JobStock, JobTrim
from core.layout.notation import placed_in
from core.layout.place import meets, near
from core.layout.tree import Cut, Node, Placed, Spot, walk
from core.on_hand import new_numbers
from core.planned_sheet import PlannedSheet
from core.standing import without_pieces


def clear_of_its_bad_places(sheet: PlannedSheet, used: dict[str, int]) -> PlannedSheet:
    """The sheet with its pieces on other sides, if so no part lies on a bad place, or within a kerf of one.

    Where no order will do, without the parts that lie there; all others stay where they are. `used`: the highest number
    that a piece of each sheet has had, or is to have; it knows of the new ones afterwards.
    """
    clear = [near(place, sheet.kerf) for place in sheet.bad]
    spoilt = {one.piece for one in sheet.placed() if meets(clear, one.x, one.y, one.length, one.width)}
    if not spoilt:
        return sheet
    # Of a sheet that has to be cut first in a settled way the pieces stay.
    other = None if sheet.first_cuts else _in_another_order(sheet, used)
    return other or without_idle_cuts(without_pieces(sheet, spoilt))


def _in_another_order(sheet: PlannedSheet, used: dict[str, int]) -> PlannedSheet | None:
    stock = JobStock(sheet.id, sheet.length, sheet.width, JobTrim(*sheet.trim), bad=sheet.bad)
    root = in_another_order(_numbered(sheet.root, count()), stock, sheet.kerf)
    if root is None or not all(_is_inside_the_trim(spot, sheet) for spot in walk(root)):
        return None
    pieces = tuple(sheet.pieces[node.part] for node in placed_in(root))
    return replace(sheet, root=root, pieces=pieces, numbers=new_numbers(sheet.named.of, root, used))


def _is_inside_the_trim(spot: Spot, sheet: PlannedSheet) -> bool:
    """Whether it is no part, or one that has nothing of what the edges of the sheet lose."""
    left, right, bottom, top = sheet.trim
    along = left <= spot.x <= sheet.length - right - spot.node.length
    across = bottom <= spot.y <= sheet.width - top - spot.node.width
    return not isinstance(spot.node, Placed) or (along and across)


def _numbered(node: Node, numbers: Iterator[int]) -> Node:
    """The tree with its parts numbered in the order of the walk."""
    if isinstance(node, Placed):
        return replace(node, part=next(numbers))
    if isinstance(node, Cut):
        low, high = (one and _numbered(one, numbers) for one in (node.low, node.high))
        return replace(node, low=low, high=high)
    return node
