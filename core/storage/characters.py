"""Which characters a text in a project file may hold, and how one that may not is told.

Control characters (ESC and the C1 set among them) drive a terminal, bidirectional controls make a
line read as what it is not, and line separators break a row of the screen in two. They are kept
out here, at the boundary, so that nothing behind it has to look again.
"""

from __future__ import annotations

import re
import unicodedata

_BIDI = "\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069"
_OTHER = f"\u2028\u2029\ud800-\udfff{_BIDI}"
_ON_ONE_LINE = re.compile(f"[\x00-\x1f\x7f-\x9f{_OTHER}]")
_IN_PROSE = re.compile(f"[\x00-\x08\x0b-\x1f\x7f-\x9f{_OTHER}]")
_LONGEST_SHOWN = 60


def first_refused(text: str, *, prose: bool = False) -> str:
    """The first character that may not stand in `text`, with its position; empty where all may.

    `prose` may run over several lines and hold tabs.
    """
    found = (_IN_PROSE if prose else _ON_ONE_LINE).search(text)
    if not found:
        return ""
    character = found[0]
    name = {"\n": "a line break", "\t": "a tab", "\x1b": "ESC"}.get(character) or unicodedata.name(character, "")
    code = f"U+{ord(character):04X}"
    return f"{name} ({code}) as character {found.start() + 1}" if name else f"{code} as character {found.start() + 1}"


def visible(text: str) -> str:
    """`text` on one line and safe for a terminal: every refused character as its escape."""
    return _ON_ONE_LINE.sub(lambda found: f"\\u{ord(found[0]):04X}", text)


def clipped(text: str) -> str:
    """`visible` text, no longer than a message can bear."""
    seen = visible(text)
    return seen if len(seen) <= _LONGEST_SHOWN else f"{seen[: _LONGEST_SHOWN - 1]}…"
