"""Sheets for the tests of their drawings: one checked by hand, and any number that chance cuts up edge to edge."""

from __future__ import annotations

from fractions import Fraction
from string import ascii_uppercase

from hypothesis import strategies as st

from core.drawing.sheet_places import CutLine, OffcutView, PieceView, SheetView, TrimView

INCH = Fraction(127, 5)


def inches(*lengths: float | str) -> list[Fraction]:
    """Lengths in mm."""
    return [Fraction(length) * INCH for length in lengths]


def piece(name: str, x: float, y: float, length: float, width: float, **more: bool) -> PieceView:
    """A piece by inches; its code is what stands before the stroke."""
    return PieceView(name, name.split("/")[0], *inches(x, y, length, width), **more)


def offcut(x: float, y: float, length: float, width: float, worth_keeping: bool) -> OffcutView:
    """An offcut by inches."""
    return OffcutView(*inches(x, y, length, width), worth_keeping)


def by_hand() -> SheetView:
    """96 x 48 in without kerf or trim: at 2 in a column and 4 in a row every line falls on a cell."""
    return SheetView(
        "1",
        "Birch ply",
        *inches(96, 48, 0),
        grain=True,
        parts=(
            piece("S/1", 0, 0, 36, 24, done=True),
            piece("S/2", 36, 0, 36, 24),
            piece("B/1", 0, 24, 24, 24),
            piece("R/1", 24, 24, 48, 4),
            piece("R/2", 24, 28, 4, 20, rotated=True),
        ),
        offcuts=(offcut(72, 0, 24, 48, True), offcut(28, 28, 44, 20, False)),
    )


@st.composite
def any_sheet(draw: st.DrawFn, most: int = 14) -> SheetView:
    """A sheet with any trim and kerf, cut edge to edge into offcuts and parts named PA, PB, …"""
    kerf = draw(st.sampled_from([Fraction(0), Fraction(16, 5), Fraction(127, 40)]))
    length, width = (draw(st.integers(200, 3000)) * Fraction(1) for _ in range(2))
    trim = TrimView(*(draw(st.sampled_from([Fraction(0), kerf, Fraction(10), Fraction(40)])) for _ in range(4)))
    trim = TrimView(*(max(edge, kerf) if edge else edge for edge in (trim.left, trim.right, trim.bottom, trim.top)))
    pieces = [
        (trim.left, trim.bottom, length - trim.left - trim.right, width - trim.bottom - trim.top),
    ]
    for _ in range(draw(st.integers(0, most - 1))):
        x, y, along, up = pieces.pop(draw(st.integers(0, len(pieces) - 1)))
        rip = draw(st.booleans())
        extent = up if rip else along
        if extent < 4 + kerf:
            pieces.append((x, y, along, up))
            continue
        at = Fraction(draw(st.integers(2 * 8, int((extent - kerf - 2) * 8))), 8)
        beyond = at + kerf
        if rip:
            pieces += [(x, y, along, at), (x, y + beyond, along, up - beyond)]
        else:
            pieces += [(x, y, at, up), (x + beyond, y, along - beyond, up)]
    uses = [draw(st.sampled_from(["part", "part", "part", "offcut", "waste"])) for _ in pieces]
    named = [place for place, use in zip(pieces, uses, strict=True) if use == "part"]
    return SheetView(
        id="3",
        material="Birch ply",
        length=length,
        width=width,
        kerf=kerf,
        grain=draw(st.booleans()),
        parts=tuple(
            PieceView(f"P{ascii_uppercase[n]}", "P", *place, rotated=draw(st.booleans()), done=draw(st.booleans()))
            for n, place in enumerate(named)
        ),
        offcuts=tuple(
            OffcutView(*place, worth_keeping=use == "offcut")
            for place, use in zip(pieces, uses, strict=True)
            if use != "part"
        ),
        trim=trim,
    )


@st.composite
def any_cut(draw: st.DrawFn, sheet: SheetView) -> CutLine:
    """A cut anywhere on the sheet, edge to edge."""
    rip = draw(st.booleans())
    at = Fraction(draw(st.integers(0, int((sheet.width if rip else sheet.length) * 8))), 8)
    ends = (Fraction(0), at, sheet.length, at) if rip else (at, Fraction(0), at, sheet.width)
    return CutLine(draw(st.integers(1, 120)), *ends, fence=at, measured_from="bottom" if rip else "left")
