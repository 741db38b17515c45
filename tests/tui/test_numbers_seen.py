"""Numbers of steps that may have been seen, when something happens before the first cut."""

from __future__ import annotations

from pathlib import Path

from projects_to_try import many_cuts, opened, stored

from core import accidents
from core.edits import set_value
from core.layout.search import lay_out
from core.project import Facts
from tui.session import Session


def spoil(session: Session, sheet_id: str) -> None:
    """A sheet that is not begun is spoiled."""
    sheet = next(sheet for one in session.plan.sheets for sheet in one.sheets if sheet.id == sheet_id)

    def happens(facts: Facts) -> Facts:
        facts = accidents.take_up(facts, sheet, sheet.mm(sheet.length), sheet.mm(sheet.width))
        return accidents.spoil(facts, sheet_id)

    session.accept(session.suppose(sheet.material, happens, said=f"{sheet_id} is spoiled"))
    session.search(lay_out)


def meanings(session: Session) -> dict[int, object]:
    return {one.number: one.meaning for one in session.plan.steps}


def test_an_edit_after_an_accident_gives_no_number_to_another_cut_though_nothing_is_ticked(tmp_path: Path) -> None:
    session = opened(stored(tmp_path, many_cuts()))
    meant = meanings(session)
    spoil(session, "mdf-1")
    for length in ("601", "590"):
        session.numbers_seen = True
        for number, meaning in meanings(session).items():
            assert meant.setdefault(number, meaning) == meaning
        session.edit(set_value(session.design, ("loose", 0, "length"), length))
        session.search(lay_out)
        assert meanings(session).keys() - meant.keys(), "there are other cuts"
    session.numbers_seen = True
    session.drop_layouts()
    session.search(lay_out)
    for number, meaning in meanings(session).items():
        assert meant.setdefault(number, meaning) == meaning


def test_an_accident_that_is_taken_back_before_the_first_cut_leaves_every_step_its_number(tmp_path: Path) -> None:
    session = opened(stored(tmp_path, many_cuts()))
    before = meanings(session)
    spoil(session, "mdf-1")
    meanwhile = meanings(session).keys() - before.keys()
    session.take_back()
    session.search(lay_out)
    assert meanings(session) == before
    spoil(session, "mdf-2")
    others = meanings(session).keys() - before.keys()
    assert meanwhile and others and not meanwhile & others


def test_before_anything_has_happened_an_edit_numbers_the_steps_from_the_first(tmp_path: Path) -> None:
    session = opened(stored(tmp_path, many_cuts()))
    session.numbers_seen = True
    session.edit(set_value(session.design, ("loose", 0, "length"), "590"))
    session.search(lay_out)
    assert min(meanings(session)) == 1
    assert session.project.facts.steps_given == 0
