"""Joints that are glued only, although the rules ask for screws, dowels or the like there."""

from __future__ import annotations

from collections.abc import Iterable

from core.checks.finding import Finding
from core.dry_fit import Meeting
from core.fastening import Fastened

HEIGHTS = ("heights that differ by a thickness",)


def check_joints(joints: Iterable[Fastened]) -> list[Finding]:
    """One finding for each carcass and reason."""
    glued: dict[tuple[str, str], list[Meeting]] = {}
    for joint in joints:
        if joint.glued:
            glued.setdefault((joint.meeting.one.carcass, joint.glued), []).append(joint.meeting)
    return [
        Finding(
            "joint",
            f"carcass {carcass}, {len(met)} joint{'' if len(met) == 1 else 's'}",
            "warn",
            f"{why}: glue alone holds {_between(met[0])}" + (" and others" if len(met) > 1 else ""),
            source="common practice, no source",
            mend=("pocket screws", "a dado there", *(HEIGHTS if "both faces" in why else ())),
            brief=f"joints {carcass}",
            mended_at=("row", carcass),
        )
        for (carcass, why), met in glued.items()
    ]


def _between(meeting: Meeting) -> str:
    return " and ".join(part.name.lower() for part in meeting.parts)
