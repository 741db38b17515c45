"""What is wrong with a project file: all of it at once, each at its line."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.mistakes import Mistake
from core.project import FORMAT, Carcass, Design, LoosePart, Project
from core.storage import BadProject, open_project
from core.storage.characters import first_refused, visible
from core.storage.lines import Lines
from core.storage.reading import read_text
from core.storage.scan import statements
from core.storage.writing import new_text

START = 'format = 2\nname = "x"\n'


def problems(text: str) -> list[str]:
    """One line of text for each problem."""
    with pytest.raises(BadProject) as caught:
        read_text(text, "mud.toml")
    return str(caught.value).split("\n")


def only_problem(text: str) -> str:
    (problem,) = problems(text)
    return problem


MANY = """\
format = 2
name = "Mud [room]"
currancy = "$"

[dimensions]
"clear width" = "3"
gap = "17 5/"

[space]
open_left = "yes"

[[space.reading]]
of = "widht"
size = true

[[row]]
kind = "carcass"
id = "A"
name = "Left"
height = "1,830"
depth = 24
hieght = "3"

# the second
[[row]]
kind = "carcas"
id = "A"
name = "Right"
height = 24.5
bay = [
  { width = "2 shares", adjustable_shelves = -1 },
  { width = 0x10 },
]

[[top]]
id = ""
name = 2024-05-01
material = "ply"
layers = 1.5

[material.ply]
name = "Ply"
nominal = "3/4"
actual = inf

[[material.ply.stock]]
length = "96"
width = "48"
price = "42,50"
"""


def test_everything_wrong_is_told_at_once_at_its_line() -> None:
    told = problems(MANY)
    starts = [
        "line 3: read the unknown key `currancy`; would be right: `currency`",
        "line 6: dimensions, clear width: `clear width` is not a name",
        "line 7: dimensions, gap: `17 5/` ",
        'line 10: space, open_left: read "yes"; would be right: true or false',
        'line 13: space, reading 1, of: read "widht"; would be right: "width" or "depth" or "height" or "diagonal"',
        'line 14: space, reading 1, size: read true; would be right: a size such as "17 5/8 in"',
        "line 20: row 1 (carcass A), height: `1,830` can be read two ways",
        "line 22: row 1 (carcass A): read the unknown key `hieght`; would be right: `height`",
        "line 25: row 2 (carcas A), depth: read nothing; would be right: a size",
        'line 26: row 2 (carcas A), kind: read "carcas"; would be right: "carcass" or "gap"',
        'line 27: row 2 (carcas A), id: read "A"; would be right: another id, since row 1 has this one',
        "line 30: row 2 (carcas A), bay 1, adjustable_shelves: read -1; would be right: a whole number from 0 to 9999",
        'line 36: top 1, id: read ""; would be right: a short text',
        "line 37: top 1, name: read the date or time 2024-05-01; would be right: a text in quotes",
        "line 39: top 1, layers: read 1.5; would be right: a whole number from 0 to 9999",
        "line 44: material ply, actual: read inf; would be right: a size",
        'line 49: material ply, stock 1, price: read "42,50"; would be right: a plain decimal number',
    ]
    assert len(told) == len(starts)
    for problem, start in zip(told, starts, strict=True):
        assert problem.startswith(f"mud.toml, {start}")


def test_slips_in_the_syntax_do_not_hide_one_another() -> None:
    told = problems('format = 2\nname = "x\nshow = 17 5/8\nunit = "cm"\nunit = "mm"\nnotes = 3')
    assert [problem.split(":")[0] for problem in told] == [
        "mud.toml, line 2, column 10",
        "mud.toml, line 3, column 11",
        "mud.toml, line 4",
        "mud.toml, line 5, column 12",
        "mud.toml, line 6",
    ]
    assert "would be right: the quotes closed on the line" in told[0]
    assert "read `show = 17 5/8` (" in told[1] and 'would be right: the value in quotes, `show = "17 5/8"`' in told[1]
    assert "each key once" in told[3]


@pytest.mark.parametrize(
    ("text", "start"),
    [
        (START + 'notes = """open', "line 3: read the end of the file (unterminated string)"),
        (START + "[x", "line 3, column 3: read `[x` ("),
        (START + "[saw]\n[saw]", "line 4, column 5: read `[saw]` (cannot declare"),
        (START + 'show = "\x1b[31m"', 'line 3, column 9: read `show = "\\u001B[31m"` (illegal character'),
        ("", "line 1: format: read nothing; would be right: `format = 2`"),
        ("format = 0\n" + START[11:], "line 1: format: read 0; would be right: 2"),
        (START + "x = " + "[" * 5000, ": the file cannot be read: lists and tables lie too deep"),
        (START + "x = " + "9" * 5000, ": the file cannot be read: a number is too long"),
        (START + "row_width = " + "9" * 400, "line 3: row_width: read a very large number"),
        (START + "material = 3", "line 3: material: read 3; would be right: [material.NAME] for each"),
        (START + "space.reading = 3", "line 3: space, reading: read 3; would be right: [[space.reading]]"),
        (START + "row = [3]", "line 3: row 1: read 3; would be right: a table"),
        (START + "facts = 3", "line 3: facts: read 3; would be right: a table"),
        (START + "[[row]]\nkind='gap'\nid='A'\nname='g'\nwidth='2 shres'", "line 7: row 1 (gap A), width: `2 shres`"),
    ],
)
def test_other_files_are_refused_at_the_line(text: str, start: str) -> None:
    told = problems(text)
    assert any(problem.replace("mud.toml, ", "").replace("mud.toml", "").startswith(start) for problem in told), told


def test_a_newer_format_is_refused_politely_and_without_other_complaints() -> None:
    with pytest.raises(Mistake) as caught:
        read_text(f"format = {FORMAT + 1}\nsomething_new = 1\n", "mud.toml")
    assert not isinstance(caught.value, BadProject)
    assert "newer" in str(caught.value) and f"format {FORMAT + 1}" in str(caught.value)


def test_a_message_stays_bearable_however_much_is_wrong() -> None:
    text = START + "".join(f"key{number} = 1\n" for number in range(5000))
    told = problems(text)
    assert len(told) == 101
    assert told[-1] == "mud.toml: 4900 more of the kind"


@pytest.mark.parametrize(
    "sign", ["\\u001b", "\\u009b", "\\u0000", "\\n", "\\t", "\\u202e", "\\u2066", "\\u2028", "\\r"]
)
def test_what_drives_a_terminal_or_turns_a_line_about_is_refused_with_its_position(sign: str) -> None:
    told = only_problem(f'format = 2\nname = "ab{sign}c"')
    assert told.startswith('mud.toml, line 2: name: read "ab\\u') and "as character 3" in told
    assert told.isprintable()
    told = only_problem(START + f'[rules]\n"ab{sign}" = "x"')
    assert told.startswith("mud.toml, line 4: rules, ab\\u") and told.isprintable()


def test_notes_may_run_over_lines_but_not_drive_a_terminal() -> None:
    assert read_text(START + 'notes = "a\\n\\tb"', "mud.toml").project.design.notes == "a\n\tb"
    assert "notes" in only_problem(START + 'notes = "a\\u001b"')


@given(st.text())
def test_a_visible_text_holds_nothing_refused(text: str) -> None:
    assert first_refused(visible(text)) == ""
    assert (visible(text) == text) == (first_refused(text) == "")


def test_a_project_that_could_not_be_read_back_is_not_written() -> None:
    carcass = Carcass("A", "Left\x1b[2J", "17 5/", "24")
    loose = LoosePart("A", "Shelf", "ply", "3", "4", quantity=-1)
    with pytest.raises(BadProject) as caught:
        new_text(Project(Design("x", row=(carcass,), loose=(loose,))), "mud.toml")
    told = str(caught.value).split("\n")
    assert [problem.split(":")[1] for problem in told] == [
        " row 1 (carcass A), name",
        " row 1 (carcass A), height",
        " loose 1 (A), quantity",
        " loose 1 (A), id",
    ]
    assert all(problem.line is None for problem in caught.value.problems)


@pytest.mark.parametrize("number", ["24", "24.50", "+24", "1_000", "0x18", "-3", "0.1"])
def test_a_bare_number_is_the_text_that_somebody_would_type(number: str) -> None:
    read = read_text(START + f"row_width = {number}", "mud.toml").project.design.row_width
    expected = {"+24": "24", "1_000": "1000", "0x18": "24"}
    assert read == expected.get(number, number)


def test_an_empty_size_is_right_only_where_it_means_something() -> None:
    assert read_text(START + 'space.up_to = ""', "mud.toml").project.design.space.up_to == ""
    # As wide as its items are.
    assert read_text(START + 'row_width = ""', "mud.toml").project.design.row_width == ""
    assert "floor_out_of_level" in only_problem(START + 'space.floor_out_of_level = ""')


TEXT = """\
# top
name = '''
[not a header]
x = 1
'''
a."b.c" . d = 3   # [[row]]

[[row]]   # first
x = [ "]", # ]
  '#', { y = "}" },
]
[[row.bay]]
[[row.bay]]
  z = "a\\"b" # "
[row.rules]
k = 1
[[row]]
[[row.bay]]
z = \"\"\"q\\\\
[not a header]
\"\"\"\"\"
""   = 0"""


def test_lines_of_tables_and_keys_are_counted() -> None:
    tomllib.loads(TEXT)
    lines = Lines(TEXT)
    expected = {
        ("name",): 2,
        ("a",): 6,
        ("a", "b.c", "d"): 6,
        ("row", 0): 8,
        ("row", 0, "x"): 9,
        ("row", 0, "x", 2, "y"): 9,
        ("row", 0, "bay", 0): 12,
        ("row", 0, "bay", 1, "z"): 14,
        ("row", 0, "bay", 1, "missing"): 13,
        ("row", 0, "rules", "k"): 16,
        ("row", 1): 17,
        ("row", 1, "bay", 0, "z"): 19,
        ("row", 1, "bay", 0, ""): 22,
        ("nowhere",): 1,
    }
    assert {path: lines.of(path) for path in expected} == expected


def test_the_statements_are_the_whole_text() -> None:
    parts = list(statements(TEXT))
    assert "".join(TEXT[part.start : part.end] for part in parts) == TEXT
    values = [TEXT[slice(*part.value)] for part in parts if part.kind == "pair"]
    assert values[1:3] == ["3", '[ "]", # ]\n  \'#\', { y = "}" },\n]']
    assert values[-2:] == ['"""q\\\\\n[not a header]\n"""""', "0"]


@settings(max_examples=300)
@given(st.text(st.sampled_from("ab=[]{}\"'\\#\n., \t1\x1b\u202e"), max_size=60))
def test_no_text_at_all_ends_in_anything_but_a_project_or_a_mistake(text: str) -> None:
    for whole in (text, START + text):
        try:
            read_text(whole, "mud.toml")
        except Mistake as mistake:
            assert all(line.isprintable() for line in str(mistake).split("\n"))


def test_bytes_that_are_no_text_are_told_at_their_line(tmp_path: Path) -> None:
    path = tmp_path / "mud.toml"
    path.write_bytes(START.encode() + b'notes = "caf\xe9"\n')
    with pytest.raises(BadProject, match=r"mud\.toml, line 3: read the byte E9"):
        open_project(path)
