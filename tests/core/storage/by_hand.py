"""A project file as different people would write it: headers, dotted keys, brackets, comments anywhere."""

from __future__ import annotations

import json
from random import Random
from typing import Any


class Hand:
    """One person's way of writing, drawn from a random source. Every comment it writes is numbered."""

    def __init__(self, random: Random) -> None:
        self.random = random
        self.comments = 0

    def file(self, plain: dict[str, Any]) -> str:
        """The whole file."""
        text = "\n".join(self.table((), plain)) + self.random.choice(["", "\n", "\n\n", f"\n\n{self.comment()}\n"])
        return text.replace("\n", "\r\n") if self.random.random() < 0.2 else text

    def comment(self) -> str:
        self.comments += 1
        return f"# comment {self.comments}."

    def above(self) -> list[str]:
        """Blank lines and comments before a statement."""
        lines = []
        for _ in range(self.random.choice([0, 0, 0, 1, 2])):
            lines.append(self.random.choice(["", self.comment()]))
        return lines

    def behind(self) -> str:
        """What may follow on the line of a statement."""
        return self.random.choice(["", "", "", " ", f"  {self.comment()}"])

    def table(self, path: tuple[str, ...], table: dict[str, Any]) -> list[str]:
        """The pairs of a table, then the tables under headers of their own."""
        lines: list[str] = []
        headed: list[tuple[str, Any]] = []
        for key, value in table.items():
            style = self.random.random()
            is_tables = isinstance(value, dict) or (isinstance(value, list) and value and isinstance(value[0], dict))
            if is_tables and style < 0.6:
                headed.append((key, value))
            elif isinstance(value, dict) and value and style < 0.8:
                lines += [line for inner, held in value.items() for line in self.pair((key, inner), held)]
            else:
                lines += self.pair((key,), value)
        self.random.shuffle(headed)
        for key, value in headed:
            names = (*path, key)
            header = ".".join(self.key(name) for name in names)
            for item in value if isinstance(value, list) else [value]:
                opening = f"[[{header}]]" if isinstance(value, list) else f"[{header}]"
                lines += [*self.above(), self.indent() + opening + self.behind(), *self.table(names, item)]
        return lines

    def indent(self) -> str:
        return self.random.choice(["", "", "  ", "\t"])

    def pair(self, keys: tuple[str, ...], value: Any) -> list[str]:
        equals = self.random.choice([" = ", "=", "   = "])
        key = self.random.choice([".", " . "]).join(self.key(key) for key in keys)
        return [*self.above(), self.indent() + key + equals + self.value(value) + self.behind()]

    def key(self, key: str) -> str:
        is_bare = key.isascii() and key.replace("_", "").replace("-", "").isalnum()
        return key if is_bare and self.random.random() < 0.8 else self.quoted(key)

    def quoted(self, text: str) -> str:
        if "'" not in text and "\n" not in text and self.random.random() < 0.3:
            return f"'{text}'"
        return json.dumps(text, ensure_ascii=self.random.random() < 0.3 and text.isascii())

    def value(self, value: Any) -> str:
        if isinstance(value, str):
            return self.quoted(value)
        if isinstance(value, dict):
            pairs = ", ".join(f"{self.key(key)} = {self.value_on_one_line(held)}" for key, held in value.items())
            return f"{{ {pairs} }}" if pairs else "{}"
        if isinstance(value, list):
            return self.list(value)
        return str(value).lower()

    def list(self, items: list[Any]) -> str:
        if not items or self.random.random() < 0.5:
            return self.value_on_one_line(items)
        lines = ["["]
        for item in items:
            lines += [*self.above(), f"  {self.value_on_one_line(item)},{self.behind()}"]
        return "\n".join([*lines, "]"])

    def value_on_one_line(self, value: Any) -> str:
        if isinstance(value, list):
            return f"[{', '.join(self.value_on_one_line(item) for item in value)}]"
        return self.value(value)
