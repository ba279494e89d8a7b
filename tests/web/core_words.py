"""What the core says in words that stand fixed in its code or tables, for the catalogues.

The core is English and knows of no other language. Its texts are read off its code here: those
that stand in it whole, and those that end with a name, `Draw %(name)s`. What is joined otherwise
of words and numbers is told in English.
"""

from __future__ import annotations

import ast
import csv
import re
from collections.abc import Iterable, Iterator
from pathlib import Path

import baitwright
from baitwright.web.language import BEFORE_NAME

CORE = Path(baitwright.__file__).parent
SPOKEN: dict[str, tuple[int | str, ...]] = {
    "declared": ("label", "note"),
    "Note": (1,),
    "given": ("label",),
    "labelled": (0,),
    "_record": ("label",),
    "_stage": (1,),
    "_step": (0, 2, "how"),
    "Section": (0,),
    "Wait": (0,),
    "number_of": (1, 2),
    "Part": (0, "title", "lines"),
    "Large": (0, 2, "how"),
    "Grid": (0, 1, "heads"),
    "Table": (0, 1),
    "canvas": ("title",),
    "_Way": (0, 1),
    "Column": (0,),
    "_leaf": (0,),
    "Footing": (1,),
    "_lift": (0,),
}
"""Which arguments of a call are told: by place or by name."""
TOLD_WITHIN = {
    "batch/day.py": ("_steps", "_beside", "_OUT"),
    "sheets/bench_steps.py": ("_TAKEN",),
    "sheets/text_made.py": ("wanted", "tool_words"),
}
"""Functions and tables of which every text is told."""
COLUMNS = {
    "materials/data/allergens.csv": "name",
    "materials/data/cautions.csv": "text",
    "materials/data/carp_nutrition.csv": "label",
    "materials/data/cores.csv": "name",
    "materials/data/defaults.csv": "label",
    "materials/data/egg_forms.csv": "name",
    "materials/data/egg_parts.csv": "label",
    "materials/data/factors.csv": "measurement",
    "materials/data/hardness.csv": "name",
    "materials/data/ingredients.csv": "name",
    "materials/data/protocols.csv": "name",
    "materials/data/keeping_lines.csv": "text",
    "advice/data/fault_habits.csv": "what",
    "advice/data/fault_leaves.csv": "what",
    "advice/data/faults.csv": "seen",
    "materials/data/syringes.csv": "name",
    "sheets/data/settles.csv": "measurement",
    "sheets/data/short_cautions.csv": "text",
}
"""Columns that are told, by table."""
JOINED = Path(__file__).with_name("core_joined.txt")
"""What pages tell and no code shows as a whole, one a line: it is joined of several parts."""
_HOW = {"figure", "show", "shortened", "clock", "text", "number", "with_band", "name", "named"}
"""How a place is written; what stands in it is told by the name within."""
_OUTSIDE = ("web", "cli", "notebook")
"""Rooms that are no core, and one that tells nothing."""
_PLACE = re.compile(r"%\(\w+\)s")
_WORDY = 3
"""Letters in a row that make a text of words out of signs and places."""


def of_core() -> Iterator[str]:
    """Every text of the core that is gathered."""
    for text in (*_of_code(), *_of_tables(), *JOINED.read_text("utf-8").splitlines()):
        told = text.strip(" ;,")
        if _is_wordy(told) and ("%(" not in told or BEFORE_NAME.fullmatch(told)):
            yield told


def _of_tables() -> Iterator[str]:
    for table, column in COLUMNS.items():
        with (CORE / table).open(encoding="utf-8", newline="") as file:
            for row in csv.DictReader(file):
                yield row[column]


def _of_code() -> Iterator[str]:
    for path in sorted(CORE.rglob("*.py")):
        place = path.relative_to(CORE)
        if place.parts[0] in _OUTSIDE:
            continue
        tree = ast.parse(path.read_text("utf-8"))
        for call in ast.walk(tree):
            if isinstance(call, ast.Call) and isinstance(call.func, ast.Name | ast.Attribute):
                name = call.func.id if isinstance(call.func, ast.Name) else call.func.attr
                for found in arguments(call, SPOKEN.get(name, ())):
                    yield from _texts(found, tree, set())
        for name in TOLD_WITHIN.get(str(place.as_posix()), ()):
            for one in _named(tree, name):
                yield from _every(one)


def arguments(call: ast.Call, places: Iterable[int | str]) -> Iterator[ast.expr]:
    """Those of a call that are told, by place or by name."""
    named = {one.arg: one.value for one in call.keywords}
    for place in places:
        if isinstance(place, int):
            yield from call.args[place : place + 1]
        elif place in named:
            yield named[place]


def _texts(found: ast.expr, tree: ast.Module, seen: set[str]) -> Iterator[str]:
    """The texts of an expression, and of the names that stand in it."""
    match found:
        case ast.Constant(value=str(text)):
            yield text
        case ast.IfExp(body=body, orelse=other):
            yield from (*_texts(body, tree, seen), *_texts(other, tree, seen))
        case ast.Tuple(elts=every) | ast.List(elts=every) | ast.BoolOp(values=every):
            for one in every:
                yield from _texts(one, tree, seen)
        case ast.JoinedStr(values=parts):
            yield _with_places(parts)
            for part in parts:
                if isinstance(part, ast.FormattedValue):
                    yield from _texts(part.value, tree, seen)
        case ast.Name(id=name) if name not in seen:
            for one in ast.walk(tree):
                match one:
                    case ast.Assign(targets=[ast.Name(id=to)], value=value) if to == name:
                        yield from _texts(value, tree, seen | {name})
        case _:
            pass


def _with_places(parts: list[ast.expr]) -> str:
    """A text that is put together, with a place for whatever is known only then."""
    said, taken = "", dict[str, int]()
    for part in parts:
        if isinstance(part, ast.Constant):
            said += str(part.value).replace("%", "%%")
        else:
            name = _called(part)
            taken[name] = taken.get(name, 0) + 1
            said += f"%({name}{taken[name] if taken[name] > 1 else ''})s"
    return said


def _called(part: ast.expr) -> str:
    """A name for a place, as the code has it."""
    for one in ast.walk(part):
        if isinstance(one, ast.Attribute) and one.attr not in _HOW:
            return one.attr
        if isinstance(one, ast.Name) and one.id not in _HOW:
            return one.id
    return "it"


def _named(tree: ast.Module, name: str) -> Iterator[ast.AST]:
    for one in tree.body:
        match one:
            case ast.FunctionDef(name=found) if found == name:
                yield from one.body
            case ast.Assign(targets=[ast.Name(id=found)], value=value) if found == name:
                yield value


def _every(found: ast.AST) -> Iterator[str]:
    """Each text below a branch, but what a function says of itself."""
    match found:
        case ast.Expr(value=ast.Constant()):
            return
        case ast.Dict(values=every):
            for one in every:
                yield from _every(one)
        case ast.JoinedStr(values=parts):
            yield _with_places(parts)
        case ast.Constant(value=str(text)):
            yield text
        case _:
            for one in ast.iter_child_nodes(found):
                yield from _every(one)


def _is_wordy(told: str) -> bool:
    said = "".join(one if one.isalpha() else " " for one in _without_places(told))
    return "_" not in _PLACE.sub("", told) and any(len(word) >= _WORDY for word in said.split())


def _without_places(told: str) -> str:
    return _PLACE.sub(" ", told)
