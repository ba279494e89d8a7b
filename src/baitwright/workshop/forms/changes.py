"""What differs between two versions of a record, entry by entry."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True)
class Change:
    """One entry of a recipe that differs: nothing before where it is new, nothing after if gone."""

    entry: str
    before: object
    after: object


def entries_changed(old: Mapping[str, Any], new: Mapping[str, Any]) -> tuple[Change, ...]:
    """What differs between two tables, in the order of the later one."""
    before, after = dict(_entries(old)), dict(_entries(new))
    gone = [entry for entry in before if entry not in after]
    return tuple(
        Change(entry, before.get(entry), after.get(entry))
        for entry in (*after, *gone)
        if before.get(entry) != after.get(entry)
    )


def change_lines(changes: Iterable[Change], *, margin: str) -> list[str]:
    """Each entry that differs, a line each."""
    return [margin + _line(one) for one in changes]


def _line(one: Change) -> str:
    if one.before is None:
        return f"+ {one.entry}: {one.after}"
    if one.after is None:
        return f"- {one.entry}: {one.before}"
    return f"{one.entry}: {one.before} becomes {one.after}"


def _entries(node: Any, place: str = "") -> Iterator[tuple[str, object]]:
    """Every value of a file by its name; lines of a list by the name they bear, or their number."""
    if isinstance(node, Mapping):
        for key, value in node.items():
            yield from _entries(value, f"{place}.{key}" if place else key)
    elif isinstance(node, list):
        names = [
            one.get("name", at) if isinstance(one, Mapping) else at
            for at, one in enumerate(node, start=1)
        ]
        for at, value in enumerate(node):
            before = names[:at].count(names[at])
            named = f"{names[at]} {before + 1}" if before else names[at]
            yield from _entries(value, f"{place}[{named}]")
    else:
        yield place, node
