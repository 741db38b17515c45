"""What is asked when goods come into a project: a material, one more size of it, a banding, a board."""

from __future__ import annotations

from core import edits
from core.editing.forms import Answers, Form, Question
from core.editing.suggested import of_unit
from core.goods import Banding, Board, Length, Material, Stock, Trim
from core.project import Design


def material_form(design: Design) -> Form:
    """A sheet material with one size of sheet."""

    def finish(design: Design, told: Answers) -> Design:
        trim = Trim(told["trim"], told["trim"], told["trim"], told["trim"])
        grain = told["grain"].lower().startswith("y")
        material = Material(
            told["called"],
            told["nominal"],
            told["actual"],
            grain,
            "one good" if grain else "alike",
            stock=(Stock(told["length"], told["width"], told["price"], trim=trim),),
        )
        return edits.add_material(design, told["name"], material)

    return Form(
        "A material",
        (
            Question("name", "short name, for formulas", "name", help="its actual thickness goes by this name"),
            Question("called", "called", "text", "Plywood"),
            Question("nominal", "nominal thickness", "size", of_unit(design, "3/4", "18")),
            Question("actual", "actual thickness", "size", of_unit(design, "23/32", "18"), help="measure it"),
            Question("grain", "has a grain", "yes or no", "yes"),
            Question("length", "sheet length, along the grain", "size", of_unit(design, "96", "2440")),
            Question("width", "sheet width", "size", of_unit(design, "48", "1220")),
            Question("trim", "trim at each edge, kerf counted", "size", of_unit(design, "1/4", "6")),
            Question("price", "price of a sheet", "amount", optional=True),
        ),
        finish,
    )


def stock_form(design: Design, material: str) -> Form:
    """One more size in which a material is sold, or an offcut of it that is at hand."""

    def finish(design: Design, told: Answers) -> Design:
        trim = Trim(told["trim"], told["trim"], told["trim"], told["trim"])
        quantity = int(told["quantity"]) if told["quantity"] else None
        stock = Stock(told["length"], told["width"], told["price"], quantity, trim)
        return edits.add_at(design, ("materials", material, "stock"), stock)

    return Form(
        "A size of sheet",
        (
            Question("length", "length, along the grain", "size"),
            Question("width", "width", "size"),
            Question("quantity", "how many can be had", "count", optional=True, help="empty: as many as wanted"),
            Question("price", "price of one", "amount", optional=True),
            Question("trim", "trim at each edge, kerf counted", "size", of_unit(design, "1/4", "6")),
        ),
        finish,
    )


def banding_form(design: Design) -> Form:
    """An edge banding."""

    def finish(design: Design, told: Answers) -> Design:
        return edits.add_banding(design, told["name"], Banding(told["called"], told["thickness"], told["price"]))

    return Form(
        "An edge banding",
        (
            Question("name", "short name", "name"),
            Question("called", "called", "text", "Banding"),
            Question("thickness", "thickness", "size", of_unit(design, "1/40", "0.6")),
            Question("price", f"price of a {of_unit(design, 'foot', 'metre')}", "amount", optional=True),
        ),
        finish,
    )


def board_form(design: Design) -> Form:
    """A board with one length."""

    def finish(design: Design, told: Answers) -> Design:
        lengths = (Length(told["length"], told["price"]),)
        return edits.add_board(
            design, told["name"], Board(told["called"], told["thickness"], told["width"], lengths=lengths)
        )

    return Form(
        "A board",
        (
            Question("name", "short name", "name"),
            Question("called", "called", "text", of_unit(design, "Poplar 1 x 2", "Beech 20 x 40")),
            Question("thickness", "thickness", "size", of_unit(design, "3/4", "20"), help="measure it"),
            Question("width", "width", "size", of_unit(design, "1 1/2", "40")),
            Question("length", "sold in lengths of", "size", of_unit(design, "96", "2400")),
            Question("price", "price of one", "amount", optional=True),
        ),
        finish,
    )


def length_form(design: Design, board: str) -> Form:
    """One more length in which a board is sold."""

    def finish(design: Design, told: Answers) -> Design:
        quantity = int(told["quantity"]) if told["quantity"] else None
        return edits.add_at(design, ("boards", board, "lengths"), Length(told["length"], told["price"], quantity))

    return Form(
        "A length of board",
        (
            Question("length", "length", "size"),
            Question("quantity", "how many can be had", "count", optional=True, help="empty: as many as wanted"),
            Question("price", "price of one", "amount", optional=True),
        ),
        finish,
    )
