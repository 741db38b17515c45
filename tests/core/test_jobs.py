"""From parts and stock to whole numbers: units, rounding, trim."""

from __future__ import annotations

from fractions import Fraction

import pytest
from designs import INCH, inches
from hypothesis import given, settings
from hypothesis import strategies as st

from core.construction.part import Box, Kind, Part
from core.goods import Material, Stock, Trim
from core.jobs import FINEST, UNITS_PER_MM, Blank, Sheet, blank_of, make_job, sheets_of, unit_for
from core.layout.job import JobTrim
from core.layout.search import lay_out
from core.mistakes import Mistake

F = Fraction
NO_TRIM = (F(0), F(0), F(0), F(0))


def sheet(length: Fraction, width: Fraction, trim: tuple[Fraction, Fraction, Fraction, Fraction] = NO_TRIM) -> Sheet:
    return Sheet("sheet", length, width, trim, None, 0)


def blank(length: Fraction, width: Fraction, quantity: int = 1, code: str = "S1") -> Blank:
    return Blank(code, length, width, quantity, False)


# --- Units and rounding


def test_the_unit_holds_sixty_fourths_and_hundredths_of_a_millimetre() -> None:
    assert unit_for([INCH / 64, F("0.01")]) == UNITS_PER_MM == 1600


def test_thirds_of_an_inch_ask_for_a_finer_unit() -> None:
    # 25.4 / 3 is 127/15: a unit of 1/4800 mm divides that as well.
    assert unit_for([INCH / 3]) == 4800
    job = make_job([blank(INCH / 3, inches(2))], [sheet(inches(96), inches(48))], inches("1/8"))
    assert F(job.parts[0].length) * F(job.unit) == INCH / 3


def test_the_finest_unit() -> None:
    assert unit_for([F(1, FINEST)]) == FINEST == 1_600_000_000
    # One that is finer is left to rounding; the others still count.
    assert unit_for([F(1, 2 * FINEST), INCH / 3]) == 4800


def test_a_blank_lies_with_its_grain() -> None:
    def lies(grain: str) -> Blank:
        box = Box((F(0), F(0), F(0)), (F(300), F(200), F(18)))
        part = Part("", "loose", "L 1", "Panel", "ply", box, "x", "y", grain)  # type: ignore[arg-type]
        return blank_of(Kind("L1", part, ((1, part),)), 4)

    assert lies("length") == Blank("L1", F(300), F(200), 4, may_turn=False, lies_turned=False)
    assert lies("width") == Blank("L1", F(200), F(300), 4, may_turn=False, lies_turned=True)
    assert lies("none") == Blank("L1", F(300), F(200), 4, may_turn=True, lies_turned=False)


def test_what_no_unit_divides_is_rounded_parts_up_and_stock_down() -> None:
    strange = 1000 + F(1, 999_999_937)
    job = make_job([blank(strange, strange)], [sheet(strange, strange, (strange / 9, F(0), F(0), F(0)))], F(3))
    unit = F(job.unit)
    assert unit >= F(1, FINEST)
    (part,), (stock,) = job.parts, job.stock
    for up in (part.length, part.width):
        assert strange < up * unit < strange + unit
    for down in (stock.length, stock.width):
        assert strange - unit < down * unit < strange
    assert strange / 9 < stock.trim.left * unit < strange / 9 + unit


sizes = st.fractions(1, 3000, max_denominator=10**9)


@settings(max_examples=80, deadline=None)
@given(st.lists(sizes, min_size=1, max_size=4), sizes, st.fractions(0, 5, max_denominator=10**9))
def test_rounding_never_makes_an_impossible_layout_possible(
    lengths: list[Fraction], stock: Fraction, kerf: Fraction
) -> None:
    job = make_job([blank(length, F(10)) for length in lengths], [sheet(stock, F(10))], kerf)
    unit = F(job.unit)
    assert all(part.length * unit >= length for part, length in zip(job.parts, lengths, strict=True))
    assert job.stock[0].length * unit <= stock
    assert job.kerf * unit >= kerf
    # Nor does it lose more than a unit, a billionth of a metre, of what would fit.
    assert all(part.length * unit - length < unit for part, length in zip(job.parts, lengths, strict=True))


# --- What a sheet yields


def fits(length: Fraction, width: Fraction, quantity: int, of: Sheet, kerf: Fraction) -> bool:
    """Whether one sheet gives so many."""
    layout = lay_out(make_job([blank(length, width, quantity)], [of], kerf))
    return len(layout.sheets) == 1 and not layout.unplaced


@pytest.mark.parametrize(
    ("length", "width", "kerf"),
    [
        # Four exact quarters: (L - k)/2 by (W - k)/2.
        (F(2440), F(1220), F("3.2")),
        (inches(96), inches(48), inches("1/8")),
        (inches(97), inches(49), inches("7/64")),
        (INCH * 100 / 3, INCH * 50 / 3, INCH / 9),
        (F(2500), F(1250), F(0)),
    ],
)
def test_four_exact_quarters_fit_and_four_a_hair_larger_do_not(
    length: Fraction, width: Fraction, kerf: Fraction
) -> None:
    long, wide = (length - kerf) / 2, (width - kerf) / 2
    assert fits(long, wide, 4, sheet(length, width), kerf)
    assert not fits(long + F(1, 10**6), wide, 4, sheet(length, width), kerf)


# TRADE.md section 7, strip arithmetic (computed): n strips need n s + (n - 1) k of 48 in.
STRIPS = [
    # strip, how many, trim at one edge with its kerf, fits
    ("12", 3, "0", True),
    ("12", 4, "0", False),
    ("11 29/32", 4, "0", True),  # (48 - 3/8) / 4 = 11.90625
    ("11 27/32", 4, "1/4", True),  # (48 - 1/4 - 3/8) / 4 = 11.84375
    ("11 29/32", 4, "1/4", False),
]


@pytest.mark.parametrize(("strip", "count", "trim", "fit"), STRIPS)
def test_rips_that_a_sheet_yields(strip: str, count: int, trim: str, fit: bool) -> None:
    stock = sheet(inches(96), inches(48), (F(0), F(0), inches(trim), F(0)))
    assert fits(inches(96), inches(strip), count, stock, inches("1/8")) is fit


def test_rips_in_millimetres() -> None:
    # The same section: 1220 mm, kerf 2.2, trim 5: four strips of (1220 - 5 - 3 * 2.2) / 4 = 302.1 mm.
    stock = sheet(F(2440), F(1220), (F(0), F(0), F(5), F(0)))
    assert fits(F(2440), F("302.1"), 4, stock, F("2.2"))
    assert not fits(F(2440), F("302.11"), 4, stock, F("2.2"))


# --- Stock


def test_a_sheet_without_grain_lies_along_its_longer_side() -> None:
    stock = Stock("48", "96", "20.50", 2, Trim("1", "2", "3", "4"))
    sizes = {"48": F(48), "96": F(96), "1": F(1), "2": F(2), "3": F(3), "4": F(4)}
    (turned,) = sheets_of(Material("MDF", "3/4", "3/4", grain=False, stock=(stock,)), sizes)
    assert (turned.length, turned.width, turned.trim) == (96, 48, (3, 4, 1, 2))
    assert (turned.name, turned.quantity, turned.price) == ("48 x 96", 2, 2050)
    (square,) = sheets_of(
        Material("MDF", "3/4", "3/4", grain=False, stock=(Stock("48", "48", trim=stock.trim),)), sizes
    )
    assert (square.trim, square.price) == ((1, 2, 3, 4), 0)
    (as_it_is,) = sheets_of(Material("Ply", "3/4", "3/4", stock=(stock,)), sizes)
    assert (as_it_is.length, as_it_is.width, as_it_is.trim) == (48, 96, (1, 2, 3, 4))


def test_a_trim_counts_the_kerf_once() -> None:
    job = make_job([], [sheet(F(2440), F(1220), (F(10), F(10), F(5), F(0)))], F("3.2"))
    unit = F(job.unit)
    assert job.stock[0].trim == JobTrim(*(int(side / unit) for side in (10, 10, 5, 0)))
    assert job.stock[0].inner_length * unit == 2420


def test_a_trim_thinner_than_the_blade_is_refused() -> None:
    with pytest.raises(Mistake, match="a trim of 2 mm at the bottom of sheet sheet is less than the kerf"):
        make_job([], [sheet(F(2440), F(1220), (F(0), F(0), F(2), F(0)))], F("3.2"))
    make_job([], [sheet(F(2440), F(1220), (F(0), F(0), F("3.2"), F(0)))], F("3.2"))


# Sizes of sheets as they are sold, TRADE.md section 2: name, length and width in mm, then in inches.
SHEETS = [
    ("2440 x 1220 is 96.06 x 48.03 in", F(2440), F(1220), "96.06", "48.03"),
    ("1525 x 1525 is 60.04 in", F(1525), F(1525), "60.04", "60.04"),
]


@pytest.mark.parametrize(("name", "length", "width", "long", "wide"), SHEETS)
def test_a_metric_sheet_is_a_little_larger(name: str, length: Fraction, width: Fraction, long: str, wide: str) -> None:
    assert round(float(length / INCH), 2) == float(long), name
    assert round(float(width / INCH), 2) == float(wide), name


# --- Sheets that are cut in a settled way first

FIRST = {text: F(text) for text in ("2440", "1220", "0", "2", "6", "600", "1200", "3000")}


def first_cuts(stock: Stock, grain: bool = True) -> Sheet:
    (one,) = sheets_of(Material("Ply", "18", "18", grain=grain, stock=(stock,)), FIRST)
    return one


def test_a_first_crosscut_and_a_first_rip_go_into_the_job_with_what_they_lose() -> None:
    stock = Stock("2440", "1220", first_crosscut="1200", crosscut_loses="6", first_rip="600", rip_loses="0")
    job = make_job([], [first_cuts(stock)], F("3.2"))
    (of_job,) = job.stock
    unit = F(job.unit)
    first = (of_job.crosscut_at, of_job.crosscut_trim, of_job.rip_at, of_job.rip_trim)
    assert [at * unit for at in first] == [1200, 6, 600, 0]
    # Where there is no such cut, nothing is lost beside it, whatever the field says.
    (plain,) = make_job([], [first_cuts(Stock("2440", "1220", rip_loses="6"))], F("3.2")).stock
    assert (plain.rip_at, plain.rip_trim) == (0, 0)


def test_a_first_cut_that_cannot_be_made_is_refused() -> None:
    with pytest.raises(Mistake, match="a first rip at 1220 lies beyond the sheet 2440 x 1220"):
        first_cuts(Stock("2440", "1220", first_rip="1220"))
    with pytest.raises(Mistake, match="a first crosscut at 3000 lies beyond the sheet 2440 x 1220"):
        first_cuts(Stock("2440", "1220", first_crosscut="3000"))
    # Without grain the length is the longer side, whichever was given first.
    assert first_cuts(Stock("1220", "2440", first_crosscut="1220"), grain=False).first_crosscut == 1220
    with pytest.raises(Mistake, match="a first rip at 1220 lies beyond"):
        first_cuts(Stock("1220", "2440", first_rip="1220"), grain=False)
    with pytest.raises(Mistake, match="a trim of 2 mm at the first rip of sheet 2440 x 1220 is less than the kerf"):
        make_job([], [first_cuts(Stock("2440", "1220", first_rip="600", rip_loses="2"))], F("3.2"))
