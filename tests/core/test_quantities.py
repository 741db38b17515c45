"""Amounts with units, held against values known elsewhere."""

from contextlib import suppress

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.mistakes import Mistake
from core.quantities import DENSITY, LOAD, STIFFNESS, read_quantity


@pytest.mark.parametrize(
    ("text", "unit", "amount"),
    [
        ("600", DENSITY, 600),
        (".5", DENSITY, 0.5),
        # 1 pcf = 16.0185 kg/m3 (NIST SP 811: the pound and the foot are exact).
        ("38 lb/ft^3", DENSITY, 38 * 0.45359237 / 0.3048**3),
        ("38 lb/ft3", DENSITY, 38 * 0.45359237 / 0.3048**3),
        ("38 pcf", DENSITY, 38 * 0.45359237 / 0.3048**3),
        # 1 N/mm2 = 145.038 psi, so the 950,000 psi of the Architectural Woodwork Standards are 6550 N/mm2.
        ("950000 psi", STIFFNESS, 950_000 / 145.0377),
        ("10.048 GPa", STIFFNESS, 10_048),
        ("25 lb/ft", LOAD, 25 * 0.45359237 / 0.3048),
        ("37 kg/m", LOAD, 37),
    ],
)
def test_an_amount_is_read_in_its_own_unit(text: str, unit: str, amount: float) -> None:
    assert read_quantity(text, unit) == pytest.approx(amount, rel=1e-6)


@pytest.mark.parametrize(
    "text", ["", "-5", "600 kg", "12 psi", "9**9**9", "1e400", "six", "950,000 psi", "1 lb/ft**3**9"]
)
def test_what_is_no_density_is_refused_with_an_example(text: str) -> None:
    with pytest.raises(Mistake, match="38 lb/ft"):
        read_quantity(text, DENSITY)


@given(st.text(max_size=60))
@settings(max_examples=200, deadline=None)
def test_any_text_is_read_or_refused(text: str) -> None:
    with suppress(Mistake):
        assert 0 <= read_quantity(text, DENSITY) < 1e9
