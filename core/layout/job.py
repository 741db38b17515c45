"""The question that the layout engine answers: one material, whole numbers, no knowledge of projects."""

from __future__ import annotations

import hashlib
import json
from dataclasses import asdict, dataclass, replace
from typing import Any

from core.layout.place import Place


@dataclass(frozen=True, slots=True)
class JobPart:
    """A kind of blank. It lies with `length` along the sheet's x; where it `turns`, it may lie the other way too."""

    code: str
    length: int
    width: int
    quantity: int
    turns: bool
    later: bool = False
    """It is cut when all others are: best so that it can wait for that."""


@dataclass(frozen=True, slots=True)
class JobTrim:
    """What each edge loses, kerf included; each is 0 or at least a kerf."""

    left: int = 0
    right: int = 0
    bottom: int = 0
    top: int = 0


@dataclass(frozen=True, slots=True)
class JobStock:
    """A size of sheet. `quantity` None: as many as wanted. `price` in the currency's hundredths, 0 where unknown."""

    name: str
    length: int
    width: int
    trim: JobTrim = JobTrim()
    quantity: int | None = None
    price: int = 0
    crosscut_at: int = 0
    """Where it is crosscut before anything else, from its left end; 0 for nowhere."""
    crosscut_trim: int = 0
    """What both sides of that cut lose again; 0 or at least a kerf."""
    rip_at: int = 0
    """Where it, or both pieces of it where it is crosscut first, is ripped next, from its lower edge; 0 for nowhere."""
    rip_trim: int = 0
    """What both sides of that cut lose again; 0 or at least a kerf."""
    bad: tuple[Place, ...] = ()
    """Places on it that are of no use, from its lower left corner."""

    @property
    def is_bought(self) -> bool:
        """Whether it costs money, or there is any number of it: what is in the shop may as well be used."""
        return self.quantity is None or self.price > 0

    @property
    def inner_length(self) -> int:
        """What is left along x once both ends are trimmed."""
        return self.length - self.trim.left - self.trim.right

    @property
    def inner_width(self) -> int:
        """What is left along y once both edges are trimmed."""
        return self.width - self.trim.bottom - self.trim.top


@dataclass(frozen=True, slots=True)
class Job:
    """Parts to be got out of stock with one kerf. All lengths count the same unit.

    `unit` says how many millimetres one count is, as a fraction ("1/1600"); the engine
    does not use it. `iterations` and `seed` fix the search, so that the same job gives the same
    layout on any machine: each of the two that search side by side makes so many, or fewer. A job with
    sheets that are cut first, or have a bad place, is asked several times, after the first with half as many
    (`core.layout.divided`).
    """

    unit: str
    kerf: int
    parts: tuple[JobPart, ...]
    stock: tuple[JobStock, ...]
    iterations: int = 4000
    seed: int = 1

    def as_json(self) -> str:
        """The job as one line of JSON with its keys in order, the same bytes on any machine."""
        told = asdict(self)
        # Only what there is: the text of a job of plain sheets and parts stays what it always was.
        for part in told["parts"]:
            if not part["later"]:
                del part["later"]
        for stock in told["stock"]:
            for name in ("crosscut_at", "crosscut_trim", "rip_at", "rip_trim", "bad"):
                if not stock[name]:
                    del stock[name]
        return json.dumps(told, sort_keys=True, separators=(",", ":"))

    @staticmethod
    def from_json(text: str) -> Job:
        """The job that `as_json` wrote."""
        told: dict[str, Any] = json.loads(text)
        return Job(
            unit=told["unit"],
            kerf=told["kerf"],
            parts=tuple(JobPart(**part) for part in told["parts"]),
            stock=tuple(_stock(stock) for stock in told["stock"]),
            iterations=told["iterations"],
            seed=told["seed"],
        )

    def search_key(self) -> str:
        """A short text that two jobs share only if they ask the same and are searched alike."""
        return hashlib.sha256(self.as_json().encode()).hexdigest()[:16]

    def fingerprint(self) -> str:
        """A short text that two jobs share only if they ask the same parts of the same stock.

        What a sheet costs, which parts can wait and how is searched does not matter: a layout that was
        accepted for one of them is a layout for the other.
        """
        unpriced = tuple(replace(stock, price=0) for stock in self.stock)
        parts = tuple(replace(part, later=False) for part in self.parts)
        return replace(self, parts=parts, stock=unpriced, iterations=0, seed=0).search_key()


def _stock(told: dict[str, Any]) -> JobStock:
    bad = tuple(map(tuple, told.get("bad", ())))
    return JobStock(**{**told, "trim": JobTrim(**told["trim"]), "bad": bad})
