"""Station: the saws, sheet goods and banding."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import ClassVar

from core.editing import goods_forms
from core.editing.field import Section
from core.editing.forms import Form
from core.editing.goods import goods_sections
from core.editing.saws import saw_form
from core.edits import Path
from core.plan import Plan
from core.printing import needed_in_words
from core.project import Design
from tui.stations.ledger import Ledger
from tui.widgets.painted import Painted, plain_row, wrapped


class GoodsStation(Ledger):
    """The saws, materials with their actual thickness and stock sizes, bandings."""

    NAME = "Goods"
    BESIDE = "used so far"
    HELP: ClassVar[str] = (
        "What the piece is made of and cut with. A material has a nominal thickness, which is what it is "
        "called, and an actual one, which every part follows: measure your sheet. Formulas know the actual "
        "thickness by the material's short name. Sizes of sheets: length is along the face grain. Trim is "
        "what an edge loses before it is trusted, the kerf counted.\n\n"
        "The saws of this shop, each with the kerf of its blade (cut a scrap and measure the slot) and what it "
        "can do: each cut goes to a saw that can make it, and layouts are planned with the widest kerf. A saw of "
        "kind `any` has no limits but those you set."
    )

    def sections(self, design: Design) -> Sequence[Section]:
        """The fields of the goods."""
        return goods_sections(design)

    def forms(self, design: Design, at: Path | None) -> dict[str, Callable[[], Form]]:
        """A material, a banding, or a size of sheet for the material under the cursor."""
        found: dict[str, Callable[[], Form]] = {}
        if at and at[0] == "materials":
            key = str(at[1])
            found["size of sheet"] = lambda: goods_forms.stock_form(design, key)
        found["saw"] = lambda: saw_form(design)
        found["material"] = lambda: goods_forms.material_form(design)
        if at and at[0] == "boards":
            board = str(at[1])
            found["length of board"] = lambda: goods_forms.length_form(design, board)
        found["board"] = lambda: goods_forms.board_form(design)
        found["banding"] = lambda: goods_forms.banding_form(design)
        return found

    def draw(self, plan: Plan, picture: Painted) -> None:
        """What each material is used for so far."""
        rows = [plain_row("Used so far", "heading")]
        if not plan.sheets:
            rows.append(plain_row("  nothing yet: no part is made of it", "quiet"))
        for one in plan.sheets:
            material = plan.project.design.materials[one.material]
            parts = sum(len(sheet.pieces) for sheet in one.sheets)
            told = f"{material.name}: {needed_in_words(one)}; {parts} of its parts placed"
            rows += wrapped(told, picture.size.width - 1, "text", "  ")
        rows += [plain_row(""), plain_row("Where the figures come from", "heading")]
        for key, material in plan.project.design.materials.items():
            if material.source:
                rows += wrapped(f"{key}: {material.source}", picture.size.width - 1, "quiet", "  ")
        picture.show_rows(rows)
