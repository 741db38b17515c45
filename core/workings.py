"""What follows from a design before any sheet is thought of: the space, the rules, the row, its parts.

Everything wrong in a design is collected, each with its place, and the rest is worked out all
the same: a person who is half way through changing three numbers still sees the piece.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, replace
from fractions import Fraction

from core.banding import banded, check_part_told
from core.construction.bench import Built
from core.construction.closing import build_end_panel, build_filler, rules_of_row, turn_of
from core.construction.codes import place_key
from core.construction.goods import DENSE, Goods, Section
from core.construction.hands import handed
from core.construction.part import Box, Part
from core.construction.row import Profile, Standing, build_loose, build_standing, check_row, depth_of, stand
from core.construction.rule_book import Rules
from core.construction.rules import resolve
from core.construction.tops import build_top, rules_of_tops, under_tops
from core.cuts.saws import ShopSaw
from core.dry_fit import Coming, Meeting, Misfit, Moving, dry_fit
from core.envelope import Envelope, find_envelope
from core.evening import evened
from core.fastening import Fastened, fastened
from core.formulas import Names, Quantity, parse_field
from core.jobs import Sheet, sheets_of
from core.lengths import UNITS, Notation, Unit
from core.mistakes import Mistake
from core.obstacles import Extent, cut_for_obstacles, place_obstacles
from core.own_units import read_weight
from core.project import Carcass, Design, EndPanel, Filler
from core.put_together import asked_of, assembly_of, meetings_of, moving_in
from core.space import Obstacle

ZERO = Fraction(0)
CLEAR = {f"clear_{axis}": axis for axis in ("width", "depth", "height")}
"""What a formula calls the true box of the space."""


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
    joints: tuple[Fastened, ...]
    """The same, each with what it is fastened with."""
    moving: tuple[Moving, ...]
    """Drawers and doors."""
    misfits: tuple[Misfit, ...]
    assembly: Mapping[str, tuple[Coming, ...]]
    """How each carcass goes together, part by part, without what moves in it; by id."""
    air: Mapping[str, Fraction]
    """Clearance wanted at the left, the right and the back, mm; 0 where it cannot be read."""
    on_walls: tuple[tuple[Obstacle, Box], ...]
    """What is on the walls, each with its block in the room."""
    stock: Mapping[str, tuple[Sheet, ...]]
    saws: tuple[ShopSaw, ...]
    kerf: Fraction
    """Of the widest blade."""
    weights: Mapping[str, float]
    """Of a square millimetre of each material, kg; where no density is known, as of a dense one."""
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
    stock = _stock(design, names, problems)
    bandings = _banding(design, names, problems)
    longest = {key: max(one.inner_length for one in sheets) for key, sheets in stock.items() if sheets}
    boards = _boards(design, names, problems)
    goods = Goods(thickness, design.materials, bandings, names, notation, longest, boards)
    rules = _rules(design, names, problems)
    standing = _stand(design, rules, goods, problems)
    air = _air(design, goods, problems)
    on_walls = place_obstacles(_obstacles(design, goods, problems), envelope, air, standing)
    cut_as = _evened(design, notation, names, problems)

    def finished(parts: Iterable[Part]) -> tuple[Part, ...]:
        for told in design.banded:
            with problems.at(f"banded edge of {told.part}"):
                check_part_told(design, told)
                parts = banded(parts, (told,), goods.banding)
        return evened((handed(part, goods) for part in parts), cut_as)

    built = []
    raw = _build(design, standing, rules, goods, envelope, air["back"], problems)
    row = [part for one in raw for part in one.parts]
    of_all = {
        **rules_of_row(standing, rules, under_tops(design.tops, standing)),
        **rules_of_tops(design.tops, standing, rules),
    }
    kinds = {**{place.item.id: place.item.kind for place in standing}, **{top.id: "top" for top in design.tops}}
    for one in raw:
        id = one.parts[0].carcass if one.parts else ""
        with problems.at(f"{kinds[id]} {id}" if id else ""):
            cut = cut_for_obstacles(one, on_walls, of_all, goods, row)
            built.append(replace(cut, parts=finished(cut.parts)))
    placed = tuple(part for one in built for part in one.parts)
    meetings, moving = meetings_of(built), tuple(moving_in(built))
    assembly = {}
    for one in built:
        if one.parts and one.parts[0].carcass in rules:
            with problems.at(f"carcass {one.parts[0].carcass}"):
                id = one.parts[0].carcass
                assembly[id] = assembly_of(one, rules[id], design.unit)
    loose: list[Part] = []
    for asked in design.loose:
        with problems.at(f"loose part {asked.name}"):
            loose += finished(build_loose(asked, goods))
    saws = _saws(design, names, problems)
    parts = (*placed, *loose)
    snug = frozenset(size for part in parts if part.goes_between for size in (part.length, part.blank_length))
    return Worked(
        design=design,
        notation=replace(notation, between=snug),
        names=names,
        envelope=envelope,
        rules=rules,
        goods=goods,
        standing=standing,
        placed=placed,
        parts=parts,
        meetings=meetings,
        joints=fastened(meetings, rules, design.unit),
        moving=moving,
        misfits=dry_fit(placed, meetings, moving, asked_of(built, standing)),
        assembly=assembly,
        air=air,
        on_walls=on_walls,
        stock=stock,
        saws=saws,
        weights=_weights(design, thickness, problems),
        kerf=max((saw.kerf for saw in saws), default=ZERO),
        problems=problems.told_once(),
    )


def check_plain(text: str, unit: Unit) -> None:
    """Raises Mistake where a size that names are made of, a reading or a thickness, uses a name itself."""
    names = parse_field(text, unit).names
    if names:
        raise Mistake(f"`{names[0]}` is a name, and names are made of what is measured: type a plain size here")


def _measure(design: Design, problems: _Problems) -> tuple[Envelope, Names, dict[str, Fraction]]:
    """The space, the names that formulas may use, and each material's actual thickness.

    Readings and thicknesses are what names stand for, so they can use none.
    """
    bare = Names(design.unit, {}, {})

    def read(text: str, where: str) -> Fraction:
        try:
            check_plain(text, design.unit)
        except Mistake as mistake:
            raise mistake.at(where) from None
        return bare.length(text, where=where)

    envelope = Envelope(None, None, None, None, (), None, None, ZERO, ())
    with problems.at("space"):
        envelope = find_envelope(design.space, read)
    thickness: dict[str, Fraction] = {}
    for key, material in design.materials.items():
        with problems.at(f"material {key}"):
            thick = read(material.actual, "actual thickness")
            if thick <= 0:
                raise Mistake("a thickness is more than nothing", "actual thickness")
            thickness[key] = thick
    given = {name: Quantity(value, True) for name, value in thickness.items()}
    unknown = {name: "its actual thickness cannot be read" for name in design.materials if name not in thickness}
    for name, axis in CLEAR.items():
        value = getattr(envelope, axis)
        if value is not None:
            given[name] = Quantity(value, True)
        elif any(reading.of == axis for reading in design.space.readings):
            unknown[name] = "the readings of the space cannot be used as they are"
        else:
            unknown[name] = f"no {axis} of the space has been read"
    usable: dict[str, str] = {}
    for name, formula in design.dimensions.items():
        with problems.at():
            Names(design.unit, {name: formula}, given, unknown)
            usable[name] = formula
    names = Names(design.unit, usable, given, unknown)
    for name in usable:
        with problems.at():
            names.quantity(name)
    return envelope, names, thickness


def _air(design: Design, goods: Goods, problems: _Problems) -> dict[str, Fraction]:
    air = dict.fromkeys(("left", "right", "back"), ZERO)
    for side in air:
        with problems.at("space"):
            air[side] = goods.size(getattr(design.space.clearance, side), f"clearance, {side}")
    return air


def _obstacles(design: Design, goods: Goods, problems: _Problems) -> tuple[tuple[Obstacle, Extent], ...]:
    found: list[tuple[Obstacle, Extent]] = []
    for obstacle in design.space.obstacles:
        with problems.at(f"{obstacle.title} on the {obstacle.wall} wall"):
            names = ("along", "up", "width", "height", "sticks_out")
            sizes = (goods.size(getattr(obstacle, name), name.replace("_", " ")) for name in names)
            found.append((obstacle, Extent(*sizes)))
    return tuple(found)


def _banding(design: Design, names: Names, problems: _Problems) -> dict[str, Fraction]:
    found = dict.fromkeys(design.bandings, ZERO)
    for key, one in design.bandings.items():
        with problems.at(f"banding {key}"):
            found[key] = names.length(one.thickness, where="thickness", least=ZERO)
    return found


def _boards(design: Design, names: Names, problems: _Problems) -> dict[str, Section]:
    found = {}
    for key, board in design.boards.items():
        with problems.at(f"board {key}"):
            if key in design.materials:
                raise Mistake(f"a material is called {key!r}, too; give one another name")
            thick, wide = (names.length(getattr(board, word), where=word) for word in ("thickness", "width"))
            if min(thick, wide) <= 0:
                raise Mistake("a board is thicker and wider than nothing")
            found[key] = Section(thick, wide, board.kilograms_a_cubic_metre)
    return found


def _stock(design: Design, names: Names, problems: _Problems) -> dict[str, tuple[Sheet, ...]]:
    found: dict[str, tuple[Sheet, ...]] = {}
    for key, material in design.materials.items():
        with problems.at(f"material {key}"):
            asked = [
                text
                for one in material.stock
                for text in (one.length, one.width, one.trim.left, one.trim.right, one.trim.bottom, one.trim.top)
            ]
            cut_first = [
                text
                for one in material.stock
                for first, loses in ((one.first_crosscut, one.crosscut_loses), (one.first_rip, one.rip_loses))
                if first
                for text in (first, loses)
            ]
            sizes = {text: names.length(text, where="stock", least=ZERO) for text in (*asked, *cut_first)}
            found[key] = sheets_of(material, sizes)
    return found


def _saws(design: Design, names: Names, problems: _Problems) -> tuple[ShopSaw, ...]:
    """The saws of the shop; one that takes nothing and can do anything where none is told."""
    found: list[ShopSaw] = []
    for saw in design.saws:
        with problems.at(f"saw {saw.name}"):
            if any(one.name == saw.name for one in found):
                # Steps and accidents know a saw by its name.
                raise Mistake(f"two saws are called {saw.name}; give one another name")
            longest_cut, widest_rip, longest_piece = (
                names.length(text, where=limit.replace("_", " "), least=ZERO) if (text := getattr(saw, limit)) else None
                for limit in ("longest_cut", "widest_rip", "longest_piece")
            )
            heaviest = read_weight(saw.heaviest_piece, design.unit) if saw.heaviest_piece else None
            kerf = names.length(saw.kerf, where="kerf", least=ZERO)
            found.append(
                ShopSaw(saw.name, saw.kind, kerf, longest_cut, widest_rip, longest_piece, heaviest, saw.finished)
            )
    return tuple(found) or (ShopSaw("saw", "any", ZERO),)


def _evened(
    design: Design, notation: Notation, names: Names, problems: _Problems
) -> dict[tuple[str, Fraction], Fraction]:
    """What sizes of blanks are cut as."""
    found: dict[tuple[str, Fraction], Fraction] = {}
    for one in design.evened:
        with problems.at(f"sizes made one, {one.material}"):
            size, other = (names.length(text, where=text, least=ZERO) for text in (one.size, one.cut_as))
            if abs(size - other) >= UNITS[notation.unit] * notation.step:
                said = notation.with_unit(abs(size - other))
                raise Mistake(f"{one.size} and {one.cut_as} are {said} apart, and the tape tells them apart")
            found[one.material, size] = other
    return found


def _weights(design: Design, thickness: Mapping[str, Fraction], problems: _Problems) -> dict[str, float]:
    found: dict[str, float] = {}
    for key, thick in thickness.items():
        with problems.at(f"material {key}"):
            density = design.materials[key].kilograms_a_cubic_metre or DENSE
            found[key] = density * float(thick) * 1e-9
    return found


def _rules(design: Design, names: Names, problems: _Problems) -> dict[str, Rules]:
    found: dict[str, Rules] = {}
    for item in design.row:
        if isinstance(item, Carcass):
            with problems.at(f"carcass {item.id}"):
                layers = (design.rules, item.rules)
                goods = design.materials, design.bandings
                found[item.id] = resolve(names, design.unit, *goods, *layers, boards=design.boards)
    return found


def _stand(design: Design, rules: Mapping[str, Rules], goods: Goods, problems: _Problems) -> tuple[Standing, ...]:
    """Where the items of the row stand; also where they are more than it can hold."""
    profiles: dict[str, Profile] = {}
    for item in design.row:
        if isinstance(item, Carcass):
            with problems.at(f"carcass {item.id}"):
                height, depth = goods.size(item.height, "height"), goods.size(item.depth, "depth")
                for word, size in (("height", height), ("depth", depth)):
                    if not size:
                        raise Mistake(f"a {word} of {goods.say(size)} is no {word}", word)
                profiles[item.id] = height, depth
    width: Fraction | None = None
    standing: tuple[Standing, ...] = ()
    if design.row and design.row_width:
        with problems.at("row"):
            width = goods.size(design.row_width, "width")
    row = []
    for item in design.row:
        with problems.at(f"{item.kind} {item.id}"):
            if isinstance(item, EndPanel):
                # It is as wide as it is thick: without that the others stand all the same.
                goods.of(item.material)
            row.append(item)
    if row:
        with problems.at("row"):
            standing = stand(tuple(row), width, profiles, rules, goods)
            if width is not None:
                check_row(standing, width, goods)
    return standing


def _build(
    design: Design,
    standing: tuple[Standing, ...],
    rules: Mapping[str, Rules],
    goods: Goods,
    envelope: Envelope,
    stands_off: Fraction,
    problems: _Problems,
) -> list[Built]:
    """Each carcass and each top, in the room."""
    depth = depth_of(standing)
    built: list[Built] = []
    for place in standing:
        if place.item.id in rules and place.height:
            with problems.at(f"carcass {place.item.id}"):
                built.append(build_standing(place, depth, rules[place.item.id], goods, envelope.baseboard, stands_off))
    gaps = {fit.wall: fit.widest_gap for fit in envelope.sides}
    for n, place in sorted(enumerate(standing), key=lambda one: turn_of(one[1], standing)):
        item = place.item
        wall = gaps.get("left", ZERO) if n == 0 else gaps.get("right", ZERO) if n == len(standing) - 1 else ZERO
        if isinstance(item, Filler | EndPanel):
            made = {place_key(part): part for one in built for part in one.parts}
            beside = standing, rules, goods, made, under_tops(design.tops, standing)
            with problems.at(f"{item.kind} {item.id}"):
                if isinstance(item, Filler):
                    built.append(build_filler(place, *beside, wall, envelope.falls))
                else:
                    built.append(build_end_panel(place, *beside, envelope.baseboard, stands_off, envelope.falls))
    parts = [part for one in built for part in one.parts]
    for top in design.tops if standing else ():
        with problems.at(f"top {top.id}"):
            built.append(build_top(top, standing, goods, parts))
    return built
