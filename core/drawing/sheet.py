"""The drawing of one laid-out sheet: parts, offcuts, waste, the grain, and the cut that is next.

x runs along the sheet's length to the right, y up its width, as it lies on the saw horses with its
lower left corner towards you.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from core.drawing.canvas import Canvas, Notation, Picture, Role
from core.drawing.glyphs import Glyphs
from core.drawing.lettering import cells, clean, fitted
from core.drawing.sheet_labels import (
    KEYS,
    Entry,
    Legend,
    Lines,
    Region,
    Said,
    Writing,
    centred,
    offcut_lines,
    part_lines,
    set_legend,
)
from core.drawing.sheet_places import Cells, CutLine, OffcutView, PieceView, Places, SheetView, fit_sheet


@dataclass(frozen=True, slots=True)
class _Arrangement:
    places: Places
    parts: list[tuple[Said, Cells, Lines]]
    legend: Legend


def draw_sheet(
    laid: SheetView,
    columns: int,
    rows: int,
    notation: Notation,
    glyphs: Glyphs,
    selected: str | None = None,
    cut: CutLine | None = None,
    cell_ratio: Fraction = Fraction(2),
    picked: OffcutView | None = None,
) -> Picture:
    """The sheet to scale in `columns` by `rows` cells; where it is cramped, what fits.

    `selected` is the id of a piece, or the code of all pieces of a kind. `cut` is the one that is
    next, `picked` the piece that it cuts. `cell_ratio` is the height of a cell in widths of it. A
    part that is too small for its name is marked with a letter and told in a legend; if that has
    no room either, the drawing says how many are not named.
    """
    canvas = Canvas(columns, rows, glyphs)
    writing = Writing(notation, glyphs)
    top = 1 if rows >= 5 else 0
    if top or columns < 3 or rows < 3:
        _draw_title(canvas, laid, writing)
    if columns < 3 or rows < 3:
        return canvas.picture()
    arranged = _arranged(laid, columns, rows, top, writing, cell_ratio)
    _draw_spares(canvas, laid, arranged.places, writing)
    for said, frame, lines in sorted(arranged.parts, key=lambda drawn: _is(drawn[0].part, selected)):
        _draw_part(canvas, said, frame, lines, _is(said.part, selected))
    _draw_legend(canvas, arranged.legend, selected)
    if picked is not None:
        frame = arranged.places.cells(picked)
        canvas.box(frame.left, frame.top, frame.right, frame.bottom, "selected", "strong")
    for line in laid.cuts:
        if line != cut:
            _draw_numbered(canvas, line, arranged.places)
    if cut is not None:
        _draw_cut(canvas, cut, arranged.places, writing)
    return canvas.picture()


def _is(part: PieceView, selected: str | None) -> bool:
    return selected in (part.piece, part.code)


def _arranged(
    laid: SheetView, columns: int, rows: int, top: int, writing: Writing, cell_ratio: Fraction
) -> _Arrangement:
    """The largest drawing that leaves no part unnamed; else the one that leaves the fewest."""
    parts = [writing.said_of(part, laid.grain) for part in laid.parts]
    drawings = (
        _with_legend(parts, fit_sheet(laid, columns - beside, rows - top - below, top, cell_ratio), columns, rows)
        for beside, below in _kept_free(columns, rows - top)
    )
    best = next(drawings)
    while any(_lack(best)):
        found = next(drawings, None)
        if found is None:
            break
        best = min(best, found, key=_lack)
    return best


def _lack(arranged: _Arrangement) -> tuple[bool, int, bool]:
    """What is worst first: parts that are neither named nor counted, those that are not named, their sizes."""
    legend = arranged.legend
    return legend.left_out > 0 and legend.more_at is None, legend.left_out, not legend.with_sizes


def _kept_free(columns: int, rows: int) -> Iterator[tuple[int, int]]:
    """Columns beside and rows below the drawing to keep for a legend, up to two fifths of the space, least first."""
    yield 0, 0
    most = min(rows * 2 // 5, rows - 3)
    for below in range(1, most + 1, max(most // 5, 1)):
        yield 0, below
        beside = below * columns // rows
        if columns - beside >= 3:
            yield beside, 0


def _with_legend(parts: list[Said], places: Places, columns: int, rows: int) -> _Arrangement:
    keys = iter(KEYS)
    drawn, entries = [], []
    framed = [(said, places.cells(said.part)) for said in parts]
    # In reading order, so that keys and legend run from left to right and down.
    for said, frame in sorted(framed, key=lambda pair: (pair[1].top, pair[1].left, -pair[0].part.y, pair[0].part.x)):
        lines = part_lines(said, frame)
        if not lines:
            key = next(keys, "") if frame.columns and frame.rows else ""
            entries.append(Entry(said, key))
            lines = (key,) if key else ()
        drawn.append((said, frame, lines))
    entries.sort(key=lambda entry: not entry.key)
    frame = places.frame
    beside = Region(frame.right + 2, frame.top, columns - frame.right - 2, frame.bottom - frame.top + 1)
    below = Region(0, frame.bottom + 1, columns, rows - frame.bottom - 1)
    return _Arrangement(places, drawn, set_legend(entries, (beside, below)))


def _draw_title(canvas: Canvas, laid: SheetView, writing: Writing) -> None:
    """As much as has room of what the sheet is; what matters most is kept longest."""
    glyphs = canvas.glyphs
    left, right, _, _ = glyphs.arrows
    name, material = clean(laid.id, glyphs), clean(laid.material, glyphs)
    room = canvas.columns - cells(name)
    shaft = glyphs.join(0, 1, 0, 1) * (8 if canvas.columns >= 60 else 2)
    grain = f"grain {left}{shaft}{right}" if laid.grain else "no grain"
    trim = _trimmed(laid, writing)
    said = {"name": name}
    for what, choices in (
        ("size", [writing.size(laid.length, laid.width)]),
        ("bad", [f"{glyphs.bad[0] * 2} bad place{'s' * (len(laid.bad) > 1)}"] if laid.bad else []),
        ("grain", [grain]),
        ("trim", [trim, "trimmed"] if trim else []),
    ):
        text = next((text for text in choices if cells(text) + 2 <= room), "")
        if text:
            said[what] = text
            room -= cells(text) + 2
    if room - 2 >= min(cells(material), 6):
        said["material"] = fitted(material, room - 2, glyphs)
    title = "  ".join(said[what] for what in ("name", "material", "size", "trim", "bad") if what in said)
    canvas.text(0, 0, fitted(title, canvas.columns, glyphs), "title")
    if "grain" in said:
        canvas.text(canvas.columns - cells(said["grain"]), 0, said["grain"], "grain")


def _trimmed(laid: SheetView, writing: Writing) -> str:
    trim = laid.trim
    sides = {"left": trim.left, "right": trim.right, "bottom": trim.bottom, "top": trim.top}
    if trim.left and len(set(sides.values())) == 1:
        return f"trim {writing.length(trim.left)}"
    told = [f"{side} {writing.length(amount)}" for side, amount in sides.items() if amount]
    return f"trim {', '.join(told)}" if told else ""


def _draw_spares(canvas: Canvas, laid: SheetView, places: Places, writing: Writing) -> None:
    """The frame, all of it waste but for the offcuts that are worth keeping."""
    frame = places.frame
    canvas.fill(frame.left, frame.top, frame.right, frame.bottom, canvas.glyphs.waste, "waste")
    canvas.box(frame.left, frame.top, frame.right, frame.bottom, "outline")
    for offcut in laid.offcuts:
        bad = [there for one in laid.bad if (there := places.bad_cells(one, offcut))]
        if offcut.worth_keeping:
            room = places.cells(offcut)
            canvas.fill(room.left + 1, room.top + 1, room.right - 1, room.bottom - 1, canvas.glyphs.offcut, "offcut")
            canvas.box(room.left, room.top, room.right, room.bottom, "outline")
            free = _beside(room, bad)
            for x, y, line in centred(offcut_lines(offcut, free, writing), free):
                canvas.text(x, y, line, "offcut")
        for there in bad:
            canvas.fill(there.left + 1, there.top + 1, there.right - 1, there.bottom - 1, canvas.glyphs.bad, "bad")


def _beside(room: Cells, bad: Sequence[Cells]) -> Cells:
    """The frame in which most cells are free of bad places."""
    if not bad:
        return room
    first, *others = bad
    free = (
        replace(room, right=min(room.right, first.left + 1)),
        replace(room, left=max(room.left, first.right - 1)),
        replace(room, bottom=min(room.bottom, first.top + 1)),
        replace(room, top=max(room.top, first.bottom - 1)),
    )
    return max((_beside(frame, others) for frame in free), key=lambda frame: frame.columns * frame.rows)


def _draw_part(canvas: Canvas, said: Said, frame: Cells, lines: Lines, chosen: bool) -> None:
    inside: Role = "selected" if chosen else "done" if said.part.done else "part"
    canvas.fill(frame.left + 1, frame.top + 1, frame.right - 1, frame.bottom - 1, (" ",), inside)
    outline: Role = "selected" if chosen else "outline"
    canvas.box(frame.left, frame.top, frame.right, frame.bottom, outline, "strong" if chosen else "light")
    for x, y, line in centred(lines, frame):
        lettering: Role = "grain" if line == said.lies else "label"
        canvas.text(x, y, line, lettering if inside == "part" else inside)


def _draw_legend(canvas: Canvas, legend: Legend, selected: str | None) -> None:
    for x, y, entry in legend.entries:
        chosen = _is(entry.said.part, selected)
        text = entry.text(legend.with_sizes, canvas.glyphs.chosen if chosen else " ")
        canvas.text(x, y, fitted(text, legend.columns, canvas.glyphs), "selected" if chosen else "legend")
    if legend.more_at is not None:
        canvas.text(*legend.more_at, f"+ {legend.left_out} more", "legend")


def _draw_numbered(canvas: Canvas, line: CutLine, places: Places) -> None:
    x1, x2 = places.across.at(line.x1), places.across.at(line.x2)
    y1, y2 = places.row(line.y2), places.row(line.y1)
    number = str(line.number)
    if y1 == y2:
        canvas.horizontal(x1, x2, y1, "cut", "dashed")
        if x2 - x1 >= len(number) + 3:
            canvas.text((x1 + x2 - len(number) + 1) // 2, y1, number, "cut")
    else:
        canvas.vertical(x1, y1, y2, "cut", "dashed")
        if y2 - y1 >= 4:
            canvas.text(x1 - (len(number) - 1) // 2, (y1 + y2) // 2, number, "cut")


def _draw_cut(canvas: Canvas, cut: CutLine, places: Places, writing: Writing) -> None:
    """The blade's way from edge to edge, over everything, and what the fence is set to."""
    glyphs, frame = canvas.glyphs, places.frame
    x1, x2 = places.across.at(cut.x1), places.across.at(cut.x2)
    y1, y2 = places.row(cut.y2), places.row(cut.y1)
    left, right, up, down = glyphs.heads
    fence = f" {writing.length(cut.fence)} "
    choices = (f"{fence}from {cut.measured_from} ", fence)
    if y1 == y2:
        canvas.run(x1, y1, x2, y1, "cut", glyphs.cut_across, (right, left))
        text, row = next((text for text in choices if cells(text) <= x2 - x1 - 3), fence), y1
    else:
        canvas.run(x1, y1, x1, y2, "cut", glyphs.cut_down, (down, up))
        text, row = min(
            ((text, row) for text in choices for row in range(y1 + 1, max(y2, y1 + 2))),
            key=lambda choice: _hides(canvas, x1, *choice, middle=(y1 + y2) // 2, whole=choice[0] == choices[0]),
        )
    start = (x1 + x2 - cells(text) + 1) // 2
    canvas.text(max(frame.left, min(start, frame.right + 1 - cells(text))), row, text, "cut")


def _hides(
    canvas: Canvas, x: int, text: str, row: int, *, middle: int, whole: bool
) -> tuple[bool, bool, int, int, int]:
    """How bad a text across an upright line at x is: worst that it covers lettering, then that it is not whole."""
    half = cells(text) // 2
    shown = [canvas.shown(column, row) for column in range(x - half, x + half + 1) if column != x]
    background = {" ", *"".join(canvas.glyphs.waste), *"".join(canvas.glyphs.offcut)}
    letters = sum(character.isalnum() for character in shown)
    return letters > 0, not whole, letters, sum(c not in background for c in shown), abs(row - middle)
