"""A station of fields: sections of what can be changed, each as typed and as it comes to."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from operator import eq
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from core.construction.codes import place_key
from core.drawing.lettering import cells, clean, fitted
from core.editing.effect import effect
from core.editing.field import Field, Section, answer, check_answer
from core.editing.forms import Form
from core.edits import Path, copy_item, move_at, remove_item, value_at
from core.formulas import read_share
from core.lengths import UNITS, Notation, read_alone, read_length
from core.mistakes import Mistake
from core.plan import Plan
from core.project import Design
from tui.stations.base import Station
from tui.widgets.entry import Asked
from tui.widgets.painted import Painted, Row, plain_row
from tui.widgets.rows import Line, Rows

LABEL, TYPED = 28, 24


@dataclass(frozen=True)
class Head:
    """A heading that stands for a thing: a carcass, a material."""

    path: Path


class Fields(Rows):
    """The list of fields: Enter changes the one under the cursor."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "choose", "change", id="field.change", tooltip="The field under the cursor"),
    ]


class Ledger(Station):
    """Fields on the left; beside them, where there is room, a picture of what they make."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("a", "add", "add", id="field.add", tooltip="Something new: a reading, a carcass, a material"),
        Binding("d,delete", "remove", "remove", id="field.remove", tooltip="The thing under the cursor, whole"),
        Binding("c", "copy", "copy", id="field.copy", tooltip="A carcass or gap, beside itself", show=False),
        Binding("plus,equals_sign", "nudge(1)", "+ a step", id="field.more", show=False),
        Binding("minus", "nudge(-1)", "- a step", id="field.less", show=False),
        Binding("left_parenthesis,shift+left", "shift(-1)", "move left", id="field.move_left", show=False),
        Binding("right_parenthesis,shift+right", "shift(1)", "move right", id="field.move_right", show=False),
        Binding(
            "v",
            "view",
            "picture",
            id="field.view",
            tooltip="What stands beside the list in a wide window, in its place; and back",
        ),
    ]
    BESIDE: ClassVar[str] = "picture"
    """What stands beside the list, in a word or two."""

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self._wanted: tuple[Path, str] | None = None
        """What is to be looked at as soon as the fields are there, and what is said then."""

    def sections(self, design: Design) -> Sequence[Section]:
        """The fields of this station."""
        raise NotImplementedError

    def forms(self, design: Design, at: Path | None) -> dict[str, Callable[[], Form]]:
        """What can be added here, by name; `at` is the thing under the cursor."""
        raise NotImplementedError

    def findings(self, plan: Plan) -> list[Row]:
        """What follows from the fields, told above them."""
        return []

    def draw(self, plan: Plan, picture: Painted) -> None:
        """The picture beside the fields."""

    def compose(self) -> ComposeResult:
        """The list and the picture."""
        yield Fields(id=f"{self.NAME.lower()}-fields", glyphs=self.glyphs)
        yield Painted(id=f"{self.NAME.lower()}-picture", glyphs=self.glyphs)

    @property
    def rows(self) -> Rows:
        """The list of fields."""
        return self.query_one(Rows)

    @property
    def picture(self) -> Painted:
        """The picture."""
        return next(widget for widget in self.query(Painted) if not isinstance(widget, Rows))

    def show(self, plan: Plan) -> None:
        """Every field as it stands."""
        lines = [Line(row) for row in self.findings(plan)]
        for section in self.sections(plan.project.design):
            key = Head(section.item) if section.item is not None else None
            if not section.fields and key is None:
                lines.append(Line((*plain_row(section.heading, "heading"), ("  none yet: a adds one", "quiet"))))
                continue
            lines.append(Line(plain_row(section.heading, "heading"), key))
            lines += [Line(self._row(field, plan), field.path) for field in section.fields]
        self.rows.show_lines(lines)
        self.lay_side_by_side()
        self._look()
        self._draw()

    def look_at(self, path: Path, said: str = "") -> None:
        """Puts the cursor on a field, or else on the thing that has it, or on the last of its like."""
        self._wanted = (path, said)
        if self.is_mounted:
            self._look()
            self._draw()

    def _look(self) -> None:
        if self._wanted is None:
            return
        (path, said), self._wanted = self._wanted, None
        fields = [field.path for section in self.sections(self.session.design) for field in section.fields]
        like = [other for other in fields if other[: len(path)] == path]
        wanted = [path, *(Head(path[:n]) for n in range(len(path), 0, -1)), *like[-1:]]
        # What is said of it stands at the foot already, or a question does.
        with self.rows.prevent(Rows.Moved):
            any(self.rows.move_to(partial(eq, one), amid=True) for one in wanted)
        if said:
            self.desk.say(said)

    def lay_side_by_side(self) -> None:
        """List and picture side by side, or one of them."""
        picture, rows = self.picture, self.rows
        showing = self.has_class("-picture")
        picture.display = self.wide or showing
        rows.display = self.wide or not showing

    def back_to_list(self) -> None:
        """The keys go to the list again, unless something else has to be asked first."""
        self.desk.back_to_station()

    def _draw(self) -> None:
        if self.picture.display and self.picture.size.width > 1:
            self.draw(self.session.plan, self.picture)

    def on_resize(self) -> None:
        """Another size: perhaps one more column, and one key less."""
        self.lay_side_by_side()
        self.refresh_bindings()

    def fit(self) -> None:
        """Words and the picture follow the room that they have."""
        self.show(self.session.plan)

    def action_view(self) -> None:
        """The picture instead of the list, and back."""
        self.toggle_class("-picture")
        self.lay_side_by_side()
        self.screen.set_focus(self.picture if self.has_class("-picture") else self.rows)
        self.refresh_bindings()

    def told_as(self, action: str) -> str:
        """What a key does here and now, where that is another thing than its binding says; else empty."""
        return ("list" if self.has_class("-picture") else self.BESIDE) if action == "view" else ""

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """The picture key has nothing to do where both are shown."""
        return not (action == "view" and self.wide)

    def _row(self, field: Field, plan: Plan) -> Row:
        glyphs = self.glyphs
        label = fitted(clean(field.label, glyphs), LABEL - 1, glyphs)
        # Words run on to the right, where nothing is worked out from them.
        room = TYPED - 1 if field.kind != "text" else 60
        text = fitted(clean(field.text or "-", glyphs), room, glyphs)
        role = "quiet" if field.inherited or not field.text else "value"
        row: list[tuple[str, str]] = [
            (f"{label}{' ' * (LABEL - cells(label))}", "text"),
            (f"{text}{' ' * (TYPED - cells(text))}", role),
        ]
        told, bad = self._comes_to(field, plan)
        if told:
            row.append((told, "bad" if bad else "quiet"))
        elif field.inherited:
            row.append(("default" if field.rule_of == -1 else "as the project", "quiet"))
        return tuple(row)

    def _comes_to(self, field: Field, plan: Plan) -> tuple[str, bool]:
        """What a formula, a share or a foreign unit comes to; nothing where that is what was typed."""
        if field.kind == "share" and read_share(field.text) is not None:
            return self._share(field, plan), False
        if field.kind not in ("size", "share", "formula") or not field.text:
            return "", False
        try:
            told = check_answer(plan.project.design, field, field.text, plan.worked.names)
        except Mistake as mistake:
            return f"! {mistake}", True
        unit, design = plan.worked.notation.unit, plan.project.design
        reading = read_alone(field.text, design.unit)
        as_it_stands = reading is not None and not reading.has_unit and unit == design.unit
        plainly = field.text.strip().rstrip('"').strip().removesuffix(unit).strip()
        same = as_it_stands or told.removesuffix(unit).strip() == plainly
        return ("" if same else f"= {told}", False)

    def _share(self, field: Field, plan: Plan) -> str:
        """The width that a share of the row comes to."""
        if field.path[0] == "row" and len(field.path) == 3:
            item = value_at(plan.project.design, field.path[:2])
            for place in plan.worked.standing:
                if place.item is item:
                    return f"= {plan.worked.notation.with_unit(place.outside.width)}"
        return ""

    def _field(self) -> Field | None:
        path = self.rows.key
        for section in self.sections(self.session.design):
            for field in section.fields:
                if field.path == path:
                    return field
        return None

    def _thing(self) -> Path | None:
        """The way to the thing that the cursor's line belongs to."""
        key = self.rows.key
        if isinstance(key, Head):
            return key.path
        for section in self.sections(self.session.design):
            for field in section.fields:
                if field.path == key:
                    return field.item or section.item
        return None

    @on(Rows.Moved)
    def _moved(self, event: Rows.Moved) -> None:
        event.stop()
        field = self._field()
        self.desk.say(field.help if field else "")
        if self.wide:
            self._draw()

    @on(Rows.Chosen)
    def _chosen(self, event: Rows.Chosen) -> None:
        event.stop()
        field = self._field()
        if field:
            self.edit_field(field)
        elif isinstance(event.key, Head):
            self.action_add()

    def edit_field(self, field: Field) -> None:
        """Asks for another text in a field."""
        session = self.session
        choices = ("yes", "no") if field.kind == "yes or no" else field.choices

        def check(text: str) -> str:
            told = check_answer(session.design, field, text, session.plan.worked.names)
            if field.rule_of is None or text == field.text:
                return told
            # A rule is altered for what it does.
            codes = {place_key(part): kind.code for kind in session.plan.kinds for _, part in kind.pieces}
            then = answer(session.design, field, text, session.plan.worked.names)
            return f"{told}; {effect(session.plan.worked, codes, then)}".removeprefix("; ")

        def accept(text: str) -> None:
            self.desk.edit(lambda design: answer(design, field, text, session.plan.worked.names))
            self.back_to_list()

        asked = Asked(field.label.strip(), field.text, check, accept, choices, field.help, cancel=self.back_to_list)
        self.desk.ask(asked)

    def action_nudge(self, by: int) -> None:
        """A size one step of the tape more or less, and what that costs."""
        field = self._field()
        if field is None or field.kind not in ("size", "share", "formula"):
            self.desk.say("+ and - change a size by one step of the tape")
            return
        design = self.session.design
        notation = self.session.plan.worked.notation
        try:
            size = read_length(field.text, design.unit)
        except Mistake:
            self.desk.say(f"{field.label.strip()} is a formula; Enter changes it", bad=True)
            return
        text = Notation.read("", design.unit).as_typed(size + by * notation.step * UNITS[notation.unit])
        self.desk.nudge(lambda design: answer(design, field, text, self.session.plan.worked.names))

    def action_remove(self) -> None:
        """Takes away the thing under the cursor."""
        path = self._thing()
        if path is None:
            self.desk.say("nothing here can be removed; Enter changes it")
            return
        if self.desk.edit(lambda design: remove_item(design, path)):
            self.desk.say(f"{self._called(path)} removed; u brings it back")

    def _called(self, path: Path) -> str:
        """What the thing at a path is called in a sentence."""
        words = {"readings": "reading", "leans": "lean", "baseboards": "baseboard", "obstacles": "obstacle"}
        words |= {
            "stock": "size of sheet",
            "bays": "bay",
            "openings": "opening",
            "rules": "rule of its own",
            "row": "item of the row",
        }
        words |= {"materials": "material", "bandings": "banding", "dimensions": "dimension", "tops": "top"}
        named = [str(step) for step in path if str(step) in words or step == "loose"]
        word = words.get(named[-1], "loose part") if named else "it"
        return f"{word} {path[-1]}" if isinstance(path[-1], str) else f"{word} {int(path[-1]) + 1}"

    def action_copy(self) -> None:
        """A carcass or gap once more, beside itself."""
        path = self._thing()
        if path is None or path[0] != "row" or not isinstance(path[1], int):
            self.desk.say("only a carcass or a gap can be copied")
            return
        place = path[1]
        self.desk.edit(lambda design: copy_item(design, place))

    def action_shift(self, by: int) -> None:
        """A carcass or gap one place to the left or right in the row."""
        path = self._thing()
        if path is None or path[0] != "row":
            self.desk.say("only a carcass or a gap can be moved in the row")
            return
        item = path[:2]
        key = self.rows.key
        self.desk.edit(lambda design: move_at(design, item, by))
        # The cursor goes along.
        moved = (item[0], int(item[1]) + by)
        along = Head(moved) if isinstance(key, Head) else (*moved, *key[2:]) if isinstance(key, tuple) else None
        self.rows.move_to(lambda other: other == along)

    def ask_for(self, form: Form) -> None:
        """Asks for all that something new needs; the cursor then stands on it."""
        before = set(self._landmarks())

        def done() -> None:
            self.back_to_list()
            new = next((key for name, key in self._landmarks().items() if name not in before), None)
            if new is not None:
                self.rows.move_to(lambda key: key == new)

        self.desk.ask_form(form, done)

    def _landmarks(self) -> dict[object, object]:
        """Headings and fields by what does not change when something is put before them, and their keys."""
        found: dict[object, object] = {}
        for section in self.sections(self.session.design):
            if section.item is not None:
                found[section.heading] = Head(section.item)
            found |= {(section.heading, field.path[-2:]): field.path for field in section.fields}
        return found

    def action_add(self) -> None:
        """Asks what to add, then for everything that it needs."""
        forms = self.forms(self.session.design, self._thing())
        names = tuple(forms)
        if len(names) == 1:
            self.ask_for(forms[names[0]]())
            return

        def check(text: str) -> str:
            if text not in forms:
                raise Mistake(f"one of: {', '.join(names)}")
            return text

        def accept(text: str) -> None:
            self.ask_for(forms[text]())

        self.desk.ask(Asked("Add", names[0], check, accept, names, cancel=self.back_to_list))
