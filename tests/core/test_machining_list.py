"""What is machined, gathered by what one setting of bit, blade or fence serves, and its words."""

from dataclasses import replace
from fractions import Fraction

from core.construction.part import Box, Face, Hand, Holes, Kind, Machining, Part
from core.lengths import Notation
from core.machining_list import place_in_words, set_up_in_words, set_ups, where_in_words

MM = Notation.read("mm 0.5", "mm")


def cut(kind, place, x, y, length, width, depth=None, face: Face | None = None) -> Machining:
    sizes = (Fraction(v) for v in (x, y, length, width))
    return Machining(kind, place, *sizes, None if depth is None else Fraction(depth), face)


def pins(place: str, x: int, y: int, face: Face, diameter: int = 5) -> Holes:
    return Holes(place, Fraction(x), Fraction(y), 10, Fraction(32), "length", Fraction(diameter), Fraction(12), face)


def side(hand: Hand, code: str) -> Kind:
    """800 x 400: a notch, a rabbet, two dadoes, a groove as wide and deep, a slot, a row of pins and a cable hole."""
    inner: Face = "high" if hand == "left" else "low"
    box = Box((Fraction(0),) * 3, (Fraction(18), Fraction(400), Fraction(800)))
    part = Part("A", "side", hand, f"Side, {hand}", "birch", box, "z", "y", "length", hand=hand)
    part = replace(
        part,
        machining=(
            cut("notch", "lower front corner", 0, 0, 100, 75),
            cut("rabbet", "back edge", 0, 392, 800, 8, 9, inner),
            cut("dado", "for the bottom", 100, 0, 18, 392, 6, inner),
            cut("dado", "for shelf 1", 500, 20, 18, 372, 6, inner),
            cut("groove", "for the light", 600, 50, 100, 18, 6, inner),
            cut("dado", "for the thin shelf", 700, 0, 12, 392, 6, inner),
            cut("cutout", "for the socket", 300, 100, 90, 60),
        ),
        holes=(pins("shelf pins, front row", 150, 37, inner), pins("shelf pins, rear row", 150, 337, inner)),
    )
    return Kind(code, part, ((1, part),))


KINDS = [side("left", "S1"), side("right", "S2")]


def test_one_bit_does_dadoes_and_grooves_and_one_drill_every_row() -> None:
    assert [(one.number, set_up_in_words(one, MM), len(one.cuts)) for one in set_ups(KINDS)] == [
        (1, "notch 75 x 100, right through", 2),
        (2, "rabbet 8 wide, 9 deep", 2),
        (3, "dado and groove 18 wide, 6 deep", 6),
        (4, "dado 12 wide, 6 deep", 2),
        (5, "cutout 60 x 90, right through", 2),
        (6, "hole 5 wide, 12 deep", 4),
    ]


def test_another_depth_or_diameter_is_another_set_up() -> None:
    kind = KINDS[0]
    more = (pins("dowels", 20, 200, "high", 8), replace(pins("cable", 700, 200, "high"), depth=None, count=1))
    kinds = [replace(kind, part=replace(kind.part, holes=(*kind.part.holes, *more)))]
    assert [set_up_in_words(one, MM) for one in set_ups(kinds) if one.kind == "hole"] == [
        "hole 5 wide, 12 deep",
        "hole 8 wide, 12 deep",
        "hole 5 wide, right through",
    ]


def test_each_is_measured_from_where_its_drawing_measures_it() -> None:
    """Of both hands from the same end and edge, whichever way they lie."""
    for kind, face in zip(KINDS, ("right face", "left face"), strict=True):
        cuts = [*kind.part.machining, *kind.part.holes]
        stops = ["stopped 100 from the top end", "stopped 600 from the bottom end"]
        # A part that is turned over to lie with its cut face up has its ends the other way round.
        light = ", ".join(stops if face == "right face" else reversed(stops))
        assert [where_in_words(kind.part, one, MM) for one in cuts] == [
            "at the lower front corner, 100 high and 75 deep",
            f"at the back edge, {face}",
            f"for the bottom, 100 from the bottom end, stopped 8 from the back, {face}",
            f"for shelf 1, 500 from the bottom end, stopped 20 from the front, stopped 8 from the back, {face}",
            f"for the light, 50 from the front, {light}, {face}",
            f"for the thin shelf, 700 from the bottom end, stopped 8 from the back, {face}",
            "for the socket, 90 high and 60 deep, 300 from the bottom end, 100 from the front",
            f"shelf pins, front row, 37 from the front, 10 every 32, first 150 from the bottom end, {face}",
            f"shelf pins, rear row, 337 from the front, 10 every 32, first 150 from the bottom end, {face}",
        ]


def test_a_place_without_words_says_nothing_of_it() -> None:
    assert place_in_words(cut("dado", "", 100, 0, 18, 392, 6, "low")) == ""
    assert place_in_words(replace(pins("", 100, 37, "low"), count=1)) == "1 hole"


def test_a_notch_says_where_it_begins_or_which_end_and_edge_it_is_at() -> None:
    part = side("left", "S1").part
    free = replace(part, machining=(cut("notch", "for the pipe", 200, 350, 60, 50),), holes=())
    assert where_in_words(free, free.machining[0], MM) == (
        "for the pipe, 60 high and 50 deep, 200 from the bottom end, at the back"
    )
    corner = replace(part, machining=(cut("notch", "for the pipe", 0, 350, 60, 50),), holes=())
    assert where_in_words(corner, corner.machining[0], MM).endswith("at the bottom end, at the back")


def test_a_rabbet_that_stops_says_where() -> None:
    part = side("left", "S1").part
    stopped = replace(part, machining=(cut("rabbet", "for the top", 782, 0, 18, 382, 6, "high"),), holes=())
    assert "stopped 18 from the back" in where_in_words(stopped, stopped.machining[0], MM)
