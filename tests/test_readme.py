"""The README is what a person copies from: its project file is a project, and its lists are complete."""

from dataclasses import fields, is_dataclass
from pathlib import Path
from typing import Any

import pytest

from core.construction.rule_book import RULE_BOOK
from core.plan import Planner
from core.storage import open_project, open_shop
from tui.app import every_binding_id

README = (Path(__file__).parent.parent / "README.md").read_text(encoding="utf-8")
PROJECT, SHOP = (block.partition("```")[0] for block in README.split("```toml\n")[1:3])


def test_the_example_project_plans_without_a_problem(tmp_path: Path) -> None:
    path = tmp_path / "hall.toml"
    path.write_text(PROJECT, encoding="utf-8")
    plan = Planner().plan(open_project(path).project)
    assert [str(problem) for problem in plan.problems] == []
    assert not plan.worked.misfits
    assert plan.steps


def _keys(value: Any) -> set[str]:
    """The keys by which the file knows the fields of a value and of all that it holds."""
    found: set[str] = set()
    if is_dataclass(value):
        for field in fields(value):
            found |= {field.metadata.get("key", field.name), *_keys(getattr(value, field.name))}
    elif isinstance(value, tuple):
        found = set().union(*map(_keys, value))
    elif isinstance(value, dict):
        found = set().union(*map(_keys, value.values()))
    return found


def test_the_example_project_has_every_field_and_every_rule(tmp_path: Path) -> None:
    path = tmp_path / "hall.toml"
    path.write_text(PROJECT, encoding="utf-8")
    design = open_project(path).project.design
    written = PROJECT.replace(".", " ").replace("[", " ").replace("]", " ").split()
    missing = _keys(design) | {rule.name for rule in RULE_BOOK}
    assert missing - set(written) == set()


def test_the_example_shop_file_is_one(tmp_path: Path) -> None:
    path = tmp_path / "shop.toml"
    path.write_text(SHOP, encoding="utf-8")
    assert set(open_shop(path).keys) <= set(every_binding_id())


@pytest.mark.parametrize("id", every_binding_id())
def test_every_binding_can_be_found_by_its_id(id: str) -> None:
    assert f"`{id}`" in README
