"""The walk, walked again: Enter alone changes nothing of what was decided since."""

from dataclasses import replace

import pytest

from core import edits
from core.editing.walk import WALK, answered
from core.project import Bay, Carcass, Design
from core.space import Baseboard
from core.starter import new_design


def _walked(design: Design, answers: dict[str, str]) -> Design:
    for step in WALK:
        question = step.ask(design)
        if question is not None:
            design = answered(step, question, design, answers.get(question.key, question.default))
    return design


FIRST = {
    "width back": "71 3/8",
    "baseboard": "5 1/4",
    "thickness": "5/8",
    "price": "84.50",
    "layers": "2",
    "count": "3",
}


@pytest.mark.parametrize("unit", ["in", "mm"])
def test_enter_alone_changes_nothing(unit: str) -> None:
    design = _walked(new_design("Bench", "mm" if unit == "mm" else "in"), FIRST)
    assert design.space.baseboards == (Baseboard("back", "5 1/4", "5/8"),)
    first, second, third = (one for one in design.row if isinstance(one, Carcass))
    # What was decided since: one carcass is lower, one has two bays, one stands further from its wall.
    row = (replace(first, height="20"), replace(second, bays=(Bay(), Bay(adjustable_shelves=4))), third)
    design = replace(design, row=row, space=replace(design.space, clearance=replace(design.space.clearance, left="1")))
    assert _walked(design, {}) == design


def test_a_smaller_count_takes_carcasses_from_the_right() -> None:
    design = _walked(new_design("Bench", "in"), FIRST)
    fewer = _walked(design, {"count": "1"})
    assert fewer.row == design.row[:1]


def test_a_further_carcass_is_as_high_and_deep_as_the_last() -> None:
    design = _walked(new_design("Bench", "in"), {**FIRST, "height": "30", "depth": "16"})
    more = _walked(design, {"count": "4"})
    assert [(one.height, one.depth) for one in more.row if isinstance(one, Carcass)] == [("30", "16")] * 4


def test_a_new_baseboard_height_keeps_its_thickness() -> None:
    design = _walked(new_design("Bench", "in"), FIRST)
    assert _walked(design, {"baseboard": "6"}).space.baseboards == (Baseboard("back", "6", "5/8"),)
    assert edits.value_at(_walked(design, {"baseboard": ""}), ("space", "baseboards")) == ()
