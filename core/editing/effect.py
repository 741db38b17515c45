"""What a change of the design would do to the parts, told before it is made."""

from __future__ import annotations

from collections.abc import Mapping

from core.construction.codes import fingerprint, place_key
from core.construction.row import count_feet
from core.project import Design
from core.workings import Worked, work_out

MOST_TOLD = 5
"""So many codes are told; of others their number."""


def effect(now: Worked, codes: Mapping[str, str], then: Design) -> str:
    """`changes S1, S2, B1; adds 2 parts`, or what would stand in the way. `codes`: of the parts, by their places."""
    after = work_out(then)
    wrong = [str(one) for one in after.problems if str(one) not in {str(known) for known in now.problems}]
    if wrong:
        return wrong[0]
    before, parts = ({place_key(part): fingerprint(part) for part in one.parts} for one in (now, after))
    other = [place for place in before if place in parts and parts[place] != before[place]]
    changed = list(dict.fromkeys(codes.get(place, place) for place in other))
    gone = sum(place not in parts for place in before)
    new = sum(place not in before for place in parts)
    told = []
    if changed:
        more = f" and {len(changed) - MOST_TOLD} more" if len(changed) > MOST_TOLD else ""
        told.append(f"changes {', '.join(changed[:MOST_TOLD])}{more}")
    if gone:
        told.append(f"takes away {_counted(gone)}")
    if new:
        told.append(f"adds {_counted(new)}")
    feet = [sum(count_feet(place, one.placed, one.rules) for place in one.standing) for one in (now, after)]
    if feet[0] != feet[1]:
        told.append(f"{feet[1]} feet in the place of {feet[0]}")
    return "; ".join(told) or "changes no part"


def _counted(number: int) -> str:
    return f"{number} part{'' if number == 1 else 's'}"
