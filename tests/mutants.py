"""mutmut as the nightly wants it: ``python -m tests.mutants run``, from the root of the tree.

What differs from ``python -m mutmut``:

- Mutants come in a random order in which each has its place for good, so that a run that was
  stopped has tried a fair sample. mutmut by itself takes those first that take least time.
- Functions marked ``@declared`` are mutated too: the formulas of the trade are among them. mutmut
  leaves every decorated function alone, so it is shown ``name = declared(...)(name)`` instead.
- Sentences are left alone: they are for people, and no test should nail down their wording.
- A mutant is judged by the tests that import its module and by quick ones, then by the others that
  reach it, for `PATIENCE` in all. Whole plans by the hundred would say little more; what they alone
  would notice counts as missed.
- When the tests have changed, what they let through before is tried again. Tests that passed
  without a mutation are not run for that again before code or tests change.

A change to this file needs new mutants: delete ``mutants/``.
"""

from __future__ import annotations

import ast
import json
from collections.abc import Callable, Iterator
from functools import cache
from hashlib import sha256
from itertools import accumulate
from pathlib import Path
from typing import Any

SEED = 20261127
PATIENCE = 45.0
"""Seconds of tests that a mutant has to live through, by their times with nothing kept between."""
TRIED, CLEAN = Path("mutants/tests.sha256"), Path("mutants/clean.json")
"""The tests that the outcomes are of, and those that passed without a mutation."""
LET_THROUGH = ("survived", "no tests")


QUICK = 0.05
"""Seconds of a test that any mutant it reaches is given."""


def place(mutant: str) -> bytes:
    """Where a mutant stands in the random order; those that come or go move no other."""
    return sha256(f"{SEED} {mutant}".encode()).digest()


def undressed(code: str) -> str:
    """A module with every ``@declared(...)`` put below its function, where it means the same."""
    lines = code.splitlines()
    for statement in reversed(ast.parse(code).body):
        if isinstance(statement, ast.FunctionDef) and len(statement.decorator_list) == 1:
            (dressing,) = statement.decorator_list
            if isinstance(dressing, ast.Call) and ast.unparse(dressing.func) == "declared":
                name = statement.name
                lines.insert(statement.end_lineno or 0, f"{name} = {ast.unparse(dressing)}({name})")
                del lines[dressing.lineno - 1 : dressing.end_lineno]
    return "\n".join(lines) + "\n"


def but_for_sentences(change: Callable[[Any], Iterator[Any]]) -> Callable[[Any], Iterator[Any]]:
    """The way to change a text, for texts of one word only."""

    def changed(node: Any) -> Iterator[Any]:
        if " " not in getattr(node, "value", ""):
            yield from change(node)

    return changed


@cache
def imports(test_file: str) -> frozenset[str]:
    """Everything a test file imports, by its full name."""
    names: set[str] = set()
    for node in ast.walk(ast.parse(Path(test_file).read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom) and node.module:
            names |= {node.module, *(f"{node.module}.{alias.name}" for alias in node.names)}
    return frozenset(names)


def judges(function: str, tests: set[str], times: dict[str, float]) -> set[str]:
    """Which of the tests that reach a function judge its mutants."""
    module = function.rpartition(".")[0]

    def turn(test: str) -> tuple[bool, float, str]:
        far = module not in imports(test.partition("::")[0])
        return far and times[test] > QUICK, times[test], test

    order = sorted(tests, key=turn)
    spent = accumulate(times[test] for test in order)
    return {test for test, time in zip(order, spent, strict=True) if time <= PATIENCE} or {
        *order[:1]
    }


def digest(*folders: Path) -> str:
    """One number for all code in these folders; another once any of it has changed."""
    files = sorted(path for folder in folders for path in folder.rglob("*.py"))
    return sha256(b"".join(path.read_bytes() for path in files)).hexdigest()


def passed_already(code: str) -> set[str]:
    """Tests that passed without a mutation, in an earlier run of the same code."""
    if not CLEAN.exists():
        return set()
    earlier = json.loads(CLEAN.read_text(encoding="utf-8"))
    return set(earlier["passed"]) if earlier["code"] == code else set()


def take_up(mutmut: Any, *, rooms: list[Path]) -> None:
    """Go on from the run before: try again what other tests may notice, not what passed."""
    tests, code = digest(*rooms), digest(Path("src"), *rooms)
    if TRIED.exists() and TRIED.read_text(encoding="utf-8") != tests:
        mutmut._reset_mutant_results(
            lambda _, code: mutmut.status_by_exit_code[code] in LET_THROUGH
        )
    if TRIED.parent.exists():
        TRIED.write_text(tests, encoding="utf-8")
    all_tests, forced_fail = mutmut.tests_for_mutant_names, mutmut.run_forced_fail_test
    asked: set[str] = set()

    def those_new(names: Any) -> set[str]:
        asked.update(all_tests(names or ["*"]))
        return (asked - passed_already(code)) or set(sorted(asked)[:1])

    def passed(runner: Any) -> None:
        CLEAN.write_text(
            json.dumps({"code": code, "passed": sorted(asked | passed_already(code))}),
            encoding="utf-8",
        )
        forced_fail(runner)

    mutmut.tests_for_mutant_names, mutmut.run_forced_fail_test = those_new, passed


def main() -> None:
    """Run mutmut's own command line with the differences above."""
    from mutmut import __main__ as mutmut
    from mutmut.configuration import config
    from mutmut.mutation import mutators
    from mutmut.state import state

    as_it_is, all_that_reach = mutmut.mutate_file_contents, mutmut.collect_or_load_stats

    def those_that_judge(*runner: Any, **how: Any) -> None:
        all_that_reach(*runner, **how)
        reached = state().tests_by_mangled_function_name
        for function, tests in reached.items():
            reached[function] = judges(function, tests, state().duration_by_test)

    mutmut.collect_or_load_stats = those_that_judge
    mutmut.mutate_file_contents = lambda name, code, *more: as_it_is(name, undressed(code), *more)
    mutmut.estimated_worst_case_time = place
    mutators.mutation_operators[:] = [
        (kind, but_for_sentences(change) if change is mutators.operator_string else change)
        for kind, change in mutators.mutation_operators
    ]
    take_up(mutmut, rooms=[Path(room) for room in config().pytest_add_cli_args_test_selection])
    mutmut.cli()


if __name__ == "__main__":
    main()
