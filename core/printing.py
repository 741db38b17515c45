"""Every station as plain lines, for paper, pipes and screens without an app."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Container, Iterable, Iterator, Mapping, Sequence
from fractions import Fraction

from core.boards import boards_in_words, without_a_length
from core.build import build_steps
from core.buy import buying_list, money, total
from core.changes_in_words import cut_and_wanted, misfit_in_words
from core.checks import run_checks
from core.construction.part import Kind, Part
from core.cutting import PlannedStep, cut_free, settings_needed
from core.drawing.elevation import draw_elevation
from core.drawing.glyphs import ASCII, UNICODE
from core.drawing.lettering import broken, cells, clean, fitted
from core.drawing.part import draw_part
from core.drawing.part_notes import is_channel, larger_in_words
from core.drawing.part_seen import hand_in_words
from core.drawing.sheet import draw_sheet
from core.evening import NearSizes, near_sizes
from core.held_back import held_in_words
from core.lengths import UNIT_WORDS, UNITS, Notation, exact_text
from core.lying import Thing, names_of_several, things_lying
from core.machining_list import machining_in_words, place_in_words
from core.on_hand import code_of
from core.outputs import Document, buy_document, checks_document, cuts_document, parts_document, sheets_document
from core.plan import Plan
from core.sheets import MaterialSheets
from core.steps_in_words import comes_off, grouped, is_new_setting, name_explained, told_before
from core.views import row_labels, sheet_view

Text = Callable[[Plan, int, bool], list[str]]
"""Plan, columns, ASCII only, to lines."""


NAMED_WITHOUT_A_PLACE = 4
"""Of so many pieces of a kind that have no place the names are told."""

LONGEST_ITEM = 50
"""Columns of what is to be bought."""


def columns_of(terminal: bool) -> int:
    """How wide to print: the terminal, or what fits on a sheet of paper."""
    return max(60, min(shutil.get_terminal_size((100, 24)).columns, 160)) if terminal else 100


def table(rows: Sequence[Sequence[str]], right: Sequence[int], ascii_only: bool, most: int = 40) -> list[str]:
    """Rows of cells in columns; those numbered in `right` are set to the right. The first row is the heading."""
    glyphs = ASCII if ascii_only else UNICODE
    cleaned = [[fitted(clean(cell, glyphs), most, glyphs) for cell in row] for row in rows]
    widths = [max(cells(row[i]) for row in cleaned) for i in range(len(rows[0]))]
    lines = []
    for row in cleaned:
        spaced = []
        for i, (cell, width) in enumerate(zip(row, widths, strict=True)):
            space = " " * (width - cells(cell))
            spaced.append(space + cell if i in right else cell + space)
        lines.append("  ".join(spaced).rstrip())
    lines.insert(1, "-" * max(map(cells, lines)))
    return lines


def parts_text(plan: Plan, columns: int, ascii_only: bool) -> list[str]:
    """The parts list, then every kind drawn to scale."""
    notation = plan.worked.notation
    if not plan.kinds:
        return ["No parts yet."]
    rows = [["part", "qty", "name", "length", "width", "thick", "blank", "material", "grain"]]
    for kind in plan.kinds:
        part = kind.part
        rows.append(
            [
                kind.code,
                str(kind.quantity),
                kind.name,
                notation.text(part.length),
                notation.text(part.width),
                notation.text(part.thickness),
                _blank(part, notation),
                part.material,
                part.grain,
            ]
        )
    heading, rule, *listed = table(rows, (1, 3, 4, 5), ascii_only)
    unit = UNIT_WORDS[notation.unit]
    lines = [f"Parts of {plan.project.design.name}, sizes in {unit}, length along the grain; ~ is rounded", ""]
    lines += [heading, rule]
    for kind, line in zip(plan.kinds, listed, strict=True):
        lines += [line, *broken(" " * 6 + _notes(kind, notation), columns, " " * 6)]
    glyphs = ASCII if ascii_only else UNICODE
    for kind in plan.kinds:
        part = kind.part
        if part.machining or part.holes:
            # Channels and rows have notes below.
            most = 24 if part.holes or any(is_channel(cut) for cut in part.machining) else 16
            drawn = "\n".join(draw_part(part, min(columns, 76), most, notation, glyphs).plain())
            lines += ["", f"{kind.code}  {kind.name}", *drawn.rstrip().splitlines()]
    return lines


def _blank(part: Part, notation: Notation) -> str:
    """The size that the saw delivers, where it is not the finished one."""
    sizes = part.blank_length, part.blank_width
    return " x ".join(notation.text(size) for size in sizes) if part.is_cut_otherwise else ""


def _notes(kind: Kind, notation: Notation) -> str:
    """What the columns do not say of a part, and where each piece goes.

    Its hand, at which edges its blank is larger, machining, holes and banded edges.
    """
    part = kind.part
    notes = [hand_in_words(part), larger_in_words(part, notation.text)]
    notes += [f"{cut.kind} {place_in_words(cut)}".rstrip() for cut in part.machining]
    notes += [place_in_words(holes) for holes in part.holes]
    notes += [f"banded at the {part.edge_name(edge.side)}" for edge in part.edges]
    places = [f"{kind.code}/{number} {piece.carcass} {piece.place}".strip() for number, piece in kind.pieces]
    return "; ".join(note for note in (*notes, ", ".join(places)) if note)


def sheets_text(plan: Plan, columns: int, ascii_only: bool) -> list[str]:
    """Every sheet drawn to scale."""
    glyphs = ASCII if ascii_only else UNICODE
    if not plan.sheets:
        return ["No sheets yet."]
    lines = []
    for one in plan.sheets:
        used = float(one.used_area / one.area) if one.sheets else 0
        lines.append(f"{one.material}: {needed_in_words(one)}, {used:.0%} used")
        lines += [f"  ! {told}" for told in unplaced_in_words(one)]
        lines += [f"  ! {told}" for told in disagreements_in_words(one, plan)]
        for sheet in one.sheets:
            view = sheet_view(plan, sheet)
            # A cell is about twice as high as it is wide.
            rows = max(10, round(columns * float(view.width / view.length) / 2) + 4)
            lines += ["", *draw_sheet(view, columns, rows, plan.worked.notation, glyphs).plain()]
        lines.append("")
    return lines


def needed_in_words(material: MaterialSheets) -> str:
    """`3 sheets; no layout can do with 2`, or of sheets at several prices `3 sheets; no layout costs less`.

    With what is in the shop `1 piece on hand, 2 sheets in the shop, 2 new sheets; no layout can do with 1`.
    """
    count, least = len(material.sheets), material.lower_bound
    pieces = sum(sheet.on_hand for sheet in material.sheets)
    at_several_prices = len({stock.price for stock in material.job.stock if not material.on_hand.piece(stock.name)}) > 1
    # Where nothing has a price what is bought and what is there are laid out alike.
    there = sum(map(material.is_in_shop, material.sheets)) - pieces if at_several_prices else 0
    new = count - pieces - there
    sheet = "new sheet" if pieces or there else "sheet"
    kinds = ((pieces, "piece", " on hand"), (there, "sheet", " in the shop"), (new, sheet, ""))
    told = ", ".join(f"{number} {name}{'s' * (number != 1)}{where}" for number, name, where in kinds if number)
    told = told or "0 sheets"
    if material.pending:
        return f"{told} so far"
    if at_several_prices:
        # More sheets may be the cheaper ones.
        return f"{told}; no layout costs less" if new and material.costs_least and material.prices_known else told
    if new > 1 and (material.costs_least if pieces else material.proved_minimum):
        return f"{told}; no layout can do with {new - 1}"
    return f"{told}; at least {least} needed" if 0 < least < count and not pieces else told


def disagreements_in_words(material: MaterialSheets, plan: Plan) -> list[str]:
    """What is cut, or was laid out on begun sheets, that the design no longer asks for, and what it asks instead."""
    notation = plan.worked.notation
    told = _for_thinner_blades(material, plan)
    if not material.misfits and not material.disagreements:
        return told
    things = things_lying(plan).values()
    shared = names_of_several(things)
    say = notation.text
    told += [misfit_in_words(one, notation, shared) for one in material.misfits]
    pencilled = _pencilled(things, {one.piece.id for one in material.misfits})
    for one in material.disagreements:
        wanted = one.wanted_as_it_lies
        if one.is_cut:
            called = next(pencilled.get((code_of(one.piece), one.length, one.width), iter(())), "")
            if called:
                told.append(cut_and_wanted(called, (one.length, one.width), wanted, one.turned, notation, shared))
            # Else the design had moved on before that was cut: it came off as an offcut, and is called so.
            continue
        now = f"the design now asks for {say(wanted[0])} x {say(wanted[1])}" if wanted else "not wanted now"
        told.append(f"{one.piece} was laid out on {one.sheet} as {say(one.length)} x {say(one.width)}; {now}")
    if told:
        told.append(
            f"x at Cuts keeps, trims or makes again what is cut of {material.material}, and plans the rest anew"
        )
    return told


def _for_thinner_blades(material: MaterialSheets, plan: Plan) -> list[str]:
    """That sheets which are begun were laid out before a saw was said to take more."""
    say, kerf = plan.worked.notation.exactly, plan.worked.kerf
    narrow = material.for_thinner_blades(kerf)
    if not narrow:
        return []
    ids, planned = ", ".join(sheet.id for sheet in narrow), min(sheet.mm(sheet.kerf) for sheet in narrow)
    return [
        f"{ids}: laid out for blades that take {say(planned)}, and one takes {say(kerf)} now; what lies beyond "
        "that would be too small. x at Cuts, that the design has changed since, plans the rest anew"
    ]


def _pencilled(things: Iterable[Thing], told: Container[str]) -> dict[tuple[str, Fraction, Fraction], Iterator[str]]:
    """What is pencilled on parts that no longer suit, by their code and their size, mm; without things in `told`."""
    found: dict[tuple[str, Fraction, Fraction], list[str]] = {}
    for one in things:
        if one.is_part and not one.suits and one.id not in told:
            found.setdefault((code_of(one.name), one.length, one.width), []).append(one.name)
    return {key: iter(names) for key, names in found.items()}


def cuts_text(plan: Plan, columns: int, ascii_only: bool) -> list[str]:
    """The order of cuts with boxes to tick."""
    notation = plan.worked.notation
    lines = [f"Cuts of {plan.project.design.name}, sizes in {UNIT_WORDS[notation.unit]}", ""]
    lines += [f"! {told}" for one in plan.sheets for told in disagreements_in_words(one, plan)]
    named = name_explained(plan)
    if named:
        lines += [f"{named[1]}: pencil such a name on what will be cut again"]
    lines += [*settings_in_words(plan), *near_sizes_in_words(plan), *held_in_words(plan)]
    if past := history_in_words(plan):
        lines += ["", *past]
    told = told_before(plan)
    before: PlannedStep | None = None
    for group in grouped(plan):
        lines += ["", group.title]
        for planned in group.steps:
            step = planned.step
            if planned.number in told:
                lines.append(f"  {told[planned.number]}:")
            box = "[x]" if planned.done else "[ ]"
            fence = notation.text(planned.sheet.mm(step.fence)) if is_new_setting(planned, before) else SAME
            lines.append(
                f"{box} {planned.number:>3}  {step.direction:<8} {fence:>10}  from {step.edge:<6}  "
                f"{step.piece}: {comes_off(planned, plan)}"
            )
            if step.cannot:
                lines.append(f"     ! no saw of this shop can make it: {step.cannot}")
            before = planned
    if boards := boards_in_words(plan.boards, plan.project.design.boards, notation):
        lines += ["", "Boards, cut to length, the longest first", *boards]
    if machining := machining_in_words(plan):
        lines += ["", "Machining, once the parts are cut, by set-up", *machining]
    return lines


def near_sizes_in_words(plan: Plan) -> list[str]:
    """Sizes that the tape does not tell apart, to be made one."""
    return [near_in_words(one, plan.worked.notation) for one in near_to_cut(plan)]


def near_to_cut(plan: Plan) -> list[NearSizes]:
    """Those of what is still to be cut."""
    return near_sizes(plan.kinds, plan.worked.notation, cut_free(plan.sheets, plan.steps))


def near_in_words(near: NearSizes, notation: Notation) -> str:
    """`ply: 10 (L1) and 10 1/32 (L2) differ by less than the tape shows`."""
    sizes = (exact_text(size / UNITS[notation.unit], notation.unit) for size in near.sizes)
    told = " and ".join(f"{size} ({', '.join(codes)})" for size, codes in zip(sizes, near.codes, strict=True))
    return f"{near.material}: {told} differ by less than the tape shows"


def history_in_words(plan: Plan) -> list[str]:
    """What was cut before something went another way, and what that was, one after the other.

    What was cut stays made, and has no box to be un-ticked.
    """
    past, mishaps = plan.project.facts.history, plan.project.facts.mishaps
    if not past and not mishaps:
        return []
    told: list[tuple[str, str]] = []
    for one in past:
        made = [text.split()[:2] for text in one.makes]
        makes = " + ".join("waste" if use == "waste" else name for name, use in made)
        told.append((one.when, f"  {one.number:>3}  {one.direction:<8}  {one.piece}: {makes}"))
    for mishap in mishaps:
        after = f"after step {mishap.after}" if mishap.after else "before the first cut"
        told.append((mishap.when, f"    ! {after}, {mishap.when[:16].replace('T', ' ')}: {mishap.said}"))
    # In one second it is the cut that came first.
    told.sort(key=lambda line: line[0])
    cuts = f"{len(past) or 'No'} cut{'' if len(past) == 1 else 's'} made before the plan was changed"
    return [cuts, *(line for _, line in told)]


SAME = '"'
"""In the place of a setting: as it stands."""


def settings_in_words(plan: Plan) -> list[str]:
    """How often a saw is set, and how often it would be if every sheet were cut by itself."""
    ours, plain = settings_needed(plan.steps), sum(one.plain_changes for one in plan.orders)
    if not ours:
        return []
    if plan.project.design.one_sheet_at_a_time:
        return [f"one sheet at a time: {ours} settings of a fence or a line; as it is laid out it would be {plain}"]
    return [f"{ours} settings of a fence or a line; as it is laid out it would be {plain}"]


def checks_text(plan: Plan, columns: int, ascii_only: bool) -> list[str]:
    """Every check with its reason."""
    lines = []
    for one in run_checks(plan.worked):
        lines += broken(f"{one.result.upper():<8}{one.check}, {one.about}: {one.because}", columns, " " * 8)
        if one.mend:
            lines += broken(f"        mend: {'; '.join(one.mend)}", columns, " " * 14)
    lines += [
        "",
        *broken(
            "Estimates to think with: local codes, makers' instructions and licensed practice come first.", columns
        ),
    ]
    return lines


def unplaced_in_words(material: MaterialSheets) -> list[str]:
    """What has no place on a sheet and why, a sentence for each kind of part and reason."""
    pieces: dict[tuple[str, str], list[str]] = {}
    for piece, reason in material.unplaced:
        pieces.setdefault((code_of(piece), reason), []).append(piece)
    return [f"{_shortened(some)}: no place on a sheet, {reason}" for (_, reason), some in pieces.items()]


def _shortened(pieces: list[str]) -> str:
    """Pieces of one kind, the first of them by name."""
    more = len(pieces) - NAMED_WITHOUT_A_PLACE
    if more <= 1:
        return ", ".join(pieces)
    return f"{', '.join(pieces[:NAMED_WITHOUT_A_PLACE])} and {more} more"


def without_a_place(plan: Plan) -> list[str]:
    """What no sheet and no length of a board is found for, and why."""
    told = [sentence for one in plan.sheets for sentence in unplaced_in_words(one)]
    return [*told, *(sentence for one in plan.boards for sentence in without_a_length(one))]


def buy_text(plan: Plan, columns: int, ascii_only: bool) -> list[str]:
    """The buying list."""
    found = buying_list(plan)
    currency = plan.project.design.currency
    rows = [["", "quantity", "item", "cost"]]
    for line in found:
        cost = money(line.cost, currency) if line.cost is not None else ""
        rows.append(["[x]" if line.bought else "[ ]", f"{line.quantity:g} {line.unit}", line.item, cost])
    cost_of_all = total(found)
    heading, rule, *bought = table(rows, (1, 3), ascii_only, LONGEST_ITEM)
    lines = [heading, rule]
    for row, line in zip(bought, found, strict=True):
        beside = row + " " * (cells(rule) - cells(row)) + "  "
        first, *more = broken(line.purpose, max(20, columns - cells(beside)))
        lines += [f"{beside}{first}", *(" " * cells(beside) + one for one in more)]
    lines += [f"! {sentence}; it is not in this list" for sentence in without_a_place(plan)]
    if cost_of_all is not None:
        lines += ["", f"Together {money(cost_of_all, currency)}; what shows no cost has no price yet"]
    return lines


def build_text(plan: Plan, columns: int, ascii_only: bool) -> list[str]:
    """How it goes together."""
    lines: list[str] = []
    for number, step in enumerate(build_steps(plan), start=1):
        lines += broken(f"{number:>2}. {step.about}: {step.text}", columns, "    ")
        lines += broken(f"    ! {step.caution}", columns, "      ") if step.caution else []
    return lines


def whole_text(plan: Plan, columns: int, ascii_only: bool) -> list[str]:
    """The whole plan: what to take to the shop where there is no screen."""
    glyphs = ASCII if ascii_only else UNICODE
    design = plan.project.design
    lines = [design.name, "=" * cells(design.name)]
    lines += [f"! {problem}" for problem in plan.problems]
    if plan.worked.placed:
        picture = draw_elevation(plan.worked.placed, columns, 24, plan.worked.notation, glyphs, labels=row_labels(plan))
        lines += ["", *picture.plain()]
    for heading, text in TEXTS.items():
        lines += ["", heading.capitalize(), "-" * len(heading), *text(plan, columns, ascii_only)]
    return lines


TEXTS: Mapping[str, Text] = {
    "parts": parts_text,
    "sheets": sheets_text,
    "cuts": cuts_text,
    "checks": checks_text,
    "buy": buy_text,
    "build": build_text,
}
"""What each printing command prints for people."""

DOCUMENTS: dict[str, Callable[[Plan], Document]] = {
    "parts": parts_document,
    "sheets": lambda plan: sheets_document(plan.sheets, plan.worked.goods.thickness, plan.worked.kerf),
    "cuts": cuts_document,
    "checks": lambda plan: checks_document(run_checks(plan.worked)),
    "buy": lambda plan: buy_document(buying_list(plan), plan.project.design.currency),
}
"""What each printing command prints with `--json`."""
