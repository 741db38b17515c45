"""What to buy: sheets as laid out, banding by length, and the small things that the joints ask for.

Counts of pins are common practice, no source; makers' instructions stand before them.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from core.fastening import PITCH, fastener_of
from core.lengths import FOOT
from core.plan import Plan

BANDING_WASTE = Fraction(11, 10)
"""A tenth more for ends and mistakes; common practice, no source."""
BANDING_END = 50
"""Millimetres beyond each length, both ends together; common practice, no source."""
PINS_PER_SHELF = 4


@dataclass(frozen=True, slots=True)
class BuyLine:
    """One thing to get. `price_each` and `cost` in the project's currency, None where no price is known."""

    item: str
    quantity: float
    unit: str
    price_each: float | None
    purpose: str
    bought: bool = False

    @property
    def cost(self) -> float | None:
        """Quantity times price, to the hundredth."""
        return None if self.price_each is None else round(self.quantity * self.price_each, 2)


def buying_list(plan: Plan) -> tuple[BuyLine, ...]:
    """Everything the project needs from outside."""
    lines = [*_sheets(plan), *_yard(plan), *_banding(plan), *_small_things(plan)]
    have = set(plan.project.facts.bought)
    return tuple(
        BuyLine(one.item, one.quantity, one.unit, one.price_each, one.purpose, one.item in have) for one in lines
    )


def total(lines: Sequence[BuyLine]) -> float | None:
    """Cost of all lines that have a price; None if none has."""
    costs = [line.cost for line in lines if line.cost is not None]
    return round(sum(costs), 2) if costs else None


def money(amount: float, currency: str) -> str:
    """`$84.50`, `EUR 84.50`: a sign stands close, a word apart."""
    return f"{currency}{' ' if currency[-1:].isalpha() else ''}{amount:.2f}"


def _sheets(plan: Plan) -> list[BuyLine]:
    lines = []
    for one in plan.sheets:
        material = plan.project.design.materials[one.material]
        # A piece on hand was paid for with the sheet that it came from.
        fresh = [sheet for sheet in one.sheets if not sheet.on_hand]
        opened = [(sheet.stock, sheet.price) for sheet in one.on_hand.opened]
        counted = Counter([*opened, *((sheet.stock, sheet.price) for sheet in fresh)])
        rack = {f"{stock.length} x {stock.width}" for stock in material.stock if stock.quantity and not stock.price}
        for (stock, price), number in counted.items():
            pieces = sum(len(sheet.pieces) for sheet in fresh if (sheet.stock, sheet.price) == (stock, price))
            begun = (stock, price) in opened
            counted_parts = f"{pieces} part{'' if pieces == 1 else 's'}"
            parts = " and ".join([counted_parts] * bool(pieces or not begun) + ["what is in the shop already"] * begun)
            # What can be had only so often and has no price is at hand already.
            each, purpose = (0.0, f"{parts}, from the rack") if stock in rack else (price / 100 or None, parts)
            lines.append(BuyLine(f"{material.name}, {stock}", number, "sheet", each, purpose))
    return lines


def _yard(plan: Plan) -> list[BuyLine]:
    """What whoever sells the sheets takes for cutting them."""
    fees = {saw.name: saw.fee for saw in plan.project.design.saws if saw.kind == "yard"}
    past = Counter(step.saw for step in plan.project.facts.history)
    now = Counter(planned.step.saw.name for planned in plan.steps)
    return [
        BuyLine(f"Cuts at {name}", number, "cut", float(fee) if fee else None, "sheets made manageable")
        for name, fee in fees.items()
        if (number := now[name] + past[name])
    ]


def _banding(plan: Plan) -> list[BuyLine]:
    lengths: dict[str, Fraction] = {}
    for part in plan.worked.parts:
        for edge in part.edges:
            run = part.length if edge.side.startswith("width") else part.width
            lengths[edge.banding] = lengths.get(edge.banding, Fraction(0)) + run + BANDING_END
    lines = []
    for key, length in lengths.items():
        banding = plan.project.design.bandings[key]
        wanted = length * BANDING_WASTE
        # By the unit of the project, which never changes, and not the way sizes are shown: a price is for one of them.
        inch = plan.project.design.unit == "in"
        quantity, unit = (ceil(wanted / FOOT), "ft") if inch else (ceil(wanted / 100) / 10, "m")
        price = float(banding.price) if banding.price else None
        lines.append(BuyLine(banding.name, quantity, unit, price, "edges that show"))
    return lines


def _small_things(plan: Plan) -> list[BuyLine]:
    """Pins, hinges, slides, and what holds the joints."""
    worked = plan.worked
    roles = Counter(part.role for part in worked.parts)
    lines = []
    if loose := roles["loose shelf"]:
        lines.append(BuyLine("Shelf pins", PINS_PER_SHELF * loose, "piece", None, f"{loose} adjustable shelves"))
    cups = sum(holes.count for part in worked.parts for holes in part.holes if part.role == "door")
    if cups:
        doors = f"{roles['door']} door{'' if roles['door'] == 1 else 's'}"
        lines.append(BuyLine("Hinges, concealed, 35 mm cup, with plates", cups, "piece", None, doors))
    lines += [
        BuyLine(f"Slides, {kind}, {worked.notation.with_unit(length)}", number, "pair", None, "drawers")
        for (kind, length), number in _slides(plan).items()
    ]
    return [*lines, *_fasteners(plan)]


def _slides(plan: Plan) -> Counter[tuple[str, Fraction]]:
    """How many pairs of each kind and length, mm: a drawer is as long as its slides."""
    rules = plan.worked.rules
    bottoms = (part for part in plan.worked.parts if part.role == "drawer side" and part.hand == "left")
    return Counter((rules[part.carcass].slides, part.box.span("y")) for part in bottoms)


def _fasteners(plan: Plan) -> list[BuyLine]:
    worked, unit = plan.worked, plan.project.design.unit
    counted: Counter[tuple[str, str]] = Counter()
    joints: Counter[tuple[str, str]] = Counter()
    for meeting in worked.meetings:
        fastener = fastener_of(meeting, worked.rules.get(meeting.one.carcass), unit)
        if fastener:
            key = fastener.kind, fastener.text(worked.notation)
            counted[key] += fastener.count
            joints[key] += 1
    return [
        BuyLine(
            f"{text[0].upper()}{text[1:]}",
            number,
            "piece",
            None,
            f"{joints[kind, text]} joints, about {PITCH[kind].text(worked.notation)} apart, pilot holes first",
        )
        for (kind, text), number in counted.items()
    ]
