"""Project files: the only code that touches them.

Whoever wants to change a project first takes its lock with `hold`; a second opener gets `HeldBy`
instead and reads only, asking `changed` now and then. `open_project` reads, and `save`, after every
accepted edit and every tick, gives what the next `save` needs. All errors are `Mistake`s.
"""

from core.storage.disk import Disk
from core.storage.files import OpenedProject, changed, copy_to, create, open_project, save
from core.storage.lock import HeldBy, Lock, hold
from core.storage.problems import BadProject, ChangedOnDisk, Problem
from core.storage.shop_file import open_shop

__all__ = [
    "BadProject",
    "ChangedOnDisk",
    "Disk",
    "HeldBy",
    "Lock",
    "OpenedProject",
    "Problem",
    "changed",
    "copy_to",
    "create",
    "hold",
    "open_project",
    "open_shop",
    "save",
]
