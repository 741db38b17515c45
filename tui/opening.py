"""Opening a project: the one that was named, a demo as a copy, or a new one; printing where there is no terminal."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from core.drawing.glyphs import ASCII, UNICODE
from core.mistakes import Mistake
from tui.files import is_demo, shop_path, working_copy

if TYPE_CHECKING:
    from core.shop import Shop


def open_app(file: Path | None, read_only: bool, ascii_only: bool, theme: str | None) -> int:
    """Runs the app, and gives its exit code. `theme` None leaves the colours to the shop file."""
    _prepare_terminal()
    shop, notice = _shop()
    colours = theme_name(theme or (shop.theme if shop else "terminal"))
    keys = dict(shop.keys) if shop else {}
    if file is None or not file.exists():
        from tui.start import begin_at, choose_project

        if file is not None and read_only:
            raise Mistake(f"there is no {file} to be read")
        file = begin_at(file, ascii_only, colours, keys) if file else choose_project(ascii_only, colours, keys)
        if file is None:
            return 0
    if not read_only and is_demo(file):
        file = working_copy(file)
        notice = notice or f"A copy of the demo, yours to change: {file}"
    from tui.app import SawhorseApp

    app = SawhorseApp(file, ASCII if ascii_only else UNICODE, colours, read_only=read_only, keys=keys, notice=notice)
    try:
        app.run()
    finally:
        if app.bench:
            app.bench.session.leave()
    if app.refused:
        raise app.refused
    if app.crash is not None:
        from tui.output import report_fault

        return report_fault(app.crash)
    return app.return_code or 0


def _shop() -> tuple[Shop | None, str]:
    """The shop's settings, and what is wrong with them in one line. A slip in them keeps nobody from working."""
    path = shop_path()
    if not path.exists():
        return None, ""
    from core.storage import open_shop

    try:
        return open_shop(path), ""
    except Mistake as mistake:
        return None, f"The shop file is left aside: {str(mistake).splitlines()[0]}"


def theme_name(theme: str) -> str:
    """The theme for a choice of colours; without colour, the terminal's own."""
    if os.environ.get("NO_COLOR"):
        return "ansi-dark"
    return {"dark": "textual-dark", "light": "textual-light"}.get(theme, "ansi-dark")


def _prepare_terminal() -> None:
    """Little on the wire: no animations, few frames; NO_COLOR counts only where it says something."""
    if os.environ.get("NO_COLOR") == "":
        del os.environ["NO_COLOR"]
    os.environ.setdefault("TEXTUAL_ANIMATIONS", "none")
    if os.environ.get("SSH_CONNECTION"):
        os.environ.setdefault("TEXTUAL_FPS", "15")


def print_whole(file: Path, ascii_only: bool) -> int:
    """The whole plan as text, where there is no terminal."""
    from core import printing
    from tui.output import planned, print_text

    plan = planned(file)
    print_text(printing.whole_text(plan, printing.columns_of(sys.stdout.isatty()), ascii_only))
    return 0
