"""Every order of cuts is played here, step by step, by a player that knows nothing of trees."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from laid_out import HANDLED, KEEPING, Plan, order, plans, play

from core.cuts.order import offcuts_of, order_of
from core.cuts.saws import ShopSaw
from core.cuts.steps import Edge, Keeping, Offcut, SheetToCut, Step
from core.layout.job import JobStock, JobTrim
from core.layout.tree import Cut, Placed, Spare, trimmed


@settings(max_examples=200, deadline=None)
@given(plans())
def test_every_order_frees_every_part_where_it_lies(drawn: tuple[int, list[Plan]]) -> None:
    kerf, laid = drawn
    sheets = [plan.sheet() for plan in laid]
    steps = order(sheets)
    assert order(sheets) == steps
    on_hand = play(steps, laid, kerf)
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
        assert Counter(left) == Counter(offcuts_of(plan.root, KEEPING))


@settings(max_examples=200, deadline=None)
@given(plans())
def test_of_two_kept_pieces_the_one_of_final_size_lies_at_the_fence(drawn: tuple[int, list[Plan]]) -> None:
    _, laid = drawn
    steps = order([plan.sheet() for plan in laid])
    cuts = {step.piece: step for step in steps}
    offcuts = {made.id for step in steps for made in step.pieces if made.use == "offcut"}

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
        at_fence, beyond = (made.id not in offcuts and final(made.id, step.direction) for made in step.pieces)
        if beyond and not at_fence:
            assert step.edge in here and opposite not in here, "a blank that is cut again lies at the fence"


def chain(piece: str, steps: tuple[Step, ...]) -> list[Step]:
    """The steps that made a piece, the last one first."""
    maker = next((step for step in steps if any(made.id == piece for made in step.pieces)), None)
    return [maker, *chain(maker.piece, steps)] if maker else []


def test_the_strip_that_is_done_lies_at_the_fence_and_not_the_blank_below_it() -> None:
    blank = Cut(60, 30, "crosscut", Cut(29, 30, "rip", Placed(29, 12, 0), Placed(29, 17, 0)), Placed(30, 30, 0))
    root = Cut(60, 51, "rip", blank, Placed(60, 20, 1))
    steps = order([SheetToCut("s", root, ("A/1", "A/2", "A/3", "B/1"), 1)])
    assert (steps[0].edge, steps[0].fence, steps[0].pieces[0].id) == ("top", 20, "B/1")


@settings(max_examples=50, deadline=None)
@given(plans())
def test_a_piece_is_called_the_same_whatever_else_is_cut(drawn: tuple[int, list[Plan]]) -> None:
    _, laid = drawn
    together = order([plan.sheet() for plan in laid])
    alone = order([laid[-1].sheet()], Keeping(1, 1))
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
    return SheetToCut(
        "ply-1", root, ("A/1", "A/2", "A/3", "A/4", "B/1"), 1, trim=(trim.left, trim.right, trim.bottom, trim.top)
    )


def settings_of(steps: tuple[Step, ...]) -> list[tuple[str, int]]:
    return [(step.direction, step.fence) for step in steps]


def test_strips_are_ripped_before_they_are_crosscut_and_equal_cuts_follow_one_another() -> None:
    steps = order([cabinet(JobTrim())])
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


def test_a_cut_that_only_saves_an_offcut_waits_with_what_is_held_back() -> None:
    # Beyond the door lies a bad place, and beyond that a clean offcut.
    saved = Cut(55, 12, "crosscut", Spare(5, 12), Spare(49, 12))
    door = Cut(96, 12, "crosscut", Placed(40, 12, 0), saved)
    side = Cut(96, 12, "crosscut", Placed(40, 12, 1), Spare(55, 12))
    root = Cut(96, 50, "rip", door, Cut(96, 37, "rip", side, Spare(96, 24)))
    sheet = SheetToCut("ply-1", root, ("D/1", "S/1"), 1)
    saw = ShopSaw("saw", "any", Fraction(1))
    steps = order_of([sheet], [saw], KEEPING, HANDLED, frozenset({"D"}))
    assert [step.held for step in steps] == [False, False, False, True, True]
    assert [made.part for made in steps[3].pieces] == ["D", None]
    assert [made.use for made in steps[4].pieces] == ["offcut", "waste"]


def test_trims_come_first_with_the_keeper_against_the_fence() -> None:
    steps = order([cabinet(JobTrim(2, 2, 2, 2))])
    trims = steps[:4]
    assert [(step.direction, step.edge, step.fence) for step in trims] == [
        ("rip", "bottom", 48),
        ("rip", "top", 46),
        ("crosscut", "left", 94),
        ("crosscut", "right", 92),
    ]
    assert [[made.use for made in step.pieces] for step in trims] == [["blank", "waste"]] * 4


def test_a_trim_as_wide_as_the_blade_leaves_no_sliver() -> None:
    steps = order([cabinet(JobTrim(bottom=1, top=1))])
    assert [len(step.pieces) for step in steps[:2]] == [1, 1]


def test_two_keepers_are_ripped_with_the_sawn_edge_against_the_fence() -> None:
    two = Cut(60, 41, "rip", Placed(60, 20, 0), Placed(60, 20, 0))
    raw = order([SheetToCut("s", two, ("A/1", "A/2"), 1)])
    assert raw[0].edge == "bottom"
    sawn_above = trimmed(JobStock("sheet", 60, 44, JobTrim(top=3)), two, 1)
    assert order([SheetToCut("s", sawn_above, ("A/1", "A/2"), 1)])[1].edge == "top"


def test_of_two_ways_that_are_as_good_the_one_that_is_on_paper_stays() -> None:
    # Which end lies at the fence is all the same here, so the size that another sheet asks for decides.
    two_parts = Cut(80, 41, "rip", Placed(80, 20, 0), Placed(80, 20, 0))
    sheets = [
        SheetToCut("ply-1", Cut(80, 61, "rip", Placed(80, 40, 1), Placed(80, 20, 0)), ("B/1", "A/1"), 1),
        SheetToCut("ply-2", two_parts, ("A/2", "A/3"), 1),
    ]
    saws = [ShopSaw("saw", "any", Fraction(1))]
    assert [step.fence for step in order_of(sheets, saws, KEEPING, HANDLED)] == [20, 20]
    on_paper: dict[str, Edge] = {"ply-1": "bottom", "ply-2": "left"}
    steps = order_of(sheets, saws, KEEPING, HANDLED, settled=on_paper)
    edges = {step.piece: (step.edge, step.fence) for step in steps}
    assert edges["ply-1"] == ("bottom", 40)
    assert edges["ply-2"][1] == 20, "an edge that a rip cannot be measured from says nothing"


def test_an_offcut_worth_keeping_is_no_waste() -> None:
    root = Cut(60, 50, "rip", Spare(60, 29), Placed(60, 20, 0))
    (kept,) = order([SheetToCut("s", root, ("A/1",), 1)], Keeping(29, 60))
    assert [made.use for made in kept.pieces] == ["part", "offcut"]
    (wasted,) = order([SheetToCut("s", root, ("A/1",), 1)], Keeping(30, 60))
    assert [made.use for made in wasted.pieces] == ["part", "waste"]
    assert wasted.edge == "top"


def test_a_sheet_that_is_a_part_needs_no_cut() -> None:
    assert order([SheetToCut("s", Placed(60, 20, 0), ("A/1",), 1)]) == ()


@pytest.mark.parametrize("size", [(9, 40), (10, 29)])
def test_keeping_asks_for_both_sides(size: tuple[int, int]) -> None:
    assert not KEEPING.worth_keeping(*size)
    assert not KEEPING.worth_keeping(*reversed(size))
    assert replace(KEEPING, shorter=9, longer=29).worth_keeping(*size)
