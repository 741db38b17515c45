"""What is asked, one thing at a time, when something new comes into a design.

A form is a list of questions and a function that makes the edit of their answers. The guided
walk and every "add" of the app are forms.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Literal

from core import edits
from core.editing.field import Field, check_answer
from core.editing.field import Kind as FieldKind
from core.editing.suggested import carcass_name, carcass_size, of_unit
from core.envelope import check_reading
from core.formulas import Names, check_name
from core.mistakes import Mistake
from core.project import Bay, Carcass, Design, Opening
from core.space import Baseboard, Lean, Obstacle, Reading
from core.workings import CLEAR

Kind = Literal["size", "share", "text", "choice", "yes or no", "amount", "count", "name", "formula"]
Answers = Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Question:
    """One thing that is asked. `optional`: nothing is an answer too."""

    key: str
    label: str
    kind: Kind
    default: str = ""
    choices: tuple[str, ...] = ()
    help: str = ""
    optional: bool = False
    stands: bool = False
    """The default is what the design says already: to take it changes nothing."""


@dataclass(frozen=True, slots=True)
class Form:
    """Questions in order, and the edit that their answers make."""

    title: str
    questions: tuple[Question, ...]
    finish: Callable[[Design, Answers], Design]


def check(question: Question, design: Design, text: str, names: Names) -> str:
    """What an answer comes to, for the eye; Mistake where it cannot be one."""
    text = text.strip()
    if not text:
        if question.optional:
            return ""
        raise Mistake(f"an answer is wanted{': ' + question.help if question.help else ''}")
    if question.kind == "name":
        check_name(text)
        if text in design.dimensions or text in design.materials or text in CLEAR:
            raise Mistake(f"the name {text!r} is taken already")
        return text
    kind: FieldKind = question.kind
    return check_answer(
        design, Field(question.label, (question.key,), kind, text, choices=question.choices), text, names
    )


_WALLS = ("back", "left", "right")


def reading_form(design: Design) -> Form:
    """One more reading of the space."""

    def finish(design: Design, told: Answers) -> Design:
        reading = Reading(told["of"], told["size"], told["level"], told["at"])  # type: ignore[arg-type]
        check_reading(reading)
        return edits.add_at(design, ("space", "readings"), reading)

    return Form(
        "A reading",
        (
            Question("of", "of what", "choice", "width", ("width", "depth", "height", "diagonal")),
            Question("level", "at which level", "choice", "floor", ("floor", "middle", "top")),
            Question(
                "at",
                "where",
                "choice",
                "back",
                ("back", "front", "left", "right", "middle"),
                "a width: back or front; a depth or height: left, middle or right; "
                "a diagonal: the front corner that it starts from; middle: not said",
            ),
            Question("size", "reads", "size", help="wall to wall, floor to ceiling"),
        ),
        finish,
    )


def lean_form(design: Design) -> Form:
    """How a wall leans."""

    def finish(design: Design, told: Answers) -> Design:
        lean = Lean(told["wall"], told["into_room"], told["over"])  # type: ignore[arg-type]
        return edits.add_at(design, ("space", "leans"), lean)

    return Form(
        "The lean of a wall",
        (
            Question("wall", "which wall", "choice", "left", ("left", "right", "back")),
            Question("into_room", "comes into the room by", "size", "0", help="at the top; negative: falls away"),
            Question("over", "over a height of", "size", of_unit(design, "72", "1800")),
        ),
        finish,
    )


def baseboard_form(design: Design) -> Form:
    """A baseboard that stays."""

    def finish(design: Design, told: Answers) -> Design:
        board = Baseboard(told["wall"], told["height"], told["thickness"])  # type: ignore[arg-type]
        return edits.add_at(design, ("space", "baseboards"), board)

    return Form(
        "A baseboard that stays",
        (
            Question("wall", "on which wall", "choice", "back", _WALLS),
            Question("height", "height", "size", of_unit(design, "3 1/2", "90")),
            Question("thickness", "thickness", "size", of_unit(design, "1/2", "15")),
        ),
        finish,
    )


def obstacle_form(design: Design) -> Form:
    """Something on a wall."""

    def finish(design: Design, told: Answers) -> Design:
        names = ("kind", "wall", "along", "up", "width", "height", "sticks_out", "called")
        obstacle = Obstacle(**{name: told[name] for name in names})  # type: ignore[arg-type]
        return edits.add_at(design, ("space", "obstacles"), obstacle)

    return Form(
        "Something on a wall",
        (
            Question("kind", "what", "choice", "outlet", ("outlet", "switch", "pipe", "sill", "vent", "other")),
            Question("wall", "on which wall", "choice", "back", _WALLS),
            Question("along", "from the wall's left end", "size", help="as you face it, to its left edge"),
            Question("up", "up from the floor", "size", of_unit(design, "12", "300"), help="to its lower edge"),
            Question("width", "width", "size", of_unit(design, "2 3/4", "80")),
            Question("height", "height", "size", of_unit(design, "4 1/2", "80")),
            Question("sticks_out", "sticks out by", "size", "0"),
            Question("called", "called", "text", optional=True, help="where its kind does not say enough"),
        ),
        finish,
    )


def carcass_form(design: Design, place: int | None = None) -> Form:
    """One more carcass, at a place in the row or at its right end, as high and deep as the last."""
    last = next((one for one in reversed(design.row) if isinstance(one, Carcass)), None)

    def finish(design: Design, told: Answers) -> Design:
        return edits.add_carcass(design, told["name"], told["width"], told["height"], told["depth"], place)

    return Form(
        "A carcass",
        (
            Question("name", "called", "text", carcass_name(design)),
            Question("width", "outside width", "share", "share", help="a size, a formula, `share` or `2 shares`"),
            Question("height", "height", "size", last.height if last else carcass_size(design, "height")),
            Question("depth", "depth", "size", last.depth if last else carcass_size(design, "depth")),
        ),
        finish,
    )


def gap_form(design: Design, place: int | None = None) -> Form:
    """An open bay in the row, at a place in it or at its right end."""

    def finish(design: Design, told: Answers) -> Design:
        return edits.add_gap(design, told["name"], told["width"], place)

    return Form(
        "An open gap",
        (
            Question("name", "for what", "text", "Open"),
            Question("width", "width", "share", "share", help="a size, a formula, `share` or `2 shares`"),
        ),
        finish,
    )


def filler_form(design: Design, place: int | None = None) -> Form:
    """A filler, at a place in the row or at its right end."""

    def finish(design: Design, told: Answers) -> Design:
        return edits.add_filler(design, told["name"], told["material"], told["width"], place)

    materials = tuple(design.materials)
    return Form(
        "A filler",
        (
            Question("name", "called", "text", "Filler"),
            Question("material", "material", "choice", materials[0] if materials else "", materials),
            Question(
                "width",
                "width in the row",
                "share",
                of_unit(design, "1 1/2", "40"),
                help="what doors beside a wall want to open; its blank is wider, to be scribed",
            ),
        ),
        finish,
    )


def end_panel_form(design: Design, place: int | None = None) -> Form:
    """An end panel, at a place in the row or at its right end."""

    def finish(design: Design, told: Answers) -> Design:
        return edits.add_end_panel(design, told["name"], told["material"], place)

    materials = tuple(design.materials)
    return Form(
        "An end panel",
        (
            Question("name", "called", "text", "End panel"),
            Question("material", "material", "choice", materials[0] if materials else "", materials),
        ),
        finish,
    )


def bay_form(design: Design, row_place: int) -> Form:
    """One more bay in a carcass, behind a divider; the first it has without asking."""

    def finish(design: Design, told: Answers) -> Design:
        shelves = ("even",) * int(told["fixed"])
        bay = Bay(told["width"], shelves, int(told["adjustable"]))
        if not edits.value_at(design, ("row", row_place, "bays")):
            design = edits.add_at(design, ("row", row_place, "bays"), Bay())
        return edits.add_at(design, ("row", row_place, "bays"), bay)

    return Form(
        "A bay",
        (
            Question("width", "inside width", "share", "share"),
            Question("fixed", "fixed shelves, evenly spaced", "count", "0"),
            Question("adjustable", "adjustable shelves", "count", "1"),
        ),
        finish,
    )


def opening_form(design: Design, row_place: int, bay: int, place: int | None = None) -> Form:
    """One more opening in a bay, on top or at a place in it; the bay's shelves go, for openings have their own."""
    at: edits.Path = ("row", row_place, "bays", bay)
    item = design.row[row_place]
    there = item.bays[bay].openings if isinstance(item, Carcass) and item.bays else ()
    over = len(there) if place is None else place

    def finish(design: Design, told: Answers) -> Design:
        if not edits.value_at(design, ("row", row_place, "bays")):
            design = edits.add_at(design, ("row", row_place, "bays"), Bay())
        design = edits.set_value(design, (*at, "fixed_shelves"), ())
        design = edits.set_value(design, (*at, "adjustable_shelves"), 0)
        if over:
            design = edits.set_value(design, (*at, "openings", over - 1, "above"), told["below"])
        front, hinged = told["front"], "left"
        if front.startswith("door"):
            front, hinged = "door", front.rpartition(" ")[2]
        # What lay over the opening below lies over this one now.
        above = there[over - 1].above if 0 < over <= len(there) else "nothing"
        opening = Opening(told["height"], front, hinged, int(told["shelves"]), above)  # type: ignore[arg-type]
        return edits.add_at(design, (*at, "openings"), opening, over)

    fronts = ("open", "door hinged left", "door hinged right", "pair of doors", "drawer", "false front")
    below = Question(
        "below",
        f"parted from opening {over} by",
        "choice",
        "nothing",
        ("nothing", "shelf", "rail"),
        "what lies between",
    )
    return Form(
        f"Opening {over + 1} of bay {bay + 1}, " + (f"over opening {over}" if over else "the lowest"),
        (
            Question("front", "front", "choice", "drawer", fronts, "what is before it; counted from below"),
            Question("height", "clear height", "share", "share", help="a size, a formula, `share` or `2 shares`"),
            *([below] if over else []),
            Question(
                "shelves", "adjustable shelves", "count", "0", help="behind doors, or in an open one; 0 for a drawer"
            ),
        ),
        finish,
    )


def top_form(design: Design) -> Form:
    """A top over the whole row."""

    def finish(design: Design, told: Answers) -> Design:
        design = edits.add_top(design, told["name"], told["material"])
        at: edits.Path = ("tops", len(design.tops) - 1)
        design = edits.set_value(design, (*at, "layers"), int(told["layers"]))
        return edits.set_value(design, (*at, "overhang_front"), told["overhang"])

    materials = tuple(design.materials)
    return Form(
        "A top",
        (
            Question("name", "called", "text", "Worktop"),
            Question("material", "material", "choice", materials[0] if materials else "", materials),
            Question("layers", "layers", "choice", "1", ("1", "2"), "two are glued all over"),
            Question("overhang", "overhang at the front", "size", of_unit(design, "1", "20")),
        ),
        finish,
    )


def loose_form(design: Design) -> Form:
    """A part that no rule makes."""

    def finish(design: Design, told: Answers) -> Design:
        design = edits.add_loose(design, told["name"], told["material"], told["length"], told["width"])
        at: edits.Path = ("loose", len(design.loose) - 1)
        design = edits.set_value(design, (*at, "quantity"), int(told["quantity"]))
        return edits.set_value(design, (*at, "grain"), told["grain"])

    materials = tuple(design.materials)
    return Form(
        "A loose part",
        (
            Question("name", "called", "text", "Filler"),
            Question("material", "material", "choice", materials[0] if materials else "", materials),
            Question("quantity", "how many", "count", "1"),
            Question("length", "length", "size", help="finished"),
            Question("width", "width", "size", help="finished"),
            Question(
                "grain", "grain follows its", "choice", "length", ("length", "width", "none"), "none: it may turn"
            ),
        ),
        finish,
    )


def dimension_form(design: Design) -> Form:
    """A named dimension."""

    def finish(design: Design, told: Answers) -> Design:
        return edits.set_value(design, ("dimensions", told["name"]), told["formula"])

    return Form(
        "A named dimension",
        (
            Question("name", "name", "name", help="letters, digits and _"),
            Question("formula", "is", "formula", help="a size, or a formula such as (clear_width - 2*gap) / 3"),
        ),
        finish,
    )
