"""What a newcomer reads about jobs and dependencies is what there is."""

from __future__ import annotations

import re
import subprocess
import sys

from tests.architecture.declared import groups, locked, names, pyproject, run_time
from tests.architecture.tree import ROOT


def test_every_dependency_has_its_line_with_a_licence() -> None:
    text = (ROOT / "docs" / "dependencies.md").read_text(encoding="utf-8")
    rows = dict(re.findall(r"^\| ([\w-]+) \| (.+) \|$", text, flags=re.MULTILINE))
    rows.pop("package")
    assert set(rows) == run_time() | groups()
    for name, row in rows.items():
        assert re.search(r"MIT|BSD|Apache|MPL|GPL", row), name
    brought = (
        locked("run.txt").keys() - run_time() - names(pyproject()["dependency-groups"]["build"])
    )
    builders = {"packaging", "pathspec", "pluggy", "tomlkit", "trove-classifiers"}  # for hatchling
    assert not [name for name in brought - builders if f"{name} (" not in text]


def test_every_job_is_offered_by_make_and_explained() -> None:
    listing = subprocess.run(
        [sys.executable, "make.py"], cwd=ROOT, capture_output=True, text=True, check=False
    )
    jobs = {line.split()[0] for line in listing.stdout.splitlines()}
    assert "run" in jobs
    makefile = (ROOT / "Makefile").read_text(encoding="utf-8")
    targets = re.search(r"^\.PHONY: (.+)$", makefile, flags=re.MULTILINE)
    assert targets is not None
    assert set(targets[1].split()) == jobs
    contributing = (ROOT / "CONTRIBUTING.md").read_text(encoding="utf-8")
    assert set(re.findall(r"`make (\w+)`", contributing)) == jobs
