"""Checks against published values and against statics by hand. "TRADE" is the trade's table of them, by section."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction as F
from math import atan, degrees, hypot
from typing import Any

import pytest
from designs import GOODS, INCH, carcass, design, parts_of, plan_of
from hypothesis import given, settings
from hypothesis import strategies as st

from core.checks import run_checks
from core.checks.finding import Finding
from core.checks.moving import ONE_PERSON
from core.checks.sag import GRAVITY, sag
from core.checks.stability import PULL, lean_that_tips, pull_that_tips
from core.construction.codes import place_key
from core.goods import Board, Length, Material, Stock
from core.project import Bay, Carcass, Design, EndPanel, Filler, Gap, Opening, Top
from core.space import Baseboard, Clearance, Obstacle, Reading, Space

IN = 25.4
LB = 0.45359237
PSI = LB * GRAVITY / IN**2
"""One pound-force a square inch, N/mm2."""


def found(of: Design, check: str) -> list[Finding]:
    plan = plan_of(of)
    assert [str(problem) for problem in plan.problems] == []
    return [one for one in run_checks(plan.worked) if one.check == check]


def only(findings: Sequence[Finding]) -> Finding:
    (one,) = findings
    return one


def sag_inches(load_lb_ft: float, span: float, thickness: float, psi: float, depth: float = 11.25) -> float:
    """Sag in inches under pounds a running foot, other sizes in inches."""
    newtons = load_lb_ft * LB * GRAVITY * span / 12
    return sag(newtons, span * IN, depth * IN, thickness * IN, psi * PSI) / IN


# --- Sag

# TRADE section 1, worked examples 1, 2, 3, 5 and 5b (computed; formula Wood Handbook table 9-1, eq. 9-2).
EXAMPLES = [
    # lb/ft, span, thickness, psi, sag in, span over sag
    (25, 36, 0.75, 950_000, 0.1213, 297),
    (25, 36, 0.71875, 950_000, 0.1378, 261),
    (20, 30, 0.75, 348_100, 0.1277, 235),
    (20, 30, 0.75, 326_300, 0.1362, 220),
    (25, 36, 0.75, 1_820_000, 0.0633, 569),
    (25, 48, 0.75, 1_820_000, 0.2000, 240),
]


@pytest.mark.parametrize(("load", "span", "thick", "psi", "inches", "ratio"), EXAMPLES)
def test_worked_examples_of_shelves(
    load: float, span: float, thick: float, psi: float, inches: float, ratio: float
) -> None:
    assert sag_inches(load, span, thick, psi) == pytest.approx(inches, abs=6e-5)
    assert span / sag_inches(load, span, thick, psi) == pytest.approx(ratio, abs=0.6)


def test_the_real_thickness_of_plywood_sags_more() -> None:
    # TRADE section 1, example 2: 23/32 for 3/4 is 13.6 % more, (32 * 3/4 / 23)^3.
    more = sag_inches(25, 36, 0.71875, 950_000) / sag_inches(25, 36, 0.75, 950_000) - 1
    assert more == pytest.approx(0.136, abs=5e-4)


def test_birch_plywood_in_mixed_units() -> None:
    # TRADE section 1, example 7: 18 mm, 10,048 N/mm2, 36 in, 25 lb/ft: 0.0937 in, L/384.
    newtons = 25 * LB * GRAVITY * 3
    inches = sag(newtons, 36 * IN, 11.25 * IN, 18, 10_048) / IN
    assert inches == pytest.approx(0.0937, abs=5e-5)
    assert 36 / inches == pytest.approx(384, abs=0.5)


@pytest.mark.parametrize(("span", "millimetres", "ratio"), [(600, 1.514, 396), (800, 3.588, 223), (1000, 7.009, 143)])
def test_the_mdf_shelf_of_the_trade_body(span: float, millimetres: float, ratio: float) -> None:
    # TRADE section 0, A8, and section 1, example 8: d = 5 W L^3 9.81 / (32 E b t^3), 20 kg, E 2500, b 300, t 18.
    assert 5 * 20 * span**3 * 9.81 / (32 * 2500 * 300 * 18**3) == pytest.approx(millimetres, abs=6e-4)
    assert sag(20 * 9.81, span, 300, 18, 2500) == pytest.approx(millimetres, abs=6e-4)
    assert span / sag(20 * 9.81, span, 300, 18, 2500) == pytest.approx(ratio, abs=0.5)


def test_metric_guard() -> None:
    # TRADE section 1: example 1 in metric, 914.4 mm, 6550 N/mm2, 285.75 x 19.05, 0.3649 N/mm, is 3.08 mm.
    assert sag(0.3649 * 914.4, 914.4, 285.75, 19.05, 6550) == pytest.approx(3.08, abs=5e-3)


# TRADE section 0, A1 and A2: Architectural Woodwork Standards, ed. 1 (2009), section 10: longest span at L/144.
SPANS = [
    # psi, thickness, lb a square foot, published span in
    (950_000, 0.75, 40, 40),
    (950_000, 0.75, 50, 37),
    (950_000, 1, 40, 53),
    (950_000, 1, 50, 49),
    (1_800_000, 0.75, 40, 49),
    (1_800_000, 0.75, 50, 46),
    (1_800_000, 1, 40, 66),
    (1_800_000, 1, 50, 61),
]


@pytest.mark.parametrize(("psi", "thick", "psf", "published"), SPANS)
def test_published_spans(psi: float, thick: float, psf: float, published: float) -> None:
    depth = 12.0

    def over(span: float) -> float:
        return sag_inches(psf, span, thick, psi, depth) / span * 144

    # A4: the formula gives between 0.02 in less (45.978 for 46) and 0.54 in more than the table.
    assert over(published - 0.025) < 1 < over(published + 0.55)


def test_sag_against_a_library_of_units() -> None:
    pint = pytest.importorskip("pint")
    u = pint.UnitRegistry()
    load, span = 25 * u.force_pound / u.foot, 36 * u.inch
    depth, thick, stiff = 11.25 * u.inch, 0.71875 * u.inch, 950_000 * u.force_pound / u.inch**2
    inertia = depth * thick**3 / 12
    theirs = (5 * load * span**4 / (384 * stiff * inertia)).to("mm").magnitude
    ours = sag(
        (load * span).to("newton").magnitude,
        span.to("mm").magnitude,
        depth.to("mm").magnitude,
        thick.to("mm").magnitude,
        stiff.to("newton / mm**2").magnitude,
    )
    assert ours == pytest.approx(theirs, rel=1e-9)
    assert (1 * u.force_pound / u.inch**2).to("newton / mm**2").magnitude == pytest.approx(PSI, rel=1e-9)


@settings(max_examples=50, deadline=None)
@given(*[st.floats(1, 1000)] * 4, st.floats(100, 20_000))
def test_how_sag_goes(load: float, span: float, depth: float, thick: float, stiff: float) -> None:
    # TRADE section 1: twice the span, 16 times the sag at the same load a length; twice as thick, an eighth.
    once = sag(load, span, depth, thick, stiff)
    assert sag(2 * load, 2 * span, depth, thick, stiff) == pytest.approx(16 * once)
    assert sag(load, 2 * span, depth, thick, stiff) == pytest.approx(8 * once)
    assert sag(load, span, depth, 2 * thick, stiff) == pytest.approx(once / 8)
    assert sag(2 * load, span, 2 * depth, thick, stiff) == pytest.approx(once)


def shelved(span: str, **changes: str) -> Design:
    """One fixed shelf of this length between two sides of 3/4, 11 1/4 deep with its back."""
    ply = replace(GOODS["ply"], **{"stiffness": str(950_000 * PSI), "creep": "1", **changes})
    box = carcass("A", f"{span} + 1.5", "30", "11 1/2", Bay("share", ("even",)), base="none", shelf_load="25")
    return design(box, materials={**GOODS, "ply": ply})


def test_a_shelf_in_a_carcass_is_example_1() -> None:
    told = only(found(shelved("36"), "sag"))
    assert told.value == pytest.approx(0.1213 * IN, abs=2e-3)
    # L/297: seen by the eye, and no more than L/144.
    assert (told.result, told.unit) == ("warn", "mm")
    assert told.limit == pytest.approx(36 * IN / 600, abs=1e-3)
    assert told.mend


def test_creep_multiplies_and_the_limit_is_kept() -> None:
    assert only(found(shelved("36", creep="2"), "sag")).value == pytest.approx(2 * 0.1213 * IN, abs=4e-3)
    # A creep below 1 is none.
    assert only(found(shelved("36", creep="0.5"), "sag")).value == pytest.approx(0.1213 * IN, abs=2e-3)
    assert only(found(shelved("20"), "sag")).result == "ok"
    # L/144 at 1.5: from example 1, L = 36 (297 / 1.5 / 144)^(1/3) = 40.0.
    assert only(found(shelved("39.9", creep="1.5"), "sag")).result == "warn"
    assert only(found(shelved("40.1", creep="1.5"), "sag")).result == "fail"


def test_more_than_200_pounds_is_too_much_for_any_shelf() -> None:
    # Architectural Woodwork Standards 2009, section 10, by TRADE section 1: 25 lb/ft over 8 ft 1 in is 202 lb.
    told = only(found(shelved("97", stiffness="10000000"), "sag"))
    assert told.result == "fail" and "too much for any shelf" in told.because


@pytest.mark.parametrize("stiffness", ["", "0"])
def test_a_stiffness_that_is_not_known(stiffness: str) -> None:
    assert only(found(shelved("36", stiffness=stiffness), "sag")).result == "unknown"


# --- Tipping


def test_the_bookcase() -> None:
    # TRADE section 4: 84 x 12 in, 70 lb, centre mid: tips past atan(6/42) = 8.13 degrees; 7.0 lbf at 60 in.
    assert lean_that_tips(6, 42) == pytest.approx(degrees(atan(6 / 42))) == pytest.approx(8.13, abs=5e-3)
    assert pull_that_tips(70 * LB, 6, 60) / (LB * GRAVITY) == pytest.approx(7.0)


def test_moments_of_the_published_chest() -> None:
    # TRADE section 4, T2: the weights behind the feet give 1467 in-lb against 10 lbf at 44 in: 3.33 times.
    assert pull_that_tips(1467 * LB, 1, 44) / PULL == pytest.approx(3.33, abs=5e-3)


def box(height: str, depth: str, **rules: str) -> Design:
    """A plain box of one density."""
    ply = {key: replace(one, density="600") for key, one in GOODS.items()}
    return design(carcass("A", "24", height, depth, **{"base": "none", "back": "none", **rules}), materials=ply)


def test_an_even_box_tips_about_its_front_edge() -> None:
    # Sides, top and bottom alone: the centre is in the middle, whatever they weigh.
    of = box("84", "12")
    told = only(found(of, "tipping"))
    parts = parts_of(of).values()
    kilograms = float(sum(part.length * part.width * part.thickness for part in parts)) * 600e-9
    # Pulled at 56 in: W * 6 / 56.
    assert told.value == pytest.approx(kilograms * GRAVITY * 6 / 56, abs=0.06)
    assert told.limit == pytest.approx(10 * LB * GRAVITY, abs=0.06)
    assert told.result == "warn" and "8 degrees" in told.because
    assert "fasten it to studs at two places at least" in told.mend


def test_a_box_with_a_toe_kick_stands_on_what_is_left_of_its_sides() -> None:
    # The notch is 3 deep, so the feet begin 3 behind the front edges: what holds it is less.
    plain, kicked = box("40", "20"), box("40", "20", base="kick", kick_height="4", kick_depth="3")
    mass, centre = _mass(kicked)
    told = only(found(kicked, "tipping"))
    assert told.value == pytest.approx(mass * GRAVITY * (centre - 3 * IN) / (40 * IN), abs=0.06)
    assert told.value < only(found(plain, "tipping")).value  # type: ignore[operator]


def _mass(of: Design) -> tuple[float, float]:
    """Weight, and how far back its centre is, from the printed sizes: panels less their notches."""
    moment = mass = 0.0
    for part in parts_of(of).values():
        low, high = (float(end[1]) for end in (part.box.low, part.box.high))
        own = float(part.length * part.width * part.thickness) * 600e-9
        mass, moment = mass + own, moment + own * (low + high) / 2
        for cut in part.machining:
            # The only cut here is the toe notch: from the front edge, 3 deep.
            away = float(cut.length * cut.width * part.thickness) * 600e-9
            mass, moment = mass - away, moment - away * 1.5 * IN
    return mass, moment / mass


def test_what_is_low_is_not_asked_about_tipping() -> None:
    # ASTM F2057-23 counts from 27 in.
    assert found(box("26 15/16", "12"), "tipping") == []
    assert found(box("27", "12"), "tipping")


# --- Getting it in, lifting it

# TRADE section 5, tilt-up (computed): height, depth, sqrt(H^2 + D^2), under a ceiling of 96.
TILTS = [
    ("84", "24", 87.361, True),
    ("93", "24", 96.047, False),
    ("90", "24", 93.145, True),
    ("96", "16", 97.324, False),
]


@pytest.mark.parametrize(("height", "depth", "sweep", "passes"), TILTS)
def test_standing_up_under_a_ceiling(height: str, depth: str, sweep: float, passes: bool) -> None:
    # Air wanted above, and a floor out of level, do not lower the ceiling that it is stood up under.
    space = Space(readings=(Reading("height", "96"),), clearance=Clearance(top="1"), floor_out_of_level="1/2")
    told = only(found(replace(box(height, depth), space=space), "standing up"))
    assert told.value == pytest.approx(sweep * IN, abs=0.02)
    assert told.value == pytest.approx(hypot(float(height), float(depth)) * IN, abs=1e-3)
    assert (told.result == "ok") is passes
    assert told.limit == pytest.approx(96 * IN)


def test_a_separate_plinth_is_not_stood_up_with_the_box() -> None:
    space = Space(readings=(Reading("height", "96"),))
    tall = box("92", "24", base="plinth", kick_height="3 1/2")
    assert only(found(replace(tall, space=space), "standing up")).result == "ok"


def test_what_one_person_lifts() -> None:
    # NIOSH 94-110 (rev. 2021): load constant 23 kg, 51 lb (TRADE section 3).
    assert ONE_PERSON == 23
    assert round(ONE_PERSON / LB) == 51
    light, heavy = only(found(box("20", "12"), "lifting")), only(found(box("84", "24"), "lifting"))
    assert (light.result, heavy.result) == ("ok", "warn")
    kilograms = float(sum(p.length * p.width * p.thickness for p in parts_of(box("84", "24")).values())) * 600e-9
    assert heavy.value == pytest.approx(kilograms, abs=0.06)


@pytest.mark.parametrize("density", ["", "0"])
@pytest.mark.parametrize("check", ["tipping", "lifting"])
def test_a_density_that_is_not_known(density: str, check: str) -> None:
    of = box("40", "20")
    plain = replace(of, materials={**of.materials, "ply": replace(of.materials["ply"], density=density)})
    assert only(found(plain, check)).result == "unknown"


@pytest.mark.parametrize("check", ["tipping", "lifting"])
def test_one_density_that_is_not_known_leaves_the_weight_unknown(check: str) -> None:
    of = box("40", "20", back="applied")
    materials = {**of.materials, "thin": replace(of.materials["thin"], density="")}
    assert only(found(replace(of, materials=materials), check)).result == "unknown"


def test_a_steady_box_is_to_be_fastened_all_the_same() -> None:
    told = only(found(box("30", "40"), "tipping"))
    assert told.result == "ok" and "all the same" in told.because and told.mend == ()


# --- Does it fit

ROOM = Space(
    readings=(Reading("width", "72"), Reading("depth", "24"), Reading("height", "96")),
    clearance=Clearance(left="1/2", right="1/2"),
)


def fit(of: Design) -> dict[str, Finding]:
    return {one.about: one for one in found(of, "space")}


def test_a_piece_against_its_space() -> None:
    told = fit(design(carcass("A", "71"), space=ROOM))
    assert {word: one.result for word, one in told.items()} == {"width": "ok", "depth": "ok", "height": "ok"}
    assert told["width"].value == told["width"].limit == pytest.approx(71 * IN)


def test_too_wide_too_high_and_standing_out_in_front() -> None:
    told = fit(design(carcass("A", "71 1/64", "97", "25"), space=ROOM))
    assert {word: one.result for word, one in told.items()} == {"width": "fail", "depth": "warn", "height": "fail"}
    assert "it stands 1 in out in front" in told["depth"].because
    assert told["height"].mend == ("make it 1 in less in height",)


def test_what_was_not_read_is_not_known() -> None:
    assert {one.result for one in fit(design(carcass(), space=Space())).values()} == {"unknown"}


@pytest.mark.parametrize("side", ["left", "right"])
def test_a_top_may_reach_to_the_wall_and_no_further(side: str) -> None:
    def told(overhang: str, width: str = "71", **room: bool) -> Finding:
        top = Top("W", "Top", "ply", **{f"overhang_{side}": overhang})
        return fit(design(carcass("A", width), space=replace(ROOM, **room), tops=(top,)))["width"]

    assert [told(by).result for by in ("0", "1/2", "9/16")] == ["ok", "ok", "fail"]
    # 1/16 further than the wall.
    assert told("9/16").value == pytest.approx((71 + 1 / 16) * IN)
    assert told("1/4").value == pytest.approx(71 * IN)
    # At an open end it may hang out as far as it likes; the other end is not freed by that.
    assert told("6", **{f"open_{side}": True}).result == "ok"
    other = "right" if side == "left" else "left"
    assert told("6", **{f"open_{other}": True}).result == "fail"


def test_dry_fit() -> None:
    assert only(found(design(carcass(), carcass("B")), "dry fit")).result == "ok"
    tops = (Top("W", "Top", "ply"), Top("V", "Other", "ply"))
    told = only(found(design(carcass(), tops=tops), "dry fit"))
    assert told.result == "fail"
    assert "no second top over the same" in told.mend[1]
    # A neighbour that stands higher than the top that hangs over into it.
    row = (carcass("A"), carcass("B", height="40"))
    into = found(design(*row, tops=(Top("W", "Top", "ply", last="A", overhang_right="1/2"),)), "dry fit")
    assert {one.about for one in into} == {"Top W and Side, left", "Top W and Back"}
    assert {one.mend[0] for one in into} == {"less overhang at that end"}
    assert into[0].value == pytest.approx(0.5 * IN)


# --- What is on the walls


def outlet(wall: str, along: str, up: str = "12", sticks_out: str = "1/4") -> Obstacle:
    return Obstacle("outlet", wall, along, up, "2 3/4", "4 1/2", sticks_out)  # type: ignore[arg-type]


def covered(of: Design) -> list[str]:
    return [one.because for one in found(of, "obstacle")]


def test_a_piece_higher_than_was_said_is_told() -> None:
    def told(up_to: str) -> list[str]:
        of = design(carcass("A", "40", "80"), space=replace(ROOM, up_to=up_to))
        return [one.because for one in found(of, "space") if one.about == "how high it reaches"]

    assert told("80") == told("") == []
    assert told("79 1/2") == ["the piece is 80 in high, and how the walls lean was counted up to 79 1/2 in only"]


def uncut(*row: Carcass | Gap, **changes: Any) -> Design:
    """A design whose backs are cut out for nothing."""
    return design(*row, **changes, rules={"panel": "ply", "back_panel": "thin", "cutouts": "no"})


def test_a_back_is_cut_out_for_what_lies_behind_it() -> None:
    # The row begins 1/2 to the right of the wall's end, so 10 along is 9 1/2 along the back; its lower end is at the
    # underside of the bottom, 4 up. The outlet is 2 3/4 by 4 1/2, and 1/4 of air is left round it.
    of = design(carcass("A", "71"), space=replace(ROOM, obstacles=(outlet("back", "10"), pipe("back", "40"))))
    (back,) = (part for part in plan_of(of).worked.parts if part.role == "back")
    (cut, notch) = back.machining
    assert (cut.kind, cut.place, cut.depth) == ("cutout", "for the outlet", None)
    # The grain of a back stands: its length runs up.
    assert (cut.x / INCH, cut.y / INCH) == (12 - 4 - F(1, 4), F(19, 2) - F(1, 4))
    assert (cut.length / INCH, cut.width / INCH) == (5, F(13, 4))
    # A pipe from the floor to 9 up: a notch at the back's lower edge, 9 1/4 less 4 high.
    assert (notch.kind, notch.x, notch.length / INCH) == ("notch", 0, F(21, 4))
    electric, plain = found(of, "obstacle")
    assert electric.because.startswith("reached through Back A, and its box stands back")
    assert (plain.result, plain.because) == ("ok", "cut out of Back A")


def test_a_bottom_is_notched_for_a_pipe_that_stands_where_it_is() -> None:
    # 1 1/2 out from the wall, 1/2 of air there, so 1 in into the box, whose applied back takes 1/4 of it: 3/4 in into
    # the bottom, and 1/4 of air before it; 1 1/2 wide with 1/4 on both sides.
    riser = Obstacle("pipe", "back", "40", "0", "1 1/2", "20", "1 1/2")
    space = replace(ROOM, obstacles=(riser,), clearance=Clearance("1/2", "1/2", "1/2"))
    of = design(carcass("A", "71", "34 1/2", "23 1/4", top="panel"), space=space)
    plan = plan_of(of)
    (bottom,) = (part for part in plan.worked.parts if part.role == "bottom")
    (notch,) = bottom.machining
    assert (notch.kind, notch.place, notch.depth) == ("notch", "for the pipe", None)
    # 40 from the wall's end, 1/2 of air there, the side 3/4: 38 3/4 along the bottom.
    assert (notch.x / INCH, notch.length / INCH) == (F(155, 4) - F(1, 4), 2)
    assert (notch.y + notch.width, notch.width / INCH) == (bottom.width, 1)
    assert [part.role for part in plan.worked.parts if part.machining].count("top") == 0
    assert covered(of) == ["cut out of Bottom A, Back A"]
    assert [one.result for one in found(of, "dry fit")] == ["ok"]


def test_what_would_cut_a_back_in_two_is_not_cut_but_told() -> None:
    of = design(carcass("A", "71"), space=replace(ROOM, obstacles=(replace(pipe("back", "40"), height="90"),)))
    assert covered(of) == ["in the place of Back A"]
    assert [one.result for one in found(of, "obstacle")] == ["fail"]


@pytest.mark.parametrize(
    ("rules", "along", "up", "across"),
    [
        # Two bays in 40: the divider is 19 5/8 to 20 3/8 from the carcass's left, and the row begins 1/2 from the wall.
        ({}, "19", "12", "Divider 1"),
        ({}, "10", "12", ""),
        # The left side is 1/2 to 1 1/4 from the wall, and the outlet reaches over its edge.
        ({}, "1", "12", "Side, left"),
        # Under the top, 34 1/2 - 3/4: the nailer begins at 29 3/4, and 27 and 4 1/2 reach into it.
        ({"nailers": "top"}, "10", "27", "Nailer"),
        ({"nailers": "top"}, "10", "25", ""),
    ],
)
def test_whatever_stands_across_the_cutout_of_an_outlet_is_named(
    rules: dict[str, str], along: str, up: str, across: str
) -> None:
    box = carcass("A", "40", "34 1/2", "23 1/4", Bay(), Bay(), top="panel", **rules)
    (told,) = covered(design(box, space=replace(ROOM, obstacles=(outlet("back", along, up, "0"),))))
    assert told.startswith("reached through Back A")
    assert f"Across it: {across}." in told if across else "Across it" not in told


def pipe(wall: str, along: str) -> Obstacle:
    return Obstacle("pipe", wall, along, "0", "2", "9", "1/8")  # type: ignore[arg-type]


def test_an_outlet_behind_a_back_is_covered_and_one_in_a_gap_is_not() -> None:
    row = (carcass("A", "30"), Gap("G", "Open", "11"), carcass("B", "30"))
    behind, between = outlet("back", "10"), outlet("back", "34")
    of = uncut(*row, space=replace(ROOM, obstacles=(behind, between)))
    first, second = found(of, "obstacle")
    assert (first.result, second.result) == ("warn", "ok")
    assert first.because.startswith("covered by Back A. Power in a wall is work for who is licensed")


@pytest.mark.parametrize(("along", "covers"), [("27 3/4", "Back A"), ("27 11/16", "Back A"), ("31", "")])
def test_along_counts_from_the_walls_left_end(along: str, covers: str) -> None:
    # The row begins 1/2 to the right of the wall's end: A's back ends at 30 1/2 of the wall.
    row = (carcass("A", "30"), Gap("G", "Open", "41"))
    (told,) = covered(uncut(*row, space=replace(ROOM, obstacles=(outlet("back", along),))))
    assert covers in told and bool(covers) is ("covered" in told)


def test_outlets_on_the_side_walls() -> None:
    of = uncut(carcass("A", "71"), space=replace(ROOM, obstacles=(outlet("left", "10"), outlet("right", "10"))))
    told = covered(of)
    assert told[0].startswith("covered by Side, left A")
    assert told[1].startswith("covered by Side, right A")


@pytest.mark.parametrize("sticks_out", ["0", "1/4", "3/4"])
@pytest.mark.parametrize(("wall", "along"), [("left", "10"), ("right", "45/4")])
def test_a_side_is_cut_out_for_an_outlet_beside_it(wall: str, along: str, sticks_out: str) -> None:
    # Where the right wall is told from the back corner, 24 - 10 - 2 3/4 = 11 1/4 is the same place.
    space = replace(ROOM, obstacles=(outlet(wall, along, sticks_out=sticks_out),))
    of = design(carcass("A", "71", "34 1/2", "23 1/4", Bay(fixed_shelves=("8 1/4",))), space=space)
    (told,) = covered(of)
    # Of the shelf's edge, 23 1/4 less the back's 1/4, the cutout takes 3 1/4.
    kept = f"19 3/4 of its 23 in still meets Side, {wall}"
    assert told.startswith(f"reached through Side, {wall} A, and its box stands back there. Across it: Shelf ({kept}).")
    sides = {part.place: part for part in plan_of(of).worked.placed if part.role == "side"}
    (cut,) = (cut for cut in sides[wall].machining if cut.place == "for the outlet")
    # From the floor to 12 up, less 1/4 of air; from the front edge, 3/4 before which the room begins, to 10 along.
    assert (cut.kind, cut.depth, cut.x / INCH, cut.y / INCH) == ("cutout", None, F(47, 4), 10 - F(3, 4) - F(1, 4))
    assert (cut.length / INCH, cut.width / INCH) == (5, F(13, 4))
    assert [one for side in sides.values() for one in side.machining if one.place == "for the outlet"] == [cut]


@pytest.mark.parametrize(("wall", "along", "at"), [("left", "10", "A left"), ("right", "45/4", "B right")])
def test_an_end_panel_and_the_side_behind_it_are_cut_out_for_an_outlet(wall: str, along: str, at: str) -> None:
    # 71 wide between two panels of 3/4; as above the outlet is 9 to 12 1/4 from the front, 11 3/4 to 16 3/4 up.
    left, right = (EndPanel(id, "End panel", "ply") for id in "EG")
    row = (left, carcass("A", "30"), carcass("B", "79/2"), right)
    of = design(*row, row_width="71", space=replace(ROOM, obstacles=(outlet(wall, along, sticks_out="0"),)))
    panel = "E" if wall == "left" else "G"
    carcass_id, side = at.split()
    (told,) = covered(of)
    assert told.startswith(f"reached through Side, {side} {carcass_id}, End panel {panel}, and its box stands back")
    plan = plan_of(of)
    assert not plan.problems and not plan.worked.misfits
    bored = {place_key(part): cut for part in plan.worked.placed for cut in part.machining if cut.kind == "cutout"}
    assert set(bored) == {f"{carcass_id} side {side}", f"{panel} end panel"}
    for cut in bored.values():
        assert (cut.x / INCH, cut.y / INCH) == (F(47, 4), 9)
        assert (cut.length / INCH, cut.width / INCH) == (5, F(13, 4))


def test_a_pipe_in_the_air_beside_a_side_is_not_cut_out_of_it() -> None:
    # 1/8 out of the wall where 1/2 of air is left: nobody has to reach it.
    of = design(carcass("A", "71"), space=replace(ROOM, obstacles=(pipe("left", "10"),)))
    assert covered(of) == ["covered by Side, left A"]


def test_a_shelf_across_a_vent_is_told_with_how_little_of_it_is_borne() -> None:
    # 4 to 16 along, 13 to 19 up; with 1/4 of air 12 1/2 of the shelf's 23: 10 1/2 are left.
    vent = Obstacle("vent", "left", "4", "13", "12", "6", "0")
    bay, space = Bay(fixed_shelves=("10",)), replace(ROOM, obstacles=(vent,))
    (told,) = found(design(carcass("A", "71", "34 1/2", "23 1/4", bay), space=space), "obstacle")
    assert told.because == "cut out of Side, left A. Across it: Shelf (10 1/2 of its 23 in still meets Side, left)."
    assert (told.result, told.mend) == ("warn", ("an open bay there",))
    (free,) = found(design(carcass("A", "71"), space=space), "obstacle")
    assert (free.result, free.because) == ("ok", "cut out of Side, left A")


@pytest.mark.parametrize(("along", "left"), [("5/4", "1/4 in"), ("2", "")])
def test_a_narrow_strip_beside_a_cutout_is_told(along: str, left: str) -> None:
    # The side's front edge is 3/4 along the wall; 1/4 of air is cut out, too: 5/4 - 3/4 - 1/4 = 1/4.
    (told,) = covered(design(carcass("A", "71"), space=replace(ROOM, obstacles=(outlet("left", along),))))
    assert ("saw it away" in told) == bool(left)
    assert f"; {left} is left of Side, left A at its front: saw it away too" in told or not left


@pytest.mark.parametrize(("wide", "left"), [("17", "5 1/2"), ("16 1/2", "")])
def test_a_part_of_which_little_is_left_beside_a_cutout_is_told(wide: str, left: str) -> None:
    # With 1/4 of air at both ends 17 1/2 of 23 are cut away; a quarter of them would be 5 3/4.
    vent = Obstacle("vent", "left", "4", "13", wide, "4", "0")
    (told,) = found(design(carcass("A", "71"), space=replace(ROOM, obstacles=(vent,))), "obstacle")
    neck = f"; of Side, left A only {left} of 23 in is left there: carry it flat, and brace it until the carcass stands"
    assert told.because == "cut out of Side, left A" + (neck if left else "")
    assert told.result == ("warn" if left else "ok")


def test_a_drawer_across_the_cutout_of_an_outlet_is_named_once() -> None:
    bay = Bay(openings=(Opening(front="drawer"),))
    (told,) = covered(
        design(carcass("A", "71", "34 1/2", "23 1/4", bay), space=replace(ROOM, obstacles=(outlet("left", "10"),)))
    )
    assert "Across it: a drawer." in told


@pytest.mark.parametrize(("slides", "is_covered"), [("0", True), ("12", False)])
def test_an_outlet_behind_a_drawer_of_a_box_without_a_back_is_covered(slides: str, is_covered: bool) -> None:
    bay = Bay(openings=(Opening(front="drawer"),))
    box = carcass("A", "24", "34 1/2", "24", bay, back="none", slide_length=slides)
    (told,) = found(design(box, space=replace(ROOM, obstacles=(outlet("back", "12", "14"),))), "obstacle")
    assert (told.result == "warn") == is_covered
    assert not is_covered or (told.because.startswith("covered by Drawer") and told.mend[0] == "slide length less")


def test_a_side_wall_that_the_row_does_not_reach() -> None:
    of = design(carcass("A", "40"), space=replace(ROOM, obstacles=(outlet("right", "10"),)))
    assert covered(of) == ["nothing covers it"]


def test_along_a_side_wall() -> None:
    # Depth 24; the left wall's left end is in front, the right one's at the back corner.
    of = design(carcass("A", "71"), space=replace(ROOM, obstacles=(outlet("left", "2"), outlet("right", "2"))))
    blocks = [block for _, block in plan_of(of).worked.on_walls]
    back_plane = 23.25
    assert float(blocks[0].low[1]) / IN == pytest.approx(back_plane - 24 + 2)
    assert float(blocks[1].high[1]) / IN == pytest.approx(back_plane - 2)


def block_of(of: Design) -> tuple[list[float], list[float]]:
    """Where the one obstacle lies in the room, inches from the row's front left corner at the floor."""
    ((_, block),) = plan_of(of).worked.on_walls
    return [float(at) / IN for at in block.low], [float(at) / IN for at in block.high]


def near(low: list[float], high: list[float]) -> tuple[object, object]:
    return pytest.approx(low), pytest.approx(high)


def test_where_an_obstacle_lies() -> None:
    # Row 71 wide and 23 1/4 deep, 1/2 of air at each side, 1/4 behind; the walls stand at -1/2, 71 1/2 and 23 1/2.
    room = replace(ROOM, clearance=Clearance("1/2", "1/2", "1/4"))

    def at(wall: str) -> tuple[list[float], list[float]]:
        pipe = Obstacle("pipe", wall, "3", "10", "4", "30", "2")  # type: ignore[arg-type]
        return block_of(design(carcass("A", "71"), space=replace(room, obstacles=(pipe,))))

    # 3 along from the left end, 2 out of the wall.
    assert at("back") == near([2.5, 21.5, 10], [6.5, 23.5, 40])
    # The left wall's left end is its front end, 24 before the back wall.
    assert at("left") == near([-0.5, 23.5 - 24 + 3, 10], [1.5, 23.5 - 24 + 7, 40])
    # The right wall's is the back corner.
    assert at("right") == near([69.5, 23.5 - 7, 10], [71.5, 23.5 - 3, 40])
    # What is flush with its wall still lies behind all that stands before it.
    flat = replace(room, obstacles=(outlet("back", "3", sticks_out="0"), outlet("left", "3", sticks_out="1/8")))
    placed = plan_of(design(carcass("A", "71"), space=flat)).worked.on_walls
    assert [float(placed[0][1].low[1]) / IN, float(placed[1][1].high[0]) / IN] == [23.25, 0]


def test_an_obstacle_in_a_skewed_plan() -> None:
    # The back left corner lies 3 to the right of the front one, and the box begins there.
    diagonals = (Reading("diagonal", "78", at="left"), Reading("diagonal", "72", at="right"))
    widths = (Reading("width", "75", at="front"), Reading("width", "75", at="back"))
    space = Space(readings=(*widths, *diagonals), obstacles=(outlet("back", "10"),))
    of = design(carcass("A", "60"), space=space)
    skew = (78**2 - 72**2) / (4 * 75)
    assert float(plan_of(of).worked.envelope.left) / IN == pytest.approx(skew)
    assert block_of(of)[0][0] == pytest.approx(10)


@pytest.mark.parametrize(("wall", "along"), [("back", "1/4"), ("left", "20")])
def test_an_outlet_behind_a_filler_is_covered(wall: str, along: str) -> None:
    filler = Filler("F", "Filler", "ply", "3")
    space = replace(ROOM, obstacles=(Obstacle("outlet", wall, along, "14", "2", "4", "0"),))  # type: ignore[arg-type]
    checks = run_checks(plan_of(uncut(filler, carcass("A", "68"), space=space)).worked)
    (told,) = (one for one in checks if one.check == "obstacle")
    assert told.result == "warn" and told.because.startswith("covered by Filler F")


@pytest.mark.parametrize("kind", ["other", "sill", "vent", "pipe"])
def test_a_part_in_the_place_of_what_sticks_out_of_the_wall_fails(kind: str) -> None:
    # A heater across the lower edge of the back, which nobody cuts out here.
    heater = Obstacle(kind, "back", "10", "8", "30", "9", "3")  # type: ignore[arg-type]
    (found,) = (
        one
        for one in run_checks(plan_of(uncut(carcass("A", "71"), space=replace(ROOM, obstacles=(heater,)))).worked)
        if one.check == "obstacle"
    )
    assert found.result == "fail" and found.because.startswith("in the place of Back A")
    assert "more air at the back wall" in found.mend
    # That is one: the piece stands 3 off the wall, and is only covered.
    off = replace(ROOM, obstacles=(heater,), clearance=Clearance("1/2", "1/2", "3"))
    told = {one.about: one for one in run_checks(plan_of(uncut(carcass("A", "71"), space=off)).worked)}
    assert told[found.about].result == "warn"


def test_what_is_above_or_beside_an_obstacle_does_not_cover_it() -> None:
    def told(*row: Carcass | Gap, up: str = "12", along: str = "10") -> str:
        return covered(uncut(*row, space=replace(ROOM, obstacles=(outlet("back", along, up),))))[0]

    assert told(carcass("A", "71")).startswith("covered by Back A")
    # The back ends at 34 1/2; it begins at the bottom's underside, 4 up; the outlet is 4 1/2 high.
    assert told(carcass("A", "71"), up="34 1/2") == "nothing covers it"
    assert told(carcass("A", "71"), up="34 7/16").startswith("covered by Top A, Back A")
    low = told(carcass("A", "71", kick_height="18"), up="12")
    assert low.startswith("covered by Kick panel A, in the closed space under the box. Power in a wall")
    assert told(carcass("A", "71", back="none")) == "nothing covers it"
    # A shelf that reaches to the wall meets it.
    box = carcass("A", "71", "34 1/2", "23 1/4", Bay("share", ("9",)), back="none")
    assert told(box).startswith("covered by Shelf")


def test_without_a_depth_nothing_is_known_of_the_front_of_a_side_wall() -> None:
    space = Space(readings=(Reading("width", "72"),), obstacles=(outlet("left", "10"), outlet("back", "10")))
    placed = plan_of(design(carcass("A", "71"), space=space)).worked.on_walls
    assert [obstacle.wall for obstacle, _ in placed] == ["back"]


def test_an_obstacle_that_cannot_be_read_is_a_problem_of_its_own() -> None:
    space = replace(ROOM, obstacles=(outlet("back", "wide"), outlet("back", "10")))
    plan = plan_of(design(carcass("A", "71"), space=space))
    (problem,) = plan.problems
    assert str(problem).startswith("outlet on the back wall, along: ")
    assert len([one for one in run_checks(plan.worked) if one.check == "obstacle"]) == 1


# --- Their words


def shown_in(unit: str, **changes: object) -> dict[str, Finding]:
    """The first finding of each check of one tall carcass with a shelf, its sizes shown in this unit."""
    ply = replace(GOODS["ply"], density="600", stiffness="6550", creep="1.5")
    row = carcass("A", "48", "84", "12", Bay("share", ("even",)), shelf_load="25", base="none")
    of = design(row, show={"in": "in 1/16", "mm": "mm 0.5"}[unit], materials={**GOODS, "ply": ply, "thin": ply})
    return {one.check: one for one in reversed(run_checks(plan_of(of).worked))}


def test_reasons_are_said_in_the_unit_of_the_project_and_numbers_stay_si() -> None:
    inches, metric = shown_in("in"), shown_in("mm")
    for check, unit in (("sag", "mm"), ("tipping", "N"), ("lifting", "kg")):
        assert inches[check].unit == metric[check].unit == unit
        assert inches[check].value == metric[check].value
    mass = metric["lifting"].value or 0
    assert metric["lifting"].because.startswith(f"{mass:.0f} kg")
    assert inches["lifting"].because.startswith(f"{mass / LB:.0f} lb")
    force = metric["tipping"].value or 0
    assert f"pulled with {force:.0f} N at ~1422.5 mm" in metric["tipping"].because
    assert f"pulled with {force / LB / GRAVITY:.1f} lbf at 56 in" in inches["tipping"].because
    # 25 lb a foot over 46 1/2 in.
    assert " under 97 lb, " in inches["sag"].because and " under 44 kg, " in metric["sag"].because
    assert " in with time " in inches["sag"].because and " mm with time " in metric["sag"].because


def test_a_sag_that_no_mark_of_the_tape_shows_is_less_than_one() -> None:
    of = design(
        carcass("A", "12", "34 1/2", "12", Bay("share", ("even",))),
        materials={**GOODS, "ply": replace(GOODS["ply"], stiffness="6550")},
    )
    assert only(found(of, "sag")).because.startswith("less than 1/16 in with time under ")


# --- Backs behind which a baseboard stands


def behind(board: str, thick: str = "1/2", **rules: str) -> Finding:
    """The check of the back of a carcass whose kick is 4 high, with 1/8 wanted clear of the board."""
    rules = {"back": "applied", "kick_height": "4", "baseboard_clearance": "1/8", "back_panel": "thin", **rules}
    return only(
        found(design(carcass(**rules), space=Space(baseboards=(Baseboard("back", board, thick),))), "baseboard")
    )


def test_a_baseboard_above_the_bottom_leaves_a_slot_and_says_how_high_a_kick_would_close_it() -> None:
    # The bottom's top face is at 4 3/4; the board takes the back up to 5 1/4 and 1/8.
    told = behind("5 1/4")
    assert told.result == "warn" and told.value == pytest.approx(5 / 8 * IN)
    assert "a slot 5/8 in high" in told.because
    assert told.mend[0] == "a kick at least 5 3/8 in high"
    mended = behind("5 1/4", kick_height="5 3/8")
    assert (mended.result, mended.value, mended.mend) == ("ok", 0, ())


def test_a_baseboard_against_the_bottoms_edge_leaves_a_slot_behind_it() -> None:
    # Up to 4 3/8 only the bottom's edge gives way: 5/8 for the board where the back takes 1/4.
    told = behind("4 1/4")
    assert told.result == "warn" and "a slot 3/8 in wide" in told.because
    assert told.mend[0] == "a kick at least 4 3/8 in high"
    assert behind("4 1/4", thick="1/8").result == "ok"


def test_the_height_that_closes_a_slot_is_rounded_up() -> None:
    assert behind("5 1/4", baseboard_clearance="3 mm").mend[0] == "a kick at least 5 3/8 in high"
    assert behind("5 1/4", baseboard_clearance="3.2 mm").mend[0] == "a kick at least 5 7/16 in high"


def test_a_plinth_is_mended_by_a_higher_plinth() -> None:
    assert behind("5 1/4", base="plinth").mend[0] == "a plinth at least 5 3/8 in high"
    assert behind("5 1/4", base="plinth", kick_height="5 3/8").result == "ok"


def test_a_back_that_hangs_from_the_top_is_meant_to_end_above_the_bottom() -> None:
    of = design(carcass(back_reach="part"), space=Space(baseboards=(Baseboard("back", "5", "1/2"),)))
    assert found(of, "baseboard") == []
    assert found(design(carcass()), "baseboard") == []


# --- Thicknesses


def thick(nominal: str, actual: str, unit: str = "in") -> list[Finding]:
    ply = replace(GOODS["ply"], nominal=nominal, actual=actual)
    return found(design(materials={**GOODS, "ply": ply}, unit=unit), "thickness")


def test_a_thickness_in_the_wrong_unit_is_asked_about() -> None:
    told = only(thick("3/4", "18"))
    assert (told.result, told.about) == ("warn", "material ply")
    assert told.because == "it is sold as 3/4 in and measures 18 in: inches or millimetres?"
    assert (told.value, told.limit, told.unit) == pytest.approx((17.25 * IN, 0.1875 * IN, "mm"))
    assert len(thick("18", "3/4 mm", "mm")) == len(thick("18", "18 in", "mm")) == 1


def test_a_sheet_thinner_than_its_name_is_no_matter() -> None:
    # 23/32 for 3/4, 5.2 mm for 1/4 in, 17.6 for 18, and a quarter exactly.
    for nominal, actual in (("3/4", "23/32"), ("1/4", "5.2 mm"), ("18 mm", "17.6 mm"), ("1", "3/4"), ("1", "1 1/4")):
        assert thick(nominal, actual) == []
    assert len(thick("1", "0.749")) == len(thick("1", "1.251")) == 1


def test_a_nominal_thickness_that_is_no_length_is_not_held_against_anything() -> None:
    assert thick("", "3/4") == thick("three quarters", "3/4") == []


# --- All of them


def test_the_worst_come_first_and_each_has_its_words() -> None:
    of = design(
        carcass("A", "71 1/64", "97", "25", Bay("share", ("even",), 1)),
        space=replace(ROOM, obstacles=(outlet("back", "10"),), baseboards=(Baseboard("back", "4", "1/2"),)),
        materials={**GOODS, "ply": Material("Ply", "3/4", "3/4", density="600", stiffness="6550", creep="1.5")},
    )
    findings = run_checks(plan_of(of).worked)
    order = [("fail", "warn", "unknown", "ok").index(one.result) for one in findings]
    assert order == sorted(order)
    assert {one.check for one in findings} == {
        "space", "dry fit", "square", "baseboard", "obstacle", "sheet", "sag", "tipping", "standing up", "lifting"
    }  # fmt: skip
    for one in findings:
        assert one.about and one.because
        assert bool(one.mend) or one.result in ("ok", "unknown")
        assert one.result == "unknown" or one.source


def test_nothing_built_is_nothing_checked() -> None:
    assert run_checks(plan_of(design()).worked) == ()


def test_a_box_that_falls_by_itself_fails() -> None:
    # Its feet are all behind its middle: 22 of 23 1/4 in are kick.
    heavy = {key: replace(one, density="600") for key, one in GOODS.items()}
    falls = design(carcass("A", "24", "34 1/2", "23 1/4", kick_depth="22"), materials=heavy)
    (told,) = found(falls, "tipping")
    assert told.result == "fail" and "falls forward by itself" in told.because


def test_nothing_is_said_of_a_carcass_that_cannot_be_built() -> None:
    of = design(carcass("A", dado_depth="2", bottom_joint="dado"), carcass("B"))
    tipping = [one for one in run_checks(plan_of(of).worked) if one.check == "tipping"]
    assert [one.about.partition(",")[0] for one in tipping] == ["carcass B"]


@pytest.mark.parametrize(("wall", "along"), [("back", "0"), ("left", "20 1/2")])
def test_no_hole_is_bored_where_a_pipe_is_cut_out_and_a_shelf_without_a_pin_is_told(wall: str, along: str) -> None:
    # A riser in the rear left corner, 2 by 2 and 12 high from the floor, told on either wall: 24 deep, so on the left
    # wall it ends 22 1/2 from the front; 1/2 of clearance at both walls.
    riser = Obstacle("pipe", wall, along, "0", "3", "20", "3")  # type: ignore[arg-type]
    space = replace(ROOM, obstacles=(riser,), clearance=Clearance("1/2", "1/2", "1/2"))
    box = carcass("A", "71", "34 1/2", "23 1/4", Bay(adjustable_shelves=4), back="let in", base="none")
    worked = plan_of(design(box, space=space)).worked
    assert worked.problems == () and worked.misfits == ()
    (side,) = (part for part in worked.placed if part.role == "side" and part.hand == "left")
    (cut,) = (cut for cut in side.machining if cut.place == "for the pipe")
    assert (cut.kind, cut.depth) == ("notch", None)
    rows = {row.place: row for row in side.holes}
    front, rear = rows["shelf pins, front row"], rows["shelf pins, rear row"]
    for x, y in (centre for row in side.holes for centre in row.centres()):
        beside = x + front.diameter / 2 <= cut.x or x - front.diameter / 2 >= cut.x + cut.length
        assert beside or y + front.diameter / 2 <= cut.y or y - front.diameter / 2 >= cut.y + cut.width
    # What is left of the row is on the same grid, above the pipe.
    assert rear.count < front.count and {x for x, _ in rear.centres()} <= {x for x, _ in front.centres()}
    (told,) = [one for one in run_checks(worked) if one.check == "obstacle"]
    assert told.result == "warn" and "have no pin at that corner: put them on other holes" in told.because


def test_a_pipe_in_the_way_of_a_drawer_fails_and_says_what_mends_it() -> None:
    riser = Obstacle("pipe", "back", "20", "0", "2", "10", "3")
    bay = Bay(openings=(Opening(front="drawer"),))
    of = design(carcass("A", "71", "20", "23 1/4", bay, base="none"), space=replace(ROOM, obstacles=(riser,)))
    (told,) = found(of, "obstacle")
    assert told.result == "fail" and told.because.startswith("in the place of Drawer end")
    assert "slide length less" in told.mend


# --- Parts that no sheet gives


def test_a_part_that_no_sheet_gives_is_told_with_what_makes_it_smaller() -> None:
    # Sheets of 96 x 48, no kick: the back is 100 wide, bottom and top 98 1/2, a shelf in each of two bays 48 7/8.
    bays = Bay("share", ("even",)), Bay()
    wide = {one.about: one for one in found(design(carcass("A", "100", "34 1/2", "12", *bays, base="none")), "sheet")}
    assert list(wide) == ["Bottom A", "Top A", "Back A"]
    assert {one.result for one in wide.values()} == {"warn"}
    assert "98 1/2 x 11 3/4 in to cut, and the largest sheet of ply gives 96 x 48 in" in wide["Bottom A"].because
    assert wide["Bottom A"].mend[0] == "carcass A 2 1/2 in narrower, or two carcasses side by side in its place"
    assert wide["Bottom A"].mended_at == ("row", "A")
    # The grain of the back stands, so it is 100 across it, and would fit neither way.
    assert wide["Back A"].mend[0] == "carcass A 52 in narrower, or two carcasses side by side in its place"
    assert "grain" not in wide["Back A"].because
    (tall,) = found(design(carcass("A", "24", "97", "12", back="none")), "sheet")[:1]
    assert tall.mend[0] == "carcass A 1 in lower, or two carcasses one on the other in its place"


def test_a_back_that_would_fit_with_its_grain_across_is_told_so() -> None:
    told = only(found(design(carcass("A", "60", "34 1/2", "12", base="none")), "sheet"))
    assert told.about == "Back A" and "its grain may not run the other way" in told.because
    assert told.mend[-1] == "a larger sheet, or a material without grain"
    thin = replace(GOODS["thin"], grain=False)
    assert found(design(carcass("A", "60", "34 1/2", "12"), materials={**GOODS, "thin": thin}), "sheet") == []


def test_a_material_of_which_nothing_can_be_had_is_told_once() -> None:
    none = replace(GOODS["ply"], stock=(Stock("96 in", "48 in", quantity=0), Stock("48 in", "24 in", quantity=0)))
    told = only(found(design(carcass("A"), materials={**GOODS, "ply": none}), "sheet"))
    assert (told.about, told.result, told.mended_at) == ("material ply", "warn", ("materials", "ply"))
    assert "every quantity is 0" in told.because


@pytest.mark.parametrize(("trim", "quantity", "gives"), [("1", None, "94 in"), ("0", 0, "0 in")])
def test_a_stile_longer_than_any_length_of_its_board_is_told(trim: str, quantity: int | None, gives: str) -> None:
    # 110 high with a bottom rail that hangs 3/4 below the bottom's underside, which is 4 up: 106 3/4.
    lengths = (Length("48", quantity=quantity), Length("96", quantity=quantity))
    board = Board("Poplar", "3/4", "1 1/2", trim, lengths=lengths)
    of = design(carcass("A", "30", "110", "24", face_frame="poplar"), boards={"poplar": board})
    told = [one for one in found(of, "sheet") if one.about.startswith("Stile")]
    assert [one.about for one in told] == ["Stile, left A", "Stile, right A"]
    assert told[0].because == f"106 3/4 in long, and the longest length of poplar gives {gives}"
    short = design(
        carcass("A", "30", "90", "24", face_frame="poplar"),
        boards={"poplar": replace(board, trim="1", lengths=(Length("96"),))},
    )
    assert found(short, "sheet") == []


def test_of_a_carcass_that_comes_out_of_its_sheets_nothing_is_said() -> None:
    assert found(design(carcass("A", "48", "96", "12", base="none")), "sheet") == []
