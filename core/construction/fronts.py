"""Doors, drawer fronts and false fronts: what they cover.

An overlay front ends on a line in the middle of what it shares with its neighbour, less half the
gap; at the outside of the box a full overlay ends at its edge, a half overlay in the middle of
the side, both less that half; above and below by the reveals. An inset front fills its opening,
less the gap all round.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from core.construction.bench import Bench, Swing
from core.construction.goods import ZERO
from core.construction.hinges import Hung, hang
from core.construction.inside import Inside, Room, Span, stile_before
from core.construction.part import Hand
from core.construction.rule_book import Rules
from core.mistakes import Mistake
from core.project import Bay, Opening


@dataclass(frozen=True, slots=True)
class Front:
    """A front in its place, by that place; `drawer` where a drawer hangs behind it."""

    place: str
    room: Room
    drawer: bool


def add_fronts(
    bench: Bench, bays: Sequence[Bay], rooms: Sequence[Room], rules: Rules, inside: Inside, width: Fraction
) -> list[Front]:
    """All fronts of a carcass `width` mm wide, their hinges bored. Raises Mistake where one has no room."""
    found: list[Front] = []
    doors: list[Hung] = []
    closed = [bay.front != "open" for bay in bays] + [room.opening.front != "open" for room in rooms]
    if any(closed) and rules.fronts != "inset" and rules.front_gap >= inside.t:
        goods = bench.goods
        raise Mistake(
            f"a gap of {goods.say(rules.front_gap)} leaves two fronts nothing to lie on of boards "
            f"{goods.say(inside.t)} thick; make front gap less than {goods.at_most(inside.t)}, "
            f"{goods.usual('front gap')} is usual"
        )
    for number, bay in enumerate(bays or (Bay(),), start=1):
        of_bay = [room for room in rooms if room.bay == number]
        if bay.front != "open":
            # Before the whole bay: one room from the bottom to the top.
            opening = Opening(front=bay.front, hinged=bay.hinged)
            low, high = of_bay[0], of_bay[-1]
            whole = replace(low, number=0, opening=opening, bounds=(low.bounds[0], high.bounds[1]))
            of_bay = [replace(whole, z=(low.z[0], high.z[1]), open_z=(low.open_z[0], high.open_z[1]))]
        for below, room, above in zip([None, *of_bay], of_bay, [*of_bay[1:], None], strict=False):
            front = room.opening.front
            if front == "open":
                continue
            alike = [one for one in of_bay if one.opening.front == front]
            said = f" {alike.index(room) + 1}" if len(alike) > 1 else ""
            told = f", bay {number}" if len(bays) > 1 else ""
            hanging = _Hanging(bench, rules, inside, width, room, below, above, said, told, doors)
            if front in ("door", "pair of doors"):
                hanging.doors()
            else:
                found.append(hanging.panel())
    hang(bench, rules, doors)
    return found


@dataclass(slots=True)
class _Hanging:
    """One room that gets a front, and its neighbours below and above."""

    bench: Bench
    rules: Rules
    inside: Inside
    width: Fraction
    room: Room
    below: Room | None
    above: Room | None
    said: str
    """Its number among those of its kind in the bay, where there are several."""
    told: str
    """Its bay, where there are several."""
    hung: list[Hung]
    """The doors of the carcass, which are hung when all fronts are there."""

    def panel(self) -> Front:
        """A drawer's front or a false one."""
        drawer = self.room.opening.front == "drawer"
        role, word = ("drawer front", "Drawer front") if drawer else ("false front", "False front")
        place = self._add(role, word, "", self._x(), None)
        if not drawer:
            self._on_uprights(place, self.room.uprights)
        return Front(place, self.room, drawer)

    def doors(self) -> None:
        """A door, or a pair."""
        x, opening = self._x(), self.room.opening
        if opening.front == "door":
            self._door(x, opening.hinged, "")
            return
        half = (x[1] - x[0] - self.rules.front_gap) / 2
        self._door((x[0], x[0] + half), "left", "left")
        self._door((x[1] - half, x[1]), "right", "right")

    def _door(self, x: Span, hinged: Hand, which: str) -> None:
        place = self._add("door", "Door", which, x, hinged)
        upright = self.room.uprights[hinged == "right"]
        self._on_uprights(place, (upright,))
        self.bench.movers.append(Swing(place, hinged))
        self.hung.append(Hung(place, self.room, upright, hinged))

    def _add(self, role: str, word: str, which: str, x: Span, hand: Hand | None) -> str:
        bench, room = self.bench, self.room
        place = " ".join(
            [f"bay {room.bay}", *([f"no {room.number}"] if room.number else []), *([which] if which else [])]
        )
        face = self.inside.face
        y = (face, face + self._t) if self.rules.fronts == "inset" else (face - self._t, face)
        return bench.panel(
            role,
            place,
            f"{word}{self.said}{self.told}" + (f", {which}" if which else ""),
            self.rules.front_panel,
            x,
            y,
            self._z(),
            all_round=self.rules.door_banding,
            hand=hand,
        )

    @property
    def _t(self) -> Fraction:
        return self.bench.goods.of(self.rules.front_panel)

    def _on_uprights(self, place: str, uprights: Sequence[str]) -> None:
        """Closed, an overlay front lies on the edges of the uprights; an inset one stands off by its gap."""
        before = [stile_before(one) if self.rules.face_frame else one for one in uprights]
        self.bench.join(place, *before, play=self.rules.front_gap if self.rules.fronts == "inset" else ZERO)

    def _x(self) -> Span:
        gap, room = self.rules.front_gap, self.room
        if self.rules.fronts == "inset":
            self._check_gap("wide", room.open_x, 3 if room.opening.front == "pair of doors" else 2)
            return room.open_x[0] + gap, room.open_x[1] - gap
        half = self.inside.t / 2
        left, right = room.x[0] - half, room.x[1] + half
        # At the outside of the box there is no neighbour: its edge, or the middle of the side or the stile.
        share = 0 if self.rules.fronts == "full overlay" else Fraction(1, 2)
        if room.uprights[0] == "side left":
            left = room.open_x[0] * share
        if room.uprights[1] == "side right":
            right = self.width - (self.width - room.open_x[1]) * share
        return left + gap / 2, right - gap / 2

    def _z(self) -> Span:
        """From where to where: at the ends of the box by its reveals, between two openings in the middle."""
        gap, rules, inside, z = self.rules.front_gap, self.rules, self.inside, self.room.open_z
        if rules.fronts == "inset":
            self._check_gap("high", z, 2)
            low = z[0] + (gap if self.room.bounds[0] else gap / 2)
            # Where nothing lies over the box a worktop does, and is kept clear of like any other.
            high = z[1] - (gap if self.room.bounds[1] or self.above is None else gap / 2)
            return low, high
        low, high = inside.outer_z[0] + rules.bottom_reveal, inside.outer_z[1] - rules.top_reveal
        if self.below is not None:
            low = (self.below.open_z[1] + z[0] + gap) / 2
        if self.above is not None:
            high = (z[1] + self.above.open_z[0] - gap) / 2
        if 2 * (min(high, z[1]) - max(low, z[0])) < z[1] - z[0]:
            rule = "bottom reveal" if rules.bottom_reveal > rules.top_reveal else "top reveal"
            raise Mistake(
                f"a front would leave most of its opening free; make {rule} less, {self.bench.goods.usual(rule)} is "
                "usual"
            )
        return low, high

    def _check_gap(self, word: str, opening: Span, gaps: int) -> None:
        """Raises Mistake where so many gaps leave nothing of an inset front in its opening."""
        gap, goods, free = self.rules.front_gap, self.bench.goods, opening[1] - opening[0]
        if gaps * gap >= free:
            mend = f"front gap less than {goods.at_most(free / gaps)}, {goods.usual('front gap')} is usual"
            if free <= gaps * goods.usual_size("front gap"):
                mend = "the opening larger"
            told = f"gaps of {goods.say(gap)} leave nothing of an inset front in an opening {goods.say(free)} {word}"
            raise Mistake(f"{told}; make {mend}")
