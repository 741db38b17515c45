"""The sheets that a bare list is laid out on, each as one text: `2440x1220, price=58, quantity=3, trim=6`."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from core.jobs import Sheet
from core.lengths import Unit, read_length
from core.mistakes import Mistake

OPTION = "--sheet"
MOST_SHEETS = 20_000
MOST_MONEY = 1_000_000
"""For one sheet; more is a slip of the keyboard."""

_DETAIL = re.compile(r",\s*([A-Za-z]\w*)\s*=")
"""What begins a detail: a comma alone may be a decimal one."""


def read_sheets(texts: Sequence[str], trim: Fraction, unit: Unit, grain: bool) -> list[Sheet]:
    """One kind of sheet for each text; sizes in mm. Raises Mistake.

    `trim`: what each edge loses where the text says nothing of it. Without `grain` the longer side lies along x.
    Sheets of which there are so many and no price are in the shop; where there are several kinds, all others have one.
    """
    sheets = [_read(text, trim, unit) for text in texts]
    if not grain:
        sheets = [_lying(sheet) for sheet in sheets]
    sizes = [(sheet.length, sheet.width) for sheet in sheets]
    for at, sheet in enumerate(sheets):
        if len(sheets) > 1 and not sheet.price and not sheet.on_hand:
            raise Mistake(f"say what {sheet.name!r} costs, as in {sheet.name},price=58.50: there are others", OPTION)
        if any((sheet.price, size) == (one.price, sizes[at]) for one, size in zip(sheets[:at], sizes, strict=False)):
            raise Mistake(f"{sheet.name!r} is given twice at one price; give the quantity of it once", OPTION)
    # There may be some in the shop, and more of the same size to be bought.
    return [
        replace(one, name=f"{one.name} {_where(one)}") if sizes.count(size) > 1 else one
        for one, size in zip(sheets, sizes, strict=True)
    ]


def _where(sheet: Sheet) -> str:
    return "in the shop" if sheet.on_hand else f"at {sheet.price / 100:.2f}"


def _lying(sheet: Sheet) -> Sheet:
    if sheet.width <= sheet.length:
        return sheet
    return replace(sheet, length=sheet.width, width=sheet.length)


def _read(text: str, trim: Fraction, unit: Unit) -> Sheet:
    size, *details = _DETAIL.split(text)
    length, width = _size(size.strip(), unit)
    sheet = Sheet(size.strip(), length, width, (trim,) * 4, None, 0)
    seen = [name.lower() for name in details[::2]]
    for name, detail in zip(seen, details[1::2], strict=True):
        if seen.count(name) > 1:
            raise Mistake(f"{name} of {sheet.name} is given twice", OPTION)
        said = detail.strip()
        match name:
            case "price":
                sheet = replace(sheet, price=_price(said))
            case "quantity":
                sheet = replace(sheet, quantity=_quantity(said))
            case "trim":
                sheet = replace(sheet, trim=(read_size(said, unit, OPTION),) * 4)
            case _:
                raise Mistake(f"{name!r} of {sheet.name} is none of price, quantity, trim", OPTION)
    if "price" in seen and not sheet.price and sheet.quantity is None:
        raise Mistake(f"say how many of {sheet.name!r} there are that cost nothing, as in quantity=2", OPTION)
    return replace(sheet, on_hand=sheet.quantity is not None and not sheet.price)


def read_size(text: str, unit: Unit, option: str) -> Fraction:
    """A length that is not below nothing, mm. Raises Mistake, naming the option."""
    try:
        size = read_length(text, unit)
    except Mistake as mistake:
        raise mistake.at(option) from None
    if size < 0:
        raise Mistake(f"{text!r} is less than nothing", option)
    return size


def _size(text: str, unit: Unit) -> tuple[Fraction, Fraction]:
    if "=" in text:
        raise Mistake(f"{text!r}: what is said of a sheet stands behind a comma, as in 2440x1220,price=58.50", OPTION)
    sides = text.lower().replace("×", "x").split("x")
    if len(sides) != 2:
        raise Mistake(f"{text!r} is no size of a sheet; LENGTHxWIDTH is, such as 2440x1220", OPTION)
    length, width = (read_size(side.strip(), unit, OPTION) for side in sides)
    if not length or not width:
        raise Mistake(f"{text!r} has a side of nothing", OPTION)
    return length, width


def _price(text: str) -> int:
    """In hundredths of the currency."""
    if not re.fullmatch(r"[0-9]{1,9}([.,][0-9]{1,2})?", text) or float(text.replace(",", ".")) > MOST_MONEY:
        raise Mistake(f"the price {text!r} is no amount from 0 to {MOST_MONEY}, such as 58.50", OPTION)
    return round(Fraction(text.replace(",", ".")) * 100)


def _quantity(text: str) -> int:
    if not re.fullmatch("[0-9]{1,9}", text) or not 0 < int(text) <= MOST_SHEETS:
        raise Mistake(f"the quantity {text!r} is no whole number from 1 to {MOST_SHEETS}", OPTION)
    return int(text)
