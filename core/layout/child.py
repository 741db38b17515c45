"""The layout engine as a process of its own: jobs in on standard input, layouts out on standard output.

One line of JSON each: the first layout at once, then better ones, and at last the one that the
search ends with, which is marked as final. A job that arrives while another is searched for
takes its place: the older one is not answered. The process ends with its standard input, so
that it never outlives the app. Started by `python -P -m core.layout.child`.
"""

from __future__ import annotations

import json
import signal
import sys
from functools import partial

from core.layout.job import Job
from core.layout.lines import lines_of
from core.layout.search import lay_out
from core.layout.transport import told_of
from core.layout.tree import Layout


def main() -> None:
    """Answers jobs until there are no more."""
    # Ctrl+C in the terminal is for the app; this process ends when its input does.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    lines = lines_of(sys.stdin)
    while line := lines.get():
        job = Job.from_json(line)
        name = job.search_key()
        layout = lay_out(job, announce=partial(_say, name), cancelled=lambda: not lines.empty())
        if lines.empty():
            _say(name, layout, final=True)


def _say(name: str, layout: Layout, final: bool = False) -> None:
    told = {"job": name, "final": final, "layout": told_of(layout)}
    sys.stdout.write(json.dumps(told, separators=(",", ":")) + "\n")
    sys.stdout.flush()


if __name__ == "__main__":
    main()
