"""No name that was ever pencilled on a piece is given to another one, whatever becomes of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from designs import INCH, design
from shop import Shop

from core import accidents
from core.amending import after
from core.mistakes import Mistake
from core.on_hand import numbers_used, with_names_given
from core.project import Facts, LoosePart


def shop_of_boards(quantity: int = 6) -> Shop:
    """Boards of plywood, of which the first cut is made."""
    shop = Shop(design(loose=(LoosePart("L1", "Board", "ply", "40", "10", quantity),)))
    shop.tick(1)
    return shop


def suffer(shop: Shop, change: Callable[[Facts], Facts]) -> set[str]:
    """Something goes another way: the names of the pieces in the shop afterwards."""
    shop.project = after(shop.planner, shop.plan, "ply", change)
    shop.take_up()
    return {piece.id for piece in shop.project.facts.pieces}


def test_a_piece_of_the_rack_that_is_spoiled_takes_its_name_with_it() -> None:
    shop = shop_of_boards()
    assert "rack-1" in suffer(shop, lambda facts: accidents.bring(facts, "ply", 31 * INCH, 21 * INCH))
    assert "rack-1" not in suffer(shop, lambda facts: accidents.spoil(facts, "rack-1"))
    now = suffer(shop, lambda facts: accidents.bring(facts, "ply", 30 * INCH, 20 * INCH))
    assert "rack-2" in now and "rack-1" not in now


def test_a_piece_that_was_cut_otherwise_and_spoiled_takes_its_number_with_it() -> None:
    shop = shop_of_boards(1)
    shop.tick(*(one.number for one in shop.plan.steps if not one.done))
    suffer(shop, lambda facts: facts)
    name = max(shop.project.facts.pieces, key=lambda piece: piece.length).id

    def cut(of: str, inches: int) -> list[str]:
        had = {piece.id for piece in shop.project.facts.pieces}
        made = accidents.cut_otherwise
        now = suffer(shop, lambda facts: made(facts, of, "crosscut", inches * INCH, "left", INCH / 8))
        return sorted(now - had, key=lambda id: int(id.rpartition(".")[2]))

    first, other = cut(name, 9)
    suffer(shop, lambda facts: accidents.spoil(facts, other))
    assert not set(cut(first, 5)) & {first, other, name}


def test_names_that_are_remembered_are_counted_with_those_that_are_there() -> None:
    facts = Facts(names_given="ply-1:32 rack:2")
    assert numbers_used(facts) == {"ply-1": 32, "rack": 2}
    more = with_names_given(Facts(names_given="rack:3"), facts)
    assert more.names_given == "ply-1:32 rack:3"


@pytest.mark.parametrize("text", ["ply-1", "ply-1:x", ":3", "ply-1:9999999999"])
def test_names_given_that_cannot_be_read_are_refused_with_a_sentence(text: str) -> None:
    with pytest.raises(Mistake, match="are not a name and a number, such as ply-1:32"):
        numbers_used(replace(Facts(), names_given=text))
