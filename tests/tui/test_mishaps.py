"""When it goes another way: what is asked, what is shown of it, and that nothing is stored before it is accepted."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from driving import Driver, Waits, running
from projects_to_try import bench, stored, three_boards
from textual.widgets import Static

from core.changes_in_words import sheets_to_buy
from core.cuts.steps import Edge
from core.layout.search import lay_out
from core.lying import things_lying
from core.project import Facts, LoosePart, PieceOnHand, Saw
from core.storage import open_project
from tui.screens import ChangePage
from tui.session import Session
from tui.stations.mishaps import A_PIECE, ANOTHER, BACK, BAD, MEASURES, MISFIT, OTHERWISE, SERVES, SPOILED, THICKNESS
from tui.stations.unsuited import ALL_ASIDE, ASIDE, KEEP, KEEP_ALL
from tui.supposed import Supposed

INCH = Fraction(254, 10)


async def tell(shop: Driver, *answers: str | None) -> None:
    """What went another way, up to the page that says what it comes to."""
    await shop.press("x")
    for one in answers:
        await shop.answer(one)


def facts(path: Path) -> Facts:
    """What the file says has happened."""
    return open_project(path).project.facts


def numbers(shop: Driver) -> dict[int, tuple[str, str, Fraction, Edge]]:
    """What each step that is left does, by its number."""
    steps = (one for one in shop.session.plan.steps if not one.done)
    return {one.number: one.meaning for one in steps}


async def with_a_part(shop: Driver) -> str:
    """Cuts until there is a part: what it is called."""
    await shop.go("cuts")
    for _ in shop.session.plan.steps:
        await shop.press("n", "space")
        if parts := [thing.name for thing in things_lying(shop.session.plan).values() if thing.is_part]:
            return parts[0]
    raise AssertionError("no cut makes a part")


async def test_a_spoiled_part_is_asked_for_shown_and_only_then_made_so(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    async with running(path) as shop:
        part = await with_a_part(shop)
        text, before, ticks = path.read_text(), numbers(shop), len(facts(path).cuts)
        await shop.press("x")
        assert shop.question == "What happened?" and SPOILED in shop.said
        await shop.answer(SPOILED)
        assert (shop.question, shop.typed) == ("Which piece is spoiled?", part), "the last one that was made"
        await shop.answer()
        assert shop.question == f"What is left of {part}: length"
        await shop.answer("")
        assert isinstance(shop.app.screen, ChangePage)
        assert "What changes" in shop.text and f"Made again: {part}, out of " in " ".join(shop.text.split())
        await shop.press("escape")
        assert path.read_text() == text and numbers(shop) == before and "Nothing has changed" in shop.said
        await tell(shop, SPOILED, None, "")
        await shop.press("enter")
        told = facts(path)
        assert [past.number for past in told.history] == list(range(1, ticks + 1)) and told.cuts == ()
        assert part not in {piece.part for piece in told.pieces} and told.pieces
        assert part in [piece for one in shop.session.plan.sheets for sheet in one.sheets for piece in sheet.pieces]
        now = numbers(shop)
        assert len(before.keys() & now.keys()) > len(before) // 2
        assert all(now[number] == before[number] for number in before.keys() & now.keys())
        assert min(now.keys() - before.keys()) > max(before)


async def test_where_what_is_missing_goes_is_searched_for_beside_the_keyboard(tmp_path: Path) -> None:
    path, searcher = stored(tmp_path, bench()), Waits()
    searcher.go_on.set()
    async with running(path, searcher=lambda: searcher) as shop:
        await with_a_part(shop)
        searcher.go_on.clear()
        text, asked = path.read_text(), len(searcher.asked)
        await tell(shop, SPOILED, None)
        shop.send("enter")
        await shop.calm()
        assert "Working out" in shop.text and "Enter makes it so" not in shop.text, "not what nobody has seen"
        assert len(searcher.asked) == asked + 1
        shop.send("enter")
        await shop.calm()
        assert isinstance(shop.app.screen, ChangePage) and path.read_text() == text
        shop.send("escape")
        await shop.calm()
        assert not isinstance(shop.app.screen, ChangePage) and "Nothing has changed" in shop.said
        searcher.go_on.set()
        await shop.settle()
        assert not isinstance(shop.app.screen, ChangePage), "what was given up does not come back"
        await tell(shop, SPOILED, None, "")
        assert "Made again" in shop.text and "Enter makes it so" in shop.text
        await shop.press("escape")
        asked = len(searcher.asked)
        await tell(shop, SPOILED, None, "")
        assert len(searcher.asked) == asked and "Made again" in shop.text, "it is not searched for twice"


@pytest.mark.parametrize("gap", [0.03, 0.2, 0.45])
async def test_enter_hit_again_and_again_accepts_nothing_that_nobody_has_read(tmp_path: Path, gap: float) -> None:
    path = stored(tmp_path, bench())
    async with running(path) as shop:
        await with_a_part(shop)
        text = path.read_text()
        await tell(shop, SPOILED, None)
        shop.send("enter")
        for _ in range(8):
            await shop.press("enter", after=gap)
        assert isinstance(shop.app.screen, ChangePage) and "Made again" in shop.text and path.read_text() == text
        await shop.press("enter")
        assert not isinstance(shop.app.screen, ChangePage) and "x takes that back" in shop.said
        await shop.press("u")
        assert "nothing to undo; what an accident changed is taken back by x at Cuts" in shop.said
        assert facts(path).mishaps


async def test_nothing_is_asked_while_sheets_are_laid_out(tmp_path: Path) -> None:
    async with running(stored(tmp_path, bench()), searcher=Waits, laid_out=False) as shop:
        shop.send("6")
        await shop.calm()
        shop.send("x")
        await shop.calm()
        assert not shop.question and "the sheets are still being laid out; tell it when they are" in shop.said


async def test_a_sheet_that_measures_less_is_laid_out_as_it_is(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    async with running(path) as shop:
        await shop.go("cuts")
        await tell(shop, MEASURES, None)
        assert (shop.question, shop.typed) == ("ply-1 measures: length", "96")
        await shop.answer()
        assert (shop.question, shop.typed) == ("width", "48")
        await shop.answer("47 3/4")
        await shop.press("enter")
        thing = things_lying(shop.session.plan)["ply-1"]
        assert (thing.length, thing.width, thing.fresh) == (96 * INCH, Fraction("47.75") * INCH, False)
        assert [piece.id for piece in facts(path).pieces] == [one.id for one in facts(path).opened] == ["ply-1"]
        assert not [piece for one in shop.session.plan.sheets for piece in one.unplaced]


async def test_bad_places_are_drawn_and_each_lies_on_the_piece(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    async with running(path) as shop:
        await shop.go("cuts")
        await tell(shop, BAD, None, "0", "0", "2", "1")
        told = "ply-1 has a bad place of 2 x 1 in, 0 in from its left end and 0 in from its lower edge"
        assert told in " ".join(shop.text.split())
        await shop.press("enter")
        sheets = [(one, sheet) for one in shop.session.plan.sheets for sheet in one.sheets]
        (at,) = [number for number, (_, sheet) in enumerate(sheets) if sheet.id == "ply-1"]
        await shop.go("sheets")
        await shop.press(*["right"] * at)
        assert f"Piece {at + 1} of {len(sheets)}  ply-1" in shop.text
        assert "×× bad place" in shop.text and "×" in shop.text.replace("×× bad place", "")
        await shop.go("cuts")
        await tell(shop, BAD, "ply-1", "90", "40", "2", "1")
        await shop.press("enter")
        (piece,) = [piece for piece in shop.session.project.facts.pieces if piece.id == "ply-1"]
        assert len(piece.bad.split(",")) == 2
        await shop.go("sheets")
        assert "×× bad places" in shop.text
        await shop.go("cuts")
        await tell(shop, BAD, "ply-1", "90", "48")
        assert shop.said == "the piece is 48 in across: a bad place begins on it"
        await shop.answer("40")
        await shop.answer("7")
        assert shop.said == "no more of the piece lies there: 6 in"


async def test_a_piece_out_of_the_rack_is_there_from_now_on(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    async with running(path) as shop:
        await shop.go("cuts")
        await tell(shop, ANOTHER, "ply", "90", "47")
        assert isinstance(shop.app.screen, ChangePage)
        assert "1 sheet less: Plywood 3/4, 96 x 48" in shop.text
        await shop.press("enter")
        (piece,) = facts(path).pieces
        thing = things_lying(shop.session.plan)[piece.id]
        assert (thing.length, thing.width) == (90 * INCH, 47 * INCH)
        assert any(one.step.sheet == piece.id for one in shop.session.plan.steps), "and it is cut before a sheet is"


async def test_another_thickness_is_followed_by_every_part_that_is_not_cut(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    async with running(path) as shop:
        await shop.go("cuts")
        await shop.press("space")
        await tell(shop, THICKNESS)
        assert (shop.question, shop.typed) == ("The thickness of which material?", "ply")
        await shop.press("enter")
        assert (shop.question, shop.typed) == ("ply is really this thick", "23/32")
        seen: list[str] = []

        def suppose(*asked: Any, **how: Any) -> Supposed:
            seen.append(shop.text)
            return Session.suppose(shop.session, *asked, **how)

        shop.session.suppose = suppose  # type: ignore[method-assign]
        await shop.answer("11/16")
        assert "Working out what it comes to…" in seen[0], "said before it is worked out"
        await shop.press("enter")
        assert shop.session.plan.worked.goods.thickness["ply"] == Fraction(11, 16) * INCH
        assert open_project(path).project.design == shop.session.design
        assert [past.number for past in facts(path).history] == [1]
        assert not [one for sheets in shop.session.plan.sheets for one in sheets.disagreements]


async def test_another_thickness_takes_no_sheet_of_another_material_that_a_new_layout_saves(tmp_path: Path) -> None:
    demo = open_project(Path(__file__).parents[2] / "projects" / "mudroom-bench.toml").project
    async with running(stored(tmp_path, demo.design)) as shop:
        await shop.go("cuts")
        first = next(one for one in shop.session.plan.steps if one.sheet.material == "backing")
        shop.session.tick(first.number)
        await tell(shop, THICKNESS, "ply", "11/16")
        await shop.press("enter")
        (backing,) = (one for one in shop.session.plan.sheets if one.material == "backing")
        assert backing.bought == 1 and not backing.unplaced


async def test_parts_that_no_longer_suit_are_kept_all_at_once(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    async with running(path) as shop:
        await shop.go("cuts")
        await shop.press("t")
        await shop.answer(str(shop.session.plan.steps[-1].number))
        await tell(shop, THICKNESS, "ply", "11/16")
        await shop.press("enter")
        (ply,) = (one for one in shop.session.plan.sheets if one.material == "ply")
        names = [one.piece.part for one in ply.misfits]
        assert len(names) > 2 and set(names) <= {piece for sheet in ply.sheets for piece in sheet.pieces}
        await tell(shop, MISFIT, f"all {len(names)} of ply")
        assert shop.typed == KEEP_ALL
        await shop.press("enter")
        assert isinstance(shop.app.screen, ChangePage)
        await shop.press("enter")
        (ply,) = (one for one in shop.session.plan.sheets if one.material == "ply")
        assert not ply.misfits and set(names) <= set(ply.made)
        assert not [one for one in shop.session.plan.steps if one.sheet.material == "ply" and not one.done]
        assert {one.part for one in facts(path).pieces if one.kept} == set(names)


async def test_parts_that_are_not_wanted_any_more_are_put_aside(tmp_path: Path) -> None:
    design = replace(bench(), loose=(LoosePart("L1", "Board", "ply", "20", "8", 2),))
    path = stored(tmp_path, design)
    async with running(path) as shop:
        await shop.go("cuts")
        await shop.press("t")
        await shop.answer(str(shop.session.plan.steps[-1].number))
        shop.session.edit(replace(shop.session.design, loose=()))
        await tell(shop, ANOTHER, "ply", "30", "20")
        await shop.press("enter")
        misfits = [one.piece.part for one in shop.session.plan.sheets[0].misfits]
        assert misfits == ["L1/1", "L1/2"]
        await tell(shop, MISFIT, misfits[0])
        assert shop.typed == ASIDE
        await shop.press("escape")
        await tell(shop, MISFIT, "all 2 of ply")
        assert shop.typed == ALL_ASIDE and "trimmed" not in shop.said
        await shop.press("enter", "enter")
        assert not shop.session.plan.sheets[0].misfits
        await shop.press("x")
        assert MISFIT not in shop.said, "nothing is left to decide"


async def test_what_cannot_have_happened_is_refused_with_a_sentence_and_nothing_is_lost(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    async with running(path) as shop:
        await shop.go("cuts")
        await shop.press("space")
        text, shown = path.read_text(), shop.list_text
        await tell(shop, MEASURES, "ply-1.1")
        for nonsense, sentence in (("long", "there is no dimension `long`"), ("0", "a size is more than nothing")):
            await shop.answer(nonsense)
            assert sentence in shop.said and shop.question == "ply-1.1 measures: length"
        await shop.press("escape")
        await tell(shop, "it fell off the roof")
        assert f"one of: {SPOILED}" in shop.said and shop.question == "What happened?"
        await shop.press("escape")
        await tell(shop, OTHERWISE, "ply-1.1", "rip", "99")
        assert "across: the cut lies within it" in shop.said and "99" in shop.typed
        await shop.press("escape")
        assert (path.read_text(), shop.list_text) == (text, shown)
        await shop.press("space")
        assert len(facts(path).cuts) == 2, "and the keys are the list's again"


async def test_what_went_another_way_is_remembered_in_its_place_until_it_is_taken_back(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    async with running(path) as shop:
        part = await with_a_part(shop)
        number = max(one.number for one in shop.session.plan.steps if one.done)
        before = facts(path)
        await tell(shop, SPOILED, None, "")
        assert f"{part} is spoiled" in shop.text.splitlines()[1], "the page says what it is about"
        await shop.press("escape")
        assert facts(path).mishaps == ()
        await tell(shop, SPOILED, None, "")
        await shop.press("enter")
        (mishap,) = facts(path).mishaps
        assert (mishap.said, mishap.after) == (f"{part} is spoiled", number)
        assert f"after step {number}, " in shop.list_text and f": {part} is spoiled" in shop.list_text
        await tell(shop, BACK)
        now = facts(path)
        assert now == replace(before, left_at=now.left_at, steps_given=now.steps_given, names_given=now.names_given)
        assert "is spoiled" not in shop.list_text


async def test_a_sheet_may_be_spoiled_before_anything_is_cut_of_it(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    async with running(path) as shop:
        await shop.go("cuts")
        had = sheets_to_buy(shop.session.plan)["Plywood 3/4, 96 x 48"]
        await tell(shop, SPOILED)
        assert (shop.question, shop.typed) == ("Which piece is spoiled?", "ply-1")
        await shop.answer()
        await shop.answer("")
        assert "ply-1 is spoiled" in shop.text and f"1 sheet more: Plywood 3/4, 96 x 48, ply-{had + 1}" in shop.text
        await shop.press("enter")
        assert [one.id for one in facts(path).opened] == ["ply-1"] and facts(path).pieces == ()
        assert "ply-1" not in things_lying(shop.session.plan)
        assert sheets_to_buy(shop.session.plan)["Plywood 3/4, 96 x 48"] == had + 1
        assert not [piece for one in shop.session.plan.sheets for piece in one.unplaced]
        spoiled = facts(path)
        await shop.go("sheets")
        assert " sheets (1 in pieces), " in str(shop.app.query_one("#status", Static).content), "nor is it drawn"
        await shop.press("l")
        assert shop.question == "Lay out anew what is not cut?", "also where the accident came before the first cut"
        await shop.answer("yes")
        assert "x at Cuts takes that back" in shop.said and facts(path).layouts == ()
        await shop.go("cuts")
        await tell(shop, BACK)
        assert facts(path).layouts == spoiled.layouts


async def test_a_part_that_measures_otherwise_serves_or_is_a_piece_of_that_size(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    async with running(path) as shop:
        part = await with_a_part(shop)
        text = path.read_text()
        await tell(shop, MEASURES, part, None, "10", SERVES)
        assert path.read_text() == text and not shop.question
        await tell(shop, MEASURES, part, None, "10", A_PIECE)
        assert f"Made again: {part}, out of " in " ".join(shop.text.split())
        await shop.press("enter")
        piece = next(thing for thing in things_lying(shop.session.plan).values() if thing.width == 10 * INCH)
        assert not piece.is_part and facts(path).mishaps[-1].said.startswith(f"{part} really measures ")


async def test_keys_that_come_at_once_are_taken_one_after_the_other(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    async with running(path) as shop:
        part = await with_a_part(shop)
        await shop.press("x")
        # As a slow line delivers them: an answer, then the next question's, put right while it is typed.
        for key in ("enter", *part, "enter", "9", "9", "backspace", "enter", "ctrl+u", "8", "enter"):
            shop.send(key)
        await shop.settle()
        assert isinstance(shop.app.screen, ChangePage)
        assert f"{part} is spoiled, and what is left measures 9 x 8 in" in shop.text


async def test_once_every_cut_is_made_and_history_there_is_still_something_that_may_go_another_way(
    tmp_path: Path,
) -> None:
    path = stored(tmp_path, three_boards())
    async with running(path) as shop:
        await shop.go("cuts")
        assert "No cuts yet" not in shop.list_text
        await shop.press("t")
        await shop.answer(str(shop.session.plan.steps[-1].number))
        things = things_lying(shop.session.plan).values()
        offcut = next(thing.name for thing in things if not thing.is_part and not thing.fresh)
        await tell(shop, SPOILED, offcut, "")
        await shop.press("enter")
        assert not shop.session.plan.steps and len(facts(path).pieces) >= 3
        assert "Every cut is made." in shop.list_text and f"{offcut} is spoiled" in shop.list_text
        await shop.press("b")
        assert "Every cut is made" in shop.said
        await shop.press("x")
        assert shop.question == "What happened?" and MISFIT not in shop.said
        await shop.answer(BACK)
        assert facts(path).mishaps == () and shop.session.plan.steps
        await tell(shop, SPOILED, offcut, "")
        await shop.press("enter")
        await tell(shop, SPOILED, "L1/1", "")
        assert "Made again: L1/1, out of " in " ".join(shop.text.split())
        await shop.press("enter")
        assert any("L1/1" in sheet.pieces for one in shop.session.plan.sheets for sheet in one.sheets)
        await tell(shop, ANOTHER, "mdf", "610", "310")
        await shop.press("enter")
        assert "rack-1" in {piece.id for piece in facts(path).pieces}


async def test_with_nothing_planned_and_nothing_in_the_shop_nothing_can_go_another_way(tmp_path: Path) -> None:
    async with running(stored(tmp_path, replace(three_boards(), loose=()))) as shop:
        await shop.press("escape")
        await shop.go("cuts")
        await shop.press("x")
        assert not shop.question and "nothing is planned, and nothing is in the shop" in shop.said


TRACK, TABLE = Saw("track saw", "track", "2"), Saw("table saw", "table", "3.2")


@pytest.mark.parametrize(
    ("saws", "asked", "chosen"),
    [
        ((TRACK, TABLE), True, "track saw"),
        ((TRACK, TABLE), True, "table saw"),
        # Of one kerf: whether its edge can stay, and what becomes of it if that kerf proves to be another.
        ((TRACK, replace(TABLE, kerf="2")), True, "table saw"),
        ((TABLE,), False, ""),
        # Too large for it: no saw makes that step.
        ((replace(TABLE, longest_piece="500"),), False, ""),
        ((replace(TRACK, longest_cut="200"), replace(TABLE, longest_piece="500")), True, "track saw"),
    ],
)
async def test_what_was_cut_otherwise_lost_the_kerf_of_the_saw_that_cut_it(
    tmp_path: Path, saws: tuple[Saw, ...], asked: bool, chosen: str
) -> None:
    path = stored(tmp_path, replace(three_boards(), saws=saws))
    async with running(path) as shop:
        await shop.go("cuts")
        first = shop.session.plan.steps[0].step.saw.name
        await tell(shop, OTHERWISE, "mdf-1", "rip", "300", "bottom")
        assert (shop.question == "With which saw?") == asked
        if asked:
            assert shop.typed == first or first not in {saw.name for saw in saws}
            await shop.answer(chosen)
        await shop.press("enter")
        kerf = next(Fraction(saw.kerf) for saw in saws if chosen in ("", saw.name))
        things = things_lying(shop.session.plan)
        low, high = (things[name].width for name in ("mdf-1.1", "mdf-1.2"))
        assert low == 300 and abs(1220 - 300 - kerf - high) < Fraction(1, 100)


def shorter(piece: PieceOnHand) -> Fraction:
    """The shorter side of a piece, mm."""
    return min(piece.length, piece.width) * Fraction(piece.unit)


async def test_of_two_parts_of_one_name_both_are_offered_and_the_chosen_one_is_spoiled(tmp_path: Path) -> None:
    design = replace(three_boards(), loose=(LoosePart("L", "Board", "mdf", "600", "300"),))
    path = stored(tmp_path, design)
    async with running(path) as shop:
        await shop.go("cuts")
        for width in ("300", "690"):
            shop.session.edit(replace(design, loose=(replace(design.loose[0], width=width),)))
            shop.session.search(lay_out)
            shop.session.tick_through(shop.session.plan.steps[-1].number)
        new, old = "L1/1 (600 x 690)", "L1/1 (600 x 300, no longer suits)"
        await tell(shop, SPOILED)
        assert shop.typed == new and old in shop.said
        await shop.answer()
        await shop.answer("")
        assert f"{new} is spoiled" in shop.text and "Made again: L1/1, out of " in " ".join(shop.text.split())
        await shop.press("enter")
        assert [shorter(one) for one in facts(path).pieces if one.part] == [300], "the older one is there"
        assert any("L1/1" in sheet.pieces for one in shop.session.plan.sheets for sheet in one.sheets)
        shop.session.tick_through(shop.session.plan.steps[-1].number)
        await tell(shop, MISFIT)
        assert shop.typed == old and "write the size beside it on this one" in shop.said
        await shop.answer()
        assert shop.question == f"What of {old}?"
        await shop.answer(KEEP)
        await shop.press("enter")
        assert [shorter(one) for one in facts(path).pieces if one.kept] == [300]


async def test_after_a_change_the_next_cut_is_one_of_the_material_at_hand(tmp_path: Path) -> None:
    of = three_boards()
    of = replace(of, loose=(*of.loose, LoosePart("P", "Other", "birch", "600", "300", 3)))
    async with running(stored(tmp_path, of)) as shop:
        await shop.go("cuts")
        steps = shop.session.plan.steps
        # All its cuts come after those of the other material then.
        there = steps[0]
        assert len({one.sheet.material for one in steps}) == 2 and there.step.piece == there.sheet.id
        await shop.cursor_to(f"{there.step.piece}: ")
        await tell(shop, SPOILED, there.step.piece, "")
        await shop.press("enter")
        at = next(one for one in shop.session.plan.steps if one.number == shop.list.key)
        assert at.sheet.material == there.sheet.material and not at.done
