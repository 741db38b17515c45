"""A project as plain tables, lists and values, the way the file's text holds it."""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, TypeAlias

from core.project import FORMAT, Facts, Project
from core.storage.fields import fields_of

Plain: TypeAlias = dict[str, Any]
"""A table: keys to strings, numbers, booleans, lists and tables."""

Path: TypeAlias = tuple[str | int, ...]
"""A place in the tables: keys and list positions from the top of the file down."""

_DECIMAL = re.compile(r"-?[0-9]+(\.[0-9]+)?")


@dataclass(frozen=True, slots=True)
class Number:
    """A TOML decimal as its text, so that 24.50 stays 24.50."""

    text: str


def number_text(value: object) -> str | None:
    """The text of a bare number as somebody would type it; None for what is not a plain decimal of bearable length."""
    if isinstance(value, int) and not isinstance(value, bool) and value.bit_length() <= 64:
        return str(value)
    if isinstance(value, Number):
        text = value.text.replace("_", "").removeprefix("+")
        return text if _DECIMAL.fullmatch(text) else None
    return None


def bare_number(text: str) -> int | Number | None:
    """The number that reads as exactly this `text`, or None."""
    number: int | Number | None = None
    if re.fullmatch(r"-?[0-9]{1,18}", text):
        number = int(text)
    elif _DECIMAL.fullmatch(text) and "." in text:
        number = Number(text)
    return number if number_text(number) == text and not re.match(r"-?0[0-9]", text) else None


def plain_project(project: Project, *, every_field: bool = False) -> Plain:
    """The whole file as plain tables. Unless `every_field` is asked for, what equals its default is left out."""
    table: Plain = {"format": FORMAT, **_plain(project.design, every_field)}
    if every_field or project.facts != Facts():
        table["facts"] = _plain(project.facts, every_field)
    return table


def _plain(value: Any, every_field: bool) -> Any:
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        table: Plain = {}
        for field in fields_of(type(value)):
            held = getattr(value, field.name)
            if held is not None and (every_field or field.required or field.tells_apart or held != field.default):
                table[field.key] = _plain(held, every_field)
        return table
    if isinstance(value, Mapping):
        return {key: _plain(held, every_field) for key, held in value.items()}
    if isinstance(value, tuple):
        return [_plain(held, every_field) for held in value]
    return value
