"""A bare list of parts in a CSV file, laid out on sheets of one material: no project, no carcass."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Hashable, Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path

from core.bare_stock import read_sheets, read_size
from core.buy import money
from core.drawing.glyphs import ASCII, UNICODE
from core.drawing.sheet import draw_sheet
from core.drawing.sheet_places import OffcutView, PieceView, SheetView, TrimView
from core.jobs import Blank, make_job
from core.layout.search import lay_out
from core.layout.tree import Announce
from core.lengths import Notation, Unit, read_length
from core.mistakes import Mistake
from core.on_hand import code_of
from core.outputs import Document, sheets_document
from core.planned_sheet import PlannedSheet, as_ranges
from core.printing import needed_in_words, unplaced_in_words
from core.sheets import MaterialSheets, name_pieces

COLUMNS = ("part", "quantity", "length", "width", "grain")
GRAINS = ("length", "width", "none")
MOST_BYTES = 2_000_000
MOST_PIECES = 20_000
UNTIL_THE_CLOCK_STOPS = 10**9
"""Iterations that are never spent."""


@dataclass(frozen=True, slots=True)
class ListedPart:
    """A line of the list; sizes in mm."""

    code: str
    quantity: int
    length: Fraction
    width: Fraction
    grain: str


def read_list(path: Path, unit: Unit) -> tuple[ListedPart, ...]:
    """The parts of a CSV file. Raises Mistake, naming line and column, with all that is wrong in it."""
    try:
        data = path.read_bytes()
    except OSError as error:
        raise Mistake(f"{path} cannot be read: {error.strerror or error}") from None
    if not data.strip():
        raise Mistake(f"{path} is empty; a list of parts has columns {','.join(COLUMNS)}")
    if len(data) > MOST_BYTES:
        raise Mistake(f"{path} is larger than {MOST_BYTES} bytes; that is no list of parts")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise Mistake(f"{path} is not UTF-8 text (byte {error.start + 1}); save it as CSV in UTF-8") from None
    wrong: list[str] = []
    parts: list[ListedPart] = []
    try:
        reader = csv.DictReader(io.StringIO(text, newline=""), delimiter=_between(text), skipinitialspace=True)
        heads = [(head or "").strip().lower() for head in reader.fieldnames or []]
        missing = [name for name in COLUMNS[:4] if name not in heads]
        if missing:
            raise Mistake(f"{path}, line 1: no column {', '.join(missing)}; the columns are {','.join(COLUMNS)}")
        twice = sorted({name for name in COLUMNS if heads.count(name) > 1})
        if twice:
            raise Mistake(f"{path}, line 1: two columns {', '.join(twice)}; leave one of each")
        reader.fieldnames = heads
        for row in reader:
            if any((value or "").strip() for value in row.values() if isinstance(value, str)):
                _read_row(row, unit, f"{path}, line {reader.line_num}", parts, wrong)
    except csv.Error as error:
        raise Mistake(f"{path}, line {reader.line_num}: {error}") from None
    codes = [part.code for part in parts]
    wrong += [
        f"{path}: part {code} stands twice; give each kind one line"
        for code in dict.fromkeys(codes)
        if codes.count(code) > 1
    ]
    if sum(part.quantity for part in parts) > MOST_PIECES:
        wrong.append(f"{path}: more than {MOST_PIECES} pieces")
    if wrong:
        raise Mistake("\n".join(wrong))
    if not parts:
        raise Mistake(f"{path} holds no parts")
    return tuple(parts)


def _between(text: str) -> str:
    """What stands between two fields, by the first line: spreadsheets write semicolons where commas are decimal."""
    first = text.lstrip().partition("\n")[0]
    return max(",;\t", key=first.count)


def _read_row(row: dict[str, str], unit: Unit, where: str, parts: list[ListedPart], wrong: list[str]) -> None:
    told = {name: (row.get(name) or "").strip() for name in COLUMNS}
    before = len(wrong)
    sizes: list[Fraction] = []
    for name in ("length", "width"):
        try:
            size = read_length(told[name], unit)
            if size <= 0:
                raise Mistake(f"{told[name]!r} is not more than nothing")
            sizes.append(size)
        except Mistake as mistake:
            wrong.append(f"{where}, {name}: {mistake}")
    code = _code(told["part"])
    if not code:
        wrong.append(f"{where}, part: {told['part']!r} is no name; letters and digits are")
    quantity = told["quantity"]
    if not (quantity.isascii() and quantity.isdigit()) or not 0 < int(quantity[:9]) <= MOST_PIECES:
        wrong.append(f"{where}, quantity: {quantity!r} is no whole number from 1 to {MOST_PIECES}")
    grain = told["grain"].lower() or "none"
    if grain not in GRAINS:
        wrong.append(f"{where}, grain: {told['grain']!r} is not one of {', '.join(GRAINS)}")
    if row.get(None):  # type: ignore[call-overload]
        wrong.append(f"{where}: more fields than columns; a size with a decimal comma goes in quotation marks")
    if len(wrong) == before:
        parts.append(ListedPart(code, int(quantity), sizes[0], sizes[1], grain))


def _code(name: str) -> str:
    """A name as it is pencilled on each piece, with a number: without blanks and strokes, `Base side` as `BaseSide`."""
    words = "".join(c if c.isprintable() and c != "/" else " " for c in name).split()
    return "".join([*words[:1], *(word[:1].upper() + word[1:] for word in words[1:])])


def lay_out_list(
    parts: tuple[ListedPart, ...],
    sheets: Sequence[str],
    kerf: str,
    trim: str,
    unit: Unit,
    seconds: float | None,
    announce: Announce = None,
    cancelled: Callable[[], bool] | None = None,
) -> MaterialSheets:
    """The list on sheets (`core.bare_stock`), which have grain if any part asks for one. Raises Mistake.

    `seconds`, `announce` and `cancelled` as for `core.layout.search.lay_out`.
    """
    grain = any(part.grain != "none" for part in parts)
    stock = read_sheets(sheets, read_size(trim, unit, "--trim"), unit, grain)
    blanks = tuple(_blank(part) for part in parts)
    job = make_job(blanks, stock, read_size(kerf, unit, "--kerf"))
    if seconds is not None:
        # The person's clock takes the place of the count of iterations.
        job = replace(job, iterations=UNTIL_THE_CLOCK_STOPS)
    layout = lay_out(job, seconds, announce, cancelled)
    pieces = {part.code: [f"{part.code}/{n}" for n in range(1, part.quantity + 1)] for part in parts}
    laid, unplaced = name_pieces("sheet", grain, job, layout, pieces, 1)
    return MaterialSheets("sheet", job, blanks, tuple(laid), unplaced, layout.lower_bound, layout.least_money)


def _blank(part: ListedPart) -> Blank:
    if part.grain == "width":
        return Blank(part.code, part.width, part.length, part.quantity, False, True)
    return Blank(part.code, part.length, part.width, part.quantity, part.grain == "none")


def document(material: MaterialSheets) -> Document:
    """`sawhorse layout … --json`."""
    kerf = material.job.kerf * Fraction(material.job.unit)
    return sheets_document([material], {}, kerf)


def text(material: MaterialSheets, unit: Unit, columns: int, ascii_only: bool) -> list[str]:
    """The sheets drawn to scale, those that are alike once."""
    glyphs, notation = (ASCII if ascii_only else UNICODE), Notation.read("", unit)
    used = float(material.used_area / material.area) if material.sheets else 0
    told = needed_in_words(material)
    cost = f", {money(material.cost / 100, '')}" if material.cost else ""
    lines = [f"{told}, {used:.0%} used{cost}"]
    lines += [f"! {told}" for told in unplaced_in_words(material)]
    for sheet, *others in _alike(material.sheets):
        view = _view(sheet)
        rows = max(10, round(columns * float(view.width / view.length) / 2) + 4)
        lines += ["", *draw_sheet(view, columns, rows, notation, glyphs).plain()]
        while not lines[-1].strip():
            lines.pop()
        if others:
            # They are called sheet-1, sheet-2 and so on.
            numbers = as_ranges(tuple(int(one.id.rpartition("-")[2]) for one in others)).split()
            are = "is" if len(others) == 1 else "are"
            lines.append(f"{len(others)} more {are} like it: sheet {', '.join(numbers)}")
    return lines


def _alike(sheets: Iterable[PlannedSheet]) -> list[list[PlannedSheet]]:
    """Sheets on which parts of the same codes lie in the same places, together."""
    found: dict[Hashable, list[PlannedSheet]] = {}
    for sheet in sheets:
        lying = tuple((code_of(o.piece), o.x, o.y, o.length, o.width, o.turned) for o in sheet.placed())
        found.setdefault((sheet.stock, lying), []).append(sheet)
    return list(found.values())


def _view(sheet: PlannedSheet) -> SheetView:
    mm = sheet.mm
    return SheetView(
        sheet.id,
        sheet.stock,
        mm(sheet.length),
        mm(sheet.width),
        mm(sheet.kerf),
        sheet.grain,
        tuple(
            PieceView(o.piece, o.piece.rpartition("/")[0], mm(o.x), mm(o.y), mm(o.length), mm(o.width), o.turned)
            for o in sheet.placed()
        ),
        tuple(OffcutView(mm(o.x), mm(o.y), mm(o.length), mm(o.width), o.worth_keeping) for o in sheet.offcuts()),
        TrimView(*(mm(side) for side in sheet.trim)),
    )
