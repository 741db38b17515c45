"""At a new setting one is cut and measured: it reads what it should, or something is done about it."""

from __future__ import annotations

from collections.abc import Callable

from core.cutting import PlannedStep, is_final
from core.plan import Plan
from core.steps_in_words import is_new_setting
from tui.desk import Desk
from tui.stations.mishaps import Mishaps
from tui.widgets.entry import Asked


def is_to_be_measured(planned: PlannedStep, plan: Plan) -> bool:
    """Whether a setting has just been used for the first time, for something whose size matters."""
    before = next((one for one in reversed(plan.steps) if one.number < planned.number), None)
    matters = planned.step.pieces[0].use in ("part", "blank") and is_final(plan.steps, planned)
    return matters and is_new_setting(planned, before)


def ask_what_it_reads(desk: Desk, planned: PlannedStep, go_on: Callable[[], object]) -> None:
    """Asks what the piece at the fence measures; `go_on` takes the person to the next cut if the plan changes."""
    session = desk.session
    notation, names = session.plan.worked.notation, session.plan.worked.names
    fence, first = planned.sheet.mm(planned.step.fence), planned.step.pieces[0]

    def check(text: str) -> str:
        really = names.length(text)
        return "" if notation.reads_as(really, fence) else f"off by {notation.with_unit(abs(really - fence))}"

    def accept(text: str) -> None:
        really = names.length(text)
        if notation.reads_as(really, fence):
            desk.say(f"step {planned.number} reads as it should")
            desk.back_to_station()
            return
        Mishaps(desk, planned, go_on).reads_otherwise(first.id, planned.step.direction, really)

    desk.ask(
        Asked(
            f"{first.id} reads",
            session.to_type_over(fence),
            check,
            accept,
            help="a new setting: measure the first; Enter if it reads so",
            cancel=desk.back_to_station,
        )
    )
