"""A small sweep for tests, worked out by the command as a shell starts it."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

from tests.workshop.shelf import EXAMPLES

SMALL = """
recipe = "copper-wafter.toml"
bench = "bench-three-large-eggs.toml"
sizes = ["10 mm", "14 mm to 16 mm by 2 mm"]
cores = ["none", "9 mm"]
tell = ["making", "lift"]
batches = 8

[[water]]
name = "Long Reedpool"
lake = "4 C to 12 C by 4 C"

[[water]]
name = "Brack Fleet"
lake = "10 C"
salinity = "0.5 %"
"""
DESIGNS, REFUSED = 24, 4
"""Of them those of 10 mm on a core of 9 mm."""


def laid_out(folder: Path, text: str = SMALL) -> Path:
    """A sweep's file with those that it names beside it."""
    for name in ("copper-wafter", "chalk-sinker", "bench-three-large-eggs"):
        (folder / f"{name}.toml").write_bytes((EXAMPLES / f"{name}.toml").read_bytes())
    path = folder / "sweep.toml"
    path.write_text(text, encoding="utf-8")
    return path


def command(path: Path, out: Path, *more: str) -> list[str]:
    """What works a sweep out."""
    return [sys.executable, "-m", "baitwright", "sweep", str(path), "--out", str(out), *more]


_HEEDS = """
import signal
signal.signal(signal.SIGINT, signal.default_int_handler)  # who began the tests may heed none
from baitwright.cli.main import main
main()
"""


def command_that_heeds(path: Path, out: Path, *more: str) -> list[str]:
    """The same, stopped by Ctrl-C whoever began the tests."""
    return [sys.executable, "-c", _HEEDS, *command(path, out, *more)[3:]]


def worked_out(path: Path, out: Path, *more: str) -> subprocess.CompletedProcess[str]:
    """A sweep worked out from beginning to end, or from where it was stopped."""
    return subprocess.run(
        command(path, out, *more),
        capture_output=True,
        text=True,
        check=False,
        env={**os.environ, "PYTHONUTF8": "1"},
    )
