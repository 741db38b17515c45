"""Orders for shops of several saws: every cut goes to a saw that can make it, and every part comes out to size."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import groupby

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from laid_out import KEEPING, Plan, plans

from core.cuts.apart import NO_SAW
from core.cuts.order import changes_of, order_of, plain_order
from core.cuts.saws import MITRE_REACH, SHORT, ShopSaw, ToCut, trouble, why_not
from core.cuts.steps import Numbers, SheetToCut, Step
from core.layout.tree import Cut, Node, Placed, Spare
from core.own_units import KG_A_POUND

TRACK = ShopSaw("track", "track", Fraction(1))
TABLE = ShopSaw("table", "table", Fraction(1))
Size = tuple[Fraction, Fraction]


@st.composite
def shops(draw: st.DrawFn, kerf: int) -> list[ShopSaw]:
    """One to three saws, one of them with the widest kerf."""
    limit = st.none() | st.integers(5, 220).map(Fraction)
    return [
        ShopSaw(
            f"saw {number}",
            draw(st.sampled_from(["any", "track", "circular", "table", "mitre", "yard"])),
            Fraction(kerf) if not number else draw(st.fractions(0, kerf, max_denominator=4)),
            draw(limit),
            draw(limit),
            draw(limit),
            draw(st.none() | st.floats(1, 60)),
        )
        for number in range(draw(st.integers(1, 3)))
    ]


@st.composite
def jobs(draw: st.DrawFn) -> tuple[list[Plan], list[SheetToCut], list[ShopSaw], float]:
    kerf, laid = draw(plans())
    weight = draw(st.floats(1, 80))
    sheets = [replace(plan.sheet(), weight=weight, delivered=draw(st.booleans())) for plan in laid]
    return laid, sheets, draw(shops(kerf)), draw(st.floats(1, 80))


def really(steps: tuple[Step, ...], sheets: list[SheetToCut]) -> dict[str, Size]:
    """What every piece measures in the end, each saw taking its own kerf and the fence standing where it is told to."""
    sizes: dict[str, Size] = {sheet.id: (Fraction(sheet.root.length), Fraction(sheet.root.width)) for sheet in sheets}
    for step in steps:
        length, width = sizes.pop(step.piece)
        whole = width if step.direction == "rip" else length
        fence = Fraction(step.fence)
        assert fence <= whole, "the fence stands beyond the piece"
        extents = [fence, whole - fence - step.saw.kerf]
        for made, extent in zip(step.pieces, extents, strict=False):
            assert extent > 0
            sizes[made.id] = (length, extent) if step.direction == "rip" else (extent, width)
    return sizes


@settings(max_examples=300, deadline=None)
@given(jobs())
def test_every_part_comes_out_to_size_whatever_the_blades(
    job: tuple[list[Plan], list[SheetToCut], list[ShopSaw], float],
) -> None:
    laid, sheets, saws, handled = job
    steps = order_of(sheets, saws, KEEPING, handled)
    sizes = really(steps, sheets)
    for plan in laid:
        if isinstance(plan.root, Cut):
            for name, (_, _, length, width) in plan.parts.items():
                assert sizes[name] == (length, width), f"{name} of {saws}"
    for step in steps:
        if step.skims:
            assert len(step.pieces) == 1 and step.saw.kerf <= step.kerf


@settings(max_examples=300, deadline=None)
@given(jobs())
def test_a_cut_goes_to_a_saw_that_can_make_it_and_never_with_the_waste_at_the_fence(
    job: tuple[list[Plan], list[SheetToCut], list[ShopSaw], float],
) -> None:
    _, sheets, saws, handled = job
    wholes = {sheet.id: sheet for sheet in sheets}
    sizes = {sheet.id: (sheet.root.length, sheet.root.width) for sheet in sheets}
    for step in order_of(sheets, saws, KEEPING, handled):
        length, width = sizes[step.piece]
        sizes |= {made.id: (made.length, made.width) for made in step.pieces}
        along, across = (length, width) if step.direction == "rip" else (width, length)
        if {made.use for made in step.pieces} - {"waste"}:
            assert step.pieces[0].use != "waste", "the waste lies between fence and blade"
        saw = step.saw
        if step.cannot:
            assert saw.name == NO_SAW
            continue
        assert saw in saws
        assert saw.longest_cut is None or along <= saw.longest_cut
        if saw.kind in ("table", "mitre"):
            limit = 50 * KG_A_POUND if saw.heaviest_piece is None else saw.heaviest_piece
            assert step.weight <= limit
        assert saw.longest_piece is None or max(along, across) <= saw.longest_piece
        if saw.kind == "mitre":
            # It crosscuts what lies along its fence, and sliding ones about a foot: common practice, no source.
            assert along <= across and along <= (saw.longest_cut or MITRE_REACH)
        if saw.kind == "table":
            assert saw.widest_rip is None or step.fence <= saw.widest_rip
            trim = dict(zip(("left", "right", "bottom", "top"), wholes[step.sheet].trim, strict=True))
            assert not (step.factory and trim[step.edge]), "an edge that is to be trimmed lies against a fence"


@settings(max_examples=200, deadline=None)
@given(jobs())
def test_what_one_person_cannot_handle_is_cut_first_sheet_by_sheet(
    job: tuple[list[Plan], list[SheetToCut], list[ShopSaw], float],
) -> None:
    _, sheets, saws, handled = job
    order = order_of(sheets, saws, KEEPING, handled)
    at_yard = [step.saw.kind == "yard" for step in order]
    assert at_yard == sorted(at_yard, reverse=True), "the yard cuts before anything is brought home"
    steps = [step for step in order if step.saw.kind != "yard"]
    heavy = [step.weight > handled for step in steps]
    assert heavy == sorted(heavy, reverse=True)
    of_heavy = [step.sheet for step in steps if step.weight > handled]
    assert of_heavy == sorted(of_heavy)


@settings(max_examples=200, deadline=None)
@given(jobs())
def test_a_saw_is_never_set_more_often_than_the_trees_as_they_are_would_ask(
    job: tuple[list[Plan], list[SheetToCut], list[ShopSaw], float],
) -> None:
    _, sheets, saws, _ = job
    nothing_heavy = 1000.0
    ours, plain = order_of(sheets, saws, KEEPING, nothing_heavy), plain_order(sheets, saws, KEEPING)
    assert sorted(step.piece for step in ours) == sorted(step.piece for step in plain)

    def touches(steps: tuple[Step, ...]) -> int:
        # The yard cuts before anything else, whatever that asks of it.
        steps = tuple(step for step in steps if step.saw.kind != "yard")
        names = [step.saw.name for step in steps]
        return changes_of(steps, [Fraction(1)] * len(steps)) + sum(
            a != b for a, b in zip(names, ["", *names], strict=False)
        )

    assert touches(ours) <= touches(plain)


@settings(max_examples=200, deadline=None)
@given(jobs(), st.booleans())
def test_one_sheet_at_a_time_is_cut_up_before_the_next_is_taken_up(
    job: tuple[list[Plan], list[SheetToCut], list[ShopSaw], float], on_hand: bool
) -> None:
    _, sheets, saws, handled = job
    if on_hand:
        # Pieces of one sheet are no sheets of their own.
        sheets = [
            replace(one, numbers=Numbers("ply-9", tuple(range(n * 999, n * 999 + 900)))) for n, one in enumerate(sheets)
        ]
    steps = order_of(sheets, saws, KEEPING, handled, one_at_a_time=True)
    together = order_of(sheets, saws, KEEPING, handled)
    really(steps, sheets)
    assert sorted(step.piece for step in steps) == sorted(step.piece for step in together)
    at_home = [step.sheet for step in steps if step.saw.kind != "yard"]
    if on_hand:
        assert steps == together
    else:
        assert len([1 for _ in groupby(at_home)]) == len(set(at_home))


@settings(max_examples=200, deadline=None)
@given(jobs(), st.sets(st.sampled_from(["P0", "P1", "P2"])))
def test_what_is_held_back_is_cut_last_and_nothing_else_waits_for_it(
    job: tuple[list[Plan], list[SheetToCut], list[ShopSaw], float], held: set[str]
) -> None:
    _, sheets, saws, handled = job
    steps = order_of(sheets, saws, KEEPING, handled, frozenset(held))
    assert sorted(step.piece for step in steps) == sorted(
        step.piece for step in order_of(sheets, saws, KEEPING, handled)
    )
    really(steps, sheets)
    held_at_home = [step.held for step in steps if step.saw.kind != "yard"]
    assert held_at_home == sorted(held_at_home)
    cuts = {step.piece: step for step in steps}

    def parts_of(step: Step) -> set[str]:
        found: set[str] = set()
        for made in step.pieces:
            found |= {made.part} if made.part else parts_of(cuts[made.id]) if made.id in cuts else set()
        return found

    for step in steps:
        # Nobody brings a sheet to the yard again.
        waits = parts_of(step) <= held and bool(parts_of(step)) and step.saw.kind != "yard"
        assert step.held == waits


def strips(count: int, of: int, spare: bool = False) -> SheetToCut:
    """A sheet ripped into equal strips of 20 and nothing else, each crosscut into parts of 100."""

    def strip() -> Node:
        return Cut(201, 20, "crosscut", Placed(100, 20, 0), Placed(100, 20, 0))

    node: Node = Spare(201, 30) if spare else strip()
    for _ in range(count - (not spare)):
        node = Cut(201, node.width + 21, "rip", strip(), node)
    names = tuple(f"A/{2 * count * of + number}" for number in range(2 * count))
    return SheetToCut(f"s-{of}", node, names, 1)


def test_equal_strips_of_all_sheets_are_cut_at_one_setting() -> None:
    steps = order_of([strips(3, 1), strips(3, 2)], [ShopSaw("saw", "any", Fraction(1))], KEEPING, 100)
    assert [step.direction for step in steps] == ["rip"] * 4 + ["crosscut"] * 6
    assert changes_of(steps, [Fraction(1)] * len(steps)) == 2
    plain = plain_order([strips(3, 1), strips(3, 2)], [ShopSaw("saw", "any", Fraction(1))], KEEPING)
    assert changes_of(plain, [Fraction(1)] * len(plain)) > 2


def test_a_thin_blade_leaves_the_last_strip_too_wide_and_it_is_skimmed() -> None:
    thin = ShopSaw("thin", "any", Fraction(1, 2))
    steps = order_of([strips(2, 1)], [thin], KEEPING, 100)
    skims = [step for step in steps if step.skims]
    # The second strip once, and the second part of each strip.
    assert [step.direction for step in skims].count("rip") == 1
    assert [step.direction for step in skims].count("crosscut") == 2
    # An offcut beyond the last strip bears what is left over.
    assert not [
        step
        for step in order_of([strips(2, 1, spare=True)], [thin], KEEPING, 100)
        if step.direction == "rip" and step.skims
    ]


def test_the_first_true_edge_is_made_along_a_track_and_the_rest_at_the_table_saw() -> None:
    inner = Cut(400, 321, "rip", Placed(400, 160, 0), Placed(400, 160, 0))
    trimmed = Cut(400, 324, "rip", Spare(400, 2), inner)
    sheet = SheetToCut("s", trimmed, ("A/1", "A/2"), 1, trim=(0, 0, 3, 0))
    first, second = order_of([sheet], [TRACK, TABLE], KEEPING, 100)
    assert (first.saw.name, first.edge, first.pieces[1].use) == ("track", "top", "waste")
    assert (second.saw.name, second.edge) == ("table", "bottom")
    # Without a track saw there is no true edge to begin with.
    first, second = order_of([sheet], [TABLE], KEEPING, 100)
    assert first.saw.name == NO_SAW or first.edge == "top"


def test_what_no_saw_reaches_is_said_with_the_reason() -> None:
    sheet = SheetToCut(
        "s", Cut(2440, 1221, "rip", Placed(2440, 600, 0), Placed(2440, 620, 0)), ("A/1", "B/1"), 1, weight=40
    )
    short = replace(TRACK, longest_cut=Fraction(1400))
    (step,) = order_of([sheet], [short, replace(TABLE, heaviest_piece=10.0)], KEEPING, 100)
    assert step.saw.name == NO_SAW
    assert "track does not cut that far" in step.cannot


CUT = ToCut(along=Fraction(900), across=Fraction(600), fence=Fraction(400), weight=10, true=True)


@pytest.mark.parametrize(
    ("saw", "cut", "reason"),
    [
        (TABLE, CUT, ""),
        (TABLE, replace(CUT, weight=50 * KG_A_POUND + 0.1), "too heavy"),
        (replace(TABLE, heaviest_piece=30.0), replace(CUT, weight=25), ""),
        (TRACK, replace(CUT, weight=90), ""),
        (TABLE, replace(CUT, true=False), "sawn true"),
        (TABLE, replace(CUT, true=False, used_as_it_is=True), ""),
        (replace(TABLE, widest_rip=Fraction(399)), CUT, "does not go that far"),
        (replace(TABLE, longest_piece=Fraction(899)), CUT, "too long"),
        (replace(TRACK, longest_cut=Fraction(899)), CUT, "does not cut that far"),
        (replace(TRACK, kind="yard"), CUT, "only before they are brought home"),
        (replace(TRACK, kind="yard"), replace(CUT, whole=True), ""),
    ],
)
def test_what_a_saw_can_do(saw: ShopSaw, cut: ToCut, reason: str) -> None:
    """The 50 lb that one person brings to a saw: common practice, no source."""
    assert reason in why_not(saw, cut) and bool(reason) == bool(why_not(saw, cut))


def test_a_piece_that_would_pivot_or_is_short_goes_to_the_track_where_there_is_one() -> None:
    """Common practice, no source."""
    pivots = replace(CUT, along=Fraction(599), fence=Fraction(200))
    short = replace(CUT, along=Fraction(SHORT - 1), across=Fraction(SHORT - 2))
    for cut in (pivots, replace(short, fence=Fraction(200))):
        assert trouble(TABLE, cut) > trouble(TABLE, CUT)
    assert trouble(TRACK, pivots) < trouble(TABLE, pivots)
    assert trouble(TABLE, CUT) < trouble(TRACK, CUT), "a fence repeats better than a line"


def test_what_could_not_be_cut_up_at_home_is_cut_at_the_yard_and_waits_for_nothing() -> None:
    yard = ShopSaw("yard", "yard", Fraction(4))
    table = ShopSaw("table saw", "table", Fraction(16, 5), widest_rip=Fraction(600))
    # The fence does not reach 2000; with the offcut against it the part would stay 0.8 too long.
    strip = Cut(2420, 350, "crosscut", Placed(2000, 350, 0), Spare(416, 350))
    sheet = SheetToCut("ply-1", Cut(2420, 1200, "rip", strip, Spare(2420, 846)), ("A/1",), 4)
    steps = order_of([sheet], [yard, table], KEEPING, 100, frozenset({"A"}))
    assert [(step.saw.name, step.fence, step.cannot) for step in steps] == [("yard", 350, ""), ("yard", 2000, "")]
    # It is held back, and comes off at the yard all the same.
    assert not any(step.held for step in steps)
    # A part that the fence reaches comes home on its strip.
    strip = Cut(2420, 350, "crosscut", Placed(500, 350, 0), Spare(1916, 350))
    sheet = SheetToCut("ply-1", Cut(2420, 1200, "rip", strip, Spare(2420, 846)), ("A/1",), 4)
    assert [step.saw.name for step in order_of([sheet], [yard, table], KEEPING, 100)] == ["table saw"] * 2
