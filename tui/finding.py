"""Plans whose layouts are still being found: a first one is seen at once, better ones as they are told."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from core.layout.job import Job
from core.layout.search import first_layout
from core.layout.tree import Layout
from core.plan import Plan, Planner
from core.project import Project

MOST_AT_ONCE = 200
"""Pieces of one material up to which a first layout is made before the next key is read."""


class StillToFind(Exception):
    """Something can be told only once this job is answered."""

    def __init__(self, job: Job) -> None:
        super().__init__(job)
        self.job = job


class Finding:
    """The layouts that were found so far, and what is planned with them."""

    def __init__(self) -> None:
        self.planner = Planner()
        self._so_far: dict[str, Layout] = {}
        """The best layouts so far of jobs that are still searched."""

    def planned(self, project: Project) -> tuple[Plan, dict[str, Job]]:
        """The plan of a project, and the jobs that it waits for, by their search keys."""
        waiting: dict[str, Job] = {}

        def find(job: Job) -> Layout | None:
            waiting[job.search_key()] = job
            return self._best_so_far(job)

        return self.planner.plan(project, find), waiting

    def _best_so_far(self, job: Job) -> Layout | None:
        """A layout to be seen at once; None where making one takes longer than a key may wait."""
        name = job.search_key()
        if name not in self._so_far:
            if sum(part.quantity for part in job.parts) > MOST_AT_ONCE:
                return None
            self._so_far[name] = first_layout(job)
        return replace(self._so_far[name], searching=True)

    def better(self, job: Job, layout: Layout) -> None:
        """A better layout than the one so far; the search goes on."""
        self._so_far[job.search_key()] = layout

    def answer(self, job: Job, layout: Layout) -> None:
        """The layout that was found."""
        self.planner.layouts[job.search_key()] = layout

    def found(self, job: Job) -> Layout:
        """The answer to a job that has one by now. Raises StillToFind."""
        try:
            return self.planner.layouts[job.search_key()]
        except KeyError:
            raise StillToFind(job) from None

    def forget_all_but(self, waiting: Iterable[str]) -> None:
        """Keeps the layouts so far of those jobs only."""
        self._so_far = {name: layout for name, layout in self._so_far.items() if name in waiting}
