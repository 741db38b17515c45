"""Text that anybody may have typed, made fit for a grid of cells: what it shows, and how wide it is."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator

from core.drawing.glyphs import Glyphs

# Unassigned characters, private ones and halves of pairs have no width that could be known; formatting
# characters (direction, joiners) would move what stands beside them.
_NEVER_SHOWN = ("Cc", "Cf", "Cn", "Co", "Cs", "Zl", "Zp")
_SPELT = {"×": "x", "–": "-", "—": "-", "−": "-", "‘": "'", "’": "'", "′": "'", "“": '"', "”": '"', "″": '"'}
_SPELT |= {"…": "...", "·": "-", "ß": "ss", "Ø": "O", "ø": "o", "Æ": "AE", "æ": "ae", "⁄": "/"}


def _lies_over(character: str) -> bool:
    """A mark over, under or round the character before it, without a width of its own."""
    return unicodedata.category(character) in ("Mn", "Mc", "Me")


def _is_selector(character: str) -> bool:
    """A variation selector: it can change the width of the character before it."""
    return "\ufe00" <= character <= "\ufe0f" or "\U000e0100" <= character <= "\U000e01ef"


def _is_unsettled(character: str) -> bool:
    """Whether terminals differ on how wide it is: Korean letters that join, their fillers, tints of emoji."""
    return (
        "\u1160" <= character <= "\u11ff"
        or "\ud7b0" <= character <= "\ud7ff"
        or character in "\u3164\uffa0"
        or "\U0001f3fb" <= character <= "\U0001f3ff"
    )


def _spelt(text: str) -> Iterator[str]:
    """The text in ASCII as far as it can be told. A fraction keeps its distance: 17½ is 17 1/2, not 171/2."""
    previous = ""
    for character in text:
        plain = _SPELT.get(character, character)
        if not plain.isascii():
            if unicodedata.decomposition(character).startswith("<fraction>") and previous.isdigit():
                yield " "
            letters = [c for c in unicodedata.normalize("NFKD", character) if not _lies_over(c)]
            plain = "".join(_SPELT.get(c, c) for c in letters)
        yield plain
        previous = character


def clean(text: str, glyphs: Glyphs) -> str:
    """The text without anything that could move the cursor, hide text or change a width afterwards.

    Tabs and line ends become spaces, what cannot be shown becomes `glyphs.unknown`; with an ASCII
    set accents are dropped and other letters become `?`. Cleaning twice changes nothing.
    """
    if text.isascii() and text.isprintable():
        return text
    text = unicodedata.normalize("NFC", text)
    if glyphs.ascii_only:
        text = "".join(_spelt(text))
    shown: list[str] = []
    for character in text:
        category = unicodedata.category(character)
        if character in "\t\n\r\v\f" or category == "Zs":
            shown.append(" ")
        elif _is_selector(character) or (_lies_over(character) and not shown):
            continue
        elif category in _NEVER_SHOWN or _is_unsettled(character) or (glyphs.ascii_only and not character.isascii()):
            shown.append(glyphs.unknown)
        else:
            shown.append(character)
    return "".join(shown)


def clusters(text: str) -> Iterator[tuple[str, int]]:
    """Each character with the marks that lie over it, and its width: 1 cell, or 2 for a wide one."""
    cluster, width = "", 0
    for character in text:
        if cluster and _lies_over(character):
            cluster += character
            continue
        if cluster:
            yield cluster, width
        cluster, width = character, 2 if unicodedata.east_asian_width(character) in ("W", "F") else 1
    if cluster:
        yield cluster, width


def cells(text: str) -> int:
    """How many cells wide a cleaned text is."""
    return len(text) if text.isascii() else sum(width for _, width in clusters(text))


def padded(text: str, width: int) -> str:
    """A cleaned text with spaces behind it up to `width` cells."""
    return text + " " * (width - cells(text))


def broken(text: str, width: int, hang: str = "") -> list[str]:
    """A cleaned text in lines of at most `width` cells, broken between words; those after the first begin with `hang`.

    A word that has no room in a line of its own is broken where a line is full.
    """
    lines: list[str] = []
    line = ""
    for word in re.findall(r" *[^ ]+", re.sub(r"\s", " ", text)):
        if cells(line + word) <= width:
            line += word
            continue
        if line.strip() and cells(hang + word.lstrip()) <= width:
            lines.append(line)
            line, word = hang, word.lstrip()
        while cells(line + word) > width:
            parts = list(clusters(line + word))
            most = next(
                n for n in range(len(parts) + 1) if n == len(parts) or sum(w for _, w in parts[: n + 1]) > width
            )
            # At least one more than the indent, so that it comes to an end.
            most = max(most, len(list(clusters(line))) + 1)
            lines.append("".join(cluster for cluster, _ in parts[:most]).rstrip())
            line, word = hang, "".join(cluster for cluster, _ in parts[most:]).lstrip()
        line += word
    return [*lines, line] if line.strip() else lines


def fitted(text: str, width: int, glyphs: Glyphs) -> str:
    """A cleaned text, shortened to `width` cells where it is wider; it then ends in an ellipsis."""
    if cells(text) <= width:
        return text
    room = width - len(glyphs.ellipsis)
    if room < 1:
        return ""
    kept = ""
    for cluster, wide in clusters(text):
        room -= wide
        if room < 0:
            break
        kept += cluster
    return kept.rstrip() + glyphs.ellipsis
