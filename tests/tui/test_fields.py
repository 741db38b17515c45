"""Questions and fields: checked as they are left, answered, left; things added, removed, moved, undone."""

from __future__ import annotations

from pathlib import Path

from driving import depth, running
from projects_to_try import HOSTILE, bench, stored
from textual import events

from core.construction.rule_book import RULE_BOOK
from core.starter import new_design
from core.storage import open_project


async def test_a_field_is_checked_as_it_is_left(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    async with running(path) as shop:
        await shop.go("piece")
        await shop.cursor_to("depth")
        text = path.read_text()
        await shop.press("enter")
        assert (shop.question, shop.typed) == ("depth", "20")
        for bad in ("wide", "20 20", "-3", "clear_widht - 1", "18,3,1", "1/0"):
            await shop.answer(bad)
            assert shop.question == "depth", bad
            assert shop.typed == bad
            assert shop.said, bad
            assert path.read_text() == text
        await shop.press("tab")
        assert shop.question == "depth", "a bad answer does not go by Tab either"
        assert path.read_text() == text
        await shop.type("19 1/4")
        await shop.press("tab")
        assert not shop.question
        assert depth(shop) == "19 1/4"
        assert open_project(path).project.design == shop.session.design
        # The keys are the list's again.
        await shop.press("enter")
        assert shop.question == "depth"


async def test_a_click_elsewhere_takes_no_open_question_away(tmp_path: Path) -> None:
    async with running(stored(tmp_path, bench())) as shop:
        await shop.go("piece")
        await shop.cursor_to("depth")
        await shop.press("enter")
        await shop.type("19 1")
        for row in (6, 7, 7):
            await shop.pilot.click(shop.list, offset=(10, row))
            await shop.settle()
            assert (shop.question, shop.typed) == ("depth", "19 1")
        await shop.press("slash", "4", "enter")
        assert depth(shop) == "19 1/4"


async def test_escape_leaves_a_question_and_changes_nothing(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    async with running(path) as shop:
        await shop.go("piece")
        await shop.cursor_to("depth")
        text = path.read_text()
        await shop.press("enter")
        await shop.type("12")
        await shop.press("escape")
        assert not shop.question
        assert depth(shop) == "20"
        assert path.read_text() == text
        await shop.press("enter")
        assert shop.typed == "20"


async def test_choices_are_walked_through_and_completed(tmp_path: Path) -> None:
    async with running(stored(tmp_path, bench())) as shop:
        await shop.go("piece")
        await shop.cursor_to("base ")
        await shop.press("enter")
        assert shop.typed == "kick"
        await shop.press("down")
        assert shop.typed == "plinth"
        await shop.press("up", "up")
        assert shop.typed == "none"
        await shop.answer("pl")
        assert shop.session.design.rules["base"] == "plinth"
        await shop.press("enter")
        await shop.answer("wheels")
        assert shop.question
        assert "kick, plinth, feet, none" in shop.said


async def test_hostile_answers_are_taken_as_text(tmp_path: Path) -> None:
    async with running(stored(tmp_path, bench())) as shop:
        await shop.go("piece")
        for name in HOSTILE[:3]:
            await shop.cursor_to("name ")
            await shop.press("enter")
            await shop.answer(name)
            assert not shop.question
            assert shop.session.design.name == name
            assert name in shop.text
        await shop.press("enter")
        await shop.pilot.press("end", "ctrl+u")
        shop.app.screen.focused.post_message(events.Paste("two\nlines \x1b[31mred\x07"))  # type: ignore[union-attr]
        await shop.settle()
        assert shop.typed.isprintable()
        assert shop.typed.startswith("two lines")


async def test_keys_typed_ahead_go_where_they_were_meant_to(tmp_path: Path) -> None:
    """Over a slow line several keys arrive at once; the second is for the station that the first goes to."""
    async with running(stored(tmp_path, bench())) as shop:
        await shop.go("buy")
        for key in ("6", "space", "space"):
            shop.send(key)
        await shop.settle()
        assert shop.session.station == "cuts"
        assert len(shop.session.project.facts.cuts) == 2
        assert not shop.session.project.facts.bought


async def test_undo_and_redo(tmp_path: Path) -> None:
    async with running(stored(tmp_path, bench())) as shop:
        await shop.go("piece")
        await shop.press("u")
        assert shop.said == "nothing to undo"
        await shop.cursor_to("depth")
        await shop.press("minus")
        assert depth(shop) == "19 15/16"
        await shop.press("u")
        assert depth(shop) == "20"
        assert shop.said.startswith("undone")
        await shop.press("U")
        assert depth(shop) == "19 15/16"
        await shop.press("U")
        assert shop.said == "nothing to do again"


async def test_a_nudge_is_one_step_of_the_tape_and_tells_what_it_costs(tmp_path: Path) -> None:
    async with running(stored(tmp_path, bench("mm"))) as shop:
        await shop.go("piece")
        await shop.cursor_to("depth")
        await shop.press("plus", "plus", "equals_sign")
        assert depth(shop) == "513"
        await shop.press("minus")
        assert depth(shop) == "512"
        await shop.cursor_to("row width")
        await shop.press("plus")
        assert "formula" in shop.said
        assert shop.session.design.row_width == "clear_width"
        sheets = sum(len(one.sheets) for one in shop.session.plan.sheets)
        await shop.cursor_to("depth")
        await shop.press("enter")
        await shop.answer("1150")
        now = sum(len(one.sheets) for one in shop.session.plan.sheets)
        assert now > sheets
        assert f"sheets {sheets} -> {now}" in shop.said


async def test_things_are_added_removed_copied_and_moved(tmp_path: Path) -> None:
    async with running(stored(tmp_path, bench())) as shop:
        await shop.go("piece")
        await shop.cursor_to("row width")
        await shop.press("a")
        assert shop.question == "Add"
        await shop.answer("gap")
        await shop.answer("Stool")
        await shop.answer("12")
        names = lambda: [one.name for one in shop.session.design.row]  # noqa: E731
        assert names() == ["Left box", "Right box", "Stool"]
        await shop.cursor_to("Carcass A")
        await shop.press("c")
        assert names() == ["Left box", "Left box", "Right box", "Stool"]
        await shop.cursor_to("Stool")
        await shop.press("(")
        assert names() == ["Left box", "Left box", "Stool", "Right box"]
        await shop.press(")", ")", ")")
        assert names() == ["Left box", "Left box", "Right box", "Stool"]
        await shop.press("d")
        assert names() == ["Left box", "Left box", "Right box"]
        assert "u brings it back" in shop.said
        await shop.press("u")
        assert names() == ["Left box", "Left box", "Right box", "Stool"]
        await shop.cursor_to("Carcass A")
        await shop.press("a")
        await shop.answer("bay")
        await shop.answer()
        await shop.answer("1")
        await shop.answer("2")
        assert shop.session.design.row[0].bays[-1].adjustable_shelves == 2  # type: ignore[union-attr]
        await shop.press("a")
        await shop.answer("rule")
        await shop.answer("back")
        await shop.answer("let in")
        assert shop.session.design.row[0].rules == {"back": "let in"}  # type: ignore[union-attr]


async def test_every_kind_of_thing_can_be_added(tmp_path: Path) -> None:
    """Each form is gone through with what it offers; where it offers nothing, with a size or a name."""
    async with running(stored(tmp_path, bench())) as shop:
        for station in ("space", "goods", "piece"):
            await shop.go(station)
            await shop.press("end", "a")
            asked = shop.app.query_one("EntryLine").asked  # type: ignore[attr-defined]
            kinds = [kind for kind in asked.choices if kind != "rule of its own"]
            await shop.press("escape")
            for kind in kinds:
                before = shop.session.design
                await shop.press("a")
                await shop.answer(kind)
                while shop.question:
                    label = shop.question
                    await shop.answer("odd_name" if label.endswith("name, for formulas") else None)
                    if shop.question == label:
                        await shop.answer("more" if label.endswith("name") else "7")
                    assert shop.question != label, (kind, label, shop.said)
                assert shop.session.design != before, kind
                await shop.press("u")
                assert shop.session.design == before, kind


async def test_an_answer_that_cannot_be_stored_does_not_lead_on(tmp_path: Path) -> None:
    """The walk must not go from question to question while nothing of it reaches the disk."""
    path = stored(tmp_path, new_design("Window bench", "in"))
    async with running(path) as shop:
        await shop.answer()
        asked = shop.question
        path.chmod(0o444)
        await shop.answer("70")
        assert "read-only" in shop.said
        assert not shop.session.design.space.readings
        assert shop.question in ("", asked)
        await shop.press("3")
        assert shop.session.station == "piece" or shop.question == asked


async def test_every_rule_tells_its_reason_under_the_cursor_and_while_it_is_asked(tmp_path: Path) -> None:
    async with running(stored(tmp_path, bench())) as shop:
        await shop.go("piece")
        await shop.press("end")
        for rule in reversed(RULE_BOOK):
            assert shop.list.key == ("rules", rule.name)
            await shop.press("up", "down")
            assert len(rule.reason) > 40, "a few words are no reason"
            assert rule.reason in " ".join(shop.text.split()), "whole, in a small window"
            await shop.press("enter")
            assert shop.question == rule.title
            assert rule.reason in " ".join(shop.text.split()), "beside the choices too"
            await shop.press("escape", "up")
