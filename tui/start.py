"""Before a project is open: choosing one, or beginning one."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Static

from core.drawing.glyphs import ASCII, UNICODE
from core.mistakes import Mistake
from tui.files import begin, copies_folder, demo_folder, projects_in
from tui.ground import Ground
from tui.widgets.entry import Asked, EntryLine
from tui.widgets.keys import KeysLine
from tui.widgets.painted import plain_row
from tui.widgets.rows import Line, Rows

UNITS = ("in", "mm")


class StartApp(Ground[Path]):
    """The projects at hand, the demos, and a new one."""

    CSS_PATH = "sawhorse.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [Binding("ctrl+q,q", "quit", "quit", id="app.quit", key_display="q")]

    def __init__(
        self,
        folder: Path,
        ascii_only: bool,
        theme: str,
        new_file: Path | None = None,
        *,
        keys: Mapping[str, str] | None = None,
    ) -> None:
        super().__init__(theme)
        self._keys = dict(keys or {})
        """Keys of the person's own, by the id of the binding."""
        self.folder = folder
        self.glyphs = ASCII if ascii_only else UNICODE
        self._new_file = new_file

    def compose(self) -> ComposeResult:
        """A list, and a line to answer in."""
        yield Static(" Sawhorse: from the tape measure in the room to the last ticked cut", id="title", markup=False)
        yield Rows(id="start-list", glyphs=self.glyphs)
        yield EntryLine(self.glyphs, id="entry")
        yield KeysLine(id="keys")

    def on_mount(self) -> None:
        """What there is to open."""
        if self._keys:
            self.set_keymap(self._keys)
        lines = [Line(plain_row("Begin", "heading")), Line(plain_row("A new project"), "new")]
        for folder in dict.fromkeys((self.folder, copies_folder())):
            found = projects_in(folder)
            if found:
                lines.append(Line(plain_row(f"Projects in {folder}", "heading")))
                lines += [Line(plain_row(path.name), path) for path in found]
        demos = projects_in(demo_folder())
        if demos:
            lines.append(Line(plain_row(f"Demos, opened as a copy in {copies_folder()}", "heading")))
            lines += [Line(plain_row(path.name), path) for path in demos]
        rows = self.query_one(Rows)
        rows.show_lines(lines)
        rows.focus()
        if self._new_file is not None:
            self._ask_unit(self._new_file)

    @on(Rows.Chosen)
    def _chosen(self, event: Rows.Chosen) -> None:
        if isinstance(event.key, Path):
            self.exit(event.key)
        else:
            self._ask_name()

    def _ask_name(self) -> None:
        def check(text: str) -> str:
            return str(self._file_for(text))

        accept = lambda text: self._ask_unit(self._file_for(text))  # noqa: E731
        self.query_one(EntryLine).ask(
            Asked("What shall it be called?", "", check, accept, help="a bench, a wardrobe", cancel=self._back)
        )

    def _file_for(self, text: str) -> Path:
        """The file of a new project, in this folder. Raises Mistake where it cannot be one."""
        stem = "-".join(text.lower().split())
        if not stem or not stem.replace("-", "").replace("_", "").isalnum():
            raise Mistake("letters, digits and blanks make a name")
        path = self.folder / f"{stem}.toml"
        if path.exists():
            raise Mistake(f"there is a {path.name} already; open it from the list, or take another name")
        return path

    def _ask_unit(self, path: Path) -> None:
        def check(text: str) -> str:
            if text not in UNITS:
                raise Mistake("in or mm")
            return text

        def accept(text: str) -> None:
            try:
                begin(path, text)
            except Mistake as mistake:
                self.query_one(EntryLine).say(str(mistake), bad=True)
                self._back()
                return
            self.exit(path)

        asked = Asked(f"{path.name} is new. Bare numbers in it are in", "in", check, accept, UNITS, cancel=self._back)
        self.query_one(EntryLine).ask(asked)

    def _back(self) -> None:
        if self._new_file is not None:
            self.exit(None)
        self.query_one(Rows).focus()


def choose_project(ascii_only: bool, theme: str, keys: Mapping[str, str]) -> Path | None:
    """Lets the person choose; None where they leave."""
    return _chosen_in(StartApp(Path.cwd(), ascii_only, theme, keys=keys))


def begin_at(path: Path, ascii_only: bool, theme: str, keys: Mapping[str, str]) -> Path | None:
    """Asks what a new project at `path` counts in, and begins it; None where the person leaves."""
    return _chosen_in(StartApp(path.parent.resolve(), ascii_only, theme, path, keys=keys))


def _chosen_in(app: StartApp) -> Path | None:
    chosen = app.run()
    if app.crash is not None:
        raise app.crash
    return chosen
