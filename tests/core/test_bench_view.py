"""One cut to be read from two metres: whatever the window, the view fits it and says what the cut asks for."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from designs import GOODS, design
from shop import Shop
from test_demos import DEMOS, planned

from core.bench_view import bench_view
from core.cutting import PlannedStep
from core.drawing.glyphs import ASCII, UNICODE, Glyphs
from core.drawing.lettering import cells
from core.goods import Stock, Trim
from core.plan import Plan
from core.project import LoosePart, Saw

Room = tuple[int, int]
ROOMS: tuple[Room, ...] = ((60, 13), (80, 21), (120, 37))
"""Columns and rows that are left of windows of 60 x 16 and more, once the words at the foot have theirs."""

each_demo = pytest.mark.parametrize("demo", DEMOS, ids=lambda demo: demo.stem)
each_room = pytest.mark.parametrize("room", ROOMS, ids=lambda room: f"{room[0]}x{room[1]}")
TRACK, TABLE = Saw("track saw", "track", "1/8"), Saw("table saw", "table", "1/8", widest_rip="30")


def shown(plan: Plan, one: PlannedStep, room: Room = (80, 21), glyphs: Glyphs = UNICODE) -> list[str]:
    """The rows as they are seen."""
    return ["".join(span.text for span in row) for row in bench_view(plan, one, *room, glyphs)]


@cache
def all_shown(demo: Path, room: Room, glyphs: Glyphs = UNICODE) -> list[list[str]]:
    """Every step of a demo."""
    return [shown(planned(demo), one, room, glyphs) for one in planned(demo).steps]


def words(plan: Plan, one: PlannedStep) -> str:
    """All that is said, where there is no room for a sheet."""
    return "\n".join(shown(plan, one, (300, 15)))


def boards(
    *parts: tuple[str, str, int],
    trim: str = "0",
    saws: tuple[Saw, ...] = (TRACK, TABLE),
    sheet: tuple[str, str] = ("96", "48"),
) -> Shop:
    """Loose parts by length, width and quantity, out of plywood sheets."""
    loose = tuple(LoosePart(f"L{n}", f"Board {n}", "ply", *part) for n, part in enumerate(parts))
    stock = (Stock(*sheet, trim=Trim(*[trim] * 4)),)
    return Shop(design(loose=loose, materials={**GOODS, "ply": replace(GOODS["ply"], stock=stock)}, saws=saws))


def every_kind() -> Iterator[tuple[Plan, PlannedStep]]:
    """The steps of the demos and of boards cut by two blades that are not equally thick."""
    for demo in DEMOS:
        yield from ((planned(demo), one) for one in planned(demo).steps)
    thin = boards(("40", "10", 6), ("20", "10", 5), saws=(replace(TRACK, kerf="1/16"), TABLE)).plan
    yield from ((thin, one) for one in thin.steps)


@each_demo
@each_room
def test_every_step_fills_its_room_and_runs_out_of_it_nowhere(demo: Path, room: Room) -> None:
    for rows in all_shown(demo, room):
        assert len(rows) == room[1]
        assert max(map(cells, rows)) <= room[0], rows[0]


@each_demo
@pytest.mark.parametrize("room", ROOMS[:2])
def test_in_plain_characters_there_are_no_others(demo: Path, room: Room) -> None:
    for rows in all_shown(demo, room, ASCII):
        assert [row for row in rows if not row.isascii()] == []
        assert len(rows) == room[1] and max(map(len, rows)) <= room[0]


@each_demo
@each_room
def test_step_and_saw_stand_above_and_what_is_done_and_next_below(demo: Path, room: Room) -> None:
    steps = planned(demo).steps
    for one, after, rows in zip(steps, [*steps[1:], None], all_shown(demo, room), strict=True):
        head, last, foot = rows[0], rows[-2], rows[-1]
        assert head.startswith(f"[ ] Step {one.number}  {one.step.saw.name}: {one.step.direction}")
        if after is None:
            assert foot == f" done: 0 of {len(steps)}"
        else:
            assert last == f" done: 0 of {len(steps)}"
            assert foot.startswith(f" next: step {after.number}, {after.step.saw.name}, {after.step.direction} ")


@each_demo
def test_the_setting_is_in_big_figures_and_bigger_in_a_larger_window(demo: Path) -> None:
    for rows in all_shown(demo, (80, 21)):
        assert sum("█" in row for row in rows) >= 5, rows[0]
    for rows in all_shown(demo, (120, 37)):
        assert sum("█" in row for row in rows) >= 10, rows[0]


@each_demo
def test_the_sheet_is_drawn_with_its_cut_where_there_is_room(demo: Path) -> None:
    plan = planned(demo)
    for one, rows in zip(plan.steps, all_shown(demo, (120, 37)), strict=True):
        setting = plan.worked.notation.text(one.sheet.mm(one.step.fence))
        drawn = [row for row in rows if row[:1] in "┌╔│║├╟►└╚◄" or row.lstrip().startswith(setting)]
        assert len(drawn) >= 5 and any(setting in row for row in drawn), rows[0]


@each_demo
def test_the_sheet_is_drawn_in_a_small_window_too(demo: Path) -> None:
    # 80 x 24, less the line of keys and two that say something. A caution comes before it.
    def is_drawn(rows: list[str]) -> bool:
        return any(row[0] not in " [█▀▄" for row in rows if row)

    without = [rows for rows in all_shown(demo, (80, 21)) if not is_drawn(rows)]
    assert all(any(row.startswith(" ! ") for row in rows) for rows in without)
    assert len(without) < len(planned(demo).steps) / 20


def test_what_is_pencilled_is_what_could_be_taken_for_something_else() -> None:
    """A part, always; another piece where two are kept, or where it is not the very next one to be cut."""
    told = {0: 0, 1: 0, 2: 0}
    for plan, one in every_kind():
        kept = [made for made in one.step.pieces if made.use != "waste"]
        after = next((later.step.piece for later in plan.steps if later.number > one.number), "")
        goes_on = len(kept) == 1 and kept[0].id == after
        wanted = 0 if goes_on else len(kept)
        assert words(plan, one).count(": pencil it on") == wanted, one.number
        told[wanted] += 1
    assert all(told.values()), "each of them happens"


def test_each_piece_that_comes_off_is_told_with_its_size_the_one_that_the_setting_measures_first() -> None:
    plan = boards(("40", "10", 6), ("20", "10", 5)).plan
    say = plan.worked.notation.text
    for one in plan.steps:
        told, at = words(plan, one), -1
        for made in one.step.pieces:
            size = f"{say(one.sheet.mm(made.length))} x {say(one.sheet.mm(made.width))}"
            name = {"part": f"PART {made.id} Board ", "offcut": f"offcut {made.id}, to keep", "waste": "waste"}
            begins = "under the track" if one.step.saw.kind == "track" else "against the fence"
            where = f"\n {begins if made is one.step.pieces[0] else 'beyond the blade'}: {name.get(made.use, made.id)}"
            found = told.find(where)
            assert found > at, (one.number, where)
            assert size in told[found:].split("\n")[1]
            at = found


def test_what_is_ticked_is_counted_and_the_last_of_it_told() -> None:
    shop = boards(("40", "10", 6))
    first, second = shop.plan.steps[0], shop.plan.steps[1]
    assert "set it anew" in shown(shop.plan, first)[0]
    shop.tick(first.number)
    done = next(one for one in shop.plan.steps if one.number == first.number)
    assert shown(shop.plan, done)[0].startswith("[x] Step 1  ")
    here = next(one for one in shop.plan.steps if one.number == second.number)
    foot = [row for row in shown(shop.plan, here) if row.startswith((" done:", " next:"))]
    made = " + ".join("waste" if made.use == "waste" else made.id for made in first.step.pieces)
    assert foot[0].replace("offcut ", "") == f" done: 1 of {len(shop.plan.steps)}, last step 1: {made}"
    assert foot[1].startswith(f" next: step {shop.plan.steps[2].number}, ")


def test_a_setting_that_stands_is_not_asked_for_again() -> None:
    plan = boards(("40", "10", 6), ("20", "10", 5)).plan
    before = None
    stands = 0
    for one in plan.steps:
        setting = (one.step.saw, one.sheet.mm(one.step.fence))
        head = shown(plan, one)[0]
        assert ("as it stands" in head or "same size" in head) == (setting == before)
        assert ("set it anew" in shown(plan, one)[0]) == (setting != before)
        stands += setting == before
        before = setting
    assert stands


def test_a_sheet_that_is_begun_is_told_where_it_begins_with_the_thickness_to_measure() -> None:
    shop = boards(("40", "10", 6), ("90", "40", 1), trim="1/4")
    plan = shop.plan
    begins = [one for one in plan.steps if "new sheet" in words(plan, one)]
    assert [one.step.piece for one in begins] == [one.step.sheet for one in begins] == ["ply-1", "ply-2"]
    assert "new sheet: write ply-1 at its lower left; 3/4 in thick?" in words(plan, begins[0])
    # A thickness is told as it was measured, however coarsely sizes are shown.
    thin = replace(plan.project.design.materials["ply"], actual="17.6 mm")
    design = replace(plan.project.design, show="mm 1", materials={**plan.project.design.materials, "ply": thin})
    plan = shop.edit(design)
    assert "; 17.6 mm thick?" in words(plan, plan.steps[0])


@pytest.mark.parametrize(
    ("saw", "how", "kept"),
    [
        (Saw("saw", "any", "1/8"), "edge against the fence, keeper between fence and blade", "against the fence: "),
        (TRACK, "edge, track on the keeper", "under the track: "),
        (Saw("mitre saw", "mitre", "1/8"), "end against the stop", "against the stop: "),
        (Saw("yard", "yard", "1/8"), "edge", "measured off: "),
    ],
)
def test_each_saw_is_told_in_its_own_words(saw: Saw, how: str, kept: str) -> None:
    plan = boards(("40", "10", 1), saws=(saw,), sheet=("50", "10")).plan
    one = plan.steps[0]
    assert one.step.saw.kind == saw.kind
    told = words(plan, one)
    assert f"{one.step.edge} {how}" in told and kept in told
    assert ("fence" in told) == (saw.kind == "any")


def test_a_trim_is_told_as_one() -> None:
    plan = boards(("40", "10", 6), trim="1/2").plan
    trims = [one.number for one in plan.steps if "trims the" in words(plan, one)]
    assert trims == [1, 2, 3, 4]
    assert "trims the top edge" in words(plan, next(one for one in plan.steps if one.step.edge == "bottom"))


def test_names_without_an_end_run_out_of_no_window() -> None:
    shop = boards(("40", "10", 3), saws=(Saw("W" * 200, "any", "1/8"),))
    shop.edit(replace(shop.project.design, loose=(replace(shop.project.design.loose[0], name="M" * 200),)))
    for room in ROOMS:
        for one in shop.plan.steps:
            rows = shown(shop.plan, one, room)
            assert len(rows) == room[1] and max(map(cells, rows)) <= room[0]
            assert f"Step {one.number} " in rows[0]


@each_room
def test_names_in_wide_characters_take_the_cells_that_they_need(room: Room) -> None:
    shop = boards(("40", "20", 3), trim="1/4", saws=(replace(TRACK, name="電動丸鋸" * 6), TABLE))
    loose = (replace(shop.project.design.loose[0], name="棚板と側板の間に入る長い名前の部品🪚" * 2),)
    plan = shop.edit(replace(shop.project.design, loose=loose))
    for one in plan.steps:
        widths = [sum(cells(span.text) for span in row) for row in bench_view(plan, one, *room, UNICODE)]
        assert max(widths) <= room[0], one.number
