"""Dadoes, grooves, cutouts and rows of holes on a drawn panel, with the places that are marked out on the bench."""

import re
from dataclasses import replace
from fractions import Fraction

import pytest

from core.construction.codes import give_codes, kinds_of
from core.construction.part import BandedEdge, Box, Face, Hand, Holes, Machining, Part
from core.drawing.canvas import Picture
from core.drawing.glyphs import ASCII, UNICODE
from core.drawing.part import draw_part
from core.drawing.part_seen import seen
from core.lengths import Notation

MM = Notation.read("mm 0.5", "mm")


def mm(*lengths: float) -> list[Fraction]:
    return [Fraction(length) for length in lengths]


def cut(kind, place, x, y, length, width, depth=None, face: Face | None = None) -> Machining:
    return Machining(kind, place, *mm(x, y, length, width), None if depth is None else Fraction(depth), face)


def row(place, x, y, count, face: Face, pitch=32, diameter=5, depth=12, along="length") -> Holes:
    return Holes(place, *mm(x, y), count, Fraction(pitch), along, *mm(diameter, depth), face)


def side(hand: Hand = "left") -> Part:
    """2000 x 350, rabbeted for the back, four dadoes, pins in two rows between two pairs of them: all inside."""
    inner: Face = "high" if hand == "left" else "low"
    box = Box((Fraction(0),) * 3, tuple(mm(18, 350, 2000)))
    dadoes = zip(("the bottom", "shelf 1", "shelf 2", "the top"), (80, 560, 1060, 1982), strict=True)
    return Part(
        "A",
        "side",
        hand,
        f"Side, {hand}",
        "birch",
        box,
        "z",
        "y",
        "length",
        (BandedEdge("width-", "oak", Fraction(1)),),
        (
            cut("rabbet", "back edge", 0, 342, 2000, 8, 9, inner),
            *(cut("dado", f"for {what}", x, 0, 18, 350, 6, inner) for what, x in dadoes),
        ),
        tuple(
            row(f"shelf pins, {of}", x, y, 10, inner) for x in (194, 674) for of, y in (("front", 37), ("rear", 305))
        ),
        hand,
    )


def door(hinged: Hand) -> Part:
    """497 x 717, in front of a carcass: its cups are bored in its back, 21.5 from the edge at which it hangs."""
    cups = row("hinge cups", 100, 21.5 if hinged == "left" else 475.5, 2, "high", 517, 35, 12.5)
    box = Box(tuple(mm(0, -18, 0)), tuple(mm(497, 0, 717)))
    return Part("A", "door", hinged, "Door", "birch", box, "z", "x", "length", (), (), (cups,), hinged)


def lines(picture: Picture) -> list[str]:
    return [line.rstrip() for line in picture.plain()]


def drawn(part: Part, columns=78, rows=20, glyphs=UNICODE) -> list[str]:
    return lines(draw_part(part, columns, rows, MM, glyphs))


def test_a_right_side_by_hand() -> None:
    # 2000 mm over 55 columns: a dado of 18 is two lines with a column between, and 80 is the third column.
    assert drawn(side("right"))[:13] == [
        "Side, right  right hand  birch  18 thick",
        "       ◄──────────────────────── 2000 ────────────────────────►",
        "       ┌┬─┬──────────┬─┬──────── back ──────────────────────┬─┐      ▲",
        "       ││b│          │b│         a │b│                      │b│      │",
        "bottom ├┼─┼──────────┼─┼───────────┼─┼──────────────────────┼─┤      350 top",
        "   end ││ │ ○○○ c ○○○│ │  ○○ c ○○○ │ │ left face up         │ │ ▲305 │   end",
        "       ││ │ ○○○ c ○○○│ │  ○○ c ○○○ │ │ ←──── grain ────→    │ │ ▲37  │",
        "       ╘╧═╧══════════╧═╧═════ front: oak ═══════════════════╧═╛ 0    ▼",
        "       0►80──────────►560──────────►1060────────────────────►1982",
        "a rabbet 2000 x 8, 9 deep, back edge",
        "b dado 18 wide, 6 deep",
        "c shelf pins 5 wide, 12 deep, 10 every 32, first 194, 674 from the bottom end",
        "",
    ]


def test_a_left_side_is_its_mirror_image() -> None:
    assert drawn(side("left"))[1:9] == [
        "         ◄──────────────────────── 2000 ────────────────────────►",
        "         ┌─┬─────────────────────┬ back ───────┬─┬──────────┬─┬─┐ ▲",
        "         │b│                     │b│ a         │b│          │b│ │ │",
        "top      ├─┼─────────────────────┼─┼───────────┼─┼──────────┼─┼─┤ 350 bottom",
        "end 305▲ │ │       right face up │ │  ○○ c ○○○ │ │ ○○○ c ○○○│ │ │ │   end",
        "     37▲ │ │   ←──── grain ────→ │ │  ○○ c ○○○ │ │ ○○○ c ○○○│ │ │ │",
        "       0 ╘═╧═══════════════════ front: oak ════╧═╧══════════╧═╧═╛ ▼",
        "       1982◄───────────────────1060◄──────────560◄──────────80◄─0",
    ]


def test_in_ascii() -> None:
    assert drawn(side("left"), glyphs=ASCII)[4:9] == [
        "top      +-+---------------------+-+-----------+-+----------+-+-+ 350 bottom",
        "end 305^ | |       right face up | |  oo c ooo | | ooo c ooo| | | |   end",
        "     37^ | |   <---- grain ----> | |  oo c ooo | | ooo c ooo| | | |",
        "       0 +=+=================== front: oak ====+=+==========+=+=+ v",
        "       1982<-------------------1060<----------560<----------80<-0",
    ]


def test_what_is_in_the_face_beneath_is_dashed_and_said() -> None:
    part = side("left")
    beneath = cut("dado", "for shelf 3", 1500, 30, 18, 312, 6, "low")
    holes = (*part.holes[:2], *(replace(row, face="low") for row in part.holes[2:]))
    part = replace(part, machining=(*part.machining, beneath), holes=holes)
    picture = drawn(part)
    assert seen(part).face == "high"
    assert any("right face up" in line for line in picture)
    assert any("┆c┆" in line for line in picture)
    assert sum("┆┆┆" in line for line in picture) == sum("○○○" in line for line in picture) == 2
    assert any(
        line.startswith("c dado 18 wide, 6 deep in the left face, stopped 30 from the front,") for line in picture
    )
    assert any(re.match(r"[a-z] shelf pins 5 wide, 12 deep in the left face, 10 every 32", line) for line in picture)
    in_ascii = drawn(part, glyphs=ASCII)
    assert any(":c:" in line for line in in_ascii)
    assert sum(":::" in line for line in in_ascii) == 2


@pytest.mark.parametrize("glyphs", [UNICODE, ASCII], ids=["unicode", "ascii"])
@pytest.mark.parametrize("hand", ["left", "right"])
@pytest.mark.parametrize("titled", [True, False])
def test_everything_in_a_full_side_is_found_by_its_letter(hand: Hand, glyphs, titled: bool) -> None:
    """Four rows, each of its own, at the size of a bench laptop: each is drawn, and the notes are whole."""
    four = [row(f"row {n}", 170 + 10 * n, y, 56, "low") for n, y in enumerate((37, 120, 200, 300))]
    part = side(hand)
    part = replace(part, holes=tuple(replace(holes, face=part.machining[0].face) for holes in four))
    picture = lines(draw_part(part, 78, 20, MM, glyphs, titled=titled))
    notes = {line[0]: line for line in picture if re.match(r"[a-z] [a-z]+ ", line)}
    assert "".join(notes) == "abcdef"
    panel = "\n".join(line for line in picture if line not in notes.values())
    assert all(re.search(rf"[^a-z]{letter}[^a-z]", panel) for letter in notes)
    assert panel.count(glyphs.ring * 5) >= 4
    for distance in (37, 120, 200, 300, 80, 560, 1060, 1982):
        assert re.search(rf"\b{distance}\b", panel)
    assert glyphs.ellipsis not in "\n".join(picture)


def test_a_groove_for_a_back_is_measured_from_the_front_of_a_side_and_from_the_back_of_a_bottom() -> None:
    part = replace(side(), machining=(cut("groove", "for the back", 0, 332, 1900, 6, 8, "high"),), holes=())
    picture = drawn(part)
    assert "a groove 6 wide, 8 deep, stopped 100 from the top end, for the back" in picture
    assert sum(line.count("├") for line in picture) == 0, "it does not look like a rabbet"
    assert sum("332" in line for line in picture) == 1
    # Beside pins it is measured from the same edge, and so it is in the side across.
    assert any("332" in line for line in drawn(replace(part, holes=side().holes)))
    bottom = replace(part, role="bottom", hand=None)
    assert sum("12▼" in line for line in drawn(bottom)) == 1 and not any("332" in line for line in drawn(bottom))


def test_where_distances_have_no_room_they_are_in_the_note() -> None:
    close = [cut("dado", f"for {n}", x, 0, 18, 350, 6, "low") for n, x in enumerate((500, 525, 1500))]
    picture = drawn(replace(side("right"), machining=tuple(close), holes=()))
    assert "a dado 18 wide, 6 deep, also 525 from the bottom end" in picture
    cramped = drawn(replace(side("right"), machining=tuple(close), holes=()), 60, 7)
    assert "a dado 18 wide, 6 deep, 500, 525, 1500 from the bottom end" in cramped
    assert not any("dado" in line and "from" in line for line in drawn(side("right")))


def test_a_cutout_is_an_outline_measured_from_the_reference_end() -> None:
    hole = cut("cutout", "for the pipe", 300, 100, 400, 150)
    part = replace(side("left"), machining=(hole, cut("rabbet", "back edge", 0, 342, 2000, 8, 9, "high")), holes=())
    picture = "\n".join(drawn(part, 116, 34))
    assert [picture.count(corner) for corner in "┌┐└┘"] == [2, 2, 1, 1], "the front of the panel is banded"
    assert all(re.search(rf"\b{size}\b", picture) for size in (300, 100, 400, 150))
    assert "1300" not in picture, "the left side lies with its bottom end at the right, and is measured from there"


def test_holes_right_through_are_seen_from_either_face() -> None:
    part = replace(side("left"), holes=(replace(row("", 500, 100, 3, "low", 200), depth=None),))
    picture = drawn(part)
    assert any("○" in line for line in picture)
    assert any("holes 5 wide, right through, 3 every 200, first 500 from the bottom end" in line for line in picture)


def test_one_hole_has_no_pitch_and_a_row_across_is_measured_from_the_end() -> None:
    one, across = row("", 500, 100, 1, "low"), row("slide", 900, 50, 4, "low", 64, along="width")
    picture = drawn(replace(side("right"), machining=(), holes=(one, across)))
    assert "a hole 5 wide, 12 deep, 500 from the bottom end" in picture
    assert "b slide 5 wide, 12 deep, 4 every 64, first 50 from the front" in picture
    assert any("►900" in line for line in picture)


def test_a_left_and_a_right_are_two_kinds_each_drawn_as_it_is() -> None:
    """Sides that mirror, and doors hinged at either edge: never two of one."""
    for left, right, words in (
        (side("left"), side("right"), ("left hand", "right hand")),
        (door("left"), door("right"), ("hinged left", "hinged right")),
    ):
        # Doors have no letter for codes here yet: the role of a part is nothing to what its kind is.
        parts = [replace(part, role="side") for part in (left, right)]
        kinds = kinds_of(give_codes((), parts), parts)
        assert [kind.quantity for kind in kinds] == [1, 1]
        for part, word in ((left, words[0]), (right, words[1])):
            assert word in drawn(part)[0]
        assert drawn(left)[2:] != drawn(right)[2:]


def test_the_cups_of_a_door_are_at_the_edge_where_it_hangs() -> None:
    left, right = (drawn(door(hinged), rows=16) for hinged in ("left", "right"))
    for picture, near in ((left, "─ left ─"), (right, "─ right ─")):
        (cups,) = (n for n, line in enumerate(picture) if line.count("○") == 2)
        (edge,) = (n for n, line in enumerate(picture) if near in line)
        assert abs(edge - cups) == 1
        assert "21.5" in picture[cups]
        assert any("back face up" in line for line in picture)
    assert "hinge cups 35 wide, 12.5 deep, 2 every 517, first 100 from the bottom end" in left[-1]


def test_a_side_that_is_only_notched_shows_its_outer_face() -> None:
    notched = replace(side("right"), machining=(cut("notch", "lower front corner", 0, 0, 100, 75),), holes=())
    assert seen(notched).face_in_words == "right face up"
    assert seen(replace(notched, hand="left")).face_in_words == "left face up"
    assert seen(replace(notched, hand=None)).face_in_words == ""


def test_no_letter_is_an_o_that_could_be_a_hole() -> None:
    many = [cut("dado", "", 100 * n, 0, 10 + n, 350, 6, "low") for n in range(1, 17)]
    picture = drawn(replace(side("right"), machining=tuple(many), holes=()), 120, 40, ASCII)
    assert "".join(line[0] for line in picture if " dado " in line) == "abcdefghijklmnpq"


def test_rows_that_are_alike_share_a_note_only_where_every_place_goes_with_every_beginning() -> None:
    plates = [row(f"plate of hinge {n}", x, 37, 2, "low", diameter=5) for n, x in enumerate((100, 900, 1700), start=1)]
    pins = [row("shelf pins", x, y, 5, "low", diameter=8) for x, y in ((200, 100), (200, 300), (1200, 100))]
    picture = drawn(replace(side("right"), machining=(), holes=(*plates, *pins)))
    notes = [line for line in picture if " wide, " in line]
    assert notes == [
        "a plate of hinge 5 wide, 12 deep, 2 every 32, first 100, 900,",
        "b shelf pins 8 wide, 12 deep, 5 every 32, first 200 from the bottom end",
        "c shelf pins 8 wide, 12 deep, 5 every 32, first 1200 from the bottom end",
    ]


def test_a_row_within_another_has_its_letter_beside_it() -> None:
    plate, pins = row("plate of hinge", 900, 37, 2, "low"), row("shelf pins", 100, 37, 56, "low", diameter=4)
    picture = drawn(replace(side("right"), machining=(), holes=(plate, pins)))
    (within,) = (n for n, line in enumerate(picture) if "○○ b ○○" in line)
    assert "│" in picture[within - 1]
    assert re.search(r" a ", picture[within - 1] + picture[within + 1])
