"""Every threat that the documentation tells names the test that shows what stands against it."""

from __future__ import annotations

import ast
import re

from tests.architecture.tree import ROOT

TEXT = (ROOT / "docs" / "security.md").read_text(encoding="utf-8")
ROWS = [
    line
    for line in TEXT.splitlines()
    if line.startswith("| ") and not line.startswith("| threat |")
]


def test_every_row_names_a_test_that_exists() -> None:
    assert len(ROWS) > 60
    missing = []
    for row in ROWS:
        named = re.search(r"\| `(tests/[\w/]+\.py)::(test_\w+)` \|$", row)
        assert named is not None, row
        path = ROOT / named[1]
        tree = ast.parse(path.read_text(encoding="utf-8")) if path.exists() else ast.Module([], [])
        tests = {node.name for node in tree.body if isinstance(node, ast.FunctionDef)}
        if named[2] not in tests:
            missing.append(named[0])
    assert not missing


def test_every_row_tells_threat_and_answer() -> None:
    for row in ROWS:
        threat, answer, _ = (cell.strip() for cell in row.strip("|").split(" | "))
        assert threat
        assert answer
