"""A TOML text as raw contents, and which of its lines is none."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from typing import Any

from baitwright.terms.errors import InputError

DEEPEST = 50
"""Tables and lists in each other; our own files have four."""

_POINTS = 200
"""Points of a line: the parser takes four times as long for a key of twice as many parts."""


def in_toml(text: str, *, where: str) -> dict[str, Any]:
    """The raw contents of a TOML text.

    Raises
    ------
    InputError: it is none.
    """
    for at, line in enumerate(text.split("\n"), start=1):
        if line.count(".") > _POINTS:
            accepted = f"a line with {_POINTS} points at most"
            raise InputError(f"line {at}", f"{line[:20]}...", accepted, where=where)
    try:
        told = tomllib.loads(text)
    except (ValueError, RecursionError) as error:
        raise _broken(text, str(error), where) from None
    refuse_deep(told, where=where)
    return told


def refuse_deep(told: Mapping[str, Any], *, where: str) -> None:
    """Refuse tables and lists that lie in each other without an end.

    Raises
    ------
    InputError: they do.
    """
    level: list[Any] = [told]
    for _ in range(DEEPEST):
        values = (one.values() if isinstance(one, Mapping) else one for one in level)
        level = [part for one in values for part in one if isinstance(part, Mapping | list)]
        if not level:
            return
    accepted = f"tables and lists, {DEEPEST} in each other at most"
    raise InputError("the file", "more of them", accepted, where=where)


def _broken(text: str, said: str, where: str) -> InputError:
    """Which line is not TOML, what stands there, and what the parser says."""
    lines = text.rstrip().splitlines() or [""]
    found = re.search(r"at line (\d+)", said)
    at = min(int(found[1]) if found else len(lines), len(lines))
    got, hint = lines[at - 1].strip()[:80], f"The parser says: {said}."
    return InputError(f"line {at}", got, 'TOML such as diameter = "15 mm"', hint=hint, where=where)
