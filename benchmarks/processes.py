"""Cold processes: what a maker waits for, from the command to the prompt."""

from __future__ import annotations

import shutil
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path
from statistics import median
from time import perf_counter

ROOT = Path(__file__).resolve().parents[1]
ROUNDS = 7
DEMO = ["plan", "examples/copper-wafter.toml", "examples/bench-three-large-eggs.toml"]
LEVELS = ["levels", "--egg", "40 ml", "0.2 ml per egg of 50 ml", "1.0 ml per egg of 50 ml"]


@dataclass(frozen=True)
class Command:
    """A command line of ours and the time it should stay under, in ms; no goal for a yardstick."""

    name: str
    arguments: list[str]
    goal_ms: float | None


def commands(out: str) -> list[Command]:
    """What is timed, the bare interpreter first."""
    ours = [shutil.which("baitwright", path=Path(sys.executable).parent) or "baitwright"]
    return [
        Command("bare interpreter", [sys.executable, "-c", "pass"], None),
        Command("--help", [*ours, "--help"], 60.0),
        Command("levels", [*ours, *LEVELS], 60.0),
        Command("plan, no paper", [*ours, *DEMO, "--json"], None),
        Command("plan, sheet, files", [*ours, *DEMO, "--out", out], 800.0),
    ]


def milliseconds(command: Command) -> float:
    """Wall time of one process; a command that fails stops the benchmark with its own words."""
    began = perf_counter()
    done = subprocess.run(command.arguments, cwd=ROOT, capture_output=True, check=False)
    took = 1e3 * (perf_counter() - began)
    if done.returncode:
        sys.exit(f"{command.name} ended with {done.returncode}: {done.stderr.decode()[-800:]}")
    return took


def report(rounds: int = ROUNDS) -> list[str]:
    """One line per command, its median beside its goal; last, what paper costs."""
    with tempfile.TemporaryDirectory() as out:
        timed = commands(out)
        runs = [[milliseconds(command) for command in timed] for _ in range(rounds)]
    medians = {c.name: median(run[at] for run in runs) for at, c in enumerate(timed)}
    lines = [f"cold processes, median of {rounds} interleaved rounds"]
    for command in timed:
        goal = f"goal {command.goal_ms:.0f} ms" if command.goal_ms else ""
        lines.append(f"  {command.name:20}{medians[command.name]:8.0f} ms  {goal}".rstrip())
    paper = medians["plan, sheet, files"] - medians["plan, no paper"]
    lines.append(f"  {'sheet and files':20}{paper:8.0f} ms  goal 150 ms")
    return lines


if __name__ == "__main__":
    print("\n".join(report()))
