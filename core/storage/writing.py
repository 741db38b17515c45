"""A project to the text of its file, new or changed, never handed out unless it reads back as the same project."""

from __future__ import annotations

from itertools import takewhile

from core.mistakes import Mistake
from core.project import Project
from core.storage.agreement import Wanted
from core.storage.blocks import written
from core.storage.document import merged
from core.storage.plain import plain_project
from core.storage.problems import BadProject, Problem
from core.storage.reading import parse
from core.storage.scan import statements
from core.storage.schema import read_project

_HEADER = """\
# A Sawhorse project. It can be edited by hand: comments and order are kept.
# Sizes stand in quotes as they are said: "17 5/8 in", "450 mm", "worktop_height - ply".

"""


def new_text(project: Project, file: str) -> str:
    """The text of a new file. Raises `BadProject` where the project could not be read back."""
    return _whole(project, _HEADER, file)


def changed_text(text: str, project: Project, file: str) -> str:
    """`text`, which holds a project, so changed that it holds this one. Raises `BadProject` as `new_text` does.

    Where the text is written in a way that cannot be amended, it is written anew under its
    first comment lines.
    """
    wanted = Wanted(plain_project(project, every_field=True), plain_project(project))
    changed = merged(text, parse(text), wanted)
    if _reads_as(changed, project):
        return changed
    first = takewhile(lambda statement: statement.kind in ("comment", "blank"), statements(text))
    return _whole(project, "".join(text[part.start : part.end] for part in first), file)


def _whole(project: Project, header: str, file: str) -> str:
    plain = plain_project(project)
    _, faults = read_project(plain)
    if faults:
        raise BadProject(file, tuple(Problem(None, fault.field, fault.read, fault.right) for fault in faults))
    text = header + "".join(map(str, written((), plain)))
    if not _reads_as(text, project):
        raise Mistake(f"{file} could not be saved: the project does not read back as it is; the file is as it was")
    return text


def _reads_as(text: str, project: Project) -> bool:
    try:
        return read_project(parse(text))[0] == project
    except ValueError:
        return False
