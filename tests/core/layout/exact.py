"""Exact answers to small layout jobs, by a solver from outside this project (CP-SAT of OR-Tools).

`least` is a model of the cuts themselves: every sheet is a binary tree whose leaves are pieces and
whose other nodes each join two rectangles, beside or above one another with one kerf between. A
layout can be made with edge-to-edge cuts, in any number of stages, exactly if it is such a tree:
waste needs no leaves, as a rectangle may be larger than what it joins.

`least_without_cuts` forgets the cuts: pieces one kerf apart anywhere on the sheets (no overlap in two
dimensions, each piece and each sheet larger by one kerf). It can need no more than `least`.

`fewest_by_joining` is no model but a recursion on sets of pieces, to check the first one: of
each set, all the least rectangles that it can be joined into. `fewest_beside_bad` tries every cut of every
rectangle of a small sheet with a bad place.

Of the project only the question is used, the fields of a `Job`; what a trim or a kerf means is worked
out anew. The solver has one worker, a fixed seed and a limit on its own count of work, never on
the clock, and must prove its answer.
"""

from __future__ import annotations

from functools import cache
from itertools import pairwise
from typing import NamedTuple

from ortools.sat.python import cp_model

from core.layout.job import Job

MOST_WORK = 60.0
"""CP-SAT's deterministic time, some seconds."""


class Answer(NamedTuple):
    """The least money, in hundredths, and the fewest sheets that this money can do with."""

    money: int
    sheets: int


class Piece(NamedTuple):
    length: int
    width: int
    turns: bool


class Board(NamedTuple):
    """The inside of a sheet's trimmed edges, and how many of it can be of use."""

    length: int
    width: int
    quantity: int
    price: int


def _pieces(job: Job) -> list[Piece]:
    return [Piece(part.length, part.width, part.turns) for part in job.parts for _ in range(part.quantity)]


def _boards(job: Job) -> list[Board]:
    pieces = len(_pieces(job))
    return [
        Board(
            stock.length - stock.trim.left - stock.trim.right,
            stock.width - stock.trim.bottom - stock.trim.top,
            pieces if stock.quantity is None else min(stock.quantity, pieces),
            stock.price,
        )
        for stock in job.stock
    ]


def _lying(model: cp_model.CpModel, piece: Piece) -> tuple[cp_model.LinearExprT, cp_model.LinearExprT]:
    """Length and width of a piece as it lies: turned or not, where it may turn."""
    length, width, turns = piece
    if not turns or length == width:
        return length, width
    turned = model.new_bool_var("turned")
    return length + (width - length) * turned, width + (length - width) * turned


def _solved(model: cp_model.CpModel) -> int | None:
    """The proved least of what the model minimises; None where it is proved that there is no answer."""
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    solver.parameters.max_deterministic_time = MOST_WORK
    # Without linear relaxations: they cost more than they save on models as small as these.
    solver.parameters.linearization_level = 0
    status = solver.solve(model)
    assert status in (cp_model.OPTIMAL, cp_model.INFEASIBLE), f"CP-SAT proved nothing: {solver.status_name(status)}"
    return round(solver.objective_value) if status == cp_model.OPTIMAL else None


@cache
def least(job: Job) -> Answer | None:
    """The exact answer for edge-to-edge cuts; None where the stock does not hold all pieces."""
    pieces, boards, kerf = _pieces(job), _boards(job), job.kerf
    model = cp_model.CpModel()
    leaves, nodes = range(len(pieces)), range(2 * len(pieces) - 1)
    joins = nodes[len(pieces) :]
    longest, widest = max(board.length for board in boards), max(board.width for board in boards)
    largest = max((board.length + kerf) * (board.width + kerf) for board in boards)

    # A leaf is a piece as it lies; a join is a rectangle, if it is in use at all.
    lying = [_lying(model, piece) for piece in pieces]
    length = [lies[0] for lies in lying] + [model.new_int_var(0, longest, "length") for _ in joins]
    width = [lies[1] for lies in lying] + [model.new_int_var(0, widest, "width") for _ in joins]
    # Areas count one kerf each way, like the largest sheet's: then pieces never have more of it than their sheet.
    area = [(piece.length + kerf) * (piece.width + kerf) for piece in pieces]
    area += [model.new_int_var(0, largest, "area") for _ in joins]
    used = [1 for _ in leaves] + [model.new_bool_var("used") for _ in joins]

    # Whatever is in use is one of the two of a later join, or is a whole sheet of one kind.
    within = {(node, join): model.new_bool_var("within") for join in joins for node in range(join)}
    whole = {(node, kind): model.new_bool_var("whole") for node in nodes for kind in range(len(boards))}
    for node in nodes:
        places = [within[node, join] for join in joins if join > node]
        model.add(sum(places) + sum(whole[node, kind] for kind in range(len(boards))) == used[node])
        for kind, board in enumerate(boards):
            model.add(length[node] <= board.length).only_enforce_if(whole[node, kind])
            model.add(width[node] <= board.width).only_enforce_if(whole[node, kind])
    for kind, board in enumerate(boards):
        model.add(sum(whole[node, kind] for node in nodes) <= board.quantity)

    for join in joins:
        model.add(sum(within[node, join] for node in range(join)) == 2 * used[join])
        above = model.new_bool_var("above")
        lengths, widths, areas = [], [], []
        for node in range(join):
            inside = within[node, join]
            for of, sizes, most in (
                (lengths, length, longest),
                (widths, width, widest),
                (areas, area, largest),
            ):
                size = model.new_int_var(0, most, "size inside")
                model.add(size == sizes[node]).only_enforce_if(inside)
                model.add(size == 0).only_enforce_if(~inside)
                of.append(size)
            model.add(length[join] >= lengths[-1])
            model.add(width[join] >= widths[-1])
        model.add(length[join] >= sum(lengths) + kerf).only_enforce_if(used[join], ~above)
        model.add(width[join] >= sum(widths) + kerf).only_enforce_if(used[join], above)
        model.add(area[join] == sum(areas))
    # The same trees with their joins in another order are not looked at again.
    for join, after in pairwise(joins):
        model.add_implication(used[after], used[join])
        model.add(area[join] <= area[after]).only_enforce_if(used[after])

    count = sum(whole.values())
    money = sum(boards[kind].price * is_whole for (_, kind), is_whole in whole.items())
    # These two follow from the rest, and save the solver most of its work.
    model.add(sum(used) == 2 * len(pieces) - count)
    room = [(board.length + kerf) * (board.width + kerf) for board in boards]
    model.add(sum(room[kind] * is_whole for (_, kind), is_whole in whole.items()) >= sum(area[leaf] for leaf in leaves))
    return _answer(model, money, count, len(pieces))


def _answer(
    model: cp_model.CpModel, money: cp_model.LinearExprT, sheets: cp_model.LinearExprT, pieces: int
) -> Answer | None:
    """Least money first, then fewest sheets, of which there are never more than pieces."""
    model.minimize(money * (pieces + 1) + sheets)
    found = _solved(model)
    return None if found is None else Answer(*divmod(found, pieces + 1))


@cache
def least_without_cuts(job: Job) -> Answer | None:
    """The exact answer if cuts need not run edge to edge: never more than `least`."""
    pieces, boards, kerf = _pieces(job), _boards(job), job.kerf
    model = cp_model.CpModel()
    # All the sheets there might be lie end to end, each a kerf larger, as every piece is.
    sheets: list[tuple[Board, int, cp_model.IntVar]] = []
    end = 0
    for board in boards:
        for number in range(board.quantity):
            used = model.new_bool_var("used")
            if number:
                model.add_implication(used, sheets[-1][2])
            sheets.append((board, end, used))
            end += board.length + kerf
    widest = max(board.width for board in boards)
    along, across = [], []
    for piece in pieces:
        length, width = _lying(model, piece)
        x, y = model.new_int_var(0, end, "x"), model.new_int_var(0, widest, "y")
        places = []
        for board, start, used in sheets:
            here = model.new_bool_var("here")
            places.append(here)
            model.add_implication(here, used)
            model.add(x >= start).only_enforce_if(here)
            model.add(x + length <= start + board.length).only_enforce_if(here)
            model.add(y + width <= board.width).only_enforce_if(here)
        model.add_exactly_one(places)
        for of, start, size in ((along, x, length), (across, y, width)):
            beyond = model.new_int_var(0, end + widest + kerf, "beyond")
            of.append(model.new_interval_var(start, size + kerf, beyond, "extent"))
    model.add_no_overlap_2d(along, across)
    money = sum(board.price * used for board, _, used in sheets)
    return _answer(model, money, sum(used for _, _, used in sheets), len(pieces))


def fewest_by_joining(job: Job) -> int:
    """The fewest sheets for edge-to-edge cuts, by trying every way to join; one kind of stock, as many as wanted."""
    pieces, kerf = _pieces(job), job.kerf
    (board,) = _boards(job)

    @cache
    def rectangles(members: frozenset[int]) -> list[tuple[int, int]]:
        """The rectangles that these pieces can be joined into and that fit the sheet, none larger than another."""
        found = set()
        if len(members) == 1:
            (piece,) = (pieces[member] for member in members)
            found.add((piece.length, piece.width))
            if piece.turns:
                found.add((piece.width, piece.length))
        for one, other in halves(members):
            for a in rectangles(one):
                for b in rectangles(other):
                    found.add((a[0] + kerf + b[0], max(a[1], b[1])))
                    found.add((max(a[0], b[0]), a[1] + kerf + b[1]))
        fitting: list[tuple[int, int]] = []
        for length, width in sorted(found):
            if length <= board.length and width <= board.width and (not fitting or width < fitting[-1][1]):
                fitting.append((length, width))
        return fitting

    def halves(members: frozenset[int]) -> list[tuple[frozenset[int], frozenset[int]]]:
        first, *rest = sorted(members)
        found = []
        for chosen in range(2 ** len(rest) - 1):
            one = frozenset([first, *(member for at, member in enumerate(rest) if chosen >> at & 1)])
            found.append((one, members - one))
        return found

    @cache
    def fewest(members: frozenset[int]) -> int:
        if rectangles(members):
            return 1
        return min(fewest(one) + fewest(other) for one, other in halves(members))

    return fewest(frozenset(range(len(pieces))))


def fewest_beside_bad(job: Job) -> int:
    """The fewest sheets for edge-to-edge cuts where each has its bad places, by every cut; one kind, no trim."""
    pieces, kerf = _pieces(job), job.kerf
    (stock,) = job.stock

    @cache
    def sets(x: int, y: int, length: int, width: int) -> frozenset[int]:
        """The sets of pieces, as bits, that come out of this rectangle of the sheet; none is part of another."""
        found = {0}
        spoilt = (
            x < left + long and left < x + length and y < bottom + wide and bottom < y + width
            for left, bottom, long, wide in stock.bad
        )
        if not any(spoilt):
            for number, piece in enumerate(pieces):
                if (length, width) == piece[:2] or (piece.turns and (width, length) == piece[:2]):
                    found.add(1 << number)
        for at in range(1, length):
            found |= both(sets(x, y, at, width), sets(x + at + kerf, y, max(length - at - kerf, 0), width))
        for at in range(1, width):
            found |= both(sets(x, y, length, at), sets(x, y + at + kerf, length, max(width - at - kerf, 0)))
        return frozenset(one for one in found if not any(one != other and one & other == one for other in found))

    def both(some: frozenset[int], others: frozenset[int]) -> set[int]:
        return {one | other for one in some for other in others}

    @cache
    def fewest(left: int) -> int:
        if not left:
            return 0
        return 1 + min(fewest(left & ~one) for one in sets(0, 0, stock.length, stock.width) if one & left)

    return fewest((1 << len(pieces)) - 1)
