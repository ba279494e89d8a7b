"""Which measurement next: what each would take off the bands that a maker acts on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.tray_air import HORIZON
from baitwright.batch.weighings import band_removed
from baitwright.learning.moments import CUT_OPEN, CUT_OPEN_ERROR
from baitwright.terms.quantity import PerBatch, Quantity, unwrap
from baitwright.uncertainty.spreads import Floats

HOW_CUT_OPEN = (
    "Cut one open after each half minute in the pot, and write down when its core has set."
)

RESULTS = (
    "dry mix per egg",
    "baits",
    "when they are set",
    "when they are ready",
    "lift of a dried bait",
)
"""What a maker acts on."""


@dataclass(frozen=True, slots=True)
class Next:
    """A measurement, the minutes it takes, and the result whose band it would narrow most.

    ``hows`` are its sentences; ``removed`` is the share of that band's width that would go, 0 to 1.
    """

    name: str
    hows: tuple[str, ...]
    minutes: int
    result: str
    removed: float

    @property
    def how(self) -> str:
        """How it is taken, in a sentence or two."""
        return " ".join(self.hows)


def next_readings(plan: BatchPlan) -> tuple[Next, ...]:
    """Every measurement of this batch by what it would tell, the most telling first.

    A reading is not asked what it tells of itself, nor readings whose middle is known already.
    Those that belong together are taken together: twenty baits fresh and at 8 h, one bait weighed
    and pushed under.

    Reference: gelman-bda, section 3.5, conditional mean of a multivariate normal.
    """
    results = tuple(_results(plan))
    found = [_best(one, results) for one in _ways(plan)]
    return tuple(sorted(found, key=lambda one: -one.removed))


@dataclass(frozen=True, slots=True)
class _Way:
    name: str
    hows: tuple[str, ...]
    minutes: int
    readings: tuple[Quantity, ...]
    error: float = 0.01


def _ways(plan: BatchPlan) -> Iterator[_Way]:
    readings = {one.name: one for one in plan.readings}
    for names in (("egg_in_bowl",), ("tub_used",), _WEIGHED, _PUSHED, ("baits_made",)):
        taken = [readings[name] for name in names if _is_open(readings[name].predicted)]
        if taken:
            hows = tuple(one.how for one in taken)
            minutes = sum(one.minutes for one in taken)
            yield _Way(taken[-1].name, hows, minutes, tuple(one.predicted for one in taken))
    if _is_open(plan.boil.set_seconds):
        yield _Way(CUT_OPEN, (HOW_CUT_OPEN,), 5, (plan.boil.set_seconds,), CUT_OPEN_ERROR)


_WEIGHED, _PUSHED = ("twenty_fresh", "twenty_at_8h"), ("cup_weight", "cup_rise")


def _results(plan: BatchPlan) -> Iterator[tuple[str, Floats]]:
    """What a maker acts on, as draws of a batch: the mean of what differs from bait to bait."""
    ready = np.minimum(np.asarray(unwrap(plan.dry.ready.value), dtype=float), HORIZON)
    values = (
        plan.mix.per_egg.value,
        plan.rolled.baits.value,
        plan.boil.set_seconds.value,
        PerBatch(ready),
        plan.water.dried.value,
    )
    for label, value in zip(RESULTS, values, strict=True):
        draws = np.atleast_2d(np.asarray(unwrap(value), dtype=float))
        if np.ptp(draws) > 0.0:
            yield label, draws.mean(axis=-1, keepdims=True)


def _best(way: _Way, results: tuple[tuple[str, Floats], ...]) -> Next:
    told = [
        (band_removed(way.readings, draws, error=way.error), label)
        for label, draws in results
        if label not in _ITSELF.get(way.name, ())
    ]
    removed, result = max(told, default=(0.0, ""))
    return Next(way.name, way.hows, way.minutes, result, removed)


_ITSELF = {
    "tub_used": ("dry mix per egg",),
    "baits_made": ("baits",),
    "cut_open": ("when they are set",),
}
"""What a reading is, so that it would tell of nothing but itself."""


def _is_open(quantity: Quantity) -> bool:
    """Whether something is left to be measured."""
    values = np.asarray(unwrap(quantity.value), dtype=float)
    return bool(values.size > 1 and np.ptp(values) > 0.0 and np.all(values > 0.0))
