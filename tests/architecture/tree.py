"""The source tree as the tests of this folder read it: modules, functions, floors."""

from __future__ import annotations

import ast
import subprocess
from collections.abc import Callable, Iterable, Iterator
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "src" / "baitwright"
PURE_FLOORS = (
    "terms",
    "quantities",
    "sources",
    "physics",
    "uncertainty",
    "materials",
    "recipe",
    "batch",
    "ledger",
    "blending",
    "learning",
    "advice",
    "schedule",
)
Function = ast.FunctionDef | ast.AsyncFunctionDef


@cache
def parsed(path: Path) -> ast.Module:
    """One module's syntax tree."""
    return ast.parse(path.read_text(encoding="utf-8"), filename=str(path))


def modules(*rooms: str) -> list[Path]:
    """Every module of the package, or of these rooms and root modules."""
    if not rooms:
        return sorted(PACKAGE.rglob("*.py"))
    found = [path for room in rooms for path in (PACKAGE / room).rglob("*.py")]
    return sorted(found + [PACKAGE / f"{room}.py" for room in rooms if _is_module(room)])


def _is_module(room: str) -> bool:
    return (PACKAGE / f"{room}.py").exists()


def name_of(path: Path) -> str:
    """How a module is called in a test's id."""
    return path.relative_to(ROOT).as_posix()


def faults_in(
    paths: Iterable[Path], faults: Callable[[Path], Iterable[str]]
) -> dict[str, list[str]]:
    """What a check finds wrong, by module; none that passes is in it."""
    found = {name_of(path): list(faults(path)) for path in paths}
    return {name: wrong for name, wrong in found.items() if wrong}


def functions(path: Path) -> Iterator[Function]:
    """Every function of a module, methods and nested ones too."""
    for node in ast.walk(parsed(path)):
        if isinstance(node, Function):
            yield node


def public_functions(path: Path) -> Iterator[Function]:
    """The functions a module offers: top level, no leading underscore."""
    for node in parsed(path).body:
        if isinstance(node, Function) and not node.name.startswith("_"):
            yield node


def tracked_files() -> list[Path]:
    """Every file that is, or is about to be, in the repository."""
    listing = ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"]
    done = subprocess.run(listing, cwd=ROOT, capture_output=True, text=True, check=True)
    paths = (ROOT / name for name in done.stdout.split("\0") if name)
    return sorted(path for path in paths if path.is_file())
