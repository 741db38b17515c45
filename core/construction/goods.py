"""What construction asks of the project's goods: thickness, grain, usual sizes, and how a length is said."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from core.construction.rules import usual
from core.formulas import Names
from core.goods import Material
from core.lengths import Notation
from core.mistakes import Mistake

ZERO = Fraction(0)
DENSE = 750.0
"""What a board is taken to weigh where nothing is said, kg a cubic metre: as MDF; common practice, no source."""


@dataclass(frozen=True, slots=True)
class Section:
    """A board across its length, mm, and its density in kilograms a cubic metre, None where it is not known."""

    thickness: Fraction
    width: Fraction
    density: float | None


@dataclass(frozen=True, slots=True)
class Goods:
    """What construction asks of the project's goods: actual thicknesses in mm, and whether a material has grain."""

    thickness: Mapping[str, Fraction]
    materials: Mapping[str, Material]
    banding: Mapping[str, Fraction]
    names: Names
    notation: Notation
    """How sentences say lengths."""
    longest: Mapping[str, Fraction] = field(default_factory=dict)
    """What the longest sheet of each material gives along its length, mm; nothing where no sheet is known."""
    boards: Mapping[str, Section] = field(default_factory=dict)

    def say(self, length: Fraction) -> str:
        """A length in the project's own notation."""
        return self.notation.with_unit(length)

    def at_most(self, length: Fraction) -> str:
        """A length that a size may have at most, so that what is said can be typed."""
        return self.notation.at_most(length)

    def at_least(self, length: Fraction) -> str:
        """A length that a size must have at least."""
        return self.notation.at_least(length)

    def usual(self, rule: str) -> str:
        """The default of a rule, by its title: `37 mm`."""
        return usual(rule.replace(" ", "_"), self.names.unit)

    def usual_size(self, rule: str) -> Fraction:
        """The same, mm."""
        return self.size(self.usual(rule), rule)

    def section(self, board: str) -> Section:
        """What a board measures across its length; Mistake for one that the project lacks."""
        if board not in self.boards:
            raise Mistake(f"there is no board {board!r} in the project; it has {', '.join(self.boards) or 'none yet'}")
        return self.boards[board]

    def framed(self, board: str) -> Fraction:
        """How far a face frame of this board stands before the box, mm; 0 where none is named."""
        return self.section(board).thickness if board else ZERO

    def has_grain(self, material: str) -> bool:
        """Whether a sheet material, or a board, has a face grain."""
        return material in self.boards or self.materials[material].grain

    def size(self, text: str, where: str) -> Fraction:
        """A size as typed, mm; Mistake, saying where, if it cannot be read or is negative."""
        return self.names.length(text, where=where, least=ZERO)

    def density(self, material: str) -> float:
        """Kilograms a cubic metre; where nothing is known, as of a dense board."""
        board = self.boards.get(material)
        return (board.density if board else self.materials[material].kilograms_a_cubic_metre) or DENSE

    def of(self, material: str) -> Fraction:
        """Actual thickness, mm; Mistake for a material that the project lacks."""
        if material not in self.thickness and material in self.materials:
            raise Mistake(f"the actual thickness of material {material!r} cannot be read")
        if material not in self.thickness:
            raise Mistake(f"there is no material {material!r} in the project; it has {', '.join(self.materials)}")
        return self.thickness[material]
