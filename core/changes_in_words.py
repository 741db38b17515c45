"""What a plan that has to change comes to, for the person who is to accept it."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction

from core.buy import buying_list, money, total
from core.lengths import Notation
from core.on_hand import Misfit
from core.plan import Plan


def changes_in_words(before: Plan, after: Plan) -> list[str]:
    """What is to be bought besides, which cuts come and go, what is still missing, what no longer suits."""
    misfits = misfits_in_words(after)
    if misfits:
        misfits.append("Each of these is yours to keep, to trim or to make again: x, and that it no longer suits.")
    return [*_to_buy(before, after), *_cuts(before, after), *_missing(after), *misfits]


def sheets_to_buy(plan: Plan) -> dict[str, int]:
    """How many of each size of sheet, those that were opened already among them."""
    found: Counter[str] = Counter()
    for line in buying_list(plan):
        if line.unit == "sheet":
            found[line.item] += int(line.quantity)
    return dict(found)


def buys_more(before: Plan, after: Plan) -> bool:
    """Whether any size of sheet has to be bought more often."""
    had = sheets_to_buy(before)
    return any(number > had.get(item, 0) for item, number in sheets_to_buy(after).items())


def _to_buy(before: Plan, after: Plan) -> list[str]:
    had, now = sheets_to_buy(before), sheets_to_buy(after)
    told = []
    for item in {**had, **now}:
        more = now.get(item, 0) - had.get(item, 0)
        if more:
            told.append(f"{abs(more):g} sheet{'' if abs(more) == 1 else 's'} {'more' if more > 0 else 'less'}: {item}")
    if not told:
        return ["No sheet more is needed."]
    costs = total(buying_list(before)), total(buying_list(after))
    if costs[0] is not None and costs[1] is not None and costs[0] != costs[1]:
        currency = after.project.design.currency
        told.append(f"cost {money(costs[0], currency)} -> {money(costs[1], currency)}")
    return told


def _cuts(before: Plan, after: Plan) -> list[str]:
    left = {one.number for one in before.steps if not one.done}
    now = [one.number for one in after.steps if not one.done]
    new = [number for number in now if number not in left]
    stay = len(now) - len(new)
    told = [f"{stay} of the {len(left)} cuts that are left stay as they are, under their numbers."] if left else []
    if new:
        cuts = f"{len(new)} new cut{'' if len(new) == 1 else 's'}"
        gone = f" in the place of {len(left) - stay}" if len(left) > stay else ""
        told.append(f"{cuts}{gone}: step {new[0]}" + (f" to {new[-1]}." if len(new) > 1 else "."))
    made = {piece for one in before.sheets for piece in one.made} | _freed(before)
    for one in after.sheets:
        for sheet in one.sheets:
            again = [] if sheet.begun else [piece for piece in sheet.pieces if piece in made]
            if again:
                told.append(f"Made again: {', '.join(again)}, out of {sheet.id}.")
    return told


def _freed(plan: Plan) -> set[str]:
    """The parts that ticked steps have made."""
    return {made.id for one in plan.steps if one.done for made in one.step.pieces if made.use == "part"}


def _missing(plan: Plan) -> list[str]:
    return [f"{piece} has no place: {reason}" for one in plan.sheets for piece, reason in one.unplaced]


def misfits_in_words(plan: Plan) -> list[str]:
    """The parts that are cut and no longer suit, each with by how much."""
    return [misfit_in_words(one, plan.worked.notation) for sheets in plan.sheets for one in sheets.misfits]


def misfit_in_words(one: Misfit, notation: Notation) -> str:
    """`B1/1 is cut 800 x 299.4; the design now asks for 790 x 299.4: 10 too long`."""
    said = f"{one.piece.part} is cut {notation.text(one.length)} x {notation.text(one.width)}"
    if one.wanted is None:
        return f"{said}; it is not wanted now"
    length, width = one.wanted_as_it_lies
    off = [
        f"{notation.with_unit(abs(by))} too {word[by < 0]}"
        for by, word in (
            (one.length - length, ("long", "short")),
            (one.width - width, ("wide", "narrow")),
        )
        if by != Fraction(0)
    ]
    return f"{said}; the design now asks for {notation.text(length)} x {notation.text(width)}: {', '.join(off)}"
