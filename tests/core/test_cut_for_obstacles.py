"""What is on the walls: parts are cut out for it and still go together, or the design is refused."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from designs import INCH, carcass, design, plan_of
from hypothesis import given, settings
from hypothesis import strategies as st

from core.checks import run_checks
from core.checks.finding import Finding
from core.construction.codes import place_key
from core.construction.part import Part
from core.project import Bay, Design, EndPanel, Filler, Gap, Opening, Top
from core.space import Baseboard, Obstacle, Reading, Space
from core.workings import Worked


def with_pipes(of: Design, *pipes: Obstacle) -> Design:
    """The design before walls with these on them."""
    readings = (Reading("width", "30"), Reading("depth", "24"))
    return replace(of, space=Space(readings=readings, obstacles=pipes))


def test_a_pipe_in_the_corner_that_takes_the_end_of_a_nailer_is_refused_with_what_to_change() -> None:
    # 2 wide and 20 high from the floor, 3 off the wall: all of the side's edge on which the nailer at 4 3/4 would end.
    pipe = Obstacle("pipe", "back", "0", "0", "2", "20", "3")
    (problem,) = plan_of(with_pipes(design(carcass("A", "30", nailers="top and bottom", back="none")), pipe)).problems
    assert str(problem) == (
        "carcass A: what is cut out for the pipe leaves nailer, bottom nothing to meet side, left on; take other "
        "nailers, leave an open bay there, or take cutouts no"
    )
    for mended in ({"nailers": "top"}, {"nailers": "top and bottom", "cutouts": "no"}):
        plan = plan_of(with_pipes(design(carcass("A", "30", back="none", **mended)), pipe))
        assert not plan.problems and not plan.worked.misfits


def sizes(least: int, most: int) -> st.SearchStrategy[str]:
    """Inches in quarters."""
    return st.integers(least * 4, most * 4).map(lambda quarters: f"{quarters}/4")


pipes = st.builds(
    Obstacle,
    st.sampled_from(("pipe", "outlet", "vent", "other")),
    st.sampled_from(("back", "left", "right")),
    sizes(0, 30),
    sizes(0, 36),
    sizes(1, 8),
    sizes(1, 40),
    sizes(0, 6),
)
rules = st.fixed_dictionaries(
    {},
    optional={
        "base": st.sampled_from(("kick", "plinth", "feet", "none")),
        "nailers": st.sampled_from(("none", "top", "top and bottom")),
        "back": st.sampled_from(("none", "applied", "let in", "grooved")),
        "back_reach": st.sampled_from(("bottom", "floor")),
        "top": st.sampled_from(("rails", "panel")),
        "runs_through": st.sampled_from(("sides", "top and bottom")),
        "bottom_joint": st.sampled_from(("butt", "dado")),
        "shelf_joint": st.sampled_from(("butt", "dado", "stopped dado")),
    },
)


@settings(max_examples=250, deadline=None)
@given(rules, st.integers(1, 2), st.integers(0, 2), st.lists(pipes, min_size=1, max_size=3))
def test_wherever_something_is_on_the_walls_the_piece_goes_together_or_is_refused(
    told: dict[str, str], bays: int, shelves: int, on_walls: list[Obstacle]
) -> None:
    of = design(carcass("A", "30", "34 1/2", "23 1/4", *([Bay(fixed_shelves=("even",) * shelves)] * bays), **told))
    plan = plan_of(with_pipes(of, *on_walls))
    assert plan.problems or not plan.worked.misfits


def test_more_shelves_than_lie_on_each_other_are_refused_with_how_many_do() -> None:
    # 30 less 4 of kick, bottom and top 3/4: 24 1/2 of 3/4 is 32 and a bit, and one opening stays open.
    (problem,) = plan_of(design(carcass("A", "24", "30", "12", Bay(adjustable_shelves=45)))).problems
    assert "45 shelves 3/4 in thick would leave no opening in" in str(problem) and "; take 32 or fewer" in str(problem)
    plan = plan_of(design(carcass("A", "24", "30", "12", Bay(fixed_shelves=("even",) * 33))))
    assert "; take 32 or fewer" in str(plan.problems[0])


def test_a_cutout_that_leaves_a_back_no_joint_names_its_margin() -> None:
    pipe = Obstacle("pipe", "back", "15", "0", "2", "8", "1 1/2")
    of = design(carcass("A", "30", base="none", cutout_margin="14 1/2"))
    (problem,) = plan_of(with_pipes(of, pipe)).problems
    assert "nothing to meet bottom on; make cutout margin less, 1/4 in is usual" in str(problem)


def test_a_pipe_in_the_corner_on_a_side_wall_is_cut_out_of_all_that_meets_and_then_covered_by_nothing() -> None:
    pipe = Obstacle("pipe", "right", "0", "0", "2", "12", "2")
    (told,) = (
        one
        for one in run_checks(plan_of(with_pipes(design(carcass("A", "30")), pipe)).worked)
        if one.check == "obstacle"
    )
    assert (told.result, told.because) == ("ok", "cut out of Side, right A, Bottom A, Back A")


def test_a_pipe_low_at_the_wall_is_cut_out_of_the_plinth_and_a_high_one_asks_for_feet() -> None:
    def told(height: str) -> Finding:
        pipe = Obstacle("pipe", "back", "10", "0", "2", height, "3")
        plan = plan_of(with_pipes(design(carcass("A", "30", base="plinth")), pipe))
        assert not plan.problems and not plan.worked.misfits
        return next(one for one in run_checks(plan.worked) if one.check == "obstacle")

    assert (told("2").result, told("2").because) == ("ok", "cut out of Plinth, rear A")
    high = told("20")
    assert (high.result, high.because) == ("fail", "in the place of Plinth, rear A")
    assert high.mend[0] == "feet or a kick in the place of the plinth"


def test_a_top_is_notched_for_a_pipe_that_runs_up_through_it() -> None:
    # The pipe is 10 to 12 along, 3 off the wall; 1/4 of air is left round it. No wall is away: the row begins at 0.
    pipe = Obstacle("pipe", "back", "10", "0", "2", "90", "3")
    of = design(carcass("A", "30", back="none"), tops=(Top("W", "Top", "ply", 2, banding="tape"),))
    plan = plan_of(with_pipes(of, pipe))
    assert not plan.problems and not plan.worked.misfits
    layers = [part for part in plan.worked.placed if part.role == "worktop"]
    assert len(layers) == 2
    for layer in layers:
        (cut,) = layer.machining
        assert (cut.kind, cut.place, cut.depth) == ("notch", "for the pipe", None)
        assert [size / INCH for size in (cut.x, cut.y, cut.length, cut.width)] == [9.75, 20, 2.5, 3.25]
    (told,) = (one for one in run_checks(plan.worked) if one.check == "obstacle")
    assert (told.result, "Top" in told.because) == ("ok", True)
    uncut = plan_of(with_pipes(replace(of, rules={**of.rules, "cutouts": "no"}), pipe))
    assert [part.machining for part in uncut.worked.placed if part.role == "worktop"] == [(), ()]


def told_of(of: Design) -> tuple[Finding, list[str]]:
    """The one finding about obstacles, and what is cut out for an outlet: carcass, role and place of each part."""
    plan = plan_of(of)
    assert not plan.problems and not plan.worked.misfits
    (told,) = (one for one in run_checks(plan.worked) if one.check == "obstacle")
    cut = [part for part in plan.worked.placed if any(cut.place.startswith("for the outlet") for cut in part.machining)]
    return told, [place_key(part) for part in cut]


@pytest.mark.parametrize(
    ("between", "away"),
    [("", "0"), *((between, away) for between in ("open bay", "filler") for away in ("1 mm", "40 mm", "51 mm"))],
)
@pytest.mark.parametrize("wall", ["left", "right"])
@pytest.mark.parametrize("panelled", [False, True])
def test_a_side_or_an_end_panel_a_little_off_the_wall_is_cut_out_as_one_at_the_wall(
    between: str, away: str, wall: str, panelled: bool
) -> None:
    gap = Filler("G", "Strip", "ply", away) if between == "filler" else Gap("G", "Open", away)
    row = [*([gap] * bool(between)), *([EndPanel("E", "End panel", "ply")] * panelled), carcass("A", "share")]
    outlet = Obstacle("outlet", wall, "10", "14", "2", "4", "0")  # type: ignore[arg-type]
    space = Space(readings=(Reading("width", "40"), Reading("depth", "24")), obstacles=(outlet,))
    of = design(*(row if wall == "left" else row[::-1]), row_width="40", space=space)
    told, cut = told_of(of)
    if away == "51 mm":
        assert cut == []
        assert told.because.startswith("nothing covers it" if between == "open bay" else "covered by Strip G")
        return
    assert cut == [f"A side {wall}", *(["E end panel"] * panelled)]
    named = f"Side, {wall} A" + (", End panel E" if panelled else "")
    assert told.because.startswith(f"reached through {named}, and its box stands back there.")
    uncut, cut = told_of(replace(of, rules={**of.rules, "cutouts": "no"}))
    assert cut == [] and uncut.because.startswith("covered by ")


@pytest.mark.parametrize(("wall", "along"), [("left", "1 3/4"), ("right", "81/4")])
@pytest.mark.parametrize("panelled", [False, True])
def test_an_end_panel_is_cut_out_only_where_the_side_behind_it_can_be(wall: str, along: str, panelled: bool) -> None:
    # 1 to 3 behind the front and 7 to 10 up: the lower hinge's plate is 37 mm behind the front and about 8 up.
    outlet = Obstacle("outlet", wall, along, "7", "2", "3", "0")  # type: ignore[arg-type]
    space = Space(readings=(Reading("width", "36"), Reading("depth", "24")), obstacles=(outlet,))

    def told(hinged: str, **rules: str) -> tuple[Finding, list[str]]:
        front = Bay(openings=(Opening(front="door", hinged=hinged),))  # type: ignore[arg-type]
        row = [*([EndPanel("E", "End panel", "ply")] * panelled), carcass("A", "share", "34 1/2", "23 1/4", front)]
        row[-1] = replace(row[-1], rules=rules)
        of = design(*(row if wall == "left" else row[::-1]), row_width="36", space=space)
        return told_of(of)

    covered, cut = told(wall)
    panel = ["E end panel"] * panelled
    assert cut == []
    assert covered.because.startswith(
        f"covered by Side, {wall} A{', End panel E' * panelled}; not cut out, for the plate of hinge 1 of the door is "
        f"screwed to Side, {wall} A there. Power in a wall"
    )
    assert covered.mend == ("another hinge from end", "a door hinged on the other side", "leave an open bay there")
    assert covered.mended_at == ("row", "A")
    for mended, cut in (told("right" if wall == "left" else "left"), told(wall, hinge_from_end="8")):
        assert cut == [f"A side {wall}", *panel]
        assert mended.because.startswith("reached through ")


@pytest.mark.parametrize(
    ("base", "back", "side"),
    [
        ("kick", "Kick panel A", "Side, {} A"),
        ("feet", "Kick panel A", "Kick panel A"),
        ("plinth", "Plinth, rear A", "Plinth end, {} A"),
    ],
)
@pytest.mark.parametrize("reach", ["bottom", "floor"])
@pytest.mark.parametrize("kind", ["outlet", "switch", "vent"])
def test_what_is_under_the_box_is_covered_by_what_closes_the_space_there(
    base: str, back: str, side: str, reach: str, kind: str
) -> None:
    def told(wall: str, along: str = "10", up: str = "1 1/2", **rules: str) -> Finding:
        obstacle = Obstacle(kind, wall, along, up, "3", "3", "0")  # type: ignore[arg-type]
        space = Space(readings=(Reading("width", "36"), Reading("depth", "24")), obstacles=(obstacle,))
        rules = {"base": base, "kick_height": "6", "back_reach": reach, **rules}
        of = design(carcass("A", "36", **rules), row_width="36", space=space)
        plan = plan_of(of)
        assert not plan.problems and not plan.worked.misfits
        (found,) = (one for one in run_checks(plan.worked) if one.check == "obstacle")
        assert ("cut out" in found.because or "reached" in found.because) == any(
            cut.place.startswith("for the ") for part in plan.worked.placed for cut in part.machining
        )
        return found

    reaching = "Back A" if reach == "floor" and base == "kick" else back
    for wall, by in (("back", reaching), ("left", side.format("left")), ("right", side.format("right"))):
        found = told(wall)
        assert found.result == "warn"
        assert found.because.startswith(f"covered by {by}, in the closed space under the box")
        assert ("Power in a wall" in found.because) == (kind != "vent")
    # 6 3/4 is the upper face of the bottom: up to there nobody reaches it from within the box.
    beside = told("back", up="3 3/4").because
    assert beside.startswith("covered by Back A") and ", in the closed space under the box" in beside
    # Above the bottom it is reached as ever; and so it is beside the toes, before the kick panel.
    above = "cut out of Back A" if kind == "vent" else "reached through Back A"
    assert told("back", up="9").because.startswith(above)
    if base == "feet":
        assert told("left", along="0").because == "nothing covers it"


@pytest.mark.parametrize(("wall", "along"), [("left", "19"), ("right", "2")])
@pytest.mark.parametrize("kind", ["outlet", "switch", "vent"])
def test_a_shelf_that_loses_a_pin_to_what_is_reached_through_the_side_is_told(wall: str, along: str, kind: str) -> None:
    box = carcass("A", "36", "34 1/2", "23 1/4", Bay(adjustable_shelves=2), back="let in")
    seen = set()
    for up in range(5, 28):
        obstacle = Obstacle(kind, wall, along, str(up), "3", "2", "0")  # type: ignore[arg-type]
        space = Space(readings=(Reading("width", "36"), Reading("depth", "24")), obstacles=(obstacle,))
        plan = plan_of(design(box, row_width="36", space=space))
        (told,) = (one for one in run_checks(plan.worked) if one.check == "obstacle")
        assert "Side" in told.because.partition("Across")[0]
        (side,) = (part for part in plan.worked.placed if part.role == "side" and part.place == wall)
        lost = set()
        for shelf in (part for part in plan.worked.placed if part.role == "loose shelf"):
            at = [side.box.low[2] + x for row in side.holes for x, _ in row.centres()]
            if at.count(shelf.box.low[2] - Fraction(5, 2)) < 2:
                lost.add(shelf.name)
        assert ("no pin at that corner" in told.because) == bool(lost)
        assert all(f"{name} has no pin at that corner: put it on other holes" in told.because for name in lost)
        assert told.result == "warn" or not lost
        seen |= lost
    assert seen == {"Adjustable shelf 1, bay 1", "Adjustable shelf 2, bay 1"}


@pytest.mark.parametrize(("along", "hand"), [("0", "left"), ("33", "right")])
def test_what_else_is_notched_for_a_switch_that_sticks_out_is_named(along: str, hand: str) -> None:
    switch = Obstacle("switch", "back", along, "5", "3", "9", "2")
    space = Space(readings=(Reading("width", "36"), Reading("depth", "24")), obstacles=(switch,))
    box = carcass("A", "36", "34 1/2", "23 1/4", Bay(adjustable_shelves=2), back="let in")
    (told,) = (
        one for one in run_checks(plan_of(design(box, row_width="36", space=space)).worked) if one.check == "obstacle"
    )
    assert told.because.startswith(
        f"reached through Back A, and its box stands back there; cut out of Side, {hand} A, Adjustable shelf 1, bay 1 "
        "A, too; Adjustable shelf 1, bay 1 has no pin at that corner: put it on other holes, or make it fixed."
    )


def walled(of: Design, *on_walls: Obstacle) -> Worked:
    """What follows from the design between walls 36 apart with these on them, its row as wide."""
    space = Space(readings=(Reading("width", "36"), Reading("depth", "24")), obstacles=on_walls)
    worked = plan_of(replace(of, row_width="36", space=space)).worked
    assert not worked.problems and not worked.misfits
    return worked


@pytest.mark.parametrize(
    ("along", "up", "strip"),
    # 1/4 of air round both: 3 + 1/2 from the first one on the second begins at once, and 12 mm further no strip breaks.
    [
        ("13 5/8", "12", "1/8 in"),
        ("13 1/2", "12", ""),
        ("14", "12", ""),
        ("13 5/8", "15 5/8", ""),
        ("11", "15 5/8", "1/8 in"),
    ],
)
def test_a_narrow_strip_between_two_cutouts_is_told(along: str, up: str, strip: str) -> None:
    one = Obstacle("outlet", "back", "10", "12", "3", "3", called="socket")
    other = Obstacle("vent", "back", along, up, "3", "3", called="grille")
    found = [one for one in run_checks(walled(design(carcass("A", "36")), one, other)) if one.check == "obstacle"]
    told = {finding.brief: finding.because for finding in found}
    for name, beside in (("socket", "grille"), ("grille", "socket")):
        clause = f"; {strip} is left of Back A between that and the cutout for the {beside}: saw it away too"
        assert (clause in told[name]) if strip else ("saw it away" not in told[name])


@pytest.mark.parametrize("wall", ["left", "right"])
def test_holes_for_pins_keep_some_wood_beside_a_cutout(wall: str) -> None:
    def rows(*on_walls: Obstacle) -> tuple[set[tuple[Fraction, Fraction]], Part]:
        box = design(carcass("A", "36", "34 1/2", "23 1/4", Bay(adjustable_shelves=2)))
        (side,) = (part for part in walled(box, *on_walls).placed if part.role == "side" and part.place == wall)
        return {at for row in side.holes for at in row.centres()}, side

    every, _ = rows()
    taken = 0
    for sixteenths in range(32):
        along = f"{sixteenths}/16" if wall == "right" else f"{24 * 16 - 48 - sixteenths}/16"
        outlet = Obstacle("outlet", wall, along, f"{180 + sixteenths}/16", "3", "4")  # type: ignore[arg-type]
        left, side = rows(outlet)
        (cut,) = (cut for cut in side.machining if cut.place == "for the outlet")
        beside = {
            (x, y)
            for x, y in every
            # 2.5 mm of the hole and 3 of wood.
            if abs(2 * (x - cut.x) - cut.length) < cut.length + 11 and abs(2 * (y - cut.y) - cut.width) < cut.width + 11
        }
        assert left == every - beside
        taken += len(beside)
    assert taken


def test_of_two_notches_at_one_corner_one_in_the_other_only_the_outer_is_made() -> None:
    # The baseboard reaches 2 over the bottom and 1/2 in; the nailer there is 4 high and 3/4 thick.
    of = design(carcass("A", "36", "34 1/2", "23 1/4", Bay(), Bay(), nailers="top and bottom", back="none"))
    board = replace(of, space=Space(readings=(Reading("width", "36"),), baseboards=(Baseboard("back", "6", "1/2"),)))
    for one in (of, board):
        plan = plan_of(one)
        assert not plan.problems and not plan.worked.misfits
        (divider,) = (part for part in plan.worked.placed if part.role == "divider")
        assert sorted(cut.place for cut in divider.machining) == ["lower back corner", "upper back corner"]


@pytest.mark.parametrize("swapped", [False, True])
def test_what_is_within_the_notch_for_another_is_cut_out_with_it(swapped: bool) -> None:
    riser = Obstacle("pipe", "back", "10", "0", "4", "20", "3", "riser")
    drain = Obstacle("pipe", "back", "11", "0", "2", "20", "2", "drain")
    worked = walled(design(carcass("A", "36")), *((drain, riser) if swapped else (riser, drain)))
    (bottom,) = (part for part in worked.placed if part.role == "bottom")
    (notch,) = bottom.machining
    assert (notch.place, notch.length / INCH) == ("for the riser and the drain", Fraction(9, 2))
    found = [one for one in run_checks(worked) if one.check == "obstacle"]
    assert {one.brief for one in found if one.because.startswith("cut out of Bottom A")} == {"riser", "drain"}


def test_a_board_that_ends_a_little_before_an_outlet_covers_it_and_one_before_a_pipe_does_not() -> None:
    # The baseboard keeps the bottom, 4 to 4 3/4 up, 5/8 off the wall, and there is no back.
    def told(kind: str, up: str) -> Finding:
        one = Obstacle(kind, "back", "10", up, "3", "3", "0")  # type: ignore[arg-type]
        readings, board = (Reading("width", "36"), Reading("depth", "24")), Baseboard("back", "6", "1/2")
        space = Space(readings=readings, obstacles=(one,), baseboards=(board,))
        found = run_checks(plan_of(design(carcass("A", "36", back="none"), row_width="36", space=space)).worked)
        return next(one for one in found if one.check == "obstacle")

    for kind in ("outlet", "switch", "vent"):
        assert (told(kind, "3").result, told(kind, "3").because.partition(".")[0]) == ("warn", "covered by Bottom A")
        assert told(kind, "5").because == "nothing covers it"
    assert told("pipe", "3").because == "nothing covers it"
