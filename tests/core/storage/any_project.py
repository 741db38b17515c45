"""Any valid project at all: strategies that follow the dataclasses as the storage does, sharing no code with it."""

from __future__ import annotations

import dataclasses
import types
from collections.abc import Mapping
from typing import Annotated, Any, Literal, Union, get_args, get_origin, get_type_hints

from hypothesis import strategies as st

from core.project import Project

SIZES = (
    "0",
    "24",
    "18.25",
    "17 5/8 in",
    '17 5/8"',
    "5' 4 1/2\"",
    "450 mm",
    "18,3 mm",
    "worktop_height - ply",
    "(clear_width - 2*side_gap) / 3",
    "min(a, b, 3/4 in)",
)
"""Right in an inch project and in a millimetre one."""
HOSTILE = (
    "[red]A[/red]",
    "[[row]]",
    '"""',
    "'''",
    '"',
    "'",
    "\\",
    "\\u001b[31m",
    "# no comment",
    "a = 1",
    " ends in spaces  ",
    "日本の棚",
    "é\u0301",
    "\ufeff",
    "\u00a0",
    "🪚",
    "{}",
    "",
)
_LETTERS = st.characters(
    exclude_categories=["Cc", "Cs", "Zl", "Zp"],
    exclude_characters="\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069",
)
_LINE = st.sampled_from(HOSTILE) | st.text(_LETTERS, max_size=12)
_PROSE = st.lists(_LINE, max_size=3).map("\n".join) | st.sampled_from(["\n", "\n\n", "a\n\\\n b", 'x\n"""\ny', "\t\n"])
_NAMES = st.from_regex(r"[a-z][a-z0-9_]{0,7}x", fullmatch=True)
_SIZE = st.sampled_from(SIZES)
_KINDS: dict[str, st.SearchStrategy[Any]] = {
    "size": _SIZE,
    "size or nothing": _SIZE | st.just(""),
    "share": _SIZE | st.sampled_from(["share", "2 shares", "1.5 shares"]),
    "spacing": _SIZE | st.just("even"),
    "amount": st.sampled_from(["", "0", "42.50", "600", ".5"]),
    "density": st.sampled_from(["", "600", "38 lb/ft^3", "38 pcf"]),
    "stiffness": st.sampled_from(["", "6550", "950000 psi", "10.05 GPa"]),
    "weight": st.sampled_from(["", "50", "50 lb", "23 kg"]),
    "name": _NAMES,
    "prose": _PROSE,
    "count": st.integers(0, 9999),
}


def _values(hint: Any) -> st.SearchStrategy[Any]:
    origin, args = get_origin(hint), get_args(hint)
    if origin is Annotated:
        return _KINDS[hint.__metadata__[0]]
    if origin is Literal:
        return st.sampled_from(args)
    if origin is tuple:
        return st.lists(_values(args[0]), max_size=3).map(tuple)
    if isinstance(origin, type) and issubclass(origin, Mapping):
        return st.dictionaries(_values(args[0]), _values(args[1]), max_size=3)
    if origin in (Union, types.UnionType):
        return st.one_of(*(st.none() if arg is type(None) else _values(arg) for arg in args))
    if dataclasses.is_dataclass(hint):
        return tables(hint)
    return {str: _LINE, int: st.integers(0, 2**63 - 1), bool: st.booleans()}[hint]


def tables(kind: Any) -> st.SearchStrategy[Any]:
    """Any instance of a dataclass; a field with a default is often left at it."""
    hints = get_type_hints(kind, include_extras=True)
    required, optional = {}, {}
    for field in dataclasses.fields(kind):
        is_required = field.default is field.default_factory is dataclasses.MISSING
        (required if is_required else optional)[field.name] = _values(hints[field.name])
    return st.fixed_dictionaries(required, optional=optional).map(lambda values: kind(**values))


@st.composite
def projects(draw: st.DrawFn) -> Project:
    """Any project. Ids are drawn from a few, so that two projects often have tables in common."""
    project = draw(tables(Project))
    design = project.design
    ids = draw(st.permutations(["A", "B", "C", "D", "E", "F", "G", "[H]", "日"]))
    renamed: dict[str, Any] = {}
    for name in ("row", "tops", "loose"):
        items = [dataclasses.replace(item, id=ids.pop()) for item in getattr(design, name)]
        renamed[name] = tuple(items)
    return dataclasses.replace(project, design=dataclasses.replace(design, **renamed))
