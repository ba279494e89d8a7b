"""From a supplier's lot to the night it was fished, and back."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from graphlib import CycleError, TopologicalSorter

from baitwright.terms.errors import InputError


class Stop(StrEnum):
    """What a trace passes on its way, in the order of the work."""

    SUPPLIED = "supplier's lot"
    INGREDIENT = "ingredient lot"
    MIX = "tub of mix"
    BATCH = "batch"
    BAG = "bag"
    NIGHT = "night"
    SALE = "sale"


_ORDER = {stop: at for at, stop in enumerate(Stop)}


@dataclass(frozen=True, slots=True)
class Place:
    """One stop of a trace, by its name."""

    stop: Stop
    name: str

    def __lt__(self, other: Place) -> bool:
        """Earlier in the work, then by name."""
        return (_ORDER[self.stop], self.name) < (_ORDER[other.stop], other.name)


@dataclass(frozen=True, slots=True)
class Link:
    """What of one place went into another."""

    source: Place
    into: Place


@dataclass(frozen=True, slots=True)
class Traced:
    """A place reached, after how many links."""

    place: Place
    links: int


class Chain:
    """All links of a workshop, to be followed either way.

    Raises
    ------
    InputError: a place that would lead back to itself.
    """

    def __init__(self, links: Iterable[Link]) -> None:
        self._on: dict[Place, list[Place]] = {}
        self._back: dict[Place, list[Place]] = {}
        for link in links:
            self._on.setdefault(link.source, []).append(link.into)
            self._back.setdefault(link.into, []).append(link.source)
        _refuse_circles(self._back)

    def onward(self, start: Place) -> tuple[Traced, ...]:
        """Everything that holds something of a place, the nearest first."""
        return _reached(self._on, start)

    def back(self, start: Place) -> tuple[Traced, ...]:
        """Everything that a place holds something of, the nearest first."""
        return _reached(self._back, start)

    def recall(self, bad: Place) -> tuple[Place, ...]:
        """Bags, nights and sales that a bad lot reached: what to fetch back, or whom to tell."""
        ends = (Stop.BAG, Stop.NIGHT, Stop.SALE)
        found = (one.place for one in self.onward(bad))
        return tuple(sorted(place for place in found if place.stop in ends))


def _reached(ways: Mapping[Place, list[Place]], start: Place) -> tuple[Traced, ...]:
    links = {start: 0}
    waiting = deque([start])
    while waiting:
        here = waiting.popleft()
        for place in ways.get(here, ()):
            if place not in links:
                links[place] = links[here] + 1
                waiting.append(place)
    del links[start]
    found = (Traced(place, count) for place, count in links.items())
    return tuple(sorted(found, key=lambda one: (one.links, one.place)))


def _refuse_circles(back: Mapping[Place, list[Place]]) -> None:
    try:
        TopologicalSorter(back).prepare()
    except CycleError as error:
        circle = sorted(set(error.args[1]))
        named = ", ".join(f"{place.stop} {place.name}" for place in circle)
        raise InputError("trace", named, "lots that were made before they were used") from None
