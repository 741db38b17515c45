"""Does every part come out of a sheet or a length: a box can go together of parts that nobody sells goods for."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction

from core.checks.finding import Finding
from core.construction.goods import ZERO
from core.construction.part import Axis, Part
from core.formulas import Names
from core.goods import Board
from core.jobs import Sheet
from core.lengths import Notation
from core.mistakes import Mistake

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
        of_material = stock.get(part.material, ())
        sheets = [sheet for sheet in of_material if sheet.quantity != 0]
        if of_material and not sheets:
            found.setdefault(("", "", part.material), _none_left(part.material))
        if sheets and not any(sheet.gives(*_blank(part), part.grain == "none") for sheet in sheets):
            found.setdefault((part.carcass, part.role, part.name), _too_large(part, sheets, ids, notation))
    return list(found.values())


def check_lengths(
    parts: Iterable[Part], boards: Mapping[str, Board], names: Names, notation: Notation
) -> list[Finding]:
    """A warning for each part that is longer than any length of its board, once its ends are trimmed."""
    found: dict[tuple[str, str], Finding] = {}
    longest = {key: most for key, board in boards.items() if (most := _longest(board, names)) is not None}
    for part in parts:
        if part.material in longest and part.blank_length > longest[part.material]:
            found.setdefault((part.carcass, part.name), _too_long(part, longest[part.material], notation))
    return list(found.values())


def _longest(board: Board, names: Names) -> Fraction | None:
    """What the longest length of a board gives, mm; None where that cannot be read, which is told elsewhere."""
    try:
        lengths = [names.length(one.length) for one in board.lengths if one.quantity != 0]
        return max(lengths, default=ZERO) - 2 * names.length(board.trim) if board.lengths else None
    except Mistake:
        return None


def _blank(part: Part) -> tuple[Fraction, Fraction]:
    """What is cut, mm: along the sheet and across it, where its grain tells."""
    size = part.blank_length, part.blank_width
    return (size[1], size[0]) if part.grain == "width" else size


def _none_left(material: str) -> Finding:
    return Finding(
        "sheet",
        f"material {material}",
        "warn",
        "parts are to be cut from it, and no sheet of it can be had: every quantity is 0",
        source="geometry",
        mend=("a quantity of sheets, empty for as many as are wanted", "another size of sheet"),
        brief=material,
        mended_at=("materials", material),
    )


def _too_long(part: Part, longest: Fraction, notation: Notation) -> Finding:
    long = notation.with_unit(part.blank_length)
    return Finding(
        "sheet",
        f"{part.name} {part.carcass}".strip(),
        "warn",
        f"{long} long, and the longest length of {part.material} gives {notation.with_unit(max(longest, ZERO))}",
        source="geometry",
        mend=("a longer length of that board", "the carcass smaller by the difference"),
        brief=f"{part.name.partition(',')[0]} {part.carcass}".strip(),
        mended_at=("boards", part.material),
    )


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
