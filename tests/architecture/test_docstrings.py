"""Every public formula of the physics floor says the unit of what goes in and what comes out."""

from __future__ import annotations

import ast
import re
import tokenize
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pint
import pytest

from tests.architecture.tree import Function, modules, name_of, parsed, public_functions

# What stands in the brackets when no unit can: a name, a yes or no, a function, numbers in whatever
# unit the caller has, a record whose own fields carry their units (or that record by its name).
KINDS = {"text", "bool", "function", "unit", "record", "-"}
ENTRY = re.compile(r"(\w+(?:, \w+)*): ")
NO_UNIT = (
    *(pint.UndefinedUnitError, pint.DefinitionSyntaxError, ValueError, TypeError),
    tokenize.TokenError,  # from Python 3.12 on, of what is no expression
)
BRACKET = re.compile(r"\[([^\[\]]+)\]")
UNIT = re.compile(BRACKET.pattern + "$")


@cache
def registry() -> pint.UnitRegistry[float]:
    return pint.UnitRegistry()


@cache
def records() -> frozenset[str]:
    nodes = (node for path in modules("physics") for node in ast.walk(parsed(path)))
    return frozenset(node.name for node in nodes if isinstance(node, ast.ClassDef))


def is_unit(text: str) -> bool:
    """Whether the text is a unit: ``W/m2/K``, ``Pa s``, ``K or kg/kg``, or a kind as above."""
    try:
        for choice in set(text.split(" or ")) - KINDS - records():
            registry().parse_units(re.sub(r"(?<=[A-Za-z])(-?\d+)", r"**\1", choice))
    except NO_UNIT:
        return False
    return True


def section(docstring: str, title: str) -> list[str]:
    """The entries under a numpy-style heading, each with its continuation lines joined."""
    lines = docstring.splitlines()
    headings = [
        at for at in range(len(lines) - 1) if lines[at] and set(lines[at + 1].strip()) == {"-"}
    ]
    start = next((at for at in headings if lines[at].strip() == title), None)
    if start is None:
        return []
    end = min((at for at in headings if at > start), default=len(lines))
    entries: list[str] = []
    for line in lines[start + 2 : end]:
        if not line.strip():
            break
        prose = title == "Returns" and entries and not UNIT.search(entries[-1])
        if prose or (line.startswith(" ") and entries):
            entries[-1] += " " + line.strip()
        else:
            entries.append(line.strip())
    return entries


def without_unit(entries: list[str]) -> list[str]:
    return [entry for entry in entries if not (unit := UNIT.search(entry)) or not is_unit(unit[1])]


def documented(entries: list[str]) -> set[str]:
    heads = (ENTRY.match(entry) for entry in entries)
    return {name for head in heads if head for name in head[1].split(", ")}


def parameters(function: Function) -> dict[str, str]:
    """Each parameter with its annotation."""
    arguments = function.args
    named = [*arguments.posonlyargs, *arguments.args, *arguments.kwonlyargs]
    named += [extra for extra in (arguments.vararg, arguments.kwarg) if extra]
    return {
        argument.arg: ast.unparse(argument.annotation) if argument.annotation else ""
        for argument in named
        if argument.arg not in {"self", "cls"}
    }


def faults(function: Function) -> list[str]:
    """What a public function leaves unsaid."""
    docstring = ast.get_docstring(function) or ""
    returns = ast.unparse(function.returns) if function.returns else "None"
    taken, given = section(docstring, "Parameters"), section(docstring, "Returns")
    if not taken and not given:  # one sentence, with a unit beside each thing it names
        kinds = [*parameters(function).values(), returns]
        wanted = sum(kind not in records() | {"None", "str", "bool"} for kind in kinds)
        units = [unit for unit in BRACKET.findall(docstring) if is_unit(unit)]
        return [] if len(units) >= wanted else [f"{len(units)} units for {wanted} values"]
    found = [f"unit missing: {entry}" for entry in without_unit(taken + given)]
    found += [
        f"parameter unsaid: {name}" for name in parameters(function).keys() - documented(taken)
    ]
    found += [
        f"no such parameter: {name}" for name in documented(taken) - parameters(function).keys()
    ]
    if returns != "None" and not given:
        found.append("result unsaid")
    return found


def offered(path: Path) -> Iterator[tuple[str, Function]]:
    """Public functions, and public methods of public classes, with their names."""
    for function in public_functions(path):
        yield function.name, function
    for node in parsed(path).body:
        if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
            for part in node.body:
                if isinstance(part, Function) and not part.name.startswith("_"):
                    yield f"{node.name}.{part.name}", part


def dataclasses(path: Path) -> Iterator[ast.ClassDef]:
    for node in parsed(path).body:
        if isinstance(node, ast.ClassDef) and any(
            "dataclass" in ast.unparse(mark) for mark in node.decorator_list
        ):
            yield node


@pytest.mark.parametrize("path", modules("physics"), ids=name_of)
def test_every_formula_says_its_units(path: Path) -> None:
    unsaid = {name: faults(function) for name, function in offered(path) if faults(function)}
    assert not unsaid


@pytest.mark.parametrize("path", modules("physics"), ids=name_of)
def test_every_record_says_its_units(path: Path) -> None:
    unsaid = {}
    for node in dataclasses(path):
        docstring = ast.get_docstring(node) or ""
        entries = section(docstring, "Parameters") or section(docstring, "Attributes")
        fields = {
            part.target.id
            for part in node.body
            if isinstance(part, ast.AnnAssign) and isinstance(part.target, ast.Name)
        }
        if entries:
            gaps = without_unit(entries) + sorted(fields - documented(entries))
        else:  # a paragraph, which may name several fields before their common unit
            units = BRACKET.findall(docstring)
            gaps = [unit for unit in units if not is_unit(unit)] if units else ["no unit at all"]
        if gaps and not node.name.startswith("_"):
            unsaid[node.name] = gaps
    assert not unsaid


@pytest.mark.parametrize(
    ("unit", "known"),
    [
        ("W/m2/K", True),
        ("Pa s", True),
        ("1/s", True),
        ("K or kg/kg", True),
        ("m3/m3", True),
        ("wheelbarrow", False),
    ],
)
def test_a_unit_is_told_from_a_word(unit: str, known: bool) -> None:
    assert is_unit(unit) is known


def test_a_formula_without_its_units_is_seen() -> None:
    text = '''
def lift(volume: float, *, mass: float) -> float:
    """Lift.

    Parameters
    ----------
    volume: of the whole
        sphere [m3]
    mass: of the sphere

    Returns
    -------
    Lift [kg]
    """
'''
    (function,) = ast.parse(text).body
    assert isinstance(function, Function)
    assert faults(function) == ["unit missing: mass: of the sphere"]
