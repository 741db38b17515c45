"""The command line: opens the app, or prints one station for people or as JSON."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Callable, Sequence
from math import inf
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn

from core.mistakes import Mistake

if TYPE_CHECKING:
    from core.plan import Plan

OK, FOUND_SOMETHING, CANNOT = 0, 1, 2
STATIONS = ("parts", "sheets", "cuts", "checks", "buy", "build")


class Parser(argparse.ArgumentParser):
    """Says what is wrong in one sentence, without the usage before it."""

    def error(self, message: str) -> NoReturn:
        """Exits with 2."""
        print(f"sawhorse: {message}; `sawhorse --help` tells the commands", file=sys.stderr)
        raise SystemExit(CANNOT)


def parser() -> argparse.ArgumentParser:
    """Every command and option."""
    top = Parser(
        prog="sawhorse",
        description="From the tape measure in the room to the last ticked cut.",
        epilog="sawhorse FILE opens a project, or begins it; without a terminal it prints the plan as text. "
        "Exit codes: 0 done, 1 the answer is that something fails or fits nowhere, 2 it could not be done, "
        "70 a fault of the program.",
    )
    commands = top.add_subparsers(dest="command", metavar="COMMAND", parser_class=Parser)
    opened = commands.add_parser("open", help="open or begin a project (the same as `sawhorse FILE`)")
    opened.add_argument("file", nargs="?", type=Path)
    _screen_options(opened)
    told = {
        "parts": "the parts list",
        "sheets": "the sheet layouts",
        "cuts": "the order of cuts",
        "checks": "what holds, stands and fits",
        "buy": "the buying list",
        "build": "how it goes together",
    }
    for name in STATIONS:
        one = commands.add_parser(name, help=f"print {told[name]}")
        one.add_argument("file", type=Path, metavar="FILE")
        one.add_argument("--json", action="store_true", help="as JSON, lengths in millimetres")
        one.add_argument("--ascii", action="store_true", help="drawings in plain ASCII")
    bare = commands.add_parser("layout", help="lay out a bare list of parts from a CSV file")
    bare.add_argument("list", type=Path, metavar="PARTS.csv", help="columns part,quantity,length,width,grain")
    size = (
        "2440x1220, or 96x48 with --unit in; the grain runs along the length. Several kinds: once for each, with "
        "what it costs, as in 2440x1220,price=58.50, or how many of it are in the shop, as in 1100x600,quantity=2; "
        "trim=0 there goes before --trim"
    )
    bare.add_argument("--sheet", action="append", required=True, metavar="LENGTHxWIDTH", help=size)
    bare.add_argument("--kerf", default="0", help="of the blade; 0 where it is not given")
    bare.add_argument("--trim", default="0", help="what every edge loses, kerf counted; 0 where it is not given")
    bare.add_argument("--unit", choices=("mm", "in"), default="mm", help="of bare numbers (mm)")
    cap = "search until no layout can do with less, or so long; what is found then depends on the machine"
    bare.add_argument("--seconds", type=_seconds, help=cap)
    bare.add_argument("--json", action="store_true", help="as JSON, lengths in millimetres")
    bare.add_argument("--ascii", action="store_true", help="drawings in plain ASCII")
    return top


def _seconds(text: str) -> float:
    try:
        seconds = float(text)
    except ValueError:
        seconds = 0
    if not 0 < seconds < inf:
        raise argparse.ArgumentTypeError(f"{text!r} is no time; a number of seconds above nothing is, such as 10")
    return seconds


def _screen_options(command: argparse.ArgumentParser) -> None:
    command.add_argument("--read-only", action="store_true", help="look, and change nothing")
    command.add_argument("--ascii", action="store_true", help="plain ASCII on the screen")
    command.add_argument("--theme", choices=("terminal", "dark", "light"), help="colours (the terminal's own)")


def main(arguments: Sequence[str] | None = None) -> NoReturn:
    """What the command `sawhorse` does."""
    given = list(sys.argv[1:] if arguments is None else arguments)
    # `sawhorse FILE` is the usual way in; a project that is named like a command is opened with `sawhorse open`.
    commands = ("open", "layout", *STATIONS)
    if not given or (given[0] not in commands and given[0] not in ("-h", "--help")):
        given.insert(0, "open")
    options = parser().parse_args(given)
    try:
        code = _run(options)
    except Mistake as mistake:
        print(f"sawhorse: {mistake}", file=sys.stderr)
        code = CANNOT
    except BrokenPipeError:
        code = OK
    except KeyboardInterrupt:
        code = 130
    except Exception as fault:
        from tui.output import report_fault

        code = report_fault(fault)
    _let_go()
    raise SystemExit(code)


def _let_go() -> None:
    """Sends out what is still to be printed. A reader or a terminal that has gone away is no fault of ours."""
    for stream in (sys.stdout, sys.stderr):
        try:
            stream.flush()
        except OSError:
            os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())


def _run(options: argparse.Namespace) -> int:
    if options.command == "open":
        from tui.opening import open_app, print_whole

        if not (sys.stdin.isatty() and sys.stdout.isatty()):
            if options.file is None:
                raise Mistake("there is no terminal here to choose a project in; name a FILE, and its plan is printed")
            return print_whole(options.file, _ascii(options))
        return open_app(options.file, options.read_only, _ascii(options), options.theme)
    if options.command == "layout":
        return _layout(options)
    return _print_station(options)


def _ascii(options: argparse.Namespace) -> bool:
    """Plain ASCII where it was asked for, or where the terminal is not known to show more."""
    encoding = (sys.stdout.encoding or "").lower().replace("-", "")
    return bool(options.ascii) or encoding != "utf8" or os.environ.get("TERM") == "linux"


def _print_station(options: argparse.Namespace) -> int:
    from core import printing
    from tui.output import planned, print_json, print_text

    plan = planned(options.file)
    name: str = options.command
    if options.json:
        documents: dict[str, Callable[[Plan], dict[str, Any]]] = printing.DOCUMENTS
        if name not in documents:
            raise Mistake(f"{name} is told in words only; leave --json out")
        print_json(documents[name](plan))
    else:
        columns = printing.columns_of(sys.stdout.isatty())
        print_text(printing.TEXTS[name](plan, columns, _ascii(options)))
    return _said_aloud(plan, name)


def _said_aloud(plan: Plan, name: str) -> int:
    """Findings that a script should notice: said on standard error, and in the exit code."""
    from core.printing import without_a_place

    told = []
    if name in ("sheets", "cuts", "buy", "build"):
        told = without_a_place(plan)
    if name == "cuts":
        from core.steps_in_words import uncut_in_words

        told += uncut_in_words(plan)
    if name == "checks":
        from core.checks import run_checks

        told = [
            f"{one.check} fails: {one.about}: {one.because}" for one in run_checks(plan.worked) if one.result == "fail"
        ]
    for sentence in told:
        print(f"sawhorse: {sentence}", file=sys.stderr)
    return FOUND_SOMETHING if told else OK


def _layout(options: argparse.Namespace) -> int:
    from tui.watched import Watched

    # First of all: who is in a hurry is in a hurry from the start.
    with Watched() as watched:
        from core import bare_list, printing
        from tui.output import print_json, print_text

        material = bare_list.lay_out_list(
            bare_list.read_list(options.list, options.unit),
            options.sheet,
            options.kerf,
            options.trim,
            options.unit,
            options.seconds,
            watched.tell,
            lambda: watched.stopped,
        )
    if options.json:
        print_json(bare_list.document(material))
    else:
        columns = printing.columns_of(sys.stdout.isatty())
        print_text(bare_list.text(material, options.unit, columns, _ascii(options)))
    if watched.stopped:
        print("sawhorse: stopped; this is the best that was found until then", file=sys.stderr)
    for sentence in printing.unplaced_in_words(material):
        print(f"sawhorse: {sentence}", file=sys.stderr)
    return FOUND_SOMETHING if material.unplaced else OK
