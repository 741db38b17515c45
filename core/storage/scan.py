"""A TOML text as the statements that it consists of, each with its place in the text.

Meant for a text that `tomllib` has already accepted: it finds where things stand, it does not judge them.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from core.storage.plain import Path

_BASIC = r'"(?:\\.|[^"\\\n])*"'
_LITERAL = r"'[^'\n]*'"
_LONG_BASIC = r'"""(?:\\.|[^\\])*?"""(?:"{0,2})'
_LONG_LITERAL = r"'''.*?'''(?:'{0,2})"
_PIECE = re.compile(rf"[A-Za-z0-9_-]+|{_BASIC}|{_LITERAL}")
_DOT = re.compile(r"[ \t]*\.[ \t]*")
_SPACE = re.compile(r"[ \t]*")
_REST_OF_LINE = re.compile(r"[^\n]*\n?")
_TOKEN = re.compile(
    rf"(?P<string>{_LONG_BASIC}|{_LONG_LITERAL}|{_BASIC}|{_LITERAL})"
    r"|(?P<open>[\[{])|(?P<close>[\]}])|(?P<newline>\r?\n)|(?P<comment>#[^\n]*)"
    r"|(?P<space>[ \t]+)|(?P<other>[^\[\]{}\"'#\s]+)",
    re.DOTALL,
)


@dataclass(frozen=True, slots=True)
class Statement:
    """A blank line, a comment line, the header of a table, or a key with its value."""

    kind: Literal["blank", "comment", "header", "pair"]
    start: int
    end: int
    """Behind its line break."""
    line: int
    """Counted from 1."""
    path: Path = ()
    """For a header and a pair: where it stands in the whole file, positions in lists included."""
    value: tuple[int, int] = (0, 0)
    """For a pair: where the text of its value begins and ends."""


def statements(text: str) -> Iterator[Statement]:
    """Every statement of the text in order; together they are the whole text."""
    at, line = 0, 1
    table: Path = ()
    lists: dict[Path, int] = {}
    while at < len(text):
        start = _after(_SPACE, text, at)
        sign = text[start : start + 1]
        if sign in ("", "\n", "\r", "#"):
            statement = Statement("comment" if sign == "#" else "blank", at, _after(_REST_OF_LINE, text, start), line)
        elif sign == "[":
            is_list = text.startswith("[[", start)
            keys, end = _key(text, start + (2 if is_list else 1))
            table = _resolved(keys, is_list, lists)
            statement = Statement("header", at, _after(_REST_OF_LINE, text, end), line, table)
        else:
            keys, end = _key(text, start)
            value = _value(text, _after(_SPACE, text, end + 1))
            statement = Statement("pair", at, _after(_REST_OF_LINE, text, value[1]), line, (*table, *keys), value)
        yield statement
        line += text.count("\n", at, statement.end)
        at = statement.end


def _after(pattern: re.Pattern[str], text: str, at: int) -> int:
    found = pattern.match(text, at)
    return found.end() if found else at


def _key(text: str, at: int) -> tuple[tuple[str, ...], int]:
    """A dotted key that begins at `at`, and where the sign behind it stands."""
    keys: list[str] = []
    at = _after(_SPACE, text, at)
    while found := _PIECE.match(text, at):
        piece = found[0]
        keys.append(tomllib.loads(f"key = {piece}")["key"] if piece[0] in "\"'" else piece)
        at = found.end()
        dot = _DOT.match(text, at)
        if not dot:
            break
        at = dot.end()
    return tuple(keys), _after(_SPACE, text, at)


def _resolved(keys: tuple[str, ...], is_list: bool, lists: dict[Path, int]) -> Path:
    """A header's path: a key that is a list of tables means its latest one, the last key of `[[…]]` one more."""
    path: Path = ()
    for number, key in enumerate(keys):
        path = (*path, key)
        if is_list and number == len(keys) - 1:
            lists[path] = lists.get(path, -1) + 1
        if path in lists:
            path = (*path, lists[path])
    return path


def _value(text: str, at: int) -> tuple[int, int]:
    """Where the value that begins at `at` ends, comments and spaces behind it left out."""
    end, depth, here = at, 0, at
    while found := _TOKEN.match(text, here):
        kind, here = found.lastgroup, found.end()
        if depth == 0 and kind in ("newline", "comment"):
            break
        depth += {"open": 1, "close": -1}.get(kind or "", 0)
        if kind != "space":
            end = here
    return at, end
