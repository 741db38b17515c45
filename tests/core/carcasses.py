"""Any carcass that can be built: its design as a person would type it, and what was asked in numbers."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from assembly import Asked
from designs import INCH, design
from hypothesis import strategies as st

from core.goods import Banding, Material, Stock
from core.project import Bay, Carcass, Design
from core.space import Baseboard, Clearance, Space


@dataclass
class Drawn:
    """A size as typed, and what it comes to in mm."""

    text: str
    mm: Fraction


@st.composite
def sizes(draw: st.DrawFn, least: int, most: int) -> Drawn:
    """Between `least` and `most` mm: a tape's sixty-fourths, tenths of a millimetre, or thirds of an inch."""
    way = draw(st.sampled_from(("tape", "mm", "thirds") if most - least >= 9 else ("tape", "mm")))
    if way == "mm":
        tenths = draw(st.integers(least * 10, most * 10))
        return Drawn(f"{tenths // 10}.{tenths % 10} mm", Fraction(tenths, 10))
    parts = 64 if way == "tape" else 3
    unit = INCH / parts
    count = draw(st.integers(-int(-least // unit), int(most // unit)))
    whole, part = divmod(count, parts)
    text = f"{whole} {part}/{parts} in" if whole and part else f"{part}/{parts} in" if part else f"{whole} in"
    return Drawn(text, count * unit)


@st.composite
def buildable(draw: st.DrawFn) -> tuple[Design, Asked, dict[str, str]]:
    """A design of one carcass, what was asked of it, and the material of each kind of panel."""
    thick = {
        "panel": draw(sizes(9, 25)),
        "back_panel": draw(sizes(3, 19)),
        "shelf_panel": draw(sizes(9, 25)),
        "kick_panel": draw(sizes(9, 25)),
    }
    goods = {key: material(draw, size) for key, size in thick.items()}
    uses = {key: key if draw(st.booleans()) else "panel" for key in thick}
    width, height, depth = draw(sizes(300, 1200)), draw(sizes(500, 2200)), draw(sizes(220, 700))
    rules = {
        "kick_height": draw(sizes(30, 150)),
        "kick_depth": draw(sizes(20, 100)),
        "rail_width": draw(sizes(30, 70)),
        "back_height": draw(sizes(100, 300)),
        "rabbet_depth": draw(sizes(1, 4)),
        "shelf_play": draw(sizes(0, 3)),
        "shelf_setback": draw(sizes(0, 10)),
    }
    choices = {
        "runs_through": draw(st.sampled_from(("sides", "sides", "top and bottom"))),
        "top": draw(st.sampled_from(("panel", "rails", "none"))),
        "back": draw(st.sampled_from(("applied", "let in", "none"))),
        "back_reach": draw(st.sampled_from(("bottom", "floor", "part"))),
    }
    bases = ("kick", "plinth", "none") if choices["runs_through"] == "sides" else ("plinth", "none")
    choices["base"] = draw(st.sampled_from(bases))
    band = draw(st.none() | sizes(0, 3))
    bays, asked_bays = some_bays(draw, thick[uses["shelf_panel"]])
    asked = Asked(
        width.mm,
        height.mm,
        depth.mm,
        **{key: thick[uses[key]].mm for key in thick},
        **choices,
        **{name: size.mm for name, size in rules.items()},
        band=band.mm if band else None,
        bays=asked_bays,
    )
    typed = {**choices, **uses, **{name: size.text for name, size in rules.items()}}
    if band:
        typed["front_banding"] = "band"
    own = {name: typed.pop(name) for name in list(typed) if draw(st.booleans())}
    space, clearance = baseboard(draw, asked)
    made = design(
        Carcass("A", "Base", height.text, depth.text, width.text, rules=own, bays=bays),
        materials=goods,
        bandings={"band": Banding("Band", band.text if band else "0")},
        rules={**typed, "baseboard_clearance": clearance},
        space=space,
    )
    return made, asked, uses


def material(draw: st.DrawFn, size: Drawn) -> Material:
    grain = draw(st.booleans())
    faces = draw(st.sampled_from(("alike", "one good")))
    return Material("Sheet", size.text, size.text, grain, faces, stock=(Stock("3000 mm", "2000 mm"),))


def some_bays(draw: st.DrawFn, shelf: Drawn) -> tuple[tuple[Bay, ...], list[tuple[Fraction | None, object, int]]]:
    """Up to three bays, at least one of them a share, each with its shelves."""
    count = draw(st.integers(1, 3))
    sharing = draw(st.integers(0, count - 1))
    bays, asked = [], []
    for n in range(count):
        width = draw(sizes(30, 60)) if n != sharing and draw(st.booleans()) else None
        if draw(st.booleans()):
            fixed = draw(st.integers(0, 3))
            heights: tuple[str, ...] = ("even",) * fixed
            told: object = fixed
        else:
            low = draw(sizes(20, 50))
            high = draw(sizes(100, 130))
            heights, told = (high.text, low.text), [high.mm, low.mm]
        loose = draw(st.integers(0, 2))
        bays.append(Bay(width.text if width else "share", heights, loose))
        asked.append((width.mm if width else None, told, loose))
    return tuple(bays), asked


def baseboard(draw: st.DrawFn, asked: Asked) -> tuple[Space, str]:
    """A space with or without a baseboard at the back, and the clearance wanted of it; sets what was asked."""
    if draw(st.booleans()):
        return Space(), "0"
    high, thick = draw(sizes(10, 200)), draw(sizes(5, 25))
    clear, off = draw(sizes(0, 5)), draw(sizes(0, 12))
    away = thick.mm + clear.mm - off.mm
    if away > 0:
        asked.board = (high.mm + clear.mm, away)
    space = Space(baseboards=(Baseboard("back", high.text, thick.text),), clearance=Clearance(back=off.text))
    return space, clear.text
