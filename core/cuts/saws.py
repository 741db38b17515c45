"""The saws of a shop, and what each of them can do with a cut.

Whoever works with sheet goods has a saw that goes to the sheet (a track saw, or a circular saw
along a straightedge) and one or two to which pieces are brought. A fence wants a true edge
and a piece that does not pivot; a track reaches only so far; a sheet is too much for one person
to bring anywhere. The limits of weight and the least sizes are common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from core.own_units import KG_A_POUND

SawKind = Literal["any", "track", "circular", "table", "mitre", "yard"]

ONE_PERSON = 50 * KG_A_POUND
"""The heaviest piece that one person brings to a saw where the shop says nothing else, kg; common practice."""

SHORT = 300
"""Along a fence, mm: below it a piece is easily thrown, and a sled or a stop block serves; common practice."""
NARROW = 150
"""Between fence and blade, mm: below it a push stick, common practice; of a piece under a track: nothing to lie on."""


MITRE_REACH = Fraction(310)
"""mm that a sliding mitre saw crosscuts, about 12 in; common practice, no source."""
TOO_FAR = "does not cut that far"


@dataclass(frozen=True, slots=True)
class ShopSaw:
    """A saw with its limits in mm and kg; None sets none."""

    name: str
    kind: SawKind
    kerf: Fraction
    longest_cut: Fraction | None = None
    widest_rip: Fraction | None = None
    longest_piece: Fraction | None = None
    heaviest_piece: float | None = None
    finished: bool = True
    """Its cut is an edge that can stay."""

    @property
    def reach(self) -> Fraction | None:
        """The longest cut that it makes, mm; None where nothing limits it."""
        return self.longest_cut or (MITRE_REACH if self.kind == "mitre" else None)

    @property
    def most_weight(self) -> float | None:
        """The heaviest piece that is brought to it, kg; None where it goes to the piece, or where anything goes."""
        if self.heaviest_piece is not None:
            return self.heaviest_piece
        return ONE_PERSON if self.kind in ("table", "mitre") else None


@dataclass(frozen=True, slots=True)
class ToCut:
    """A cut that is to be made, in mm: `along` the blade's path, `across` it the piece, `fence` of that the keeper.

    `true`: the edge that would lie against a fence has been sawn. `used_as_it_is`: it has not, and nobody wants it
    trimmed. `whole`: the piece is a sheet as it was delivered, or came off one at the yard. `stays`: the edge
    that the cut makes is that of a part, or of something kept. `first`: the person wants it made
    before anything else.
    """

    along: Fraction
    across: Fraction
    fence: Fraction
    weight: float
    true: bool
    used_as_it_is: bool = False
    whole: bool = False
    stays: bool = True
    first: bool = False

    @property
    def pivots(self) -> bool:
        """The side along the fence is the shorter one of the piece."""
        return self.along < self.across


def why_not(saw: ShopSaw, cut: ToCut) -> str:
    """Why this saw cannot make the cut, in a few words; empty if it can."""
    if saw.kind == "yard" and not cut.whole:
        return f"{saw.name} cuts sheets only before they are brought home"
    if saw.reach is not None and cut.along > saw.reach:
        return f"{saw.name} {TOO_FAR}"
    if saw.kind == "mitre" and cut.across < cut.along:
        return f"the piece would lie with its shorter side at the fence of {saw.name}"
    if cut.stays and not saw.finished:
        return f"{saw.name} leaves a rough edge"
    most = saw.most_weight
    if most is not None and cut.weight > most:
        return f"the piece is too heavy to be brought to {saw.name}"
    if saw.longest_piece is not None and max(cut.along, cut.across) > saw.longest_piece:
        return f"the piece is too long to be brought to {saw.name}"
    if saw.kind in ("table", "any") and saw.widest_rip is not None and cut.fence > saw.widest_rip:
        return f"the fence of {saw.name} does not go that far"
    if saw.kind == "table" and not cut.true and not cut.used_as_it_is:
        return f"the fence of {saw.name} wants an edge that has been sawn true"
    return ""


def trouble(saw: ShopSaw, cut: ToCut) -> int:
    """How far a cut is from an ordinary one for this saw: of two saws that can make it, the one with less makes it."""
    if saw.kind == "yard":
        # A first cut is for bringing the sheet home, or in; any other costs a fee and a way.
        return -1 if cut.first else 9
    if saw.kind in ("track", "circular"):
        # What is smaller than the track itself leaves it nothing to lie on.
        return 4 if cut.along < NARROW or cut.across < NARROW else 1
    if saw.kind == "mitre":
        return 0 if cut.fence >= NARROW else 3
    if cut.pivots:
        return 6
    if cut.along < SHORT:
        return 5
    return 2 if not cut.true and saw.kind == "table" else 0
