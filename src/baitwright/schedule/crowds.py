"""Which steps cannot go on at once: the smallest crowds that ask for more than there is."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations

from baitwright.schedule.jobs import Task


def crowds(tasks: Sequence[Task], has: Mapping[str, int]) -> tuple[frozenset[int], ...]:
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


def _smallest(asks: Mapping[int, int], most: int) -> Iterator[frozenset[int]]:
    for size in range(2, most + 2):
        for some in combinations(asks, size):
            total = sum(asks[one] for one in some)
            if total > most and total - min(asks[one] for one in some) <= most:
                yield frozenset(some)
