"""The kinds of text that a design holds as typed, and of counts, told apart so that storage can check each.

A design never stores a computed number: it stores what the person typed, and the names,
formulas and units in it are read again each time (`core.formulas`).
"""

from __future__ import annotations

from dataclasses import field
from typing import Annotated, Any, TypeAlias

Size: TypeAlias = Annotated[str, "size"]
"""A length as typed: a tape reading (`17 5/8`) or a formula (`worktop_height - ply`)."""

SizeOrNothing: TypeAlias = Annotated[str, "size or nothing"]
"""A `Size`, or empty where it is left to something else."""

Share: TypeAlias = Annotated[str, "share"]
"""A `Size`, or a share of what is left: `share`, `2 shares`."""

Spacing: TypeAlias = Annotated[str, "spacing"]
"""A `Size`, or `even`: the same space everywhere."""

Amount: TypeAlias = Annotated[str, "amount"]
"""A plain decimal number as typed (a price, a density), or empty where it is not known."""

Density: TypeAlias = Annotated[str, "density"]
"""Kilograms a cubic metre as a plain number, or with a unit of its own (`38 lb/ft^3`); empty where not known."""

Stiffness: TypeAlias = Annotated[str, "stiffness"]
"""N/mm2 as a plain number, or with a unit of its own (`950000 psi`); empty where not known."""

Weight: TypeAlias = Annotated[str, "weight"]
"""A plain number in the project's own unit (pounds, kilograms), or with a unit; empty where not said."""

Name: TypeAlias = Annotated[str, "name"]
"""What formulas call a dimension by."""

Prose: TypeAlias = Annotated[str, "prose"]
"""A text that may run over several lines; any other stays on one."""

Count: TypeAlias = Annotated[int, "count"]
"""How many of something."""


def many(key: str) -> Any:
    """A tuple of tables that the file writes one by one under the singular `key`."""
    return field(default=(), metadata={"key": key})


def table_of(key: str) -> Any:
    """A mapping from a name to a table, which the file writes as `[key.name]`."""
    return field(default_factory=dict, metadata={"key": key})
