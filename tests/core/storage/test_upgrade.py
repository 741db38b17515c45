"""Files of the format before this one: read as they were meant, written anew only where something is saved."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from core.project import CutMade, Saw
from core.storage import BadProject, OpenedProject, open_project, save
from core.storage.reading import read_text
from core.storage.upgrade import upgraded

OLD = """\
# A bench, begun in spring.
format = 1   # of the file
name = "Bench"

# The blade was measured in a test cut.
[saw]   # the only one
name = "table saw"
kerf = "1/8"   # wider than it says

# Loose things.
[[loose]]
id = "L"
name = "Board"   # oak
material = "ply"
length = "30"
width = "20"
"""
NEW = OLD.replace("format = 1", "format = 2").replace("[saw]", "[[saw]]")
HEAD = 'format = 1\nname = "Bench"\n'


def written(folder: Path, data: bytes) -> Path:
    """A file of these bytes."""
    path = folder / "bench.toml"
    path.write_bytes(data)
    return path


def renamed(opened: OpenedProject, name: str) -> OpenedProject:
    """The project saved under another name of itself."""
    return save(opened, replace(opened.project, design=replace(opened.project.design, name=name)))


def saws(text: str) -> tuple[Saw, ...]:
    """The saws that a text tells of."""
    return read_text(text, "bench.toml").project.design.saws


def test_the_header_of_the_one_saw_becomes_that_of_several_and_all_else_stays() -> None:
    assert upgraded(OLD) == NEW
    assert saws(OLD) == (Saw("table saw", "any", "1/8"),)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("[saw]", "[[saw]]"),
        ("  [ saw ]", "  [[ saw ]]"),
        ("\t[saw]# measured", "\t[[saw]]# measured"),
    ],
)
def test_the_header_is_known_however_it_is_indented_and_followed(old: str, new: str) -> None:
    assert upgraded(f'{HEAD}{old}\nkerf = "1/8"\n') == f'format = 2\nname = "Bench"\n{new}\nkerf = "1/8"\n'
    assert saws(f'{HEAD}{old}\nkerf = "1/8"\n') == (Saw("saw", "any", "1/8"),)


def test_a_saw_in_braces_becomes_a_list_of_one() -> None:
    text = f'{HEAD}saw = {{ name = "track saw", kerf = "3/32" }}   # the green one\n'
    assert upgraded(text).splitlines()[2] == 'saw = [{ name = "track saw", kerf = "3/32" }]   # the green one'
    assert saws(text) == (Saw("track saw", "any", "3/32"),)


def test_where_no_saw_is_told_only_the_number_changes() -> None:
    text = 'name = "Bench"\n  format=1\n\n# nothing else\n'
    assert upgraded(text) == 'name = "Bench"\n  format=2\n\n# nothing else\n'
    assert saws(text) == ()


@pytest.mark.parametrize(
    "text",
    [
        NEW,
        'format = 2\nname = "[saw]"\n# [saw]\n[[saw]]\nkerf = "1/8"\n',
        'format = 2 # not format = 1\nname = "format = 1"\n',
        'format = 10\n[saw]\nkerf = "1/8"\n',
        "format = 1.5\n[saw]\n",
        'format = "1"\n[saw]\n',
        'name = "Bench"\n[saw]\n',
        "",
    ],
)
def test_a_text_that_does_not_say_it_is_of_the_first_format_stays_as_it_is(text: str) -> None:
    assert upgraded(text) == text


@pytest.mark.parametrize(
    "line",
    [
        "# [saw]",
        '# saw = { kerf = "1/8" }',
        'notes = "the [saw] is blunt"',
        'notes = "saw = { kerf }"',
        'notes = """the old\n hand [saw] is lent out"""',
        "retired = ['[saw]']",
    ],
)
def test_a_saw_in_a_comment_or_in_words_is_none(line: str) -> None:
    text = f'{HEAD}{line}\n[saw]\nkerf = "1/8"\n'
    assert upgraded(text) == f'format = 2\nname = "Bench"\n{line}\n[[saw]]\nkerf = "1/8"\n'
    assert saws(text) == (Saw("saw", "any", "1/8"),)


@pytest.mark.parametrize("line", ["[sawdust]", "[saw_horse]", 'seesaw = { a = "1" }', 'saws = "3"'])
def test_what_only_begins_or_ends_like_a_saw_is_none(line: str) -> None:
    assert upgraded(f"{HEAD}{line}\n").splitlines()[2] == line


def test_a_dimension_that_is_called_like_one_stays_a_dimension() -> None:
    text = f'{HEAD}[dimensions]\nsaw = "3"\nbench = "saw * 2"\n[saw]\nkerf = "1/8"\n'
    design = read_text(text, "bench.toml").project.design
    assert dict(design.dimensions) == {"saw": "3", "bench": "saw * 2"}
    assert design.saws == (Saw("saw", "any", "1/8"),)


def test_only_the_first_number_changes() -> None:
    assert upgraded(f"{HEAD}[dimensions]\nformat = 1\n").splitlines()[2:] == ["[dimensions]", "format = 1"]


def test_twice_is_the_same_as_once() -> None:
    assert upgraded(upgraded(OLD)) == upgraded(OLD)


def test_what_is_wrong_is_told_at_the_line_where_it_stands_in_the_file(tmp_path: Path) -> None:
    path = written(tmp_path, OLD.replace('kerf = "1/8"', 'kerf = "an eighth"').encode())
    with pytest.raises(BadProject) as told:
        open_project(path)
    (problem,) = told.value.problems
    assert problem.line == 1 + OLD.splitlines().index('kerf = "1/8"   # wider than it says')


def test_opening_writes_nothing_and_neither_does_saving_what_has_not_changed(tmp_path: Path) -> None:
    path = written(tmp_path, OLD.encode())
    before = path.stat()
    opened = open_project(path)
    save(opened, opened.project)
    assert path.stat() == before and path.read_bytes() == OLD.encode()
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.parametrize("end", ["\n", "\r\n"], ids=["lf", "crlf"])
def test_a_saved_change_writes_the_new_format_with_every_comment(tmp_path: Path, end: str) -> None:
    path = written(tmp_path, OLD.replace("\n", end).encode())
    renamed(open_project(path), "Boot bench")
    assert path.read_bytes() == NEW.replace('"Bench"', '"Boot bench"').replace("\n", end).encode()
    assert open_project(path).project.design.saws == (Saw("table saw", "any", "1/8"),)


@pytest.mark.parametrize("end", ["\n", "\r\n"], ids=["lf", "crlf"])
def test_the_file_as_it_was_opened_is_kept_byte_for_byte(tmp_path: Path, end: str) -> None:
    data = OLD.replace("\n", end).encode()
    path = written(tmp_path, data)
    opened = renamed(open_project(path), "Boot bench")
    assert opened.kept_path.read_bytes() == data
    opened = renamed(opened, "Shoe bench")
    assert opened.kept_path.read_bytes() == data
    assert b"Shoe bench" in path.read_bytes()


def test_a_second_saw_is_added_behind_the_one_that_was_alone(tmp_path: Path) -> None:
    path = written(tmp_path, OLD.encode())
    opened = open_project(path)
    design = replace(opened.project.design, saws=(*opened.project.design.saws, Saw("track saw", "track", "3/32")))
    save(opened, replace(opened.project, design=design))
    text = path.read_text()
    assert text.startswith(NEW[: NEW.index("# Loose things.")].rstrip())
    assert text.count("[[saw]]") == 2 and 'kind = "track"' in text
    assert open_project(path).project.design == design


def test_what_was_ticked_stays_ticked() -> None:
    when = "2026-03-01T10:00:00"
    tick = f'\n[[facts.cut]]\nsheet = "ply-1"\npiece = "ply-1"\nmakes = ["ply-1.1"]\nwhen = "{when}"\n'
    assert read_text(OLD + tick, "bench.toml").project.facts.cuts == (CutMade("ply-1", "ply-1", ("ply-1.1",), when),)


def test_a_dimension_called_format_and_notes_that_look_like_a_file_are_left_alone() -> None:
    text = 'format = 1\nname = "x"\nnotes = """\nformat = 1\n[saw]\n"""\n[dimensions]\nformat = 1\n'
    assert upgraded(text) == text.replace("format = 1", "format = 2", 1)


def test_a_saw_told_key_by_key_becomes_one_of_several() -> None:
    text = 'format = 1\nname = "x"\nsaw.name = "a}b"\nsaw.kerf = "1/8"\n'
    saws = read_text(text, "x.toml").project.design.saws
    assert [(saw.name, saw.kerf) for saw in saws] == [("a}b", "1/8")]
