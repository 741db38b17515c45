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
from core.amending import after
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
            change = partial(accidents.spoil, name=chance.choice(things).name)
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
