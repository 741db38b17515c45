"""Where a thing of the design is changed: its station, and the way to it."""

from __future__ import annotations

from collections.abc import Sequence

from core.edits import Path
from core.project import Carcass, Design, RowItem, Top

STATIONS = {"space": "Space", "saws": "Goods", "materials": "Goods", "bandings": "Goods", "boards": "Goods"}
"""Of what a way begins with; everything else is decided at the Piece."""


def station_of(path: Path) -> str:
    """The name of the station where what lies at `path` is changed."""
    return STATIONS.get(str(path[0]), "Piece")


def with_places(design: Design, path: Path) -> Path:
    """A way that names items of the row and tops by their ids, with their places instead.

    A rule that a carcass does not have of its own is the project's.
    """
    if path[0] not in ("row", "tops") or len(path) < 2:
        return path
    items: Sequence[RowItem | Top] = design.row if path[0] == "row" else design.tops
    place = next((n for n, one in enumerate(items) if one.id == path[1]), None)
    if place is None:
        return path[:1]
    item = items[place]
    if path[2:3] == ("rules",) and not (isinstance(item, Carcass) and path[3] in item.rules):
        return path[2:]
    return (path[0], place, *path[2:])
