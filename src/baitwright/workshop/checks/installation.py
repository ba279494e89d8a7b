"""Whether what the program runs on is there, and what it may do besides.

Nothing that is looked for is imported here, or a missing package could not be told.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from importlib.metadata import PackageNotFoundError, requires, version

from baitwright import __version__

_NEEDS = re.compile(r"([A-Za-z0-9-]+)(?:\[[^\]]*\])?>=([0-9.]+)(?:.*extra == ['\"](\w+)['\"])?")
EXTRAS = {
    "fast": "thousands of baits at once, in machine code",
    "lan": "the workshop on your phone, with a passphrase",
    "shop": "a notebook that several people share, on PostgreSQL",
    "sweep": "designs planned on many machines, and a sweep's table as Parquet",
    "tables": "workbooks (.xlsx) read and written",
}
"""What each extra is for."""


class Stands(StrEnum):
    """How one thing stands."""

    WELL = "well"
    LEFT_OUT = "left out"
    BROKEN = "broken"


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that was looked at: how it stands, what was found, and what would help."""

    what: str
    stands: Stands
    found: str
    helps: str = ""


def packages() -> Iterator[Finding]:
    """Baitwright, Python, and whatever else is installed or is not."""
    yield Finding("Baitwright", Stands.WELL, __version__)
    yield Finding("Python", Stands.WELL, ".".join(map(str, sys.version_info[:3])))
    yield from _of_distributions(requires("baitwright") or [])


def _of_distributions(told: list[str]) -> Iterator[Finding]:
    """What the program needs, in a line, and each extra with what it is for."""
    lacking: dict[str, list[str]] = {"": [], **{extra: [] for extra in EXTRAS}}
    count = 0
    for line in told:
        found = _NEEDS.match(line)
        if found is None:
            continue
        name, least, extra = found[1], found[2], found[3] or ""
        count += not extra
        if (problem := _problem(name, least)) and extra in lacking:
            lacking[extra].append(problem)
    broken = ", ".join(lacking.pop(""))
    if broken:
        again = "Install the program anew."
        yield Finding("what it stands on", Stands.BROKEN, broken, again)
    else:
        yield Finding("what it stands on", Stands.WELL, f"all {count} packages")
    for extra, problems in lacking.items():
        what = f"extra {extra}: {EXTRAS[extra]}"
        if problems:
            get = f'pip install "baitwright[{extra}]"'
            yield Finding(what, Stands.LEFT_OUT, ", ".join(problems), get)
        else:
            yield Finding(what, Stands.WELL, "there")


def _problem(name: str, least: str) -> str:
    """What is wrong with a package; nothing where it is there and new enough."""
    try:
        there = version(name)
    except PackageNotFoundError:
        return f"{name} is not there"
    is_old = _numbers(there) < _numbers(least)
    return f"{name} is {there}, and {least} is wanted" if is_old else ""


def _numbers(release: str) -> tuple[int, ...]:
    return tuple(int(part) for part in re.findall(r"\d+", release)[:3])
