"""The same sheets, handier to cut: what is free in one large offcut, with few settings of the fence."""

from __future__ import annotations

from collections.abc import Callable

from core.layout.accept import LateAcceptance
from core.layout.fitter import Filling, Fitter
from core.layout.preference import handiness
from core.layout.refill import refill
from core.layout.ruin import ruined


def gathered(filling: Filling, fitter: Fitter, iterations: int, stopped: Callable[[], bool]) -> Filling:
    """The handiest of the fillings met that cost no more and leave out no more than this one."""
    budget = fitter.cost(filling.boards)
    left_out = fitter.bulk(filling.missing)
    best = now = filling
    best_score = handiness(now, fitter)
    late = LateAcceptance(best_score)
    while iterations and not stopped():
        iterations -= 1
        draft = ruined(now, budget - fitter.cost(now.boards), fitter)
        refill(draft, fitter)
        if fitter.bulk(draft.missing) > left_out:
            continue
        if late.accepts(handiness(draft, fitter)):
            now = draft.settled()
            if late.score < best_score:
                best, best_score = now, late.score
    return best
