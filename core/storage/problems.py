"""What can be wrong with a project file, told all at once."""

from __future__ import annotations

from dataclasses import dataclass

from core.mistakes import Mistake

MOST_TOLD = 100
"""Problems that a message lists one by one."""


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong, where it is, what was read there and what would be right."""

    line: int | None
    """Counted from 1; None where the value does not come from a file's text."""
    field: str
    """The place in the person's terms, `row 2 (carcass B), width`, empty where it has none."""
    read: str
    right: str
    """Empty where `read` is a whole sentence that says it already."""
    column: int | None = None
    """Told where the text is no TOML at all."""

    def told(self, file: str) -> str:
        """One line of text about it."""
        place = file + (f", line {self.line}" if self.line else "") + (f", column {self.column}" if self.column else "")
        said = f"read {self.read}; would be right: {self.right}" if self.right else self.read
        return ": ".join(part for part in (place, self.field, said) if part)


class BadProject(Mistake):
    """A project file, or a project that was to be saved, in which something is wrong; a line for each."""

    def __init__(self, file: str, problems: tuple[Problem, ...]) -> None:
        told = [problem.told(file) for problem in problems[:MOST_TOLD]]
        if len(problems) > MOST_TOLD:
            told.append(f"{file}: {len(problems) - MOST_TOLD} more of the kind")
        super().__init__("\n".join(told))
        self.file = file
        self.problems = problems


class ChangedOnDisk(Mistake):
    """The file is no longer the one that was read, so saving would overwrite somebody's work."""
