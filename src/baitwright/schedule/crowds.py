"""Which steps cannot go on at once: the smallest crowds that ask for more than there is."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import combinations

from baitwright.schedule.jobs import A_HAIR, Task


def crowds(tasks: Sequence[Task], has: Mapping[str, float]) -> tuple[frozenset[int], ...]:
    """Every set of steps that together ask for too much while any one less would not.

    In a plan that can be done, two of each such set come one after the other, and a plan in which
    they do can be done: so neither minutes nor a calendar are needed to say what is scarce.

    Reference: the minimal forbidden sets of project scheduling (`stork-uetz-2005`).
    """
    found: set[frozenset[int]] = set()
    for means, most in has.items():
        asks = {at: one.needs[means] for at, one in enumerate(tasks) if one.needs.get(means)}
        found |= set(_smallest(asks, most))
    least = sorted(found, key=lambda one: (len(one), sorted(one)))
    kept: list[frozenset[int]] = []
    for crowd in least:
        if not any(one <= crowd for one in kept):
            kept.append(crowd)
    return tuple(kept)


def _smallest(asks: Mapping[int, float], most: float) -> Iterator[frozenset[int]]:
    for size in range(2, _longest(asks.values(), most) + 2):
        for some in combinations(asks, size):
            total, least = math.fsum(asks[one] for one in some), min(asks[one] for one in some)
            if total > most + A_HAIR >= total - least:
                yield frozenset(some)


def _longest(asks: Iterable[float], most: float) -> int:
    """The most steps that can go on at once: the smallest first."""
    total, count = 0.0, 0
    for one in sorted(asks):
        total += one
        if total > most + A_HAIR:
            break
        count += 1
    return count
