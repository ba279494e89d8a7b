"""The tests in environments other than the locked one: older and newer releases, other Pythons.

Each lives in ``build/nightly`` and is made anew. Where no interpreter of a Python is found, that
Python is left out and the report says so.
"""

from __future__ import annotations

import os
import re
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

from make import scratch

ROOT = Path(__file__).resolve().parents[1]
WORK = ROOT / "build" / "nightly"
LOCK = ROOT / "requirements" / "dev.txt"
PYTHONS = ("3.11", "3.12", "3.13")
ALL = ["--group", "dev"]
OLDER = ["httpx"]
"""What tests need beside old releases: Starlette's test client once spoke with it."""
OLD_NAMES = (
    *("-W", "ignore:The anyio.abc.BlockingPortal alias:DeprecationWarning"),
    *("-W", "ignore:The `__fields__` attribute is deprecated:DeprecationWarning"),
)
"""What old releases of Starlette and FastAPI themselves call by names that were given up since."""
WHOLE = ("-n", "3", "--dist", "worksteal")
"""What goes to pytest: everything, dealt as `make test` deals it."""


class FailedError(Exception):
    """A step that did not succeed; what is missing is in its text."""


def lowest(tests: Sequence[str] = WHOLE) -> list[str]:
    """The tests with the oldest releases that the package claims to work with."""
    bounds = WORK / "lowest.txt"
    oldest = ["--resolution", "lowest-direct", "--quiet", "--no-header", "--no-annotate"]
    _uv("pip", "compile", "pyproject.toml", *oldest, "--all-extras", "-o", str(bounds))
    python = made("lowest")
    _uv(*_into(python), "--constraint", str(bounds), *ALL, *OLDER, "-e", ".")
    demand_tests(python, [*tests, *OLD_NAMES])
    there = ", ".join(bounds.read_text(encoding="utf-8").split())
    return [f"{told(tests)} pass with {there}."]


def newest(tests: Sequence[str] = WHOLE) -> list[str]:
    """The tests with the newest releases there are, whose deprecations are errors."""
    python = made("newest")
    _uv(*_into(python), "--upgrade", *ALL, "-e", ".")
    demand_tests(python, tests)
    later = newer_than_lock(installed(python))
    what = ", ".join(later) or "the releases of the lock, which are the newest"
    return [f"{told(tests)} pass with {what}."]


def pythons(tests: Sequence[str] = WHOLE) -> list[str]:
    """The tests on the locked releases with the other Pythons that the package works with."""
    lines = []
    for version in PYTHONS:
        if version == ".".join(map(str, sys.version_info[:2])):
            continue  # `make test` is of this one
        if (found := interpreter(version)) is None:
            lines.append(f"- Python {version}: no interpreter found here, nothing was run.")
            continue
        python = made(f"python-{version}", found)
        _uv(*_into(python), "--require-hashes", "-r", str(LOCK))
        _uv(*_into(python), "--no-deps", "--no-build-isolation", "-e", ".")
        demand_tests(python, tests)
        said = subprocess.check_output([str(python), "--version"], text=True).strip()
        lines.append(f"- {said}: {told(tests).lower()} pass.")
    return lines


def told(tests: Sequence[str]) -> str:
    """Which tests these are."""
    return "All tests" if tuple(tests) == WHOLE else f"The tests of `pytest {' '.join(tests)}`"


def interpreter(version: str) -> str | None:
    """An interpreter of this Python on this machine; none is fetched."""
    find = [sys.executable, "-m", "uv", "python", "find", "--no-python-downloads", version]
    done = subprocess.run(find, cwd=ROOT, capture_output=True, text=True, check=False)
    return done.stdout.strip() if done.returncode == 0 else None


def made(name: str, python: str = sys.executable) -> Path:
    """A new environment's interpreter."""
    environment = WORK / name
    _uv("venv", "--quiet", "--clear", "--python", python, str(environment))
    return environment / ("Scripts" if os.name == "nt" else "bin") / "python"


def installed(python: Path) -> dict[str, str]:
    """The release of every distribution in an environment."""
    list_ = [sys.executable, "-m", "uv", "pip", "freeze", "--python", str(python)]
    lines = subprocess.check_output(list_, cwd=ROOT, text=True)
    return dict(re.findall(r"^([\w.-]+)==(\S+)", lines, re.MULTILINE))


def newer_than_lock(there: dict[str, str]) -> list[str]:
    """Distributions of which the lock has another release."""
    locked = dict(re.findall(r"^([\w.-]+)==(\S+)", LOCK.read_text("utf-8"), re.MULTILINE))
    return [f"{name}=={release}" for name, release in there.items() if locked.get(name) != release]


def demand_tests(python: Path, tests: Sequence[str]) -> None:
    """Run the tests there.

    Raises
    ------
    FailedError: one of them did not pass.
    """
    with scratch():
        done = subprocess.run([str(python), "-m", "pytest", "-q", *tests], cwd=ROOT, check=False)
    if done.returncode:
        raise FailedError(f"pytest in {python.parents[1].name}")


def _into(python: Path) -> list[str]:
    return ["pip", "install", "--quiet", "--python", str(python)]


def _uv(*arguments: str) -> None:
    done = subprocess.run([sys.executable, "-m", "uv", *arguments], cwd=ROOT, check=False)
    if done.returncode:
        raise FailedError(f"uv {' '.join(arguments[:3])}")
