"""The same sheets, handier to cut: what is free in one large offcut, with few settings of the fence."""

from __future__ import annotations

from collections.abc import Callable

from core.layout.accept import LateAcceptance
from core.layout.fitter import Filling, Fitter
from core.layout.preference import Handiness, Score, handiness
from core.layout.refill import refill
from core.layout.ruin import ruined

MEMORY = 5
"""A short one: the layout is good already, and there is not much time."""

ASTRAY = (0.1, 0.3)
"""How often a piece goes to any place, in the first half and in the second.

For a large offcut pieces had best lie close; settings are saved where they lie in line, which loses room at first.
"""


def gathered(filling: Filling, fitter: Fitter, iterations: int, stopped: Callable[[], bool]) -> Filling:
    """The handiest of the fillings met that cost no more and leave out no more than this one.

    At first it is looked for a large offcut only, with what else is free in large pieces as well.
    """
    budget = fitter.cost(filling.boards)
    best, best_score = filling, handiness(filling, fitter)
    for half, astray in enumerate(ASTRAY):
        now, guide = best, _guide(best_score, half)
        late = LateAcceptance(guide, MEMORY, grows=False)
        for _ in range((iterations + half) // 2):
            if stopped():
                return best
            draft = ruined(now, budget - fitter.cost(now.boards), fitter)
            refill(draft, fitter, astray)
            score = handiness(draft, fitter)
            if score.missing <= best_score.missing and late.accepts(_guide(score, half)):
                now = draft.settled()
                if score < best_score:
                    best, best_score = now, score
    return best


def _guide(score: Handiness, half: int) -> Score:
    """What of a score decides where to go on: all of it, or at first a large offcut, and what else is free."""
    return score if half else (score.missing, score.cost, score.settled_early, score.offcut, score.used)
