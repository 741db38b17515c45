"""Bindings of ours, read off the classes that have them: for the help page, and for keys of the person's own."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from textual.binding import Binding
from textual.dom import DOMNode


def own_bindings(owner: type[DOMNode]) -> Iterator[Binding]:
    """The bindings of a class and of ours that it is made from, its own first."""
    for ancestor in owner.__mro__:
        if ancestor.__module__.startswith("tui."):
            yield from (one for one in ancestor.__dict__.get("BINDINGS", ()) if isinstance(one, Binding))


def binding_ids(owners: Iterable[type[DOMNode]]) -> list[str]:
    """Ids of all their bindings, each once."""
    return list(dict.fromkeys(one.id for owner in owners for one in own_bindings(owner) if one.id))
