"""`sawhorse layout`: a bare list of parts from a CSV file."""

from __future__ import annotations

import csv
import io
import os
import signal
from fractions import Fraction
from pathlib import Path
from typing import Any

import pexpect
import pytest
from answers import Run, a_list, refused
from projects_to_try import bench, stored
from terminals import PATIENCE, SAWHORSE, environment

import core.bare_list


def laid(document: dict[str, Any]) -> list[dict[str, Any]]:
    """Every part as it lies."""
    return [part for one in document["materials"] for sheet in one["sheets"] for part in sheet["parts"]]


def test_a_list_is_laid_out(tmp_path: Path, run: Run) -> None:
    path = a_list(tmp_path, "A,4,600,300,length", "B,3,400,250,width", "C,2,200,200,none")
    options = ("--sheet", "2440x1220", "--kerf", "3.2", "--trim", "10")
    told = run("layout", path, *options, "--json")
    assert (told.code, told.err) == (0, "")
    (one,) = told.document["materials"]
    assert told.document["kerf"] == 3.2
    assert one["sheets_needed"] == len(one["sheets"]) == one["lower_bound"] == 1
    assert one["proved_minimum"] is True
    (sheet,) = one["sheets"]
    assert (sheet["length"], sheet["width"], sheet["grain"]) == (2440, 1220, "length")
    assert sheet["trim"] == {"left": 10, "right": 10, "bottom": 10, "top": 10}
    parts = laid(told.document)
    assert sorted(part["piece"] for part in parts) == [
        *(f"A/{n}" for n in range(1, 5)),
        *(f"B/{n}" for n in range(1, 4)),
        "C/1",
        "C/2",
    ]
    sizes = {part["part"]: (part["length"], part["width"], part["rotated"], part["grain_locked"]) for part in parts}
    assert sizes["A"] == (600, 300, False, True)
    assert sizes["B"] == (250, 400, True, True), "grain along its width: it lies with its width along the sheet's grain"
    assert sizes["C"][3] is False
    for part in parts:
        assert part["x"] >= 10 and part["x"] + part["length"] <= 2430
        assert part["y"] >= 10 and part["y"] + part["width"] <= 1210
    text = run("layout", path, *options)
    assert text.code == 0
    assert "A/1" in text.out
    assert "\x1b" not in text.out


def test_sizes_of_a_list_are_read_as_people_write_them(tmp_path: Path, run: Run) -> None:
    path = a_list(tmp_path, 'A,1,"18,3 mm",1.5 ft,none', 'B,1,17 5/8 in,"7-1/2""",none', "C,1,¾ in,183 cm,none")
    told = run("layout", path, "--sheet", "2440x1220", "--json")
    assert told.code == 0
    sizes = {part["part"]: {part["length"], part["width"]} for part in laid(told.document)}
    assert sizes == {"A": {18.3, 457.2}, "B": {447.675, 190.5}, "C": {19.05, 1830}}


def test_bare_numbers_are_in_the_unit_that_is_given(tmp_path: Path, run: Run) -> None:
    path = a_list(tmp_path, "A,1,17 5/8,.75,none", "B,1,457.2 mm,3/4,none")
    told = run("layout", path, "--sheet", "96x48", "--kerf", "1/8", "--unit", "in", "--json")
    assert told.code == 0
    assert told.document["kerf"] == 3.175
    (sheet,) = told.document["materials"][0]["sheets"]
    assert (sheet["length"], sheet["width"]) == (2438.4, 1219.2)
    sizes = {part["part"]: {part["length"], part["width"]} for part in laid(told.document)}
    assert sizes == {"A": {447.675, 19.05}, "B": {457.2, 19.05}}


def test_exact_quarters_fit_where_they_fit(tmp_path: Path, run: Run) -> None:
    """Four rips of a 1220 sheet with a kerf of 3.2 are (1220 - 3 * 3.2) / 4 wide; a hundredth more, and one is left."""
    quarter = (Fraction(1220) - 3 * Fraction("3.2")) / 4
    for width, sheets in ((float(quarter), 1), (float(quarter) + 0.01, 2)):
        path = a_list(tmp_path, f"A,4,2440,{width},length")
        told = run("layout", path, "--sheet", "2440x1220", "--kerf", "3.2", "--json")
        assert told.document["materials"][0]["sheets_needed"] == sheets


def test_parts_that_fit_no_sheet_are_a_finding(tmp_path: Path, run: Run) -> None:
    path = a_list(tmp_path, "A,2,2500,300,length", "B,1,600,300,none")
    told = run("layout", path, "--sheet", "2440x1220", "--json")
    assert told.code == 1
    assert told.document["materials"][0]["unplaced"] == ["A", "A"]
    assert told.document["materials"][0]["proved_minimum"] is False
    assert [part["part"] for part in laid(told.document)] == ["B"]
    assert all(line.startswith("sawhorse: A") for line in told.err.splitlines())
    assert told.err


def test_the_grain_keeps_a_part_from_turning(tmp_path: Path, run: Run) -> None:
    sheet = ("--sheet", "2440x1220", "--json")
    assert run("layout", a_list(tmp_path, "A,1,1000,2000,none"), *sheet).code == 0
    assert run("layout", a_list(tmp_path, "A,1,1000,2000,length"), *sheet).code == 1
    assert run("layout", a_list(tmp_path, "A,1,1000,2000,width"), *sheet).code == 0


def test_a_list_is_read_as_spreadsheets_write_it(tmp_path: Path, run: Run) -> None:
    """A mark at the beginning, other orders of columns, blank lines, no grain, Windows line ends."""
    path = tmp_path / "list.csv"
    path.write_bytes("\ufeffWidth,Part,Length,Quantity,Remark\r\n300,A,600,2,door\r\n\r\n,,,,\r\n".encode())
    told = run("layout", path, "--sheet", "2440x1220", "--json")
    assert told.code == 0
    assert [part["piece"] for part in laid(told.document)] == ["A/1", "A/2"]


def test_fields_may_be_separated_by_semicolons_or_tabs(tmp_path: Path, run: Run) -> None:
    path = tmp_path / "list.csv"
    for mark in (";", "\t"):
        lines = ("part,quantity,length,width,grain", "A,2,600,300,none", "B,1,5,80,")
        path.write_text("\n".join(lines).replace(",", mark))
        told = run("layout", path, "--sheet", "2440x1220", "--json")
        assert [part["piece"] for part in laid(told.document)] == ["A/1", "A/2", "B/1"]


@pytest.mark.parametrize(
    ("lines", "said"),
    [
        (["A,2,600,wide,none"], ["line 2, width", "wide"]),
        (["A,two,600,300,none"], ["line 2, quantity", "two"]),
        (["A,0,600,300,none"], ["line 2, quantity"]),
        (["A,2,-600,300,none"], ["line 2, length", "-600"]),
        (["A,2,600,300,across"], ["line 2, grain", "across", "length, width, none"]),
        (["/,2,600,300,none"], ["line 2, part", "'/'"]),
        (["A b,2,600,300,none", "AB,1,500,300,none"], ["AB stands twice"]),
        (["A,1,600,300,none", "A,1,500,300,none"], ["A stands twice"]),
        (["A,1,18,3,600,none"], ["line 2", "quotation marks"]),
        (["A,1,x,300,none", "B,1,600,y,none"], ["line 2, length", "line 3, width"]),
        (['A,1,"1,830",300,none'], ["line 2, length", "1,830"]),
    ],
)
def test_a_list_that_is_wrong_is_told_by_line_and_column(
    tmp_path: Path, run: Run, lines: list[str], said: list[str]
) -> None:
    told = run("layout", a_list(tmp_path, *lines), "--sheet", "2440x1220")
    assert (told.code, told.out) == (2, "")
    assert all(words in told.err for words in said), told.err


def test_a_list_without_its_columns(tmp_path: Path, run: Run) -> None:
    told = run("layout", a_list(tmp_path, head="name,size"), "--sheet", "2440x1220")
    assert refused(told)
    assert "part, quantity, length, width" in told.err
    told = run("layout", a_list(tmp_path, head="part,quantity,length,width,Part"), "--sheet", "2440x1220")
    assert refused(told)
    assert "two columns part" in told.err
    (tmp_path / "empty.csv").write_text("")
    assert refused(run("layout", tmp_path / "empty.csv", "--sheet", "2440x1220"))


def test_a_cap_on_the_search_still_gives_a_layout(tmp_path: Path, run: Run) -> None:
    path = a_list(tmp_path, *(f"P{n},3,{300 + 11 * n},{150 + 7 * n},none" for n in range(20)))
    told = run("layout", path, "--sheet", "2440x1220", "--kerf", "3", "--seconds", "0.05", "--json")
    assert told.code == 0
    assert len(laid(told.document)) == 60


def test_the_parts_of_a_project_are_a_list_of_their_own(tmp_path: Path, run: Run) -> None:
    """What one command prints another reads, and the two agree on the sheets."""
    path = stored(tmp_path, bench("mm"))
    parts = [part for part in run("parts", path, "--json").document["parts"] if part["material"] == "birch"]
    text = io.StringIO()
    writer = csv.writer(text)
    writer.writerow(["part", "quantity", "length", "width", "grain"])
    for part in parts:
        writer.writerow([part["part"], part["quantity"], part["blank_length"], part["blank_width"], part["grain"]])
    listed = tmp_path / "list.csv"
    listed.write_text(text.getvalue())
    alone = run("layout", listed, "--sheet", "2440x1220", "--kerf", "3.2", "--trim", "6", "--json").document
    (birch,) = [m for m in run("sheets", path, "--json").document["materials"] if m["material"] == "birch"]
    assert alone["materials"][0]["sheets_needed"] == birch["sheets_needed"]


def test_names_are_written_as_they_are_pencilled(tmp_path: Path, run: Run) -> None:
    path = a_list(tmp_path, "Base side,2,600,300,none", "shelf/80 cm,1,700,200,none")
    told = run("layout", path, "--sheet", "2440x1220", "--json")
    assert sorted(part["piece"] for part in laid(told.document)) == ["BaseSide/1", "BaseSide/2", "shelf80Cm/1"]


def test_many_pieces_without_a_place_are_told_in_a_line(tmp_path: Path, run: Run) -> None:
    told = run("layout", a_list(tmp_path, "A,60,3000,300,length", "B,2,3000,100,length"), "--sheet", "2440x1220")
    assert told.code == 1
    reason = "no place on a sheet, too long for the trimmed sheet along the grain"
    lines = [f"A/1, A/2, A/3, A/4 and 56 more: {reason}", f"B/1, B/2: {reason}"]
    assert told.out.splitlines()[1:3] == [f"! {line}" for line in lines]
    assert told.err.splitlines() == [f"sawhorse: {line}" for line in lines]


def test_ctrl_c_takes_the_best_that_was_found_until_then(tmp_path: Path) -> None:
    sizes = [f"P{n},3,{391 + 17 * n},{203 + 29 * (n * 7 % 19)},none" for n in range(30)]
    command = [*SAWHORSE, "layout", str(a_list(tmp_path, *sizes)), "--sheet", "2440x1220", "--seconds", "600", "--json"]
    child = pexpect.spawn(command[0], command[1:], env=environment(tmp_path), timeout=PATIENCE, encoding="utf-8")
    child.expect("so far, still searching")
    child.sendintr()
    child.expect('"sheets_needed": [1-9]')
    child.expect("stopped; this is the best that was found until then")
    child.expect(pexpect.EOF)
    child.close()
    assert child.exitstatus == 0


def test_ctrl_c_before_the_first_layout_is_there_takes_that(
    tmp_path: Path, run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    read = core.bare_list.read_list

    def interrupted(*of: Any) -> Any:
        os.kill(os.getpid(), signal.SIGINT)
        return read(*of)

    monkeypatch.setattr(core.bare_list, "read_list", interrupted)
    sizes = [f"P{n},3,{391 + 17 * n},{203 + 29 * (n * 7 % 19)},none" for n in range(30)]
    told = run("layout", a_list(tmp_path, *sizes), "--sheet", "2440x1220", "--json")
    assert (told.code, told.err) == (0, "sawhorse: stopped; this is the best that was found until then\n")
    assert len(laid(told.document)) == 90


def test_sheets_that_are_alike_are_drawn_once(tmp_path: Path, run: Run) -> None:
    # By hand: four boards fill a sheet.
    told = run("layout", a_list(tmp_path, "A,16,1200,600,length"), "--sheet", "2440x1220", "--kerf", "3")
    titles = [line.split()[0] for line in told.out.splitlines() if line.startswith("sheet-")]
    assert (titles, told.out.splitlines()[-1]) == (["sheet-1"], "3 more are like it: sheet 2-4")


def stocks(document: dict[str, Any]) -> list[str]:
    """What each sheet is called."""
    return sorted(sheet["stock"] for one in document["materials"] for sheet in one["sheets"])


def test_several_kinds_of_sheets_are_chosen_among_by_price(tmp_path: Path, run: Run) -> None:
    """By hand: four boards 1000 x 500 go on one whole sheet, or on two halves."""
    path = a_list(tmp_path, "A,4,1000,500,length")
    for half, kinds, cost in (("40", ["1220x1220"] * 2, 80.0), ("58,5", ["2440x1220"], 100.0)):
        told = run("layout", path, "--sheet", "2440x1220,price=100", "--sheet", f"1220x1220, price={half}", "--json")
        (one,) = told.document["materials"]
        assert (stocks(told.document), one["cost"], one["costs_least"]) == (kinds, cost, True)
    told = run("layout", path, "--sheet", "2440x1220,price=100", "--sheet", "1220x1220,price=40")
    assert told.out.startswith("2 sheets; no layout costs less, ") and ", 80.00\n" in told.out


def test_what_is_in_the_shop_is_used_first_as_often_as_it_is_there(tmp_path: Path, run: Run) -> None:
    path = a_list(tmp_path, "A,6,1000,500,length")
    there = ("--sheet", "1100x600,quantity=2,trim=0")
    told = run("layout", path, *there, "--sheet", "2440x1220,price=100", "--kerf", "3", "--trim", "10", "--json")
    (one,) = told.document["materials"]
    assert stocks(told.document) == ["1100x600", "1100x600", "2440x1220"]
    assert (one["cost"], one["costs_least"]) == (100.0, True)
    assert [sheet["on_hand"] for sheet in one["sheets"]] == [True, True, False]
    assert (one["sheets_needed"], one["new_sheets"]) == (3, 1)
    assert {sheet["stock"]: sheet["trim"]["left"] for sheet in one["sheets"]} == {"1100x600": 0, "2440x1220": 10}
    # Two are there, and more of the same size are to be had.
    alike = ("--sheet", "1100x600,quantity=2", "--sheet", "600x1100", "--sheet", "1100 x 600,price=30")
    assert refused(run("layout", path, *alike)), "nobody knows what 600x1100 costs"
    alike = (*alike[:2], *alike[4:])
    told = run("layout", path, *alike, "--kerf", "3", "--json")
    assert stocks(told.document) == ["1100 x 600 at 30.00"] * 4 + ["1100x600 in the shop"] * 2
    assert told.document["materials"][0]["cost"] == 120.0
    told = run("layout", path, *there, "--sheet", "2440x1220,price=100", "--kerf", "3", "--trim", "10")
    assert told.out.startswith("2 sheets in the shop, 1 new sheet; no layout costs less, ")
    told = run("layout", path, *there, "--json")
    assert (told.code, told.document["materials"][0]["unplaced"]) == (1, ["A"] * 4)
