"""Lengths: what people write, what is refused, and how a length is shown."""

import math
from dataclasses import replace
from fractions import Fraction

import pint
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from core.formulas import LARGEST
from core.lengths import (
    LONGEST,
    MOST_CHARACTERS,
    MOST_DIGITS,
    UNITS,
    Notation,
    as_typed,
    exact_text,
    fraction_text,
    mm_number,
    read_alone,
    read_length,
)
from core.mistakes import Mistake

INCH = Fraction(254, 10)
NOTATIONS = [
    *(Notation.read(f"in 1/{parts}", "in") for parts in (8, 16, 32, 64)),
    *(Notation.read(f"mm {step}", "mm") for step in ("1", "0.5", "0.1")),
]
units = st.sampled_from(["in", "mm"])
notations = st.sampled_from(NOTATIONS)
# An inch short of a kilometre, so that what is shown rounded up can still be read.
lengths = st.one_of(
    st.fractions(-LONGEST + INCH, LONGEST - INCH, max_denominator=10**30),
    st.integers(-(10**6), 10**6).map(lambda parts: parts * INCH / 64),
    st.integers(-(10**7), 10**7).map(lambda hundredths: Fraction(hundredths, 100)),
)


def refusal(text, unit):
    with pytest.raises(Mistake) as caught:
        read_length(text, unit)
    return caught.value.sentence


# --- The units themselves


def test_inch_is_25_4_mm_exactly():
    # 16 CFR 500.19 and NIST SP 811: 1 in = 25.4 mm, 1 ft = 304.8 mm, both exact.
    assert read_length("1 in", "mm") == Fraction("25.4")
    assert read_length("1 ft", "mm") == Fraction("304.8")
    # NIST SP 811: the graduations of an inch tape, by halving 25.4 mm.
    assert read_length('1/16"', "mm") == Fraction("1.5875")
    assert read_length('1/32"', "mm") == Fraction("0.79375")
    assert read_length('1/64"', "mm") == Fraction("0.396875")


PINT = pint.UnitRegistry(non_int_type=Fraction)


@pytest.mark.parametrize("word", sorted(word for word in UNITS if word.isalpha()))
@settings(deadline=None)
@given(number=st.decimals(0, 1000, places=3).map(lambda number: abs(number)))
def test_every_unit_word_agrees_with_pint(word, number):
    theirs = PINT.Quantity(Fraction(number), word).to("mm").magnitude
    if theirs <= LONGEST:
        assert read_length(f"{number} {word}", "mm") == theirs


# --- What is read

SPELLINGS = [  # text, unit of the project, millimetres
    ("17 5/8", "in", "447.675"),
    ('17 5/8"', "mm", "447.675"),
    ("17 5/8 in", "mm", "447.675"),
    ('17-5/8"', "in", "447.675"),
    ('17-5/8"', "mm", "447.675"),
    ("17-5/8 in", "in", "447.675"),
    ("17⅝″", "mm", "447.675"),
    ("17 ⅝", "in", "447.675"),
    ("17-⅝″", "in", "447.675"),
    ("17⅝", "in", "447.675"),
    ("17 5⁄8", "in", "447.675"),
    ("17.625", "in", "447.675"),
    ("17.625 inches", "mm", "447.675"),
    ("17 5/8 in.", "mm", "447.675"),
    ("17\N{NO-BREAK SPACE}5/8", "in", "447.675"),
    ("17 5/8 mm", "mm", "17.625"),
    ("1 inch", "mm", "25.4"),
    ("5' 4 1/2\"", "in", "1638.3"),
    ("5' 4 1/2\"", "mm", "1638.3"),
    ("5 ft 4-1/2 in", "in", "1638.3"),
    ("5 ft 4 1/2 in", "mm", "1638.3"),
    ("5 feet 4.5 inches", "mm", "1638.3"),
    ("5ft4½in", "mm", "1638.3"),
    ("5′ 4½″", "mm", "1638.3"),
    ("5’ 4 1/2”", "mm", "1638.3"),
    ("5' 4 1/2''", "mm", "1638.3"),
    ("3'-4 1/2\"", "in", "1028.7"),
    ("3'-4-1/2\"", "in", "1028.7"),
    ("5'2", "mm", "1574.8"),
    ("5' 2", "in", "1574.8"),
    ("5' 3/4\"", "in", "1543.05"),
    ("5'", "mm", "1524"),
    ("5 1/2 ft", "mm", "1676.4"),
    ("1 foot", "mm", "304.8"),
    (".75", "in", "19.05"),
    (".75", "mm", "0.75"),
    ("3/4", "in", "19.05"),
    ("3/4 in", "mm", "19.05"),
    ("9/8 in", "mm", "28.575"),
    ("¾", "in", "19.05"),
    ("¾ in", "mm", "19.05"),
    ("1830", "mm", "1830"),
    ("1830 mm", "in", "1830"),
    ("1830MM", "in", "1830"),
    ("183 cm", "in", "1830"),
    ("1.83 m", "in", "1830"),
    ("1,83 m", "mm", "1830"),
    ("18,3", "mm", "18.3"),
    ("18,3 mm", "in", "18.3"),
    ("18.3 mm", "in", "18.3"),
    ("18,3", "in", "464.82"),
    (",75", "mm", "0.75"),
    ("0,125", "mm", "0.125"),
    ("1830,125", "mm", "1830.125"),
    ("1,830.5", "mm", "1830.5"),
    ("1.830,5", "mm", "1830.5"),
    ("1.830", "mm", "1.83"),
    ("1,000,000", "mm", "1000000"),
    ("  17   5/8  ", "in", "447.675"),
    ("-1/4", "in", "-6.35"),
    ("−1/4 in", "mm", "-6.35"),
    ("- 3", "mm", "-3"),
    ("-5' 2\"", "mm", "-1574.8"),
    ("-17-5/8", "in", "-447.675"),
    ("0", "in", "0"),
]


@pytest.mark.parametrize(("text", "unit", "mm"), SPELLINGS)
def test_reads_what_people_write(text, unit, mm):
    assert read_length(text, unit) == Fraction(mm)


@settings(deadline=None)
@given(whole=st.integers(0, 400), parts=st.sampled_from([2, 4, 8, 16, 32, 64]), data=st.data())
def test_every_reading_of_an_inch_tape_is_kept_exactly(whole, parts, data):
    over = data.draw(st.integers(1, parts - 1))
    exact = (whole + Fraction(over, parts)) * INCH
    for text in (f"{whole} {over}/{parts} in", f'{whole}-{over}/{parts}"', f"{whole * 64 + over * 64 // parts}/64 in"):
        assert read_length(text, "mm") == exact
    feet, inches = divmod(whole, 12)
    assert read_length(f"{feet}' {inches} {over}/{parts}\"", "mm") == exact


# --- What can be read two ways

TWO_WAYS = [  # text, unit of the project, one reading, the other
    ("1,830", "mm", "`1830`", "`1.83`"),
    ("1,830", "in", "`1830`", "`1.83`"),
    ("12,500 mm", "mm", "`12500`", "`12.5`"),
    ("17 5/8", "mm", "`17 5/8 in`, which is 447.675 mm", "`17.625 mm`"),
    ("17⅝", "mm", "`17 5/8 in`, which is 447.675 mm", "`17.625 mm`"),
    ("3/4", "mm", "`3/4 in`, which is 19.05 mm", "`0.75 mm`"),
    ("¾", "mm", "`3/4 in`, which is 19.05 mm", "`0.75 mm`"),
    ("-3/4", "mm", "`-3/4 in`, which is -19.05 mm", "`-0.75 mm`"),
    ("17-5/8", "in", "`17 5/8`", "`17 - 5/8` with spaces, which is 16 3/8"),
    ("17-5/8", "mm", "`17 5/8 in`", "`17 - 5/8` with spaces, which is 16.375"),
    ("17-5/8 mm", "mm", "`17 5/8 mm`", "`17 mm - 5/8 mm` with spaces, which is 16.375 mm"),
    ('17 -5/8"', "in", '`17 5/8"`', '`17" - 5/8"` with spaces, which is 16 3/8"'),
    ("17- 5/8 in", "mm", "`17 5/8 in`", "`17 in - 5/8 in` with spaces, which is 16 3/8 in"),
    ("3' - 4 1/2\"", "in", "`3' 4 1/2\"`", "`(3' - 4 1/2\")`"),
    ("3' -4\"", "mm", "`3' 4\"`", "`(3' - 4\")`"),
]


@pytest.mark.parametrize(("text", "unit", "one", "other"), TWO_WAYS)
def test_refuses_what_can_be_read_two_ways_and_offers_both(text, unit, one, other):
    sentence = refusal(text, unit)
    assert "can be read two ways" in sentence
    assert one in sentence
    assert other in sentence


def test_both_readings_of_a_bare_fraction_can_be_typed():
    assert read_length("17 5/8 in", "mm") == Fraction("447.675")
    assert read_length("17.625 mm", "mm") == Fraction("17.625")


# --- What is no length

REFUSED = [  # text, unit of the project, what the sentence says
    ("", "in", "there is no length here"),
    ("   ", "mm", "there is no length here"),
    ("wide", "in", "`wide` is not a length"),
    ("17 5", "in", "`17 5` is not a length"),
    ("17 - 5/8", "in", "`17 - 5/8` is not a length"),
    ("17.", "mm", "`17.` is not a length"),
    ("17 5/8 yd", "in", "is not a length"),
    ("1e3", "mm", "is not a length"),
    ("1_000", "mm", "is not a length"),
    ("٣", "mm", "is not a length"),
    ("5 ın", "in", "is not a length"),
    ("5' 3 ın", "in", "is not a length"),
    ("nan", "mm", "is not a length"),
    ("17 9/8", "in", "a fraction of 1 or more beside a whole number"),
    ("17 8/8 in", "mm", "a fraction of 1 or more beside a whole number"),
    ("5' 9/8\"", "in", "a fraction of 1 or more beside a whole number"),
    ("3/0", "in", "`3/0` divides by zero"),
    ("17 3/0 in", "mm", "`3/0` divides by zero"),
    ("5' 12", "in", "write `72 in` if that is meant"),
    ("5.5' 3\"", "in", "inches beside feet that are not whole"),
    ("12,34.5", "mm", "`12,34.5` is not a number"),
    ("1.2.3", "mm", "`1.2.3` is not a number"),
    ("9" * 41, "mm", "too many digits"),
    ("1/" + "9" * 41, "in", "too many digits"),
    ("1" * (MOST_CHARACTERS + 1), "mm", "121 characters long"),
    ("1001 m", "mm", "longer than a kilometre"),
    ("-1001 m", "mm", "longer than a kilometre"),
    ("40000", "in", "longer than a kilometre"),
    ("4000 ft 1 in", "mm", "longer than a kilometre"),
]


@pytest.mark.parametrize(("text", "unit", "says"), REFUSED)
def test_refuses_with_a_sentence(text, unit, says):
    assert says in refusal(text, unit)


def test_the_most_digits_are_read():
    assert read_length("0." + "1".zfill(MOST_DIGITS - 2), "mm") == Fraction(1, 10 ** (MOST_DIGITS - 2))


def test_a_kilometre_itself_is_read():
    assert read_length("1000 m", "in") == LONGEST


def test_a_message_never_repeats_what_would_steer_a_terminal():
    sentence = refusal("\x1b[2J\u202e17\n5", "in")
    assert sentence.isprintable()


@settings(deadline=None)
@given(st.text(max_size=200), units)
@example("1" * 10**6, "in")
@example("1/" * 10**5, "in")
@example("-" * 10**5, "mm")
@example("1 " * 59, "mm")
@example("1," * 59, "mm")
def test_any_text_is_a_length_or_a_mistake(text, unit):
    try:
        length = read_length(text, unit)
    except Mistake as mistake:
        assert mistake.sentence.isprintable()
        assert len(mistake.sentence) < 400
    else:
        assert abs(length) <= LONGEST


@settings(deadline=None)
@given(st.text(alphabet="0123456789 .,/-'\"½infmtc", max_size=24), units)
def test_any_text_of_the_right_signs_is_a_length_or_a_mistake(text, unit):
    try:
        length = read_length(text, unit)
    except Mistake as mistake:
        assert mistake.sentence
    else:
        assert abs(length) <= LONGEST


def test_the_shape_is_told_apart_from_the_unit():
    assert read_alone("clear_width", "in") is None
    bare, marked = read_alone("18", "mm"), read_alone("18 mm", "in")
    assert bare and not bare.has_unit and bare.value == 18
    assert marked and marked.has_unit and marked.value == 18


# --- As typed


@settings(deadline=None)
@given(lengths, units)
@example(Fraction(LARGEST - 1, LARGEST), "in")
@example(-LONGEST + Fraction(1, LARGEST), "in")
@example(-LONGEST + Fraction(1, LARGEST), "mm")
def test_as_typed_reads_back_exactly(length, unit):
    assert read_length(as_typed(length, unit), unit) == length


@settings(deadline=None)
@given(lengths, notations)
def test_a_notation_types_in_its_own_unit(length, notation):
    assert read_length(notation.as_typed(length), notation.unit) == length


@pytest.mark.parametrize(
    ("length", "unit", "text"),
    [
        (Fraction("447.675"), "in", "17 5/8"),
        (Fraction("447.675"), "mm", "447.675"),
        (Fraction("19.05"), "in", "3/4"),
        (-Fraction("6.35"), "in", "-1/4"),
        (-Fraction("447.675"), "in", "-17 5/8"),
        (INCH * 12, "in", "12"),
        (INCH / 3, "in", "1/3"),
        (INCH / 3, "mm", "1/3 in"),
        (Fraction(1, 3), "mm", "1/3 mm"),
        (Fraction(1, 3), "in", "1/3 mm"),
        (Fraction(127, 3), "in", "1 2/3"),
        (Fraction(127, 3), "mm", "42 1/3 mm"),
        (Fraction(18), "in", "18 mm"),
        (Fraction("18.3"), "in", "18.3 mm"),
        (Fraction("17.3") * INCH, "in", "17.3"),
        (Fraction(1830), "mm", "1830"),
        (Fraction(0), "in", "0"),
    ],
)
def test_as_typed_is_what_a_person_would_write(length, unit, text):
    assert as_typed(length, unit) == text


@settings(deadline=None)
@given(st.fractions(-1000, 1000, max_denominator=1000), units)
def test_a_number_in_a_message_is_the_number(value, unit):
    whole, _, rest = exact_text(value, unit).removeprefix("-").rpartition(" ")
    spelled = Fraction(whole or 0) + Fraction(rest)
    assert (-spelled if value < 0 else spelled) == value
    assert fraction_text(value).count("-") == (value < 0)


# --- As shown


@pytest.mark.parametrize(
    ("notation", "length", "text"),
    [
        ("in 1/16", "447.675", "17 5/8"),
        ("in 1/8", "447.675", "17 5/8"),
        ("in 1/16", "19.05", "3/4"),
        ("in 1/16", "304.8", "12"),
        ("in 1/16", "0", "0"),
        ("in 1/16", "-19.05", "-3/4"),
        ("in 1/16", "-447.675", "-17 5/8"),
        ("in 1/16", "18", "~11/16"),
        ("in 1/64", "18", "~45/64"),
        ("in 1/16", "0.1", "~0"),
        ("in 1/16", "-0.1", "~0"),
        ("in 1/16", "304.9", "~12"),
        ("mm 0.5", "447.675", "~447.5"),
        ("mm 0.5", "447.5", "447.5"),
        ("mm 0.5", "448", "448"),
        ("mm 1", "447.675", "~448"),
        ("mm 0.1", "18.3", "18.3"),
        ("mm 0.1", "447.675", "~447.7"),
        ("mm 0.1", "-0.04", "~0"),
    ],
)
def test_text(notation, length, text):
    assert Notation.read(notation, "in").text(Fraction(length)) == text


def test_half_way_goes_to_the_even_graduation():
    # NIST Handbook 44, section 10.3: a value midway between two graduations is rounded to the
    # even one. 5/32 in lies between 2/16 and 3/16, 7/32 between 3/16 and 4/16.
    sixteenths = Notation.read("in 1/16", "in")
    assert sixteenths.text(INCH * 5 / 32) == "~1/8"
    assert sixteenths.text(INCH * 7 / 32) == "~1/4"
    assert sixteenths.text(-INCH * 5 / 32) == "~-1/8"
    millimetres = Notation.read("mm 1", "mm")
    assert millimetres.text(Fraction("2.5")) == "~2"
    assert millimetres.text(Fraction("3.5")) == "~4"


def shown(text, notation):
    return read_length(f"{text.removeprefix('~')} {notation.unit}", notation.unit)


@settings(deadline=None)
@given(lengths, notations)
def test_shown_within_half_a_step_and_marked_only_if_rounded(length, notation):
    text = notation.text(length)
    value, step = shown(text, notation), notation.step * UNITS[notation.unit]
    assert abs(value - length) <= step / 2
    assert text.startswith("~") == (value != length)
    assert (value / step).denominator == 1
    if abs(value - length) == step / 2:
        assert (value / step).numerator % 2 == 0


@settings(deadline=None)
@given(lengths, notations)
def test_between_others_it_is_never_shown_larger(length, notation):
    text = replace(notation, between=frozenset((length,))).text(length)
    step = notation.step * UNITS[notation.unit]
    value = math.floor(length / step) * step
    assert value <= length < value + step
    assert shown(text, notation) == value
    assert text.startswith("~") == (value != length)


@settings(deadline=None)
@given(lengths, notations, st.booleans())
def test_what_is_shown_of_a_length_is_what_a_tape_reads_of_it(length, notation, between):
    if between:
        notation = replace(notation, between=frozenset((length,)))
    step = notation.step * UNITS[notation.unit]
    value = shown(notation.text(length), notation)
    assert notation.reads_as(value, length)
    assert not notation.reads_as(length - step, length) and not notation.reads_as(length + step * 2 / 3, length)


@settings(deadline=None)
@given(lengths, notations)
def test_a_fraction_is_shown_in_lowest_terms(length, notation):
    text = notation.text(length).removeprefix("~").removeprefix("-")
    if "/" in text:
        numerator, denominator = (int(part) for part in text.split()[-1].split("/"))
        assert 0 < numerator < denominator
        assert math.gcd(numerator, denominator) == 1
    assert not text.startswith("0 ")


def test_a_limit_is_said_so_that_it_can_be_typed():
    sixteenths, halves = Notation.read("in 1/16", "in"), Notation.read("mm 0.5", "mm")
    # 23/64 in lies between 5/16 and 6/16.
    assert sixteenths.at_most(INCH * 23 / 64) == "5/16 in"
    assert sixteenths.at_least(INCH * 23 / 64) == "3/8 in"
    assert sixteenths.at_most(INCH * 3 / 8) == sixteenths.at_least(INCH * 3 / 8) == "3/8 in"
    assert halves.at_most(Fraction("9.2")) == "9 mm"
    assert halves.at_least(Fraction("9.2")) == "9.5 mm"
    # Less than one graduation is still something.
    assert sixteenths.at_most(INCH / 32) == "1/32 in"


def test_with_unit():
    assert Notation.read("in 1/16", "mm").with_unit(Fraction("447.675")) == "17 5/8 in"
    assert Notation.read("mm 0.5", "mm").with_unit(Fraction("447.5")) == "447.5 mm"
    between = replace(Notation.read("in 1/16", "in"), between=frozenset((Fraction(18), Fraction(19))))
    assert between.with_unit(Fraction(18)) == between.with_unit(Fraction(19)) == "~11/16 in"
    # 20 mm lies between nothing: it is nearer to 13/16 in.
    assert between.with_unit(Fraction(20)) == "~13/16 in"


def test_an_empty_notation_is_the_usual_one_of_the_project():
    assert Notation.read("", "in") == Notation("in", Fraction(1, 16))
    assert Notation.read(" ", "mm") == Notation("mm", Fraction(1, 2))
    assert Notation.read("mm  0.5", "in") == Notation("mm", Fraction(1, 2))


@pytest.mark.parametrize("text", ["in 1/12", "mm 2", "cm", "1/16", "in"])
def test_no_other_notation_is_taken(text):
    with pytest.raises(Mistake, match=r"choose one of in 1/8, in 1/16, in 1/32, in 1/64, mm 1, mm 0\.5, mm 0\.1"):
        Notation.read(text, "in")


# --- For JSON


@settings(deadline=None)
@given(lengths)
def test_json_number_is_right_to_a_millionth(length):
    number = mm_number(length)
    # A double of six figures before the point is itself only good to about 1e-10.
    assert abs(Fraction(number) - length) <= Fraction(1, 2_000_000) + Fraction(1, 10**9)


def test_json_number_is_plain():
    assert repr(mm_number(Fraction("447.675"))) == "447.675"
    assert repr(mm_number(Fraction(1830))) == "1830"
    assert repr(mm_number(INCH / 3)) == "8.466667"
    assert repr(mm_number(-Fraction(1, 10**9))) == "0"


def test_a_measured_thickness_is_told_exactly_with_its_unit() -> None:
    coarse, inches_ = Notation.read("mm 1", "mm"), Notation.read("in 1/8", "in")
    assert coarse.exactly(Fraction("17.6")) == "17.6 mm"
    assert inches_.exactly(Fraction(23, 32) * INCH) == "23/32 in"
    assert inches_.exactly(Fraction(18)) == "18 mm", "in whichever unit it is round"
