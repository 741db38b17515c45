"""Left and right: sides and end panels of which the one cannot be turned over into the other."""

from __future__ import annotations

from dataclasses import replace

from core.construction.goods import Goods
from core.construction.part import Part

TURNED_OVER = ("side", "end panel")
"""Roles that are built as a left or a right, and are neither where turning one over makes the other of it."""


def handed(part: Part, goods: Goods) -> Part:
    """A finished part without its hand where that says nothing: where its mirror is itself, turned over."""
    return replace(part, hand=None) if part.role in TURNED_OVER and _is_its_own_mirror(part, goods) else part


def _is_its_own_mirror(part: Part, goods: Goods) -> bool:
    one_face = part.holes or any(cut.depth is not None for cut in part.machining)
    if not one_face and goods.materials[part.material].faces == "alike":
        return True
    bands = {edge.side: edge.banding for edge in part.edges}
    # With one good face it is turned end for end or edge for edge, and must look the same after that.
    turns = bands.get("length-") == bands.get("length+") or bands.get("width-") == bands.get("width+")
    return turns and not part.machining and not part.holes
