"""The shop's own settings, outside any project: what a new project begins with, and how the app looks and listens.

A project copies what it uses from here when it is begun; afterwards the plan reads only the project.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from core.goods import Banding, Board, Material
from core.project import Saw
from core.typed import many, table_of


@dataclass(frozen=True, slots=True)
class Shop:
    """All of it may be left out: what is empty takes the program's own start."""

    unit: Literal["in", "mm"] = "in"
    """What bare numbers in this file mean, and what a new project is offered first."""
    show: str = ""
    currency: str = ""
    theme: Literal["terminal", "dark", "light"] = "terminal"
    saws: tuple[Saw, ...] = many("saw")
    rules: Mapping[str, str] = field(default_factory=dict)
    materials: Mapping[str, Material] = table_of("material")
    bandings: Mapping[str, Banding] = table_of("banding")
    boards: Mapping[str, Board] = table_of("board")
    keys: Mapping[str, str] = field(default_factory=dict)
    """Other keys for what the app does, by the id of the binding: `cuts.tick` to `space,x`."""
