"""One writer at a time, and the second is told by whom and since when."""

from __future__ import annotations

import errno
import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from core.mistakes import Mistake
from core.storage import HeldBy, Lock, hold, lock

HOLDER = """
import sys
from pathlib import Path
from core.storage import hold
held = hold(Path(sys.argv[1]))
print(type(held).__name__, flush=True)
sys.stdin.readline()
held.release()
"""


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "mud.toml"
    path.write_text("")
    return path


def lock_file(path: Path) -> Path:
    return path.with_name(".mud.toml.lock")


def elsewhere(path: Path) -> subprocess.Popen[str]:
    """Another process that holds the lock until a line is sent to it."""
    process = subprocess.Popen(
        [sys.executable, "-c", HOLDER, str(path)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    )
    assert process.stdout is not None and process.stdout.readline() == "Lock\n"
    return process


def test_the_second_is_told_who_has_it_until_it_is_released(path: Path) -> None:
    other = elsewhere(path)
    held = hold(path)
    assert isinstance(held, HeldBy)
    assert held.pid == other.pid and held.host and held.since[4] == "-"
    assert held.since.replace("T", " ") in str(held)
    other.communicate("\n")
    assert not lock_file(path).exists()
    mine = hold(path)
    assert isinstance(mine, Lock) and mine.enforced and mine.left_by is None
    mine.release()
    mine.release()
    assert not lock_file(path).exists()


def test_a_killed_process_holds_nothing_and_is_known_to_have_left_it(path: Path) -> None:
    other = elsewhere(path)
    other.send_signal(signal.SIGKILL)
    other.communicate()
    assert lock_file(path).exists()
    with hold(path) as mine:
        assert isinstance(mine, Lock)
        assert mine.left_by is not None and mine.left_by.pid == other.pid
        assert isinstance(hold(path), HeldBy)
    assert not lock_file(path).exists()


def test_a_link_and_its_file_are_one_project(path: Path) -> None:
    link = path.with_name("link.toml")
    link.symlink_to(path)
    with hold(path):
        assert isinstance(hold(link), HeldBy)


def test_a_lock_file_removed_while_we_waited_is_not_taken_for_the_lock(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = hold(path)
    assert isinstance(first, Lock)
    locks = lock._lock
    opened = []

    def released_in_between(file: int) -> bool | None:
        opened.append(file)
        first.release()
        return locks(file)

    monkeypatch.setattr(lock, "_lock", released_in_between)
    mine = hold(path)
    monkeypatch.undo()
    assert isinstance(mine, Lock) and len(opened) == 2
    assert isinstance(hold(path), HeldBy)
    mine.release()


@pytest.mark.parametrize(
    "text", ["", "nonsense", "pid = 'x'", 'user = "a\\u001b[31m"\npid = true\nhost = 3', "\xff" * 9]
)
def test_whatever_stands_in_a_lock_file_it_is_told_safely(path: Path, text: str) -> None:
    with hold(path):
        lock_file(path).write_text(text, encoding="latin-1")
        held = hold(path)
        assert isinstance(held, HeldBy) and str(held).isprintable() and isinstance(held.pid, int)


def test_where_there_are_no_locks_it_is_not_enforced(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def none_here(file: int, operation: int) -> None:
        raise OSError(errno.ENOLCK, os.strerror(errno.ENOLCK))

    monkeypatch.setattr(lock.fcntl, "flock", none_here)
    mine = hold(path)
    assert isinstance(mine, Lock) and not mine.enforced
    mine.release()
    monkeypatch.setattr(lock, "fcntl", None)
    mine = hold(path)
    assert isinstance(mine, Lock) and not mine.enforced
    mine.release()


def test_where_no_lock_file_can_be_made_it_is_said(tmp_path: Path) -> None:
    with pytest.raises(Mistake, match=r"mud\.toml can only be looked at"):
        hold(tmp_path / "no" / "mud.toml")
