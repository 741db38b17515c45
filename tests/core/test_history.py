"""What went another way is told in its place among the cuts that were made."""

from __future__ import annotations

from dataclasses import replace

from designs import design
from shop import Shop

from core.accidents import spoil
from core.amending import after
from core.cutting import last_made
from core.outputs import cuts_document
from core.printing import cuts_text, history_in_words
from core.project import CutMade, Facts, LoosePart, Mishap, PastStep


def past(number: int, when: str) -> PastStep:
    makes = (f"ply-1.{number} blank 0 0 10 10", "ply-1.99 waste 0 0 1 1")
    return PastStep(number, "ply-1", "ply-1", "saw", "rip", 10, "left", 1, "1", makes, when)


def test_what_went_another_way_stands_between_the_cuts_before_it_and_those_after() -> None:
    shop = Shop(design(loose=(LoosePart("L1", "Board", "ply", "40", "10", 3),)))
    history = (past(1, "2026-01-01T10:00:00"), past(2, "2026-01-01T10:05:00"), past(7, "2026-01-02T09:00:00"))
    mishaps = (Mishap("S1/1 is spoiled", 2, "2026-01-01T10:05:00"), Mishap("ply is really 18 mm thick", 0, "2025"))
    plan = shop.store(history=history, mishaps=mishaps)
    assert history_in_words(plan) == [
        "3 cuts made before the plan was changed",
        "    ! before the first cut, 2025: ply is really 18 mm thick",
        "    1  rip       ply-1: ply-1.1 + waste",
        "    2  rip       ply-1: ply-1.2 + waste",
        "    ! after step 2, 2026-01-01 10:05: S1/1 is spoiled",
        "    7  rip       ply-1: ply-1.7 + waste",
    ]
    assert "    ! after step 2, 2026-01-01 10:05: S1/1 is spoiled" in cuts_text(plan, 100, True)
    assert cuts_document(plan)["mishaps"][0] == {
        "said": "S1/1 is spoiled",
        "after_step": 2,
        "when": "2026-01-01T10:05:00",
    }


def test_before_anything_is_cut_something_may_go_another_way_too() -> None:
    shop = Shop(design(loose=(LoosePart("L1", "Board", "ply", "40", "10", 3),)))
    assert history_in_words(shop.plan) == []
    plan = shop.store(mishaps=(Mishap("ply-1 really measures 90 x 48 in", 0, "2026-01-01T10:05:00"),))
    assert history_in_words(plan)[0] == "No cuts made before the plan was changed"


def test_the_last_step_is_the_one_that_was_ticked_last_whatever_its_number() -> None:
    shop = Shop(design(loose=(LoosePart("L1", "Board", "ply", "40", "10", 3),)))
    assert last_made(shop.plan.steps, shop.project.facts) == 0
    shop.tick(1, when="2026-01-01T10:00:00")
    shop.tick(2, when="2026-01-01T09:00:00")
    assert last_made(shop.plan.steps, shop.project.facts) == 1
    shop.tick(3, when="2026-01-01T10:00:00")
    assert last_made(shop.plan.steps, shop.project.facts) == 3, "of those in one second the later one"
    project = after(shop.planner, shop.plan, "ply", lambda facts: spoil(facts, "L1/1"))
    assert not project.facts.cuts
    assert last_made((), project.facts) == 3, "also once it is history"
    gone = replace(Facts(), cuts=(CutMade("ply-9", "ply-9", (), "2026"),))
    assert last_made(shop.plan.steps, gone) == 0, "a tick of a sheet that is gone has no number"
