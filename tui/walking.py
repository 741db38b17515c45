"""The guided walk on the screen: the questions of `core.editing.walk`, each at its station."""

from __future__ import annotations

from core.editing.walk import WALK, answered
from tui.desk import Desk


class Walking:
    """One walk through the questions. Escape leaves it; what was answered stays."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk

    def begin(self) -> None:
        """From the first question."""
        self._put(0)

    def _put(self, number: int, by: int = 1) -> None:
        """The question at `number`, or the next one in that direction that needs to be asked."""
        desk = self.desk
        question = None
        while 0 <= number < len(WALK):
            step = WALK[number]
            question = step.ask(desk.session.design)
            if question is not None:
                break
            number += by
        if question is None:
            # Every passing state of the walk had parts; the piece that came of it begins with the first codes.
            desk.record(desk.session.fresh_codes)
            desk.go_to("piece")
            desk.station.look_at(("name",))
            desk.say("That is the piece. [ and ] go through the stations; ? tells what can be done at each")
            return
        if desk.session.station != step.station.lower():
            desk.go_to(step.station.lower())
        desk.station.look_at(step.field(desk.session.design))

        def accept(text: str) -> None:
            # An answer that could not be stored is asked for again: the reason stands on the screen.
            if desk.edit(lambda design: answered(step, question, design, text.strip())):
                self._put(number + 1)

        def leave() -> None:
            desk.back_to_station()
            desk.say("The walk is left; w begins it again, with your answers in it")

        back = (lambda: self._put(number - 1, -1)) if number else None
        desk.ask_question(question, f"{number + 1}/{len(WALK)} {question.label}", accept, leave, back)
