"""Puts a carcass together from the parts as printed, and measures it as a person with a tape would.

What a size means is worked out here once more, from the words: where each piece must lie, and
every cut that it must have, and no other. What is hung and bored is told in `hung`.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from fractions import Fraction
from itertools import combinations
from math import prod
from typing import Any

from as_printed import AXES, TOLERANCE, Amiss, Piece, number, overlap, pieces_of, same, touch
from asked import FRONTS, HUNG, ROLES, Asked, AskedBay, AskedOpening, Room, Solid, Stretch, role_of
from hung import check_hung


class Assembly:
    """The pieces of one carcass, by their places, and every measure that can be taken of them."""

    def __init__(self, document: Mapping[str, Any], asked: Asked, materials: Mapping[str, str]) -> None:
        """`materials`: which material each of panel, back_panel, shelf_panel, … is."""
        self.asked = asked
        self.materials = materials
        self.pieces: dict[str, Piece] = {}
        self.lines: dict[str, Mapping[str, Any]] = {}
        for line in document["parts"]:
            for piece in pieces_of(line):
                if piece.place in self.pieces:
                    raise Amiss(f"{piece.place} is there twice")
                self.pieces[piece.place] = piece
                self.lines[piece.place] = line
        self.right: dict[str, Solid] = {}
        """Where each piece must lie."""
        self.cut: dict[str, list[Solid]] = defaultdict(list)
        """What must be cut out of each."""
        self.rooms: list[Room] = []

    def check(self) -> None:
        """Everything. Raises Amiss at the first thing that is not as it was asked."""
        for place in self.pieces:
            self.made_of(place)
        for one, other in combinations(self.pieces.values(), 2):
            if overlap(one, other):
                raise Amiss(f"{one.place} and {other.place} are in each other")
        asked = self.asked
        self.t = asked["panel"]
        self.foot = asked["kick_height"] if asked["base"] in ("plinth", "feet") else Fraction(0)
        self.kick = asked["kick_height"] if asked["base"] == "kick" else Fraction(0)
        self.through = asked["runs_through"] == "sides"
        """Sides run through."""
        self.housed_back = asked["back"] in ("let in", "grooved")
        self.rear = asked.depth - (asked["back_panel"] if asked["back"] != "none" else 0)
        if asked["back"] == "grooved":
            self.rear -= asked["back_inset"]
        self.under = self.foot + self.kick
        self.floor = self.under + self.t
        self.over = self.foot + asked.height
        self.ceiling = self.over - (self.t if asked["top"] != "none" else 0)
        self.outside()
        self.sides()
        self.lying()
        self.base()
        self.inside()
        self.nailers()
        self.back()
        check_hung(self)
        self.compare()

    # --- What a piece is made of

    def made_of(self, place: str) -> None:
        """Material, thickness, the way that it stands, grain, banding and hand."""
        piece, line, asked = self.pieces[place], self.lines[place], self.asked
        role = role_of(place)
        rule, axis, grain = ROLES[role]
        if piece.material != self.materials[rule]:
            raise Amiss(f"{place} is of {piece.material}")
        same(number(line["thickness"]), asked[rule], f"{place}: thickness")
        start, end = piece.along(axis)
        same(end - start, asked[rule], f"{place}: the way that it stands")
        if line["grain"] != ("length" if rule in asked.grained else "none"):
            raise Amiss(f"{place}: grain along {line['grain']}")
        if line["grain"] == "length":
            start, end = piece.along(grain)
            same(end - start, number(line["length"]), f"{place}: along the grain")
        self.bands(place, line)
        if line["hand"] != self.hand(place, line, rule):
            raise Amiss(f"{place} is told to be {line['hand']}")

    def bands(self, place: str, line: Mapping[str, Any]) -> None:
        role = role_of(place)
        shows = role in ("side", "bottom", "top", "divider", "shelf", "loose shelf", "rail") and place != "rail rear"
        right = ["front"] if shows else ["bottom", "left", "right", "top"] if role in FRONTS else []
        thick = self.asked["door_banding" if role in FRONTS else "front_banding"]
        if thick is None:
            right = []
        edges = sorted((edge["edge"].removesuffix(" end"), number(edge["thickness"])) for edge in line["edges"])
        if [edge for edge, _ in edges] != right:
            raise Amiss(f"{place}: banded at {edges}")
        for edge, have in edges:
            same(have, thick, f"{place}: banding, {edge}")

    def hand(self, place: str, line: Mapping[str, Any], rule: str) -> str | None:
        """Left or right, where turning it over would not make the other of it."""
        role, last = role_of(place), place.split()[-1]
        if role == "drawer side":
            return last
        if role == "door":
            return self.hinged(place)
        one_face = any(not cut["through"] for cut in line["machining"])
        told = role == "side" and (one_face or (line["machining"] and rule in self.asked.one_good))
        return last if told else None

    def hinged(self, place: str) -> str:
        words = place.split()
        bay = self.asked.bays[int(words[2]) - 1]
        if words[-1] in ("left", "right"):
            return words[-1]
        return bay.openings[int(words[4]) - 1].hinged if "no" in words else bay.hinged

    # --- What is right

    def want(self, place: str, x: Stretch, y: Stretch, z: Stretch) -> None:
        self.right[place] = (x, y, z)

    def clear_of_board(self, place: str) -> None:
        """Uprights are notched for a baseboard, lying panels shortened, standing ones begin over it."""
        x, y, z = self.right[place]
        if not self.asked.board:
            return
        over, front = self.asked.board[0], self.asked.depth - self.asked.board[1]
        if y[1] <= front or z[0] >= over:
            return
        axis = ROLES[role_of(place)][1]
        if axis == "x":
            self.cut[place].append((x, (front, y[1]), (z[0], over)))
        elif axis == "z":
            self.want(place, x, (y[0], front), z)
        else:
            self.want(place, x, y, (over, z[1]))

    def depth_of(self, joint: str) -> Fraction:
        return Fraction(0) if self.asked[joint] == "butt" else self.asked["dado_depth"]

    def house(self, one: str, other: str, joint: str) -> None:
        """The end of `one` fills a dado in `other`, or butts against it; they touch where it ends.

        The dado is as wide as the end is thick, and its play. Stopped, it begins behind the front edge and the end's
        front corner is notched.
        """
        axis = ROLES[role_of(other)][1]
        self.meet(one, other, axis)
        if self.asked[joint] == "butt" or not self.asked["dado_depth"]:
            return
        thin = AXES.index(ROLES[role_of(one)][1])
        mine, mate = self.right[one], self.right[other]
        dado = [(max(a[0], b[0]), min(a[1], b[1])) for a, b in zip(mine, mate, strict=True)]
        if self.asked[joint] == "stopped dado" and self.asked["dado_stop"]:
            begins = dado[1][0] + self.asked["dado_stop"]
            self.cut[one].append((dado[0], (dado[1][0], begins), dado[2]))
            dado[1] = (begins, dado[1][1])
        wide = min(mine[thin][1] + self.asked["dado_play"], mate[thin][1])
        dado[thin] = (dado[thin][0], wide)
        self.cut[other].append((dado[0], dado[1], dado[2]))

    def meet(self, one: str, other: str, axis: str = "") -> None:
        """They touch over a real area, on faces across the axis where one is told."""
        for place in (one, other):
            if place not in self.pieces:
                raise Amiss(f"there is no {place}")
        if not touch(self.pieces[one], self.pieces[other], axis):
            raise Amiss(f"{one} and {other} do not meet")

    def outside(self) -> None:
        """Outside to outside: width, depth and height of the box, its plinth and what is hung before it apart."""
        box = [piece for place, piece in self.pieces.items() if role_of(place) not in ("plinth", "plinth end", *HUNG)]
        outer = {axis: (min(p.along(axis)[0] for p in box), max(p.along(axis)[1] for p in box)) for axis in AXES}
        same(outer["x"][1] - outer["x"][0], self.asked.width, "width")
        same(outer["y"][1] - outer["y"][0], self.asked.depth, "depth")
        same(outer["z"][1] - self.foot, self.asked.height, "height")

    def sides(self) -> None:
        asked, t = self.asked, self.t
        low, high = self.foot, self.over
        if not self.through:
            low += t - self.depth_of("bottom_joint")
            high -= t - self.depth_of("top_joint") if asked["top"] == "panel" else 0
        deep = asked.depth - (asked["back_panel"] if asked["back"] == "applied" else 0)
        for place, x in (("side left", (Fraction(0), t)), ("side right", (asked.width - t, asked.width))):
            self.want(place, x, (Fraction(0), deep), (low, high))
            if self.kick:
                self.cut[place].append((x, (Fraction(0), asked["kick_depth"]), (low, low + self.kick)))
            self.clear_of_board(place)

    def lying(self) -> None:
        """Bottom, top, rails."""
        asked, t = self.asked, self.t
        levels = [("bottom", self.under, "bottom_joint")]
        levels += [("top", self.over - t, "top_joint")] if asked["top"] == "panel" else []
        for place, low, joint in levels:
            x = (Fraction(0), asked.width)
            deep = asked.depth if self.housed_back else self.rear
            if self.through:
                x = (t - self.depth_of(joint), asked.width - t + self.depth_of(joint))
                deep = self.rear
            self.want(place, x, (Fraction(0), deep), (low, low + t))
            self.clear_of_board(place)
            for side in ("side left", "side right"):
                self.house(*((place, side) if self.through else (side, place)), joint)
        if asked["top"] == "rails":
            for place, y in (("rail front", Fraction(0)), ("rail rear", self.rear - asked["rail_width"])):
                z = (self.ceiling, self.over)
                self.want(place, (t, asked.width - t), (y, y + asked["rail_width"]), z)
                self.clear_of_board(place)
                self.meet(place, "side left", "x")
                self.meet(place, "side right", "x")

    def base(self) -> None:
        asked, t = self.asked, self.asked["kick_panel"]
        if self.kick:
            y = (asked["kick_depth"], asked["kick_depth"] + t)
            self.want("kick", (self.t, asked.width - self.t), y, (Fraction(0), self.kick))
            self.meet("kick", "side left", "x")
            self.meet("kick", "side right", "x")
            self.meet("kick", "bottom", "z")
        if asked["base"] == "feet":
            # A kick panel clipped to bought feet, a little lower than they are high.
            y = (asked["kick_depth"], asked["kick_depth"] + t)
            self.want("plinth", (Fraction(0), asked.width), y, (Fraction(0), self.foot - asked["feet_gap"]))
        if asked["base"] != "plinth":
            return
        rear = asked.depth - (asked.board[1] if asked.board else 0)
        z = (Fraction(0), self.foot)
        for place, y in (("plinth front", asked["kick_depth"]), ("plinth rear", rear - t)):
            self.want(place, (Fraction(0), asked.width), (y, y + t), z)
        # Ends and crosspieces evenly, as few as keep them no further apart than was asked.
        along = asked.width - t
        fields = -int(-along // asked["plinth_spacing"])
        places = ["plinth end left", *(f"plinth end cross {n}" for n in range(1, fields)), "plinth end right"]
        for n, place in enumerate(places):
            x = along * n / fields
            self.want(place, (x, x + t), (asked["kick_depth"] + t, rear - t), z)
            self.meet(place, "plinth front", "y")
            self.meet(place, "plinth rear", "y")
            end = n in (0, fields) and self.through
            self.meet(place, f"side {place.split()[-1]}" if end else "bottom", "z")

    def back(self) -> None:
        asked, t = self.asked, self.t
        if asked["back"] == "none":
            return
        x, low, high = (Fraction(0), asked.width), self.foot, self.over
        deep = asked["rabbet_depth"]
        if self.housed_back:
            goes_in = deep - asked["let_in_play"]
            x = (t - goes_in, asked.width - t + goes_in)
            if not self.through:
                low += t - goes_in
                high -= t - goes_in if asked["top"] == "panel" else 0
        if asked["back_reach"] == "bottom":
            low = max(low, self.under)
        if asked["back_reach"] == "part":
            low = high - asked["back_height"]
        y = (self.rear, self.rear + asked["back_panel"])
        self.want("back", x, y, (low, high))
        self.clear_of_board("back")
        low = self.right["back"][2][0]
        for side in ("side left", "side right"):
            self.meet("back", side, "y")
        reaches = low < self.floor and self.right["bottom"][1][1] >= self.rear
        if reaches:
            self.meet("back", "bottom")
        if asked["top"] == "panel":
            self.meet("back", "top", "y")
        if asked["top"] == "rails":
            self.meet("back", "rail rear", "y")
        for place, (_, _, z) in self.right.items():
            if role_of(place) == "nailer" and z[0] < high and low < z[1]:
                self.meet("back", place, "y")
        if not self.housed_back or not deep:
            return
        behind = y[1] + (asked["dado_play"] if asked["back"] == "grooved" else 0)
        for side, inner in (("side left", (t - deep, t)), ("side right", (asked.width - t, asked.width - t + deep))):
            # From end to end, whatever the back's height: one pass on the saw.
            self.groove(side, inner, (y[0], behind), self.right[side][2])
        if not self.through:
            wide = (t - deep, asked.width - t + deep)
            # Not for nothing: only where the back comes so far down.
            if low < self.floor:
                self.groove("bottom", wide, (y[0], behind), (self.floor - deep, self.floor))
            if asked["top"] == "panel":
                self.groove("top", wide, (y[0], behind), (self.ceiling, self.ceiling + deep))

    def groove(self, place: str, x: Stretch, y: Stretch, z: Stretch) -> None:
        """A groove or rabbet, as much of it as lies on the panel."""
        whole = self.right[place]
        cut = [(max(a[0], b[0]), min(a[1], b[1])) for a, b in zip((x, y, z), whole, strict=True)]
        if all(end > start for start, end in cut):
            self.cut[place].append((cut[0], cut[1], cut[2]))

    def nailers(self) -> None:
        """Upright rails before the back, and the dividers' corners that give way to them."""
        asked, t = self.asked, self.t
        y = (self.rear - t, self.rear)
        for place, z in self.nailed():
            self.want(place, (t, asked.width - t), y, z)
            self.clear_of_board(place)
            self.meet(place, "side left", "x")
            self.meet(place, "side right", "x")
            z = self.right[place][2]
            for divider in [one for one in self.right if role_of(one) == "divider"]:
                x, _, (low, high) = self.right[divider]
                corner = (z[0], high) if place == "nailer top" else (low, z[1])
                self.cut[divider].append((x, y, corner))
                self.meet(divider, place)

    def nailed(self) -> list[tuple[str, Stretch]]:
        """From where to where nailers stand."""
        high = self.asked["nailer_height"]
        over = [("nailer top", (self.ceiling - high, self.ceiling))]
        board = self.asked.board
        # Not behind a baseboard that reaches as far forward: over it.
        low = max(self.floor, board[0]) if board and self.asked.depth - board[1] < self.rear else self.floor
        under = [("nailer bottom", (low, low + high))]
        return {"none": [], "top": over, "top and bottom": [*under, *over]}[self.asked["nailers"]]

    def inside(self) -> None:
        """Dividers and shelves, bay by bay from the left."""
        asked, t = self.asked, self.t
        told = [bay.width for bay in asked.bays]
        room = asked.width - 2 * t - (len(told) - 1) * t - sum((w for w in told if w is not None), Fraction(0))
        share = room / max(1, told.count(None))
        left, upright = t, "side left"
        for number_, bay in enumerate(asked.bays, start=1):
            right = left + (share if bay.width is None else bay.width)
            beyond = "side right" if number_ == len(told) else f"divider {number_}"
            if beyond.startswith("divider"):
                self.divider(beyond, right)
            self.bay(number_, bay, (left, right), (upright, beyond))
            left, upright = right + t, beyond
        same(left - t, asked.width - t, "bays and dividers together")

    def divider(self, place: str, x: Fraction) -> None:
        goes_in = self.depth_of("divider_joint")
        top = self.asked["top"] == "panel"
        z = (self.floor - goes_in, self.ceiling + (goes_in if top else 0))
        self.want(place, (x, x + self.t), (Fraction(0), self.rear), z)
        self.clear_of_board(place)
        self.house(place, "bottom", "divider_joint")
        if top:
            self.house(place, "top", "divider_joint")
        if self.asked["top"] == "rails":
            self.meet(place, "rail front", "z")
            self.meet(place, "rail rear", "z")

    def bay(self, number_: int, bay: AskedBay, x: Stretch, uprights: tuple[str, str]) -> None:
        """What parts a bay's openings; remembers the openings as rooms."""
        asked = self.asked
        behind = asked["fronts"] == "inset" and bay.front != "open"
        front = asked["front_panel"] + asked["front_gap"] if behind else Fraction(0)
        thick = {"shelf": asked["shelf_panel"], "rail": self.t, "nothing": Fraction(0)}
        openings, heights = self.openings(bay, thick)
        low = self.floor
        rooms: list[Room] = []
        for n, (opening, height) in enumerate(zip(openings, heights, strict=True), start=1):
            last, high = n == len(openings), low + height
            parted = asked["top"] != "none" if last else opening.above != "nothing"
            rooms.append(
                Room(number_, n, x, (low, high), uprights, opening, not rooms or rooms[-1].above, parted, last, n == 1)
            )
            rooms[-1].behind = behind
            if not last and parted:
                z = (high, high + thick[opening.above])
                place = f"{opening.above} bay {number_} no {n}"
                if opening.above == "rail":
                    self.want(place, x, (front, front + asked["rail_width"]), z)
                    self.clear_of_board(place)
                    for upright in uprights:
                        self.meet(place, upright, "x")
                else:
                    goes_in = self.depth_of("shelf_joint")
                    self.want(place, (x[0] - goes_in, x[1] + goes_in), (front, self.rear), z)
                    self.clear_of_board(place)
                    for upright in uprights:
                        self.house(place, upright, "shelf_joint")
            low = high + (0 if last else thick[opening.above])
        same(low, self.ceiling, f"bay {number_}: its openings together")
        self.rooms += rooms

    def openings(self, bay: AskedBay, thick: Mapping[str, Fraction]) -> tuple[list[AskedOpening], list[Fraction]]:
        """Openings and their clear heights; a bay of shelves alone has its loose ones in the highest opening."""
        room = self.ceiling - self.floor
        if bay.openings:
            room -= sum((thick[one.above] for one in bay.openings[:-1]), Fraction(0))
            told = [one.height for one in bay.openings]
            share = (room - sum(one for one in told if one is not None)) / max(1, told.count(None))
            return bay.openings, [share if one is None else one for one in told]
        t = thick["shelf"]
        if isinstance(bay.fixed, int):
            heights = [(room - bay.fixed * t) / (bay.fixed + 1)] * (bay.fixed + 1)
        else:
            undersides = [*sorted(bay.fixed), room]
            heights = [
                up - low for low, up in zip([Fraction(0), *(u + t for u in undersides[:-1])], undersides, strict=True)
            ]
        highest = heights.index(max(heights))
        return [
            AskedOpening(above="shelf", loose=bay.loose if n == highest else 0) for n in range(len(heights))
        ], heights

    # --- What there is

    def compare(self) -> None:
        """Every piece that is wanted lies where it must with the cuts that it must have, and there is no other."""
        if set(self.pieces) != set(self.right):
            raise Amiss(f"{set(self.pieces) ^ set(self.right)} is not what was asked")
        for place, right in self.right.items():
            piece = self.pieces[place]
            for axis, have, stretch in zip(AXES, piece.block, right, strict=True):
                same(have[0], stretch[0], f"{place}, {axis}, where it begins")
                same(have[1], stretch[1], f"{place}, {axis}, where it ends")
            left = list(piece.taken)
            for cut in outermost(self.cut[place], piece.block):
                match = next((one for one in left if alike(one, cut)), None)
                if match is None:
                    raise Amiss(f"{place} lacks the cut {told(cut)}; it has {[told(one) for one in left]}")
                left.remove(match)
            if left:
                raise Amiss(f"{place} has a cut for nothing, {told(left[0])}")


def outermost(cuts: Sequence[Any], block: Any) -> list[Any]:
    """Without what goes right through a piece within another cut that does: only that is made."""
    thin = min(range(3), key=lambda axis: block[axis][1] - block[axis][0])
    kept: list[Any] = []
    for cut in sorted(cuts, key=lambda cut: -volume(cut)):
        others = [one for one in kept if alike([one[thin]], [block[thin]]) and alike([cut[thin]], [block[thin]])]
        if not any(abs(volume(cut) - volume(common(cut, one))) <= TOLERANCE for one in others):
            kept.append(cut)
    return kept


def common(one: Any, other: Any) -> list[tuple[float, float]]:
    """What two blocks share; along an axis where they are apart, nothing."""
    shared = [(max(float(a), float(c)), min(float(b), float(d))) for (a, b), (c, d) in zip(one, other, strict=True)]
    return [(low, max(low, high)) for low, high in shared]


def volume(block: Any) -> float:
    return prod(float(high) - float(low) for low, high in block)


def alike(one: Any, other: Any) -> bool:
    return all(
        abs(float(a) - float(b)) <= TOLERANCE
        for s, t in zip(one, other, strict=True)
        for a, b in zip(s, t, strict=True)
    )


def told(cut: Any) -> str:
    return " ".join(f"{axis} {float(a):g}..{float(b):g}" for axis, (a, b) in zip(AXES, cut, strict=True))
