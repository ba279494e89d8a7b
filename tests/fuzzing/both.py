"""Both engines on every target: ``python -m tests.fuzzing.both --seconds 30``.

Hypothesis makes inputs from what is known of each target, libFuzzer from what they reach in the
code. Exit code 1 where either found a fault.
"""

from __future__ import annotations

import argparse
import os
import re
import subprocess
import sys

from tests.fuzzing.target import ROOT

FAULTS = ROOT / "build" / "fuzz" / "faults" / "all"
FUZZ_SECONDS = "FUZZ_SECONDS"
"""Of Hypothesis in the long run, shared by all targets; ten minutes where it is not told."""


def guided(seconds: int) -> list[str]:
    """Let libFuzzer try all targets in one process; its figures as rows of a table.

    Raises
    ------
    SystemExit: it found a fault, or did not run.
    """
    command = [sys.executable, "-m", "tests.fuzzing.guided", "all", "--seconds", str(seconds)]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    found = sorted(path.name for path in FAULTS.glob("*") if path.suffix != ".input")
    if done.returncode or found:
        sys.exit(f"{done.stderr[-2000:]}\nfaults in {FAULTS}: {', '.join(found) or 'none noted'}")
    return figures(done.stderr, seconds)


def figures(said: str, seconds: int) -> list[str]:
    """What libFuzzer says at its end, as rows of a table."""
    runs = re.findall(r"#(\d+)\s+DONE\s+cov: (\d+) ft: (\d+) corp: (\d+)", said)
    if not runs:
        sys.exit(f"libFuzzer did not come to its end:\n{said[-2000:]}")
    executed, edges, features, kept = runs[-1]
    told = (
        f"{seconds} s, executions: {executed}, branches reached: {edges}, "
        f"features: {features}, inputs kept: {kept}, faults: 0"
    )
    return [f"| guided by coverage, all targets | {told} |"]


def by_hypothesis(seconds: int) -> int:
    """Let Hypothesis try every target in turn; pytest's exit code."""
    command = [sys.executable, "-m", "pytest", "-q", "--long", "-m", "fuzz", "tests/fuzzing"]
    environment = {**os.environ, FUZZ_SECONDS: str(seconds)}
    return subprocess.run(command, cwd=ROOT, env=environment, check=False).returncode


def main() -> None:
    """Try both for a while, each half of it."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seconds", type=int, default=30)
    asked = parser.parse_args()
    if code := by_hypothesis(asked.seconds // 2):
        sys.exit(code)
    if sys.platform != "linux":
        sys.exit("guided by coverage: left out, for atheris is for Linux only")
    print(*guided(asked.seconds // 2), sep="\n")


if __name__ == "__main__":
    main()
