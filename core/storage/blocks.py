"""A TOML text cut into blocks that can be moved, taken out and put in without touching the others.

A block is a table's header or a key with its value, together with the comment lines directly above
it, which are its own, and the blank lines above those. Comment lines that stand apart from what
follows, with a blank line between, are a block of their own that belongs to nobody.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Literal

import tomli_w

from core.storage.plain import Number, Path, Plain
from core.storage.scan import statements

_WIDEST = 80
"""Characters of a list or a table that is written on one line."""


@dataclass(frozen=True, slots=True)
class Block:
    """A piece of the text: `gap + comments + text`."""

    kind: Literal["header", "pair", "comment"]
    path: Path
    gap: str
    comments: str
    text: str
    value: tuple[int, int] = (0, 0)
    """For a pair: where its value begins and ends in `text`."""

    def __str__(self) -> str:
        return self.gap + self.comments + self.text


def blocks_of(text: str) -> Iterator[Block]:
    """The blocks of a text whose last line ends in a line break."""
    gap = comments = ""
    for statement in statements(text):
        line = text[statement.start : statement.end]
        if statement.kind == "comment":
            comments += line
        elif statement.kind == "blank":
            if comments:
                yield Block("comment", (), gap, "", comments)
                gap = comments = ""
            gap += line
        else:
            begin, end = statement.value
            span = (begin - statement.start, end - statement.start)
            yield Block(statement.kind, statement.path, gap, comments, line, span)
            gap = comments = ""
    if gap or comments:
        yield Block("comment", (), gap, "", comments)


def written(path: Path, value: Any) -> list[Block]:
    """New blocks for a table, one of a list of tables (`path` ends in its position), or a whole list of them."""
    if isinstance(value, list):
        return [block for number, item in enumerate(value) for block in written((*path, number), item)]
    return list(_table(path, value))


def _table(path: Path, table: Plain) -> Iterator[Block]:
    headed = [key for key, value in table.items() if is_headed((*path, key), value)]
    is_item = bool(path) and isinstance(path[-1], int)
    if path and (is_item or not headed or len(headed) < len(table)):
        yield new_header(path)
    for key, value in table.items():
        if key not in headed:
            yield new_pair(path, (key,), value)
    for key in headed:
        yield from written((*path, key), table[key])


def is_headed(path: Path, value: Any) -> bool:
    """Something new is written under headers of its own rather than behind an equals sign.

    Lists of tables are, and tables; but a short one inside an item of a list fits on a line of the item.
    """
    if isinstance(value, list):
        return is_tables(value)
    if not isinstance(value, dict):
        return False
    is_inside_item = any(isinstance(step, int) for step in path)
    is_flat = not any(isinstance(held, dict | list) for held in value.values())
    return not (is_inside_item and is_flat and len(value_text(value)) <= _WIDEST)


def is_tables(value: Any) -> bool:
    """It is a list of tables."""
    return isinstance(value, list) and bool(value) and isinstance(value[0], dict)


def new_header(path: Path) -> Block:
    """`[row.rules]`, or `[[row.bay]]` where the path ends in a position."""
    name = ".".join(_key_text(key) for key in path if isinstance(key, str))
    return Block("header", path, "\n", "", f"[[{name}]]\n" if isinstance(path[-1], int) else f"[{name}]\n")


def new_pair(table: Path, keys: tuple[str, ...], value: Any) -> Block:
    """`key = value` in a table, the key dotted where there are several."""
    key = f"{'.'.join(_key_text(key) for key in keys)} = "
    text = value_text(value)
    return Block("pair", (*table, *keys), "", "", f"{key}{text}\n", (len(key), len(key) + len(text)))


def value_text(value: Any) -> str:
    """A value as it stands behind an equals sign."""
    if isinstance(value, Number):
        return value.text
    if isinstance(value, dict):
        pairs = ", ".join(f"{_key_text(key)} = {value_text(held)}" for key, held in value.items())
        return f"{{ {pairs} }}" if pairs else "{}"
    if isinstance(value, list):
        items = [value_text(item) for item in value]
        line = f"[{', '.join(items)}]"
        return line if len(line) <= _WIDEST else "[\n" + "".join(f"    {item},\n" for item in items) + "]"
    if isinstance(value, str) and '"' in value and "'" not in value and value.isprintable():
        return f"'{value}'"
    return tomli_w.dumps({"key": value}, multiline_strings=True).removeprefix("key = ")[:-1]


def _key_text(key: str) -> str:
    return tomli_w.dumps({key: 0}).removesuffix(" = 0\n")
