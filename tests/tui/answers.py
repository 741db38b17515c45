"""What a command gave, and how wrong use is answered."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any


@dataclass(frozen=True)
class Answer:
    """What a command gave."""

    code: int
    out: str
    err: str

    @property
    def document(self) -> dict[str, Any]:
        """The JSON document; nothing but it may stand on standard output."""
        told: dict[str, Any] = json.loads(self.out)
        return told


Run = Callable[..., Answer]


def is_one_sentence(text: str) -> bool:
    """One line on standard error that names the program, ends, and is no usage text."""
    return text.startswith("sawhorse: ") and text.count("\n") == 1 and "usage" not in text.lower()


def refused(answer: Answer) -> bool:
    """Exit code 2, one sentence, nothing on standard output."""
    return answer.code == 2 and answer.out == "" and is_one_sentence(answer.err)


def a_list(folder: Path, *lines: str, head: str = "part,quantity,length,width,grain") -> Path:
    """A CSV file of parts."""
    path = folder / "list.csv"
    path.write_text("\n".join([head, *(lines or ("A,2,600,300,none",))]) + "\n", encoding="utf-8")
    return path
