"""Bad days in the shop: whatever is cut, spoiled or cut otherwise, every part is made or what is missing is said.

A bench is kept beside the plan that knows nothing of it: pieces with a size, which steps cut.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import partial

import pytest
from designs import GOODS, design
from hypothesis import given, settings
from hypothesis import strategies as st
from shop import Shop, check_edges

from core import accidents, edits
from core.amending import after, anew
from core.buy import buying_list
from core.cuts.steps import Edge
from core.cutting import PlannedStep, maker_of
from core.goods import Stock, Trim
from core.layout.place import meets, near
from core.mistakes import Mistake
from core.on_hand import bad_places
from core.outputs import sheets_document
from core.planned_sheet import read_over, read_unit
from core.project import Design, Facts, LoosePart, PieceOnHand, Saw

INCH = Fraction(254, 10)
Size = tuple[Fraction, Fraction]


def boards(*parts: tuple[str, str, int], stock: tuple[Stock, ...] = (Stock("96", "48"),), **changes: object) -> Design:
    """Loose parts of plywood, each as length, width and quantity."""
    loose = tuple(
        LoosePart(f"L{number}", f"Board {number}", "ply", length, width, quantity)
        for number, (length, width, quantity) in enumerate(parts)
    )
    goods = {**GOODS, "ply": replace(GOODS["ply"], stock=stock)}
    return design(loose=loose, materials=goods, **changes)


@dataclass
class Bench(Shop):
    """A shop in which cuts are really made: what lies on the bench, by the name that is pencilled on it."""

    lying: dict[str, Size] = field(default_factory=dict)

    def __init__(self, of: Design) -> None:
        super().__init__(of)
        self.lying = {}
        self.meant: dict[int, tuple[str, str, Fraction, Edge]] = {}
        self.note_numbers()

    def note_numbers(self) -> None:
        """No number that was ever shown since something happened means another cut later."""
        if not self.project.facts.begun:
            self.meant = {}
        for one in self.plan.steps:
            assert self.meant.setdefault(one.number, one.meaning) == one.meaning, f"step {one.number} means another cut"

    def make(self, one: PlannedStep) -> None:
        """Makes a cut, on the bench and in the plan."""
        step, sheet = one.step, one.sheet
        if step.piece not in self.lying:
            assert step.piece == sheet.id and not sheet.on_hand, f"{step.piece} is nowhere"
            self.lying[step.piece] = (sheet.mm(sheet.length), sheet.mm(sheet.width))
        length, width = self.lying.pop(step.piece)
        whole = width if step.direction == "rip" else length
        fence, kerf = sheet.mm(step.fence), sheet.mm(step.kerf)
        assert 0 < fence <= whole
        for made, extent in zip(step.pieces, (fence, whole - fence - kerf), strict=False):
            if made.use != "waste":
                assert made.id not in self.lying
                self.lying[made.id] = (length, extent) if step.direction == "rip" else (extent, width)
        self.tick(one.number)
        self.note_numbers()

    def allowed(self) -> list[PlannedStep]:
        """The steps that can be made now."""
        steps = self.plan.steps
        return [one for one in steps if not one.done and ((maker := maker_of(steps, one)) is None or maker.done)]

    def suffer(self, change: Callable[[Facts], Facts], material: str = "ply") -> None:
        """Something goes another way."""
        before = self.project.facts.history
        cut = {(one.sheet, one.piece) for one in self.project.facts.cuts}
        self.project = after(self.planner, self.plan, material, change)
        self.take_up()
        past = self.project.facts.history
        assert past[: len(before)] == before, "what was done is altered"
        still = {(one.sheet, one.piece) for one in self.project.facts.cuts}
        assert {(one.sheet, one.piece) for one in past[len(before) :]} | still == cut
        self.note_numbers()
        self.check()

    def check(self) -> None:
        """Plan and bench agree; every part is made, planned or missed."""
        facts = self.project.facts
        for piece in facts.pieces:
            unit = read_unit(piece.unit, "")
            really = self.lying.get(piece.part or piece.id)
            if really is not None:
                # What waits to be skimmed is a hair larger.
                assert all(0 <= a * unit - b <= unit for a, b in zip((piece.length, piece.width), really, strict=True))
        for one in self.plan.sheets:
            wanted = sorted(
                id for kind in self.plan.kinds if kind.part.material == one.material for id in kind.piece_ids()
            )
            planned = [piece for sheet in one.sheets for piece in sheet.pieces]
            missed = [piece for piece, _ in one.unplaced]
            assert sorted([*planned, *missed, *one.made]) == wanted
            for sheet in one.sheets:
                for lying in sheet.placed() if sheet.bad else ():
                    assert not meets(sheet.bad, lying.x, lying.y, lying.length, lying.width)
        check_edges(self.plan)

    def finish(self) -> None:
        """Makes every cut that is left, and counts the parts on the bench."""
        for _ in range(2000):
            steps = self.allowed()
            if not steps:
                break
            self.make(steps[0])
        assert all(one.done for one in self.plan.steps)
        blanks = {blank.code: blank for one in self.plan.sheets for blank in one.blanks}
        for one in self.plan.sheets:
            missed = {piece for piece, reason in one.unplaced if reason}
            for kind in self.plan.kinds:
                for piece in kind.piece_ids() if kind.part.material == one.material else ():
                    if piece in missed:
                        continue
                    name = one.made[piece].part if piece in one.made else piece
                    whole = [sheet for sheet in one.sheets if sheet.pieces == (piece,) and len(sheet.placed()) == 1]
                    if name not in self.lying and whole and whole[0].placed()[0].length == whole[0].length:
                        continue  # It is a sheet, or a piece, as it comes.
                    blank = blanks[kind.code]
                    really = self.lying[name]
                    assert really in ((blank.length, blank.width), (blank.width, blank.length)), f"{piece} is {really}"


def bought(shop: Shop) -> dict[str, float]:
    lines = [line for line in buying_list(shop.plan) if line.unit == "sheet"]
    assert len({line.item for line in lines}) == len(lines), "a size is told twice"
    return {line.item: line.quantity for line in lines}


THREE = boards(("40", "10", 6), ("20", "10", 5))


def test_a_spoiled_part_comes_out_of_an_offcut_and_nothing_more_is_bought() -> None:
    shop = Bench(THREE)
    before, cost = {one.number for one in shop.plan.steps}, bought(shop)
    while not {"L1/1", "L2/1"} & shop.lying.keys():
        shop.make(shop.allowed()[0])
    name = next(iter({"L1/1", "L2/1"} & shop.lying.keys()))
    left = {one.number for one in shop.plan.steps if not one.done}
    del shop.lying[name]
    shop.suffer(lambda facts: accidents.spoil(facts, name))
    assert bought(shop) == cost
    # Every cut that was left is left, under its number, and a few come after them.
    now = {one.number for one in shop.plan.steps}
    assert left <= now and min(now - left) > max(before)
    shop.finish()


def test_of_a_spoiled_part_that_is_still_large_enough_another_is_cut() -> None:
    shop = Bench(THREE)
    cost = bought(shop)
    while "L1/1" not in shop.lying:
        shop.make(shop.allowed()[0])
    length, width = shop.lying.pop("L1/1")
    shop.lying["was"] = (length - 5 * INCH, width)
    shop.suffer(lambda facts: accidents.resize(facts, "L1/1", length - 5 * INCH, width))
    shop.lying[shop.project.facts.pieces[-1].id] = shop.lying.pop("was")
    piece = next(one for one in shop.project.facts.pieces if not one.part and one.length)
    assert piece
    assert bought(shop) == cost


def test_where_nothing_in_the_shop_will_do_a_new_sheet_is_planned_and_where_there_is_none_it_is_said() -> None:
    one_sheet = boards(("96", "23", 2), stock=(Stock("96", "48", quantity=1),))
    two_sheets = boards(("96", "23", 2), stock=(Stock("96", "48"),))
    for of, sheets in ((one_sheet, 1), (two_sheets, 2)):
        shop = Bench(of)
        shop.make(shop.allowed()[0])
        shop.lying.pop("L1/1")
        shop.suffer(lambda facts: accidents.spoil(facts, "L1/1"))
        (plywood,) = shop.plan.sheets
        assert bought(shop)["Plywood 3/4, 96 x 48"] == sheets
        assert [piece for piece, reason in plywood.unplaced if reason] == (["L1/1"] if sheets == 1 else [])
        shop.finish()


@pytest.mark.parametrize(
    "first",
    [
        {"first_crosscut": "48"},
        {"first_crosscut": "48", "crosscut_loses": "1/4"},
        {"first_rip": "24", "rip_loses": "1/2"},
    ],
)
def test_in_half_a_sheet_that_nothing_was_to_come_of_parts_lie_inside_its_trim(first: dict[str, str]) -> None:
    stock = Stock("96", "48", "80", None, Trim("3/8", "3/8", "3/8", "3/8"), **first)
    # A sheet and a half; of the first sheet, half is spoiled.
    shop = Bench(boards(("40", "23", 6), stock=(stock,)))
    first_cut = shop.allowed()[0]
    shop.make(first_cut)
    (spoiled, *_) = (made.id for made in first_cut.step.pieces)
    del shop.lying[spoiled]
    shop.suffer(partial(accidents.spoil, name=spoiled))
    assert bought(shop) == {"Plywood 3/4, 96 x 48": 2}
    assert len([piece for sheet in shop.plan.sheets[0].sheets for piece in sheet.pieces if not sheet.on_hand]) == 4
    shop.finish()


def test_what_was_cut_otherwise_is_two_pieces_and_the_rest_is_laid_out_on_them() -> None:
    shop = Bench(THREE)
    piece = shop.plan.steps[0].step.piece
    length, width = 96 * INCH, 48 * INCH
    kerf = INCH / 8
    shop.make(shop.allowed()[0])
    name = next(id for id in shop.lying if "." in id)
    length, width = shop.lying.pop(name)
    off = width / 3
    shop.suffer(lambda facts: accidents.cut_otherwise(facts, name, "rip", off, "top", kerf))
    made = [one for one in shop.project.facts.pieces if one.id not in shop.lying][-2:]
    assert piece == "ply-1"
    for one, extent in zip(made, (off, width - off - kerf), strict=True):
        unit = read_unit(one.unit, "")
        assert abs(one.width * unit - extent) < unit and one.length * unit == length
        shop.lying[one.id] = (one.length * unit, one.width * unit)
    shop.check()
    shop.finish()


def test_a_sheet_that_measures_less_is_laid_out_as_it_is() -> None:
    shop = Bench(boards(("47", "12", 8)))
    sheet = shop.sheet("ply-1")
    shop.suffer(lambda facts: accidents.take_up(facts, sheet, 96 * INCH, 47 * INCH))
    shop.lying["ply-1"] = (96 * INCH, 47 * INCH)
    assert shop.sheet("ply-1").on_hand
    assert bought(shop)["Plywood 3/4, 96 x 48"] == 2, "four strips of 12 in no longer fit it"
    shop.finish()


def test_a_piece_from_the_rack_is_used_before_a_sheet_is_bought() -> None:
    shop = Bench(boards(("96", "23", 2), ("30", "20", 1)))
    assert bought(shop) == {"Plywood 3/4, 96 x 48": 2}
    shop.suffer(lambda facts: accidents.bring(facts, "ply", 31 * INCH, 21 * INCH))
    shop.project = anew(shop.project, "ply")
    shop.take_up()
    shop.note_numbers()
    shop.lying["rack-1"] = (31 * INCH, 21 * INCH)
    assert bought(shop) == {"Plywood 3/4, 96 x 48": 1}
    shop.finish()


def test_a_part_that_no_longer_suits_is_kept_or_made_again() -> None:
    shop = Bench(boards(("40", "10", 2), ("20", "10", 2)))
    while "L1/1" not in shop.lying:
        shop.make(shop.allowed()[0])
    shop.edit(
        replace(
            shop.project.design,
            loose=(replace(shop.project.design.loose[0], length="39"), shop.project.design.loose[1]),
        )
    )
    shop.suffer(lambda facts: facts)
    (plywood,) = shop.plan.sheets
    misfits = {one.piece.part: one for one in plywood.misfits}
    assert "L1/1" in misfits and misfits["L1/1"].wanted is not None
    assert misfits["L1/1"].length - misfits["L1/1"].wanted.length == INCH
    shop.suffer(lambda facts: accidents.keep(facts, "L1/1", misfits["L1/1"].wanted))
    (plywood,) = shop.plan.sheets
    assert "L1/1" in plywood.made and not [one for one in plywood.misfits if one.piece.part == "L1/1"]


def test_a_part_that_is_too_large_is_trimmed_to_what_the_design_asks_now() -> None:
    shop = Bench(boards(("40", "10", 3), ("20", "10", 2)))
    while "L1/1" not in shop.lying:
        shop.make(shop.allowed()[0])
    first, other = shop.project.design.loose
    shop.edit(replace(shop.project.design, loose=(replace(first, length="39", width="9 15/16"), other)))
    shop.suffer(lambda facts: facts)
    (misfit,) = [one for one in shop.plan.sheets[0].misfits if one.piece.part == "L1/1"]
    wanted = misfit.wanted
    assert wanted is not None
    cost = bought(shop)
    kerf = INCH / 8
    with pytest.raises(Mistake, match="too small"):
        shop.suffer(lambda facts: accidents.trim(facts, "L1/1", 41 * INCH, INCH, kerf))
    shop.suffer(lambda facts: accidents.trim(facts, "L1/1", wanted.length, wanted.width, kerf))
    (piece,) = [one for one in shop.project.facts.pieces if one.id == misfit.piece.id]
    shop.lying[piece.id] = shop.lying.pop("L1/1")
    on_it = [one for one in shop.plan.steps if one.step.sheet == piece.id]
    assert [(one.step.direction, one.sheet.mm(one.step.fence)) for one in on_it] == [
        ("rip", wanted.width),
        ("crosscut", wanted.length),
    ]
    assert bought(shop) == cost
    shop.finish()


@pytest.mark.parametrize("took", ["3/16", "3/32"])
def test_a_blade_that_took_more_or_less_changes_what_lies_beyond_it_and_nothing_at_the_fence(took: str) -> None:
    shop = Bench(boards(("40", "10", 3), ("20", "10", 3), saws=(Saw("saw", kerf="1/8"),)))
    really = INCH * Fraction(took)
    real: dict[str, Size] = {"ply-1": (96 * INCH, 48 * INCH)}
    for _ in range(5):
        one = shop.allowed()[0]
        length, width = real.pop(one.step.piece)
        fence = one.sheet.mm(one.step.fence)
        extents = (fence, (width if one.step.direction == "rip" else length) - fence - really)
        for made, extent in zip(one.step.pieces, extents, strict=False):
            real[made.id] = (length, extent) if one.step.direction == "rip" else (extent, width)
        shop.make(one)
    of = replace(shop.project.design, saws=(Saw("saw", kerf=took),))
    shop.project = after(shop.planner, shop.plan, "ply", lambda facts: accidents.took(facts, "saw", really), of)
    shop.take_up()
    pieces = shop.project.facts.pieces
    assert any(shop.lying.get(piece.part or piece.id) != real[piece.part or piece.id] for piece in pieces)
    for piece in pieces:
        unit = read_unit(piece.unit, "")
        length, width = real[piece.part or piece.id]
        # A piece that is larger than was planned waits to be skimmed.
        long, wide = read_over(piece.over, "")
        assert 0 <= length - piece.length * unit - long < unit and 0 <= width - piece.width * unit - wide < unit
    shop.lying = {
        piece.part or piece.id: (piece.length * read_unit(piece.unit, ""), piece.width * read_unit(piece.unit, ""))
        for piece in pieces
    }
    shop.meant = {}
    # A part that lay beyond a blade is too large or too small, and named.
    (ply,) = shop.plan.sheets
    assert {one.piece.part for one in ply.misfits} == {one.part for one in pieces if one.part and not _is_as_asked(one)}
    # Such a one is laid aside where another of its name will be cut.
    for name in {made.id for one in shop.plan.steps if not one.done for made in one.step.pieces}:
        shop.lying.pop(name, None)
    shop.finish()


def _is_as_asked(piece: PieceOnHand) -> bool:
    unit = read_unit(piece.unit, "")
    return {piece.length * unit, piece.width * unit} in ({40 * INCH, 10 * INCH}, {20 * INCH, 10 * INCH})


def cuts_in_waste(steps: Sequence[PlannedStep]) -> list[int]:
    """The steps of which neither a part nor an offcut that is kept comes, not even in the end."""
    of_use: set[str] = set()
    for one in reversed(steps):
        if any(made.use in ("part", "offcut") or made.id in of_use for made in one.step.pieces):
            of_use.add(one.step.piece)
    return [one.number for one in steps if one.step.piece not in of_use]


def test_a_bad_place_is_cut_out_and_nothing_is_laid_on_it_however_often_is_replanned() -> None:
    shop = Bench(boards(("30", "12", 6), ("20", "10", 6)))
    sheet = shop.sheet("ply-1")
    bad = (40 * INCH, 20 * INCH, 3 * INCH, 3 * INCH)
    shop.suffer(lambda facts: accidents.mark_bad(accidents.take_up(facts, sheet, 96 * INCH, 48 * INCH), "ply-1", *bad))
    shop.lying["ply-1"] = (96 * INCH, 48 * INCH)

    assert cuts_in_waste(shop.plan.steps) == []
    assert sum(len(one.placed()) for sheets in shop.plan.sheets for one in sheets.sheets if one.bad) > 4
    for _ in range(3):
        for _ in range(2):
            if steps := shop.allowed():
                shop.make(steps[0])
        shop.suffer(lambda facts: facts)
        assert cuts_in_waste(shop.plan.steps) == []
    shop.finish()


def mark_bad(shop: Bench, piece: str, x: int, y: int | Fraction, length: int, width: int) -> None:
    """Inches, from the lower left corner of a piece, or of a whole sheet that is 96 x 48."""
    fresh = next((one for sheets in shop.plan.sheets for one in sheets.sheets if one.id == piece and one.stock), None)
    place = (x * INCH, y * INCH, length * INCH, width * INCH)

    def change(facts: Facts) -> Facts:
        if fresh is not None and not fresh.begun:
            facts = accidents.take_up(facts, fresh, 96 * INCH, 48 * INCH)
        return accidents.mark_bad(facts, piece, *place)

    shop.suffer(change)
    shop.lying.setdefault(piece, (96 * INCH, 48 * INCH))


@pytest.mark.parametrize("begun", [False, True])
def test_a_bad_place_where_no_part_lies_leaves_every_cut_as_it_is(begun: bool) -> None:
    # By hand: two by two boards 47 x 14 leave 96 x 19 3/4 of a sheet.
    shop = Bench(boards(("47", "14", 4)))
    (sheet,) = shop.plan.sheets[0].sheets
    lying = [(one.piece, one.x, one.y) for one in sheet.placed()]
    name = "ply-1"
    while begun and name == "ply-1":
        one = shop.allowed()[0]
        shop.make(one)
        name = next((made.id for made in one.step.pieces if made.use == "offcut"), name)
    before = [one.meaning for one in shop.plan.steps if not one.done]
    mark_bad(shop, name, 20, 2 if begun else 40, 3, 3)
    assert [one.meaning for one in shop.plan.steps] == before
    assert len(shop.searched) == 1, "nothing is laid out anew"
    if not begun:
        (sheet,) = shop.plan.sheets[0].sheets
        assert sheet.on_hand and [(one.piece, one.x, one.y) for one in sheet.placed()] == lying
    shop.finish()
    shop.suffer(lambda facts: facts)
    (left,) = [piece for piece in shop.project.facts.pieces if not piece.part]
    assert bad_places(left), "what is kept, for there is enough beside it, has its bad place with it"


def test_what_is_missing_goes_beside_a_bad_place_before_a_sheet_is_bought() -> None:
    shop = Bench(boards(("47", "14", 4)))
    mark_bad(shop, "ply-1", 1, 44, 3, 3)
    while not (cut := [name for name in shop.lying if "/" in name]):
        shop.make(shop.allowed()[0])
    del shop.lying[cut[0]]
    shop.suffer(partial(accidents.spoil, name=cut[0]))
    assert bought(shop) == {"Plywood 3/4, 96 x 48": 1}
    assert cuts_in_waste(shop.plan.steps) == []
    shop.finish()


def test_beside_a_bad_place_a_first_rip_of_the_unused_half_is_still_to_be_made() -> None:
    # By hand: halves of 48 x 48, each ripped at 24 first, give no board 40 x 30.
    stock = (Stock("96", "48", first_crosscut="48", first_rip="24"),)
    shop = Bench(boards(("40", "20", 1), stock=stock))
    mark_bad(shop, "ply-1", 5, 26, 3, 3)
    shop.edit(boards(("40", "20", 1), ("40", "30", 1), stock=stock))
    shop.suffer(lambda facts: facts)
    assert [piece for piece, _ in shop.plan.sheets[0].unplaced] == ["L2/1"]


def test_a_part_keeps_a_kerf_away_from_a_bad_place() -> None:
    # A thinner blade leaves more beyond it: what begins right behind a bad place would have some of that.
    for y, stays in ((Fraction(29), True), (Fraction("28.15"), False)):
        shop = Bench(boards(("47", "14", 4)))
        before = [one.meaning for one in shop.plan.steps]
        # By hand: the upper boards end at 28 1/8.
        mark_bad(shop, "ply-1", 10, y, 3, 3)
        assert ([one.meaning for one in shop.plan.steps] == before) == stays
        (sheet,) = [one for one in shop.plan.sheets[0].sheets if one.id == "ply-1"]
        (bad,) = sheet.bad
        assert not any(meets([near(bad, sheet.kerf)], one.x, one.y, one.length, one.width) for one in sheet.placed())


def test_a_bad_place_on_a_part_comes_to_lie_in_what_is_left_over() -> None:
    # By hand: two by two boards 47 x 14 leave 96 x 19 3/4 of a sheet, which may as well lie below them.
    shop = Bench(boards(("47", "14", 4)))
    mark_bad(shop, "ply-1", 10, 5, 2, 2)
    (sheet,) = shop.plan.sheets[0].sheets
    (offcut,) = [one for one in sheet.offcuts() if one.worth_keeping]
    assert sheet.id == "ply-1" and (sheet.mm(offcut.length), offcut.y) == (96 * INCH, 0)
    assert cuts_in_waste(shop.plan.steps) == []
    assert len(shop.searched) == 1, "nothing is laid out anew"
    shop.finish()


def test_where_no_order_will_do_a_bad_place_on_one_part_leaves_the_others_where_they_are() -> None:
    # By hand: two by two boards 47 x 22 leave no strip of 5.
    shop = Bench(boards(("47", "22", 4), ("40", "20", 1)))
    before = {one.piece: (sheet.id, one.x, one.y) for sheet in shop.plan.sheets[0].sheets for one in sheet.placed()}
    mark_bad(shop, "ply-1", 10, 5, 5, 5)
    now = {one.piece: (sheet.id, one.x, one.y) for sheet in shop.plan.sheets[0].sheets for one in sheet.placed()}
    assert {sheet.id for sheet in shop.plan.sheets[0].sheets} == {"ply-1", "ply-2"}
    assert [piece for piece in before if now[piece] != before[piece]] == ["L1/1"]
    assert cuts_in_waste(shop.plan.steps) == []
    shop.finish()


def test_a_piece_is_laid_out_anew_where_what_lay_on_its_bad_place_would_take_a_new_sheet() -> None:
    # By hand: of two boards 46 x 22 over one 90 x 22, the one that has the bad place at its end moves on by 2 in.
    shop = Bench(boards(("46", "22", 2), ("90", "22", 1)))
    (sheet,) = shop.plan.sheets[0].sheets
    (long,) = [one for one in sheet.placed() if one.piece == "L2/1"]
    mark_bad(shop, "ply-1", 0, int(sheet.mm(long.y) / INCH) + 5, 2, 2)
    (sheet,) = shop.plan.sheets[0].sheets
    assert sheet.id == "ply-1" and len(sheet.pieces) == 3
    assert cuts_in_waste(shop.plan.steps) == []
    shop.finish()


@settings(max_examples=30, deadline=None)
@given(st.integers(0, 90), st.integers(0, 42), st.sampled_from(["0", "1/4"]))
def test_wherever_a_bad_place_lies_no_part_lies_on_it_nor_in_the_trim(x: int, y: int, trim: str) -> None:
    stock = (Stock("96", "48", trim=Trim(trim, trim, trim, trim)),)
    shop = Bench(boards(("40", "14", 3), ("20", "10", 4), stock=stock))
    mark_bad(shop, "ply-1", x, y, 3, 3)
    (sheet,) = [one for one in shop.plan.sheets[0].sheets if one.id == "ply-1"]
    edge = Fraction(trim) * INCH
    for one in sheet.placed():
        assert edge <= sheet.mm(one.x) <= 96 * INCH - edge - sheet.mm(one.length)
        assert edge <= sheet.mm(one.y) <= 48 * INCH - edge - sheet.mm(one.width)
        assert not meets(sheet.bad, one.x, one.y, one.length, one.width)
    assert cuts_in_waste(shop.plan.steps) == []


def test_a_first_rip_stays_where_the_only_part_of_a_half_lay_on_a_bad_place() -> None:
    # By hand: right of 46 in, beside the bad place, 26 x 48 would hold the board 25 x 30, but not once that is ripped.
    stock = (Stock("96", "48", first_crosscut="48", first_rip="24"),)
    shop = Bench(boards(("40", "20", 3), stock=stock))
    mark_bad(shop, "ply-1", 60, 18, 10, 10)
    assert [len(one.pieces) for one in shop.plan.sheets[0].sheets] == [2, 1]
    shop.edit(boards(("40", "20", 3), ("25", "30", 1), stock=stock))
    shop.suffer(lambda facts: facts)
    assert [piece for piece, _ in shop.plan.sheets[0].unplaced] == ["L2/1"]


def test_two_bad_places_are_both_kept_clear() -> None:
    shop = Bench(boards(("47", "14", 4)))
    mark_bad(shop, "ply-1", 1, 44, 3, 3)
    mark_bad(shop, "ply-1", 10, 40, 2, 2)
    (piece,) = shop.project.facts.pieces
    places = [(1, 44, 3, 3), (10, 40, 2, 2)]
    (told,) = sheets_document(shop.plan.sheets, {}, INCH / 8)["materials"][0]["sheets"]
    assert [place["x"] for place in told["bad"]] == [25.4, 254] and told["bad"][0]["width"] == 76.2
    assert bad_places(piece) == tuple(tuple(side * INCH for side in place) for place in places)


def test_what_is_bad_as_a_whole_is_one_place_and_so_are_the_nearest_of_too_many() -> None:
    shop = Bench(boards(("47", "14", 4)))
    told = [(1, 44, 3, 3), (1, 44, 5, 4), (0, 44, 1, 4), (20, 30, 1, 1), (60, 30, 1, 1), (90, 30, 1, 1), (91, 31, 1, 1)]
    for place in told:
        mark_bad(shop, "ply-1", *place)
    (piece,) = shop.project.facts.pieces
    # By hand: the second has the first in it, and the third makes a rectangle with it; the last is one too many.
    places = [(0, 44, 6, 4), (20, 30, 1, 1), (60, 30, 1, 1), (90, 30, 2, 2)]
    assert bad_places(piece) == tuple(tuple(side * INCH for side in place) for place in places)


def test_between_two_bad_places_far_apart_the_sheet_is_used() -> None:
    # By hand: beside a place at two opposite corners two boards 80 x 20 lie in a sheet; round both nothing would.
    shop = Bench(boards(("80", "20", 2)))
    mark_bad(shop, "ply-1", 0, 0, 2, 2)
    mark_bad(shop, "ply-1", 94, 46, 2, 2)
    assert [sheet.id for sheet in shop.plan.sheets[0].sheets] == ["ply-1"]
    assert not shop.plan.sheets[0].unplaced
    shop.finish()


def test_a_bad_place_goes_with_the_piece_that_it_lies_on_when_that_is_cut_otherwise() -> None:
    shop = Bench(boards(("30", "12", 6)))
    sheet = shop.sheet("ply-1")
    bad = (40 * INCH, 20 * INCH, 5 * INCH, 3 * INCH)
    shop.suffer(lambda facts: accidents.mark_bad(accidents.take_up(facts, sheet, 96 * INCH, 48 * INCH), "ply-1", *bad))
    shop.suffer(lambda facts: accidents.cut_otherwise(facts, "ply-1", "crosscut", 42 * INCH, "left", INCH / 8))
    first, second = shop.project.facts.pieces
    assert bad_places(first) == ((40 * INCH, 20 * INCH, 2 * INCH, 3 * INCH),)
    assert bad_places(second) == ((0, 20 * INCH, 3 * INCH - INCH / 8, 3 * INCH),)
    with pytest.raises(Mistake, match="does not lie on"):
        shop.suffer(lambda facts: accidents.mark_bad(facts, first.id, 41 * INCH, INCH, 2 * INCH, INCH))


def test_what_cannot_have_happened_is_refused() -> None:
    shop = Bench(THREE)
    shop.make(shop.allowed()[0])
    name = next(id for id in shop.lying if "." in id)
    kerf = INCH / 8
    for change, sentence in (
        (lambda facts: accidents.spoil(facts, "L9/9"), "no piece 'L9/9'"),
        (lambda facts: accidents.cut_otherwise(facts, name, "rip", 999 * INCH, "top", kerf), "does not go through"),
        (lambda facts: accidents.cut_otherwise(facts, name, "rip", INCH, "left", kerf), "measured from"),
        (lambda facts: accidents.resize(facts, name, Fraction(0), INCH), "a length and a width"),
        (lambda facts: accidents.keep(facts, name, None), "is no part"),
    ):
        facts = shop.project.facts
        with pytest.raises(Mistake, match=sentence):
            shop.suffer(change)
        assert shop.project.facts == facts


@st.composite
def jobs(draw: st.DrawFn) -> Design:
    parts = draw(
        st.lists(
            st.tuples(
                st.sampled_from(["10", "17 5/8", "30", "46 1/3", "60"]),
                st.sampled_from(["4", "9 7/16", "15", "23 1/3"]),
                st.integers(1, 4),
            ),
            min_size=1,
            max_size=4,
        )
    )
    trim = draw(st.sampled_from(["0", "1/4"]))
    first = draw(st.sampled_from([{}, {"first_crosscut": "48", "crosscut_loses": draw(st.sampled_from(["0", "1/4"]))}]))
    stock = (
        Stock(
            "96",
            "48",
            draw(st.sampled_from(["", "80"])),
            draw(st.sampled_from([None, 3, 4])),
            Trim(*[trim] * 4),
            **first,
        ),
        *([Stock("48", "48", "45")] if draw(st.booleans()) else []),
    )
    saws = (Saw("track saw", "track", "3/32"), Saw("table saw", "table", "1/8", widest_rip="30"))
    return boards(*parts, stock=stock, saws=draw(st.sampled_from([(Saw("saw", kerf="1/8"),), saws])))


@settings(max_examples=80, deadline=None)
@given(jobs(), st.data())
def test_however_a_day_goes_every_part_is_made_or_what_is_missing_is_said(of: Design, data: st.DataObject) -> None:
    shop = Bench(of)
    shop.check()
    for _ in range(data.draw(st.integers(1, 3))):
        for _ in range(data.draw(st.integers(0, 12))):
            if steps := shop.allowed():
                shop.make(data.draw(st.sampled_from(steps)))
        if not shop.lying:
            continue
        name = data.draw(st.sampled_from(sorted(shop.lying)))
        length, width = shop.lying[name]
        what = data.draw(st.sampled_from(["spoiled", "smaller", "again", "rack", "bad"]))
        if what == "spoiled":
            del shop.lying[name]
            shop.suffer(partial(accidents.spoil, name=name))
        elif what == "smaller":
            size = (length * data.draw(st.sampled_from([1, Fraction(1, 2)])), width * Fraction(3, 4))
            del shop.lying[name]
            before = {piece.id for piece in shop.project.facts.pieces if not piece.part}
            shop.suffer(partial(accidents.resize, name=name, length=size[0], width=size[1]))
            found = [p for p in shop.project.facts.pieces if not p.part and (p.id == name or p.id not in before)]
            for piece in found:
                unit = read_unit(piece.unit, "")
                shop.lying.setdefault(piece.id, (piece.length * unit, piece.width * unit))
        elif what == "again" and "/" in name:
            shop.suffer(partial(accidents.make_again, part=name))
            (piece,) = [p for p in shop.project.facts.pieces if p.id not in shop.lying and not p.part][:1] or [None]
            if piece is not None:
                shop.lying[piece.id] = shop.lying.pop(name)
        elif what == "bad" and "/" not in name:
            share, at = st.sampled_from([Fraction(1, 50), Fraction(1, 3)]), st.integers(0, 6)
            size = (length * data.draw(share), width * data.draw(share))
            shop.suffer(
                partial(
                    accidents.mark_bad,
                    name=name,
                    x=(length - size[0]) * data.draw(at) / 6,
                    y=(width - size[1]) * data.draw(at) / 6,
                    length=size[0],
                    width=size[1],
                )
            )
        elif what == "rack":
            shop.suffer(lambda facts: accidents.bring(facts, "ply", 40 * INCH, 16 * INCH))
            piece = shop.project.facts.pieces[-1]
            shop.lying[piece.id] = (40 * INCH, 16 * INCH)
    shop.finish()


def test_a_thickness_of_one_material_leaves_the_steps_of_another_that_is_not_begun_as_they_are() -> None:
    loose = (LoosePart("L1", "Board", "ply", "30", "10", 4), LoosePart("L2", "Front", "mdf", "30", "20", 2))
    shop = Shop(design(loose=loose))
    shop.tick(1)
    before = [(one.number, one.step) for one in shop.plan.steps if one.sheet.material == "mdf"]
    really = edits.set_value(shop.project.design, ("materials", "ply", "actual"), "23/32 in")
    shop.project = after(shop.planner, shop.plan, "ply", design=really)
    then = [(one.number, one.step) for one in shop.take_up().steps if one.sheet.material == "mdf"]
    assert before and then == before
