"""Boards: stiles and rails cut to length from solid stock, one list for each board."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor

from core.construction.part import Kind, Part
from core.formulas import Names
from core.goods import Board
from core.jobs import unit_for
from core.layout.bar_search import lay_out_bars
from core.layout.bars import BarJob, BarLayout, BarPart, BarStock
from core.lengths import Notation
from core.mistakes import Mistake

ZERO = Fraction(0)


@dataclass(frozen=True, slots=True)
class Bar:
    """One length of a board, the pieces that are cut from it in this order, and what is left, mm."""

    stock: str
    length: Fraction
    price: int
    """In hundredths of the currency; 0 where unknown."""
    pieces: tuple[str, ...]
    rest: Fraction


@dataclass(frozen=True, slots=True)
class BoardList:
    """What is cut from one board."""

    board: str
    kinds: tuple[Kind, ...]
    bars: tuple[Bar, ...]
    trim: Fraction
    """What both ends of a bar lose, the kerf counted, mm."""
    unplaced: tuple[str, ...]
    lower_bound: int
    proved_minimum: bool
    longest: Fraction
    """Of the lengths that it is sold in, mm."""


def list_boards(
    kinds: Sequence[Kind],
    board: str,
    told: Board,
    kerf: Fraction,
    names: Names,
    find: Callable[[BarJob], BarLayout] = lay_out_bars,
) -> BoardList:
    """The list of one board, cut as `find` answers. Raises Mistake where its lengths cannot be read, or it has none."""
    if not told.lengths:
        raise Mistake("it is sold in no length: give it at least one")
    trim = names.length(told.trim, where="trim", least=ZERO)
    if 0 < trim < kerf:
        raise Mistake("the trim of its ends is less than the kerf; a trim counts the kerf, so give 0 or at least that")
    sizes = [names.length(one.length, where="length", least=ZERO) for one in told.lengths]
    units = unit_for([kerf, trim, *sizes, *(kind.part.blank_length for kind in kinds)])
    job = BarJob(
        ceil(kerf * units),
        tuple(BarPart(kind.code, ceil(kind.part.blank_length * units), kind.quantity) for kind in kinds),
        tuple(
            BarStock(
                one.length,
                floor(size * units),
                ceil(trim * units),
                ceil(trim * units),
                one.quantity,
                round(Fraction(one.price) * 100) if one.price else 0,
            )
            for one, size in zip(told.lengths, sizes, strict=True)
        ),
    )
    return _named(board, kinds, sizes, trim, units, job, find(job))


def _named(
    board: str,
    kinds: Sequence[Kind],
    sizes: Sequence[Fraction],
    trim: Fraction,
    units: int,
    job: BarJob,
    layout: BarLayout,
) -> BoardList:
    names = [iter(kind.piece_ids()) for kind in kinds]
    bars = tuple(
        Bar(
            job.stock[bar.stock].name,
            sizes[bar.stock],
            job.stock[bar.stock].price,
            tuple(next(names[part]) for part in bar.pieces),
            Fraction(bar.rest, units),
        )
        for bar in layout.bars
    )
    unplaced = tuple(piece for left in names for piece in left)
    longest = max(sizes, default=ZERO)
    return BoardList(board, tuple(kinds), bars, trim, unplaced, layout.lower_bound, layout.proved_minimum, longest)


def boards_in_words(lists: Sequence[BoardList], boards: Mapping[str, Board], notation: Notation) -> list[str]:
    """Each board's bars: what is cut from each, longest first, and what is left."""
    say = notation.text
    lines = []
    for one in lists:
        wide = max((kind.part.width for kind in one.kinds), default=ZERO)
        cuts_of = {piece: _cut(kind.part, wide, notation) for kind in one.kinds for piece in kind.piece_ids()}
        count = len(one.bars)
        told = "; no fewer do" if one.proved_minimum and count > 1 else ""
        lines.append(f"{boards[one.board].name}: {count} length{'' if count == 1 else 's'}{told}")
        for number, bar in enumerate(one.bars, start=1):
            cuts = ", ".join(f"{piece} {cuts_of[piece]}" for piece in bar.pieces)
            lines.append(f"  [ ] {one.board}-{number}, {say(bar.length)} long: {cuts}; {say(bar.rest)} left")
        if one.trim and one.bars:
            lines.append(f"    each end trimmed by {say(one.trim)} first, kerf counted")
        lines += [f"  ! {sentence}" for sentence in without_a_length(one)]
    return lines


def without_a_length(one: BoardList) -> list[str]:
    """What of a board has no place in a length of it, and why."""
    parts = {piece: kind.part for kind in one.kinds for piece in kind.piece_ids()}
    return [
        f"{piece} has no place: "
        + (
            "longer than any length of the board"
            if parts[piece].blank_length > one.longest - 2 * one.trim
            else "too few lengths are to be had"
        )
        for piece in one.unplaced
    ]


def _cut(part: Part, wide: Fraction, notation: Notation) -> str:
    """The length, and how wide it is ripped where that is less than the others."""
    long = notation.text(part.blank_length)
    return long if part.width == wide else f"{long} (rip to {notation.text(part.width)})"
