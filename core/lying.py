"""What lies in the shop now, by the names that are pencilled on it: parts, pieces that wait to be cut, sheets."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction

from core.grafting import numbers_in
from core.layout.tree import Node, Placed, walk
from core.on_hand import code_of
from core.plan import Plan
from core.planned_sheet import PlannedSheet, read_unit


@dataclass(frozen=True, slots=True)
class Thing:
    """A piece with a name, mm, as it lay on its sheet. `is_part`: it has been cut to be one."""

    name: str
    """What is pencilled on it."""
    material: str
    length: Fraction
    width: Fraction
    is_part: bool = False
    fresh: bool = False
    """It is a sheet of the stock that nothing has been cut of."""
    turned: bool = False
    """It is a part whose own length lay along the width."""
    suits: bool = True
    """False of a part of which the design now asks another size, or none."""
    number: str = ""
    """The name of a part's piece among those of its sheet: what an older and a newer one are told apart by."""

    @property
    def id(self) -> str:
        """What is in the shop under no other name: that of its piece on hand, once stock is taken."""
        return self.number or self.name

    def as_called(self, length: Fraction, width: Fraction) -> tuple[Fraction, Fraction]:
        """What lay along and across is the length and the width of a part that lay turned the other way round."""
        return (width, length) if self.turned else (length, width)


def things_lying(plan: Plan) -> dict[str, Thing]:
    """Everything that has a name and is not cut up: what came off last comes first.

    By what is pencilled on it; where several bear the name of one part, by that on the one that suits, and by the
    others' numbers.
    """
    things = list(_things(plan))
    bearers: dict[str, str] = {}
    for thing in sorted(things, key=lambda one: not one.suits):
        bearers.setdefault(thing.name, thing.id)
    return {one.name if bearers[one.name] == one.id else one.id: one for one in things}


def _things(plan: Plan) -> Iterator[Thing]:
    cut = {one.step.piece for one in plan.steps if one.done}
    sheets = [sheet for one in plan.sheets for sheet in one.sheets]
    numbers = {(sheet.id, piece): number for sheet in sheets for number, piece in _numbered_parts(sheet)}
    turned = {number for sheet in sheets for number, node in _nodes(sheet.laid_out or sheet) if _is_turned(node)}
    for planned in reversed(plan.steps):
        if not planned.done:
            continue
        mm = planned.sheet.mm
        for made, name in zip(planned.step.pieces, planned.names, strict=True):
            # What no longer suits is no part of the plan any more, but is pencilled as one.
            part = bool(code_of(name))
            if made.id in cut or (made.use == "waste" and not part):
                continue
            suits = made.use == "part" or not part
            number = numbers[planned.sheet.id, made.id] if made.use == "part" else made.id.rstrip("x")
            yield Thing(
                name,
                planned.sheet.material,
                mm(made.length),
                mm(made.width),
                part,
                turned=part and number in turned,
                suits=suits,
                number=number if part else "",
            )
    unsuited = {one.piece.id for sheets in plan.sheets for one in sheets.misfits}
    for piece in reversed(plan.project.facts.pieces):
        if piece.id not in cut:
            unit, part = read_unit(piece.unit, f"of piece {piece.id}"), bool(piece.part)
            yield Thing(
                piece.part or piece.id,
                piece.material,
                piece.length * unit,
                piece.width * unit,
                part,
                turned=part and piece.turned,
                suits=piece.id not in unsuited,
                number=piece.id if part else "",
            )
    for sheet in sheets:
        if not sheet.begun and not sheet.on_hand:
            yield Thing(sheet.id, sheet.material, sheet.mm(sheet.length), sheet.mm(sheet.width), fresh=True)


def names_of_several(things: Iterable[Thing]) -> set[str]:
    """What is pencilled on more than one of the things that lie in the shop."""
    return {name for name, bearers in Counter(one.name for one in things).items() if bearers > 1}


def called_in_lists(plan: Plan) -> dict[str, str]:
    """What each thing is called where one is to be chosen, by its `id`: those that bear one name also by their size."""
    things = things_lying(plan).values()
    bearers = Counter(one.name for one in things)
    say = plan.worked.notation.text
    found: dict[str, str] = {}
    for one in things:
        told = [] if bearers[one.name] == 1 else [" x ".join(map(say, one.as_called(one.length, one.width)))]
        told += ["no longer suits"] if told and not one.suits else []
        label = f"{one.name} ({', '.join(told)})" if told else one.name
        found[one.id] = f"{label}, {one.id}" if label in found.values() else label
    return found


def _numbered_parts(sheet: PlannedSheet) -> Iterator[tuple[str, str]]:
    """Each part of a sheet by the name that its piece has among those of the sheet: `ply-1.9` and `S1/1`."""
    parts = iter(sheet.pieces)
    yield from ((number, next(parts)) for number, node in _nodes(sheet) if isinstance(node, Placed))


def _nodes(sheet: PlannedSheet) -> Iterator[tuple[str, Node]]:
    """A sheet, or piece on hand, and every piece that comes of it, by its name."""
    names = [sheet.id, *(f"{sheet.named.of}.{number}" for number in numbers_in(sheet))]
    for name, spot in zip(names, walk(sheet.root), strict=True):
        yield name, spot.node


def _is_turned(node: Node) -> bool:
    return isinstance(node, Placed) and node.turned
