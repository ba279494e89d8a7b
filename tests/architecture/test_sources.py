"""Whatever a formula or a declared quantity calls its source is in the bibliography."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

from baitwright.sources import source_keys
from tests.architecture.tree import faults_in, modules, parsed

# "Reference: tanaka-2001, eq. 1; judgement for the joint." names two keys.
REFERENCE = re.compile(r"^Reference: (.+?)(?:\n\n|\Z)", re.MULTILINE | re.DOTALL)
KEY = re.compile(r"[a-z][a-z0-9]*(?:-[a-z0-9]+)+")  # a part without one is prose, or our own


def named_in(docstring: str) -> Iterator[str]:
    """The key at the head of each part of a docstring's reference."""
    for reference in REFERENCE.findall(docstring):
        for part in reference.split(";"):
            if key := KEY.match(part.strip()):
                yield key[0]


def keys(path: Path) -> Iterator[str]:
    """Every source key a module writes."""
    documented = (ast.Module, ast.ClassDef, ast.FunctionDef)
    for node in ast.walk(parsed(path)):
        if isinstance(node, documented):
            yield from named_in(ast.get_docstring(node) or "")
        elif (
            isinstance(node, ast.keyword)
            and node.arg in {"source", "source_key"}
            and isinstance(node.value, ast.Constant)
        ):
            yield str(node.value.value)


def test_every_source_is_in_the_bibliography() -> None:
    known = source_keys() | {"maker"}  # what the maker says needs none
    assert not faults_in(modules(), lambda path: sorted(set(keys(path)) - known))


def test_each_key_of_a_reference_is_read() -> None:
    text = "Lift.\n\nReference: tanaka-2001, eq. 1;\nmonteith-unsworth; derived here for the core."
    assert list(named_in(text)) == ["tanaka-2001", "monteith-unsworth"]
