"""The rule book of carcasses: every rule once, with its default and its reason.

A rule's value is what the carcass says, or else the project, or else the default here. To add
a rule, add a field to `Rules`; files, the app's rule page and the parts all follow from it.
Defaults are common practice, no source, unless the reason names one.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import Field, dataclass, field, fields
from difflib import get_close_matches
from fractions import Fraction
from typing import Any, Literal

from core.formulas import Names
from core.goods import Banding, Material
from core.mistakes import Mistake
from core.quantities import LOAD, read_quantity

RuleKind = Literal["choice", "size", "load", "material", "banding"]


@dataclass(frozen=True, slots=True)
class RuleInfo:
    """What a person is told of a rule."""

    name: str
    kind: RuleKind
    choices: tuple[str, ...]
    inch: str
    """Default where the project counts in inches; `mm` where it counts in millimetres."""
    mm: str
    reason: str

    @property
    def title(self) -> str:
        """The name in words."""
        return self.name.replace("_", " ")

    def default(self, unit: str) -> str:
        """The default as it would be typed in a project of this unit."""
        return self.inch if unit == "in" else self.mm


def _choice(*choices: str, reason: str) -> Any:
    return field(metadata={"rule": ("choice", choices, choices[0], choices[0], reason)})


def _size(inch: str, mm: str, reason: str) -> Any:
    return field(metadata={"rule": ("size", (), inch, mm, reason)})


def _load(pounds_a_foot: str, kg_a_metre: str, reason: str) -> Any:
    return field(metadata={"rule": ("load", (), pounds_a_foot, kg_a_metre, reason)})


def _goods(kind: RuleKind, reason: str) -> Any:
    return field(metadata={"rule": (kind, (), "", "", reason)})


@dataclass(frozen=True, slots=True)
class Rules:
    """The rules of one carcass, resolved: sizes in millimetres, goods by their names in the project."""

    base: Literal["kick", "plinth", "none"] = _choice(
        "kick",
        "plinth",
        "none",
        reason="kick: sides stand on the floor, notched for the toes; plinth: the box stands on a base of its own; "
        "none: bottom at the floor, for a box that stands on something or hangs",
    )
    runs_through: Literal["sides", "top and bottom"] = _choice(
        "sides",
        "top and bottom",
        reason="sides carry a load straight to the floor; top and bottom through suit a box that hangs, "
        "or is seen from above",
    )
    top: Literal["panel", "rails", "none"] = _choice(
        "panel",
        "rails",
        "none",
        reason="rails save material where a worktop covers the box; none where the worktop ties it",
    )
    back: Literal["applied", "let in", "none"] = _choice(
        "applied",
        "let in",
        "none",
        reason="applied: behind the sides, simplest, its edge is seen from the side; let in: in a rabbet, hidden; "
        "none leaves the box free to rack",
    )
    back_reach: Literal["bottom", "floor", "part"] = _choice(
        "bottom",
        "floor",
        "part",
        reason="bottom: down to the underside of the bottom; floor: all the way; "
        "part: hangs from the top, back_height high",
    )
    kick_height: Fraction = _size(
        "4",
        "100",
        "room for the toes under whoever stands at it: 3 to 4 in, or 75 to 100 mm, high",
    )
    kick_depth: Fraction = _size(
        "3",
        "75",
        "room for the toes, 3 in or 75 mm deep: with less one stands off and leans over",
    )
    rail_width: Fraction = _size(
        "4",
        "100",
        "wide enough to screw a worktop to from below, and to keep the box square until it is on",
    )
    back_height: Fraction = _size(
        "12",
        "300",
        "how far a back that hangs from the top comes down: it keeps the box square and is screwed to the wall",
    )
    rabbet_depth: Fraction = _size(
        "1/4",
        "6",
        "how deep the back is let in: a third of the side is usual; never more than half, or the side breaks there",
    )
    baseboard_clearance: Fraction = _size(
        "1/8",
        "3",
        "air round the notch: baseboards are neither straight nor square, and the box has to slide in",
    )
    shelf_play: Fraction = _size("1/16", "1.5", "air at each end of an adjustable shelf, so that it drops in")
    shelf_setback: Fraction = _size("1/4", "5", "an adjustable shelf stays clear of doors and hides its pins")
    shelf_load: float = _load(
        "25",
        "37",
        "kg along each metre of shelf, typed as lb a foot in an inch project; 25 lb a running foot of books was "
        "measured by the California state architect's office",
    )
    panel: str = _goods(
        "material",
        "what sides, bottom, top, rails and dividers are cut from; empty takes the project's first material",
    )
    back_panel: str = _goods(
        "material",
        "a back need not carry: thinner saves weight and money; empty takes the panel's",
    )
    shelf_panel: str = _goods("material", "a stiffer or thicker one sags less over a wide bay; empty takes the panel's")
    kick_panel: str = _goods("material", "kick and plinth meet wet floors and vacuum cleaners; empty takes the panel's")
    front_banding: str = _goods(
        "banding",
        "hides the layers of front edges that show; parts are cut less by its thickness; empty for none",
    )


def _info(rule: Field[Any]) -> RuleInfo:
    kind, choices, inch, mm, reason = rule.metadata["rule"]
    return RuleInfo(rule.name, kind, choices, inch, mm, reason)


RULE_BOOK: tuple[RuleInfo, ...] = tuple(_info(rule) for rule in fields(Rules))
"""Every rule, in the order in which a person decides them."""


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


def check_rule(name: str, text: str, materials: Mapping[str, Material], bandings: Mapping[str, Banding]) -> None:
    """Raises Mistake if there is no such rule, or it cannot have this value. Sizes are left to their formula."""
    known = {rule.name: rule for rule in RULE_BOOK}
    if name not in known:
        near = get_close_matches(name, known, 1)
        hint = f"; the nearest is {near[0]}" if near else f"; the rules are {', '.join(known)}"
        raise Mistake(f"there is no rule {name!r}{hint}")
    rule = known[name]
    if rule.kind == "choice" and text not in rule.choices:
        raise Mistake(f"{text!r} is not one of {', '.join(rule.choices)}", rule.title)
    goods: Mapping[str, object] = materials if rule.kind == "material" else bandings
    if rule.kind in ("material", "banding") and text and text not in goods:
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
) -> Rules:
    """The rules that hold once `layers` (the project's, then the carcass's) are laid over the defaults.

    Raises Mistake, saying which rule, for an unknown rule, choice or goods, and for a size that is none or negative.
    """
    for told in layers:
        for name, text in told.items():
            check_rule(name, text, materials, bandings)
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
    for name in ("back_panel", "shelf_panel", "kick_panel"):
        values[name] = values[name] or values["panel"]
    return Rules(**values)
