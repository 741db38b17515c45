"""Every order of cuts is played here, step by step, by a player that knows nothing of trees."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.cuts.order import offcuts_of, order_of
from core.cuts.steps import Edge, Keeping, Made, Offcut, SheetToCut, Step
from core.layout.job import JobStock, JobTrim
from core.layout.tree import Cut, Node, Placed, Spare, trimmed

KEEPING = Keeping(shorter=10, longer=30)
Rectangle = tuple[int, int, int, int]


class Plan:
    """A sheet made up at random, with the places of its parts written down while it is made."""

    def __init__(self, draw: st.DrawFn, name: str, kerf: int) -> None:
        self.draw = draw
        self.kerf = kerf
        self.parts: dict[str, Rectangle] = {}
        self.pieces: list[str] = []
        trim = JobTrim(*(draw(st.just(0) | st.integers(max(kerf, 1), kerf + 5)) for _ in range(4)))
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
        return SheetToCut(self.name, self.root, tuple(self.pieces))


@st.composite
def plans(draw: st.DrawFn) -> tuple[int, list[Plan]]:
    kerf = draw(st.integers(0, 4))
    return kerf, [Plan(draw, f"ply-{number}", kerf) for number in range(1, draw(st.integers(1, 2)) + 1)]


def play(steps: tuple[Step, ...], sheets: dict[str, tuple[int, int]], kerf: int) -> dict[str, tuple[str, Made]]:
    """Cut for cut as a person would: what is on hand at the end, with the sheet that it came from."""
    on_hand = {id: (id, Made(id, 0, 0, length, width, "blank")) for id, (length, width) in sheets.items()}
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
                if first.use != "waste" and opposite in true_edges[step.piece]:
                    assert step.edge in true_edges[step.piece], "a factory edge lies against the fence"
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


@settings(max_examples=200, deadline=None)
@given(plans())
def test_every_order_frees_every_part_where_it_lies(drawn: tuple[int, list[Plan]]) -> None:
    kerf, laid = drawn
    sheets = [plan.sheet() for plan in laid]
    steps = order_of(sheets, kerf, KEEPING, "saw")
    assert order_of(sheets, kerf, KEEPING, "saw") == steps
    on_hand = play(steps, {plan.name: (plan.root.length, plan.root.width) for plan in laid}, kerf)
    for plan in laid:
        came = {id: made for id, (sheet, made) in on_hand.items() if sheet == plan.name}
        if isinstance(plan.root, Cut):
            parts = {id: (made.x, made.y, made.length, made.width) for id, made in came.items() if made.use == "part"}
            assert parts == plan.parts
            assert all(made.part == id.split("/")[0] for id, made in came.items() if made.use == "part")
        for made in came.values():
            assert made.use != "blank" or made.id == plan.name
            if made.use in ("offcut", "waste"):
                assert KEEPING.worth_keeping(made.length, made.width) == (made.use == "offcut")
        left = [
            Offcut(m.x, m.y, m.length, m.width, m.use == "offcut")
            for m in came.values()
            if m.use in ("offcut", "waste")
        ]
        assert Counter(left) == Counter(offcuts_of(plan.root, kerf, KEEPING))


@settings(max_examples=200, deadline=None)
@given(plans())
def test_of_two_kept_pieces_the_one_of_final_size_lies_at_the_fence(drawn: tuple[int, list[Plan]]) -> None:
    kerf, laid = drawn
    steps = order_of([plan.sheet() for plan in laid], kerf, KEEPING, "saw")
    cuts = {step.piece: step for step in steps}

    def final(id: str, direction: str) -> bool:
        if id not in cuts:
            return True
        return cuts[id].direction != direction and all(final(made.id, direction) for made in cuts[id].pieces)

    sawn: dict[str, set[Edge]] = {}
    for step in sorted(steps, key=lambda step: (step.sheet, len(chain(step.piece, steps)))):
        here = sawn.get(step.piece, set())
        ends: tuple[Edge, Edge] = ("bottom", "top") if step.direction == "rip" else ("left", "right")
        opposite = ends[step.edge == ends[0]]
        for made in step.pieces:
            sawn[made.id] = here | {opposite if made is step.pieces[0] else step.edge}
        if len(step.pieces) < 2 or "waste" in {made.use for made in step.pieces}:
            continue
        at_fence, beyond = (final(made.id, step.direction) for made in step.pieces)
        if beyond and not at_fence:
            assert step.edge in here and opposite not in here, "a blank that is cut again lies at the fence"


def chain(piece: str, steps: tuple[Step, ...]) -> list[Step]:
    """The steps that made a piece, the last one first."""
    maker = next((step for step in steps if any(made.id == piece for made in step.pieces)), None)
    return [maker, *chain(maker.piece, steps)] if maker else []


def test_the_strip_that_is_done_lies_at_the_fence_and_not_the_blank_below_it() -> None:
    blank = Cut(60, 30, "crosscut", Cut(29, 30, "rip", Placed(29, 12, 0), Placed(29, 17, 0)), Placed(30, 30, 0))
    root = Cut(60, 51, "rip", blank, Placed(60, 20, 1))
    steps = order_of([SheetToCut("s", root, ("A/1", "A/2", "A/3", "B/1"))], 1, KEEPING, "saw")
    assert (steps[0].edge, steps[0].fence, steps[0].pieces[0].id) == ("top", 20, "B/1")


@settings(max_examples=50, deadline=None)
@given(plans())
def test_sheets_are_cut_one_after_another(drawn: tuple[int, list[Plan]]) -> None:
    kerf, laid = drawn
    order = [step.sheet for step in order_of([plan.sheet() for plan in laid], kerf, KEEPING, "saw")]
    assert order == sorted(order)


@settings(max_examples=50, deadline=None)
@given(plans())
def test_a_piece_is_called_the_same_whatever_else_is_cut(drawn: tuple[int, list[Plan]]) -> None:
    kerf, laid = drawn
    together = order_of([plan.sheet() for plan in laid], kerf, KEEPING, "saw")
    alone = order_of([laid[-1].sheet()], kerf, Keeping(1, 1), "another saw")
    ids = [made.id for step in together if step.sheet == laid[-1].name for made in step.pieces]
    assert sorted(ids) == sorted(made.id for step in alone for made in step.pieces)


def cabinet(trim: JobTrim) -> SheetToCut:
    """Two strips of two shelves each and a rail, out of 96 by 50 with a blade of 1."""
    shelf, rail = Placed(40, 12, 0), Placed(60, 5, 1)
    inner_length, inner_width = 96 - trim.left - trim.right, 50 - trim.bottom - trim.top

    def strip() -> Cut:
        rest = Cut(inner_length - 41, 12, "crosscut", shelf, Spare(inner_length - 82, 12))
        return Cut(inner_length, 12, "crosscut", shelf, rest)

    rail_strip = Cut(inner_length, 5, "crosscut", rail, Spare(inner_length - 61, 5))
    above = Cut(inner_length, inner_width - 26, "rip", rail_strip, Spare(inner_length, inner_width - 32))
    inner = Cut(inner_length, inner_width, "rip", strip(), Cut(inner_length, inner_width - 13, "rip", strip(), above))
    root = trimmed(JobStock("sheet", 96, 50, trim), inner, 1)
    return SheetToCut("ply-1", root, ("A/1", "A/2", "A/3", "A/4", "B/1"))


def settings_of(steps: tuple[Step, ...]) -> list[tuple[str, int]]:
    return [(step.direction, step.fence) for step in steps]


def test_strips_are_ripped_before_they_are_crosscut_and_equal_cuts_follow_one_another() -> None:
    steps = order_of([cabinet(JobTrim())], 1, KEEPING, "saw")
    assert settings_of(steps) == [
        ("rip", 12),
        ("rip", 12),
        ("rip", 5),
        ("crosscut", 40),
        ("crosscut", 40),
        ("crosscut", 40),
        ("crosscut", 40),
        ("crosscut", 60),
    ]


def test_trims_come_first_with_the_keeper_against_the_fence() -> None:
    steps = order_of([cabinet(JobTrim(2, 2, 2, 2))], 1, KEEPING, "saw")
    trims = steps[:4]
    assert [(step.direction, step.edge, step.fence) for step in trims] == [
        ("rip", "bottom", 48),
        ("rip", "top", 46),
        ("crosscut", "left", 94),
        ("crosscut", "right", 92),
    ]
    assert [[made.use for made in step.pieces] for step in trims] == [["blank", "waste"]] * 4


def test_a_trim_as_wide_as_the_blade_leaves_no_sliver() -> None:
    steps = order_of([cabinet(JobTrim(bottom=1, top=1))], 1, KEEPING, "saw")
    assert [len(step.pieces) for step in steps[:2]] == [1, 1]


def test_two_keepers_are_ripped_with_the_sawn_edge_against_the_fence() -> None:
    two = Cut(60, 41, "rip", Placed(60, 20, 0), Placed(60, 20, 0))
    raw = order_of([SheetToCut("s", two, ("A/1", "A/2"))], 1, KEEPING, "saw")
    assert raw[0].edge == "bottom"
    sawn_above = trimmed(JobStock("sheet", 60, 44, JobTrim(top=3)), two, 1)
    assert order_of([SheetToCut("s", sawn_above, ("A/1", "A/2"))], 1, KEEPING, "saw")[1].edge == "top"


def test_an_offcut_worth_keeping_is_no_waste() -> None:
    root = Cut(60, 50, "rip", Spare(60, 29), Placed(60, 20, 0))
    (kept,) = order_of([SheetToCut("s", root, ("A/1",))], 1, Keeping(29, 60), "saw")
    assert [made.use for made in kept.pieces] == ["offcut", "part"]
    (wasted,) = order_of([SheetToCut("s", root, ("A/1",))], 1, Keeping(30, 60), "saw")
    assert [made.use for made in wasted.pieces] == ["part", "waste"]
    assert wasted.edge == "top"


def test_a_sheet_that_is_a_part_needs_no_cut() -> None:
    assert order_of([SheetToCut("s", Placed(60, 20, 0), ("A/1",))], 1, KEEPING, "saw") == ()


@pytest.mark.parametrize("size", [(9, 40), (10, 29)])
def test_keeping_asks_for_both_sides(size: tuple[int, int]) -> None:
    assert not KEEPING.worth_keeping(*size)
    assert not KEEPING.worth_keeping(*reversed(size))
    assert replace(KEEPING, shorter=9, longer=29).worth_keeping(*size)
