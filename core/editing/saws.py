"""The fields of the saws, and the questions when one is added."""

from __future__ import annotations

from itertools import count

from core import edits
from core.editing.field import Field, Section, yes
from core.editing.forms import Answers, Form, Question
from core.editing.suggested import of_unit
from core.edits import Path
from core.project import Design, Saw

KINDS = ("track", "circular", "table", "mitre", "yard", "any")
_KIND_HELP = (
    "circular: led along a straightedge; mitre: across the piece; yard: cut before it comes home; any: not told"
)
_CALLED = {
    "track": "track saw",
    "circular": "circular saw",
    "table": "table saw",
    "mitre": "mitre saw",
    "yard": "yard",
    "any": "saw",
}
_REACH = {
    "track": "what its track reaches",
    "circular": "what its straightedge reaches",
    "mitre": "the widest piece that it cuts across; empty: about a foot",
}


def saw_sections(design: Design) -> list[Section]:
    """What is cut with."""
    return [_section(design, place, saw) for place, saw in enumerate(design.saws)]


def _section(design: Design, place: int, saw: Saw) -> Section:
    item: Path = ("saws", place)
    fields = [
        Field("called", (*item, "name"), "text", saw.name, "what it is called on the cut list"),
        Field("kind", (*item, "kind"), "choice", saw.kind, _KIND_HELP, KINDS),
        Field("kerf", (*item, "kerf"), "size", saw.kerf, "of the blade you use: cut a scrap and measure"),
    ]
    if saw.kind != "table":
        reach = _REACH.get(saw.kind, "how far it cuts; empty: as far as wanted")
        fields.append(Field("longest cut", (*item, "longest_cut"), "size", saw.longest_cut, reach, optional=True))
    if saw.kind in ("table", "any"):
        help = "how far its fence goes from the blade; empty: as far as wanted"
        fields.append(Field("widest rip", (*item, "widest_rip"), "size", saw.widest_rip, help, optional=True))
    if saw.kind in ("table", "mitre", "any"):
        usual = "any" if saw.kind == "any" else of_unit(design, "50 lb", "23 kg")
        fields += [
            Field(
                "longest piece",
                (*item, "longest_piece"),
                "size",
                saw.longest_piece,
                "that you bring to it alone; empty: any",
                optional=True,
            ),
            Field(
                "heaviest piece",
                (*item, "heaviest_piece"),
                "weight",
                saw.heaviest_piece,
                f"that you bring to it alone; empty: {usual}",
                optional=True,
            ),
        ]
    help = "no: it makes only cuts beside which an allowance is left"
    fields.append(Field("edge can stay", (*item, "finished"), "yes or no", yes(saw.finished), help))
    if saw.kind == "yard":
        fields.append(Field("fee", (*item, "fee"), "amount", saw.fee, "for one cut"))
    return Section(f"Saw {place + 1}", tuple(fields), item)


def saw_form(design: Design) -> Form:
    """One more saw, called as its kind is until it is given another name."""

    def finish(design: Design, told: Answers) -> Design:
        taken, name = {saw.name for saw in design.saws}, _CALLED[told["kind"]]
        name = next(one for number in count(1) if (one := name if number == 1 else f"{name} {number}") not in taken)
        saw = Saw(name, told["kind"], told["kerf"])  # type: ignore[arg-type]
        return edits.add_at(design, ("saws",), saw)

    return Form(
        "A saw",
        (
            Question("kind", "what kind", "choice", "track", KINDS, _KIND_HELP),
            Question("kerf", "kerf of its blade", "size", of_unit(design, "3/32", "2.2"), help="cut a scrap"),
        ),
        finish,
    )
