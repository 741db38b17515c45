"""The cuts of a project: the steps of every sheet, which of them are ticked, and which may be next.

A step is known by the piece that it cuts: ticks name that, so they stay right whatever number
the step has. Its number is given when cutting begins, is stored, and never means another cut.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise
from typing import NamedTuple

from core.cuts.order import changes_of, order_of, plain_order
from core.cuts.saws import ONE_PERSON, ShopSaw
from core.cuts.steps import EDGES, OPPOSITE, AsCut, Edge, SheetToCut, Step
from core.layout.tree import Cut, Node
from core.mistakes import Mistake
from core.own_units import RoundSize
from core.planned_sheet import KEEPING, PlannedSheet, read_kerf
from core.project import CutMade, Facts, PastStep
from core.sheets import MaterialSheets

SHORT = RoundSize(12, 300)
"""Along the fence, under which a sled is taken; common practice, no source."""

CutPiece = tuple[str, str]
"""The sheet, and the piece of it that is cut."""


@dataclass(frozen=True, slots=True)
class PlannedStep:
    """A step in the order of the whole project."""

    step: Step
    sheet: PlannedSheet
    done: bool
    pencilled: tuple[str, ...] = ()
    """If it is done, what the pieces that it made were called then: the design may have moved on since."""

    @property
    def names(self) -> tuple[str, ...]:
        """What the pieces that it makes are called: if it is done, as they were then."""
        made = self.step.pieces
        return self.pencilled if len(self.pencilled) == len(made) else tuple(one.id for one in made)

    @property
    def number(self) -> int:
        """What it is called by, once and for all; lower ones come first."""
        return self.step.number

    @property
    def meaning(self) -> tuple[str, str, Fraction, Edge]:
        """What is done at it, fence in mm: for whoever has its number on paper, that must not be another cut."""
        step = self.step
        return step.piece, step.direction, self.sheet.mm(step.fence), step.edge

    @property
    def extents(self) -> tuple[Fraction, Fraction, Fraction]:
        """From fence to blade, along the cut, and across the whole piece, mm."""
        step, mm = self.step, self.sheet.mm
        rip = step.direction == "rip"
        across = sum((made.width if rip else made.length) for made in step.pieces) + step.kerf * (len(step.pieces) - 1)
        along = step.pieces[0].length if rip else step.pieces[0].width
        return mm(step.fence), mm(along), mm(across)

    @property
    def cut(self) -> CutPiece:
        """What it cuts: by this it is known."""
        return self.step.sheet, self.step.piece


@dataclass(frozen=True, slots=True)
class MaterialOrder:
    """The steps of one material in the order of work."""

    sheets: MaterialSheets
    steps: tuple[Step, ...]
    plain_changes: int
    """How often a saw would be set if every sheet were cut by itself as its tree has it."""


def handled_by_one(saws: Sequence[ShopSaw]) -> float:
    """The heaviest piece that one person brings to a saw of this shop, kg."""
    return max((saw.most_weight for saw in saws if saw.most_weight is not None), default=ONE_PERSON)


def order_material(
    sheets: MaterialSheets,
    saws: Sequence[ShopSaw],
    kilograms: float,
    held: frozenset[str] = frozenset(),
    one_at_a_time: bool = False,
    ticks: Sequence[CutMade] = (),
) -> MaterialOrder:
    """The order of cuts of one material, a square millimetre of which weighs so many kilograms.

    `held`: codes of parts that are cut last. `one_at_a_time`: one sheet is cut up before the next. `ticks`: cuts
    that were made otherwise than they would be now, and stay as they were made.
    """
    to_cut = [
        SheetToCut(
            sheet.id,
            sheet.root,
            sheet.pieces,
            sheet.kerf,
            sheet.unit,
            kilograms * float(sheet.mm(sheet.length) * sheet.mm(sheet.width)),
            sheet.trim,
            frozenset(sheet.sawn),
            not sheet.on_hand,
            sheet.named,
            sheet.bad,
            _first_cuts(sheet),
            sheet.over,
            {tick.piece: how for tick in ticks if tick.sheet == sheet.id and (how := _as_cut(tick, saws))},
        )
        for sheet in sheets.sheets
    ]
    if not to_cut:
        return MaterialOrder(sheets, (), 0)
    settled = {piece: given.edge for piece, given in read_steps(sheets.steps).items() if given.edge}
    steps = order_of(to_cut, saws, KEEPING, handled_by_one(saws), held, one_at_a_time, settled)
    units = {sheet.id: sheet.unit for sheet in to_cut}
    plain = plain_order(to_cut, saws, KEEPING)
    return MaterialOrder(sheets, steps, changes_of(plain, [units[step.sheet] for step in plain]))


def _as_cut(tick: CutMade, saws: Sequence[ShopSaw]) -> AsCut | None:
    """How a ticked cut was made; None where that was not stored, or cannot be read."""
    edge = next((edge for edge in EDGES if edge == tick.edge), None)
    if not tick.saw or edge is None:
        return None
    now = next((saw for saw in saws if saw.name == tick.saw), ShopSaw(tick.saw, "any", Fraction(0)))
    return AsCut(replace(now, kerf=read_kerf(tick.kerf, tick.piece)), edge, tick.makes)


def made_otherwise(order: MaterialOrder, ticks: Sequence[CutMade], saws: Sequence[ShopSaw]) -> tuple[CutMade, ...]:
    """The ticks of these sheets, if any of them was made by another saw or from another edge than it would be now.

    Or before another cut that would now come first. All of them: what one cut leaves too large decides how the next
    is made.
    """
    here = {sheet.id for sheet in order.sheets.sheets}
    of_order = tuple(tick for tick in ticks if tick.sheet in here)
    now = {(step.sheet, step.piece): (step.saw.name, step.saw.kerf, step.edge) for step in order.steps}
    done = {(tick.sheet, tick.piece) for tick in of_order}
    made_late = any(
        (step.sheet, step.piece) not in done and any((step.sheet, one.id) in done for one in step.pieces)
        for step in order.steps
    )
    if made_late and all(tick.saw for tick in of_order):
        return of_order
    for tick in of_order:
        was = _as_cut(tick, saws)
        if was and now.get((tick.sheet, tick.piece)) != (was.saw.name, was.saw.kerf, was.edge):
            return of_order
    return ()


def settings_needed(steps: Sequence[PlannedStep]) -> int:
    """How often a saw is set for these steps, in their order."""
    return changes_of([one.step for one in steps], [one.sheet.unit for one in steps])


def _first_cuts(sheet: PlannedSheet) -> int:
    """How many first cuts of its stock a sheet begins with; it may have been laid out before they were asked for."""
    node: Node | None = sheet.root
    found = 0
    for first in sheet.first_cuts:
        if not isinstance(node, Cut) or node.direction != first.direction or node.low is None:
            continue
        if sheet.mm(node.low.length if first.direction == "crosscut" else node.low.width) == first.at:
            node, found = node.low, found + 1
    return found


def number_steps(orders: Sequence[MaterialOrder], ticks: Sequence[CutMade], given: int = 0) -> tuple[PlannedStep, ...]:
    """Every step under its number, the lowest first.

    A step whose number is stored has that. The others come after all of these, and after
    `given`, the highest number that there has been: those at the yard, then the rest material by
    material, then what is held back.
    """
    stored = [read_steps(order.sheets.steps) for order in orders]
    highest = max([given, *(one.number for numbers in stored for one in numbers.values())])
    done = {(tick.sheet, tick.piece): tick for tick in ticks}
    of_steps: list[tuple[Step, PlannedSheet, int]] = []
    for order, numbers in zip(orders, stored, strict=True):
        # A sheet that was laid out anew may have the names of another one that it takes the place of.
        stand = {
            sheet.id for sheet in order.sheets.sheets if order.sheets.accepted or sheet.id in order.sheets.standing
        }
        sheets = {sheet.id: sheet for sheet in order.sheets.sheets}
        for step in order.steps:
            known = numbers.get(step.piece, NEW)
            if step.sheet not in stand or step.piece in order.sheets.otherwise:
                known = NEW
            elif known.edge != step.edge and known.edge and (step.sheet, step.piece) not in done:
                # What lay at the fence is no keeper any more: on paper it reads otherwise.
                known = NEW
            of_steps.append((step, sheets[step.sheet], known.number))
    planned: list[PlannedStep] = []
    made_by: dict[CutPiece, int] = {}
    before_held = 0
    for step, sheet, number in sorted(of_steps, key=lambda one: _turn(one[0])):
        tick = done.get((step.sheet, step.piece))
        if number <= made_by.get((step.sheet, step.piece), 0) or (step.held and not tick and number <= before_held):
            # A stored number that comes before that of the step which makes the piece is no order, nor is one of a
            # cut that is held back before others of a plan that has changed.
            number = highest = highest + 1
        made_by.update({(step.sheet, piece.id): number for piece in step.pieces})
        if not step.held:
            before_held = max(before_held, number)
        # What was cut with other parts, which are not wanted now, was not held back then.
        held = step.held and (tick is None or number > before_held)
        numbered = replace(step if tick is None else _as_made(step, tick), number=number, held=held)
        planned.append(PlannedStep(numbered, sheet, tick is not None, tick.makes if tick else ()))
    return tuple(sorted(planned, key=lambda one: one.number))


def _turn(step: Step) -> int:
    """No sheet is brought home before all that are cut at the yard are; no carcass stands before all of it is cut."""
    if step.saw.kind == "yard":
        return 0
    return 2 if step.held else 1


def _as_made(step: Step, tick: CutMade) -> Step:
    """A step as it was when it was ticked: what lay at the fence then, whatever the design has done to it since."""
    if len(step.pieces) < 2:
        return step
    first, other = step.pieces
    if first.id in tick.makes[1:] or other.id in tick.makes[:1]:
        fence = other.width if step.direction == "rip" else other.length
        first, other = other, first
        step = replace(step, fence=fence, edge=OPPOSITE[step.edge])
    if first.use == "waste":
        # It was kept then, and is there.
        first = replace(first, use="offcut")
    return replace(step, pieces=(first, other))


class Given(NamedTuple):
    """A step's number, and the edge that it is measured from, so that both stay."""

    number: int
    edge: Edge | None = None


NEW = Given(0)


def read_steps(text: str) -> dict[str, Given]:
    """What is given to steps, by the pieces that they cut: `1 birch-1:bottom birch-1.1:left 7 birch-1.3:top`."""
    found: dict[str, Given] = {}
    number = 0
    for word in text.split():
        if word.isdecimal():
            number = int(word[:9]) - 1
            continue
        number += 1
        piece, _, told = word.rpartition(":")
        edge = next((edge for edge in EDGES if edge == told), None)
        found[piece if edge else word] = Given(number, edge)
    return found


def write_steps(steps: Sequence[PlannedStep]) -> str:
    """What `read_steps` reads."""
    words: list[str] = []
    for before, one in pairwise((None, *steps)):
        assert one is not None
        if before is None or one.number != before.number + 1:
            words.append(str(one.number))
        words.append(f"{one.step.piece}:{one.step.edge}")
    return " ".join(words)


def tick_for(steps: Sequence[PlannedStep], number: int, when: str) -> CutMade:
    """The tick of a step. Raises Mistake if it is ticked already, or if its piece has not been cut free yet."""
    chosen = step_of(steps, number)
    if chosen.done:
        raise Mistake(f"step {number} is ticked already")
    maker = maker_of(steps, chosen)
    if maker and not maker.done:
        raise Mistake(f"step {number} cuts {chosen.step.piece}, which step {maker.number} makes: tick that first")
    return _tick(chosen.step, when)


def _tick(step: Step, when: str) -> CutMade:
    makes = tuple(piece.id for piece in step.pieces)
    return CutMade(step.sheet, step.piece, makes, when, step.saw.name, str(step.saw.kerf), step.edge)


def step_of(steps: Sequence[PlannedStep], number: int) -> PlannedStep:
    """The step of that number. Raises Mistake where there is none."""
    for one in steps:
        if one.number == number:
            return one
    told = f"; there are {steps[0].number} to {steps[-1].number}" if steps else ""
    raise Mistake(f"there is no step {number}{told}")


def check_untick(steps: Sequence[PlannedStep], number: int) -> None:
    """Raises Mistake if the step is not ticked, or if what it makes has been cut since."""
    chosen = step_of(steps, number)
    if not chosen.done:
        raise Mistake(f"step {number} is not ticked")
    made = {piece.id for piece in chosen.step.pieces}
    for later in steps:
        if later.done and later.step.sheet == chosen.step.sheet and later.step.piece in made:
            raise Mistake(f"step {later.number} has cut {later.step.piece} since: un-tick that first")


def maker_of(steps: Sequence[PlannedStep], chosen: PlannedStep) -> PlannedStep | None:
    """The step that makes the piece which `chosen` cuts; None where that is a whole sheet."""
    for earlier in steps:
        same_sheet = earlier.step.sheet == chosen.step.sheet
        if same_sheet and any(piece.id == chosen.step.piece for piece in earlier.step.pieces):
            return earlier
    return None


def last_cut(facts: Facts) -> CutMade | PastStep | None:
    """The cut that was made last, those before a change of plan among them; None where none was."""
    made: list[CutMade | PastStep] = [*facts.history, *facts.cuts]
    return max(reversed(made), key=lambda one: one.when, default=None)


def last_made(steps: Sequence[PlannedStep], facts: Facts) -> int:
    """The number of the step that was ticked last, those before a change of plan among them; 0 where none was."""
    last = last_cut(facts)
    if isinstance(last, CutMade):
        return next((one.number for one in steps if one.cut == (last.sheet, last.piece)), 0)
    return last.number if last else 0


def ticks_through(steps: Sequence[PlannedStep], number: int, when: str) -> tuple[CutMade, ...]:
    """The ticks that are still missing up to and with a step: for whoever worked from paper."""
    step_of(steps, number)
    return tuple(_tick(one.step, when) for one in steps if one.number <= number and not one.done)


def cut_free(sheets: Iterable[MaterialSheets], steps: Iterable[PlannedStep]) -> set[str]:
    """The pieces of parts, `S1/1`, that are made: on the sheets that are being cut, and before these were planned."""
    now = {piece.id for one in steps if one.done for piece in one.step.pieces if piece.use == "part"}
    return now.union(*(one.made for one in sheets))


def is_final(steps: Sequence[PlannedStep], chosen: PlannedStep, piece: str) -> bool:
    """Whether a piece that a step makes is cut that way no more, so that its size across the cut stays."""
    pending = [piece]
    cuts = {one.step.piece: one.step for one in steps}
    while pending:
        step = cuts.get(pending.pop())
        if step is not None:
            if step.direction == chosen.step.direction and not step.skims:
                return False
            pending += [made.id for made in step.pieces]
    return True
