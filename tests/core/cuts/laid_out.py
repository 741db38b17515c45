"""Sheets laid out at random, and a player of cuts that knows nothing of trees."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from hypothesis import strategies as st

from core.cuts.order import order_of
from core.cuts.saws import ShopSaw
from core.cuts.steps import Edge, Keeping, Made, SheetToCut, Step
from core.layout.job import JobStock, JobTrim
from core.layout.tree import Cut, Node, Placed, Spare, trimmed

KEEPING = Keeping(shorter=10, longer=30)
Rectangle = tuple[int, int, int, int]
HANDLED = 100.0
"""Nothing here is too heavy."""


def order(sheets: Sequence[SheetToCut], keeping: Keeping = KEEPING) -> tuple[Step, ...]:
    """In a shop with one saw that can do anything."""
    return order_of(sheets, [ShopSaw("saw", "any", Fraction(sheets[0].kerf))], keeping, HANDLED)


class Plan:
    """A sheet made up at random, with the places of its parts written down while it is made."""

    def __init__(self, draw: st.DrawFn, name: str, kerf: int) -> None:
        self.draw = draw
        self.kerf = kerf
        self.parts: dict[str, Rectangle] = {}
        self.pieces: list[str] = []
        trim = JobTrim(*(draw(st.just(0) | st.integers(max(kerf, 1), kerf + 5)) for _ in range(4)))
        self.trim = (trim.left, trim.right, trim.bottom, trim.top)
        inner_length, inner_width = draw(st.integers(20, 200)), draw(st.integers(20, 120))
        length, width = inner_length + trim.left + trim.right, inner_width + trim.bottom + trim.top
        self.name = name
        inner = self._node(inner_length, inner_width, trim.left, trim.bottom, draw(st.integers(1, 6)))
        self.root = trimmed(JobStock("sheet", length, width, trim), inner, kerf)

    def _node(self, length: int, width: int, x: int, y: int, deep: int) -> Node:
        rip = self.draw(st.booleans())
        extent = width if rip else length
        if not deep or extent < 3 + self.kerf:
            return self._part(length, width, x, y)

        def piece(size: int, at: int) -> Node:
            if self.draw(st.integers(0, 3)) == 0 and at:
                return Spare(length, size) if rip else Spare(size, width)
            if rip:
                return self._node(length, size, x, y + at, deep - 1)
            return self._node(size, width, x + at, y, deep - 1)

        direction = "rip" if rip else "crosscut"
        if self.kerf and self.draw(st.integers(0, 5)) == 0:
            eaten = self.draw(st.integers(1, self.kerf))
            if self.draw(st.booleans()):
                return Cut(length, width, direction, piece(extent - eaten, 0), None)
            return Cut(length, width, direction, None, self._beyond(length, width, x, y, rip, eaten, deep))
        low = self.draw(st.integers(1, extent - self.kerf - 1))
        first = piece(low, 0)
        return Cut(length, width, direction, first, piece(extent - low - self.kerf, low + self.kerf))

    def _beyond(self, length: int, width: int, x: int, y: int, rip: bool, eaten: int, deep: int) -> Node:
        if rip:
            return self._node(length, width - eaten, x, y + eaten, deep - 1)
        return self._node(length - eaten, width, x + eaten, y, deep - 1)

    def _part(self, length: int, width: int, x: int, y: int) -> Node:
        self.pieces.append(f"P{len(self.pieces) % 3}/{self.name}{len(self.pieces)}")
        self.parts[self.pieces[-1]] = (x, y, length, width)
        return Placed(length, width, 0)

    def sheet(self) -> SheetToCut:
        return SheetToCut(self.name, self.root, tuple(self.pieces), self.kerf, trim=self.trim)


@st.composite
def plans(draw: st.DrawFn) -> tuple[int, list[Plan]]:
    kerf = draw(st.integers(0, 4))
    return kerf, [Plan(draw, f"ply-{number}", kerf) for number in range(1, draw(st.integers(1, 2)) + 1)]


EDGES: tuple[Edge, ...] = ("left", "right", "bottom", "top")


def play(steps: tuple[Step, ...], laid: list[Plan], kerf: int) -> dict[str, tuple[str, Made]]:
    """Cut for cut as a person would: what is on hand at the end, with the sheet that it came from."""
    sizes = {plan.name: (plan.root.length, plan.root.width) for plan in laid}
    trims = {plan.name: plan.trim for plan in laid}
    on_hand = {id: (id, Made(id, 0, 0, length, width, "blank")) for id, (length, width) in sizes.items()}
    seen = set(on_hand)
    true_edges: dict[str, set[Edge]] = {id: set() for id in on_hand}
    for number, step in enumerate(steps, 1):
        assert step.number == number
        assert step.kerf == kerf
        sheet, piece = on_hand.pop(step.piece)
        assert sheet == step.sheet
        assert piece.use == "blank"
        first, *others = step.pieces
        rip = step.direction == "rip"
        assert step.edge in (("bottom", "top") if rip else ("left", "right"))
        whole, at, start = (piece.width, first.y, piece.y) if rip else (piece.length, first.x, piece.x)
        at_low = step.edge in ("bottom", "left")
        # The first piece lies against the fence, which stands its size away from the blade.
        assert step.fence == (first.width if rip else first.length)
        assert at == (start if at_low else start + whole - step.fence)
        remains = whole - step.fence - kerf
        assert 0 < step.fence < whole
        if remains <= 0:
            assert not others
        else:
            (other,) = others
            assert (other.width if rip else other.length) == remains
            assert (other.y if rip else other.x) == (start + step.fence + kerf if at_low else start)
            if other.use != "waste":
                assert first.use != "waste", "the waste lies between fence and blade"
                opposite = {"left": "right", "right": "left", "bottom": "top", "top": "bottom"}[step.edge]
                rough = {edge for edge in EDGES if trims[sheet][EDGES.index(edge)]} - true_edges[step.piece]
                if first.use != "waste" and opposite not in rough:
                    assert step.edge not in rough, "an edge that is to be trimmed lies against the fence"
        for made in step.pieces:
            if rip:
                assert (made.x, made.length) == (piece.x, piece.length), "the cut runs edge to edge"
            else:
                assert (made.y, made.width) == (piece.y, piece.width), "the cut runs edge to edge"
            assert made.id not in seen
            seen.add(made.id)
            on_hand[made.id] = (sheet, made)
            low_made = (made.y == piece.y) if rip else (made.x == piece.x)
            sawn: Edge = ("top" if low_made else "bottom") if rip else ("right" if low_made else "left")
            true_edges[made.id] = true_edges[step.piece] | {sawn}
    return on_hand
