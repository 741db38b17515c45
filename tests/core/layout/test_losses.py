"""What pieces lose in rooms is the same, however it was found."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from core.layout.fitter import Fitter
from core.layout.job import Job, JobPart, JobStock
from core.layout.room import NEVER

sides = st.integers(1, 12)
rectangles = st.lists(st.tuples(sides, sides), max_size=8)


@given(st.lists(st.tuples(sides, sides, st.booleans()), min_size=1, max_size=8), rectangles, rectangles, rectangles)
def test_what_is_taken_over_is_what_all_rooms_say(
    parts: list[tuple[int, int, bool]],
    kept: list[tuple[int, int]],
    gone: list[tuple[int, int]],
    new: list[tuple[int, int]],
) -> None:
    job_parts = tuple(JobPart(f"P{index}", *part[:2], 1, part[2]) for index, part in enumerate(parts))
    rooms = Fitter(Job("1", 0, job_parts, (JobStock("sheet", 12, 12),))).rooms
    before = rooms.losses(tuple([rooms.of(*of) for of in kept + gone]))
    after = rooms.losses(tuple([rooms.of(*of) for of in kept + new]))
    sizes = range(len(rooms.blanks))
    after.take_over(before, sizes)
    for size in sizes:
        each = [min([way[0] for way in rooms.of(*of).ways(size)], default=NEVER) for of in kept + new]
        assert after[size] == min(each, default=NEVER)
