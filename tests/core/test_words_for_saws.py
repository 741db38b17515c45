"""Each saw in its own words, and its fields where goods are told. Limits and cautions: common practice, no source."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from typing import Literal

import pytest
from designs import GOODS, INCH, design
from shop import Shop

from core.editing.field import Field, answer, check_answer
from core.editing.saws import KINDS, saw_form, saw_sections
from core.goods import Stock, Trim
from core.lengths import Unit
from core.mistakes import Mistake
from core.own_units import KG_A_POUND
from core.plan import Plan
from core.project import Design, LoosePart, Saw
from core.starter import new_design
from core.steps_in_words import SETTINGS, comes_off, grouped, in_words, is_new_setting, trimmed_edge
from core.workings import work_out

TRACK = Saw("track saw", "track", "1/8")
TABLE = Saw("table saw", "table", "1/8", widest_rip="30")
MITRE = Saw("mitre saw", "mitre", "1/8", longest_cut="12")
YARD = Saw("yard", "yard", "1/8")
SMALL = "small for a track: clamp it down, with something as thick beside it for the track to lie on"
LEAN = "a narrow keeper under a track: something as thick beside it for the track to lie on"
NEAR = "short, below {}: clamp it, and keep the hand as far from the blade as that"
MANY = (("40", "10", 12), ("20", "10", 10))
FACTORY = "a factory edge lies against the fence: see that it is straight, or true it first"


def plan_of(
    *parts: tuple[str, str, int],
    saws: tuple[Saw, ...],
    sheet: tuple[str, str] = ("96", "48"),
    trim: str = "0",
    unit: Unit = "in",
    faces: Literal["one good", "alike"] = "one good",
) -> Plan:
    """Loose parts by length, width and quantity, out of plywood that weighs 600 kg a cubic metre."""
    loose = tuple(LoosePart(f"L{n}", f"Board {n}", "ply", *part) for n, part in enumerate(parts, start=1))
    stock = (Stock(*sheet, trim=Trim(*[trim] * 4)),)
    ply = replace(GOODS["ply"], actual="18 mm", density="600", faces=faces, stock=stock)
    return Shop(design(loose=loose, materials={**GOODS, "ply": ply}, saws=saws, unit=unit)).plan


def cautions(plan: Plan, number: int = 1) -> list[str]:
    """What to beware of at a step."""
    lines = in_words(plan.steps[number - 1], plan)
    return [line.removeprefix("  ! ") for line in lines if line.startswith("  ! ")]


@pytest.mark.parametrize(
    ("saw", "first", "kept"),
    [
        (TRACK, "line 40 in from its left edge, good face up.", "under the track"),
        (replace(TABLE, widest_rip=""), "fence 40 in from its left edge, good face up.", "against the fence"),
        (MITRE, "stop 40 in from its left edge, good face up.", "against the stop"),
        (YARD, "line 40 in from its left edge.", "measured off"),
        (Saw("saw", "any", "1/8"), "fence 40 in from its left edge.", "against the fence"),
    ],
    ids=lambda told: told.kind if isinstance(told, Saw) else "",
)
def test_a_cut_is_told_as_it_is_made_at_that_saw(saw: Saw, first: str, kept: str) -> None:
    plan = plan_of(("40", "10", 1), saws=(saw,), sheet=("60", "10"))
    assert in_words(plan.steps[0], plan)[:3] == [
        f"Step 1, {saw.name}: crosscut ply-1, across the length, {first}",
        f"  {kept}: part L1/1 Board 1: pencil it on, 40 x 10",
        "  beyond the blade: offcut ply-1.2, worth keeping: pencil that on, 19 7/8 x 10",
    ]
    assert comes_off(plan.steps[0], plan) == "L1/1 + offcut ply-1.2"
    assert f"{SETTINGS[saw.kind]} 40 in" in first


def test_of_a_board_whose_faces_are_alike_neither_is_named() -> None:
    plan = plan_of(("40", "10", 1), saws=(TRACK,), sheet=("60", "10"), faces="alike")
    assert in_words(plan.steps[0], plan)[0].endswith("line 40 in from its left edge.")


@pytest.mark.parametrize(
    ("saw", "sheet", "part", "told"),
    [
        (TRACK, ("60", "13"), ("40", "13"), []),
        (TRACK, ("60", "5 15/16"), ("40", "5 15/16"), [SMALL]),
        (TRACK, ("60", "6 1/2"), ("60", "4"), [LEAN]),
        (TRACK, ("60", "41 7/8"), ("60", "1 1/2"), [LEAN]),
        (TRACK, ("60", "8"), ("60", "6"), []),
        (TRACK, ("60", "5 15/16"), ("60", "4"), [SMALL]),
        (MITRE, ("60", "10"), ("6", "10"), []),
        (MITRE, ("60", "10"), ("5 15/16", "10"), [NEAR.format("6 in")]),
        (YARD, ("60", "2"), ("3", "2"), []),
        (TABLE, ("60", "13"), ("60", "8"), [FACTORY]),
        (TABLE, ("10", "11"), ("8", "11"), [
            "less than 12 in along the fence: a sled or a stop block, never mitre gauge and fence together", FACTORY,
        ]),
        (replace(TABLE, widest_rip=""), ("60", "13"), ("40", "13"), [
            "shorter along the fence than across, and would pivot: crosscut sled or track saw", FACTORY,
        ]),
    ],
)  # fmt: skip
def test_what_to_beware_of_depends_on_the_saw(
    saw: Saw, sheet: tuple[str, str], part: tuple[str, str], told: list[str]
) -> None:
    plan = plan_of((*part, 1), saws=(saw,), sheet=sheet)
    assert (len(plan.steps), plan.steps[0].step.saw.name) == (1, saw.name)
    assert cautions(plan) == told


def test_a_millimetre_project_is_told_in_millimetres() -> None:
    for length, told in (("150", []), ("149", [NEAR.format("150 mm")])):
        mitre = replace(MITRE, kerf="3", longest_cut="300")
        plan = plan_of((length, "250", 1), saws=(mitre,), sheet=("1500", "250"), unit="mm")
        assert cautions(plan) == told
        assert f"stop {length} mm from its left edge" in in_words(plan.steps[0], plan)[0]


def test_an_edge_that_a_saw_has_made_is_not_warned_of() -> None:
    plan = plan_of(*MANY, saws=(TRACK, TABLE), trim="1/4")
    at_table = [one for one in plan.steps if one.step.saw.name == TABLE.name]
    assert at_table and not [one.number for one in at_table if FACTORY in cautions(plan, one.number)]


def test_a_cut_that_no_saw_can_make_says_why_and_nothing_else() -> None:
    plan = plan_of(("95", "10", 1), saws=(replace(TABLE, longest_piece="60"),), sheet=("96", "30"))
    assert cautions(plan) == ["no saw of this shop can make it: the piece is too long to be brought to table saw"]
    assert plan.steps[0].step.saw.name == "no saw here"


def test_what_is_too_much_for_one_person_is_told_with_its_weight() -> None:
    heavy = plan_of(("40", "10", 1), saws=(TRACK,))
    light = plan_of(("40", "10", 1), saws=(TRACK,), sheet=("60", "40"))
    weight = 600 * float(96 * INCH * 48 * INCH) * 18 / 1e9 / KG_A_POUND
    line = f"  ply-1 weighs about {weight:.0f} lb: a lift for two, or cut it lying"
    assert weight > 50 and line in in_words(heavy.steps[0], heavy)
    assert not [told for one in light.steps for told in in_words(one, light) if "weighs" in told]


def test_what_a_thinner_blade_leaves_is_told_where_it_is_taken_off() -> None:
    plan = plan_of(*MANY, saws=(replace(TRACK, kerf="1/16"), TABLE), trim="1/4")
    skims = [one for one in plan.steps if one.step.skims]
    told = "  a thinner blade has left it a little too large: this takes it to size"
    assert skims
    assert [one for one in plan.steps if told in in_words(one, plan)] == skims
    assert not [one for one in skims if trimmed_edge(one)], "its trim has come off before"


def test_sheets_are_grouped_by_themselves_while_they_are_too_heavy_and_then_by_the_saw() -> None:
    plan = plan_of(*MANY, saws=(TRACK, TABLE), trim="1/4")
    groups = grouped(plan)
    assert [one for group in groups for one in group.steps] == list(plan.steps)
    for group in groups:
        sheet, saw = group.steps[0].step.sheet, group.steps[0].step.saw
        lying = [one.step.weight > 50 * KG_A_POUND for one in group.steps]
        assert group.title == (f"{sheet}, 96 x 48, where it lies: track saw" if lying[0] else f"ply: {saw.name}")
        assert len(set(lying)) == 1 and {one.step.saw for one in group.steps} == {saw}
        assert not lying[0] or {one.step.sheet for one in group.steps} == {sheet}
    titles = [group.title for group in groups]
    sheets = [sheet.id for sheet in plan.sheets[0].sheets]
    assert titles[: len(sheets)] == [f"{sheet}, 96 x 48, where it lies: track saw" for sheet in sheets]
    assert set(titles[len(sheets) :]) == {"ply: track saw", "ply: table saw"}


def test_a_shop_that_handles_more_by_itself_has_no_sheet_that_lies() -> None:
    plan = plan_of(*MANY, saws=(TRACK, replace(TABLE, heaviest_piece="100")), trim="1/4")
    assert {group.title for group in grouped(plan)} == {"ply: track saw", "ply: table saw"}


def test_a_setting_is_new_at_another_saw_and_another_size_and_nowhere_else() -> None:
    plan = plan_of(*MANY, saws=(TRACK, TABLE), trim="1/4")
    settings = [(one.step.saw, one.sheet.mm(one.step.fence)) for one in plan.steps]
    new = [is_new_setting(one, before) for before, one in pairwise((None, *plan.steps))]
    assert new == [True, *(one != before for before, one in pairwise(settings))]
    assert False in new and len({saw for saw, _ in settings}) == 2
    first, last = plan.steps[0], next(one for one in plan.steps if one.step.saw != settings[0][0])
    assert is_new_setting(replace(first, step=replace(first.step, saw=last.step.saw)), first)


# --- The fields

LIMITS = ("longest cut", "widest rip", "longest piece", "heaviest piece", "fee")


def shop_of(unit: Unit = "in") -> Design:
    """A saw of every kind, called as its kind is."""
    return replace(new_design("New", unit), saws=tuple(Saw(kind, kind, "1/8 in") for kind in KINDS))


def field_of(of: Design, saw: str, label: str) -> Field:
    """A field of a saw."""
    found = {(section.fields[0].text, one.label): one for section in saw_sections(of) for one in section.fields}
    return found[saw, label]


def given(of: Design, saw: str, label: str, text: str) -> Design:
    """The design once a field has been answered."""
    return answer(of, field_of(of, saw, label), text, work_out(of).names)


@pytest.mark.parametrize(
    ("saw", "labels"),
    [
        ("track", ["longest cut"]),
        ("table", ["widest rip", "longest piece", "heaviest piece"]),
        ("mitre", ["longest cut", "longest piece", "heaviest piece"]),
        ("yard", ["longest cut", "fee"]),
    ],
)
def test_a_saw_is_asked_only_what_limits_one_of_its_kind(saw: str, labels: list[str]) -> None:
    (section,) = (one for one in saw_sections(shop_of()) if one.fields[0].text == saw)
    told = [field.label for field in section.fields]
    assert told[:3] == ["called", "kind", "kerf"]
    assert [label for label in told if label in LIMITS] == labels
    assert [field.label for field in section.fields if field.optional] == [one for one in labels if one != "fee"]


@pytest.mark.parametrize(
    ("saw", "label", "text", "of_saw", "comes_to"),
    [
        ("table", "kerf", "3/32", "kerf", Fraction(3, 32) * INCH),
        ("table", "kerf", "2.4 mm", "kerf", Fraction(12, 5)),
        ("track", "longest cut", "8 ft", "longest_cut", 96 * INCH),
        ("track", "longest cut", "", "longest_cut", None),
        ("table", "widest rip", "30", "widest_rip", 30 * INCH),
        ("mitre", "longest piece", "2 m", "longest_piece", Fraction(2000)),
        ("table", "heaviest piece", "60", "heaviest_piece", 60 * KG_A_POUND),
        ("table", "heaviest piece", "16 kg", "heaviest_piece", 16.0),
        ("table", "kind", "mitre", "kind", "mitre"),
    ],
)
def test_an_answer_is_stored_as_it_was_given_and_limits_the_saw(
    saw: str, label: str, text: str, of_saw: str, comes_to: object
) -> None:
    of = given(shop_of(), saw, label, text)
    place = KINDS.index(saw)
    assert getattr(of.saws[place], of_saw) == text
    assert getattr(work_out(of).saws[place], of_saw) == comes_to
    assert sum(one != before for one, before in zip(of.saws, shop_of().saws, strict=True)) <= 1


@pytest.mark.parametrize(("unit", "kilograms"), [("in", 40 * KG_A_POUND), ("mm", 40.0)])
def test_a_bare_weight_counts_in_pounds_or_in_kilograms_as_the_project_does(unit: Unit, kilograms: float) -> None:
    of = given(shop_of(unit), "table", "heaviest piece", "40")
    assert work_out(of).saws[KINDS.index("table")].most_weight == kilograms


@pytest.mark.parametrize(
    ("saw", "label", "text", "sentence"),
    [
        ("table", "kerf", "", "a size is wanted here"),
        ("table", "kerf", "-1/8", "cannot be negative"),
        ("table", "kerf", "thin", "there is no dimension `thin`"),
        ("table", "kind", "band", "'band' is not one of track, circular, table, mitre, yard, any"),
        ("table", "widest rip", "wide", "there is no dimension `wide`"),
        ("track", "longest cut", "-3", "cannot be negative"),
        ("table", "heaviest piece", "heavy", "'heavy' is no amount"),
        ("table", "heaviest piece", "5 mm", "'5 mm' is no amount"),
        ("table", "heaviest piece", "-5", "'-5' is no amount"),
        ("yard", "fee", "a lot", "'a lot' is not an amount"),
    ],
)
def test_what_a_field_cannot_take_is_refused_with_a_sentence(saw: str, label: str, text: str, sentence: str) -> None:
    of = shop_of()
    for read in (answer, check_answer):
        with pytest.raises(Mistake, match=sentence):
            read(of, field_of(of, saw, label), text, work_out(of).names)


def test_two_saws_of_one_name_are_refused_and_the_second_is_left_out() -> None:
    of = replace(new_design("New", "mm"), saws=(Saw("Saw", "table", "3"), Saw("Saw", "track", "2"), Saw("saw")))
    worked = work_out(of)
    assert [str(one) for one in worked.problems] == ["saw Saw: two saws are called Saw; give one another name"]
    assert [(saw.name, saw.kind) for saw in worked.saws] == [("Saw", "table"), ("saw", "any")]


def test_a_saw_that_is_added_is_called_as_its_kind_is_and_as_no_other() -> None:
    of = replace(new_design("New", "mm"), saws=(Saw("track saw", "table"),))
    for kind in (*KINDS, "track"):
        of = saw_form(of).finish(of, {"kind": kind, "kerf": "2"})
    assert [saw.name for saw in of.saws[1:]] == [
        "track saw 2",
        "circular saw",
        "table saw",
        "mitre saw",
        "yard",
        "saw",
        "track saw 3",
    ]
    assert work_out(of).problems == ()


@pytest.mark.parametrize(
    ("unit", "example"), [("in", "no amount in lb; 50, or 23 kg is"), ("mm", "no amount in kg; 23, or 50 lb is")]
)
def test_a_weight_that_cannot_be_read_is_refused_with_an_example_in_the_projects_own_unit(
    unit: Unit, example: str
) -> None:
    with pytest.raises(Mistake, match=example):
        given(shop_of(unit), "table", "heaviest piece", "heavy")
    saw = Saw("table", "table", "3", heaviest_piece="heavy")
    (problem,) = work_out(replace(new_design("New", unit), saws=(saw,))).problems
    assert example in str(problem)


def test_another_saw_comes_behind_those_that_there_are() -> None:
    of = new_design("New", "mm")
    more = saw_form(of).finish(of, {"kind": "mitre", "kerf": "2.8"})
    assert more.saws == (*of.saws, Saw("mitre saw", "mitre", "2.8"))
    assert [section.item for section in saw_sections(more)] == [("saws", n) for n in range(len(of.saws) + 1)]
