"""Formulas over named dimensions: arithmetic, units, names, and what hostile texts cost."""

import re
from fractions import Fraction

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from core.formulas import LARGEST, Names, Quantity, check_name, check_syntax, parse_field, read_share
from core.grammar import DEEPEST, MOST_CHARACTERS, RESERVED
from core.lengths import LONGEST
from core.mistakes import Mistake

INCH = Fraction(254, 10)
GIVEN = {
    "clear_width": Quantity(Fraction(2000), True),
    "ply": Quantity(Fraction(18), True),
    "nothing": Quantity(Fraction(0), True),
}
DIMENSIONS = {"side_gap": "3/4 in", "bays": "3", "worktop_height": "36 in"}
units = st.sampled_from(["in", "mm"])


def names(unit="mm", dimensions=DIMENSIONS, given=GIVEN):
    return Names(unit, dimensions, given)


def refusal(text, unit="mm", **rest):
    with pytest.raises(Mistake) as caught:
        names(unit, **rest).length(text)
    return caught.value.sentence


# --- Arithmetic

LENGTHS = [  # formula, unit of the project, millimetres
    ("clear_width - 2*ply", "mm", 1964),
    ("(clear_width - 2*side_gap) / 3", "mm", (2000 - Fraction("38.1")) / 3),
    ("(clear_width - 2*side_gap) / bays", "in", (2000 - Fraction("38.1")) / 3),
    ("worktop_height - ply", "in", Fraction("914.4") - 18),
    ("min(ply, side_gap)", "mm", 18),
    ("max(ply, side_gap)", "mm", Fraction("19.05")),
    ("max(min(ply, 10), 12, 11)", "mm", 12),
    ("-ply + 20", "mm", 2),
    ("20 - -ply", "mm", 38),
    ("2 + 3 * 4", "mm", 14),
    ("(2 + 3) * 4", "mm", 20),
    ("20 - 5 - 3", "mm", 12),
    ("24 / 4 / 2", "mm", 3),
    ("24 / 5 1/2", "mm", Fraction(48, 11)),
    ("24 / 5½", "mm", Fraction(48, 11)),
    ("24 / 4 * 2", "mm", 12),
    ("clear_width × 3 ÷ 4", "mm", 1500),
    ("clear_width * 3/4", "mm", 1500),
    ("clear_width * ¾", "mm", 1500),
    ("clear_width / 3/4", "mm", Fraction(2000, 12)),
    ("clear_width / 2 1/2", "mm", 800),
    ("clear_width * 1.5", "mm", 3000),
    ("clear_width * .5", "mm", 1000),
    ("clear_width / ply * ply", "mm", 2000),
]


@pytest.mark.parametrize(("text", "unit", "mm"), LENGTHS)
def test_length(text, unit, mm):
    assert names(unit).length(text) == mm


numbers = st.fractions(-99, 99, max_denominator=8)


@settings(deadline=None)
@given(numbers, numbers, numbers.filter(bool), units)
def test_arithmetic_is_exact(a, b, c, unit):
    dimensions = {
        name: f"({value.numerator}) / {value.denominator}" for name, value in zip("abc", (a, b, c), strict=True)
    }
    known = Names(unit, dimensions, {})
    assert known.value("a + b * c").value == a + b * c
    assert known.value("(a - b) / c").value == (a - b) / c
    assert known.value("-a - -b").value == -a + b
    assert known.value("min(a, b, c)").value == min(a, b, c)
    assert known.value("max(a, b) - min(a, b)").value == abs(a - b)


plain_formulas = st.recursive(
    st.integers(0, 99).map(str),
    lambda parts: st.one_of(
        st.tuples(parts, st.sampled_from("+-*/"), parts).map(" ".join),
        parts.map(lambda part: f"({part})"),
        parts.map(lambda part: f"-{part}"),
    ),
    max_leaves=12,
)


@settings(deadline=None)
@given(plain_formulas)
@example("12 / 3 / 4")
@example("2 - 3 - 4 * 5 / 6")
def test_signs_bind_as_they_do_in_ordinary_arithmetic(text):
    try:
        # Python's own arithmetic, every number a fraction.
        expected = eval(re.sub(r"\d+", r"Fraction(\g<0>)", text), {"Fraction": Fraction})
    except ZeroDivisionError:
        with pytest.raises(Mistake, match="divides by zero"):
            names("in").value(text)
    else:
        assert names("in").value(text).value == expected


# --- Numbers and their units inside a formula

NUMBERS = [  # formula, millimetres in an inch project
    ("17 5/8 in", Fraction("17.625") * INCH),
    ("2 * 17 5/8 in", Fraction("35.25") * INCH),
    ("17 5/8 in * 2", Fraction("35.25") * INCH),
    ("2 * 17 5/8", Fraction("35.25") * INCH),
    ("0 + 17 5/8", Fraction("17.625") * INCH),
    ("0 + 17⅝", Fraction("17.625") * INCH),
    ('0 + 17 5/8"', Fraction("17.625") * INCH),
    ("0 + 3/4 in", Fraction("0.75") * INCH),
    ("0 + 3 / 4 in", Fraction("0.75") * INCH),
    ("0 + 3/4 in / 2", Fraction("0.375") * INCH),
    ("0 + 6 in/2", 3 * INCH),
    ("0 + 18 mm", 18),
    ("0 + 18mm", 18),
    ("0 + 1.8 cm", 18),
    ("0 + 0.018 m", 18),
    ("0 + 5' 4 1/2\"", Fraction("64.5") * INCH),
    ("0 + 5 ft 4 1/2 in", Fraction("64.5") * INCH),
    ("0 + 5' 4", 64 * INCH),
    ("0 + 5' 3/4", Fraction("60.75") * INCH),
    ("0 + 5 ft", 60 * INCH),
    ("worktop_height - 3/4 in - 18 mm", Fraction("35.25") * INCH - 18),
    ("17 - 5/8", Fraction("16.375") * INCH),
    ('17 - 5/8"', Fraction("16.375") * INCH),
    ("0 + 17-5/8", Fraction("16.375") * INCH),
    ("(3' - 4 1/2\")", Fraction("31.5") * INCH),
]


@pytest.mark.parametrize(("text", "mm"), NUMBERS)
def test_number_with_a_unit(text, mm):
    assert names("in").length(text) == mm


def test_seventeen_and_five_eighths_is_not_seventeen_times_five_eighths():
    assert names("in").length("17 5/8 in") == Fraction("447.675")
    assert names("in").length("17 * 5/8 in") == Fraction(17 * 5, 8) * INCH


def test_three_quarters_of_an_inch_is_not_three_divided_by_four_inches():
    assert names().value("(3/4 in)") == Quantity(Fraction("19.05"), True)
    assert names().value("clear_width / (3/4 in)") == Quantity(2000 / Fraction("19.05"), False)


def test_a_tape_reading_alone_in_a_field_keeps_its_hyphen():
    assert names("mm").length('17-5/8"') == Fraction("447.675")
    assert names("in").length("3'-4 1/2\"") == Fraction("1028.7")
    assert names("mm").length("18,3") == Fraction("18.3")


# --- Units


def test_length_by_length_is_a_number():
    assert names().value("clear_width / ply") == Quantity(Fraction(1000, 9), False)
    assert names().value("bays * 2") == Quantity(Fraction(6), False)
    assert names().value("bays * ply") == Quantity(Fraction(54), True)


def test_a_plain_number_beside_a_length_counts_in_the_unit_of_the_project():
    assert names("mm").length("clear_width - 10") == 1990
    assert names("in").length("clear_width - 10") == 1746
    assert names("in").length("min(clear_width, 10)") == 254
    assert names("in").length("max(10, ply)") == 254
    assert names("in").length("2 + 3") == 127
    assert names("in").length("bays") == Fraction("76.2")
    # The number stays plain until it meets the length.
    assert names("in").length("clear_width + 2 * 5") == 2254


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("clear_width * ply", "`clear_width * ply` multiplies a length by a length"),
        ("2 * ply * 3 mm", "`2 * ply * 3 mm` multiplies a length by a length"),
        ("ply * clear_width / ply", "multiplies a length by a length"),
        ("2 / ply", "`2 / ply` divides a plain number by the length `ply`"),
        ("3 / (4 in)", "divides a plain number by the length `4 in`"),
        ("ply / 0", "`ply / 0` divides by zero"),
        ("ply / (2 - 2)", "`ply / (2 - 2)` divides by zero: `2 - 2` comes to 0"),
        ("ply / nothing", "`ply / nothing` divides by zero: `nothing` comes to 0"),
        ("ply * 3/0", "`3/0` divides by zero"),
    ],
)
def test_units_that_do_not_agree_are_refused(text, says):
    assert says in refusal(text)


# --- What can be read two ways


def test_a_fraction_with_a_unit_behind_a_division_is_refused_with_both_readings():
    for text in ("clear_width/3/4 in", 'clear_width / 3/4"', "clear_width/-3/4 in"):
        sentence = refusal(text, "in")
        assert "can be read two ways" in sentence
    sentence = refusal("clear_width/3/4 in", "in")
    assert "`/(3/4 in)`" in sentence
    assert "`/3/(4 in)`" in sentence


def test_a_bare_fraction_is_no_length_in_a_millimetre_project():
    for text in ("3/4", "clear_width - 3/4", "max(ply, 3/4)", "(3/4)"):
        sentence = refusal(text, "mm")
        assert "`3/4 in`, which is 19.05 mm" in sentence
        assert "`0.75 mm`" in sentence
    assert "`17 5/8 in`, which is 447.675 mm" in refusal("clear_width - 17 5/8", "mm")
    assert names("in").length("clear_width - 3/4") == 2000 - Fraction("19.05")


def test_a_hyphen_between_a_number_and_a_fraction_alone_in_a_field_is_refused_with_both_readings():
    sentence = refusal("17-5/8", "in")
    assert "`17 5/8`" in sentence
    assert "16 3/8" in sentence


def test_a_decimal_comma_has_no_place_in_a_formula():
    assert "write `1.5`" in refusal("1,5 + 2")
    assert "write `1.5`" in refusal("2 * (1,5 + ply)")
    thousands = refusal("ply + 1,830")
    assert "`1830`" in thousands
    assert "`1.83`" in thousands
    assert "a comma stands only in the brackets of `min` and `max`" in refusal("ply, 2")


# --- Texts that are no formula


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "there is no length here"),
        ("17 5", "`17 5` is not a length"),
        ("17.", "`17.` is not a length"),
        ("17 9/8", "a fraction of 1 or more beside a whole number"),
        ("ply + 17 9/8 in", "a fraction of 1 or more beside a whole number"),
        ("ply + 5' 4/2", "a fraction of 1 or more beside a whole number"),
        ("ply + 5' 12\"", "write `72 in` if that is meant"),
        ("ply + 5.5' 3\"", "feet that are not whole"),
        ("ply + 5' 3 mm", "another unit beside feet"),
        ("ply +", "`ply +` cannot be worked out: a number or a name is missing at the end"),
        ("* 2", "a number or a name is missing before `*`"),
        ("ply ** 2", "a number or a name is missing before `*`"),
        ("min()", "a number or a name is missing before `)`"),
        ("max(ply,)", "a number or a name is missing before `)`"),
        ("(ply", "a bracket is not closed"),
        ("ply)", "a bracket is closed that was never opened"),
        ("min", "`min` wants brackets after it: `min(a, b)`"),
        ("2 ply", "`ply` is no unit, and no sign such as `*` stands before it"),
        ("17 5/8 inn", "`inn` is no unit"),
        ("ply bays", "is missing between `ply` and `bays`"),
        ("2 (3 + 4)", "is missing between `2` and `(`"),
        ("(3) in", "the unit `in` does not follow a number"),
        ("ply mm", "the unit `mm` does not follow a number"),
        ("ply^2", "`^` has no meaning in the formula `ply^2`"),
        ("ply²", "`ply²` is not a name"),
        ("2ply_", "`ply_` is no unit"),
        ("__import__('os')", "is missing between `__import__` and `(`"),
        ("ply.numerator", "`.` has no meaning"),
        ("2 shares", "`shares` belongs only in a field that asks for it"),
        ("share + 2", "`share` belongs only in a field that asks for it"),
        ("9" * 41 + " + 1", "too many digits"),
    ],
)
def test_a_text_that_is_no_formula_is_refused(text, says):
    with pytest.raises(Mistake) as caught:
        check_syntax(text, "mm")
    assert says in caught.value.sentence


def test_syntax_is_checked_without_knowing_the_names():
    check_syntax("(anything - 2*else_) / 3", "in")
    check_syntax("17 5/8", "in")
    check_syntax("1 / (2 - 2)", "in")


def test_a_formula_tells_which_names_it_reads():
    assert parse_field("b + min(a, b) * 2 - a/c", "in").names == ("b", "a", "c")
    assert parse_field("17 5/8", "in").names == ()


# --- Names


def test_an_unknown_name_suggests_the_nearest():
    assert refusal("clear_widht - 2") == "there is no dimension `clear_widht`: is `clear_width` meant?"
    assert refusal("side_gaps") == "there is no dimension `side_gaps`: is `side_gap` meant?"
    assert refusal("zzz") == "there is no dimension `zzz`: give it a value among the dimensions"
    assert refusal("Ply") == "there is no dimension `Ply`: is `ply` meant?"


def test_a_circle_is_shown_as_its_path():
    circle = {"bay": "gap / 2", "gap": "bay + 1"}
    assert "bay -> gap -> bay" in refusal("bay", dimensions=circle)
    assert "gap -> bay -> gap" in refusal("2 * gap", dimensions=circle)
    assert "a -> a" in refusal("a", dimensions={"a": "a"})
    # The way into the circle is no part of it.
    assert refusal("door", dimensions={**circle, "door": "bay"}).endswith("circle: bay -> gap -> bay")


def test_a_mistake_tells_the_dimension_that_it_arises_in():
    chain = {"a": "1 / 0", "b": "a + 1", "c": "b + 1"}
    with pytest.raises(Mistake) as caught:
        names(dimensions=chain).length("c", where="carcass A, width")
    assert caught.value.where == "carcass A, width, dimension a"
    with pytest.raises(Mistake) as caught:
        names(dimensions={"a": "ply + thick"}).quantity("a")
    assert str(caught.value).startswith("dimension a: there is no dimension `thick`")
    with pytest.raises(Mistake) as caught:
        names(dimensions={"a": "3/4"}).quantity("a")
    assert str(caught.value).startswith("dimension a: `3/4` can be read two ways")


def test_one_wrong_dimension_does_not_spoil_the_others():
    known = names(dimensions={"good": "ply", "bad": "ply +"})
    with pytest.raises(Mistake):
        known.length("bad")
    assert known.length("good") == 18


@pytest.mark.parametrize("name", ["2a", "a b", "a-b", "", "a.b", "½", "a½", "a\N{COMBINING DIAERESIS}"])
def test_what_is_no_identifier_is_no_name(name):
    with pytest.raises(Mistake, match="is not a name"):
        names(dimensions={name: "1"})


@pytest.mark.parametrize("name", [*sorted(RESERVED), "MM", "Min"])
def test_a_word_with_a_meaning_is_no_name(name):
    with pytest.raises(Mistake, match=f"`{name}` has a meaning of its own"):
        check_name(name)


def test_a_given_name_cannot_be_defined_again():
    with pytest.raises(Mistake, match="`clear_width` is already given"):
        names(dimensions={"clear_width": "1830"})


def test_names_are_case_sensitive_and_may_have_any_letters():
    known = Names("mm", {"a": "1", "A": "2", "höhe": "3", "_x1": "4"}, {})
    assert [known.length(name) for name in ("a", "A", "ho\N{COMBINING DIAERESIS}he", "_x1")] == [1, 2, 3, 4]


def test_what_stands_for_nothing_less_than_nothing_is_refused_with_its_value():
    with pytest.raises(Mistake) as caught:
        names("in").length("10 - 22 1/2", where="carcass A, width", least=Fraction(0))
    assert str(caught.value) == ("carcass A, width: `10 - 22 1/2` comes to -12 1/2 in, and this cannot be negative")
    assert names("in").length("10 - 10", least=Fraction(0)) == 0
    assert names("in").length("10 - 12") == -2 * INCH
    with pytest.raises(Mistake, match="cannot be less than 3 mm"):
        names("mm").length("2", least=Fraction(3))


def test_a_result_beyond_a_kilometre_is_refused():
    assert "longer than a kilometre" in refusal("clear_width * 1000")


# --- Shares


@pytest.mark.parametrize(
    ("text", "shares"),
    [
        ("share", 1),
        (" share ", 1),
        ("1 share", 1),
        ("2 shares", 2),
        ("2shares", 2),
        ("1.5 shares", Fraction(3, 2)),
        ("1,5 shares", Fraction(3, 2)),
        ("0.5 share", Fraction(1, 2)),
        ("24", None),
        ("", None),
        ("share 2", None),
        ("shares", None),
        ("-1 shares", None),
        ("2 shares + 1", None),
        ("my_share", None),
    ],
)
def test_share(text, shares):
    assert read_share(text) == shares


@pytest.mark.parametrize("text", ["0 shares", "0.0 shares", "1,500 shares", "1.2.3 shares", "9" * 41 + " shares"])
def test_a_number_of_shares_that_cannot_be_used_is_refused(text):
    with pytest.raises(Mistake):
        read_share(text)


def test_what_is_nearly_a_share_is_told_how_one_is_written():
    for text in ("share 2", "shares", "2 shares + 1"):
        assert "`share`, `2 shares`" in refusal(text)


# --- Hostile texts


def outcome(text, unit="mm", dimensions=DIMENSIONS):
    """A length, or None where there was a Mistake; anything else comes through."""
    try:
        return names(unit, dimensions).length(text)
    except Mistake as mistake:
        assert mistake.sentence.isprintable()
        assert len(mistake.sentence) < 500
        return None


@settings(deadline=None)
@given(st.text(max_size=MOST_CHARACTERS + 10), units)
def test_any_text_is_a_length_or_a_mistake(text, unit):
    length = outcome(text, unit)
    assert length is None or abs(length) <= LONGEST


WORDS = ["1", "0", "2.5", "3/4", "17 5/8", "½", "ply", "bays", "side_gap", "nowhere", "min", "max", "share"]
SIGNS = ["in", "mm", '"', "'", "+", "-", "*", "/", "(", ")", ",", ".", " "]


@settings(deadline=None)
@given(
    st.lists(
        st.sampled_from(WORDS + SIGNS),
        max_size=40,
    ).map("".join),
    units,
)
@example("1/" * 199 + "1", "in")
@example("(" * 400, "mm")
@example("-" * 399 + "1", "mm")
@example("min(" * 30 + "1" + ")" * 30, "mm")
@example("min(" * 99, "mm")
@example("9" * 40 + "*" + "9" * 40 + "/" + "9" * 40, "mm")
def test_any_text_of_the_right_words_is_a_length_or_a_mistake(text, unit):
    length = outcome(text, unit)
    assert length is None or abs(length) <= LONGEST


def test_depth_is_bounded():
    assert outcome("(" * DEEPEST + "1" + ")" * DEEPEST) == 1
    assert "deep" in refusal("(" * (DEEPEST + 1) + "1" + ")" * (DEEPEST + 1))
    assert outcome("(1)" + "+(1)" * 2 * DEEPEST) == 2 * DEEPEST + 1
    deepest = "2*-(1+" * DEEPEST + "1" + ")" * DEEPEST
    assert names().value(deepest).value == Fraction(5 * (-2) ** DEEPEST - 2, 3)


def test_length_is_bounded():
    longest = "1+" * (MOST_CHARACTERS // 2 - 1) + "1 "
    assert outcome(longest) == MOST_CHARACTERS // 2
    assert "at most" in refusal("1+" * MOST_CHARACTERS + "1")
    assert "at most" in refusal("x" * 10**6)


def test_dimensions_that_square_each_other_are_refused():
    squares = {"a0": "3", **{f"a{i}": f"a{i - 1} * a{i - 1}" for i in range(1, 300)}}
    assert "too many digits" in refusal("a299", dimensions=squares)
    shrinking = {"a0": "1/3 + 0", **{f"a{i}": f"a{i - 1} / (2 + a{i - 1})" for i in range(1, 300)}}
    assert "too many digits" in refusal("a299", dimensions=shrinking)
    assert "too many digits" in refusal("1" * 37 + " + 1")


def test_a_dimension_that_many_others_read_is_worked_out_once():
    # Each reads the one before it twice: without a memory this takes 2 to the 60th steps.
    doubling = {"a0": "1/8 in", **{f"a{i}": f"(a{i - 1} + a{i - 1}) / 2" for i in range(1, 60)}}
    assert names(dimensions=doubling).length("a59") == INCH / 8


def test_a_long_chain_of_dimensions_does_not_overflow_the_stack():
    chain = {"a0": "1", **{f"a{i}": f"a{i - 1} + 1" for i in range(1, 5000)}}
    assert names(dimensions=chain).length("a4999") == 5000
    ring = {**chain, "a0": "a4999"}
    sentence = refusal("a4999", dimensions=ring)
    assert "a4999 -> a4998" in sentence
    assert len(sentence) < 200


@settings(deadline=None)
@given(st.fractions(-1000, 1000, max_denominator=10**9), st.sampled_from(["+", "-", "*", "/"]))
def test_no_result_grows_beyond_its_bound(value, sign):
    known = Names("mm", {"a": f"({value.numerator}) / {value.denominator}", "b": f"a {sign} a {sign} a {sign} a"}, {})
    try:
        result = known.quantity("b").value
    except Mistake:
        return
    assert abs(result.numerator) <= LARGEST
    assert result.denominator <= LARGEST


def test_a_name_that_is_not_known_yet_is_suggested_too() -> None:
    names = Names("in", {}, {}, {"clear_width": "no width of the space has been read"})
    with pytest.raises(Mistake, match="is `clear_width` meant"):
        names.value("cleer_width / 2")
