"""How the program says that something a person gave it cannot be used."""

from __future__ import annotations


class Mistake(Exception):
    """One clear sentence for the person: what was read, and what would be right.

    `where` names the place in the person's own terms ("carcass A, width"); it is added
    by whoever knows it, on the way up, so that a parser need not know of projects.
    """

    def __init__(self, sentence: str, where: str = "") -> None:
        super().__init__(sentence)
        self.sentence = sentence
        self.where = where

    def at(self, where: str) -> Mistake:
        """The same mistake, told as lying inside `where`."""
        return Mistake(self.sentence, f"{where}, {self.where}" if self.where else where)

    def __str__(self) -> str:
        return f"{self.where}: {self.sentence}" if self.where else self.sentence
