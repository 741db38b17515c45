"""Sizes that the tape does not tell apart: found, and made one."""

from __future__ import annotations

from dataclasses import replace

from designs import design, inches, plan_of

from core import edits
from core.evening import near_sizes
from core.lengths import Notation
from core.project import Design, Evened, LoosePart

SIXTEENTHS = Notation.read("in 1/16", "in")


def boards(*widths: str, show: str = "in 1/16") -> Design:
    loose = tuple(LoosePart(f"L{n}", f"Board {n}", "ply", "40", width) for n, width in enumerate(widths))
    return design(loose=loose, show=show)


def found(of: Design) -> list[tuple[str, str]]:
    plan = plan_of(of)
    assert [str(problem) for problem in plan.problems] == []
    return [one.codes for one in near_sizes(plan.kinds, plan.worked.notation)]  # type: ignore[misc]


def test_two_sizes_less_than_a_step_apart_are_pointed_out_with_their_parts() -> None:
    assert found(boards("10", "10 1/32")) == [(("L1",), ("L2",))]
    assert found(boards("10", "10 1/16")) == []
    assert found(boards("10", "10")) == []
    # With a finer tape they are two sizes.
    assert found(boards("10", "10 1/32", show="in 1/32")) == []


def test_sizes_of_two_materials_are_not_compared() -> None:
    of = boards("10", "10 1/32")
    of = replace(of, loose=(of.loose[0], replace(of.loose[1], material="mdf")))
    assert found(of) == []


def test_sizes_made_one_are_cut_as_one_and_the_finished_size_stays_what_was_asked() -> None:
    of = edits.make_one(boards("10", "10 1/32"), "ply", "10 1/32 in", "10 in")
    assert found(of) == []
    one, other = (kind.part for kind in plan_of(of).kinds)
    assert one.blank_width == other.blank_width == inches("10")
    assert other.width == inches("10 1/32")


def test_a_size_made_one_again_takes_with_it_what_was_cut_as_it() -> None:
    of = edits.make_one(boards("10", "10 1/32", "10 3/64"), "ply", "10 1/32 in", "10 3/64 in")
    of = edits.make_one(of, "ply", "10 3/64 in", "10 in")
    assert {kind.part.blank_width for kind in plan_of(of).kinds} == {inches("10")}


def test_sizes_that_the_tape_tells_apart_are_not_made_one() -> None:
    of = replace(boards("10", "10 1/4"), evened=(Evened("ply", "10 1/4", "10"),))
    (problem,) = plan_of(of).problems
    assert str(problem) == "sizes made one, ply: 10 1/4 and 10 are 1/4 in apart, and the tape tells them apart"
