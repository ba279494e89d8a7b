"""What the project declares that it needs, and what its locks hold."""

from __future__ import annotations

import re
import tomllib
from functools import cache
from typing import Any

from tests.architecture.tree import ROOT


@cache
def pyproject() -> dict[str, Any]:
    return tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))


def names(requirements: list[Any]) -> set[str]:
    """Package names of requirement lines; an included group is not one."""
    lines = [line for line in requirements if isinstance(line, str)]
    return {re.split(r"[\[<>=~!; ]", line, maxsplit=1)[0].lower() for line in lines}


def run_time() -> set[str]:
    return names(pyproject()["project"]["dependencies"])


def groups() -> set[str]:
    return {name for group in pyproject()["dependency-groups"].values() for name in names(group)}


def locked(lock: str) -> dict[str, str]:
    """Name to version of each requirement in a lock."""
    text = (ROOT / "requirements" / lock).read_text(encoding="utf-8")
    return dict(re.findall(r"^([a-z0-9-]+)==(\S+)", text, flags=re.MULTILINE))


def of_one_python(lock: str) -> set[str]:
    """Those of a lock that only some Pythons take."""
    text = (ROOT / "requirements" / lock).read_text(encoding="utf-8")
    return set(re.findall(r"^([a-z0-9-]+)==\S+ ; .*python_full_version", text, flags=re.MULTILINE))
