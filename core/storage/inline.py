"""A value behind an equals sign changed in place, lists and tables in brackets included, with its comments."""

from __future__ import annotations

from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError

from core.storage.agreement import MISSING, Wanted, agrees
from core.storage.blocks import value_text
from core.storage.matching import matched
from core.storage.plain import bare_number
from core.storage.reading import parse


def changed_value(text: str, old: Any, wanted: Wanted) -> str:
    """The text of a value that reads as `old`, with no more of it changed than has to be."""
    if not isinstance(old, dict | list):
        return value_text(_like(old, wanted.to_write))
    try:
        document = tomlkit.parse(f"value = {text}\n")
        _change(document["value"], old, wanted)
        amended = tomlkit.dumps(document).removeprefix("value = ").removesuffix("\n")
        if agrees(parse(f"value = {amended}\n")["value"], wanted):
            return amended
    except (TOMLKitError, ValueError, TypeError, LookupError):
        pass  # whatever the library trips over in a text that is legal: the value is written anew
    return value_text(wanted.to_write)


def _like(old: Any, new: Any) -> Any:
    """A number without quotes stays one."""
    number = None if isinstance(old, str) or not isinstance(new, str) else bare_number(new)
    return new if number is None else number


def _change(container: Any, old: Any, wanted: Wanted) -> None:
    if isinstance(old, dict) and isinstance(wanted.full, dict):
        _change_table(container, old, wanted)
    elif isinstance(old, list) and isinstance(wanted.full, list):
        _change_list(container, old, wanted)
    else:
        raise ValueError("a table in place of a list, or the reverse")


def _change_table(table: Any, old: dict[str, Any], wanted: Wanted) -> None:
    for key in old.keys() - wanted.full.keys():
        del table[key]
    for key in wanted.full:
        part = wanted[key]
        if key not in old:
            if part.short is not MISSING:
                table[key] = _item(part.short)
        elif not agrees(old[key], part):
            if isinstance(old[key], dict | list):
                _change(table[key], old[key], part)
            else:
                table[key] = _item(_like(old[key], part.to_write))


def _change_list(items: Any, old: list[Any], wanted: Wanted) -> None:
    places = matched(old, wanted.full, lambda i, j: agrees(old[i], wanted[j]))
    kept = [i for i in places if i is not None]
    if kept != sorted(kept):
        # Items cannot be moved with their comments here; changed where they stand, no comment is lost.
        places = [j if j < len(old) else None for j in range(len(wanted.full))]
    for j, i in enumerate(places):
        if i is not None and not agrees(old[i], wanted[j]):
            if isinstance(old[i], dict | list):
                _change(items[i], old[i], wanted[j])
            else:
                items[i] = _item(_like(old[i], wanted[j].to_write))
    for i in reversed(range(len(old))):
        if i not in places:
            del items[i]
    for j, i in enumerate(places):
        if i is None:
            items.insert(j, _item(wanted[j].to_write))


def _item(value: Any) -> Any:
    return tomlkit.value(value_text(value))
