"""What goes to standard output and standard error: plans as documents or text, and the word of a fault."""

from __future__ import annotations

import json
import sys
import tempfile
import traceback
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from core.mistakes import Mistake
from core.plan import Plan, Planner
from core.storage import open_project

CRASHED = 70
"""Exit code of a fault of the program itself."""


def planned(file: Path) -> Plan:
    """The plan of a project file. Raises Mistake with everything that is wrong in the file or the design."""
    plan = Planner().plan(open_project(file).project)
    if plan.problems:
        raise Mistake("\n".join(f"{file}: {problem}" for problem in plan.problems))
    return plan


def print_json(document: dict[str, Any]) -> None:
    """One document, ASCII only, so that no encoding stands in its way."""
    print(json.dumps(document, indent=1))


def print_text(lines: Sequence[str]) -> None:
    """Plain lines; what the output cannot encode is replaced rather than refused."""
    encoding = sys.stdout.encoding or "ascii"
    text = "\n".join(line.rstrip() for line in lines)
    print(text.encode(encoding, "replace").decode(encoding))


def report_fault(fault: BaseException) -> int:
    """Writes what went wrong to a file, says so in one sentence, and gives the exit code for it."""
    with tempfile.NamedTemporaryFile(
        "w", prefix="sawhorse-fault-", suffix=".txt", delete=False, encoding="utf-8", errors="replace"
    ) as report:
        report.write("".join(traceback.format_exception(fault)))
    print(
        f"sawhorse: a fault of the program stopped it ({type(fault).__name__}); "
        f"the project is on disk as you last saw it. What happened is in {report.name}",
        file=sys.stderr,
    )
    return CRASHED
