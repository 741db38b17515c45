"""What is loaded when: the core never needs a screen, and the command line does not wait for one."""

import pkgutil
import subprocess
import sys

import core


def _loaded(code: str) -> set[str]:
    """The modules that a fresh interpreter has loaded after `code`."""
    script = f"{code}\nimport sys\nprint('\\n'.join(sys.modules))"
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    return set(done.stdout.split())


def test_no_module_of_the_core_loads_a_screen() -> None:
    names = [module.name for module in pkgutil.walk_packages(core.__path__, "core.")]
    assert len(names) > 50
    loaded = _loaded("\n".join(f"import {name}" for name in names))
    assert {name for name in loaded if name.split(".")[0] in ("tui", "textual", "rich")} == set()


def test_the_core_does_not_load_what_it_seldom_needs() -> None:
    """pint takes a third of a second; it is for amounts that bear a unit of their own."""
    assert not _loaded("import core.plan, core.storage, core.printing") & {"pint", "rectpack"}


def test_the_command_line_is_read_without_a_screen() -> None:
    assert not _loaded("import tui.command\ntui.command.parser()") & {"textual", "rich", "core.plan"}
