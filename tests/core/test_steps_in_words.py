"""A cut as it is said: what it makes, and the one thing to beware of. The cautions are common practice, no source."""

from __future__ import annotations

import pytest
from designs import GOODS, design
from shop import Shop

from core.cuts.steps import EDGES
from core.cutting import step_of
from core.edits import set_value
from core.goods import Material, Stock, Trim
from core.plan import Plan
from core.printing import cuts_text
from core.project import LoosePart, Saw
from core.steps_in_words import comes_off, in_words, told_before, trimmed_edge

PIVOTS = "  ! shorter along the fence than across, and would pivot: crosscut sled or track saw"
FAR = "  ! beyond {}, past most table saws' fences: mark it, and cut with a track saw or along a straightedge"
SHORT = "  ! less than {} along the fence: a sled or a stop block, never mitre gauge and fence together"
NARROW = "  ! narrow, below {}: push stick, and nothing between your hand and the blade but it"


def said(sheet: tuple[str, str], part: tuple[str, str], unit: str = "in") -> list[str]:
    """The first cut that frees a part of this size from the corner of a sheet."""
    goods: dict[str, Material] = {**GOODS, "ply": Material("Ply", "18 mm", "18 mm", stock=(Stock(*sheet),))}
    one = design(
        materials=goods, unit=unit, saws=(Saw("saw", kerf="0"),), loose=(LoosePart("L", "Panel", "ply", *part),)
    )
    shop = Shop(one)
    assert len(shop.plan.steps) == 1
    return in_words(shop.plan.steps[0], shop.plan)


@pytest.mark.parametrize(
    ("sheet", "part", "caution"),
    [
        # Rips off the full length, and crosscuts off the full width, of the sheet.
        (("96", "48"), ("96", "20"), None),
        (("96", "48"), ("96", "6"), None),
        (("96", "48"), ("96", "5 15/16"), NARROW.format("6 in")),
        (("96", "48"), ("24", "48"), PIVOTS),
        (("48 1/16", "48"), ("24", "48"), PIVOTS),
        (("48", "48"), ("24", "48"), None),
        (("96", "60"), ("52 1/16", "60"), FAR.format("52 in")),
        (("96", "60"), ("52", "60"), PIVOTS),
        (("12", "12"), ("7", "12"), None),
        (("11", "11 15/16"), ("7", "11 15/16"), SHORT.format("12 in")),
    ],
)
def test_what_to_beware_of(sheet: tuple[str, str], part: tuple[str, str], caution: str | None) -> None:
    lines = said(sheet, part)
    assert [line for line in lines if line.startswith("  !")] == ([caution] if caution else [])


@pytest.mark.parametrize(
    ("sheet", "part", "caution"),
    [
        (("2440", "1400"), ("1321", "1400"), FAR.format("1320 mm")),
        (("2440", "1400"), ("1320", "1400"), PIVOTS),
        (("298", "299"), ("250", "299"), SHORT.format("300 mm")),
        (("299", "300"), ("250", "300"), None),
        (("2440", "1220"), ("2440", "149"), NARROW.format("150 mm")),
        (("2440", "1220"), ("2440", "150"), None),
    ],
)
def test_a_millimetre_project_is_told_in_millimetres(
    sheet: tuple[str, str], part: tuple[str, str], caution: str | None
) -> None:
    lines = said(sheet, part, "mm")
    assert [line for line in lines if line.startswith("  !")] == ([caution] if caution else [])
    assert " in " not in "\n".join(lines).replace("pencil it on", "")


def test_a_cut_takes_a_few_short_lines() -> None:
    lines = said(("96", "60"), ("60", "60"))
    assert lines[0] == "Step 1, saw: crosscut ply-1, across the length, fence 60 in from its left edge."
    assert lines[1] == "  against the fence: part L1/1 Panel: pencil it on, 60 x 60"
    assert lines[2] == "  beyond the blade: offcut ply-1.2, worth keeping: pencil that on, 36 x 60"
    assert len(lines) <= 6 and max(map(len, lines)) <= 120


def boards(trim: Trim, count: int = 3, size: tuple[str, str] = ("30", "20")) -> Plan:
    """A few boards on one sheet that is trimmed."""
    goods: dict[str, Material] = {**GOODS, "ply": Material("Ply", "3/4", "3/4", stock=(Stock("96", "48", trim=trim),))}
    return Shop(design(materials=goods, loose=(LoosePart("L", "Board", "ply", *size, count),))).plan


@pytest.mark.parametrize(
    ("trim", "told"),
    [
        (Trim("1/2", "1/2", "1/2", "1/2"), "trim all four edges by 1/2 in, kerf counted"),
        (Trim("0", "0", "1/4", "1/4"), "trim the bottom and top edges by 1/4 in, kerf counted"),
        (Trim("0", "1/8", "0", "0"), "trim the right edge by 1/8 in, kerf counted"),
        (Trim("1/2", "0", "0", "1/4"), "trim the left and top edges, kerf counted: left by 1/2 in, top by 1/4 in"),
        (Trim(), None),
    ],
)
def test_the_trimming_of_a_sheet_is_told_once_and_each_of_its_cuts_stays_one(trim: Trim, told: str | None) -> None:
    plan = boards(trim)
    trimmed = [edge for planned in plan.steps if (edge := trimmed_edge(planned))]
    assert sorted(trimmed) == sorted(edge for edge in EDGES if getattr(trim, edge) != "0")
    assert [trimmed_edge(planned) is not None for planned in plan.steps] == sorted(
        (trimmed_edge(planned) is not None for planned in plan.steps), reverse=True
    ), "they come before every other cut"
    before = told_before(plan)
    assert before.get(1) == told
    assert sorted(before) == ([1, len(trimmed) + 1] if told else [])
    printed = cuts_text(plan, 100, False)
    assert sum(line.startswith("  trim ") for line in printed) == bool(told)
    assert sum(line.startswith("[ ] ") for line in printed) == len(plan.steps)


def test_what_is_left_of_a_trimmed_sheet_is_named_with_its_size() -> None:
    plan = boards(Trim("1/2", "1/2", "1/2", "1/2"))
    piece = plan.steps[4].step.piece
    assert told_before(plan)[5] == f"then cut up the trimmed sheet, {piece}, 95 x 47"
    assert in_words(plan.steps[0], plan)[0].endswith(f"edge: trims the {trimmed_edge(plan.steps[0])} edge.")


def test_a_name_is_pencilled_where_two_pieces_could_be_mistaken_and_explained_once() -> None:
    plan = boards(Trim("1/2", "1/2", "1/2", "1/2"), 12)
    told = [line for planned in plan.steps for line in in_words(planned, plan)]
    assert not [line for line in in_words(plan.steps[0], plan) if "pencil" in line], "one piece is kept of a trimming"
    explained = [line for line in told if " is piece " in line]
    assert len(explained) == len({planned.step.sheet for planned in plan.steps}) == 2
    for planned in plan.steps:
        for made in planned.step.pieces:
            several = sum(one.use != "waste" for one in planned.step.pieces) > 1
            if made.use == "blank":
                assert any(f"pencil {made.id} on it" in line for line in in_words(planned, plan)) is several
    name = explained[0].split()[0]
    assert explained[0] == f"  {name} is piece {name.rpartition('.')[2]} of sheet ply-1"
    assert sum(f"{name} is piece" in line for line in cuts_text(plan, 100, False)) == 1


def test_what_was_cut_and_no_longer_suits_is_told_as_it_was_pencilled() -> None:
    shop = Shop(design(loose=(LoosePart("L1", "Board", "ply", "40", "10", 2),)))
    frees = next(one for one in shop.plan.steps if any(made.id == "L1/1" for made in one.step.pieces)).number
    shop.tick(*(one.number for one in shop.plan.steps if one.number <= frees))
    assert comes_off(step_of(shop.plan.steps, frees), shop.plan).startswith("L1/1 + ")
    shop.edit(set_value(shop.project.design, ("loose", 0, "length"), "38"))
    assert comes_off(step_of(shop.plan.steps, frees), shop.plan).startswith("L1/1, no longer suits + ")


def test_a_name_with_an_x_is_explained_where_it_is_pencilled() -> None:
    saws = (Saw("track saw", "track", "1/16"), Saw("table saw", "table", "1/8"))
    named = []
    for rails in (12, 20, 28, 34):
        loose = (LoosePart("L1", "Board", "ply", "40", "10", 3), LoosePart("L2", "Rail", "ply", "9", "4", rails))
        plan = Shop(design(loose=loose, saws=saws)).plan
        named += [(made.id, one, plan) for one in plan.steps for made in one.step.pieces if made.id.endswith("x")]
    assert named, "some layout has a piece that is skimmed"
    for name, step, plan in named:
        assert f"  {name} is a little too large: cut to size it is {name[:-1]}" in in_words(step, plan)
