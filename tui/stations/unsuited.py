"""Parts that are cut, and no longer suit the design: kept, trimmed or made again, one by one or all together."""

from __future__ import annotations

from collections import Counter
from functools import partial, reduce

from core import accidents
from core.changes_in_words import listed, misfit_in_words
from core.lying import called_in_lists, names_of_several, things_lying
from core.on_hand import Misfit
from core.project import Facts
from tui.stations.supposing import Change, Supposing

KEEP, TRIM, AGAIN = "keep it", "trim it", "make it again"
ASIDE, STOCK = "put it aside", "cut it up for others"
"""Of a part that is not wanted any more."""
KEEP_ALL, ALL_AGAIN = "keep them all", "make them all again"
ALL_ASIDE, ALL_STOCK = "put them all aside", "cut them up for others"


def _kept(facts: Facts, misfit: Misfit) -> Facts:
    return accidents.keep(facts, misfit.piece.id, misfit.wanted)


def _made_again(facts: Facts, misfit: Misfit) -> Facts:
    return accidents.make_again(facts, misfit.piece.id)


class Unsuited(Supposing):
    """The question what is to be done with them."""

    def ask(self, misfits: list[Misfit]) -> None:
        """Which of them, and what is to be done with it."""
        called = called_in_lists(self.session.plan)
        by_name = {called[one.piece.id]: one for one in misfits}
        materials = Counter(one.piece.material for one in misfits)
        together = {f"all {count} of {name}": name for name, count in materials.items() if count > 1}

        def accept(name: str) -> None:
            if name in by_name:
                self._of_one(by_name[name], name)
            else:
                of = together[name]
                self._of_all([one for one in misfits if one.piece.material == of], of)

        told = self._told(misfits[0])
        self.desk.choose("Which part?", (*by_name, *together), accept, told)

    def _told(self, misfit: Misfit) -> str:
        plan = self.session.plan
        return misfit_in_words(misfit, plan.worked.notation, names_of_several(things_lying(plan).values()))

    def _of_one(self, misfit: Misfit, name: str) -> None:
        id, worked = misfit.piece.id, self.session.plan.worked
        keep, again = partial(_kept, misfit=misfit), partial(accidents.make_again, part=id)
        done = {
            KEEP: "kept as it is",
            TRIM: "trimmed to what the design asks now",
            AGAIN: "made again",
            ASIDE: "put aside",
            STOCK: "stock for others",
        }
        ways: dict[str, Change] = {ASIDE: keep, STOCK: again}
        if misfit.wanted is not None:
            ways = {KEEP: keep}
            length, width = misfit.wanted_as_it_lies
            if misfit.length >= length and misfit.width >= width:
                ways[TRIM] = partial(accidents.trim, part=id, length=length, width=width, kerf=worked.kerf)
            ways[AGAIN] = again
        self.desk.choose(
            f"What of {name}?",
            tuple(ways),
            lambda way: self._done(f"{name} is {done[way]}", misfit.piece.material, ways[way]),
            self._told(misfit),
        )

    def _done(self, said: str, material: str, change: Change) -> None:
        # What was to be made again may have asked for a sheet that is not needed now.
        self.change(said, material, change, try_anew=True)

    def _of_all(self, misfits: list[Misfit], material: str) -> None:
        names = [one.piece.part for one in misfits]
        ways = {KEEP_ALL: (_kept, "kept as they are"), ALL_AGAIN: (_made_again, "made again")}
        told = "one by one they can be trimmed too"
        if not any(one.wanted for one in misfits):
            ways = {ALL_ASIDE: (_kept, "put aside"), ALL_STOCK: (_made_again, "stock for others")}
            told = "none of them is wanted now"

        def accept(way: str) -> None:
            change, done = ways[way]
            self._done(f"{listed(names)} are {done}", material, lambda facts: reduce(change, misfits, facts))

        self.desk.choose(f"What of {listed(names)}?", tuple(ways), accept, told)
