"""Opening a project: the one that was named, a demo as a copy, or a new one; printing where there is no terminal."""

from __future__ import annotations

import os
import sys
from pathlib import Path

from core.drawing.glyphs import ASCII, UNICODE
from core.mistakes import Mistake
from tui.files import is_demo, working_copy


def open_app(file: Path | None, read_only: bool, ascii_only: bool, theme: str) -> int:
    """Runs the app, and gives its exit code."""
    _prepare_terminal()
    if file is None:
        from tui.start import choose_project

        file = choose_project(ascii_only, theme_name(theme))
        if file is None:
            return 0
    elif not file.exists():
        if read_only:
            raise Mistake(f"there is no {file} to be read")
        from tui.start import begin_at

        if begin_at(file, ascii_only, theme_name(theme)) is None:
            return 0
    if not read_only and is_demo(file):
        file = working_copy(file)
    from tui.app import SawhorseApp

    app = SawhorseApp(file, ASCII if ascii_only else UNICODE, theme_name(theme), read_only=read_only)
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
