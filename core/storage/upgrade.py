"""Texts of earlier formats, as this one writes them. Line for line, so that comments and the numbers of lines stay.

Format 2 has several saws, each under a `[[saw]]` of its own, where format 1 had one `[saw]`.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterator

from core.storage.scan import Statement, statements

Edit = tuple[int, int, str]
"""Where it begins and ends in the text, and what stands there now."""


def upgraded(text: str) -> str:
    """The text in today's format, if it says that it is of an earlier one; else, or where it is no TOML, as it is."""
    try:
        told = tomllib.loads(text).get("format")
    except (ValueError, RecursionError):
        return text
    if told != 1 or isinstance(told, bool):
        return text
    # The last one first, so that the places of the others stay.
    for start, end, now in sorted(_edits(text), reverse=True):
        text = text[:start] + now + text[end:]
    return text


def _edits(text: str) -> Iterator[Edit]:
    """What changes from format 1 to 2, in the order of the text."""
    table: Statement | None = None
    dotted: list[Statement] = []
    for one in statements(text):
        if one.kind == "header":
            table = one
            if one.path == ("saw",):
                opening, closing = text.index("[", one.start), text.index("]", one.start)
                yield opening, opening, "["
                yield closing, closing, "]"
        elif one.kind == "pair" and one.path == ("format",):
            yield (*one.value, "2")
        elif one.kind == "pair" and one.path == ("saw",):
            yield one.value[0], one.value[0], "["
            yield one.value[1], one.value[1], "]"
        elif one.kind == "pair" and one.path[:1] == ("saw",) and table is None:
            dotted.append(one)
    yield from _gathered(text, dotted)


def _gathered(text: str, dotted: list[Statement]) -> Iterator[Edit]:
    """`saw.name = "x"` and `saw.kerf = "y"` on one line, the last of theirs; the others stay as empty lines."""
    if not dotted:
        return
    fields = ", ".join(f"{one.path[-1]} = {text[slice(*one.value)]}" for one in dotted)
    for one in dotted[:-1]:
        yield one.start, one.value[1], ""
    yield dotted[-1].start, dotted[-1].value[1], f"saw = [{{ {fields} }}]"
