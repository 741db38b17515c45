"""Which line of a project file a value stands on."""

from __future__ import annotations

from core.storage.plain import Path
from core.storage.scan import statements


class Lines:
    """The lines of the tables and keys of one text."""

    def __init__(self, text: str) -> None:
        self._lines: dict[Path, int] = {}
        for statement in statements(text):
            if statement.kind in ("header", "pair"):
                for length in range(len(statement.path), 0, -1):
                    self._lines.setdefault(statement.path[:length], statement.line)

    def of(self, path: Path) -> int:
        """The line of a value, or of the nearest thing round it that has one; the first line where none has."""
        for length in range(len(path), 0, -1):
            if path[:length] in self._lines:
                return self._lines[path[:length]]
        return 1
