"""The light commands answer at once, because they load nothing heavy: names are held, not times."""

from __future__ import annotations

import subprocess
import sys

import pytest

from benchmarks.processes import LEVELS
from tests.architecture.tree import ROOT

HEAVY = ("icalendar", "jinja2", "numpy", "pydantic", "rich", "scipy", "segno", "typst")
# The command itself, then what it left loaded; a first word of its own tells the line from output.
RUN = f"""
import sys
from baitwright.cli.main import main
status = 0
try:
    main()
except SystemExit as end:
    status = end.code
print("LOADED", *sorted({{name.split(".")[0] for name in sys.modules}} & set({HEAVY!r})))
sys.exit(status)
"""


def loaded_by(*arguments: str) -> list[str]:
    """Heavy libraries loaded by a command that succeeds."""
    command = [sys.executable, "-c", RUN, *arguments]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    first, *names = done.stdout.splitlines()[-1].split()
    assert first == "LOADED"
    return names


@pytest.mark.parametrize("arguments", [["--help"], ["--version"], LEVELS], ids=" ".join)
def test_a_light_command_loads_nothing_heavy(arguments: list[str]) -> None:
    assert not loaded_by(*arguments)


def test_a_heavy_library_would_be_seen() -> None:
    command = [sys.executable, "-c", f"import numpy\n{RUN}", "--help"]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == "LOADED numpy"
