"""What a change would do to the parts, as it is told before it is made."""

from __future__ import annotations

from designs import carcass, design, plan_of

from core.construction.codes import place_key
from core.editing.effect import effect
from core.edits import set_rule
from core.project import Design


def told(of: Design, name: str, text: str) -> str:
    plan = plan_of(of)
    codes = {place_key(part): kind.code for kind in plan.kinds for _, part in kind.pieces}
    return effect(plan.worked, codes, set_rule(of, name, text))


def test_the_parts_that_change_by_their_codes_and_what_comes_and_goes() -> None:
    of = design(carcass(base="none", top="none"))
    # The bottom grows into both sides, which are cut for it; the back stays as it is.
    assert told(of, "bottom_joint", "dado") == "changes S1, B1"
    assert told(of, "nailers", "top") == "adds 1 part"
    assert told(of, "back", "none").endswith("takes away 1 part")
    assert told(of, "front_gap", "1/16") == "changes no part"


def test_feet_are_no_parts_and_told_all_the_same() -> None:
    # 47 1/4 from side to side, in two rows: two spaces of 24, or one of 48.
    of = design(carcass("A", "48", base="feet"))
    assert told(of, "plinth_spacing", "48") == "4 feet in the place of 6"


def test_many_parts_are_counted() -> None:
    of = design(*(carcass(id, f"{20 + n}") for n, id in enumerate("ABC")))
    assert told(of, "kick_height", "5").startswith("changes S1, S2, K1, Q1, K2 and ")


def test_what_stands_in_the_way_is_told_instead() -> None:
    of = design(carcass(bottom_joint="dado"))
    assert told(of, "dado_depth", "1/2").startswith("carcass A: a housing 1/2 in deep for the bottom is more than half")
