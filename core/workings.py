"""What follows from a design before any sheet is thought of: the space, the rules, the row, its parts.

Everything wrong in a design is collected, each with its place, and the rest is worked out all
the same: a person who is half way through changing three numbers still sees the piece.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from fractions import Fraction

from core.construction.bench import Built, Goods, place_of
from core.construction.part import Part
from core.construction.row import Standing, build_loose, build_standing, build_top, depth_of, stand, top_joints
from core.construction.rules import Rules, resolve
from core.envelope import Envelope, find_envelope
from core.formulas import Names, Quantity
from core.jobs import Sheet, sheets_of
from core.lengths import Notation
from core.mistakes import Mistake
from core.project import Carcass, Design
from core.solids import Meeting, Misfit, dry_fit

ZERO = Fraction(0)


@dataclass(frozen=True)
class Worked:
    """What follows from a design alone, before any sheet is thought of."""

    design: Design
    notation: Notation
    names: Names
    envelope: Envelope
    rules: Mapping[str, Rules]
    """Of each carcass that could be resolved, by id."""
    goods: Goods
    standing: tuple[Standing, ...]
    placed: tuple[Part, ...]
    """Parts that have a place in the room."""
    parts: tuple[Part, ...]
    """All parts, loose ones last."""
    meetings: tuple[Meeting, ...]
    """Every joint, and every top on what carries it."""
    misfits: tuple[Misfit, ...]
    stock: Mapping[str, tuple[Sheet, ...]]
    kerf: Fraction
    problems: tuple[Mistake, ...]
    """What is wrong in the design, in the order of the work; the rest is worked out all the same."""


class _Problems:
    """Collects what is wrong, so that one mistake does not hide the next."""

    def __init__(self) -> None:
        self._found: list[Mistake] = []

    @contextmanager
    def at(self, where: str = "") -> Iterator[None]:
        """A Mistake inside the block is kept, as lying in `where`, and the work goes on after the block."""
        try:
            yield
        except Mistake as mistake:
            self._found.append(mistake.at(where) if where else mistake)

    def told_once(self) -> tuple[Mistake, ...]:
        """What was found, each sentence once: several places may lean on one bad dimension."""
        return tuple({str(mistake): mistake for mistake in self._found}.values())


def work_out(design: Design) -> Worked:
    """Space, rules, carcasses, tops and loose parts of a design, with all that is wrong in it."""
    problems = _Problems()
    notation = Notation.read("", design.unit)
    with problems.at("show"):
        notation = Notation.read(design.show, design.unit)
    envelope, names, thickness = _measure(design, problems)
    goods = Goods(thickness, design.materials, _banding(design, names, problems), names, notation.with_unit)
    rules = _rules(design, names, problems)
    standing: tuple[Standing, ...] = ()
    if design.row:
        with problems.at("row"):
            width = goods.size(design.row_width, "width") if design.row_width else None
            standing = stand(design.row, width, rules, goods)
    built = _build(design, standing, rules, goods, envelope, problems)
    placed = tuple(part for one in built for part in one.parts)
    meetings = _meetings(built)
    loose: list[Part] = []
    for asked in design.loose:
        with problems.at(f"loose part {asked.name}"):
            loose += build_loose(asked, goods)
    kerf = ZERO
    with problems.at("saw"):
        kerf = names.length(design.saw.kerf, where="kerf", least=ZERO)
    return Worked(
        design=design,
        notation=notation,
        names=names,
        envelope=envelope,
        rules=rules,
        goods=goods,
        standing=standing,
        placed=placed,
        parts=(*placed, *loose),
        meetings=meetings,
        misfits=dry_fit(placed, meetings),
        stock=_stock(design, names, problems),
        kerf=kerf,
        problems=problems.told_once(),
    )


def _measure(design: Design, problems: _Problems) -> tuple[Envelope, Names, dict[str, Fraction]]:
    """The space, the names that formulas may use, and each material's actual thickness.

    Readings and thicknesses are what names stand for, so they can use none.
    """
    bare = Names(design.unit, {}, {})

    def read(text: str, where: str) -> Fraction:
        return bare.length(text, where=where)

    envelope = Envelope(None, None, None, (), None, None, ZERO, ())
    with problems.at("space"):
        envelope = find_envelope(design.space, read)
    thickness: dict[str, Fraction] = {}
    for key, material in design.materials.items():
        with problems.at(f"material {key}"):
            thickness[key] = read(material.actual, "actual thickness")
            if thickness[key] <= 0:
                raise Mistake("a thickness is more than nothing", "actual thickness")
    given = {name: Quantity(value, True) for name, value in thickness.items()}
    for axis in ("width", "depth", "height"):
        value = getattr(envelope, axis)
        if value is not None:
            given[f"clear_{axis}"] = Quantity(value, True)
    names = Names(design.unit, {}, given)
    with problems.at():
        names = Names(design.unit, design.dimensions, given)
        for name in design.dimensions:
            with problems.at():
                names.quantity(name)
    return envelope, names, thickness


def _banding(design: Design, names: Names, problems: _Problems) -> dict[str, Fraction]:
    found = dict.fromkeys(design.bandings, ZERO)
    for key, one in design.bandings.items():
        with problems.at(f"banding {key}"):
            found[key] = names.length(one.thickness, where="thickness", least=ZERO)
    return found


def _stock(design: Design, names: Names, problems: _Problems) -> dict[str, tuple[Sheet, ...]]:
    found: dict[str, tuple[Sheet, ...]] = {}
    for key, material in design.materials.items():
        with problems.at(f"material {key}"):
            sizes = {
                text: names.length(text, where="stock", least=ZERO)
                for one in material.stock
                for text in (one.length, one.width, one.trim.left, one.trim.right, one.trim.bottom, one.trim.top)
            }
            found[key] = sheets_of(material, sizes)
    return found


def _rules(design: Design, names: Names, problems: _Problems) -> dict[str, Rules]:
    found: dict[str, Rules] = {}
    for item in design.row:
        if isinstance(item, Carcass):
            with problems.at(f"carcass {item.id}"):
                layers = (design.rules, item.rules)
                found[item.id] = resolve(names, design.unit, design.materials, design.bandings, *layers)
    return found


def _build(
    design: Design,
    standing: tuple[Standing, ...],
    rules: Mapping[str, Rules],
    goods: Goods,
    envelope: Envelope,
    problems: _Problems,
) -> list[Built]:
    """Each carcass and each top, in the room."""
    depth = depth_of(standing)
    stands_off = ZERO
    with problems.at("space"):
        stands_off = goods.size(design.space.clearance.back, "clearance, back")
    built: list[Built] = []
    for place in standing:
        if place.item.id in rules:
            with problems.at(f"carcass {place.item.id}"):
                built.append(build_standing(place, depth, rules[place.item.id], goods, envelope.baseboard, stands_off))
    for top in design.tops if standing else ():
        with problems.at(f"top {top.id}"):
            built.append(build_top(top, standing, goods))
    return built


def _meetings(built: list[Built]) -> tuple[Meeting, ...]:
    """The joints of everything built, and every top on the sides that carry it."""
    meetings = []
    for one in built:
        by_place = {place_of(part): part for part in one.parts}
        meetings += [Meeting(by_place[joint.one], by_place[joint.other], joint.play) for joint in one.joints]
    placed = tuple(part for one in built for part in one.parts)
    tops = tuple(part for part in placed if part.role == "worktop")
    return (*meetings, *(Meeting(top, under) for top, under in top_joints(tops, placed)))
