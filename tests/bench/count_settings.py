"""How often a saw is set: our order of cuts, and ours one sheet at a time, against each sheet as its tree has it.

    python tests/bench/count_settings.py [--jobs 30] [PROJECT ...]

Prints a row for each project, then one for each of so many invented jobs of cabinets, and their sums. Counts, no
times: the same on every machine.
"""

from __future__ import annotations

import argparse
import sys
from dataclasses import replace
from pathlib import Path
from random import Random

sys.path.insert(0, str(Path(__file__).parents[2]))

from core.cutting import settings_needed
from core.goods import Material, Stock, Trim
from core.layout.job import Job
from core.layout.search import lay_out
from core.layout.tree import Layout
from core.plan import Plan, Planner
from core.project import Design, LoosePart, Project, Saw
from core.storage import open_project

QUICK = 300
"""Iterations of each search: an order is counted for layouts of the usual kind, not for the best ones."""


def invented(number: int) -> Design:
    """A job of two to nine cabinets: sides, bottoms and shelves in a few sizes, some doors and rails."""
    chance = Random(number)
    trim = Trim(*["6"] * 4)
    ply = Material("Plywood 18", "18", "18", density="680", stock=(Stock("2440", "1220", trim=trim),))
    parts: list[LoosePart] = []

    def add(name: str, length: int, width: int, quantity: int) -> None:
        parts.append(LoosePart(f"L{len(parts)}", name, "ply", str(length), str(width), quantity))

    depth = chance.choice([280, 300, 350, 560])
    for _ in range(chance.randint(2, 4)):
        height, width, count = (
            chance.choice([720, 800, 1200, 1960]),
            chance.randrange(300, 900, 50),
            chance.randint(1, 3),
        )
        add("Side", height, depth, 2 * count)
        add("Bottom", width - 36, depth, 2 * count)
        add("Shelf", width - 38, depth - 20, count * chance.randint(1, 3))
        add("Rail", width - 36, chance.choice([80, 100]), 2 * count)
        if chance.random() < 0.5:
            add("Door", height - 4, width // 2 - 3, 2 * count)
    saws = (
        Saw("track saw", "track", "2.2"),
        Saw("table saw", "table", chance.choice(["2.2", "3.2"]), widest_rip="760"),
    )
    return Design(f"invented {number}", "mm", saws=saws, materials={"ply": ply}, loose=tuple(parts), row_width="")


def planned(project: Project) -> Plan:
    """Its plan, after short searches."""

    def find(job: Job) -> Layout:
        return lay_out(replace(job, iterations=QUICK))

    return Planner().plan(project, find)


Row = tuple[int, int, int, int, int]
"""Sheets, cuts, settings as the trees have them, ours, ours one sheet at a time."""


def row(name: str, project: Project) -> Row:
    """Prints what comes out for one project, and gives it back."""
    design = replace(project.design, one_sheet_at_a_time=False)
    plan, apart = (planned(replace(project, design=one)) for one in (design, replace(design, one_sheet_at_a_time=True)))
    sheets = sum(len(one.sheets) for one in plan.sheets)
    plain = sum(one.plain_changes for one in plan.orders)
    found = (sheets, len(plan.steps), plain, settings_needed(plan.steps), settings_needed(apart.steps))
    tell(name, found)
    return found


def tell(name: str, found: Row) -> None:
    """One line."""
    sheets, cuts, plain, ours, apart = found
    print(
        f"{name:<24} {sheets:>6} {cuts:>6} {plain:>6} {ours:>6} {ours / plain:>6.2f} {apart:>6} {apart / plain:>6.2f}"
    )


def main() -> None:
    """All rows."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    parser.add_argument("projects", nargs="*", type=Path)
    parser.add_argument("--jobs", type=int, default=30)
    asked = parser.parse_args()
    print(f"{'':<24} {'sheets':>6} {'cuts':>6} {'plain':>6} {'ours':>6} {'ratio':>6} {'apart':>6} {'ratio':>6}")
    found = [row(path.stem, open_project(path).project) for path in asked.projects]
    found += [row(f"invented {n}", Project(invented(n))) for n in range(1, asked.jobs + 1)]
    sheets, cuts, plain, ours, apart = (sum(column) for column in zip(*found, strict=True))
    tell("all", (sheets, cuts, plain, ours, apart))


if __name__ == "__main__":
    main()
