"""The shop's own settings on disk: a file that the person writes by hand, or that is not there at all."""

from __future__ import annotations

from pathlib import Path

from core.mistakes import Mistake
from core.shop import Shop
from core.storage.reading import read_tables
from core.storage.schema import read_shop


def open_shop(path: Path) -> Shop:
    """The shop's settings; the program's own where there is no file.

    Raises `BadProject` with all that is wrong in it, or `Mistake` where it cannot be read.
    """
    try:
        text = path.read_text(encoding="utf-8-sig")
    except FileNotFoundError:
        return Shop()
    except (OSError, UnicodeDecodeError) as error:
        raise Mistake(f"the shop file {path} cannot be read: {error}") from None
    return read_tables(text, path.name, read_shop)[0]
