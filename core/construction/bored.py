"""Whether every hole of a panel can be bored: whole, into wood, and met by nothing from the other face."""

from __future__ import annotations

from fractions import Fraction

from core.construction.part import Holes, Machining, Part
from core.mistakes import Mistake


def check_holes(part: Part) -> None:
    """Raises Mistake, naming the rule that moves them, for holes that cannot be bored."""
    name = part.name.lower()
    for row in part.holes:
        rule = "hinge from end" if row.place.startswith(("plate", "hinge")) else "pin setback"
        radius = row.diameter / 2
        for x, y in row.centres():
            beyond = {
                along
                for along, at, size in (("length", x, part.length), ("width", y, part.width))
                if not radius <= at <= size - radius
            }
            if beyond:
                moves = _moves_along(row) if row.along in beyond else _moves_across(row)
                raise Mistake(f"a hole for {row.place} would lie on an edge of the {name}; change {moves}")
            for cut in part.machining:
                if _reaches(part, row, cut) and _within(cut, x, y, radius):
                    raise Mistake(
                        f"a hole for {row.place} would meet what is cut out of the {name}; "
                        f"{_mend(part, row, cut, rule)}"
                    )


def _moves_along(row: Holes) -> str:
    """The rule that moves holes in the direction of their row."""
    return "hinge from end" if row.place.startswith(("plate", "hinge")) else "pin margin"


def _moves_across(row: Holes) -> str:
    """The rule that moves a row sideways."""
    if row.place.startswith("hinge"):
        return "cup edge"
    return "plate setback" if row.place.startswith("plate") else "pin setback"


def _mend(part: Part, row: Holes, cut: Machining, rule: str) -> str:
    """What keeps them apart: another place, or, where a housing runs across the whole panel, less depth."""
    runs_across = 2 * cut.length >= part.length or 2 * cut.width >= part.width
    if cut.depth is None or cut.face == row.face or not runs_across:
        return f"change {rule}"
    return f"make {'plate' if row.place.startswith('plate') else 'pin'} depth or dado depth less, or change {rule}"


def _reaches(part: Part, row: Holes, cut: Machining) -> bool:
    """Whether a hole and a cut at one place would be in the same wood."""
    if cut.depth is None or row.depth is None or cut.face == row.face:
        return True
    return cut.depth + row.depth >= part.thickness


def _within(cut: Machining, x: Fraction, y: Fraction, radius: Fraction) -> bool:
    across = cut.x - radius < x < cut.x + cut.length + radius
    return across and cut.y - radius < y < cut.y + cut.width + radius
