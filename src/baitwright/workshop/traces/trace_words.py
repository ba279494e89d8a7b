"""Traces and recalls in words, as a tree of what went into what, and as data."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from baitwright.ledger.trace import Link, Place, Traced
from baitwright.workshop.traces.quarantine import Quarantined, Released
from baitwright.workshop.traces.trace_view import Row, trace_view
from baitwright.workshop.traces.traces import Trace


def trace_text(found: Trace) -> str:
    """Where something came from and where it went; each place under one that it is linked to."""
    view = trace_view(found)
    lines = [_told(found.start, found.about)]
    for rows, there_is, there_is_not in (
        (view.back, "made of:", "made of nothing traced"),
        (view.onward, "went into:", "went nowhere yet"),
    ):
        lines += [f"  {there_is}", *map(_row, rows)] if rows else [f"  {there_is_not}"]
    return "\n".join(lines)


def recall_text(found: Trace | Quarantined) -> str:
    """What to fetch back, or whom to tell."""
    ends = [f"  {_told(place, found.about)}" for place in found.recall]
    told = ["to fetch back, or to tell of:", *ends] if ends else ["nothing has left the house"]
    return "\n".join(told)


def released_text(found: Released) -> str:
    """What came out of quarantine, and what it went into or came of that stays there."""
    lines = [f"out of quarantine: {', '.join(found.lots)}"] if found.lots else []
    return "\n".join([*lines, *(f"still in quarantine: {one}, {why}" for one, why in found.still)])


def trace_json(found: Trace) -> dict[str, Any]:
    """A trace as data."""
    return {
        "start": _as_data(found.start, found.about),
        "back": [_reached(one, found.about) for one in found.back],
        "onward": [_reached(one, found.about) for one in found.onward],
        "recall": [_as_data(one, found.about) for one in found.recall],
        "links": [_link(one) for one in found.links],
    }


def _told(place: Place, about: Mapping[Place, str]) -> str:
    return f"{place.stop} {place.name}{f', {about[place]}' if about.get(place) else ''}"


def _row(row: Row) -> str:
    about = f", {row.about}" if row.about else ""
    again = ", as above" if row.is_again else ""
    return f"{'  ' * (row.depth + 1)}{row.place.stop} {row.place.name}{about}{again}"


def _as_data(place: Place, about: Mapping[Place, str]) -> dict[str, Any]:
    return {"stop": place.stop, "name": place.name, "about": about.get(place, "")}


def _reached(one: Traced, about: Mapping[Place, str]) -> dict[str, Any]:
    return {**_as_data(one.place, about), "links": one.links}


def _link(one: Link) -> dict[str, str]:
    return {
        "source": f"{one.source.stop} {one.source.name}",
        "into": f"{one.into.stop} {one.into.name}",
    }
