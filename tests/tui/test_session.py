"""An opened project without a screen: what is on the disk, what undo leaves alone, who may write."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from projects_to_try import bench, many_cuts, opened, stored, three_boards

from core import accidents, edits
from core.edits import set_value
from core.goods import Stock, Trim
from core.layout.search import lay_out
from core.mistakes import Mistake
from core.project import Facts, Saw
from core.storage import ChangedOnDisk, open_project
from tui.session import Session


def depth(session: Session) -> str:
    """How deep the first carcass is."""
    return str(edits.value_at(session.design, ("row", 0, "depth")))


def deeper(session: Session, text: str) -> None:
    """Makes the first carcass as deep as `text`."""
    session.edit(set_value(session.design, ("row", 0, "depth"), text))
    session.search(lay_out)


def on_disk(path: Path) -> tuple[object, Facts]:
    """Design and facts as anybody else would read them."""
    project = open_project(path).project
    return project.design, project.facts


def test_an_edit_is_on_disk_when_it_returns(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    session = opened(path)
    deeper(session, "19 1/4")
    assert on_disk(path)[0] == session.design
    assert depth(session) == "19 1/4"


def test_a_tick_is_on_disk_when_it_returns_and_names_the_piece(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    session = opened(path)
    first = session.plan.steps[0].step
    session.tick(1)
    (cut,) = on_disk(path)[1].cuts
    assert (cut.sheet, cut.piece, cut.makes) == (first.sheet, first.piece, tuple(made.id for made in first.pieces))
    assert session.plan.steps[0].done


def test_the_file_as_it_was_opened_is_kept_beside_it(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    before = path.read_text()
    session = opened(path)
    assert not session.opened.kept_path.exists()
    deeper(session, "19")
    deeper(session, "18")
    assert session.opened.kept_path.read_text() == before


def test_undo_and_redo_go_through_designs_and_leave_ticks_alone(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    session = opened(path)
    as_begun = session.design
    deeper(session, "19")
    session.tick(1)
    deeper(session, "18")
    ticked = session.project.facts.cuts
    assert session.undo() and depth(session) == "19"
    assert session.undo() and session.design == as_begun
    assert not session.undo()
    assert on_disk(path) == (as_begun, session.project.facts)
    assert session.project.facts.cuts == ticked
    assert session.redo() and session.redo() and depth(session) == "18"
    assert not session.redo()
    assert on_disk(path)[1].cuts == ticked


def test_a_number_that_was_seen_stands_for_no_other_cut_after_an_edit(tmp_path: Path) -> None:
    session = opened(stored(tmp_path, bench()))
    session.tick(1)
    meant = {one.number: one.meaning for one in session.plan.steps}
    for text in ("19 1/4", "19 1/2", "19"):
        deeper(session, text)
        assert set(meant) != {one.number for one in session.plan.steps}
        for one in session.plan.steps:
            assert meant.setdefault(one.number, one.meaning) == one.meaning
        # The cuts are looked at, or printed.
        session.numbers_seen = True
    last = session.plan.steps[-1].number
    for text in ("19 1/8", "19 1/4", "19 3/8"):
        deeper(session, text)
    assert session.plan.steps[-1].number < last + 2 * len(session.plan.steps), "what nobody has seen takes no numbers"


def test_an_edit_after_undo_forgets_what_was_undone(tmp_path: Path) -> None:
    session = opened(stored(tmp_path, bench()))
    deeper(session, "19")
    session.undo()
    deeper(session, "17")
    assert not session.redo()
    assert session.undo() and depth(session) == "20"


def test_the_same_design_again_is_no_edit(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    session = opened(path)
    session.edit(replace(session.design))
    assert not session.undo()


def test_an_edit_that_cannot_be_stored_changes_nothing(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    session = opened(path)
    design, text = session.design, path.read_text()
    with pytest.raises(Mistake):
        session.edit(set_value(design, ("row", 0, "name"), "bell \x07"))
    assert session.design == design
    assert path.read_text() == text
    assert not session.undo()


def test_a_second_opener_reads_only_is_told_by_whom_and_sees_ticks_arrive(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    first, second = opened(path), opened(path)
    assert not first.read_only
    assert first.lock is not None
    assert second.read_only.startswith("open elsewhere: ")
    assert " since 2" in second.read_only
    with pytest.raises(Mistake, match="nothing can be changed here: open elsewhere"):
        second.tick(1)
    with pytest.raises(Mistake, match="nothing can be changed here"):
        second.edit(set_value(second.design, ("name",), "Mine now"))
    assert not second.changed_elsewhere()
    first.tick(1)
    assert second.changed_elsewhere()
    second.reload()
    second.search(lay_out)
    assert [step.number for step in second.plan.steps if step.done] == [1]
    assert not second.changed_elsewhere()
    # Leaving must not write what only looked.
    text = path.read_text()
    second.station = "cuts"
    second.leave()
    assert path.read_text() == text


def test_the_lock_is_free_once_the_first_has_left(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    first = opened(path)
    first.leave()
    assert [one.name for one in tmp_path.iterdir()] == ["bench.toml"]
    assert not opened(path).read_only


def test_a_project_that_has_been_closed_is_taken_over_for_writing(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    first, second = opened(path), opened(path)
    assert not second.take_over()
    first.tick(1)
    first.leave()
    assert second.take_over()
    second.search(lay_out)
    assert not second.read_only
    assert [step.number for step in second.plan.steps if step.done] == [1]
    second.tick(2)
    assert len(on_disk(path)[1].cuts) == 2
    assert opened(path).read_only.startswith("open elsewhere: ")


def test_a_project_that_cannot_be_read_any_more_is_not_taken_over(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    whole = path.read_text()
    first, second = opened(path), opened(path)
    first.leave()
    path.write_text("format = 2\nname = [\n")
    with pytest.raises(Mistake):
        second.take_over()
    assert second.read_only
    path.write_text(whole)
    assert second.take_over(), "once it is mended"
    assert not second.read_only


def test_read_only_takes_no_lock(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    looking = opened(path, read_only=True)
    assert looking.read_only
    assert looking.lock is None
    assert not opened(path).read_only


def test_a_file_that_may_not_be_written_is_opened_to_be_read(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    path.chmod(0o444)
    session = opened(path)
    assert session.read_only == "the file may not be written"
    with pytest.raises(Mistake, match="nothing can be changed here"):
        session.tick(1)


def test_a_file_that_cannot_be_read_leaves_no_lock(tmp_path: Path) -> None:
    path = tmp_path / "torn.toml"
    path.write_text("format = 2\nname = \n")
    with pytest.raises(Mistake, match="line 2"):
        Session(path)
    assert [one.name for one in tmp_path.iterdir()] == ["torn.toml"]
    assert path.read_text() == "format = 2\nname = \n"


def test_a_tick_settles_the_layout_of_its_sheet(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    session = opened(path)
    sheet = session.plan.sheets[0].sheets[0]
    session.tick(1)
    settled = {layout.material for layout in session.project.facts.layouts}
    assert sheet.material in settled
    # The design may go where it likes: a sheet that is begun stays as it is.
    deeper(session, "15")
    again = next(one for one in session.plan.sheets[0].sheets if one.id == sheet.id)
    assert again.begun
    assert again.length == sheet.length
    assert session.plan.sheets[0].disagreements
    assert session.plan.steps[0].done


def test_ticks_come_in_the_order_of_the_pieces_and_go_in_the_other(tmp_path: Path) -> None:
    session = opened(stored(tmp_path, bench()))
    with pytest.raises(Mistake, match=r"step 2 cuts .*, which step 1 makes: tick that first"):
        session.tick(2)
    session.tick(1)
    session.tick(2)
    with pytest.raises(Mistake, match="step 1 is ticked already"):
        session.tick(1)
    with pytest.raises(Mistake, match=r"step 2 has cut .* since: un-tick that first"):
        session.untick(1)
    with pytest.raises(Mistake, match="step 3 is not ticked"):
        session.untick(3)
    session.untick(2)
    session.untick(1)
    assert not session.project.facts.cuts


def test_a_change_by_another_program_is_noticed_before_it_would_be_overwritten(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    session = opened(path)
    edited = path.read_text().replace("Window bench", "Door bench")
    path.write_text(edited)
    assert session.changed_elsewhere()
    for change in (
        lambda: deeper(session, "15"),
        lambda: session.tick(1),
        session.keep_layouts,
        lambda: session.toggle_bought("glue"),
    ):
        with pytest.raises(ChangedOnDisk):
            change()
    assert path.read_text() == edited
    assert depth(session) == "20"
    session.leave()
    assert path.read_text() == edited


def test_a_refused_edit_leaves_the_search_that_was_under_way(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    session = Session(path)
    asked = dict(session.waiting)
    assert asked
    path.write_text(path.read_text().replace("Window bench", "Door bench"))
    with pytest.raises(ChangedOnDisk):
        session.edit(set_value(session.design, ("row", 0, "depth"), "15"))
    assert session.waiting == asked


def test_reading_again_takes_up_what_the_other_program_wrote(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    session = opened(path)
    path.write_text(path.read_text().replace("Window bench", "Door bench"))
    session.reload()
    assert session.design.name == "Door bench"
    deeper(session, "15")
    assert "Door bench" in path.read_text()


def test_undo_does_not_reach_behind_what_another_program_wrote(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    session = opened(path)
    deeper(session, "19")
    path.write_text(path.read_text().replace("Window bench", "Door bench"))
    session.reload()
    assert not session.undo()
    assert session.design.name == "Door bench"


def test_what_cannot_be_read_again_is_not_taken_up(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    session = opened(path)
    path.write_text("format = 2\nname = [\n")
    with pytest.raises(Mistake):
        session.reload()
    assert session.design.name == "Window bench"


def test_ones_own_as_a_copy_leaves_the_other_file_alone_and_takes_the_lock_along(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    session = opened(path)
    edited = path.read_text().replace("Window bench", "Door bench")
    path.write_text(edited)
    copy = tmp_path / "mine.toml"
    session.save_copy(copy)
    deeper(session, "15")
    assert path.read_text() == edited
    assert on_disk(copy)[0] == session.design
    assert opened(copy).read_only.startswith("open elsewhere: ")
    assert not opened(path).read_only


def test_a_plan_is_pending_until_its_sheets_are_laid_out(tmp_path: Path) -> None:
    session = Session(stored(tmp_path, bench()))
    assert session.plan.pending
    assert not session.plan.steps
    assert session.cost() is None
    for refused in (lambda: session.tick(1), session.keep_layouts):
        with pytest.raises(Mistake, match="still being laid out"):
            refused()
    for job in tuple(session.waiting.values()):
        session.answer(job, lay_out(job))
    assert not session.plan.pending
    assert session.plan.steps
    assert session.cost()


def test_what_is_laid_out_is_ticked_while_the_rest_is_searched_for(tmp_path: Path) -> None:
    session = Session(stored(tmp_path, bench()))
    assert len(session.waiting) > 1, "it takes two materials"
    job = next(iter(session.waiting.values()))
    session.answer(job, lay_out(job))
    assert session.plan.pending and session.plan.steps
    session.tick(1)
    assert session.plan.steps[0].done


def test_an_answer_to_an_older_question_changes_nothing(tmp_path: Path) -> None:
    session = Session(stored(tmp_path, bench()))
    old = next(iter(session.waiting.values()))
    session.edit(set_value(session.design, ("row", 0, "depth"), "15"))
    session.answer(old, lay_out(old))
    assert session.plan.pending
    assert old.search_key() not in session.waiting


def test_kept_layouts_hold_when_the_project_is_opened_again(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    session = opened(path)
    session.keep_layouts()
    session.close()
    again = Session(path)
    assert not again.plan.pending
    assert all(one.accepted for one in again.plan.sheets)
    again.drop_layouts()
    assert again.plan.pending
    again.take_back()
    assert not again.plan.pending and all(one.accepted for one in again.plan.sheets)


def test_where_no_layout_was_kept_there_is_nothing_to_take_back(tmp_path: Path) -> None:
    session = opened(stored(tmp_path, bench()))
    before = session.project
    session.drop_layouts()
    assert session.project == before and not session.may_take_back


def test_giving_layouts_up_leaves_what_is_cut_and_lays_the_pieces_of_a_begun_sheet_out_anew(tmp_path: Path) -> None:
    session = opened(stored(tmp_path, many_cuts()))
    session.tick(1)
    done = session.plan.steps[0].step
    left = {made.id for made in done.pieces if made.use != "waste"}
    begun, places = session.project, session.plan.steps
    session.drop_layouts()
    session.take_back()
    assert session.project.facts.cuts == begun.facts.cuts and session.project.facts.layouts == begun.facts.layouts
    assert session.plan.steps == places
    session.drop_layouts()
    session.search(lay_out)
    facts = session.project.facts
    assert facts.cuts == () and [(past.number, past.piece) for past in facts.history] == [(1, done.piece)]
    assert {piece.id for piece in facts.pieces} == left
    assert {sheet.id for one in session.plan.sheets for sheet in one.sheets} & left, "what is left of it is used"
    assert min(step.number for step in session.plan.steps) > facts.steps_given > 1
    assert not session.plan.pending


def test_a_thickness_that_was_accepted_is_an_undo_step_of_its_own(tmp_path: Path) -> None:
    session = opened(stored(tmp_path, many_cuts()))
    session.edit(replace(session.design, notes="an edit before it"))
    session.search(lay_out)
    (material,) = (one.material for one in session.plan.sheets)
    thinner = set_value(session.design, ("materials", material, "actual"), "17 mm")
    supposed = session.suppose(material, lambda facts: facts, thinner)
    while supposed.waiting:
        job = next(iter(supposed.waiting.values()))
        session.finding.answer(job, lay_out(job))
        supposed = supposed.planned_again()
    session.accept(supposed)
    assert session.design.materials[material].actual == "17 mm"
    assert session.undo()
    assert session.design.materials[material].actual != "17 mm" and session.design.notes == "an edit before it"


def test_a_kerf_after_which_nothing_could_be_cut_is_refused_with_what_is_in_the_way(tmp_path: Path) -> None:
    design = replace(three_boards(), saws=(Saw("track saw", "track", "3"),))
    mdf = replace(design.materials["mdf"], stock=(Stock("2440", "1220", trim=Trim("3.2", "3.2", "3.2", "3.2")),))
    session = opened(stored(tmp_path, replace(design, materials={"mdf": mdf})))
    session.tick(1)
    before, wider = session.project, set_value(session.design, ("saws", 0, "kerf"), "3.5")
    with pytest.raises(Mistake, match=r"a trim of 3\.2 mm .* is less than the kerf"):
        session.suppose("mdf", lambda facts: facts, wider)
    assert session.project == before
    # When that is mended it can be told.
    trimmed = replace(mdf, stock=(replace(mdf.stock[0], trim=Trim("4", "4", "4", "4")),))
    session.edit(replace(session.design, materials={"mdf": trimmed}))
    wider = set_value(session.design, ("saws", 0, "kerf"), "3.5")
    supposed = session.suppose("mdf", lambda facts: accidents.took(facts, "track saw", Fraction("3.5")), wider)
    assert supposed.plan.sheets and not supposed.plan.problems


def test_what_was_told_wrongly_and_taken_back_leaves_its_names_and_numbers_to_nothing_else(tmp_path: Path) -> None:
    session = opened(stored(tmp_path, many_cuts()))
    session.tick(1)
    (material,) = (one.material for one in session.plan.sheets)
    name = next(made.id for made in session.plan.steps[0].step.pieces if made.use == "blank")
    had = {one.number for one in session.plan.steps}

    def tell(size: int) -> tuple[dict[int, object], dict[str, object]]:
        """The piece was cut, so far from its lower edge: the steps and the pieces that are new by that."""
        supposed = session.suppose(
            material,
            lambda facts: accidents.cut_otherwise(facts, name, "rip", Fraction(size), "bottom", Fraction(3)),
            said="cut otherwise",
        )
        session.accept(supposed)
        steps = {one.number: one.meaning for one in session.plan.steps if one.number not in had}
        return steps, {one.id: (one.length, one.width) for one in session.project.facts.pieces}

    steps, pieces = tell(250)
    session.take_back()
    assert {one.number for one in session.plan.steps} == had, "what is planned again is as it was"
    again, other = tell(400)
    assert steps and again and not steps.keys() & again.keys()
    assert pieces.keys() - other.keys()
    assert all(pieces[id] == other[id] for id in pieces.keys() & other.keys())


def test_what_is_in_the_shop_is_remembered_and_taken_back(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    session = opened(path)
    session.toggle_bought("Screws 2 in")
    assert on_disk(path)[1].bought == ("Screws 2 in",)
    session.toggle_bought("Screws 2 in")
    assert on_disk(path)[1].bought == ()


def test_where_the_person_was_is_remembered(tmp_path: Path) -> None:
    path = stored(tmp_path, three_boards())
    session = opened(path)
    session.station = "cuts"
    session.leave()
    left = open_project(path).project.facts.left_at
    assert left.station == "cuts"
    assert left.when


def test_codes_given_once_are_stored_with_the_first_edit(tmp_path: Path) -> None:
    path = stored(tmp_path, bench())
    session = opened(path)
    shown = {kind.code: kind.name for kind in session.plan.kinds}
    session.edit(edits.add_carcass(session.design, "Third box", "12", "18", "20", 0))
    kept = {kind.code: kind.name for kind in session.plan.kinds if kind.code in shown}
    assert {code for code, _ in kept.items()} == set(shown)
    assert [given.code for given in on_disk(path)[1].codes]
