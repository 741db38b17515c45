"""The guided walk: the first time through, one question at a time, each with a sensible answer ready.

Every answer is an edit of its own, so what has been answered is in the project whether or not
the walk is finished.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from core import edits
from core.construction.rules import RULE_BOOK, rule_as_typed
from core.editing.forms import Question
from core.project import Bay, Carcass, Design, Top
from core.space import Baseboard, Reading


@dataclass(frozen=True, slots=True)
class WalkStep:
    """One question of the walk; `ask` gives None where the answers so far make it needless."""

    station: str
    ask: Callable[[Design], Question | None]
    answer: Callable[[Design, str], Design]


def _default(design: Design, inch: str, mm: str) -> str:
    return inch if design.unit == "in" else mm


def _with_reading(design: Design, reading: Reading) -> Design:
    """The design with this reading in place of one of the same kind and place."""
    same = [r for r in design.space.readings if (r.of, r.level, r.at) != (reading.of, reading.level, reading.at)]
    return edits.set_value(design, ("space", "readings"), (*same, reading))


def _reading(key: str, label: str, reading: Reading, help: str, *, optional: bool = True) -> WalkStep:
    def ask(design: Design) -> Question:
        known = [
            r.size for r in design.space.readings if (r.of, r.level, r.at) == (reading.of, reading.level, reading.at)
        ]
        return Question(key, label, "size", known[0] if known else "", help=help, optional=optional)

    def answer(design: Design, text: str) -> Design:
        return _with_reading(design, replace(reading, size=text)) if text else design

    return WalkStep("Space", ask, answer)


def _baseboard_height(design: Design, text: str) -> Design:
    others = tuple(b for b in design.space.baseboards if b.wall != "back")
    board = (Baseboard("back", text, _default(design, "1/2", "15")),) if text else ()
    return edits.set_value(design, ("space", "baseboards"), (*others, *board))


def _baseboard_thickness(design: Design, text: str) -> Design:
    boards = tuple(replace(b, thickness=text) if b.wall == "back" else b for b in design.space.baseboards)
    return edits.set_value(design, ("space", "baseboards"), boards)


def _back_board(design: Design) -> Baseboard | None:
    return next((board for board in design.space.baseboards if board.wall == "back"), None)


def _clearance(design: Design, text: str) -> Design:
    clearance = replace(design.space.clearance, left=text, right=text)
    return edits.set_value(design, ("space", "clearance"), clearance)


def _panel(design: Design) -> str:
    return rule_as_typed("panel", design.unit, design.rules)[0] or next(iter(design.materials))


def _price(design: Design, text: str) -> Design:
    stock = tuple(replace(one, price=text) for one in design.materials[_panel(design)].stock)
    return edits.set_value(design, ("materials", _panel(design), "stock"), stock)


def _carcasses(design: Design) -> list[Carcass]:
    return [one for one in design.row if isinstance(one, Carcass)]


def _how_many(design: Design, text: str) -> Design:
    """That many carcasses that share the width; those that are there already stay as they are."""
    wanted = int(text)
    while len(_carcasses(design)) < wanted:
        height, depth = _default(design, "34 1/2", "870"), _default(design, "23 1/4", "580")
        design = edits.add_carcass(design, "Base", "share", height, depth)
    return design


def _each_carcass(name: str) -> Callable[[Design, str], Design]:
    def answer(design: Design, text: str) -> Design:
        row = tuple(replace(one, **{name: text}) if isinstance(one, Carcass) else one for one in design.row)  # type: ignore[arg-type]
        return edits.set_value(design, ("row",), row)

    return answer


def _shelves(design: Design, text: str) -> Design:
    def shelved(one: Carcass) -> Carcass:
        bays = one.bays or (Bay(),)
        return replace(one, bays=tuple(replace(bay, adjustable_shelves=int(text)) for bay in bays))

    row = tuple(shelved(one) if isinstance(one, Carcass) else one for one in design.row)
    return edits.set_value(design, ("row",), row)


def _top_layers(design: Design, text: str) -> Design:
    if text == "0":
        return edits.set_value(design, ("tops",), ())
    if not design.tops:
        top = Top(
            edits.new_id(edits.ids_of(design), "W"),
            "Worktop",
            _panel(design),
            overhang_front=_default(design, "1", "20"),
        )
        design = edits.add_at(design, ("tops",), top)
    return edits.set_value(design, ("tops", 0, "layers"), int(text))


def _rule(station: str, name: str, label: str, needed: Callable[[Design], bool] = lambda design: True) -> WalkStep:
    def ask(design: Design) -> Question | None:
        info = next(rule for rule in RULE_BOOK if rule.name == name)
        text, _ = rule_as_typed(name, design.unit, design.rules)
        if not needed(design):
            return None
        return Question(name, label, "choice" if info.choices else "size", text, info.choices, info.reason)

    def answer(design: Design, text: str) -> Design:
        return edits.set_rule(design, name, text)

    return WalkStep(station, ask, answer)


def _base_is(*bases: str) -> Callable[[Design], bool]:
    return lambda design: rule_as_typed("base", design.unit, design.rules)[0] in bases


WALK: tuple[WalkStep, ...] = (
    WalkStep(
        "Space",
        lambda d: Question("place", "What do you call the place?", "text", d.space.name or "alcove"),
        lambda d, text: edits.set_value(d, ("space", "name"), text),
    ),
    _reading(
        "width back",
        "Width at the floor, at the back",
        Reading("width", "", "floor", "back"),
        "wall to wall, above any baseboard",
        optional=False,
    ),
    _reading(
        "width front",
        "Width at the floor, at the front",
        Reading("width", "", "floor", "front"),
        "rooms are not square: read it too, or Enter to leave it",
    ),
    _reading(
        "width top",
        "Width at the top of the piece, at the front",
        Reading("width", "", "top", "front"),
        "walls lean: read it too, or Enter to leave it",
    ),
    _reading(
        "depth",
        "Depth of the space",
        Reading("depth", "", "floor", "middle"),
        "from the back wall, or Enter to leave it",
    ),
    _reading(
        "height",
        "Floor to ceiling",
        Reading("height", "", "floor", "middle"),
        "the lowest you find, or Enter to leave it",
    ),
    WalkStep(
        "Space",
        lambda d: Question(
            "baseboard",
            "Height of the baseboard at the back",
            "size",
            board.height if (board := _back_board(d)) else "",
            help="if one stays there: the sides are notched for it; Enter for none",
            optional=True,
        ),
        _baseboard_height,
    ),
    WalkStep(
        "Space",
        lambda d: (
            Question("thickness", "Its thickness", "size", board.thickness) if (board := _back_board(d)) else None
        ),
        _baseboard_thickness,
    ),
    WalkStep(
        "Space",
        lambda d: Question(
            "air", "Air wanted at each side", "size", _default(d, "1/4", "5"), help="to be scribed, filled or left"
        ),
        _clearance,
    ),
    WalkStep(
        "Goods",
        lambda d: Question(
            "actual",
            f"Actual thickness of your {d.materials[_panel(d)].name}",
            "size",
            d.materials[_panel(d)].actual,
            help="measure the sheet: every part follows from it",
        ),
        lambda d, text: edits.set_value(d, ("materials", _panel(d), "actual"), text),
    ),
    WalkStep(
        "Goods",
        lambda d: Question(
            "price", "Price of one sheet of it", "amount", help="Enter if you don't know", optional=True
        ),
        _price,
    ),
    WalkStep(
        "Goods",
        lambda d: Question("kerf", "Kerf of your saw", "size", d.saw.kerf, help="cut a scrap and measure the slot"),
        lambda d, text: edits.set_value(d, ("saw", "kerf"), text),
    ),
    WalkStep(
        "Piece",
        lambda d: Question("count", "How many carcasses side by side?", "count", str(len(_carcasses(d)) or 2)),
        _how_many,
    ),
    WalkStep(
        "Piece",
        lambda d: Question("height", "Their height", "size", _carcasses(d)[0].height) if _carcasses(d) else None,
        _each_carcass("height"),
    ),
    WalkStep(
        "Piece",
        lambda d: (
            Question("depth", "Their depth", "size", _carcasses(d)[0].depth, help="with the back")
            if _carcasses(d)
            else None
        ),
        _each_carcass("depth"),
    ),
    _rule("Piece", "base", "What do they stand on?"),
    _rule("Piece", "kick_height", "How high is the kick or plinth?", _base_is("kick", "plinth")),
    _rule("Piece", "kick_depth", "How deep is it set back?", _base_is("kick", "plinth")),
    _rule("Piece", "top", "What closes them at the top?"),
    _rule("Piece", "back", "What back?"),
    WalkStep("Piece", lambda d: Question("shelves", "Adjustable shelves in each", "count", "1"), _shelves),
    WalkStep(
        "Piece",
        lambda d: Question(
            "layers", "A top over all of it: how many layers?", "choice", "1", ("0", "1", "2"), "0: no top"
        ),
        _top_layers,
    ),
    WalkStep(
        "Piece",
        lambda d: (
            Question("overhang", "Its overhang at the front", "size", d.tops[0].overhang_front) if d.tops else None
        ),
        lambda d, text: edits.set_value(d, ("tops", 0, "overhang_front"), text),
    ),
)
"""The questions in the order of the work."""
