"""At a new setting one is cut and measured: it reads what it should, or something is done about it."""

from __future__ import annotations

from collections.abc import Callable

from core.cuts.steps import Made
from core.cutting import PlannedStep, is_final
from core.plan import Plan
from core.steps_in_words import is_new_setting
from tui.desk import Desk
from tui.stations.mishaps import Mishaps
from tui.widgets.entry import Asked


def to_be_measured(planned: PlannedStep, plan: Plan) -> Made | None:
    """Where a setting has just been used for the first time, the piece whose size it gives for good.

    That is the one at the fence, or the one beyond the blade if the other is only an offcut, or cut again.
    """
    before = next((one for one in reversed(plan.steps) if one.number < planned.number), None)
    if not is_new_setting(planned, before):
        return None
    of_use = (made for made in planned.step.pieces if made.use in ("part", "blank"))
    return next((made for made in of_use if is_final(plan.steps, planned, made.id)), None)


def ask_what_it_reads(desk: Desk, planned: PlannedStep, first: Made, go_on: Callable[[], object]) -> None:
    """Asks what a piece that came off measures; `go_on` takes the person to the next cut if the plan changes."""
    session = desk.session
    notation, names = session.plan.worked.notation, session.plan.worked.names
    asked = planned.sheet.mm(first.width if planned.step.direction == "rip" else first.length)

    def answered() -> None:
        session.measuring = 0
        desk.back_to_station()

    def check(text: str) -> str:
        really = names.length(text)
        return "" if notation.reads_as(really, asked) else f"off by {notation.with_unit(abs(really - asked))}"

    def accept(text: str) -> None:
        really = names.length(text)
        if notation.reads_as(really, asked):
            desk.say(f"step {planned.number} reads as it should")
            answered()
            return
        Mishaps(desk, planned, go_on).reads_otherwise(first.id, planned.step.direction, really)

    desk.ask(
        Asked(
            f"{first.id} reads",
            session.to_type_over(asked),
            check,
            accept,
            help="a new setting: measure the first; Enter if it reads so",
            cancel=answered,
        )
    )
