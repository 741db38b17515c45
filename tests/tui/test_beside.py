"""What goes on beside the keyboard: the search for layouts, a second opener, an editor on the same file."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from driving import STATIONS, AtOnce, Waits, depth, running
from projects_to_try import bench, opened, stored, three_boards
from textual.worker import WorkerFailed

from core.layout.job import Job
from core.layout.tree import Layout
from tui.searching import Searcher


async def test_a_search_under_way_blocks_no_key(tmp_path: Path) -> None:
    searcher = Waits()
    async with running(stored(tmp_path, bench()), searcher=lambda: searcher, laid_out=False) as shop:
        assert "laying out" in shop.lines[-2]
        for number, station in enumerate(STATIONS, start=1):
            shop.send(str(number))
            await shop.calm()
            assert shop.session.station == station
            assert station != "sheets" or "so far" in shop.text, "the first layout is shown at once"
        assert len(searcher.asked) == 1, "going from station to station does not begin the search again"
        shop.send("6")
        await shop.calm()
        assert "Laying out" in shop.text
        shop.send("space")
        await shop.calm()
        assert not shop.session.project.facts.cuts
        shop.send("3")
        await shop.calm()
        while shop.list.key != ("row", 0, "depth"):
            shop.send("down")
            await shop.calm()
        # An edit meanwhile makes the question that is being answered an old one.
        shop.send("plus")
        await shop.calm()
        assert depth(shop) == "20 1/16"
        assert len(set(searcher.asked)) == 2
        searcher.go_on.set()
        await shop.settle()
        assert not shop.session.plan.pending
        assert "sheets" in shop.lines[-2]


async def test_a_better_layout_moves_neither_the_cursor_nor_what_was_said(tmp_path: Path) -> None:
    searcher = Waits()
    async with running(stored(tmp_path, bench()), searcher=lambda: searcher, laid_out=False) as shop:
        shop.send("5")
        await shop.calm()
        for _ in range(3):
            shop.send("down")
            await shop.calm()
        selected = shop.station.selected
        assert selected and shop.said.startswith(f"{selected} ")
        shop.send("l")
        await shop.calm()
        told = shop.said
        assert told.startswith("no layout was kept")
        searcher.go_on.set()
        await shop.settle()
        assert not shop.session.plan.pending and shop.said == told
        here = shop.session.plan.sheets[0].sheets[0].pieces
        assert shop.station.selected == (selected if selected in here else here[0])


async def test_leaving_does_not_wait_for_a_search(tmp_path: Path) -> None:
    async with running(stored(tmp_path, bench()), searcher=Waits, laid_out=False) as shop:
        shop.send("q")
        await shop.calm()
        assert shop.app._exit


async def test_the_child_that_lays_sheets_out_ends_with_the_app(tmp_path: Path) -> None:
    async with running(stored(tmp_path, three_boards()), searcher=Searcher) as shop:
        assert "1 sheet" in shop.lines[-2]
        child = shop.app.bench.searcher._child
        assert child is not None and child.returncode is None
    assert child.returncode is not None


async def test_a_fault_in_the_search_is_no_silence(tmp_path: Path) -> None:
    class Broken(AtOnce):
        async def answer(self, job: Job, better: Callable[[Layout], None]) -> Layout:
            raise ZeroDivisionError("in the search")

    with pytest.raises(WorkerFailed, match="in the search"):
        async with running(stored(tmp_path, bench()), searcher=Broken):
            pass


async def test_a_second_opener_is_told_and_sees_ticks(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    first = opened(path)
    async with running(path) as shop:
        assert "Read only: open elsewhere:" in shop.said
        assert "read only" in shop.lines[0]
        await shop.go("piece")
        await shop.press("d")
        assert "nothing here can be removed" in shop.said
        await shop.cursor_to("depth")
        await shop.press("d")
        assert "nothing can be changed here" in shop.said
        assert len(shop.session.design.row) == 2
        await shop.press("enter")
        assert not shop.question
        assert "nothing can be changed here" in shop.said
        await shop.go("cuts")
        first.tick(1)
        shop.app.bench.look_at_file()
        await shop.settle()
        assert shop.text.count("[x]") == 1
    first.leave()


@pytest.mark.parametrize("station", ["piece", "cuts", "buy", "sheets"])
async def test_a_change_by_an_editor_is_asked_about_before_anything_is_overwritten(
    tmp_path: Path, station: str
) -> None:
    path = stored(tmp_path, bench())
    async with running(path) as shop:
        edited = path.read_text().replace("Window bench", "Door bench")
        for choice in ("keep mine as a copy", "read it again"):
            await shop.go(station)
            path.write_text(edited)
            if station == "piece":
                await shop.cursor_to("depth")
            await shop.press({"piece": "enter", "sheets": "s"}.get(station, "space"))
            if station == "piece":
                await shop.answer("19")
            assert shop.question == "Changed on disk by another program"
            await shop.answer(choice)
            assert not shop.question
            assert path.read_text() == edited
            if choice.startswith("keep"):
                assert shop.session.opened.path.name == "bench-mine-1.toml"
                assert "bench-mine-1.toml" in shop.said
                path = shop.session.opened.path
                edited = path.read_text().replace("Window bench", "Door bench")
        assert "Door bench" in shop.lines[0]


async def test_a_file_spoiled_by_an_editor_is_not_said_to_be_read(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    async with running(path) as shop:
        await shop.go("cuts")
        spoiled = path.read_text() + "junk = = 3\n"
        path.write_text(spoiled)
        await shop.press("space")
        await shop.answer("read it again")
        assert "junk" in shop.said
        # The next look at the file tells nothing that the person was not asked about already.
        shop.app.bench.look_at_file()
        assert "junk" in shop.said
        assert "read again" not in shop.said
        assert path.read_text() == spoiled
        assert "Window bench" in shop.lines[0]
