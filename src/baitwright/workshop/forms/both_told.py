"""A record that two changed at once, put together: what each changed, and where they differ."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from baitwright.workshop.forms.changes import Change, entries_changed


@dataclass(frozen=True, slots=True)
class Both:
    """What two told, put together.

    Parameters
    ----------
    told: with what either changed; where both did, it is yours.
    differs: theirs before yours, where both changed the same and not to the same.
    theirs: what they changed that you did not, which is taken over.
    """

    told: Mapping[str, Any]
    differs: tuple[Change, ...]
    theirs: tuple[Change, ...]


def merged(base: Mapping[str, Any], theirs: Mapping[str, Any], yours: Mapping[str, Any]) -> Both:
    """Entry by entry, what you and they made of the version that you began with."""
    made: dict[str, Any] = {}
    both: list[str] = []
    taken: list[str] = []
    for key in dict.fromkeys((*yours, *theirs, *base)):
        was, now, mine = (told.get(key) for told in (base, theirs, yours))
        value = now if mine == was else mine
        if value is not None:
            made[key] = value
        if mine == was != now:
            taken.append(key)
        elif mine != was and now not in (was, mine):
            both.append(key)
    return Both(made, _of(both, theirs, yours), _of(taken, base, theirs))


def _of(keys: list[str], one: Mapping[str, Any], other: Mapping[str, Any]) -> tuple[Change, ...]:
    parts = ({key: told[key] for key in keys if key in told} for told in (one, other))
    return entries_changed(*parts)
