"""Sheets with bad places whose parts go together in another order, so that these lie in what is left over.

What a cut parts may change sides without another cut: a crushed corner costs nothing where there is
an offcut as large. Only where no order will do must bad places be cut out first
(`core.layout.cut_first`).
"""

from __future__ import annotations

from dataclasses import replace

from core.layout.job import Job, JobStock
from core.layout.place import meets, near
from core.layout.tree import Cut, LaidSheet, Layout, Node, Placed, members

MOST_ORDERS = 5000
"""How many pieces are looked at for one sheet: of 12 strips every order."""


def without_bad_places(job: Job) -> Job | None:
    """The job as if its sheets had none, but for those with settled first cuts; None where that is the same job."""
    stock = tuple(replace(one, bad=()) if _may_be_cleared(one) else one for one in job.stock)
    return None if stock == job.stock else replace(job, stock=stock)


def clear_of_bad(job: Job, layout: Layout) -> Layout | None:
    """An answer to the job `without_bad_places` as one to the job; None where a part lies on a bad place in any order.

    Sheets that are alike but for that may change what is laid out on them.
    """
    sheets = [*layout.sheets]
    for at, sheet in enumerate(sheets):
        stock = job.stock[sheet.stock]
        if not _may_be_cleared(stock):
            continue
        plain = replace(stock, name="", quantity=None, price=0, bad=())
        alike = (
            number
            for number, other in enumerate(sheets)
            if replace(job.stock[other.stock], name="", quantity=None, price=0) == plain
        )
        for other in (at, *alike):
            root = in_another_order(sheets[other].root, stock, job.kerf)
            if root is not None:
                sheets[other] = replace(sheets[other], root=sheet.root)
                sheets[at] = LaidSheet(sheet.stock, root)
                break
        else:
            return None
    return replace(layout, sheets=tuple(sheets))


def in_another_order(root: Node, stock: JobStock, kerf: int) -> Node | None:
    """What is laid out on a sheet, with its pieces on other sides so that none of the parts lies on a bad place of it.

    None where no order is found. Cuts that trim come first in the tree, or may lose their place.
    """
    return _Orders(stock, kerf).clear(root)


def _may_be_cleared(stock: JobStock) -> bool:
    return bool(stock.bad) and not stock.crosscut_at and not stock.rip_at


class _Orders:
    """The orders in which the pieces of one sheet can lie."""

    def __init__(self, stock: JobStock, kerf: int) -> None:
        self.bad = [near(place, kerf) for place in stock.bad]
        trim = stock.trim
        self.trimming = sum(map(bool, (trim.left, trim.right, trim.bottom, trim.top)))
        """The first cuts of the tree, which stay where they are."""
        self.left = MOST_ORDERS

    def clear(self, root: Node) -> Node | None:
        """The tree with no part on the bad place, as it is where that will do; None where no order was found."""
        return self._clear(root, 0, 0, self.trimming)

    def _clear(self, node: Node, x: int, y: int, fixed: int) -> Node | None:
        self.left -= 1
        if not meets(self.bad, x, y, node.length, node.width):
            return node
        if not isinstance(node, Cut):
            return None if isinstance(node, Placed) else node
        orders = [node]
        if fixed <= 0 and node.low is not None and node.high is not None:
            orders.append(replace(node, low=node.high, high=node.low))
        for cut in orders:
            if self.left <= 0:
                return None
            cleared: list[Node | None] = []
            for member, left, bottom in members(cut, x, y):
                cleared.append(member and self._clear(member, left, bottom, fixed - 1))
                if member and not cleared[-1]:
                    break
            else:
                return replace(cut, low=cleared[0], high=cleared[1])
        return None
