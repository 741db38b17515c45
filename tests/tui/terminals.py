"""The program on a real pseudo-terminal: its bytes, and the screen that they make."""

from __future__ import annotations

import contextlib
import os
import re
import signal
import sys
import time
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

import pexpect

SAWHORSE = (sys.executable, "-P", "-c", "from tui.command import main; main()")
"""The command, started by the interpreter that runs the tests."""
PATIENCE = 60
"""Seconds until something that does not come is given up."""
ESCAPES = re.compile(
    rb"\x1b(?:\[[0-?]*[ -/]*[@-~]|\][^\x07\x1b]*(?:\x07|\x1b\\)|[PX^_][^\x1b]*\x1b\\|[ -/]*[0-OQ-WYZ\\`-~])"
)
"""Control sequences of a terminal: with parameters (CSI), strings (OSC, DCS), and short ones."""


def environment(home: Path, changes: Mapping[str, str] | None = None) -> dict[str, str]:
    """What a person's shell would hand over, with nothing of this machine's own settings."""
    kept = {name: os.environ[name] for name in ("PATH", "PYTHONPATH", "LD_LIBRARY_PATH") if name in os.environ}
    own = {"HOME": str(home), "TMPDIR": str(home), "LANG": "C.UTF-8", "TERM": "xterm-256color"}
    return {**kept, **own, **(changes or {})}


class Screen:
    """What stands on the screen: as much of a terminal as the app makes use of."""

    def __init__(self, columns: int, rows: int) -> None:
        self._cells = [[" "] * columns for _ in range(rows)]
        self._row = self._column = 0
        self._rest = b""
        """What was sent of a sequence, or of a character, whose end has not come yet."""

    def take(self, data: bytes) -> None:
        """Draws what was sent."""
        data = self._rest + data
        at = 0
        for sequence in ESCAPES.finditer(data):
            self._write(data[at : sequence.start()].decode(errors="replace"))
            self._obey(sequence[0])
            at = sequence.end()
        begun = data.find(b"\x1b", at)
        whole = data[at:] if begun < 0 else data[at:begun]
        while whole and whole[-1] >= 0x80 and not _is_whole(whole):
            whole = whole[:-1]
        self._write(whole.decode(errors="replace"))
        self._rest = data[at + len(whole) :]

    def _obey(self, sequence: bytes) -> None:
        if sequence.endswith(b"H") and sequence.startswith(b"\x1b["):
            row, _, column = sequence[2:-1].partition(b";")
            self._row, self._column = int(row or 1) - 1, int(column or 1) - 1
        elif sequence == b"\x1b[?1049h" or sequence == b"\x1b[2J":
            for row in self._cells:
                row[:] = [" "] * len(row)

    def _write(self, text: str) -> None:
        for character in text:
            if character == "\r":
                self._column = 0
            elif character == "\n":
                self._row += 1
            elif character >= " " and self._row < len(self._cells):
                row = self._cells[self._row]
                if self._column < len(row):
                    row[self._column] = character
                self._column += 1

    @property
    def text(self) -> str:
        """Its rows."""
        return "\n".join("".join(row).rstrip() for row in self._cells)


def _is_whole(text: bytes) -> bool:
    """Whether it ends with the last byte of a character."""
    try:
        text[-4:].decode()
    except UnicodeDecodeError as error:
        return "unexpected end" not in error.reason
    return True


class Terminal:
    """A program on a pseudo-terminal of its own."""

    def __init__(
        self,
        command: Sequence[str],
        folder: Path,
        size: tuple[int, int] = (80, 24),
        changes: Mapping[str, str] | None = None,
    ) -> None:
        columns, rows = size
        self.child = pexpect.spawn(
            command[0],
            list(command[1:]),
            cwd=str(folder),
            env=environment(folder, changes),
            dimensions=(rows, columns),
            timeout=PATIENCE,
        )
        self.child.delaybeforesend = None
        self.child.ptyproc.delayafterclose = self.child.ptyproc.delayafterterminate = 0.01
        self.received = b""
        """All that was sent to the terminal."""
        self.screen = Screen(columns, rows)

    def __enter__(self) -> Terminal:
        return self

    def __exit__(self, *_: object) -> None:
        with contextlib.suppress(ProcessLookupError, OSError):
            os.kill(self.child.pid, signal.SIGKILL)
            self.child.close(force=True)

    def read(self, seconds: float) -> bytes:
        """What comes within so long; empty where nothing does."""
        try:
            data: bytes = self.child.read_nonblocking(65536, timeout=seconds)
        except (pexpect.TIMEOUT, pexpect.EOF):
            return b""
        self.received += data
        self.screen.take(data)
        return data

    def wait_for(self, seen: Callable[[str], bool] | str) -> None:
        """Reads until the screen shows it."""
        shows = (lambda text: seen in text) if isinstance(seen, str) else seen
        end = time.monotonic() + PATIENCE
        while not shows(self.screen.text):
            assert time.monotonic() < end and self.child.isalive(), f"never came: {seen}\n{self.screen.text}"
            self.read(0.2)

    def quiet(self, seconds: float = 0.25) -> bytes:
        """Reads until nothing has come for so long; gives what came."""
        came = b""
        while data := self.read(seconds):
            came += data
        return came

    def press(self, keys: str) -> None:
        """Sends keys as a terminal does."""
        self.child.send(keys)

    def ended(self) -> int:
        """Reads to the end; the exit code."""
        end = time.monotonic() + PATIENCE
        while self.child.isalive():
            assert time.monotonic() < end, f"does not end\n{self.screen.text}"
            self.read(0.1)
        self.quiet(0.05)
        assert self.child.signalstatus is None, f"killed by signal {self.child.signalstatus}"
        return int(self.child.exitstatus)

    @property
    def printed(self) -> str:
        """What was sent after the app's own screen was left, without control sequences."""
        return ESCAPES.sub(b"", self.received.rpartition(b"\x1b[?1049l")[2]).decode(errors="replace")


def sawhorse(
    file: Path, *options: str, size: tuple[int, int] = (80, 24), changes: Mapping[str, str] | None = None
) -> Terminal:
    """The app with a project open, on a terminal, in the project's folder."""
    return Terminal([*SAWHORSE, *options, str(file)], file.parent, size, changes)
