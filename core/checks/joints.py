"""Joints that are glued only, although the rules ask for screws, dowels or the like there."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from core.checks.finding import Finding
from core.construction.rule_book import Rules
from core.dry_fit import Meeting
from core.fastening import fastened
from core.lengths import Unit

HEIGHTS = ("heights that differ by a thickness",)


def check_joints(meetings: Iterable[Meeting], rules: Mapping[str, Rules], unit: Unit) -> list[Finding]:
    """One finding for each carcass and reason."""
    glued: dict[tuple[str, str], list[Meeting]] = {}
    for joint in fastened(meetings, rules, unit):
        if joint.glued:
            glued.setdefault((joint.meeting.one.carcass, joint.glued), []).append(joint.meeting)
    return [
        Finding(
            "joint",
            f"carcass {carcass}, {len(joints)} joint{'' if len(joints) == 1 else 's'}",
            "warn",
            f"{why}: glue alone holds {_between(joints[0])}" + (" and others" if len(joints) > 1 else ""),
            source="common practice, no source",
            mend=("pocket screws", "a dado there", *(HEIGHTS if "both faces" in why else ())),
            brief=f"joints {carcass}",
            mended_at=("row", carcass),
        )
        for (carcass, why), joints in glued.items()
    ]


def _between(meeting: Meeting) -> str:
    return f"{meeting.one.name.lower()} and {meeting.other.name.lower()}"
