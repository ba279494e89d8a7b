"""Which distribution is here for what, and under which licence: ``python -m tests.licences``.

Writes ``docs/licences.md`` from what the distributions say of themselves in this environment, which
is made from the lock. Why each is there stands in ``docs/dependencies.md``.
"""

from __future__ import annotations

import re
from collections import deque
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from importlib.metadata import Distribution, PackageNotFoundError, distribution
from pathlib import Path

from packaging.requirements import Requirement

from tests.architecture.declared import pyproject

ROOT = Path(__file__).resolve().parents[1]
REPORT = ROOT / "docs" / "licences.md"
WHY = ROOT / "docs" / "dependencies.md"
ALLOWED = {
    *("MIT", "MIT-0", "BSD", "BSD-2-Clause", "BSD-3-Clause", "0BSD", "Apache-2.0"),
    *("PSF-2.0", "Zlib", "CC0-1.0", "Apache-2.0 WITH LLVM-exception"),
}
"""Licences under which the program may be handed on with what it needs, by their SPDX names; "BSD"
is one of which the metadata do not tell the clauses."""
KNOWN_EXTRAS = {
    "psycopg": "LGPL-3.0-only",
    "psycopg-binary": "LGPL-3.0-only",
}
"""Of extras, and each known: libraries by themselves, changed by nobody here and in no wheel of
ours, so that a maker may put another build in their place."""
READ = {
    "atheris": "Apache-2.0",
    "axe-playwright-python": "MIT",
}
"""Licences that metadata does not tell, read in the distribution's own licence file."""
_WORDS = {
    "mit license": "MIT",
    "mit": "MIT",
    "bsd license": "BSD",
    "bsd": "BSD",
    "3-clause bsd": "BSD-3-Clause",
    "2-clause bsd": "BSD-2-Clause",
    "bsd 2-clause license": "BSD-2-Clause",
    "revised bsd license": "BSD-3-Clause",
    "apache software license": "Apache-2.0",
    "apache 2.0": "Apache-2.0",
    "apache-2.0": "Apache-2.0",
    "gpl v3": "GPL-3.0",
    "gnu general public license v3 (gplv3)": "GPL-3.0",
    "gnu lesser general public license v3 (lgplv3)": "LGPL-3.0-only",
    "mozilla public license 2.0 (mpl 2.0)": "MPL-2.0",
}
_COPYLEFT = re.compile(r"\b(A?GPL|LGPL|MPL|EPL|CDDL|EUPL)", re.IGNORECASE)
HEAD = """# Licences

What is installed beside the program, by its own metadata, in the environment of the lock.
Written by `python make.py nightly licences`. A list, and no legal advice.

"""
SCOPES = {
    "program": "What the program needs",
    "extra": "What an extra adds",
    "test": "What builds, checks and tests it, and is never installed with it",
}


@dataclass(frozen=True, slots=True)
class Licensed:
    """A distribution, its licence and what it is here for."""

    name: str
    version: str
    licence: str
    scope: str
    came_with: str = ""

    @property
    def is_copyleft(self) -> bool:
        """Whether its licence asks something of a work that takes it in."""
        return bool(_COPYLEFT.search(self.licence))


def plain(name: str) -> str:
    """A distribution's name as all tools write it."""
    return re.sub(r"[-_.]+", "-", name).lower()


def licence_of(found: Distribution) -> str:
    """A distribution's licence: its SPDX expression, or what older metadata come to."""
    told = found.metadata
    name = plain(told["Name"])
    if name in READ:
        return READ[name]
    if expression := told.get("License-Expression"):
        return expression
    short = (told.get("License") or "").strip().splitlines()[:1]
    classifiers = (
        one.rpartition(" :: ")[2]
        for one in told.get_all("Classifier") or ()
        if one.startswith("License ::")
    )
    words = [*short, *classifiers]
    known = [_WORDS[word.lower()] for word in words if word.lower() in _WORDS]
    if known:
        return known[0]
    return next((word for word in words if word and len(word) < 40), "not told")


def reached(wanted: Iterable[str]) -> dict[str, str]:
    """These requirements and all that come with them, each with what it came with."""
    found: dict[str, str] = {}
    waiting = deque((Requirement(one), "") for one in wanted)
    seen: set[tuple[str, str]] = set()
    while waiting:
        one, parent = waiting.popleft()
        name = plain(one.name)
        for extra in ("", *sorted(one.extras)):
            if (name, extra) in seen:
                continue
            seen.add((name, extra))
            try:
                told = distribution(name)
            except PackageNotFoundError:
                continue  # of another system
            found.setdefault(name, parent)
            more = (Requirement(line) for line in told.requires or ())
            waiting += [
                (line, name)
                for line in more
                if line.marker is None or line.marker.evaluate({"extra": extra})
            ]
    return found


def scopes() -> Mapping[str, Mapping[str, str]]:
    """Distributions by what they are here for; one is named where it matters most."""
    project = pyproject()["project"]
    program = reached(project["dependencies"])
    extras = reached(line for lines in project["optional-dependencies"].values() for line in lines)
    groups = pyproject()["dependency-groups"].values()
    tests = reached(line for lines in groups for line in lines if isinstance(line, str))
    only = {name: came for name, came in extras.items() if name not in program}
    rest = {name: came for name, came in tests.items() if name not in extras.keys() | program}
    return {"program": program, "extra": only, "test": rest}


def licences() -> list[Licensed]:
    """Every distribution, in the order of the report."""
    made = []
    for scope, names in scopes().items():
        for name, came_with in sorted(names.items()):
            found = distribution(name)
            made.append(Licensed(name, found.version, licence_of(found), scope, came_with))
    return made


def reasons() -> Mapping[str, str]:
    """Why each is there, by `docs/dependencies.md`."""
    text = WHY.read_text(encoding="utf-8")
    rows = re.findall(r"^\| ([\w-]+) \| ([^|]+) \|", text, flags=re.MULTILINE)
    return {plain(name): why.strip() for name, why in rows}


def report() -> str:
    """The report as it is published."""
    every, why = licences(), reasons()
    parts = [HEAD.rstrip() + "\n"]
    for scope, title in SCOPES.items():
        rows = [one for one in every if one.scope == scope]
        parts.append(f"## {title}\n\n| distribution | version | licence | why |\n|---|---|---|---|")
        parts[-1] += "".join(f"\n{_row(one, why)}" for one in rows) + "\n"
    copyleft = [one for one in every if one.is_copyleft]
    parts.append("## Copyleft\n\n" + "\n".join(_copyleft(one) for one in copyleft) + "\n")
    return "\n".join(parts)


def _row(one: Licensed, why: Mapping[str, str]) -> str:
    reason = why.get(one.name, f"came with {one.came_with}").partition(";")[0]
    return f"| {one.name} | {one.version} | {one.licence} | {reason} |"


def _copyleft(one: Licensed) -> str:
    where = {
        "program": "needed by the program",
        "extra": "an extra that is installed by itself; in no wheel of ours",
        "test": "for tests only",
    }
    return f"- {one.name}, {one.licence}: {where[one.scope]}."


def main() -> None:
    """Write the report."""
    REPORT.write_text(report(), encoding="utf-8")


if __name__ == "__main__":
    main()
