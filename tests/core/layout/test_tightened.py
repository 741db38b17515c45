"""Strips that are made no wider than what lies in them."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st
from layout_jobs import check, jobs

from core.layout.block import Block, Leaf, Member, sizes_of
from core.layout.finish import layout_of
from core.layout.first import first_filling
from core.layout.fitter import Filling, Fitter
from core.layout.job import Job, JobPart, JobStock
from core.layout.ruin import ruined
from core.layout.shape import shape_of
from core.layout.strip import board_with, laid_in


def tightened(block: Block, fitter: Fitter) -> Block:
    return board_with(laid_in(block), block.length, block.width, fitter.rooms)


def test_what_a_strip_does_not_need_any_more_comes_to_what_is_free_beside_it() -> None:
    parts = (JobPart("wide", 60, 40, 1, False), JobPart("narrow", 30, 25, 1, False))
    fitter = Fitter(Job("1", 0, parts, (JobStock("board", 100, 100),)))
    rooms = fitter.rooms
    # A strip that was begun with the wide piece, which is gone.
    narrow = Block(30, 40, True, (Leaf(30, 25, 1),), rooms.of(30, 15))
    strip = Block(100, 40, False, (narrow,), rooms.of(70, 40))
    tight = tightened(Block(100, 100, True, (strip,), rooms.of(100, 60)), fitter)
    # By hand: 25 wide it leaves 75 above it.
    assert {(room.length, room.width) for room in tight.rooms} == {(100, 75), (70, 25)}


SHELVES = Job(
    "1",
    3,
    tuple(JobPart(f"P{size}", 200 + 53 * size, 90 + 31 * size, 3, True) for size in range(9)),
    (JobStock("sheet", 1220, 610),),
)


def test_it_is_done_as_often_as_is_asked() -> None:
    fitter = Fitter(SHELVES)
    filling = first_filling(fitter)

    def changed(often: float) -> list[Block]:
        drafts = [ruined(filling, None, fitter, tightened=often) for _ in range(60)]
        return [block for draft in drafts for block in draft.blocks if block not in filling.blocks]

    def tight(blocks: list[Block]) -> list[bool]:
        return [shape_of(block) == shape_of(tightened(block, fitter)) for block in blocks]

    assert all(tight(changed(often=1)))
    assert not all(tight(changed(often=0)))


def extents(member: Member) -> tuple[int, int]:
    """How much of the two directions its pieces take, wherever the room in it lies."""
    if isinstance(member, Leaf):
        return member.length, member.width
    lengths, widths = zip(*map(extents, member.members), strict=True)
    return (max(lengths), sum(widths)) if member.rip else (sum(lengths), max(widths))


@settings(max_examples=80, deadline=None)
@given(jobs(), st.integers(1, 5))
def test_the_same_pieces_lie_on_the_same_sheets_and_can_be_cut(job: Job, times: int) -> None:
    fitter = Fitter(job)
    filling = first_filling(fitter)
    for _ in range(times):
        filling = ruined(filling, None, fitter).settled()
    blocks = [tightened(block, fitter) for block in filling.blocks]
    for tight, block in zip(blocks, filling.blocks, strict=True):
        assert sorted(sizes_of(tight)) == sorted(sizes_of(block))
        assert extents(tight) == extents(block)
    check(job, layout_of(job, fitter, Filling(filling.boards, tuple(blocks), filling.missing), 0))
