"""Opening, making and saving project files. A file that cannot be read is never overwritten."""

from __future__ import annotations

import hashlib
import os
import stat
from dataclasses import dataclass, replace
from pathlib import Path

from core.mistakes import Mistake
from core.project import Project
from core.storage.characters import clipped
from core.storage.disk import Disk, sweep, write_whole
from core.storage.problems import BadProject, ChangedOnDisk, Problem
from core.storage.reading import read_text
from core.storage.upgrade import upgraded
from core.storage.writing import changed_text, new_text

LARGEST = 2_000_000
"""Bytes of the largest file that is taken for a project."""
_DISK = Disk()

Stamp = tuple[int, int, int, int]
"""Of a file as it was read: inode, size, time of its last change of content and of any change."""


@dataclass(frozen=True, slots=True)
class OpenedProject:
    """A project and the file that it is in, as this process last knew it. Saving gives the next one."""

    project: Project
    path: Path
    text: str
    digest: str
    """SHA-256 of the file's bytes."""
    stamp: Stamp
    read_only: bool
    """The modes of the file and its folder forbid writing it."""
    kept: bool = False
    """The file as it was opened is kept beside it (`kept_path`); so it is from the first save on."""

    @property
    def kept_path(self) -> Path:
        """Where the file as it was opened is kept."""
        real = _real(self.path)
        return real.with_name(f"{real.name}.opened")


def open_project(path: Path, disk: Disk = _DISK) -> OpenedProject:
    """The project in a file. Raises `BadProject` with all that is wrong in it, or `Mistake`."""
    real = _real(path)
    data, status = _read_file(path)
    text = upgraded(_decoded(data, path))
    project = read_text(text, _name(path)).project
    sweep(real, disk)
    return OpenedProject(project, path, text, _digest(data), _stamp(status), _is_read_only(real, status))


def create(path: Path, project: Project, disk: Disk = _DISK) -> OpenedProject:
    """A new file for a project. Raises `Mistake`, also where there is one already."""
    return _create(path, project, new_text(project, _name(path)), disk)


def copy_to(path: Path, opened: OpenedProject, project: Project, disk: Disk = _DISK) -> OpenedProject:
    """`project` in a new file, with the comments of the one that it was opened from, which is left alone."""
    return _create(path, project, changed_text(opened.text, project, _name(path)), disk)


def save(opened: OpenedProject, project: Project, disk: Disk = _DISK) -> OpenedProject:
    """Brings `project` to the disk; when this returns, it is there. Only what changed in the text is touched.

    Raises `ChangedOnDisk` where the file is not the one that was read, and `Mistake` where it
    cannot be written; the file is then as it was.
    """
    name, real = _name(opened.path), _real(opened.path)
    text = changed_text(opened.text, project, name)
    data = text.encode()
    if not real.exists():
        raise ChangedOnDisk(f"{name} has been moved or deleted since it was read: keep yours as a copy")
    on_disk, status = _read_file(opened.path)
    found = _digest(on_disk)
    if found not in (opened.digest, _digest(data)):
        raise ChangedOnDisk(f"{name} was changed elsewhere since it was read: read it again, or keep yours as a copy")
    if text == opened.text:
        return replace(opened, project=project)
    if _is_read_only(real, status):
        raise Mistake(f"{name} is read-only and was left as it is: keep yours as a copy")
    if not opened.kept and found == opened.digest:
        _write(opened.kept_path, on_disk, status, disk)
    _write(real, data, status, disk)
    return replace(opened, project=project, text=text, digest=_digest(data), stamp=_stamp(real.stat()), kept=True)


def changed(opened: OpenedProject) -> bool:
    """The file is another than the one that was read. Cheap enough to ask every second."""
    try:
        status = _real(opened.path).stat()
        return _stamp(status) != opened.stamp and _digest(_read_file(opened.path)[0]) != opened.digest
    except (OSError, Mistake):
        return True


def _create(path: Path, project: Project, text: str, disk: Disk) -> OpenedProject:
    real = _real(path)
    if real.exists():
        raise Mistake(f"{_name(path)} exists already: give the project another name, or open that one")
    if not real.parent.is_dir():
        raise Mistake(f"{_name(path)} cannot be made: there is no folder {clipped(str(real.parent))}")
    data = text.encode()
    _write(real, data, None, disk)
    return OpenedProject(project, path, text, _digest(data), _stamp(real.stat()), read_only=False, kept=True)


def _write(target: Path, data: bytes, like: os.stat_result | None, disk: Disk) -> None:
    try:
        write_whole(target, data, like, disk)
    except OSError as error:
        raise Mistake(
            f"{clipped(target.name)} could not be saved: {error.strerror or error}; what is on the disk is whole"
        ) from error


def _read_file(path: Path) -> tuple[bytes, os.stat_result]:
    """The bytes of a file, and its status before they were read. Raises `Mistake`."""
    name, real = _name(path), _real(path)
    try:
        status = real.stat()
        if stat.S_ISDIR(status.st_mode):
            raise Mistake(f"{name} is a folder: a project is a file")
        if not stat.S_ISREG(status.st_mode):
            raise Mistake(f"{name} is not an ordinary file, as a project has to be")
        with real.open("rb") as file:
            data = file.read(LARGEST + 1)
    except OSError as error:
        raise Mistake(f"{name} cannot be read: {error.strerror or error}") from error
    if len(data) > LARGEST:
        raise Mistake(f"{name} is larger than {LARGEST // 1_000_000} MB: this is no project file")
    return data, status


def _decoded(data: bytes, path: Path) -> str:
    """The text of a file in UTF-8; the mark that some editors put at its beginning is left out."""
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        read = f"the byte {data[error.start]:02X}, which is no UTF-8"
        raise BadProject(_name(path), (Problem(line, "", read, "a text saved as UTF-8"),)) from None


def _real(path: Path) -> Path:
    """The file itself where `path` is a symlink, so that the link stays one."""
    return Path(os.path.realpath(path))


def _name(path: Path) -> str:
    return clipped(path.name)


def _digest(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def _stamp(status: os.stat_result) -> Stamp:
    return status.st_ino, status.st_size, status.st_mtime_ns, status.st_ctime_ns


def _is_read_only(path: Path, status: os.stat_result) -> bool:
    """No write bit at all counts too: root may write such a file, and still should not."""
    return not (status.st_mode & 0o222 and os.access(path, os.W_OK) and os.access(path.parent, os.W_OK))
