"""A length: exact, in millimetres, read from what people write and shown as their tape shows it.

An inch is 25.4 mm exactly (16 CFR 500.19; NIST SP 811), so nothing is lost between the two
systems. A length is rounded only to be shown (`Notation`), and what was rounded says so.
What can be read two ways is refused, and the `Mistake` offers both readings.
"""

from __future__ import annotations

import math
import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, TypeAlias

from core.mistakes import Mistake

Mm: TypeAlias = Fraction
"""A length in millimetres, exact."""

Unit: TypeAlias = Literal["in", "mm"]
"""What a bare number means in a project."""

INCH = Fraction("25.4")
FOOT = 12 * INCH
UNITS: Mapping[str, Fraction] = {
    **dict.fromkeys(('"', "in", "inch", "inches"), INCH),
    **dict.fromkeys(("'", "ft", "foot", "feet"), FOOT),
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
}
"""Every mark and word that may follow a number, in millimetres."""

LONGEST = Fraction(1_000_000)
"""A kilometre: no length here is longer, mm."""
MOST_DIGITS = 40
"""In one number: enough to type back exactly whatever a formula can come to."""
MOST_CHARACTERS = 120
"""In one reading."""

UNIT_WORDS: Mapping[Unit, str] = {"in": "inches", "mm": "millimetres"}

VULGAR = "¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞"
_PLAIN = str.maketrans(
    {**dict.fromkeys("′’‘", "'"), **dict.fromkeys("″”“", '"'), **dict.fromkeys("−–‐‑", "-"), "⁄": "/"}
)

_FRACTION = re.compile(rf"[0-9]+/[0-9]+|[{VULGAR}]")
_MIXED = re.compile(rf"(?P<whole>[0-9]+)(?P<join> |-| -|- )(?P<fraction>{_FRACTION.pattern})")
_AMOUNT = rf"(?:(?:[0-9]+(?: |-| -|- ))?(?:{_FRACTION.pattern})|[0-9]+(?:[.,][0-9]+)*|[.,][0-9]+)"
_INCHES = r'(?:"|in\.?|inch|inches)'
_FEET = r"(?:'|ft\.?|foot|feet)"
_FEET_AND_INCHES = re.compile(
    rf"(?P<sign>-?) ?(?P<feet>{_AMOUNT}) ?{_FEET}(?P<join> ?-? ?)(?P<inches>{_AMOUNT}) ?{_INCHES}?",
    re.IGNORECASE | re.ASCII,
)
_ONE_AMOUNT = re.compile(
    rf"(?P<sign>-?) ?(?P<amount>{_AMOUNT}) ?(?P<mark>{_INCHES}|{_FEET}|mm|cm|m|)", re.IGNORECASE | re.ASCII
)


@dataclass(frozen=True, slots=True)
class Reading:
    """What stands alone in a field: millimetres where the text names a unit, otherwise a bare number."""

    value: Fraction
    has_unit: bool


def read_length(text: str, unit: Unit) -> Mm:
    """The length that `text`, alone in a field, means, in mm; a bare number is in `unit`.

    Raises `Mistake` for what is no length, what can be read two ways, and what is longer than a kilometre.
    """
    reading = read_alone(text, unit)
    if reading is None:
        raise not_a_length(text, unit)
    return reading.value if reading.has_unit else reading.value * UNITS[unit]


def not_a_length(text: str, unit: Unit) -> Mistake:
    """For what has not the shape of a length."""
    if len(text) > MOST_CHARACTERS:
        return Mistake(f"{quoted(text)} is {len(text)} characters long: a length takes {MOST_CHARACTERS} at most")
    examples = "`17 5/8`, `5' 4 1/2\"` or `448 mm`" if unit == "in" else "`447.5`, `44.8 cm` or `17 5/8 in`"
    found = f"{quoted(text)} is not a length" if text.strip() else "there is no length here"
    return Mistake(f"{found}: write it like {examples}")


def read_alone(text: str, unit: Unit) -> Reading | None:
    """The tape reading or number that `text` is, or None where it has not the shape of one.

    Raises `Mistake` where it has that shape, and still cannot be used.
    """
    if len(text) > MOST_CHARACTERS:
        return None
    plain = plain_text(text)
    found = _FEET_AND_INCHES.fullmatch(plain)
    if found:
        return Reading(within_reach(_feet_and_inches(found, unit), text), True)
    found = _ONE_AMOUNT.fullmatch(plain)
    if not found:
        return None
    amount, mark = found["amount"], found["mark"].rstrip(".").casefold()
    value = _amount(amount, found["sign"], mark, unit)
    if unit == "mm" and not mark and not _is_decimal(amount):
        raise unmarked_fraction(text, value)
    length = within_reach(value * UNITS[mark or unit], text)
    return Reading(length, True) if mark else Reading(value, False)


def _feet_and_inches(found: re.Match[str], unit: Unit) -> Mm:
    """The length that a match of `_FEET_AND_INCHES` means."""
    sign, join, inches = found["sign"], found["join"], found["inches"]
    feet = _amount(found["feet"], "", "'", unit)
    if "-" in join and " " in join:
        # Drawings write feet and inches so; in a formula the same text is a subtraction.
        together, apart = f"{sign}{found['feet']}' {inches}\"", f"({sign}{found['feet']}' - {inches}\")"
        raise Mistake(f"`{found[0]}` can be read two ways: write `{together}`, or `{apart}` for the difference")
    value = _amount(inches, "", '"', unit)
    if _FRACTION.fullmatch(inches):
        value = beside(Fraction(0), value, found[0])
    length = feet_and_inches(feet, value, found[0])
    return -length if sign else length


def _is_decimal(amount: str) -> bool:
    return not _FRACTION.search(amount)


def _amount(text: str, sign: str, mark: str, unit: Unit) -> Fraction:
    """The number that an amount means, its sign before it and `mark`, the unit that it bears, after it."""
    mixed = _MIXED.fullmatch(text)
    if mixed:
        whole = read_decimal(mixed["whole"])
        value = beside(whole, read_fraction(mixed["fraction"]), text)
        on_a_tape = mixed["join"] == "-" and UNITS.get(mark) in (INCH, FOOT)
        # With a sign before it both readings come to the same.
        if "-" in mixed["join"] and not on_a_tape and not sign:
            raise _hyphen(mixed, mark, unit, 2 * whole - value)
    else:
        value = read_fraction(text) if _FRACTION.fullmatch(text) else read_decimal(text)
    return -value if sign else value


def _hyphen(mixed: re.Match[str], mark: str, unit: Unit, difference: Fraction) -> Mistake:
    """For `17-5/8`: a mixed number to who reads a tape, a subtraction to who calculates."""
    suffix = mark if mark in ("", '"', "'") else f" {mark}"
    tape_suffix = " in" if unit == "mm" and not mark else suffix
    together = f"{mixed['whole']} {mixed['fraction']}{tape_suffix}"
    apart = f"{mixed['whole']}{suffix} - {mixed['fraction']}{suffix}"
    comes_to = exact_text(difference, "in" if UNITS[mark or unit] in (INCH, FOOT) else "mm") + suffix
    return Mistake(
        f"`{mixed[0]}{suffix}` can be read two ways: write `{together}`, or `{apart}` with spaces, which is {comes_to}"
    )


def unmarked_fraction(text: str, value: Fraction) -> Mistake:
    """For a fraction without a mark where a bare number is millimetres: it was hardly read off a metric tape."""
    inches, millimetres = f"{fraction_text(value)} in", f"{exact_text(value, 'mm')} mm"
    return Mistake(
        f"{quoted(text)} can be read two ways: write `{inches}`, which is {exact_text(value * INCH, 'mm')} mm, "
        f"or `{millimetres}`"
    )


def read_decimal(text: str) -> Fraction:
    """A number in digits, with a decimal point or comma, and its thousands set off by the other one.

    Raises `Mistake` where a comma may be either (`1,830`), and for more digits than anybody means.
    """
    if len(text) > MOST_DIGITS:
        raise Mistake(f"{quoted(text)} has too many digits: {MOST_DIGITS} at most")
    if re.fullmatch(r"[0-9]+|[0-9]*\.[0-9]+", text):
        return Fraction(text)
    if re.fullmatch(r"[1-9][0-9]{0,2},[0-9]{3}", text):
        thousands, decimal = text.replace(",", ""), exact_text(Fraction(text.replace(",", ".")), "mm")
        raise Mistake(f"`{text}` can be read two ways: write `{thousands}`, or `{decimal}` with a point")
    if re.fullmatch(r"[0-9]*,[0-9]+", text):
        return Fraction(text.replace(",", "."))
    for comma, point in (",.", ".,"):
        grouped = rf"[1-9][0-9]{{0,2}}(?:[{comma}][0-9]{{3}})+"
        if re.fullmatch(rf"{grouped}[{point}][0-9]+|{grouped}", text):
            return Fraction(text.replace(comma, "").replace(point, "."))
    raise Mistake(f"{quoted(text)} is not a number: write it like `1830` or `18.3`")


def read_fraction(text: str) -> Fraction:
    """`5/8` or `⅝`. Raises `Mistake` where it divides by zero."""
    spelled = unicodedata.normalize("NFKC", text).replace("⁄", "/")
    numerator, denominator = (read_decimal(part) for part in spelled.split("/"))
    if not denominator:
        raise Mistake(f"{quoted(text)} divides by zero")
    return numerator / denominator


def beside(whole: Fraction, fraction: Fraction, text: str) -> Fraction:
    """A whole number and the fraction beside it in `text`. Raises `Mistake` unless that is below 1."""
    if fraction >= 1:
        raise Mistake(
            f"{quoted(text)} has a fraction of 1 or more beside a whole number: only a smaller one stands there"
        )
    return whole + fraction


def feet_and_inches(feet: Fraction, inches: Fraction, text: str) -> Mm:
    """Feet and the inches beside them in `text`. Raises `Mistake` unless the feet are whole, the inches below 12."""
    if feet.denominator != 1:
        raise Mistake(f"{quoted(text)} has inches beside feet that are not whole: write whole feet, or inches alone")
    if inches >= 12:
        inches_alone = exact_text(feet * 12 + inches, "in")
        raise Mistake(
            f"{quoted(text)} has 12 or more inches beside the feet: write `{inches_alone} in` if that is meant"
        )
    return feet * FOOT + inches * INCH


def within_reach(length: Mm, text: str) -> Mm:
    """The same length. Raises `Mistake`, telling the `text` that it comes from, beyond a kilometre."""
    if abs(length) > LONGEST:
        raise Mistake(f"{quoted(text)} is longer than a kilometre; is the unit right?")
    return length


def plain_text(text: str) -> str:
    """`text` with one sign for each thing: marks, hyphens and spaces that look alike made the same."""
    plain = unicodedata.normalize("NFC", text).translate(_PLAIN).replace("''", '"')
    return " ".join(re.sub(rf"(?<=[0-9])(?=[{VULGAR}])", " ", plain).split())


def quoted(text: str) -> str:
    """`text` as a message quotes it: on one line, printable, not too long."""
    line = "".join(sign if sign.isprintable() else "�" for sign in " ".join(text.split()))
    return f"`{line if len(line) <= 60 else line[:59] + '…'}`"


def fraction_text(value: Fraction) -> str:
    """`17 5/8`, `-3/4`, `12`: lowest terms, one sign for the whole."""
    whole, rest = divmod(abs(value), 1)
    words = [str(whole)] if whole or not rest else []
    return ("-" if value < 0 else "") + " ".join([*words, str(rest)] if rest else words)


def _decimal_text(value: Fraction) -> str | None:
    """`447.675`, or None where six decimals don't hold it."""
    millionths = value * 1_000_000
    if millionths.denominator != 1:
        return None
    whole, rest = divmod(abs(millionths.numerator), 1_000_000)
    return ("-" if value < 0 else "") + f"{whole}.{rest:06}".rstrip("0").rstrip(".")


def _usual_text(value: Fraction, unit: Unit) -> str | None:
    """The number as somebody who works in `unit` would write it, or None where they would not."""
    return fraction_text(value) if unit == "in" and 64 % value.denominator == 0 else _decimal_text(value)


def exact_text(value: Fraction, unit: Unit) -> str:
    """A number of `unit`, exactly: as usual in that unit where that can be, otherwise as a fraction."""
    return _usual_text(value, unit) or fraction_text(value)


def as_typed(length: Mm, unit: Unit) -> str:
    """An exact text that `read_length` reads back to `length` in a project of this unit.

    It turns to the other unit where that one has the simpler text: 18 mm in an inch project is `18 mm`.
    """
    other: Unit = "mm" if unit == "in" else "in"
    usual = _usual_text(length / UNITS[unit], unit)
    if usual is not None:
        return usual
    usual = _usual_text(length / UNITS[other], other)
    if usual is not None:
        return f"{usual} {other}"
    mine, others = length / UNITS[unit], length / UNITS[other]
    if others.denominator < mine.denominator:
        return f"{fraction_text(others)} {other}"
    return fraction_text(mine) if unit == "in" else f"{fraction_text(mine)} mm"


def mm_number(length: Mm) -> int | float:
    """A length for JSON: millimetres, right to 0.000001 mm."""
    rounded = round(length, 6)
    return rounded.numerator if rounded.denominator == 1 else float(rounded)


_NOTATIONS: Mapping[str, tuple[Unit, Fraction]] = {
    **{f"in 1/{parts}": ("in", Fraction(1, parts)) for parts in (8, 16, 32, 64)},
    **{f"mm {step}": ("mm", Fraction(step)) for step in ("1", "0.5", "0.1")},
}
_USUAL_NOTATION: Mapping[Unit, str] = {"in": "in 1/16", "mm": "mm 0.5"}


@dataclass(frozen=True, slots=True)
class Notation:
    """How lengths are shown: in a unit, to the nearest of its graduations, which are `step` apart."""

    unit: Unit
    step: Fraction
    between: frozenset[Mm] = frozenset()
    """Lengths of parts that go between others: they are rounded down, wherever they are shown."""

    @staticmethod
    def read(text: str, unit: Unit) -> Notation:
        """`in 1/16`, `mm 0.5`; empty takes the usual one of `unit`. Raises `Mistake` for any other."""
        asked = " ".join(text.split()) or _USUAL_NOTATION[unit]
        if asked not in _NOTATIONS:
            raise Mistake(f"{quoted(text)} is no way to show sizes: choose one of {', '.join(_NOTATIONS)}")
        return Notation(*_NOTATIONS[asked])

    def reads_as(self, reading: Mm, length: Mm) -> bool:
        """Whether a reading is what a tape with these graduations shows of a length: within half of one.

        What goes between others may be less by nearly a whole one, since it is shown so.
        """
        off, step = reading - length, UNITS[self.unit] * self.step
        return abs(off) <= step / 2 or (length in self.between and -step < off < 0)

    def text(self, length: Mm) -> str:
        """`17 5/8`, `447.5`; with `~` in front of what had to be rounded.

        It is rounded to the nearest graduation, half-way to the even one (NIST Handbook 44,
        section 10.3), but what goes between others is rounded down.
        """
        steps = length / UNITS[self.unit] / self.step
        graduation = math.floor(steps) if length in self.between else round(steps)
        return ("" if steps == graduation else "~") + exact_text(graduation * self.step, self.unit)

    def with_unit(self, length: Mm) -> str:
        """`17 5/8 in`, `447.5 mm`: as `text`, and the unit."""
        return f"{self.text(length)} {self.unit}"

    def at_most(self, length: Mm) -> str:
        """`5/16 in`: the last graduation up to a length, for a limit that may be typed; exactly where that is none."""
        found = math.floor(length / UNITS[self.unit] / self.step) * self.step * UNITS[self.unit]
        return self.with_unit(found) if found > 0 else self.exactly(length)

    def at_least(self, length: Mm) -> str:
        """`3/8 in`: the first graduation from a length on, for a limit that may be typed."""
        return self.with_unit(math.ceil(length / UNITS[self.unit] / self.step) * self.step * UNITS[self.unit])

    def as_typed(self, length: Mm) -> str:
        """`as_typed` in this notation's unit, which need not be the unit of the project."""
        return as_typed(length, self.unit)

    def exactly(self, length: Mm) -> str:
        """`17.6 mm`, whatever the graduation: for what is measured with a caliper, a thickness or a kerf."""
        text = self.as_typed(length)
        return text if text[-1].isalpha() else f"{text} {self.unit}"
