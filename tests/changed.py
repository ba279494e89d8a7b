"""Do the tests notice a mistake in what has just been changed? ``python -m tests.changed``.

Takes the functions of recipe, batch and physics that differ from the last landed state: where this
branch left ``main``, or `BACK` commits ago on ``main`` itself. Their mutants are judged by the test
files that import the module, for `SECONDS` in all. A mutant counts when every test that could judge
it has been measured in that time; on a slow machine fewer count, and none counts otherwise.

It fails when the share that was noticed is surely below `BAR`: when even the upper end of its exact
95 % interval is. Where history does not reach back so far it says so and takes a small sample.
"""

from __future__ import annotations

import ast
import subprocess
import sys
import time
from collections.abc import Iterator
from functools import cache

from scipy.stats import binomtest

from tests import judges
from tests.judges import COUNT_AS_NOTICED, MISSED, ROOMS, ROOT
from tests.mutants import Mutant, difference, every_mutant, explanation, files, in_order, mutants_of

SECONDS = 90.0
BAR = 0.75
"""Less than the 85 % that all tests are to notice: these are the near ones alone (judgement)."""
BACK = 20
SAMPLE = 60


def git(*command: str) -> str | None:
    """What git says, or nothing where it cannot."""
    try:
        told = subprocess.run(["git", *command], cwd=ROOT, capture_output=True, check=True)
    except (OSError, subprocess.CalledProcessError):
        return None
    return told.stdout.decode("utf-8").strip()


def landed() -> str | None:
    """The last landed state, as far as the history that is here reaches."""
    head = git("rev-parse", "HEAD")
    fork = git("merge-base", "HEAD", "origin/main")
    return fork if fork and fork != head else git("rev-parse", "--verify", f"HEAD~{BACK}")


def functions(code: str) -> dict[str, str]:
    """The functions of a module and the methods of its classes, by qualified name."""
    found = {}
    for statement in ast.parse(code).body:
        if isinstance(statement, ast.FunctionDef):
            found[statement.name] = ast.dump(statement)
        elif isinstance(statement, ast.ClassDef):
            for member in statement.body:
                if isinstance(member, ast.FunctionDef):
                    found[f"{statement.name}.{member.name}"] = ast.dump(member)
    return found


def differing(base: str) -> set[tuple[str, str]]:
    """File and function of everything that is not as it was."""
    names = (git("diff", "--name-only", base, "--", *files()) or "").split()
    found = set()
    for file in set(names) & set(files()):
        before = functions(git("show", f"{base}:{file}") or "")
        now = functions((ROOT / file).read_text(encoding="utf-8"))
        found |= {(file, name) for name, body in now.items() if before.get(name) != body}
    return found


def chosen() -> tuple[list[Mutant], str]:
    """The mutants to try, in random order, and where they come from."""
    base = landed()
    if base is None:
        few = in_order(every_mutant())[:SAMPLE]
        return few, "history ends before the last landed state: a sample of everything"
    changed = differing(base)
    wanted = {file for file, _ in changed}
    made = [one for file in sorted(wanted) for one in mutants_of(file)]
    mine = [one for one in made if (one.file, one.function) in changed]
    return in_order(mine), f"{len(changed)} functions differ from {base[:9]}"


@cache
def near(*modules: str) -> list[str]:
    """The test files that import one of these modules: those that import little first, and whole
    plans last.
    """
    tests = [path for room in ROOMS for path in sorted((ROOT / room).rglob("test_*.py"))]
    names = [path.relative_to(ROOT).as_posix() for path in tests]
    return sorted(
        (name for name in names if set(modules) & judges.imports(name)),
        key=lambda name: ("tests/batch/" in name, len(judges.imports(name))),
    )


def verdict(fates: dict[Mutant, str], mutants: int) -> int:
    """Print what was missed and the share that was noticed; 1 where that is surely too low."""
    could = {one: fate for one, fate in fates.items() if fate in COUNT_AS_NOTICED or fate == MISSED}
    could = {one: fate for one, fate in could.items() if fate != MISSED or not explanation(one)}
    for mutant in (one for one, fate in could.items() if fate == MISSED):
        was, becomes = difference(mutant)
        print(f"   {mutant.name}\n      - {was}\n      + {becomes}")
    noticed = sum(fate in COUNT_AS_NOTICED for fate in could.values())
    print(f"noticed {noticed} of {len(could)} that could be judged, of {mutants} mutants")
    if not could:
        return 0
    upper = binomtest(noticed, len(could)).proportion_ci(0.95, method="exact").high
    if upper < BAR:
        print(f"surely below {BAR:.0%} (at most {upper:.0%}): the change wants tests of its own")
        return 1
    return 0


def main() -> int:
    """Try the mutants of what has changed until the time is up."""
    if sys.platform == "win32":
        print("mutants of what has changed: left out, since Windows cannot split off a process")
        return 0
    until = time.monotonic() + SECONDS
    mutants, origin = chosen()
    print(f"mutants of what has changed: {origin}", flush=True)
    fates: dict[Mutant, str] = {}

    def wanted() -> Iterator[Mutant]:
        for mutant in mutants:
            if time.monotonic() > until:
                return
            if not court.unmeasured & set(near(mutant.module)):
                yield mutant

    def note(mutant: Mutant, outcome: str, test: str) -> None:
        fates[mutant] = outcome

    court = judges.Court(wanted, note, until=until - SECONDS / 2)
    rooms = near(*{mutant.module for mutant in mutants})
    if rooms and judges.held(court, rooms):
        return 1
    if court.unmeasured:
        print(f"no time for what these judge: {', '.join(sorted(court.unmeasured))}")
    return verdict(fates, len(mutants))


if __name__ == "__main__":
    sys.exit(main())
