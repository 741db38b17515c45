"""Writing a file whole: after a crash, a full disk or a pulled plug it is the old one or the new one, never a mixture.

The text goes to a new file in the same directory, is flushed to the disk, and takes the old
name in one step. What is lost: other hard links keep the old text, and access lists and
extended attributes are not copied. Where a directory cannot be flushed (Windows), the step
may be forgotten by a power cut, which leaves the old file.
"""

from __future__ import annotations

import contextlib
import errno
import os
import re
import stat
from pathlib import Path


class Disk:
    """The calls that change files, in one place so that a test can make each of them fail."""

    def create(self, path: Path, mode: int) -> int:
        """A new file, open for writing; it must not exist. The umask takes from `mode`."""
        return os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), mode)

    def write(self, file: int, data: bytes) -> int:
        """How many bytes were taken."""
        return os.write(file, data)

    def flush(self, file: int) -> None:
        """To the disk itself."""
        os.fsync(file)

    def be_like(self, file: int, like: os.stat_result) -> None:
        """Owner and group, each where that is allowed, and mode of another file."""
        if hasattr(os, "fchown"):
            for user, group in ((-1, like.st_gid), (like.st_uid, -1)):
                with contextlib.suppress(PermissionError):
                    os.fchown(file, user, group)
        if hasattr(os, "fchmod"):
            os.fchmod(file, stat.S_IMODE(like.st_mode))

    def close(self, file: int) -> None:
        """Ends the writing."""
        os.close(file)

    def put_at(self, path: Path, target: Path) -> None:
        """Gives a file the name of another, which is gone in the same moment."""
        path.replace(target)

    def remove(self, path: Path) -> None:
        """Takes a file away."""
        path.unlink()

    def flush_directory(self, path: Path) -> None:
        """Makes the names in it last."""
        if not hasattr(os, "O_DIRECTORY"):
            return
        directory = os.open(path, os.O_RDONLY | os.O_DIRECTORY)
        try:
            os.fsync(directory)
        except OSError as error:
            # Some file systems have nothing to flush here, and say so in this way.
            if error.errno not in (errno.EINVAL, errno.ENOTSUP):
                raise
        finally:
            os.close(directory)


def write_whole(target: Path, data: bytes, like: os.stat_result | None, disk: Disk) -> None:
    """`target`, which is no symlink, holds `data` from now on, in the mode and ownership of `like`.

    Raises `OSError`; unless it was the directory that could not be flushed, `target` is as it was.
    """
    temporary = target.with_name(f".{target.name}.tmp-{os.getpid()}")
    with contextlib.suppress(FileNotFoundError):
        temporary.unlink()  # our own process number: it was left by a dead process that had it before us
    try:
        file = disk.create(temporary, 0o666 if like is None else 0o600)
        try:
            left = memoryview(data)
            while left:
                left = left[disk.write(file, bytes(left)) :]
            if like is not None:
                disk.be_like(file, like)
            disk.flush(file)
        finally:
            disk.close(file)
        disk.put_at(temporary, target)
    except BaseException:
        with contextlib.suppress(OSError):
            disk.remove(temporary)
        raise
    disk.flush_directory(target.parent)


def sweep(target: Path, disk: Disk) -> None:
    """Takes away what dead processes left half written beside `target`: our own names only."""
    ours = re.compile(rf"\.{re.escape(target.name)}(\.opened)?\.tmp-([0-9]+)")
    with contextlib.suppress(OSError):
        for entry in os.scandir(target.parent):
            found = ours.fullmatch(entry.name)
            if found and _is_dead(int(found[2])):
                disk.remove(Path(entry.path))


def _is_dead(process: int) -> bool:
    """No such process runs here. Never said on Windows, where asking ends a process."""
    if os.name == "nt" or process > 2**31 - 1:
        return False
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return True
    except OSError:
        return False
    return False
