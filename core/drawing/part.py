"""The drawing of one finished panel: its outline, its joints and holes, its sizes, its edges and its grain.

The edge where the width begins is nearest to you, as the panel lies on the bench (`part_seen`). What is cut
into the face that is up has full lines, what is cut into the other one dashed ones.
"""

from __future__ import annotations

from fractions import Fraction

from core.construction.part import Part, Side
from core.drawing.blocks import Block, free_block
from core.drawing.canvas import Canvas, Notation, Picture, Role, Weight
from core.drawing.dimension import Across, Upright
from core.drawing.glyphs import Glyphs
from core.drawing.lettering import cells, clean, fitted
from core.drawing.part_arranged import Arrangement, Page, arrange, end_words
from core.drawing.part_marks import inner_block, outer_block
from core.drawing.part_notes import Write, note_lines
from core.drawing.part_seen import Seen, hand_in_words, seen
from core.drawing.part_shape import Edge, Shape, through


def draw_part(
    part: Part,
    columns: int,
    rows: int,
    notation: Notation,
    glyphs: Glyphs,
    cell_ratio: Fraction = Fraction(2),
    *,
    titled: bool = True,
) -> Picture:
    """The finished panel to scale in `columns` by `rows` cells; where it is cramped, what fits.

    Notches and cutouts change the outline. A banded edge is a double stroke with its name. How far dadoes, grooves
    and rows of holes are from one end and one edge runs along the panel from a 0; what has no room to be dimensioned
    in place is marked with a letter and told in a note below.
    `titled`: its name, material and thickness stand above, and its size where it is not dimensioned.
    """
    canvas = Canvas(columns, rows, glyphs)

    def write(length: Fraction) -> str:
        return clean(notation.text(length), glyphs)

    top = 1 if rows >= 4 and titled else 0
    if columns < 3 or rows - top < 3:
        if titled:
            _draw_title(canvas, part, write, with_size=True)
        return canvas.picture()
    arranged = arrange(seen(part), Page(columns, rows, top, write, glyphs, cell_ratio))
    if top:
        _draw_title(canvas, part, write, with_size=arranged.bare)
    _draw_panel(canvas, arranged.seen, arranged.shape)
    _draw_holes(canvas, arranged)
    if not arranged.bare:
        _draw_round(canvas, arranged, write, top)
    _draw_edges(canvas, arranged)
    _draw_told(canvas, arranged)
    _draw_grain(canvas, arranged)
    return canvas.picture()


def _draw_title(canvas: Canvas, part: Part, write: Write, with_size: bool) -> None:
    glyphs = canvas.glyphs
    title = clean(part.name, glyphs)
    size = f"{write(part.length)} x {write(part.width)}" if with_size else ""
    for more in (size, hand_in_words(part), clean(part.material, glyphs), f"{write(part.thickness)} thick"):
        if more and cells(title) + 2 + cells(more) <= canvas.columns:
            title = f"{title}  {more}"
    canvas.text(0, 0, fitted(title, canvas.columns, glyphs), "title")


def _draw_panel(canvas: Canvas, seen: Seen, shape: Shape) -> None:
    part = shape.part
    canvas.fill(shape.left, shape.top, shape.right, shape.bottom, (" ",), "part")
    for machining in through(part):
        void = inner_block(shape, machining)
        canvas.fill(
            void.left - (machining.x == 0),
            void.top - (machining.y + machining.width == part.width),
            void.right + (machining.x + machining.length == part.length),
            void.bottom + (machining.y == 0),
            (" ",),
            "",
        )
    for machining in sorted(part.machining, key=lambda machining: machining.face == seen.face):
        if machining.depth is not None:
            up = machining.face == seen.face
            for edge in shape.shoulders(machining):
                _draw_edge(canvas, edge, "outline" if up else "hidden", "light" if up else "dashed")
    banded = {edge.side for edge in part.edges}
    for edge in sorted(shape.outline(), key=lambda edge: edge.side in banded):
        is_banded = edge.side in banded
        _draw_edge(canvas, edge, "banding" if is_banded else "outline", "strong" if is_banded else "light")


def _draw_holes(canvas: Canvas, arranged: Arrangement) -> None:
    """Every row, with a cell free on both sides of a letter that stands amid its holes."""
    seen, shape, glyphs = arranged.seen, arranged.shape, canvas.glyphs
    lettered = [Block(one.left - 1, one.top, one.right + 1, one.top) for told in arranged.told for one in told.blocks]
    for holes in sorted(seen.part.holes, key=lambda holes: holes.face == seen.face):
        up = holes.face == seen.face or holes.depth is None
        for x, y in shape.bored(holes):
            # Where a row is crowded its lines say more than its holes do.
            blank = canvas.shown(x, y) in (" ", glyphs.dash_down)
            if blank and not any(block.meets(Block(x, y, x, y)) for block in lettered):
                canvas.text(x, y, glyphs.ring if up else glyphs.dash_down, "outline" if up else "hidden")


def _draw_edge(canvas: Canvas, edge: Edge, role: Role, weight: Weight) -> None:
    if edge.x1 == edge.x2:
        canvas.vertical(edge.x1, edge.y1, edge.y2, role, weight)
    else:
        canvas.horizontal(edge.x1, edge.x2, edge.y1, role, weight)


def _draw_round(canvas: Canvas, arranged: Arrangement, write: Write, row: int) -> None:
    """The overall length above, the overall width to the right, and the names of the ends."""
    shape, glyphs = arranged.shape, canvas.glyphs
    Across(shape.left, shape.right, row, write(shape.part.length)).draw(canvas)
    beyond = max([shape.right, *(block.right for block in arranged.dimension_blocks if block.left > shape.right)])
    width = Upright(beyond + 2, shape.top, shape.bottom, write(shape.part.width), "right")
    width.draw(canvas)
    before = min([shape.left, *(block.left for block in arranged.dimension_blocks if block.right < shape.left)])
    middle = (shape.top + shape.bottom) // 2
    ends: tuple[tuple[Side, int | None], ...] = (("length-", None), ("length+", width.block.right + 2))
    for side, left in ends:
        words = end_words(arranged.seen, side, glyphs)
        banded = any(edge.side == side for edge in shape.part.edges)
        for i, word in enumerate(words):
            x = left if left is not None else before - 1 - cells(word)
            canvas.text(x, middle - (len(words) - 1) // 2 + i, word, "banding" if banded else "label")


def _draw_edges(canvas: Canvas, arranged: Arrangement) -> None:
    """The names of the two long edges, each in the longest stretch of its own line."""
    part = arranged.shape.part
    sides: tuple[Side, Side] = ("width-", "width+")
    for side in sides:
        run = arranged.shape.longest(side)
        banding = next((edge.banding for edge in part.edges if edge.side == side), "")
        name = arranged.seen.edge_name(side)
        for text in (f"{name}: {clean(banding, canvas.glyphs)}" if banding else name, name):
            if run is None:
                break
            room = Block(run.x1 + 2, run.y1, run.x2 - 2, run.y2)
            place = free_block(room, cells(text) + 2, 1, arranged.dimension_blocks)
            if place is not None:
                canvas.text(place.left, place.top, f" {text} ", "banding" if banding else "label")
                break


def _draw_told(canvas: Canvas, arranged: Arrangement) -> None:
    for told in arranged.told:
        for dimension in told.dimensions:
            dimension.draw(canvas)
        for x, y in told.at:
            canvas.text(x, y, told.text, "label")
    row = arranged.first_note
    notes = arranged.notes(canvas.glyphs)
    for i, line in enumerate(note_lines(notes, canvas.columns, max(canvas.rows - row, 0), canvas.glyphs)):
        canvas.text(0, row + i, line, "legend")


def _draw_grain(canvas: Canvas, arranged: Arrangement) -> None:
    """An arrow along the grain, as near to the middle of the panel as there is room."""
    shape, glyphs = arranged.shape, canvas.glyphs
    if shape.part.grain == "none":
        return
    left, right, up, down = glyphs.arrows
    shaft = glyphs.join(0, 1, 0, 1)
    across = [f"{left}{shaft * long} grain {shaft * long}{right}" for long in (8, 4, 1)] + [f"{left}{shaft * 2}{right}"]
    choices = [[text] for text in across] if shape.part.grain == "length" else [[up, "grain", down], [up, down]]
    machined = [outer_block(shape, machining) for machining in shape.part.machining]
    machined += [shape.row_block(holes) for holes in shape.part.holes]
    machined += [block for told in arranged.told for block in told.blocks]
    room = Block(shape.left + 1, shape.top + 1, shape.right - 1, shape.bottom - 1)
    for lines in choices:
        wide = max(map(cells, lines))
        block = free_block(room, wide + 2, len(lines), [*arranged.dimension_blocks, *machined])
        if block is not None:
            for i, line in enumerate(lines):
                canvas.text(block.left + 1 + (wide - cells(line)) // 2, block.top + i, line, "grain")
            return
