"""What stands round a station, as wide as the window: title, stations, what is wrong, the line always in view."""

from __future__ import annotations

from typing import Any

from textual.app import App
from textual.content import Content
from textual.widgets import Static

from core.checks import run_checks
from core.drawing.glyphs import Glyphs
from core.drawing.lettering import clean, fitted, padded
from core.lengths import UNIT_WORDS
from tui.session import Session
from tui.stations import NAMES
from tui.status import summary


def show_frame(app: App[Any], session: Session, glyphs: Glyphs) -> None:
    """Brings all of it up to the plan."""
    width, plan = app.size.width, session.plan
    app.query_one("#title", Static).update(_title(session, glyphs, width))
    app.query_one("#tabs", Static).update(tabs_line(session.station, width))
    # What is wrong in the design stands whole over every station: what follows leaves out the part that is wrong.
    banner = app.query_one("#problems", Static)
    banner.display = bool(plan.problems)
    if plan.problems:
        more = f" (and {len(plan.problems) - 1} more)" if len(plan.problems) > 1 else ""
        banner.update(Content(clean(f" ! {plan.problems[0]}{more}. It is left out of what follows.", glyphs)))
    told = summary(plan, run_checks(plan.worked), session.cost(), glyphs, width)
    app.query_one("#status", Static).update(Content(told))


def _title(session: Session, glyphs: Glyphs, width: int) -> Content:
    unit = UNIT_WORDS[session.plan.worked.notation.unit]
    right = f"sizes in {unit}  {'read only' if session.read_only else 'saved'} "
    name = fitted(clean(session.design.name, glyphs), max(width - 42, 8), glyphs)
    return Content(padded(f" Sawhorse  {name}", width - len(right)) + right)


def tabs_line(here: str, width: int) -> Content:
    """The stations by number; the one that is open in brackets and reversed. Where room is short, it alone by name."""
    tabs = [f"[{n} {name}]" if name.lower() == here else f" {n} {name}" for n, name in enumerate(NAMES, start=1)]
    line = " ".join(tabs)
    if len(line) > width:
        tabs = [tab if tab.startswith("[") else tab[:2] for tab in tabs]
        line = " ".join(tabs)
    content = Content(line)
    for tab in tabs:
        if tab.startswith("["):
            content = content.stylize("reverse", line.index(tab), line.index(tab) + len(tab))
    return content
