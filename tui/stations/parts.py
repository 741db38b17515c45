"""Station: the parts list, and the chosen part drawn to scale with its notches and bands."""

from __future__ import annotations

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from core.banding import SIDES, side_called
from core.construction.codes import place_key
from core.construction.part import Kind
from core.cutting import cut_free
from core.drawing.glyphs import Glyphs
from core.drawing.lettering import cells, clean, fitted
from core.drawing.part import draw_part
from core.drawing.part_notes import larger_in_words
from core.edits import band, hold_back
from core.held_back import held_in_words
from core.mistakes import Mistake
from core.plan import Plan
from tui.stations.base import Station
from tui.widgets.entry import Asked
from tui.widgets.painted import Painted, Row, plain_row
from tui.widgets.rows import Line, Rows

DRAWN_ROWS = 26
"""Of a drawing that has the window for itself, at least: what is cut and bored is told whole, and scrolls."""


LEAST_MARKS = 15
"""Columns for what is cut into a part, where a name wants the room."""


class PartsStation(Station):
    """Every kind of part once."""

    NAME = "Parts"
    HELP: ClassVar[str] = (
        "Every part that the piece needs. One line is one blank, one machining, one hand: a left and a right "
        "that mirror are two lines. A code is given once and stays, whatever else changes; each piece of it "
        "is the code and a number, S1/2. Length is along the grain. Sizes are finished; where banding is "
        "glued on, the blank that the saw delivers is smaller, and is told below. A size with ~ is rounded to "
        "the tape's marks.\n\n"
        "h holds a part back: tops, fillers, doors and fronts are best cut when the carcasses stand. Its place on "
        "the sheet is kept, its cuts come last, and they follow if its size changes by then.\n\n"
        "b bands an edge, or leaves it bare: the end of a shelf that shows, the back edge of a top. What the rules "
        "band needs no telling.\n\n"
        "The drawing shows the part under the cursor: what is cut and bored with its places, banded edges as a "
        "double stroke. v gives it the window; the arrows scroll it then, and n goes to "
        "the next part."
    )

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self._name_room = 0
        """Columns that the list has for a name."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("h", "hold", "hold back", id="parts.hold", tooltip="Cut it only when the carcasses stand, or with all"),
        Binding("v", "view", "drawing", id="parts.view", tooltip="The drawing in the whole window, or the list"),
        Binding("n", "part(1)", "next part", id="parts.next", tooltip="The drawing of the next part"),
        Binding("N", "part(-1)", "part before", show=False, id="parts.before"),
        Binding("b", "band", "band an edge", id="parts.band", tooltip="Band one edge of this part, or leave it bare"),
    ]

    def action_band(self) -> None:
        """Asks which edge of the part, then with what."""
        code = self.query_one(Rows).key
        kind = next((kind for kind in self.session.plan.kinds if kind.code == code), None)
        if kind is None:
            return
        part = kind.part
        now = {part.edge_name(edge.side): edge.banding for edge in part.edges}
        edges = tuple(part.edge_name(side) for side in SIDES)
        bare = "none"
        bandings = (*self.session.design.bandings, bare)

        def check_edge(text: str) -> str:
            return f"now {now.get(text) or 'bare'}" if side_called(part, text) else ""

        def check_banding(text: str) -> str:
            if text not in bandings:
                raise Mistake(f"one of: {', '.join(bandings)}")
            return ""

        def ask_banding(edge: str) -> None:
            def accept(text: str) -> None:
                side = side_called(part, edge)
                # Of parts that are alike the same edge has other names where they lie otherwise.
                edges = [(place_key(piece), piece.edge_name(side)) for _, piece in kind.pieces]
                done = self.desk.edit(lambda design: band(design, edges, "" if text == bare else text))
                if done:
                    self.desk.say(f"{kind.name}: {edge} {'left bare' if text == bare else f'banded with {text}'}")
                self.query_one(Rows).focus()

            self.desk.ask(
                Asked("With", now.get(edge) or bandings[0], check_banding, accept, bandings, cancel=self._back)
            )

        self.desk.ask(Asked("Which edge", edges[0], check_edge, ask_banding, edges, cancel=self._back))

    def _back(self) -> None:
        self.query_one(Rows).focus()

    def action_view(self) -> None:
        """The drawing gets the room of the list and the keys that scroll it; and back."""
        drawn = self.toggle_class("-drawn").has_class("-drawn")
        self.screen.set_focus(self.query_one("#parts-drawing" if drawn else Rows))
        self.refresh_bindings()

    def action_part(self, by: int) -> None:
        """The drawing of the part after or before, whichever has the keys."""
        self.query_one(Rows).action_move(by)

    def told_as(self, action: str) -> str | None:
        """What a key does here and now, where that is another thing than its binding says; else empty."""
        drawn = self.has_class("-drawn")
        if action.startswith("part"):
            # In the list the arrows do the same.
            return "" if drawn else None
        return "list" if action == "view" and drawn else ""

    def action_hold(self) -> None:
        """Its place on the sheet is kept, its cuts come last."""
        code = self.query_one(Rows).key
        kinds = {kind.code: kind.part.material for kind in self.session.plan.kinds}
        if kinds.get(str(code)) in self.session.design.boards:
            self.desk.say("a board is cut to length by itself: whenever you like")
        elif isinstance(code, str) and self.desk.edit(lambda design: hold_back(design, code)):
            held = code in self.session.design.held_back
            self.desk.say(self._waits(code) if held else f"{code} is cut with all others")

    def _waits(self, code: str) -> str:
        """What holding a part back comes to, as far as it is cut already."""
        plan = self.session.plan
        pieces = {piece for kind in plan.kinds if kind.code == code for piece in kind.piece_ids()}
        if pieces <= cut_free(plan.sheets, plan.steps):
            return f"{code} is cut already: there is nothing left to hold back"
        if plan.pending:
            return f"{code} is held back; Cuts says whether it can wait once the sheets are laid out"
        told = [one for one in held_in_words(plan) if one.partition(" ")[0] in pieces]
        return told[0] if told else f"{code} is cut when the carcasses stand"

    def compose(self) -> ComposeResult:
        """The list above, the drawing below or beside."""
        yield Rows(id="parts-list", glyphs=self.glyphs)
        yield Painted(id="parts-drawing", glyphs=self.glyphs)

    def show(self, plan: Plan) -> None:
        """The list of a plan."""
        columns = [_columns(kind, plan) for kind in plan.kinds]
        heads = ("", "qty", "name", "length", "width", "material", "thick", "")
        widths = [max([len(heads[i]), *(cells(row[i]) for row in columns)]) for i in range(len(heads))]
        # What is cut into a part is drawn below; its name is not.
        over = sum(widths) + 2 * len(widths) + 2 - self.size.width
        widths[-1] -= max(min(over, widths[-1] - LEAST_MARKS), 0)
        room = self.size.width - sum(widths) + widths[2] - 2 * len(widths) - 2
        widths[2] = self._name_room = min(widths[2], max(room, 14))
        lines = [Line(_set(heads, widths, "heading", self))] if columns else []
        lines += [
            Line(_set(row, widths, "text", self), kind.code) for row, kind in zip(columns, plan.kinds, strict=True)
        ]
        if not lines:
            lines = [Line(plain_row("No parts yet: describe the piece at station 3.", "quiet"))]
        self.query_one(Rows).show_lines(lines)
        self._draw()

    def fit(self) -> None:
        """Names and the drawing follow the room that they have."""
        self.show(self.session.plan)

    @on(Rows.Moved)
    def _moved(self, event: Rows.Moved) -> None:
        event.stop()
        self._draw()

    def _draw(self) -> None:
        drawing = self.query_one("#parts-drawing", Painted)
        plan, code = self.session.plan, self.query_one(Rows).key
        kind = next((kind for kind in plan.kinds if kind.code == code), None)
        if kind is None or drawing.size.width < 2:
            drawing.show_rows([])
            return
        told = _told(kind, plan, whole=cells(kind.name) <= self._name_room)
        notation = plan.worked.notation
        room, columns = max(drawing.size.height - len(told), 1), drawing.size.width
        picture = draw_part(kind.part, columns, room, notation, self.glyphs, titled=False)
        if self.has_class("-drawn") and any(_is_short(span.text, self.glyphs) for row in picture.rows for span in row):
            # What is left out is told below, and scrolls.
            picture = draw_part(kind.part, columns, max(room, DRAWN_ROWS), notation, self.glyphs, titled=False)
        drawing.show_rows([*told, *(tuple((s.text, s.role or "text") for s in row) for row in picture.rows)])


def _is_short(text: str, glyphs: Glyphs) -> bool:
    """A note that was cut short, or says how many more there are."""
    return text.startswith("+ ") or text.rstrip().endswith(glyphs.ellipsis)


def _columns(kind: Kind, plan: Plan) -> tuple[str, ...]:
    part, notation = kind.part, plan.worked.notation
    held = "held" if kind.code in plan.project.design.held_back else ""
    cut = dict.fromkeys([*(cut.kind for cut in part.machining), *("holes" for _ in part.holes)])
    marks = [held, part.hand or "", "banded" if part.edges else "", *cut]
    return (
        kind.code,
        str(kind.quantity),
        kind.name,
        notation.text(part.length),
        notation.text(part.width),
        part.material,
        notation.text(part.thickness),
        " ".join(mark for mark in marks if mark),
    )


def _set(row: tuple[str, ...], widths: list[int], role: str, station: Station) -> Row:
    glyphs = station.glyphs
    spans: list[tuple[str, str]] = []
    for number, (text, width) in enumerate(zip(row, widths, strict=True)):
        text = fitted(clean(text, glyphs), width, glyphs)
        space = " " * (width - cells(text))
        right = number in (1, 3, 4, 6)
        spans.append(
            (f"{space}{text}  " if right else f"{text}{space}  ", "key" if number == 0 and role == "text" else role)
        )
    return tuple(spans)


def _told(kind: Kind, plan: Plan, *, whole: bool) -> list[Row]:
    """What list and drawing do not say: the pieces and where they go, and the blank where it differs.

    `whole`: the list has room for all of the name.
    """
    say, part = plan.worked.notation.text, kind.part
    places = [
        " ".join(word for word in (f"{kind.code}/{number}", piece.carcass, piece.role, piece.place) if word)
        for number, piece in kind.pieces
    ]
    rows = [plain_row(("" if whole else f"{kind.name}: ") + "; ".join(places), "quiet")]
    if part.edges or part.is_cut_otherwise:
        bands = ", ".join(f"{part.edge_name(edge.side)} {edge.banding}" for edge in part.edges)
        told = f"blank {say(part.blank_length)} x {say(part.blank_width)}" + (f", banded at {bands}" if bands else "")
        larger = larger_in_words(part, say)
        rows.append(plain_row(told + (f", {larger}" if larger else ""), "quiet"))
    return rows
