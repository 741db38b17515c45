"""Station: what to buy, with boxes to tick."""

from __future__ import annotations

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from core.buy import buying_list, money, total
from core.drawing.lettering import cells, clean, fitted, padded
from core.plan import Plan
from core.printing import without_a_place
from tui.stations.base import Station
from tui.widgets.painted import Row, plain_row, wrapped
from tui.widgets.rows import Line, Rows

BESIDE = 38
"""Columns beside a name: the cursor, the box, the quantity, the cost, the scroll bar."""
LEAST_NAME = 20


class BuyStation(Station):
    """The buying list."""

    NAME = "Buy"
    HELP: ClassVar[str] = (
        "What the piece needs from outside. Sheets as they are laid out, banding with a tenth more for ends "
        "and mistakes, pins and screws by common practice. Prices are typed with the goods, at station 2. "
        "Space ticks what is in the shop. Buy one sheet's worth of patience: measure the sheets that you get "
        "before the first cut."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("space,enter", "had", "in the shop", id="buy.had", tooltip="Tick what you have"),
    ]

    def compose(self) -> ComposeResult:
        """The list."""
        yield Rows(id="buy-list", glyphs=self.glyphs)

    def show(self, plan: Plan) -> None:
        """The buying list of a plan."""
        if plan.pending:
            self.query_one(Rows).show_lines([Line(plain_row("Laying out…", "quiet"))])
            return
        found = buying_list(plan)
        # A long name gives way to its price; the line under the cursor is told whole.
        width = max((cells(clean(one.item, self.glyphs)) for one in found), default=0)
        width = min(width, max(LEAST_NAME, self.size.width - BESIDE))
        lines = []
        is_narrow = self.size.width - BESIDE <= width
        currency = plan.project.design.currency
        for one in found:
            cost = money(one.cost, currency) if one.cost is not None else ""
            row: Row = (
                ("[x] " if one.bought else "[ ] ", "good" if one.bought else "key"),
                (f"{one.quantity:>7g} {one.unit:<6}", "value"),
                (f" {padded(fitted(clean(one.item, self.glyphs), width, self.glyphs), width)}  ", "text"),
                (f"{cost:>11}", "value"),
                ("" if is_narrow else f"  {one.purpose}", "quiet"),
            )
            lines.append(Line(row, one.item))
        cost_of_all = total(found)
        if cost_of_all is not None:
            lines.append(
                Line(plain_row(f"{'':14}{'Together':<{width + 3}}  {money(cost_of_all, currency):>11}", "heading"))
            )
            without = [one.item for one in found if one.cost is None]
            if without:
                lines.append(Line(plain_row(f"    without a price: {', '.join(without)}", "quiet")))
        lines += [
            Line(row)
            for sentence in without_a_place(plan)
            for row in wrapped(f"! {sentence}; it is not in this list", max(self.size.width, 60) - 4, "bad", "  ")
        ]
        self.query_one(Rows).show_lines(lines or [Line(plain_row("Nothing to buy yet.", "quiet"))])

    def fit(self) -> None:
        """Names are as long as there is room."""
        self.show(self.session.plan)

    @on(Rows.Moved)
    def _moved(self, event: Rows.Moved) -> None:
        """What the line under the cursor says."""
        event.stop()
        one = next((line for line in buying_list(self.session.plan) if line.item == event.key), None)
        if one is not None:
            self.desk.say(f"{one.item}: {one.purpose}")

    def action_had(self) -> None:
        """The item under the cursor is in the shop, or is not after all."""
        item = self.query_one(Rows).key
        if not isinstance(item, str):
            return
        if self.desk.record(lambda: self.session.toggle_bought(item)):
            self.desk.shown("")
