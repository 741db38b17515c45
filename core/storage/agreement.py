"""Whether what stands in a file already says what is to be saved."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from core.storage.plain import number_text

MISSING: Any = object()


@dataclass(frozen=True, slots=True)
class Wanted:
    """A value to be saved, twice over: with every field, and without the fields that equal their default.

    The first says what a field that is in the file already must hold, the second which fields
    must be in it. `short` is `MISSING` where the whole value is its default.
    """

    full: Any
    short: Any

    def __getitem__(self, key: Any) -> Wanted:
        """The same for a field of a table, or an item of a list."""
        if isinstance(self.full, dict):
            short = self.short.get(key, MISSING) if isinstance(self.short, dict) else MISSING
            return Wanted(self.full[key], short)
        return Wanted(self.full[key], self.full[key] if self.short is MISSING else self.short[key])

    @property
    def to_write(self) -> Any:
        """The value as it is written where nothing of it is in the file yet."""
        return self.full if self.short is MISSING else self.short


def agrees(old: Any, wanted: Wanted) -> bool:
    """What the file holds reads as what is wanted."""
    full = wanted.full
    if isinstance(full, dict) and isinstance(old, dict):
        needed = wanted.short if isinstance(wanted.short, dict) else {}
        return (
            old.keys() <= full.keys()
            and needed.keys() <= old.keys()
            and all(agrees(held, wanted[key]) for key, held in old.items())
        )
    if isinstance(full, list) and isinstance(old, list):
        return len(full) == len(old) and all(agrees(held, wanted[number]) for number, held in enumerate(old))
    if isinstance(full, str) and not isinstance(old, str):
        return number_text(old) == full
    return type(old) is type(full) and bool(old == full)
