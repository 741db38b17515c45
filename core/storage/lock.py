"""Who has a project open for writing: one at a time, told to whoever comes second.

The lock is the kernel's, on a file beside the project's, and ends with the process that holds
it, so a dead one never blocks. The text in the file is for people only. Where there is no such
lock (Windows, some network drives) it is not enforced: two can then open the same project, and
what protects it is that a save notices a file that was changed meanwhile.
"""

from __future__ import annotations

import contextlib
import errno
import getpass
import os
import socket
import tomllib
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from types import TracebackType

import tomli_w

from core.mistakes import Mistake
from core.storage.characters import clipped

try:
    import fcntl
except ImportError:  # Windows
    fcntl = None  # type: ignore[assignment]

_LONGEST = 2000
_NOT_HERE = (errno.ENOLCK, errno.ENOTSUP, errno.ENOSYS, errno.EINVAL)
"""What a file system answers that knows no locks."""


@dataclass(frozen=True, slots=True)
class HeldBy:
    """Who has it, as told by the lock file; a text is empty and `pid` 0 where it doesn't say."""

    user: str
    host: str
    pid: int
    since: str
    """Local time there, ISO 8601 to the second."""

    def __str__(self) -> str:
        who = self.user or "somebody"
        host = f" on {self.host}" if self.host else ""
        since = f" since {self.since.replace('T', ' ')}" if self.since else ""
        return f"{who}{host}{since}"


class Lock:
    """The right to write one project, until it is released or the process ends."""

    def __init__(self, path: Path, file: int, enforced: bool, left_by: HeldBy | None) -> None:
        self.enforced = enforced
        """Another opening would be held off."""
        self.left_by = left_by
        """Who had it last and ended without releasing it, by a crash or a power cut."""
        self._path = path
        self._file: int | None = file

    def release(self) -> None:
        """Lets the next one in and takes the lock file away. A second time does nothing."""
        if self._file is None:
            return
        file, self._file = self._file, None
        # Removed while still locked, so that whoever gets the lock next can see that it is no longer the file's.
        with contextlib.suppress(OSError):
            if _is_at(file, self._path):
                self._path.unlink()
        os.close(file)

    def __enter__(self) -> Lock:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.release()


def hold(path: Path) -> Lock | HeldBy:
    """The lock of the project at `path`, or who has it. Raises `Mistake` where no lock file can be made beside it."""
    real = Path(os.path.realpath(path))
    lock = real.with_name(f".{real.name}.lock")
    while True:
        try:
            file = os.open(lock, os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0), 0o666)
        except OSError as error:
            raise Mistake(
                f"{clipped(path.name)} can only be looked at, not changed: {clipped(lock.name)} beside it cannot be "
                f"made ({error.strerror})"
            ) from None
        got = _lock(file)
        if got is None:
            held = _read(file)
            os.close(file)
            return held or HeldBy("", "", 0, "")
        if got and not _is_at(file, lock):
            os.close(file)  # the last holder removed it while we waited
            continue
        left_by = _read(file)
        _sign(file)
        return Lock(lock, file, got, left_by)


def _lock(file: int) -> bool | None:
    """True: locked by us; None: by another; False: there are no locks here."""
    if fcntl is None:
        return False
    try:
        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError as error:
        if error.errno in _NOT_HERE:
            return False
        return None
    return True


def _is_at(file: int, path: Path) -> bool:
    try:
        return os.path.samestat(os.fstat(file), path.stat())
    except FileNotFoundError:
        return False


def _sign(file: int) -> None:
    try:
        user = getpass.getuser()
    except (KeyError, OSError):
        user = ""
    since = datetime.now().isoformat(timespec="seconds")
    text = tomli_w.dumps({"pid": os.getpid(), "host": socket.gethostname(), "user": user, "since": since})
    with contextlib.suppress(OSError):  # a full disk: the lock holds without its text
        os.ftruncate(file, 0)
        os.lseek(file, 0, os.SEEK_SET)
        os.write(file, text.encode())


def _read(file: int) -> HeldBy | None:
    """What the lock file says; None where it says nothing that can be read."""
    try:
        os.lseek(file, 0, os.SEEK_SET)
        told = tomllib.loads(os.read(file, _LONGEST).decode())
    except (OSError, ValueError):
        return None
    if not told:
        return None
    user, host, since = (clipped(str(told.get(key, ""))) for key in ("user", "host", "since"))
    pid = told.get("pid")
    return HeldBy(user, host, pid if type(pid) is int else 0, since)
