"""Does every part come out of a sheet: a box can go together of parts that nobody sells a sheet for."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction

from core.checks.finding import Finding
from core.construction.part import Axis, Part
from core.jobs import Sheet
from core.lengths import Notation

LESS: Mapping[Axis, str] = {
    "x": "carcass {}narrower, or two carcasses side by side in its place",
    "y": "carcass {}less deep",
    "z": "carcass {}lower, or two carcasses one on the other in its place",
}
"""What makes a part of a carcass smaller along each axis."""


def check_sheets(
    parts: Iterable[Part], stock: Mapping[str, Sequence[Sheet]], carcasses: Iterable[str], notation: Notation
) -> list[Finding]:
    """A warning for each part that no sheet of its material gives, by itself. `carcasses`: their ids."""
    found: dict[tuple[str, str, str], Finding] = {}
    ids = set(carcasses)
    for part in parts:
        sheets = [sheet for sheet in stock.get(part.material, ()) if sheet.quantity != 0]
        if sheets and not any(sheet.gives(*_blank(part), part.grain == "none") for sheet in sheets):
            found.setdefault((part.carcass, part.role, part.name), _too_large(part, sheets, ids, notation))
    return list(found.values())


def _blank(part: Part) -> tuple[Fraction, Fraction]:
    """What is cut, mm: along the sheet and across it, where its grain tells."""
    size = part.blank_length, part.blank_width
    return (size[1], size[0]) if part.grain == "width" else size


def _too_large(part: Part, sheets: Sequence[Sheet], carcasses: set[str], notation: Notation) -> Finding:
    length, width = _blank(part)
    largest = max(sheets, key=lambda sheet: sheet.inner_length * sheet.inner_width)
    gives = f"{notation.text(largest.inner_length)} x {notation.with_unit(largest.inner_width)}"
    turned = any(sheet.gives(length, width, True) for sheet in sheets)
    why = ", and its grain may not run the other way" if turned else ""
    mend = ["a larger sheet, or a material without grain" if turned else "a larger sheet of that material"]
    if part.carcass in carcasses:
        axes = (part.width_axis, part.length_axis) if part.grain == "width" else (part.length_axis, part.width_axis)
        over = (
            length - max(sheet.inner_length for sheet in sheets),
            width - max(sheet.inner_width for sheet in sheets),
        )
        for axis, more in zip(axes, over, strict=True):
            if more > 0:
                # What stands in a bay takes only a share of what its carcass gets less.
                by = "" if part.place.startswith("bay") else f"{notation.at_least(more)} "
                mend.insert(0, LESS[axis].format(f"{part.carcass} {by}"))
    return Finding(
        "sheet",
        f"{part.name} {part.carcass}".strip(),
        "warn",
        f"{notation.text(length)} x {notation.with_unit(width)} to cut, and the largest sheet of {part.material} gives "
        f"{gives}{why}",
        source="geometry",
        mend=tuple(mend),
        brief=f"{part.name.partition(',')[0]} {part.carcass}".strip(),
        mended_at=("row", part.carcass) if part.carcass in carcasses else ("materials", part.material),
    )
