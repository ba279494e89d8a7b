"""The checks that take hours, part by part: ``python make.py nightly [part ...]``.

A part that is done for the present commit is not done again unless it is named. Mutation takes its
mutants in a random order (``tests/mutants.py``) and goes on where it stopped: after so many
(``--sample``), after so long (``--hours``) or at Ctrl-C. Those tried by then are a fair sample, and
it says what their share tells of all. Each part replaces its section of ``docs/quality.md``.
"""

from __future__ import annotations

import argparse
import json
import math
import os
import platform
import re
import shlex
import signal
import subprocess
import sys
import time
from collections import Counter, defaultdict
from collections.abc import Callable, Sequence
from datetime import date
from functools import partial
from itertools import takewhile
from pathlib import Path
from xml.etree import ElementTree

from scipy.stats import binomtest

from tests import environments
from tests.fuzzing.both import FUZZ_SECONDS, guided
from tests.mutants import PATIENCE, place

ROOT = Path(__file__).resolve().parents[1]
WORK = ROOT / "build" / "nightly"
QUALITY = ROOT / "docs" / "quality.md"
HEAD = """# Quality

Figures of the long checks, written by `python make.py nightly`. Each part says when it was run.
"""
CORES = {1: "one core", 2: "two cores"}
Report = Callable[[], list[str]]


def tool(*command: str) -> int:
    """Run one of the environment's modules from the root of the tree."""
    return subprocess.run([sys.executable, "-m", *command], cwd=ROOT, check=False).returncode


def output(*command: str) -> str:
    """What a command prints."""
    return subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True).stdout


def demand(exit_code: int, what: str) -> None:
    """Stop before anything is written when a part did not succeed."""
    if exit_code:
        sys.exit(f"{what} failed; docs/quality.md keeps its former figures")


def marked(marker: str, *, at_once: int = 2) -> list[str]:
    """Run the long version of marked tests; what they recorded, or that they passed, per test."""
    results = WORK / f"{marker}.xml"
    arguments = ["-m", marker, "--long", "-n", str(at_once), f"--junitxml={results}"]
    arguments += ["-o", "junit_family=xunit1"]  # the newer one has no place for figures
    demand(tool("pytest", "-q", *arguments), marker)
    lines = ["| check | figures |", "|---|---|"]
    for case in ElementTree.parse(results).iter("testcase"):
        figures = ", ".join(
            f"{entry.get('name')}: {entry.get('value')}" for entry in case.iter("property")
        )
        name = re.sub(r"[_\s]+", " ", case.get("name", "").removeprefix("test_"))
        lines.append(f"| {name} | {figures or 'passed'} |")
    return lines


def fuzz(minutes: float = 10.0) -> list[str]:
    """Hostile input to everything that reads: ten minutes of Hypothesis, ten guided by coverage."""
    seconds = round(60 * minutes)
    os.environ[FUZZ_SECONDS] = str(seconds)
    return [*marked("fuzz"), *guided(seconds)]


def faults() -> list[str]:
    """Disk and server fail at every call of every deed: all or nothing, and once more does."""
    return marked("faults")


def simulation() -> list[str]:
    """Invented batches with a known truth: how often the bands hold it."""
    return marked("simulation")


def load() -> list[str]:
    """Many at once on the web workshop: nothing lost, how fast beside the bare plan, and memory."""
    return marked("load", at_once=1)  # each of them counts on the whole machine


def sweep() -> list[str]:
    """Five thousand designs in one table, killed and gone on with: pace, memory, every byte."""
    return marked("sweep", at_once=1)


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


UNTRIED = "not checked"
FIRST = "baitwright.recipe.levels.x_read_level__mutmut_1"
"""The mutant whose run makes all of them and times the tests."""
LEFT_ALONE = (
    f"Each is given {PATIENCE:.0f} s of tests, nearest and quickest first; what only others would "
    "notice counts as missed. Left alone: sentences, properties, and functions under any decorator "
    "but `@declared`."
)


def mutation(sample: int | None = None, hours: float | None = None) -> list[str]:
    """Small changes to recipe, batch and physics: how many of them the tests notice."""
    until = math.inf if hours is None else time.monotonic() + 3600 * hours
    made = outcomes()
    if not made:  # a first run makes all mutants and times the tests
        demand(tool("tests.mutants", "run", FIRST), "mutation")
        made = outcomes()
    going = True
    while going and (waiting := [name for name in in_order(made, sample) if made[name] == UNTRIED]):
        going = attempted(waiting if sample is not None else [], until)
        made = outcomes()  # of changed code the mutants wait again, so there may be more to do
    # Up to the first that waits: what lies beyond was tried before its turn.
    tried = list(takewhile(lambda name: made[name] != UNTRIED, in_order(made, sample)))
    demand(not tried, "mutation")
    return [
        *counted(made, tried),
        "",
        told_of([made[name] for name in tried], len(made)),
        LEFT_ALONE,
    ]


def in_order(made: dict[str, str], sample: int | None) -> list[str]:
    """The mutants that are wanted, in the random order that they keep."""
    return sorted(made, key=place)[:sample]


def attempted(mutants: list[str], until: float) -> bool:
    """Let mutmut try these, or all; whether it came to the end before it was stopped."""
    process = subprocess.Popen([sys.executable, "-m", "tests.mutants", "run", *mutants], cwd=ROOT)
    try:
        code = process.wait(None if until == math.inf else until - time.monotonic())
    except (subprocess.TimeoutExpired, KeyboardInterrupt) as stop:
        if isinstance(stop, subprocess.TimeoutExpired):  # Ctrl-C has reached it by itself
            process.send_signal(signal.SIGINT)
        process.wait()
        return False
    demand(max(code, 0), "mutation")
    return code == 0  # below, it was ended by a signal


def outcomes() -> dict[str, str]:
    """What became of every mutant, by its name."""
    results = output(sys.executable, "-m", "tests.mutants", "results", "--all", "true")
    return dict(re.findall(r"(baitwright\.\S+): (.+)", results))


def counted(made: dict[str, str], chosen: list[str]) -> list[str]:
    """A table of outcomes by floor."""
    floors: dict[str, Counter[str]] = defaultdict(Counter)
    for name in chosen:
        floors[name.split(".")[1]][made[name]] += 1
    kinds = sorted({kind for counts in floors.values() for kind in counts})
    lines = [f"| floor | tried | {' | '.join(kinds)} |", "|---" * (len(kinds) + 2) + "|"]
    for floor, counts in sorted(floors.items()):
        figures = " | ".join(str(counts[kind]) for kind in kinds)
        lines.append(f"| {floor} | {counts.total()} | {figures} |")
    return lines


def told_of(tried: list[str], mutants: int) -> str:
    """What the share that was noticed says of all mutants: exact, at 95 % (Clopper-Pearson)."""
    noticed = sum(outcome in ("killed", "timeout") for outcome in tried)
    said = f"Noticed: {share(noticed, len(tried))} tried"
    if len(tried) == mutants:
        return f"{said}, which are all."
    ends = binomtest(noticed, len(tried)).proportion_ci(0.95, method="exact")
    return (
        f"{said}, the first of {mutants} in random order: of all, {100 * ends.low:.1f} to "
        f"{100 * ends.high:.1f} % (exact 95 % interval)."
    )


def lowest(tests: Sequence[str] = environments.WHOLE) -> list[str]:
    """The tests with the oldest releases that the package claims to work with."""
    return in_environment(environments.lowest, tests)


def newest(tests: Sequence[str] = environments.WHOLE) -> list[str]:
    """The tests with the newest releases there are, whose deprecations are errors."""
    return in_environment(environments.newest, tests)


def pythons(tests: Sequence[str] = environments.WHOLE) -> list[str]:
    """The tests on the lock with the other Pythons that the package claims to work with."""
    return in_environment(environments.pythons, tests)


def in_environment(run: Callable[[Sequence[str]], list[str]], tests: Sequence[str]) -> list[str]:
    """What another environment tells, or which of its steps failed."""
    try:
        return run(tests)
    except environments.FailedError as failed:
        sys.exit(f"{failed} failed; docs/quality.md keeps its former figures")


def licences() -> list[str]:
    """Which distribution is here for what, and under which licence: `docs/licences.md`."""
    demand(tool("tests.licences"), "licences")
    demand(tool("pytest", "-q", "tests/docs/test_licences.py"), "licences")
    return ["All that the program needs has a licence of the named list; see `licences.md`."]


PARTS: dict[str, Report] = {
    part.__name__: part
    for part in (
        *(licences, coverage, lowest, newest, pythons),
        *(simulation, faults, fuzz, load, sweep, mutation),
    )
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
    parser.add_argument("--sample", type=int, help="mutants to try, drawn at random")
    parser.add_argument("--hours", type=float, help="how long to try mutants")
    parser.add_argument("--minutes", type=float, default=10.0, help="of fuzzing, to each engine")
    parser.add_argument("--tests", help="what goes to pytest in other environments, in quotes")
    asked = parser.parse_args()
    if asked.sample is not None and asked.sample < 1:
        parser.error("--sample: one mutant at least")
    PARTS["mutation"] = partial(mutation, asked.sample, asked.hours)
    PARTS["fuzz"] = partial(fuzz, asked.minutes)
    if asked.tests:
        for name, part in (("lowest", lowest), ("newest", newest), ("pythons", pythons)):
            PARTS[name] = partial(part, shlex.split(asked.tests))
    WORK.mkdir(parents=True, exist_ok=True)
    commit = output("git", "rev-parse", "HEAD").strip()
    for part in asked.parts or PARTS:
        done = WORK / f"{part}.done"
        if not asked.parts and done.exists() and done.read_text(encoding="utf-8") == commit:
            continue
        print(f"-> {part}", flush=True)
        lines = PARTS[part]()
        write(part, lines)
        if part != "mutation" or not asked.sample:
            done.write_text(commit, encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
