"""What would come of an accident: worked out, searched where that may save a sheet, shown, then accepted or left."""

from __future__ import annotations

from collections.abc import Callable

from core.buy import buying_list, total
from core.changes_in_words import buys_more, changes_in_words
from core.held_back import cut_early
from core.mistakes import Mistake
from core.project import Design, Facts
from tui.desk import Desk
from tui.screens import ChangePage
from tui.session import Supposed

Change = Callable[[Facts], Facts]


class Supposing:
    """Changes of plan, on their way from what happened to what is accepted."""

    def __init__(self, desk: Desk, go_on: Callable[[], object]) -> None:
        """`go_on` takes the person to the next cut once the plan has changed."""
        self.desk, self.session, self.go_on = desk, desk.session, go_on

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
        """Works out what it comes to, and shows it; nothing has changed yet. `said`: what went another way."""

        def work_out() -> None:
            try:
                supposed = self.session.suppose(material, change, design, said)
            except Mistake as mistake:
                self.desk.say(str(mistake), bad=True)
                self.desk.back_to_station()
                return
            if design is not None or supposed.waiting or try_anew or buys_more(supposed.before, supposed.plan):
                self.desk.say("Laying out what is not cut…")
                self.desk.work(self._searched(supposed, material, rather_anew=design is not None or rather_anew))
            else:
                self._show(supposed)

        # That may hold up the keys for seconds, where many pieces are others or find no room: it is said first.
        self.desk.say("Working out what it comes to…")
        self.desk.once_painted(work_out)

    async def _searched(self, supposed: Supposed, material: str, *, rather_anew: bool) -> None:
        """Looks whether everything that is not cut, laid out anew, costs less than a few pieces more.

        `rather_anew`: where both cost the same too, since little of what was planned still suits.
        """
        supposed = await self._laid_out(supposed)
        # With the design other materials may have changed too.
        for one in (material, *_bought_more(supposed, but=material)):
            anew = [await self._laid_out(way) for way in self.session.suppose_anew(supposed, one)]
            first_anew = rather_anew and one == material
            supposed = min([*anew, supposed] if first_anew else [supposed, *anew], key=_spent)
        self._show(supposed)

    async def _laid_out(self, supposed: Supposed) -> Supposed:
        while supposed.waiting:
            job = next(iter(supposed.waiting.values()))
            self.session.planner.layouts[job.search_key()] = await self.desk.lay_out(job)
            supposed = self.session.planned_again(supposed)
        return supposed

    def _show(self, supposed: Supposed) -> None:
        """What changes; Enter makes it so."""

        def decided(accepted: bool | None) -> None:
            if not accepted:
                self.desk.say("Nothing has changed")
            elif self.desk.record(lambda: self.session.accept(supposed)):
                self.desk.shown("The plan is as you accepted it")
                self.go_on()
            self.desk.back_to_station()

        self.desk.say("")
        lines = changes_in_words(supposed.before, supposed.plan)
        lines += [str(problem) for problem in supposed.plan.problems]
        self.desk.push(ChangePage(supposed.said, lines, self.desk.glyphs), decided)


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
