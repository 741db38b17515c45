"""Projects that the tests of the app open: a small bench, one with many cuts, one with hostile names."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Literal

from core import edits
from core.goods import Stock, Trim
from core.layout.search import lay_out
from core.project import Design, Facts, LoosePart, Project
from core.space import Reading, Space
from core.starter import new_design
from core.storage import create
from tui.session import Session

HOSTILE = (
    "[/left]",
    "[red]A[/red]",
    "[@click=app.leave]out[/]",
    "[true,false]",
    "[600x400]",
    "W" * 300,
    "日本語の棚板" * 12,
    "e\u0301" * 40,
    "x\u200dy",
    'quote " and back \\ slash',
)
"""Names that a project file may hold: markup of other programs, words without an end, wide and combining letters."""


def bench(unit: Literal["in", "mm"] = "in") -> Design:
    """Two carcasses with a shelf each and a top, in an alcove."""
    inch = unit == "in"
    design = new_design("Window bench", unit)
    width, height, depth = ("71 5/8", "18", "20") if inch else ("1820", "460", "510")
    readings = (
        Reading("width", width, "floor", "back"),
        Reading("depth", "24" if inch else "610"),
        Reading("height", "96" if inch else "2440"),
    )
    design = replace(design, show="in 1/16" if inch else "mm 1", space=Space("alcove", readings=readings))
    for name in ("Left box", "Right box"):
        design = edits.add_carcass(design, name, "share", height, depth)
    design = edits.add_top(design, "Seat", next(iter(design.materials)))
    material = next(iter(design.materials))
    return edits.set_value(design, ("materials", material, "stock", 0, "price"), "84.50")


def three_boards() -> Design:
    """The smallest job that has cuts."""
    board = LoosePart("L", "Board", "mdf", "600", "300", 3)
    return replace(new_design("Boards", "mm"), loose=(board,))


def many_cuts() -> Design:
    """Loose parts only, of many sizes, on untrimmed sheets: well over a hundred cuts, laid out in a moment."""
    design = new_design("Many boards", "mm")
    boards = tuple(
        LoosePart(f"L{n}", f"Board {n}", "mdf", str(600 + 7 * n), str(180 + 3 * n), 6, "none") for n in range(12)
    )
    design = edits.set_value(design, ("materials", "mdf", "stock"), (Stock("2440", "1220", trim=Trim()),))
    return replace(design, loose=boards)


def hostile() -> Design:
    """A bench in which every name that a person may give is one of `HOSTILE`."""
    names = iter(HOSTILE * 4)
    design = bench()
    design = replace(design, name=next(names), currency="[b]")
    design = edits.set_value(design, ("space", "name"), next(names))
    for key in design.materials:
        design = edits.set_value(design, ("materials", key, "name"), next(names))
        design = edits.set_value(design, ("materials", key, "source"), next(names))
    for place in range(len(design.row)):
        design = edits.set_value(design, ("row", place, "name"), next(names))
    for n, name in enumerate(HOSTILE):
        design = edits.add_loose(design, name, "ply", str(10 + n), "5")
    design = edits.set_value(design, ("tops", 0, "name"), next(names))
    return edits.set_value(design, ("saws", 0, "name"), next(names))


def stored(folder: Path, design: Design, name: str = "bench.toml", facts: Facts | None = None) -> Path:
    """The design in a file of its own."""
    path = folder / name
    create(path, Project(design, facts or Facts()))
    return path


def opened(path: Path, *, read_only: bool = False) -> Session:
    """The project of a file, its sheets laid out."""
    session = Session(path, read_only=read_only)
    session.search(lay_out)
    return session
