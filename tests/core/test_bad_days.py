"""Bad days with the demos: after every accident the documents that the commands print can be played to the end."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from fractions import Fraction
from functools import partial
from pathlib import Path
from random import Random
from typing import Any

import pytest
from shop import Shop, check_edges

from core import accidents
from core.amending import after
from core.cutting import maker_of
from core.edits import set_value
from core.lying import Thing, things_lying
from core.outputs import Document, cuts_document, sheets_document
from core.project import Design, Facts
from core.storage import create, open_project

DEMOS = sorted((Path(__file__).parents[2] / "projects").glob("*.toml"))
HAIR = 1e-5
Piece = dict[str, Any]


def play(shop: Shop) -> None:
    """Every step in order cuts a piece that is there, and every part comes free where it lies."""
    plan = shop.plan
    check_edges(plan)
    cuts: Document = cuts_document(plan)
    sheets: Document = sheets_document(plan.sheets, plan.worked.goods.thickness, plan.worked.kerf)
    there: dict[str, Piece] = {one["id"]: {**one, "x": 0, "y": 0, "sheet": one["id"]} for one in cuts["sheets"]}
    numbers = [past["step"] for past in cuts["history"]]
    assert len(set(numbers)) == len(numbers)
    last = 0
    for step in cuts["steps"]:
        assert step["step"] > last and step["step"] not in numbers
        last = step["step"]
        piece = there.pop(step["piece"])
        for made, (start, extent) in zip(step["pieces"], _expected(piece, step), strict=True):
            place, size = ("y", "width") if step["direction"] == "rip" else ("x", "length")
            assert made[place] == pytest.approx(start, abs=HAIR) and made[size] == pytest.approx(extent, abs=HAIR)
            assert made["id"] not in there
            there[made["id"]] = {**made, "sheet": step["sheet"]}
    for sheet in (sheet for material in sheets["materials"] for sheet in material["sheets"]):
        for lying in sheet["parts"]:
            freed = there.get(lying["piece"])
            if freed is None:
                # It is the sheet, or the piece, as it comes.
                assert len(sheet["parts"]) == 1 and lying["length"] == pytest.approx(sheet["length"], abs=HAIR)
                continue
            assert freed["sheet"] == sheet["id"] and freed["use"] == "part"
            for key in ("x", "y", "length", "width"):
                assert freed[key] == pytest.approx(lying[key], abs=HAIR)


def _expected(piece: Piece, step: Piece) -> list[tuple[float, float]]:
    start, whole = (piece["y"], piece["width"]) if step["direction"] == "rip" else (piece["x"], piece["length"])
    fence, kerf = step["fence"], step["kerf"]
    rest = whole - fence - kerf
    low = step["from"] in ("bottom", "left")
    first = (start if low else start + whole - fence, fence)
    return [first, *([(start + fence + kerf if low else start, rest)] if rest > HAIR else [])]


def happened(kind: str, thing: Thing, shop: Shop) -> tuple[Callable[[Facts], Facts], Design | None]:
    """What an accident of a kind does to a thing: to the facts, and to the design."""
    plan, design = shop.plan, shop.project.design
    kerf, name = plan.worked.kerf, thing.name
    sheet = next((one for sheets in plan.sheets for one in sheets.sheets if one.id == name), None)

    def on(change: Callable[[Facts], Facts]) -> Callable[[Facts], Facts]:
        if not thing.fresh or sheet is None:
            return change
        return lambda facts: change(accidents.take_up(facts, sheet, thing.length, thing.width))

    saw = design.saws[0].name
    return {
        "spoiled": (on(partial(accidents.spoil, name=name)), None),
        "smaller": (
            on(partial(accidents.resize, name=name, length=thing.length * Fraction(3, 4), width=thing.width - 7)),
            None,
        ),
        "cut otherwise": (
            on(
                partial(
                    accidents.cut_otherwise, name=name, direction="rip", size=thing.width / 3, edge="top", kerf=kerf
                )
            ),
            None,
        ),
        "bad place": (
            on(
                lambda facts: accidents.mark_bad(
                    facts, name, thing.length / 3, thing.width / 4, thing.length / 10, thing.width / 10
                )
            ),
            None,
        ),
        "thickness": (_as_it_is, set_value(design, ("materials", thing.material, "actual"), "17.9 mm")),
        "kerf": (
            partial(accidents.took, saw=saw, kerf=Fraction("3.4")),
            set_value(design, ("saws", 0, "kerf"), "3.4 mm"),
        ),
        "another": (
            partial(accidents.bring, material=thing.material, length=Fraction(900), width=Fraction(500)),
            None,
        ),
        "shallower": (_as_it_is, set_value(design, ("row", 0, "depth"), "320 mm")),
    }[kind]


def _as_it_is(facts: Facts) -> Facts:
    return facts


KINDS = ("spoiled", "smaller", "cut otherwise", "bad place", "thickness", "kerf", "another", "shallower")


@pytest.mark.parametrize("seed", range(3))
@pytest.mark.parametrize("demo", DEMOS, ids=lambda path: path.stem)
def test_whatever_goes_otherwise_the_documents_play_to_the_last_cut(demo: Path, seed: int, tmp_path: Path) -> None:
    chance = Random(seed)
    path = tmp_path / demo.name
    shutil.copy(demo, path)
    opened = open_project(path)
    shop = Shop(opened.project.design, opened.project.facts)
    play(shop)
    for kind in chance.sample(KINDS, 4):
        for _ in range(chance.randint(5, 25)):
            steps = shop.plan.steps
            ready = [one for one in steps if not one.done and ((maker := maker_of(steps, one)) is None or maker.done)]
            if ready:
                shop.tick(ready[0].number if chance.random() < 0.7 else chance.choice(ready).number)
        past = shop.project.facts.history
        thing = chance.choice(list(things_lying(shop.plan).values()))
        change, design = happened(kind, thing, shop)
        shop.project = after(shop.planner, shop.plan, thing.material, change, design)
        shop.take_up()
        assert shop.project.facts.history[: len(past)] == past
        play(shop)
    while waiting := shop.next_step():
        shop.tick(waiting.number)
    play(shop)
    # What is stored is the same once it has been through a file.
    again = open_project(create(tmp_path / "again.toml", shop.project).path).project
    assert again.facts == shop.project.facts
    assert Shop(again.design, again.facts).plan.steps == shop.plan.steps
