"""The fields of the piece: named dimensions, the row, tops, loose parts, and the rules they follow."""

from __future__ import annotations

from collections.abc import Iterator

from core.construction.rules import RULE_BOOK, RuleInfo, rule_as_typed
from core.editing.field import Field, Kind, Section
from core.edits import Path
from core.project import Carcass, Design


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
        fields = [
            Field("name", (*item, "name"), "text", one.name, item=item),
            Field(
                "width",
                (*item, "width"),
                "share",
                one.width,
                "outside; or `share`, `2 shares` of what is left",
                item=item,
            ),
        ]
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
    rules = tuple(_rule(rule, design, -1) for rule in RULE_BOOK)
    sections.append(Section("Rules of the project", rules))
    return sections


def _bays(carcass: Carcass, item: Path) -> Iterator[Field]:
    for n, bay in enumerate(carcass.bays):
        at: Path = (*item, "bays", n)
        yield Field(f"bay {n + 1}, width", (*at, "width"), "share", bay.width, "inside, between its uprights", item=at)
        yield Field(
            "  fixed shelves",
            (*at, "fixed_shelves"),
            "shelves",
            ", ".join(bay.fixed_shelves),
            "heights above the bottom, with commas between; or `even, even`",
            item=at,
        )
        yield Field(
            "  adjustable shelves",
            (*at, "adjustable_shelves"),
            "count",
            str(bay.adjustable_shelves),
            "how many",
            item=at,
        )


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
