"""What of a plan is kept to be learned from: how its readings and factors vary together."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

import numpy as np

from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.prove import Measurement
from baitwright.learning.evidence import Taken, log_draws_of
from baitwright.learning.in_bowl import measured_eggs, of_one_grade
from baitwright.learning.moments import (
    COARSE,
    CUT_OPEN,
    CUT_OPEN_ERROR,
    SIZES,
    Moments,
    Told,
)
from baitwright.learning.plain_evidence import RULE
from baitwright.terms.quantity import PerBatch, unwrap
from baitwright.uncertainty.bands import median_of
from baitwright.uncertainty.spreads import Floats

_TOGETHER = 20
"""Baits weighed together."""
_OF_BAITS = ("twenty_fresh", "twenty_at_8h")
_DIGITS = 6


def moments_of(plan: BatchPlan) -> Moments:
    """What a plan keeps to be learned from.

    Notes
    -----
    With X the logarithms of the predictions' draws about their means and f those of a factor:
    spread = X'X / n, moved = X'f / n. Twenty baits together are off by what baits differ over the
    root of twenty, the same fresh and later, besides the scale's own error.
    """
    taken = [Taken(of_one_grade(one, plan), median_of(one.predicted)) for one in plan.readings]
    before = measured_eggs(plan)
    known = {f"{one.measurement.name}, {one.measurement.about}": one.reading for one in before}
    named = {one.measurement.name: one for one in taken}
    named |= {f"{one.measurement.name}, {one.measurement.about}": one for one in before}
    named |= {SIZES: _sizes(plan), CUT_OPEN: _cut_open(plan), COARSE: _coarse(plan)}
    logs = {
        name: log_draws_of(one.measurement.predicted)
        for name, one in named.items()
        if np.all(np.asarray(unwrap(one.measurement.predicted.value)) > 0.0)
    }
    shape = np.broadcast_shapes(*(one.shape for one in logs.values()))
    x = np.stack([np.broadcast_to(one, shape).ravel() for one in logs.values()], axis=1)
    spread = x.T @ x / x.shape[0] + _sampling(plan, tuple(logs))
    return Moments(
        names=tuple(logs),
        middles=tuple(_short(median_of(named[name].measurement.predicted)) for name in logs),
        errors=tuple(_short(named[name].error) for name in logs),
        spread=tuple(_row(row) for row in spread),
        factors=tuple(_told(plan, named, x=x, shape=shape)),
        known=known,
    )


def _sizes(plan: BatchPlan) -> Taken:
    """The mean diameter from the pot, as some baits in a row against a rule tell it."""
    fresh = plan.boil.bait.diameter
    means = np.atleast_2d(np.asarray(unwrap(fresh.value))).mean(axis=-1, keepdims=True)
    mean = replace(fresh, value=PerBatch(means))
    asked = Measurement(SIZES, "Measure ten baits from the pot.", mean, 2, "diameter")
    return Taken(asked, median_of(mean), RULE)


def _cut_open(plan: BatchPlan) -> Taken:
    """The time in the pot at which one bait is set through."""
    until = plan.boil.set_seconds
    asked = Measurement(CUT_OPEN, "Cut one open after each half minute.", until, 5, "cook")
    return Taken(asked, median_of(until), CUT_OPEN_ERROR)


def _coarse(plan: BatchPlan) -> Taken:
    """The part of the base that stays on the sieve."""
    share, base = plan.mix.preparation.coarse_share, plan.request.recipe.base.name
    asked = Measurement(COARSE, "Weigh the base and what stays.", share, 2, "coarse_fraction", base)
    return Taken(asked, median_of(share))


def _told(
    plan: BatchPlan, named: Mapping[str, Taken], *, x: Floats, shape: tuple[int, ...]
) -> Iterator[Told]:
    """Every factor that a reading asks of and that stands behind one."""
    behind = {
        part.name: part for one in named.values() for part in one.measurement.predicted.walk()
    }
    asked: dict[tuple[str, str], list[str]] = {}
    for name, one in named.items():
        asked.setdefault((one.measurement.factor, one.measurement.about), []).append(name)
    for (key, about), names in asked.items():
        found = behind.get(f"factor:{key}")
        if found is not None:
            f = np.broadcast_to(log_draws_of(found), shape).ravel()
            mu = plan.request.factors.find(key, about).mu
            moved = _row(x.T @ f / f.size)
            yield Told(key, about, tuple(names), mu, _short(float(np.mean(f * f))), moved)


def _sampling(plan: BatchPlan, names: Sequence[str]) -> Floats:
    """How twenty baits together vary because baits differ: the same twenty, fresh and later."""
    mass = np.atleast_2d(np.asarray(unwrap(plan.boil.bait.mass.value)))
    if mass.shape[1] < 2:
        return np.zeros((len(names), len(names)))
    differ = float(np.mean(mass.std(axis=1, ddof=1) / mass.mean(axis=1)))
    of_baits = np.array([float(name in _OF_BAITS) for name in names])
    return differ**2 / _TOGETHER * np.outer(of_baits, of_baits)


def _short(value: float) -> float:
    return float(f"{float(value):.{_DIGITS}g}")


def _row(values: Iterable[float]) -> tuple[float, ...]:
    return tuple(_short(one) for one in values)
