"""Fields, forms and the guided walk: what a person may answer, and what becomes of it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from fractions import Fraction

import pytest
from designs import carcass, design
from hypothesis import given, settings
from hypothesis import strategies as st
from shop import Shop, check_sheets
from test_plan import rich

from core import edits
from core.checks import run_checks
from core.editing import forms, goods_forms, suggested
from core.editing.field import Field, answer, check_answer
from core.editing.forms import Form, check
from core.editing.goods import goods_sections
from core.editing.piece import carcass_rules, piece_sections
from core.editing.space import space_sections
from core.editing.walk import WALK
from core.goods import Board, Length
from core.lengths import Unit, read_length
from core.mistakes import Mistake
from core.project import Bay, Carcass, Design, Gap, LoosePart, Top
from core.space import Baseboard, Lean, Obstacle, Reading, Space
from core.starter import new_design
from core.workings import work_out


def everything() -> Design:
    """A design with at least one of everything that a field can be of."""
    of = rich()
    box = carcass(
        "D", "30", "34 1/2", "23 1/4", Bay("share", ("min(6, 7)", "12")), Bay("8 in", ("even", "even"), 2), top="rails"
    )
    return replace(
        of,
        row=(*of.row, Gap("G", "Washer", "2 shares"), box),
        dimensions={"gap": "clear_width / 40", "half": "gap / 2", "count": "3"},
        loose=(LoosePart("L", "Cleat", "ply", "gap * 4", "3", 2, "none"),),
        tops=(Top("W", "Top", "ply", 2, "A", "B", overhang_front="1", banding="lip"),),
        space=replace(
            of.space,
            leans=(Lean("left", "-1/4", "84"),),
            readings=(*of.space.readings, Reading("height", "96", at="left"), Reading("diagonal", "100", at="left")),
            obstacles=(Obstacle("outlet", "left", "10", "12", "2 3/4", "4 1/2"),),
            open_left=True,
        ),
    )


def fields_of(of: Design) -> Iterator[Field]:
    for section in (*space_sections(of), *goods_sections(of), *piece_sections(of)):
        yield from section.fields
    for place, item in enumerate(of.row):
        if isinstance(item, Carcass):
            yield from carcass_rules(of, place)


# --- Fields


@pytest.mark.parametrize(("unit", "length"), [("in", "foot"), ("mm", "metre")])
def test_banding_is_priced_by_the_foot_or_the_metre_as_the_project_counts(unit: Unit, length: str) -> None:
    of = new_design("New", unit)
    prices = [field for section in goods_sections(of) for field in section.fields if field.path[0] == "bandings"]
    assert [field.help for field in prices if field.path[-1] == "price"] == [f"for one {length}"]
    assert f"price of a {length}" in [question.label for question in goods_forms.banding_form(of).questions]


@pytest.mark.parametrize(
    "of", [everything(), new_design("New", "in"), new_design("New", "mm")], ids=["all", "in", "mm"]
)
def test_every_field_takes_its_own_text_and_changes_nothing(of: Design) -> None:
    names = work_out(of).names
    fields = list(fields_of(of))
    assert len(fields) > 20
    for field in fields:
        assert answer(of, field, f" {field.text} ", names) is of


def test_what_a_field_shows_reads_as_what_is_stored() -> None:
    of = everything()
    names = work_out(of).names
    for field in fields_of(of):
        check_answer(of, field, field.text, names)
        if not field.inherited:
            assert answer(of, replace(field, text="something else"), field.text, names) == of, field.path


def test_the_fields_between_them_reach_all_of_a_design() -> None:
    """Each answerable kind of value stands in some field, so that nothing needs an editor."""
    paths = {tuple("*" if isinstance(step, int) else step for step in field.path) for field in fields_of(everything())}
    for path in (
        ("name",), ("row_width",), ("saws", "*", "kerf"), ("dimensions", "gap"), ("row", "*", "width"),
        ("row", "*", "bays", "*", "fixed_shelves"), ("tops", "*", "layers"), ("tops", "*", "banding"),
        ("loose", "*", "grain"), ("materials", "ply", "actual"), ("materials", "ply", "stock", "*", "trim", "left"),
        ("bandings", "lip", "price"), ("space", "open_left"), ("space", "leans", "*", "into_room"),
        ("space", "obstacles", "*", "along"), ("space", "clearance", "back"), ("rules", "kick_height"),
        ("row", "*", "rules", "top"),
    ):  # fmt: skip
        assert path in paths


def field(of: Design, *path: str | int) -> Field:
    return next(one for one in fields_of(of) if one.path == path)


ANSWERS = [
    (("row", 0, "width"), "24 in", "24 in"),
    (("row", 0, "width"), "3 shares", "3 shares"),
    (("row", 0, "width"), "clear_width / 3", "~31 13/16 in"),
    (("row", 0, "height"), "gap + 30", "~32 3/8 in"),
    (("row", 0, "height"), "1/64", "1/64 in"),
    (("row_width",), "", ""),
    (("space", "obstacles", 0, "along"), "gap * 2", "~4 3/4 in"),
    (("tops", 0, "layers"), "1", "1"),
    (("dimensions", "half"), "gap / 3", "~13/16 in"),
    (("dimensions", "count"), "4 / 3", "1.33333"),
    (("space", "leans", 0, "into_room"), "-1/2", "-1/2 in"),
    (("space", "open_left"), "N", "no"),
    (("space", "up_to"), "", ""),
    (("materials", "ply", "stock", 0, "quantity"), "", ""),
    (("materials", "ply", "stock", 0, "price"), "84.50", "84.50"),
    (("materials", "ply", "density"), "600", "600"),
    (("row", 4, "bays", 0, "fixed_shelves"), "max(3, gap), 12,20", "max(3, gap), 12,20"),
]


@pytest.mark.parametrize(("path", "text", "comes_to"), ANSWERS)
def test_answers(path: tuple[str | int, ...], text: str, comes_to: str) -> None:
    of = everything()
    names = work_out(of).names
    assert check_answer(of, field(of, *path), text, names) == comes_to
    changed = answer(of, field(of, *path), text, names)
    assert (changed == of) is (edits.value_at(of, path) == edits.value_at(changed, path))
    # What was taken is shown, and taken again.
    assert answer(changed, field(changed, *path), field(changed, *path).text, names) == changed


REFUSED = [
    (("row", 0, "width"), "", "a size is wanted here, such as 17 5/8 or 450 mm"),
    (("row", 0, "width"), "0 shares", "a share is more than 0"),
    (("row", 0, "height"), "-3", "cannot be negative"),
    (("row", 0, "height"), "wide", "there is no dimension `wide`"),
    (("row", 0, "height"), "1,830", "can be read two ways"),
    (("tops", 0, "layers"), "3", "'3' is not one of 1, 2"),
    (("tops", 0, "banding"), "gold", "'gold' is not one of nothing, tape, lip"),
    (("row", 0, "rules", "face_frame"), "maple", "there is none to choose yet: add one at Goods first"),
    (("space", "open_left"), "maybe", "neither yes nor no"),
    (("loose", 0, "quantity"), "2.5", "is not a whole number"),
    (("loose", 0, "quantity"), "-1", "is not a whole number"),
    (("loose", 0, "quantity"), "²", "is not a whole number"),
    (("materials", "ply", "stock", 0, "price"), "12,50", "is not an amount"),
    (("materials", "ply", "stock", 0, "price"), "1e3", "is not an amount"),
    (("materials", "ply", "stock", 0, "price"), "nan", "is not an amount"),
    (("materials", "ply", "stock", 0, "price"), "1_0", "is not an amount"),
    (("space", "readings", 0, "size"), "ply * 100", "`ply` is a name, and names are made of what is measured"),
    (("space", "clearance", "left"), "gap", "`gap` is a name"),
    (("materials", "ply", "actual"), "clear_width / 100", "`clear_width` is a name"),
    (("dimensions", "gap"), "half", "gap -> half -> gap"),
    (("dimensions", "gap"), "gap + 1", "gap -> gap"),
    (("dimensions", "gap"), "1 +", "cannot be worked out"),
    (("dimensions", "gap"), "1/0", "divides by zero"),
    (("row", 4, "bays", 0, "fixed_shelves"), "12, -3", "cannot be negative"),
    (("row", 4, "bays", 0, "fixed_shelves"), "12, often", "there is no dimension `often`"),
]


@pytest.mark.parametrize(("path", "text", "why"), REFUSED)
def test_what_a_field_cannot_take(path: tuple[str | int, ...], text: str, why: str) -> None:
    of = everything()
    names = work_out(of).names
    for ask in (answer, check_answer):
        with pytest.raises(Mistake) as caught:
            ask(of, field(of, *path), text, names)
        assert why in str(caught.value)


def test_a_rule_of_one_carcass_and_of_the_project() -> None:
    of = everything()
    names = work_out(of).names
    mine = next(one for one in carcass_rules(of, 0) if one.path[-1] == "kick_height")
    assert mine.inherited and mine.item is None
    changed = answer(of, mine, "3", names)
    assert edits.value_at(changed, ("row", 0, "rules", "kick_height")) == "3"
    assert "kick_height" not in changed.rules
    now = next(one for one in carcass_rules(changed, 0) if one.path[-1] == "kick_height")
    assert not now.inherited and now.item == ("row", 0, "rules", "kick_height")
    everyones = answer(of, next(one for one in fields_of(of) if one.path == ("rules", "kick_height")), "3", names)
    assert everyones.rules["kick_height"] == "3"


def test_items_can_be_taken_out_by_what_their_field_says() -> None:
    of = everything()
    for one in fields_of(of):
        if one.item is not None:
            assert edits.remove_at(of, one.item) != of, one.label


# --- Forms


def with_row(unit: str) -> Design:
    of = new_design("New", unit)  # type: ignore[arg-type]
    of = edits.add_carcass(of, "Base", "600 mm", "870 mm", "580 mm")
    board = Board("Ash", "20 mm", "40 mm", lengths=(Length("2400 mm"),))
    return replace(of, row_width="", boards={"ash": board})


FORMS: dict[str, Callable[[Design], Form]] = {
    "reading": forms.reading_form,
    "lean": forms.lean_form,
    "baseboard": forms.baseboard_form,
    "obstacle": forms.obstacle_form,
    "carcass": forms.carcass_form,
    "gap": forms.gap_form,
    "filler": forms.filler_form,
    "end_panel": forms.end_panel_form,
    "bay": lambda of: forms.bay_form(of, 0),
    "opening": lambda of: forms.opening_form(of, 0, 0),
    "top": forms.top_form,
    "loose": forms.loose_form,
    "dimension": forms.dimension_form,
    "material": goods_forms.material_form,
    "stock": lambda of: goods_forms.stock_form(of, next(iter(of.materials))),
    "banding": goods_forms.banding_form,
    "board": goods_forms.board_form,
    "length": lambda of: goods_forms.length_form(of, next(iter(of.boards))),
}
TYPED = {"size": "900 mm", "name": "fresh", "formula": "30 mm", "text": "Something"}


def filled(form: Form, of: Design, typed: Mapping[str, str] | None = None) -> Design:
    """The form answered with its defaults, and what has none with something plain."""
    typed = typed or {}
    names = work_out(of).names
    told: dict[str, str] = {}
    for question in form.questions:
        text = typed.get(question.key, question.default or ("" if question.optional else TYPED[question.kind]))
        check(question, of, text, names)
        told[question.key] = text
    return form.finish(of, told)


@pytest.mark.parametrize("unit", ["in", "mm"])
@pytest.mark.parametrize("name", FORMS)
def test_every_form_makes_a_sound_design_from_its_defaults(name: str, unit: str) -> None:
    of = with_row(unit)
    if name in ("carcass", "gap", "filler", "end_panel"):
        of = replace(of, row_width="2 m")
    made = filled(FORMS[name](of), of)
    assert made != of
    assert [str(problem) for problem in work_out(made).problems] == []


def test_there_is_a_form_for_each_function_of_that_name() -> None:
    known = [*vars(forms), *vars(goods_forms)]
    assert {name.removesuffix("_form") for name in known if name.endswith("_form")} == FORMS.keys()


def test_another_bay_stands_behind_a_divider() -> None:
    # A carcass has one bay without asking, also where the file does not tell of it.
    for bays in ((), (Bay(),)):
        of = design(carcass("A", "24", "34 1/2", "23 1/4", *bays))
        made = filled(forms.bay_form(of, 0), of, {"fixed": "1"})
        worked = work_out(made)
        assert worked.problems == ()
        assert [part.role for part in worked.parts].count("divider") == 1
        assert [part.role for part in worked.parts].count("shelf") == 1


def test_a_new_carcass_is_as_high_and_deep_as_the_last() -> None:
    of = design(carcass("A", "24", "30", "12"))
    questions = {question.key: question.default for question in forms.carcass_form(of).questions}
    assert (questions["height"], questions["depth"]) == ("30", "12")


@pytest.mark.parametrize(
    ("told", "sound"),
    [
        ({"of": "width", "at": "left"}, False),
        ({"of": "diagonal", "at": "back"}, False),
        ({"of": "diagonal", "at": "left"}, True),
        ({"of": "height", "at": "front"}, True),
    ],
)
def test_a_reading_is_refused_where_it_cannot_be_taken(told: dict[str, str], sound: bool) -> None:
    made = with_row("in")
    if sound:
        assert filled(forms.reading_form(made), made, told) != made
    else:
        with pytest.raises(Mistake):
            filled(forms.reading_form(made), made, told)


@pytest.mark.parametrize("name", ["ply", "clear_width", "share", "3x", "in"])
def test_names_that_cannot_be_given(name: str) -> None:
    of = with_row("in")
    for form in (forms.dimension_form(of), goods_forms.material_form(of)):
        with pytest.raises(Mistake):
            filled(form, of, {"name": name})


def test_an_answer_that_is_wanted() -> None:
    of = with_row("in")
    question = forms.reading_form(of).questions[-1]
    with pytest.raises(Mistake, match="an answer is wanted: wall to wall"):
        check(question, of, " ", work_out(of).names)


# --- The walk


def walked(of: Design, **typed: str) -> Design:
    """The walk to its end: `typed` by the key of the question, else its default."""
    for step in WALK:
        question = step.ask(of)
        if question is None:
            continue
        text = typed.pop(question.key.replace(" ", "_"), question.default)
        check(question, of, text, work_out(of).names)
        of = step.answer(of, text)
    assert not typed
    return of


@pytest.mark.parametrize(("unit", "width"), [("in", "72 1/4"), ("mm", "1830")])
def test_the_walk_with_its_defaults_and_one_width_is_a_whole_plan(unit: str, width: str) -> None:
    of = walked(new_design("Alcove", unit), width_back=width)  # type: ignore[arg-type]
    shop = Shop(of)
    assert [str(problem) for problem in shop.plan.problems] == []
    assert shop.plan.worked.misfits == ()
    assert all(one.unplaced == () for one in shop.plan.sheets)
    wanted = sum(kind.quantity for kind in shop.plan.kinds)
    assert sum(len(sheet.pieces) for one in shop.plan.sheets for sheet in one.sheets) == wanted > 10
    assert shop.plan.steps
    check_sheets(shop.plan)
    # Nothing that a person did not choose is a fault.
    assert [one for one in run_checks(shop.plan.worked) if one.result == "fail"] == []


def test_the_walk_again_changes_nothing() -> None:
    of = walked(new_design("Alcove", "in"), width_back="72 1/4")
    assert walked(of) == of


def test_the_walk_with_everything_answered() -> None:
    of = walked(
        new_design("Alcove", "mm"),
        width_back="1830", width_front="1828", width_top="1829", depth="610", height="2400",
        baseboard="90", thickness="12", count="3", base="plinth", kick_height="80", kick_depth="50",
        top="rails", back="let in", shelves="2", layers="2", overhang="25", price="64.20",
    )  # fmt: skip
    worked = work_out(of)
    assert [str(problem) for problem in worked.problems] == []
    assert worked.misfits == ()
    assert worked.envelope.width == 1828 - 10
    assert len([item for item in of.row if isinstance(item, Carcass)]) == 3
    assert of.space.baseboards == (Baseboard("back", "90", "12"),)
    assert {part.carcass for part in worked.parts if part.role == "plinth"} == {"A", "B", "C"}


def test_the_walk_asks_only_what_is_needed() -> None:
    of = walked(new_design("Alcove", "in"), width_back="72", baseboard="", base="none", layers="0")
    asked = {question.key for step in WALK if (question := step.ask(of))}
    assert not asked & {"thickness", "kick_height", "kick_depth", "overhang"}
    assert of.space.baseboards == () and of.tops == ()


# --- What is offered for a new carcass


def low_and_shallow(unit: Unit) -> Design:
    """A place under a window, too low and too shallow for a usual carcass."""
    height, depth = ("30 5/16", "12 3/8") if unit == "in" else ("760.4", "310.9")
    readings = (Reading("width", "60", "floor", "back"), Reading("height", height), Reading("depth", depth))
    show = "in 1/8" if unit == "in" else "mm 1"
    return replace(new_design("Sill", unit), show=show, space=Space(readings=readings))


@pytest.mark.parametrize(("unit", "sizes"), [("in", ("30 1/4", "12 3/8")), ("mm", ("760", "310"))])
def test_a_carcass_is_offered_no_larger_than_the_true_box(unit: Unit, sizes: tuple[str, str]) -> None:
    of = low_and_shallow(unit)
    assert [suggested.carcass_size(of, axis) for axis in ("height", "depth")] == list(sizes)
    questions = {question.key: question.default for question in forms.carcass_form(of).questions}
    assert (questions["height"], questions["depth"]) == sizes
    first = walked(of, count="1").row[0]
    assert isinstance(first, Carcass) and (first.height, first.depth) == sizes


@given(room=st.integers(1, 80000), unit=st.sampled_from(["in", "mm"]), step=st.sampled_from(["1/16", "1/64"]))
@settings(deadline=None, max_examples=40)
def test_what_is_offered_goes_in(room: int, unit: Unit, step: str) -> None:
    """Any depth to a hundredth of a millimetre; nothing is offered that is nothing."""
    show = f"in {step}" if unit == "in" else "mm 0.5"
    space = Space(readings=(Reading("depth", f"{room // 100}.{room % 100:02d} mm"),))
    offered = read_length(suggested.carcass_size(replace(new_design("X", unit), show=show, space=space), "depth"), unit)
    usual = read_length(suggested.USUAL["depth"][unit == "mm"], unit)
    assert 0 < offered <= min(Fraction(room, 100), usual)
    assert min(Fraction(room, 100), usual) - offered < Fraction("25.4") / 16


@pytest.mark.parametrize("unit", ["in", "mm"])
def test_without_a_reading_the_usual_sizes_are_offered(unit: Unit) -> None:
    of = new_design("New", unit)
    at = 0 if unit == "in" else 1
    assert suggested.carcass_size(of, "height") == suggested.USUAL["height"][at]
    assert suggested.carcass_size(of, "depth") == suggested.USUAL["depth"][at]


def test_carcasses_have_names_of_their_own() -> None:
    of = walked(new_design("Alcove", "in"), width_back="72", count="3")
    assert [one.name for one in of.row] == ["Base", "Base 2", "Base 3"]
    of = replace(of, row=(of.row[0], of.row[2]))
    assert forms.carcass_form(of).questions[0].default == "Base 2"


# --- The gap at the sides


def asked_gap(of: Design) -> forms.Question | None:
    return next((question for step in WALK if (question := step.ask(of)) and question.key == "air"), None)


def test_the_gap_at_the_sides_is_asked_where_there_is_a_wall_that_was_measured() -> None:
    of = new_design("Alcove", "mm")
    assert asked_gap(of) is None
    readings = (
        Reading("width", "1800", "floor", "front"),
        Reading("width", "1793", "top", "front"),
        Reading("width", "1800", "floor", "back"),
    )
    of = replace(of, space=Space(readings=readings))
    gap = asked_gap(of)
    assert gap is not None
    assert (gap.label, gap.default) == ("Gap to leave at each side", "5")
    assert "scribed" in gap.help and "the right wall runs out by 7 mm" in gap.help
    beside_a_door = replace(of, space=replace(of.space, open_left=True))
    gap = asked_gap(beside_a_door)
    assert gap is not None and gap.label == "Gap to leave at the right"
    clearance = walked(beside_a_door, air="12").space.clearance
    assert (clearance.left, clearance.right) == ("0", "12")
    assert asked_gap(replace(of, space=replace(of.space, open_left=True, open_right=True))) is None


def test_no_gap_at_the_sides_stays_none_when_it_is_walked_again() -> None:
    of = walked(new_design("Alcove", "mm"), width_back="1800", air="0")
    assert walked(of).space.clearance == of.space.clearance
    assert (of.space.clearance.left, of.space.clearance.right) == ("0", "0")
