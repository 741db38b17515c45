"""A box that hangs on the wall: nothing low on the wall is cut out of it, and the wall has to hold it."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from designs import GOODS, INCH, carcass, design, parts_of, plan_of, size

from core.build import build_steps
from core.checks import run_checks
from core.checks.finding import Finding
from core.construction.part import Part
from core.project import Carcass, Design, EndPanel
from core.space import Baseboard, Obstacle, Reading, Space

ROOM = Space(
    readings=(Reading("width", "30"), Reading("depth", "14"), Reading("height", "96")),
    baseboards=(Baseboard("back", "5 1/2", "5/8"),),
    floor_out_of_level="1/4",
    obstacles=(
        Obstacle("outlet", "back", "6", "12", "2 3/4", "4 1/2", called="low outlet"),
        Obstacle("outlet", "back", "6", "60", "2 3/4", "4 1/2", called="high outlet"),
    ),
)


def hung(**rules: str) -> Design:
    """A wall cabinet, 30 high, with its underside 54 over the floor: 18 over a worktop at 36; common practice."""
    box = carcass("A", "30", "30", "13", **{"base": "none", "above_floor": "54", "nailers": "top", **rules})
    weighed = {key: replace(one, density="600") for key, one in GOODS.items()}
    return design(box, space=ROOM, materials=weighed)


def is_notched(part: Part) -> bool:
    """Whether a corner is cut out of it."""
    return any(cut.kind == "notch" for cut in part.machining)


def found(of: Design, check: str) -> list[Finding]:
    """What a check finds."""
    return [one for one in run_checks(plan_of(of).worked) if one.check == check]


def test_what_is_low_on_the_wall_is_not_cut_out_of_it() -> None:
    parts = parts_of(hung())
    # Applied back 1/4: sides 12 3/4 deep, as deep as the bottom, and 30 high, without a notch.
    assert size(parts["A side left"]) == (30, Fraction("12.75")) and not is_notched(parts["A side left"])
    assert size(parts["A bottom"])[1] == Fraction("12.75")
    assert size(parts["A back"]) == (30, 30)
    assert [cut.place for cut in parts["A back"].machining] == ["for the high outlet"]
    # The same box on the floor is shortened by the board, 5 1/2 and 1/8 of air.
    low = parts_of(hung(above_floor="0"))
    assert is_notched(low["A side left"]) and size(low["A bottom"])[1] < Fraction("12.75")
    assert size(low["A back"])[0] < 30


def test_the_wall_has_to_hold_it() -> None:
    (told,) = found(hung(), "hanging")
    assert (told.result, told.about) == ("ok", "carcass A, 54 in above the floor")
    assert not found(hung(), "tipping") and not found(hung(), "floor"), "it stands on nothing"
    assert found(hung(above_floor="0"), "tipping") and not found(hung(above_floor="0"), "hanging")
    (bare,) = found(hung(nailers="none"), "hanging")
    assert bare.result == "warn" and bare.because.endswith("no nailer, nor a back thick enough, to screw through")
    assert bare.mended_at == ("row", "A", "rules", "nailers")
    (thick,) = found(hung(nailers="none", back_panel="ply"), "hanging")
    assert thick.result == "ok"
    (step,) = (one for one in build_steps(plan_of(hung())) if "ledger" in one.text)
    assert "A 54 in" in step.text and "it can fall" in step.caution
    assert not any("ledger" in one.text for one in build_steps(plan_of(hung(above_floor="0"))))


def test_an_end_panel_beside_it_begins_where_it_does() -> None:
    box = hung().row[0]
    assert isinstance(box, Carcass)
    panel = EndPanel("Z", "End", "ply")
    beside = replace(hung(), row=(replace(box, width="29 1/4"), panel))
    part = parts_of(beside)["Z end panel"]
    assert part.box.low[2] == 54 * INCH and size(part) == (30, 13)
    assert part.allowance == (0, 0) and not is_notched(part), "nothing is scribed to a floor"
    (step,) = (one for one in build_steps(plan_of(beside)) if "end panels" in one.text)
    assert "cribe" not in step.text


def test_a_box_on_the_floor_before_a_high_baseboard_is_asked_whether_it_hangs() -> None:
    # The back ends at 5 1/2 and the 1/8 of air: hung so high, the board is below it.
    (told,) = found(hung(above_floor="0", back="let in"), "baseboard")
    assert told.mend[0] == "above floor 5 5/8 in or more, if it hangs"
    assert told.mended_at == ("row", "A", "rules", "above_floor")
    (mended,) = found(hung(above_floor="5 5/8", back="let in"), "baseboard")
    assert mended.result == "ok"
