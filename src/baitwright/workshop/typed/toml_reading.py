"""A TOML text as raw contents, and which of its lines is none."""

from __future__ import annotations

import re
import tomllib
from typing import Any

from baitwright.terms.errors import InputError


def in_toml(text: str, *, where: str) -> dict[str, Any]:
    """The raw contents of a TOML text.

    Raises
    ------
    InputError: it is none.
    """
    try:
        return tomllib.loads(text)
    except (ValueError, RecursionError) as error:
        raise _broken(text, str(error), where) from None


def _broken(text: str, said: str, where: str) -> InputError:
    """Which line is not TOML, what stands there, and what the parser says."""
    lines = text.rstrip().splitlines() or [""]
    found = re.search(r"at line (\d+)", said)
    at = min(int(found[1]) if found else len(lines), len(lines))
    got, hint = lines[at - 1].strip()[:80], f"The parser says: {said}."
    return InputError(f"line {at}", got, 'TOML such as diameter = "15 mm"', hint=hint, where=where)
