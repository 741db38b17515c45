"""A tree of cuts as one line of text, for the project file.

    rip (976000 S1/1 | 480000 cross (320000 S2/1 T | -) | -)

`rip (N piece | N piece | piece)` divides a rectangle's width from the bottom up, `cross (…)` its
length from the left: each piece is written after its size along the way of the cut, the last one
takes what is left. A piece is a part by its name (`T` after it where it lies turned), `-` for
what no part uses, or a division of its own. `.` last: the blade leaves nothing there; `N .`:
nothing there either, and the blade takes N. Sizes are whole units of the job; every size
follows from the sheet's and these, so a line can be read without the job that it answered.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from core.layout.tree import Cut, Direction, Node, Placed, Spare, faults, walk
from core.mistakes import Mistake

DEEPEST = 312
"""Most cuts inside one another: deeper than any real sheet, shallow enough to be walked by recursion."""

_WORDS: dict[Direction, str] = {"rip": "rip", "crosscut": "cross"}
_DIRECTIONS: dict[str, Direction] = {word: direction for direction, word in _WORDS.items()}
_TOKEN = re.compile(r"[()|]|[^\s()|]+")
_NAME = re.compile(r"[^\s()|]*/[^\s()|]*")
_SIZE = re.compile(r"[0-9]{1,18}")


@dataclass(frozen=True, slots=True)
class Named:
    """A tree that was read. `Placed.part` counts through `pieces`, which are in the order of the walk."""

    root: Node
    pieces: tuple[str, ...]


def write(root: Node, pieces: Sequence[str]) -> str:
    """The tree as a line. `pieces` names the placed parts in the order of the walk (`S1/1`, always with its stroke)."""
    for piece in pieces:
        if not _NAME.fullmatch(piece):
            raise Mistake(
                f"the piece {piece!r} cannot be written: a piece is a code, a stroke and a number, as in S1/1"
            )
    names = iter(pieces)
    words: list[str] = []
    pending: list[Node | str | None] = [root]
    while pending:
        item = pending.pop()
        if isinstance(item, str):
            words.append(item)
        elif isinstance(item, Placed):
            words.append(next(names) + (" T" if item.turned else ""))
        elif isinstance(item, Spare):
            words.append("-")
        elif item is None:
            words.append(".")
        else:
            words.append(f"{_WORDS[item.direction]} (")
            members: list[Node | str | None] = []
            rest: Node | None = item
            while isinstance(rest, Cut) and rest.direction == item.direction:
                members += [f"{_extent(rest)} ", rest.low, " | "]
                rest = rest.high
            pending += [")", rest, *reversed(members)]
    return "".join(words)


def _extent(cut: Cut) -> int:
    """The number before a cut's low piece: its size, or what the blade takes where there is none."""
    if cut.direction == "rip":
        return cut.low.width if cut.low else cut.width - (cut.high.width if cut.high else 0)
    return cut.low.length if cut.low else cut.length - (cut.high.length if cut.high else 0)


@dataclass(slots=True)
class _Division:
    """A `rip (` or `cross (` that is being read: what is left of its rectangle, and what came off it so far."""

    direction: Direction
    length: int
    width: int
    taken: list[tuple[int, int, Node | None]] = field(default_factory=list)
    """Length and width of the rectangle before each cut, and the low piece that the cut made."""
    size: int | None = None
    """The number before the piece that is being read; None for the last piece."""

    def next_piece(self) -> tuple[int, int]:
        """Length and width of the piece that is being read."""
        if self.size is None:
            return self.length, self.width
        return (self.length, self.size) if self.direction == "rip" else (self.size, self.width)

    def take(self, low: Node | None, kerf: int) -> None:
        """One more cut, which makes `low` and leaves the rest of the rectangle."""
        assert self.size is not None
        takes = self.size + kerf if low is not None else self.size
        self.taken.append((self.length, self.width, low))
        if self.direction == "rip":
            self.width -= takes
        else:
            self.length -= takes

    def closed(self, last: Node | None) -> Node:
        """The nest of cuts, once the last piece is known."""
        node = last
        for length, width, low in reversed(self.taken):
            node = Cut(length, width, self.direction, low, node)
        assert node is not None
        return node


def read(text: str, length: int, width: int, kerf: int) -> Named:
    """The tree that `write` wrote, for a sheet of this size. A line that could not be cut is a `Mistake`."""
    named = _Reader(text, kerf).read(length, width)
    for fault in faults(named.root, kerf):
        raise Mistake(f"the layout {_shown(text)} cannot be cut: {fault}")
    return named


class _Reader:
    """Reads one line without recursion, so that no line however deep can overflow the stack."""

    def __init__(self, text: str, kerf: int) -> None:
        self.text = text
        self.kerf = kerf
        self.tokens: Iterator[str] = iter(_TOKEN.findall(text))
        self.ahead: str | None = next(self.tokens, None)
        self.pieces: list[str] = []
        self.named: set[str] = set()
        self.open: list[_Division] = []

    def read(self, length: int, width: int) -> Named:
        while True:
            word = self._next("a piece")
            if word in _DIRECTIONS:
                self._expect("(")
                self.open.append(_Division(_DIRECTIONS[word], length, width))
                length, width = self._begin_piece()
                continue
            node = None if word == "." else self._leaf(word, length, width)
            while self.open and self.open[-1].size is None:
                self._expect(")")
                node = self.open.pop().closed(node)
            if not self.open:
                return self._finished(node)
            self._expect("|")
            self.open[-1].take(node, self.kerf)
            length, width = self._begin_piece()

    def _begin_piece(self) -> tuple[int, int]:
        """Length and width of the piece that comes next in the innermost division."""
        division = self.open[-1]
        division.size = None
        if self.ahead is not None and _SIZE.fullmatch(self.ahead):
            division.size = int(self._next("a size"))
        elif not division.taken:
            raise self._wrong("a size", self.ahead)
        if sum(len(outer.taken) + (outer.size is not None) for outer in self.open) > DEEPEST:
            raise Mistake(f"the layout {_shown(self.text)} has more than {DEEPEST} cuts inside one another")
        return division.next_piece()

    def _leaf(self, word: str, length: int, width: int) -> Node:
        if word == "-":
            return Spare(length, width)
        if not _NAME.fullmatch(word):
            raise self._wrong("rip, cross, a piece such as S1/1, - or .", word)
        if word in self.named:
            raise Mistake(f"the layout {_shown(self.text)} has the piece {word} twice")
        self.named.add(word)
        self.pieces.append(word)
        turned = self.ahead == "T"
        if turned:
            self._next("T")
        return Placed(length, width, len(self.pieces) - 1, turned)

    def _finished(self, root: Node | None) -> Named:
        if self.ahead is not None:
            raise self._wrong("nothing more", self.ahead)
        if root is None:
            raise self._wrong("a piece", ".")
        return Named(root, tuple(self.pieces))

    def _next(self, wanted: str) -> str:
        if self.ahead is None:
            raise self._wrong(wanted, None)
        word, self.ahead = self.ahead, next(self.tokens, None)
        return word

    def _expect(self, wanted: str) -> None:
        if self.ahead != wanted:
            raise self._wrong(wanted, self.ahead)
        self._next(wanted)

    def _wrong(self, wanted: str, found: str | None) -> Mistake:
        place = "at its end" if found is None else f"at {found[:40]!r}"
        return Mistake(f"the layout {_shown(self.text)} cannot be read {place}: expected {wanted}")


def _shown(text: str) -> str:
    return repr(text if len(text) <= 60 else text[:57] + "...")


def placed_in(root: Node) -> list[Placed]:
    """The placed parts in the order in which `write` and `read` name them."""
    return [spot.node for spot in walk(root) if isinstance(spot.node, Placed)]
