"""What a check found."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from core.edits import Path

Result = Literal["ok", "warn", "fail", "unknown"]


@dataclass(frozen=True, slots=True)
class Finding:
    """One check of one thing. `value` is held against `limit`, both in `unit`; None where there is no number."""

    check: str
    about: str
    result: Result
    because: str
    value: float | None = None
    limit: float | None = None
    unit: str = ""
    formula: str = ""
    source: str = ""
    mend: tuple[str, ...] = ()
    brief: str = ""
    """What it is about in a word or two, for where room is short; empty where `about` is as short."""
    mended_at: Path = ()
    """The way to what would mend it; items of the row and tops by their ids. Empty where nothing there would."""


def not_weighed(check: str, about: str, brief: str, material: str) -> Finding:
    """What cannot be told because nobody knows how heavy a material is; `material` is empty where no part is there."""
    return Finding(
        check,
        about,
        "unknown",
        "a material's density is not known; type it in the material",
        brief=brief,
        mended_at=("materials", material, "density") if material else (),
    )
