"""The rule book of carcasses: every rule once, with its default and its reason.

A rule's value is what the carcass says, or else the project, or else the default here. To add
a rule, add a field to `Rules`; files, the app's rule page and the parts all follow from it.
Defaults are common practice, no source, unless the reason names one.
"""

from __future__ import annotations

from dataclasses import Field, dataclass, field, fields
from fractions import Fraction
from typing import Any, Literal

RuleKind = Literal["choice", "size", "load", "material", "banding", "board"]


@dataclass(frozen=True, slots=True)
class RuleInfo:
    """What a person is told of a rule."""

    name: str
    group: str
    """What of a carcass it decides: `box`, `joints`, …"""
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


def _choice(group: str, *choices: str, reason: str) -> Any:
    return field(metadata={"rule": (group, "choice", choices, choices[0], choices[0], reason)})


def _size(group: str, inch: str, mm: str, reason: str) -> Any:
    return field(metadata={"rule": (group, "size", (), inch, mm, reason)})


def _load(group: str, pounds_a_foot: str, kg_a_metre: str, reason: str) -> Any:
    return field(metadata={"rule": (group, "load", (), pounds_a_foot, kg_a_metre, reason)})


def _goods(kind: RuleKind, reason: str) -> Any:
    return field(metadata={"rule": ("goods", kind, (), "", "", reason)})


Grain = Literal["vertical", "horizontal", "along", "either way"]
"""How the grain of a panel's face runs; `along` its length, `either way` where it may turn on the sheet."""
HIDDEN = ("nailer", "rail front", "rail rear", "plinth end", "drawer side", "drawer end", "drawer bottom")
"""Roles of what nobody looks at once the piece stands, or places of single panels."""
JOINT = ("butt", "dado", "stopped dado")
"""How an end meets a face: against it, let into it, or let into it out of sight from the front."""


@dataclass(frozen=True, slots=True)
class Housing:
    """How an end goes into a face, mm: how deep, from how far behind the front edge on, and how much air it has."""

    depth: Fraction
    """0 for a butt joint."""
    stop: Fraction
    play: Fraction
    """How much wider the housing is than its mate is thick."""


@dataclass(frozen=True, slots=True)
class Rules:
    """The rules of one carcass, resolved: sizes in millimetres, goods by their names in the project."""

    base: Literal["kick", "plinth", "feet", "none"] = _choice(
        "box",
        "kick",
        "plinth",
        "feet",
        "none",
        reason="kick: sides stand on the floor, notched for the toes; plinth: a base of its own, levelled first; "
        "feet: bought ones, a kick panel clipped to them; none: for a box that stands on something, or hangs",
    )
    above_floor: Fraction = _size(
        "box",
        "0",
        "0",
        "where a box of base none hangs on the wall: from the floor's highest point to its underside, 54 in or 1370 mm "
        "over a worktop; what is lower on the wall is not cut out of it",
    )
    runs_through: Literal["sides", "top and bottom"] = _choice(
        "box",
        "sides",
        "top and bottom",
        reason="sides carry a load straight to the floor; top and bottom through suit a box that hangs, "
        "or is seen from above",
    )
    top: Literal["panel", "rails", "none"] = _choice(
        "box",
        "panel",
        "rails",
        "none",
        reason="rails save material where a worktop covers the box; none where the worktop ties it",
    )
    kick_height: Fraction = _size(
        "box",
        "4",
        "100",
        "room for the toes under whoever stands at it: 3 to 4 in, or 75 to 100 mm, high",
    )
    kick_depth: Fraction = _size(
        "box",
        "3",
        "75",
        "room for the toes, 3 in or 75 mm deep: with less one stands off and leans over; 0 for a flush base",
    )
    plinth_spacing: Fraction = _size(
        "box",
        "24",
        "600",
        "from the middle of one crosspiece of a plinth, or of one foot, to the next, at most: the bottom rests on them",
    )
    feet_gap: Fraction = _size(
        "box",
        "1/4",
        "6",
        "what a kick panel on feet is lower than they are: it goes in where the floor rises, too",
    )
    rail_width: Fraction = _size(
        "box",
        "4",
        "100",
        "wide enough to screw a worktop to from below, and to keep the box square until it is on",
    )
    nailers: Literal["none", "top", "top and bottom"] = _choice(
        "box",
        "none",
        "top",
        "top and bottom",
        reason="an upright rail before the back, through which a box is screwed to the wall: wanted where the back is "
        "thin and the box hangs or could tip",
    )
    nailer_height: Fraction = _size("box", "4", "100", "high enough for two screws above each other in a stud")
    baseboard_clearance: Fraction = _size(
        "box",
        "1/8",
        "3",
        "air round the notch: baseboards are neither straight nor square, and the box has to slide in",
    )
    bottom_joint: Literal["butt", "dado", "stopped dado"] = _choice(
        "joints",
        *JOINT,
        reason="where bottom and sides meet: butt is cut with the saw alone; a dado carries the load by itself "
        "(at the end of a board the same cut is a rabbet); stopped, it does not show in front",
    )
    top_joint: Literal["butt", "dado", "stopped dado"] = _choice(
        "joints", *JOINT, reason="where a top panel and the sides meet, at whose ends a dado is a rabbet"
    )
    shelf_joint: Literal["butt", "dado", "stopped dado"] = _choice(
        "joints", *JOINT, reason="where a fixed shelf meets what it stands between: screws alone hold less than a dado"
    )
    divider_joint: Literal["butt", "dado", "stopped dado"] = _choice(
        "joints", *JOINT, reason="where a divider stands on the bottom and meets a top panel; under rails it is butted"
    )
    dado_depth: Fraction = _size(
        "joints", "1/4", "6", "a third of the board is usual; never more than half, or it breaks there"
    )
    dado_play: Fraction = _size(
        "joints",
        "0",
        "0",
        "how much wider a dado is than what goes into it is thick: 0 is a push fit on the measured thickness, "
        "1/128 in or 0.2 mm leaves room for glue",
    )
    dado_stop: Fraction = _size("joints", "1/2", "12", "how far behind the front edge a stopped dado ends")
    fastening: Literal["screws", "pocket screws", "dowels", "connector screws", "glue"] = _choice(
        "joints",
        "screws",
        "pocket screws",
        "dowels",
        "connector screws",
        "glue",
        reason="what holds a butt joint beside glue: screws show outside, pocket screws inside, dowels nowhere; "
        "connector screws hold in chipboard, too, and come apart again",
    )
    back: Literal["applied", "let in", "grooved", "none"] = _choice(
        "back",
        "applied",
        "let in",
        "grooved",
        "none",
        reason="applied: behind the sides, simplest, its edge is seen from the side; let in: in a rabbet, hidden; "
        "grooved: before the rear edges, which can then be scribed; none leaves the box free to rack",
    )
    back_reach: Literal["bottom", "floor", "part"] = _choice(
        "back",
        "bottom",
        "floor",
        "part",
        reason="bottom: down to the underside of the bottom; floor: all the way; "
        "part: hangs from the top, back_height high",
    )
    back_grain: Grain = _choice(
        "back",
        "vertical",
        "horizontal",
        "either way",
        reason="vertical like that of the sides; a low, wide back comes out of a sheet only with it horizontal; either "
        "way where nobody looks: it lies as it saves most",
    )
    back_height: Fraction = _size(
        "back",
        "12",
        "300",
        "how far a back that hangs from the top comes down: it keeps the box square and is screwed to the wall",
    )
    rabbet_depth: Fraction = _size(
        "back",
        "1/4",
        "6",
        "how deep the back is let in or its groove is: a third of the side is usual; never more than half, or the "
        "side breaks there",
    )
    back_inset: Fraction = _size(
        "back", "1/2", "12", "how far before the rear edges a grooved back stands: what is left there holds it"
    )
    cutouts: Literal["yes", "no"] = _choice(
        "back",
        "yes",
        "no",
        reason="whether the back is cut out for an outlet, a switch, a pipe or a vent on the wall behind it, a side "
        "for an outlet, a switch or a vent beside it, and what else stands where something sticks out",
    )
    cutout_margin: Fraction = _size(
        "back", "1/4", "6", "air round what a back is cut out for: less than the plate of an outlet covers"
    )
    let_in_play: Fraction = _size(
        "back",
        "1/32",
        "0.5",
        "air at each edge of a back or drawer bottom in its rabbet or groove, so that it goes in",
    )
    shelf_play: Fraction = _size(
        "shelves", "1/16", "1.5", "air at each end of an adjustable shelf, so that it drops in"
    )
    shelf_setback: Fraction = _size(
        "shelves",
        "1/4",
        "5",
        "an adjustable shelf stays so far behind the front edges, or behind the gap of an inset door",
    )
    shelf_load: float = _load(
        "shelves",
        "25",
        "37",
        "kg along each metre of shelf, typed as lb a foot in an inch project; 25 lb a running foot of books was "
        "measured by the California state architect's office",
    )
    pin_pitch: Fraction = _size(
        "shelves", "32 mm", "32", "from hole to hole: 32 mm is what hinges and runners are made for, too"
    )
    pin_setback: Fraction = _size(
        "shelves",
        "37 mm",
        "37",
        "from the front edge, or an inset door's back, to the front row; from the back's face to the rear row",
    )
    pin_margin: Fraction = _size(
        "shelves",
        "4",
        "96",
        "from the ends of an opening to its first holes: nobody puts a shelf there; all holes are on one grid",
    )
    pin_diameter: Fraction = _size("shelves", "5 mm", "5", "of the pins that are bought; 1/4 in is sold as well")
    pin_depth: Fraction = _size(
        "shelves",
        "5/16",
        "8",
        "as deep as a pin holds, and less than half a divider, or holes from both of its faces meet",
    )
    fronts: Literal["full overlay", "half overlay", "inset"] = _choice(
        "fronts",
        "full overlay",
        "half overlay",
        "inset",
        reason="full: fronts cover the edges of the box; half: two fronts share one edge, or some of it is to be seen; "
        "inset: within the box, flush with it, which wants good gaps",
    )
    front_gap: Fraction = _size(
        "fronts",
        "1/8",
        "3",
        "between two fronts, half of it at an outer edge of the box; round an inset one, and behind it: 1/16 to 1/8 "
        "in, "
        "or 2 to 3 mm",
    )
    top_reveal: Fraction = _size("fronts", "1/8", "3", "what fronts leave free at the top edge, under a worktop")
    bottom_reveal: Fraction = _size("fronts", "0", "0", "what fronts leave free at the underside of the bottom")
    cup_edge: Fraction = _size(
        "fronts",
        "4 mm",
        "4",
        "from the edge of a door to the edge of a hinge's cup: 3 to 6 mm, as the maker of the hinge says",
    )
    hinge_from_end: Fraction = _size(
        "fronts",
        "4",
        "100",
        "from an end of a door to the middle of its first hinge, 80 mm or more, less only in a door too low for that; "
        "it moves up to 96 mm to miss a shelf, to leave one its pins, or to use the holes of pins",
    )
    plate_setback: Fraction = _size(
        "fronts",
        "37 mm",
        "37",
        "from the front edge of what a door hangs on, or an inset door's back, to the screws of a hinge's plate; where "
        "pins have the same setback and diameter, plates share their holes",
    )
    plate_diameter: Fraction = _size("fronts", "5 mm", "5", "of the holes for a hinge's plate, as its maker says")
    plate_depth: Fraction = _size(
        "fronts", "7/16", "11", "of the holes for a hinge's plate: as deep as its screws go in"
    )
    slides: Literal["side mount", "undermount"] = _choice(
        "drawers",
        "side mount",
        "undermount",
        reason="side mount: beside the drawer, 1/2 in each; undermount: below it, out of sight, and dearer",
    )
    slide_clearance: Fraction = _size(
        "drawers",
        "1/2",
        "12.7",
        "between drawer and upright for a side mount, each side; makers allow 1/32 in more and nothing less",
    )
    undermount_less: Fraction = _size(
        "drawers",
        "1 5/8",
        "42",
        "what the inside of a drawer on undermounts is narrower than its opening, whatever its sides are thick",
    )
    slide_length: Fraction = _size(
        "drawers", "0", "0", "of the slides, which is that of the drawer; 0 takes the longest usual one that fits"
    )
    slide_behind: Fraction = _size(
        "drawers", "1/8", "3", "air behind a slide, for its hooks, screws and a back that is not quite flat"
    )
    drawer_above: Fraction = _size(
        "drawers", "3/4", "20", "from a drawer's top edge to the top of its opening: it is tilted in"
    )
    drawer_below: Fraction = _size(
        "drawers", "5/8", "16", "from the bottom of the opening to the drawer: an undermount lies there"
    )
    drawer_joint: Literal["butt", "rabbet"] = _choice(
        "drawers",
        "butt",
        "rabbet",
        reason="how the ends of a drawer meet its sides: a rabbet holds them against the pull at the front",
    )
    drawer_groove: Fraction = _size(
        "drawers", "1/4", "6", "how deep a drawer's bottom and its rabbets go into its sides: half of them is usual"
    )
    drawer_bottom_up: Fraction = _size(
        "drawers",
        "1/2",
        "13",
        "from the lower edge of a drawer's sides to its bottom: undermounts want 1/2 in, 13 mm, and the rear end bored "
        "or notched for their hooks",
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
    front_panel: str = _goods("material", "doors, drawer fronts and false fronts; empty takes the panel's")
    drawer_panel: str = _goods("material", "sides and ends of drawers, 1/2 in or 12 mm; empty takes the panel's")
    drawer_bottom_panel: str = _goods("material", "1/4 in or 6 mm, thicker under tools; empty takes the back's")
    hidden_grain: Grain = _choice(
        "goods",
        "along",
        "either way",
        reason="of top rails, nailers, plinth ends and drawer boxes. Along their length they are stiffest; either way "
        "they may turn on the sheet, which can save one",
    )
    front_banding: str = _goods(
        "banding",
        "hides the layers of front edges that show; parts are cut less by its thickness; empty for none",
    )
    door_banding: str = _goods("banding", "on all four edges of doors and fronts; empty for none")
    face_frame: str = _goods(
        "board",
        "a frame of this board before the edges of the box, which hides them and stiffens it: stiles stand, rails lie "
        "between; empty for none",
    )
    frame_rail: str = _goods(
        "board",
        "what the rails of a face frame are cut from; empty takes that of its stiles. The bottom one is flush with the "
        "bottom's top face and hangs at most half way to the floor, before a flush base all the way; with nothing set "
        "back behind the frame it ends at the bottom's underside",
    )

    @property
    def is_flush_base(self) -> bool:
        """Whether the box goes down to the floor in front, with no room for toes."""
        return self.base == "kick" and not self.kick_depth

    @property
    def foot(self) -> Fraction:
        """How high above the floor the sides begin, mm: over a plinth or feet, or where the box hangs."""
        return {"kick": Fraction(0), "none": self.above_floor}.get(self.base, self.kick_height)

    @property
    def hangs(self) -> bool:
        """Whether the wall alone carries the box."""
        return self.base == "none" and self.above_floor > 0

    def grain(self) -> dict[str, Grain]:
        """How the grain of panels runs where it is not as usual, by their roles, or their places."""
        found: dict[str, Grain] = {} if self.back_grain == "vertical" else {"back": self.back_grain}
        return {**found, **dict.fromkeys(HIDDEN, self.hidden_grain)} if self.hidden_grain != "along" else found

    def housing(self, joint: str) -> Housing:
        """How an end is let into a face by such a joint."""
        return Housing(
            Fraction(0) if joint == "butt" else self.dado_depth,
            self.dado_stop if joint == "stopped dado" else Fraction(0),
            self.dado_play,
        )


def _info(rule: Field[Any]) -> RuleInfo:
    return RuleInfo(rule.name, *rule.metadata["rule"])


RULE_BOOK: tuple[RuleInfo, ...] = tuple(_info(rule) for rule in fields(Rules))
"""Every rule, in the order in which a person decides them."""
