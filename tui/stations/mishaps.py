"""When it goes another way than planned: what happened is asked, what it comes to is shown, then accepted or left."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from functools import partial
from typing import cast

from core import accidents
from core.cuts.saws import ShopSaw
from core.cuts.steps import Edge
from core.cutting import PlannedStep
from core.edits import set_value
from core.layout.tree import Direction
from core.lying import Thing, called_in_lists, things_lying
from core.project import Facts
from core.taking_stock import saws_used
from tui.desk import Desk
from tui.session import still_laid_out
from tui.stations.sizes_asked import SizesAsked
from tui.stations.supposing import Change, Supposing
from tui.stations.unsuited import Unsuited

SPOILED, OTHERWISE, MEASURES = "a piece is spoiled", "I cut something else", "it really measures otherwise"
THICKNESS, KERF, ANOTHER, MISFIT = (
    "the thickness is another",
    "my kerf is another",
    "there is another piece",
    "cut, and no longer suits",
)
BAD = "it has a bad place"
CHANGED = "the design has changed since"
BACK = "the last change was a mistake"
A_PIECE, SERVES = "it is a piece of that size", "it serves as it is"


class Mishaps(Supposing):
    """The questions, at one step of the cut list."""

    def __init__(self, desk: Desk, planned: PlannedStep | None, go_on: Callable[[], object] = lambda: None) -> None:
        super().__init__(desk, go_on)
        self.sizes = SizesAsked(desk)
        self.planned = planned
        self.things = things_lying(self.session.plan)
        self.called = called_in_lists(self.session.plan)

    def begin(self) -> None:
        """What happened?"""
        plan = self.session.plan
        if plan.pending:
            # Before seven questions are answered in vain.
            self.desk.say(still_laid_out("tell it"), bad=True)
            self.desk.back_to_station()
            return
        misfits = [one for sheets in plan.sheets for one in sheets.misfits]
        ways: dict[str, Callable[[], None]] = {
            SPOILED: self._spoiled,
            OTHERWISE: self._otherwise,
            MEASURES: self._measures,
            BAD: self._bad_place,
            THICKNESS: self._thickness,
            KERF: self._kerf,
            ANOTHER: self._another,
        }
        kerf = plan.worked.kerf
        changed = [one.material for one in plan.sheets if one.disagreements or one.for_thinner_blades(kerf)]
        if changed:
            said = f"{CHANGED}: what is not cut of {changed[0]} is planned again"
            ways = {CHANGED: lambda: self.change(said, changed[0], _nothing, try_anew=True, rather_anew=True), **ways}
        if misfits:
            ways = {MISFIT: partial(Unsuited(self.desk, self.go_on).ask, misfits), **ways}
        if self.session.may_take_back:
            # Last, so that it is nothing that Enter does by itself.
            ways[BACK] = self._take_back
        if not plan.sheets and BACK not in ways:
            self.desk.say("nothing is planned, and nothing is in the shop, that could go another way")
            self.desk.back_to_station()
            return
        self.desk.choose("What happened?", tuple(ways), lambda text: ways[text](), "what is cut stays a fact")

    def _take_back(self) -> None:
        if self.desk.record(self.session.take_back):
            self.desk.shown("the last change of plan is taken back")
        self.desk.back_to_station()

    # What each asks

    def _spoiled(self) -> None:
        # A sheet can fall off the car before anything is cut of it.
        things = sorted(self.things.values(), key=lambda thing: thing.fresh)
        last = self._last_made(things)

        def nothing_left(thing: Thing) -> None:
            spoilt = self._taken_up(thing, partial(accidents.spoil, name=thing.id))
            self.change(f"{self.called[thing.id]} is spoiled", thing.material, spoilt)

        def accept(thing: Thing) -> None:
            most_long, most_wide = thing.as_called(thing.length, thing.width)
            self.sizes.ask(
                f"What is left of {self.called[thing.id]}: length",
                "",
                lambda length: self.sizes.ask(
                    "its width",
                    self.session.to_type_over(most_wide),
                    lambda width: self._resized("is spoiled, and what is left", thing, length, width),
                    refused=self.sizes.no_more_than(most_wide, "no more can be left than there was"),
                ),
                "Enter if nothing of it is of use",
                left_empty=lambda: nothing_left(thing),
                refused=self.sizes.no_more_than(most_long, "no more can be left than there was"),
            )

        self._which("Which piece is spoiled?", things, last, accept)

    def _measures(self) -> None:
        here = self.things.get(self.planned.step.piece) if self.planned else None
        things = sorted(self.things.values(), key=lambda thing: thing.is_part)

        def really(thing: Thing, length: Fraction, width: Fraction) -> None:
            if not thing.is_part:
                self._resized("really", thing, length, width)
                return
            ways = {
                A_PIECE: lambda: self._resized("really", thing, length, width),
                SERVES: lambda: self.desk.back_to_station(),
            }
            self.desk.choose(
                f"{self.called[thing.id]} is a part",
                tuple(ways),
                lambda text: ways[text](),
                "as a piece it is stock, and the part is made again",
            )

        def accept(thing: Thing) -> None:
            was_long, was_wide = thing.as_called(thing.length, thing.width)
            self.sizes.ask(
                f"{self.called[thing.id]} measures: length",
                self.session.to_type_over(was_long),
                lambda length: self.sizes.ask(
                    "width",
                    self.session.to_type_over(was_wide),
                    lambda width: really(thing, length, width),
                ),
                "of the part" if thing.is_part else "along the face grain",
            )

        self._which("Which piece or sheet?", things, here, accept)

    def _bad_place(self) -> None:
        here = self.things.get(self.planned.step.piece) if self.planned else None
        things = [thing for thing in self.things.values() if not thing.is_part]
        asked = ("from its left end", "from its lower edge", "long, along the grain", "wide")

        def ask(thing: Thing, told: tuple[Fraction, ...]) -> None:
            if len(told) < len(asked):
                whole = (thing.length, thing.width)[len(told) % 2]
                if is_start := len(told) < 2:
                    refused = self.sizes.within(whole, "a bad place begins on it")
                else:
                    refused = self.sizes.no_more_than(whole - told[-2], "no more of the piece lies there")
                label = f"Bad place of {thing.name}: {asked[len(told)]}"
                self.sizes.ask(label, "", lambda size: ask(thing, (*told, size)), zero=is_start, refused=refused)
                return
            x, y, length, width = told

            def change(facts: Facts) -> Facts:
                return accidents.mark_bad(facts, thing.id, x, y, length, width)

            size, left, up = self.sizes.area(length, width), self.sizes.text(x), self.sizes.text(y)
            said = f"{thing.name} has a bad place of {size}, {left} from its left end and {up} from its lower edge"
            self.change(said, thing.material, self._taken_up(thing, change))

        self._which("Which piece or sheet?", things, here, lambda thing: ask(thing, ()))

    def _otherwise(self) -> None:
        here = self.things.get(self.planned.step.piece) if self.planned else None
        things = [thing for thing in self.things.values() if not thing.is_part]

        def piece(thing: Thing) -> None:
            self.desk.choose("Which way?", ("rip", "crosscut"), lambda way: size(thing, cast("Direction", way)))

        def size(thing: Thing, way: Direction) -> None:
            within = self.sizes.within(thing.width if way == "rip" else thing.length, "the cut lies within it")
            label = f"{way} of {thing.name}, this far from an edge"
            self.sizes.ask(label, "", lambda read: edge(thing, way, read), refused=within)

        def edge(thing: Thing, way: Direction, read: Fraction) -> None:
            ends = ("bottom", "top") if way == "rip" else ("left", "right")
            self.desk.choose("From which edge?", ends, lambda at: cut(thing, way, read, cast("Edge", at)))

        def cut(thing: Thing, way: Direction, read: Fraction, at: Edge) -> None:
            self._sawn_with(lambda saw: sawn(thing, way, read, at, saw))

        def sawn(thing: Thing, way: Direction, read: Fraction, at: Edge, saw: ShopSaw) -> None:
            made = partial(
                accidents.cut_otherwise,
                name=thing.id,
                direction=way,
                size=read,
                edge=at,
                kerf=saw.kerf,
                saw=saw.name,
                rough=Fraction(0) if saw.finished else self.session.plan.worked.kerf,
            )
            said = f"{thing.name} was cut otherwise: a {way} {self.sizes.text(read)} from its {at} edge"
            self.change(said, thing.material, self._taken_up(thing, made))

        self._which("Which piece did you cut?", things, here, piece)

    def _sawn_with(self, accept: Callable[[ShopSaw], None]) -> None:
        """The saw that made a cut; which one is asked where there are several."""
        saws = {saw.name: saw for saw in self.session.plan.worked.saws}
        if len(saws) == 1:
            accept(next(iter(saws.values())))
            return
        planned = self.planned.step.saw.name if self.planned else ""
        names = tuple(sorted(saws, key=lambda name: name != planned))
        self.desk.choose("With which saw?", names, lambda name: accept(saws[name]), "what its blade took is gone")

    def _another(self) -> None:
        materials = tuple(one.material for one in self.session.plan.sheets)

        def there(material: str, length: Fraction, width: Fraction) -> None:
            bring = partial(accidents.bring, material=material, length=length, width=width)
            said = f"there is another piece of {material}, {self.sizes.area(length, width)}"
            self.change(said, material, bring, try_anew=True)

        def accept(material: str) -> None:
            self.sizes.ask(
                "Its length, along the face grain",
                "",
                lambda length: self.sizes.ask("its width", "", lambda width: there(material, length, width)),
            )

        here = self.planned.sheet.material if self.planned else materials[0]
        self.desk.choose("A piece of which material?", (here, *(m for m in materials if m != here)), accept)

    def _thickness(self) -> None:
        here = self.planned.sheet.material if self.planned else ""
        names = sorted((one.material for one in self.session.plan.sheets), key=lambda name: name != here)
        if len(names) == 1:
            self._thickness_of(names[0])
        else:
            self.desk.choose("The thickness of which material?", tuple(names), self._thickness_of)

    def _thickness_of(self, material: str) -> None:
        path = ("materials", material, "actual")
        now = self.session.design.materials[material].actual

        def accept(thick: Fraction) -> None:
            design = set_value(self.session.design, path, self.sizes.stored(thick))
            said = f"{material} is really {self.session.plan.worked.notation.exactly(thick)} thick"
            self.change(said, material, _nothing, design)

        self.sizes.ask(f"{material} is really this thick", now, accept, "every part follows")

    def _kerf(self) -> None:
        saws = self.session.design.saws
        now = {saw.name: place for place, saw in enumerate(saws)}
        # A saw that has another name by now, or is gone, has cut what lies there all the same.
        names = (*now, *(name for name in saws_used(self.session.project.facts) if name not in now))
        if not names:
            self.desk.say("no saw is told of yet: a at Goods adds one, with its kerf", bad=True)
            self.desk.back_to_station()
            return
        here = self.planned.step.saw.name if self.planned else ""

        def accept(name: str) -> None:
            def made(kerf: Fraction) -> None:
                material = self.planned.sheet.material if self.planned else self.session.plan.sheets[0].material
                design = self.session.design
                if name in now:
                    design = set_value(design, ("saws", now[name], "kerf"), self.sizes.stored(kerf))
                said = f"the kerf of {name} is really {self.session.plan.worked.notation.exactly(kerf)}"
                change = partial(accidents.took, saw=name, kerf=kerf, was=thought.get(name))
                self.change(said, material, change, design)

            # A blade that was changed at Goods has left what it cut before as it is.
            thought = {saw.name: saw.kerf for saw in self.session.plan.worked.saws}
            was = saws[now[name]].kerf if name in now else ""
            self.sizes.ask(f"The kerf of {name} is", was, made, "cut a scrap, and measure the slot")

        ordered = tuple(sorted(names, key=lambda name: name != here))
        self.desk.choose("Which saw?", ordered, accept)

    def reads_otherwise(self, name: str, direction: Direction, really: Fraction) -> None:
        """The first piece at a setting measures something else: it serves so, or it is a piece of that size."""
        thing = self.things.get(name)
        if thing is None:
            self.desk.back_to_station()
            return
        off = really - (thing.width if direction == "rip" else thing.length)
        by = self.session.plan.worked.notation.with_unit(abs(off))
        pieces = self.planned.step.pieces if self.planned else ()
        is_beyond = bool(pieces) and name != pieces[0].id
        way = "further from" if (off < 0) != is_beyond else "closer to"
        told = f"set the fence or line {by} {way} the blade before the next"
        # What came off at the fence is missing beyond the blade, or is there besides.
        others = () if is_beyond else pieces[1:]
        sizes = {name: off, **{one.id: -off for one in others if one.id in self.things}}

        def resize(facts: Facts) -> Facts:
            for piece, more in sizes.items():
                one = self.things[piece]
                length, width = (0, more) if direction == "rip" else (more, 0)
                size = one.length + length, one.width + width
                facts = accidents.resize(facts, one.id, *size, measured=piece == name)
            return facts

        def serves() -> None:
            self.session.measuring = 0
            self.desk.back_to_station()

        ways: dict[str, Callable[[], None]] = {
            A_PIECE: lambda: self.change(f"{name} reads {self.sizes.text(really)}", thing.material, resize),
            SERVES: serves,
        }
        self.desk.choose(f"{name} is off by {by}", tuple(ways), lambda text: ways[text](), told)

    # What comes of it

    def _resized(self, how: str, thing: Thing, length: Fraction, width: Fraction) -> None:
        def change(facts: Facts) -> Facts:
            return accidents.resize(facts, thing.id, *thing.as_called(length, width))

        said = f"{self.called[thing.id]} {how} measures {self.sizes.area(length, width)}"
        self.change(said, thing.material, self._taken_up(thing, change))

    def _taken_up(self, thing: Thing, change: Change) -> Change:
        """The change; a fresh sheet becomes a piece on hand first."""
        if not thing.fresh:
            return change
        sheet = next(one for sheets in self.session.plan.sheets for one in sheets.sheets if one.id == thing.name)
        return lambda facts: change(accidents.take_up(facts, sheet, thing.length, thing.width))

    # How it is asked

    def _which(self, label: str, things: list[Thing], first: Thing | None, accept: Callable[[Thing], None]) -> None:
        by_name = {self.called[thing.id]: thing for thing in things}
        if not by_name:
            self.desk.say("nothing is cut yet", bad=True)
            self.desk.back_to_station()
            return
        names = [self.called[first.id]] if first else []
        names += [name for name in by_name if name not in names]
        self.desk.choose(label, tuple(names), lambda name: accept(by_name[name]), "as pencilled on it")

    def _last_made(self, things: list[Thing]) -> Thing | None:
        return next((thing for thing in things if thing.is_part), None)


def _nothing(facts: Facts) -> Facts:
    return facts
