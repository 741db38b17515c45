"""The two sets of characters that pictures are drawn with.

`UNICODE` keeps to characters that nearly every terminal font has; `ASCII` is for the rest, for
serial lines and for plain printing. What a picture says, it says with either.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product


@dataclass(frozen=True, slots=True)
class Glyphs:
    """One set of characters, each one cell wide."""

    joins: str
    """The character for the arms that meet in a cell: up, right, down, left, each 0 none, 1 light or
    2 strong, at 27 up + 9 right + 3 down + left."""
    dash_across: str
    dash_down: str
    cut_across: str
    cut_down: str
    heads: tuple[str, str, str, str]
    """Ends of a dimension or a cut: left, right, up, down."""
    arrows: tuple[str, str, str, str]
    """Ends of a grain arrow: left, right, up, down."""
    ring: str
    """A hole, or a knob."""
    waste: tuple[str, ...]
    """A pattern to fill with, row by row; it repeats both ways."""
    offcut: tuple[str, ...]
    bad: tuple[str, ...]
    """What is of no use."""
    done: str
    chosen: str
    ellipsis: str
    unknown: str
    """Stands for a character that cannot be shown."""

    @property
    def ascii_only(self) -> bool:
        """Whether text has to be spelt in ASCII."""
        return self.joins.isascii()

    def join(self, up: int, right: int, down: int, left: int) -> str:
        """The character in which these arms meet."""
        return self.joins[27 * up + 9 * right + 3 * down + left]


# Rows: up 0 right 0, up 0 right 1, ... up 2 right 2. Columns: down 0 left 0, down 0 left 1, ... down 2 left 2.
# No character turns from light to double within one straight line: there the double line runs on, so that
# a double frame stays whole and light lines stop at it.
_LIGHT_AND_DOUBLE = " ─═│┐╕║╖╗──═┌┬╕╓╥╗═══╒╒╤╔╔╦│┘╛│┤╡║╖╗└┴╛├┼╡╓╥╗╘╘╧╞╞╪╔╔╦║╜╝║╜╝║╢╣╙╨╝╙╨╝╟╫╣╚╚╩╚╚╩╠╠╬"


def _ascii_join(up: int, right: int, down: int, left: int) -> str:
    upright, across = max(up, down), max(left, right)
    if not across:
        return " |#"[upright]
    if not upright:
        return " -="[across]
    return "#" if upright == 2 else "+"


UNICODE = Glyphs(
    joins=_LIGHT_AND_DOUBLE,
    dash_across="┄",
    dash_down="┆",
    cut_across="━",
    cut_down="┃",
    heads=("◄", "►", "▲", "▼"),
    arrows=("←", "→", "↑", "↓"),
    ring="○",
    waste=("░",),
    offcut=("·   ", "  · "),
    bad=("×",),
    done="✓",
    chosen="►",
    ellipsis="…",
    unknown="\N{REPLACEMENT CHARACTER}",
)

ASCII = Glyphs(
    joins="".join(_ascii_join(*arms) for arms in product(range(3), repeat=4)),
    dash_across=".",
    dash_down=":",
    cut_across="*",
    cut_down="*",
    heads=("<", ">", "^", "v"),
    arrows=("<", ">", "^", "v"),
    ring="o",
    waste=("/",),
    offcut=(".   ", "  . "),
    bad=("x",),
    done="[x]",
    chosen=">",
    ellipsis="..",
    unknown="?",
)
