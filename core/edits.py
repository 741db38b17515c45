"""Every way in which a design can be changed: named functions from one design to the next.

None of them touches a file or a fact. What they are given as text is stored as typed; that it
can be read is for whoever asks (`core.formulas.parse_field`), before the edit is made.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields, is_dataclass, replace
from typing import Any, TypeAlias, TypeVar

from core.goods import Banding, Board, Material
from core.mistakes import Mistake
from core.project import Banded, Bay, Carcass, Design, EndPanel, Evened, Facts, Filler, Gap, LoosePart, RowItem, Top
from core.typed import Size

T = TypeVar("T")
Path: TypeAlias = tuple[str | int, ...]
"""The way to a value in a design: `("space", "readings", 0, "size")`."""


def value_at(value: Any, path: Path) -> Any:
    """What stands at a path: attribute, place in a tuple, or key of a mapping."""
    for step in path:
        if isinstance(step, int):
            value = value[step]
        elif is_dataclass(value):
            value = getattr(value, step)
        else:
            value = value[step]
    return value


def set_value(whole: T, path: Path, new: Any) -> T:
    """The same thing with `new` at `path`."""
    if not path:
        return new  # type: ignore[no-any-return]
    step, rest = path[0], path[1:]
    old: Any = whole
    if isinstance(step, int):
        changed: Any = (*old[:step], set_value(old[step], rest, new), *old[step + 1 :])
    elif is_dataclass(old):
        changed = replace(old, **{step: set_value(getattr(old, step), rest, new)})  # type: ignore[type-var]
    else:
        changed = {**old, step: set_value(old.get(step), rest, new)}
    return changed  # type: ignore[no-any-return]


def add_at(whole: T, path: Path, item: Any, place: int | None = None) -> T:
    """The same thing with `item` put into the tuple at `path`, at `place` or at its end."""
    items = value_at(whole, path)
    at = len(items) if place is None else place
    return set_value(whole, path, (*items[:at], item, *items[at:]))


def remove_at(whole: T, path: Path) -> T:
    """The same thing without what stands at `path`, in a tuple or a mapping."""
    items, last = value_at(whole, path[:-1]), path[-1]
    if isinstance(last, int):
        return set_value(whole, path[:-1], (*items[:last], *items[last + 1 :]))
    return set_value(whole, path[:-1], {key: value for key, value in items.items() if key != last})


def move_at(whole: T, path: Path, by: int) -> T:
    """The same thing with the item at `path` moved `by` places in its tuple, no further than its ends."""
    items, at = list(value_at(whole, path[:-1])), path[-1]
    assert isinstance(at, int)
    item = items.pop(at)
    items.insert(max(0, min(len(items), at + by)), item)
    return set_value(whole, path[:-1], tuple(items))


def new_id(taken: Sequence[str], letters: str = "ABCDEFGHJKLMNPQRSTUVWXYZ") -> str:
    """The first letter, or letter and number, that is not taken. I and O are left out: pencilled, they are 1 and 0."""
    number = 1
    while True:
        for letter in letters:
            name = letter if number == 1 else f"{letter}{number}"
            if name not in taken:
                return name
        number += 1


def ids_of(design: Design) -> list[str]:
    """Every id that is or was in the design."""
    return list(design.retired) + [one.id for group in (design.row, design.tops, design.loose) for one in group]


def add_carcass(design: Design, name: str, width: Size, height: Size, depth: Size, place: int | None = None) -> Design:
    """One carcass more in the row, at `place` or at the right end, with an id of its own."""
    item = Carcass(new_id(ids_of(design)), name, height, depth, width, bays=(Bay(),))
    return add_at(design, ("row",), item, place)


def add_gap(design: Design, name: str, width: Size, place: int | None = None) -> Design:
    """One open bay more in the row."""
    return add_at(design, ("row",), Gap(new_id(ids_of(design)), name, width), place)


def add_filler(design: Design, name: str, material: str, width: Size, place: int | None = None) -> Design:
    """One filler more in the row."""
    return add_at(design, ("row",), Filler(new_id(ids_of(design)), name, material, width), place)


def add_end_panel(design: Design, name: str, material: str, place: int | None = None) -> Design:
    """One end panel more in the row."""
    return add_at(design, ("row",), EndPanel(new_id(ids_of(design)), name, material), place)


def remove_item(design: Design, path: Path) -> Design:
    """The design without the thing at `path`; if that had an id, nothing else will have it."""
    owner = value_at(design, path)
    if isinstance(owner, Carcass | Gap | Filler | EndPanel | Top | LoosePart):
        kept = tuple(one for one in design.banded if not one.part.removeprefix("loose ").startswith(f"{owner.id} "))
        design = replace(design, retired=(*design.retired, owner.id), banded=kept)
    return remove_at(design, path)


def copy_item(design: Design, place: int) -> Design:
    """The row with a copy of an item beside it, under an id of its own."""
    item: RowItem = design.row[place]
    new = new_id(ids_of(design))
    own = (one for one in design.banded if one.part.startswith(f"{item.id} "))
    alike = (replace(one, part=new + one.part.removeprefix(item.id)) for one in own)
    design = replace(design, banded=(*design.banded, *alike))
    return add_at(design, ("row",), replace(item, id=new), place + 1)


def add_top(design: Design, name: str, material: str) -> Design:
    """A top over the whole row."""
    return add_at(design, ("tops",), Top(new_id(ids_of(design), "W"), name, material))


def add_loose(design: Design, name: str, material: str, length: Size, width: Size) -> Design:
    """A part that no rule makes."""
    return add_at(design, ("loose",), LoosePart(new_id(ids_of(design), "L"), name, material, length, width))


def add_material(design: Design, key: str, material: Material) -> Design:
    """A material under a name that formulas can use. Mistake if the name is taken."""
    if key in design.materials or key in design.dimensions or key in design.boards:
        raise Mistake(f"the name {key!r} is taken already")
    return set_value(design, ("materials", key), material)


def add_banding(design: Design, key: str, banding: Banding) -> Design:
    """A banding under a name. Mistake if the name is taken."""
    if key in design.bandings:
        raise Mistake(f"the name {key!r} is taken already")
    return set_value(design, ("bandings", key), banding)


def add_board(design: Design, key: str, board: Board) -> Design:
    """A board under a name. Mistake if the name is taken, by a material or another board."""
    if key in design.boards or key in design.materials:
        raise Mistake(f"the name {key!r} is taken already")
    return set_value(design, ("boards", key), board)


def set_rule(design: Design, name: str, text: str | None, row_place: int | None = None) -> Design:
    """A rule of the project, or of one item of the row; None gives it up for what lies below."""
    path: Path = ("rules", name) if row_place is None else ("row", row_place, "rules", name)
    if text is None:
        return remove_at(design, path)
    return set_value(design, path, text)


def hold_back(design: Design, code: str) -> Design:
    """The design with a kind of part held back until the carcasses stand, or no longer held back."""
    held = design.held_back
    return replace(design, held_back=tuple(one for one in held if one != code) if code in held else (*held, code))


def band(design: Design, edges: Sequence[tuple[str, str]], banding: str) -> Design:
    """The design with these edges, each a part by its place and an edge of it, banded so; empty leaves them bare."""
    kept = (one for one in design.banded if (one.part, one.edge) not in edges)
    return replace(design, banded=(*kept, *(Banded(part, edge, banding) for part, edge in edges)))


def make_one(design: Design, material: str, size: Size, cut_as: Size) -> Design:
    """The design with blanks of a size cut as another; whatever was cut as the first is cut as that too."""
    kept = (one for one in design.evened if (one.material, one.size) != (material, size))
    moved = (replace(one, cut_as=cut_as) if (one.material, one.cut_as) == (material, size) else one for one in kept)
    return replace(design, evened=(*moved, Evened(material, size, cut_as)))


def untick(facts: Facts, sheet: str, piece: str) -> Facts:
    """The facts without the cut of that piece."""
    return replace(facts, cuts=tuple(cut for cut in facts.cuts if (cut.sheet, cut.piece) != (sheet, piece)))


def field_names(value: Any) -> list[str]:
    """The names of a design's part, in their order."""
    return [one.name for one in fields(value)]
