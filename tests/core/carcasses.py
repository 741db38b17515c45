"""Any carcass: its design as a person would type it, and what was asked in numbers.

`buildable` draws sizes with room enough for what is chosen; `wild` changes some of them to anything.
"""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass, field, replace
from fractions import Fraction
from math import ceil
from typing import Any

from asked import Asked, AskedBay, AskedOpening
from designs import INCH, design, inches
from hypothesis import Phase, settings
from hypothesis import strategies as st

from core.construction.rule_book import RULE_BOOK, RuleInfo
from core.goods import Banding, Material, Stock
from core.project import Bay, Carcass, Design, Opening
from core.space import Baseboard, Clearance, Space

unshrunk = settings(deadline=None, phases=(Phase.explicit, Phase.reuse, Phase.generate, Phase.target))
"""To make a carcass that fails smaller takes minutes; what it is found amiss with mostly says enough."""
Tried = tuple[Design, Asked, dict[str, str]]
"""A design of one carcass, what was asked of it, and the material of each kind of panel."""


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


BOOK = {rule.name: rule for rule in RULE_BOOK}
THICK = {
    "panel": (12, 25),
    "back_panel": (3, 19),
    "shelf_panel": (9, 25),
    "kick_panel": (9, 25),
    "front_panel": (15, 25),
    "drawer_panel": (9, 19),
    "drawer_bottom_panel": (3, 10),
}
"""Of each kind of panel, from how many mm to how many. A door is thicker than a hinge's cup is deep."""
SIZES = {
    "kick_height": (30, 150),
    "kick_depth": (20, 100),
    "plinth_spacing": (150, 700),
    "feet_gap": (0, 20),
    "rail_width": (30, 70),
    "nailer_height": (30, 150),
    "dado_play": (0, 1),
    "dado_stop": (5, 40),
    "back_height": (100, 300),
    "back_inset": (5, 25),
    "let_in_play": (0, 1),
    "shelf_play": (0, 1),
    "shelf_setback": (0, 10),
    "pin_pitch": (25, 40),
    "pin_setback": (34, 60),
    "pin_margin": (20, 100),
    "pin_diameter": (3, 5),
    "front_gap": (2, 4),
    "top_reveal": (0, 5),
    "bottom_reveal": (0, 5),
    "cup_edge": (3, 8),
    "hinge_from_end": (80, 110),
    "plate_setback": (30, 45),
    "plate_diameter": (4, 6),
    "slide_clearance": (10, 15),
    "slide_behind": (0, 10),
    "drawer_above": (15, 25),
    "drawer_below": (10, 20),
    "drawer_bottom_up": (5, 15),
}
"""Sizes of rules that suit any carcass from 300 to 1200 mm wide, 500 high and 220 deep upwards."""
CHOICES = (
    *("runs_through", "top", "base", "nailers", "bottom_joint", "top_joint", "shelf_joint", "divider_joint"),
    *("back", "back_reach", "fronts", "slides", "drawer_joint"),
)


def usual(name: str, unit: str) -> Drawn:
    """A rule's size where nothing is said."""
    text = BOOK[name].default(unit)
    if text.endswith(" mm"):
        return Drawn("", Fraction(text.removesuffix(" mm")))
    return Drawn("", inches(text) if unit == "in" else Fraction(text))


@dataclass
class Spec:
    """A carcass to be: everything that is said of it, as drawn. A size without a text is left unsaid."""

    unit: str
    thick: dict[str, Drawn]
    uses: dict[str, str]
    """The material of each kind of panel: its own, or another's."""
    goods: dict[str, tuple[bool, str]]
    """Of each material, whether it has grain, and its faces."""
    outside: dict[str, Drawn]
    sizes: dict[str, Drawn]
    choices: dict[str, str]
    bands: dict[str, Drawn | None]
    bays: list[tuple[Bay, AskedBay]] = field(default_factory=list)
    board: tuple[Drawn, Drawn, Drawn, Drawn] | None = None
    """Height and thickness of a baseboard, clearance of its notch, and how far the rear plane is off the wall."""

    def mm(self, name: str) -> Fraction:
        """A size or the thickness of a kind of panel."""
        return (self.thick[self.uses[name]] if name in self.uses else (self.outside | self.sizes)[name]).mm

    def away(self) -> Fraction:
        """How far a baseboard keeps things from the rear plane."""
        if not self.board:
            return Fraction(0)
        _, thick, clear, off = self.board
        return max(thick.mm + clear.mm - off.mm, Fraction(0))

    def rear(self) -> Fraction:
        """Where everything between the sides ends."""
        back = self.mm("back_panel") if self.choices["back"] != "none" else Fraction(0)
        return self.mm("depth") - back - (self.mm("back_inset") if self.choices["back"] == "grooved" else 0)

    def inside(self) -> Fraction:
        """Height between bottom and top."""
        t = self.mm("panel")
        kick = self.mm("kick_height") if self.choices["base"] == "kick" else 0
        return self.mm("height") - kick - t - (t if self.choices["top"] != "none" else 0)


@st.composite
def specs(draw: st.DrawFn) -> Spec:
    """A carcass with room for everything in it."""
    unit = draw(st.sampled_from(("in", "mm")))
    thick = {kind: draw(sizes(*between)) for kind, between in THICK.items()}
    uses = {kind: kind if draw(st.booleans()) else "panel" for kind in thick}
    uses["panel"] = "panel"
    if thick["panel"].mm < 15:
        uses["front_panel"] = "front_panel"
    if draw(st.booleans()):
        uses["drawer_bottom_panel"] = uses["back_panel"]
    goods = {kind: (draw(st.booleans()), draw(st.sampled_from(("alike", "one good")))) for kind in thick}
    outside = {
        "width": draw(sizes(300, 1200)),
        "height": draw(sizes(500, 2200)),
        "depth": draw(sizes(220, 700)),
    }
    told = {name: said(draw, name, unit, *between) for name, between in SIZES.items()}
    choices = {name: draw(st.sampled_from(BOOK[name].choices)) for name in CHOICES}
    if choices["runs_through"] != "sides" and choices["base"] == "kick":
        choices["base"] = draw(st.sampled_from(("plinth", "feet", "none")))
    bands = {name: draw(st.none() | sizes(0, 3)) for name in ("front_banding", "door_banding")}
    spec = Spec(unit, thick, uses, goods, outside, told, choices, bands)
    spec.board = draw(st.none() | st.tuples(sizes(10, 200), sizes(5, 25), sizes(0, 5), sizes(0, 12)))
    t, t_drawer = spec.mm("panel"), spec.mm("drawer_panel")
    told["dado_depth"] = said(draw, "dado_depth", unit, 1, int(t / 3))
    told["rabbet_depth"] = said(draw, "rabbet_depth", unit, 2, min(6, int(t / 2)))
    told["pin_depth"] = said(draw, "pin_depth", unit, 3, int((t - 1) / 2))
    told["plate_depth"] = said(draw, "plate_depth", unit, 5, int(t - 1))
    told["drawer_groove"] = said(draw, "drawer_groove", unit, 2, int(t_drawer / 2))
    least = max(38, ceil(2 * t_drawer))
    told["undermount_less"] = said(draw, "undermount_less", unit, least + 1, least + 10)
    free = spec.rear() - spec.away() - t - spec.mm("front_panel") - spec.mm("slide_behind")
    long = said(draw, "slide_length", unit, 60, int(free))
    told["slide_length"] = usual("slide_length", unit) if free >= 10 * INCH and draw(st.booleans()) else long
    spec.bays = some_bays(draw, spec)
    some_nailers(draw, spec)
    return spec


def said(draw: st.DrawFn, name: str, unit: str, least: int, most: int) -> Drawn:
    """A rule's size, now and then left unsaid where what is usual suits."""
    as_usual = usual(name, unit)
    if least <= as_usual.mm <= most and not draw(st.integers(0, 3)):
        return as_usual
    return draw(sizes(least, most))


# --- Bays


def some_bays(draw: st.DrawFn, spec: Spec) -> list[tuple[Bay, AskedBay]]:
    """Up to three bays, at least one of them a share, each with what has room in it."""
    count = draw(st.integers(1, 3))
    sharing = draw(st.integers(0, count - 1))
    told = [draw(sizes(30, 60)) if n != sharing and draw(st.booleans()) else None for n in range(count)]
    t = spec.mm("panel")
    room = spec.mm("width") - (count + 1) * t - sum((one.mm for one in told if one), Fraction(0))
    share = room / told.count(None)
    found = []
    for width in told:
        clear = width.mm if width else share
        make = some_openings if draw(st.booleans()) else some_shelves
        bay, asked = make(draw, spec, clear)
        if not any(one.front != "open" for one in asked.openings):
            asked.front = draw(st.sampled_from(whole_doors(spec, clear, asked)))
            asked.hinged = draw(st.sampled_from(("left", "right")))
        text = width.text if width else "share"
        found.append((replace(bay, width=text, front=asked.front, hinged=asked.hinged), asked))
        asked.width = width.mm if width else None
    return found


def some_shelves(draw: st.DrawFn, spec: Spec, clear: Fraction) -> tuple[Bay, AskedBay]:
    loose = draw(st.integers(0, 2))
    if draw(st.booleans()):
        count = draw(st.integers(0, 3 if spec.inside() > 450 or not loose else 1))
        return Bay("share", ("even",) * count, loose), AskedBay(None, count, loose)
    low, high = draw(sizes(20, 50)), draw(sizes(100, 130))
    return Bay("share", (high.text, low.text), loose), AskedBay(None, [high.mm, low.mm], loose)


def some_openings(draw: st.DrawFn, spec: Spec, clear: Fraction) -> tuple[Bay, AskedBay]:
    """Up to four openings, with heights that add up, and in each what fits it."""
    count = draw(st.integers(1, min(4, int(spec.inside() / 125))))
    above = [draw(st.sampled_from(("nothing", "shelf", "rail"))) for _ in range(count)]
    thick = {"shelf": spec.mm("shelf_panel"), "rail": spec.mm("panel"), "nothing": Fraction(0)}
    room = spec.inside() - sum((thick[one] for one in above[:-1]), Fraction(0))
    sharing = draw(st.integers(0, count - 1))
    told = [draw(sizes(60, int(room / count))) if n != sharing and draw(st.booleans()) else None for n in range(count)]
    share = (room - sum((one.mm for one in told if one), Fraction(0))) / told.count(None)
    openings, asked = [], []
    for height, parted in zip(told, above, strict=True):
        high = height.mm if height else share
        front = draw(st.sampled_from(what_hangs(spec, clear, high)))
        hinged = draw(st.sampled_from(("left", "right")))
        most = (
            0 if front == "drawer" else 2 if high >= for_shelves(spec, 2) else 1 if high >= for_shelves(spec, 1) else 0
        )
        loose = draw(st.integers(0, most))
        openings.append(Opening(height.text if height else "share", front, hinged, loose, parted))
        asked.append(AskedOpening(height.mm if height else None, front, hinged, loose, parted))
    return Bay(openings=tuple(openings)), AskedBay(openings=asked)


def for_shelves(spec: Spec, count: int) -> Fraction:
    """How high an opening is that has room for so many adjustable shelves and their pins."""
    t, hole = spec.mm("shelf_panel"), spec.mm("pin_diameter")
    return (count - 1) * (t + spec.mm("pin_pitch")) + count * t + 2 * hole + 5


def swings(spec: Spec, wide: Fraction) -> bool:
    """Whether a door so wide clears what is a gap beside its free edge, and has room for its cups."""
    gap = spec.mm("front_gap")
    return wide > spec.mm("cup_edge") + 40 and spec.mm("front_panel") ** 2 < 2 * wide * gap + gap**2


def light(spec: Spec, wide: Fraction, high: Fraction) -> bool:
    """Whether five hinges carry a door that is not larger, with all that it may overlay."""
    volume = (wide + 2 * spec.mm("panel")) * (high + 2 * spec.mm("panel")) * spec.mm("front_panel")
    return float(volume) * 750e-9 < 27


def some_door(spec: Spec, clear: Fraction, high: Fraction) -> list[str]:
    gap = spec.mm("front_gap")
    if high < 2 * spec.mm("hinge_from_end") + 2 * gap + 180:
        return []
    kinds = {"door": clear - 2 * gap, "pair of doors": (clear - 3 * gap) / 2}
    return [kind for kind, wide in kinds.items() if swings(spec, wide) and light(spec, wide, high)]


def whole_doors(spec: Spec, clear: Fraction, asked: AskedBay) -> list[str]:
    """The doors that can hang before a whole bay: hinges need room between its shelves."""
    parted = [one for one in asked.openings[:-1] if one.above != "nothing"]
    roomy = not parted and isinstance(asked.fixed, int)
    if isinstance(asked.fixed, int) and asked.fixed:
        # Beside the plates the pins of the adjustable shelves need holes as well.
        least = 180 + 40 * asked.loose
        roomy = roomy and (spec.inside() - asked.fixed * spec.mm("shelf_panel")) / (asked.fixed + 1) > least
    return ["open", *(some_door(spec, clear, spec.inside()) if roomy else [])]


def what_hangs(spec: Spec, clear: Fraction, high: Fraction) -> list[str]:
    """What can be before an opening."""
    found = ["open", "false front", *some_door(spec, clear, high)]
    return [*found, "drawer", "drawer"] if clear >= 125 and high >= 110 else found


# --- Nailers


def some_nailers(draw: st.DrawFn, spec: Spec) -> None:
    """Nailers as high as what is in the bays lets them be, or none."""
    if spec.choices["nailers"] == "none":
        return
    room = spec.inside()
    high = spec.mm("nailer_height")
    over = spec.board[0].mm + spec.board[2].mm if spec.board else Fraction(0)
    foot = spec.mm("kick_height") if spec.choices["base"] != "none" else Fraction(0)
    # Over a baseboard, if that reaches so far forward.
    raised = max(over - foot - spec.mm("panel"), Fraction(0))
    below = {Fraction(0), raised} if spec.choices["nailers"] == "top and bottom" else set()
    nailers = [(room - high, room), *((low, low + high) for low in below)]
    fits = raised + 2 * high < room
    for _, bay in spec.bays:
        for low, top, loose in stretches(spec, bay):
            free = [low, top]
            for start, end in nailers:
                fits = fits and not (low - spec.mm("shelf_panel") < end and start < low and low)
                if start < top and low < end:
                    free = [low, min(top, start)] if end == room else [max(low, end), top]
            fits = fits and (not loose or free[1] - free[0] >= for_shelves(spec, loose))
    if not fits:
        spec.choices["nailers"] = "none"


def stretches(spec: Spec, bay: AskedBay) -> list[tuple[Fraction, Fraction, int]]:
    """From where to where the openings of a bay go, over its bottom, and how many loose shelves are in each."""
    t, room = spec.mm("shelf_panel"), spec.inside()
    thick = {"shelf": t, "rail": spec.mm("panel"), "nothing": Fraction(0)}
    if bay.openings:
        parted = [thick[one.above] for one in bay.openings[:-1]] + [Fraction(0)]
        left = room - sum(parted) - sum((one.height for one in bay.openings if one.height is not None), Fraction(0))
        share = left / max(1, [one.height for one in bay.openings].count(None))
        found, low = [], Fraction(0)
        for one, over in zip(bay.openings, parted, strict=True):
            high = low + (share if one.height is None else one.height)
            found.append((low, high, one.loose))
            low = high + over
        return found
    if isinstance(bay.fixed, int):
        each = (room - bay.fixed * t) / (bay.fixed + 1)
        ups = [each * n + t * (n - 1) for n in range(1, bay.fixed + 1)]
    else:
        ups = sorted(bay.fixed)
    lows, highs = [Fraction(0), *(up + t for up in ups)], [*ups, room]
    tall = [high - low for low, high in zip(lows, highs, strict=True)]
    highest = tall.index(max(tall))
    return [
        (low, high, bay.loose if n == highest else 0) for n, (low, high) in enumerate(zip(lows, highs, strict=True))
    ]


# --- What comes of it


def typed_of(spec: Spec) -> dict[str, str]:
    """Every rule as it would be typed; a choice or goods as they are usual may be left unsaid."""
    typed = {name: size.text for name, size in spec.sizes.items() if size.text}
    typed |= spec.choices | spec.uses
    return typed | {name: name for name, band in spec.bands.items() if band}


def unneeded(spec: Spec) -> list[str]:
    """The rules that say what holds without them."""
    found = [name for name, kind in spec.choices.items() if kind == BOOK[name].choices[0]]
    for kind, used in spec.uses.items():
        instead = "back_panel" if kind == "drawer_bottom_panel" else "panel"
        if kind != "panel" and used == spec.uses[instead]:
            found.append(kind)
    return found


def made(spec: Spec, unsaid: Collection[str] = (), own: Collection[str] = ()) -> Tried:
    """The design and what it asks for; `own`: the rules that are said of the carcass, not of the project."""
    goods = {
        kind: Material("Sheet", size.text, size.text, *spec.goods[kind], stock=(Stock("3000 mm", "2000 mm"),))
        for kind, size in spec.thick.items()
    }
    typed = {name: text for name, text in typed_of(spec).items() if name not in unsaid}
    space, board = Space(), None
    if spec.board:
        high, thick, clear, off = spec.board
        space = Space(baseboards=(Baseboard("back", high.text, thick.text),), clearance=Clearance(back=off.text))
        typed |= {"baseboard_clearance": clear.text} if clear.text else {}
        board = (high.mm + clear.mm, spec.away()) if spec.away() else None
    asked = Asked(
        spec.mm("width"),
        spec.mm("height"),
        spec.mm("depth"),
        {
            **{name: spec.mm(name) for name in (*spec.uses, *spec.sizes)},
            **spec.choices,
            **{name: band.mm if band else None for name, band in spec.bands.items()},
        },
        [bay for _, bay in spec.bays] or [AskedBay()],
        board,
        spec.unit,
        frozenset(kind for kind, used in spec.uses.items() if spec.goods[used][1] == "one good"),
        frozenset(kind for kind, used in spec.uses.items() if spec.goods[used][0]),
    )
    outside = (spec.outside[name].text for name in ("height", "depth", "width"))
    rules = {name: text for name, text in typed.items() if name in own}
    of = design(
        Carcass("A", "Base", *outside, rules=rules, bays=tuple(bay for bay, _ in spec.bays)),
        unit=spec.unit,
        materials=goods,
        bandings={name: Banding("Band", band.text) for name, band in spec.bands.items() if band},
        rules={name: text for name, text in typed.items() if name not in own},
        space=space,
    )
    return of, asked, dict(spec.uses)


@st.composite
def finished(draw: st.DrawFn, spec: Spec) -> Tried:
    """Some rules are said of the carcass and some of the project, and some that go without saying are not."""
    rules = draw(st.integers(0, 2**64 - 1))
    told = [*typed_of(spec), *unneeded(spec)]
    picked = [name for n, name in enumerate(told) if rules >> n & 1]
    return made(spec, set(picked) & set(unneeded(spec)), picked)


def by_hand(
    width: str, height: str, depth: str, *bays: Bay, board: tuple[str, str] | None = None, **rules: str
) -> Tried:
    """A carcass in inches as it would be typed, out of 3/4 in stock with 1/4 in backs where nothing else is said."""

    def drawn(text: str) -> Drawn:
        mm = Fraction(text.removesuffix(" mm")) if text.endswith(" mm") else inches(text)
        return Drawn(text, mm)

    thick = {"panel": "3/4", "back_panel": "1/4", "shelf_panel": "3/4", "kick_panel": "3/4", "front_panel": "3/4"}
    thick |= {"drawer_panel": "1/2", "drawer_bottom_panel": "1/4"}
    spec = Spec(
        "in",
        {kind: drawn(rules.get(kind, text)) for kind, text in thick.items()},
        {kind: kind for kind in thick},
        dict.fromkeys(thick, (True, "alike")),
        {"width": drawn(width), "height": drawn(height), "depth": drawn(depth)},
        {
            name: drawn(rules[name]) if name in rules else usual(name, "in")
            for name, rule in BOOK.items()
            if sized(rule)
        },
        {name: rules.get(name, BOOK[name].choices[0]) for name in CHOICES},
        {name: drawn(rules[name]) if name in rules else None for name in ("front_banding", "door_banding")},
        [(bay, asked_of(bay, drawn)) for bay in bays],
        (drawn(board[0]), drawn(board[1]), usual("baseboard_clearance", "in"), drawn("0")) if board else None,
    )
    return made(spec)


def sized(rule: RuleInfo) -> bool:
    """A size that is asked of every carcass."""
    return rule.kind == "size" and rule.name not in ("baseboard_clearance", "cutout_margin")


def asked_of(bay: Bay, drawn: Callable[[str], Drawn]) -> AskedBay:
    """What a bay as typed asks for."""

    def mm(text: str) -> Fraction | None:
        return None if text == "share" else drawn(text).mm

    even = "even" in bay.fixed_shelves
    fixed = len(bay.fixed_shelves) if even or not bay.fixed_shelves else [drawn(up).mm for up in bay.fixed_shelves]
    openings = [
        AskedOpening(mm(one.height), one.front, one.hinged, one.adjustable_shelves, one.above) for one in bay.openings
    ]
    return AskedBay(mm(bay.width), fixed, bay.adjustable_shelves, bay.front, bay.hinged, openings)


buildable = specs().flatmap(finished)
"""A carcass that can be built."""


# --- Anything


@st.composite
def changed(draw: st.DrawFn) -> Spec:
    """A sound carcass with one to four things changed to anything."""
    spec = draw(specs())
    for _ in range(draw(st.integers(1, 4))):
        match draw(st.sampled_from(("rule", "rule", "choice", "choice", "thick", "outside", "bays", "bays", "board"))):
            case "rule":
                name = draw(st.sampled_from(sorted(spec.sizes)))
                spec.sizes[name] = draw(anything)
            case "choice":
                name = draw(st.sampled_from(CHOICES))
                spec.choices[name] = draw(st.sampled_from(BOOK[name].choices))
            case "thick":
                spec.thick[draw(st.sampled_from(sorted(spec.thick)))] = draw(sizes(1, 45))
            case "outside":
                spec.outside[draw(st.sampled_from(sorted(spec.outside)))] = draw(sizes(20, 2800))
            case "bays":
                spec.bays = draw(st.lists(wild_bays(), min_size=1, max_size=3))
            case "board":
                spec.board = draw(st.tuples(sizes(10, 600), sizes(5, 90), sizes(0, 5), sizes(0, 12)))
    return spec


anything = sizes(0, 12) | sizes(0, 60) | sizes(0, 400)


@st.composite
def wild_bays(draw: st.DrawFn) -> tuple[Bay, AskedBay]:
    width = draw(st.none() | st.none() | sizes(10, 600))
    text, mm = (width.text, width.mm) if width else ("share", None)
    front, hinged = draw(st.sampled_from(("open", "door", "pair of doors"))), draw(st.sampled_from(("left", "right")))
    if draw(st.booleans()):
        loose = draw(st.integers(0, 3))
        fixed = draw(st.lists(sizes(0, 1500), max_size=3))
        if draw(st.booleans()):
            count = len(fixed)
            return Bay(text, ("even",) * count, loose, front, hinged), AskedBay(mm, count, loose, front, hinged)
        heights = tuple(one.text for one in fixed)
        return Bay(text, heights, loose, front, hinged), AskedBay(mm, [one.mm for one in fixed], loose, front, hinged)
    openings = draw(st.lists(wild_openings(), min_size=1, max_size=4))
    if draw(st.booleans()) or any(one.front != "open" for _, one in openings):
        front = "open"
    told: tuple[Any, ...] = tuple(opening for opening, _ in openings)
    return Bay(text, (), 0, front, hinged, told), AskedBay(mm, 0, 0, front, hinged, [one for _, one in openings])


@st.composite
def wild_openings(draw: st.DrawFn) -> tuple[Opening, AskedOpening]:
    height = draw(st.none() | st.none() | sizes(10, 800))
    front = draw(st.sampled_from(("open", "door", "pair of doors", "drawer", "false front")))
    hinged = draw(st.sampled_from(("left", "right")))
    loose = draw(st.sampled_from((0, 0, 1, 2)))
    above = draw(st.sampled_from(("nothing", "shelf", "rail")))
    told = (front, hinged, loose, above)
    return Opening(height.text if height else "share", *told), AskedOpening(height.mm if height else None, *told)


wild = changed().flatmap(finished)
"""A carcass that can be built or cannot."""
