"""At the bench: one cut that fills the window, keys that do no harm there, and a new setting that is measured."""

from __future__ import annotations

import asyncio
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from driving import SIZES, Driver, running
from projects_to_try import bench, many_cuts, stored, three_boards

from core.drawing.glyphs import ASCII, UNICODE, Glyphs
from core.drawing.lettering import cells
from core.goods import Stock, Trim
from core.lying import things_lying
from core.project import Design, Facts, LoosePart, Saw
from core.storage import open_project
from tui.screens import ChangePage
from tui.stations.held_key import AGAIN
from tui.stations.mishaps import ANOTHER, SPOILED

INCH = Fraction(254, 10)


class Clock:
    """Stands still until it is told to go on."""

    def __init__(self) -> None:
        self.now = 100.0

    def __call__(self) -> float:
        return self.now


async def to_the_bench(shop: Driver) -> Clock:
    """Goes to the cuts and shows one of them."""
    await shop.go("cuts")
    await shop.press("b")
    shop.station.clock = clock = Clock()
    return clock


async def tick(shop: Driver, clock: Clock, times: int = 1) -> None:
    """Ticks steps, a second between them; what is asked of a size is answered as it should read."""
    for _ in range(times):
        clock.now += 1
        await shop.press("space")
        if shop.question:
            await shop.answer()


async def tick_until_asked(shop: Driver, clock: Clock) -> int:
    """Ticks until a size is to be measured: the number of the step that gave it."""
    for _ in shop.session.plan.steps:
        if not shop.question:
            clock.now += 1
            await shop.press("space")
    assert shop.question
    return max(one.number for one in shop.session.plan.steps if one.done)


async def a_moment(shop: Driver) -> None:
    """Until it is clear that a key is not held down."""
    await asyncio.sleep(2 * AGAIN)
    await shop.settle()


def facts(path: Path) -> Facts:
    """What the file says has happened."""
    return open_project(path).project.facts


def shown_whole(shop: Driver, size: tuple[int, int]) -> bool:
    """The screen is as large as the window, and nothing runs out of it."""
    return len(shop.lines) == size[1] and all(cells(line) <= size[0] for line in shop.lines)


@pytest.mark.parametrize("size", SIZES)
async def test_one_cut_fills_the_window(tmp_path: Path, size: tuple[int, int]) -> None:
    async with running(stored(tmp_path, bench()), size) as shop:
        await shop.go("cuts")
        around = (shop.lines[0], shop.lines[1], shop.lines[-2])
        await shop.press("b")
        first, second = shop.session.plan.steps[:2]
        assert shop.lines[0].startswith(f"[ ] Step 1  {first.step.saw.name}: rip {first.step.piece} ")
        assert sum("█" in line for line in shop.lines) >= 5, "the setting is in big figures"
        assert "keeper" in shop.text and f"done: 0 of {len(shop.session.plan.steps)}" in shop.text
        assert f"next: step {second.number}, {second.step.saw.name}" in shop.text
        assert any(line.startswith("╚") for line in shop.lines), "the sheet is drawn"
        assert not set(around) & set(shop.lines)
        assert "Esc list" in shop.lines[-1] and "q quit" not in shop.lines[-1]
        assert shown_whole(shop, size)


@pytest.mark.parametrize(("size", "glyphs"), [((80, 24), UNICODE), ((60, 16), UNICODE), ((60, 16), ASCII)])
async def test_whatever_the_cut_nothing_runs_out_of_the_window(
    tmp_path: Path, size: tuple[int, int], glyphs: Glyphs
) -> None:
    async with running(stored(tmp_path, bench()), size, glyphs) as shop:
        clock = await to_the_bench(shop)
        for one in shop.session.plan.steps:
            assert f"Step {one.number} " in shop.lines[0] and shown_whole(shop, size)
            assert not glyphs.ascii_only or shop.text.isascii()
            await shop.press("down")
        await shop.press("n")
        await tick_until_asked(shop, clock)
        assert shown_whole(shop, size) and "reads: " in shop.text
        await shop.resize(120, 40)
        assert shown_whole(shop, (120, 40)) and "reads: " in shop.text


async def test_a_tick_is_on_the_disk_and_the_next_cut_before_the_eye(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    async with running(path) as shop:
        clock = await to_the_bench(shop)
        for number in (1, 2, 3):
            piece = shop.session.plan.steps[number - 1].step.piece
            await tick(shop, clock)
            assert [cut.piece for cut in facts(path).cuts][number - 1 :] == [piece]
            assert f"Step {number + 1} " in shop.lines[0] and f"done: {number} of " in shop.text


async def test_a_key_that_is_hit_twice_or_held_is_one_cut(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    async with running(path) as shop:
        clock = await to_the_bench(shop)
        await shop.press("space", "space")
        for _ in range(10):
            clock.now += 0.4
            await shop.press("space")
        assert len(facts(path).cuts) == 1 and "Step 2 " in shop.lines[0]
        clock.now += 0.6
        await shop.press("space")
        await a_moment(shop)
        assert len(facts(path).cuts) == 2


async def test_backspace_takes_back_the_last_tick_and_shows_its_cut(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    async with running(path) as shop:
        clock = await to_the_bench(shop)
        await tick(shop, clock, 2)
        await shop.press("backspace")
        assert len(facts(path).cuts) == 1 and shop.lines[0].startswith("[ ] Step 2 ")
        clock.now += 1
        await shop.press("backspace")
        assert len(facts(path).cuts) == 0 and shop.lines[0].startswith("[ ] Step 1 ")


async def test_a_backspace_that_is_held_takes_one_tick_back_however_soon_it_comes_after_a_tick(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    async with running(path) as shop:
        clock = await to_the_bench(shop)
        await tick(shop, clock, 4)
        for _ in range(20):
            await shop.press("backspace")
            clock.now += 0.1
        assert len(facts(path).cuts) == 3
        clock.now += 0.6
        await shop.press("backspace")
        await a_moment(shop)
        assert len(facts(path).cuts) == 2


async def test_the_bench_says_when_every_cut_is_made(tmp_path: Path) -> None:
    path = stored(tmp_path, three_boards())
    async with running(path) as shop:
        clock = await to_the_bench(shop)
        await tick(shop, clock, len(shop.session.plan.steps) - 1)
        assert "Every cut is made" not in shop.text
        await tick(shop, clock)
        assert any(line.strip() == "Every cut is made" for line in shop.lines)
        offcut = next(thing.name for thing in things_lying(shop.session.plan).values() if not thing.is_part)
        await shop.press("x")
        for answer in (SPOILED, offcut, ""):
            await shop.answer(answer)
        await shop.press("enter")
        assert shop.lines[0] == "Every cut is made."


async def test_a_sleeve_on_the_keyboard_leads_nowhere(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    async with running(path) as shop:
        clock = await to_the_bench(shop)
        await tick(shop, clock)
        text, shown = path.read_text(), shop.lines
        for key in (
            *"123456789",
            *"uUwm",
            *"acdfghilopqrsvyz",
            *"[]+-",
            "enter",
            "tab",
            "ctrl+u",
            "ctrl+r",
            "ctrl+right",
        ):
            await shop.press(key)
            assert (shop.lines, shop.question) == (shown, ""), key
        assert path.read_text() == text and shop.app.is_running
        await tick(shop, clock)
        assert "Step 3 " in shop.lines[0], "and the keys that do mean something are taken still"


@pytest.mark.parametrize("key", ["escape", "b"])
async def test_the_list_comes_back_with_the_cursor_where_it_was(tmp_path: Path, key: str) -> None:
    async with running(stored(tmp_path, bench())) as shop:
        await shop.go("cuts")
        behind = shop.text
        await shop.press("b", key)
        assert shop.text == behind
        clock = await to_the_bench(shop)
        await tick(shop, clock, 2)
        await shop.press("down", "down", key)
        assert "[6 Cuts]" in shop.lines[1] and any(line.startswith("> [ ]   5 ") for line in shop.lines)
        await shop.press("1")
        assert shop.session.station == "space", "and stations can be left again"


async def test_one_may_look_at_other_cuts_and_tick_none_that_is_not_free(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    async with running(path) as shop:
        clock = await to_the_bench(shop)
        await shop.press("right", "j")
        assert "Step 3 " in shop.lines[0]
        clock.now += 1
        await shop.press("space")
        assert "which step 2 makes: tick that first" in shop.said and facts(path).cuts == ()
        await shop.press("n")
        assert "Step 1 " in shop.lines[0]


async def test_done_through_a_step_ticks_all_up_to_it(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    async with running(path) as shop:
        await to_the_bench(shop)
        await shop.press("t")
        for nonsense, sentence in (
            ("soon", "the number of a step"),
            ("0", "there is no step 0"),
            ("999", "no step 999"),
        ):
            await shop.answer(nonsense)
            assert sentence in shop.said and shop.question == "Done through step"
        await shop.type("7")
        assert "7 cuts are ticked by that" in shop.said
        await shop.press("enter")
        done = [one.number for one in shop.session.plan.steps if one.done]
        assert done == list(range(1, 8)) and len(facts(path).cuts) == 7
        assert "7 cuts ticked, through step 7" in shop.said and "Step 8 " in shop.lines[0]
        await shop.press("t")
        await shop.answer("5")
        assert "everything up to step 5 is ticked already" in shop.said and len(facts(path).cuts) == 7


async def test_an_answer_that_comes_in_one_with_its_key_is_for_that_question(tmp_path: Path) -> None:
    async with running(stored(tmp_path, bench())) as shop:
        await to_the_bench(shop)
        for key in ("t", "1", "2", "enter"):
            shop.send(key)
        await shop.settle()
        assert not shop.question and sum(one.done for one in shop.session.plan.steps) == 12
        # What the question has no use for is no one's, and there is an end of it.
        await shop.press("t", "f5", "f6", "escape")
        assert not shop.question


async def test_it_is_taken_up_at_the_bench_where_it_was_left(tmp_path: Path) -> None:
    path = stored(tmp_path, many_cuts())
    async with running(path) as shop:
        clock = await to_the_bench(shop)
        await tick(shop, clock, 3)
        await shop.press("ctrl+q")
    async with running(path) as shop:
        assert "Step 4 " in shop.lines[0] and "done: 3 of " in shop.text
        await shop.press("q")
        assert "Step 4 " in shop.lines[0]
        await shop.press("escape")
    async with running(path) as shop:
        assert "[6 Cuts]" in shop.lines[1], "the list, for it was the list that was left"


def boards_of_two_materials() -> Design:
    """The MDF is cut before the plywood."""
    design = three_boards()
    other = next(key for key in design.materials if key != "mdf")
    boards = [LoosePart(f"L{n}", f"Board {n}", key, "600", f"{30 * n}0", 1) for n, key in ((1, "mdf"), (2, other))]
    return replace(design, loose=tuple(boards))


async def test_after_a_change_of_plan_it_is_taken_up_at_the_material_that_was_cut_last(tmp_path: Path) -> None:
    path = stored(tmp_path, boards_of_two_materials())
    async with running(path) as shop:
        clock = await to_the_bench(shop)
        material = shop.session.plan.steps[-1].sheet.material
        assert material != shop.session.plan.steps[0].sheet.material
        begin = next(one for one in shop.session.plan.steps if one.sheet.material == material)
        shop.list.move_to(begin.number.__eq__)
        await tick(shop, clock)
        if shop.question:
            await shop.answer()
        # Whatever is brought, everything that was cut becomes pieces on hand.
        await shop.press("x")
        for answer in (ANOTHER, material, "900", "200"):
            await shop.answer(answer)
        await shop.press("enter")
        assert f"last step {begin.number}" in shop.text
        await shop.press("backspace")
        assert "what was cut before the plan changed stays cut" in shop.said
        await shop.press("ctrl+q")
    async with running(path) as shop:
        now = next(one for one in shop.session.plan.steps if one.sheet.material == material and not one.done)
        assert f"Step {now.number} " in shop.lines[0]
        # Through it from paper would be the other material too: that is said.
        await shop.press("t")
        assert ": " in shop.said and f"of {material}" in shop.said


async def test_a_new_setting_is_measured_and_enter_says_that_it_is_right(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    async with running(path) as shop:
        clock = await to_the_bench(shop)
        number = await tick_until_asked(shop, clock)
        first = shop.session.plan.steps[number - 1].step.pieces[0]
        assert (shop.question, shop.typed) == (f"{first.id} reads", "34 3/8")
        text = path.read_text()
        await shop.answer()
        assert f"step {number} reads as it should" in shop.said and path.read_text() == text
        await tick(shop, clock)
        assert len(facts(path).cuts) == number + 1, "and the keys are the bench's again"


async def test_what_was_not_measured_when_the_terminal_closed_is_asked_again(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    async with running(path) as shop:
        number = await tick_until_asked(shop, await to_the_bench(shop))
        asked = shop.question
    async with running(path) as shop:
        assert shop.question == asked and shop.lines[0].startswith(f"[ ] Step {number + 1} ")
        await shop.answer()
        assert f"step {number} reads as it should" in shop.said
        await shop.press("ctrl+q")
    async with running(path) as shop:
        assert not shop.question, "it was answered"
        await shop.press("escape", "space", "b")
        assert not shop.question, "a cut that is ticked in the list is not measured"


async def test_a_part_that_is_left_over_beyond_the_blade_is_measured_too(tmp_path: Path) -> None:
    # The fence does not go as far as the part is long: the offcut lies against it.
    mdf = replace(three_boards().materials["mdf"], stock=(Stock("1500", "600", trim=Trim()),))
    design = replace(
        three_boards(),
        materials={"mdf": mdf},
        saws=(Saw("table saw", "table", "3", widest_rip="750"),),
        loose=(LoosePart("L", "Board", "mdf", "870", "600", 1),),
    )
    async with running(stored(tmp_path, design)) as shop:
        clock = await to_the_bench(shop)
        await tick_until_asked(shop, clock)
        (cut,) = shop.session.plan.steps
        assert [made.use for made in cut.step.pieces] == ["offcut", "part"]
        assert (shop.question, shop.typed) == ("L1/1 reads", "870")
        await shop.answer("868")
        assert "set the fence or line 2 mm closer to the blade before the next" in " ".join(shop.text.split())


@pytest.mark.parametrize(("reads", "off"), [("34 1/4", "further from"), ("34 1/2", "closer to")])
async def test_another_reading_says_how_to_move_the_fence_and_the_piece_may_serve(
    tmp_path: Path, reads: str, off: str
) -> None:
    path = stored(tmp_path, bench())
    async with running(path) as shop:
        clock = await to_the_bench(shop)
        asked = await tick_until_asked(shop, clock)
        text = path.read_text()
        await shop.type(reads)
        assert "off by 1/8 in" in shop.said
        await shop.press("enter")
        assert f"1/8 in {off} the blade" in " ".join(shop.said.split())
        await shop.answer("it serves as it is")
        assert not shop.question and path.read_text() == text
        await tick(shop, clock)
        assert f"done: {asked + 1} of " in shop.text


async def test_a_piece_of_another_size_is_taken_as_what_it_is(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    async with running(path) as shop:
        clock = await to_the_bench(shop)
        number = await tick_until_asked(shop, clock)
        piece = shop.session.plan.steps[number - 1].step.pieces[0].id
        await shop.answer("34 1/4")
        await shop.answer("it is a piece of that size")
        assert isinstance(shop.app.screen, ChangePage)
        await shop.press("enter")
        assert things_lying(shop.session.plan)[piece].length == Fraction("34.25") * INCH
        assert len(facts(path).history) == number and "keeper" in shop.text, "still at the bench"


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
async def test_the_foot_tells_the_keys_that_serve_at_the_bench_and_those_of_the_list_in_the_list(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    async with running(stored(tmp_path, bench()), size) as shop:
        await to_the_bench(shop)
        foot = shop.lines[-1]
        assert " x mishap  t through  Esc list" in foot and "b bench" not in foot
        assert ("arrows look on" in foot) == (size[0] == 120)
        await shop.press("escape")
        assert " b bench  x mishap " in shop.lines[-1] and "t through" not in shop.lines[-1]
