"""The checks that take hours, part by part: ``python make.py nightly [part ...] [--minutes N]``.

A part that is done for the present commit is not done again unless it is named. Mutation goes on
where it stopped; with ``--minutes`` it stops by itself and reports how far it came. Each part
replaces its section of ``docs/quality.md``.
"""

from __future__ import annotations

import argparse
import json
import os
import platform
import re
import signal
import subprocess
import sys
from collections import Counter, defaultdict
from collections.abc import Callable
from datetime import date
from functools import partial
from pathlib import Path
from xml.etree import ElementTree

ROOT = Path(__file__).resolve().parents[1]
WORK = ROOT / "build" / "nightly"
QUALITY = ROOT / "docs" / "quality.md"
HEAD = """# Quality

Figures of the long checks, written by `python make.py nightly`. Each part says when it was run.
"""
CORES = {1: "one core", 2: "two cores"}
Report = Callable[[], list[str]]


def tool(*command: str, seconds: float | None = None) -> int:
    """Run one of the environment's modules from the root of the tree, and stop it in time."""
    with subprocess.Popen([sys.executable, "-m", *command], cwd=ROOT) as process:
        try:
            return process.wait(seconds)
        except subprocess.TimeoutExpired:
            process.send_signal(signal.SIGINT)
        # A background job is deaf to the interrupt: end it when it does not go by itself.
        try:
            process.wait(30.0)
        except subprocess.TimeoutExpired:
            process.terminate()
        return 0


def output(*command: str) -> str:
    """What a command prints."""
    return subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True).stdout


def demand(exit_code: int, what: str) -> None:
    """Stop before anything is written when a part did not succeed."""
    if exit_code:
        sys.exit(f"{what} failed; docs/quality.md keeps its former figures")


def marked(marker: str) -> list[str]:
    """Run the long version of marked tests; what they recorded, or that they passed, per test."""
    results = WORK / f"{marker}.xml"
    arguments = ["-m", marker, "--long", "-n", "2", f"--junitxml={results}"]
    demand(tool("pytest", "-q", *arguments), marker)
    lines = ["| check | figures |", "|---|---|"]
    for case in ElementTree.parse(results).iter("testcase"):
        figures = ", ".join(
            f"{entry.get('name')}: {entry.get('value')}" for entry in case.iter("property")
        )
        name = re.sub(r"[_\s]+", " ", case.get("name", "").removeprefix("test_"))
        lines.append(f"| {name} | {figures or 'passed'} |")
    return lines


def fuzz() -> list[str]:
    """Hostile input, many times over."""
    return marked("fuzz")


def simulation() -> list[str]:
    """Invented batches with a known truth: how often the bands hold it."""
    return marked("simulation")


def coverage() -> list[str]:
    """Lines and branches the tests reach, per floor."""
    demand(tool("coverage", "run", "-m", "pytest", "-q"), "coverage")
    report = WORK / "coverage.json"
    tool("coverage", "json", "--quiet", "-o", str(report))
    floors: dict[str, Counter[str]] = defaultdict(Counter)
    for name, figures in json.loads(report.read_text(encoding="utf-8"))["files"].items():
        inside = Path(name).parts[Path(name).parts.index("baitwright") + 1 :]
        floors[inside[0].removesuffix(".py")].update(
            {key: int(value) for key, value in figures["summary"].items() if "percent" not in key}
        )
    lines = ["| floor | lines | branches |", "|---|---|---|"]
    for floor, sums in sorted(floors.items()):
        reached = share(sums["covered_lines"], sums["num_statements"])
        lines.append(
            f"| {floor} | {reached} | {share(sums['covered_branches'], sums['num_branches'])} |"
        )
    return lines


def share(part: int, whole: int) -> str:
    """A part of a whole in percent, with the whole beside it."""
    return f"{100 * part / whole:.1f} % of {whole}" if whole else "-"


def mutation(minutes: float | None = None) -> list[str]:
    """Small changes to recipe, batch and physics: how many of them the tests notice."""
    demand(tool("mutmut", "run", seconds=minutes and 60.0 * minutes), "mutation")
    outcomes: dict[str, Counter[str]] = defaultdict(Counter)
    results = output(sys.executable, "-m", "mutmut", "results", "--all", "true")
    for floor, outcome in re.findall(r"baitwright\.(\w+)\.\S+: (.+)", results):
        outcomes[floor][outcome] += 1
    kinds = sorted({kind for counts in outcomes.values() for kind in counts})
    lines = [f"| floor | mutants | {' | '.join(kinds)} |", "|---" * (len(kinds) + 2) + "|"]
    for floor, counts in sorted(outcomes.items()):
        figures = " | ".join(str(counts[kind]) for kind in kinds)
        lines.append(f"| {floor} | {counts.total()} | {figures} |")
    return lines


def lowest() -> list[str]:
    """The tests with the oldest releases that the package claims to work with."""
    environment, bounds = WORK / "lowest", WORK / "lowest.txt"
    python = environment / ("Scripts" if os.name == "nt" else "bin") / "python"
    oldest = ["--resolution", "lowest-direct", "--quiet", "--no-header", "--no-annotate"]
    demand(tool("uv", "pip", "compile", "pyproject.toml", *oldest, "-o", str(bounds)), "lowest")
    demand(tool("uv", "venv", "--quiet", "--clear", str(environment)), "lowest")
    install = ["uv", "pip", "install", "--quiet", "--python", str(python)]
    wanted = ["--group", "test", "--group", "oracle", "--group", "build", "-e", "."]
    demand(tool(*install, "--constraint", str(bounds), *wanted), "lowest")
    tests = subprocess.run([python, "-m", "pytest", "-q", "-n", "2"], cwd=ROOT, check=False)
    demand(tests.returncode, "lowest")
    return [f"All tests pass with {', '.join(bounds.read_text(encoding='utf-8').split())}."]


PARTS: dict[str, Report] = {
    part.__name__: part for part in (coverage, lowest, simulation, fuzz, mutation)
}
ABOUT = {name: (part.__doc__ or "").strip() for name, part in PARTS.items()}


def write(part: str, lines: list[str]) -> None:
    """Put a part's figures under its heading in docs/quality.md, and leave the others alone."""
    text = QUALITY.read_text(encoding="utf-8") if QUALITY.exists() else HEAD
    cores = os.cpu_count() or 1
    machine = f"{CORES.get(cores, f'{cores} cores')}, {platform.machine()}"
    python = ".".join(platform.python_version_tuple()[:2])
    title = f"## {part.capitalize()}\n"
    body = [
        title,
        ABOUT[part],
        "",
        f"{date.today().isoformat()}, {machine}, Python {python}.",
        "",
        *lines,
        "",
    ]
    section = "\n".join(body)
    others = re.split(r"(?=^## )", text, flags=re.MULTILINE)
    kept = [other.rstrip() + "\n" for other in others if not other.startswith(title)]
    sections = sorted([*kept[1:], section])
    QUALITY.write_text("\n".join([kept[0], *sections]), encoding="utf-8")


def main() -> int:
    """Run the named parts, or those not yet done for this commit."""
    parser = argparse.ArgumentParser(prog="make.py nightly", description=__doc__)
    parser.add_argument("parts", nargs="*", choices=[[], *PARTS])
    parser.add_argument("--minutes", type=float, help="stop mutation then")
    asked = parser.parse_args()
    if asked.minutes:
        PARTS["mutation"] = partial(mutation, asked.minutes)
    WORK.mkdir(parents=True, exist_ok=True)
    commit = output("git", "rev-parse", "HEAD").strip()
    for part in asked.parts or PARTS:
        done = WORK / f"{part}.done"
        if not asked.parts and done.exists() and done.read_text(encoding="utf-8") == commit:
            continue
        print(f"-> {part}", flush=True)
        lines = PARTS[part]()
        write(part, lines)
        if "not checked" not in lines[0]:
            done.write_text(commit, encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
