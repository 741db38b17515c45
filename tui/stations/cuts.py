"""Station: the order of cuts, with boxes to tick."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from functools import partial
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from core.bench_view import bench_view
from core.cutting import PlannedStep, last_cut, step_of
from core.drawing.canvas import Picture
from core.drawing.sheet import draw_sheet
from core.held_back import held_in_words
from core.mistakes import Mistake
from core.plan import Plan
from core.printing import (
    SAME,
    disagreements_in_words,
    near_sizes_in_words,
    near_to_cut,
    settings_in_words,
)
from core.steps_in_words import (
    comes_off,
    grouped,
    in_words,
    is_new_setting,
    no_cut_in_words,
    told_before,
    uncut_in_words,
)
from core.views import cut_line, sheet_view
from tui.stations.base import Station
from tui.stations.below import Below, lines_below
from tui.stations.held_key import Act, HeldKey
from tui.stations.made_one import ask_what_to_make_one
from tui.stations.measuring import ask_what_it_reads, to_be_measured
from tui.stations.mishaps import Mishaps
from tui.widgets.entry import Asked
from tui.widgets.painted import Painted, plain_row, wrapped
from tui.widgets.rows import Line, Rows

BENCH = "bench"
"""The view of one cut in big figures, as the file remembers it."""
MOST_DIGITS = 6
"""Of the number of a step."""
REPEAT = 0.5
"""Seconds within which a second tick is the same one at the bench, and a second tick taken back."""


class CutsStation(Station):
    """Every cut once, in the order of work; or one cut, for the bench."""

    NAME = "Cuts"
    HELP: ClassVar[str] = (
        "The cuts in the order of work. Each says which piece, rip or crosscut, the fence setting and from "
        "which edge, and what comes off. A rip runs along the sheet's length and divides its width; a "
        "crosscut divides its length. The piece that is kept lies between fence and blade. Space ticks the "
        "cut under the cursor once it is made; Backspace takes the tick back. Either of them held down is one press. A "
        "tick is on the disk before you see it, and undo never takes one away.\n\n"
        "A piece that will be cut again has a name until it is a part: birch-1.17 is piece 17 of sheet birch-1. "
        "Pencil it on where two such pieces could be taken for one another.\n\n"
        "b is the bench: one cut in big figures, to be read from two metres. A second Space or Backspace within half "
        "a second is the same one; at a new setting the first piece is measured. t ticks all up to a step, for who "
        "worked from paper. Escape or b goes back to the list.\n\n"
        "x is for when it goes another way: a piece is spoiled or cut to something else, a sheet measures less or "
        "has a bad place, the thickness or the kerf is another, there is one more piece. What is cut stays; what "
        "is not is laid out again on what is left. What changes is shown before it does, and can be taken back by "
        "x until something else happens. e makes two sizes one that the tape does not tell apart.\n\n"
        "Saws can take a hand. Read the maker's instructions; guard and riving knife on, eyes and ears "
        "covered, dust drawn off. Nothing shorter than about 12 in or 300 mm between fence and blade without a "
        "sled; a push stick for narrow rips; never mitre gauge and fence together. A full sheet is a lift for "
        "two."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("space", "tick", "tick", id="cuts.tick", tooltip="The cut under the cursor is made"),
        Binding(
            "backspace", "untick", "un-tick", id="cuts.untick", key_display="Bksp", tooltip="It is not made after all"
        ),
        Binding("n", "next", "next cut", id="cuts.next", tooltip="To the first cut that is not ticked"),
        Binding("b", "bench", "bench", id="cuts.bench", tooltip="One cut in big figures, and back to the list"),
        Binding("x", "mishap", "mishap", id="cuts.mishap", tooltip="It went another way than planned"),
        Binding("e", "even", "sizes made one", show=False, id="cuts.even", tooltip="Of sizes nearly the same"),
        Binding("t", "through", "through", id="cuts.through", tooltip="Ticks all up to a step"),
        Binding("escape", "list", "list", id="cuts.list", tooltip="From the bench back to the list"),
    ]

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self.clock: Callable[[], float] = lambda: self.desk.key_at
        self._held = HeldKey(self.set_timer)

    def compose(self) -> ComposeResult:
        """The list, the cut under the cursor in words, and the sheet with it."""
        yield Rows(id="cuts-list", glyphs=self.glyphs)
        yield Painted(id="cuts-told", glyphs=self.glyphs)
        yield Painted(id="cuts-sheet", glyphs=self.glyphs)
        yield BenchPane(id="cuts-bench", glyphs=self.glyphs)

    def show(self, plan: Plan) -> None:
        """The steps of a plan."""
        self.session.numbers_seen = True
        lines = [
            line
            for one in plan.sheets
            for told in disagreements_in_words(one, plan)
            for line in self._told(told, "warning")
        ]
        lines += [line for told in uncut_in_words(plan) for line in self._told(told, "bad")]
        told, before = told_before(plan), None
        lines += [Line(plain_row(f"  {settings}", "quiet")) for settings in settings_in_words(plan)]
        near = (f"{told_near}; e makes them one" for told_near in near_sizes_in_words(plan))
        lines += [line for told_near in near for line in self._told(told_near, "quiet", "  ")]
        lines += [line for one in held_in_words(plan) for line in self._told(one, "quiet", "  ")]
        for group in grouped(plan):
            done = sum(one.done for one in group.steps)
            lines.append(Line(plain_row(f"{group.title}  {done} of {len(group.steps)} ticked", "heading")))
            for planned in group.steps:
                if planned.number in told:
                    lines.append(Line(plain_row(f"  {told[planned.number]}", "quiet")))
                lines.append(Line(_line(planned, plan, before), planned.number))
                before = planned
        if not plan.steps:
            lines.append(Line(plain_row(f"{no_cut_in_words(plan)}.", "quiet")))
        lines += lines_below(plan)
        if not plan.steps and plan.pending:
            lines = [Line(plain_row("Laying out…", "quiet"))]
        first = self.rows.key is None
        self.rows.show_lines(lines)
        if first:
            self._to_next(self._material_cut_last())
            if self.session.view == BENCH and plan.steps:
                self._be_at_the_bench(True)
                self._ask_what_it_reads()
        self._tell()

    @property
    def rows(self) -> Rows:
        """The list of steps."""
        return self.query_one(Rows)

    def fit(self) -> None:
        """The drawing, and what is broken into lines, follow the room that there is."""
        self.show(self.session.plan)

    def _told(self, told: str, role: str, before: str = "! ") -> list[Line]:
        """A sentence whole, in as many rows as it takes."""
        # A column for the cursor, two for the scroll bar.
        return [Line(row) for row in wrapped(f"{before}{told}", max(self.size.width, 60) - 4, role, "  ")]

    @on(Rows.Moved)
    def _moved(self, event: Rows.Moved) -> None:
        event.stop()
        self._tell()

    @on(Rows.Chosen)
    def _chosen(self, event: Rows.Chosen) -> None:
        event.stop()
        self.desk.say("Space ticks a cut, Backspace takes a tick back")

    def _step(self) -> PlannedStep | None:
        return next((one for one in self.session.plan.steps if one.number == self.rows.key), None)

    def _tell(self) -> None:
        """The cut under the cursor, in words, and on its sheet where there is room."""
        planned, plan = self._step(), self.session.plan
        if self.at_the_bench:
            pane = self.query_one(BenchPane)
            if planned is None:
                pane.show_rows([plain_row(f"{no_cut_in_words(plan)}.")])
            elif pane.size.width > 2:
                pane.show_picture(
                    Picture(tuple(bench_view(plan, planned, pane.size.width, pane.size.height, self.glyphs)))
                )
            return
        told, sheet = self.query_one("#cuts-told", Painted), self.query_one("#cuts-sheet", Painted)
        sheet.display = self.wide or self.size.height >= 30
        if planned is None:
            key = self.rows.key
            lines = key.told if isinstance(key, Below) else ()
            told.show_rows([row for line in lines for row in wrapped(line, told.size.width - 1, "text", "  ")])
            sheet.show_rows([])
            return
        told.show_rows(
            [row for line in in_words(planned, plan) for row in wrapped(line, told.size.width - 1, "text", "  ")]
        )
        if sheet.display and sheet.size.width > 2:
            view = sheet_view(plan, planned.sheet)
            picture = draw_sheet(
                view, sheet.size.width, sheet.size.height, plan.worked.notation, self.glyphs, cut=cut_line(planned)
            )
            sheet.show_picture(picture)

    def action_tick(self) -> None:
        """The cut is made. On the disk first; then the next one is before the eye."""
        self._pressed("tick", lambda: partial(self._tick, self._step()))

    def _tick(self, planned: PlannedStep | None) -> None:
        if planned is None:
            self.desk.say("only cuts are ticked here; what stands below them is ticked on paper")
            return
        measured = self.at_the_bench and to_be_measured(planned, self.session.plan) is not None
        if not self.desk.record(lambda: self.session.tick(planned.number, measured)):
            return
        self.desk.shown(f"ticked: step {planned.number}, {comes_off(planned, self.session.plan)}")
        if not self.at_the_bench:
            self.look(1)
            return
        self.action_next()
        self._ask_what_it_reads()

    def _ask_what_it_reads(self) -> None:
        """Of the cut that was made at a new setting, what the piece measures whose size it gives."""
        plan = self.session.plan
        planned = next((one for one in plan.steps if one.done and one.number == self.session.measuring), None)
        measured = planned and to_be_measured(planned, plan)
        if planned and measured:
            ask_what_it_reads(self.desk, planned, measured, partial(self._to_next, planned.sheet.material))

    def _pressed(self, key: str, meant: Callable[[], Act]) -> None:
        """A key held too long is one cut; at the bench also one that is hit twice with gloves on."""
        self._held.pressed(key, self.clock(), REPEAT if self.at_the_bench else 0, meant)

    def look(self, by: int) -> None:
        """To the cut after or before; not on to what stands below the cuts."""
        self.rows.action_move(by)
        if self._step() is None:
            self.rows.action_move(-by)

    def action_untick(self) -> None:
        """The cut is not made after all. At the bench that is the last one that was ticked, if this one is not."""
        self._pressed("untick", lambda: partial(self._untick, self._step()))

    def _untick(self, planned: PlannedStep | None) -> None:
        if self.at_the_bench and (planned is None or not planned.done):
            planned = self._last_ticked
        if planned is None:
            past = bool(self.session.project.facts.history)
            self.desk.say("what was cut before the plan changed stays cut" if past else "no cut is ticked yet")
            return
        number = planned.number
        if self.desk.record(lambda: self.session.untick(number)):
            self.desk.shown(f"step {number} is no longer ticked")
            self.rows.move_to(lambda key: key == number)

    @property
    def _last_ticked(self) -> PlannedStep | None:
        cuts = self.session.project.facts.cuts
        last = (cuts[-1].sheet, cuts[-1].piece) if cuts else None
        return next((one for one in self.session.plan.steps if one.cut == last), None)

    def action_next(self) -> None:
        """To the first cut that is not ticked, on the material at hand if there is one."""
        here = self._step()
        if not self.session.plan.steps:
            self.desk.say(no_cut_in_words(self.session.plan))
        self._to_next(here.sheet.material if here else self._material_cut_last())

    def _to_next(self, material: str | None) -> None:
        waiting = [one for one in self.session.plan.steps if not one.done]
        # What is held back waits for all that is not, of whatever material.
        waiting = [one for one in waiting if not one.step.held] or waiting
        waiting = [one for one in waiting if one.sheet.material == material] or waiting
        if self.session.plan.steps and not waiting:
            self.desk.say(f"{no_cut_in_words(self.session.plan)}; the machining stands below the list")
        if waiting:
            number = waiting[0].number
            self.rows.move_to(lambda key: key == number)
        self._tell()

    def _material_cut_last(self) -> str | None:
        """The material of the cut that was made last; None where there is none."""
        plan, facts = self.session.plan, self.session.project.facts
        last = last_cut(facts)
        sheets = {sheet.named.of: one.material for one in plan.sheets for sheet in one.sheets}
        sheets |= {sheet.id: sheet.material for sheet in facts.opened}
        # A piece on hand bears the name of its sheet, and a number.
        return sheets.get(last.sheet.partition(".")[0]) if last else None

    def action_bench(self) -> None:
        """One cut in big figures, and back."""
        if not self.session.plan.steps and not self.at_the_bench:
            self.desk.say(no_cut_in_words(self.session.plan))
            return
        self._be_at_the_bench(not self.at_the_bench)

    def action_list(self) -> None:
        """Back to the list."""
        if self.at_the_bench:
            self._be_at_the_bench(False)

    def told_as(self, action: str) -> str | None:
        """At the bench the keys that only serve there are told at the foot, and Escape instead of `b`."""
        hidden = ("bench",) if self.at_the_bench else ("through", "list")
        return None if action in hidden else ""

    def _be_at_the_bench(self, there: bool) -> None:
        if there and self._step() is None:
            self.action_next()
            last = self.session.plan.steps[-1].number
            if self._step() is None:
                self.rows.move_to(lambda key: key == last)
        self.session.view = BENCH if there else ""
        self.desk.alone = there
        self.screen.set_class(there, "-alone")
        for widget in (self.rows, self.query_one("#cuts-told"), self.query_one("#cuts-sheet")):
            widget.display = not there
        pane = self.query_one(BenchPane)
        pane.display = there
        (pane if there else self.rows).focus()
        self.refresh_bindings()
        self._tell()

    @property
    def at_the_bench(self) -> bool:
        """One cut is shown in big figures, and nothing else."""
        return bool(self.session.view == BENCH and self.query_one(BenchPane).display)

    def enter(self) -> None:
        """The keys go to what is before the eye."""
        if self.query(BenchPane):
            self.screen.set_focus(self.query_one(BenchPane) if self.at_the_bench else self.rows)

    def action_mishap(self) -> None:
        """It went another way than planned."""
        steps = self.session.plan.steps
        at_hand = self._step() or self._last_ticked or (steps[0] if steps else None)
        # The cut at hand may be gone by then; its material is not.
        material = at_hand.sheet.material if at_hand else self._material_cut_last()
        Mishaps(self.desk, at_hand, partial(self._to_next, material)).begin()

    def action_even(self) -> None:
        """Makes two sizes one that the tape does not tell apart."""
        if self.at_the_bench:
            return
        near = near_to_cut(self.session.plan)
        if near:
            ask_what_to_make_one(self.desk, near)
        else:
            self.desk.say("no two sizes are nearly the same")

    def action_through(self) -> None:
        """Ticks everything up to a step, for whoever worked from paper."""
        planned = self._step()
        steps = self.session.plan.steps

        def check(text: str) -> str:
            if not text.strip().isdecimal() or len(text.strip()) > MOST_DIGITS:
                raise Mistake("the number of a step")
            number = int(text.strip())
            step_of(steps, number)
            missing = [one for one in steps if one.number <= number and not one.done]
            of = Counter(one.sheet.material for one in missing)
            told = ": " + ", ".join(f"{count} of {material}" for material, count in of.items()) if len(of) > 1 else ""
            return f"{len(missing)} cut{' is' if len(missing) == 1 else 's are'} ticked by that{told}"

        def accept(text: str) -> None:
            ticked: list[int] = []
            if self.desk.record(lambda: ticked.append(self.session.tick_through(int(text)))):
                self.desk.shown(f"{ticked[0]} cut{'' if ticked[0] == 1 else 's'} ticked, through step {int(text)}")
                self.action_next()
            self.desk.back_to_station()

        default = str(planned.number) if planned else ""
        self.desk.ask(Asked("Done through step", default, check, accept, cancel=self.desk.back_to_station))


class BenchPane(Painted, can_focus=True):
    """One cut, to be read from two metres."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up,left,k,pageup", "look(-1)", "cut before", show=False, id="bench.before"),
        Binding("down,right,j,pagedown", "look(1)", "look on", id="bench.after", key_display="arrows"),
    ]

    def told_as(self, action: str) -> str | None:
        """Told at the foot where there is room besides what ticks."""
        return "" if self.query_ancestor(CutsStation).wide else None

    def action_look(self, by: int) -> None:
        """Another cut before the eye; nothing is ticked."""
        self.query_ancestor(CutsStation).look(by)


def _line(planned: PlannedStep, plan: Plan, before: PlannedStep | None) -> tuple[tuple[str, str], ...]:
    """`[x]  12  rip       17 5/8  from bottom  ply-1.2: S1/1 + ply-1.3`; a setting that stands is not told again."""
    step, notation = planned.step, plan.worked.notation
    box = "[x]" if planned.done else "[ ]"
    fence = notation.text(planned.sheet.mm(step.fence)) if is_new_setting(planned, before) else SAME
    made = comes_off(planned, plan)
    role = "quiet" if planned.done else "text"
    return (
        (f"{box} ", "good" if planned.done else "key"),
        (f"{planned.number:>3}  {step.direction:<8} ", role),
        (f"{fence:>9}", "quiet" if planned.done else "value"),
        (f"  from {step.edge:<6}  ", role),
        (f"{step.piece}: {made}", role),
    )
