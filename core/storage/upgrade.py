"""Texts of earlier formats, as this one writes them. Line for line, so that comments and the numbers of lines stay.

Format 2 has several saws, each under a `[[saw]]` of its own, where format 1 had one `[saw]`.
"""

from __future__ import annotations

import re

_FORMAT = re.compile(r"^(\s*format\s*=\s*)1(?![0-9.])", re.MULTILINE)
_SAW_HEADER = re.compile(r"^([ \t]*)\[[ \t]*saw[ \t]*\]", re.MULTILINE)
_SAW_INLINE = re.compile(r"^([ \t]*saw[ \t]*=[ \t]*)(\{[^\n}]*\})", re.MULTILINE)


def upgraded(text: str) -> str:
    """The text in today's format, if it says that it is of an earlier one; else as it is."""
    if not _FORMAT.search(text):
        return text
    text = _FORMAT.sub(r"\g<1>2", text, count=1)
    return _SAW_INLINE.sub(r"\1[\2]", _SAW_HEADER.sub(r"\1[[saw]]", text))
