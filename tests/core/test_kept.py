"""A part that no longer suits and is kept, or put aside, is so for what was asked then, and for nothing else."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from designs import design, inches
from shop import Shop

from core import accidents
from core.amending import after
from core.on_hand import Misfit
from core.project import Facts, LoosePart, PieceOnHand
from core.storage import create, open_project


def cut_shop(quantity: int = 3) -> Shop:
    """Boards of 40 x 10, all of them cut."""
    shop = Shop(design(loose=(LoosePart("L", "Board", "ply", "40", "10", quantity),)))
    while waiting := shop.next_step():
        shop.tick(waiting.number)
    shop.project = after(shop.planner, shop.plan, "ply")
    shop.take_up()
    return shop


def asked(shop: Shop, length: str, quantity: int = 3) -> dict[str, Misfit]:
    """What does not suit once the design asks for so many boards of that length."""
    (board,) = shop.project.design.loose
    shop.edit(replace(shop.project.design, loose=(replace(board, length=length, quantity=quantity),)))
    return misfits(shop)


def misfits(shop: Shop) -> dict[str, Misfit]:
    return {one.piece.part: one for one in shop.plan.sheets[0].misfits}


def keep(shop: Shop, misfit: Misfit) -> None:
    def change(facts: Facts) -> Facts:
        return accidents.keep(facts, misfit.piece.part, misfit.wanted)

    shop.project = after(shop.planner, shop.plan, "ply", change)
    shop.take_up()


def made(shop: Shop) -> dict[str, PieceOnHand]:
    return dict(shop.plan.sheets[0].made)


def test_what_is_kept_serves_for_the_size_that_was_asked_then_and_is_asked_about_at_another() -> None:
    shop = cut_shop()
    keep(shop, asked(shop, "39 1/3")["L1/1"])
    assert set(misfits(shop)) == {"L1/2", "L1/3"} and set(made(shop)) == {"L1/1"}
    again = asked(shop, "20")
    assert set(again) == {"L1/1", "L1/2", "L1/3"} and not made(shop)
    assert again["L1/1"].wanted and again["L1/1"].wanted.length == inches(20)
    # What was decided holds where the same is asked again, as it does for what suits.
    assert set(asked(shop, "39 1/3")) == {"L1/2", "L1/3"}
    assert not asked(shop, "40") and len(made(shop)) == 3


def test_what_is_kept_and_wanted_no_more_is_asked_about() -> None:
    shop = cut_shop(1)
    keep(shop, asked(shop, "39", 1)["L1/1"])
    assert made(shop)
    shop.edit(replace(shop.project.design, loose=(LoosePart("M", "Other", "ply", "20", "10"),)))
    assert misfits(shop)["L1/1"].wanted is None


def test_what_is_put_aside_stays_so_while_none_is_wanted() -> None:
    shop = cut_shop()
    (aside,) = asked(shop, "40", 2).values()
    assert aside.wanted is None
    keep(shop, aside)
    assert not misfits(shop) and len(made(shop)) == 2
    # Where one more is wanted it serves if it suits, and is asked about if not.
    assert not asked(shop, "40") and len(made(shop)) == 3
    assert aside.piece.part in asked(shop, "38")
    assert not made(shop)


def test_where_a_file_does_not_say_what_a_part_was_kept_for_it_serves_for_any_size() -> None:
    shop = cut_shop(1)
    asked(shop, "39", 1)
    old = tuple(replace(piece, kept=bool(piece.part)) for piece in shop.project.facts.pieces)
    shop.store(pieces=old)
    assert not misfits(shop) and set(made(shop)) == {"L1/1"}
    assert not asked(shop, "20", 1) and set(made(shop)) == {"L1/1"}


def test_what_a_part_was_kept_for_is_stored(tmp_path: Path) -> None:
    shop = cut_shop(1)
    keep(shop, asked(shop, "39 1/3", 1)["L1/1"])
    again = open_project(create(tmp_path / "kept.toml", shop.project).path).project
    assert again.facts == shop.project.facts
    (piece,) = (piece for piece in again.facts.pieces if piece.part)
    assert piece.kept_for == "14986/15 254"
    assert Fraction("14986/15") == inches("39 1/3")


@pytest.mark.parametrize("text", ["40", "1/0 3", "1e99 2", "x"])
def test_what_cannot_be_read_of_it_is_told_in_a_sentence(text: str) -> None:
    shop = cut_shop(1)
    asked(shop, "39", 1)
    shop.store(pieces=tuple(replace(one, kept=True, kept_for=text) for one in shop.project.facts.pieces))
    (problem,) = shop.plan.problems
    assert f"the size '{text}' that piece" in str(problem)
