"""How good layouts are on published instances of guillotine two-dimensional bin packing.

    python tests/bench/run_layouts.py INSTANCES [--seconds 5] [--again 30] [--mode fixed] [--every 10]

INSTANCES is a file, or a folder of files, of JSON lists of `{name, class, n, sheet: [W, H],
items: [[w, h], ...], bound_fixed, bound_turned}`: whole numbers, no kerf, one entry of `items`
for each piece. Prints the sheets of each class: our total, the bound (the better of what the
search proved and the instance's), how many are proved, the best of rectpack's guillotine methods,
and the published total where all of a class is there; with `--again` once more, after so many
seconds for each of those that were not proved. Not run by the tests: it asserts no times, and takes
as long as it is told to.
"""

from __future__ import annotations

import argparse
import json
import sys
import time
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import Any

import rectpack

sys.path.insert(0, str(Path(__file__).parents[2]))

from core.layout.job import Job, JobPart, JobStock
from core.layout.search import lay_out

WHOLE_CLASS = 50
"""How many instances each class has in the published sets."""

PUBLISHED = {
    "fixed": {1: 997, 2: 124, 3: 697, 4: 121, 5: 893, 6: 110, 7: 825, 8: 833, 9: 2130, 10: 503},
    "turned": {1: 972, 2: 124, 3: 675, 4: 119, 5: 862, 6: 109, 7: 756, 8: 759, 9: 2119, 10: 491},
}
"""Totals of sheets, class by class, in Gardeyn & Wauters, "A goal-driven ruin and recreate heuristic for the 2D
variable-sized bin packing problem with guillotine constraints" (European Journal of Operational Research, 2022).
Classes 1 to 6 are those of Berkey & Wang (1987), 7 to 10 those of Martello & Vigo (1998)."""

MORE_THAN_TIME_ALLOWS = 10**9
"""Iterations that never run out before the seconds do."""


@dataclass
class Row:
    """What came out for some instances together."""

    instances: int = 0
    ours: int = 0
    bound: int = 0
    proved: int = 0
    rectpack: int = 0
    seconds: float = 0.0
    worst: float = 0.0

    def add(self, other: Row) -> None:
        """Count `other` in."""
        self.instances += other.instances
        self.ours += other.ours
        self.bound += other.bound
        self.proved += other.proved
        self.rectpack += other.rectpack
        self.seconds += other.seconds
        self.worst = max(self.worst, other.worst)


def instances_in(place: Path) -> Iterator[dict[str, Any]]:
    """Every instance of a file, or of all files of a folder in the order of their names."""
    for file in sorted(place.glob("*.json")) if place.is_dir() else [place]:
        yield from json.loads(file.read_text())


def job_of(instance: dict[str, Any], turns: bool) -> Job:
    """An instance as a job of our own."""
    parts = tuple(JobPart(f"P{index}", *size, 1, turns) for index, size in enumerate(instance["items"]))
    return Job("1", 0, parts, (JobStock("sheet", *instance["sheet"]),), MORE_THAN_TIME_ALLOWS)


def measured(instance: dict[str, Any], mode: str, seconds: float, with_rectpack: bool) -> Row:
    """One instance laid out."""
    job = job_of(instance, mode == "turned")
    began = time.monotonic()
    layout = lay_out(job, cap_seconds=seconds)
    took = time.monotonic() - began
    assert not layout.unplaced
    sheets = len(layout.sheets)
    bound = max(layout.lower_bound, instance.get(f"bound_{mode}", 0))
    assert bound <= sheets, f"{instance['name']}: a bound of {bound} and a layout of {sheets}"
    best = rectpack_best(instance, mode == "turned") if with_rectpack else 0
    return Row(1, sheets, bound, sheets == bound, best, took, took)


def rectpack_best(instance: dict[str, Any], turns: bool) -> int:
    """The fewest sheets of rectpack's guillotine methods in three orders; without merging, so that all can be cut."""
    methods = [getattr(rectpack, name) for name in sorted(dir(rectpack)) if name.startswith("Guillotine")]
    fewest = len(instance["items"])
    for method in methods:
        for order in (rectpack.SORT_AREA, rectpack.SORT_LSIDE, rectpack.SORT_SSIDE):
            packer = rectpack.newPacker(
                bin_algo=rectpack.PackingBin.BBF,
                pack_algo=partial(method, merge=False),
                sort_algo=order,
                rotation=turns,
            )
            packer.add_bin(*instance["sheet"], count=float("inf"))
            for size in instance["items"]:
                packer.add_rect(*size)
            packer.pack()
            if len(packer.rect_list()) == len(instance["items"]):
                fewest = min(fewest, len(packer))
    return fewest


def printed(name: str, row: Row, published: int | None, with_rectpack: bool) -> str:
    """A line of the table."""
    best = f"{row.rectpack:9}" if with_rectpack else f"{'-':>9}"
    known = f"{published:10}" if published else f"{'-':>10}"
    return (
        f"{name:>6} {row.instances:6} {row.ours:7} {row.bound:7} {row.proved:7} {best} {known}"
        f" {row.seconds / row.instances:7.2f} {row.worst:7.2f}"
    )


HEADING = (
    f"{'class':>6} {'number':>6} {'ours':>7} {'bound':>7} {'proved':>7} {'rectpack':>9} {'published':>10}"
    f" {'s mean':>7} {'s most':>7}"
)


def run(instances: Iterable[dict[str, Any]], mode: str, seconds: float, again: float | None, rectpack: bool) -> None:
    """Lay out all instances in one mode and print the table; and once more after more time for what is open."""
    rows: dict[int, Row] = {}
    later: dict[int, Row] = {}
    for instance in instances:
        row = measured(instance, mode, seconds, rectpack)
        rows.setdefault(instance["class"], Row()).add(row)
        if again and not row.proved:
            longer = measured(instance, mode, again, with_rectpack=False)
            row = replace(longer, rectpack=row.rectpack)
        later.setdefault(instance["class"], Row()).add(row)
    print_table(rows, f"{mode}, {seconds:g} s a job at most", mode, rectpack)
    if again:
        print_table(later, f"{mode}, {again:g} s for those not proved in {seconds:g}", mode, rectpack)


def print_table(rows: dict[int, Row], title: str, mode: str, with_rectpack: bool) -> None:
    """A line for each class, and one for all."""
    print(f"\n{title}\n{HEADING}")
    together = Row()
    for number, row in sorted(rows.items()):
        whole = row.instances == WHOLE_CLASS
        print(printed(str(number), row, PUBLISHED[mode].get(number) if whole else None, with_rectpack))
        together.add(row)
    all_whole = all(row.instances == WHOLE_CLASS for row in rows.values())
    published = sum(PUBLISHED[mode].get(number, 0) for number in rows) if all_whole else None
    print(printed("all", together, published, with_rectpack), flush=True)


def main() -> None:
    """Read the command line and run."""
    reader = argparse.ArgumentParser(description="Measure layouts on published instances.")
    reader.add_argument("instances", type=Path, help="a JSON file of instances, or a folder of them")
    reader.add_argument("--seconds", type=float, default=5.0, help="most time for each job (default 5)")
    reader.add_argument("--again", type=float, metavar="SECONDS", help="once more for those not proved, for so long")
    reader.add_argument("--mode", choices=("fixed", "turned"), help="only without, or only with quarter turns")
    reader.add_argument("--every", type=int, default=1, metavar="N", help="only every Nth instance")
    reader.add_argument("--no-rectpack", action="store_true", help="leave the comparison out")
    asked = reader.parse_args()
    if not asked.instances.exists():
        reader.error(f"there is no {asked.instances}")
    instances = list(instances_in(asked.instances))[:: asked.every]
    if not instances:
        reader.error(f"{asked.instances} holds no instances")
    for mode in [asked.mode] if asked.mode else ["turned", "fixed"]:
        run(instances, mode, asked.seconds, asked.again, not asked.no_rectpack)


if __name__ == "__main__":
    main()
