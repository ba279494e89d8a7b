"""Traces and recalls in words, as a tree of what went into what, and as data."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from baitwright.ledger.trace import Link, Place, Traced
from baitwright.workshop.quarantine import Quarantined, Released
from baitwright.workshop.traces import Trace

_Ways = Mapping[Place, list[Place]]


def trace_text(found: Trace) -> str:
    """Where something came from and where it went; each place under one that it is linked to."""
    back = _ways((link.into, link.source) for link in found.links)
    onward = _ways((link.source, link.into) for link in found.links)
    lines = [_told(found.start, found.about)]
    for ways, there_is, there_is_not in (
        (back, "made of:", "made of nothing traced"),
        (onward, "went into:", "went nowhere yet"),
    ):
        tree = list(_tree(found.start, ways, found.about, seen={found.start}))
        lines += [f"  {there_is}", *tree] if tree else [f"  {there_is_not}"]
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


def _ways(pairs: Iterable[tuple[Place, Place]]) -> _Ways:
    ways: dict[Place, list[Place]] = {}
    for near, far in pairs:
        ways.setdefault(near, []).append(far)
    return ways


def _tree(
    here: Place, ways: _Ways, about: Mapping[Place, str], *, seen: set[Place], depth: int = 2
) -> Iterator[str]:
    for place in sorted(ways.get(here, ())):
        again = ", as above" if place in seen and ways.get(place) else ""
        yield f"{'  ' * depth}{_told(place, about)}{again}"
        if place not in seen:
            seen.add(place)
            yield from _tree(place, ways, about, seen=seen, depth=depth + 1)


def _as_data(place: Place, about: Mapping[Place, str]) -> dict[str, Any]:
    return {"stop": place.stop, "name": place.name, "about": about.get(place, "")}


def _reached(one: Traced, about: Mapping[Place, str]) -> dict[str, Any]:
    return {**_as_data(one.place, about), "links": one.links}


def _link(one: Link) -> dict[str, str]:
    return {
        "source": f"{one.source.stop} {one.source.name}",
        "into": f"{one.into.stop} {one.into.name}",
    }
