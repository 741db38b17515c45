"""A layout as JSON has it, for another process: lists in lists, a few letters for each kind of node."""

from __future__ import annotations

from typing import Any

from core.layout.tree import Cut, LaidSheet, Layout, Node, Placed, Spare, Unplaced


def told_of(layout: Layout) -> dict[str, Any]:
    """What is told, from which `layout_told` makes an equal layout."""
    return {
        "sheets": [[sheet.stock, _listed(sheet.root)] for sheet in layout.sheets],
        "unplaced": [[left.part, left.quantity, left.reason] for left in layout.unplaced],
        "lower_bound": layout.lower_bound,
        "least_money": layout.least_money,
    }


def layout_told(told: dict[str, Any]) -> Layout:
    """The layout that `told_of` told."""
    return Layout(
        tuple(LaidSheet(stock, _node(root)) for stock, root in told["sheets"]),
        tuple(Unplaced(*left) for left in told["unplaced"]),
        told["lower_bound"],
        told["least_money"],
    )


def _listed(node: Node) -> list[Any]:
    if isinstance(node, Placed):
        return ["part", node.length, node.width, node.part, node.turned]
    if isinstance(node, Spare):
        return ["spare", node.length, node.width]
    low = None if node.low is None else _listed(node.low)
    high = None if node.high is None else _listed(node.high)
    return [node.direction, node.length, node.width, low, high]


def _node(told: list[Any]) -> Node:
    kind, length, width = told[:3]
    if kind == "part":
        return Placed(length, width, told[3], told[4])
    if kind == "spare":
        return Spare(length, width)
    low, high = (None if one is None else _node(one) for one in told[3:])
    return Cut(length, width, kind, low, high)
