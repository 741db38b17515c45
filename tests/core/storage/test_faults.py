"""A fault at any moment of a save leaves the old file or the new one, never a mixture."""

from __future__ import annotations

import errno
import os
import signal
import time
from collections.abc import Callable
from dataclasses import replace
from itertools import count
from pathlib import Path
from typing import Any

import pytest

from core.mistakes import Mistake
from core.project import Design, LoosePart, Project
from core.storage import ChangedOnDisk, Disk, OpenedProject, create, open_project, save

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="processes are forked and killed here")

PARTS = tuple(LoosePart(f"L{number}", "A shelf of the old sort", "ply", "24", "12") for number in range(60))


class Faulty(Disk):
    """A disk that writes in small pieces, and on which the n-th call goes wrong."""

    def __init__(self, nth: int, fault: Callable[[], Any]) -> None:
        self.left = nth
        self.fault = fault

    def step(self) -> None:
        self.left -= 1
        if not self.left:
            self.fault()

    def create(self, path: Path, mode: int) -> int:
        self.step()
        return super().create(path, mode)

    def write(self, file: int, data: bytes) -> int:
        self.step()
        return super().write(file, data[:1500])

    def flush(self, file: int) -> None:
        self.step()
        super().flush(file)

    def be_like(self, file: int, like: os.stat_result) -> None:
        self.step()
        super().be_like(file, like)

    def close(self, file: int) -> None:
        super().close(file)
        self.step()

    def put_at(self, path: Path, target: Path) -> None:
        self.step()
        super().put_at(path, target)

    def flush_directory(self, path: Path) -> None:
        self.step()
        super().flush_directory(path)


def disk_full() -> None:
    raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))


def end_at_once() -> None:
    os._exit(9)


def bigger(opened: OpenedProject) -> Project:
    """Another project, long enough to be written in several pieces."""
    return replace(opened.project, design=replace(opened.project.design, name="New", loose=PARTS))


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "mud.toml"
    create(path, Project(Design("Old", loose=PARTS[:30])))
    return path


def test_a_full_disk_at_any_call_leaves_the_old_file_and_nothing_half_written(path: Path) -> None:
    old = path.read_text()
    for nth in count(1):
        opened = open_project(path)
        try:
            opened = save(opened, bigger(opened), Faulty(nth, disk_full))
        except ChangedOnDisk:
            raise
        except Mistake as mistake:
            assert "mud.toml" in str(mistake) and os.strerror(errno.ENOSPC) in str(mistake)
        else:
            break
        names = {entry.name for entry in path.parent.iterdir()}
        assert names <= {"mud.toml", "mud.toml.opened"}
        text = path.read_text()
        assert text == old or open_project(path).project == bigger(opened)
        # Saving again, once there is room, goes through whatever had been reached.
        opened = save(opened, bigger(opened))
        assert opened.kept_path.read_text() == old
        path.write_text(old)
        opened.kept_path.unlink()
    assert nth > 15
    assert open_project(path).project == opened.project


def forked(work: Callable[[], object]) -> int:
    """A process that does the work and ends, whatever comes of it; its number."""
    child = os.fork()
    if not child:
        try:
            work()
            os._exit(0)
        finally:
            os._exit(1)
    return child


def test_an_end_at_any_call_leaves_a_whole_file_and_what_is_left_is_swept(path: Path) -> None:
    old = path.read_text()
    seen = set()
    for nth in count(1):
        opened = open_project(path)
        new = bigger(opened)
        disk = Faulty(nth, end_at_once)
        _, status = os.waitpid(forked(lambda: save(opened, new, disk)), 0)  # noqa: B023
        assert os.waitstatus_to_exitcode(status) in (0, 9)
        project = open_project(path).project
        assert project in (opened.project, new)
        seen.add(project == new)
        assert not opened.kept_path.exists() or opened.kept_path.read_text() == old
        assert {entry.name for entry in path.parent.iterdir()} <= {"mud.toml", "mud.toml.opened"}
        if status == 0:
            break
        path.write_text(old)
    assert nth > 15 and seen == {True, False}


def test_a_process_killed_while_it_saves_leaves_a_whole_file_and_all_that_it_told(path: Path) -> None:
    def save_on_and_on(send: int) -> None:
        opened = open_project(path)
        for number in count(int(opened.project.design.name) + 1):
            opened = save(opened, replace(opened.project, design=replace(opened.project.design, name=str(number))))
            os.write(send, f"{number}\n".encode())

    opened = open_project(path)
    save(opened, replace(opened.project, design=replace(opened.project.design, name="0")))
    for kill in range(30):
        receive, send = os.pipe()
        child = forked(lambda: save_on_and_on(send))  # noqa: B023
        os.close(send)
        told = os.read(receive, 1)
        time.sleep(0.002 * (kill % 10))
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        with os.fdopen(receive, "rb") as pipe:
            last = int((told + pipe.read()).split(b"\n")[-2])
        opened = open_project(path)
        assert opened.project.design.loose == PARTS[:30]
        assert int(opened.project.design.name) in (last, last + 1)
        assert {entry.name for entry in path.parent.iterdir()} <= {"mud.toml", "mud.toml.opened"}
