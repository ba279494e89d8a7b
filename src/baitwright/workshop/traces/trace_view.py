"""A trace as a page shows it: both ways as rows with their depth, each with what it is about."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from baitwright.ledger.trace import Place
from baitwright.workshop.traces.traces import Trace

_Ways = Mapping[Place, list[Place]]


@dataclass(frozen=True, slots=True)
class Row:
    """A place of a trace, how many links from where it began, and whether it stood above."""

    place: Place
    about: str
    depth: int
    is_again: bool


@dataclass(frozen=True, slots=True)
class TraceView:
    """Where something came from and where it went, and what of it to fetch back."""

    start: Row
    back: tuple[Row, ...]
    onward: tuple[Row, ...]
    recall: tuple[Row, ...]


def trace_view(found: Trace) -> TraceView:
    """A trace in rows, each place under one that it is linked to."""
    back = _ways((link.into, link.source) for link in found.links)
    onward = _ways((link.source, link.into) for link in found.links)
    recall = (_row(one, found.about, 0) for one in found.recall)
    return TraceView(
        _row(found.start, found.about, 0),
        tuple(_rows(found.start, back, found.about, seen={found.start})),
        tuple(_rows(found.start, onward, found.about, seen={found.start})),
        tuple(recall),
    )


def _ways(pairs: Iterable[tuple[Place, Place]]) -> _Ways:
    ways: dict[Place, list[Place]] = {}
    for near, far in pairs:
        ways.setdefault(near, []).append(far)
    return ways


def _rows(
    here: Place, ways: _Ways, about: Mapping[Place, str], *, seen: set[Place], depth: int = 1
) -> Iterator[Row]:
    for place in sorted(ways.get(here, ())):
        again = place in seen and bool(ways.get(place))
        yield Row(place, about.get(place, ""), depth, again)
        if place not in seen:
            seen.add(place)
            yield from _rows(place, ways, about, seen=seen, depth=depth + 1)


def _row(place: Place, about: Mapping[Place, str], depth: int) -> Row:
    return Row(place, about.get(place, ""), depth, is_again=False)
