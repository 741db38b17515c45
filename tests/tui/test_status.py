"""The line in view: sheets and cost, how much is wrong, then what it is in a few words."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from projects_to_try import bench, opened, stored

from core import edits
from core.checks import run_checks
from core.checks.finding import Finding
from core.drawing.glyphs import ASCII, UNICODE
from core.drawing.lettering import cells
from core.plan import Plan
from tui.status import summary


@pytest.fixture(scope="module")
def plan(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    """The plan of the bench."""
    session = opened(stored(tmp_path_factory.mktemp("status"), bench()))
    session.leave()
    return session.plan


def finding(check: str, about: str, result: str, brief: str = "") -> Finding:
    return Finding(check, about, result, "", brief=brief)  # type: ignore[arg-type]


FOUND = (
    finding("sag", "Adjustable shelf, carcass B, 1100 mm long", "fail", "Adjustable shelf B"),
    finding("obstacle", "socket for the lamp on the back wall", "warn", "socket for the lamp"),
    finding("tipping", "carcass E, 2080 mm high", "warn", "E"),
    finding("space", "width", "ok"),
)


@pytest.mark.parametrize(
    ("width", "told"),
    [
        (120, "1 FAIL, 2 warn: sag Adjustable shelf B, obstacle socket for the lamp, tipping E"),
        (90, "1 FAIL, 2 warn: sag Adjustable shelf B"),
        (60, "1 FAIL, 2 warn"),
    ],
)
def test_how_much_is_wrong_stands_before_what_it_is(plan: Plan, width: int, told: str) -> None:
    line = summary(plan, FOUND, 369.0, UNICODE, width)
    assert line.startswith(" 3 sheets, ")
    assert line.endswith(f"$369.00 + unpriced  {told}")


def test_what_holds_is_not_told(plan: Plan) -> None:
    assert summary(plan, FOUND[3:], None, UNICODE, 80).endswith("used")


def test_a_mistake_of_the_design_comes_before_everything(tmp_path: Path) -> None:
    session = opened(stored(tmp_path, edits.set_value(bench(), ("row", 0, "height"), "tall + 3")))
    session.leave()
    line = summary(session.plan, FOUND, None, UNICODE, 80)
    assert "  1 wrong, 1 FAIL, 2 warn: carcass A" in line
    assert cells(line) == 80 and line.endswith("…")


@given(width=st.integers(60, 200), count=st.integers(0, 9), name=st.text(max_size=60))
@settings(deadline=None, max_examples=60)
def test_the_line_fits_its_window(plan: Plan, width: int, count: int, name: str) -> None:
    found = tuple(replace(FOUND[n % 3], about=name, brief=name) for n in range(count))
    for glyphs in (UNICODE, ASCII):
        line = summary(plan, found, 1234.5, glyphs, width)
        assert cells(line) <= width
        assert line.isprintable()


def test_every_finding_can_be_told_in_a_few_words(plan: Plan) -> None:
    """No size and no carcass in words: those are told at the checks."""
    for one in run_checks(plan.worked):
        assert len(one.brief or one.about) <= 20, one
