"""The guided walk on the screen: the questions of `core.editing.walk`, each at its station."""

from __future__ import annotations

from typing import TYPE_CHECKING

from core.editing.walk import WALK

if TYPE_CHECKING:
    from tui.app import SawhorseApp


class Walking:
    """One walk through the questions. Escape leaves it; what was answered stays."""

    def __init__(self, app: SawhorseApp) -> None:
        self.app = app

    def begin(self) -> None:
        """From the first question."""
        self._put(0)

    def _put(self, number: int) -> None:
        app = self.app
        while number < len(WALK):
            step = WALK[number]
            question = step.ask(app.session.design)
            if question is not None:
                break
            number += 1
        else:
            app.action_station(3)
            app.say("That is the piece. [ and ] go through the stations; ? tells what can be done at each")
            return
        stations = ["space", "goods", "piece"]
        if app.session.station != step.station.lower():
            app.action_station(1 + stations.index(step.station.lower()))

        def accept(text: str) -> None:
            app.edit(lambda design: step.answer(design, text.strip()))
            self._put(number + 1)

        def leave() -> None:
            app.station.enter()
            app.say("The walk is left; w begins it again, with your answers in it")

        app.ask_question(question, f"{number + 1}/{len(WALK)} {question.label}", accept, leave)
