"""One cut to be read from two metres: the setting in big figures, what is done with it, what is done and next."""

from __future__ import annotations

from collections.abc import Iterator

from core.cutting import PlannedStep, last_made
from core.drawing.big_figures import draw_big
from core.drawing.canvas import Picture, Role, Span
from core.drawing.glyphs import Glyphs
from core.drawing.lettering import broken, cells, clean, fitted, padded
from core.drawing.sheet import draw_sheet
from core.plan import Plan
from core.squaring import squaring_in_words
from core.steps_in_words import (
    HELD,
    KEPT_AT,
    SETTINGS,
    SKIMMED,
    comes_off,
    diagonals_in_words,
    face_of,
    is_new_setting,
    is_to_be_named,
    names_explained,
    no_cut_in_words,
    step_cautions,
    suits_no_longer,
    trimmed_edge,
    weight_in_words,
)
from core.views import cut_line, piece_view, sheet_view

Line = tuple[Span, ...]

LEAST_SHEET, MOST_SHEET = 4, 24
"""Rows that a sheet is drawn in."""
LEAST_FIGURES = 7
"""Rows that come before a sheet: lower figures cannot be read from two metres."""
LOW_FIGURES = 3
"""Rows that come before what is said in the list as well."""


def bench_view(plan: Plan, planned: PlannedStep, width: int, height: int, glyphs: Glyphs) -> list[Line]:
    """The whole view, as many rows as there is room for."""
    step, notation = planned.step, plan.worked.notation
    foot = _around(plan, planned, width, glyphs)
    head = _head(plan, planned, width, glyphs)
    told = list(_told(plan, planned, width, glyphs))
    if height - len(told) - len(foot) - 1 < LOW_FIGURES:
        told = list(_told(plan, planned, width, glyphs, brief=True))
    # The setting, and what is done and next, stand in any window.
    told = told[: max(height - len(foot) - 2, 0)]
    room = height - len(told) - len(foot) - 1
    sheet_rows = max(LEAST_SHEET, min(room * 2 // 5, MOST_SHEET))
    if room - sheet_rows < LEAST_FIGURES:
        sheet_rows = 0
    setting = notation.with_unit(planned.sheet.mm(step.fence))
    rows = [head, *_centred(draw_big(setting, width - 1, max(room - sheet_rows, 1), glyphs), width), *told]
    if sheet_rows:
        # Its title says what stands above already.
        rows += _sheet(plan, planned, width, sheet_rows + 1, glyphs)[1:]
    free = height - len(rows) - len(foot)
    return [*rows, *[_line("", "")] * max(free, 0), *foot][:height]


def _sheet(plan: Plan, planned: PlannedStep, width: int, rows: int, glyphs: Glyphs) -> tuple[Line, ...]:
    """The sheet with the cut, and the piece that it cuts picked out."""
    view, notation = sheet_view(plan, planned.sheet), plan.worked.notation
    picked = piece_view(planned)
    return draw_sheet(view, width, rows, notation, glyphs, cut=cut_line(planned), picked=picked).rows


def _line(text: str, role: Role) -> Line:
    return (Span(text, role),)


def _head(plan: Plan, planned: PlannedStep, width: int, glyphs: Glyphs) -> Line:
    """`Step 21 of 126   table saw: rip birch-1.9   new setting`."""
    step = planned.step
    before = next((one for one in reversed(plan.steps) if one.number < planned.number), None)
    # A track is laid down for every piece; what stays is the size.
    as_before = "same size" if step.saw.kind in ("track", "circular", "yard") else "as it stands"
    new = "set it anew" if is_new_setting(planned, before) else as_before
    box = "[x]" if planned.done else "[ ]"
    left = f"{box} Step {planned.number}  {step.saw.name}: {step.direction} {step.piece}"
    right = f"{SETTINGS[step.saw.kind]}, {new} "
    left = fitted(clean(left, glyphs), max(width - cells(right) - 1, 8), glyphs)
    return (Span(padded(left, width - cells(right)), "title"), Span(right, "selected"))


def _centred(picture: Picture, width: int) -> list[Line]:
    rows = picture.rows
    across = max((sum(cells(span.text) for span in row) for row in rows), default=0)
    return [(Span(" " * max((width - across) // 2, 0), ""), *row) for row in rows]


def _told(plan: Plan, planned: PlannedStep, width: int, glyphs: Glyphs, *, brief: bool = False) -> Iterator[Line]:
    """What is done at this setting, and what comes of it. `brief`: without what the list says as well."""
    step, notation = planned.step, plan.worked.notation
    face = face_of(planned, plan)
    trimmed = trimmed_edge(planned)
    how = {
        "any": f"{step.edge} edge against the fence, keeper between fence and blade",
        "table": f"{step.edge} edge against the fence, keeper between fence and blade",
        "track": f"from the {step.edge} edge, track on the keeper",
        "circular": f"from the {step.edge} edge, straightedge on the keeper, a base's width beside the line",
        "mitre": f"{step.edge} end against the stop",
        "yard": f"from the {step.edge} edge",
    }[step.saw.kind]
    first = f"{how}{', ' + face if face else ''}{f'; trims the {trimmed} edge' if trimmed else ''}"
    texts: list[tuple[str, Role]] = [(first, "label")]
    names = {kind.code: kind.name for kind in plan.kinds}
    for made, called in zip(step.pieces, planned.names, strict=True):
        size = f"{notation.text(planned.sheet.mm(made.length))} x {notation.text(planned.sheet.mm(made.width))}"
        where = KEPT_AT[step.saw.kind] if made is step.pieces[0] else "beyond the blade"
        name = {
            "part": f"PART {called} {names.get(made.part or '', '')}",
            "blank": made.id,
            "offcut": f"offcut {made.id}, to keep",
            "waste": "waste",
        }[made.use]
        pencil = (
            ": pencil it on" if made.use == "part" or (made.use != "waste" and is_to_be_named(planned, plan)) else ""
        )
        if unsuited := suits_no_longer(made, called):
            name, pencil = unsuited, ""
        texts.append((f"{where}: {name}, {size}{pencil}", "done" if made.use == "part" else ""))
    if step.skims:
        texts.append((SKIMMED, "selected"))
    if step.held:
        texts.append((HELD, "selected"))
    if step.piece == step.sheet and not planned.sheet.on_hand:
        thick = notation.exactly(plan.worked.goods.thickness[planned.sheet.material])
        texts.append((f"new sheet: write {step.sheet} at its lower left; {thick} thick? x if it is not", ""))
    if not brief:
        texts += [(told, "") for told in names_explained(planned, plan)]
        texts += [(told, "") for told in squaring_in_words(planned, plan)]
        texts += [(told, "") for told in [diagonals_in_words(planned, plan)] if told]
    if not (brief and step.cannot):
        texts += [(told, "selected") for told in [weight_in_words(planned, plan)] if told]
    texts += [(f"! {caution}", "selected") for caution in step_cautions(planned, plan)]
    for text, role in texts:
        for row in broken(clean(text, glyphs), max(width - 2, 20), "  "):
            yield _line(f" {row}", role)


def _around(plan: Plan, planned: PlannedStep, width: int, glyphs: Glyphs) -> list[Line]:
    """How much is done, what was last, and what comes next."""
    done, past = [one for one in plan.steps if one.done], len(plan.project.facts.history)
    after = next((one for one in plan.steps if one.number > planned.number and not one.done), None)
    lines: list[Line] = []
    number = last_made(plan.steps, plan.project.facts)
    made = next((f": {comes_off(one, plan)}" for one in done if one.number == number), "")
    last = f", last step {number}{made}" if number else ""
    lines.append(
        _line(
            fitted(clean(f" done: {past + len(done)} of {past + len(plan.steps)}{last}", glyphs), width, glyphs),
            "legend",
        )
    )
    if after is not None:
        fence = plan.worked.notation.text(after.sheet.mm(after.step.fence))
        told = (
            f" next: step {after.number}, {after.step.saw.name}, {after.step.direction} {fence} of {after.step.piece}"
        )
        lines.append(_line(fitted(clean(told, glyphs), width, glyphs), "legend"))
    elif len(done) == len(plan.steps):
        lines.append(_line(f" {no_cut_in_words(plan)}", "legend"))
    return lines
