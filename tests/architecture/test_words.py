"""What must not stand in any file of the project, and what must never be printed."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.architecture.tree import ROOT, faults_in, modules, name_of, parsed, tracked_files

TEXT = [path for path in tracked_files() if path.suffix not in {".mo", ".pdf", ".png"}]
PRINTED = [
    path
    for path in TEXT
    if path.is_relative_to(ROOT / "src") and path.suffix in {".csv", ".toml", ".typ"}
]
# A promise that no recipe can keep.
PROMISE = re.compile(r"\b(?:safe|compliant)\b", re.IGNORECASE)
MACHINE_PATH = re.compile(
    r"(?<![\w.~/)}\]-])/(?:home|mnt|opt|private|root|tmp|Users|work|workspace)/\w|[A-Z]:\\\w"
)
REGISTRY = re.compile(
    r"https?://\S*/simple\b|\b(?:index|find)[-_](?:url|links)\b|\bpy" r"pi\.\w|python" r"hosted",
    re.IGNORECASE,
)


def lines_with(pattern: re.Pattern[str], paths: list[Path]) -> list[str]:
    return [
        f"{name_of(path)}:{at}: {line[:120]}"
        for path in paths
        for at, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1)
        if pattern.search(line)
    ]


@pytest.mark.parametrize("pattern", [MACHINE_PATH, REGISTRY], ids=["machine", "registry"])
def test_no_file_names_a_machine_or_a_registry(pattern: re.Pattern[str]) -> None:
    assert not lines_with(pattern, TEXT)


def promises(path: Path) -> Iterator[str]:
    for node in ast.walk(parsed(path)):
        match node:
            case ast.Constant(value=str(said)) if PROMISE.search(said):
                yield f"{node.lineno}: {said[:120]}"


def test_no_sentence_of_the_program_promises() -> None:
    assert not faults_in(modules(), promises)


def test_no_table_and_no_sheet_promises() -> None:
    assert not lines_with(PROMISE, PRINTED)


@pytest.mark.parametrize("part", ["home", "opt", "tmp", "work"])
def test_a_machine_path_is_seen(part: str) -> None:
    assert MACHINE_PATH.search(f"cd /{part}/anna/baits")
    assert not MACHINE_PATH.search(f"build/{part}/anna and notes.{part}/x")


def test_no_lock_that_holds_hosts() -> None:
    assert not {path.name for path in TEXT} & {"uv.lock", "pylock.toml"}
