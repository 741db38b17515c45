"""The order in which laid out sheets are cut: big ones made manageable first, then one setting after another.

What the yard cuts comes before everything, since the sheets are not there yet. What one person
cannot bring to a saw is cut where it lies, sheet by sheet. Of what is left, all sheets together,
everything that a setting of a saw can cut is cut at that setting; or sheet after sheet, where
the person has no room for so many pieces. Which setting comes next
decides how often one must be set again: one that no later piece will ask for comes first, then
the saw that is in use, then rips, then the one that most cuts wait for. That is tried many times
with a little chance in it, from a fixed seed, and the order with the fewest changes is taken.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Hashable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import groupby
from random import Random
from types import MappingProxyType

from core.cuts.apart import Piece, Way, taken_apart
from core.cuts.saws import ShopSaw
from core.cuts.steps import Edge, Keeping, Offcut, SheetToCut, Step
from core.layout.place import Place, common
from core.layout.tree import Node, Spare, walk

TRIES = 60
"""Orders that are made, of which the one with the fewest changes is kept."""
MOST_TRIED = 20_000
"""Cuts in all of these together: large jobs get fewer tries."""
CHANCES = (0, 0, 0, 1, 1, 2)
"""Which of the best settings comes next, where chance has a say."""
NOT_SETTLED: Mapping[str, Edge] = MappingProxyType({})


def order_of(
    sheets: Iterable[SheetToCut],
    saws: Sequence[ShopSaw],
    keeping: Keeping,
    handled: float,
    held: frozenset[str] = frozenset(),
    one_at_a_time: bool = False,
    settled: Mapping[str, Edge] = NOT_SETTLED,
) -> tuple[Step, ...]:
    """The steps that take every sheet apart, numbered from 1. A sheet that is a part as it comes needs none.

    `handled`: the heaviest piece that one person handles, kg. `held`: codes of parts that are cut
    when all others are; until then they stay together with what lies round them. `one_at_a_time`:
    what comes of one sheet is cut up before the next is taken up. `settled`: the edges from which
    pieces were to be cut so far, by their names; that stays as long as it is as good as another.
    """
    wholes = [taken_apart(sheet, saws, keeping) for sheet in sheets]
    at_yard, heads = _at_yard(_cuts_of(wholes, held, settled))
    later: list[_Cut] = []
    order = [*at_yard]
    for of_some in _of_sheets([head for head in heads if not head.held], one_at_a_time):
        order += _in_order(of_some, handled, later)
    for of_some in _of_sheets([*(head for head in heads if head.held), *later], one_at_a_time):
        order += _in_order(of_some, handled, [])
    return tuple(_step(number, cut) for number, cut in enumerate(order, start=1))


def changes_of(steps: Sequence[Step], units: Sequence[Fraction]) -> int:
    """How often a saw is set: once for each run of steps with the same setting. `units`: mm to one, step by step."""
    return _runs((step.saw, step.fence * unit) for step, unit in zip(steps, units, strict=True))


def plain_order(sheets: Iterable[SheetToCut], saws: Sequence[ShopSaw], keeping: Keeping) -> tuple[Step, ...]:
    """Sheet by sheet as the tree has it, each cut before what it makes: what an order is measured against."""
    heads = _cuts_of([taken_apart(sheet, saws, keeping) for sheet in sheets])
    cuts = (cut for head in heads for cut in _with_all_that_wait(head))
    return tuple(_step(number, cut) for number, cut in enumerate(cuts, start=1))


def offcuts_of(root: Node, keeping: Keeping, bad: Sequence[Place] = ()) -> tuple[Offcut, ...]:
    """What no part uses of a sheet, in the order of the walk.

    `keeping` counts in the units of the tree.
    """
    spares = ((one.x, one.y, one.node.length, one.node.width) for one in walk(root) if isinstance(one.node, Spare))
    return tuple(Offcut(*of, keeping.worth_keeping(*of[2:], common(bad, *of))) for of in spares)


def _step(number: int, cut: _Cut) -> Step:
    piece, way = cut.piece, cut.way
    low, high = piece.makes
    first, other = (low, high) if way.keeper == 0 else (high, low)
    assert piece.direction is not None and first is not None
    return Step(
        number=number,
        sheet=piece.sheet.id,
        piece=piece.made.id,
        saw=way.saw,
        direction=piece.direction,
        fence=first.made.width if piece.direction == "rip" else first.made.length,
        edge=way.edge,
        kerf=piece.sheet.kerf,
        pieces=tuple(one.made for one in (first, other) if one is not None),
        weight=piece.weight,
        skims=piece.skims,
        factory=way.factory,
        held=cut.held,
        cannot=way.cannot,
    )


@dataclass(slots=True)
class _Cut:
    """A piece that is cut, the way in which it is, and the cuts that wait for it."""

    piece: Piece
    way: Way
    setting: int = 0
    """Cuts with the same number follow one another without a touch of the saw."""
    waiting: list[_Cut] = field(default_factory=list)
    chain: int = 1
    """How many cuts of the piece, this one with them, follow one another at its setting."""
    gives: bool = False
    """Any part comes of it."""
    held: bool = False
    """All parts that come of it are to be cut when the others are."""

    def goes_on(self) -> list[_Cut]:
        """The cuts that wait for this one and for nothing else."""
        return [one for one in self.waiting if self.held or not one.held]


def _of_sheets(heads: Sequence[_Cut], apart: bool) -> Iterable[Sequence[_Cut]]:
    """All of these in one, or those of each sheet by themselves; pieces on hand go with the sheet that they are of."""
    if not apart:
        return [heads]
    by_sheet: dict[str, list[_Cut]] = {}
    for head in heads:
        by_sheet.setdefault(head.piece.sheet.named.of, []).append(head)
    return by_sheet.values()


def _at_yard(heads: Sequence[_Cut]) -> tuple[list[_Cut], list[_Cut]]:
    """What is cut at the yard, one cut of every sheet after the other, and the first cuts of what comes home.

    It does not wait for what is held back: nobody brings a sheet to the yard again.
    """
    cut_there: list[_Cut] = []
    at_home: list[_Cut] = []
    pending = list(heads)
    while pending:
        last = cut_there[-1].setting if cut_there else -1
        cut = pending.pop(next((place for place, one in enumerate(pending) if one.setting == last), 0))
        if cut.way.saw.kind == "yard":
            cut.held = False
            cut_there.append(cut)
            pending += cut.waiting
        else:
            at_home.append(cut)
    sheets = [head.piece.sheet.id for head in heads]
    return cut_there, sorted(at_home, key=lambda cut: sheets.index(cut.piece.sheet.id))


def _in_order(heads: Sequence[_Cut], handled: float, later: list[_Cut]) -> Iterator[_Cut]:
    """Every cut in the order of work. What is held back, and no head, goes to `later`."""
    light: list[_Cut] = []
    for head in heads:
        pending = [head]
        while pending:
            cut = pending.pop(0)
            if cut.piece.weight <= handled:
                light.append(cut)
                continue
            yield cut
            for one in cut.waiting:
                (later if one.held and not cut.held else pending).append(one)
    every = [cut for head in light for cut in _with_all_that_wait(head, later)]
    remaining = Counter(cut.setting for cut in every)
    best: list[_Cut] = []
    fewest = -1
    for attempt in range(max(1, min(TRIES, MOST_TRIED // max(1, len(every))))):
        order = list(_one_order(light, remaining.copy(), Random(attempt) if attempt else None))
        changes = _touches(order)
        if not attempt or changes < fewest:
            best, fewest = order, changes
        if fewest == len(remaining) + 1:
            break
    # As the trees have it is an order too.
    yield from every if _touches(every) < fewest else best


def _cuts_of(
    wholes: Sequence[Piece], held: frozenset[str] = frozenset(), settled: Mapping[str, Edge] = NOT_SETTLED
) -> list[_Cut]:
    """The first cut of each sheet, with all that wait for it.

    Where two ways are equally good, the settled one is taken, else the one whose setting more cuts can share.
    """
    shared: Counter[Hashable] = Counter()
    pending = list(wholes)
    while pending:
        piece = pending.pop()
        shared.update(_setting(way) for way in piece.ways)
        pending += piece.pieces()
    numbers: dict[Hashable, int] = {}

    def cut_of(piece: Piece) -> _Cut:
        was = settled.get(piece.made.id)
        cut = _Cut(piece, min(piece.ways, key=lambda way: (way.edge != was, -shared[_setting(way)])))
        cut.setting = numbers.setdefault(_setting(cut.way), len(numbers))
        cut.waiting = [cut_of(one) for one in piece.pieces() if one.direction]
        parts = {one.made.part for one in piece.pieces() if one.made.use == "part"}
        cut.gives = bool(parts) or any(one.gives for one in cut.waiting)
        cut.held = cut.gives and parts <= held and all(one.held for one in cut.waiting if one.gives)
        if cut.held:
            # What only saves an offcut waits with the rest.
            for one in _with_all_that_wait(cut):
                one.held = True
        cut.chain += sum(one.chain for one in cut.goes_on() if one.setting == cut.setting)
        return cut

    return [cut_of(whole) for whole in wholes if whole.direction]


def _setting(way: Way) -> Hashable:
    return way.saw, way.setting


def _with_all_that_wait(head: _Cut, later: list[_Cut] | None = None) -> Iterator[_Cut]:
    """A cut and those that wait for it, each before what it makes; with `later` those held back go there instead."""
    pending = [head]
    while pending:
        cut = pending.pop()
        yield cut
        if later is not None and not cut.held:
            later += [one for one in cut.waiting if one.held]
        pending += reversed(cut.waiting if later is None else cut.goes_on())


def _touches(order: Sequence[_Cut]) -> int:
    """How often a fence is set, and a saw taken up."""
    return _runs(cut.setting for cut in order) + _runs(cut.way.saw.name for cut in order)


def _runs(values: Iterable[object]) -> int:
    """How often something else follows, the first among them counted."""
    return sum(1 for _ in groupby(values))


def _one_order(start: Sequence[_Cut], remaining: Counter[int], chance: Random | None) -> Iterator[_Cut]:
    """All cuts, setting by setting. With `chance`, one that is nearly the best may come first."""
    ready: dict[int, list[_Cut]] = {}
    for cut in start:
        ready.setdefault(cut.setting, []).append(cut)
    saw: ShopSaw | None = None

    def rank(setting: int) -> tuple[bool, bool, bool, int]:
        cuts = ready[setting]
        at_hand = sum(cut.chain for cut in cuts)
        rips = any(cut.piece.direction == "rip" for cut in cuts)
        return at_hand < remaining[setting], cuts[0].way.saw is not saw, not rips, -at_hand

    while ready:
        # Equal ones as they came: the sort keeps their order.
        ranked = sorted(ready, key=rank)
        setting = ranked[min(chance.choice(CHANCES), len(ranked) - 1)] if chance else ranked[0]
        queue = ready.pop(setting)
        saw = queue[0].way.saw
        while queue:
            cut = queue.pop(0)
            yield cut
            remaining[setting] -= 1
            queue[:0] = [one for one in cut.goes_on() if one.setting == setting]
            for one in cut.goes_on():
                if one.setting != setting:
                    ready.setdefault(one.setting, []).append(one)
