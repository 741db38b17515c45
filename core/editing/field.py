"""A field: one thing of a design that a person can answer, and what becomes of the answer."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from core.edits import Path, set_rule, set_value
from core.formulas import Names, check_syntax, read_share
from core.lengths import Notation
from core.mistakes import Mistake
from core.own_units import read_weight
from core.project import Design
from core.quantities import DENSITY, LOAD, MASS, STIFFNESS, read_quantity
from core.workings import check_plain

Kind = Literal[
    "size",
    "share",
    "shelves",
    "text",
    "choice",
    "yes or no",
    "amount",
    "density",
    "stiffness",
    "load",
    "weight",
    "count",
    "formula",
]

ZERO = Fraction(0)
QUANTITIES: Mapping[str, str] = {"density": DENSITY, "stiffness": STIFFNESS, "load": LOAD, "weight": MASS}
"""Fields that take an amount with a unit, and what a bare number counts in."""
_AMOUNT = re.compile(r"[0-9]{1,9}(?:\.[0-9]{0,9})?|\.[0-9]{1,9}")
MAY_BE_NEGATIVE = ("into_room",)
"""Sizes that say a way as well: a wall may lean out of the room."""


@dataclass(frozen=True, slots=True)
class Field:
    """One thing to be answered. `item` is the way to the thing that it belongs to and that can be removed whole."""

    label: str
    path: Path
    kind: Kind
    text: str
    help: str = ""
    choices: tuple[str, ...] = ()
    item: Path | None = None
    optional: bool = False
    """Nothing is an answer too."""
    rule_of: int | None = None
    """Place in the row of the carcass whose rule this is; -1 for the project's."""
    inherited: bool = False
    """The text is not this carcass's own: it holds for the project, or is the default."""


@dataclass(frozen=True, slots=True)
class Section:
    """Fields under one heading. `item` can be removed whole, `None` where it cannot."""

    heading: str
    fields: tuple[Field, ...]
    item: Path | None = None


def answer(design: Design, field: Field, text: str, names: Names) -> Design:
    """The design with `text` in a field. Raises Mistake, saying what would be right, where the field cannot take it."""
    text = text.strip()
    if text == field.text:
        # An inherited rule stays inherited, and what cannot be worked out just now is no new mistake.
        return design
    value = _read(design, field, text, names)
    if field.rule_of is not None:
        return set_rule(design, field.path[-1], text, None if field.rule_of < 0 else field.rule_of)  # type: ignore[arg-type]
    return set_value(design, field.path, value)


def check_answer(design: Design, field: Field, text: str, names: Names) -> str:
    """What a text comes to in a field, in words or as a size; Mistake where the field cannot take it."""
    text = text.strip()
    value = _read(design, field, text, names)
    if field.kind in ("size", "share") and text and not (field.kind == "share" and read_share(text) is not None):
        notation, length = Notation.read(design.show, design.unit), names.length(text)
        told = notation.with_unit(length)
        # Some play in a dado is less than the tape shows, and not nothing.
        return notation.exactly(length) if told.startswith("~0 ") else told
    if field.kind == "formula":
        quantity = names.value(text)
        return (
            Notation.read(design.show, design.unit).with_unit(quantity.value)
            if quantity.is_length
            else f"{float(quantity.value):g}"
        )
    return yes(value) if isinstance(value, bool) else text


def _read(design: Design, field: Field, text: str, names: Names) -> object:
    if field.kind == "yes or no":
        return _yes_or_no(text)
    if field.kind == "count":
        return _count(text, optional=field.optional)
    if field.kind in QUANTITIES:
        if text and field.kind == "weight":
            read_weight(text, design.unit)
        elif text:
            read_quantity(text, QUANTITIES[field.kind])
        return text
    if field.kind == "amount":
        return _amount(text)
    if field.kind == "choice":
        if text and not any(field.choices):
            raise Mistake("there is none to choose yet: add one at Goods first")
        if text not in field.choices:
            raise Mistake(f"{text!r} is not one of {', '.join(choice or 'nothing' for choice in field.choices)}")
        return int(text) if field.path[-1] == "layers" else text
    if field.kind == "shelves":
        return _shelves(text, names)
    if field.kind == "share" and read_share(text) is not None:
        return text
    if field.kind in ("size", "share") and text:
        if field.path[-1] == "actual" or (field.path[0] == "space" and "obstacles" not in field.path):
            check_plain(text, design.unit)
        names.length(text, least=None if field.path[-1] in MAY_BE_NEGATIVE else ZERO)
    elif field.kind in ("size", "share") and not field.optional:
        example = "17 5/8 or 450 mm" if design.unit == "in" else "450 or 17 5/8 in"
        raise Mistake(f"a size is wanted here, such as {example}")
    if field.kind == "formula":
        check_syntax(text, design.unit)
        if field.path[0] == "dimensions":
            name = str(field.path[-1])
            names.having(name, text).quantity(name)
        else:
            names.value(text)
    return text


def _shelves(text: str, names: Names) -> tuple[str, ...]:
    parts = tuple(part.strip() for part in _at_commas(text) if part.strip())
    if "even" in parts and set(parts) != {"even"}:
        raise Mistake("give every fixed shelf its height, or call every one of them even")
    for part in parts:
        if part != "even":
            names.length(part, least=ZERO)
    return parts


def _at_commas(text: str) -> list[str]:
    """The text divided at its commas, those between brackets left alone: `300, min(a, b)` is two."""
    parts, deep = [""], 0
    for sign in text:
        deep += (sign == "(") - (sign == ")")
        if sign == "," and deep <= 0:
            parts.append("")
        else:
            parts[-1] += sign
    return parts


def yes(value: bool) -> str:
    """A flag as a person answers it."""
    return "yes" if value else "no"


def _yes_or_no(text: str) -> bool:
    if text.lower() in ("yes", "y"):
        return True
    if text.lower() in ("no", "n"):
        return False
    raise Mistake(f"{text!r} is neither yes nor no")


def _count(text: str, *, optional: bool) -> int | None:
    if not text and optional:
        return None
    if not (text.isascii() and text.isdigit()) or len(text) > 4:
        raise Mistake(f"{text!r} is not a whole number")
    return int(text)


def _amount(text: str) -> str:
    if not text:
        return text
    if not _AMOUNT.fullmatch(text):
        raise Mistake(f"{text!r} is not an amount: a plain number such as 84.50 is")
    return text
