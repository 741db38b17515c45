"""Codes of parts: short, given once, and the same after any edit of something else."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace

import pytest
from designs import carcass, design, plan_of
from hypothesis import given, settings
from hypothesis import strategies as st

from core import edits
from core.construction.codes import fingerprint, give_codes, kinds_of, place_key
from core.construction.part import Kind, Part
from core.mistakes import Mistake
from core.project import Banded, Bay, Carcass, CodeGiven, Design, EndPanel, Facts, LoosePart
from core.space import Baseboard, Space
from core.workings import work_out

Codes = tuple[CodeGiven, ...]


def parts_of(of: Design) -> tuple[Part, ...]:
    worked = work_out(of)
    assert worked.problems == ()
    return worked.parts


def seats(codes: Codes) -> dict[str, tuple[str, str]]:
    """Where each part sits: its code and number by its place."""
    return {key: (code.code, number) for code in codes for number, key in code.pieces.items() if key}


def lines(of: Design) -> dict[str, int]:
    """Quantity by name of line."""
    return {kind.name: kind.quantity for kind in plan_of(of).kinds}


# --- What is one kind


def hands(of: Design, role: str) -> list[str | None]:
    return [part.hand for part in parts_of(of) if part.role == role]


def test_end_panels_are_a_left_and_a_right_where_a_notch_makes_them_so() -> None:
    """One good face, and a notch for the baseboard at the lower back corner: the one cannot be turned into the other.

    Plain they can, and with both faces alike the notched ones, too.
    """
    row = (EndPanel("E", "End panel", "ply"), carcass("A", "24"), EndPanel("G", "End panel", "ply"))
    plain = design(*row)
    assert hands(plain, "end panel") == [None, None]
    assert lines(plain)["End panel"] == 2
    skirted = replace(plain, space=Space(baseboards=(Baseboard("back", "3", "1/2"),)))
    assert hands(skirted, "end panel") == ["left", "right"]
    kinds = [kind for kind in plan_of(skirted).kinds if kind.part.role == "end panel"]
    assert [kind.quantity for kind in kinds] == [1, 1]
    both = {key: replace(one, faces="alike") for key, one in skirted.materials.items()}
    assert hands(replace(skirted, materials=both), "end panel") == [None, None]


def test_sides_that_one_end_is_banded_of_are_a_left_and_a_right() -> None:
    of = design(carcass("A", "24", base="none", front_banding="tape"))
    assert hands(of, "side") == [None, None]
    banded = tuple(Banded(f"A side {side}", "top end", "tape") for side in ("left", "right"))
    # Front and top: turned over, the band at the top would lie at the bottom, or the one in front at the back.
    assert hands(replace(of, banded=banded), "side") == ["left", "right"]
    bottom = tuple(Banded(f"A side {side}", "bottom end", "tape") for side in ("left", "right"))
    assert hands(replace(of, banded=banded + bottom), "side") == [None, None]


def test_sides_that_mirror_are_two_lines() -> None:
    assert lines(design(carcass()))["Side, left"] == 1
    assert lines(design(carcass()))["Side, right"] == 1


def test_sides_without_machining_are_one_line() -> None:
    assert lines(design(carcass(base="none")))["Side"] == 2


def test_sides_of_a_material_alike_on_both_faces_are_one_line_if_only_notched() -> None:
    notched = design(carcass(panel="mdf"))
    assert lines(notched)["Side"] == 2
    # A rabbet is in one face, so turning a left side over does not make a right one of it.
    let_in = lines(design(carcass(panel="mdf", back="let in")))
    assert (let_in["Side, left"], let_in["Side, right"]) == (1, 1)


def test_hands_are_told() -> None:
    hands = {kind.name: kind.part.hand for kind in plan_of(design(carcass())).kinds}
    assert hands["Side, left"] == "left"
    assert hands["Side, right"] == "right"
    assert hands["Bottom / Top"] is None


def test_equal_parts_of_several_carcasses_share_a_line() -> None:
    kinds = plan_of(design(carcass("A"), carcass("B"), carcass("C", width="30"))).kinds
    told = sorted((kind.name, kind.quantity) for kind in kinds)
    assert [quantity for name, quantity in told if name == "Side, left"] == [3]
    assert [quantity for name, quantity in told if name == "Back"] == [1, 2]


def test_equal_parts_of_different_roles_share_a_line() -> None:
    kinds = plan_of(design(carcass(base="none"))).kinds
    (lying,) = (kind for kind in kinds if kind.name == "Bottom / Top")
    assert (lying.code, lying.quantity, lying.piece_ids()) == ("B1", 2, ["B1/1", "B1/2"])


@pytest.mark.parametrize(
    "other",
    [
        {"height": "30"},
        {"depth": "20"},
        {"kick_height": "3"},
        {"kick_depth": "2"},
        {"panel": "mdf"},
        {"front_banding": "tape"},
        {"back": "let in"},
    ],
)
def test_whatever_differs_in_blank_machining_or_goods_is_another_kind(other: dict[str, str]) -> None:
    sizes = {name: other.pop(name) for name in ("height", "depth") if name in other}
    one = {key: fingerprint(part) for key, part in _by_key(design(carcass("A"))).items()}
    two = {key: fingerprint(part) for key, part in _by_key(design(carcass("A", **sizes, **other))).items()}
    assert one["A side left"] != two["A side left"]


def _by_key(of: Design) -> dict[str, Part]:
    return {place_key(part): part for part in parts_of(of)}


def test_codes_are_short_and_leave_out_letters_that_look_like_figures() -> None:
    of = design(carcass("A", "24", "34 1/2", "23 1/4", Bay("share", ("even",), 1), Bay()), carcass("B", base="plinth"))
    for kind in plan_of(of).kinds:
        assert kind.code[0].isupper() and kind.code[0] not in "IO"
        assert kind.code[1:].isdigit()
        assert len(kind.code) <= 3


# --- What lasts


def test_a_carcass_added_on_the_left_renames_nothing() -> None:
    of = design(carcass("A"), carcass("B", width="30"))
    before = give_codes((), parts_of(of))
    wider = edits.add_carcass(of, "New", "20", "30", "20", 0)
    after = give_codes(before, parts_of(wider))
    assert wider.row[0].id == "C"
    assert seats(after).items() >= seats(before).items()


def test_a_change_of_one_carcass_renames_nothing_else() -> None:
    of = design(carcass("A"), carcass("B"))
    before = give_codes((), parts_of(of))
    after = give_codes(before, parts_of(edits.set_value(of, ("row", 0, "width"), "30")))
    for key in seats(before):
        if key.startswith("B ") or "side" in key:
            assert seats(after)[key] == seats(before)[key], key
    # A's bottom is another kind now, under a code that stood for nothing before.
    code, number = seats(after)["A bottom"]
    assert code not in {code.code for code in before} and number == "1"


def test_a_kind_that_changes_altogether_keeps_its_code() -> None:
    of = design(carcass("A"), carcass("B"))
    before = give_codes((), parts_of(of))
    taller = replace(of, row=tuple(replace(item, height="36") for item in of.row))
    assert seats(give_codes(before, parts_of(taller))) == seats(before)


def test_a_thickness_that_changes_renames_nothing() -> None:
    of = design(carcass("A"), carcass("B", width="30"))
    before = give_codes((), parts_of(of))
    thinner = edits.set_value(of, ("materials", "ply", "actual"), "23/32")
    assert seats(give_codes(before, parts_of(thinner))) == seats(before)


def test_changed_and_changed_back() -> None:
    of = design(carcass("A"), carcass("B"))
    first = give_codes((), parts_of(of))
    second = give_codes(first, parts_of(edits.set_value(of, ("row", 1, "width"), "30")))
    third = give_codes(second, parts_of(of))
    assert seats(third) == seats(first)


def test_the_number_of_a_part_that_went_is_taken_by_an_equal_one() -> None:
    of = design(carcass("A"), carcass("B"), carcass("C"))
    before = give_codes((), parts_of(of))
    gone = give_codes(before, parts_of(edits.remove_at(of, ("row", 1))))
    assert seats(gone)["C bottom"] == seats(before)["C bottom"]
    again = give_codes(gone, parts_of(design(carcass("A"), carcass("C"), carcass("D"))))
    assert seats(again)["D bottom"] == seats(before)["B bottom"]


def test_a_code_is_not_given_again_once_its_parts_are_gone() -> None:
    before = give_codes((), parts_of(design(carcass("A", width="24"))))
    other = give_codes(before, parts_of(design(carcass("B", width="30"))))
    assert {code.code for code in before} <= {code.code for code in other}
    assert seats(other)["B bottom"][0] not in {code.code for code in before}


def test_loose_parts_are_numbered_as_they_are_wanted() -> None:
    of = design(loose=(LoosePart("L", "Filler", "ply", "30", "2", 3),))
    (kind,) = plan_of(of).kinds
    assert kind.piece_ids() == ["L1/1", "L1/2", "L1/3"]


@pytest.mark.parametrize(
    "given_before",
    [
        (CodeGiven("S1", "x", {"one": "A side left"}),),
        (CodeGiven("S1", "x", {"-1": "A side left"}),),
        (CodeGiven("S1", "x"), CodeGiven("S1", "y")),
    ],
)
def test_codes_in_a_file_that_cannot_be(given_before: Codes) -> None:
    of = design(carcass())
    with pytest.raises(Mistake, match=r"is no number of a piece|given twice"):
        give_codes(given_before, parts_of(of))
    # The plan says so, and leaves what is stored alone.
    plan = plan_of(of, Facts(codes=given_before))
    assert plan.codes == given_before
    assert str(plan.problems[0]).startswith("code S1: ")


# --- Any sequence of edits

VARIANTS = st.builds(
    lambda width, height, base: {"width": width, "height": height, "rules": {"base": base}},
    st.sampled_from(["20", "24"]),
    st.sampled_from(["30", "34 1/2"]),
    st.sampled_from(["kick", "none"]),
)


@st.composite
def journeys(draw: st.DrawFn) -> list[Design]:
    """Designs one after the other, each by one edit or undo from the last."""
    of = design(carcass("A"), carcass("B"))
    path, undo = [of], [of]
    for _ in range(draw(st.integers(1, 6))):
        what = draw(st.sampled_from(("left", "right", "copy", "remove", "change", "thickness", "undo")))
        row = len(of.row)
        if what in ("left", "right") and row < 4:
            of = edits.add_carcass(of, "New", "24", "34 1/2", "23 1/4", 0 if what == "left" else None)
        elif what == "copy" and 0 < row < 4:
            of = edits.copy_item(of, draw(st.integers(0, row - 1)))
        elif what == "remove" and row:
            of = edits.remove_at(of, ("row", draw(st.integers(0, row - 1))))
        elif what == "change" and row:
            at = draw(st.integers(0, row - 1))
            item = of.row[at]
            assert isinstance(item, Carcass)
            of = edits.set_value(of, ("row", at), replace(item, **draw(VARIANTS)))
        elif what == "thickness":
            of = edits.set_value(of, ("materials", "ply", "actual"), draw(st.sampled_from(["3/4", "23/32"])))
        elif what == "undo" and len(undo) > 1:
            undo.pop()
            of = undo.pop()
        path.append(of)
        undo.append(of)
    return path


def check_lines(kinds: tuple[Kind, ...], parts: tuple[Part, ...]) -> None:
    """Every part is in one line, equal parts in the same, different ones in different lines."""
    assert sorted(place_key(part) for kind in kinds for _, part in kind.pieces) == sorted(map(place_key, parts))
    marks = {kind.code: {fingerprint(part) for _, part in kind.pieces} for kind in kinds}
    assert all(len(found) == 1 for found in marks.values())
    assert len({found.pop() for found in map(set, marks.values())}) == len(kinds)
    for kind in kinds:
        numbers = [number for number, _ in kind.pieces]
        assert numbers == sorted(set(numbers)) and min(numbers) > 0


@settings(max_examples=80, deadline=None)
@given(journeys())
def test_any_edits_keep_codes(path: list[Design]) -> None:
    codes: Codes = ()
    was: dict[str, str] = {}
    for of in path:
        parts = parts_of(of)
        before, codes = codes, give_codes(codes, parts)
        check_lines(kinds_of(codes, parts), parts)
        now = {place_key(part): fingerprint(part) for part in parts}
        for key, mark in now.items():
            if was.get(key) == mark:
                assert seats(codes)[key] == seats(before)[key]
        _check_never_reused(before, codes, now)
        assert give_codes(codes, parts) == codes
        was = now


def _check_never_reused(before: Codes, after: Codes, now: dict[str, str]) -> None:
    """A code stays for good, and means something else only where all its parts have become that."""
    still = {code.code: code for code in after}
    for code in before:
        assert code.code in still
        assert code.pieces.keys() <= still[code.code].pieces.keys()
        if still[code.code].stands_for != code.stands_for:
            here = [now[key] for key in code.pieces.values() if key in now]
            assert here and set(here) == {still[code.code].stands_for}
    letters: dict[str, set[str]] = defaultdict(set)
    for code in after:
        letters[code.stands_for].add(code.code)
    assert all(len(found) == 1 for found in letters.values())
