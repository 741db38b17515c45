"""Free rectangles, and what is lost of their worth when a piece goes into a corner of one.

A room is worth its area to the power 6/5, so that one large room is worth more than two small
of the same area. Worked out in whole numbers, on areas counted in shares of the largest
sheet: a power in floating point may differ in its last digit from one machine to the next.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TypeAlias

from core.layout.blanks import Blank

NEVER = 1 << 62
"""More than any loss: the piece does not fit."""

MOST_REMEMBERED = 1_500_000
"""How many losses of one size in one room, or in one set of rooms, may be remembered before all are forgotten.

It bounds the memory that a search takes.
"""

WHOLE = 1 << 20
"""A whole sheet, in the measure of areas by which rooms are worth something."""

STEP = 1 << 10
"""Between areas that lie so far apart the worth is taken to grow evenly."""

Way: TypeAlias = tuple[int, int, bool]
"""The loss; which of its ways the piece lies; and whether the room is ripped before it is crosscut."""


class Losses(dict[int, int]):
    """What putting one piece into the best of some rooms loses of their worth, by the index of its size.

    Worked out when first asked for; `NEVER` where the piece fits none of them.
    """

    __slots__ = ("rooms",)

    def __init__(self, rooms: frozenset[Room]) -> None:
        self.rooms = rooms

    def __missing__(self, size: int) -> int:
        loss = self[size] = min([room.losses[size] for room in self.rooms], default=NEVER)
        return loss

    def take_over(self, before: Losses, sizes: Iterable[int]) -> None:
        """Works out what these sizes lose here by what they lose `before`, in rooms most of which are the same.

        To ask all rooms of a sheet with many pieces would take most of the time of a walk. What a size lost least
        in a room that is gone is left to be asked.
        """
        gone = [room.losses for room in before.rooms - self.rooms]
        new = [room.losses for room in self.rooms - before.rooms]
        for size in sizes:
            if size in self:
                continue
            loss = before[size]
            # Loops: to make lists here would take a tenth more of the whole walk.
            for of in gone:
                if of[size] == loss:
                    break
            else:
                for of in new:
                    if of[size] < loss:
                        loss = of[size]
                self[size] = loss


class Room:
    """A free rectangle. Free rectangles of one size share their room, whatever sheets they are on."""

    __slots__ = ("_rooms", "length", "losses", "useful", "width", "worth")

    def __init__(self, rooms: Rooms, length: int, width: int) -> None:
        self._rooms = rooms
        self.length = length
        self.width = width
        self.worth = rooms.worth(length * width)
        self.useful = rooms.takes_any(length, width)
        """Whether any piece of the job fits it."""
        self.losses: Losses = _LossesOfOne(frozenset((self,)))

    def ways(self, size: int) -> list[Way]:
        """Every way to lay a piece into the corner."""
        worth = self._rooms.worth
        found: list[Way] = []
        for way, (length, width) in enumerate(self._rooms.blanks[size].ways):
            beside, above = self.length - length, self.width - width
            if beside < 0 or above < 0:
                continue
            if above or not beside:
                found.append((self.worth - worth(self.length * above) - worth(beside * width), way, True))
            if beside:
                found.append((self.worth - worth(beside * self.width) - worth(length * above), way, False))
        return found


class _LossesOfOne(Losses):
    __slots__ = ()

    def __missing__(self, size: int) -> int:
        (room,) = self.rooms
        ways = room.ways(size)
        if not ways:
            self[size] = NEVER
            return NEVER
        loss = self[size] = min(ways)[0]
        return loss


class Rooms:
    """Every size of free rectangle met in one job, and what each loses by each piece: worked out once."""

    def __init__(self, blanks: Sequence[Blank], sheet_area: int) -> None:
        self.blanks = blanks
        self._sheet_area = sheet_area
        self._rooms: dict[tuple[int, int], Room] = {}
        self._losses: dict[frozenset[Room], Losses] = {}
        self._most_rooms = MOST_REMEMBERED // max(1, len(blanks))
        self._least: list[tuple[int, int]] = []
        """The ways of pieces that are in neither direction longer than another."""
        for way in sorted({way for blank in blanks for way in blank.ways}):
            if not self._least or way[1] < self._least[-1][1]:
                self._least.append(way)

    def of(self, length: int, width: int) -> Room:
        """The room of this size."""
        room = self._rooms.get((length, width))
        if room is None:
            if len(self._rooms) >= self._most_rooms:
                # Blocks go on with the rooms that they have.
                self._rooms.clear()
            room = self._rooms[length, width] = Room(self, length, width)
        return room

    def worth(self, area: int) -> int:
        """The worth of a room of this area: nothing for none, more than nothing for any."""
        if not area:
            return 0
        share = area * WHOLE // self._sheet_area
        step = share // STEP
        lower = WORTHS[step]
        return 1 + lower + (WORTHS[step + 1] - lower) * (share % STEP) // STEP

    def takes_any(self, length: int, width: int) -> bool:
        """Whether any piece of the job fits a room of this size."""
        return any(way[0] <= length and way[1] <= width for way in self._least)

    def losses(self, rooms: tuple[Room, ...]) -> Losses:
        """What each piece loses in the best of these rooms. Sheets with the same rooms share the answer."""
        if len(rooms) == 1:
            return rooms[0].losses
        key = frozenset(rooms)
        losses = self._losses.get(key)
        if losses is None:
            if len(self._losses) >= self._most_rooms:
                self._losses.clear()
            losses = self._losses[key] = Losses(key)
        return losses


def fifth_root(number: int) -> int:
    """The largest whole number whose fifth power is not above `number`."""
    if number == 0:
        return 0
    root = 1 << -(-number.bit_length() // 5)
    while True:
        nearer = (4 * root + number // root**4) // 5
        if nearer >= root:
            return root
        root = nearer


WORTHS = [fifth_root(area**6) for area in range(0, WHOLE + 2 * STEP, STEP)]
"""What areas are worth, in steps."""
