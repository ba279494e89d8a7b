"""Which changes to the formulas the tests notice: ``python -m tests.judges --sample 600``.

All tests are loaded once. Each is run once by itself, to see which lines it reaches and what it
takes; that is kept in `build/` until the code or its own file changes. Then every mutant
(``tests/mutants.py``) has a process of its own, split off from the one that holds everything ready.
It runs the tests that reach the changed lines, quick ones first, then whole plans, then those that
import its module, until one fails or `PATIENCE` ends; what only later ones would notice counts as
missed.

Times are of the processor, so that a busy machine changes no outcome. A test that fails is asked
once without the change as well, and judges no more if it fails there too.
"""

from __future__ import annotations

import argparse
import ast
import gc
import importlib
import json
import math
import os
import signal
import sys
import time
import traceback
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator
from contextlib import suppress
from dataclasses import dataclass, field
from fnmatch import fnmatchcase
from functools import cache, partial
from hashlib import sha256
from itertools import accumulate, islice
from pathlib import Path
from typing import Any

import pytest

from tests.mutants import (
    ROOT,
    SEED,
    Mutant,
    difference,
    every_mutant,
    files,
    in_order,
    put_in,
    running,
    statement_lines,
    undressed_file,
)

ROOMS = ("tests/recipe", "tests/batch", "tests/physics", "tests/published", "tests/regression")
WORK = ROOT / "build" / "nightly"
OUTCOMES = WORK / "mutants.jsonl"
WHOLE = "tests/regression/test_frozen_plans.py"
"""Tells every number of whole plans, so it is asked before all that are not quick."""
PATIENCE = 20.0
"""Seconds of tests that a mutant has to live through."""
QUICK = 0.05
"""Seconds of a test that any mutant it reaches is given."""
SLACK, TENFOLD = 5.0, 10.0
"""Seconds on top, and times as long as without a change, that a test may take before it is over."""
MEMORY = 8 << 30
"""Bytes that a mutant may ask for."""
TIME_IS_UP = "time is up"
HEAVY = ("baitwright", "scipy", "numpy", "pydantic", "typst", "icalendar", "CoolProp", "numba")
"""Packages that some test loads only when it runs: loaded once for all."""
NOTICED, ENDLESS, CRASHED, MISSED, UNREACHED = (
    "noticed",
    "endless",
    "crashed",
    "missed",
    "unreached",
)
COUNT_AS_NOTICED = (NOTICED, ENDLESS, CRASHED)


def digest(paths: Iterable[Path]) -> str:
    """One number for all these files; another once any of them has changed."""
    return sha256(b"".join(path.read_bytes() for path in sorted(paths))).hexdigest()[:16]


@cache
def all_code() -> str:
    """One number for everything that stands behind the tests, but not for the tests themselves."""
    beside = [path for path in (ROOT / "tests").glob("*/*.py") if not path.name.startswith("test_")]
    behind = [path for path in (ROOT / "src").rglob("*.*") if "__pycache__" not in path.parts]
    return digest([*behind, *beside, ROOT / "tests" / "conftest.py"])


def forget(*rooms: str) -> None:
    """Empty every cache of the functions of these rooms."""
    kept = type(cache(forget))
    for name in [name for name in sys.modules if name.startswith(rooms)]:
        for value in vars(sys.modules[name]).values():
            if isinstance(value, kept):
                value.cache_clear()


@cache
def imports(test_file: str) -> frozenset[str]:
    """Everything a test file imports, by its full name."""
    names: set[str] = set()
    for node in ast.walk(ast.parse((ROOT / test_file).read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom) and node.module:
            names |= {node.module, *(f"{node.module}.{alias.name}" for alias in node.names)}
        elif isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
    return frozenset(names)


@dataclass(slots=True)
class Reached:
    """What a test takes, and the lines it reaches: a bit for each line of each file."""

    seconds: float
    lines: dict[str, int] = field(default_factory=dict)


def judges(mutant: Mutant, reach: dict[str, Reached]) -> list[str]:
    """The tests that judge a mutant, in their turn."""
    bits = sum(1 << line for line in statement_lines(mutant))

    def turn(test: str) -> tuple[int, float, str]:
        file, seconds = test.partition("::")[0], reach[test].seconds
        if seconds <= QUICK:
            return 0, seconds, test
        return 1 if file == WHOLE else 2 if mutant.module in imports(file) else 3, seconds, test

    order = sorted((t for t, it in reach.items() if it.lines.get(mutant.file, 0) & bits), key=turn)
    spent = accumulate(reach[test].seconds for test in order)
    return [t for t, time in zip(order, spent, strict=True) if time <= PATIENCE] or order[:1]


def split_off(work: Callable[[], str]) -> tuple[int, int]:
    """Do the work in a process of its own; its number, and where to read what it says."""
    read, write = os.pipe()
    if process := os.fork():
        os.close(write)
        return process, read
    os.close(read)
    try:
        os.write(write, work().encode())
    except BaseException:
        traceback.print_exc()
        os._exit(1)
    os._exit(0)


def said(process: int, read: int) -> tuple[str, int]:
    """Wait for such a process; what it said, and how it ended: 0, or less for a signal."""
    _, status = os.waitpid(process, 0)
    with os.fdopen(read, encoding="utf-8") as pipe:
        return pipe.read(), os.waitstatus_to_exitcode(status)


class Court:
    """The plugin that takes the place of a plain run of the tests."""

    def __init__(
        self,
        wanted: Callable[[], Iterator[Mutant]],
        report: Callable[[Mutant, str, str], None],
        until: float = math.inf,
        benches: int = 1,
    ) -> None:
        self.wanted, self.report, self.until, self.benches = wanted, report, until, benches
        self.unmeasured: set[str] = set()  # files for which there was no time
        self.failed: list[str] = []
        self.items: dict[str, pytest.Item] = {}
        self.proven: set[str] = set()

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.failed:
            self.failed.append(report.nodeid)

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        talk = session.config.pluginmanager.getplugin("terminalreporter")
        session.config.pluginmanager.unregister(talk)
        self.items = {item.nodeid: item for item in session.items}
        reach = self.reach()
        forget("baitwright", "tests")
        running()
        gc.collect()
        gc.freeze()
        if self.benches == 1:
            self.sit(reach, 0)
            return True
        sitting = [split_off(partial(self.sit, reach, bench)) for bench in range(self.benches)]
        if any(ended for _, ended in [said(*bench) for bench in sitting]):
            sys.exit("stopped from outside")
        return True

    def sit(self, reach: dict[str, Reached], bench: int) -> str:
        """Try every so many of the wanted mutants."""
        for mutant in islice(self.wanted(), bench, None, self.benches):
            self.report(mutant, *self.tried(mutant, reach))
        return ""

    def reach(self) -> dict[str, Reached]:
        """What each test takes and reaches."""
        by_file: dict[str, list[str]] = defaultdict(list)
        for test in self.items:
            by_file[test.partition("::")[0]].append(test)
        found: dict[str, Reached] = {}
        loaded: set[str] = set()
        for file, tests in by_file.items():
            told = self.measured(file, tests)
            loaded |= set(told.get("loaded", ()))
            for test, (seconds, lines) in told.get("tests", {}).items():
                found[test] = Reached(
                    seconds, {name: int(bits, 16) for name, bits in lines.items()}
                )
        for name in sorted(loaded - set(sys.modules)):  # once here, not in every process
            with suppress(ImportError):
                importlib.import_module(name)
        return found

    def measured(self, file: str, tests: list[str]) -> dict[str, Any]:
        """What is known of a test file, measured now unless it was; nothing if time is up."""
        kept = WORK / "reach" / f"{file.replace('/', '.')}.json"
        of = f"{all_code()} {digest([ROOT / file])}"
        told: dict[str, Any] = json.loads(kept.read_text(encoding="utf-8")) if kept.exists() else {}
        if told.get("of") == of:
            return told
        complaint, ended = said(*split_off(lambda: look(self, tests, of, kept)))
        if complaint == TIME_IS_UP:
            self.unmeasured.add(file)
            return {}
        if complaint or ended:
            sys.exit(f"{file} fails without a change: {complaint or ended}")
        return self.measured(file, tests)

    def run(self, tests: list[str], reach: dict[str, Reached]) -> str:
        """Run tests until one fails; its name."""
        chosen = [self.items[test] for test in tests]
        for item, after in zip(chosen, [*chosen[1:], None], strict=True):
            limit = SLACK + TENFOLD * reach[item.nodeid].seconds
            signal.setitimer(signal.ITIMER_PROF, limit)
            signal.alarm(int(20 * limit))  # one that sleeps takes no time of the processor
            item.ihook.pytest_runtest_protocol(item=item, nextitem=after)
            if self.failed:
                return self.failed[0]
        return ""

    def tried(self, mutant: Mutant, reach: dict[str, Reached]) -> tuple[str, str]:
        """What became of a mutant, and the test that noticed it."""
        while tests := judges(mutant, reach):
            found, ended = said(*split_off(lambda tests=tests: self.changed(mutant, tests, reach)))
            if ended == -signal.SIGKILL:
                sys.exit("stopped from outside")
            if ended > 0:
                return MISSED, "could not be tried"
            if ended:
                return (ENDLESS if -ended in (signal.SIGPROF, signal.SIGALRM) else CRASHED), ""
            if not found:
                return MISSED, ""
            before = tests[: tests.index(found) + 1] if found in tests else tests
            if found not in self.proven:
                again, ended = said(*split_off(lambda tests=before: self.run(tests, reach)))
                if again or ended:
                    print(f"   judges no more, since it fails without a change: {again or found}")
                    del reach[again or found]
                    continue
                self.proven.add(found)
            return NOTICED, found
        return UNREACHED, ""

    def changed(self, mutant: Mutant, tests: list[str], reach: dict[str, Reached]) -> str:
        """What a process does that has the change in it."""
        import resource  # not on Windows, where this is imported too

        resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
        put_in(mutant)
        return self.run(tests, reach)


def look(court: Court, tests: list[str], of: str, kept: Path) -> str:
    """Run each test by itself, nothing kept from one before, and write what it reaches."""
    from coverage import Coverage

    os.environ["COVERAGE_CORE"] = "ctrace"  # the only one that tells tests apart
    cover = Coverage(data_file=None, config_file=False, include=[f"{ROOT}/src/*"], messages=False)
    seconds = {}
    cover.start()
    for test in tests:
        if time.monotonic() > court.until:
            return TIME_IS_UP
        forget("baitwright.physics", "tests")
        cover.switch_context(test)
        began = time.process_time()
        item = court.items[test]
        item.ihook.pytest_runtest_protocol(item=item, nextitem=None)
        seconds[test] = time.process_time() - began
        if court.failed:
            return court.failed[0]
    cover.stop()
    data = cover.get_data()
    lines: dict[str, dict[str, int]] = {test: {} for test in tests}
    changed = set(files())
    for name in data.measured_files():
        file = Path(name).relative_to(ROOT).as_posix()
        for line, contexts in data.contexts_by_lineno(name).items() if file in changed else ():
            for test in set(contexts) & set(tests):
                lines[test][file] = lines[test].get(file, 0) | 1 << line
    told = {t: (round(seconds[t], 4), {f: hex(b) for f, b in lines[t].items()}) for t in tests}
    loaded = sorted(name for name in sys.modules if name.partition(".")[0] in HEAVY)
    kept.parent.mkdir(parents=True, exist_ok=True)
    kept.write_text(json.dumps({"of": of, "tests": told, "loaded": loaded}), encoding="utf-8")
    return ""


@cache
def fingerprint(mutant: Mutant) -> str:
    """Another when the change or anything else in its module is another."""
    told = f"{undressed_file(mutant.file)} {mutant.start} {mutant.end} {mutant.becomes}"
    return sha256(told.encode()).hexdigest()[:16]


@cache
def all_tests() -> str:
    """One number for the tests and all that stands behind them."""
    tests = [path for room in ROOMS for path in (ROOT / room).rglob("test_*.py")]
    return f"{all_code()} {digest(tests)}"


def outcomes() -> dict[str, tuple[str, str]]:
    """What became of mutants in earlier runs, and which test noticed; what stands no more is out.

    What was noticed once stands while its module does; what was missed, only while all tests and
    code do.
    """
    if not OUTCOMES.exists():
        return {}
    told = [json.loads(line) for line in OUTCOMES.read_text(encoding="utf-8").splitlines()]
    prints = {mutant.name: fingerprint(mutant) for mutant in every_mutant()}
    return {
        one["mutant"]: (one["outcome"], one["by"])
        for one in told
        if one["of"] == prints.get(one["mutant"])
        and (one["outcome"] in COUNT_AS_NOTICED or one["tests"] == all_tests())
    }


def report(mutant: Mutant, outcome: str, test: str) -> None:
    """Say what became of a mutant and keep it for later runs."""
    one = {"mutant": mutant.name, "of": fingerprint(mutant), "outcome": outcome, "by": test}
    with OUTCOMES.open("a", encoding="utf-8") as kept:
        kept.write(json.dumps(one | {"tests": all_tests()}) + "\n")
    print(f"{outcome:9} {mutant.name} {test.rpartition('::')[2]}", flush=True)
    if outcome not in COUNT_AS_NOTICED:
        was, becomes = difference(mutant)
        print(f"          - {was}\n          + {becomes}", flush=True)


def untried(mutants: list[Mutant], until: float) -> Iterator[Mutant]:
    """Those of which nothing is known yet, until the time is up."""
    known = outcomes()
    for mutant in mutants:
        if time.monotonic() > until:
            return
        if mutant.name not in known:
            yield mutant


def held(court: Court, rooms: list[str]) -> int:
    """Load the tests and let the court sit."""
    WORK.mkdir(parents=True, exist_ok=True)
    arguments = ["-q", "-p", "no:cacheprovider", "-p", "no:xdist", *rooms]
    return int(pytest.main(arguments, plugins=[court]))


def main() -> int:
    """Try mutants in their random order, and go on where it stopped."""
    parser = argparse.ArgumentParser(prog="tests.judges", description=__doc__)
    parser.add_argument("--sample", type=int, help="mutants to try, drawn at random; all else")
    parser.add_argument("--hours", type=float, default=math.inf, help="how long to try")
    parser.add_argument("--seed", type=int, default=SEED, help="another for another order")
    parser.add_argument("--only", default="*", help="names of mutants, with * for anything")
    asked = parser.parse_args()
    until = time.monotonic() + 3600 * asked.hours
    mutants = [one for one in every_mutant() if fnmatchcase(one.name, asked.only)]
    chosen = in_order(mutants, asked.seed)[: asked.sample]
    court = Court(lambda: untried(chosen, until), report, benches=os.cpu_count() or 1)
    return held(court, list(ROOMS))


if __name__ == "__main__":
    sys.exit(main())
