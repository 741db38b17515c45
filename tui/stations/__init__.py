"""The stations, in the order of the job; one file each, read when a person first goes there."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tui.stations.base import Station

NAMES = ("Space", "Goods", "Piece", "Parts", "Sheets", "Cuts", "Checks", "Buy", "Build")


def station_class(name: str) -> type[Station]:
    """The station of a name. Its imports are made now: the first paint should not wait for nine stations."""
    match name:
        case "Space":
            from tui.stations.space import SpaceStation as found
        case "Goods":
            from tui.stations.goods import GoodsStation as found  # type: ignore[assignment]
        case "Piece":
            from tui.stations.piece import PieceStation as found  # type: ignore[assignment]
        case "Parts":
            from tui.stations.parts import PartsStation as found  # type: ignore[assignment]
        case "Sheets":
            from tui.stations.sheets import SheetsStation as found  # type: ignore[assignment]
        case "Cuts":
            from tui.stations.cuts import CutsStation as found  # type: ignore[assignment]
        case "Checks":
            from tui.stations.checks import ChecksStation as found  # type: ignore[assignment]
        case "Buy":
            from tui.stations.buy import BuyStation as found  # type: ignore[assignment]
        case _:
            from tui.stations.build import BuildStation as found  # type: ignore[assignment]
    return found
