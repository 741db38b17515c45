"""Does it hold, does it stand, does it fit: each check with its formula, its source and what would mend it."""

from __future__ import annotations

from fractions import Fraction

from core.checks.baseboard import check_backs
from core.checks.doors import check_doors
from core.checks.drawers import check_drawers
from core.checks.finding import Finding
from core.checks.fit import check_dry_fit, check_floor, check_reach, check_space
from core.checks.frames import check_frames
from core.checks.in_front import check_in_front
from core.checks.joints import check_joints
from core.checks.movement import check_movement
from core.checks.moving import check_lifting, check_standing_up
from core.checks.obstacles import check_obstacles
from core.checks.racking import check_racking
from core.checks.sag import check_spans, shelf_spans, top_spans
from core.checks.sheets import check_lengths, check_sheets
from core.checks.stability import check_hanging, check_tipping
from core.checks.thickness import check_thickness
from core.goods import Board, Material
from core.mistakes import Mistake
from core.workings import Worked

WORST_FIRST = ("fail", "warn", "unknown", "ok")


def _up_to(worked: Worked) -> Fraction | None:
    """How high the piece was said to reach, mm; None where nothing readable was said."""
    text = worked.design.space.up_to
    try:
        return worked.names.length(text, where="height of the piece") if text else None
    except Mistake:
        return None


def run_checks(worked: Worked) -> tuple[Finding, ...]:
    """Every check of a design, the worst first."""
    design, notation = worked.design, worked.notation
    goods: dict[str, Material | Board] = {**design.materials, **design.boards}
    densities = {key: kg for key, one in goods.items() if (kg := one.kilograms_a_cubic_metre)}
    found = [
        *check_thickness(design.materials, worked.goods.thickness, worked.names, notation),
        *check_space(worked.envelope, worked.air, worked.standing, worked.placed, notation),
        *check_floor(worked.envelope.falls, worked.standing, notation),
        *check_reach(_up_to(worked), worked.placed, notation),
        *check_dry_fit(worked.misfits, worked.placed, notation),
        *check_joints(worked.joints),
        *check_frames(worked.placed, worked.rules, notation),
        *check_sheets(worked.parts, worked.stock, worked.rules, notation),
        *check_lengths(worked.parts, design.boards, worked.names, notation),
        *check_backs(worked.standing, worked.placed, worked.rules, worked.envelope.baseboard, notation),
        *check_obstacles(worked.on_walls, worked.placed, worked.rules, notation),
        *check_in_front(worked.moving, worked.on_walls, notation),
        *check_racking(worked.standing, worked.placed, worked.rules),
        *check_spans(shelf_spans(worked.placed, worked.rules, notation), design.materials, notation),
        *check_spans(top_spans(worked.placed, worked.rules, notation), design.materials, notation),
        *check_doors(
            worked.placed, worked.standing, worked.envelope, worked.air, worked.on_walls, worked.rules, notation
        ),
        *check_drawers(worked.placed, worked.rules, notation),
        *check_movement(worked.parts, design.materials, worked.rules, notation),
        *check_tipping(worked.standing, worked.placed, densities, notation),
        *check_hanging(worked.standing, worked.placed, densities, notation),
        *check_standing_up(worked.standing, worked.envelope.ceiling, notation),
        *check_lifting(worked.standing, worked.placed, densities, notation),
    ]
    return tuple(sorted(found, key=lambda one: WORST_FIRST.index(one.result)))
