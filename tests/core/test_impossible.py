"""Designs that cannot be built, or cannot even be read, end in a sentence: never in a part of no size, or a crash."""

from __future__ import annotations

import json
from typing import Any

import pytest
from carcasses import buildable
from designs import BANDINGS, GOODS, carcass, design, plan_of, trimmed
from hypothesis import given, settings
from hypothesis import strategies as st

from core.buy import buying_list
from core.checks import run_checks
from core.construction.rule_book import RULE_BOOK
from core.goods import Banding, Material, Stock, Trim
from core.outputs import buy_document, checks_document, cuts_document, parts_document, sheets_document
from core.plan import Plan, Planner
from core.project import Bay, Carcass, Design, Gap, LoosePart, Opening, Project, Saw, Top
from core.space import Baseboard, Clearance, Lean, Obstacle, Reading, Space

SIZES = [
    "0", "-3", "1/64", "1/1000 mm", "1", "3/4", "12", "24 in", "72", "500 mm", "900000 mm", "2000000 mm", "1e9", "",
    "x", "17-5/8", "1,830", "clear_width", "ply", "ply - 30", "2*3 in*4 in", "share", "2 shares", "0 shares", "even",
    "clear_width / 0", "loop", "nothing", "(" * 40, "9" * 200,
]  # fmt: skip
size = st.sampled_from(SIZES)
PLAUSIBLE = ["24 in", "34 1/2", "600 mm", "12", "20", "1", "4", "3/4", "1/2", "thirty / 2"]
plausible = st.sampled_from(PLAUSIBLE)
mostly = st.sampled_from([*PLAUSIBLE * 20, *SIZES])
outside = st.sampled_from([*["24 in", "34 1/2", "600 mm", "thirty"] * 40, *SIZES])
CHOICES = {rule.name: rule.choices for rule in RULE_BOOK}


def rule(name: str) -> st.SearchStrategy[str]:
    """Any text for a rule, oftener one that it can take."""
    if CHOICES[name]:
        return st.sampled_from([*CHOICES[name] * 9, "sideways"])
    kind = next(one.kind for one in RULE_BOOK if one.name == name)
    if kind == "material":
        return st.sampled_from([*["ply", "thin", "mdf", ""] * 9, "oak"])
    if kind == "banding":
        return st.sampled_from([*["tape", "lip", ""] * 9, "gold"])
    return mostly if kind == "size" else st.sampled_from(["25", "0", "-1", "lots", "nan", "inf"])


rules = st.lists(
    st.sampled_from([one.name for one in RULE_BOOK]).flatmap(lambda name: st.tuples(st.just(name), rule(name))),
    max_size=4,
).map(dict)
fronts = st.sampled_from(["open", "door", "pair of doors"])
hinged = st.sampled_from(["left", "right"])
openings = st.builds(
    Opening,
    st.sampled_from(["share"] * 5) | mostly,
    st.sampled_from(["open", "door", "pair of doors", "drawer", "false front"]),
    hinged,
    st.integers(0, 2),
    st.sampled_from(["nothing", "shelf", "rail"]),
)
bays = st.lists(
    st.builds(
        Bay,
        st.just("share") | mostly,
        st.lists(mostly | st.just("even"), max_size=3).map(tuple),
        st.integers(0, 3),
        st.just("open") | fronts,
        hinged,
    )
    | st.builds(Bay, st.just("share"), openings=st.lists(openings, max_size=3).map(tuple)),
    max_size=3,
).map(tuple)
wild_carcass = st.builds(
    Carcass, st.just(""), st.just("Base"), outside, outside, outside, rules=rules, bays=st.just(()) | bays
)
items = st.lists(wild_carcass | st.builds(Gap, st.just(""), st.just("Open"), mostly), max_size=3)
grain = st.sampled_from(["length", "width", "none"])
loose = st.builds(LoosePart, st.just("L"), st.just("Loose"), st.sampled_from(["ply", "oak"]), mostly, mostly,
                  st.integers(0, 3), grain)  # fmt: skip
tops = st.builds(Top, st.just("W"), st.just("Top"), st.sampled_from(["ply", "oak"]), st.integers(0, 3),
                 st.sampled_from(["", "A", "Z"]), st.just(""), mostly, mostly, mostly)  # fmt: skip
wall = st.sampled_from(["left", "right", "back"])
spaces = st.builds(
    Space,
    up_to=size | st.just("84"),
    floor_out_of_level=size | st.just("0"),
    clearance=st.just(Clearance()) | st.builds(Clearance, size, size, size, size),
    readings=st.lists(
        st.builds(
            Reading,
            st.sampled_from(["width", "depth", "height", "diagonal"]),
            mostly,
            st.sampled_from(["floor", "middle", "top"]),
            st.sampled_from(["front", "back", "left", "right", "middle"]),
        ),
        max_size=3,
    ).map(tuple),
    leans=st.lists(st.builds(Lean, wall, mostly, mostly), max_size=1).map(tuple),
    baseboards=st.lists(st.builds(Baseboard, wall, mostly, mostly), max_size=2).map(tuple),
    obstacles=st.lists(
        st.builds(Obstacle, st.just("outlet"), wall, mostly, mostly, mostly, mostly, mostly), max_size=1
    ).map(tuple),
)
materials = st.just(GOODS) | st.builds(
    lambda actual, length, trim, quantity: {
        **GOODS,
        "ply": Material("Ply", "3/4", actual, stock=(Stock(length, "48", "12.50", quantity, Trim(trim, "0", trim)),)),
    },
    size,
    size,
    size,
    st.sampled_from([None, 0, 1]),
)


@st.composite
def wild(draw: st.DrawFn) -> Design:
    row: Any = draw(items)
    row = tuple(
        type(item)(**{**{name: getattr(item, name) for name in item.__slots__}, "id": "ABC"[n]})
        for n, item in enumerate(row)
    )
    return design(
        *row,
        space=draw(st.just(Space()) | spaces),
        row_width=draw(st.sampled_from(["", "", "clear_width", "100", "nothing"])),
        rules=draw(rules),
        materials=draw(st.one_of(st.just(GOODS), st.just(GOODS), materials)),
        bandings={**BANDINGS, "tape": Banding("Tape", draw(st.just("1/32 in") | size))},
        dimensions=draw(
            st.just({"thirty": "30"})
            | st.just({"thirty": "30", "loop": "pool + 1", "pool": "loop", "mean": "1/0", "ply": "3"})
        ),
        saws=(Saw("saw", kerf=draw(st.just("1/8") | size)),),
        tops=tuple(draw(st.lists(tops, max_size=1))),
        loose=tuple(draw(st.lists(loose, max_size=1))),
        show=draw(st.sampled_from(["", "in 1/64", "furlongs"])),
    )


def everything(plan: Plan) -> None:
    """All that is made of a plan, and none of it may fail."""
    worked = plan.worked
    documents = [
        parts_document(plan),
        sheets_document(plan.sheets, worked.goods.thickness, worked.kerf),
        cuts_document(plan),
        checks_document(run_checks(worked)),
        buy_document(buying_list(plan), "$"),
    ]
    json.dumps(documents, allow_nan=False)


def check(plan: Plan) -> None:
    for problem in plan.problems:
        assert len(problem.sentence) > 10
        assert "\n" not in str(problem)
    for part in plan.worked.parts:
        assert min(part.length, part.width, part.thickness, part.blank_length, part.blank_width) > 0
        assert part.thickness == plan.worked.goods.thickness[part.material]
        for cut in part.machining:
            assert min(cut.length, cut.width) > 0 <= min(cut.x, cut.y)
            assert cut.x + cut.length <= part.length and cut.y + cut.width <= part.width
            assert cut.depth is None or 0 < cut.depth < part.thickness
        for row in part.holes:
            assert row.depth is not None and 0 < row.depth < part.thickness
            for x, y in row.centres():
                assert row.diameter <= 2 * min(x, y, part.length - x, part.width - y)
    for misfit in plan.worked.misfits:
        # Only a top can be asked to lie where a neighbour stands, and a door to open where there is no room; a check
        # says so.
        told = misfit.sentence.endswith("when the door opens")
        assert told or "worktop" in (misfit.one.role, misfit.other.role if misfit.other else ""), misfit
    everything(plan)


@settings(max_examples=160, deadline=None)
@given(wild())
def test_a_wild_design_ends_in_sentences(of: Design) -> None:
    check(plan_of(of))


@settings(max_examples=60, deadline=None)
@given(
    buildable,
    st.lists(
        st.tuples(st.sampled_from([one.name for one in RULE_BOOK if one.kind == "size"]), size | plausible), max_size=3
    ),
)
def test_a_sound_carcass_with_wild_rules_ends_in_sentences(drawn: Any, changed: list[tuple[str, str]]) -> None:
    of, _, _ = drawn
    (item,) = of.row
    row = (
        Carcass(
            item.id,
            item.name,
            item.height,
            item.depth,
            item.width,
            rules={**item.rules, **dict(changed)},
            bays=item.bays,
        ),
    )
    check(plan_of(design(*row, **{name: getattr(of, name) for name in ("materials", "bandings", "rules", "space")})))


@settings(max_examples=60, deadline=None)
@given(buildable, mostly, mostly, mostly)
def test_a_sound_carcass_of_wild_size_ends_in_sentences(drawn: Any, width: str, height: str, depth: str) -> None:
    of, _, _ = drawn
    (item,) = of.row
    row = (Carcass(item.id, item.name, height, depth, width, rules=item.rules, bays=item.bays),)
    check(plan_of(design(*row, **{name: getattr(of, name) for name in ("materials", "bandings", "rules", "space")})))


def problem(*args: Any, **changes: Any) -> str:
    """The one problem of a design."""
    (found,) = plan_of(design(*args, **changes)).problems
    return str(found)


def opened(front: Any, adjustable_shelves: int = 0, **said: str) -> Carcass:
    """A carcass whose one opening has a front; its drawers are of 3/4 in."""
    size = {name: said.pop(name, usual) for name, usual in (("width", "24"), ("height", "34 1/2"), ("depth", "23 1/4"))}
    bay = Bay(openings=(Opening(front=front, adjustable_shelves=adjustable_shelves),))
    return carcass("A", *size.values(), bay, **said)


@pytest.mark.parametrize(
    ("item", "told"),
    [
        (
            carcass(width="1"),
            "carcass A: a carcass 1 in wide is no wider than its two sides, 3/4 in thick each; make it wider than "
            "1 1/2 in",
        ),
        (carcass(depth="1/4"), "carcass A: a carcass 1/4 in deep is all back, 1/4 in thick; make it deeper than 1/4"),
        (carcass(height="4"), "carcass A: nothing is left between bottom and top"),
        (carcass(height="5"), "carcass A: nothing is left between bottom and top"),
        (carcass(depth="5", kick_depth="5"), "carcass A: the kick panel would end"),
        (carcass(top="rails", depth="7"), "carcass A: two rails 4 in wide do not fit in 6 3/4 in"),
        (carcass(back_reach="part", back_height="40"), "carcass A: a back 40 in high is higher than the carcass"),
        (carcass(back="let in", rabbet_depth="1/2"), "carcass A: a rabbet 1/2 in deep is more than half"),
        (carcass(kick_height="0"), "carcass A: a kick needs a kick height above 0"),
        (carcass(runs_through="top and bottom"), "carcass A: top and bottom cannot run through over a notched kick"),
        (carcass("A", "24", "34 1/2", "23 1/4", Bay("share", ("40",))), "the fixed shelf at 40 in, 3/4 in thick, "),
        (carcass("A", "24", "34 1/2", "23 1/4", Bay("share", ("3", "even"))), "carcass A, bay 1: give every fixed"),
        (carcass("A", "24", "34 1/2", "23 1/4", Bay("share", (), 60)), "carcass A, bay 1: 60 shelves 3/4 in thick"),
        (carcass("A", "24", "34 1/2", "23 1/4", Bay("share", (), 30)), "30 adjustable shelves want 30 pairs of holes"),
        (carcass(bottom_joint="dado", dado_depth="1/2"), "a housing 1/2 in deep for the bottom is more than half"),
        (carcass(bottom_joint="stopped dado", dado_stop="30"), "a stopped dado would leave nothing of the bottom"),
        (carcass(back="grooved", back_inset="0"), "a grooved back at the rear edges is a back let in"),
        (carcass(back="grooved", let_in_play="1/4"), "a back would fall out of a groove 1/4 in deep"),
        (carcass(nailers="top and bottom", nailer_height="15"), "nailers 15 in high do not fit in 29 in"),
        (carcass("A", "24", "34 1/2", "23 1/4", Bay("share", ("26",)), nailers="top"), "lies where a nailer is"),
        (opened("door", width="3", fronts="inset"), "wide, and a hinge's cup does not fit in it"),
        (opened("door", front_panel="thin"), "leaves too little of the door, 1/4 in thick"),
        (opened("door", hinge_from_end="20"), "hinges 20 in from the ends of the door do not fit"),
        (opened("door", width="80", height="100"), "too high or too heavy for five hinges"),
        (opened("drawer", depth="9"), "no usual slide fits the drawer: 8 5/8 in is free and the shortest is 10 in"),
        (opened("drawer", slide_length="24"), "slides 24 in long for the drawer do not fit: 22 7/8 in is free"),
        (opened("drawer", slide_clearance="11"), "the drawer would be 1/2 in wide in an opening of 22 1/2 in"),
        (opened("drawer", slides="undermount", drawer_above="1/8"), "at least 13/16 in lower than its opening"),
        (opened("drawer", drawer_above="28"), "too low for its bottom"),
        (opened("drawer", drawer_groove="5/8"), "the groove for a drawer's bottom is 5/8 in deep"),
        (opened("drawer", adjustable_shelves=1), "carcass A, bay 1"),
        (carcass("A", "24", "34 1/2", "23 1/4", Bay("30"), Bay()), "carcass A: nothing is left to share"),
        (carcass("A", "24", "34 1/2", "23 1/4", Bay("0"), Bay()), "carcass A, bay 1: a width of 0 in is no width"),
        (
            carcass("A", "24", "34 1/2", "23 1/4", Bay("share", (), 1), shelf_play="12"),
            "with 12 in of play at each end slides",
        ),
        (
            carcass("A", "24", "34 1/2", "23 1/4", Bay("share", (), 1), shelf_setback="2"),
            "its front pins, ~1 7/16 in behind",
        ),
        (
            carcass("A", "24", "34 1/2", "23 1/4", Bay("share", (), 1), pin_pitch="5 mm"),
            "pin diameter 5 mm and pin pitch 32 mm are usual",
        ),
        (
            opened("drawer", slide_clearance="0"),
            "the drawer would be 22 1/2 in wide in an opening of 22 1/2 in; make slide clearance 1/2 in",
        ),
        (opened("drawer", slides="undermount", undermount_less="1"), "make undermount less 1 5/8 in"),
        (carcass(front_banding="tape", depth="9/32"), "all banding"),
        (carcass(height="0"), "carcass A, height: a height of 0 in is no height"),
        (carcass(depth="-2"), "carcass A, depth: `-2` comes to -2 in"),
        (carcass(width="0"), "row, carcass A: a width of 0 in is no width"),
        (carcass(width="0 shares"), "row, carcass A, width:"),
        (carcass(panel="oak"), "carcass A, panel: there is no material 'oak'"),
        (carcass(base="stilts"), "carcass A, base: 'stilts' is not one of kick, plinth, feet, none"),
        (carcass(bakc="none"), "carcass A: there is no rule 'bakc'; the nearest is back"),
    ],
)
def test_what_is_said_of_a_carcass_that_cannot_be(item: Carcass, told: str) -> None:
    assert told in problem(item)


INSET = {"fronts": "inset"}
SHELF = Bay("share", (), 1)


def shelved(**rules: str) -> Carcass:
    """A carcass with one adjustable shelf."""
    return carcass("A", "24", "34 1/2", "23 1/4", SHELF, **rules)


# The inside is 22 1/2 wide, 29 high and 23 deep, the door 23 7/8 x 30 3/8. Each number that is named is worked out
# from these; what "is usual" is the default of the rule book.
@pytest.mark.parametrize(
    ("item", "told"),
    [
        # 23 1/4 less the back's 1/4.
        (carcass(back="grooved", back_inset="23 1/4"), "make back inset less than 23 in, 1/2 in is usual"),
        # 23 1/4 - 1/4 - 22 1/4 = 3/4 are left; the kick panel ends at 3 3/4.
        (
            carcass(back="grooved", back_inset="22 1/4"),
            "make the carcass 3 in deeper, or back inset less, 1/2 in is usual",
        ),
        (carcass(kick_depth="23"), "make kick depth 22 1/4 in or less, or the carcass 3/4 in deeper"),
        (carcass(kick_height="40"), "make it higher, or kick height less than 33 in"),
        (carcass(base="plinth", kick_height="0"), "a plinth needs a kick height above 0; make kick height 4 in"),
        (carcass(base="feet", kick_height="0"), "feet need a kick height above 0; make kick height 4 in"),
        # Front and rear of the plinth are 3/4 each; half of what they leave.
        (carcass(base="plinth", kick_depth="40"), "make kick depth 10 7/8 in or less"),
        (carcass(base="plinth", plinth_spacing="0"), "make plinth spacing more than 3/4 in, 24 in is usual"),
        # The bottom ends at 4 1/2 - 1/4 - 1 1/2 = 2 3/4, and crosspieces begin behind 3/4 of the plinth's front.
        (
            carcass("A", "30", "34 1/2", "4 1/2", base="plinth", kick_depth="2", back="grooved", back_inset="1 1/2"),
            "which ends at 2 3/4 in; make kick depth less than 2 in",
        ),
        # Under the bottom, which ends before the back.
        (carcass(base="feet", kick_depth="40"), "make kick depth 22 1/4 in or less"),
        (carcass(base="feet", kick_depth="22 1/2", back="grooved"), "make kick depth 21 3/4 in or less"),
        (carcass(base="feet", feet_gap="5"), "make feet gap less than 4 in, 1/4 in is usual"),
        (carcass(top="rails", rail_width="12"), "make rail width 11 1/2 in or less"),
        (carcass(top="rails", rail_width="0"), "a rail 0 in wide is none; make rail width 4 in"),
        (carcass(nailers="top", nailer_height="0"), "nailers 0 in high are none; make nailer height 4 in"),
        (carcass(nailers="top and bottom", nailer_height="15"), "make nailer height 14 1/2 in or less"),
        (carcass(back_reach="part", back_height="0"), "a back 0 in high is none; make back height 12 in"),
        (carcass(back_reach="part", back_height="40"), "make back height 34 1/2 in or less"),
        (
            carcass(back_reach="part", back_height="3/4", base="none", runs_through="top and bottom"),
            "lies on the top alone and meets no side; make back height more than 3/4 in",
        ),
        (carcass(back="let in", rabbet_depth="1/2"), "make rabbet depth 3/8 in or less"),
        (carcass(bottom_joint="dado", dado_depth="1/2"), "make dado depth 3/8 in or less"),
        # A quarter of 3/4 stays between shelves at one height in both faces of a divider.
        (
            carcass("A", "40", "34 1/2", "23 1/4", *[Bay("share", ("12",))] * 2, shelf_joint="dado", dado_depth="5/16"),
            "make dado depth 1/4 in or less, or one of the shelves higher",
        ),
        (
            carcass("A", "24", "34 1/2", "23 1/4", Bay("share", ("12", "12 1/2"))),
            "the fixed shelf at 12 1/2 in lies in",
        ),
        (carcass("A", "24", "34 1/2", "23 1/4", Bay("share", ("12", "12 1/2"))), "make its height 12 3/4 in or more"),
        (carcass("A", "24", "34 1/2", "23 1/4", Bay("share", ("40",))), "make its height 28 1/4 in or less"),
        (shelved(pin_diameter="0"), "make pin diameter 5 mm"),
        (shelved(pin_diameter="2"), "holes 2 in in diameter meet"),
        (shelved(pin_margin="0"), "make pin margin 1/8 in or more"),
        (shelved(pin_depth="0"), "make pin depth 5/16 in"),
        (shelved(pin_depth="2"), "make pin depth less than 3/4 in"),
        (shelved(pin_setback="20"), "make pin setback 11 3/8 in or less"),
        # Its pin is half under it: 1/4 and 2.5 mm.
        (shelved(pin_setback="0"), "make pin setback 3/8 in or more"),
        (shelved(shelf_setback="5"), "make shelf setback 1 5/16 in or less"),
        (opened("door", front_gap="20", **INSET), "make front gap less than 11 1/4 in, 1/8 in is usual"),
        (opened("pair of doors", front_gap="8", **INSET), "make front gap less than 7 1/2 in, 1/8 in is usual"),
        (opened("door", front_gap="2"), "make front gap less than 3/4 in, 1/8 in is usual"),
        (opened("door", top_reveal="30"), "make top reveal less, 1/8 in is usual"),
        (opened("door", bottom_reveal="30"), "make bottom reveal less, 0 in is usual"),
        (opened("door", plate_setback="30"), "side, left, 23 in deep; make plate setback 22 7/8 in or less, 37 mm is"),
        (opened("door", plate_setback="0"), "make plate setback more, 37 mm is usual"),
        (opened("door", plate_diameter="0"), "make plate diameter 5 mm"),
        (opened("door", plate_diameter="2"), "make plate diameter 5 mm"),
        (opened("door", plate_depth="0"), "holes 0 in deep in the side, left hold nothing; make plate depth 7/16 in"),
        (opened("door", hinge_from_end="0"), "make hinge from end 3 3/16 in or more"),
        # 30 3/8 less a cup and the wood beside it, 48 mm, halved: 14.24.
        (opened("door", hinge_from_end="20"), "make hinge from end 14 3/16 in or less, or the door 11 1/16 in higher"),
        (opened("door", cup_edge="30"), "make cup edge less, 4 mm is usual"),
        # Two doors of (3 1/4 - 1/4) / 2 = 1 1/2, 38.1 mm; each wants 4 + 35 + 2: 5.8 mm in all.
        (
            opened("pair of doors", width="3 1/4"),
            "make its opening 1/4 in wider, or take one door in place of the pair",
        ),
        (opened("drawer", drawer_below="40"), "or drawer below less than 27 "),
        (opened("drawer", drawer_above="0", drawer_below="0"), "make drawer below 1/2 in or more, or drawer above"),
        (opened("drawer", let_in_play="1"), "let in play 1/32 in and drawer groove 1/4 in are usual"),
        (opened("drawer", drawer_groove="5/8"), "make drawer groove 1/2 in or less"),
        (opened("drawer", slide_behind="20"), "make slide behind 13 in or less"),
        (opened("door", width="80", height="80"), "five hinges; make the front panel lighter, or make it a pair"),
        (opened("door", height="120"), "five hinges; part it into two, one over the other"),
        (
            carcass("A", "2 1/4", "34 1/2", "12", Bay(), Bay()),
            "make the carcass wider than 2 1/4 in, or take a bay away",
        ),
        (
            carcass("A", "24", "6", "12", Bay(openings=(Opening(above="shelf"),) * 7), base="none"),
            "what parts its 7 openings leaves nothing of an inside 4 1/2 in high; make the carcass higher, or take",
        ),
        (
            carcass("A", "24", "5", "12", Bay(openings=(Opening(above="shelf"),) * 7), base="none"),
            "nothing of an inside 3 1/2 in high; make the carcass higher by more than 1 in, or take an opening away",
        ),
        (
            carcass("A", "24", "34 1/2", "12", Bay(openings=(Opening("30", above="shelf"), Opening("5"), Opening()))),
            "35 in is asked for out of 28 1/4 in; make one lower by more than 6 3/4 in",
        ),
        (opened("drawer", depth="9", slide_behind="0"), "make the carcass 1 1/4 in deeper, or give slide length"),
        (
            carcass("A", "24", "34 1/2", "23 1/4", *((Bay("share", (), 1),) * 2), pin_depth="3/8"),
            "would meet in 3/4 in; make pin depth less than 3/8 in",
        ),
        (
            # 23 3/4 less 3/4 has room for 30 fields of 3/4, which are 23/30 wide; 31 would be less.
            carcass("A", "23 3/4", base="plinth", plinth_spacing="49/64"),
            "crosspieces of the plinth would lie in each other; make plinth spacing 13/16 in or more, 24 in is usual",
        ),
        (
            carcass("A", "24", "1", "12", base="none", runs_through="top and bottom"),
            "nothing is left between bottom and top: the carcass is 1 in high",
        ),
    ],
)
def test_the_sentence_names_the_rule_and_the_number(item: Carcass, told: str) -> None:
    assert told in problem(item)


def test_the_number_that_is_named_can_be_typed() -> None:
    # Half of 23/32 is 23/64, nearest to 3/8 on a tape of sixteenths: that would be too much.
    thin = {**GOODS, "ply": Material("Ply", "3/4", "23/32", stock=(Stock("96", "48"),))}

    def told(depth: str) -> list[str]:
        return [
            str(one) for one in plan_of(design(carcass(bottom_joint="dado", dado_depth=depth), materials=thin)).problems
        ]

    (sentence,) = told("1/2")
    assert sentence.endswith("make dado depth 5/16 in or less")
    assert told("5/16") == []


@pytest.mark.parametrize(
    ("actual", "deep"),
    [("23/32 in", "1/4 in"), ("3/4 in", "1/4 in"), ("18 mm", "1/4 in"), ("45/64 in", "1/4 in"), ("17.6 mm", "6 mm")],
)
def test_shelves_at_one_height_in_both_faces_of_a_divider_of_plywood_as_it_really_is(actual: str, deep: str) -> None:
    ply = {**GOODS, "ply": Material("Ply", "", actual, stock=(Stock("96 in", "48 in"),))}
    bays = [Bay("share", ("12 in",))] * 2
    item = carcass("A", "40 in", "34 1/2 in", "23 1/4 in", *bays, shelf_joint="dado", dado_depth=deep)
    plan = plan_of(design(item, materials=ply))
    assert not plan.problems and not plan.worked.misfits


def test_a_divider_of_half_an_inch_takes_no_dadoes_of_a_quarter_in_both_faces() -> None:
    thin = {**GOODS, "ply": Material("Ply", "", "1/2 in", stock=(Stock("96 in", "48 in"),))}
    bays = [Bay("share", ("12",))] * 2
    (sentence,) = plan_of(
        design(carcass("A", "40", "34 1/2", "23 1/4", *bays, shelf_joint="dado"), materials=thin)
    ).problems
    assert "would leave 0 in of 1/2 in between them; make dado depth 3/16 in or less" in str(sentence)


def test_a_kick_that_meets_the_baseboard_notch() -> None:
    space = Space(baseboards=(Baseboard("back", "5", "1/2"),))
    assert "the sides stand on the floor only to" in problem(carcass(depth="4 1/4"), space=space)


def test_a_carcass_that_the_baseboard_swallows() -> None:
    space = Space(baseboards=(Baseboard("back", "40", "1"),))
    told = problem(carcass(), space=space)
    assert "would lie wholly where the baseboard is" in told and told.endswith("or make the carcass shallower")
    low = Space(baseboards=(Baseboard("back", "4", "1"),))
    # Much air is what is in the way then.
    for rules in ({"nailers": "top and bottom"}, {"depth": "36"}):
        told = problem(carcass(baseboard_clearance="33", **rules), space=low)
        assert told.endswith("or baseboard clearance less, 1/8 in is usual")


def test_a_width_that_was_never_read() -> None:
    plan = plan_of(design(carcass(), row_width="clear_width"))
    assert [str(told) for told in plan.problems] == [
        "row, width: `clear_width` is not known yet: no width of the space has been read"
    ]
    # The carcass has a width of its own, so it is shown all the same.
    assert plan.worked.parts


def test_a_reading_that_cannot_be_used_says_so_at_its_place_and_by_its_name() -> None:
    space = Space(readings=(Reading("width", "72", at="left"),))
    told = [str(one) for one in plan_of(design(carcass(), space=space, row_width="clear_width")).problems]
    assert told[0].startswith("space, reading 1: a width is read at the front or at the back")
    assert told[1] == "row, width: `clear_width` is not known yet: the readings of the space cannot be used as they are"


@pytest.mark.parametrize("actual", ["0", "-1/2", "ply", "clear_width", ""])
def test_a_thickness_that_cannot_be_says_so_at_its_place_and_by_its_name(actual: str) -> None:
    bad = {**GOODS, "ply": Material("Ply", "3/4", actual, stock=(Stock("96", "48"),))}
    told = [str(one) for one in plan_of(design(carcass(width="24 + ply"), materials=bad)).problems]
    assert told[0].startswith("material ply, actual thickness: ")
    assert ("is a name, and names are made of what is measured" in told[0]) is actual.isidentifier()
    assert "row, carcass A, width: `ply` is not known yet: its actual thickness cannot be read" in told


def test_one_bad_dimension_does_not_hide_the_others() -> None:
    of = design(carcass(width="wide"), dimensions={"wide": "24", "ply": "3", "loop": "loop + 1", "min": "3"})
    plan = plan_of(of)
    assert len(plan.problems) == 3
    assert plan.worked.parts


def test_trims_and_stock_that_cannot_be() -> None:
    assert "is less than the kerf" in problem(carcass(back_panel="ply"), materials=trimmed(design(), "1/16").materials)
    bare = {**GOODS, "ply": Material("Ply", "3/4", "3/4")}
    assert problem(carcass(back_panel="ply"), materials=bare) == (
        "material ply: it has no stock sheets: give it at least one size"
    )
    tiny = {**GOODS, "ply": Material("Ply", "3/4", "3/4", stock=(Stock("4", "4", trim=Trim("2", "2")),))}
    plan = Planner().plan(Project(design(carcass(back_panel="ply"), materials=tiny)))
    assert "leaves nothing of the sheet" in str(plan.problems[0])


def test_the_distance_that_is_named_for_the_hinges_of_a_low_door_can_be_typed() -> None:
    def told(from_end: str) -> list[str]:
        low = opened("door", hinge_from_end=from_end, height="7", base="none")
        return [str(problem) for problem in plan_of(design(low)).problems]

    (sentence,) = told("1/4")
    assert "breaks out of it; make hinge from end " in sentence and not sentence.endswith("or more")
    assert told(sentence.rpartition("hinge from end ")[2].removesuffix(" in")) == []
