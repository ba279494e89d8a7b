"""Records as lists: of a kind, of what was found, of people, and of all kinds."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from baitwright.notebook.page import Revision
from baitwright.notebook.people import PERSON
from baitwright.workshop.forms.form import DAY, WRITTEN

Known = Mapping[str, Mapping[str, Any] | None]
"""People by code; nothing of those who were erased."""
_SHORT = 60
"""Longer entries do not go in a list."""


def list_text(kind: str, found: Iterable[Revision]) -> str:
    """Records of a kind, a line each; nights without a bite are counted."""
    rows = [one for one in found if one.body is not None]
    lines = [f"{one.name}: {line_of(one)}" for one in rows]
    if kind == "night" and rows:
        lines.append(f"{sum(is_blank(one) for one in rows)} blank, of {len(rows)}")
    return "\n".join(lines) or f"No {kind} yet: baitwright record {kind}"


def found_text(found: Iterable[Revision]) -> str:
    """Records that a search found, each with its kind."""
    lines = [f"{one.kind} {one.name}: {line_of(one)}".removesuffix(": ") for one in found]
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
    if body == {}:
        return "given after the copy that was put back"
    return "erased" if body is None else str(body.get("name", "erased"))


def is_blank(one: Revision) -> bool:
    """Whether a night was without a bite."""
    return _bites(one) == 0


def _bites(one: Revision) -> int | None:
    """Bites of a night, of its rods where only they tell; nothing where nobody counted."""
    body = one.body or {}
    by_rod = [rod["bites"] for rod in body.get("rod", ()) if "bites" in rod]
    if "bites" in body:
        return int(body["bites"])
    return sum(by_rod) if by_rod else None


def line_of(one: Revision) -> str:
    """The first things a record says, its day before them."""
    written = (one.body or {}).get(WRITTEN, {})
    said = _named if one.kind == "water" else _said
    told = [
        said(key, value)
        for key, value in written.items()
        if key not in (DAY, "state") and _is_short(value)
    ]
    state = (one.body or {}).get("state", "")
    return ", ".join(filter(None, (str(written.get(DAY, "")), state, *told[:4])))


def _said(key: str, value: object) -> str:
    """A thing as it was told; a number with what it counts."""
    is_number = isinstance(value, int | float) and not isinstance(value, bool)
    if not is_number:
        return str(value)
    counted = key.replace("_", " ")
    return f"{value} {counted.removesuffix('s') if value == 1 else counted}"


def _named(key: str, value: object) -> str:
    """A rule of a water: nobody knows what is banned without the name of it."""
    return f"{key.replace('_', ' ')} {value}"


def _is_short(value: object) -> bool:
    return not isinstance(value, list | dict) and len(str(value)) <= _SHORT
