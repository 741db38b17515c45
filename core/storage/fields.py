"""What a dataclass says of its fields, for reading and writing it as a table."""

from __future__ import annotations

import dataclasses
from dataclasses import MISSING, dataclass
from functools import cache
from typing import Any, Literal, get_args, get_origin, get_type_hints


@dataclass(frozen=True, slots=True)
class Field:
    """One field: its attribute, its key in the file, its type and its default."""

    name: str
    key: str
    hint: Any
    default: Any
    """`MISSING` where the file must give it."""

    @property
    def required(self) -> bool:
        """The file must give it."""
        return self.default is MISSING

    @property
    def tells_apart(self) -> bool:
        """It has one value only, by which its class is known among others."""
        return get_origin(self.hint) is Literal and len(get_args(self.hint)) == 1


@cache
def fields_of(kind: type) -> tuple[Field, ...]:
    """The fields of a dataclass in order, but first the one that tells it apart from others.

    Annotations are kept, so that each kind of text is known.
    """
    hints = get_type_hints(kind, include_extras=True)
    fields = [
        Field(field.name, field.metadata.get("key", field.name), hints[field.name], _default(field))
        for field in dataclasses.fields(kind)
    ]
    return tuple(sorted(fields, key=lambda field: not field.tells_apart))


def _default(field: dataclasses.Field[Any]) -> Any:
    return field.default if field.default_factory is MISSING else field.default_factory()
