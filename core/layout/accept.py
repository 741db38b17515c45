"""Late acceptance: an answer may be as bad as one that was accepted some time ago (Burke & Bykov 2017)."""

from __future__ import annotations

from core.layout.preference import Score

MEMORY = 20
"""How many accepted answers ago an answer may be as bad as, at the beginning of a walk that is to go far."""


class LateAcceptance:
    """Remembers the scores of the answers accepted last; it moves on only when one is accepted.

    Where it `grows` it remembers one more each time round: what is not found soon is looked for with more patience.
    """

    def __init__(self, score: Score, memory: int = MEMORY, grows: bool = True) -> None:
        self.score = score
        """That of the answer accepted last."""
        self._memory = [score] * memory
        self._turn = 0
        self._grows = grows

    def accepts(self, score: Score) -> bool:
        """Whether to go on from an answer with this score; if so, it is remembered."""
        if score > self.score and score > self._memory[self._turn]:
            return False
        self.score = score
        self._memory[self._turn] = score
        self._turn += 1
        if self._turn == len(self._memory):
            self._turn = 0
            if self._grows:
                self._memory.append(score)
        return True
