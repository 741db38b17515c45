"""The fields of the piece: named dimensions, the row, tops, loose parts, and the rules they follow."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby
from typing import get_args, get_type_hints

from core.construction.rule_book import RULE_BOOK, RuleInfo
from core.construction.rules import rule_as_typed
from core.editing.field import Field, Kind, Section
from core.edits import Path
from core.project import Bay, Carcass, Design, EndPanel, Filler, Opening


def piece_sections(design: Design) -> list[Section]:
    """The piece: named dimensions, the row, the tops, loose parts, and the rules that they follow."""
    sections = [
        Section(
            "Piece",
            (
                Field("name", ("name",), "text", design.name),
                Field(
                    "row width",
                    ("row_width",),
                    "size",
                    design.row_width,
                    "what the row fills; empty: as wide as its items",
                    optional=True,
                ),
            ),
        ),
        Section(
            "Named dimensions",
            tuple(
                Field(
                    name, ("dimensions", name), "formula", text, "use it by name in any size", item=("dimensions", name)
                )
                for name, text in design.dimensions.items()
            ),
        ),
    ]
    for place, one in enumerate(design.row):
        item: Path = ("row", place)
        fields = [Field("name", (*item, "name"), "text", one.name, item=item)]
        if not isinstance(one, EndPanel):
            told = "outside; or `share`, `2 shares` of what is left"
            fields.append(Field("width", (*item, "width"), "share", one.width, told, item=item))
        if isinstance(one, Filler | EndPanel):
            told = "what it is cut from"
            fields.append(
                Field("material", (*item, "material"), "choice", one.material, told, tuple(design.materials), item=item)
            )
        if isinstance(one, Carcass):
            fields += [
                Field(
                    "height", (*item, "height"), "size", one.height, "kick counted, a separate plinth not", item=item
                ),
                Field("depth", (*item, "depth"), "size", one.depth, "with its back", item=item),
                *_bays(one, item),
                *(_rule(rule, design, place) for rule in RULE_BOOK if rule.name in one.rules),
            ]
        sections.append(Section(f"{one.kind.capitalize()} {one.id}: {one.name}", tuple(fields), item))
    sections += _tops_and_loose(design)
    for group, rules in groupby(RULE_BOOK, lambda rule: rule.group):
        sections.append(Section(f"Rules: {group}", tuple(_rule(rule, design, -1) for rule in rules)))
    return sections


def _bays(carcass: Carcass, item: Path) -> Iterator[Field]:
    for n, bay in enumerate(carcass.bays):
        at: Path = (*item, "bays", n)
        yield Field(f"bay {n + 1}, width", (*at, "width"), "share", bay.width, "inside, between its uprights", item=at)
        if not bay.openings or bay.fixed_shelves or bay.adjustable_shelves:
            yield Field(
                "  fixed shelves",
                (*at, "fixed_shelves"),
                "shelves",
                ", ".join(bay.fixed_shelves),
                "heights above the bottom, with commas between; or `even, even`",
                item=at,
            )
            yield _count("  adjustable shelves", (*at, "adjustable_shelves"), bay.adjustable_shelves, at)
        if all(one.front == "open" for one in bay.openings) or bay.front != "open":
            yield from _front("  front", at, bay, "before the whole bay; openings can have fronts of their own")
        for m, opening in enumerate(bay.openings):
            yield from _opening(opening, (*at, "openings", m), m + 1)


def _opening(opening: Opening, at: Path, number: int) -> Iterator[Field]:
    told = "clear, from what is below to what is above; or `share`, `2 shares`"
    yield Field(f"  opening {number}, height", (*at, "height"), "share", opening.height, told, item=at)
    yield from _front("    front", at, opening, "what is before it")
    yield _count("    adjustable shelves", (*at, "adjustable_shelves"), opening.adjustable_shelves, at)
    told = "what parts it from the next opening up; over the highest one nothing comes"
    yield _choice("    above", (*at, "above"), opening.above, told, at, type(opening))


def _front(label: str, at: Path, behind: Bay | Opening, told: str) -> Iterator[Field]:
    yield _choice(label, (*at, "front"), behind.front, told, at, type(behind))
    if behind.front == "door":
        hinged = f"{label[: len(label) - len(label.lstrip())]}hinged"
        yield _choice(hinged, (*at, "hinged"), behind.hinged, "on its left or right side", at, type(behind))


def _choice(label: str, path: Path, value: str, told: str, item: Path, of: type[Bay | Opening]) -> Field:
    """A choice among what the field of the design can be."""
    return Field(label, path, "choice", value, told, get_args(get_type_hints(of)[str(path[-1])]), item=item)


def _count(label: str, path: Path, value: int, item: Path) -> Field:
    return Field(label, path, "count", str(value), "how many", item=item)


def _tops_and_loose(design: Design) -> list[Section]:
    sections = []
    materials = tuple(design.materials)
    ids = ("", *(one.id for one in design.row))
    for n, top in enumerate(design.tops):
        item: Path = ("tops", n)
        fields = (
            Field("name", (*item, "name"), "text", top.name, item=item),
            Field("material", (*item, "material"), "choice", top.material, "", materials, item=item),
            Field(
                "layers", (*item, "layers"), "choice", str(top.layers), "two are glued all over", ("1", "2"), item=item
            ),
            Field(
                "from",
                (*item, "first"),
                "choice",
                top.first,
                "leftmost item that it covers; empty: the first",
                ids,
                item=item,
            ),
            Field("to", (*item, "last"), "choice", top.last, "rightmost; empty: the last", ids, item=item),
            *(
                Field(f"overhang {end}", (*item, f"overhang_{end}"), "size", getattr(top, f"overhang_{end}"), item=item)
                for end in ("front", "left", "right")
            ),
            Field(
                "banding",
                (*item, "banding"),
                "choice",
                top.banding,
                "on the front edge",
                ("", *design.bandings),
                item=item,
            ),
            Field(
                "trim flush",
                (*item, "trim_flush"),
                "size",
                top.trim_flush,
                "what the lower layer is cut larger at each edge, and trimmed once it is glued",
                item=item,
            ),
        )
        sections.append(Section(f"Top {top.id}: {top.name}", fields, item))
    for n, loose in enumerate(design.loose):
        item = ("loose", n)
        fields = (
            Field("name", (*item, "name"), "text", loose.name, item=item),
            Field("material", (*item, "material"), "choice", loose.material, "", materials, item=item),
            Field("quantity", (*item, "quantity"), "count", str(loose.quantity), item=item),
            Field("length", (*item, "length"), "size", loose.length, "finished", item=item),
            Field("width", (*item, "width"), "size", loose.width, "finished", item=item),
            Field(
                "grain",
                (*item, "grain"),
                "choice",
                loose.grain,
                "the side it follows; none: may turn",
                ("length", "width", "none"),
                item=item,
            ),
        )
        sections.append(Section(f"Loose part {loose.id}: {loose.name}", fields, item))
    return sections


def _rule(rule: RuleInfo, design: Design, place: int) -> Field:
    """A rule as it stands for the project (-1) or for one carcass, with where it comes from."""
    own = design.row[place] if place >= 0 else None
    layers = (design.rules, own.rules) if isinstance(own, Carcass) else (design.rules,)
    text, layer = rule_as_typed(rule.name, design.unit, *layers)
    path: Path = ("rules", rule.name) if place < 0 else ("row", place, "rules", rule.name)
    choices = rule.choices
    if rule.kind == "material":
        choices = ("", *design.materials)
    elif rule.kind == "banding":
        choices = ("", *design.bandings)
    elif rule.kind == "board":
        choices = ("", *design.boards)
    kind: Kind = rule.kind if rule.kind in ("size", "load") else "choice"
    inherited = layer < len(layers)
    return Field(
        rule.title,
        path,
        kind,
        text,
        rule.reason,
        choices,
        item=None if inherited else path,
        rule_of=place,
        inherited=inherited,
    )


def carcass_rules(design: Design, place: int) -> list[Field]:
    """Every rule of one carcass, its own and inherited, to choose one that shall differ."""
    return [_rule(rule, design, place) for rule in RULE_BOOK]
