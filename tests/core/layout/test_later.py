"""What is cut when all else is: its place lets it wait wherever that costs nothing."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st
from layout_jobs import jobs

from core.cuts.order import order_of
from core.cuts.saws import ShopSaw
from core.cuts.steps import Keeping, Made, SheetToCut
from core.layout.finish import layout_of
from core.layout.first import first_filling
from core.layout.fitter import Fitter
from core.layout.job import Job, JobPart, JobStock
from core.layout.later import settled_early
from core.layout.notation import placed_in
from core.layout.search import lay_out
from core.layout.tree import LaidSheet


def sizes_cut_early(job: Job, laid: LaidSheet) -> int:
    """Counted at the bench: every cut that need not wait is made, and each piece that waits is measured.

    A size of a waiting part is cut early where what it lies in then has that size, and the sheet had another.
    """
    stock = job.stock[laid.stock]
    later = {part.code for part in job.parts if part.later}
    codes = [job.parts[node.part].code for node in placed_in(laid.root)]
    names = tuple(f"{code}/{number}" for number, code in enumerate(codes))
    sheet = SheetToCut("s", laid.root, names, job.kerf)
    steps = order_of([sheet], [ShopSaw("saw", "any", Fraction(job.kerf))], Keeping(1, 1), 100.0, frozenset(later))
    whole = Made("s", 0, 0, stock.length, stock.width, "blank")
    there = {"s": whole}
    for step in steps:
        if not step.held:
            del there[step.piece]
            there |= {made.id: made for made in step.pieces}
    early = 0
    parts = [made for step in steps for made in step.pieces if made.part in later]
    for part in parts:
        of = next(one for one in there.values() if _lies_in(part, one))
        early += part.length == of.length != stock.inner_length
        early += part.width == of.width != stock.inner_width
    return early


def _lies_in(part: Made, of: Made) -> bool:
    beside = of.x <= part.x and part.x + part.length <= of.x + of.length
    return beside and of.y <= part.y and part.y + part.width <= of.y + of.width


@settings(max_examples=300, deadline=None)
@given(jobs())
def test_the_sizes_that_cannot_wait_are_counted_as_they_are_found_at_the_bench(job: Job) -> None:
    fitter = Fitter(job)
    filling = first_filling(fitter)
    counted = [settled_early(block, fitter.later) for block in filling.blocks]
    layout = layout_of(job, fitter, filling, 0)
    assert sum(sizes_cut_early(job, laid) for laid in layout.sheets) == sum(counted)


@settings(max_examples=100, deadline=None)
@given(jobs(), st.data())
def test_a_kept_layout_answers_the_job_whatever_waits(job: Job, data: st.DataObject) -> None:
    later = tuple(replace(part, later=data.draw(st.booleans())) for part in job.parts)
    waiting = replace(job, parts=later)
    assert waiting.fingerprint() == job.fingerprint()
    assert Job.from_json(waiting.as_json()) == waiting
    assert ("later" in waiting.as_json()) == any(part.later for part in later)


def test_a_door_gets_a_strip_of_its_own() -> None:
    # Sides and a door of the same height go into one strip by their size, and on one sheet either way.
    parts = (JobPart("side", 700, 300, 3, False), JobPart("door", 700, 298, 2, False, later=True))
    job = Job("1", 3, parts, (JobStock("sheet", 1500, 1250),), iterations=400)
    (laid,) = lay_out(job).sheets
    assert sizes_cut_early(job, laid) == 0
    mixed = replace(job, parts=tuple(replace(part, later=False) for part in parts))
    (laid,) = lay_out(mixed).sheets
    assert sizes_cut_early(job, laid) > 0


def test_a_door_shares_a_strip_where_a_strip_of_its_own_would_cost_a_sheet() -> None:
    # Only 300 + 3 + 297 fill the sheet's width: the door fits beside a side and nowhere else.
    parts = (JobPart("side", 700, 300, 1, False), JobPart("door", 700, 297, 1, False, later=True))
    job = Job("1", 3, parts, (JobStock("sheet", 700, 600),), iterations=100)
    (laid,) = lay_out(job).sheets
    assert sizes_cut_early(job, laid) == 1
