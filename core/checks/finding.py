"""What a check found."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

from core.construction.part import Part
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


def not_weighed(
    check: str, about: str, brief: str, parts: Iterable[Part], densities: Mapping[str, float]
) -> Finding | None:
    """What cannot be told because nobody knows how heavy a material of these parts is; None where all are known."""
    material = next((part.material for part in parts if part.material not in densities), None)
    if material is None:
        return None
    return Finding(
        check,
        about,
        "unknown",
        "a material's density is not known; type it in the material",
        brief=brief,
        mended_at=("materials", material, "density"),
    )
