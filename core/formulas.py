"""Formulas: ordinary arithmetic over named dimensions, `worktop_height - ply`, with its units checked.

A length divided by a length is a plain number; a length times a length is refused. A plain
number that meets a length in a sum or in `min` and `max`, and one that a formula comes to
where a length is wanted, counts in the project's unit.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from fractions import Fraction
from functools import lru_cache

from core.grammar import (
    RESERVED,
    Choice,
    Expression,
    Formula,
    Name,
    Negative,
    Number,
    Product,
    Sum,
    parse_formula,
)
from core.lengths import (
    UNITS,
    Mm,
    Notation,
    Unit,
    not_a_length,
    plain_text,
    quoted,
    read_alone,
    read_decimal,
    unmarked_fraction,
    within_reach,
)
from core.mistakes import Mistake

LARGEST = 10**36
"""Neither part of a fraction grows beyond it, so that no chain of dimensions can eat the machine."""


@dataclass(frozen=True, slots=True)
class Quantity:
    """A length in mm, or a plain number."""

    value: Fraction
    is_length: bool


@lru_cache(maxsize=4096)
def parse_field(text: str, unit: Unit) -> Formula:
    """What stands in a size field: a tape reading alone, otherwise a formula.

    A bare number stays a plain number; who asks for a length counts it in `unit`. Raises `Mistake`.
    """
    reading = read_alone(text, unit)
    if reading is not None:
        return Formula(text, Number(text, reading.value, reading.has_unit), ())
    plain = plain_text(text)
    words = re.findall(r"[^\W0-9]\w*", plain)
    if not re.search(r"[-+*/()×÷]", plain) and all(word.casefold() in UNITS for word in words):
        raise not_a_length(text, unit)
    return parse_formula(text)


def check_syntax(text: str, unit: Unit) -> None:
    """Raises `Mistake` where `text` cannot stand in a size field, whatever its names come to."""
    parse_field(text, unit)


def read_share(text: str) -> Fraction | None:
    """How many shares of what is left: 1 for `share`, 2 for `2 shares`; None where the text is not about shares.

    Raises `Mistake` where the number of shares cannot be used.
    """
    found = re.fullmatch(r"(?:share|([0-9.,]+) ?shares?)", plain_text(text))
    if found is None:
        return None
    shares = read_decimal(found[1]) if found[1] else Fraction(1)
    if not shares:
        raise Mistake(f"{quoted(text)} takes nothing: a share is more than 0")
    return shares


def check_name(name: str) -> None:
    """Raises `Mistake` where `name` cannot name a dimension."""
    if name.casefold() in RESERVED:
        raise Mistake(f"`{name}` has a meaning of its own in a field: give the dimension another name")
    if not name.isidentifier() or plain_text(name) != name:
        raise Mistake(f"{quoted(name)} is not a name: use letters, digits and `_`, and no digit at its beginning")


class Names:
    """The dimensions of one project, worked out when they are asked for, each once."""

    def __init__(
        self,
        unit: Unit,
        dimensions: Mapping[str, str],
        given: Mapping[str, Quantity],
        unknown: Mapping[str, str] | None = None,
    ) -> None:
        """`dimensions` are the person's own formulas by name; `given` is what the project measures itself.

        `unknown` are names that it will give once it can, each with the reason why it cannot yet.
        Raises `Mistake` for a name that cannot be one, or that is given already.
        """
        self._unknown = dict(unknown or {})
        for name in dimensions:
            check_name(name)
            if name in given or name in self._unknown:
                raise Mistake(f"`{name}` is already given by the project: give the dimension another name")
        self.unit: Unit = unit
        self._dimensions = dict(dimensions)
        self._given = dict(given)
        self._known = dict(given)

    def having(self, name: str, formula: str) -> Names:
        """The same, but for one dimension that is added or changed. Raises `Mistake` as the first ones did."""
        return Names(self.unit, {**self._dimensions, name: formula}, self._given, self._unknown)

    def quantity(self, name: str) -> Quantity:
        """What a dimension comes to. Raises `Mistake`, which tells the dimension that it arises in."""
        self._must_exist(name)
        # A loop, not a recursion: a chain of dimensions may be longer than the stack is deep.
        path: dict[str, None] = {name: None}
        while path:
            current = next(reversed(path))
            if current in self._known:
                path.popitem()
                continue
            try:
                formula = parse_field(self._dimensions[current], self.unit)
                waiting = next((other for other in formula.names if other not in self._known), None)
                if waiting is None:
                    self._known[current] = _worked_out(formula.root, self.unit, self._known)
                    continue
                self._must_exist(waiting)
                if waiting in path:
                    way = list(path)
                    raise Mistake(f"it goes round in a circle: {_shown([*way[way.index(waiting) :], waiting])}")
            except Mistake as mistake:
                raise mistake.at(f"dimension {current}") from None
            path[waiting] = None
        return self._known[name]

    def value(self, text: str) -> Quantity:
        """What stands in a field comes to, a length in mm or a plain number. Raises `Mistake`."""
        return self._value(parse_field(text, self.unit))

    def length(self, text: str, *, where: str = "", least: Mm | None = None) -> Mm:
        """The length that stands in a field, mm; a plain number counts in the project's unit.

        Raises `Mistake`, told as lying `where`, also for a length below `least` or beyond a kilometre.
        """
        try:
            formula = parse_field(text, self.unit)
            length = within_reach(_as_length(formula.root, self._value(formula), self.unit), text)
            if least is not None and length < least:
                notation = Notation.read("", self.unit)
                limit = f"less than {notation.with_unit(least)}" if least else "negative"
                raise Mistake(f"{quoted(text)} comes to {notation.with_unit(length)}, and this cannot be {limit}")
        except Mistake as mistake:
            raise (mistake.at(where) if where else mistake) from None
        return length

    def _value(self, formula: Formula) -> Quantity:
        for name in formula.names:
            self.quantity(name)
        return _worked_out(formula.root, self.unit, self._known)

    def _must_exist(self, name: str) -> None:
        if name in self._known or name in self._dimensions:
            return
        if name in self._unknown:
            raise Mistake(f"`{name}` is not known yet: {self._unknown[name]}")
        near = get_close_matches(name, sorted({*self._known, *self._dimensions, *self._unknown}), n=1)
        hint = f"is `{near[0]}` meant?" if near else "give it a value among the dimensions"
        raise Mistake(f"there is no dimension `{name}`: {hint}")


def _shown(names: list[str]) -> str:
    """`bay -> gap -> bay`; the middle of a long one left out."""
    shown = names if len(names) <= 8 else [*names[:4], "…", *names[-3:]]
    return " -> ".join(shown)


def _worked_out(expression: Expression, unit: Unit, known: Mapping[str, Quantity]) -> Quantity:
    """What an expression comes to where all its names are known. Raises `Mistake` where its units don't agree."""
    match expression:
        case Number():
            return Quantity(expression.value, expression.is_length)
        case Name():
            return known[expression.text]
        case Negative():
            of = _worked_out(expression.of, unit, known)
            return Quantity(-of.value, of.is_length)
        case Sum() | Choice():
            return _alike(expression, unit, known)
        case Product():
            return _product(expression, unit, known)


def _alike(expression: Sum | Choice, unit: Unit, known: Mapping[str, Quantity]) -> Quantity:
    """A sum or a choice: lengths throughout, if there is a length among what it is made of."""
    parts = (
        expression.of if isinstance(expression, Choice) else (expression.first, *(term for _, term in expression.rest))
    )
    quantities = [_worked_out(part, unit, known) for part in parts]
    is_length = any(quantity.is_length for quantity in quantities)
    values = [
        _as_length(part, quantity, unit) if is_length else quantity.value
        for part, quantity in zip(parts, quantities, strict=True)
    ]
    if isinstance(expression, Choice):
        return Quantity(min(values) if expression.function == "min" else max(values), is_length)
    total = values[0]
    for (sign, _), value in zip(expression.rest, values[1:], strict=True):
        total = _bounded(total + value if sign == "+" else total - value, expression)
    return Quantity(total, is_length)


def _product(expression: Product, unit: Unit, known: Mapping[str, Quantity]) -> Quantity:
    """Factors multiplied and divided by, from left to right: a number or a length, never an area."""
    total = _worked_out(expression.first, unit, known)
    value, is_length = total.value, total.is_length
    for sign, part in expression.rest:
        by = _worked_out(part, unit, known)
        if sign == "*":
            if is_length and by.is_length:
                raise Mistake(f"{quoted(expression.text)} multiplies a length by a length, which is no length")
            value, is_length = value * by.value, is_length or by.is_length
        else:
            if not by.value:
                why = "" if isinstance(part, Number) else f": {quoted(part.text)} comes to 0"
                raise Mistake(f"{quoted(expression.text)} divides by zero{why}")
            if by.is_length and not is_length:
                raise Mistake(
                    f"{quoted(expression.text)} divides a plain number by the length {quoted(part.text)}: "
                    f"give the number a unit, or divide by a number"
                )
            value, is_length = value / by.value, is_length and not by.is_length
        _bounded(value, expression)
    return Quantity(value, is_length)


def _as_length(expression: Expression, quantity: Quantity, unit: Unit) -> Mm:
    """A length as it is, a plain number counted in the project's unit, mm."""
    if quantity.is_length:
        return quantity.value
    if unit == "mm" and isinstance(expression, Number) and expression.bare_fraction:
        raise unmarked_fraction(expression.text, quantity.value)
    return quantity.value * UNITS[unit]


def _bounded(value: Fraction, expression: Expression) -> Fraction:
    """The same value. Raises `Mistake` where it has grown out of all reason."""
    if abs(value.numerator) > LARGEST or value.denominator > LARGEST:
        raise Mistake(f"{quoted(expression.text)} comes to a number with far too many digits")
    return value
