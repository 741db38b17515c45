"""Plain tables to a project, every field checked against its dataclass and all faults collected.

Nothing here knows one field from another: the dataclasses of `core.project` say what a field is
called, what it may hold and what it is when left out. A new field there needs nothing here.
"""

from __future__ import annotations

import datetime
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, is_dataclass
from difflib import get_close_matches
from types import NoneType, UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from core.formulas import check_name, check_syntax, read_share
from core.lengths import Unit
from core.mistakes import Mistake
from core.project import FORMAT, Design, Facts, Project
from core.quantities import DENSITY, MASS, STIFFNESS, read_quantity
from core.shop import Shop
from core.storage.characters import clipped, first_refused
from core.storage.fields import Field, fields_of
from core.storage.plain import Number, Path, Plain, number_text
from core.storage.problems import MOST_TOLD

MOST = 9999
"""The most of one thing that can be asked for."""
_LARGEST = 2**63 - 1
_NUMERIC = ("size", "size or nothing", "share", "spacing", "amount", "density", "stiffness", "weight")
"""Kinds of text that the file may also give as a bare number."""
_AMOUNT = re.compile(r"[0-9]{1,15}(\.[0-9]{0,15})?|\.[0-9]{1,15}")


@dataclass(frozen=True, slots=True)
class Fault:
    """Something wrong at a place in the tables; as `core.storage.problems.Problem`, its line not yet known."""

    path: Path
    field: str
    read: str
    right: str


@dataclass(frozen=True, slots=True)
class _At:
    """A place in the tables: its path, and the same in words."""

    path: Path = ()
    words: str = ""

    def field(self, key: str) -> _At:
        return _At((*self.path, key), f"{self.words}, {clipped(key)}" if self.words else clipped(key))

    def item(self, number: int, value: object) -> _At:
        label = _label(value)
        return _At((*self.path, number), f"{self.words} {number + 1}" + (f" ({label})" if label else ""))

    def entry(self, name: str) -> _At:
        return _At((*self.path, name), f"{self.words} {clipped(name)}")


def _label(value: object) -> str:
    """`carcass B`: how a person knows one table among many."""
    if not isinstance(value, dict):
        return ""
    names = [value[key] for key in ("id", "code", "name") if isinstance(value.get(key), str) and value[key]]
    kind = [value["kind"]] if isinstance(value.get("kind"), str) else []
    return clipped(" ".join([*kind, *names[:1]]))


def shown(value: object) -> str:
    """A value as a message quotes it."""
    if isinstance(value, str):
        return f'"{clipped(value)}"'
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, list):
        return "a list"
    if isinstance(value, datetime.datetime | datetime.date | datetime.time):
        return f"the date or time {value}"
    if isinstance(value, Number):
        return clipped(value.text)
    return number_text(value) or "a very large number"


def read_project(plain: Plain) -> tuple[Project | None, list[Fault]]:
    """The project that the tables of a whole file hold, or None and everything that is wrong with them."""
    unit: Unit = "mm" if plain.get("unit") == "mm" else "in"
    reader = _Reader(unit)
    reader.version(plain)
    design = reader.table(Design, plain, _At(), besides=("format", "facts"))
    facts = reader.table(Facts, plain.get("facts", {}), _At().field("facts"))
    reader.ids(plain, ("row", "top", "loose"))
    if reader.faults or design is None or facts is None:
        return None, reader.faults
    return Project(design, facts), []


def read_shop(plain: Plain) -> tuple[Shop | None, list[Fault]]:
    """The shop's settings that the tables of a shop file hold, or None and everything that is wrong with them."""
    reader = _Reader("mm" if plain.get("unit") == "mm" else "in")
    reader.version(plain)
    shop = reader.table(Shop, plain, _At(), besides=("format",))
    return (None if reader.faults else shop), reader.faults


class _Reader:
    """Reads values by their types. What cannot be read leaves a fault and is None."""

    def __init__(self, unit: Unit) -> None:
        self.faults: list[Fault] = []
        self.checks: dict[str, Callable[[str], None]] = {
            "size": lambda text: check_syntax(text, unit),
            "size or nothing": lambda text: check_syntax(text, unit) if text.strip() else None,
            "share": lambda text: None if read_share(text) is not None else check_syntax(text, unit),
            "spacing": lambda text: None if text.strip() == "even" else check_syntax(text, unit),
            "name": check_name,
            "density": lambda text: _check_quantity(text, DENSITY),
            "stiffness": lambda text: _check_quantity(text, STIFFNESS),
            "weight": lambda text: _check_quantity(text, MASS),
        }

    def refuse(self, at: _At, value: object, right: str) -> Any:
        """A fault, and None in place of the value."""
        self.faults.append(Fault(at.path, at.words, shown(value), right))
        return None

    def version(self, plain: Plain) -> None:
        """There is a format, and it is this one, or an earlier one where the text could not be brought up to it.

        A newer one was refused already (`core.storage.reading`).
        """
        at, version = _At().field("format"), plain.get("format")
        if version is None:
            self.faults.append(Fault((), at.words, "nothing", f"`format = {FORMAT}` on a line of its own at the top"))
        elif version not in (1, FORMAT) or isinstance(version, bool):
            self.refuse(at, version, str(FORMAT))

    def table(self, kind: type, table: object, at: _At, besides: tuple[str, ...] = ()) -> Any:
        """A dataclass from a table; `besides` are keys of the same table that somebody else reads."""
        if not isinstance(table, dict):
            return self.refuse(at, table, "a table")
        already = len(self.faults)
        fields = fields_of(kind)
        self.unknown(table, [*besides, *(field.key for field in fields)], at)
        read: dict[str, Any] = {}
        for field in fields:
            if field.key in table:
                read[field.name] = self.field(field, table[field.key], at.field(field.key))
            elif field.required:
                self.faults.append(Fault(at.path, at.field(field.key).words, "nothing", _example(field.hint)))
        return kind(**read) if len(self.faults) == already else None

    def field(self, field: Field, value: object, at: _At) -> Any:
        if isinstance(value, str) and value == field.default:
            return value
        return self.value(field.hint, value, at)

    def unknown(self, table: Plain, known: list[str], at: _At) -> None:
        for key in table:
            if key in known:
                continue
            near = get_close_matches(key, known, n=1) if len(self.faults) < MOST_TOLD else []
            right = f"`{near[0]}`" if near else f"one of {', '.join(known)}"
            self.faults.append(Fault((*at.path, key), at.words, f"the unknown key `{clipped(key)}`", right))

    def value(self, hint: Any, value: object, at: _At) -> Any:
        origin, args = get_origin(hint), get_args(hint)
        if origin is Annotated:
            kind = hint.__metadata__[0]
            return self.count(value, at, MOST) if kind == "count" else self.text(kind, value, at)
        if hint is str:
            return self.text("line", value, at)
        if hint is bool:
            return value if isinstance(value, bool) else self.refuse(at, value, "true or false")
        if hint is int:
            return self.count(value, at, _LARGEST)
        if origin is Literal:
            return self.choice(args, value, at)
        if origin is tuple:
            return self.several(args[0], value, at)
        if origin is Mapping or (isinstance(origin, type) and issubclass(origin, Mapping)):
            return self.mapping(args[0], args[1], value, at)
        if origin in (Union, UnionType):
            kinds = [kind for kind in args if kind is not NoneType]
            return self.value(kinds[0], value, at) if len(kinds) == 1 else self.one_of(kinds, value, at)
        if isinstance(hint, type) and is_dataclass(hint):
            return self.table(hint, value, at)
        raise TypeError(f"a project's field cannot be of type {hint}")

    def text(self, kind: str, value: object, at: _At) -> Any:
        if kind in _NUMERIC and (number := number_text(value)) is not None:
            value = number
        if not isinstance(value, str):
            return self.refuse(at, value, _example(Annotated[str, kind]))
        refused = first_refused(value, prose=kind == "prose")
        if refused:
            return self.refuse(at, value, f"the same without {refused}")
        if kind == "amount" and value and not _AMOUNT.fullmatch(value):
            return self.refuse(at, value, 'a plain decimal number such as "42.50"')
        try:
            if kind in self.checks:
                self.checks[kind](value)
        except Mistake as mistake:
            self.faults.append(Fault(at.path, at.words, mistake.sentence, ""))
            return None
        return value

    def count(self, value: object, at: _At, most: int) -> Any:
        if isinstance(value, int) and not isinstance(value, bool) and 0 <= value <= most:
            return value
        return self.refuse(
            at, value, f"a whole number from 0 to {most}" if most == MOST else "a whole number, 0 or more"
        )

    def choice(self, choices: tuple[str, ...], value: object, at: _At) -> Any:
        if isinstance(value, str) and value in choices:
            return value
        return self.refuse(at, value, _one_of(choices))

    def several(self, hint: Any, value: object, at: _At) -> Any:
        if not isinstance(value, list):
            header = ".".join(key for key in at.path if isinstance(key, str))
            return self.refuse(at, value, f"[[{header}]]" if _is_table(hint) else "a list in brackets")
        return tuple(self.value(hint, item, at.item(number, item)) for number, item in enumerate(value))

    def mapping(self, key_hint: Any, hint: Any, value: object, at: _At) -> Any:
        if not isinstance(value, dict):
            header = ".".join(key for key in at.path if isinstance(key, str))
            return self.refuse(at, value, f"[{header}.NAME] for each" if _is_table(hint) else "a table")
        read = {}
        for key, held in value.items():
            entry = at.entry(key) if _is_table(hint) else at.field(key)
            self.value(key_hint, key, entry)
            read[key] = self.value(hint, held, entry)
        return read

    def one_of(self, kinds: list[Any], value: object, at: _At) -> Any:
        """One of several dataclasses, told apart by `kind`; where that is wrong, the likeliest is read on."""
        if not isinstance(value, dict):
            return self.refuse(at, value, "a table")
        by_name = {_kind_name(kind): kind for kind in kinds}
        told = value.get("kind")
        if isinstance(told, str) and told in by_name:
            return self.table(by_name[told], value, at)
        read = "nothing" if told is None else shown(told)
        self.faults.append(Fault((*at.path, "kind"), at.field("kind").words, read, _one_of(tuple(by_name))))
        likeliest = max(by_name, key=lambda name: len(value.keys() & {field.key for field in fields_of(by_name[name])}))
        return self.table(by_name[likeliest], {**value, "kind": likeliest}, at)

    def ids(self, plain: Plain, keys: tuple[str, ...]) -> None:
        """Codes and ticks find their tables by id, so none of these may be empty or stand twice."""
        owners: dict[str, str] = {}
        for key in keys:
            tables = plain.get(key)
            for number, table in enumerate(tables if isinstance(tables, list) else ()):
                at = _At().field(key).item(number, table)
                known = table.get("id") if isinstance(table, dict) else None
                if not isinstance(known, str):
                    continue
                if not known:
                    self.refuse(at.field("id"), known, "a short text that no other has")
                elif known in owners:
                    self.refuse(at.field("id"), known, f"another id, since {owners[known]} has this one")
                else:
                    owners[known] = f"{key} {number + 1}"


def _check_quantity(text: str, unit: str) -> None:
    """Raises Mistake where a text that is not empty is no amount in that unit."""
    if text:
        read_quantity(text, unit)


def _one_of(choices: tuple[str, ...]) -> str:
    return " or ".join(f'"{choice}"' for choice in choices)


def _is_table(hint: Any) -> bool:
    return all(is_dataclass(kind) for kind in (get_args(hint) if get_origin(hint) in (Union, UnionType) else (hint,)))


def _kind_name(kind: type) -> str:
    (name,) = (get_args(field.hint)[0] for field in fields_of(kind) if field.key == "kind")
    return str(name)


def _example(hint: Any) -> str:
    """What would be right in a field of this type, in words."""
    if get_origin(hint) is Annotated:
        return {
            "size": 'a size such as "17 5/8 in"',
            "size or nothing": 'a size such as "17 5/8 in", or ""',
            "share": 'a size such as "17 5/8 in", or "share"',
            "spacing": 'a size such as "17 5/8 in", or "even"',
            "amount": 'a plain decimal number such as "42.50"',
            "density": 'kilograms a cubic metre, or "38 lb/ft^3"',
            "stiffness": 'N/mm2, or "950000 psi"',
            "weight": 'a plain number, or "50 lb"',
            "count": f"a whole number from 0 to {MOST}",
        }.get(hint.__metadata__[0], "a text in quotes")
    if get_origin(hint) is Literal:
        return _one_of(get_args(hint))
    return {str: "a text in quotes", int: "a whole number, 0 or more", bool: "true or false"}.get(hint, "a value")
