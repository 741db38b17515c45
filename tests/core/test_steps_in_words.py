"""A cut as it is said: what it makes, and the one thing to beware of. The cautions are common practice, no source."""

from __future__ import annotations

import pytest
from designs import GOODS, design
from shop import Shop

from core.goods import Material, Stock
from core.project import LoosePart, Saw
from core.steps_in_words import in_words

PIVOTS = "  ! shorter along the fence than across, and would pivot: crosscut sled or track saw"
FAR = "  ! beyond {}, past most table saws' fences: mark it, and cut with a track saw or along a straightedge"
SHORT = "  ! less than {} along the fence: a sled or a stop block, never mitre gauge and fence together"
NARROW = "  ! narrow, below {}: push stick, and nothing between your hand and the blade but it"


def said(sheet: tuple[str, str], part: tuple[str, str], unit: str = "in") -> list[str]:
    """The first cut that frees a part of this size from the corner of a sheet."""
    goods: dict[str, Material] = {**GOODS, "ply": Material("Ply", "18 mm", "18 mm", stock=(Stock(*sheet),))}
    one = design(materials=goods, unit=unit, saw=Saw("saw", "0"), loose=(LoosePart("L", "Panel", "ply", *part),))
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
        (("96", "48"), ("52", "48"), PIVOTS),
        (("96", "48"), ("48", "48"), None),
        (("96", "48"), ("48 1/16", "48"), PIVOTS),
        (("96", "60"), ("52 1/16", "60"), FAR.format("52 in")),
        (("96", "60"), ("52", "60"), None),
        (("96", "12"), ("12", "12"), None),
        (("96", "11 15/16"), ("11", "11 15/16"), SHORT.format("12 in")),
    ],
)
def test_what_to_beware_of(sheet: tuple[str, str], part: tuple[str, str], caution: str | None) -> None:
    lines = said(sheet, part)
    assert [line for line in lines if line.startswith("  !")] == ([caution] if caution else [])


@pytest.mark.parametrize(
    ("sheet", "part", "caution"),
    [
        (("2440", "1400"), ("1321", "1400"), FAR.format("1320 mm")),
        (("2440", "1400"), ("1320", "1400"), None),
        (("2440", "299"), ("250", "299"), SHORT.format("300 mm")),
        (("2440", "300"), ("250", "300"), None),
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


def test_a_cut_takes_five_short_lines_at_most() -> None:
    lines = said(("96", "60"), ("60", "60"))
    assert lines[0] == "Step 1, saw: crosscut ply-1, across the length, fence 60 in from its left edge."
    assert lines[1] == "  against the fence: part L1/1 Panel: pencil it on, 60 x 60"
    assert lines[2] == "  beyond the blade: offcut ply-1.2, worth keeping, 36 x 60"
    assert len(lines) == 4 and max(map(len, lines)) <= 120
