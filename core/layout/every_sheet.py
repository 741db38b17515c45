"""Whether any sheet at all can pay, by looking at every one that might.

Pieces are added one after another, those first that are priced highest for their area, as long as
they go together (`core.layout.least_boxes`), and the area that is left could bring what is asked
for. That is quick where few pieces go on a sheet; where many do it is given up.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from core.layout.block import Block
from core.layout.fitter import Fitter
from core.layout.least_boxes import LeastBoxes
from core.layout.melted import Melted
from core.layout.strip import Laid, board_with


class EverySheet:
    """All sheets of the only board of a job."""

    def __init__(self, fitter: Fitter) -> None:
        self._length, self._width = fitter.boards[0].length, fitter.boards[0].width
        self._rooms = fitter.rooms
        self._area = self._length * self._width
        self._areas = [blank.area for blank in fitter.blanks]
        self._quantities = [blank.quantity for blank in fitter.blanks]
        self._boxes = LeastBoxes(fitter.blanks, self._length, self._width)

    def priced_at(self, prices: Sequence[int], least: int, work: int, stopped: Callable[[], bool]) -> Block | None:
        """A sheet that is priced so high, or higher; None if there is none.

        Raises GaveUp after so much work (`LeastBoxes.allow`), or when stopped.
        """
        areas = self._areas
        melted = Melted(prices, areas, self._quantities)
        order = melted.order
        self._boxes.allow(work, stopped)

        def found_from(place: int, some: int, value: int, area: int) -> Laid | None:
            if value >= least:
                return self._boxes.of(some)[0]
            for at in range(place, len(order)):
                self._boxes.spend(1)
                if value + melted.at_best(at, area) < least:
                    return None
                size = order[at]
                if areas[size] > area or self._boxes.count(some, size) == self._quantities[size]:
                    continue
                more = some + self._boxes.one[size]
                if self._boxes.of(more):
                    laid = found_from(at, more, value + prices[size], area - areas[size])
                    if laid is not None:
                        return laid
            return None

        laid = found_from(0, 0, 0, self._area)
        return None if laid is None else board_with(laid, self._length, self._width, self._rooms)
