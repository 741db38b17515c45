"""Edits: each gives a new design and leaves the old one as it was."""

from __future__ import annotations

import pytest
from designs import GOODS, carcass, design
from hypothesis import given, settings
from hypothesis import strategies as st

from core import edits
from core.goods import Banding
from core.mistakes import Mistake
from core.project import Bay, Carcass, CutMade, Design, Facts, Gap


def test_a_value_deep_in_a_design_is_changed_and_nothing_else() -> None:
    of = design(carcass("A", "24", "34", "20", Bay(), Bay("3")))
    changed = edits.set_value(of, ("row", 0, "bays", 1, "width"), "4")
    assert edits.value_at(changed, ("row", 0, "bays", 1, "width")) == "4"
    assert edits.value_at(of, ("row", 0, "bays", 1, "width")) == "3"
    assert edits.set_value(changed, ("row", 0, "bays", 1, "width"), "3") == of
    assert edits.set_value(of, (), changed) is changed


def test_into_and_out_of_tuples_and_mappings() -> None:
    of = design(carcass("A"), carcass("B"))
    gap = Gap("G", "Open")
    assert [item.id for item in edits.add_at(of, ("row",), gap, 1).row] == ["A", "G", "B"]
    assert edits.remove_at(edits.add_at(of, ("row",), gap, 1), ("row", 1)) == of
    named = edits.set_value(of, ("dimensions", "gap"), "3")
    assert dict(named.dimensions) == {"gap": "3"} and dict(of.dimensions) == {}
    assert edits.remove_at(named, ("dimensions", "gap")) == of
    assert edits.remove_at(of, ("dimensions", "gap")) == of


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 3), st.integers(-5, 5))
def test_moving_an_item_goes_no_further_than_the_ends(at: int, by: int) -> None:
    of = design(*(carcass(id) for id in "ABCD"))
    moved = [item.id for item in edits.move_at(of, ("row", at), by).row]
    assert moved.index("ABCD"[at]) == max(0, min(3, at + by))
    assert [id for id in moved if id != "ABCD"[at]] == [id for id in "ABCD" if id != "ABCD"[at]]


def test_ids_are_short_and_not_taken() -> None:
    taken: list[str] = []
    for _ in range(50):
        taken.append(edits.new_id(taken))
    assert taken[:8] == list("ABCDEFGH") and "I" not in taken and "O" not in taken
    assert taken[24] == "A2"
    assert len(set(taken)) == 50


def test_whatever_is_added_has_an_id_of_its_own() -> None:
    of = design(carcass("B"))
    of = edits.add_carcass(of, "New", "20", "30", "20", 0)
    of = edits.add_gap(of, "Open", "10")
    of = edits.copy_item(of, 0)
    of = edits.add_top(of, "Top", "ply")
    of = edits.add_top(of, "Shelf", "ply")
    of = edits.add_loose(of, "Cleat", "ply", "10", "3")
    ids = edits.ids_of(of)
    assert ids == ["A", "D", "B", "C", "W", "W2", "L"]
    # A new carcass has a bay, whose shelves can be asked for at once.
    assert isinstance(of.row[0], Carcass) and of.row[0].bays == (Bay(),)


def test_names_that_are_taken() -> None:
    of = design(dimensions={"gap": "3"})
    for key in ("ply", "gap"):
        with pytest.raises(Mistake, match="is taken already"):
            edits.add_material(of, key, GOODS["ply"])
    with pytest.raises(Mistake, match="is taken already"):
        edits.add_banding(of, "tape", Banding("Tape"))
    assert "oak" in edits.add_material(of, "oak", GOODS["ply"]).materials
    assert "oak" in edits.add_banding(of, "oak", Banding("Oak")).bandings


def test_rules_of_the_project_and_of_one_carcass() -> None:
    of = design(carcass("A"), carcass("B"))
    mine = edits.set_rule(of, "top", "rails", 1)
    assert isinstance(mine.row[0], Carcass) and isinstance(mine.row[1], Carcass)
    assert (mine.row[0].rules, mine.row[1].rules) == ({}, {"top": "rails"})
    assert edits.set_rule(mine, "top", None, 1) == of
    assert edits.set_rule(of, "top", "none").rules["top"] == "none"


def test_ticks_are_facts() -> None:
    cut = CutMade("ply-1", "ply-1", ("ply-1.1",), "2026-01-01T10:00:00")
    other = CutMade("ply-2", "ply-2", ("ply-2.1",), "2026-01-01T10:01:00")
    facts = Facts(cuts=(cut, other))
    assert edits.untick(facts, "ply-1", "ply-1").cuts == (other,)


def test_the_fields_of_a_design_in_their_order() -> None:
    assert edits.field_names(Design("x"))[:3] == ["name", "unit", "show"]
