"""A face frame: stiles and rails of solid stock before the front edges of a box.

Stiles stand at both sides, flush with them, and before every divider; rails lie between: along
the top edge, and flush with the top face of the bottom and of every shelf or rail that parts
two openings. A bay with one door before all of it has none between. The bottom rail hangs below
the bottom before a kick, and is no wider than the bottom is thick where there is none to hang before.
Before a flush base the outer stiles stand on the floor; the kick panel is seen between them, behind.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from core.construction.bench import Bench
from core.construction.goods import ZERO
from core.construction.inside import Inside, Room, Span, stile_before
from core.construction.rule_book import Rules
from core.mistakes import Mistake
from core.project import Bay


def add_frame(
    bench: Bench,
    bays: Sequence[Bay],
    rooms: Sequence[Room],
    rules: Rules,
    inside: Inside,
    width: Fraction,
    hangs: Fraction,
) -> list[Room]:
    """The frame before a box `width` mm wide; the rooms with what it leaves open of them.

    It hangs below the bottom by what its rail is wider than that is thick, and by no more than `hangs`, mm. The outer
    stiles begin with its bottom rail, before a flush base on the floor. Raises
    Mistake where it leaves nothing open, or does not cover the edges of the box.
    """
    stile, rail = bench.goods.section(rules.face_frame), bench.goods.section(rules.frame_rail)
    if stile.thickness != rail.thickness:
        raise Mistake("the stiles and the rails of a face frame are of one thickness; take boards of the same")
    y = (-stile.thickness, ZERO)
    for board, word, rule in ((stile, "stiles", "face frame"), (rail, "rails", "frame rail")):
        if board.width < inside.t:
            wide, thick = bench.goods.say(board.width), bench.goods.say(inside.t)
            raise Mistake(f"{word} {wide} wide do not cover edges {thick} thick; take a wider board as {rule}")
    floor, top = inside.z[0], inside.outer_z[1]
    low = max(floor - rail.width, inside.outer_z[0] - hangs)
    stiles = _stiles(bench, rules, rooms, y, (ZERO if rules.is_flush_base else low, top), width)
    edges = {place: (bench.parts[place].box.low[0], bench.parts[place].box.high[0]) for place in stiles}
    between = edges["stile left"][1], edges["stile right"][0]
    if between[0] >= between[1]:
        raise Mistake(
            f"stiles {bench.goods.say(stile.width)} wide leave nothing open before {bench.goods.say(width)}; make the "
            f"carcass wider than {bench.goods.at_least(2 * stile.width)}, or take a narrower board as face frame"
        )
    for place, z in (("bottom", (low, floor)), ("top", (top - rail.width, top))):
        _rail(bench, rules, place, between, y, z, stiles[:2])
    for place in stiles[2:]:
        bench.join(place, "frame rail bottom", "frame rail top")
    parting: list[str] = []
    found = []
    for room in rooms:
        beside = [stile_before(one) for one in room.uprights]
        x = (edges[beside[0]][1], edges[beside[1]][0])
        _check_open(bench, "stiles", "wider", x, room)
        high = min(room.z[1], top - rail.width)
        above = next((one for one in rooms if (one.bay, one.number) == (room.bay, room.number + 1)), None)
        whole = bool(bays) and bays[room.bay - 1].front != "open"
        if above is not None and above.z[0] > room.z[1] and not whole:
            high = min(high, above.z[0] - rail.width)
            over = (above.z[0] - rail.width, above.z[0])
            place = _rail(bench, rules, f"bay {room.bay} no {room.number}", x, y, over, beside)
            bench.join(place, room.bounds[1])
            parting.append(room.bounds[1])
        _check_open(bench, "rails", "higher", (room.z[0], high), room)
        found.append(replace(room, open_x=x, open_z=(room.z[0], high)))
    _leave_bare(bench, parting)
    return found


def _check_open(bench: Bench, boards: str, more: str, left: Span, room: Room) -> None:
    """Raises Mistake where stiles or rails leave nothing open of a room one way: `left` of it is where they end, mm."""
    short = left[0] - left[1]
    if short < 0:
        return
    rule = "face frame" if boards == "stiles" else "frame rail"
    by = f" by more than {bench.goods.at_least(short)}" if short else ""
    raise Mistake(
        f"the {boards} of the face frame leave nothing open of it; make it {more}{by}, or take a narrower board as "
        f"{rule}",
        f"bay {room.bay}" + (f", opening {room.number}" if room.number > 1 or more == "higher" else ""),
    )


def _leave_bare(bench: Bench, parting: Sequence[str]) -> None:
    """Takes the banding from front edges that the frame hides: of the box, and of what parts openings behind a rail."""
    for place, part in bench.parts.items():
        hidden = part.role in ("side", "divider", "bottom", "top") or place in ("rail front", *parting)
        if hidden and part.box.low[1] == 0:
            edges = tuple(edge for edge in part.edges if part.edge_name(edge.side) != "front")
            bench.parts[place] = replace(part, edges=edges)


def _stiles(bench: Bench, rules: Rules, rooms: Sequence[Room], y: Span, z: Span, width: Fraction) -> list[str]:
    """Left, right, then those before the dividers."""
    wide, rail = bench.goods.section(rules.face_frame).width, bench.goods.section(rules.frame_rail).width
    floor = rooms[0].z[0]
    places = []
    for side, x in (("left", (ZERO, wide)), ("right", (width - wide, width))):
        places.append(bench.panel("stile", side, f"Stile, {side}", rules.face_frame, x, y, z))
        bench.join(places[-1], f"side {side}")
    for divider in [part for part in bench.parts.values() if part.role == "divider"]:
        middle = (divider.box.low[0] + divider.box.high[0]) / 2
        x = (middle - wide / 2, middle + wide / 2)
        name = f"Stile {divider.place}"
        places.append(bench.panel("stile", divider.place, name, rules.face_frame, x, y, (floor, z[1] - rail)))
        bench.join(places[-1], f"divider {divider.place}")
    return places


def _rail(bench: Bench, rules: Rules, place: str, x: Span, y: Span, z: Span, stiles: Sequence[str]) -> str:
    made = bench.panel("frame rail", place, f"Frame rail, {place}", rules.frame_rail, x, y, z)
    bench.join(made, *stiles)
    return made
