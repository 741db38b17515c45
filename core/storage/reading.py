"""The text of a project file to the project, with every problem found at its line."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeVar

from core.mistakes import Mistake
from core.project import FORMAT, Project
from core.storage.characters import clipped
from core.storage.lines import Lines
from core.storage.plain import Number, Plain
from core.storage.problems import BadProject, Problem
from core.storage.schema import Fault, read_project
from core.storage.upgrade import upgraded

T = TypeVar("T")
_MOST_SYNTAX_ERRORS = 20
_PLACE = re.compile(r" \(at (?:line ([0-9]+), column ([0-9]+)|end of document)\)$")
_RIGHT = (
    ("cannot overwrite", "each key once in a table"),
    ("cannot declare", "one header for each table, `[[…]]` for one of several"),
    ("invalid value", "a value behind the `=`, a text in quotes"),
    ("illegal character '\\n'", "the quotes closed on the line where they were opened"),
    ("illegal character", "the same without that character"),
    ("", "`key = value`, `[table]` or `[[table]]`"),
)
"""What would be right, by how the parser's complaint begins."""
_PAIR = re.compile(r"([ \t]*[^\[\]#=\"']+=)[ \t]*(.*)")


@dataclass(frozen=True, slots=True)
class Read:
    """A project and the tables that it was read from."""

    project: Project
    plain: Plain


def read_text(text: str, file: str) -> Read:
    """The project that `text` holds. `file` is its name in messages. Raises `BadProject` with all that is wrong."""
    return Read(*read_tables(text, file, read_project))


def read_tables(text: str, file: str, build: Callable[[Plain], tuple[T | None, list[Fault]]]) -> tuple[T, Plain]:
    """What `build` makes of the tables of a text, and the tables. Raises `BadProject` with all that is wrong."""
    plain, text, problems = _parsed(upgraded(text), file)
    version = plain.get("format")
    if isinstance(version, int) and version > FORMAT:
        raise Mistake(
            f"{file} is written in format {version}, by a newer Sawhorse than this one, which reads up to format "
            f"{FORMAT}: it was left as it is, and needs the newer program"
        )
    built, faults = build(plain)
    broken = {problem.line for problem in problems}
    lines = Lines(text)
    found = [Problem(lines.of(fault.path), fault.field, fault.read, fault.right) for fault in faults]
    problems += [problem for problem in found if problem.line not in broken]
    if problems or built is None:
        raise BadProject(file, tuple(sorted(problems, key=lambda problem: problem.line or 0)))
    return built, plain


def parse(text: str) -> Plain:
    """The tables of a TOML text, decimals kept as typed. Raises `ValueError` where it is no TOML."""
    try:
        return tomllib.loads(text, parse_float=Number)
    except tomllib.TOMLDecodeError:
        raise
    except RecursionError:
        raise ValueError("lists and tables lie too deep inside one another") from None
    except ValueError:
        raise ValueError("a number is too long") from None


def _parsed(text: str, file: str) -> tuple[Plain, str, list[Problem]]:
    """The tables, the text that they stand in, and what is wrong with its syntax.

    A line whose value is no TOML is set aside with a problem and the rest is read, so that one
    slip does not hide the others. Where the rest can't be told, `BadProject` is raised at once.
    """
    problems: list[Problem] = []
    lines = [*text.split("\n"), ""]
    emptied: set[int] = set()
    while True:
        try:
            return parse("\n".join(lines)), "\n".join(lines), problems
        except ValueError as error:
            found = _PLACE.search(str(error))
            number = int(found[1]) if found and found[1] else None
            if number is None or number not in emptied:
                problems.append(_syntax(error, text, found))
            pair = _PAIR.match(lines[number - 1]) if number is not None else None
            if number is None or pair is None or len(emptied) == _MOST_SYNTAX_ERRORS:
                raise BadProject(file, tuple(problems)) from None
            lines[number - 1] = "" if number in emptied else f'{pair[1]} ""'
            emptied.add(number)


def _syntax(error: ValueError, text: str, place: re.Match[str] | None) -> Problem:
    """What `tomllib` could not read, and what would be right there."""
    if place is None:
        return Problem(None, "", f"the file cannot be read: {error}", "")
    complaint = str(error)[: place.start()]
    what = complaint[:1].lower() + complaint[1:]
    if place[1] is None:
        return Problem(text.rstrip("\n").count("\n") + 1, "", f"the end of the file ({what})", "what is open closed")
    line = int(place[1])
    written = text.split("\n")[line - 1].strip()
    right = next(
        (right for start, right in _RIGHT if what.startswith(start)), "`key = value`, `[table]` or `[[table]]`"
    )
    pair = _PAIR.match(written)
    if pair and re.match(r"[^\s\[{\"'][^\"]*$", pair[2]) and not what.startswith("cannot"):
        right = f'the value in quotes, `{clipped(pair[1])} "{clipped(pair[2])}"`'
    return Problem(line, "", f"`{clipped(written)}` ({clipped(what)})", right, int(place[2]))
