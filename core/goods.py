"""Goods as bought: sheet materials with their stock sizes, and edge banding."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from core.quantities import DENSITY, STIFFNESS, read_quantity
from core.typed import Amount, Count, Density, Size, SizeOrNothing, Stiffness, many


@dataclass(frozen=True, slots=True)
class Trim:
    """What each edge of a sheet loses before it is trusted, the blade's kerf included; 0 uses it as it is."""

    left: Size = "0"
    right: Size = "0"
    bottom: Size = "0"
    top: Size = "0"


@dataclass(frozen=True, slots=True)
class Stock:
    """One size in which a material is sold. Length runs along the face grain; without grain it is the longer side."""

    length: Size
    width: Size
    price: Amount = ""
    quantity: Count | None = None
    """How many can be had; None where the yard has plenty."""
    trim: Trim = field(default_factory=Trim)
    first_crosscut: SizeOrNothing = ""
    """Where every sheet is crosscut before anything else, from its left end: what no saw here can rip in one go."""
    crosscut_loses: Size = "0"
    """What both sides of that cut lose again, the blade's kerf included: an allowance beside a rough edge."""
    first_rip: SizeOrNothing = ""
    """Where every sheet, or both pieces of one that is crosscut first, is ripped next, from its lower edge."""
    rip_loses: Size = "0"
    """What both sides of that cut lose again, as beside a first crosscut."""


@dataclass(frozen=True, slots=True)
class Material:
    """A sheet material. Parts follow the actual thickness; the nominal one is only what it is called."""

    name: str
    nominal: Size
    actual: Size
    grain: bool = True
    faces: Literal["one good", "alike"] = "one good"
    """Where both faces are alike, a left and a right that differ only by a turn-over are one kind of part."""
    density: Density = ""
    stiffness: Stiffness = ""
    """Bending stiffness (modulus of elasticity) along the face grain."""
    creep: Amount = ""
    """By how much a lasting load multiplies the sag at first."""
    movement: Amount = ""
    """Solid wood: by what share it grows across the grain for each percent of moisture; empty where it hardly does."""
    source: str = ""
    """Where density, stiffness, creep and movement come from."""
    stock: tuple[Stock, ...] = many("stock")

    @property
    def kilograms_a_cubic_metre(self) -> float | None:
        """The density as a number; None where it is not known. Raises Mistake where it cannot be read."""
        return read_quantity(self.density, DENSITY) if self.density else None

    @property
    def newtons_a_square_millimetre(self) -> float | None:
        """The stiffness as a number; None where it is not known. Raises Mistake where it cannot be read."""
        return read_quantity(self.stiffness, STIFFNESS) if self.stiffness else None


@dataclass(frozen=True, slots=True)
class Length:
    """One length in which a board is sold."""

    length: Size
    price: Amount = ""
    quantity: Count | None = None
    """How many can be had; None where the yard has plenty."""


@dataclass(frozen=True, slots=True)
class Board:
    """Solid stock of one section, cut to length: stiles and rails of face frames."""

    name: str
    thickness: Size
    """As it really is, like the width."""
    width: Size
    trim: Size = "0"
    """What each end loses before it is trusted, the blade's kerf included."""
    density: Density = ""
    source: str = ""
    lengths: tuple[Length, ...] = many("length")

    @property
    def kilograms_a_cubic_metre(self) -> float | None:
        """The density as a number; None where it is not known. Raises Mistake where it cannot be read."""
        return read_quantity(self.density, DENSITY) if self.density else None


@dataclass(frozen=True, slots=True)
class Banding:
    """Edge banding; its thickness is taken off the blank of the part that bears it."""

    name: str
    thickness: Size = "0"
    price: Amount = ""
    """For one foot in a project of inches, for one metre in one of millimetres."""


Materials = Mapping[str, Material]
Bandings = Mapping[str, Banding]
Boards = Mapping[str, Board]
