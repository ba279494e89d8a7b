"""The example in Python runs as it stands, and says what its words promise."""

from __future__ import annotations

import runpy
from itertools import pairwise

import pytest

from tests.architecture.tree import ROOT


def test_the_season_runs_and_its_bands_narrow(capsys: pytest.CaptureFixture[str]) -> None:
    told = runpy.run_path(str(ROOT / "examples" / "season.py"))
    widths = told["widths"]
    assert len(widths) == len(told["season"])
    assert all(later < earlier for earlier, later in pairwise(widths))
    printed = capsys.readouterr().out
    assert printed.count("inside their bands") == len(widths)
    assert "15 mm: lift +" in printed
    assert [name for name in ("bait", "day", "lift") if f"{name} " not in printed] == []
