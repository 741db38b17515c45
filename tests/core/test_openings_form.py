"""Openings as they are added one after another, from the bottom up."""

from __future__ import annotations

from designs import carcass, design, plan_of

from core.editing.forms import opening_form
from core.project import Bay, Carcass, Design


def with_opening(of: Design, **told: str) -> Design:
    form = opening_form(of, 0, 0)
    asked = {question.key: question.default for question in form.questions}
    return form.finish(of, {**asked, **told})


def openings(of: Design) -> list[tuple[str, str, str]]:
    item = of.row[0]
    assert isinstance(item, Carcass)
    return [(one.front, one.hinged, one.above) for one in item.bays[0].openings]


def test_the_first_is_the_lowest_and_is_parted_from_nothing() -> None:
    of = design(carcass("A", "24", "34 1/2", "24", Bay(adjustable_shelves=2)))
    form = opening_form(of, 0, 0)
    assert form.title == "Opening 1 of bay 1, the lowest"
    assert "below" not in [question.key for question in form.questions]
    of = with_opening(of, front="door hinged right", shelves="1")
    assert openings(of) == [("door", "right", "nothing")]
    # The bay's own shelves are gone: they would be in the way of what the opening says.
    assert of.row[0].bays[0].adjustable_shelves == 0  # type: ignore[union-attr]
    of = with_opening(of, front="drawer", height="6", below="rail")
    assert openings(of) == [("door", "right", "rail"), ("drawer", "left", "nothing")]
    assert plan_of(of).problems == ()


def test_one_is_put_between_two() -> None:
    of = with_opening(with_opening(design(carcass("A", "24", "34 1/2", "24")), height="share"), below="shelf")
    form = opening_form(of, 0, 0, 1)
    assert form.title == "Opening 2 of bay 1, over opening 1"
    made = form.finish(of, {"front": "open", "height": "5", "below": "rail", "shelves": "0"})
    assert [front for front, _, _ in openings(made)] == ["drawer", "open", "drawer"]
