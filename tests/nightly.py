"""The checks that take hours, part by part: ``python make.py nightly [part ...]``.

A part that is done for the present commit is not done again unless it is named. Mutation takes its
mutants in a random order (``tests/judges.py``) and goes on where it stopped: after so many
(``--sample``) or after so long (``--hours``). Those tried by then are a fair sample, and it says
what their share tells of all. Each part replaces its section of ``docs/quality.md``.
"""

from __future__ import annotations

import argparse
import json
import os
import platform
import re
import shlex
import subprocess
import sys
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
from tests.judges import COUNT_AS_NOTICED, MISSED, NOTICED, PATIENCE, outcomes
from tests.mutants import Mutant, every_mutant, explanation, in_order

ROOT = Path(__file__).resolve().parents[1]
WORK = ROOT / "build" / "nightly"
QUALITY = ROOT / "docs" / "quality.md"
HEAD = """# Quality

Figures of the long checks, written by `python make.py nightly`. Each part says when it was run.
"""
CORES = {1: "one core", 2: "two cores"}
ALIKE = "nothing changed"
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


def benchmarks() -> list[str]:
    """Ours and the peers on the same work in one run, beside the goals."""
    return ["```text", *output(sys.executable, "benchmarks/run.py").splitlines(), "```"]


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


LEFT_ALONE = (
    f"Each is given {PATIENCE:.0f} s of tests, quick ones and whole plans first, then the nearest; "
    "what only others would notice counts as missed. Left alone: sentences, and the march in "
    "machine code, which a test holds equal to the one that is changed."
)


def mutation(sample: int | None = None, hours: float | None = None) -> list[str]:
    """Small changes to recipe, batch and physics: how many of them the tests notice."""
    wanted = ["--sample", str(sample)] if sample is not None else []
    wanted += ["--hours", str(hours)] if hours is not None else []
    demand(tool("tests.judges", *wanted), "mutation")
    known, order = outcomes(), in_order(every_mutant())[:sample]
    # Up to the first that waits: what lies beyond was tried before its turn.
    tried = list(takewhile(lambda mutant: mutant.name in known, order))
    demand(not tried, "mutation")
    fates = {mutant: fate(mutant, known[mutant.name][0]) for mutant in tried}
    told = told_of(list(fates.values()), len(every_mutant()))
    return [*counted(fates), "", *told, LEFT_ALONE, *missed_by(fates)]


def fate(mutant: Mutant, outcome: str) -> str:
    """What became of a mutant: noticed, missed, or missed by those who cannot notice it."""
    if outcome in COUNT_AS_NOTICED:
        return NOTICED
    return ALIKE if explanation(mutant) else MISSED


def counted(fates: dict[Mutant, str]) -> list[str]:
    """A table of outcomes by floor."""
    floors: dict[str, Counter[str]] = defaultdict(Counter)
    for mutant, became in fates.items():
        floors[mutant.floor][became] += 1
    kinds = (NOTICED, MISSED, ALIKE)
    lines = [f"| floor | tried | {' | '.join(kinds)} |", "|---" * (len(kinds) + 2) + "|"]
    for floor, counts in sorted(floors.items()):
        figures = " | ".join(str(counts[kind]) for kind in kinds)
        lines.append(f"| {floor} | {counts.total()} | {figures} |")
    return lines


def missed_by(fates: dict[Mutant, str]) -> list[str]:
    """Where the missed ones lie, by function."""
    where = Counter(f"{m.module}.{m.function}" for m, became in fates.items() if became == MISSED)
    names = (f"{name} ({count})" if count > 1 else name for name, count in sorted(where.items()))
    return ["", f"Missed in: {', '.join(names)}."] if where else []


def told_of(fates: list[str], mutants: int) -> list[str]:
    """What the share that was noticed says of all mutants: exact, at 95 % (Clopper-Pearson)."""
    of_all = "which are all" if len(fates) == mutants else f"of {mutants}, in random order"
    could = [became for became in fates if became != ALIKE]
    lines = [f"Noticed, of those tried, {of_all}: {bounds(fates)}."]
    if len(could) < len(fates):
        lines.append(
            f"Of those that change something: {bounds(could)}. The others are explained in "
            "`tests/survivors.toml`."
        )
    return lines


def bounds(fates: list[str]) -> str:
    """The share that was noticed, and the exact 95 % interval of it."""
    noticed = fates.count(NOTICED)
    ends = binomtest(noticed, len(fates)).proportion_ci(0.95, method="exact")
    interval = f"{100 * ends.low:.1f} to {100 * ends.high:.1f} %"
    return f"{share(noticed, len(fates))} (exact 95 % interval {interval})"


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
        *(benchmarks, simulation, faults, fuzz, load, sweep, mutation),
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
