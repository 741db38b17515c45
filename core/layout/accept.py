"""Late acceptance: an answer may be as bad as one that was accepted some time ago (Burke & Bykov 2017)."""

from __future__ import annotations

from core.layout.preference import Score

MEMORY = 20
"""How many accepted answers ago an answer may be as bad as, in a walk that is to go far."""


class LateAcceptance:
    """Remembers the scores of the answers accepted last; it moves on only when one is accepted."""

    def __init__(self, score: Score, memory: int = MEMORY) -> None:
        self.score = score
        """That of the answer accepted last."""
        self._memory = [score] * memory
        self._turn = 0

    def accepts(self, score: Score) -> bool:
        """Whether to go on from an answer with this score; if so, it is remembered."""
        if score > self.score and score > self._memory[self._turn]:
            return False
        self.score = score
        self._memory[self._turn] = score
        self._turn = (self._turn + 1) % len(self._memory)
        return True
