"""A file that somebody wrote and commented by hand, and what a save leaves of it."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from core.project import Bay, Carcass, Facts, Gap, Place, Project
from core.space import Clearance, Reading
from core.storage import writing
from core.storage.reading import read_text
from core.storage.writing import changed_text, new_text

BY_HAND = """\
# The laundry wall. Measured on Sunday, Jo held the tape.

format = 2
name = 'Laundry "wall"'   # as it is called at home
unit = "mm"

[dimensions]
# what the washer's manual asks for
washer = 600
side_gap = 12.50          # each side
worktop_height = '900'

# ---- the room ----

[space]
# nothing is straight in this house
reading = [
  { of = "width", size = 2412 },                  # at the floor
  { of = "width", size = "2409", level = "top" }, # behind the pipe
  # still to do: the middle
]
clearance.left = "3"

# ---- what is bought ----

# from the yard in town
[material.ply]
name = "Birch 18"
nominal = "18"
actual = 17.80

  # their full sheet
  [[material.ply.stock]]
  length = 2440
  width = 1220

  # the half sheet, if they have it
  [[material.ply.stock]]
  length = 1220
  width = 1220
  quantity = 2   # only two left

# ---- the row, left to right ----

# by the door
[[row]]
id = "A"
kind = "carcass"
name = "Broom"
height = "2000"
depth = "560"
width = "450"

# nothing heavy up there

# its shelves are high up
[[row.bay]]
fixed_shelves = ["1400", "1700"] # two

# the washer stands here
[[row]]
kind = "gap"
id = "B"
name = "Washer"
width = "washer + 2*side_gap"
# the hose needs 40 more behind

# ---- the sink side ----

# by the window
[[row]]
id = "C"
kind = "carcass"
name = "Sink"
height = "worktop_height"
depth = "560"

# the end, thanks for reading
"""


@pytest.fixture
def project() -> Project:
    return read_text(BY_HAND, "laundry.toml").project


def saved(project: Project, text: str = BY_HAND) -> str:
    """The text after a save, which reads back as the project."""
    after = changed_text(text, project, "laundry.toml")
    assert read_text(after, "laundry.toml").project == project
    return after


def with_design(project: Project, **changes: Any) -> Project:
    return replace(project, design=replace(project.design, **changes))


def without(text: str, *parts: str) -> str:
    """The text less some passages, each of which it has once."""
    for part in parts:
        assert text.count(part) == 1, part
        text = text.replace(part, "")
    return text


def test_nothing_changed_is_nothing_touched(project: Project) -> None:
    assert saved(project) == BY_HAND


def test_numbers_are_read_as_they_were_typed(project: Project) -> None:
    assert project.design.dimensions == {"washer": "600", "side_gap": "12.50", "worktop_height": "900"}
    assert project.design.materials["ply"].actual == "17.80"
    assert [reading.size for reading in project.design.space.readings] == ["2412", "2409"]


def test_a_changed_value_changes_its_own_text_only(project: Project) -> None:
    dimensions = {**project.design.dimensions, "side_gap": "13"}
    assert saved(with_design(project, dimensions=dimensions)) == BY_HAND.replace("12.50 ", "13 ")


def test_a_bare_number_becomes_a_text_where_it_must(project: Project) -> None:
    dimensions = {**project.design.dimensions, "washer": "23 5/8 in"}
    assert saved(with_design(project, dimensions=dimensions)) == BY_HAND.replace("= 600", '= "23 5/8 in"')


def test_a_value_in_brackets_changes_in_its_place(project: Project) -> None:
    low, top = project.design.space.readings
    space = replace(project.design.space, readings=(replace(low, size="2410.5"), top))
    assert saved(with_design(project, space=space)) == BY_HAND.replace("2412", "2410.5")


def test_a_reading_more_and_a_reading_less_keep_the_comments_of_the_others(project: Project) -> None:
    low, top = project.design.space.readings
    more = saved(
        with_design(project, space=replace(project.design.space, readings=(low, top, Reading("depth", "640"))))
    )
    assert all(comment in more for comment in ("# at the floor", "# behind the pipe", "# still to do: the middle"))
    less = saved(with_design(project, space=replace(project.design.space, readings=(top,))))
    assert '{ of = "width", size = "2409", level = "top" }, # behind the pipe' in less
    assert "2412" not in less


def test_a_table_that_goes_takes_its_own_comments_and_no_other(project: Project) -> None:
    broom, washer, sink = project.design.row
    gone = (
        "# the washer stands here\n[[row]]\n"
        'kind = "gap"\nid = "B"\nname = "Washer"\nwidth = "washer + 2*side_gap"\n'
        "# the hose needs 40 more behind\n\n"
    )
    assert saved(with_design(project, row=(broom, sink))) == without(BY_HAND, gone)
    gone = BY_HAND[BY_HAND.index("# by the door") : BY_HAND.index("# the washer stands here")]
    assert "# nothing heavy up there" in gone and "# its shelves are high up" in gone
    assert saved(with_design(project, row=(washer, sink))) == without(BY_HAND, gone)
    gone = BY_HAND[BY_HAND.index("\n# by the window") : BY_HAND.index("\n# the end")]
    assert saved(with_design(project, row=(broom, washer))) == without(BY_HAND, gone)


def test_all_tables_of_a_list_can_go(project: Project) -> None:
    text = saved(with_design(project, row=()))
    assert "[[row]]" not in text
    for comment in ("# ---- the row, left to right ----", "# ---- the sink side ----", "# the end, thanks for reading"):
        assert comment in text


def test_a_nameless_table_is_known_by_what_is_in_it(project: Project) -> None:
    ply = project.design.materials["ply"]
    gone = BY_HAND[BY_HAND.index("\n  # their full sheet") : BY_HAND.index("\n  # the half sheet")]
    after = with_design(project, materials={"ply": replace(ply, stock=ply.stock[1:])})
    assert saved(after) == without(BY_HAND, gone)


def test_a_material_that_goes_takes_its_stock_along(project: Project) -> None:
    gone = BY_HAND[BY_HAND.index("# from the yard in town") : BY_HAND.index("# ---- the row, left")]
    assert saved(with_design(project, materials={})) == without(BY_HAND, gone)


def test_a_new_table_is_put_between_the_others(project: Project) -> None:
    broom, washer, sink = project.design.row
    new = Carcass("D", "Ironing", "2000", "560", "300", bays=(Bay(adjustable_shelves=2),))
    text = saved(with_design(project, row=(broom, new, washer, sink)))
    begin, end = text.index('[[row]]\nkind = "carcass"\nid = "D"'), text.index("\n# the washer stands here")
    assert "[[row.bay]]\nadjustable_shelves = 2\n" in text[begin:end]
    assert text[: begin - 1] + text[end:] == BY_HAND


def test_tables_that_change_places_take_their_comments_along(project: Project) -> None:
    broom, washer, sink = project.design.row
    text = saved(with_design(project, row=(sink, broom, washer)))
    order = [
        "# ---- the row, left to right ----",
        "# by the window",
        'name = "Sink"',
        "# by the door",
        "# nothing heavy up there",
        "# its shelves are high up",
        "# the washer stands here",
        "# the hose needs 40 more behind",
        "# the end, thanks for reading",
    ]
    places = [text.index(part) for part in order]
    assert places == sorted(places)
    assert sorted(text.split("\n")) == sorted(BY_HAND.split("\n"))
    assert saved(project, text) == BY_HAND


def test_a_carcass_that_becomes_a_gap_keeps_its_place(project: Project) -> None:
    broom, washer, _ = project.design.row
    text = saved(with_design(project, row=(broom, washer, Gap("C", "Sink"))))
    assert '# by the window\n[[row]]\nid = "C"\nkind = "gap"\nname = "Sink"\n\n# the end' in text


def test_what_is_no_longer_known_is_taken_out_with_its_comment(project: Project) -> None:
    ply = project.design.materials["ply"]
    plenty = replace(ply, stock=(ply.stock[0], replace(ply.stock[1], quantity=None)))
    text = saved(with_design(project, materials={"ply": plenty}))
    assert text == without(BY_HAND, "  quantity = 2   # only two left\n")


def test_fields_are_added_where_they_belong(project: Project) -> None:
    design = replace(
        project.design,
        currency="€",
        notes="ring the yard\nbefore noon",
        space=replace(project.design.space, name="Laundry", clearance=Clearance(left="3", right="4")),
    )
    facts = Facts(left_at=Place("Cuts", "2024-05-01T10:00:00"))
    text = saved(replace(project, design=design, facts=facts))
    assert 'unit = "mm"\ncurrency = "€"\nnotes = """\nring the yard\nbefore noon"""\n\n[dimensions]' in text
    assert 'clearance.left = "3"\nclearance.right = "4"\nname = "Laundry"\n\n# ---- what is bought' in text
    assert text.endswith(
        'depth = "560"\n\n[facts.left_at]\nstation = "Cuts"\nwhen = "2024-05-01T10:00:00"\n'
        "\n# the end, thanks for reading\n"
    )


def test_a_default_that_is_in_the_file_stays_in_it(project: Project) -> None:
    ply = replace(project.design.materials["ply"], nominal="18", grain=True)
    text = saved(with_design(project, materials={"ply": replace(ply, grain=False)}))
    assert "grain = false" in text
    assert "grain = true" in saved(with_design(project, materials={"ply": ply}), text)


def test_line_ends_stay_as_the_editor_wrote_them(project: Project) -> None:
    text = BY_HAND.replace("\n", "\r\n")
    after = changed_text(text, with_design(project, name="Other"), "laundry.toml")
    assert after == text.replace("'Laundry \"wall\"'", '"Other"')


@pytest.mark.parametrize("wrong", ["", "format = 2\n[[row", BY_HAND])
def test_a_text_that_came_out_wrong_is_written_anew_under_its_first_comment(
    project: Project, wrong: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(writing, "merged", lambda text, old, wanted: wrong)
    text = saved(with_design(project, name="Other"))
    assert text.startswith('# The laundry wall. Measured on Sunday, Jo held the tape.\n\nformat = 2\nname = "Other"\n')


def test_a_new_file_is_short_and_says_how_to_edit_it(project: Project) -> None:
    text = new_text(Project(replace(project.design, space=replace(project.design.space, readings=()))), "new.toml")
    assert text.startswith("# A Sawhorse project. It can be edited by hand")
    assert "grain" not in text
    assert '[[material.ply.stock]]\nlength = "2440"\nwidth = "1220"\n' in text
    assert '[[row]]\nkind = "gap"\nid = "B"\n' in text
