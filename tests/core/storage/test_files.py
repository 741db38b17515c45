"""Opening, making and saving files: what is kept, what is refused, what is left alone."""

from __future__ import annotations

import os
import stat
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from core.mistakes import Mistake
from core.project import Design, Project
from core.storage import BadProject, ChangedOnDisk, OpenedProject, changed, copy_to, create, open_project, save
from core.storage.files import LARGEST

TEXT = '# by hand\nformat = 2\nname = "Mud" # room\n'


def named(opened: OpenedProject, name: str) -> Project:
    return replace(opened.project, design=replace(opened.project.design, name=name))


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "mud.toml"
    path.write_text(TEXT)
    return path


def test_what_was_saved_is_there_when_it_is_opened_again(path: Path) -> None:
    opened = open_project(path)
    opened = save(opened, named(opened, "Boot"))
    assert path.read_text() == TEXT.replace("Mud", "Boot") == opened.text
    again = open_project(path)
    assert again.project == opened.project
    assert (again.digest, again.stamp) == (opened.digest, opened.stamp)


def test_a_save_without_a_change_does_not_touch_the_file(path: Path) -> None:
    before = path.stat()
    opened = save(open_project(path), open_project(path).project)
    assert path.stat() == before and not opened.kept_path.exists()


def test_the_file_as_it_was_opened_is_kept_through_all_saves_of_one_opening(path: Path) -> None:
    opened = open_project(path)
    for name in ("One", "Two", "Three"):
        opened = save(opened, named(opened, name))
        assert opened.kept_path == path.with_name("mud.toml.opened")
        assert opened.kept_path.read_text() == TEXT
    opened = open_project(path)
    save(opened, named(opened, "Four"))
    assert opened.kept_path.read_text() == TEXT.replace("Mud", "Three")


def test_nothing_else_is_left_beside_it(path: Path) -> None:
    opened = open_project(path)
    save(opened, named(opened, "Boot"))
    assert sorted(entry.name for entry in path.parent.iterdir()) == ["mud.toml", "mud.toml.opened"]


@pytest.mark.parametrize("mode", [0o600, 0o644, 0o664, 0o640])
def test_the_mode_is_kept(path: Path, mode: int) -> None:
    path.chmod(mode)
    opened = open_project(path)
    opened = save(opened, named(opened, "Boot"))
    assert stat.S_IMODE(path.stat().st_mode) == mode
    assert stat.S_IMODE(opened.kept_path.stat().st_mode) == mode


@pytest.mark.skipif(os.geteuid() != 0, reason="only root may give files away")
def test_the_owner_is_kept_where_that_is_allowed(path: Path) -> None:
    os.chown(path, 12345, 23456)
    opened = open_project(path)
    save(opened, named(opened, "Boot"))
    assert (path.stat().st_uid, path.stat().st_gid) == (12345, 23456)


def test_a_new_file_has_the_mode_that_the_umask_leaves(tmp_path: Path) -> None:
    old = os.umask(0o027)
    try:
        create(tmp_path / "new.toml", Project(Design("New")))
    finally:
        os.umask(old)
    assert stat.S_IMODE((tmp_path / "new.toml").stat().st_mode) == 0o640


def test_a_symlink_stays_one_and_its_file_is_the_one_saved(path: Path) -> None:
    elsewhere = path.parent / "elsewhere"
    elsewhere.mkdir()
    link = elsewhere / "link.toml"
    link.symlink_to("../mud.toml")
    opened = open_project(link)
    opened = save(opened, named(opened, "Boot"))
    assert link.is_symlink() and 'name = "Boot"' in path.read_text()
    assert opened.kept_path == path.with_name("mud.toml.opened")
    assert [entry.name for entry in elsewhere.iterdir()] == ["link.toml"]


def test_a_read_only_file_is_opened_and_left_alone(path: Path) -> None:
    path.chmod(0o444)
    opened = open_project(path)
    assert opened.read_only
    with pytest.raises(Mistake, match=r"mud\.toml is read-only"):
        save(opened, named(opened, "Boot"))
    assert path.read_text() == TEXT and not opened.kept_path.exists()


def test_a_file_changed_by_somebody_else_is_not_overwritten(path: Path) -> None:
    opened = open_project(path)
    path.write_text(TEXT.replace("room", "hall"))
    with pytest.raises(ChangedOnDisk):
        save(opened, named(opened, "Boot"))
    with pytest.raises(ChangedOnDisk):
        save(opened, opened.project)
    assert path.read_text() == TEXT.replace("room", "hall") and not opened.kept_path.exists()
    copy = copy_to(path.with_name("mine.toml"), opened, named(opened, "Boot"))
    assert copy.text == TEXT.replace("Mud", "Boot") == path.with_name("mine.toml").read_text()


def test_a_file_that_went_is_not_made_again(path: Path) -> None:
    opened = open_project(path)
    path.unlink()
    with pytest.raises(ChangedOnDisk, match="moved or deleted"):
        save(opened, named(opened, "Boot"))
    assert not path.exists()


def test_a_file_that_became_a_folder_is_refused(path: Path) -> None:
    opened = open_project(path)
    path.unlink()
    path.mkdir()
    with pytest.raises(Mistake, match="is a folder"):
        save(opened, named(opened, "Boot"))
    with pytest.raises(Mistake, match="is a folder"):
        open_project(path)


def test_a_reader_sees_the_changes_of_a_writer(path: Path) -> None:
    reader = open_project(path)
    assert not changed(reader)
    writer = open_project(path)
    save(writer, named(writer, "Boot"))
    assert changed(reader)
    reader = open_project(path)
    assert not changed(reader)
    os.utime(path)
    assert not changed(reader)
    path.unlink()
    assert changed(reader)


def test_a_file_that_cannot_be_read_is_never_written(path: Path) -> None:
    opened = open_project(path)
    for broken in (b"format = 2\nname = 3\n", b"\xff\xfe", b"format = 9\n", b"format = 1\nname = "):
        path.write_bytes(broken)
        with pytest.raises(Mistake):
            open_project(path)
        with pytest.raises(ChangedOnDisk):
            save(opened, named(opened, "Boot"))
        with pytest.raises(Mistake, match="exists already"):
            create(path, opened.project)
        assert path.read_bytes() == broken


def test_a_project_that_cannot_be_read_back_is_not_saved(path: Path) -> None:
    opened = open_project(path)
    with pytest.raises(BadProject, match=r"mud\.toml: name: read"):
        save(opened, named(opened, "esc \x1b[2J"))
    assert path.read_text() == TEXT


def test_what_cannot_be_a_project_is_refused_unread(tmp_path: Path) -> None:
    with pytest.raises(Mistake, match=r"nosuch\.toml cannot be read"):
        open_project(tmp_path / "nosuch.toml")
    os.mkfifo(tmp_path / "pipe.toml")
    with pytest.raises(Mistake, match="not an ordinary file"):
        open_project(tmp_path / "pipe.toml")
    (tmp_path / "large.toml").write_bytes(b"#" * (LARGEST + 1))
    with pytest.raises(Mistake, match="larger than 2 MB"):
        open_project(tmp_path / "large.toml")


def test_a_new_file_needs_a_folder_and_a_free_name(path: Path) -> None:
    with pytest.raises(Mistake, match="there is no folder"):
        create(path.parent / "no" / "new.toml", Project(Design("New")))
    with pytest.raises(Mistake, match="exists already"):
        create(path, Project(Design("New")))
    assert path.read_text() == TEXT


def test_a_created_project_is_saved_on_without_a_copy_of_nothing(tmp_path: Path) -> None:
    opened = create(tmp_path / "new.toml", Project(Design("New")))
    opened = save(opened, named(opened, "Newer"))
    assert open_project(tmp_path / "new.toml").project.design.name == "Newer"
    assert [entry.name for entry in tmp_path.iterdir()] == ["new.toml"]


def test_the_mark_at_the_beginning_of_a_text_does_not_disturb(path: Path) -> None:
    path.write_bytes(b"\xef\xbb\xbf" + TEXT.encode())
    opened = open_project(path)
    save(opened, named(opened, "Boot"))
    assert path.read_text() == TEXT.replace("Mud", "Boot")


def test_a_name_with_escapes_cannot_drive_the_terminal(tmp_path: Path) -> None:
    with pytest.raises(Mistake) as caught:
        open_project(tmp_path / "a\x1b[2J.toml")
    assert str(caught.value).isprintable()


def test_leavings_of_the_dead_are_swept_and_of_the_living_not(path: Path) -> None:
    dead = subprocess.run([sys.executable, "-c", "import os; print(os.getpid())"], capture_output=True, check=True)
    pid = int(dead.stdout)
    swept = [f".mud.toml.tmp-{pid}", f".mud.toml.opened.tmp-{pid}"]
    left = [f".mud.toml.tmp-{os.getpid()}", f".other.toml.tmp-{pid}", f".mud.toml.tmp-{pid}x", ".mud.toml.tmp-"]
    for name in (*swept, *left):
        (path.parent / name).write_text("half")
    open_project(path)
    names = {entry.name for entry in path.parent.iterdir()}
    assert names == {"mud.toml", *left}
