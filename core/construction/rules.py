"""The rules that hold for a carcass: what it says itself, or the project, or the book's default; and checked."""

from __future__ import annotations

from collections.abc import Mapping
from difflib import get_close_matches
from fractions import Fraction
from typing import Any

from core.construction.rule_book import RULE_BOOK, Rules
from core.formulas import Names
from core.goods import Banding, Board, Material
from core.mistakes import Mistake
from core.quantities import LOAD, read_quantity


def rule_as_typed(name: str, unit: str, *layers: Mapping[str, str]) -> tuple[str, int]:
    """The text that holds for a rule and the layer that says so: 0 the default, 1 the first of `layers`, …

    The last layer that names the rule wins: pass the project's rules before the carcass's.
    """
    info = next(rule for rule in RULE_BOOK if rule.name == name)
    text, layer = info.default(unit), 0
    for number, told in enumerate(layers, start=1):
        if name in told:
            text, layer = told[name], number
    return text, layer


def usual(name: str, unit: str) -> str:
    """A size's default as it is said: `1/8 in`, `37 mm`."""
    text, _ = rule_as_typed(name, unit)
    return text if text[-1].isalpha() else f"{text} {unit}"


def check_rule(
    name: str,
    text: str,
    materials: Mapping[str, Material],
    bandings: Mapping[str, Banding],
    boards: Mapping[str, Board] | None = None,
) -> None:
    """Raises Mistake if there is no such rule, or it cannot have this value. Sizes are left to their formula."""
    known = {rule.name: rule for rule in RULE_BOOK}
    if name not in known:
        near = get_close_matches(name, known, 1)
        hint = f"; the nearest is {near[0]}" if near else "; the rules stand at the end of the Piece station"
        raise Mistake(f"there is no rule {name!r}{hint}")
    rule = known[name]
    if rule.kind == "choice" and text not in rule.choices:
        raise Mistake(f"{text!r} is not one of {', '.join(rule.choices)}", rule.title)
    kinds: dict[str, Mapping[str, object]] = {"material": materials, "banding": bandings, "board": boards or {}}
    goods = kinds.get(rule.kind)
    if goods is not None and text and text not in goods:
        have = ", ".join(goods) or "none yet"
        raise Mistake(f"there is no {rule.kind} {text!r} in the project; it has {have}", rule.title)


KG_A_METRE_PER_LB_A_FOOT = 0.45359237 / 0.3048
"""Exact: the pound and the foot are defined so (NIST SP 811)."""


def _read_load(text: str, unit: str, title: str) -> float:
    """Kilograms a metre. A bare number counts in the project's own way: pounds a foot, or kilograms a metre."""
    try:
        amount = read_quantity(text, LOAD)
    except Mistake as mistake:
        raise mistake.at(title) from None
    bare = text.strip().replace(".", "", 1).isdigit()
    return amount * KG_A_METRE_PER_LB_A_FOOT if bare and unit == "in" else amount


def resolve(
    names: Names,
    unit: str,
    materials: Mapping[str, Material],
    bandings: Mapping[str, Banding],
    *layers: Mapping[str, str],
    boards: Mapping[str, Board] | None = None,
) -> Rules:
    """The rules that hold once `layers` (the project's, then the carcass's) are laid over the defaults.

    Raises Mistake, saying which rule, for an unknown rule, choice or goods, and for a size that is none or negative.
    """
    for told in layers:
        for name, text in told.items():
            check_rule(name, text, materials, bandings, boards)
    values: dict[str, Any] = {}
    for rule in RULE_BOOK:
        text, _ = rule_as_typed(rule.name, unit, *layers)
        values[rule.name] = text
        if rule.kind == "size":
            values[rule.name] = names.length(text, where=rule.title, least=Fraction(0))
        if rule.kind == "load":
            values[rule.name] = _read_load(text, unit, rule.title)
    values["panel"] = values["panel"] or next(iter(materials), "")
    if not values["panel"]:
        raise Mistake("the project has no sheet material yet; add one, with its actual thickness")
    for rule in RULE_BOOK:
        if rule.kind == "material":
            instead = "back_panel" if rule.name == "drawer_bottom_panel" else "panel"
            values[rule.name] = values[rule.name] or values[instead]
    values["frame_rail"] = values["frame_rail"] or values["face_frame"]
    return Rules(**values)
