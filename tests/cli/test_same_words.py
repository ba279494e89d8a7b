"""The same files give the same words, in whatever order a process happens to keep its sets."""

from __future__ import annotations

import os
import subprocess
import sys

from tests.cli.test_commands import EXAMPLES

COMMANDS = (
    "plan copper-wafter.toml bench-three-large-eggs.toml --draws 64 --explain dry_mix",
    "plan copper-wafter.toml bench-three-large-eggs.toml --draws 64 --json",
    "balance copper-wafter.toml bench-rig.toml",
    'boil copper-wafter.toml --sizes "14 mm, 15 mm" --cores "none, 9 mm"',
    'levels "0.2 ml per egg of 50 ml" --eggs "3 x 40 ml"',
    "mix analyse copper-mix.toml",
    "mix design copper-wishes.toml",
    "mix mend copper-wafter.toml --without liver-powder",
    "cautions recipe copper-wafter.toml --country GB --selling",
)
_TYPED = """
import shlex, sys
from datetime import datetime
from click.testing import CliRunner
from baitwright.cli.main import ENVIRONMENT, cli
from baitwright.workshop.opening import notebook_care
from baitwright.workshop.typed import clock
NOON = datetime(2026, 11, 26, 12)  # for both: a minute may turn between one process and the other
clock.wall_clock, notebook_care.clock_with_zone = lambda: NOON, NOON.astimezone
for line in sys.argv[1:]:
    done = CliRunner().invoke(cli, shlex.split(line), auto_envvar_prefix=ENVIRONMENT)
    print(line, f"exit code {done.exit_code}", done.output, sep="\\n")
"""


def printed(seed: str) -> list[str]:
    """What a process with its own order of sets prints for all of them."""
    done = subprocess.run(
        [sys.executable, "-c", _TYPED, *COMMANDS],
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=True,
        cwd=EXAMPLES,
        env={**os.environ, "PYTHONUTF8": "1", "PYTHONHASHSEED": seed},
    )
    return done.stdout.splitlines()


def test_words_hang_on_no_order_of_sets() -> None:
    told, again = printed("1"), printed("2")
    assert told.count("exit code 0") == len(COMMANDS)
    assert "2026-11-26T12:00:00" in "".join(told)
    assert [pair for pair in zip(told, again, strict=True) if pair[0] != pair[1]] == []
