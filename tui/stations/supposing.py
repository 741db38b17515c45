"""What would come of an accident: worked out, searched where that may save a sheet, shown, then accepted or left."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from core.buy import buying_list, total
from core.changes_in_words import buys_more, changes_in_words
from core.held_back import cut_early
from core.layout.job import Job
from core.mistakes import Mistake
from core.project import Design, Facts
from tui.desk import Desk
from tui.finding import StillToFind
from tui.screens import ChangePage
from tui.supposed import Supposed

Change = Callable[[Facts], Facts]


class Supposing:
    """Changes of plan, on their way from what happened to what is accepted."""

    def __init__(self, desk: Desk, go_on: Callable[[], object]) -> None:
        """`go_on` takes the person to the next cut once the plan has changed."""
        self.desk, self.session, self.go_on = desk, desk.session, go_on
        self._supposed: Supposed | None = None
        """What it comes to, once that is worked out."""
        self._refused = ""
        """Why it cannot be."""

    def change(
        self,
        said: str,
        material: str,
        change: Change,
        design: Design | None = None,
        *,
        try_anew: bool = False,
        rather_anew: bool = False,
    ) -> None:
        """Works out what it comes to, and shows it; nothing has changed yet. `said`: what went another way.

        `try_anew`: also where no more is bought; `rather_anew`: also where it costs the same, since little of
        what was planned still suits. Both hold where the design changes.
        """

        async def work_out() -> list[str] | None:
            suppose = partial(self.session.suppose, material, change, design, said, find=self.session.finding.found)
            try:
                supposed = await self._once_found(suppose)
            except Mistake as mistake:
                self._refused = str(mistake)
                return None
            if design is not None or supposed.waiting or try_anew or buys_more(supposed.before, supposed.plan):
                supposed = await self._or_anew(supposed, material, rather=design is not None or rather_anew)
            self._supposed = supposed
            lines = changes_in_words(supposed.before, supposed.plan)
            return [*lines, *map(str, supposed.plan.problems)]

        self.desk.push(ChangePage(said, work_out, lambda: self.desk.key_at, self.desk.glyphs), self._decided)

    def _decided(self, accepted: bool | None) -> None:
        if not accepted:
            self.desk.say(self._refused or "Nothing has changed", bad=bool(self._refused))
        elif self.desk.record(self._accept):
            self.desk.shown("The plan is as you accepted it; x takes that back as long as nothing else has happened")
            self.go_on()
        self.desk.back_to_station()

    def _accept(self) -> None:
        assert self._supposed
        self.session.accept(self._supposed)

    async def _once_found(self, suppose: Callable[[], Supposed]) -> Supposed:
        """What is supposed, when all is found that it asks for on the way."""
        while True:
            try:
                return suppose()
            except StillToFind as still:
                await self._find(still.job)

    async def _or_anew(self, supposed: Supposed, material: str, *, rather: bool) -> Supposed:
        """The same, or everything that is not cut laid out anew, where that costs less than a few pieces more."""
        supposed = await self._laid_out(supposed)
        # With the design other materials may have changed too.
        for one in (material, *_bought_more(supposed, but=material)):
            anew = [await self._laid_out(way) for way in supposed.anew(one)]
            first_anew = rather and one == material
            supposed = min([*anew, supposed] if first_anew else [supposed, *anew], key=_spent)
        return supposed

    async def _laid_out(self, supposed: Supposed) -> Supposed:
        while supposed.waiting:
            await self._find(next(iter(supposed.waiting.values())))
            supposed = supposed.planned_again()
        return supposed

    async def _find(self, job: Job) -> None:
        self.session.finding.answer(job, await self.desk.lay_out(job))


def _bought_more(supposed: Supposed, but: str) -> list[str]:
    """The other materials of which more sheets are to be bought than before."""
    had = {one.material: one.bought for one in supposed.before.sheets}
    return [
        one.material for one in supposed.plan.sheets if one.material != but and one.bought > had.get(one.material, 0)
    ]


def _spent(supposed: Supposed) -> tuple[int, float, int, int]:
    """What a plan leaves out, then what it costs, how many sheets are bought, and what cannot wait for its measure."""
    plan = supposed.plan
    lines = [line for line in buying_list(plan) if line.unit == "sheet"]
    missing = sum(len(one.unplaced) for one in plan.sheets)
    return missing, total(lines) or 0.0, int(sum(line.quantity for line in lines)), sum(1 for _ in cut_early(plan))
