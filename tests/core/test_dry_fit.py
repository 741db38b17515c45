"""The dry fit itself: what it must see, by hand, and its orders of assembly and its doors against another reckoning."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from math import cos, pi, sin
from typing import Any

import pytest
from as_printed import AXES, TOLERANCE, Piece, middles, pieces_of
from carcasses import Tried, buildable, unshrunk
from designs import carcass, design, plan_of
from hypothesis import given, settings
from hypothesis import strategies as st

from core.construction.bench import STANDS, Built
from core.construction.part import Box, Hand, Machining, Part
from core.dry_fit import Asked, Meeting, Sliding, Swinging, dry_fit, order_of_assembly
from core.mistakes import Mistake
from core.outputs import parts_document
from core.project import Bay, Opening
from core.put_together import assembly_of

Ends = tuple[int, int]


def part(role: str, place: str, x: Ends, y: Ends, z: Ends, hand: Hand | None = None) -> Part:
    """A panel without grain in its place, mm."""
    thin, along = STANDS[role]
    (across,) = {"x", "y", "z"} - {thin, along}
    box = Box(*(tuple(Fraction(span[end]) for span in (x, y, z)) for end in (0, 1)))  # type: ignore[arg-type]
    return Part("A", role, place, f"{role} {place}".strip(), "ply", box, along, across, "none", hand=hand)  # type: ignore[arg-type]


def sentences(*args: Any, **more: Any) -> list[str]:
    return [misfit.sentence for misfit in dry_fit(*args, **more)]


# --- What moves


def drawer() -> tuple[Part, ...]:
    return (
        part("drawer front", "", (-10, 410), (-18, 0), (0, 160)),
        part("drawer side", "left", (13, 25), (0, 400), (20, 140)),
        part("drawer side", "right", (375, 387), (0, 400), (20, 140)),
    )


@pytest.mark.parametrize(
    ("rail", "told"),
    [
        pytest.param(((0, 400), (0, 60), (150, 168)), [], id="above it"),
        pytest.param(
            ((0, 400), (-40, -20), (130, 148)), ["are in each other's way when the drawer opens"], id="before"
        ),
        pytest.param(((0, 400), (-300, -280), (160, 178)), [], id="just above its front"),
        pytest.param(((0, 400), (-500, -430), (0, 160)), [], id="where it ends"),
        pytest.param(
            ((0, 400), (-500, -417), (0, 160)), ["are in each other's way when the drawer opens"], id="a mm on"
        ),
    ],
)
def test_a_drawer_and_a_rail(rail: tuple[Ends, Ends, Ends], told: list[str]) -> None:
    parts = drawer()
    assert sentences([*parts, part("rail", "", *rail)], [], [Sliding(parts, Fraction(400))]) == told


def test_a_drawer_may_slide_through_what_is_cut_out() -> None:
    parts = drawer()
    rail = part("kick", "", (0, 400), (-60, -40), (0, 200))
    notched = replace(
        rail,
        machining=(Machining("cutout", "", Fraction(0), Fraction(0), Fraction(400), Fraction(170)),),
    )
    assert sentences([*parts, rail], [], [Sliding(parts, Fraction(400))])
    front = replace(
        parts[0], box=Box((Fraction(5), Fraction(-18), Fraction(0)), (Fraction(395), Fraction(0), Fraction(160)))
    )
    parts = (front, *parts[1:])
    assert sentences([*parts, notched], [], [Sliding(parts, Fraction(400))]) == []


@pytest.mark.parametrize(
    ("gap", "hinged", "told"),
    [
        ("1/8", "left", []),
        ("1/8", "right", []),
        # Its inner corner goes out by 3/4 squared over twice 24, which is more than half the gap.
        ("1/64", "left", ["are in each other's way when the door opens"]),
        ("1/64", "right", []),
    ],
)
def test_a_door_beside_a_proud_neighbour(gap: str, hinged: Any, told: list[str]) -> None:
    of = design(
        carcass("A", "24", "34 1/2", "20", Bay(front="door", hinged=hinged)),
        carcass("B", "24", "34 1/2", "26"),
        rules={"panel": "ply", "back_panel": "thin", "front_gap": gap},
    )
    plan = plan_of(of)
    assert plan.problems == ()
    assert [misfit.sentence for misfit in plan.worked.misfits] == told


def test_an_inset_door_too_narrow_for_its_thickness_does_not_open() -> None:
    bays = [Bay("3", front="door"), Bay()]
    plan = plan_of(design(carcass("A", "24", "34 1/2", "20", *bays, fronts="inset", front_gap="1/16")))
    assert [misfit.sentence for misfit in plan.worked.misfits] == ["are in each other's way when the door opens"]
    assert plan.problems == ()


def test_a_drawer_behind_a_door_is_refused() -> None:
    bay = Bay(front="door", openings=(Opening(front="drawer"),))
    assert "hides the fronts of its openings" in str(
        plan_of(design(carcass("A", "24", "34 1/2", "20", bay))).problems[0]
    )


coordinates = st.tuples(st.integers(-450, 450), st.integers(1, 200))


def turned(door: Part, degrees: float) -> list[tuple[float, float]]:
    """The corners of a door seen from above, opened so far about its outer edge at the hinges."""
    (left, front, _), (right, rear, _) = door.box.low, door.box.high
    sign = 1 if door.hand == "left" else -1
    pivot = float(left if door.hand == "left" else right)
    wide, thick, angle = float(right - left), float(rear - front), degrees * pi / 180
    corners = []
    for x, y in ((0.0, 0.0), (wide, 0.0), (wide, thick), (0.0, thick)):
        along, back = x * cos(angle) + y * sin(angle), -x * sin(angle) + y * cos(angle)
        corners.append((pivot + sign * along, float(front) + back))
    return corners


def crosses(corners: Sequence[tuple[float, float]], x: tuple[float, float], y: tuple[float, float]) -> bool:
    """Whether a convex outline and a rectangle have more in common than an edge: no line parts them."""
    other = [(x[0], y[0]), (x[1], y[0]), (x[1], y[1]), (x[0], y[1])]
    for outline in (corners, other):
        for (ax, ay), (bx, by) in pairwise([*outline, outline[0]]):
            across = (ay - by, bx - ax)
            mine, theirs = ([across[0] * px + across[1] * py for px, py in one] for one in (corners, other))
            if max(mine) <= min(theirs) + 1e-6 or max(theirs) <= min(mine) + 1e-6:
                return False
    return True


@settings(max_examples=150, deadline=None)
@given(coordinates, coordinates, st.integers(200, 400), st.integers(12, 25), st.sampled_from(("left", "right")))
def test_a_door_meets_what_it_meets_when_it_is_turned(
    across: Ends, deep: Ends, wide: int, thick: int, hand: Hand
) -> None:
    door = part("door", "", (0, wide), (-thick, 0), (0, 700), hand)
    x, y = (across[0], across[0] + across[1]), (deep[0] - 250, deep[0] - 250 + deep[1])
    other = part("rail", "", x, y, (300, 318))
    said = bool(sentences([door, other], [], [Swinging(door)]))
    angles = [n / 4 for n in range(361)]

    def meets(more: float) -> bool:
        grown = ((x[0] - more, x[1] + more), (y[0] - more, y[1] + more))
        return any(crosses(turned(door, angle), *grown) for angle in angles)

    if meets(0):
        assert said
    # A corner goes past the door's own width by less than 2 mm; there the dry fit is on the safe side.
    if not meets(2):
        assert not said


# --- What stands


def test_what_overlaps_what_does_not_meet_and_what_is_too_wide() -> None:
    left, right = (part("side", hand, x, (0, 300), (0, 700)) for hand, x in (("left", (0, 18)), ("right", (382, 400))))
    shelf = part("shelf", "1", (18, 382), (0, 300), (300, 318))
    parts = [left, right, shelf]
    joints = [Meeting(shelf, left), Meeting(shelf, right)]
    whole = Asked(tuple(parts), (Fraction(400), Fraction(300), Fraction(700)))
    assert sentences(parts, joints, asked=[whole]) == []
    for x, told in (
        ((17, 382), ["are in each other's place", "do not meet as their joint says"]),
        ((19, 382), ["do not meet as their joint says"]),
    ):
        wrong = part("shelf", "1", x, (0, 300), (300, 318))
        joints = [Meeting(wrong, left), Meeting(wrong, right)]
        assert sentences([left, right, wrong], joints) == told
    aside = part("shelf", "1", (18, 382), (300, 600), (300, 318))
    assert sentences([left, right, aside], [Meeting(aside, left)]) == ["do not meet at all"]
    assert sentences(parts, [Meeting(left, right, Fraction(364))]) == []
    wide = Asked(tuple(parts), (Fraction(401), Fraction(300), Fraction(699)))
    assert [(one.sentence, one.amount) for one in dry_fit(parts, [], asked=[wide])] == [
        ("is not as wide with the others as was asked", -1),
        ("is not as high with the others as was asked", 1),
    ]


def test_an_edge_alone_is_no_joint() -> None:
    side = part("side", "left", (0, 18), (0, 300), (0, 300))
    shelf = part("shelf", "1", (18, 400), (0, 300), (300, 318))
    assert sentences([side, shelf], [Meeting(shelf, side)]) == ["do not meet at all"]


# --- Into one another


def frame_and_dumbbell() -> tuple[Part, Part]:
    """A board with a hole, and another through it that is thicker on both sides: nobody gets them apart."""
    frame = part("back", "", (0, 100), (0, 18), (0, 100))
    hole = Machining("cutout", "", Fraction(40), Fraction(40), Fraction(20), Fraction(20))
    bar = part("rail", "", (30, 70), (-20, 38), (30, 70))
    # Along x and y from its own corner; between the faces of the frame it is 20 by 20.
    waist = [
        Machining("notch", "", Fraction(0), Fraction(20), Fraction(10), Fraction(18)),
        Machining("notch", "", Fraction(30), Fraction(20), Fraction(10), Fraction(18)),
        Machining("groove", "", Fraction(0), Fraction(20), Fraction(40), Fraction(18), Fraction(10), "low"),
        Machining("groove", "", Fraction(0), Fraction(20), Fraction(40), Fraction(18), Fraction(10), "high"),
    ]
    return replace(frame, machining=(hole,)), replace(bar, machining=tuple(waist))


def test_parts_that_cannot_be_got_together() -> None:
    frame, bar = frame_and_dumbbell()
    assert sentences([frame, bar], [Meeting(bar, frame)]) == []
    assert order_of_assembly([frame, bar]) == ((), (frame, bar))
    with pytest.raises(Mistake, match="cannot be got to their places one after another: rail, back"):
        assembly_of(Built((frame, bar), ()))


def test_what_is_not_locked_goes_first_out_and_the_rest_is_named() -> None:
    frame, bar = frame_and_dumbbell()
    beside = part("side", "left", (-18, 0), (0, 18), (0, 100))
    assert order_of_assembly([frame, beside, bar]) == ((), (frame, bar))


def test_one_part_and_none() -> None:
    assert order_of_assembly([]) == ((), ())
    side = part("side", "left", (0, 18), (0, 300), (0, 700))
    ((only,), locked) = order_of_assembly([side])
    assert (only.part, only.way, locked) == (side, None, ())


def test_a_shelf_in_stopped_dadoes_comes_before_the_side_that_closes_it() -> None:
    bay = Bay("share", ("12",))
    plan = plan_of(design(carcass("A", "24", "34 1/2", "23", bay, shelf_joint="stopped dado", top="none")))
    order = [f"{one.part.role} {one.part.place}".strip() for one in plan.worked.assembly["A"]]
    assert plan.problems == ()
    assert order.index("shelf bay 1 no 1") < order.index("side right")
    assert plan.worked.assembly["A"][0].way is None


COMES_FROM = {
    "right": ("x", 1),
    "left": ("x", -1),
    "back": ("y", 1),
    "front": ("y", -1),
    "above": ("z", 1),
    "below": ("z", -1),
}


def in_the_way(piece: Piece, other: Piece, way: str) -> bool:
    """Whether a piece would pass through another on its way: on some line, wood of the other lies further out."""
    axis, sign = COMES_FROM[way]
    i = AXES.index(axis)
    flat = [n for n in range(3) if n != i]
    region = [(max(piece.block[n][0], other.block[n][0]), min(piece.block[n][1], other.block[n][1])) for n in flat]
    if any(end - start <= TOLERANCE for start, end in region):
        return False
    cuts = [[cut[n] for n in flat] for one in (piece, other) for cut in one.taken]
    for at in middles(region, cuts):
        mine, theirs = (stretches(one, i, [*at[:i], 0.0, *at[i:]]) for one in (piece, other))
        if not mine or not theirs:
            continue
        if sign > 0 and max(end for _, end in theirs) > min(start for start, _ in mine) + TOLERANCE:
            return True
        if sign < 0 and min(start for start, _ in theirs) < max(end for _, end in mine) - TOLERANCE:
            return True
    return False


def stretches(piece: Piece, axis: int, at: list[float]) -> list[tuple[float, float]]:
    """Where a line along an axis runs in wood."""
    ends = sorted({*piece.block[axis], *(end for cut in piece.taken for end in cut[axis])})
    found = []
    for start, end in pairwise(ends):
        at[axis] = (start + end) / 2
        if end - start > TOLERANCE and piece.fills(at):
            found.append((start, end))
    return found


@settings(unshrunk, max_examples=50)
@given(buildable)
def test_an_order_of_assembly_can_be_followed(drawn: Tried) -> None:
    plan = plan_of(drawn[0])
    order = plan.worked.assembly["A"]
    pieces = {
        piece.place: piece
        for line in json.loads(json.dumps(parts_document(plan)))["parts"]
        for piece in pieces_of(line)
    }
    there: list[Piece] = []
    for coming in order:
        piece = pieces[f"{coming.part.role} {coming.part.place}".strip()]
        if coming.way is None:
            assert not there
        else:
            assert not [one.place for one in there if in_the_way(piece, one, coming.way)]
        there.append(piece)
    hung = ("drawer", "door", "false front", "loose shelf", "plinth")
    assert sorted(one.place for one in there) == sorted(place for place in pieces if not place.startswith(hung))


def test_the_other_reckoning_sees_what_is_in_the_way() -> None:
    side = Piece(
        "S",
        "side",
        "ply",
        ((0.0, 18.0), (0.0, 300.0), (0.0, 700.0)),
        [((12.0, 18.0), (0.0, 300.0), (300.0, 318.0))],
        [],
    )
    shelf = Piece("F", "shelf", "ply", ((12.0, 400.0), (0.0, 300.0), (300.0, 318.0)), [], [])
    assert {way for way in COMES_FROM if not in_the_way(shelf, side, way)} == {"right", "front", "back"}
    assert {way for way in COMES_FROM if not in_the_way(side, shelf, way)} == {"left", "front", "back"}


@pytest.mark.parametrize("back", ["applied", "let in", "grooved"])
@pytest.mark.parametrize("joint", ["butt", "dado", "stopped dado"])
@pytest.mark.parametrize("fastening", ["screws", "dowels"])
def test_no_part_waits_in_the_air_and_none_slides_far(back: str, joint: str, fastening: str) -> None:
    joints = dict.fromkeys(("bottom_joint", "top_joint", "shelf_joint", "divider_joint"), joint)
    bays = (Bay(fixed_shelves=("even",)), Bay(fixed_shelves=("8", "20")))
    box = carcass("A", "48", "34 1/2", "20", *bays, back=back, fastening=fastening, top="panel", **joints)
    order = plan_of(design(box)).worked.assembly["A"]
    there: list[Part] = []
    for coming in order:
        part = coming.part
        touched = [one for one in there if min(part.box.common(one.box)) >= 0]
        assert touched or not there
        if part.role != "back":
            axis = {"left": "x", "right": "x", "front": "y", "back": "y"}.get(coming.way or "", "z")
            housed = [part.box.common(one.box) for one in touched if min(part.box.common(one.box)) > 0]
            assert all(shared["xyz".index(axis)] < 50 for shared in housed)
        there.append(part)


def test_a_divider_that_is_notched_for_a_nailer_all_along_a_low_back_is_not_joined_to_it() -> None:
    rules = {"back_reach": "part", "back_height": "3 1/2", "nailers": "top", "nailer_height": "4", "top": "panel"}
    worked = plan_of(design(carcass("A", "48", "34 1/2", "20", Bay(), Bay(), **rules))).worked
    assert worked.problems == () and worked.misfits == ()
    higher = plan_of(design(carcass("A", "48", "34 1/2", "20", Bay(), Bay(), **{**rules, "back_height": "12"}))).worked

    def meets_the_divider(meetings: Sequence[Meeting]) -> bool:
        return any({"back", "divider"} == {one.one.role, one.other.role} for one in meetings)

    assert meets_the_divider(higher.meetings) and not meets_the_divider(worked.meetings)
