"""What to buy: sheets as laid out, banding by length, and the small things that the joints ask for.

Counts of pins are common practice, no source; makers' instructions stand before them.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil

from core.construction.part import Part
from core.construction.row import count_feet
from core.dry_fit import Meeting
from core.fastening import PITCH, UNFASTENED
from core.lengths import FOOT, UNITS
from core.plan import Plan

WASTE = Fraction(11, 10)
"""A tenth more, of banding for ends and mistakes, of finish for what stays in the pot; common practice, no source."""
BROAD = 30
"""mm; an edge wider than this takes another banding, or two strips; common practice, no source."""
BANDING_END = 50
"""Millimetres beyond each length, both ends together; common practice, no source."""
PINS_PER_SHELF = 4
WALL_SCREWS = 4
"""Of each carcass: two above each other in two studs; common practice, no source."""
OUNCES, LITRES = 128, Fraction("3.785411784")
"""Fluid ounces and litres in a US gallon; exact by definition."""
GLUE_FEET = 267
"""Square feet that a gallon of white glue covers at 6 thousandths of an inch; arithmetic."""
FINISH_FEET = 350
"""Square feet a gallon and coat, on smooth boards; 350 to 400 by makers of finishes, trade practice."""
SCREWED = ("drawer front", "end panel", "filler", "plinth", "plinth end")
"""Roles of what is held by screws alone, so that it comes off again."""
BRADS_APART = 150
"""mm; common practice, no source."""


@dataclass(frozen=True, slots=True)
class BuyLine:
    """One thing to get. `price_each` and `cost` in the project's currency, None where no price is known.

    `together`: what they cost where no one price is that of each.
    """

    item: str
    quantity: float
    unit: str
    price_each: float | None
    purpose: str
    bought: bool = False
    together: float | None = None

    @property
    def cost(self) -> float | None:
        """Quantity times price, to the hundredth, or what they cost together."""
        if self.together is not None:
            return round(self.together, 2)
        return None if self.price_each is None else round(self.quantity * self.price_each, 2)


def buying_list(plan: Plan) -> tuple[BuyLine, ...]:
    """Everything the project needs from outside."""
    lines = [*_sheets(plan), *_boards(plan), *_yard(plan), *_banding(plan), *_small_things(plan), *_liquids(plan)]
    have = set(plan.project.facts.bought)
    return tuple(replace(one, bought=one.item in have) for one in lines)


def total(lines: Sequence[BuyLine]) -> float | None:
    """Cost of all lines that have a price; None if none has."""
    costs = [line.cost for line in lines if line.cost is not None]
    return round(sum(costs), 2) if costs else None


def money(amount: float, currency: str) -> str:
    """`$84.50`, `EUR 84.50`: a sign stands close, a word apart."""
    return f"{currency}{' ' if currency[-1:].isalpha() else ''}{amount:.2f}"


def _sheets(plan: Plan) -> list[BuyLine]:
    """One line for each size of sheet.

    A sheet that is begun cost what it cost when it was; one that is still to be got costs what it costs now. Where
    these differ the line has no price each, and says what it is made of. A begun sheet that had no price then is
    counted at that of now, the best figure there is.
    """
    lines = []
    for one in plan.sheets:
        material = plan.project.design.materials[one.material]
        now: dict[str, list[int]] = {}
        for stock in plan.worked.stock.get(one.material, ()):
            now.setdefault(stock.name, []).append(stock.price)
        # What can be had only so often and has no price is at hand already.
        rack = {f"{stock.length} x {stock.width}" for stock in material.stock if stock.quantity and not stock.price}
        # A piece on hand was paid for with the sheet that it came from.
        fresh = [sheet for sheet in one.sheets if not sheet.on_hand]
        taken = [(sheet.stock, sheet.price, True) for sheet in one.on_hand.opened]
        taken += [(sheet.stock, sheet.price, sheet.begun) for sheet in fresh]
        prices: dict[str, list[int]] = {}
        for stock_name, price, paid in taken:
            today = now.get(stock_name, [price])
            prices.setdefault(stock_name, []).append(price if price and (paid or price in today) else today[0])
        for stock_name, each in prices.items():
            pieces = sum(len(sheet.pieces) for sheet in fresh if sheet.stock == stock_name)
            begun = any(sheet.stock == stock_name for sheet in one.on_hand.opened)
            counted_parts = f"{pieces} part{'' if pieces == 1 else 's'}"
            purpose = " and ".join(
                [counted_parts] * bool(pieces or not begun) + ["what is in the shop already"] * begun
            )
            line = BuyLine(f"{material.name}, {stock_name}", len(each), "sheet", each[0] / 100 or None, purpose)
            if stock_name in rack and not any(each):
                line = replace(line, price_each=0.0, purpose=f"{purpose}, from the rack")
            elif len(set(each)) > 1:
                currency = plan.project.design.currency
                counted = (f"{number} at {money(price / 100, currency)}" for price, number in Counter(each).items())
                known = all(each) or stock_name in rack
                line = replace(
                    line,
                    price_each=None,
                    together=sum(each) / 100 if known else None,
                    purpose=f"{purpose}; {', '.join(counted)}" if known else purpose,
                )
            lines.append(line)
    return lines


def _boards(plan: Plan) -> list[BuyLine]:
    lines = []
    for one in plan.boards:
        board = plan.project.design.boards[one.board]
        for (stock, price), number in Counter((bar.stock, bar.price) for bar in one.bars).items():
            pieces = sum(len(bar.pieces) for bar in one.bars if (bar.stock, bar.price) == (stock, price))
            lines.append(BuyLine(f"{board.name}, {stock}", number, "length", price / 100 or None, f"{pieces} parts"))
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
    lengths: dict[tuple[str, bool], Fraction] = {}
    layers = {top.id: top.layers for top in plan.project.design.tops}
    highest: dict[str, Fraction] = {}
    for part in plan.worked.parts:
        if part.role == "worktop":
            highest[part.carcass] = max(highest.get(part.carcass, part.box.low[2]), part.box.low[2])
    for part in plan.worked.parts:
        # One strip goes over all layers of a top.
        over = layers.get(part.carcass, 1) if part.role == "worktop" else 1
        if over > 1 and part.box.low[2] < highest[part.carcass]:
            continue
        for edge in part.edges:
            run = part.length if edge.side.startswith("width") else part.width
            key = edge.banding, part.thickness * over > BROAD
            lengths[key] = lengths.get(key, Fraction(0)) + run + BANDING_END
    lines = []
    for (banding_key, is_broad), length in lengths.items():
        banding = plan.project.design.bandings[banding_key]
        wanted = length * WASTE
        # By the unit of the project, which never changes, and not the way sizes are shown: a price is for one of them.
        inch = plan.project.design.unit == "in"
        quantity, unit = (ceil(wanted / FOOT), "ft") if inch else (ceil(wanted / 100) / 10, "m")
        price = float(banding.price) if banding.price and not is_broad else None
        name, purpose = (
            (f"{banding.name}, broad", "edges of two layers") if is_broad else (banding.name, "edges that show")
        )
        lines.append(BuyLine(name, quantity, unit, price, purpose))
    return lines


def _small_things(plan: Plan) -> list[BuyLine]:
    """Pins, hinges, slides, handles, and what holds the joints and the wall."""
    worked = plan.worked
    roles = Counter(part.role for part in worked.parts)
    lines = []
    if loose := roles["loose shelf"]:
        lines.append(BuyLine("Shelf pins", PINS_PER_SHELF * loose, "piece", None, f"adjustable shelves: {loose}"))
    lines += [
        BuyLine(f"Hinges for {doors}", number, "piece", None, "35 mm cup, with plates")
        for doors, number in _hinges(plan).items()
    ]
    lines += [
        BuyLine(f"Slides, {kind}, {worked.notation.with_unit(length)}", number, "pair", None, "drawers")
        for (kind, length), number in _slides(plan).items()
    ]
    on_feet = [
        (place.foot, feet) for place in worked.standing if (feet := count_feet(place, worked.placed, worked.rules))
    ]
    if on_feet:
        # The last of them stands where the floor is lowest.
        high = worked.notation.with_unit(max(foot for foot, _ in on_feet) + worked.envelope.falls)
        number, told = sum(feet for _, feet in on_feet), f"carcasses on feet: {len(on_feet)}"
        lines.append(BuyLine(f"Feet with threads, to {high}", number, "piece", None, told))
    if fronts := roles["door"] + roles["drawer front"]:
        lines.append(BuyLine("Handles or pulls", fronts, "piece", None, "one a door or drawer; two on a wide drawer"))
    lines += [*_fasteners(plan), *_brads(plan)]
    if boxes := len({part.carcass for part in worked.placed if part.role == "side"}):
        what = "into studs; plugs where there are none"
        lines.append(BuyLine("Screws for the wall", WALL_SCREWS * boxes, "piece", None, what))
    return lines


def _hinges(plan: Plan) -> Counter[str]:
    """How many for each way in which doors lie on the box: they are not the same hinge."""
    found: Counter[str] = Counter()
    for part in plan.worked.parts:
        if part.role == "door":
            rules = plan.worked.rules[part.carcass]
            framed = " before a face frame" if rules.face_frame else ""
            kind = "half overlay" if rules.fronts == "full overlay" and _on_divider(part, plan) else rules.fronts
            found[f"{kind} doors{framed}"] += sum(holes.count for holes in part.holes)
    return found


def _on_divider(door: Part, plan: Plan) -> bool:
    """A door hung on a divider shares its edge with another, also where fronts else cover all of it."""
    place = next(one for one in plan.worked.standing if one.item.id == door.carcass)
    gap = plan.worked.rules[door.carcass].front_gap
    left, right = door.box.low[0] - place.x, place.right - door.box.high[0]
    return (left if door.hand == "left" else right) > gap


def _slides(plan: Plan) -> Counter[tuple[str, Fraction]]:
    """How many pairs of each kind and length, mm: a drawer is as long as its slides."""
    rules = plan.worked.rules
    sides = (part for part in plan.worked.parts if part.role == "drawer side" and part.hand == "left")
    return Counter((rules[part.carcass].slides, part.box.span("y")) for part in sides)


def _fasteners(plan: Plan) -> list[BuyLine]:
    worked = plan.worked
    counted: Counter[tuple[str, str]] = Counter()
    joints: Counter[tuple[str, str]] = Counter()
    moving = {key for key, material in plan.project.design.materials.items() if material.movement}
    for joint in worked.joints:
        if joint.fastener:
            tops = [part for part in joint.meeting.parts if part.role == "worktop"]
            slots = " with washers, for slots" if any(part.material in moving for part in tops) else ""
            key = joint.fastener.kind, f"{joint.fastener.text(worked.notation)}{slots}"
            counted[key] += joint.fastener.count
            joints[key] += 1
    return [
        BuyLine(
            f"{text[0].upper()}{text[1:]}",
            number,
            "piece",
            None,
            f"{_joints(joints[kind, text])}, about {PITCH[kind].text(worked.notation)} apart"
            + (", pilot holes first" if kind in ("screws", "connector screws") else ""),
        )
        for (kind, text), number in counted.items()
    ]


def _liquids(plan: Plan) -> list[BuyLine]:
    """Glue by the area of the joints, finish by that of the parts."""
    worked, inch = plan.worked, plan.project.design.unit == "in"
    if not worked.parts:
        return []
    glued = sum((_area_met(meeting) for meeting in worked.meetings if not meeting.play), Fraction(0))
    faces = sum((2 * part.length * part.width for part in worked.parts), Fraction(0))
    foot = (UNITS["in"] * 12) ** 2
    if inch:
        glue = BuyLine("Wood glue", ceil(glued / foot * OUNCES / GLUE_FEET), "oz", None, "all joints, on one side")
        coat = BuyLine("Finish", ceil(faces / foot * 4 * WASTE / FINISH_FEET), "qt", None, "")
        area = f"{ceil(faces / foot)} ft2"
    else:
        litres = glued / foot * LITRES / GLUE_FEET
        glue = BuyLine("Wood glue", ceil(litres * 10) / 10, "l", None, "all joints, on one side")
        coat = BuyLine("Finish", ceil(faces / foot * LITRES * WASTE / FINISH_FEET * 2) / 2, "l", None, "")
        area = f"{ceil(faces / 10**6)} m2"
    coat = replace(coat, purpose=f"a coat on both faces of everything, {area}; none where boards come finished")
    return [*([glue] if glued else []), coat]


def _area_met(meeting: Meeting) -> Fraction:
    """Over which area two parts are glued, mm2; nothing where one hangs, slides or is only screwed down."""
    roles = [part.role for part in meeting.parts]
    if set(roles) & {*UNFASTENED, *SCREWED} or roles.count("worktop") == 1:
        return Fraction(0)
    least, middle, most = sorted(meeting.one.box.common(meeting.other.box))
    return middle * most if least >= 0 else Fraction(0)


def _brads(plan: Plan) -> list[BuyLine]:
    """What holds a back in the rabbets of the sides, whose ledge is too narrow for screws."""
    rules = plan.worked.rules
    backs = [p for p in plan.worked.placed if p.role == "back" and rules[p.carcass].back == "let in"]
    number = sum(2 * (ceil(back.box.span("z") / BRADS_APART) + 1) for back in backs)
    inch = plan.project.design.unit == "in"
    what = f"backs let in: {len(backs)}, about {'6 in' if inch else '150 mm'} apart in the sides' rabbets"
    return [BuyLine(f"Brads {'1 in' if inch else '25 mm'}", number, "piece", None, what)] if backs else []


def _joints(number: int) -> str:
    return f"{number} joint{'' if number == 1 else 's'}"
