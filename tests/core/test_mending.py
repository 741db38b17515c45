"""Where a finding can be mended: a way that leads to something in the design, and changed there it is mended."""

from __future__ import annotations

from dataclasses import replace

import pytest
from designs import GOODS, carcass, design, plan_of

from core.checks import run_checks
from core.checks.finding import Finding
from core.editing.goods import goods_sections
from core.editing.piece import piece_sections
from core.editing.places import station_of, with_places
from core.editing.space import space_sections
from core.edits import Path, set_value
from core.project import Bay, Design, Gap, Top
from core.space import Baseboard, Obstacle, Reading, Space

ROOM = Space(
    readings=(Reading("width", "72"), Reading("depth", "24"), Reading("height", "96")),
    baseboards=(Baseboard("back", "5 1/2", "1/2"),),
    obstacles=(Obstacle("outlet", "back", "8", "20", "2 3/4", "4 1/2", called="socket"),),
)


def findings(of: Design, check: str) -> list[Finding]:
    return [one for one in run_checks(plan_of(of).worked) if one.check == check and one.result != "ok"]


def in_room(*row: object, **changes: object) -> Design:
    return design(*row, space=ROOM, **changes)  # type: ignore[arg-type]


def ways(of: Design) -> set[Path]:
    """Fields, and things that can be removed whole: what a cursor can stand on."""
    found: set[Path] = set()
    for section in (*space_sections(of), *goods_sections(of), *piece_sections(of)):
        found |= {field.path for field in section.fields} | ({section.item} if section.item else set())
    return found


WEAK = replace(GOODS["ply"], stiffness="2000", density="600")
WIDE = carcass("B", "60", "40", "12", Bay("share", ("20",)))
TALL = carcass("B", "20", "84", "8")

MENDED: list[tuple[str, Design, Path, Path, str]] = [
    # Check, design, the way by ids, the way by places, and a text there that mends it.
    ("space", in_room(carcass("A", "80"), row_width="80"), ("row_width",), ("row_width",), ""),
    (
        "space",
        in_room(Gap("G", "Gap", "10"), carcass("A", "20", "97")),
        ("row", "A", "height"),
        ("row", 1, "height"),
        "80",
    ),
    (
        "space",
        in_room(carcass("A", "20", "30", "30")),
        ("row", "A", "depth"),
        ("row", 0, "depth"),
        "20",
    ),
    (
        "space",
        in_room(carcass("A", "20"), tops=(Top("W", "Top", "ply", overhang_front="2"),)),
        ("tops", "W", "overhang_front"),
        ("tops", 0, "overhang_front"),
        "0",
    ),
    (
        "space",
        in_room(carcass("A", "72"), tops=(Top("W", "Top", "ply", overhang_right="2"),)),
        ("tops", "W", "overhang_right"),
        ("tops", 0, "overhang_right"),
        "0",
    ),
    ("sag", in_room(WIDE, materials={**GOODS, "ply": WEAK}), ("row", "B", "width"), ("row", 0, "width"), "12"),
    (
        "sag",
        in_room(carcass("B", "60", "40", "12", Bay("10"), Bay("share", ("20",))), materials={**GOODS, "ply": WEAK}),
        ("row", "B", "bays", 1, "width"),
        ("row", 0, "bays", 1, "width"),
        "",
    ),
    (
        "sag",
        in_room(WIDE, materials={**GOODS, "ply": replace(WEAK, stiffness="")}),
        ("materials", "ply", "stiffness"),
        ("materials", "ply", "stiffness"),
        "12000",
    ),
    (
        "tipping",
        in_room(TALL, materials={**GOODS, "ply": WEAK, "thin": replace(GOODS["thin"], density="600")}),
        ("row", "B", "depth"),
        ("row", 0, "depth"),
        "30",
    ),
    ("tipping", in_room(TALL), ("materials", "ply", "density"), ("materials", "ply", "density"), ""),
    ("lifting", in_room(TALL), ("materials", "ply", "density"), ("materials", "ply", "density"), ""),
    ("standing up", in_room(carcass("A", "20", "95", "23")), ("row", "A", "height"), ("row", 0, "height"), "80"),
    ("baseboard", in_room(carcass("A")), ("row", "A", "rules", "kick_height"), ("rules", "kick_height"), "6"),
    (
        "baseboard",
        in_room(carcass("A", kick_height="3")),
        ("row", "A", "rules", "kick_height"),
        ("row", 0, "rules", "kick_height"),
        "6",
    ),
    ("obstacle", in_room(carcass("A")), ("row", "A"), ("row", 0), ""),
    (
        "thickness",
        design(materials={**GOODS, "ply": replace(GOODS["ply"], actual="18")}),
        ("materials", "ply", "actual"),
        ("materials", "ply", "actual"),
        "18 mm",
    ),
]


@pytest.mark.parametrize(("check", "of", "by_id", "by_place", "text"), MENDED)
def test_the_way_to_what_mends_a_finding(check: str, of: Design, by_id: Path, by_place: Path, text: str) -> None:
    found = [one for one in findings(of, check) if one.mended_at == by_id]
    assert found, [one.mended_at for one in findings(of, check)]
    assert with_places(of, by_id) == by_place
    assert by_place in ways(of) or by_place == ("rules", "kick_height")
    if text:
        mended = set_value(of, by_place, text)
        worse = [one for one in findings(mended, check) if one.result == found[0].result]
        assert len(worse) < len([one for one in findings(of, check) if one.result == found[0].result])


def test_what_was_not_read_leads_to_the_readings() -> None:
    of = design(carcass("A"))
    assert {one.mended_at for one in findings(of, "space")} == {("space", "readings")}
    assert station_of(("space", "readings")) == "Space"


def test_what_holds_leads_nowhere() -> None:
    for one in run_checks(plan_of(in_room(carcass("A"))).worked):
        assert one.result != "ok" or not one.mended_at


@pytest.mark.parametrize(
    ("path", "station"),
    [
        (("materials", "ply", "actual"), "Goods"),
        (("row", 0), "Piece"),
        (("row_width",), "Piece"),
        (("rules",), "Piece"),
    ],
)
def test_the_station_of_a_way(path: Path, station: str) -> None:
    assert station_of(path) == station
