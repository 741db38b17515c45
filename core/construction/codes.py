"""Codes: each kind of part has a short one, each piece of it a number, both for good.

A code is given to a part's place (`B side left`) when it is first seen, and kept with a
fingerprint of what the part then was. When a design changes, a part that still is what its
code stands for keeps code and number. One that has changed joins the kind that it has become
equal to; if all pieces of its code changed alike the code goes with them; otherwise it gets
a new one. So adding a carcass renames nothing, and altering one renames nothing else.
"""

from __future__ import annotations

import hashlib
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import astuple

from core.construction.part import Kind, Part
from core.mistakes import Mistake
from core.project import CodeGiven

LETTERS = {
    "side": "S",
    "bottom": "B",
    "top": "T",
    "rail": "R",
    "kick": "K",
    "back": "Q",
    "divider": "D",
    "shelf": "F",
    "loose shelf": "H",
    "plinth": "P",
    "plinth end": "E",
    "nailer": "N",
    "door": "G",
    "drawer front": "A",
    "false front": "X",
    "drawer side": "C",
    "drawer end": "U",
    "drawer bottom": "V",
    "stile": "M",
    "frame rail": "Y",
    "filler": "J",
    "end panel": "Z",
    "worktop": "W",
    "loose": "L",
}
"""The letter that codes of a role begin with. I and O are left out: pencilled, they are a 1 and a 0."""


def place_key(part: Part) -> str:
    """The part's place in the project, in words; unique, and the same as long as the part is meant."""
    return " ".join(word for word in (part.carcass, part.role, part.place) if word)


def fingerprint(part: Part) -> str:
    """What makes parts one kind: material, finished and blank size, grain, banding, machining, hand."""
    told = (
        part.material,
        part.length,
        part.width,
        part.thickness,
        part.grain,
        tuple(sorted(astuple(edge) for edge in part.edges)),
        tuple(sorted(map(repr, part.machining))),
        *([tuple(sorted(map(repr, part.holes)))] if part.holes else []),
        *([part.allowance] if any(part.allowance) else []),
        part.hand,
    )
    return hashlib.sha256(repr(told).encode()).hexdigest()[:12]


def give_codes(given: Sequence[CodeGiven], parts: Iterable[Part]) -> tuple[CodeGiven, ...]:
    """The codes of `parts`, continuing those given before. Codes no longer in use are kept, never reused.

    Raises Mistake for codes given before that cannot be: one twice, or a piece without a whole number.
    """
    _check(given)
    now = {place_key(part): part for part in parts}
    prints = {key: fingerprint(part) for key, part in now.items()}
    stands_for = {code.code: code.stands_for for code in given}
    pieces: dict[str, dict[str, str]] = {code.code: dict(code.pieces) for code in given}
    homeless = _take_leave(stands_for, pieces, prints)
    by_print = {mark: code for code, mark in reversed(stands_for.items())}
    seats: dict[str, list[str]] = defaultdict(list)
    """Numbers whose part is gone, to be taken again by an equal part."""
    for code, seat in pieces.items():
        seats[code] = sorted((number for number, key in seat.items() if key not in now), key=int)
    for key in homeless:
        if prints[key] not in by_print:
            new = _new_code(LETTERS[now[key].role], stands_for)
            stands_for[new], pieces[new] = prints[key], {}
            by_print[prints[key]] = new
        code = by_print[prints[key]]
        number = seats[code].pop(0) if seats[code] else str(max(map(int, pieces[code]), default=0) + 1)
        pieces[code][number] = key
    return tuple(CodeGiven(code, stands_for[code], pieces[code]) for code in stands_for)


def _check(given: Sequence[CodeGiven]) -> None:
    seen: set[str] = set()
    for code in given:
        if code.code in seen:
            raise Mistake("it is given twice, and a code stands for one kind of part", f"code {code.code}")
        seen.add(code.code)
        for number in code.pieces:
            if not (number.isascii() and number.isdecimal()):
                raise Mistake(f"{number!r} is no number of a piece: 1 is, or 2", f"code {code.code}")


def _take_leave(stands_for: dict[str, str], pieces: dict[str, dict[str, str]], prints: dict[str, str]) -> list[str]:
    """Takes the parts that have changed off their codes; returns all that have none, in the order of the parts.

    A code whose every remaining part has become the same other thing becomes that thing,
    unless another code stands for it already.
    """
    settled: set[str] = set()
    for code, seat in pieces.items():
        present = [key for key in seat.values() if key in prints]
        marks = {prints[key] for key in present}
        if len(marks) == 1 and not marks & set(stands_for.values()):
            stands_for[code] = marks.pop()
        for number, key in list(seat.items()):
            if key in prints and prints[key] == stands_for[code] and key not in settled:
                settled.add(key)
            elif key in prints:
                # The number stays spoken for: a piece of it may have been cut.
                seat[number] = ""
    return [key for key in prints if key not in settled]


def _new_code(letter: str, taken: Iterable[str]) -> str:
    used = [
        int(code[len(letter) :]) for code in taken if code[: len(letter)] == letter and code[len(letter) :].isdigit()
    ]
    return f"{letter}{max(used, default=0) + 1}"


def kinds_of(given: Sequence[CodeGiven], parts: Sequence[Part]) -> tuple[Kind, ...]:
    """The lines of the parts list: parts gathered under their codes, in the order in which the parts stand."""
    seat_of = {key: (code.code, int(number)) for code in given for number, key in code.pieces.items() if key}
    gathered: dict[str, list[tuple[int, Part]]] = defaultdict(list)
    for part in parts:
        code, number = seat_of[place_key(part)]
        gathered[code].append((number, part))
    return tuple(
        Kind(code, seats[0][1], tuple(sorted(seats, key=lambda seat: seat[0]))) for code, seats in gathered.items()
    )
