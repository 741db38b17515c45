"""How often the interpreter looks for objects that hold one another and that nothing else holds."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager

SELDOM = 10
"""So many times less often all of them are looked through: a search remembers very many, and most of these stay."""


@contextmanager
def collected_seldom() -> Iterator[None]:
    """Meanwhile all objects are looked through seldom, and those just made as often as ever."""
    young, middle, old = before = gc.get_threshold()
    gc.set_threshold(young, middle, SELDOM * old)
    try:
        yield
    finally:
        gc.set_threshold(*before)
