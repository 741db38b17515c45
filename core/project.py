"""A project: the design (what the person decided) and the facts (what has happened in the shop).

It is the only thing stored; everything else is derived from it (`core.plan`). All of it is
frozen: an edit makes a new design (`core.edits`), so that undo is the design before.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal, TypeAlias

from core.goods import Banding, Board, Material
from core.space import Space
from core.typed import Amount, Count, Name, Prose, Share, Size, SizeOrNothing, Spacing, Weight, many, table_of

FORMAT = 2
"""The version of the file's format that this program writes, and the newest that it reads."""


@dataclass(frozen=True, slots=True)
class Opening:
    """A stretch of a bay between two things that lie in it, and what is in it and before it."""

    height: Share = "share"
    """Clear height, from the top face of what is below to the underside of what is above."""
    front: Literal["open", "door", "pair of doors", "drawer", "false front"] = "open"
    hinged: Literal["left", "right"] = "left"
    """Of a single door."""
    adjustable_shelves: Count = 0
    above: Literal["nothing", "shelf", "rail"] = "nothing"
    """What parts it from the next opening up: a fixed shelf, a rail at the front, or nothing."""


@dataclass(frozen=True, slots=True)
class Bay:
    """A stretch of a carcass between two uprights, left to right: shelves, or openings from the bottom up."""

    width: Share = "share"
    fixed_shelves: tuple[Spacing, ...] = ()
    """Heights from the top face of the bottom to the underside of each shelf; `even` spaces it evenly."""
    adjustable_shelves: Count = 0
    front: Literal["open", "door", "pair of doors"] = "open"
    """Before the whole bay, whatever is in it."""
    hinged: Literal["left", "right"] = "left"
    """Of a single door."""
    openings: tuple[Opening, ...] = many("opening")
    """From the bottom up; where there are any, shelves are theirs."""


@dataclass(frozen=True, slots=True)
class Carcass:
    """One box in the row. Outside sizes: with its back, without tops and overhangs; its plinth is apart."""

    id: str
    """Given once and never reused: codes and ticks refer to it."""
    name: str
    height: Size
    depth: Size
    width: Share = "share"
    kind: Literal["carcass"] = "carcass"
    rules: Mapping[str, str] = field(default_factory=dict)
    """Rules that differ from the project's, by name (`core.construction.rule_book`)."""
    bays: tuple[Bay, ...] = many("bay")


@dataclass(frozen=True, slots=True)
class Gap:
    """An open bay in the row: a place for a machine, a stool, a radiator."""

    id: str
    name: str
    width: Share = "share"
    kind: Literal["gap"] = "gap"


@dataclass(frozen=True, slots=True)
class Filler:
    """A strip in the row, flush with the fronts of the carcass beside it: between it and a wall, or another."""

    id: str
    name: str
    material: str
    width: Share = "1 1/2 in"
    """In the row. Beside a wall its blank is wider by the widest gap there, for it is scribed to the wall."""
    kind: Literal["filler"] = "filler"


@dataclass(frozen=True, slots=True)
class EndPanel:
    """A panel that closes the row beside a carcass, from the floor to its top edge; as wide as it is thick."""

    id: str
    name: str
    material: str
    kind: Literal["end panel"] = "end panel"

    @property
    def width(self) -> Size:
        """In the row: the name of a material stands for its thickness."""
        return self.material


RowItem: TypeAlias = Carcass | Gap | Filler | EndPanel


@dataclass(frozen=True, slots=True)
class Top:
    """A top over the row, or over a stretch of it, in one layer or two."""

    id: str
    name: str
    material: str
    layers: Count = 1
    first: str = ""
    """Id of the leftmost item that it covers; empty: the row's first."""
    last: str = ""
    overhang_front: Size = "0"
    overhang_left: Size = "0"
    overhang_right: Size = "0"
    banding: str = ""
    """On the front edge; empty for none."""
    trim_flush: Size = "0"
    """What the lower layer is cut larger at each outer edge, to be trimmed flush once it is glued to the upper."""


@dataclass(frozen=True, slots=True)
class LoosePart:
    """A part that no rule makes, by its finished size."""

    id: str
    name: str
    material: str
    length: Size
    width: Size
    quantity: Count = 1
    grain: Literal["length", "width", "none"] = "length"
    """The side that the face grain must follow; `none` lets it turn."""


@dataclass(frozen=True, slots=True)
class Saw:
    """One way to cut in this shop. What is left empty sets no limit."""

    name: str = "saw"
    kind: Literal["any", "track", "circular", "table", "mitre", "yard"] = "any"
    """`circular`: led along a straightedge. `yard`: whoever sells the sheets cuts them. `any`: not told."""
    kerf: Size = "0"
    """Width of the blade that will be used."""
    longest_cut: SizeOrNothing = ""
    """What its track, its straightedge or its travel reaches."""
    widest_rip: SizeOrNothing = ""
    """Most that its fence can stand away from the blade."""
    longest_piece: SizeOrNothing = ""
    """The largest piece that one person brings to it alone, by its longer side."""
    heaviest_piece: Weight = ""
    """The heaviest of these; empty: 50 lb or 23 kg, where pieces are brought to the saw."""
    finished: bool = True
    """Its cut is an edge that can stay; otherwise it makes only cuts beside which an allowance is left."""
    fee: Amount = ""
    """For one cut."""


@dataclass(frozen=True, slots=True)
class Evened:
    """A size of blanks that is cut as another, from which it differs by less than the tape shows."""

    material: str
    size: Size
    cut_as: Size


@dataclass(frozen=True, slots=True)
class Banded:
    """One edge that is banded though no rule says so, or left bare though one does."""

    part: str
    """A carcass and a place in it: `A side left`; or `loose` and its id and number: `loose L 1`."""
    edge: str
    """As installed: `front`, `top end`."""
    banding: str = ""
    """Empty: left bare."""


@dataclass(frozen=True, slots=True)
class Design:
    """What the person decided. Sizes are texts as typed; bare numbers are in `unit`."""

    name: str
    unit: Literal["in", "mm"] = "in"
    """What a bare number means in this file. It does not change in the life of a project."""
    show: str = ""
    """How sizes are shown: `in 1/16`, `mm 0.5`; empty takes the unit's usual step."""
    currency: str = "$"
    notes: Prose = ""
    dimensions: Mapping[Name, Size] = field(default_factory=dict)
    """Named dimensions, each a formula."""
    space: Space = field(default_factory=Space)
    saws: tuple[Saw, ...] = many("saw")
    """Every saw that will be used. Layouts are planned with the widest kerf of them."""
    rules: Mapping[str, str] = field(default_factory=dict)
    materials: Mapping[str, Material] = table_of("material")
    bandings: Mapping[str, Banding] = table_of("banding")
    boards: Mapping[str, Board] = table_of("board")
    row_width: SizeOrNothing = "clear_width"
    """What the row fills; empty: as wide as its items are."""
    row: tuple[RowItem, ...] = many("row")
    tops: tuple[Top, ...] = many("top")
    loose: tuple[LoosePart, ...] = many("loose")
    evened: tuple[Evened, ...] = ()
    banded: tuple[Banded, ...] = ()
    one_sheet_at_a_time: bool = False
    """One sheet is cut up before the next is taken up: less lies about, and saws are set more often."""
    held_back: tuple[str, ...] = ()
    """Codes of parts that are cut only when the carcasses stand: tops, fillers, doors, fronts."""
    retired: tuple[str, ...] = ()
    """Ids of what was taken away: codes and ticks may still speak of it, so they are not given again."""


@dataclass(frozen=True, slots=True)
class CodeGiven:
    """A kind's code, what it stood for when it was last seen, and which pieces bear it."""

    code: str
    stands_for: str
    """Fingerprint of the kind: blank, machining, hand, material."""
    pieces: Mapping[str, str] = field(default_factory=dict)
    """Piece number to the part's place: `2` to `B side left`. Numbers are never given twice."""


@dataclass(frozen=True, slots=True)
class AcceptedSheet:
    """One sheet whose layout is settled, in whole units of its own."""

    id: str
    stock: str
    length: int
    width: int
    unit: str
    """Millimetres to one unit, as a fraction: `1/1600`."""
    kerf: int
    cuts: str
    """The tree of cuts (`core.layout.notation`)."""
    trim: str = "0 0 0 0"
    """What left, right, bottom and top lose."""
    price: int = 0
    """In hundredths of the currency; 0 where unknown."""
    of: str = ""
    """The sheet on which the names of its pieces count; empty: itself."""
    numbers: str = ""
    """Of its pieces, in the order of the tree, as in `64-80 101`; empty: from 1 on."""


@dataclass(frozen=True, slots=True)
class AcceptedLayout:
    """The layout that a material's job was answered with, used while the job has the same fingerprint."""

    material: str
    job: str
    """Fingerprint of the job."""
    least: int = 0
    """No layout does with fewer sheets, as far as the search could tell."""
    steps: str = ""
    """The numbers of its steps by the pieces that they cut, each with the edge that is measured from, as in
    `1 birch-1:bottom birch-1.1:left 7 birch-1.3:top`: a number that stands alone is that of the next piece, and the
    others count on."""
    sheets: tuple[AcceptedSheet, ...] = many("sheet")


@dataclass(frozen=True, slots=True)
class CutMade:
    """A tick. It names the piece that was cut and what came of it, never the number of a step."""

    sheet: str
    piece: str
    """What was cut: the sheet itself, or a piece of it."""
    makes: tuple[str, ...]
    when: str
    """Local time, ISO 8601 to the second."""
    saw: str = ""
    """What it was cut with, and stays cut with, whatever becomes of that saw; empty in files that did not say so."""
    kerf: str = ""
    """Of that saw, mm as a fraction: `11/5`."""
    edge: str = ""
    """Of the piece, from which was measured."""


@dataclass(frozen=True, slots=True)
class Crossed:
    """A blade beyond which a piece lay when it was cut off, so that its size hangs on what that took."""

    saw: str
    way: Literal["rip", "crosscut"]
    kerf: str
    """What it was taken to cut away, mm as a fraction: `11/5`."""
    times: int = 1


@dataclass(frozen=True, slots=True)
class PieceOnHand:
    """A piece that is in the shop: off a sheet that was begun, out of the rack, or a sheet as it really measures.

    In whole units of its own. Length runs along the face grain.
    """

    id: str
    """What is pencilled on it."""
    material: str
    length: int
    width: int
    unit: str
    """Millimetres to one unit, as a fraction: `1/1600`."""
    part: str = ""
    """The part's piece that it was cut to be (`S1/1`); empty where it is stock."""
    turned: bool = False
    """The part's own length lies along the width."""
    kept: bool = False
    """It serves as that part, though the design now asks for another size; if for none, it is put aside."""
    kept_for: str = ""
    """What the design asked when it was kept: `length width` of the blank, mm, as fractions, or `nothing`.

    It is asked about again when that changes. Empty, as in older files: whatever is asked.
    """
    of: str = ""
    """The sheet on which the names of its pieces count; empty: itself."""
    trim: str = "0 0 0 0"
    """What left, right, bottom and top lose: edges that no saw has made true yet."""
    bad: str = ""
    """Places on it that are of no use, each as `x y length width`: `0 0 50 40, 900 0 60 60`."""
    sawn: str = "left right bottom top"
    """The edges that a saw has made true."""
    over: str = ""
    """By how much it may be too long and too wide, mm as fractions, `0 1`: it lay beyond a blade that is thinner than
    was planned with. Empty: not at all."""
    crossed: tuple[Crossed, ...] = many("crossed")
    """The blades on which its length and its width hang: nobody has measured them since."""


@dataclass(frozen=True, slots=True)
class OpenedSheet:
    """A sheet of the stock that was taken up, and of which only pieces are left."""

    id: str
    material: str
    stock: str
    price: int = 0
    """In hundredths of the currency; 0 where unknown."""


@dataclass(frozen=True, slots=True)
class PastStep:
    """A step that was made before something went another way than planned; numbers and names of it are not reused."""

    number: int
    sheet: str
    piece: str
    saw: str
    direction: Literal["rip", "crosscut"]
    fence: int
    edge: Literal["left", "right", "bottom", "top"]
    kerf: int
    unit: str
    makes: tuple[str, ...]
    """Each piece as `id use x y length width`, the one at the fence first."""
    when: str = ""


@dataclass(frozen=True, slots=True)
class Mishap:
    """What went another way than planned, as the person would say it."""

    said: str
    after: int = 0
    """The number of the last step that was made before it; 0 where there was none."""
    when: str = ""
    """Local time, ISO 8601 to the second."""


@dataclass(frozen=True, slots=True)
class Place:
    """Where the person was when the project was last used."""

    station: str = ""
    when: str = ""
    view: str = ""
    """What of the station was before the eye, where it shows several things."""
    measuring: int = 0
    """The number of the cut of which was asked what its piece reads; 0 where nothing was asked."""


@dataclass(frozen=True, slots=True)
class Facts:
    """What has happened. Undo never changes it."""

    codes: tuple[CodeGiven, ...] = many("code")
    layouts: tuple[AcceptedLayout, ...] = many("layout")
    cuts: tuple[CutMade, ...] = many("cut")
    pieces: tuple[PieceOnHand, ...] = many("piece")
    opened: tuple[OpenedSheet, ...] = many("opened")
    history: tuple[PastStep, ...] = many("past")
    mishaps: tuple[Mishap, ...] = many("mishap")
    steps_given: int = 0
    """The highest number that a step has had since something happened: no other step gets one up to it."""
    names_given: str = ""
    """The highest numbers that names have had, `ply-1:32 rack:2`: no other piece gets one up to it."""
    bought: tuple[str, ...] = ()
    """Items of the buying list that are in the shop."""
    left_at: Place = field(default_factory=Place)

    @property
    def begun(self) -> bool:
        """Something has happened to the sheets, be it a cut or an accident: from then on numbers of steps hold."""
        return bool(self.cuts or self.history or self.pieces or self.opened)


@dataclass(frozen=True, slots=True)
class Project:
    """All that is stored of one piece of work."""

    design: Design
    facts: Facts = field(default_factory=Facts)
