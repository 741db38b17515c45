"""The guided walk: the first time through, one question at a time, each with a sensible answer ready.

Every answer is an edit of its own, so what has been answered is in the project whether or not
the walk is finished.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from core import edits
from core.construction.rule_book import RULE_BOOK
from core.construction.rules import rule_as_typed
from core.editing.forms import Kind, Question
from core.editing.suggested import carcass_name, carcass_size, measured, of_unit
from core.edits import Path
from core.lengths import Notation
from core.project import Bay, Carcass, Design, Top
from core.space import Baseboard, Reading


@dataclass(frozen=True, slots=True)
class WalkStep:
    """One question of the walk; `ask` gives None where the answers so far make it needless."""

    station: str
    ask: Callable[[Design], Question | None]
    answer: Callable[[Design, str], Design]
    field: Callable[[Design], Path]
    """Where in the design the answer stands, or will stand beside its like."""


def answered(step: WalkStep, question: Question, design: Design, text: str) -> Design:
    """The design with the question answered. To take what stands there already changes nothing.

    One question may speak for several things (the height of every carcass): walked through
    again with Enter alone, the walk leaves each of them as it is.
    """
    return design if question.stands and text == question.default else step.answer(design, text)


def _question(
    key: str,
    label: str,
    kind: Kind,
    standing: str,
    suggested: str = "",
    help: str = "",
    choices: tuple[str, ...] = (),
    optional: bool = False,
) -> Question:
    """A question whose ready answer is what stands in the design, or else what is suggested."""
    return Question(key, label, kind, standing or suggested, choices, help, optional, stands=bool(standing))


def _with_reading(design: Design, reading: Reading) -> Design:
    """The design with this reading in place of one of the same kind and place."""
    same = [r for r in design.space.readings if (r.of, r.level, r.at) != (reading.of, reading.level, reading.at)]
    return edits.set_value(design, ("space", "readings"), (*same, reading))


def _reading(key: str, label: str, reading: Reading, help: str, *, optional: bool = True) -> WalkStep:
    def ask(design: Design) -> Question:
        known = [
            r.size for r in design.space.readings if (r.of, r.level, r.at) == (reading.of, reading.level, reading.at)
        ]
        return _question(key, label, "size", known[0] if known else "", help=help, optional=optional)

    def answer(design: Design, text: str) -> Design:
        return _with_reading(design, replace(reading, size=text)) if text else design

    def field(design: Design) -> Path:
        at: Path = ("space", "readings")
        for n, r in enumerate(design.space.readings):
            if (r.of, r.level, r.at) == (reading.of, reading.level, reading.at):
                return (*at, n, "size")
        return at

    return WalkStep("Space", ask, answer, field)


def _board_field(name: str) -> Callable[[Design], Path]:
    def field(design: Design) -> Path:
        at: Path = ("space", "baseboards")
        return next(((*at, n, name) for n, board in enumerate(design.space.baseboards) if board.wall == "back"), at)

    return field


def _carcass_field(*way: str | int) -> Callable[[Design], Path]:
    """A field of the first carcass; the answer holds for all of them."""

    def field(design: Design) -> Path:
        place = next((n for n, one in enumerate(design.row) if isinstance(one, Carcass)), 0)
        return ("row", place, *way)

    return field


def _fixed(*path: str | int) -> Callable[[Design], Path]:
    return lambda design: path


def _baseboard_height(design: Design, text: str) -> Design:
    others = tuple(b for b in design.space.baseboards if b.wall != "back")
    old = _back_board(design)
    thickness = old.thickness if old else of_unit(design, "1/2", "15")
    board = (Baseboard("back", text, thickness),) if text else ()
    return edits.set_value(design, ("space", "baseboards"), (*others, *board))


def _baseboard_thickness(design: Design, text: str) -> Design:
    boards = tuple(replace(b, thickness=text) if b.wall == "back" else b for b in design.space.baseboards)
    return edits.set_value(design, ("space", "baseboards"), boards)


def _back_board(design: Design) -> Baseboard | None:
    return next((board for board in design.space.baseboards if board.wall == "back"), None)


def _walls(design: Design) -> list[str]:
    """The side walls that there are."""
    space = design.space
    return [wall for wall, is_open in (("left", space.open_left), ("right", space.open_right)) if not is_open]


def _gap_question(design: Design) -> Question | None:
    """The gap beside the piece, where a width has been read and there is a wall; with what the readings say of it."""
    walls, box = _walls(design), measured(design)
    if not walls or box.width is None:
        return None
    say = Notation.read(design.show, design.unit).with_unit
    runs_out = [f"the {fit.wall} wall runs out by {say(fit.varies)} besides" for fit in box.sides if fit.varies]
    help = "; ".join(["closed by a scribed strip or a filler, so that the piece goes in", *runs_out])
    label = "Gap to leave at each side" if len(walls) == 2 else f"Gap to leave at the {walls[0]}"
    return _question("air", label, "size", _air(design), of_unit(design, "1/4", "5"), help)


def _clearance(design: Design, text: str) -> Design:
    clearance = replace(design.space.clearance, **dict.fromkeys(_walls(design), text))
    return edits.set_value(design, ("space", "clearance"), clearance)


def _panel(design: Design) -> str:
    return rule_as_typed("panel", design.unit, design.rules)[0] or next(iter(design.materials))


def _price(design: Design, text: str) -> Design:
    stock = tuple(replace(one, price=text) for one in design.materials[_panel(design)].stock)
    return edits.set_value(design, ("materials", _panel(design), "stock"), stock)


def _air(design: Design) -> str:
    """The gap at the sides; empty where none has been asked for yet: once there is a row, none is an answer too."""
    clearance = design.space.clearance
    asked = design.row or (clearance.left, clearance.right) != ("0", "0")
    return str(getattr(clearance, _walls(design)[0])) if asked else ""


def _price_now(design: Design) -> str:
    stock = design.materials[_panel(design)].stock
    return stock[0].price if stock else ""


def _shelves_now(design: Design) -> str:
    """How many adjustable shelves the first bay has; empty where a carcass has no bays told yet."""
    carcasses = _carcasses(design)
    if not carcasses or not all(one.bays for one in carcasses):
        return ""
    return str(carcasses[0].bays[0].adjustable_shelves)


def _carcasses(design: Design) -> list[Carcass]:
    return [one for one in design.row if isinstance(one, Carcass)]


def _how_many(design: Design, text: str) -> Design:
    """That many carcasses: more are put at the right, as high and deep as the last; too many go from the right."""
    wanted = int(text)
    while len(_carcasses(design)) < wanted:
        last = _carcasses(design)[-1] if _carcasses(design) else None
        height = last.height if last else carcass_size(design, "height")
        depth = last.depth if last else carcass_size(design, "depth")
        design = edits.add_carcass(design, carcass_name(design), "share", height, depth)
    while len(_carcasses(design)) > wanted:
        place = max(n for n, one in enumerate(design.row) if isinstance(one, Carcass))
        design = edits.remove_item(design, ("row", place))
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
            overhang_front=of_unit(design, "1", "20"),
        )
        design = edits.add_at(design, ("tops",), top)
    return edits.set_value(design, ("tops", 0, "layers"), int(text))


def _rule(station: str, name: str, label: str, needed: Callable[[Design], bool] = lambda design: True) -> WalkStep:
    def ask(design: Design) -> Question | None:
        info = next(rule for rule in RULE_BOOK if rule.name == name)
        text, _ = rule_as_typed(name, design.unit, design.rules)
        if not needed(design):
            return None
        return _question(
            name, label, "choice" if info.choices else "size", text, help=info.reason, choices=info.choices
        )

    def answer(design: Design, text: str) -> Design:
        return edits.set_rule(design, name, text)

    return WalkStep(station, ask, answer, _fixed("rules", name))


def _base_is(*bases: str) -> Callable[[Design], bool]:
    return lambda design: rule_as_typed("base", design.unit, design.rules)[0] in bases


MOST_SAWS_ASKED = 4
"""Of further ones the kerf stands at the Goods station."""


def _kerf(place: int) -> WalkStep:
    """The kerf of one of the saws, if there are so many."""

    def ask(design: Design) -> Question | None:
        if place >= len(design.saws):
            return None
        saw = design.saws[place]
        label = f"Kerf of your {saw.name}"
        return _question(f"kerf {place}", label, "size", saw.kerf, help="cut a scrap and measure the slot")

    path: edits.Path = ("saws", place, "kerf")
    return WalkStep("Goods", ask, lambda d, text: edits.set_value(d, path, text), _fixed(*path))


WALK: tuple[WalkStep, ...] = (
    WalkStep(
        "Space",
        lambda d: _question("place", "What do you call the place?", "text", d.space.name, "alcove"),
        lambda d, text: edits.set_value(d, ("space", "name"), text),
        _fixed("space", "name"),
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
        "Width at the piece's top, at the front",
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
        lambda d: _question(
            "baseboard",
            "Height of the baseboard at the back",
            "size",
            board.height if (board := _back_board(d)) else "",
            help="if one stays there: the sides are notched for it; Enter for none",
            optional=True,
        ),
        _baseboard_height,
        _board_field("height"),
    ),
    WalkStep(
        "Space",
        lambda d: (
            _question("thickness", "Its thickness", "size", board.thickness) if (board := _back_board(d)) else None
        ),
        _baseboard_thickness,
        _board_field("thickness"),
    ),
    WalkStep("Space", _gap_question, _clearance, lambda d: ("space", "clearance", _walls(d)[0])),
    WalkStep(
        "Goods",
        lambda d: _question(
            "actual",
            f"Actual thickness of your {d.materials[_panel(d)].name}",
            "size",
            d.materials[_panel(d)].actual,
            help="measure the sheet: every part follows from it",
        ),
        lambda d, text: edits.set_value(d, ("materials", _panel(d), "actual"), text),
        lambda d: ("materials", _panel(d), "actual"),
    ),
    WalkStep(
        "Goods",
        lambda d: _question(
            "price", "Price of one sheet of it", "amount", _price_now(d), help="Enter if you don't know", optional=True
        ),
        _price,
        lambda d: ("materials", _panel(d), "stock", 0, "price"),
    ),
    *(_kerf(place) for place in range(MOST_SAWS_ASKED)),
    WalkStep(
        "Piece",
        lambda d: _question("count", "How many carcasses side by side?", "count", str(len(_carcasses(d)) or ""), "2"),
        _how_many,
        _fixed("row"),
    ),
    WalkStep(
        "Piece",
        lambda d: _question("height", "Their height", "size", _carcasses(d)[0].height) if _carcasses(d) else None,
        _each_carcass("height"),
        _carcass_field("height"),
    ),
    WalkStep(
        "Piece",
        lambda d: (
            _question("depth", "Their depth", "size", _carcasses(d)[0].depth, help="with the back")
            if _carcasses(d)
            else None
        ),
        _each_carcass("depth"),
        _carcass_field("depth"),
    ),
    _rule("Piece", "base", "What do they stand on?"),
    _rule("Piece", "kick_height", "How high is the kick or plinth?", _base_is("kick", "plinth")),
    _rule("Piece", "kick_depth", "How deep is it set back?", _base_is("kick", "plinth")),
    _rule("Piece", "top", "What closes them at the top?"),
    _rule("Piece", "back", "What back?"),
    WalkStep(
        "Piece",
        lambda d: _question("shelves", "Adjustable shelves in each bay", "count", _shelves_now(d), "1"),
        _shelves,
        _carcass_field("bays", 0, "adjustable_shelves"),
    ),
    WalkStep(
        "Piece",
        lambda d: _question(
            "layers",
            "A top over all of it: how many layers?",
            "choice",
            str(d.tops[0].layers) if d.tops else "",
            "0",
            "0: no top",
            choices=("0", "1", "2"),
        ),
        _top_layers,
        _fixed("tops", 0, "layers"),
    ),
    WalkStep(
        "Piece",
        lambda d: (
            _question("overhang", "Its overhang at the front", "size", d.tops[0].overhang_front) if d.tops else None
        ),
        lambda d, text: edits.set_value(d, ("tops", 0, "overhang_front"), text),
        _fixed("tops", 0, "overhang_front"),
    ),
)
"""The questions in the order of the work."""
