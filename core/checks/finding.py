"""What a check found."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

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
