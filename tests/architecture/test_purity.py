"""The pure floors read no clock, throw no dice, and ask the machine nothing."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.architecture.tree import PURE_FLOORS, faults_in, modules, parsed

IMPURE_MODULES = {"os", "random", "secrets", "socket", "subprocess", "time", "uuid"}
IMPURE_ATTRIBUTES = {"default_rng", "getrandbits", "now", "perf_counter", "today", "utcnow"}
IMPURE_CALLS = {"input", "open", "print"}


def impurities(tree: ast.Module) -> Iterator[str]:
    """Each place that reads the world outside the request, as ``line: what``."""
    for node in ast.walk(tree):
        match node:
            case ast.Import(names=names):
                found = {name.name.split(".")[0] for name in names} & IMPURE_MODULES
            case ast.ImportFrom(module=str(module), level=0):
                found = {module.split(".")[0]} & IMPURE_MODULES
            case ast.Call(func=ast.Attribute(attr=name)):
                found = {name} & IMPURE_ATTRIBUTES
            case ast.Call(func=ast.Name(id=name)):
                found = {name} & IMPURE_CALLS
            case _:
                continue
        yield from (f"{node.lineno}: {name}" for name in sorted(found))


def test_a_pure_module_reads_nothing_but_its_arguments() -> None:
    assert not faults_in(modules(*PURE_FLOORS), lambda path: impurities(parsed(path)))


@pytest.mark.parametrize(
    "line",
    [
        "import time",
        "from random import gauss",
        "import os.path",
        "made = datetime.now()",
        "made = datetime.datetime.now(UTC)",
        "made = date.today()",
        "draws = np.random.default_rng(1)",
        "print('here')",
    ],
)
def test_each_impurity_is_seen(line: str) -> None:
    assert list(impurities(ast.parse(line)))


OWN = "baitwright"
WAITS = "standing.py"
"""What the web door holds open: it answers before there is a notebook, and without its store."""


def imported_late(path: Path) -> Iterator[str]:
    """Own rooms that a function or a class of a module imports when it is called."""
    if path.name in ("__init__.py", WAITS) or {"cli", "web"} & set(path.parts):
        return
    for top in parsed(path).body:
        if isinstance(top, ast.FunctionDef | ast.ClassDef):
            for node in ast.walk(top):
                if isinstance(node, ast.ImportFrom) and (node.module or "").startswith(OWN):
                    yield f"{node.lineno}: {node.module}"


def test_own_rooms_are_imported_at_the_top() -> None:
    """Only the doors and a room's own `__init__` may put off an import, to answer at once."""
    assert not faults_in(modules(), imported_late)


def test_a_late_import_is_seen(tmp_path: Path) -> None:
    module = tmp_path / "late.py"
    module.write_text("def f():\n    from baitwright.batch import plan\n", encoding="utf-8")
    assert list(imported_late(module)) == ["2: baitwright.batch"]
