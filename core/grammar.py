"""The grammar of formulas: from a text such as `(clear_width - 2*side_gap) / 3` to a small tree.

What the tree comes to is worked out in `core.formulas`. A hyphen is a minus, a mixed
number is written with a space (`17 5/8`), and a unit may follow a number: `3/4 in` is three
quarters of an inch. How long a text may be, how deep and how large the numbers are all
bounded, so that no formula, whoever wrote it, hangs the program.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, TypeAlias

from core.lengths import (
    FOOT,
    INCH,
    UNITS,
    VULGAR,
    beside,
    exact_text,
    feet_and_inches,
    plain_text,
    quoted,
    read_decimal,
    read_fraction,
)
from core.mistakes import Mistake

MOST_CHARACTERS = 400
"""In one formula."""
DEEPEST = 30
"""Brackets within brackets."""

FUNCTIONS = ("min", "max")
FIELD_WORDS = ("share", "shares", "even")
"""What some fields hold instead of a size."""
RESERVED = frozenset({*FUNCTIONS, *FIELD_WORDS, *(word for word in UNITS if word.isalpha())})
"""Words that cannot name a dimension."""


@dataclass(frozen=True, slots=True)
class Number:
    """A number as written, with its unit if it bears one."""

    text: str
    value: Fraction
    """In mm where it is a length."""
    is_length: bool
    bare_fraction: bool = False
    """It is a fraction or a mixed number without a unit, which in a millimetre project is no length."""


@dataclass(frozen=True, slots=True)
class Name:
    """A named dimension."""

    text: str


@dataclass(frozen=True, slots=True)
class Negative:
    """The opposite of something."""

    text: str
    of: Expression


@dataclass(frozen=True, slots=True)
class Sum:
    """Terms added and subtracted, from left to right."""

    text: str
    first: Expression
    rest: tuple[tuple[str, Expression], ...]


@dataclass(frozen=True, slots=True)
class Product:
    """Factors multiplied and divided by, from left to right."""

    text: str
    first: Expression
    rest: tuple[tuple[str, Expression], ...]


@dataclass(frozen=True, slots=True)
class Choice:
    """The least (`min`) or the greatest (`max`) of several."""

    text: str
    function: str
    of: tuple[Expression, ...]


Expression: TypeAlias = Number | Name | Negative | Sum | Product | Choice


@dataclass(frozen=True, slots=True)
class Formula:
    """A formula, read: its tree, and the dimensions that it names, each once."""

    text: str
    root: Expression
    names: tuple[str, ...]


def parse_formula(text: str) -> Formula:
    """The formula that `text` is. Raises `Mistake` where it is none."""
    if len(text) > MOST_CHARACTERS:
        raise Mistake(f"{quoted(text)} is {len(text)} characters long: a formula takes {MOST_CHARACTERS} at most")
    return _Parser(plain_text(text)).formula()


_Spelling = Literal["decimal", "fraction", "mixed"]


@dataclass(frozen=True, slots=True)
class _Token:
    kind: Literal["number", "vulgar", "word", "unit", "sign", "end"]
    text: str
    start: int

    @property
    def end(self) -> int:
        return self.start + len(self.text)

    @property
    def is_integer(self) -> bool:
        return self.kind == "number" and "." not in self.text


_TOKEN = re.compile(
    rf" ?(?:(?P<number>[0-9]+(?:\.[0-9]+)?|\.[0-9]+)|(?P<vulgar>[{VULGAR}])|(?P<word>[^\W0-9]\w*)"
    r"|(?P<unit>['\"])|(?P<sign>[-+*/(),×÷]))"
)


def _tokens(text: str) -> list[_Token]:
    tokens: list[_Token] = []
    at = 0
    while at < len(text):
        found = _TOKEN.match(text, at)
        if found is None:
            raise Mistake(f"{quoted(text[at:].strip()[:1])} has no meaning in the formula {quoted(text)}")
        kind = found.lastgroup
        word = found[kind] if kind else ""
        if kind == "word" and word.casefold() in UNITS:
            kind = "unit"
        elif kind == "word" and not word.isidentifier():
            raise Mistake(f"{quoted(word)} is not a name: letters, digits and `_`, not beginning with a digit")
        tokens.append(_Token(kind, word, found.end() - len(word)))  # type: ignore[arg-type]
        at = found.end()
    return [*tokens, _Token("end", "", len(text))]


class _Parser:
    """Recursive descent over the tokens of one formula."""

    def __init__(self, text: str) -> None:
        self._text = text
        self._tokens = _tokens(text)
        self._at = 0
        self._depth = 0
        self._names: dict[str, None] = {}

    def formula(self) -> Formula:
        root = self._sum()
        if self._now.kind != "end":
            raise self._out_of_place()
        return Formula(self._text, root, tuple(self._names))

    @property
    def _now(self) -> _Token:
        return self._tokens[self._at]

    def _ahead(self, count: int) -> _Token:
        return self._tokens[min(self._at + count, len(self._tokens) - 1)]

    def _take(self) -> _Token:
        token = self._now
        self._at += 1
        return token

    def _is(self, *signs: str) -> bool:
        return self._now.kind == "sign" and self._now.text in signs

    def _since(self, start: int) -> str:
        return self._text[start : self._tokens[self._at - 1].end]

    def _sum(self) -> Expression:
        return self._chain(Sum, ("+", "-"), lambda _: self._product())

    def _product(self) -> Expression:
        return self._chain(Product, ("*", "×", "/", "÷"), self._factor)

    def _chain(
        self, node: type[Sum] | type[Product], signs: tuple[str, ...], operand: Callable[[bool], Expression]
    ) -> Expression:
        """Operands with `signs` between them, in one flat node however many there are; a single one as it is."""
        start = self._now.start
        first = operand(False)
        rest: list[tuple[str, Expression]] = []
        while self._is(*signs):
            sign = self._take().text.replace("×", "*").replace("÷", "/")
            rest.append((sign, operand(sign == "/")))
        return node(self._since(start), first, tuple(rest)) if rest else first

    def _factor(self, divides: bool) -> Expression:
        start = self._now.start
        negative = False
        while self._is("-", "+"):
            negative ^= self._take().text == "-"
        of = self._operand(divides)
        return Negative(self._since(start), of) if negative else of

    def _operand(self, divides: bool) -> Expression:
        token = self._now
        word = token.text.casefold()
        if token.kind in ("number", "vulgar"):
            return self._number(divides)
        if word in FUNCTIONS:
            self._take()
            if not self._is("("):
                raise Mistake(f"`{word}` wants brackets after it: `{word}(a, b)`")
            of = self._bracketed(several=True)
            return Choice(self._since(token.start), word, of)
        if token.kind == "word" and word not in RESERVED:
            self._names[self._take().text] = None
            return Name(token.text)
        if self._is("("):
            return self._bracketed(several=False)[0]
        raise self._out_of_place()

    def _bracketed(self, several: bool) -> tuple[Expression, ...]:
        self._take()
        self._depth += 1
        if self._depth > DEEPEST:
            raise Mistake(f"{quoted(self._text)} has brackets more than {DEEPEST} deep: give a part of it a name")
        inside = [self._sum()]
        while several and self._is(","):
            self._take()
            inside.append(self._sum())
        if not self._is(")"):
            raise self._out_of_place()
        self._take()
        self._depth -= 1
        return tuple(inside)

    def _number(self, divides: bool) -> Number:
        """A number, the unit after it, and after feet the inches."""
        start = self._now.start
        value, spelling = self._amount(divides)
        unit = self._unit()
        if unit is None:
            return Number(self._since(start), value, False, spelling != "decimal")
        length = value * unit
        if unit == FOOT and self._now.kind in ("number", "vulgar"):
            inches, spelling = self._amount(False)
            if spelling == "fraction":
                inches = beside(Fraction(0), inches, self._since(start))
            if self._unit() not in (None, INCH):
                raise Mistake(f"{quoted(self._since(start))} has another unit beside feet: only inches stand there")
            length = feet_and_inches(value, inches, self._since(start))
        return Number(self._since(start), length, True)

    def _unit(self) -> Fraction | None:
        return UNITS[self._take().text.casefold()] if self._now.kind == "unit" else None

    def _amount(self, divides: bool) -> tuple[Fraction, _Spelling]:
        """A number, and how it is spelled: `18.3`, `3/4` or `⅝`, `17 5/8`.

        Behind a `/` the text `3/4` is two divisions; with a unit it could be either, and is refused.
        """
        first = self._now
        if first.is_integer and self._fraction_ahead(1):
            self._take()
            fraction = self._fraction()
            return beside(read_decimal(first.text), fraction, self._since(first.start)), "mixed"
        if first.kind == "vulgar" or (self._fraction_ahead(0) and not divides):
            return self._fraction(), "fraction"
        if self._fraction_ahead(0) and self._ahead(3).kind == "unit":
            below, unit = self._ahead(2), self._ahead(3)
            whole, part = self._text[first.start : unit.end], self._text[below.start : unit.end]
            raise Mistake(
                f"`/{whole}` can be read two ways: write `/({whole})` to divide by the fraction, "
                f"or `/{first.text}/({part})` to divide twice"
            )
        return read_decimal(self._take().text), "decimal"

    def _fraction_ahead(self, count: int) -> bool:
        """Whether a fraction begins that many tokens ahead: `⅝`, or `5/8` that is not the beginning of `5/8 1/2`."""
        first, bar, below, after = (self._ahead(count + i) for i in range(4))
        if first.kind == "vulgar":
            return True
        is_fraction = first.is_integer and bar.text == "/" and below.is_integer
        return is_fraction and after.kind not in ("number", "vulgar")

    def _fraction(self) -> Fraction:
        """The fraction that comes now, taken."""
        length = 1 if self._now.kind == "vulgar" else 3
        return read_fraction("".join(self._take().text for _ in range(length)))

    def _out_of_place(self) -> Mistake:
        """Why what comes now cannot stand where it does."""
        token = self._now
        before = self._tokens[self._at - 1] if self._at else None
        if token.text.casefold() in FIELD_WORDS:
            why = (
                f"`{token.text}` belongs only in a field that asks for it, as `share`, `2 shares` or `even` and no "
                "more; several are parted by commas"
            )
        elif token.kind == "unit":
            why = f"the unit `{token.text}` does not follow a number"
        elif before is None or (before.kind == "sign" and before.text != ")"):
            why = f"a number or a name is missing {'at the end' if token.kind == 'end' else f'before `{token.text}`'}"
        elif token.kind == "end":
            why = "a bracket is not closed"
        elif token.text == ")":
            why = "a bracket is closed that was never opened"
        elif token.text == "," and before.kind == "number" and self._ahead(1).kind == "number":
            decimal = read_decimal(f"{before.text},{self._ahead(1).text}")
            why = f"a comma is no decimal point in a formula: write `{exact_text(decimal, 'mm')}`"
        elif token.text == ",":
            why = "a comma stands only in the brackets of `min` and `max`"
        elif token.kind == "word" and before.kind in ("number", "vulgar"):
            why = f"`{token.text}` is no unit, and no sign such as `*` stands before it"
        else:
            why = f"`+`, `-`, `*` or `/` is missing between `{before.text}` and `{token.text}`"
        return Mistake(f"{quoted(self._text)} cannot be worked out: {why}")
