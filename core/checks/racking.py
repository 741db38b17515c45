"""What keeps a box square, and what it is fastened to the wall by."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from core.checks.finding import Finding
from core.construction.part import Part
from core.construction.row import Standing
from core.construction.rule_book import Rules


def check_racking(standing: Sequence[Standing], parts: Iterable[Part], rules: Mapping[str, Rules]) -> list[Finding]:
    """Every carcass has a back, a nailer or a face frame: else it leans over sideways, and nothing takes a screw."""
    found = []
    roles: dict[str, set[str]] = {}
    for part in parts:
        # A front rail, or one between two openings, takes no screw into the wall.
        role = "rear rail" if (part.role, part.place) == ("rail", "rear") else part.role
        roles.setdefault(part.carcass, set()).add(role)
    for place in standing:
        id = place.item.id
        if id not in rules or "side" not in roles.get(id, ()):
            continue
        stiff = {"back": "its back", "nailer": "a nailer", "stile": "its face frame"}
        if rules[id].back_reach == "part":
            # Too low to hold the box by itself.
            del stiff["back"]
        held = [word for role, word in stiff.items() if role in roles[id]]
        wall = roles[id] & {"back", "nailer", "rear rail"}
        lacking = [] if held else ["nothing keeps it square"]
        lacking += [] if wall else ["nothing takes a screw into the wall"]
        found.append(
            Finding(
                "square",
                f"carcass {id}",
                "warn" if lacking else "ok",
                "; ".join(lacking) or f"kept square by {' and '.join(held)}",
                source="common practice, no source",
                mend=("a back", "nailers, top and bottom", "a face frame") if lacking else (),
                brief=f"carcass {id}",
                mended_at=("row", id, "rules", "back") if lacking else (),
            )
        )
    return found
