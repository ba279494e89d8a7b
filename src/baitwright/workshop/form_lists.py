"""Records as lists: of a kind, of what was found, of people, and of all kinds."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from baitwright.notebook.page import Revision
from baitwright.notebook.people import PERSON
from baitwright.workshop.form import DAY, WRITTEN

Known = Mapping[str, Mapping[str, Any] | None]
"""People by code; nothing of those who were erased."""
_SHORT = 60
"""Longer entries do not go in a list."""


def list_text(kind: str, found: Iterable[Revision]) -> str:
    """Records of a kind, a line each; nights without a bite are counted."""
    rows = [one for one in found if one.body is not None]
    lines = [f"{one.name}: {_line(one)}" for one in rows]
    if kind == "night" and rows:
        told = [one.body.get("bites") for one in rows if one.body is not None]
        lines.append(f"{sum(bites == 0 for bites in told)} blank, of {len(rows)}")
    return "\n".join(lines) or f"No {kind} yet: baitwright record {kind}"


def found_text(found: Iterable[Revision]) -> str:
    """Records that a search found, each with its kind."""
    lines = [f"{one.kind} {one.name}: {_line(one)}".removesuffix(": ") for one in found]
    return "\n".join(lines) or "Nothing found"


def people_text(known: Known) -> str:
    """Everybody by code."""
    lines = [f"{code}: {name_of(body)}" for code, body in known.items()]
    return "\n".join(lines) or "Nobody yet: baitwright record person name=..."


def kinds_text(tally: Mapping[str, int], known: Known) -> str:
    """How many records there are of each kind."""
    lines = [f"  {kind}: {many}" for kind, many in tally.items()]
    lines += [f"  {PERSON}: {len(known)}"] if known else []
    return "\n".join(lines)


def name_of(body: Mapping[str, Any] | None) -> str:
    """What somebody is called."""
    return "erased" if body is None else str(body.get("name", "erased"))


def _line(one: Revision) -> str:
    """The first things a record says, its day before them."""
    written = (one.body or {}).get(WRITTEN, {})
    told = [str(value) for key, value in written.items() if key != DAY and _is_short(value)]
    return ", ".join(filter(None, (str(written.get(DAY, "")), *told[:4])))


def _is_short(value: object) -> bool:
    return not isinstance(value, list | dict) and len(str(value)) <= _SHORT
