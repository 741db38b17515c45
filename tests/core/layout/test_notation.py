"""A tree of cuts survives being written, and no text that could not be cut is read."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from layout_jobs import trees

from core.layout.job import Job, JobPart, JobStock
from core.layout.notation import DEEPEST, placed_in, read, write
from core.layout.search import lay_out
from core.layout.tree import Cut, Node, Placed, Spare, faults, walk
from core.mistakes import Mistake


@given(st.data(), st.integers(0, 4))
def test_any_tree_is_read_as_it_was_written(data: st.DataObject, kerf: int) -> None:
    root = data.draw(trees(kerf))
    assert faults(root, kerf) == []
    pieces = tuple(f"S{index}/1" for index in range(len(placed_in(root))))
    line = write(root, pieces)
    assert "\n" not in line
    named = read(line, root.length, root.width, kerf)
    assert named.pieces == pieces
    assert write(named.root, named.pieces) == line
    assert same_shape(named.root, root)


def same_shape(one: Node | None, other: Node | None) -> bool:
    """Equal but for the numbers of the parts, which count through the names once read."""
    if isinstance(one, Placed) and isinstance(other, Placed):
        return (one.length, one.width, one.turned) == (other.length, other.width, other.turned)
    if isinstance(one, Cut) and isinstance(other, Cut):
        return (
            (one.length, one.width, one.direction) == (other.length, other.width, other.direction)
            and same_shape(one.low, other.low)
            and same_shape(one.high, other.high)
        )
    return one == other


def test_it_reads_as_a_person_would_write_it() -> None:
    strip = Cut(100, 20, "crosscut", Placed(40, 20, 0), Cut(57, 20, "crosscut", Placed(40, 20, 0), Spare(14, 20)))
    root = Cut(100, 50, "rip", strip, Cut(100, 27, "rip", Placed(100, 25, 1), None))
    line = "rip (20 cross (40 A/1 | 40 A/2 | -) | 25 B/1 T | .)"
    assert write(root, ("A/1", "A/2", "B/1")) == line.replace(" T", "")
    named = read(line, 100, 50, 3)
    assert named.pieces == ("A/1", "A/2", "B/1")
    assert [placed.turned for placed in placed_in(named.root)] == [False, False, True]


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("", "expected a piece"),
        (".", "expected a piece"),
        ("rip", "expected ("),
        ("rip (A/1)", "expected a size"),
        ("rip (20 A/1)", "expected |"),
        ("rip (20 A/1 | -", "expected )"),
        ("rip (20 A/1 | - | -)", "expected )"),
        ("rip (20 A/1 | -) -", "expected nothing more"),
        ("rip (20 A | -)", "expected rip, cross, a piece such as S1/1, - or ."),
        ("rip (20 A/1 | A/1)", "A/1 twice"),
        ("rip (48 A/1 | -)", "has no size"),
        ("rip (60 A/1 | .)", "leaves one piece takes -10"),
        ("rip (20 A/1 | .)", "leaves one piece takes 30"),
        ("rip (0 A/1 | -)", "has no size"),
        ("rip (4 . | A/1)", "leaves one piece takes 4"),
        ("rip (2 . | .)", "leaves nothing"),
        ("rip (9999999999999999999 A/1 | -)", "expected a size"),
    ],
)
def test_what_cannot_be_cut_is_refused_in_words(line: str, says: str) -> None:
    with pytest.raises(Mistake) as told:
        read(line, 100, 50, 3)
    assert says in str(told.value)


def test_a_layout_of_another_sheet_is_refused() -> None:
    line = "rip (40 A/1 | .)"
    assert read(line, 100, 42, 3).pieces == ("A/1",)
    with pytest.raises(Mistake):
        read(line, 100, 50, 3)


def test_no_depth_overflows_the_stack() -> None:
    def nested(deep: int) -> str:
        return "".join(f"{'rip' if level % 2 else 'cross'} (1 - | " for level in range(deep)) + "A/1" + ")" * deep

    assert read(nested(DEEPEST), 10_000, 10_000, 0).pieces == ("A/1",)
    with pytest.raises(Mistake, match="cuts inside one another"):
        read(nested(100_000), 10**9, 10**9, 0)
    with pytest.raises(Mistake, match="cuts inside one another"):
        read("rip (" + "1 - | " * 100_000 + "A/1)", 10**9, 10**9, 0)


def test_a_name_that_could_not_be_read_back_is_not_written() -> None:
    with pytest.raises(Mistake, match="as in S1/1"):
        write(Placed(10, 10, 0), ("left side/1",))


def test_a_sheet_of_more_strips_than_can_be_written_is_not_laid_out() -> None:
    # 305 strips of 4 mm fill a sheet of 1220 mm; of 300 cuts inside one another, ten are for trims and first cuts.
    job = Job("1", 0, (JobPart("A", 2440, 4, 305, False),), (JobStock("sheet", 2440, 1220),), iterations=20)
    layout = lay_out(job)
    assert len(layout.sheets) == 2 and not layout.unplaced
    for sheet in layout.sheets:
        names = tuple(f"A/{number}" for number in range(1, 306))
        line = write(sheet.root, names[: sum(isinstance(spot.node, Placed) for spot in walk(sheet.root))])
        assert read(line, 2440, 1220, 0).pieces
