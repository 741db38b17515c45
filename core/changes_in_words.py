"""What a plan that has to change comes to, for the person who is to accept it."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TypeAlias

from core.buy import buying_list, money, total
from core.cutting import cut_free
from core.held_back import cut_early, early_in_words
from core.lengths import Notation
from core.lying import names_of_several, things_lying
from core.on_hand import Misfit, code_of
from core.plan import Plan
from core.planned_sheet import Lying, PlannedSheet, read_unit
from core.steps_in_words import uncut_in_words


def changes_in_words(before: Plan, after: Plan) -> list[str]:
    """What is to be bought besides, which cuts come and go, which parts come from elsewhere, what has a new name.

    Then what is still missing, what no saw here can cut, what can no longer wait, and what no longer suits.
    """
    misfits = misfits_in_words(after)
    if misfits:
        wanted = any(one.wanted for sheets in after.sheets for one in sheets.misfits)
        choices = "keep, to trim or to make again" if wanted else "put aside or to cut up for others"
        misfits.append(f"Each of these is yours to {choices}: x, and that it no longer suits.")
    return [
        *_to_buy(before, after),
        *_cuts(before, after),
        *_moves(before, after),
        *_new_names(before, after),
        *_machined_otherwise(before, after),
        *_missing(before, after),
        *_uncut(before, after),
        *_waiting_no_more(before, after),
        *misfits,
    ]


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
            names = _names_of_sheets(after, item) - _names_of_sheets(before, item)
            called = f", {' and '.join(sorted(names))}" if len(names) == more else ""
            word = "more" if more > 0 else "less"
            told.append(f"{abs(more):g} sheet{'' if abs(more) == 1 else 's'} {word}: {item}{called}")
    if not told:
        return ["No sheet more is needed."]
    costs = total(buying_list(before)), total(buying_list(after))
    if costs[0] is not None and costs[1] is not None and costs[0] != costs[1]:
        currency = after.project.design.currency
        told.append(f"cost {money(costs[0], currency)} -> {money(costs[1], currency)}")
    return told


def _names_of_sheets(plan: Plan, item: str) -> set[str]:
    """What the sheets of one line of the buying list are called."""
    found = set()
    for one in plan.sheets:
        sheets = [(sheet.id, sheet.stock) for sheet in one.on_hand.opened]
        sheets += [(sheet.id, sheet.stock) for sheet in one.sheets if not sheet.on_hand]
        name = plan.project.design.materials[one.material].name
        found |= {id for id, stock in sheets if f"{name}, {stock}" == item}
    return found


def _cuts(before: Plan, after: Plan) -> list[str]:
    left = {one.number: one.meaning for one in before.steps if not one.done}
    now = [one for one in after.steps if not one.done]
    others = [one for one in now if left.get(one.number) != one.meaning]
    later = [one.number for one in others if one.meaning in left.values()]
    new = [one.number for one in others if one.number not in later]
    stay = len(now) - len(others)
    gone = len(left) - stay - len(later)
    told = []
    if left:
        told = [f"{stay or 'None'} of the {len(left)} cuts that are left stay as they are, under their numbers."]
    if new:
        told.append(f"{_counted(new)}{f' in the place of {gone}' if gone else ''}: step {_in_runs(new)}.")
    elif gone:
        told.append(f"{gone} of them {'is' if gone == 1 else 'are'} not made any more.")
    if later:
        word = "stays" if len(later) == 1 else "stay"
        told.append(f"{len(later)} more {word}, but later, under other numbers: step {_in_runs(later)}.")
    return told


def _counted(new: Sequence[int]) -> str:
    return f"{len(new)} new cut{'' if len(new) == 1 else 's'}"


def _in_runs(numbers: Sequence[int]) -> str:
    """`4, 6 to 9`."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and runs[-1][-1] == number - 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(f"{run[0]} to {run[-1]}" if len(run) > 1 else str(run[0]) for run in runs)


def _moves(before: Plan, after: Plan) -> list[str]:
    """The parts that are made again, and those that come from another piece or sheet, or from elsewhere on theirs."""
    made = cut_free(before.sheets, before.steps)
    comes_from, lay = _comes_from(before), _places(before)
    told = []
    for one in after.sheets:
        for sheet in one.sheets:
            again = [] if sheet.begun else [piece for piece in sheet.pieces if piece in made]
            if again:
                told.append(f"Made again: {listed(again)}, out of {sheet.id}.")
            moved = [p for p in sheet.pieces if p not in made and sheet.id not in comes_from.get(p, ())]
            if moved:
                told.append(f"{listed(moved)} now come{'s' if len(moved) == 1 else ''} from {sheet.id}.")
            others = [one.piece for one in sheet.placed() if not lay.has(one, sheet)]
            others = [piece for piece in others if piece not in made and piece not in moved]
            if others:
                told.append(f"{listed(others)} now lie{'s' if len(others) == 1 else ''} elsewhere on {sheet.id}.")
    return told


Corner: TypeAlias = tuple[str, Fraction, Fraction]
"""Of what lies on a sheet: the sheet, and where on it, mm."""


@dataclass(frozen=True, slots=True)
class _Places:
    parts: Mapping[str, set[Corner]]
    """Where parts lie, by their code: those of one code are alike."""
    origins: Mapping[str, Corner]
    """Where each piece lay that comes of a sheet, by its name."""

    def has(self, lying: Lying, on: PlannedSheet) -> bool:
        """Whether such a part lay there as well: on this sheet, or on the one of which this is a piece."""
        sheet, x, y = self.origins.get(on.id, (on.id, Fraction(0), Fraction(0)))
        return (sheet, x + on.mm(lying.x), y + on.mm(lying.y)) in self.parts.get(code_of(lying.piece), ())


def _places(plan: Plan) -> _Places:
    parts: defaultdict[str, set[Corner]] = defaultdict(set)
    for sheets in plan.sheets:
        for sheet in sheets.sheets:
            for one in sheet.placed():
                parts[code_of(one.piece)].add((sheet.id, sheet.mm(one.x), sheet.mm(one.y)))
    origins = {
        made.id: (one.sheet.id, one.sheet.mm(made.x), one.sheet.mm(made.y))
        for one in plan.steps
        for made in one.step.pieces
    }
    return _Places(parts, origins)


def _comes_from(plan: Plan) -> dict[str, set[str]]:
    """What each part was to be cut from: its sheet, and every piece of that on the way."""
    cut_of = {made.id: one.step.piece for one in plan.steps for made in one.step.pieces}
    found: dict[str, set[str]] = {}
    for one in plan.sheets:
        for sheet in one.sheets:
            for part in sheet.pieces:
                found[part] = {sheet.id}
                piece: str | None = part
                while piece := cut_of.get(piece or ""):
                    found[part].add(piece)
    return found


def listed(pieces: Iterable[str]) -> str:
    """`S1/1, S1/3 to S1/5`: three and more in a row are told by their ends."""
    runs: list[list[str]] = []
    for piece in pieces:
        code, _, number = piece.rpartition("/")
        if runs and number.isdecimal() and runs[-1][-1] == f"{code}/{int(number) - 1}":
            runs[-1].append(piece)
        else:
            runs.append([piece])
    return ", ".join(f"{run[0]} to {run[-1]}" if len(run) > 2 else ", ".join(run) for run in runs)


def _new_names(before: Plan, after: Plan) -> list[str]:
    """The pieces in the shop that have another name than the one pencilled on them, or none yet."""
    # What was only planned bears no name yet, and may become another piece.
    known = {name for one in before.steps if one.done for name in one.names}
    known |= {piece.id for piece in before.project.facts.pieces if not piece.part}
    known |= {sheet.id for one in before.sheets for sheet in one.sheets}
    were = {thing.id: thing.name for thing in things_lying(before).values() if thing.is_part}
    say = after.worked.notation.text
    told = []
    for piece in after.project.facts.pieces:
        if not piece.part and piece.id not in known:
            unit = read_unit(piece.unit, f"of piece {piece.id}")
            was = f" (it was {were[piece.id]})" if piece.id in were else ""
            told.append(f"{piece.id}, {say(piece.length * unit)} x {say(piece.width * unit)}{was}")
    return [f"New name{'s' if len(told) > 1 else ''} to pencil on: {'; '.join(told)}."] if told else []


def _machined_otherwise(before: Plan, after: Plan) -> list[str]:
    """The parts that are cut, and may be machined, of which another machining is asked now."""
    had_then, has_now = (
        {thing.name for thing in things_lying(plan).values() if thing.is_part} for plan in (before, after)
    )
    cut = had_then & has_now

    def machined(plan: Plan) -> dict[str, object]:
        parts = {piece: kind.part for kind in plan.kinds for piece in kind.piece_ids()}
        return {piece: (part.machining, part.holes) for piece, part in parts.items() if piece in cut}

    had, now = machined(before), machined(after)
    other = [piece for piece, machining in now.items() if piece in had and had[piece] != machining]
    if not other:
        return []
    return [f"{listed(other)}: cut already, and to be machined otherwise now; what is machined does not follow"]


def _missing(before: Plan, after: Plan) -> list[str]:
    """The pieces that have lost their place, those of one reason together."""
    had = {piece for one in before.sheets for piece, _ in one.unplaced}
    by_reason: dict[str, list[str]] = {}
    for one in after.sheets:
        for piece, reason in one.unplaced:
            if piece not in had:
                by_reason.setdefault(reason, []).append(piece)
    return [
        f"{listed(pieces)} {'has' if len(pieces) == 1 else 'have'} no place: {reason}"
        for reason, pieces in by_reason.items()
    ]


def _uncut(before: Plan, after: Plan) -> list[str]:
    """The cuts that no saw of this shop can make, and that were not asked for before."""
    had = {one.meaning for one in before.steps if one.step.cannot}
    new = tuple(one for one in after.steps if not one.done and one.meaning not in had)
    return uncut_in_words(replace(after, steps=new))


def _waiting_no_more(before: Plan, after: Plan) -> list[str]:
    """The held back parts that could wait, and now cannot, or not with both their sizes."""
    had = {(one.piece, one.side) for one in cut_early(before)}
    new = (one for one in cut_early(after) if not {(one.piece, one.side), (one.piece, "")} & had)
    return [early_in_words(one, after) for one in new]


def misfits_in_words(plan: Plan) -> list[str]:
    """The parts that are cut and no longer suit, each with by how much."""
    shared = names_of_several(things_lying(plan).values())
    return [misfit_in_words(one, plan.worked.notation, shared) for sheets in plan.sheets for one in sheets.misfits]


def misfit_in_words(one: Misfit, notation: Notation, shared: Collection[str]) -> str:
    """`B1/1 is cut 800 x 299.4; the design now asks for 790 x 299.4: 10 too long`; `shared` as for `cut_and_wanted`."""
    wanted = one.wanted_as_it_lies if one.wanted else None
    return cut_and_wanted(one.piece.part, (one.length, one.width), wanted, one.piece.turned, notation, shared)


def cut_and_wanted(
    piece: str,
    cut: tuple[Fraction, Fraction],
    wanted: tuple[Fraction, Fraction] | None,
    turned: bool,
    notation: Notation,
    shared: Collection[str],
) -> str:
    """A part that is cut, and what is asked for now: sizes as it lay, told as those of the part. mm.

    `shared`: the names that several pieces bear (`names_of_several`): how such are told apart in the shop.
    """
    around = -1 if turned else 1
    marked = f"; another piece bears {piece} too: write the size beside it on this one" if piece in shared else ""

    def size(of: tuple[Fraction, Fraction]) -> str:
        return " x ".join(map(notation.text, of[::around]))

    said = f"{piece} is cut {size(cut)}"
    if wanted is None:
        return f"{said}; it is not wanted now{marked}"
    off = [
        f"{notation.with_unit(abs(is_cut - asked))} too {word[is_cut < asked]}"
        for is_cut, asked, word in zip(
            cut[::around], wanted[::around], (("long", "short"), ("wide", "narrow")), strict=True
        )
        if is_cut != asked
    ]
    return f"{said}; the design now asks for {size(wanted)}: {', '.join(off)}{marked}"
