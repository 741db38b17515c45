"""What holds a joint: kinds, lengths and counts against values of the trade, each beside the name of its source.

Whatever two boards are thick, no point may come through a face that is seen.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from functools import cache
from typing import get_args, get_type_hints

import pytest
from designs import GOODS, INCH, carcass, design, inches, plan_of
from hypothesis import given
from hypothesis import strategies as st

from core.checks import run_checks
from core.construction.part import Axis, Box, Part
from core.construction.rule_book import Rules
from core.dry_fit import Meeting
from core.fastening import Fastener, fastener_of
from core.fastening import fastened as all_fastened
from core.lengths import Notation, Unit
from core.project import Bay, Design, Opening

F = Fraction
Corner = tuple[Fraction, Fraction, Fraction]
KINDS: tuple[str, ...] = get_args(get_type_hints(Rules)["fastening"])
UNITS: tuple[Unit, ...] = ("in", "mm")
LONG = F(600)
"""Of a joint where it does not matter, mm."""


@cache
def some_rules() -> Rules:
    return plan_of(design(carcass())).worked.rules["A"]


def ruled(kind: str) -> Rules:
    return replace(some_rules(), fastening=kind)  # type: ignore[arg-type]


def board(role: str, thick: Axis, low: Corner, high: Corner, of: str = "A") -> Part:
    along, across = [axis for axis in ("x", "y", "z") if axis != thick]
    return Part(of, role, "", role.title(), "ply", Box(low, high), along, across, "length")  # type: ignore[arg-type]


def edge_on_face(first: Fraction, second: Fraction, long: Fraction = LONG) -> Meeting:
    """The end of a board `second` thick stands on the face of one `first` thick, which a screw goes through."""
    side = board("side", "x", (F(0), F(0), F(0)), (first, long, F(900)))
    lying = board("bottom", "z", (first, F(0), F(400)), (first + 500, long, F(400) + second))
    return Meeting(lying, side)


def face_on_face(first: Fraction, second: Fraction, long: Fraction = LONG) -> Meeting:
    """Two boards flat on each other."""
    lower = board("worktop", "z", (F(0), F(0), F(0)), (long, F(100), first))
    return Meeting(lower, board("worktop", "z", (F(0), F(0), first), (long, F(100), first + second)))


def fastened(meeting: Meeting, kind: str = "screws", unit: Unit = "in") -> Fastener:
    found = fastener_of(meeting, ruled(kind), unit)
    assert found is not None
    return found


def mm(text: str) -> Fraction:
    """`3/4`, in inches, or `18 mm`."""
    return F(text.removesuffix(" mm")) if text.endswith(" mm") else inches(text)


# --- Lengths


@pytest.mark.parametrize(
    ("first", "unit", "length"),
    [
        # Through the first board, and at most 38 mm, 1 1/2 in, into the edge (common practice, no source); the longest
        # that is sold (from memory). 3/4 and 1 1/2: 2 1/4, so 2 in, which is what holds 3/4 boards (trade practice).
        ("3/4", "in", "2"),
        # 2 in less a hair: 1/2 in = 12.7 and 38 are 50.7 mm, and 2 in 50.8.
        ("1/2", "in", "1 1/2"),
        ("1", "in", "2"),
        # 38.1 and 38 are 76.1; 3 in are 76.2.
        ("1 1/2", "in", "2 1/2"),
        # 56; 54; 50; 57.05.
        ("18 mm", "mm", "50 mm"),
        ("16 mm", "mm", "50 mm"),
        ("12 mm", "mm", "50 mm"),
        ("3/4", "mm", "50 mm"),
        # 60 to the hair.
        ("22 mm", "mm", "60 mm"),
    ],
)
def test_screws_into_an_edge(first: str, unit: Unit, length: str) -> None:
    found = fastened(edge_on_face(mm(first), mm("3/4")), unit=unit)
    assert (found.kind, found.length, found.diameter) == ("screws", mm(length), None)
    # It is the board whose face is met that counts, whichever is named first.
    meeting = edge_on_face(mm(first), mm("3/4"))
    assert fastened(Meeting(meeting.other, meeting.one), unit=unit) == found
    # The edge of a thinner board is split by more than 20 mm (common practice, no source).
    assert fastened(edge_on_face(mm(first), mm("1/2")), unit=unit).length <= mm(first) + 20


@pytest.mark.parametrize(
    ("first", "second", "unit", "length"),
    [
        # Short of the far face by 1/8 at least (common practice, no source): 1 1/2 - 1/8 = 1 3/8, so 1 1/4, which is
        # what two of 3/4 are screwed together with (trade practice).
        ("3/4", "3/4", "in", "1 1/4"),
        # A drawer's front on a drawer of 1/2: 1 1/8, so 1 in (trade practice).
        ("3/4", "1/2", "in", "1"),
        ("1/2", "3/4", "in", "1"),
        ("1/4", "3/4", "in", "3/4"),
        # 1/2 + 1/4 - 1/8 = 5/8 to the hair; a hair less, and only 1/2 is left.
        ("1/2", "1/4", "in", "5/8"),
        ("31/64", "1/4", "in", "1/2"),
        # 36 - 3.175 = 32.8; 32 - 3.175 = 28.8; 24 - 3.175 = 20.8.
        ("18 mm", "18 mm", "mm", "30 mm"),
        ("16 mm", "16 mm", "mm", "25 mm"),
        ("18 mm", "6 mm", "mm", "20 mm"),
    ],
)
@pytest.mark.parametrize("kind", KINDS)
def test_screws_from_face_to_face(first: str, second: str, unit: Unit, length: str, kind: str) -> None:
    # Nothing else does there, whatever the rule says: no edge for a dowel, no end for a pocket.
    found = fastened(face_on_face(mm(first), mm(second)), kind, unit)
    assert (found.kind, found.length) == ("screws", mm(length))


def test_two_thin_boards_bear_no_screw() -> None:
    # 1/4 + 1/4 - 1/8 = 3/8, and the shortest is 1/2 (from memory).
    assert fastener_of(face_on_face(inches("1/4"), inches("1/4")), ruled("screws"), "in") is None


POCKET = {"1/2": "1", "3/4": "1 1/4", "1": "1 1/2", "1 1/2": "2 1/2"}
"""From which thickness on; trade practice."""


@pytest.mark.parametrize(("thick", "length"), POCKET.items())
def test_pocket_screws(thick: str, length: str) -> None:
    found = fastened(edge_on_face(inches(thick), inches(thick)), "pocket screws")
    assert (found.kind, found.length, found.diameter) == ("pocket screws", inches(length), None)
    # The thinner board decides.
    for other in POCKET:
        if inches(other) >= inches(thick):
            assert fastened(edge_on_face(inches(other), inches(thick)), "pocket screws").length == inches(length)
            assert fastened(edge_on_face(inches(thick), inches(other)), "pocket screws").length == inches(length)


@pytest.mark.parametrize(
    ("thick", "length"),
    # As plywood measures, and as boards in millimetres do: a length for what they are called (common practice).
    [("23/32", 32), ("15/32", 25), ("12 mm", 25), ("16 mm", 25), ("18 mm", 32), ("25 mm", 38), ("38 mm", 64)],
)
def test_pocket_screws_in_millimetres(thick: str, length: int) -> None:
    # 25, 32, 38 and 64 mm are 1, 1 1/4, 1 1/2 and 2 1/2 in (from memory).
    assert fastened(edge_on_face(mm(thick), mm(thick)), "pocket screws", "mm").length == length


def test_no_pocket_in_a_thin_board() -> None:
    # The chart begins at 1/2.
    assert fastener_of(edge_on_face(inches("3/4"), inches("3/8")), ruled("pocket screws"), "in") is None


@pytest.mark.parametrize(
    ("thick", "unit", "size"),
    [
        # At most half as thick as the board (common practice, no source); lengths from memory.
        ("3/4", "in", ("3/8", "1 1/2")),
        ("23/32", "in", ("5/16", "1 1/4")),
        ("5/8", "in", ("5/16", "1 1/4")),
        ("1/2", "in", ("1/4", "1")),
        ("20 mm", "mm", ("10 mm", "40 mm")),
        ("19 mm", "mm", ("8 mm", "30 mm")),
        ("18 mm", "mm", ("8 mm", "30 mm")),
        ("16 mm", "mm", ("8 mm", "30 mm")),
        ("15 mm", "mm", ("6 mm", "25 mm")),
        ("12 mm", "mm", ("6 mm", "25 mm")),
    ],
)
def test_dowels(thick: str, unit: Unit, size: tuple[str, str]) -> None:
    for meeting in (edge_on_face(mm(thick), mm("1")), edge_on_face(mm("1"), mm(thick))):
        found = fastened(meeting, "dowels", unit)
        assert (found.diameter, found.length) == tuple(map(mm, size))


@pytest.mark.parametrize(("thick", "unit"), [("31/64", "in"), ("11.9 mm", "mm")])
def test_no_dowel_is_thin_enough(thick: str, unit: Unit) -> None:
    # Half of it is less than the thinnest.
    assert fastener_of(edge_on_face(mm("3/4"), mm(thick)), ruled("dowels"), unit) is None


@pytest.mark.parametrize(
    ("first", "second", "holds"), [(15, 15, True), (18, 15, True), (18, 14.9, False), (14.9, 18, False)]
)
def test_connector_screws(first: float, second: float, holds: bool) -> None:
    # 7 x 50 mm, in boards of 15 mm or more (from memory).
    for unit in UNITS:
        found = fastener_of(edge_on_face(F(str(first)), F(str(second))), ruled("connector screws"), unit)
        assert (found is not None) is holds
        assert found is None or (found.kind, found.diameter, found.length) == ("connector screws", 7, 50)


@pytest.mark.parametrize(
    ("kind", "unit", "text"),
    [
        ("screws", "in", "screws 2 in"),
        ("pocket screws", "in", "pocket screws 1 1/4 in"),
        ("dowels", "in", "dowels 3/8 in x 1 1/2 in"),
        ("screws", "mm", "screws 50 mm"),
        ("dowels", "mm", "dowels 8 mm x 30 mm"),
        ("connector screws", "mm", "connector screws 7 mm x 50 mm"),
    ],
)
def test_as_it_is_bought(kind: str, unit: Unit, text: str) -> None:
    assert fastened(edge_on_face(inches("3/4"), inches("3/4")), kind, unit).text(Notation.read("", unit)) == text


# --- How many


@pytest.mark.parametrize(
    ("kind", "long", "unit", "count"),
    [
        # At most 7 in or 175 mm apart (common practice, no source). 23 3/4: four spaces.
        ("screws", "23 3/4", "in", 5),
        ("screws", "14", "in", 3),
        ("screws", "14 1/64", "in", 4),
        ("screws", "7", "in", 2),
        ("screws", "525 mm", "mm", 4),
        ("screws", "526 mm", "mm", 5),
        ("pocket screws", "23 3/4", "in", 5),
        ("pocket screws", "526 mm", "mm", 5),
        # 4 in or 100 mm: 23 3/4 is six spaces.
        ("dowels", "23 3/4", "in", 7),
        ("dowels", "4", "in", 2),
        ("dowels", "500 mm", "mm", 6),
        # 8 in or 200 mm.
        ("connector screws", "24", "in", 4),
        ("connector screws", "601 mm", "mm", 5),
        # Never fewer than two: one alone lets the board turn.
        *((kind, "1", "in", 2) for kind in KINDS if kind != "glue"),
    ],
)
def test_how_many(kind: str, long: str, unit: Unit, count: int) -> None:
    assert fastened(edge_on_face(inches("3/4"), inches("3/4"), mm(long)), kind, unit).count == count


# --- Where there are none


def cabinet(**rules: str) -> Design:
    """A drawer over a false front over a door, a fixed shelf and loose ones."""
    below = Opening("14", "door", adjustable_shelves=1, above="shelf")
    bay = Bay(openings=(below, Opening("6", "false front", above="rail"), Opening(front="drawer")))
    return design(
        carcass("A", "24", "34 1/2", "23 1/4", bay, **{"shelf_joint": "dado", "bottom_joint": "dado", **rules})
    )


def roles(of: Design) -> dict[frozenset[str], set[str]]:
    """By the roles of the two that meet, what holds them; empty for nothing."""
    worked = plan_of(of).worked
    assert worked.misfits == () == worked.problems
    found: dict[frozenset[str], set[str]] = {}
    for meeting in worked.meetings:
        held = fastener_of(meeting, worked.rules[meeting.one.carcass], of.unit)
        found.setdefault(frozenset((meeting.one.role, meeting.other.role)), set()).update([held.kind] if held else [])
    return found


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("fronts", ["full overlay", "inset"])
def test_what_hangs_lies_or_is_let_in_is_not_fastened(kind: str, fronts: str) -> None:
    # Without air at its ends a loose shelf touches the sides as a fixed one does.
    found = roles(cabinet(fastening=kind, fronts=fronts, shelf_play="0"))
    for one, other in [
        # On hinges.
        ("door", "side"),
        # On pins.
        ("loose shelf", "side"),
        # On blocks from behind.
        ("false front", "side"),
        # In grooves.
        ("drawer bottom", "drawer side"),
        ("drawer bottom", "drawer end"),
        # On slides.
        ("drawer side", "side"),
        # In dadoes, glued.
        ("shelf", "side"),
        ("bottom", "side"),
    ]:
        assert found[frozenset((one, other))] == set()
    # What is butted is held by what the rule says; glue alone holds it as well.
    assert found[frozenset(("rail", "side"))] == ({kind} - {"glue"})
    # A thin back, a drawer: screws, or glue.
    for one, other in (("back", "side"), ("drawer side", "drawer end")):
        assert found[frozenset((one, other))] == (set() if kind == "glue" else {"screws"})
    # Faces on each other: screws.
    assert found[frozenset(("drawer front", "drawer end"))] == {"screws"}


def test_the_same_joints_butted_are_fastened() -> None:
    found = roles(cabinet(shelf_joint="butt", bottom_joint="butt"))
    assert found[frozenset(("shelf", "side"))] == found[frozenset(("bottom", "side"))] == {"screws"}


def test_what_lies_on_several_carcasses_is_screwed() -> None:
    # No rule of one carcass holds for it.
    meeting = face_on_face(inches("3/4"), inches("3/4"))
    assert fastener_of(meeting, None, "in") == fastened(meeting)
    edge = edge_on_face(inches("3/4"), inches("3/4"))
    other = replace(edge, other=replace(edge.other, carcass="B"))
    for kind in KINDS:
        assert fastened(other, kind).kind == "screws"


def test_nothing_bridges_play() -> None:
    assert fastener_of(replace(edge_on_face(F(18), F(18)), play=F(1)), ruled("screws"), "mm") is None


# --- Nothing comes through


THICK = st.integers(8, 112).map(lambda n: F(n, 64) * INCH) | st.integers(30, 450).map(lambda n: F(n, 10))
"""From 1/8 in, or 3 mm, to 1 3/4 in, or 45 mm."""


@given(THICK, THICK, st.sampled_from(UNITS), st.sampled_from(KINDS))
def test_nothing_comes_through_a_face_of_two(first: Fraction, second: Fraction, unit: Unit, kind: str) -> None:
    found = fastener_of(face_on_face(first, second), ruled(kind), unit)
    if found is None:
        # Less than the shortest, 1/2 in or 12 mm (from memory).
        assert first + second - INCH / 8 < (INCH / 2 if unit == "in" else 12)
        return
    assert found.kind == "screws"
    # Through the thinner one, and 1/8 in short of the far face (common practice, no source).
    assert min(first, second) < found.length <= first + second - INCH / 8


@given(THICK, THICK, st.sampled_from(UNITS), st.sampled_from(KINDS))
def test_nothing_comes_through_a_face_at_an_edge(first: Fraction, second: Fraction, unit: Unit, kind: str) -> None:
    found = fastener_of(edge_on_face(first, second), ruled(kind), unit)
    thinner = min(first, second)
    if kind == "glue":
        assert found is None
    elif kind == "pocket screws":
        # The chart's, for what the thinner board is called: 1/32 in thinner than that it may be, 1/16 is too much
        # (common practice, no source). Those in millimetres differ by less than 1 mm.
        least, most = (
            max((inches(long) for thick, long in POCKET.items() if thinner >= inches(thick) - less), default=F(0))
            for less in (INCH / 32, INCH / 16)
        )
        length = found.length if found else F(0)
        assert least - 1 < length < most + 1
        assert unit == "mm" or length in (least, most)
    elif kind == "dowels":
        least = INCH / 4 if unit == "in" else F(6)
        assert (found is None) is (thinner < 2 * least)
        assert found is None or (found.diameter is not None and 2 * found.diameter <= thinner)
    elif kind == "connector screws" and (thinner < 15 or first > 25):
        # Half of its 50 mm hold in the second board (common practice, no source).
        assert found is None
    else:
        # Through the first, and no deeper than 38 mm into the edge of the second (common practice, no source).
        # Or 20 mm into one thinner than 15.
        most = 20 if second < 15 else 38
        assert second < 15 or found is not None
        assert found is None or first + 12 <= found.length <= first + most


@given(st.integers(1, 12000).map(lambda n: F(n, 4)), st.sampled_from(UNITS), st.sampled_from(KINDS[:-1]))
def test_spaces_are_as_wide_as_they_may_be(long: Fraction, unit: Unit, kind: str) -> None:
    # Common practice, no source.
    most = {"dowels": (4, 100), "connector screws": (8, 200)}.get(kind, (7, 175))
    apart = most[0] * INCH if unit == "in" else F(most[1])
    count = fastened(edge_on_face(F(18), F(18), long), kind, unit).count
    assert count >= 2 and long / (count - 1) <= apart
    assert count == 2 or long / (count - 2) > apart


@pytest.mark.parametrize("kind", ["screws", "dowels", "connector screws"])
def test_shelves_on_both_faces_of_a_divider_at_one_height_leave_no_room_for_what_goes_through_it(kind: str) -> None:
    # Common practice: the second of two that meet behind one another can only be glued, or stands in a dado.
    def glued(*heights: str, **rules: str) -> list[str]:
        bays = (Bay(fixed_shelves=(heights[0],)), Bay(fixed_shelves=(heights[1],)))
        worked = plan_of(design(carcass("A", "48", "34 1/2", "12", *bays, fastening=kind, **rules))).worked
        return [one.glued for one in all_fastened(worked.meetings, worked.rules, "in") if one.glued]

    assert glued("12", "12") == [f"{kind} have no room from both faces of divider 1"]
    # A third of the thickness of 3/4 apart they still lie mostly behind one another, half of it apart no more.
    assert glued("12", "12 1/4") != [] == glued("12", "12 3/8")
    assert glued("12", "18") == []
    assert glued("12", "12", shelf_joint="dado", dado_depth="1/8") == []


def test_what_is_asked_for_and_does_not_fit_is_glued_and_told() -> None:
    thin = replace(GOODS["ply"], actual="12 mm")
    of = design(carcass("A", fastening="dowels"), materials={**GOODS, "ply": thin})
    worked = plan_of(of).worked
    told = {one.glued for one in all_fastened(worked.meetings, worked.rules, "in")}
    assert told == {"", "dowels do not fit there"}
    (finding,) = (one for one in run_checks(worked) if one.check == "joint")
    assert finding.result == "warn" and finding.because.startswith("dowels do not fit there: glue alone holds bottom")


def test_hardware_in_millimetres_is_called_so_in_an_inch_project() -> None:
    # A connector screw is 7 x 50 mm wherever it is sold (from memory).
    assert Fastener("connector screws", F(50), F(7), 4).text(Notation.read("", "in")) == "connector screws 7 mm x 50 mm"


@pytest.mark.parametrize("back", ["applied", "let in", "grooved"])
def test_a_back_is_screwed_to_what_ends_on_it(back: str) -> None:
    bays = (Bay(fixed_shelves=("even",)), Bay())
    worked = plan_of(design(carcass("A", "48", "34 1/2", "12", *bays, back=back))).worked
    assert worked.misfits == ()
    met = {
        meeting.other.role if meeting.one.role == "back" else meeting.one.role
        for meeting in worked.meetings
        if "back" in (meeting.one.role, meeting.other.role) and fastener_of(meeting, worked.rules["A"], "in")
    }
    assert {"divider", "shelf", "bottom"} <= met
