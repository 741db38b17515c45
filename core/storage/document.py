"""A changed project brought into the text that somebody may have written by hand.

Only what changed is touched: comments, order, blank lines, and the way in which values are
written stay. A table that goes takes its own comment lines with it, those directly above its
header and those inside it, and no other's.
"""

from __future__ import annotations

from typing import Any

from core.storage.agreement import MISSING, Wanted, agrees
from core.storage.blocks import Block, blocks_of, is_headed, is_tables, new_header, new_pair, written
from core.storage.inline import changed_value
from core.storage.matching import matched
from core.storage.plain import Path, Plain


def merged(text: str, old: Plain, wanted: Wanted) -> str:
    """`text`, which reads as `old`, so changed that it reads as `wanted`. The same text where nothing changed."""
    if agrees(old, wanted):
        return text
    is_dos = "\r\n" in text
    lines = text.replace("\r\n", "\n")
    document = _Document(lines if lines.endswith("\n") else f"{lines}\n")
    document.change_table((), old, wanted)
    changed = document.text()
    return changed.replace("\n", "\r\n") if is_dos else changed


class _Document:
    """The blocks of a text while it is changed. Paths stay those of the old text; new items of a list count on."""

    def __init__(self, text: str) -> None:
        self.blocks = list(blocks_of(text))
        self.gone: set[int] = set()
        """Identities of blocks that go at the end: until then they may be all that shows where new ones belong."""

    def change_table(self, path: Path, old: Plain, wanted: Wanted) -> None:
        order = list(wanted.full)
        for number, key in enumerate(order):
            part = wanted[key]
            if key in old:
                self.change((*path, key), old[key], part, order[:number])
            elif part.short is not MISSING:
                self.add(path, key, part.short, order[:number])
        for key in old.keys() - wanted.full.keys():
            self.remove((*path, key))

    def change(self, path: Path, old: Any, wanted: Wanted, earlier: list[str]) -> None:
        """A value that is in the file. `earlier` are the fields that come before it in its table."""
        if agrees(old, wanted):
            return
        at = next((i for i, block in enumerate(self.blocks) if block.kind == "pair" and block.path == path), None)
        if at is not None and (old or not is_headed(path, wanted.to_write)):
            block = self.blocks[at]
            begin, end = block.value
            value = changed_value(block.text[begin:end], old, wanted)
            text = block.text[:begin] + value + block.text[end:]
            self.blocks[at] = Block("pair", path, block.gap, block.comments, text, (begin, begin + len(value)))
        elif isinstance(old, dict) and isinstance(wanted.full, dict) and at is None:
            self.change_table(path, old, wanted)
        elif is_tables(old) and is_tables(wanted.full) and at is None:
            self.change_list(path, old, wanted)
        else:
            # One by one, so that what stands between two tables of a list belongs to neither.
            for part in [(*path, i) for i in range(len(old))] if is_tables(old) and at is None else [path]:
                self.remove(part)
            if wanted.short is not MISSING:
                self.add(path[:-1], str(path[-1]), wanted.short, earlier)

    def change_list(self, path: Path, old: list[Plain], wanted: Wanted) -> None:
        """Tables under `[[…]]`."""
        places = matched(old, wanted.full, lambda i, j: agrees(old[i], wanted[j]))
        for j, i in enumerate(places):
            if i is not None:
                self.change_table((*path, i), old[i], wanted[j])
        self.reorder(path, [i for i in places if i is not None])
        before: Path = ()
        for j, i in enumerate(places):
            item = (*path, len(old) + j if i is None else i)
            if i is None:
                at = self.members(before)[-1] + 1 if before else self.members(path)[0]
                self.blocks[at:at] = written(item, wanted[j].to_write)
            before = item
        for i in range(len(old)):
            if i not in places:
                self.remove((*path, i))

    def reorder(self, path: Path, kept: list[int]) -> None:
        """Puts the tables of a list at each other's places."""
        if kept == sorted(kept):
            return
        groups = {i: self.members((*path, i)) for i in kept}
        moving = {at: i for i, members in groups.items() for at in members}
        starts = sorted(groups, key=lambda i: groups[i][0])
        put = dict(zip((groups[i][0] for i in starts), kept, strict=True))
        blocks: list[Block] = []
        for at, block in enumerate(self.blocks):
            if at in put:
                blocks += [self.blocks[member] for member in groups[put[at]]]
            elif at not in moving:
                blocks.append(block)
        self.blocks = blocks

    def members(self, path: Path) -> list[int]:
        """The places of all blocks of a table or key, the comments inside it among them."""
        own = [i for i, block in enumerate(self.blocks) if block.kind != "comment" and block.path[: len(path)] == path]
        if not own or all(self.blocks[i].kind == "pair" for i in own):
            return own
        inside = set(own)
        for i in own:
            comments = i + 1
            while comments < len(self.blocks) and self.blocks[comments].kind == "comment":
                comments += 1
            if comments in inside:
                inside.update(range(i, comments))
            elif comments > i + 1 and not self.blocks[i + 1].gap:
                inside.add(i + 1)
        return sorted(inside)

    def remove(self, path: Path) -> None:
        """Takes out a table or key and the comments that are its own."""
        self.gone.update(id(self.blocks[i]) for i in self.members(path))

    def text(self) -> str:
        """What has come of it."""
        return "".join(str(block) for block in self.blocks if id(block) not in self.gone)

    def add(self, path: Path, key: str, value: Any, earlier: list[str]) -> None:
        """A field that the file does not have yet, behind those that come before it in its table."""
        if is_headed((*path, key), value):
            at = self.table_place(path, earlier)
            self.blocks[at:at] = written((*path, key), value)
            return
        header = self.header(path)
        if header is not None:
            at = self.pair_place(path, header, earlier)
            self.blocks.insert(at, new_pair(path, (key,), value))
            return
        dotted = [i for i in self.members(path) if len(self.section(i)) < len(path)]
        if dotted:
            table = self.section(dotted[-1])
            keys = tuple(str(step) for step in (*path, key)[len(table) :])
            self.blocks.insert(dotted[-1] + 1, new_pair(table, keys, value))
        else:
            at = self.members(path)[0]
            self.blocks[at:at] = [new_header(path), new_pair(path, (key,), value)]

    def header(self, path: Path) -> int | None:
        """Where a table's own header is: -1 for the top of the file, which has none."""
        if not path:
            return -1
        return next((i for i, block in enumerate(self.blocks) if block.kind == "header" and block.path == path), None)

    def section(self, at: int) -> Path:
        """The path of the header under which a block stands."""
        return next((block.path for block in reversed(self.blocks[: at + 1]) if block.kind == "header"), ())

    def section_end(self, at: int) -> int:
        """Behind the last key, and the comments right below it, of the section in which place `at` lies."""
        end = at
        while at < len(self.blocks) and self.blocks[at].kind != "header":
            at += 1
            if self.blocks[at - 1].kind == "pair":
                end = at
        while end < len(self.blocks) and self.blocks[end].kind == "comment" and not self.blocks[end].gap:
            end += 1
        return end

    def pair_place(self, path: Path, header: int, earlier: list[str]) -> int:
        """For a new key in a section: behind the nearest key that comes before it, else behind the last one."""
        end = header + 1
        places: dict[Any, int] = {}
        while end < len(self.blocks) and self.blocks[end].kind != "header":
            if self.blocks[end].kind == "pair":
                places[self.blocks[end].path[len(path)]] = end
            end += 1
        near = next((places[key] for key in reversed(earlier) if key in places), None)
        return (near if near is not None else max(places.values(), default=header)) + 1

    def table_place(self, path: Path, earlier: list[str]) -> int:
        """For a new table inside another: behind the tables that come before it, at the end of a section."""
        header = self.header(path)
        places = [] if header is None else [header + 1]
        places += [members[-1] + 1 for key in earlier if (members := self.members((*path, key)))]
        return self.section_end(max(places) if places else self.members(path)[0])
