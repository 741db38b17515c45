"""The fields of the goods: what the piece is made of and cut with."""

from __future__ import annotations

from core.editing.field import Field, Section, yes
from core.editing.saws import saw_sections
from core.edits import Path
from core.goods import Board
from core.project import Design


def goods_sections(design: Design) -> list[Section]:
    """What it is made of and cut with."""
    help = "each cut up before the next, for a shop without room; steps keep their numbers once a cut is ticked"
    apart = yes(design.one_sheet_at_a_time)
    one_sheet = Field("one sheet at a time", ("one_sheet_at_a_time",), "yes or no", apart, help)
    sections = saw_sections(design)
    for key, material in design.materials.items():
        item: Path = ("materials", key)
        fields = [
            Field("called", (*item, "name"), "text", material.name),
            Field("nominal thickness", (*item, "nominal"), "size", material.nominal, "as it is sold"),
            Field(
                "actual thickness", (*item, "actual"), "size", material.actual, "measure your sheet: every part follows"
            ),
            Field("grain", (*item, "grain"), "yes or no", yes(material.grain), "a face grain that parts must follow"),
            Field(
                "faces",
                (*item, "faces"),
                "choice",
                material.faces,
                "alike: left and right are one part",
                ("one good", "alike"),
            ),
            Field("density", (*item, "density"), "density", material.density, "kg a cubic metre, or 38 lb/ft^3"),
            Field(
                "stiffness",
                (*item, "stiffness"),
                "stiffness",
                material.stiffness,
                "modulus along the grain, N/mm2, or 950000 psi",
            ),
            Field("creep", (*item, "creep"), "amount", material.creep, "what a lasting load multiplies the sag by"),
            Field(
                "movement",
                (*item, "movement"),
                "amount",
                material.movement,
                "solid wood: growth across the grain for each percent of moisture, such as 0.0037; else empty",
                optional=True,
            ),
        ]
        for n, stock in enumerate(material.stock):
            sheet: Path = (*item, "stock", n)
            fields += [
                Field("sheet length", (*sheet, "length"), "size", stock.length, "along the face grain", item=sheet),
                Field("  width", (*sheet, "width"), "size", stock.width, item=sheet),
                Field("  price", (*sheet, "price"), "amount", stock.price, "for one sheet", item=sheet),
                Field(
                    "  how many",
                    (*sheet, "quantity"),
                    "count",
                    _number(stock.quantity),
                    "empty: as many as wanted",
                    optional=True,
                    item=sheet,
                ),
                *(
                    Field(
                        f"  trim {side}",
                        (*sheet, "trim", side),
                        "size",
                        getattr(stock.trim, side),
                        "what this edge loses, kerf counted; 0 uses it as it is",
                        item=sheet,
                    )
                    for side in ("left", "right", "bottom", "top")
                ),
                Field(
                    "  first crosscut",
                    (*sheet, "first_crosscut"),
                    "size",
                    stock.first_crosscut,
                    "before anything else, from the left end: where no saw here rips the whole length; empty: none",
                    optional=True,
                    item=sheet,
                ),
                Field(
                    "  loses there",
                    (*sheet, "crosscut_loses"),
                    "size",
                    stock.crosscut_loses,
                    "what both sides of that cut lose again, where it is a rough one; kerf counted",
                    item=sheet,
                ),
                Field(
                    "  first rip",
                    (*sheet, "first_rip"),
                    "size",
                    stock.first_rip,
                    "before anything but a first crosscut, from the lower edge: strips that go into a car; empty: none",
                    optional=True,
                    item=sheet,
                ),
                Field(
                    "  loses there",
                    (*sheet, "rip_loses"),
                    "size",
                    stock.rip_loses,
                    "what both sides of that rip lose again, where it is a rough one; kerf counted",
                    item=sheet,
                ),
            ]
        sections.append(Section(f"Material {key}", tuple(fields), item))
    for key, banding in design.bandings.items():
        item = ("bandings", key)
        of_one = f"for one {'foot' if design.unit == 'in' else 'metre'}"
        fields = [
            Field("called", (*item, "name"), "text", banding.name),
            Field("thickness", (*item, "thickness"), "size", banding.thickness, "taken off the part that bears it"),
            Field("price", (*item, "price"), "amount", banding.price, of_one),
        ]
        sections.append(Section(f"Banding {key}", tuple(fields), item))
    sections += [_board(key, board) for key, board in design.boards.items()]
    sections.append(Section("Cutting", (one_sheet,)))
    return sections


def _number(value: int | None) -> str:
    return "" if value is None else str(value)


def _board(key: str, board: Board) -> Section:
    item: Path = ("boards", key)
    fields = [
        Field("called", (*item, "name"), "text", board.name),
        Field("thickness", (*item, "thickness"), "size", board.thickness, "measure it"),
        Field("width", (*item, "width"), "size", board.width, "of the stiles and rails that are cut from it"),
        Field("trim at each end", (*item, "trim"), "size", board.trim, "kerf counted; 0 uses the ends as they are"),
        Field("density", (*item, "density"), "density", board.density, "kg a cubic metre, or 38 lb/ft^3"),
    ]
    for n, one in enumerate(board.lengths):
        length: Path = (*item, "lengths", n)
        fields += [
            Field("length", (*length, "length"), "size", one.length, item=length),
            Field("  price", (*length, "price"), "amount", one.price, "for one length", item=length),
            Field(
                "  how many",
                (*length, "quantity"),
                "count",
                _number(one.quantity),
                "empty: as many as wanted",
                optional=True,
                item=length,
            ),
        ]
    return Section(f"Board {key}", tuple(fields), item)
