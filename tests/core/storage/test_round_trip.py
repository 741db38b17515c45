"""Any valid project survives the file: a new one, an amended one, and one that somebody wrote by hand."""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Iterator
from itertools import count
from random import Random
from typing import Annotated, Any, get_args, get_origin, get_type_hints

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from core.project import Project
from core.storage.agreement import Wanted
from core.storage.document import merged
from core.storage.plain import plain_project
from core.storage.reading import parse, read_text
from core.storage.schema import read_project
from core.storage.writing import changed_text, new_text

from .any_project import projects
from .by_hand import Hand

some = settings(
    max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large]
)
randoms = st.randoms(use_true_random=False)


def amended(text: str, project: Project) -> str:
    """The text with the project brought into it, without the way out of writing it anew."""
    wanted = Wanted(plain_project(project, every_field=True), plain_project(project))
    return merged(text, parse(text), wanted)


@some
@given(projects())
def test_a_new_file_reads_back_as_the_project_and_is_not_touched_by_a_second_save(project: Project) -> None:
    text = new_text(project, "any.toml")
    assert read_text(text, "any.toml").project == project
    assert changed_text(text, project, "any.toml") == text


@some
@given(projects(), projects())
def test_any_project_is_brought_into_the_file_of_any_other(before: Project, after: Project) -> None:
    text = amended(new_text(before, "any.toml"), after)
    assert read_project(parse(text)) == (after, [])
    assert amended(text, after) == text


@some
@given(projects(), projects(), randoms)
def test_any_project_is_brought_into_a_file_written_by_hand(before: Project, after: Project, random: Random) -> None:
    by_hand = Hand(random).file(plain_project(before))
    assert read_text(by_hand, "any.toml").project == before
    assert amended(by_hand, before) == by_hand
    text = amended(by_hand, after)
    assert read_project(parse(text)) == (after, [])
    assert amended(text, after) == text


@some
@given(projects(), randoms)
def test_changed_sizes_cost_no_comment(before: Project, random: Random) -> None:
    by_hand = Hand(random).file(plain_project(before))
    # No size that any entry has had: one that becomes what another was is taken for that.
    new = (f"{number} mm" for number in count(1000))
    after = _resized(before, None, random, new)
    text = amended(by_hand, after)
    assert read_project(parse(text)) == (after, [])
    assert _comments(text) == _comments(by_hand)


def _comments(text: str) -> list[str]:
    return sorted(re.findall(r"# comment [0-9]+\.", text))


def _resized(value: Any, hint: Any, random: Random, new: Iterator[str]) -> Any:
    """The same with some of its sizes changed to new ones."""
    if get_origin(hint) is Annotated and hint.__metadata__[0] in ("size", "share"):
        return random.choice([value, next(new), next(new)])
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        hints = get_type_hints(type(value), include_extras=True)
        changes = {name: _resized(getattr(value, name), held, random, new) for name, held in hints.items()}
        return dataclasses.replace(value, **changes)
    if isinstance(value, tuple):
        return tuple(_resized(item, get_args(hint)[0], random, new) for item in value)
    if isinstance(value, dict):
        return {key: _resized(held, get_args(hint)[1], random, new) for key, held in value.items()}
    return value
