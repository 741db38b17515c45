"""What stands below the cuts: what was cut before, the boards to be cut to length, the machining by set-up."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import count

from core.boards import boards_in_words
from core.machining_list import machining_in_words
from core.plan import Plan
from core.printing import history_in_words
from tui.widgets.painted import plain_row
from tui.widgets.rows import Line


@dataclass(frozen=True)
class Below:
    """A line below the cuts: the cursor goes there, so that it is seen, and told whole, with what it stands under."""

    number: int
    told: tuple[str, ...]


def lines_below(plan: Plan) -> Iterator[Line]:
    """What was cut before the plan was changed, the boards, and the machining by set-up."""
    boards = boards_in_words(plan.boards, plan.project.design.boards, plan.worked.notation)
    machining = machining_in_words(plan)
    headed = [
        history_in_words(plan),
        [*(["Boards, cut to length, the longest first"] if boards else []), *boards],
        [*(["Machining, once the parts are cut, by set-up"] if machining else []), *machining],
    ]
    number = count()
    for heading, *told in filter(None, headed):
        yield Line(plain_row(heading, "heading"))
        under = ""
        for on_paper in told:
            # The boxes are for a pencil.
            one = on_paper.replace("[ ] ", "")
            under = under if one.startswith(" ") else one
            whole = tuple(dict.fromkeys(line.strip() for line in (under, one) if line))
            yield Line(plain_row(f"  {one}", "quiet"), Below(next(number), whole))
