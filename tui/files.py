"""Where files lie: projects in a folder, demos with the program, the shop's settings with the person's others."""

from __future__ import annotations

import os
import shutil
from importlib import resources
from pathlib import Path

import platformdirs

import core
from core.mistakes import Mistake


def demo_folder() -> Path:
    """Where the demo projects lie: in the installed package, or beside it in a checkout."""
    package = Path(str(resources.files(core)))
    installed = package / "demos"
    return installed if installed.is_dir() else package.parent / "projects"


def is_demo(path: Path) -> bool:
    """Whether a file is one of the demos as they were shipped."""
    real = path.resolve()
    folders = [demo_folder().resolve()]
    # A checkout's own demos too, whichever copy of the program is running.
    if real.parent.name == "projects" and (real.parent.parent / "core" / "project.py").is_file():
        folders.append(real.parent)
    return real.is_file() and real.parent in folders


def copies_folder() -> Path:
    """Where copies of the demos go, among the person's own documents."""
    return platformdirs.user_documents_path() / "Sawhorse"


def working_copy(demo: Path) -> Path:
    """A copy of a demo that may be changed; the one from last time if it is still there. Raises Mistake."""
    copy = copies_folder() / demo.name
    if not copy.exists():
        try:
            copy.parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(demo, copy)
        except OSError as error:
            raise Mistake(f"the demo cannot be copied to {copy}: {error.strerror or error}") from None
    return copy


def shop_path() -> Path:
    """The shop file, whether or not there is one; SAWHORSE_SHOP names another than the usual."""
    named = os.environ.get("SAWHORSE_SHOP")
    return Path(named) if named else platformdirs.user_config_path("sawhorse") / "shop.toml"


def begin(path: Path, unit: str) -> None:
    """A new project file with nothing in it but the shop's goods and rules. Raises Mistake."""
    # Only who begins a project waits for what that needs: whoever opens one is to see it at once.
    from core.project import Project
    from core.starter import new_design
    from core.storage import create, open_shop

    name = path.stem.replace("-", " ").replace("_", " ").capitalize()
    create(path, Project(new_design(name, "mm" if unit == "mm" else "in", open_shop(shop_path()))))


def projects_in(folder: Path) -> list[Path]:
    """The files of a folder that begin as a project does."""
    found = []
    for path in sorted(folder.glob("*.toml")):
        try:
            with path.open(encoding="utf-8") as file:
                head = file.read(4000)
        except (OSError, UnicodeDecodeError):
            continue
        if any(line.replace(" ", "").startswith("format=") for line in head.splitlines()):
            found.append(path)
    return found
