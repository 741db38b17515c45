"""Two saws, and the layout planned with the thicker blade: real wood is cut, and every part comes out as its blank.

What lies beyond the thin blade is too large by the difference. Wherever that is lost sight of, a part is.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from functools import partial
from random import Random

import pytest
from designs import design
from shop import Shop, check_sheets

from core import accidents
from core.amending import after, anew
from core.cutting import maker_of
from core.edits import set_value
from core.goods import Material, Stock, Trim
from core.lying import things_lying
from core.project import Design, LoosePart, Saw

TRIM = Trim("6 mm", "6 mm", "6 mm", "6 mm")
Size = tuple[Fraction, Fraction]


def boards(chance: Random) -> Design:
    """Loose boards of three sizes, out of one sheet or two, for a track saw of 2.2 mm and a table saw of 3.2."""
    saws = (Saw("track saw", "track", "2.2"), Saw("table saw", "table", "3.2", widest_rip="760"))
    sizes = [(str(chance.randint(250, 700)), str(chance.randint(90, 320)), chance.randint(2, 5)) for _ in range(3)]
    loose = tuple(LoosePart(f"L{n}", f"Board {n}", "ply", *size) for n, size in enumerate(sizes))
    ply = Material("Ply", "18", "18", stock=(Stock("2440", "1220", trim=TRIM),), density="680")
    return design(unit="mm", materials={"ply": ply}, loose=loose, saws=saws, rules={})


class Bench:
    """The wood as it really is: `sizes` of the pieces by what is pencilled on them, mm."""

    def __init__(self, shop: Shop) -> None:
        self.shop = shop
        self.sizes: dict[str, Size] = {}

    def cut_next(self, chance: Random) -> bool:
        """One cut that can be made now; whether there was one. A part that comes off is measured."""
        steps = self.shop.plan.steps
        ready = [one for one in steps if not one.done and ((maker := maker_of(steps, one)) is None or maker.done)]
        if not ready:
            return False
        planned = ready[0] if chance.random() < 0.8 else chance.choice(ready)
        step, mm, across = planned.step, planned.sheet.mm, planned.step.direction == "rip"
        assert not step.cannot
        assert step.piece in self.sizes or step.piece == step.sheet
        whole = self.sizes.pop(step.piece, (mm(planned.sheet.length), mm(planned.sheet.width)))
        fence = mm(step.fence)
        assert whole[across] > fence - planned.sheet.unit, "there is not that much of it"
        for number, made in enumerate(step.pieces):
            size = list(whole)
            size[across] = whole[across] - fence - step.saw.kerf if number else fence
            self.sizes[made.id] = (size[0], size[1])
            if made.use == "part":
                off = [abs(real - mm(asked)) for real, asked in zip(size, (made.length, made.width), strict=True)]
                assert max(off) < Fraction(1, 100), f"{made.id} is {float(max(off))} mm off"
        self.shop.tick(planned.number)
        return True


def happens(chance: Random, shop: Shop) -> None:
    """Something goes otherwise, or is decided otherwise."""
    of = shop.project.design
    kind = chance.choice(("spoiled", "blade", "limit", "size"))
    if kind == "spoiled":
        things = [one for one in things_lying(shop.plan).values() if not one.fresh]
        if things:
            change = partial(accidents.spoil, name=chance.choice(things).id)
            shop.project = after(shop.planner, shop.plan, "ply", change)
    else:
        path, value = {
            "blade": (("saws", 0, "kerf"), chance.choice(("1.8", "2.2", "3.2"))),
            "limit": (("saws", 1, "widest_rip"), chance.choice(("300", "760"))),
            "size": (("loose", chance.randrange(3), "length"), str(chance.randint(250, 700))),
        }[kind]
        shop.project = replace(shop.project, design=set_value(of, path, value))
        if chance.random() < 0.5:
            shop.take_up()
            shop.project = after(shop.planner, shop.plan, "ply")
    shop.take_up()


@pytest.mark.parametrize("seed", range(25))
def test_whatever_happens_every_part_is_as_large_as_its_blank(seed: int) -> None:
    chance = Random(seed)
    shop = Shop(boards(chance))
    bench = Bench(shop)
    for _ in range(3):
        for _ in range(chance.randint(4, 14)):
            bench.cut_next(chance)
        made = [one for one in shop.plan.steps if one.done]
        happens(chance, shop)
        # What is cut stays as it was cut, by the saw that it was then.
        still = {one.cut: one.step for one in shop.plan.steps if one.done}
        for one in made:
            if one.cut in still:
                now = still[one.cut]
                assert (now.saw.kerf, now.edge, now.fence) == (one.step.saw.kerf, one.step.edge, one.step.fence)
        check_sheets(shop.plan)
    for _ in range(200):
        if not bench.cut_next(chance):
            break
    assert all(one.done for one in shop.plan.steps)


def test_an_edge_that_a_saw_left_rough_is_cut_off_before_anything_is_laid_out_there() -> None:
    """The circular saw trims the top edge, where only an offcut lies, and leaves it rough: 1525 x 645 beside 560.

    When a part 645 wide is wanted, that is not so wide any more: the blade goes along once more.
    """
    saws = (
        Saw("circular saw", "circular", "3", finished=False),
        Saw("table saw", "table", "3", widest_rip="1300", heaviest_piece="60"),
    )
    ply = Material("Ply", "18", "18", stock=(Stock("2440", "1220", trim=TRIM),), density="680")
    loose = (LoosePart("L0", "Side", "ply", "500", "200", 4), LoosePart("L1", "Shelf", "ply", "900", "560", 3))
    of = design(unit="mm", materials={"ply": ply}, loose=loose, saws=saws, rules={})
    shop = Shop(of)
    shop.tick(*range(1, 10))
    assert shop.plan.steps[0].step.saw.name == "circular saw"
    for width, sheet in (("645", "ply-2"), ("642", "ply-1.17")):
        wide = set_value(set_value(of, ("loose", 0, "width"), width), ("loose", 0, "quantity"), 3)
        changed = replace(shop.project, design=wide)
        changed = anew(after(shop.planner, shop.planner.plan(changed, shop.find), "ply"), "ply")
        (offcut,) = (one for one in changed.facts.pieces if one.id == "ply-1.17")
        assert [int(side) * Fraction(offcut.unit) for side in offcut.trim.split()] == [0, 0, 0, 3]
        (new,) = (one for one in shop.planner.plan(changed, shop.find).sheets)
        assert {one.id for one in new.sheets if any(name.startswith("L1/") for name in one.pieces)} == {sheet}
